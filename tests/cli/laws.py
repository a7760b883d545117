# Copyright the midweight authors. SPDX-License-Identifier: GPL-3.0-or-later
"""The laws behind the answers, written again: what the program is held to."""
import math

GAS = 8.314462618e-3  # kJ/(mol K), CODATA 2018
KELVIN = 273.15
K = 0.20              # the excess of silicone, as lib/blend/rule.h states


def _w(v):
    """ASTM D341 and D7152, for more than 2 mm2/s (read in print)."""
    return math.log10(math.log10(v + 0.7))


def _v(w):
    return 10 ** 10 ** w - 0.7


def mixture(parts, excess=K):
    """(v, share)... by D7152, and the excess of Grunberg and Nissan."""
    ln = math.log(_v(sum(f * _w(v) for v, f in parts)))
    for i, (a, f) in enumerate(parts):
        for b, g in parts[:i]:
            ln += excess * f * g * math.log(a / b) ** 2
    return math.exp(ln)


def blend(one, other, share_of_other):
    return mixture([(one, 1 - share_of_other), (other, share_of_other)])


def _root(f):
    """Where f, which rises over 0 to 1, is zero."""
    low, high = 0.0, 1.0
    for _ in range(80):
        middle = (low + high) / 2
        low, high = (middle, high) if f(middle) < 0 else (low, middle)
    return low


def share(thin, thick, target):
    """Of the thick oil."""
    return _root(lambda f: blend(thin, thick, f) - target)


def wright_share(thin, thick, t, target):
    """Of the thick of two petroleum oils (v40, v100), blended at equal viscosity
    (W. A. Wright, as ASTM D7152 describes it)."""
    low, high, x = (math.log10(u + KELVIN) for u in (40, 100, t))
    at = [low + (_w(target) - _w(v40)) * (high - low) / (_w(v100) - _w(v40))
          for v40, v100 in (thin, thick)]
    return (x - at[0]) / (at[1] - at[0])


def residue(thin, thick, left, part, target):
    """The share of the thin oil beside a part that is left over."""
    return 1 - part - _root(lambda f: mixture(
        [(thin, (1 - part) * (1 - f)), (thick, (1 - part) * f),
         (left, part)]) - target) * (1 - part)


def third(first, part, thin, thick, target):
    """The share of the thick oil beside a fixed one."""
    return (1 - part) * _root(lambda f: mixture(
        [(first, part), (thin, (1 - part) * (1 - f)),
         (thick, (1 - part) * f)]) - target)


def cold(v, t, rated=25):
    """The silicone law: 14.61 kJ/mol."""
    return v * math.exp(14.61 / GAS * (1 / (t + KELVIN) - 1 / (rated + KELVIN)))


def line(v1, t1, v2, t2, t):
    """ASTM D341 through two points."""
    x1, x2, x = (math.log10(u + KELVIN) for u in (t1, t2, t))
    return _v(_w(v1) + (_w(v2) - _w(v1)) * (x - x1) / (x2 - x1))


def rise(v, diameter, depth):
    """Seconds of a bubble with a rigid surface: Stokes, v in mm2/s."""
    return depth / (9.80665 * diameter ** 2 / (18 * v * 1e-6))
