#!/usr/bin/python3
# Copyright the midweight authors. SPDX-License-Identifier: GPL-3.0-or-later
"""The stock as a notebook: a weekend, and what each entry does."""
import json
import os
import re
import tempfile

from stock_bench import Stock, main

SHEET = """sep=;
Bottle;Viscosity (cSt);ml left;Notes
Alder;200;60;
Birch;300;55,5;opened in May
Cedar;350;40;
Elm;450 @ 25;31,5;front
Larch;600;60;
Oak;1000;48;
;;;
"""


def left(stock):
    return {name: oil["left_ml"] for name, oil in stock.oils().items()}


def log(stock, *words):
    return json.loads(stock.ok("stock", "log", *words, "--json"))


def total(stock):
    """All oil that there was: in bottles, and used."""
    return sum(left(stock).values()) + sum(
        use["volume_ml"] for use in log(stock)["uses"])


def conserved(stock, before):
    assert abs(total(stock) - before) < 1e-9, (total(stock), before)


def a_weekend(stock):
    stock.ok("stock", "import", stock.write("friend.csv", SHEET.encode()))
    assert left(stock) == {"Alder": 60, "Birch": 55.5, "Cedar": 40,
                           "Elm": 31.5, "Larch": 60, "Oak": 48}
    before = total(stock)
    # two readings, a mix, four dampers
    stock.ok("stock", "reading", "Elm", "441@25C", "--uncertainty", "1%")
    stock.ok("measure", "against", "Elm", "18.0s", "24.3s", "--save", "Larch")
    stock.ok("mix", "Elm", "Larch", "--target", "500", "--make", "12ml",
             "--record", "hall")
    conserved(stock, before)
    assert abs(left(stock)["hall"] - 12) < 1e-9
    for note in ("front left", "front right", "rear left", "rear right"):
        stock.ok("stock", "use", "hall", "2.5ml", "--note", note, "--date",
                 "2026-10-03")
        conserved(stock, before)
    assert abs(left(stock)["hall"] - 2) < 1e-9
    # a top-up in its own bottle
    stock.ok("mix", "hall=2ml", "Birch", "--target", "450", "--record", "hall")
    conserved(stock, before)
    topped_up = left(stock)["hall"]
    assert topped_up > 2
    # one undo too many, and back
    stock.ok("stock", "undo")
    stock.ok("stock", "undo")
    conserved(stock, before)
    assert abs(left(stock)["hall"] - 4.5) < 1e-9
    stock.ok("stock", "redo")
    stock.ok("stock", "redo")
    assert left(stock)["hall"] == topped_up
    conserved(stock, before)
    assert "bring back" in stock.refused(1, "stock", "redo")
    shown = " ".join(stock.ok("stock", "show", "Larch").split())
    assert re.search(r"mixed [\d.]+ ml for hall \(earlier\)", shown), shown
    assert "Largest contribution:" in shown
    # a new bottle of the same name
    text = stock.ok("stock", "refill", "Oak", "1000", "--left", "100ml")
    assert "1000 mm2/s at 25 C by its label, 48.0 ml left" in text, text
    assert left(stock)["Oak"] == 100
    assert stock.oils()["Oak"]["readings"] == []
    carried(stock)


def carried(stock):
    """To another machine, by CSV."""
    with tempfile.TemporaryDirectory() as folder:
        other = Stock(stock.program, folder)
        other.ok("stock", "import",
                 stock.write("all.csv", stock.export().encode()))
        for words in [("stock", "log"), ("stock", "log", "hall"),
                      ("stock", "list"), ("stock", "list", "--csv"),
                      ("stock", "export")]:
            assert stock.ok(*words) == other.ok(*words), words
        for name in stock.oils():
            words = ("stock", "show", name)
            assert stock.ok(*words) == other.ok(*words), words


