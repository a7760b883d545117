#!/usr/bin/python3
# Copyright the midweight authors. SPDX-License-Identifier: GPL-3.0-or-later
"""The stock in use: bottles, readings, mixes, undo."""
import csv
import io
import json
import math
import os
import re

from stock_bench import main


def an_empty_stock_is_no_file(stock):
    assert "No bottle yet" in stock.ok("stock")
    assert "Nothing is recorded" in stock.ok("stock", "log")
    assert json.loads(stock.ok("stock", "list", "--json"))["oils"] == []
    stock.export()
    stock.refused(2, "oil", "Elm")
    stock.refused(1, "mix", "--target", "420")
    stock.ok("mix", "350", "500", "--target", "420")
    # what does not exist cannot be changed, and no file is made by trying
    stock.refused(2, "stock", "reading", "Elm", "350@22C")
    stock.refused(2, "stock", "set", "Elm", "--left", "5ml")
    stock.refused(2, "stock", "remove", "Elm")
    stock.refused(1, "stock", "undo")
    stock.refused(2, "mix", "Elm", "Oak", "--target", "420", "--record", "x")
    stock.refused(1, "mix", "--target", "420", "--make", "5ml", "--record",
                  "x")
    stock.refused(2, "measure", "against", "350", "18s", "21s", "--save",
                  "Elm")
    stock.refused(2, "measure", "calibrate", "--forget", "Syringe")
    assert os.listdir(stock.folder) == []


def the_club_is_listed_in_80_columns(stock):
    stock.club()
    text = stock.ok("stock", "list")
    assert max(len(line) for line in text.splitlines()) <= 80
    names = [line.split()[0] for line in text.splitlines()[1:10]]
    assert names == ["Alder", "Birch", "Cedar", "Elm", "Hazel", "Larch", "Oak",
                     "Walnut", "Yew"], names
    assert stock.ok("stock") == text
    rows = list(csv.DictReader(io.StringIO(stock.ok("stock", "list", "--csv"))))
    assert rows[3]["name"] == "Elm" and float(rows[3]["rating"]) == 350


def the_default_path(stock):
    # without --stock, and without the environment of the user
    stock.command = lambda *words: [stock.program, *words]
    for variables, path in [
            ({"XDG_DATA_HOME": stock.folder}, "midweight/stock.db"),
            ({"HOME": stock.folder}, ".local/share/midweight/stock.db"),
            ({"MIDWEIGHT_STOCK": stock.folder + "/own.db"}, "own.db")]:
        result = stock.run("stock", "add", "Elm", "350", env=variables)
        assert result.returncode == 0, result
        assert os.path.exists(os.path.join(stock.folder, path)), path
    assert stock.run("stock", env={}).returncode == 3


def label_and_reading_become_one(stock):
    # calculated by hand in tests/unit/table/test_bottle.c
    stock.ok("stock", "add", "Elm", "350", "--tolerance", "5%")
    stock.ok("stock", "reading", "Elm", "371@22C", "--uncertainty", "3%",
             "--method", "cup", "--date", "2026-10-03")
    elm = stock.oils()["Elm"]
    assert abs(elm["best"]["viscosity"] - 349.73009) <= 1e-4
    assert abs(elm["best"]["uncertainty"]["standard_percent"] - 2.088815) <= 1e-5
    reading = elm["readings"][0]
    uncertainty = reading.pop("uncertainty")
    assert uncertainty["k"] == 2 and uncertainty["standard_percent"] == 3
    assert uncertainty["expanded_percent"] == 6
    assert abs(uncertainty["low"] - 371 * math.exp(-0.06)) < 1e-9
    assert reading == {"viscosity": 371, "temperature": 22,
                       "method": "cup", "date": "2026-10-03"}


def a_reading_that_disagrees_is_reported(stock):
    stock.ok("stock", "add", "Elm", "350")
    stock.ok("stock", "reading", "Elm", "352@25C", "--uncertainty", "1%")
    stock.ok("stock", "reading", "Elm", "349@25C", "--uncertainty", "1%")
    text = stock.ok("stock", "reading", "Elm", "420@25C", "--uncertainty", "1%")
    assert "disagrees with the rest" in " ".join(text.split())
    listed = " ".join(stock.ok("stock", "list").split())
    assert "disagrees with the rest" in listed


