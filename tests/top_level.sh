#!/bin/sh
# Copyright the midweight authors. SPDX-License-Identifier: GPL-3.0-or-later
# The top level has exactly the expected entries (except dot files and build
# folders), its documents are as short as they are meant to be, and every file
# says whose it is, but those that a README beside them speaks for.
set -eu
cd "$(dirname "$0")/.."
expected="DEVELOPERS.md LICENSE README.md cli examples lib meson.build \
reference tests"
found=$(ls | grep -v '^build' | LC_ALL=C sort | tr '\n' ' ')
[ "$found" = "$expected " ] || {
    echo "expected: $expected" >&2
    echo "found:    $found" >&2
    exit 1
}
unsaid=$(find . \( -name .git -o -name 'build*' -o -name corpus -o \
    -name __pycache__ \) -prune -o -type f ! -name '*.csv' ! -name '*.png' \
    ! -name LICENSE ! -name exported.txt -exec grep -L \
    'Copyright the midweight authors. SPDX-License-Identifier: GPL-3.0-or-later' \
    {} +) || true
[ -z "$unsaid" ] || {
    echo "without copyright and licence:" $unsaid >&2
    exit 1
}
[ "$(wc -l <README.md)" -le 150 ] && [ "$(wc -l <DEVELOPERS.md)" -le 200 ] || {
    echo "README.md has at most 150 lines, DEVELOPERS.md 200" >&2
    exit 1
}
