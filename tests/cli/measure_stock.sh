#!/bin/sh
# Copyright the midweight authors. SPDX-License-Identifier: GPL-3.0-or-later
# What the command measure saves to the stock: readings of bottles, and own
# cups. Prints TAP.
. "$(dirname "$0")/tap.sh"

# -- Readings

ends 2 measure cup ISO6 62s --at 22C --save Elm
says 'no bottle "Elm" to save to' measure cup ISO6 62s --at 22C --save Elm
says "Added Elm" stock add Elm 350
says "Elm is now 353 mm2/s" measure against 350 18.0s 18.4s --save elm
# 350 x 18.4/18.0 and 100 x (18.4/18.0^2 - 1/18.4) of the jet
row='"reading","Elm","358.0220'
says "$row" stock export
says '"syringe against 350 (18.0 s)"' stock export
says "414 mm2/s at 22 C" measure cup ISO6 61.3s --at 22C --save Elm
says '"cup ISO 6"' stock export
says '"name": "Elm"' measure cup ISO6 60.5s --at 22C --save Elm --json
holds "three readings are saved" test \
    "$("$program" stock export | grep -c '^"reading"')" -eq 3
says "Undone: reading Elm" stock undo
holds "undo takes one back" test \
    "$("$program" stock export | grep -c '^"reading"')" -eq 2

# the message says that a reading is kept though it could not be printed
full=$("$program" measure cup ISO6 61.3s --at 22C --save Elm 2>&1 >/dev/full)
holds "full disk: exit 3" test $? -eq 3
holds "and the reading is said to be kept" has "$full" "the stock is kept"
says "Undone: reading Elm" stock undo
closed=$("$program" measure cup ISO6 61.3s --at 22C --save Elm --json 2>&1 >&-)
holds "closed stdout: exit 3" test $? -eq 3
holds "and the reading is said to be kept" has "$closed" "the stock is kept"
says "Undone: reading Elm" stock undo
ends 1 measure cup ISO6 12s --at 22C --save Elm
holds "nothing more is saved" test \
    "$("$program" stock export | grep -c '^"reading"')" -eq 2

says '"Elm" cannot be measured against itself' \
    measure against Elm 18s 19s --save Elm
says '"Elm" is silicone; leave --family out' \
    measure cup ISO6 62s --at 22C --save Elm --family mineral
says "nothing is measured with --for" measure cup --for 350 --save Elm

# readings are listed beside the label
says "label 350 25" oil Elm
says "reading 358 25" oil Elm
"$program" stock reading Elm 700@25C >/dev/null
says "does not belong" oil Elm
says "the reading 700 mm2/s at 25 C disagrees" oil Elm
"$program" stock undo >/dev/null

# a bottle's density and slope are its own
"$program" stock add Fir 32@40C/5.4@100C --family mineral --density 0.87 >/dev/null
says '"source": "temperature"' measure cup ISO4 64.5s --at 30C --save Fir --json
says "ball of 3 mm" measure ball --diameter 3mm --tube 38mm --travel 200mm \
    --ball-density 1.05 --time 31.2s --at 20C --save Fir

# a measured bottle is less uncertain than its label
"$program" stock add Ash 350 >/dev/null
"$program" stock reading Ash 352@25C --uncertainty 1% >/dev/null
holds "a measured bottle is less uncertain" test "$("$program" measure \
    against Ash 18s 21s --json | jq '.uncertainty.budget[] |
    select(.source == "known oil") | .standard_percent < 1')" = true

# -- Own cups

says "Saved as Syringe" measure calibrate 100=21.4s 350=71.8s --save Syringe
says "own cup Syringe, 50.0 s" measure cup syringe 50s --at 25C
says "cup's formula 2.98" measure cup Syringe 50s --at 25C --explain
says "Syringe own calibration v = 4.894 t - 101.4/t" measure cup --list
says "Syringe own calibration 206" measure cup --for 1010
says "and of your own Syringe" measure cup Spoon 50s --at 25C
says "Saved as syringe" measure calibrate 100=20.4s 350=70.8s --save syringe
says "v = 4.947" measure cup --list
holds "a cup is saved once" test "$("$program" stock export |
    grep -c '^"cup"')" -eq 1
says "Deleted Syringe" measure calibrate --forget Syringe
ends 2 measure calibrate --forget Syringe
says "Undone: delete cup Syringe" stock undo
says "Undone: cup syringe" stock undo
says "v = 4.894" measure cup --list
says "ISO 4 is a cup of ISO 2431" measure calibrate 100=21s 350=71s --save iso4
full=$("$program" measure calibrate 100=21s 350=71s --save Cap 2>&1 >/dev/full)
holds "full disk: exit 3" test $? -eq 3
holds "and the cup is said to be kept" has "$full" "the stock is kept"
holds "and it is kept" test "$("$program" stock export |
    grep -c '^"cup"')" -eq 2
plan
