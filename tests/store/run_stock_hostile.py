#!/usr/bin/python3
# Copyright the midweight authors. SPDX-License-Identifier: GPL-3.0-or-later
"""An untrusted stock: nothing in it is executed, no other file is changed, and
its valid rows can still be used."""
import json
import os
import sqlite3
import stat
import struct
import subprocess
import time

from stock_bench import BOTTLES, main

HERE = os.path.dirname(os.path.abspath(__file__))
LONGEST = 5  # s that a command may take

# every command that opens a stock
COMMANDS = [
    ("stock", "list"), ("stock", "list", "--json"), ("stock", "list", "--csv"),
    ("stock", "log"), ("stock", "export"), ("stock", "plan", "200", "1000"),
    ("stock", "undo"), ("stock", "redo"), ("stock", "add", "Fir", "385"),
    ("stock", "use", "Elm", "1ml"), ("stock", "refill", "Larch", "500"),
    ("stock", "set", "Elm", "--left", "12ml"), ("stock", "remove", "Elm"),
    ("stock", "remove", "--damaged"),
    ("stock", "reading", "Elm", "352@25C"), ("stock", "import", BOTTLES),
    ("mix", "--target", "420"), ("mix", "Elm", "Larch", "--target", "420"),
    ("mix", "Elm=1ml", "Larch=1ml", "--record", "new"),
    ("oil", "Elm", "--at", "12C"), ("hold", "Elm", "--from", "25C", "--to",
                                    "12C"),
    ("settle", "Elm", "--depth", "20mm"), ("measure", "cup", "--list"),
    ("measure", "cup", "ISO6", "62s", "--at", "22C", "--save", "Elm"),
    ("measure", "against", "Elm", "18s", "21.4s"),
    ("measure", "calibrate", "Elm=42s", "Larch=71.8s", "--save", "Tin"),
    ("measure", "calibrate", "--forget", "Tin"),
    ("card", "chart"), ("card", "label", "-o", "out.pdf", "--force"),
    ("card", "temperature", "--at", "21C", "-o", "out.pdf", "--force"),
    ("card", "mix", "Elm", "Larch", "-o", "out.pdf", "--force"),
]


def connect(stock):
    return sqlite3.connect(stock.path)


def execute(stock, *statements):
    """Change a stock without its constraints."""
    database = connect(stock)
    database.execute("PRAGMA ignore_check_constraints = ON")
    for statement in statements:
        database.execute(statement)
    database.commit()
    database.close()


def promptly(stock, *words):
    began = time.monotonic()
    result = stock.run(*words, cwd=stock.folder)
    assert time.monotonic() - began < LONGEST, words
    assert result.returncode in (0, 1, 2, 3), (words, result)
    return result


# -- A journal that names another file --------------------------------------

PAGE = 4096


def journal(victim):
    """A hot journal that names a super-journal."""
    header = (b"\xd9\xd5\x05\xf9\x20\xa1\x63\xd7"
              + struct.pack(">IIIII", 0, 0x1234, 1, 512, PAGE)).ljust(512,
                                                                      b"\0")
    name = victim.encode()
    lock_page = 0x40000000 // PAGE + 1
    return (header + struct.pack(">I", lock_page) + name
            + struct.pack(">II", len(name), sum(name))
            + b"\xd9\xd5\x05\xf9\x20\xa1\x63\xd7")


def a_journal_that_names_another_file(stock):
    stock.club()
    whole = stock.bytes()
    victim = stock.write("diary.txt", b"dear diary")
    os.makedirs(os.path.join(stock.folder, "deep"))
    for name in (victim, "diary.txt", "deep/../diary.txt"):
        for words in COMMANDS:
            stock.write("stock.db", whole)
            stock.write("stock.db-journal", journal(name))
            promptly(stock, *words)
            with open(victim, "rb") as file:
                assert file.read() == b"dear diary", (name, words)


def the_refused_journal_is_named(stock):
    stock.club()
    stock.write("diary.txt", b"dear diary")
    stock.write("stock.db-journal", journal("diary.txt"))
    message = stock.refused(3, "stock", "list", cwd=stock.folder)
    assert "-journal" in message, message
    os.remove(stock.path + "-journal")
    assert len(stock.oils()) == 9


