#!/bin/sh
# Copyright the midweight authors. SPDX-License-Identifier: GPL-3.0-or-later
# A program that needs no shared library, in the build folder BUILD; without
# midweight-card, as cairo needs libraries that exist only as shared ones. The
# linker warns that SQLite cannot load extensions in a static program; midweight
# loads none.
#
#     static.sh BUILD
set -eu
[ -f "$1/build.ninja" ] ||
    meson setup "$1" -Ddefault_library=static -Dc_link_args=-static
ninja -C "$1" cli/midweight
if readelf -d "$1/cli/midweight" | grep NEEDED; then
    exit 1
fi
stock=$(mktemp -d)
trap 'rm -rf "$stock"' EXIT
"$1/cli/midweight" stock import examples/bottles.csv --stock "$stock/stock.db"
"$1/cli/midweight" mix Elm Larch --target 420 --stock "$stock/stock.db" --json |
    jq -e '.result.viscosity > 419.9 and .result.viscosity < 420.1'
