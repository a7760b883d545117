#!/bin/sh
# SPDX-License-Identifier: GPL-3.0-or-later
# The first mix: installs what is missing, builds midweight, and mixes the oil
# that the club needs on a cold morning.
set -eu
cd "$(dirname "$0")/.."
. examples/setup.sh

# shellcheck disable=SC2086 # a list of packages is meant
need $build_packages
build build

# The hall is 12 C. The damper should feel as it does with 420 mm2/s, and the
# box holds Cedar (300 at 25 C) and Hazel (400): see bottles.csv.
exec build/cli/midweight mix 300 400 --target 420@12C --make 4x2.5ml --waste 30%