def a_journal_that_is_a_link(stock):
    stock.club()
    victim = stock.write("diary.txt", b"dear diary")
    for suffix in ("-journal", "-wal", "-shm"):
        os.symlink(victim, stock.path + suffix)
        for words in COMMANDS:
            promptly(stock, *words)
            with open(victim, "rb") as file:
                assert file.read() == b"dear diary", (suffix, words)
        if os.path.lexists(stock.path + suffix):
            os.remove(stock.path + suffix)


# -- The header and the schema ----------------------------------------------

def an_invalid_version(stock):
    stock.club()
    for version in (-1, -2, -10000, -2 ** 31, 7, 2 ** 31 - 1, 0):
        execute(stock, f"PRAGMA user_version = {version}")
        for words in COMMANDS:
            result = promptly(stock, *words)
            assert result.returncode in (0, 3), (version, words, result)


ENDLESS = ("WITH RECURSIVE n(i) AS (SELECT 1 UNION ALL SELECT i + 1 FROM n)"
           " SELECT i AS id, 'Elm' AS name FROM n")

SCHEMAS = {
    "a view that never ends": [
        "ALTER TABLE bottle RENAME TO b", f"CREATE VIEW bottle AS {ENDLESS}"],
    "a view that needs gigabytes": [
        "ALTER TABLE cup RENAME TO c",
        "CREATE VIEW cup AS SELECT hex(randomblob(900000000)) AS name"],
    "a table more": ["CREATE TABLE song(title TEXT)"],
    "an index more": ["CREATE INDEX i ON bottle(note)"],
    "a view more": [f"CREATE VIEW v AS {ENDLESS}"],
    "a trigger": ["CREATE TRIGGER t AFTER UPDATE ON bottle BEGIN"
                  " DELETE FROM reading; END"],
    "a generated column": [
        "ALTER TABLE bottle ADD COLUMN x TEXT AS (hex(zeroblob(9)))"],
    "a table less": ["DROP TABLE cup"],
    "an index less": ["DROP INDEX part_parent"],
    "a virtual table": ["CREATE VIRTUAL TABLE f USING fts5(x)"],
}


def a_foreign_schema(stock):
    whole = stock.club().bytes()
    for what, statements in SCHEMAS.items():
        stock.write("stock.db", whole)
        execute(stock, *statements)
        before = stock.bytes()
        for words in (("stock", "list"), ("stock", "undo"), ("stock", "add",
                      "Fir", "385"), ("mix", "--target", "420")):
            result = promptly(stock, *words)
            assert result.returncode == 3, (what, words, result)
            assert "other tables" in result.stderr, (what, result)
        assert stock.bytes() == before, what


def an_oversized_cell(stock):
    stock.club()
    execute(stock, "UPDATE bottle SET note = hex(zeroblob(4000000))"
                   " WHERE name = 'Elm'")
    result = promptly(stock, "stock", "list")
    assert result.returncode == 3 and "holds more" in result.stderr, result


# -- Rows --------------------------------------------------------------------

DAMAGE = {
    "UPDATE bottle SET family = 'brake fluid' WHERE name = 'Elm'": "family",
    "UPDATE bottle SET left_ml = 9e999 WHERE name = 'Elm'": "amount",
    "UPDATE bottle SET left_ml = -5 WHERE name = 'Elm'": "amount",
    "UPDATE bottle SET drop_ml = 0 WHERE name = 'Elm'": "drop",
    "UPDATE bottle SET tolerance = 7 WHERE name = 'Elm'": "tolerance",
    "UPDATE bottle SET density = 1e9 WHERE name = 'Elm'": "label",
    "UPDATE bottle SET added = 'a' WHERE name = 'Elm'": "date",
    "UPDATE bottle SET name = '' WHERE name = 'Elm'": "name",
    "UPDATE bottle SET name = '350' WHERE name = 'Elm'": "name",
    "UPDATE label SET viscosity = -1 WHERE bottle ="
    " (SELECT id FROM bottle WHERE name = 'Elm')": "label",
    "DELETE FROM label WHERE bottle ="
    " (SELECT id FROM bottle WHERE name = 'Elm')": "label",
    "INSERT INTO reading(bottle, viscosity, temperature, uncertainty, taken)"
    " SELECT id, 9e999, 20, 0.5, '2026-10-03' FROM bottle": "reading",
    "INSERT INTO cup(name, a, b, uncertainty, made)"
    " VALUES ('Tin', 9e999, 0, 0.5, '2026-10-03')": "cup",
    "UPDATE part SET volume_ml = 9e999": "recipe",
    "UPDATE mix SET made = 'yesterday'": "recipe",
}