def a_slip_of_the_pen_is_refused(stock):
    """A factor of ten is no reading, unless its owner says so: and then it
    teaches nothing, and every answer says that it is there."""
    stock.ok("stock", "add", "Elm", "450", "--left", "90ml")
    stock.ok("stock", "add", "Larch", "600", "--left", "90ml")
    stock.ok("stock", "reading", "Elm", "452@25C", "--uncertainty", "1%")
    before = stock.oils()["Elm"]["best"]
    message = stock.refused(2, "stock", "reading", "Elm", "45@25C")
    assert "far from the 452 mm2/s" in message and "--force" in message, message
    stock.refused(2, "measure", "cup", "ISO4", "50s", "--at", "25C", "--save",
                  "Larch")
    stock.ok("measure", "cup", "ISO4", "50s", "--at", "25C", "--save", "Larch",
             "--force")
    stock.ok("stock", "undo")
    stock.ok("stock", "reading", "Elm", "45@25C", "--force")
    after = stock.oils()["Elm"]["best"]
    for one, other in ((before["viscosity"], after["viscosity"]),
                       (before["uncertainty"]["standard_percent"],
                        after["uncertainty"]["standard_percent"])):
        assert math.isclose(one, other, rel_tol=1e-9), (one, after)
    says = "reading 2 of Elm, 45 mm2/s at 25 C, disagrees with the rest"
    stock.ok("mix", "Elm=10ml", "Larch=10ml", "--record", "Hall")
    for words in [("oil", "Elm"), ("oil", "Hall"), ("stock", "show", "Hall"),
                  ("hold", "Elm", "--from", "25C", "--to", "20C"),
                  ("settle", "Elm", "--depth", "30mm"),
                  ("mix", "Elm", "Larch", "--target", "500"),
                  ("mix", "--target", "500"), ("stock", "list")]:
        text = " ".join(stock.ok(*words).split())
        assert says in text, (words, text)
        if words != ("stock", "list"):
            warnings = json.loads(stock.ok(*words, "--json"))["warnings"]
            assert any(says in warning["text"] and
                       warning["code"] == "outlier"
                       for warning in warnings), words


def a_bottle_is_shown(stock):
    """Its label, its readings by number, its recipe; and one is deleted."""
    stock.ok("stock", "add", "Elm", "350", "--left", "20ml", "--note", "blue")
    stock.ok("stock", "add", "Larch", "500", "--left", "50ml")
    stock.ok("stock", "reading", "Elm", "352@25C", "--uncertainty", "1%")
    alone = json.loads(stock.ok("stock", "show", "Elm", "--json"))
    stock.ok("stock", "reading", "Elm", "372@22C", "--method", "a cup")
    stock.ok("stock", "reading", "Elm", "35@22C", "--force")
    text = stock.ok("stock", "show", "elm")
    lines = text.splitlines()
    assert lines[0].startswith("Elm is 3"), text
    assert lines[2].startswith("  label      silicone, 350 mm2/s at 25 C, +-5 %")
    assert lines[3].startswith("  reading  1 352 mm2/s at 25 C, +-2.0 %"), text
    assert lines[4].endswith(", a cup"), text
    assert lines[5].endswith("(set aside)"), text
    assert "  left       20.0 ml" in lines and "  note       blue" in lines
    shown = json.loads(stock.ok("stock", "show", "Elm", "--json"))
    assert [reading["agreement"] for reading in shown["readings"]] == [
        "counted", "counted", "set aside"], shown
    for bad in ("0", "4", "1.5", "x", "-1"):
        stock.refused(2, "stock", "reading", "Elm", "--delete", bad)
    stock.refused(2, "stock", "reading", "Elm", "341@22C", "--delete", "1")
    stock.ok("stock", "reading", "Elm", "--delete", "3")
    stock.ok("stock", "reading", "Elm", "--delete", "2")
    again = json.loads(stock.ok("stock", "show", "Elm", "--json"))
    assert again == alone, (again, alone)
    stock.ok("stock", "undo")
    assert len(json.loads(stock.ok("stock", "show", "Elm",
                                   "--json"))["readings"]) == 2
    # what it was before a top-up is shown by its own name
    stock.ok("mix", "Elm=20ml", "Larch=5ml", "--record", "Elm")
    text = stock.ok("stock", "show", "Elm")
    assert "  made of    20.0 ml of Elm (earlier)" in text, text
    assert "             5.00 ml of Larch" in text, text
    assert "reading  2 372" in stock.ok("stock", "show", "Elm (earlier)")
    recipe = json.loads(stock.ok("stock", "show", "Elm", "--json"))["recipe"]
    assert recipe["parts"][0] == {"name": "Elm (earlier)", "volume_ml": 20}
    for words in [("stock", "show"), ("stock", "show", "Fir"),
                  ("stock", "show", "Elm", "Larch")]:
        stock.refused(2, *words)


def a_name_is_shown_as_the_stock_spells_it(stock):
    stock.ok("stock", "add", "Elm", "350", "--left", "50ml")
    stock.ok("stock", "add", "gr\u00fcne \u00d6lkanne", "500", "--left", "50ml")
    for words in [("mix", "eLM", "500", "--target", "420"),
                  ("mix", "elm=10ml", "500=10ml"), ("oil", "ELM"),
                  ("hold", "elm", "--to", "12C"), ("oil", "elm", "350"),
                  ("mix", "500=5ml", "350", "--target", "400", "--residue",
                   "1ml=ELM")]:
        text = stock.ok(*words)
        assert "Elm" in text or words[0] == "hold", text
        assert "ELM" not in text and "eLM" not in text, text
        assert " elm" not in text, text
    assert "gr\u00fcne \u00d6lkanne" in stock.ok(
        "mix", "elm", "GR\u00fcNE \u00d6LKANNE", "--target", "420")


