#!/usr/bin/python3
# Copyright the midweight authors. SPDX-License-Identifier: GPL-3.0-or-later
"""Check the positions of marks and lines on the sheets; TAP.

A position may be off by 0.1 mm. The value of a mark is read from the words of
the PDF, its position from the lines of the SVG: both have the same coordinates.
"""
import math
import sys

from sheets import Sheets, pdf_words, svg_lines

TOLERANCE = 0.1  # mm


def number(text):
    try:
        return float(text)
    except ValueError:
        return math.nan


def near(a, b, good=TOLERANCE):
    return abs(a - b) <= good


def drawn(sheets, *words):
    """The lines and words of one sheet."""
    lines = svg_lines(sheets.draw("sheet.svg", *words))
    _, found = pdf_words(sheets.draw("sheet.pdf", *words))
    return lines, found


# -- The ruler ---------------------------------------------------------------

def spine_of(lines):
    upright = [line for line in lines
               if near(line.ends[0][0], line.ends[1][0], 1e-6)]
    return max(upright, key=lambda l: abs(l.ends[0][1] - l.ends[1][1]))


def ticks_of(lines, x, side):
    """{place: length} of the ticks on one side of an upright line at x."""
    found = {}
    for line in lines:
        (x1, y1), (x2, y2) = line.ends
        if near(x1, x, 1e-3) and near(y1, y2, 1e-3) and (x2 - x1) * side > 0:
            found[y1] = abs(x2 - x1)
    return found


def labels_of(ticks, words, x, side):
    """{place: value} of the ticks that have a number at their end."""
    labels = {}
    for place, length in ticks.items():
        end = x + side * length
        beside = [w for w in words if abs(w.middle - place) < 0.5 and
                  not math.isnan(number(w.text)) and
                  0 < ((w.left - end) if side > 0 else (end - w.right)) < 3]
        if beside:
            nearest = min(beside, key=lambda w: abs(w.left + w.right - 2 * x))
            labels[place] = number(nearest.text)
    return labels


def share_for(sheets, pair, value, more):
    return sheets.ask("mix", *pair, "--target", f"{value:.12g}",
                      *more)["parts"][1]["share"]


def check_ruler(sheets, pair, more=(), paper="A6"):
    lines, words = drawn(sheets, "mix", *pair, "--paper", paper, *more)
    spine = spine_of(lines)
    x = spine.ends[0][0]
    bottom, top = (max(y for _, y in spine.points),
                   min(y for _, y in spine.points))
    misses = []

    def place(share):
        return bottom + share * (top - bottom)

    if not near((bottom - top) % 5, 0, 0.01) and \
            not near((bottom - top) % 5, 5, 0.01):
        misses.append(f"the ruler is {bottom - top} mm long")
    left = sorted(ticks_of(lines, x, -1), reverse=True)
    for i, y in enumerate(left):
        if not near(y, place(i / (len(left) - 1))):
            misses.append(f"share mark {i} at {y}")
    shares = labels_of(ticks_of(lines, x, -1), words, x, -1)
    for y, value in shares.items():
        if not near(y, place(value / 100)):
            misses.append(f"{value} % at {y}")
    right = ticks_of(lines, x, 1)
    labels = labels_of(right, words, x, 1)
    for y, value in labels.items():
        if not near(y, place(share_for(sheets, pair, value, more))):
            misses.append(f"{value} mm2/s at {y}")
    # short marks divide the interval between two numbers evenly
    places, counts = sorted(labels), set()
    for a, b in zip(places, places[1:]):
        short = sorted(y for y in right if a < y < b)
        counts.add(len(short))
        for i, y in enumerate(short):
            value = labels[a] + (labels[b] - labels[a]) * (i + 1) / (
                len(short) + 1)
            if not near(y, place(share_for(sheets, pair, value, more))):
                misses.append(f"{value} mm2/s between, at {y}")
    # and do so all along, where the steps of the numbers are even
    if len(labels) > 1 and max(labels.values()) < 4 * min(labels.values()) \
            and len(counts) > 1:
        misses.append(f"from {min(counts)} to {max(counts)} short marks")
    if len(shares) < 5 or len(labels) < 5 or len(right) <= len(labels):
        misses.append(f"only {len(shares)} shares, {len(labels)} viscosities")
    sheets.holds(f"ruler of {' with '.join(pair)} on {paper}, "
                 f"{len(left)} and {len(right)} marks", misses)


# -- The chart of ASTM D341 --------------------------------------------------

def walther(v):
    z = v + 0.7 + math.exp(-1.47 - 1.84 * v - 0.51 * v * v)
    return math.log10(math.log10(z))