def a_damaged_row_is_set_aside(stock):
    stock.club()
    stock.ok("mix", "Cedar=1ml", "Hazel=1ml", "--record", "hall")
    whole = stock.bytes()
    for statement, part in DAMAGE.items():
        stock.write("stock.db", whole)
        execute(stock, statement)
        for words in (("stock", "list", "--json"), ("stock", "export")):
            result = stock.run(*words)
            assert result.returncode == 0, (statement, result)
        assert part in result.stderr, (statement, result.stderr)
        assert result.stderr.count("--damaged deletes it") >= 1
        listed = json.loads(stock.run("stock", "list", "--json").stdout)
        assert len(listed["oils"]) >= 9, (statement, listed)
        exported = stock.write("out.csv", result.stdout.encode())
        other = type(stock)(stock.program, stock.folder)
        other.path = os.path.join(stock.folder, "other.db")
        other.ok("stock", "import", exported)
        assert other.export() == result.stdout, statement
        os.remove(other.path)
        for words in (("stock", "set", "Alder", "--left", "10ml"),
                      ("stock", "undo"), ("stock", "remove", "Yew"),
                      ("stock", "undo")):
            assert stock.run(*words).returncode == 0, (statement, words)
        removed = stock.run("stock", "remove", "--damaged")
        assert removed.returncode == 0 and "before it" in \
            removed.stdout, removed
        stock.ok("stock", "list")
        assert stock.export() == result.stdout, statement


def a_damaged_bottle_by_name(stock):
    stock.club()
    execute(stock, "UPDATE bottle SET tolerance = 7 WHERE name = 'Elm'")
    result = stock.run("oil", "Elm")
    assert result.returncode == 3 and "damaged" in result.stderr, result


# -- Undo ----------------------------------------------------------------------

def an_undo_that_violates_constraints(stock):
    """What undo writes back must satisfy the constraints of the tables."""
    stock.club()
    stock.ok("stock", "set", "Elm", "--left", "5ml")
    whole = stock.bytes()
    for column, value in (("family", "'brake fluid'"), ("left_ml", "-1"),
                          ("name", "NULL"), ("tolerance", "9"),
                          ("added", "'x'"), ("name", "'Larch'")):
        stock.write("stock.db", whole)
        execute(stock, f"UPDATE undo_bottle SET {column} = {value}"
                       " WHERE was_made = 0")
        before = stock.bytes()
        stock.refused(3, "stock", "undo")
        assert stock.bytes() == before, (column, value)
    for table in ("label", "reading", "mix", "part", "cup"):
        stock.write("stock.db", whole)
        execute(stock, f"DELETE FROM undo_{table}")
        promptly(stock, "stock", "undo")


def an_undo_of_nothing(stock):
    stock.club()
    stock.ok("stock", "set", "Elm", "--left", "5ml")
    execute(stock, "DELETE FROM undo_bottle WHERE change ="
                   " (SELECT max(id) FROM change)",
            "DELETE FROM undo_label WHERE change ="
            " (SELECT max(id) FROM change)")
    message = stock.refused(3, "stock", "undo")
    assert "cannot be undone" in message, message


def changes_with_the_largest_number(stock):
    stock.club()
    execute(stock, f"UPDATE change SET id = {2 ** 63 - 1}",
            f"UPDATE undo_bottle SET change = {2 ** 63 - 1}",
            f"UPDATE undo_label SET change = {2 ** 63 - 1}")
    for _ in range(3):
        stock.ok("stock", "set", "Elm", "--left", "5ml")
    promptly(stock, "stock", "undo")


# -- Versions ------------------------------------------------------------------

def old_stock(stock):
    database = connect(stock)
    with open(os.path.join(HERE, "stocks", "version_2.sql"),
              encoding="utf-8") as file:
        database.executescript(file.read())
    database.close()


