#!/usr/bin/python3
# Copyright the midweight authors. SPDX-License-Identifier: GPL-3.0-or-later
"""Spreadsheets as people keep them, by hand and from an office program."""
from stock_bench import main


def take(stock, content, *options):
    return stock.ok("stock", "import", stock.write("t.csv", content), *options)


def refuse(stock, content, *options):
    message = stock.refused(2, "stock", "import",
                            stock.write("t.csv", content), *options)
    assert stock.oils() == {}
    return message


def oil(stock, name):
    found = stock.oils()[name]
    return (found["points"][0]["viscosity"],
            found["points"][0]["temperature"], found["left_ml"])


def a_line_that_names_the_separator(stock):
    take(stock, b"sep=;\r\nname;viscosity;left_ml\r\nElm;350;31,5\r\n")
    assert oil(stock, "Elm") == (350, 25, 31.5)


def titles_with_units(stock):
    take(stock, "Bottle,Viscosity (cSt),Temp (°C),ml left,Notes\n"
         "Elm,350,25,31,dusty\n".encode())
    assert oil(stock, "Elm") == (350, 25, 31)
    assert stock.oils()["Elm"]["note"] == "dusty"


def titles_in_capitals(stock):
    take(stock, b"NAME,VISCOSITY,LEFT_ML,TOLERANCE (%)\nElm,350,31,8\n")
    assert stock.oils()["Elm"]["tolerance_percent"] == 8


def a_superscript_in_a_title(stock):
    take(stock, "oil;mm²/s;remaining (ml)\nElm;350;31\n".encode())
    assert oil(stock, "Elm") == (350, 25, 31)


def empty_rows_and_cells_at_the_end(stock):
    take(stock, b"name,viscosity,,\nElm,350,,\n,,,\n,,,\nOak,500,,\n , ,,\n")
    assert set(stock.oils()) == {"Elm", "Oak"}


def spaces_around_an_at(stock):
    take(stock, b"name,viscosity\nElm,350 @ 25\nOak,500 cSt @ 40 C\n")
    assert oil(stock, "Elm")[:2] == (350, 25)
    assert oil(stock, "Oak")[:2] == (500, 40)


def latin_1(stock):
    message = refuse(stock, "name;viscosity\nBl\xe4ue;350\n".encode("latin-1"))
    assert "line 2, column name" in message, message
    assert "not UTF-8" in message and "save the file as CSV" in message
    message = refuse(stock, "name;viscosity;Schr\xe4nke\n".encode("latin-1"))
    assert "line 1, column 3" in message, message


def a_column_of_ones_own(stock):
    content = b"name,viscosity,shelf\nElm,350,top\n"
    message = refuse(stock, content)
    assert 'line 1, column 3: "shelf" is not known' in message, message
    text = take(stock, content, "--skip-unknown")
    assert 'Skipped: column "shelf"' in text
    assert oil(stock, "Elm")[0] == 350


def a_unit_that_the_column_does_not_have(stock):
    """Litres are not taken for millilitres, nor stokes for centistokes."""
    for title in (b"left (l)", b"viscosity (St)", b"temperature (F)"):
        message = refuse(stock, b"name,viscosity,%s\nElm,350,1\n" % title)
        assert f'"{title.decode()}" is not known' in message, message


def what_list_writes(stock):
    stock.club()
    before = {name: (found["best"]["viscosity"], found["left_ml"])
              for name, found in stock.oils().items()}
    content = stock.ok("stock", "list", "--csv").encode()
    for name in before:
        stock.ok("stock", "remove", name)
    assert stock.oils() == {}
    take(stock, content)
    assert {name: (found["best"]["viscosity"], found["left_ml"])
            for name, found in stock.oils().items()} == before


def bottles_that_are_there_already(stock):
    stock.ok("stock", "add", "Elm", "350", "--left", "31ml", "--note", "dusty",
             "--tolerance", "8%")
    stock.ok("stock", "reading", "Elm", "352@25C")
    content = b"name,viscosity,left_ml\nelm,360,\nOak,500,10\n"
    message = stock.refused(2, "stock", "import", stock.write("t.csv", content))
    assert "line 2, column name" in message and "already" in message, message
    take(stock, content, "--update")
    found = stock.oils()["elm"]
    assert found["points"][0]["viscosity"] == 360
    assert found["left_ml"] == 31 and found["note"] == "dusty"
    assert found["tolerance_percent"] == 8 and len(found["readings"]) == 1
    assert oil(stock, "Oak") == (500, 25, 10)
    stock.ok("stock", "undo")
    assert oil(stock, "Elm")[0] == 350 and "Oak" not in stock.oils()


def a_table_of_weights(stock):
    message = refuse(stock, b"Name;Oil weight\nElm;30wt\n")
    assert 'column 2: "Oil weight" is not known' in message, message
    message = refuse(stock, b"Name;Viscosity\nElm;30wt\n")
    assert "line 2, column viscosity" in message and "weight" in message


main([value for value in list(globals().values())
      if callable(value) and getattr(value, "__code__", None) and
      value.__code__.co_varnames[:1] == ("stock",) and
      value.__name__ not in ("take", "refuse", "oil")])
