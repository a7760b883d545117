#!/usr/bin/python3
# Copyright the midweight authors. SPDX-License-Identifier: GPL-3.0-or-later
"""How often the bands that the program prints hold the truth; print TAP.

    run_program.py PROGRAM RUNS

As coverage.c, but each stock is drawn, entered and asked about through the
command line. A share of so few runs may lie three standard deviations below
92 per cent.
"""
import json
import math
import os
import random
import subprocess
import sys
import tempfile

sys.path.append(sys.path[0] + "/..")
from tap import Tap

GAS = 8.314462618e-3  # kJ/(mol K), CODATA 2018


class Club:
    """Bottles as they are, and the stock that knows of them."""

    def __init__(self, program, folder):
        self.program = program
        self.environment = dict(os.environ, MIDWEIGHT_STOCK=folder + "/db",
                                HOME="/nonexistent")
        self.bottles = {}
        self.k = str(random.uniform(0.1, 0.3) + random.gauss(0, 0.03))

    def run(self, *words):
        return subprocess.run([self.program, *words], env=self.environment,
                              capture_output=True, encoding="utf-8",
                              check=True, timeout=60).stdout

    def band(self, place, *words):
        uncertainty = json.loads(self.run(*words, "--json"))
        for key in place + ("uncertainty",):
            uncertainty = uncertainty[key]
        return uncertainty["low"], uncertainty["high"]

    def add(self, name, v):
        """A label 5 per cent about the truth, 14.61 kJ/mol 1.25 about its."""
        self.bottles[name] = (v * (1 + 0.05 * random.uniform(-1, 1)),
                              14.61 + random.uniform(-1.25, 1.25))
        self.run("stock", "add", name, str(v), "--left", "90ml")

    def v(self, name, t=25):
        v25, energy = self.bottles[name]
        return v25 * math.exp(energy / GAS *
                              (1 / (t + 273.15) - 1 / 298.15))

    def mixed(self, **amounts):
        """What a mix of true oils is at 25 C."""
        parts = [f"{self.v(name):.6f}={ml:.6f}ml"
                 for name, ml in amounts.items()]
        answer = json.loads(self.run("mix", *parts, "--excess", self.k,
                                     "--json"))
        return answer["result"]["viscosity"]


def typed_readings(club):
    club.add("Elm", 350)
    for _ in range(3):
        v = club.v("Elm", 10) * math.exp(random.gauss(0, 0.015))
        club.run("stock", "reading", "Elm", f"{v:.6f}@10C", "--uncertainty",
                 "1.5%")
    return club.v("Elm"), club.band(("at",), "oil", "Elm")


def comparisons(club):
    """Timed to the 0.2 s of a stopwatch, 0.5 K apart at most."""
    club.add("Elm", 350)
    club.add("Larch", 450)
    for _ in range(3):
        apart = random.uniform(-0.5, 0.5)
        ratio = club.v("Larch", 25 + apart) / club.v("Elm")
        club.run("measure", "against", "Elm",
                 f"{60 + random.gauss(0, 0.2):.6f}s",
                 f"{60 * ratio + random.gauss(0, 0.2):.6f}s", "--by", "damper",
                 "--save", "Larch")
    return (club.mixed(Elm=10, Larch=10),
            club.band(("result",), "mix", "Elm=10ml", "Larch=10ml"))


def recorded_mixes(club):
    """Doses to 1 % of the smaller one."""
    club.add("Elm", 200)
    club.add("Larch", 2000)
    poured = [random.uniform(4, 12), random.uniform(4, 12)]
    off = 0.01 * min(poured)
    club.run("mix", f"Elm={poured[0]}ml", f"Larch={poured[1]}ml", "--record",
             "Hall")
    real = [ml + random.gauss(0, off) for ml in poured]
    elm = 10 * real[0] / sum(real)
    more = 5 + random.gauss(0, 0.05)
    return (club.mixed(Elm=elm, Larch=10 - elm + more),
            club.band(("result",), "mix", "Hall=10ml", "Larch=5ml"))


def main():
    program, runs = os.path.abspath(sys.argv[1]), int(sys.argv[2])
    tap = Tap()
    random.seed(2385)
    limit = 92 - 300 * math.sqrt(0.92 * 0.08 / runs)
    for draw in (typed_readings, comparisons, recorded_mixes):
        held = 0
        for _ in range(runs):
            with tempfile.TemporaryDirectory() as folder:
                truth, (low, high) = draw(Club(program, folder))
            held += low <= truth <= high
        percent = 100 * held / runs
        tap.holds(draw.__name__.replace("_", " ") + f": {percent:.1f} % held",
                  [] if percent >= limit else [f"less than {limit:.1f}"])
    return tap.end()


if __name__ == "__main__":
    sys.exit(main())
