#!/usr/bin/python3
# Copyright the midweight authors. SPDX-License-Identifier: GPL-3.0-or-later
"""midweight-card, which draws: where the program looks for it, who may own it,
and that it ends with the program; TAP."""
import os
import shutil
import signal
import subprocess
import sys
import time

from sheets import Sheets

SIGNALS = (signal.SIGTERM, signal.SIGINT, signal.SIGHUP, signal.SIGKILL)
OTHER_USER = 65534  # nobody


class Copy:
    """A copy of the program elsewhere, and a script in the place of
    midweight-card."""

    def __init__(self, sheets, library):
        self.folder = sheets.path("copy")
        os.makedirs(os.path.join(self.folder, "bin"))
        self.program = shutil.copy(sheets.program,
                                   os.path.join(self.folder, "bin"))
        libexec = os.path.join(os.path.dirname(sheets.program), "..", "libexec")
        assert os.path.isdir(libexec), "the default of the build is expected"
        self.environment = dict(os.environ, LD_LIBRARY_PATH=library)
        self.places = [os.path.join(self.folder, *parts) for parts in (
            ("libexec",), ("libexec", "midweight"),
            ("libexec", "midweight", "midweight-card"))]
        self.drawer = self.places[-1]

    def put(self, script):
        os.makedirs(self.places[1], exist_ok=True)
        with open(self.drawer, "w", encoding="utf-8") as file:
            file.write("#!/bin/sh\n" + script + "\n")
        os.chmod(self.drawer, 0o755)

    def run(self):
        return subprocess.run([self.program, "card", "mix"], check=False,
                              capture_output=True, encoding="utf-8",
                              env=self.environment)

    def refuses(self):
        """The misses: none where the script is not run."""
        result = self.run()
        good = (result.returncode == 3 and not result.stdout and
                "midweight-card, cannot be started" in result.stderr)
        return [] if good else [result]


def check_missing(sheets, copy):
    """The main program alone, in another folder."""
    sheets.holds("no midweight-card", copy.refuses())


def check_signalled(sheets, copy):
    for number, code, text in ((signal.SIGSEGV, 3, "broke off (Segm"),
                               (signal.SIGTERM, -signal.SIGTERM, "")):
        copy.put(f"kill -{int(number)} $$")
        result = copy.run()
        good = result.returncode == code and text in result.stderr
        sheets.holds(f"midweight-card ended by signal {int(number)}",
                     [] if good else [result])


def check_owner(sheets, copy):
    """It is not run where another user owns it or can replace it."""
    names = ["folder of folders", "folder", "file"]
    if os.geteuid() != 0:
        for name in names + ["link"]:
            sheets.holds(f"another user's {name} # SKIP only for root", [])
        return
    copy.put("echo ran")
    result = copy.run()
    sheets.holds("midweight-card of the same user is run",
                 [] if result.stdout == "ran\n" else [result])
    for name, place in zip(names, copy.places):
        os.chown(place, OTHER_USER, OTHER_USER)
        sheets.holds(f"another user's {name}", copy.refuses())
        os.chown(place, 0, 0)
    elsewhere = shutil.move(copy.drawer, copy.folder)
    os.symlink(elsewhere, copy.drawer)
    result = copy.run()
    sheets.holds("a link of the same user",
                 [] if result.stdout == "ran\n" else [result])
    os.lchown(copy.drawer, OTHER_USER, OTHER_USER)
    sheets.holds("another user's link", copy.refuses())


# -- How it ends ----------------------------------------------------------


def state_of(pid):
    """The state of a process, as R or S; None for one that has ended."""
    try:
        with open(f"/proc/{pid}/stat", encoding="utf-8") as file:
            state = file.read().rpartition(")")[2].split()[0]
    except (FileNotFoundError, ProcessLookupError):
        return None
    return None if state in "ZX" else state


def waits_for(condition):
    """Whether a condition becomes true within ten seconds."""
    for _ in range(500):
        if condition():
            return True
        time.sleep(0.02)
    return False


def child_of(process):
    """The process of midweight-card, once it has started and waits; or None."""
    found = []

    def waits():
        result = subprocess.run(["pgrep", "-P", str(process.pid)], check=False,
                                capture_output=True, encoding="utf-8")
        found[:] = result.stdout.split()
        if not found:
            return False
        for _ in range(10):
            if state_of(found[0]) != "S":
                return False
            time.sleep(0.02)
        return True

    return int(found[0]) if waits_for(waits) else None


def check_waiting(sheets):
    """Terminated while midweight-card waits: for a process that reads the pipe
    it writes to."""
    pipe = sheets.path("pipe.svg")
    os.mkfifo(pipe)
    for number in SIGNALS:
        words = [sheets.program, "card", "mix", "350", "500", "-o", pipe,
                 "--force"]
        with subprocess.Popen(words, stdout=subprocess.DEVNULL,
                              stderr=subprocess.DEVNULL) as process:
            child = child_of(process)
            assert child, "midweight-card does not wait at the pipe"
            process.send_signal(number)
            ended = waits_for(lambda: process.poll() is not None) and \
                waits_for(lambda: state_of(child) is None)
            if not ended:
                os.kill(child, signal.SIGKILL)
            code = process.wait()
        sheets.holds(f"signal {int(number)} ends a waiting program",
                     [] if ended and code == -number else [(ended, code)])


def running(word):
    """The processes that have a word on their command line."""
    return subprocess.run(["pgrep", "-f", word], capture_output=True,
                          check=False).stdout


def is_half_written(path):
    if not os.path.exists(path):
        return False
    with open(path, "rb") as file:
        return not file.read().endswith(b"%%EOF\n")


def check_terminated(sheets):
    """Terminated at any moment: no process keeps running, and no incomplete
    file remains."""
    path = sheets.path("end.pdf")
    words = [sheets.program, "card", "temperature",
             *(str(100 + i) for i in range(60)), "-o", path, "--force"]
    for number in SIGNALS:
        wrong, codes = [], set()
        for delay in range(12):
            with subprocess.Popen(words, stdout=subprocess.DEVNULL,
                                  stderr=subprocess.DEVNULL) as process:
                time.sleep(0.004 * delay)
                process.send_signal(number)
                code = process.wait()
            codes.add(code)
            ended = waits_for(lambda: not running(path))
            left = [entry for entry in os.listdir(sheets.path("."))
                    if entry.startswith(".midweight-")]
            if left or not ended or is_half_written(path) or \
                    code not in (-number, 0):
                wrong.append((delay, code, ended, left))
        if -number not in codes:
            wrong.append("the signal never came in time")
        sheets.holds(f"ended by signal {int(number)}, with its child", wrong)


def main():
    sheets = Sheets(sys.argv[1])
    copy = Copy(sheets, os.path.dirname(sys.argv[2]))
    check_missing(sheets, copy)
    check_signalled(sheets, copy)
    check_owner(sheets, copy)
    check_waiting(sheets)
    check_terminated(sheets)
    sheets.end()


if __name__ == "__main__":
    main()