def the_log_as_csv(stock):
    stock.ok("stock", "add", "Elm", "350", "--left", "50ml")
    stock.ok("stock", "add", "Oak", "500", "--left", "50ml")
    stock.ok("mix", "Elm=10ml", "Oak=5ml", "--record", "Hall", "--date",
             "2026-10-03")
    rows = list(csv.reader(io.StringIO(stock.ok("stock", "log", "--csv"))))
    assert rows == [["date", "mix", "temperature", "oil", "volume_ml",
                     "kind", "note"],
                    ["2026-10-03", "Hall", "25", "Elm", "10", "mix", ""],
                    ["2026-10-03", "Hall", "25", "Oak", "5", "mix", ""]], rows


def what_was_changed_as_json(stock):
    """Commands that write answer in JSON too."""
    def change(*words):
        return json.loads(stock.ok("stock", *words, "--json"))
    stock.write("a.csv", b"name,viscosity\nFir,700\nbad,\n")
    added = change("add", "Elm", "350", "--left", "20ml")
    assert added["schema"] == "midweight/stock-change/1"
    assert added["done"] == "added" and added["oil"]["name"] == "Elm"
    assert added["oil"]["left_ml"] == 20 and added["rows"] is None
    assert change("set", "Elm", "--left", "7ml")["oil"]["left_ml"] == 7
    read = change("reading", "Elm", "355@25C", "--uncertainty", "1%")
    assert len(read["oil"]["readings"]) == 1 and read["done"] == "changed"
    assert change("undo")["what"] == "reading Elm"
    assert change("remove", "Elm")["done"] == "removed"
    path = os.path.join(stock.folder, "a.csv")
    imported = change("import", "--skip-bad", path)
    assert (imported["rows"], imported["skipped"]) == (1, 1), imported
    assert imported["warnings"][0]["code"] == "import"
    assert change("remove", "--damaged")["rows"] == 0


def a_warm_reading_moves_the_slope(stock):
    stock.ok("stock", "add", "Elm", "350")
    stock.ok("stock", "reading", "Elm", "196@60C", "--uncertainty", "1%")
    by_law = 350 * math.exp(-5.892 * 35 / 333.15)
    warm = json.loads(stock.ok("oil", "Elm", "--at", "60C", "--json"))
    best = stock.oils()["Elm"]["best"]["viscosity"]
    moved = math.log(warm["at"]["viscosity"] / by_law)
    # nearly all of the way, and most of that is the slope
    assert 0.8 < moved / math.log(196 / by_law) < 1
    assert 0.2 < math.log(best / 350) / moved < 0.5


def a_mineral_bottle_is_measured_at_its_temperature(stock):
    stock.ok("stock", "add", "Fir", "32", "--family", "mineral")
    message = stock.refused(2, "stock", "reading", "Fir", "45@30C")
    assert "40 C only" in message
    stock.ok("stock", "reading", "Fir", "33@40C")


def a_weight_number_is_only_a_name(stock):
    for oil in ("sae30", "wt", "30wt", "10W-40"):
        message = stock.refused(2, "stock", "add", "Elm", oil)
        assert "weight numbers follow no common scale" in message, message
    stock.ok("stock", "add", "SAE 30", "93@40C/10.8@100C")
    assert "93 mm2/s" in stock.ok("oil", "sae 30", "--at", "40C")


def a_family_is_found_and_changed_only_on_request(stock):
    text = stock.ok("stock", "add", "Fir", "32@40C/5.4@100C")
    assert "taken as mineral oil" in text, text
    assert stock.oils()["Fir"]["family"] == "mineral"
    stock.ok("stock", "add", "Elm", "350")
    before = stock.export()
    message = stock.refused(2, "stock", "set", "Elm", "--viscosity",
                            "32@40C/5.4@100C")
    assert "looks like mineral oil, and Elm is silicone" in message, message
    stock.refused(2, "stock", "set", "Fir", "--viscosity", "478@10C/285@35C")
    assert stock.export() == before
    stock.ok("stock", "set", "Elm", "--viscosity", "478@10C/285@35C")
    stock.ok("stock", "set", "Elm", "--viscosity", "360")
    # points that do not decide the family do not change it
    stock.ok("stock", "set", "Elm", "--viscosity", "350@25C/340@27C")
    assert stock.oils()["Elm"]["family"] == "silicone"
    stock.ok("stock", "set", "Elm", "--viscosity", "32@40C/5.4@100C",
             "--family", "mineral")
    assert stock.oils()["Elm"]["family"] == "mineral"


def the_band_of_the_list_is_that_at_25_degrees(stock):
    stock.ok("stock", "add", "Fork", "46@40C/VI150")
    stock.ok("stock", "add", "Fir", "100@40C")
    stock.ok("stock", "add", "Elm", "350")
    stock.ok("stock", "reading", "Fir", "98@40C")
    text = stock.ok("stock", "list")
    for name in ("Fork", "Fir", "Elm"):
        answer = json.loads(stock.ok("oil", name, "--at", "25C",
                                     "--thermometer", "0", "--json"))
        wide = answer["at"]["uncertainty"]["expanded_percent"]
        line, = [row for row in text.splitlines() if row.startswith(name)]
        assert f" {wide:.1f} " in line, (wide, line)


def what_is_set_aside_is_not_counted(stock):
    stock.ok("stock", "add", "Elm", "450")
    text = stock.ok("stock", "reading", "Elm", "45@25C", "--force")
    assert "from its label alone" in text and "set aside" in text, text
    text = " ".join(stock.ok("stock", "reading", "Elm", "455@25C").split())
    assert "from its label and 1 reading" in text, text


