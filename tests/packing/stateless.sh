#!/bin/sh
# Copyright the midweight authors. SPDX-License-Identifier: GPL-3.0-or-later
# The library keeps no state between calls, and neither allocates nor prints: it
# has no writable data, and calls no function that does so. The network, its
# adjustment and a trial mix alone, whose headers say so, allocate.
#
#     stateless.sh ARCHIVE
set -eu
if size -A "$1" | awk '$1 ~ /^\.t?(data|bss)/ && $2 > 0 && !/\.rel\.ro/' |
    grep .; then
    echo "writable data" >&2
    exit 1
fi
if nm -A -u "$1" | awk '/table_network|advice_trial_mix|uncertainty_(adjustment|normal)/ &&
    ($NF == "calloc" || $NF == "free") {next} {print $NF}' |
    grep -Ex '.*alloc|free|.*dup|.*printf.*|'\
'f?put.*|puts|f?write|f?open|f?exit|abort|signal|setlocale|getenv|rand|strtok|'\
'gsl_.*_alloc|gsl_.*_free|gsl_set_error_handler.*'; then
    echo "calls a forbidden function" >&2
    exit 1
fi
# both tools have read it
[ "$(nm "$1" | grep -c ' T mw_')" -gt 100 ]
