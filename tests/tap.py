# Copyright the midweight authors. SPDX-License-Identifier: GPL-3.0-or-later
"""The Test Anything Protocol (TAP), for the tests in Python. Those in a folder
below this one reach it by sys.path.append(sys.path[0] + "/..")."""
import os

os.environ["MIDWEIGHT_DEFAULTS"] = "/dev/null"  # not those of the user


class Tap:
    """Prints a line for each test, and the plan at the end."""

    def __init__(self):
        self.count = self.bad = 0

    def holds(self, name, misses):
        """One test, which passes where the list of misses is empty."""
        self.count += 1
        self.bad += bool(misses)
        print(f"{'not ok' if misses else 'ok'} {self.count} - {name}",
              flush=True)
        for miss in misses[:20]:
            print("# " + str(miss).replace("\n", "\n# "))

    def end(self):
        """Print the plan; the exit code, 1 also where no test was run."""
        print(f"1..{self.count}")
        return 1 if self.bad or not self.count else 0