def an_older_stock(stock):
    old_stock(stock)
    result = stock.run("stock", "list")
    assert result.returncode == 0 and "hall" in result.stdout, result
    assert "can no longer be undone" in result.stderr, result
    assert "no change" in stock.refused(1, "stock", "undo")
    stock.ok("stock", "add", "Fir", "385")
    stock.ok("stock", "undo")
    assert len(stock.oils()) == 2
    with connect(stock) as database:
        assert database.execute("PRAGMA user_version").fetchone() == (6,)
        assert database.execute("PRAGMA integrity_check").fetchall() == [
            ("ok",)]


NO_CUP_RUNS = ["DROP TABLE cup_run", "DROP TABLE label_index",
               "DROP TABLE undo_cup_run", "DROP TABLE undo_label_index"]

NO_JOURNAL = [*NO_CUP_RUNS, "DROP TABLE use", "DROP TABLE fill", "DROP TABLE undo_use",
              "DROP TABLE undo_fill", "DROP TABLE redo"]


def a_stock_without_a_journal(stock):
    """Version 4 knows no uses and no fills; what was done can be undone."""
    stock.club()
    stock.ok("stock", "set", "Elm", "--left", "12ml")
    execute(stock, *NO_JOURNAL, "PRAGMA user_version = 4")
    assert stock.oils()["Elm"]["left_ml"] == 12
    stock.ok("stock", "use", "Elm", "2ml")
    stock.ok("stock", "undo")
    stock.ok("stock", "undo")
    assert stock.oils()["Elm"]["left_ml"] == 31
    stock.ok("stock", "redo")
    assert stock.oils()["Elm"]["left_ml"] == 12


def a_damaged_journal(stock):
    """What could not have been written is set aside, and can be deleted."""
    stock.club()
    stock.ok("stock", "use", "Elm", "2ml", "--note", "front")
    stock.ok("stock", "refill", "Larch", "500")
    sound = stock.bytes()
    for table, change in [("use", "volume_ml = -1"),
                          ("use", "volume_ml = 9e999"),
                          ("use", "note = char(27)"), ("use", "made = ''"),
                          ("fill", "previous = bottle"),
                          ("fill", "made = 'yesterday!'")]:
        execute(stock, f"UPDATE {table} SET {change}")
        for words in [("stock", "log"), ("stock", "export"),
                      ("stock", "show", "Larch")]:
            result = promptly(stock, *words)
            assert result.returncode == 0, (change, words, result)
            assert f"a {table} of" in result.stderr, (change, words, result)
        assert promptly(stock, "stock", "remove",
                        "--damaged").returncode == 0, change
        assert promptly(stock, "stock", "log").stderr == "", change
        with open(stock.path, "wb") as file:
            file.write(sound)
    # fills that lead in a circle
    execute(stock, "INSERT INTO fill SELECT previous, bottle, made FROM fill")
    assert promptly(stock, "stock", "log", "Larch").returncode == 0
    # changes to redo that there are not
    execute(stock, "PRAGMA foreign_keys = OFF", "INSERT INTO redo VALUES (99)")
    promptly(stock, "stock", "redo")
    promptly(stock, "stock", "undo")


def a_stock_without_sources(stock):
    """Version 3 has readings whose uncertainty is random as a whole."""
    stock.club()
    stock.ok("stock", "reading", "Elm", "352@25C", "--uncertainty", "2%")
    before = stock.oils()
    execute(stock, "DROP TABLE source", "DROP TABLE dose",
            "DROP TABLE undo_source", "DROP TABLE undo_dose",
            *NO_JOURNAL, "PRAGMA user_version = 3")
    assert stock.oils() == before
    stock.ok("stock", "undo")
    assert stock.oils()["Elm"]["readings"] == []


def damaged_sources(stock):
    """What could not have been measured is set aside with its reading."""
    stock.club()
    stock.ok("measure", "against", "Larch", "18s", "12.6s", "--save", "Elm")
    with open(stock.path, "rb") as file:
        sound = file.read()
    for change in ("random = 0", "random = 7", "systematic = -1",
                   "thermometer = 21", "instrument = char(27)",
                   "reference_viscosity = NULL", "reference_viscosity = 9e999"):
        execute(stock, f"UPDATE source SET {change}")
        result = promptly(stock, "stock", "list", "--json")
        assert result.returncode == 0, (change, result)
        assert "a reading of \"Elm\" is damaged" in result.stderr, change
        elm, = [oil for oil in json.loads(result.stdout)["oils"]
                if oil["name"] == "Elm"]
        assert elm["readings"] == [], change
        assert promptly(stock, "mix", "Elm", "Larch", "--target",
                        "400").returncode == 0, change
        with open(stock.path, "wb") as file:
            file.write(sound)


