#!/usr/bin/python3
# Copyright the midweight authors. SPDX-License-Identifier: GPL-3.0-or-later
"""Import and export of the stock as CSV."""
import json

from stock_bench import Stock, main


def imported(stock, content, *options):
    return stock.ok("stock", "import", stock.write("t.csv", content), *options)


def export_then_import_is_the_identity(stock):
    stock.club()
    stock.ok("mix", "Elm=5ml", "Larch=5ml", "--record", "half, \"so\"")
    stock.ok("stock", "reading", "half, \"so\"", "425,5@22,5C",
             "--uncertainty", "0.7%", "--method", "cup; \"quoted\"")
    stock.ok("stock", "remove", "Elm", "--force")
    stock.ok("stock", "add", "Fir", "32@40C/5.4@100C", "--family", "mineral",
             "--density", "0,8712", "--note", "two\r\nlines, and ; more")
    stock.ok("stock", "add", "Pine", "1,2345k@313.15K", "--tolerance", "7%",
             "--left", "0,1ml")
    stock.ok("stock", "set", "Pine", "--drops", "50=0.62g")
    first = stock.export()
    path = stock.write("e.csv", first.encode())
    other = Stock(stock.program, stock.folder)
    other.path += "2"
    other.ok("stock", "import", path)
    assert other.export() == first
    assert other.ok("stock", "log") == stock.ok("stock", "log")
    for name, oil in stock.oils().items():
        assert other.oils()[name] == oil, (other.oils()[name], oil)


def calibrated(stock):
    stock.club()
    stock.ok("measure", "calibrate", "Elm=71.8s", "Larch=102s", "2000=404s",
             "--save", "Syringe")
    stock.ok("measure", "cup", "Syringe", "62s", "--at", "25C",
             "--save", "Cedar")


def a_calibration_is_carried(stock):
    """A reading by a cup of one's own rests on the bottles of its cup."""
    calibrated(stock)
    first = stock.export()
    other = Stock(stock.program, stock.folder)
    other.path += "2"
    other.ok("stock", "import", stock.write("e.csv", first.encode()))
    assert other.export() == first
    assert other.oils() == stock.oils()
    # without the runs the same number is what it was, and knows no bottle
    rows = [line for line in first.splitlines(True)
            if not line.startswith('"run"')]
    assert len(rows) == len(first.splitlines()) - 3
    lone = Stock(stock.program, stock.folder)
    lone.path += "3"
    lone.ok("stock", "import", stock.write("e.csv", "".join(rows).encode()))
    same = [oils["Elm"]["best"]["viscosity"]
            for oils in (lone.oils(), stock.oils())]
    assert same[0] == 350 != same[1], same


def runs_that_cannot_be(stock):
    calibrated(stock)
    head = ("kind,name,viscosity,temperature,reference,uncertainty_percent,"
            "time_s,time_uncertainty_s\n")
    for row, word in [("run,Spoon,350,25,Elm,,70,0.2", "no cup before"),
                      ("run,Syringe,350,25,Gorse,,70,0.2", "Gorse"),
                      ("run,Syringe,350,25,,,70,0.2", "uncertainty_percent"),
                      ("run,Syringe,-1,25,Elm,,70,0.2", "no oil makes"),
                      ("run,Syringe,350,-300,Elm,,70,0.2", "temperature"),
                      ("run,Syringe,350,25,Elm,,0,0.2", "no oil makes"),
                      ("run,Syringe,350,25,Elm,,70,-1", "no oil makes"),
                      ("run,Syringe,350,25,Elm,,70,", "time_uncertainty_s")]:
        path = stock.write("bad.csv", (head + row + "\n").encode())
        message = stock.refused(2, "stock", "import", path)
        assert word in message, (row, message)
    rows = "run,Syringe,350,25,Elm,,70,0.2\n" * 30
    path = stock.write("bad.csv", (head + rows).encode())
    assert "32 runs already" in stock.refused(2, "stock", "import", path)


