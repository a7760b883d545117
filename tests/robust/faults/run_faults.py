#!/usr/bin/python3
# Copyright the midweight authors. SPDX-License-Identifier: GPL-3.0-or-later
"""Fail every allocation and every file call of every command; print TAP.

    run_faults.py PROGRAM PRELOAD [MOST]

Each command of COMMANDS runs once as it is, to count its calls (preload.c), and
then once for each point and way to fail: an allocation fails once, or from then
on; a file call fails with EIO or ENOSPC, once or from then on, or the process
is killed right before it, or in the middle of a write. With MOST no more points
of a command are tried for each kind of call, evenly spread with the first and
the last, and of many allocations each fails either once or from then on.

After each: the exit code is that of the undisturbed run with the same answer,
or 3 with one line that says why; nothing crashed or leaked; the stock is sound
and as it was before or as it is after; after it if the program said so; no file
stays behind unless the program was killed.
"""
import collections
import concurrent.futures
import contextlib
import itertools
import os
import re
import shutil
import signal
import sqlite3
import struct
import subprocess
import sys
import tempfile

HERE = os.path.dirname(os.path.abspath(__file__))
BOTTLES = os.path.join(HERE, "..", "..", "..", "examples", "bottles.csv")
SECONDS = 30  # for one run
TALLY = "QQQQqQ"  # struct tally of preload.c
KINDS = ("memory", "file", "write")  # and its calls
FAILED, HELD, ENDED = 3, 4, 5
OUT_OF_TIME = 1000

CASE = ["--piston", "3x1.2mmx2mm:4x1.1mmx2mm", "--bore", "12mm", "--shaft",
        "3mm", "--speed", "0.1m/s"]
DAY = ["--date", "2026-10-03"]

# title: words. A new command is one more line.
COMMANDS = {
    "help": ["--help"],
    "version": ["--version"],
    "help of mix": ["mix", "--help"],
    "help of stock": ["stock", "--help"],
    "no command": [],
    "unknown bottle": ["oil", "Fir"],
    "unknown option": ["mix", "--nonsense"],
    "mix of literals": ["mix", "350", "500", "--target", "420"],
    "mix of bottles": ["mix", "Elm", "Larch", "--target", "420"],
    "mix as JSON": ["mix", "Elm=5ml", "Larch", "--target", "420", "--json"],
    "mix chosen": ["mix", "--target", "700", "--make", "20ml"],
    "mix chosen as JSON": ["mix", "--target", "700", "--json"],
    "mix by syringe as JSON": ["mix", "350", "500", "--target", "420",
                               "--make", "5ml", "--syringe", "1ml", "--json"],
    "mix refused": ["mix", "Elm", "Larch", "--target", "900"],
    "mix made": ["mix", "Elm=2ml", "Oak=3ml", "hall=1ml"],
    "mix recorded": ["mix", "Elm", "Larch", "--target", "420", "--make",
                     "12ml", "--record", "new", *DAY],
    "mix recorded as JSON": ["mix", "Elm=2ml", "Oak=3ml", "hall=1ml",
                             "--record", "new", "--json", *DAY],
    "oil": ["oil", "450", "--at", "12C", "--table", "10C:30C:5"],
    "oil of a bottle as JSON": ["oil", "Elm", "--at", "12C", "--table",
                                "10C:30C:5", "--json"],
    "oil of two points": ["oil", "32@40C/5.4@100C", "--json"],
    "hold": ["hold", "450", "--from", "25C", "--to", "12C"],
    "hold as JSON": ["hold", "450", "--from", "25C", "--to", "12C", *CASE,
                     "--json"],
    "settle": ["settle", "450", "--depth", "20mm", "--pressure", "10kPa"],
    "settle as JSON": ["settle", "Elm", "--depth", "20mm", "--json"],
    "help of measure": ["measure", "--help"],
    "measure against as JSON": ["measure", "against", "Elm", "18.0s/18.2s",
                                "21.4s", "--at", "22C", "--json"],
    "measure ball": ["measure", "ball", "--diameter", "9mm", "--tube", "75mm",
                     "--travel", "300mm", "--time", "8.02s",
                     "--ball-density", "1.3625", "--oil-density", "0.97",
                     "--at", "25C"],
    "measure ball wanted": ["measure", "ball", "--for", "Elm", "--tube",
                            "38mm", "--json"],
    "measure cup": ["measure", "cup", "ISO4", "64.5s", "--at", "22C"],
    "measure cup wanted": ["measure", "cup", "--for", "350"],
    "measure cup of one's own": ["measure", "cup", "Syringe", "55.2s", "--at",
                                 "21C", "--json"],
    "measure cup saved": ["measure", "cup", "ISO4", "64.5s", "--at", "22C",
                          "--save", "Elm"],
    "measure calibrate": ["measure", "calibrate", "100=21.4s", "350=71.8s",
                          "--json"],
    "measure calibrate saved": ["measure", "calibrate", "Birch=42s/42.4s",
                                "Elm=71.8s", "--at", "21C", "--save", "Tin"],
    "measure calibrate forgotten": ["measure", "calibrate", "--forget",
                                    "Syringe"],
    "stock list": ["stock", "list"],
    "stock list as JSON": ["stock", "list", "--json"],
    "stock list as CSV": ["stock", "list", "--csv"],
    "stock add": ["stock", "add", "Fir", "32@40C/5.4@100C", "--family",
                  "mineral", "--left", "20g", "--note", "new"],
    "stock set": ["stock", "set", "Elm", "--name", "Fir", "--left", "12ml"],
    "stock remove": ["stock", "remove", "Yew"],
    "stock remove by force": ["stock", "remove", "Elm", "--force"],
    "stock reading": ["stock", "reading", "Elm", "371@22C", *DAY],
    "stock reading of a mix": ["stock", "reading", "hall", "430@22C", *DAY],
    "stock log": ["stock", "log"],
    "stock log as JSON": ["stock", "log", "--json"],
    "stock undo": ["stock", "undo"],
    "stock redo": ["stock", "redo"],
    "stock use": ["stock", "use", "Elm", "2ml", "--note", "front", *DAY],
    "stock refill": ["stock", "refill", "Elm", "400", "--left", "9ml", *DAY],
    "stock import": ["stock", "import", "more.csv"],
    "stock import of good rows": ["stock", "import", "--skip-bad", "-"],
    "stock export": ["stock", "export"],
    "stock plan": ["stock", "plan", "200", "1000"],
    "stock plan as JSON": ["stock", "plan", "200", "1000", "--json"],
    "first stock add": ["stock", "add", "Fir", "350"],
    "first stock list": ["stock", "list"],
}

