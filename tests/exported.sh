#!/bin/sh
# SPDX-License-Identifier: GPL-3.0-or-later
# What a shared library exports is its promise: it must be the checked-in list,
# no symbol less and none more.
#
#     exported.sh LIBRARY LIST
set -eu
found=$(mktemp)
trap 'rm -f "$found"' EXIT
nm -D --defined-only "$1" | awk '{print $3}' | LC_ALL=C sort >"$found"
diff -u "$2" "$found"
