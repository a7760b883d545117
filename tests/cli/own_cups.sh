#!/bin/sh
# Copyright the midweight authors. SPDX-License-Identifier: GPL-3.0-or-later
# Own cups in the stock: import, export, undo. Prints TAP.
. "$(dirname "$0")/tap.sh"

stock() {
    "$program" stock "$@" 2>&1
}

cups() {
    stock export | grep -c '^"cup"'
}

take() {
    printf 'kind,name,viscosity,cup_a,cup_b,uncertainty_percent,date\n%s\n' \
        "$1" | stock import -
}

take 'cup,Cap,,4.512345678,320,3.1,2026-10-03' >/dev/null
row='"cup","Cap","","","","","","","","","2026-10-03","3.1","","","","4.512345678","320"'
holds "what was imported is exported" has "$(stock export)" "$row"
stock export >"$folder/out.csv"
MIDWEIGHT_STOCK=$folder/other.db stock import "$folder/out.csv" >/dev/null
holds "and importing the export gives the same" test \
    "$(MIDWEIGHT_STOCK=$folder/other.db stock export)" = "$(stock export)"
holds "a cup is taken once" has "$(take 'cup,cap,,4.5,320,3,')" \
    'there is a cup "cap" already'
holds "no cup has these constants" has "$(take 'cup,Lid,,-4.5,320,3,')" \
    "cup constants that no cup has"
holds "no cup is exact" has "$(take 'cup,Lid,,4.5,320,0,')" "no cup is exact"
holds "what was refused is not saved" test "$(cups)" -eq 1
stock undo >/dev/null
holds "undo removes a cup" test "$(cups)" -eq 0

plan
