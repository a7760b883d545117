#!/usr/bin/python3
# Copyright the midweight authors. SPDX-License-Identifier: GPL-3.0-or-later
"""Compare the library with the same equations at 50 digits.

    check_mpmath.py LIBRARY.so d2270_lh.csv

Every check runs over seeded random inputs and is one TAP test, which prints the
largest error. The equations are written independently, from the sources that
the headers of the library name; nothing is taken from the code of the library.
Conversions of units are also compared with GNU units, where it is installed.
"""
import ctypes
import random
import shutil
import subprocess
import sys

from mpmath import diff, exp, findroot, log, log10, mp, mpf

sys.path.append(sys.path[0] + "/..")
from tap import Tap

mp.dps = 50

ASTM, WRIGHT = 0, 1
CELSIUS, FAHRENHEIT, KELVIN = 0, 1, 2
MM2_S, STOKES, M2_S, MPA_S, PA_S, POISE, SUS = range(7)
MINERAL, POINTS_MAX = 1, 32

NAN = float("nan")
KELVIN_0 = mpf("273.15")


# --- the library --------------------------------------------------------------

class Point(ctypes.Structure):
    _fields_ = [("viscosity", ctypes.c_double),
                ("temperature", ctypes.c_double)]


class Line(ctypes.Structure):
    _fields_ = [("a", ctypes.c_double), ("b", ctypes.c_double)]


class Oil(ctypes.Structure):
    _fields_ = [("family", ctypes.c_int), ("count", ctypes.c_size_t),
                ("points", Point * POINTS_MAX), ("has_line", ctypes.c_bool),
                ("line", Line), ("residual", ctypes.c_double),
                ("t_low", ctypes.c_double), ("t_high", ctypes.c_double),
                ("density", ctypes.c_double), ("index", ctypes.c_double),
                ("energy", ctypes.c_double)]


class Method(ctypes.Structure):
    _fields_ = [("rule", ctypes.c_int), ("excess", ctypes.c_double)]


library = ctypes.CDLL(sys.argv[1])
library.mw_status_name.restype = ctypes.c_char_p


def convert(argument):
    """A Python value as a C argument; an int stays an int."""
    if isinstance(argument, list):
        kind = type(argument[0])
        kind = ctypes.c_double if kind is float else kind
        return (kind * len(argument))(*argument)
    if isinstance(argument, ctypes.Structure):
        return ctypes.byref(argument)
    return ctypes.c_double(argument) if isinstance(argument, float) \
        else argument


def attempt(name, *arguments):
    """Call mw_NAME with a double as its last pointer: status, result."""
    result = ctypes.c_double(2.385)
    status = getattr(library, "mw_" + name)(
        *[convert(a) for a in arguments], ctypes.byref(result))
    return status, result.value


def call(name, *arguments):
    """The same, where it must succeed: the result, or NaN, which fails."""
    status, result = attempt(name, *arguments)
    return result if status == 0 else NAN


def make_oil(points):
    oil = Oil()
    status = library.mw_oil_make(MINERAL, convert(points),
                                 ctypes.c_size_t(len(points)),
                                 ctypes.c_double(NAN), ctypes.byref(oil))
    assert status == 0, library.mw_status_name(status)
    return oil


# --- the equations at 50 digits -----------------------------------------------

def walther_w(v):
    """ASTM D341."""
    v = mpf(v)
    z = v + mpf("0.7") + exp(mpf("-1.47") - mpf("1.84") * v
                             - mpf("0.51") * v * v)
    return log10(log10(z))


def walther_v(w):
    z = mpf(10) ** (mpf(10) ** w)
    return findroot(lambda v: walther_w(v) - w,
                    (z - mpf("0.7"), (z - mpf("0.7")) * mpf("0.9")))


def chart_x(t):
    return log10(mpf(t) + KELVIN_0)


def line(points):
    """A and B of W = A - B log10 T through two points."""
    (v1, t1), (v2, t2) = points
    b = (walther_w(v1) - walther_w(v2)) / (chart_x(t2) - chart_x(t1))
    return walther_w(v1) + b * chart_x(t1), b