# The libraries that draw make thousands of allocations, read dozens of files of
# their own, tell of it, and crash where their memory ends, which ends as a
# failure like others. Of these commands only the files that they write are made
# to fail, and what the libraries keep or leak is not counted. How often they
# allocate depends on where their memory lies, so that the last time may not
# come again. The library of fonts may tell that it could not read how to choose
# one, and choose another.
SHEETS = {
    "card of mixes": ["card", "mix", "350", "500", *DAY, "-o", "card.png"],
    "card of a label": ["card", "label", "hall", *DAY, "-o", "card.pdf"],
}

MORE = b"name,viscosity,left_ml\r\nFir,380,12\r\nAsh,450,\r\n"


class Bench:
    """A folder with a stock, where commands run with and without faults."""

    def __init__(self, program, preload, folder):
        self.program, self.preload, self.folder = program, preload, folder
        self.seen = {}  # bytes of the stock and its journal: its export
        self.work = os.path.join(folder, "work")
        self.stock = os.path.join(self.work, "sub", "stock.db")
        self.tally = os.path.join(folder, "tally")
        self.sheets = [os.path.join(self.work, name)
                       for name in ("card.pdf", "card.png")]
        self.first = self.prepare()

    def prepare(self):
        """The content of a stock with every kind of row, and undos."""
        self.empty()
        for words in [["stock", "import", BOTTLES],
                      ["stock", "reading", "Elm", "352@25C", *DAY],
                      ["mix", "Elm", "Larch", "--target", "420", "--make",
                       "10ml", "--record", "hall", *DAY],
                      ["stock", "reading", "hall", "415@25C", *DAY],
                      ["stock", "remove", "Larch", "--force"],
                      ["measure", "calibrate", "100=21.4s", "350=71.8s",
                       "--save", "Syringe"],
                      ["stock", "use", "Cedar", "1ml", "--note", "rear", *DAY],
                      ["stock", "refill", "Birch", "200", *DAY],
                      ["stock", "add", "Larch", "500", "--left", "60ml"],
                      ["stock", "add", "Ash", "100"], ["stock", "undo"]]:
            subprocess.run([self.program, *words, "--stock", self.stock],
                           stdout=subprocess.DEVNULL, check=True)
        return self.content()[0]

    def empty(self):
        shutil.rmtree(self.work, ignore_errors=True)
        os.mkdir(self.work)
        with open(os.path.join(self.work, "more.csv"), "wb") as file:
            file.write(MORE)

    def reset(self, title):
        self.empty()
        if not title.startswith("first "):
            os.mkdir(os.path.dirname(self.stock))
            with open(self.stock, "wb") as file:
                file.write(self.first)

    def content(self):
        found = []
        for path in (self.stock, self.stock + "-journal", *self.sheets):
            try:
                with open(path, "rb") as file:
                    found.append(file.read())
            except FileNotFoundError:
                found.append(None)
        return tuple(found)

    def run(self, words, fault=None):
        """Exit code, stdout, stderr and tally of a run."""
        with open(self.tally, "wb") as file:
            file.write(bytes(struct.calcsize(TALLY)))
        environment = {"LC_ALL": "C.UTF-8", "TZ": "UTC", "HOME": "/nonexistent",
                       "LD_PRELOAD": self.preload,
                       "MIDWEIGHT_STOCK": self.stock,
                       "MIDWEIGHT_TALLY": self.tally}
        if fault:
            environment["MIDWEIGHT_FAULT"] = fault
        names = [os.path.join(self.folder, name) for name in ("out", "err")]
        create = os.O_WRONLY | os.O_CREAT | os.O_TRUNC
        actions = [(os.POSIX_SPAWN_OPEN, 0,
                    os.path.join(self.work, "more.csv"), os.O_RDONLY, 0)]
        actions += [(os.POSIX_SPAWN_OPEN, i, name, create, 0o600)
                    for i, name in enumerate(names, 1)]
        os.chdir(self.work)
        child = os.posix_spawn(self.program, ["midweight", *words], environment,
                               file_actions=actions)
        code = wait(child)
        texts = []
        for name in names:
            with open(name, "rb") as file:
                texts.append(file.read().decode(errors="replace"))
        with open(self.tally, "rb") as file:
            return code, *texts, struct.unpack(TALLY, file.read())

    def state(self):
        """What a user finds next: the export of the stock, and sheets."""
        content = self.content()
        if content not in self.seen:
            result = subprocess.run(
                [self.program, "stock", "export", "--stock", self.stock],
                capture_output=True, check=False, timeout=SECONDS)
            text = result.stdout.decode() + result.stderr.decode()
            if os.path.exists(self.stock):
                with contextlib.closing(sqlite3.connect(self.stock)) as file:
                    for check in ("integrity_check", "foreign_key_check"):
                        for row in file.execute("PRAGMA " + check):
                            text += "" if row == ("ok",) else repr(row)
            self.seen[content] = (text, picture(content[2]), content[3])
        return self.seen[content]