def log_kelvin(t):
    return math.log10(t + 273.15)


def frame_of(lines):
    """left, top, right, bottom of the widest rectangle."""
    boxes = [line for line in lines if len(line.points) in (4, 5) and
             not line.filled]
    box = max(boxes, key=lambda l: max(x for x, _ in l.points) -
              min(x for x, _ in l.points))
    xs, ys = zip(*box.points)
    return min(xs), min(ys), max(xs), max(ys)


def chart_scale(words, frame, upright, scale):
    """The position of a value, by the two outermost numbers of an axis; and the
    numbers with their positions."""
    left, top, _, bottom = frame
    if upright:
        found = [(number(w.text), w.middle) for w in words
                 if w.right < left and left - w.right < 4 and
                 top - 1 < w.middle < bottom + 1]
    else:
        found = [(number(w.text), (w.left + w.right) / 2) for w in words
                 if w.top > bottom and w.top - bottom < 3]
    found = sorted((v, p) for v, p in found if not math.isnan(v))
    (v1, p1), (v2, p2) = found[0], found[-1]
    slope = (p2 - p1) / (scale(v2) - scale(v1))
    return lambda v: p1 + slope * (scale(v) - scale(v1)), found


def bow(points):
    """The largest distance of points from the line through first and last."""
    (x1, y1), (x2, y2) = points[0], points[-1]
    length = math.hypot(x2 - x1, y2 - y1)
    return max(abs((x2 - x1) * (y - y1) - (y2 - y1) * (x - x1)) / length
               for x, y in points)


def curves_of(lines, frame):
    """Heavy lines from the left of the frame to its right."""
    return [line for line in lines if near(line.ends[0][0], frame[0]) and
            near(line.ends[1][0], frame[2]) and line.width > 0.4]


def height(curve, x):
    """y of a curve at x; collinear points may be left out of it."""
    for (x1, y1), (x2, y2) in zip(curve.points, curve.points[1:]):
        if x1 - 1e-3 <= x <= x2 + 1e-3:
            return y1 + (y2 - y1) * (x - x1) / (x2 - x1)
    return math.nan


def check_oil(sheets, oil, family, law, straight, paper="A4"):
    lines, words = drawn(sheets, "chart", oil, "--family", family, "--paper",
                         paper)
    frame = frame_of(lines)
    at_x, celsius = chart_scale(words, frame, False, log_kelvin)
    at_y, viscosities = chart_scale(words, frame, True, walther)
    misses = [f"number {value} of an axis at {place}"
              for at, found in ((at_x, celsius), (at_y, viscosities))
              for value, place in found if not near(at(value), place)]
    # the gridlines are where the numbers are
    for value, place in celsius:
        if not any(near(l.ends[0][0], place, 0.05) and
                   near(l.ends[1][0], place, 0.05) for l in lines):
            misses.append(f"no line at {value} C")
    curves = curves_of(lines, frame)
    if len(curves) != 1 or min(len(celsius), len(viscosities)) < 4:
        misses.append(f"{len(curves)} curves, {len(celsius)} numbers")
    for x, y in curves[0].points:
        # the temperature at x, by bisection
        low, high = -100.0, 300.0
        for _ in range(60):
            middle = (low + high) / 2
            low, high = ((middle, high) if at_x(middle) < x else
                         (low, middle))
        if not near(at_y(law(low)), y):
            misses.append(f"{low:.3f} C: {y}, not {at_y(law(low))}")
    if straight and not bow(curves[0].points) <= TOLERANCE:
        misses.append(f"bowed by {bow(curves[0].points)} mm")
    sheets.holds(f"chart of {oil} on {paper}, bowed by "
                 f"{bow(curves[0].points):.4f} mm", misses)


def line_law(p, q):
    """The D341 line through two points (mm2/s, C)."""
    slope = ((walther(p[0]) - walther(q[0])) /
             (log_kelvin(p[1]) - log_kelvin(q[1])))

    def law(t):
        w = walther(p[0]) + slope * (log_kelvin(t) - log_kelvin(p[1]))
        low, high = 0.21, 2e7
        for _ in range(200):
            middle = math.sqrt(low * high)
            low, high = (middle, high) if walther(middle) < w else (low, middle)
        return low
    return law


def silicone(v25):
    return lambda t: v25 * math.exp(5.892 * (25 - t) / (273.15 + t))


