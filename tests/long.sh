#!/bin/sh
# SPDX-License-Identifier: GPL-3.0-or-later
# What takes too long, or wants too much of the machine, for each change: run it
# before a version is given out. Each step is a line; the count comes last.
#
#     sh tests/long.sh [STEP]    one step alone, by a word of its name
set -u
cd "$(dirname "$0")/.." || exit 1
. examples/setup.sh

# shellcheck disable=SC2086 # a list of packages is meant
need $build_packages libcmocka-dev python3 python3-mpmath python3-scipy jq \
    debootstrap git || exit 1
build build-tests -Dwerror=true || exit 1

wanted=${1-}
passed=0
failed=0

# step NAME COMMAND...: what it prints is shown as it comes
step() {
    case $1 in
    *"$wanted"*) ;;
    *) return ;;
    esac
    echo "-- $1"
    shift
    if "$@"; then
        passed=$((passed + 1))
    else
        failed=$((failed + 1))
        echo "failed: $*" >&2
    fi
}

step "speed, as ratios" \
    meson test -C build-tests --no-rebuild --benchmark --verbose
step "a static program" sh tests/packing/static.sh build-static
step "the same bytes from another folder" \
    sh tests/packing/reproducible.sh build-tests
step "both commands on a fresh machine" sh tests/packing/fresh_machine.sh

echo "$passed passed, $failed failed"
[ "$failed" -eq 0 ]
