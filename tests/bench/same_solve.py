# Copyright the midweight authors. SPDX-License-Identifier: GPL-3.0-or-later
"""The share of 500 in 350 for 420 mm2/s: ASTM D7152 with the excess of
silicone, solved with SciPy in the usual way."""
from math import exp, log, log10

from scipy.optimize import brentq


def w(v):
    return log10(log10(v + 0.7 + exp(-1.47 - 1.84 * v - 0.51 * v * v)))


def miss(share):
    lift = 0.20 * share * (1 - share) * log(500 / 350) ** 2
    return (1 - share) * w(350) + share * w(500) - w(420 * exp(-lift))


print(f"{100 * brentq(miss, 0, 1, xtol=1e-15):.1f} %")