def weighted_line(points, uncertainties):
    """A and B by weighted least squares (Cramer's rule on the normal
    equations); d ln v/dW brings an uncertainty of ln v to W."""
    rows = []
    for (v, t), u in zip(points, uncertainties):
        slope = 1 / diff(lambda ln_v: walther_w(exp(ln_v)), log(mpf(v)))
        rows.append(((slope / mpf(u)) ** 2, chart_x(t), walther_w(v)))
    s, sx, sw = (sum(r[0] * y(r) for r in rows)
                 for y in (lambda r: 1, lambda r: r[1], lambda r: r[2]))
    sxx = sum(p * x * x for p, x, _ in rows)
    sxw = sum(p * x * w for p, x, w in rows)
    d = s * sxx - sx * sx
    return (sxx * sw - sx * sxw) / d, -(s * sxw - sx * sw) / d


def line_w(a_b, t):
    return a_b[0] - a_b[1] * chart_x(t)


def blend_w(rule, lines, shares, t):
    """ASTM D7152: W of a blend of D341 lines at a temperature."""
    if rule == ASTM:
        return sum(f * line_w(ab, t) for ab, f in zip(lines, shares))
    return (sum(f * a / b for (a, b), f in zip(lines, shares)) - chart_x(t)) \
        / sum(f / b for (_, b), f in zip(lines, shares))


def excess(logs, shares, k):
    """K sum f_i f_j (ln v_i/v_j)^2, pair by pair."""
    return mpf(k) * sum(shares[i] * shares[j] * (logs[i] - logs[j]) ** 2
                        for i in range(len(logs)) for j in range(i))


def mixture(rule, k, lines, shares, t):
    logs = [log(walther_v(line_w(ab, t))) for ab in lines]
    return walther_v(blend_w(rule, lines, shares, t)) \
        * exp(excess(logs, shares, k))


def saybolt(v, t):
    """ASTM D2161."""
    v, t = mpf(v), mpf(t)
    at_100 = mpf("4.6324") * v + (1 + mpf("0.03264") * v) / (
        (mpf("3930.2") + mpf("262.7") * v + mpf("23.97") * v ** 2
         + mpf("1.646") * v ** 3) * mpf("1e-5"))
    return (1 + mpf("0.000061") * (t * 9 / 5 + 32 - 100)) * at_100


def silicone(t):
    t = mpf(t)
    return exp(mpf("5.892") * (25 - t) / (KELVIN_0 + t))


def read_lh(path):
    with open(path, encoding="ascii") as file:
        rows = [row.split(",") for row in file if row[0].isdigit()]
    return [tuple(mpf(x) for x in row) for row in rows]


LH = read_lh(sys.argv[2])


def l_and_h(y):
    """ASTM D2270, clause 6."""
    if y > 70:
        return (mpf("0.8353") * y ** 2 + mpf("14.67") * y - 216,
                mpf("0.1684") * y ** 2 + mpf("11.85") * y - 97)
    for (y0, l0, h0), (y1, l1, h1) in zip(LH, LH[1:]):
        if y0 <= y <= y1:
            part = (y - y0) / (y1 - y0)
            return l0 + part * (l1 - l0), h0 + part * (h1 - h0)
    raise ValueError(y)


def viscosity_index(u, y):
    u, y = mpf(u), mpf(y)
    low, high = l_and_h(y)
    if u >= high:
        return 100 * (low - u) / (low - high)
    n = (log10(high) - log10(u)) / log10(y)
    return (mpf(10) ** n - 1) / mpf("0.00715") + 100


def bisect(f, low, high):
    low, high = mpf(low), mpf(high)
    for _ in range(100):
        middle = (low + high) / 2
        low, high = (middle, high) if f(middle) < 0 else (low, middle)
    return low


# --- random inputs ------------------------------------------------------------

rng = random.Random(2385)


def between(low, high):
    return rng.uniform(low, high)


def log_between(low, high):
    return float(low * (high / low) ** rng.random())


def some_shares(n):
    parts = [rng.random() for _ in range(n)]
    return [part / sum(parts) for part in parts]


def some_points():
    """A plausible oil, at 40 and 100 C."""
    v40 = log_between(3, 3000)
    return [Point(v40, 40.0), Point(v40 / between(2.1, 9), 100.0)]


def pairs_of(points):
    return [(p.viscosity, p.temperature) for p in points]