def the_density_of_a_recorded_mix(stock):
    stock.club()
    stock.ok("mix", "Elm", "Larch", "--target", "420", "--make", "4ml",
             "--density", "0,96", "--record", "half")
    assert ',"0.96",' in stock.export(), stock.export()
    message = stock.refused(2, "oil", "Elm", "--density", "0.9")
    assert "stock set" in message, message
    stock.refused(2, "mix", "Elm", "Larch", "--target", "420", "--make", "4ml",
                  "--density", "11", "--record", "other")


def recording_a_mix_and_undoing_it(stock):
    before = stock.club().export()
    stock.ok("mix", "Elm", "Larch", "--target", "420", "--make", "30ml",
             "--record", "hall-morning", "--date", "2026-10-03")
    oils = stock.oils()
    share = 0.50063
    assert abs(oils["Elm"]["left_ml"] - (31 - 30 * (1 - share))) <= 1e-3
    assert abs(oils["Larch"]["left_ml"] - (60 - 30 * share)) <= 1e-3
    mixed = oils["hall-morning"]
    assert mixed["mixed"] and mixed["left_ml"] == 30
    assert abs(mixed["best"]["viscosity"] - 420) <= 1e-6
    log = json.loads(stock.ok("stock", "log", "--json"))["mixes"]
    assert [part["name"] for part in log[0]["parts"]] == ["Elm", "Larch"]
    assert log[0]["date"] == "2026-10-03"
    assert "hall-morning" in stock.ok("stock", "log")
    stock.ok("stock", "undo")
    assert stock.export() == before
    stock.ok("stock", "undo")
    assert stock.oils() == {}
    assert "no change" in stock.refused(1, "stock", "undo")


def every_change_is_undone_exactly(stock):
    stock.club()
    stock.ok("mix", "Elm=5ml", "Larch=5ml", "--record", "half")
    states = [stock.export()]
    changes = [
        ["stock", "add", "Fir", "32@40C/5.4@100C", "--family", "mineral",
         "--density", "0,871", "--note", "two\nlines"],
        ["stock", "set", "Fir", "--name", "Pine", "--left", "12,5ml"],
        ["stock", "set", "Pine", "--viscosity", "33@40C/5.5@100C"],
        ["stock", "reading", "half", "425@25C"],
        ["stock", "remove", "Elm", "--force"],
        ["stock", "set", "Oak", "--drops", "50=0.62g"],
        ["mix", "Oak", "half", "--target", "600", "--make", "5ml", "--record",
         "again"],
        ["stock", "remove", "again"],
        ["stock", "remove", "half"],
    ]
    for change in changes:
        stock.ok(*change)
        states.append(stock.export())
    for state in reversed(states[:-1]):
        stock.ok("stock", "undo")
        assert stock.export() == state


def what_readings_share_is_kept(stock):
    """One cup five times is one cup; a comparison leans on its reference."""
    stock.ok("stock", "add", "Elm", "350")
    stock.ok("stock", "add", "Larch", "500")
    for tenth in range(5):
        stock.ok("measure", "cup", "ISO6", f"54.{tenth}s", "--at", "22C",
                 "--save", "Elm")
    # the cup alone, 3 %, and a degree over sqrt 3 of which
    # half is of the day, beside the label
    cup = math.hypot(0.03, 0.0203 / math.sqrt(3))
    label = 0.05 / math.sqrt(3)
    expected = 100 / math.sqrt(1 / cup ** 2 + 1 / label ** 2)
    found = stock.oils()["Elm"]["best"]["uncertainty"]["standard_percent"]
    assert abs(found - expected) < 0.08, (found, expected)
    stock.ok("measure", "against", "Elm", "18s", "25.9s", "--save", "Larch")
    before = stock.oils()["Larch"]["best"]["viscosity"]
    # a better value of the reference moves what was compared with it
    stock.ok("stock", "reading", "Elm", "352@25C", "--uncertainty", "0.2%")
    after = stock.oils()["Larch"]["best"]["viscosity"]
    assert after > before * 1.005, (before, after)
    stock.ok("stock", "undo")
    assert stock.oils()["Larch"]["best"]["viscosity"] == before
    # removed, it stays what others were compared with
    export = stock.export()
    stock.ok("stock", "remove", "Elm")
    assert "Elm" not in stock.oils()
    assert stock.oils()["Larch"]["best"]["viscosity"] == before
    assert "Elm (removed)" in stock.export()
    stock.ok("stock", "undo")
    assert stock.export() == export


def a_dose_is_kept_with_its_mix(stock):
    stock.club()
    stock.ok("mix", "Elm", "Larch", "--target", "420", "--make", "10ml",
             "--syringe", "1", "--record", "coarse")
    rows = list(csv.DictReader(io.StringIO(stock.export())))
    mix = [row for row in rows if row["kind"] == "mix"][0]
    # half a graduation, rectangular
    assert abs(float(mix["dose_ml"]) - 0.5 / math.sqrt(3)) < 1e-9, mix