def picture(pdf):
    """What a PDF shows, its words in any order, and what its readers complain of;
    its bytes may differ."""
    if pdf is None:
        return None
    shown, text = (subprocess.run(words, input=pdf, capture_output=True,
                                  check=False)
                   for words in (["pdftoppm", "-r", "50", "-png", "-"],
                                 ["pdftotext", "-", "-"]))
    return (shown.stdout, sorted(text.stdout.split()), shown.stderr,
            text.stderr)


def wait(child):
    """The exit code of a process; minus the signal that ended it."""
    signal.signal(signal.SIGALRM, lambda *_: os.kill(child, signal.SIGKILL))
    signal.alarm(SECONDS)
    status = os.waitpid(child, 0)[1]
    left = signal.alarm(0)
    return os.waitstatus_to_exitcode(status) if left else OUT_OF_TIME


def spread(count, most):
    """Numbers from 1 to count: all, or most of them at even distances."""
    if not most or count <= most:
        return range(1, count + 1)
    return sorted({1 + i * (count - 1) // (most - 1) for i in range(most)})


def faults(title, calls, most):
    """What is tried of a command with so many calls of each kind."""
    counts = dict(zip(KINDS, calls))
    numbers = spread(counts["memory"], most)
    for turn, number in enumerate(numbers):
        reaches = ["once", "ever"]
        if len(numbers) < counts["memory"]:
            del reaches[turn % 2]
        for reach in reaches:
            yield f"memory ENOMEM {number} {reach}"
    kind = "write" if title in SHEETS else "file"
    # six faults are tried of each
    for number in spread(counts[kind], most and most // 3):
        for action, reach in [("EIO", "once"), ("EIO", "ever"),
                              ("ENOSPC", "once"), ("ENOSPC", "ever"),
                              ("kill", "once"), ("tear", "once")]:
            yield f"{kind} {action} {number} {reach}"


def misses(bench, title, fault, result, clean, before, after):
    """What is wrong after a run with a fault."""
    code, out, err, tally = result
    state, deadly = bench.state(), fault.split()[1] in ("kill", "tear")
    if title in SHEETS:
        err = re.sub(r"^Fontconfig .*\n", "", err, flags=re.M)
    varies = title in SHEETS and fault.startswith("memory")
    if tally[FAILED] == 0 and not varies:
        yield "the fault was not reached"
    if code == -signal.SIGKILL and deadly:
        pass
    elif code == clean[0]:
        # a stock nobody asked for may be missing, if that is said
        told = bench.stock in out
        if (out, err) != (clean[1], clean[2]) and not told:
            yield "another answer, and no word of what went wrong"
        if state != after:
            yield "done, but the stock is not as it should be after it"
    elif code != 3:
        yield f"exit code {code}"
    elif not re.fullmatch(r"midweight: [^\n]+\n", err):
        yield "no line that says what went wrong"
    # a sheet is there as a whole, though its name could not be told
    kept = "the change of the stock is kept" in err
    if kept and state != after:
        yield "what is said to be kept is not"
    if code == 3 and state == before != after and out:
        yield "what was not done was announced"
    if (code == 3 and state != before and "whether" not in err and not kept
            and state[1:] == before[1:]):
        yield "the failure does not say that the stock may be changed"
    if title not in SHEETS and tally[ENDED] and tally[HELD] > clean[3][HELD]:
        yield f"{tally[HELD] - clean[3][HELD]} blocks leaked"
    # nothing that is left can be removed where no file may change
    removes = not deadly and not re.fullmatch("write .* ever", fault)
    if removes and any(name.startswith(".midweight-")
                       for name in os.listdir(bench.work)):
        yield "a file stays behind"
    if state not in (before, after):
        yield f"the stock is neither as before nor as after:\n{state}"


def sweep(program, preload, folder, title, most):
    """All faults of a command: counts, and what went wrong."""
    with tempfile.TemporaryDirectory(dir=folder) as own:
        bench = Bench(program, preload, own)
        words = {**COMMANDS, **SHEETS}[title]
        bench.reset(title)
        before = bench.state()
        bench.reset(title)
        clean = bench.run(words)
        after = bench.state()
        tried, bad = collections.Counter(), []
        for fault in faults(title, clean[3], most):
            bench.reset(title)
            result = bench.run(words, fault)
            tried[fault.split()[0]] += 1
            wrong = list(misses(bench, title, fault, result, clean, before,
                                after))
            if wrong:
                bad.append(f"{fault}: {'; '.join(wrong)} {result}")
        return title, clean, tried, bad


def memory_folder():
    """Where files are fast: syncs are counted here, not needed."""
    return "/dev/shm" if os.access("/dev/shm", os.W_OK) else None


def main():
    program, preload = map(os.path.abspath, sys.argv[1:3])
    most = int(sys.argv[3]) if len(sys.argv) > 3 else None
    titles = [*COMMANDS, *SHEETS]
    total = bad = 0
    with tempfile.TemporaryDirectory(dir=memory_folder()) as folder, \
            concurrent.futures.ProcessPoolExecutor() as pool:
        print(f"1..{len(titles)}")
        for number, (title, clean, tried, wrong) in enumerate(pool.map(
                sweep, *map(itertools.repeat, (program, preload, folder)),
                titles, itertools.repeat(most)), 1):
            total += sum(tried.values())
            bad += len(wrong)
            print(f"{'not ok' if wrong else 'ok'} {number} - {title} (exit "
                  f"{clean[0]}): {tried['memory']} of {2 * clean[3][0]} "
                  f"memory faults, {tried['file'] + tried['write']} file "
                  "faults", flush=True)
            for line in wrong[:20]:
                print("\n".join("# " + part for part in line.splitlines()))
    print(f"# {total} points tried, {bad} bad")
    return 1 if bad else 0


if __name__ == "__main__":
    sys.exit(main())
