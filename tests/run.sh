#!/bin/sh
# Copyright the midweight authors. SPDX-License-Identifier: GPL-3.0-or-later
# The one test command: installs what is missing, builds, and runs every test:
# as it is, under sanitizers, and in a decimal-comma locale. Quiet when all is
# well, but for the count in the last line.
set -eu
cd "$(dirname "$0")/.."
. examples/setup.sh

# shellcheck disable=SC2086 # a list of packages is meant
need $build_packages libcmocka-dev python3 python3-mpmath units \
    python3-jsonschema locales jq sqlite3 clang-format gcovr poppler-utils clang-tidy cppcheck \
    g++ man-db mandoc bash zsh fish

passed=0
failed=0

# tests FOLDER NAME [OPTION...]: run the suite in a build folder, with options
# of meson test, and add up its cases.
tests() {
    folder=$1 name=$2
    shift 2
    ended=0
    meson test -C "$folder" --no-rebuild --logbase "$name" --quiet \
        --print-errorlogs "$@" >"$folder/$name.out" 2>&1 || ended=$?
    if [ "$ended" -ne 0 ]; then
        cat "$folder/$name.out" >&2
        echo "failed: the tests in $folder ($name)" >&2
    fi
    log=$folder/meson-logs/$name.junit.xml
    bad=$(grep -oE '<(failure|error)' "$log" | wc -l)
    # a test that takes too long is no failure there
    [ "$ended" -eq 0 ] || [ "$bad" -gt 0 ] || bad=1
    all=$(grep -o '<testcase' "$log" | wc -l)
    if [ "$all" -eq 0 ]; then
        echo "failed: no test ran in $folder ($name)" >&2
        bad=1 all=1
    fi
    failed=$((failed + bad))
    passed=$((passed + all - bad))
}

# check NAME COMMAND...: one more test, of the sources themselves.
check() {
    check_name=$1
    shift
    if quietly "$@"; then
        passed=$((passed + 1))
    else
        echo "failed: $check_name" >&2
        failed=$((failed + 1))
    fi
}

# gcc reads the program as it builds it (-fanalyzer): no finding may be left
build build-tests -Dwerror=true -Dc_args=-fanalyzer -Ddebug=false
# gcc warns of what cannot be where it optimises under a sanitizer.
build build-sanitized -Db_sanitize=address,undefined \
    -Db_lundef=false -Doptimization=1
# Counts of an older build would mix with these. The program uses the shared
# library here, which shows that it needs only what that exports.
rm -rf build-coverage
build build-coverage -Db_coverage=true -Dbuildtype=debug \
    -Ddefault_library=shared

# The build makes the locale, so that the system need not have it.
LOCPATH=$PWD/build-tests/tests
export LOCPATH

# The suite "once" costs much and proves the same in each build and locale;
# "stocks" takes four times as long under sanitizers (what fuzzers found of stocks
# is looked at in all, and tests/long.sh runs all under the sanitizers). What the
# tests reach is counted in the decimal-comma locale.
LC_ALL=C.UTF-8 tests build-tests plain
LC_ALL=C.UTF-8 tests build-sanitized sanitized --no-suite once --no-suite stocks
LC_ALL=de_DE.UTF-8 tests build-coverage comma \
    --suite unit --suite reference --suite cli --no-suite once

# gcov may derive a negative count where processes ended in between
reached=build-coverage/reached.json
check "what the tests have reached is counted" \
    gcovr -r . --filter lib/ --filter cli/ --gcov-ignore-parse-errors \
    --json "$reached" build-coverage

# coverage FOLDER LIMIT...: how much of a source folder that is.
coverage() {
    covered=$1
    shift
    gcovr -r . -a "$reached" --filter "$covered/" "$@"
}

check "all lines and branches of lib/ are reached by a test" \
    coverage lib --fail-under-line 100 --fail-under-branch 100
check "90 % of the lines of cli/ are reached by a test" \
    coverage cli --fail-under-line 90

# shellcheck disable=SC2046 # a list of files is meant
check "the style of the C files (clang-format)" \
    clang-format --dry-run -Werror $(find lib cli tests -name '*.[ch]')
for checker in clang-tidy cppcheck; do
    # by the commands of a build that clang understands
    check "what $checker finds by reading" \
        sh tests/analysis.sh build-sanitized $checker
done
check "nothing but what belongs at the top level" sh tests/top_level.sh

echo "$passed passed, $failed failed"
[ "$failed" -eq 0 ]
