#!/bin/sh
# Copyright the midweight authors. SPDX-License-Identifier: GPL-3.0-or-later
# Output to a full disk, a closed stdout, a pipe that closes early and a
# terminal, and JSON for another program. Prints TAP.
. "$(dirname "$0")/tap.sh"

for arguments in "mix 350 500 --target 420" "mix 350 500 --target 420 --json" \
    "hold 450 --from 25C --to 12C" "settle 450 --depth 20mm --json" \
    "measure against 350 18.0s 21.4s" "measure cup --list" "measure --help" \
    "measure cup --help" \
    "oil 450 --at 12C" "oil 450 --json" "--help" "mix --help" "--version"; do
    # shellcheck disable=SC2086 # words are meant
    message=$("$program" $arguments 2>&1 >/dev/full)
    code=$?
    holds "full disk, $arguments: exit 3" test "$code" -eq 3
    holds "full disk, $arguments: a message" \
        test "${message#midweight: the answer could not be written}" != "$message"
    # shellcheck disable=SC2086
    "$program" $arguments >&- 2>/dev/null
    holds "closed stdout, $arguments: exit 3" test $? -eq 3
done

share=$("$program" mix 350 500 --target 420 --json | jq -r '.parts[1].share')
holds "jq reads the share" test "${share#0.50063}" != "$share"
quiet=$({ "$program" oil 350 --table 0:40:0.05 | head -n 1 >/dev/null; } 2>&1)
holds "a closed pipe gives no message" test -z "$quiet"

# No colour, whatever the environment asks for; script(1) makes a terminal.
plain() {
    script -qec "$program $1" /dev/null </dev/null >"$folder/seen"
    [ -s "$folder/seen" ] && ! grep -q "$(printf '\033')" "$folder/seen"
}
for arguments in "mix 350 500 --target 420" "oil 450 --at 12C --json" \
    "mix 350 --target 420" "mix --help" "--help" "--nonsense"; do
    for wish in TERM=xterm-256color NO_COLOR=1 CLICOLOR_FORCE=1 TERM=dumb; do
        export "$wish"
        holds "no escape byte on a terminal with $wish, $arguments" \
            plain "$arguments"
        unset NO_COLOR CLICOLOR_FORCE
    done
done
plan