def oil_that_is_used(stock):
    stock.ok("stock", "add", "Elm", "350", "--left", "31ml")
    assert "29.0 ml are left, of 31.0 ml" in stock.ok("stock", "use", "Elm",
                                                      "2ml")
    assert "holds only 29.0 ml" in stock.refused(1, "stock", "use", "Elm",
                                                 "30ml")
    assert "how large is a drop" in stock.refused(2, "stock", "use", "Elm",
                                                  "12drops")
    stock.ok("stock", "set", "Elm", "--drops", "50=0.65ml")
    stock.ok("stock", "use", "Elm", "100drops")
    assert abs(left(stock)["Elm"] - 27.7) < 1e-9
    stock.ok("stock", "use", "Elm", "9.69g", "--date", "2026-10-03")
    # 0.969 g/ml at 25 C, the usual density of a silicone oil of 350 mm2/s
    assert abs(left(stock)["Elm"] - 17.7) < 0.02
    for amount in ("0ml", "-2ml", "50%", "lots", "nan"):
        stock.refused(2, "stock", "use", "Elm", amount)
    stock.refused(2, "stock", "use", "Elm")
    stock.refused(2, "stock", "use", "Elm", "2ml", "--note", "\x1b[2J")
    stock.refused(2, "stock", "use", "Elm", "2ml", "--date", "2026-02-30")
    stock.ok("stock", "add", "Oak", "500")
    assert "is not known" in stock.ok("stock", "use", "Oak", "2ml")
    answer = json.loads(stock.ok("stock", "use", "Oak", "3", "--json"))
    assert answer["done"] == "used" and answer["what"] == "Oak"
    assert [use["volume_ml"] for use in log(stock, "Oak")["uses"]] == [3, 2]
    shown = json.loads(stock.ok("stock", "show", "Oak", "--json"))
    assert shown["into"] == []
    assert len(shown["uses"]) == 2 and shown["fills"] == []


def what_is_set(stock):
    stock.ok("stock", "add", "Elm", "350", "--left", "31ml")
    text = stock.ok("stock", "reading", "Elm", "360@25C", "--uncertainty", "1%")
    assert "before: 350, +-5.8 %" in " ".join(text.split()), text
    assert "what is to be set" in stock.refused(2, "stock", "set", "Elm")
    text = stock.ok("stock", "set", "Elm", "--left", "+5ml", "--note", "dusty",
                    "--tolerance", "8%")
    assert "36.0 ml, was 31.0 ml" in text and '"dusty", was ""' in text, text
    assert "8 %, was 5 %" in text
    # the best value, not the label
    assert "359 mm2/s" in text or "360 mm2/s" in text, text
    assert "was 36.0 ml" in stock.ok("stock", "set", "Elm", "--left", "-6ml")
    assert left(stock)["Elm"] == 30
    assert "holds only 30.0 ml" in stock.refused(1, "stock", "set", "Elm",
                                                 "--left", "-31ml")
    stock.ok("stock", "add", "Oak", "500")
    assert "not known" in stock.refused(2, "stock", "set", "Oak", "--left",
                                        "+5ml")
    assert "5.00 ml, was not known" in stock.ok("stock", "set", "Oak", "--left",
                                                "5ml")
    assert "Oak 2, was Oak" in stock.ok("stock", "set", "Oak", "--name",
                                        "Oak 2")
    assert "520 mm2/s, was 500" in stock.ok("stock", "set", "Oak 2",
                                            "--viscosity", "520")


def a_bottle_that_is_filled_again(stock):
    stock.ok("stock", "add", "Elm", "350", "--left", "31ml", "--drops",
             "50=0.62g")
    stock.ok("stock", "reading", "Elm", "360@25C")
    stock.ok("stock", "refill", "Elm", "--left", "100ml", "--date",
             "2026-10-03")
    elm = stock.oils()["Elm"]
    assert elm["left_ml"] == 100 and elm["readings"] == []
    assert elm["points"][0]["viscosity"] == 350
    fills = log(stock, "Elm")["fills"]
    assert fills == [{"name": "Elm", "date": "2026-10-03",
                      "previous": "Elm (earlier)"}], fills
    stock.ok("stock", "refill", "Elm", "400", "--tolerance", "3%")
    assert stock.oils()["Elm"]["left_ml"] is None
    assert [fill["previous"] for fill in log(stock, "Elm")["fills"]] == [
        "Elm (earlier 2)", "Elm (earlier)"]
    stock.ok("stock", "undo")
    assert stock.oils()["Elm"]["left_ml"] == 100
    assert len(log(stock)["fills"]) == 1
    stock.ok("stock", "add", "Oak", "500", "--left", "9ml")
    stock.ok("mix", "Elm=9ml", "Oak=9ml", "--record", "Hall")
    assert "is a mix" in stock.refused(2, "stock", "refill", "Hall")
    stock.refused(2, "stock", "refill")
    stock.refused(2, "stock", "refill", "Nobody", "350")


