#!/bin/sh
# Copyright the midweight authors. SPDX-License-Identifier: GPL-3.0-or-later
# Draw card.png, the picture of the README, anew.
set -eu
cd "$(dirname "$0")/.."
. examples/setup.sh

# shellcheck disable=SC2086 # a list of packages is meant
need $build_packages poppler-utils
build build

folder=$(mktemp -d)
trap 'rm -rf "$folder"' EXIT
build/cli/midweight card mix 350 500 --make 20ml --syringe 0.2 \
    --date 2026-10-03 -o "$folder/card.pdf"
pdftoppm -r 110 -gray -png -singlefile "$folder/card.pdf" examples/card
