#!/bin/sh
# Copyright the midweight authors. SPDX-License-Identifier: GPL-3.0-or-later
# The symbols that the shared library exports are its interface: they must be
# exactly those of the list that is checked in.
#
#     exported.sh LIBRARY LIST
set -eu
found=$(mktemp)
trap 'rm -f "$found"' EXIT
nm -D --defined-only "$1" | awk '{print $3}' | LC_ALL=C sort >"$found"
diff -u "$2" "$found"