def a_removed_parent_stays_in_the_recipe(stock):
    stock.club()
    stock.ok("mix", "Elm=5ml", "Larch=5ml", "--record", "half")
    assert "--force" in stock.refused(1, "stock", "remove", "Elm")
    stock.ok("stock", "remove", "Elm", "--force")
    assert "Elm" not in stock.oils()
    assert "Elm (removed)" in stock.ok("stock", "log")
    stock.ok("stock", "add", "Elm", "355")
    stock.ok("mix", "Elm=5ml", "Larch=5ml", "--record", "half 2")
    stock.ok("stock", "remove", "Elm", "--force")
    assert "Elm (removed 2)" in stock.ok("stock", "log")


def a_top_up_stays_in_its_bottle(stock):
    stock.ok("stock", "add", "Elm", "380", "--left", "12.03ml", "--note",
             "front", "--drops", "50=0.62g")
    stock.ok("stock", "add", "Larch", "300", "--left", "100ml")
    before = stock.export()
    assert "Elm=12.0ml" in stock.refused(2, "mix", "Elm=5ml", "Larch",
                                         "--target", "350", "--record", "Elm")
    answer = stock.ok("mix", "elm=12ml", "Larch", "--target", "350",
                      "--syringe", "0.2", "--record", "ELM", "--json")
    poured = json.loads(answer)["dosed"]["parts"][1]["volume_ml"]
    bottle = stock.oils()["Elm"]
    assert abs(bottle["left_ml"] - 12.03 - poured) < 1e-9
    assert abs(bottle["best"]["viscosity"] - 350) < 1
    log = stock.ok("stock", "log")
    assert "Elm (earlier)" in log
    # and once more: all that was is kept
    stock.ok("mix", "Elm=%.17gml" % bottle["left_ml"], "Larch=1ml",
             "--record", "Elm")
    log = stock.ok("stock", "log")
    assert "Elm (earlier)" in log and "Elm (earlier 2)" in log
    assert '"front"' in stock.export()
    stock.ok("stock", "undo")
    stock.ok("stock", "undo")
    assert stock.export() == before


def too_little_is_refused_with_the_largest_batch(stock):
    stock.club()
    before = stock.bytes()
    message = stock.refused(1, "mix", "Elm", "Larch", "--target", "420",
                            "--make", "100ml", "--record", "big")
    # 31 ml of Elm are 49.94 % of 62.1 ml
    assert "the largest batch is 62.1 ml" in message, message
    assert stock.bytes() == before
    stock.refused(2, "mix", "350", "Larch", "--target", "420", "--make", "5ml",
                  "--record", "literal")
    stock.refused(2, "mix", "Elm", "Larch", "--target", "420", "--record", "x")
    stock.refused(2, "mix", "Elm", "Larch", "--target", "420", "--make", "5ml",
                  "--record", "Oak")
    stock.refused(2, "mix", "Elm", "Larch", "--target", "420", "--make", "5ml",
                  "--record", "x", "--date", "2026-02-30")
    assert stock.bytes() == before


def the_best_pair_of_the_stock(stock):
    stock.club()
    answer = json.loads(stock.ok("mix", "--target", "420", "--make", "20ml",
                                 "--json"))
    assert abs(answer["result"]["viscosity"] - 420) <= 1e-9
    low, high = (part["viscosity"] for part in answer["parts"])
    assert low < 420 < high
    assert answer["runner_up"] is not None
    # a measured bottle is less uncertain than any label
    stock.ok("stock", "reading", "Cedar", "302@25C", "--uncertainty", "0.5%")
    stock.ok("stock", "reading", "Larch", "498@25C", "--uncertainty", "0.5%")
    answer = json.loads(stock.ok("mix", "--target", "420", "--json"))
    names = {part["name"] for part in answer["parts"]}
    assert "Cedar" in names, names
    # an empty bottle takes no part
    stock.ok("stock", "set", "Cedar", "--left", "0")
    answer = json.loads(stock.ok("mix", "--target", "420", "--json"))
    assert "Cedar" not in {part["name"] for part in answer["parts"]}
    stock.refused(1, "mix", "--target", "420", "--make", "500ml")
    stock.refused(1, "mix", "--target", "40000")


def a_pair_of_mineral_oils(stock):
    """Chosen or named, they get the same recipe; a stock of them has a pair."""
    stock.ok("stock", "add", "thin", "30@40C/5@100C", "--family", "mineral")
    stock.ok("stock", "add", "thick", "490@40C/32@100C", "--family", "mineral")
    answers = [json.loads(stock.ok("mix", *names, "--target", "100", "--json"))
               for names in ((), ("thin", "thick"))]
    for key in ("rule", "result", "parts", "excess"):
        assert answers[0][key] == answers[1][key], key
    assert answers[0]["rule"] == "wright"
    assert answers[0]["target"]["temperature"] == 40
    # silicone oils come first where there are any
    stock.ok("stock", "add", "Elm", "350")
    answer = json.loads(stock.ok("mix", "--target", "100", "--json"))
    assert answer["parts"] == answers[0]["parts"]
    stock.refused(1, "mix", "--target", "100", "--family", "silicone")
    stock.refused(1, "mix", "--target", "100k")
    stock.ok("stock", "add", "Birch", "50")
    answer = json.loads(stock.ok("mix", "--target", "100", "--json"))
    assert answer["family"] == "silicone", answer
    answer = json.loads(stock.ok("mix", "--target", "100", "--family",
                                 "mineral", "--json"))
    assert answer["parts"] == answers[0]["parts"]