def a_damaged_reference(stock):
    """It takes what was compared with it along."""
    stock.club()
    stock.ok("measure", "against", "Larch", "18s", "12.6s", "--save", "Elm")
    execute(stock, "UPDATE bottle SET tolerance = 7 WHERE name = 'Larch'")
    assert promptly(stock, "mix", "Elm", "Cedar", "--target",
                    "320").returncode == 0
    assert promptly(stock, "stock", "remove", "--damaged").returncode == 0
    assert "Larch" not in stock.export()
    assert stock.oils()["Elm"]["readings"] == []


def damaged_calibrations(stock):
    """What no oil can have done is set aside; the cup keeps its formula."""
    stock.club()
    stock.ok("measure", "calibrate", "Elm=71.8s", "Larch=102s", "--save",
             "Syringe")
    stock.ok("measure", "cup", "Syringe", "62s", "--at", "25C", "--save",
             "Cedar")
    sound = stock.bytes()
    for change in ("viscosity = 9e999", "time_s = 9e999", "temperature = 9e999",
                   "time_uncertainty_s = 9e999", "viscosity = 1",
                   "time_s = 1e300", "uncertainty = 0.99"):
        execute(stock, f"UPDATE cup_run SET {change}")
        for words in (("stock", "list"), ("stock", "export"),
                      ("measure", "cup", "Syringe", "62s", "--at", "25C"),
                      ("mix", "Cedar", "Larch", "--target", "400")):
            assert promptly(stock, *words).returncode == 0, (change, words)
        assert promptly(stock, "stock", "remove",
                        "--damaged").returncode == 0, change
        assert promptly(stock, "stock", "list").stderr == "", change
        assert "Syringe" in stock.ok("measure", "cup", "--list"), change
        with open(stock.path, "wb") as file:
            file.write(sound)
    # a bottle of a calibration stays known when it is removed
    stock.ok("stock", "remove", "Elm")
    before = stock.oils()["Cedar"]["best"]
    stock.ok("stock", "undo")
    assert stock.oils()["Cedar"]["best"] == before
    # one that is damaged takes the calibration along
    execute(stock, "UPDATE bottle SET tolerance = 7 WHERE name = 'Elm'")
    assert promptly(stock, "stock", "list").returncode == 0
    assert promptly(stock, "stock", "remove", "--damaged").returncode == 0
    assert '"run"' not in stock.export()
    for index in ("9e999", "-9e999", "1e9"):
        with open(stock.path, "wb") as file:
            file.write(sound)
        execute(stock, "INSERT INTO label_index SELECT id, " + index +
                " FROM bottle WHERE name = 'Cedar'")
        result = promptly(stock, "stock", "list")
        assert result.returncode == 0 and "damaged" in result.stderr, result


def readings_that_cannot_be_adjusted(stock):
    """They are named and left out; the rest of the stock works."""
    stock.club()
    stock.ok("stock", "add", "Fir", "32@40C", "--family", "mineral")
    stock.ok("measure", "against", "Larch", "18s", "12.6s", "--save", "Elm")
    sound = stock.bytes()
    for change in ("random = 1e-300", "reference_viscosity = 1e300",
                   "reference = (SELECT id FROM bottle WHERE name = 'Fir')"):
        execute(stock, f"UPDATE source SET {change}")
        result = promptly(stock, "stock", "list")
        assert result.returncode == 0, (change, result)
        assert 'reading of "Elm"' in result.stderr, (change, result)
        assert promptly(stock, "mix", "Elm", "Larch", "--target",
                        "400").returncode == 0, change
        with open(stock.path, "wb") as file:
            file.write(sound)
    execute(stock, "INSERT INTO label_index SELECT id, 150 FROM bottle"
            " WHERE name = 'Elm'")
    result = promptly(stock, "stock", "list")
    assert result.returncode == 0 and '"Elm" is damaged' in result.stderr


