#!/bin/sh
# SPDX-License-Identifier: GPL-3.0-or-later
# The manual pages are valid roff for man and mandoc. Prints TAP.
number=0
for page in "$@"; do
    name=$(basename "$page")
    number=$((number + 1))
    complaints=$(LC_ALL=C.UTF-8 MANWIDTH=80 man -l --warnings -E UTF-8 "$page" \
        2>&1 >/dev/null; mandoc -T lint "$page")
    if [ -z "$complaints" ] && [ -s "$page" ]; then
        echo "ok $number - $name"
    else
        echo "not ok $number - $name"
        echo "$complaints" | sed 's/^/# /'
    fi
done
echo "1..$number"