def plain(viscosities, shares):
    """ASTM D7152, procedure C, for oils above 5 mm2/s: Z = v + 0.7."""
    w = sum(f * math.log10(math.log10(v + 0.7))
            for v, f in zip(viscosities, shares))
    return 10 ** (10 ** w) - 0.7


def a_measured_mix_changes_the_excess(stock):
    stock.club()
    stock.ok("mix", "Alder=10ml", "Oak=10ml", "--record", "wide")
    stock.ok("stock", "reading", "wide", "360@25C", "--uncertainty", "1%")
    answer = json.loads(stock.ok("mix", "Alder", "Oak", "--target", "350",
                                 "--json"))
    assert answer["excess_trial_mixes"] == 1
    # K = ln(v/v_D7152)/(f1 f2 (ln 10)^2); its uncertainty from the reading
    # (1 %) and the two labels (5 %/sqrt 3, each moving ln v by its share times
    # the slope of the chart: 0.6173 and 0.4119, central differences)
    spread = 0.25 * math.log(10) ** 2
    trial_mix = math.log(360 / plain([100, 1000], [0.5, 0.5])) / spread
    step = 1e-4
    slopes = [(math.log(plain([100 * (1 + step * (i == 0)),
                               1000 * (1 + step * (i == 1))], [0.5, 0.5])) -
               math.log(plain([100, 1000], [0.5, 0.5]))) / step
              for i in (0, 1)]
    # a dose is good to 1 % of 10 ml, that is a share to 0.0025
    dose = math.log(plain([100, 1000], [0.4975, 0.5025]) /
                    plain([100, 1000], [0.5, 0.5]))
    u = math.hypot(0.01, dose,
                   *(s * 0.05 / math.sqrt(3) for s in slopes)) / spread
    # of all oils, of thin ones, of this pair
    prior, u_prior = 0.20, math.hypot(0.10 / math.sqrt(3), 0.08, 0.03)
    expected = ((trial_mix / u ** 2 + prior / u_prior ** 2) /
                (1 / u ** 2 + 1 / u_prior ** 2))
    assert abs(answer["excess"] - expected) <= 2e-3, (answer["excess"], expected)
    text = stock.ok("mix", "Alder", "Oak", "--target", "350", "--explain")
    assert "from 1 of your mixes" in text
    # a mix of neighbours says next to nothing of it
    before = answer["excess"]
    stock.ok("mix", "Elm=5ml", "Hazel=5ml", "--record", "near")
    stock.ok("stock", "reading", "near", "390@25C", "--uncertainty", "1%")
    answer = json.loads(stock.ok("mix", "Alder", "Oak", "--target", "350",
                                 "--json"))
    assert answer["excess_trial_mixes"] == 2
    assert abs(answer["excess"] - before) < 0.003


def drops_are_never_guessed(stock):
    stock.club()
    assert "50=0.62g" in stock.refused(2, "mix", "Elm=100drops", "Larch=2ml")
    stock.ok("stock", "set", "Elm", "--drops", "50=0.62g")
    answer = json.loads(stock.ok("mix", "Elm=100drops", "Larch=2ml", "--json"))
    # 50 drops are 0.62 g of 0.969 g/ml
    volume = answer["parts"][0]["volume_ml"]
    assert abs(volume - 100 * 0.62 / 50 / 0.969) <= 1e-9
    assert "100 drops of Elm" in stock.ok("mix", "Elm=100drops", "Larch=2ml")


def a_plan(stock):
    stock.club()
    plan = json.loads(stock.ok("stock", "plan", "150", "10k", "--json"))
    assert plan["reach"] == {"low": 150, "high": 10000}
    assert plan["widest_gap"]["thin"] == "Oak"
    assert plan["widest_gap"]["thick"] == "Walnut"
    assert abs(plan["widest_gap"]["ratio"] - 10) <= 1e-12
    assert abs(plan["add"]["viscosity"] - math.sqrt(1e7)) <= 1e-6
    text = stock.ok("stock", "plan", "150", "10k")
    assert "3200 mm2/s" in text
    measure = plan["measure"]
    assert len(measure) == 3
    name, after = measure[0]["name"], measure[0]["expanded_percent"]
    assert f"  {name:24} would make it +-{after:.1f} %" in text, (text, measure)
    rows = list(csv.reader(io.StringIO(
        stock.ok("stock", "plan", "150", "10k", "--csv"))))
    assert rows[0] == ["measure", "expanded_percent"]
    assert [(row[0], float(row[1])) for row in rows[1:]] == [
        (reading["name"], reading["expanded_percent"]) for reading in measure]
    # which is so once it is measured
    v = stock.oils()[name]["best"]["viscosity"]
    stock.ok("stock", "reading", name, f"{v}@25C", "--uncertainty", "1%")
    text = " ".join(stock.ok("stock", "plan", "150", "10k").split())
    found = float(re.search(r"are known to \+-([\d.]+) %", text)[1])
    assert abs(found - after) < 0.15, (found, after)
    stock.refused(2, "stock", "plan", "1000", "200")
    stock.refused(2, "stock", "plan", "1000")


