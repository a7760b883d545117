#!/bin/sh
# Copyright the midweight authors. SPDX-License-Identifier: GPL-3.0-or-later
# What to pour: hold ends with the nearest bottle of the stock, and does not
# change the stock. Prints TAP.
. "$(dirname "$0")/tap.sh"
stock=$folder/stock.db
export HOME="$folder/home"
unset MIDWEIGHT_STOCK XDG_DATA_HOME

# hold OIL...: the answer with the stock, by default from 25 to 12 C
hold() {
    case $* in *--from*) ;; *) set -- "$@" --from 25C --to 12C ;; esac
    "$program" hold --stock "$stock" "$@" 2>&1
}

# pour FIELD OIL...: a field of the bottle in the answer
pour() {
    field=$1
    shift
    hold "$@" --json | jq -r ".pour.bottle.$field"
}

says() {
    hold "$1" | tr '\n' ' ' | grep -q "$2"
}

add() {
    "$program" stock add --stock "$stock" "$@" >/dev/null || exit 1
}

holds "without a stock no bottle is mentioned" \
    test "$(hold 450 | grep -c bottle)" -eq 0
holds "and no stock is made" test ! -e "$stock"
"$program" hold 450 --from 25C --to 12C >/dev/null
holds "nor at the default path" test ! -e "$HOME"

# 450 wants 340
add Elm 350 --left 31ml
add Oak 450
add Fir 32@40C/5.4@100C --family mineral
add Empty 340 --left 0ml
holds "the nearest bottle that is not empty" test "$(pour name 450)" = Elm
holds "by its name as well" test "$(pour name Oak)" = Elm
holds "what it does to the damping" says 450 \
    'Nearest bottle of the stock: Elm (350 mm2/s at 25 C, +-5.8 %, 31.0 ml left)'
change=$(pour change_percent 450)
# 350/340 - 1
holds "in per cent" awk "BEGIN { exit !($change > 2.85 && $change < 3.05) }"
holds "no two bottles enclose it" \
    test "$(hold 450 --json | jq .pour.mix)" = null
holds "the family is that of the oil" \
    test "$(pour name 46@40C/VI150 --from 30C --to 40C)" = Fir
add Pine 46@40C --family mineral
holds "and the bottle is known at the temperature" \
    test "$(pour name 46@20C --family mineral --from 20C --to 20C)" = Fir
holds "what it does to the damping, in words" \
    says 450 'the damping is then 2.9 % higher than before'
add Beech 10@40C/2.6@100C --family mineral
holds "a mix of mineral oils" says 46@40C/VI150 '@12C --family mineral'
"$program" stock remove --stock "$stock" Beech >/dev/null

"$program" stock remove --stock "$stock" Fir >/dev/null
"$program" stock remove --stock "$stock" Pine >/dev/null
holds "none of the family" says 46@40C/VI150 'No bottle of the stock is mineral'

# 180 mm2/s too thin is further than 320 too thick
add Low 160
add High 660
"$program" stock remove --stock "$stock" Elm >/dev/null
"$program" stock remove --stock "$stock" Oak >/dev/null
holds "the nearest bottle is that by ratio" test "$(pour name 450)" = High

# the share is the one that mix gives for the two
wanted=$(hold 450 --json | jq -r '"\(.wanted.viscosity)@\(.wanted.temperature)C"')
share() {
    jq ".$1"'.parts | map(select(.name == "High")) | .[0].share * 1e6 | round'
}
there=$("$program" mix --stock "$stock" Low High --target "$wanted" --json |
    jq '{mix: .}' | share mix)
holds "the mix of two" test "$(hold 450 --json | share pour.mix)" = "$there"
holds "in words" says 450 'Or mix .* of High into Low; for the amounts: midweight mix'

before=$(cksum <"$stock")
hold 450 >/dev/null
holds "the stock is not changed" test "$(cksum <"$stock")" = "$before"

echo "no stock" >"$stock"
hold 450 >/dev/null
holds "a damaged stock that was named: exit 3" test $? -eq 3
MIDWEIGHT_STOCK=$stock "$program" hold 450 --from 25C --to 12C >"$folder/out"
holds "one that was not named does not prevent the answer" test $? -eq 0
holds "but is reported" grep -q "Warning: .*is damaged" "$folder/out"
plan
