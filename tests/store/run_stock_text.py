#!/usr/bin/python3
# Copyright the midweight authors. SPDX-License-Identifier: GPL-3.0-or-later
"""Untrusted text: it never controls a terminal, is refused on input, and is the
same after export and import where it is accepted."""
import csv
import io
import json
import os
import random
import sqlite3
import subprocess

from stock_bench import BOTTLES, main

# byte sequences that must never reach a terminal
HOSTILE = {
    "an escape": b"\x1b[2J", "a bell": b"a\x07", "a backspace": b"a\x08b",
    "a carriage return": b"a\rb", "a line": b"a\nb", "a tab": b"a\tb",
    "delete": b"a\x7f", "C1 in UTF-8": b"a\xc2\x9b2J", "C1 as a byte":
    b"a\x9b2J", "overlong": b"a\xc0\xaf", "overlong, three bytes":
    b"a\xe0\x80\x9b", "a surrogate": b"a\xed\xa0\x80", "beyond Unicode":
    b"a\xf4\x90\x80\x80", "five bytes": b"a\xf8\x88\x80\x80\x80",
    "a stray continuation": b"a\x80", "cut off": b"a\xe2\x82",
    "right to left": b"a\xe2\x80\xaeb", "isolate": b"a\xe2\x81\xa6b",
    "a mark": b"a\xe2\x80\x8fb", "arabic mark": b"a\xd8\x9cb",
    "line separator": b"a\xe2\x80\xa8b", "byte-order mark":
    b"a\xef\xbb\xbfb", "a tag": b"a\xf3\xa0\x80\x81b",
}


def unsafe(character):
    code = ord(character)
    return (code < 0x20 and character != "\n" or 0x7f <= code <= 0x9f
            or code in (0x61c, 0xfeff) or 0x200e <= code <= 0x200f
            or 0x2028 <= code <= 0x202e or 0x2066 <= code <= 0x2069
            or 0xfff9 <= code <= 0xfffb or 0xe0000 <= code <= 0xe007f)


def run(stock, *words, **options):
    """Any command, with words as bytes; its output must be clean."""
    command = [word if isinstance(word, bytes) else word.encode()
               for word in stock.command(*words)]
    result = subprocess.run(command, capture_output=True, check=False,
                            timeout=60, stdin=subprocess.DEVNULL, **options)
    assert result.returncode in (0, 1, 2, 3), (words, result)
    for output in (result.stdout, result.stderr):
        text = output.decode()  # which fails for what is not UTF-8
        if b"export" in command or b"--csv" in command:
            # CSV has CR LF; notes may have several lines, and tabs
            text = text.replace("\r", "\n").replace("\t", " ")
        assert not any(map(unsafe, text)), (words, output)
    if result.returncode != 0 and b"--help" not in command:
        assert result.stderr.count(b"\n") == 1, (words, result)
    return result


def hostile_arguments(stock):
    stock.club()
    for number, (what, text) in enumerate(HOSTILE.items()):
        refused = [
            ("stock", "add", text, "350"),
            ("stock", "set", "Elm", "--name", text),
            ("mix", "Elm=1ml", "Larch=1ml", "--record", text),
            ("measure", "calibrate", "100=21s", "350=71s", "--save", text),
        ]
        for words in refused:
            assert run(stock, *words).returncode == 2, (what, words)
        # a third of the commands for each text, and each for a third of them
        for words in [
                (text,), ("stock", text), ("mix", text), ("oil", text),
                ("oil", b"350" + text), ("oil", "350", "--at", text),
                ("oil", "350", b"--" + text), ("oil", "350", "--in", text),
                ("mix", b"Elm=" + text, "Larch", "--target", "420"),
                ("mix", "Elm", "Larch", "--target", text),
                ("stock", "reading", "Elm", "350@22C", "--date", text),
                ("stock", "remove", text), ("stock", "import", text),
                ("hold", "350", "--piston", text), ("settle", "350", "--depth",
                                                    text),
                ("measure", "cup", text, "62s"), ("card", text),
                ("card", "chart", "350", "500", "-o", text + b"/x.pdf"),
                ("measure", "calibrate", "--forget", text)][number % 3::3]:
            run(stock, *words)
    assert len(stock.oils()) == 9


def hostile_notes(stock):
    stock.club()
    for what, text in HOSTILE.items():
        lines = text in (b"a\nb", b"a\rb", b"a\tb")
        for words in [("stock", "set", "Elm", "--note", text),
                      ("stock", "reading", "Elm", "350@25C", "--method",
                       text)]:
            result = run(stock, *words)
            assert result.returncode == (0 if lines else 2), (what, result)
            if lines:
                for after in [("stock", "list"), ("stock", "list", "--json"),
                              ("oil", "Elm"), ("stock", "undo")]:
                    assert run(stock, *after).returncode == 0


def hostile_spreadsheets(stock):
    stock.club()
    for number, text in enumerate(HOSTILE.values()):
        for content in [b"name,viscosity\n\"" + text + b"\",350\n",
                        b"name,viscosity,note\nFir,350,\"" + text + b"\"\n",
                        b"name,viscosity\nFir,\"" + text + b"\"\n",
                        b"name,viscosity,\"" + text + b"\"\nFir,350,1\n",
                        b"name,viscosity,date\nFir,350,\"" + text + b"\"\n",
                        b"kind,name,viscosity\n\"" + text + b"\",Fir,350\n"]:
            path = stock.write("in.csv", content)
            # either way of taking it, in turn
            for words in [("stock", "import", path),
                          ("stock", "import", "--skip-bad",
                           path)][(number + len(content)) % 2:][:1]:
                if run(stock, *words).returncode == 0:
                    run(stock, "stock", "list")
                    run(stock, "stock", "undo")
    path = os.path.join(stock.folder.encode(), b"\x1b[2Jin.csv")
    with open(path, "wb") as file:
        file.write(b"name,viscosity\nFir,350\n")
    run(stock, "stock", "import", path)
    result = run(stock, "stock", "undo")
    assert result.returncode == 0 and b"import" in result.stdout