def a_plan_of_mineral_oils(stock):
    """At 40 C, and of the family that is there; silicone first of two."""
    stock.ok("stock", "add", "thin", "30@40C/5@100C", "--family", "mineral")
    stock.ok("stock", "add", "thick", "490@40C/32@100C", "--family", "mineral")
    assert "Mixes reach 30.0 to 490 mm2/s at 40 C." in stock.ok(
        "stock", "plan", "20", "1000")
    answer = stock.ok("stock", "plan", "20", "1000", "--json")
    stock.ok("stock", "add", "Elm", "350")
    assert "at 25 C" in stock.ok("stock", "plan", "200", "1000")
    assert stock.ok("stock", "plan", "20", "1000", "--family", "mineral",
                    "--json") == answer
    stock.refused(2, "stock", "plan", "20", "1000", "--family", "none")
    # a mineral oil of one point is not known elsewhere
    stock.refused(2, "stock", "plan", "20@25C", "1000", "--family", "mineral")


def names_of_all_kinds(stock):
    good = ["O'Brien", 'say "oil"', "x'); DROP TABLE bottle; --", "\U0001f41f",
            "Öl für den Winter", "n" * 200, "\U0001f41f" * 200, "a,b;c", "%s%n"]
    for name in good:
        stock.ok("stock", "add", name, "350")
        assert stock.ok("oil", name, "--json")
        stock.ok("mix", name, "500", "--target", "420")
    assert set(stock.oils()) == set(good)
    text = stock.ok("stock", "list")
    assert max(len(line) for line in text.splitlines()) <= 80
    bad = ["", "350", "-5", "1e3", ".5", "--help", "-x", " x", "x ", "a=b",
           "two\nlines", "tab\t", "n" * 201]
    for name in bad:
        stock.refused(2, "stock", "add", "--", name, "350")
    stock.refused(2, "stock", "add", b"\xff\xfe".decode("latin-1")
                  .encode("latin-1"), "350")
    stock.refused(2, "stock", "add", "o'brien", "350")
    assert set(stock.oils()) == set(good)


def invalid_options(stock):
    stock.club()
    before = stock.bytes()
    for words in [["add", "Fir"], ["add", "Fir", "30wt"],
                  ["add", "Fir", "1.000"],
                  ["add", "Fir", "32", "--tolerance", "0"],
                  ["add", "Fir", "32", "--left", "-5ml"],
                  ["add", "Fir", "32", "--left", "5drops"],
                  ["add", "Fir", "32", "--density", "970"],
                  ["set"], ["set", "Nobody"], ["set", "Elm", "--name", "Oak"],
                  ["set", "Elm", "--drops", "50"],
                  ["set", "Elm", "--drops", "0=1g"],
                  ["reading", "Elm", "350"], ["reading", "Elm", "350@12X"],
                  ["reading", "Elm", "350@22C", "--uncertainty", "0"],
                  ["reading", "Elm", "350@22C", "--date", "yesterday"],
                  *(["reading", "Elm", "350@22C", "--date", date] for date in (
                      "1-01-01", "26-10-03", "926-10-03", "2026-1-3",
                      "2026-10-3", "2026-13-01", "2026-00-10", "2026-02-29",
                      "2026-04-31", "2026-10-00", "0000-01-01", "2026-10-031",
                      " 2026-10-3", "+026-10-03", "-026-10-03", "12026-10-03",
                      "2026-10-03x", "2026/10/03", "")),
                  ["remove"], ["remove", "Nobody"], ["undo", "all"],
                  ["list", "all"], ["import"], ["export", "here"], ["stir"]]:
        stock.refused(2, "stock", *words)
    assert stock.bytes() == before


def help_everywhere(stock):
    for words in [[], ["add"], ["set"], ["remove"], ["reading"], ["list"],
                  ["log"], ["undo"], ["import"], ["export"], ["plan"]]:
        text = stock.ok("stock", *words, "--help")
        assert text.startswith("Examples:\n  midweight"), text
    assert os.listdir(stock.folder) == []


def one_bottle_twice(stock):
    """However it is spelt, it is one part, and its oil counts once."""
    stock.ok("stock", "add", "Elm", "350", "--left", "15ml")
    stock.ok("stock", "add", "Larch", "500", "--left", "15ml")
    twice = json.loads(stock.ok("mix", "Elm=2ml", "Larch=3ml", "elm=2ml",
                                "--json"))
    once = json.loads(stock.ok("mix", "Elm=4ml", "Larch=3ml", "--json"))
    assert twice == once, (twice, once)
    for words in [("mix", "Elm=10ml", "ELM=10ml", "--record", "x"),
                  ("mix", "Elm", "elm", "--target", "350")]:
        message = stock.refused(2, *words)
        assert "alone" in message, message
    message = stock.refused(2, "mix", "Elm=2ml", "Elm", "Larch=3ml")
    assert "named twice" in message, message
    message = stock.refused(1, "mix", "Elm=10ml", "Larch=1ml", "Elm=10ml",
                            "--record", "x")
    assert "holds only" in message, message
    assert [oil["left_ml"] for oil in stock.oils().values()] == [15, 15]


