#!/usr/bin/python3
# Copyright the midweight authors. SPDX-License-Identifier: GPL-3.0-or-later
"""The file of the stock under faults: damage, concurrency, full disk, kill."""
import os
import resource
import signal
import sqlite3
import subprocess
import time

from stock_bench import main


def integrity(stock):
    with sqlite3.connect(stock.path) as database:
        assert database.execute("PRAGMA integrity_check").fetchall() == [
            ("ok",)]
        assert database.execute("PRAGMA foreign_key_check").fetchall() == []


def untouched(stock, code, fragment, *words):
    """A command that fails and leaves the file as it was."""
    before = stock.bytes()
    message = stock.refused(code, *words)
    assert fragment in message, message
    assert stock.bytes() == before


ADD = ("stock", "add", "Fir", "350")


def a_newer_stock(stock):
    stock.club()
    with sqlite3.connect(stock.path) as database:
        database.execute("PRAGMA user_version = 99")
    for words in [ADD, ("stock",), ("oil", "Elm"), ("stock", "undo"),
                  ("mix", "--target", "420")]:
        untouched(stock, 3, "newer midweight", *words)


def another_programs_file(stock):
    with sqlite3.connect(stock.path) as database:
        database.execute("CREATE TABLE songs(title TEXT)")
    for words in [ADD, ("stock",)]:
        untouched(stock, 3, "another program", *words)


def no_database(stock):
    stock.write("stock.db", b"name,viscosity\nElm,350\n" * 100)
    for words in [ADD, ("stock",)]:
        untouched(stock, 3, "damaged or no stock", *words)


def a_damaged_stock(stock):
    stock.club()
    whole = stock.bytes()
    # the pages of the tables, one after the other, overwritten
    for page in range(1, len(whole) // 4096):
        noise = whole[:page * 4096] + b"\xa5" * 4096 + whole[
            (page + 1) * 4096:]
        stock.write("stock.db", noise)
        result = stock.run(*ADD)
        if result.returncode != 0:
            assert result.returncode == 3, result
            assert "damaged" in result.stderr, result.stderr
            assert stock.bytes() == noise
        listed = stock.run("stock", "list")
        assert listed.returncode in (0, 3), listed
    stock.write("stock.db", whole[:len(whole) // 2])
    untouched(stock, 3, "", *ADD)


def a_path_that_cannot_be_opened(stock):
    stock.path = "/proc/nowhere/stock.db"
    assert "cannot be opened" in stock.refused(3, *ADD)
    stock.path = os.path.join(stock.folder, "x" * 5000)
    assert "too long" in stock.refused(3, *ADD)
    stock.path = stock.folder
    stock.refused(3, *ADD)


def reading_a_stock_that_cannot_be_written(stock):
    stock.club()
    os.chmod(stock.path, 0o444)
    stock.ok("stock")
    if os.getuid() != 0:
        untouched(stock, 3, "cannot be written", *ADD)


def a_full_disk(stock):
    before = stock.club().export()
    size = os.path.getsize(stock.path)

    def small():
        signal.signal(signal.SIGXFSZ, signal.SIG_IGN)
        resource.setrlimit(resource.RLIMIT_FSIZE, (limit, limit))

    note = "n" * 2000
    for limit in (0, 512, 4096, size // 2, size):
        result = stock.run("stock", "add", "Fir", "350", "--note", note,
                           preexec_fn=small)
        if result.returncode != 0:
            # no change is reported that is not kept
            assert result.returncode == 3 and result.stdout == "", result
            assert result.stderr.startswith("midweight: "), result
            assert stock.export() == before
        else:
            stock.ok("stock", "undo")
        integrity(stock)


def a_stdout_that_is_full(stock):
    before = stock.club().export()
    record = ("mix", "Elm", "Larch", "--target", "420", "--make", "5ml",
              "--record", "new")
    for words in [ADD, record, record + ("--json",),
                  ("stock", "reading", "Elm", "350@22C"),
                  ("stock", "remove", "Elm"),
                  ("stock", "set", "Elm", "--left", "3ml")]:
        with open("/dev/full", "w", encoding="utf-8") as full:
            result = subprocess.run(stock.command(*words), stdout=full,
                                    stderr=subprocess.PIPE, check=False)
        assert result.returncode == 3, (words, result)
        # the change is kept, and the message says so
        assert b"the change of the stock is kept" in result.stderr, result
        assert stock.export() != before, words
        stock.ok("stock", "undo")
        assert stock.export() == before, words
    integrity(stock)


def a_killed_process(stock):
    before = stock.club().export()
    words = stock.command("mix", "Elm", "Larch", "--target", "420", "--make",
                          "5ml", "--record", "new", "--date", "2026-10-03")
    started = time.monotonic()
    subprocess.run(words, stdout=subprocess.DEVNULL, check=True)
    lasts = time.monotonic() - started
    after = stock.export()
    stock.ok("stock", "undo")
    seen = set()
    for i in range(60):
        with subprocess.Popen(words, stdout=subprocess.DEVNULL) as process:
            time.sleep(lasts * 1.2 * i / 60)
            process.kill()
        state = stock.export()
        assert state in (before, after), state
        integrity(stock)
        seen.add(state == after)
        if state == after:
            stock.ok("stock", "undo")
            assert stock.export() == before
    assert seen == {True, False}, seen


def many_at_once(stock):
    commands = [stock.command("stock", "add", f"bottle {i}", f"{100 + i}")
                for i in range(24)]
    running = [subprocess.Popen(words, stdout=subprocess.DEVNULL)
               for words in commands]
    assert [process.wait(60) for process in running] == [0] * 24
    assert len(stock.oils()) == 24
    takes = [stock.command("mix", "bottle 1=1ml", "bottle 9=1ml", "--record",
                           f"mix {i}") for i in range(12)]
    stock.ok("stock", "set", "bottle 1", "--left", "50ml")
    running = [subprocess.Popen(words, stdout=subprocess.DEVNULL)
               for words in takes]
    assert [process.wait(60) for process in running] == [0] * 12
    assert abs(stock.oils()["bottle 1"]["left_ml"] - 38) <= 1e-9
    integrity(stock)


def ten_thousand_bottles(stock):
    rows = ["name,viscosity,left_ml"]
    rows += [f"bottle {i},{10 * 1.0014 ** i:.4f},{i % 60}"
             for i in range(10000)]
    stock.ok("stock", "import",
             stock.write("many.csv", "\n".join(rows).encode()))
    text = stock.ok("mix", "--target", "5000", "--make", "20ml")
    assert "The best pair of the stock" in text
    assert len(stock.oils()) == 10000


main([a_newer_stock, another_programs_file, no_database,
      a_damaged_stock, a_path_that_cannot_be_opened,
      reading_a_stock_that_cannot_be_written, a_full_disk,
      a_stdout_that_is_full, a_killed_process, many_at_once,
      ten_thousand_bottles])