def drops_of_each_bottle(stock):
    """A batch in drops, each of its bottle's size; what falls is recorded."""
    stock.ok("stock", "add", "Elm", "350", "--left", "30ml")
    stock.ok("stock", "add", "Oak", "500", "--left", "30ml")
    words = ("mix", "Elm", "Oak", "--target", "420", "--make", "20drops")
    stock.ok("stock", "set", "Elm", "--drops", "50=0.65ml")
    assert "size" in stock.refused(2, *words)
    stock.ok("stock", "set", "Oak", "--drops", "50=0.60ml")
    answer = json.loads(stock.ok(*words, "--record", "hall", "--json"))
    drops = [part["steps"] for part in answer["dosed"]["parts"]]
    assert sum(drops) in (20, 21), drops
    assert abs(left(stock)["Elm"] - 30 + drops[0] * 0.013) < 1e-9
    assert abs(left(stock)["Oak"] - 30 + drops[1] * 0.012) < 1e-9
    assert abs(left(stock)["hall"] - drops[0] * 0.013 - drops[1] * 0.012) < 1e-9
    said = stock.ok("oil", "Elm", "--amount", "0.13ml")
    assert "10 drops" in said.splitlines()[0], said


def redo_ends_with_a_change(stock):
    stock.ok("stock", "add", "Elm", "350")
    stock.ok("stock", "add", "Oak", "500")
    stock.ok("stock", "undo")
    stock.ok("stock", "add", "Yew", "700")
    assert "bring back" in stock.refused(1, "stock", "redo")
    for _ in range(3):
        stock.ok("stock", "undo")
        stock.ok("stock", "redo")
    assert set(stock.oils()) == {"Elm", "Yew"}
    stock.ok("stock", "undo")
    stock.ok("stock", "undo")
    assert stock.oils() == {}
    stock.refused(1, "stock", "undo")
    answer = json.loads(stock.ok("stock", "redo", "--json"))
    assert answer["done"] == "redone" and answer["what"] == "add Elm"
    stock.ok("stock", "redo")
    assert set(stock.oils()) == {"Elm", "Yew"}


def rows_of_a_journal(stock):
    """Of import: what cannot have been."""
    header = "kind,name,viscosity,parent,volume_ml,date\n"
    elm = "bottle,Elm,350,,,\n"
    for row, where in [("use,Oak,,,2,\n", "line 3, column name"),
                       ("use,Elm,,,0,\n", "line 3, column volume_ml"),
                       ("use,Elm,,,2,2026-02-30\n", "line 3, column date"),
                       ("refill,Elm,,Oak,,\n", "line 3, column parent"),
                       ("spill,Elm,,,2,\n", "line 3, column kind")]:
        message = stock.refused(2, "stock", "import", stock.write(
            "bad.csv", (header + elm + row).encode()))
        assert where in message, (row, message)
    oak = "bottle,Oak,350,,,\nrefill,Elm,,Oak,,\n"
    message = stock.refused(2, "stock", "import", stock.write(
        "twice.csv", (header + elm + oak + "refill,Elm,,Oak,,\n").encode()))
    assert "fill before it already" in message, message
    assert not os.path.exists(stock.path) or stock.oils() == {}


main([a_weekend, oil_that_is_used, what_is_set, a_bottle_that_is_filled_again,
      drops_of_each_bottle, redo_ends_with_a_change, rows_of_a_journal])