def a_mix_with_its_own_parent(stock):
    """The error of a bottle counts once, in whatever parts of a mix it is."""
    stock.ok("stock", "add", "Elm", "350", "--left", "90ml")
    stock.ok("stock", "add", "Oak", "352", "--left", "90ml")
    stock.ok("mix", "Elm=30ml", "Oak=30ml", "--record", "hall")
    stock.ok("mix", "Elm=10ml", "hall=10ml", "--record", "deep")

    def band(*parts):
        answer = json.loads(stock.ok("mix", *parts, "--json"))
        band = answer["result"]["uncertainty"]
        return math.log(band["high"] / band["low"]) / 4

    label = 0.05 / math.sqrt(3)
    # in oils that are nearly alike each part counts by its share
    assert abs(band("Elm=10ml", "Oak=10ml") - label * math.hypot(.5, .5)) < 2e-4
    assert abs(band("Elm=10ml", "hall=10ml")
               - label * math.hypot(.75, .25)) < 2e-4
    assert abs(band("deep=10ml", "Elm=10ml")
               - label * math.hypot(.875, .125)) < 2e-4
    assert abs(band("deep=10ml", "Oak=10ml")
               - label * math.hypot(.375, .625)) < 2e-4
    # a good reading of the mix leaves of the labels only their difference
    stock.ok("stock", "reading", "hall", "351@25C", "--uncertainty", "0.2%")
    assert abs(band("Elm=10ml", "hall=10ml") - label * .5 ** 1.5) < 4e-4


def a_bottle_that_holds_too_little(stock):
    """What is missing is reported before it is poured."""
    stock.ok("stock", "add", "Elm", "350", "--left", "5ml")
    stock.ok("stock", "add", "Larch", "500", "--left", "5ml")
    words = ("mix", "Elm", "Larch", "--target", "420", "--make", "40ml")
    text = " ".join(stock.ok(*words).split())
    assert "Too little: Larch holds 5.00 ml" in text, text
    assert "the largest batch is 9.99 ml" in text, text
    missing = json.loads(stock.ok(*words, "--json"))["missing"]
    assert missing["name"] == "Larch" and missing["left_ml"] == 5
    assert abs(missing["largest_batch_ml"] - 5 / 0.50063) < 2e-3, missing
    enough = ("mix", "Elm", "Larch", "--target", "420", "--make", "9ml")
    assert "Too little" not in stock.ok(*enough)
    assert json.loads(stock.ok(*enough, "--json"))["missing"] is None


def a_mix_keeps_its_density(stock):
    for name, points, density in (("Ash", "30@40C/5@100C", "0.80"),
                                  ("Fir", "90@40C/11@100C", "0.82")):
        stock.ok("stock", "add", name, points, "--density", density, "--left",
                 "50ml")
    stock.ok("mix", "Ash=10ml", "Fir=30ml", "--record", "both")
    at = json.loads(stock.ok("oil", "both", "--at", "40C", "--json"))["at"]
    # 0.815 g/ml at 15 C, less 7.2e-4 per degree
    assert abs(at["density"] - 0.815 * (1 - 7.2e-4 * 25)) < 1e-9, at


def exports_that_once_failed(stock):
    """A removed parent with a reading, a name of 200 letters, 64 parts."""
    other = type(stock)(stock.program, stock.folder)
    other.path = os.path.join(stock.folder, "other.db")
    stock.ok("stock", "add", "n" * 200, "400", "--left", "90ml")
    for i in range(64):
        stock.ok("stock", "add", f"part {i}", str(300 + i), "--left", "5ml")
    stock.ok("stock", "reading", "n" * 200, "401@25C")
    stock.ok("mix", "n" * 200 + "=1ml", "part 0=1ml", "--record", "pair")
    stock.ok("mix", *(f"part {i}=1ml" for i in range(64)), "--record", "many")
    stock.ok("stock", "remove", "n" * 200, "--force")
    stock.ok("stock", "remove", "part 1", "--force")
    exported = stock.export()
    other.ok("stock", "import", stock.write("out.csv", exported.encode()))
    assert other.export() == exported
    more = exported + '"part","many","","","","","","","","","","","",' \
        '"part 2","1","",""\r\n'
    message = other.refused(2, "stock", "import",
                            stock.write("more.csv", more.encode()))
    assert message


def volumes_in_other_units(stock):
    """A column in ml accepts no grams and no drops."""
    stock.ok("stock", "add", "Elm", "350", "--left", "15ml")
    for volume in ("5g", "7drops"):
        table = ("kind,name,viscosity,temperature,parent,volume_ml\n"
                 "bottle,X,350,25,,\nmix,X,,25,,\n"
                 f"part,X,,,Elm,{volume}\n")
        message = stock.refused(2, "stock", "import",
                                stock.write("in.csv", table.encode()))
        assert "volume_ml" in message and "no volume" in message, message


main([value for value in list(globals().values())
      if callable(value) and getattr(value, "__code__", None) and
      value.__code__.co_varnames[:1] == ("stock",)])
