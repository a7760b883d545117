# Copyright the midweight authors. SPDX-License-Identifier: GPL-3.0-or-later
# Sourced by tests that need a stock of their own: sets $program and an empty
# stock, and prints TAP; plan comes last.
program=$1
number=0
folder=$(mktemp -d) || exit 1
trap 'rm -rf "$folder"' EXIT
MIDWEIGHT_STOCK=$folder/stock.db
export MIDWEIGHT_STOCK
MIDWEIGHT_DEFAULTS=/dev/null # not those of the user
export MIDWEIGHT_DEFAULTS

# holds NAME CONDITION...: one test
holds() {
    name=$1
    shift
    number=$((number + 1))
    if "$@"; then
        echo "ok $number - $name"
    else
        echo "not ok $number - $name"
    fi
}

# has TEXT PART: whether a text contains a part
has() {
    case $1 in *"$2"*) true ;; *) false ;; esac
}

# says TEXT COMMAND...: a test that what the program prints has TEXT
says() {
    text=$1
    shift
    holds "$*: $text" has "$("$program" "$@" 2>&1 | tr -s ' \n' ' ')" "$text"
}

# ends CODE COMMAND...: a test of the exit code
ends() {
    code=$1
    shift
    "$program" "$@" >/dev/null 2>&1
    holds "$*: exit $code" test $? -eq "$code"
}

plan() {
    echo "1..$number"
}
