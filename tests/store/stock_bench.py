# Copyright the midweight authors. SPDX-License-Identifier: GPL-3.0-or-later
"""What the tests of the stock share: a stock for each test, and TAP."""
import json
import os
import subprocess
import sys
import tempfile
import traceback

sys.path.append(sys.path[0] + "/..")
from schema import schema_misses
from tap import Tap

BOTTLES = os.path.join(os.path.dirname(os.path.abspath(__file__)),
                       "..", "..", "examples", "bottles.csv")


class Stock:
    """A stock file in a folder of its own, and the program to change it."""

    def __init__(self, program, folder):
        self.program = program
        self.folder = folder
        self.path = os.path.join(folder, "stock.db")

    def command(self, *words):
        return [self.program, *words, "--stock", self.path]

    def run(self, *words, **options):
        result = subprocess.run(self.command(*words), capture_output=True,
                                check=False, timeout=120,
                                stdin=subprocess.DEVNULL, **options)
        # decoded here, so that line endings are not converted
        result.stdout = result.stdout.decode()
        result.stderr = result.stderr.decode()
        return result

    def ok(self, *words, **options):
        """Run a command that must succeed; its output."""
        result = self.run(*words, **options)
        assert result.returncode == 0, (words, result)
        assert result.stderr == "", (words, result.stderr)
        if "--json" in words:
            misses = schema_misses(result.stdout)
            assert not misses, (words, misses)
        return result.stdout

    def refused(self, code, *words, **options):
        """Run a command that must fail with a code; its one-line message."""
        result = self.run(*words, **options)
        assert result.returncode == code, (words, result)
        assert result.stdout == "", (words, result.stdout)
        assert result.stderr.startswith("midweight: "), result.stderr
        assert result.stderr.count("\n") == 1, result.stderr
        return result.stderr

    def export(self):
        return self.ok("stock", "export")

    def oils(self):
        return {oil["name"]: oil for oil in
                json.loads(self.ok("stock", "list", "--json"))["oils"]}

    def club(self):
        """The invented club's bottles."""
        self.ok("stock", "import", BOTTLES)
        return self

    def bytes(self):
        with open(self.path, "rb") as file:
            return file.read()

    def write(self, name, content):
        path = os.path.join(self.folder, name)
        with open(path, "wb") as file:
            file.write(content)
        return path


def main(tests):
    """Run each test on a fresh stock; print TAP."""
    program = os.path.abspath(sys.argv[1])
    os.environ.pop("MIDWEIGHT_STOCK", None)
    tap = Tap()
    for test in tests:
        misses = []
        with tempfile.TemporaryDirectory() as folder:
            try:
                test(Stock(program, folder))
            except Exception:  # pylint: disable=broad-except
                misses.append(traceback.format_exc())
        tap.holds(test.__name__.replace("_", " "), misses)
    sys.exit(tap.end())