def an_older_stock_for_many_at_once(stock):
    for words in (("stock", "list"), ("stock", "set", "Elm", "--left",
                                      "3ml")):
        old_stock(stock)
        running = [subprocess.Popen(stock.command(*words),
                                    stdout=subprocess.DEVNULL,
                                    stderr=subprocess.PIPE)
                   for _ in range(12)]
        for process in running:
            error = process.communicate(timeout=60)[1]
            assert process.returncode == 0, error
        os.remove(stock.path)


# -- Names and modes -----------------------------------------------------------

def names_with_a_meaning_for_sqlite(stock):
    for name in (":memory:", "file:stock.db?mode=memory", "file::memory:",
                 "a%20b.db", "stock?mode=ro"):
        stock.path = name
        for words in (("stock", "add", "Elm", "350"), ("stock", "list")):
            result = stock.run(*words, cwd=stock.folder)
            assert result.returncode == 0 and "Elm" in result.stdout, result
        assert os.path.isfile(os.path.join(stock.folder, name)), name


def a_stock_is_private(stock):
    home = os.path.join(stock.folder, "home")
    environment = dict(os.environ, HOME=home)
    environment.pop("XDG_DATA_HOME", None)
    old = os.umask(0o022)
    subprocess.run([stock.program, "stock", "add", "Elm", "350"], check=True,
                   env=environment, stdout=subprocess.DEVNULL)
    os.umask(old)
    folder = os.path.join(home, ".local", "share", "midweight")
    assert stat.S_IMODE(os.stat(folder).st_mode) == 0o700
    mode = os.stat(os.path.join(folder, "stock.db")).st_mode
    assert stat.S_IMODE(mode) == 0o600
    stock.path = os.path.join(folder, "stock.db")
    os.chmod(stock.path, 0o664)
    stock.ok("stock", "add", "Fir", "385")
    assert stat.S_IMODE(os.stat(stock.path).st_mode) == 0o664


# -- Slow input and output -----------------------------------------------------

def a_slow_import_does_not_lock(stock):
    stock.club()
    with subprocess.Popen(stock.command("stock", "import", "-"),
                          stdin=subprocess.PIPE,
                          stdout=subprocess.PIPE) as process:
        process.stdin.write(b"name,viscosity\nAsh,355\n")
        process.stdin.flush()
        time.sleep(0.3)
        began = time.monotonic()
        stock.ok("stock", "add", "Fir", "385")
        assert time.monotonic() - began < LONGEST
        assert process.communicate(timeout=30)[0].startswith(b"Imported: 1")
    assert {"Ash", "Fir"} <= set(stock.oils())


def a_slow_reader_does_not_lock(stock):
    rows = "".join(f"bottle {i},{100 + i}\n" for i in range(6000))
    stock.ok("stock", "import",
             stock.write("many.csv", b"name,viscosity\n" + rows.encode()))
    bad = "".join(f"bottle {i},{100 + i}\n" for i in range(3000))
    bad = stock.write("bad.csv", b"name,viscosity\n" + bad.encode())
    for words in (("stock", "list"), ("stock", "list", "--json"),
                  ("stock", "export"), ("stock", "import", "--skip-bad", bad)):
        with subprocess.Popen(stock.command(*words),
                              stdout=subprocess.PIPE) as process:
            process.stdout.read(1)  # it has begun to print, and is blocked
            began = time.monotonic()
            stock.ok("stock", "set", "bottle 7", "--left", "5ml")
            assert time.monotonic() - began < LONGEST, words
            assert process.poll() is None, words
            process.stdout.read()
        assert process.returncode == 0, words


main([a_journal_that_names_another_file, the_refused_journal_is_named,
      a_journal_that_is_a_link, an_invalid_version,
      a_foreign_schema, an_oversized_cell,
      a_damaged_row_is_set_aside, a_damaged_bottle_by_name,
      an_undo_that_violates_constraints, an_undo_of_nothing,
      changes_with_the_largest_number, an_older_stock,
      a_stock_without_a_journal, a_damaged_journal, a_stock_without_sources,
      damaged_sources, damaged_calibrations, a_damaged_reference,
      readings_that_cannot_be_adjusted,
      an_older_stock_for_many_at_once, names_with_a_meaning_for_sqlite,
      a_stock_is_private, a_slow_import_does_not_lock,
      a_slow_reader_does_not_lock])
