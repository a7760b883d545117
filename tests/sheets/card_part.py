#!/usr/bin/python3
# SPDX-License-Identifier: GPL-3.0-or-later
"""The part that draws: where the program looks for it, whose it may be, and
that it ends with the program; TAP."""
import os
import shutil
import signal
import subprocess
import sys
import time

from sheets import Sheets

ENDING = (signal.SIGTERM, signal.SIGINT, signal.SIGHUP, signal.SIGKILL)
STRANGER = 65534  # nobody


class Copy:
    """The program copied to a place of its own, and what stands where its part
    that draws would be."""

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
        """Nothing where it is refused; else what was answered."""
        result = self.run()
        good = (result.returncode == 3 and not result.stdout and
                "midweight-card, cannot be started" in result.stderr)
        return [] if good else [result]


def check_missing(sheets, copy):
    """The main program alone, somewhere else."""
    sheets.holds("no part that draws", copy.refuses())


def check_breaking_off(sheets, copy):
    for number, code, text in ((signal.SIGSEGV, 3, "broke off (Segm"),
                               (signal.SIGALRM, 3, "broke off (Alarm"),
                               (signal.SIGTERM, -signal.SIGTERM, "")):
        copy.put(f"kill -{int(number)} $$")
        result = copy.run()
        good = result.returncode == code and text in result.stderr
        sheets.holds(f"the part that draws ended by signal {int(number)}",
                     [] if good else [result])


def check_owner(sheets, copy):
    """A part that a stranger put, or can put in its place, is not run."""
    names = ["folder of folders", "folder", "file"]
    if os.geteuid() != 0:
        for name in names + ["link"]:
            sheets.holds(f"a stranger's {name} # SKIP only root gives away", [])
        return
    copy.put("echo ran")
    result = copy.run()
    sheets.holds("one's own part is run",
                 [] if result.stdout == "ran\n" else [result])
    for name, place in zip(names, copy.places):
        os.chown(place, STRANGER, STRANGER)
        sheets.holds(f"a stranger's {name}", copy.refuses())
        os.chown(place, 0, 0)
    elsewhere = shutil.move(copy.drawer, copy.folder)
    os.symlink(elsewhere, copy.drawer)
    result = copy.run()
    sheets.holds("one's own link", [] if result.stdout == "ran\n" else [result])
    os.lchown(copy.drawer, STRANGER, STRANGER)
    sheets.holds("a stranger's link", copy.refuses())


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
    """Whether a condition comes true within some seconds."""
    for _ in range(500):
        if condition():
            return True
        time.sleep(0.02)
    return False


def child_of(process):
    """The part that draws, once it has started and stands still; or None."""
    found = []

    def stands_still():
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

    return int(found[0]) if waits_for(stands_still) else None


def check_held(sheets):
    """Told to end while the part that draws waits for ever: for somebody who
    reads what it writes."""
    pipe = sheets.path("pipe.svg")
    os.mkfifo(pipe)
    for number in ENDING:
        words = [sheets.program, "card", "mix", "350", "500", "-o", pipe,
                 "--force"]
        with subprocess.Popen(words, stdout=subprocess.DEVNULL,
                              stderr=subprocess.DEVNULL) as process:
            child = child_of(process)
            assert child, "the part that draws waits at the pipe"
            process.send_signal(number)
            ended = waits_for(lambda: process.poll() is not None) and \
                waits_for(lambda: state_of(child) is None)
            if not ended:
                os.kill(child, signal.SIGKILL)
            code = process.wait()
        sheets.holds(f"signal {int(number)} ends one that waits",
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
    """Told to end at any moment: nothing runs on, and no part of a file is
    left."""
    path = sheets.path("end.pdf")
    words = [sheets.program, "card", "temperature",
             *(str(100 + i) for i in range(60)), "-o", path, "--force"]
    for number in ENDING:
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
            wrong.append("it was never in time")
        sheets.holds(f"ended by signal {int(number)}, with its child", wrong)


def main():
    sheets = Sheets(sys.argv[1])
    copy = Copy(sheets, os.path.dirname(sys.argv[2]))
    check_missing(sheets, copy)
    check_breaking_off(sheets, copy)
    check_owner(sheets, copy)
    check_held(sheets)
    check_terminated(sheets)
    sheets.end()


if __name__ == "__main__":
    main()
