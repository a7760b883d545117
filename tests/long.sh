#!/bin/sh
# Copyright the midweight authors. SPDX-License-Identifier: GPL-3.0-or-later
# The tests that take long, or need an idle machine: all points of the fault
# injection, a minute of fuzzing for each target, a hundred mutants, ten
# thousand random commands, how often bands hold, all tests under sanitizers,
# the analyzer of clang, speed, a static program, a build with the same bytes,
# and both commands of the README on a fresh machine (as root). Name some of them
# to run only these:
#
#     sh tests/long.sh [faults] [fuzz] [mutants] [conserve] [coverage]
#                      [sanitized] [clang] [speed] [static] [same] [fresh]
#
# FUZZ_SECONDS and MUTANTS set the extent. Prints the TAP of each.
set -eu
cd "$(dirname "$0")/.."
. examples/setup.sh

FUZZ_SECONDS=${FUZZ_SECONDS:-60}
MUTANTS=${MUTANTS:-100}
failed=0

# shellcheck disable=SC2086 # a list of packages is meant
need $build_packages libcmocka-dev python3 python3-mpmath units \
    locales jq sqlite3 poppler-utils

# every allocation and every file call of every command
run_faults() {
    build build-tests -Dwerror=true &&
        /usr/bin/python3 tests/robust/faults/run_faults.py build-tests/cli/midweight \
            build-tests/tests/robust/faults/faults_preload.so
}

# failing inputs go to build-fuzz/found, the grown corpus to build-fuzz/corpus
fuzz() {
    mkdir -p "$PWD/build-fuzz/corpus/$1" "$PWD/build-fuzz/found"
    if quietly "build-fuzz/tests/robust/fuzz/fuzz_$1" -max_len=1200 -timeout=20 \
        -max_total_time="$FUZZ_SECONDS" -print_final_stats=1 \
        -artifact_prefix="$PWD/build-fuzz/found/$1-" \
        "$PWD/build-fuzz/corpus/$1" "$PWD/tests/robust/fuzz/corpus/$1"; then
        echo "ok - $1, fuzzed for $FUZZ_SECONDS s"
    else
        echo "not ok - $1"
        return 1
    fi
}

run_fuzz() {
    need clang libclang-rt-14-dev || return 1
    CC=clang build build-fuzz -Dbuildtype=debugoptimized -Db_lundef=false \
        -Db_sanitize=address,undefined \
        -Dc_args="-fsanitize=fuzzer-no-link -fno-sanitize-recover=all" ||
        return 1
    broken=0
    for target in tests/robust/fuzz/corpus/*; do
        fuzz "${target##*/}" || broken=1
    done
    return $broken
}

# small changes of the library that a test must notice
run_mutants() {
    /usr/bin/python3 tests/mutants.py --count "$MUTANTS"
}

# random commands on one stock
run_conserve() {
    build build-tests -Dwerror=true &&
        quietly build-tests/tests/robust/fuzz/conserve 10000 &&
        echo "ok - oil is conserved in 10000 random commands"
}

# what CI runs in the plain build alone too
run_sanitized() {
    build build-sanitized -Db_sanitize=address,undefined -Db_lundef=false \
        -Doptimization=1 &&
        meson test -C build-sanitized --no-rebuild -t 4 --print-errorlogs &&
        /usr/bin/python3 tests/sheets/card_fit.py build-sanitized/cli/midweight \
            all
}

# a thousand draws of each situation, and the table of them that is published
run_coverage() {
    build build-tests -Dwerror=true &&
        build-tests/tests/coverage/coverage_runner 1000 \
            >build-tests/coverage.tap &&
        python3 tests/coverage/run_program.py build-tests/cli/midweight 200 &&
        sed -n 's/^ok [0-9]* - //p' build-tests/coverage.tap |
        while read -r line; do
            grep -qxF "$line" tests/coverage/README.md ||
                { echo "not ok - not in the table: $line" && exit 1; }
        done
}

run_clang() {
    need clang-tidy && build build-tests -Dwerror=true &&
        quietly sh tests/analysis.sh build-tests clang &&
        echo "ok - what the analyzer of clang finds by reading"
}

# ratios of times in one run
run_speed() {
    need python3-scipy && build build-tests -Dwerror=true &&
        meson test -C build-tests --no-rebuild --benchmark --verbose
}

run_static() {
    quietly sh tests/packing/static.sh build-static &&
        echo "ok - a program without shared libraries"
}

run_same() {
    build build-tests -Dwerror=true &&
        quietly sh tests/packing/reproducible.sh build-tests &&
        echo "ok - the same bytes from another folder"
}

run_fresh() {
    need debootstrap git &&
        quietly sh tests/packing/fresh_machine.sh &&
        echo "ok - both commands of the README on a fresh machine"
}

for tier in ${*:-faults fuzz mutants conserve coverage sanitized clang speed static same fresh}; do
    case $tier in
    faults | fuzz | mutants | conserve | coverage) ;;
    sanitized | clang | speed | static | same | fresh) ;;
    *)
        echo "no such tier: $tier" >&2
        exit 2
        ;;
    esac
    echo "# $tier"
    "run_$tier" || failed=1
done
exit "$failed"