def an_index_is_carried(stock):
    stock.ok("stock", "add", "Fir", "46@40C/VI150")
    stock.ok("stock", "add", "Pine", "46@40C/8.1@100C")
    first = stock.export()
    assert '"46@40C/VI150"' in first, first
    other = Stock(stock.program, stock.folder)
    other.path += "2"
    other.ok("stock", "import", stock.write("e.csv", first.encode()))
    assert other.export() == first
    wide = [json.loads(stock.ok("oil", name, "--at", "0", "--json"))
            ["at"]["uncertainty"]["standard_percent"]
            for name in ("Fir", "Pine")]
    assert wide[0] < wide[1], wide
    # another label has no index
    stock.ok("stock", "set", "Fir", "--viscosity", "46@40C/8.1@100C")
    assert "VI" not in stock.export()
    stock.ok("stock", "undo")
    assert stock.export() == first


def a_spreadsheet_with_decimal_commas(stock):
    imported(stock, "\ufeffName;Viscosity;Temperature;Left_ml;Note\r\n"
                    "Elm;350,5;25;31,25;\"dusty; old\"\r\n"
                    "\r\n"
                    "Öl;12,5;40;;\r\n".encode())
    oils = stock.oils()
    assert oils["Elm"]["points"] == [{"viscosity": 350.5, "temperature": 25}]
    assert oils["Elm"]["left_ml"] == 31.25
    assert oils["Elm"]["note"] == "dusty; old"
    assert oils["Öl"]["left_ml"] is None


def three_decimals_of_a_viscosity(stock):
    for text in ("10,000", "12,345", "12.500", "1.000"):
        path = stock.write("bad.csv", f"name;viscosity\nElm;{text}\n".encode())
        message = stock.refused(2, "stock", "import", path)
        assert "line 2, column viscosity" in message, message
        assert "two ways" in message, message
    text = imported(stock, b"name;viscosity;left_ml\nElm;1.255;10,125\n")
    assert "line 2, viscosity read as 1.255, not 1255." in text, text
    assert stock.oils()["Elm"]["left_ml"] == 10.125


def what_import_refuses_cannot_be_recorded(stock):
    stock.ok("stock", "add", "Elm", "350")
    stock.ok("stock", "add", "Oak", "500")
    message = stock.refused(2, "mix", "Elm=1e9ml", "Oak=1e9ml", "--record", "x")
    assert "1000000000 ml is no bottle" in message, message
    stock.refused(2, "stock", "set", "Elm", "--left", "999999999g")
    stock.ok("mix", "Elm=4e8ml", "Oak=6e8ml", "--record", "y")
    first = stock.export()
    other = Stock(stock.program, stock.folder)
    other.path += "2"
    other.ok("stock", "import", stock.write("e.csv", first.encode()))
    assert other.export() == first


def a_part_is_a_volume_in_ml(stock):
    rows = (b"kind,name,viscosity,temperature,parent,volume_ml\n"
            b"bottle,Elm,350,,,\nbottle,y,420,,,\nmix,y,,25,,\n"
            b"part,y,,,Elm,%s\n")
    for volume in (b"5g", b"7drops", b"0", b"-5", b"", b"5%", b"1e10", b"nan"):
        path = stock.write("bad.csv", rows % volume)
        message = stock.refused(2, "stock", "import", path)
        assert "line 5, column volume_ml" in message, (volume, message)
        assert stock.oils() == {}
    imported(stock, rows % b"10.125ml")
    log = json.loads(stock.ok("stock", "log", "--json"))["mixes"]
    assert log[0]["parts"][0]["volume_ml"] == 10.125


def the_family_of_a_row_is_found(stock):
    text = imported(stock, b"name,viscosity,family\nFir,32@40C/5.4@100C,\n"
                           b"Elm,478@10C/285@35C,\nYew,350,\n"
                           b"Asp,46@40C/VI150,\nOak,16@40C/7@100C,silicone\n")
    assert "line 2, 32@40C/5.4@100C taken as mineral oil" in text, text
    assert "line 3, 478@10C/285@35C taken as silicone oil" in text, text
    assert text.count("taken as") == 2, text
    assert {name: oil["family"] for name, oil in stock.oils().items()} == {
        "Fir": "mineral", "Elm": "silicone", "Yew": "silicone",
        "Asp": "mineral", "Oak": "silicone"}
    path = stock.write("bad.csv", b"name,viscosity\nBox,16@40C/7@100C\n")
    message = stock.refused(2, "stock", "import", path)
    assert "line 2, column viscosity" in message, message
    assert "say --family" in message, message