# --- the checks: each yields the result, the expected one, and the tolerance

def check_walther():
    for _ in range(400):
        v = log_between(0.21, 2e7)
        yield call("walther_w", v), walther_w(v), 2e-15
        w = float(walther_w(v))
        yield call("walther_v", w), walther_v(w), 1e-12 * v


def check_line():
    for _ in range(200):
        points, t = some_points(), between(-20, 150)
        a_b, got = line(pairs_of(points)), Line()
        library.mw_line_through(ctypes.byref(points[0]),
                                ctypes.byref(points[1]), ctypes.byref(got))
        yield got.a, a_b[0], 1e-12
        yield got.b, a_b[1], 1e-12
        want = walther_v(line_w(a_b, t))
        yield call("line_at", got, t), want, 2e-12 * want


def check_weighted_fit():
    for _ in range(150):
        n = rng.randint(2, POINTS_MAX)
        a_b, got = line(pairs_of(some_points())), Line()
        known = [log_between(0.003, 0.1) for _ in range(n)]
        points = []
        for i in range(n):
            t = 120.0 * i / (n - 1)
            v = walther_v(line_w(a_b, t)) * exp(rng.gauss(0, 0.01))
            points.append(Point(float(v), t))
        library.mw_line_fit_weighted(
            convert(points), convert(known), ctypes.c_size_t(n),
            ctypes.byref(got), None)
        a, b = weighted_line(pairs_of(points), known)
        yield got.a, a, 1e-12 * a
        yield got.b, b, 1e-12 * b


def check_mixture():
    for _ in range(400):
        n, t = rng.randint(2, 4), between(0, 120)
        k = rng.choice((0, between(-0.2, 0.3)))  # 0: the standard itself
        rule = rng.choice((ASTM, WRIGHT))
        points = [some_points() for _ in range(n)]
        lines = [line(pairs_of(p)) for p in points]
        logs = [log(walther_v(line_w(ab, t))) for ab in lines]
        if max(logs) - min(logs) > log(999):
            continue
        shares = some_shares(n)
        want = mixture(rule, k, lines, shares, t)
        oils = (Oil * n)(*[make_oil(p) for p in points])
        v = ctypes.c_double(NAN)
        library.mw_mixture(oils, convert(shares), ctypes.c_size_t(n),
                           ctypes.c_double(t), ctypes.byref(Method(rule, k)),
                           ctypes.byref(v), None)
        yield v.value, want, 2e-13 * want


def share_by_library(points, target, t, rule, k):
    """The share, or None where the library refuses a large excess."""
    pair = (Oil * 2)(*[make_oil(p) for p in points])
    share = ctypes.c_double(NAN)
    status = library.mw_mixture_share(
        pair, ctypes.c_double(target), ctypes.c_double(t),
        ctypes.byref(Method(rule, k)), ctypes.byref(share), None)
    refused = library.mw_status_name(status) == b"MW_ERR_EXCESS"
    return None if refused else share.value


def check_mixture_share():
    for _ in range(400):
        rule = rng.choice((ASTM, WRIGHT))
        k = rng.choice((0, between(-0.2, 0.3)))
        points, t = [some_points(), some_points()], between(10, 100)
        lines = [line(pairs_of(p)) for p in points]
        ends = [walther_v(line_w(ab, t)) for ab in lines]
        if not 1.05 < max(ends) / min(ends) < 999:
            continue
        target = log_between(1.001 * float(min(ends)),
                             float(max(ends)) / 1.001)
        got = share_by_library(points, target, t, rule, k)
        if got is None:
            continue
        want = findroot(
            lambda f: log(mixture(rule, k, lines, [1 - f, f], t) / target),
            (mpf(0), mpf(1)), solver="anderson", tol=1e-40)
        yield got, want, 1e-12


def check_index():
    for _ in range(200):
        v100 = log_between(2, 150)
        v40 = v100 * between(2.5, 15)
        want = viscosity_index(v40, v100)
        yield call("viscosity_index", v40, v100), want, \
            1e-14 * (100 + abs(want))


def check_index_inverse():
    for _ in range(150):
        v40, index = log_between(25, 2000), between(-50, 300)
        want = bisect(lambda y: viscosity_index(v40, y) - mpf(index), 2, v40)
        yield call("v100_from_index", v40, index), want, 1e-14 * want