def check_readings(sheets):
    """A disc with a bar from v exp(-2u) to v exp(2u), at its temperature."""
    sheets.stock(["name,viscosity", "Elm,350"])
    assert sheets.run("stock", "reading", "Elm", "391@17C", "--uncertainty",
                      "4").returncode == 0
    lines, words = drawn(sheets, "chart", "Elm", "--at", "31")
    frame = frame_of(lines)
    at_x, _ = chart_scale(words, frame, False, log_kelvin)
    at_y, _ = chart_scale(words, frame, True, walther)
    upright = [l for l in lines if len(l.points) == 2 and
               near(l.ends[0][0], l.ends[1][0], 1e-3)]
    wide = math.exp(2 * 0.04)
    misses = []
    if not any(near(l.ends[0][0], at_x(17)) and
               near(l.ends[0][1], at_y(391 / wide)) and
               near(l.ends[1][1], at_y(391 * wide)) for l in upright):
        misses.append("no error bar")
    if not any(near(l.ends[0][0], at_x(31)) and l.dashed and
               near(abs(l.ends[0][1] - l.ends[1][1]), frame[3] - frame[1])
               for l in upright):
        misses.append("no line for today")
    if "discs are readings" not in " ".join(w.text for w in words):
        misses.append("nothing explains a disc")
    sheets.holds("a reading with its bar, and the present temperature", misses)


# -- Blends ------------------------------------------------------------------

def check_blend(sheets, pair, plain_is_straight):
    lines, words = drawn(sheets, "chart", *pair, "--blend")
    frame = frame_of(lines)
    at_y, _ = chart_scale(words, frame, True, walther)
    curves = curves_of(lines, frame)
    plain, = [curve for curve in curves if curve.dashed]
    used, = [curve for curve in curves if not curve.dashed]
    misses = []
    for i in (0, 10, 37, 50, 82, 100):
        amounts = [f"{pair[0]}={100 - i}", f"{pair[1]}={i}"]
        if 0 < i < 100:
            answer = sheets.ask("mix", *amounts)
        else:
            answer = sheets.ask("mix", *(f"{pair[i // 100]}=1" for _ in "ab"))
        x = frame[0] + i / 100 * (frame[2] - frame[0])
        for curve, name in ((used, "result"), (plain, "plain")):
            if not near(height(curve, x), at_y(answer[name]["viscosity"])):
                misses.append(f"{name}, {i} %: {height(curve, x)}")
    if plain_is_straight and not bow(plain.points) <= TOLERANCE:
        misses.append(f"plain D7152 is bowed by {bow(plain.points)} mm")
    sheets.holds(f"blends of {' with '.join(pair)}", misses)


# -- Labels ------------------------------------------------------------------

def check_labels(sheets):
    sheets.stock(["name,viscosity", "Elm,350", "Larch,500", "Oak,1000",
                  "Yew,30000", "Ash,2385"])
    lines = svg_lines(sheets.draw("labels.svg", "label"))
    misses = []
    for axis, pitch, count in ((0, 50, 4), (1, 30, 3)):
        # what is written on stays within a label
        cuts = sorted(l.ends[0][axis] for l in lines if len(l.points) == 2 and
                      near(l.ends[0][axis], l.ends[1][axis], 1e-3) and
                      abs(l.ends[0][1 - axis] - l.ends[1][1 - axis]) > 50)
        gaps = [b - a for a, b in zip(cuts, cuts[1:])]
        if len(cuts) != count or not all(near(g, pitch) for g in gaps):
            misses.append(f"cuts at {cuts}")
    sheets.holds("labels of 50 x 30 mm", misses)


def main():
    sheets = Sheets(sys.argv[1])
    check_ruler(sheets, ["350", "500"])
    check_ruler(sheets, ["500", "350"])
    check_ruler(sheets, ["500000", "1000000"])
    check_ruler(sheets, ["100", "1000"], paper="A4")
    check_ruler(sheets, ["2385", "73.1k"], ["--at", "12C"], paper="A5")
    check_ruler(sheets, ["30@40C/5@100C", "490@40C/32@100C"],
                ["--family", "mineral"], paper="Letter")
    for paper in ("A4", "A6"):
        check_oil(sheets, "32@40C/5.4@100C", "mineral",
                  line_law((32, 40), (5.4, 100)), True, paper)
    check_oil(sheets, "350@25C/130@100C", "silicone",
              line_law((350, 25), (130, 100)), True)
    check_oil(sheets, "238.5", "silicone", silicone(238.5), False)
    check_oil(sheets, "1M", "silicone", silicone(1e6), False)
    check_readings(sheets)
    check_blend(sheets, ["350", "500"], True)
    check_blend(sheets, ["12k", "238.5"], True)
    check_labels(sheets)
    sheets.end()


if __name__ == "__main__":
    main()