def an_export_is_read_without_a_question(stock):
    values = [10000, 12.5, 1.255, 12.345, 350.125, 1250, 0.875, 99.5,
              419.9049149203738]
    for i, value in enumerate(values):
        stock.ok("stock", "add", f"Oil {i}", f"{value}@25.5C",
                 *([] if value > 1.256 or value < 1 else ["--left", "1.125ml"]))
        stock.ok("stock", "reading", f"Oil {i}", f"{value:.6f}@22.125C",
                 "--uncertainty", "1.125%")
    first = stock.export()
    other = Stock(stock.program, stock.folder)
    other.path += "2"
    text = other.ok("stock", "import", stock.write("e.csv", first.encode()))
    assert text == f"Imported: {2 * len(values)} rows; skipped: 0.\n", text
    assert other.export() == first


def quotes_newlines_and_tabs(stock):
    imported(stock, b'name,viscosity,note\n"O""Brien, senior",350,"a\nb"\n')
    oil = stock.oils()['O"Brien, senior']
    assert oil["note"] == "a\nb"
    imported(stock, b"name\tviscosity\nTab\t350@40C\n")
    assert stock.oils()["Tab"]["points"][0]["temperature"] == 40


def a_bad_row_is_named(stock):
    header = b"name,viscosity,temperature,tolerance_percent,left_ml\n"
    rows = [
        (b"Elm,350,25,5,31\nOak,30wt,25,5,10\n", "line 3, column viscosity"),
        (b"Oak,SAE 30,25,5,10\n",
         "line 2, column viscosity: \"SAE 30@25\": weight numbers"),
        (b"Elm,350,25,5,31\n\nOak,\"10,000\",25,5,10\n",
         "line 4, column viscosity"),
        (b"\"Elm\n\",350,25,5,31\n", "line 2, column name"),
        (b"Elm,350,25,5,31\nElm,400,25,5,31\n", "line 3, column name"),
        (b"Elm,350,12X,5,31\n", "line 2, column viscosity"),
        (b"Elm,350,25,0,31\n", "line 2, column tolerance_percent"),
        (b"Elm,350,25,5,lots\n", "line 2, column left_ml"),
        (b"Elm,350,25,5,31,more\n", "line 2"),
        (b"350,350,25,5,31\n", "line 2, column name"),
        (b"Elm,nan,25,5,31\n", "line 2, column viscosity"),
        (b"Elm,350,25,5,31\nOak,\"400,25,5,31\n", "line 3"),
        (b"El\0m,350,25,5,31\n", "line 2"),
        (b"El\xffm,350,25,5,31\n", "line 2, column name"),
    ]
    for content, where in rows:
        path = stock.write("bad.csv", header + content)
        message = stock.refused(2, "stock", "import", path)
        assert where in message, (content, message)
        assert stock.oils() == {}


def good_rows_are_taken_on_request(stock):
    text = imported(stock, b"name,viscosity\nElm,350\nOak,30wt\nYew,30k\n",
                    "--skip-bad")
    assert "Skipped: line 3, column viscosity" in text
    assert "Imported: 2 rows; skipped: 1." in text
    assert set(stock.oils()) == {"Elm", "Yew"}


def columns_are_named(stock):
    for content in [b"", b"\n\n", b"Elm,350\n", b"name,visc\nElm,350\n",
                    b"name,name,viscosity\nElm,Oak,350\n"]:
        path = stock.write("bad.csv", content)
        stock.refused(2, "stock", "import", path)


def a_missing_file(stock):
    message = stock.refused(3, "stock", "import", "/nonexistent/bottles.csv")
    assert "cannot be read" in message
    stock.refused(3, "stock", "import", stock.folder)


def import_is_one_change(stock):
    stock.club()
    stock.ok("stock", "undo")
    assert stock.oils() == {}


main([value for value in list(globals().values())
      if callable(value) and getattr(value, "__code__", None) and
      value.__code__.co_varnames[:1] == ("stock",) and
      value.__name__ not in ("imported", "calibrated")])