def check_saybolt():
    for _ in range(200):
        v, t = log_between(1.82, 1e6), between(-17, 176)
        want = saybolt(v, t)
        yield call("sus", v, t), want, 2e-15 * want
        yield call("viscosity_to_mm2_s", float(want), SUS, NAN, t), mpf(v), \
            2e-14 * v


def check_silicone():
    for _ in range(200):
        t, u, v = between(-20, 100), between(-20, 100), log_between(10, 1e6)
        yield call("silicone_factor", t), silicone(t), 1e-14 * silicone(t)
        want = mpf(v) * silicone(u) / silicone(t)
        yield call("silicone_at", v, t, u), want, 1e-14 * want
        want = -mpf("5.892") * mpf("298.15") / (mpf(t) + KELVIN_0) ** 2
        yield call("silicone_slope", t), want, -1e-14 * want


def ask_units(questions):
    """Ask GNU units for many conversions at once, to 15 digits."""
    lines = "\n".join(f"{have}\n{want}" for have, want in questions)
    answer = subprocess.run(
        ["units", "--terse", "--output-format", "%.15g"], input=lines + "\n",
        capture_output=True, text=True, check=True).stdout
    return [mpf(number) for number in answer.split()]


def check_gnu_units():
    kinds = ((STOKES, "St"), (M2_S, "m^2/s"), (MM2_S, "cSt"), (POISE, "P"),
             (MPA_S, "cP"), (PA_S, "Pa s"))
    asked = []  # question, the result of the library, tolerance; 0: 1e-14
    for _ in range(20):
        for unit, name in kinds:
            value, density = log_between(1e-3, 1e3), between(0.7, 1.1)
            dynamic = unit in (POISE, MPA_S, PA_S)
            by, times = (f"{sign} ({density!r} g/ml)" if dynamic else ""
                         for sign in "/*")
            asked.append(((f"{value!r} {name} {by}", "mm^2/s"),
                          call("viscosity_to_mm2_s", value, unit, density,
                               20.0), 0))
            asked.append(((f"{value!r} mm^2/s {times}", name),
                          call("viscosity_from_mm2_s", value, unit, density,
                               20.0), 0))
        t = between(-40, 300)
        for scale, name in ((FAHRENHEIT, "tempF"), (KELVIN, "tempK")):
            asked.append(((f"{name}({t + 300!r})", "tempC"),
                          call("celsius", t + 300, scale), 1e-12))
            asked.append(((f"tempC({t!r})", name),
                          call("from_celsius", t, scale), 1e-12))
    answers = ask_units([question for question, _, _ in asked])
    for (_, mine, distance), theirs in zip(asked, answers, strict=True):
        yield mine, theirs, distance or 1e-14 * theirs


CHECKS = (
    ("D341: W and its inverse", check_walther, 800),
    ("D341: lines", check_line, 600),
    ("D341: weighted lines", check_weighted_fit, 300),
    ("mixtures with excess, forward", check_mixture, 80),
    ("mixtures with excess, backward", check_mixture_share, 100),
    ("D2270: index", check_index, 200),
    ("D2270: backward", check_index_inverse, 150),
    ("D2161: Saybolt seconds and back", check_saybolt, 400),
    ("silicone law", check_silicone, 600),
    ("GNU units", check_gnu_units, 320),
)


def run(check, least):
    """The result of a check in words, and its misses."""
    count, worst, misses = 0, mpf(0), []
    for got, want, distance in check():
        count += 1
        off = abs(mpf(got) - want) / mpf(distance)
        if off <= 1:
            worst = max(worst, off)
        else:
            misses.append(f"got {got!r}, wanted {mp.nstr(want, 20)}")
    if count < least:
        misses.append(f"fewer than {least} inputs")
    return (f"{count} inputs, worst at {float(worst):.2g} of the tolerance",
            misses)


def main():
    tap = Tap()
    for name, check, least in CHECKS:
        if check is check_gnu_units and not shutil.which("units"):
            tap.holds(f"{name} # SKIP units is not installed", [])
            continue
        words, misses = run(check, least)
        tap.holds(f"{name}: {words}", misses)
    return tap.end()


if __name__ == "__main__":
    sys.exit(main())