TEXTS = [("bottle", "name", "bottle"), ("bottle", "note", "bottle"),
         ("bottle", "added", "bottle"), ("reading", "method", "reading"),
         ("reading", "taken", "reading"), ("mix", "made", "recipe"),
         ("cup", "name", "cup"), ("cup", "made", "cup"),
         ("change", "what", None)]

READERS = [("stock", "list"), ("stock", "list", "--json"),
           ("stock", "list", "--csv"), ("stock", "log"),
           ("stock", "log", "--json"), ("stock", "export"),
           ("stock", "plan", "200", "1000"), ("mix", "--target", "420"),
           ("oil", "Elm", "--json"), ("measure", "cup", "--list"),
           ("measure", "cup", "--list", "--json"),
           ("card", "chart"), ("card", "label", "-o", "out.pdf", "--force"),
           ("stock", "set", "Alder", "--left", "3ml"), ("stock", "undo"),
           ("stock", "undo"), ("stock", "remove", "--damaged"),
           ("stock", "list", "--json")]


def hostile_stocks(stock):
    """Rows that no command wrote: the rest of the stock works without them."""
    stock.club()
    stock.ok("stock", "reading", "Elm", "352@25C", "--method", "cup")
    stock.ok("mix", "Cedar=1ml", "Hazel=1ml", "--record", "hall")
    stock.ok("stock", "remove", "Hazel", "--force")
    stock.ok("measure", "calibrate", "100=21.4s", "350=71.8s", "--save", "Tin")
    whole = stock.bytes()
    for number, (what, text) in enumerate(HOSTILE.items()):
        # one of the columns for each text, and each for some of them
        table, column, _ = TEXTS[number % len(TEXTS)]
        stock.write("stock.db", whole)
        database = sqlite3.connect(stock.path)
        database.execute("PRAGMA ignore_check_constraints = ON")
        where = " WHERE id = (SELECT max(id) FROM bottle WHERE gone = 1)" \
            if table == "bottle" else ""
        database.execute(f"UPDATE OR IGNORE {table} SET {column} ="
                         f" CAST(? AS TEXT){where}", (text,))
        database.commit()
        database.close()
        # half of those that read, and what deletes it in the end
        for words in [*READERS[number % 2:-2:2], *READERS[-2:]]:
            result = run(stock, *words, cwd=stock.folder)
            if "--json" in words and result.returncode == 0:
                answer = json.loads(result.stdout)
                assert len(answer.get("oils", range(9))) >= 8, (what, words)


def harmless_text_is_kept(stock):
    """Names in any script, and marks that are not control characters."""
    names = ["Öl für vorn", "油 350", "Ölçü", "масло", "e\u0301", "a'b", "x+y",
             "@home", "+plus", "'+quoted", "''", "\U0001f6e2"]
    for i, name in enumerate(names):
        stock.ok("stock", "add", name, str(300 + i))
    assert set(stock.oils()) == set(names)
    text = stock.ok("stock", "list")
    assert all(name in text for name in names)


ALPHABET = "ab '\"=+-@,;\t\n\rö油\\\u00a0"


def spreadsheets_survive_a_round_trip(stock):
    """Export, import and export again give the same bytes, and no cell is a
    formula for a spreadsheet."""
    rng = random.Random(7152)
    other = type(stock)(stock.program, stock.folder)
    other.path = os.path.join(stock.folder, "other.db")
    notes = []
    for i in range(60):
        note = "".join(rng.choices(ALPHABET, k=rng.randrange(6)))
        name = rng.choice("'@+aö") + rng.choice(["=", "'", "@", "+"]).replace(
            "=", "") + "".join(rng.choices("ab'+@ö", k=rng.randrange(4)))
        name = f"{name}{i}"
        if name[:1] == "+" and name[1:].isdigit():
            name = "+a" + name
        stock.ok("stock", "add", name, "350", "--note", note)
        notes.append(note)
    exported = stock.export()
    other.ok("stock", "import", stock.write("out.csv", exported.encode()))
    assert other.export() == exported
    assert [oil["note"] for oil in other.oils().values()] == \
        [oil["note"] for oil in stock.oils().values()]
    cells = [cell for row in csv.reader(io.StringIO(exported, newline=""))
             for cell in row]
    assert not any(cell[:1] and cell[0] in "=+-@\t\r" for cell in cells)


def apostrophes_are_not_doubled(stock):
    """The apostrophe of another program is removed, and written again."""
    stock.ok("stock", "import", stock.write(
        "in.csv", b"name,viscosity,note\n'+x,350,'=1+1\n"))
    assert list(stock.oils()) == ["+x"]
    assert stock.oils()["+x"]["note"] == "=1+1"
    assert '"\'=1+1"' in stock.export()


main([hostile_arguments, hostile_notes, hostile_spreadsheets, hostile_stocks,
      harmless_text_is_kept, spreadsheets_survive_a_round_trip,
      apostrophes_are_not_doubled])
