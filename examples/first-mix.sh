#!/bin/sh
# Copyright the midweight authors. SPDX-License-Identifier: GPL-3.0-or-later
# The first mix: installs what is missing, builds midweight, mixes the oil that the
# club needs on a cold morning, and says how to go on.
set -eu
cd "$(dirname "$0")/.."
. examples/setup.sh

# shellcheck disable=SC2086 # a list of packages is meant
need $build_packages
build build

# The hall is 12 C. The damper should feel as it does with 420 mm2/s, and the
# box holds Cedar (300 at 25 C) and Hazel (400): see bottles.csv.
build/cli/midweight mix 300 400 --target 420@12C --make 4x2.5ml --waste 30%

cat <<END

To install it, with its manual:
    meson install -C "$PWD/build"
or to try it in this shell alone:
    PATH="$PWD/build/cli:\$PATH"
Then, as all examples of README.md:
    midweight mix 350 500 --target 420 --make 20ml
END
