#!/bin/sh
# Copyright the midweight authors. SPDX-License-Identifier: GPL-3.0-or-later
# One of each printed sheet, from the club's bottles, in a folder of your choice
# (build/cards where none is named). The stock is a file there too, so that your
# own is left alone.
set -eu
folder=
if [ $# -gt 0 ]; then
    mkdir -p "$1"
    folder=$(cd "$1" && pwd)
fi
cd "$(dirname "$0")/.."
. examples/setup.sh

# shellcheck disable=SC2086 # a list of packages is meant
need $build_packages
build build

folder=${folder:-build/cards}
mkdir -p "$folder"
MIDWEIGHT_STOCK=$folder/club.db
export MIDWEIGHT_STOCK
rm -f "$MIDWEIGHT_STOCK"
midweight=build/cli/midweight
"$midweight" stock import examples/bottles.csv

# The recipes between two bottles, for a syringe with marks of 0.2 ml
"$midweight" card mix Elm Larch --make 20ml --syringe 0.2 \
    --force -o "$folder/mix.pdf"
# The same for a phone
"$midweight" card mix Elm Larch --make 20ml --syringe 0.2 --paper phone \
    --force -o "$folder/mix.png"
# What the bottles are over the day, and what to take instead: tuned at 21 C, in
# a hall that has 12 C today
"$midweight" card temperature --tuned-at 21C --today 12C --force \
    -o "$folder/day.pdf"
# All bottles over temperature, in a hall of 12 C
"$midweight" card chart --at 12C --force -o "$folder/oils.pdf"
# The blends of two bottles far apart
"$midweight" card chart Elm Walnut --blend --force -o "$folder/blends.pdf"
# Labels for one bottle, and for all that hold something
"$midweight" card label Elm --force -o "$folder/elm.pdf"
"$midweight" card label --force -o "$folder/labels.pdf"
