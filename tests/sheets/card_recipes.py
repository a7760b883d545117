#!/usr/bin/python3
# Copyright the midweight authors. SPDX-License-Identifier: GPL-3.0-or-later
"""Compare every number that is printed on the cards with the answers of the
other commands; TAP. The words are those of the PDF."""
import math
import re
import sys

from sheets import Sheets, figures, pdf_rows, pdf_words

# target, share, doses, ratio with what it gives, low and high or their half
ROW = re.compile(r"(?P<target>[\d.]+) (?P<share>[\d.]+)"
                  r"(?: (?P<a>[\d.]+)(?P<few_a> ?\*)?"
                  r" (?P<b>[\d.]+)(?P<few_b> ?\*)?)??"
                  r"(?: (?P<m>\d+) : (?P<n>\d+)(?: (?P<gives>[\d.]+))?)?"
                  r" (?:(?P<low>[\d.]+)–(?P<high>[\d.]+)|(?P<doubt>[\d.]+))$")
TITLES = re.compile(r"% B mm²/s % B (?P<doses>A \S+ B \S+ )?(?:A : B )?"
                    r"(?:gives low to high|± %)$")


def recipe_rows(sheets, with_doses, *words):
    """The recipes of a card, as printed."""
    _, found = pdf_words(sheets.draw("card.pdf", "mix", *words))
    titles, = [row for row in pdf_rows(found)
               if TITLES.match(" ".join(w.text for w in row))]
    # the numbers of the ruler are on the same lines, left of the table
    edge = next(w for w in titles if w.text == "mm²/s").right - 0.3
    recipes = []
    for row in pdf_rows([w for w in found if w.right > edge]):
        match = ROW.match(" ".join(word.text for word in row))
        if match:
            recipes.append(match.groupdict())
            if (match["a"] is not None) != with_doses:
                recipes.append({"target": "nan"})
    return recipes


def check(sheets, name, least, pair, more=(), card=(), doses=False):
    """Compare every recipe of a card with mix."""
    misses = []
    recipes = recipe_rows(sheets, doses, *pair, *more, *card)
    for row in recipes:
        answer = sheets.ask("mix", *pair, *more, "--target", row["target"])
        ratio = answer["whole_parts"]
        known = answer["result"]["uncertainty"]
        expected = {"share": f"{100 * answer['parts'][1]['share']:.1f}",
                    "m": None, "n": None}
        if row["doubt"]:
            expected["doubt"] = f"{known['expanded_percent']:.1f}"
        else:
            expected.update(low=figures(known["low"]),
                            high=figures(known["high"]), gives=None)
        if ratio:
            expected.update(m=str(ratio["parts"][0]), n=str(ratio["parts"][1]))
        if ratio and not row["doubt"]:
            expected["gives"] = figures(ratio["viscosity"])
        if doses:
            expected["a"] = figures(answer["parts"][0]["volume_ml"])
            expected["b"] = figures(answer["parts"][1]["volume_ml"])
        for key, value in expected.items():
            if row[key] != value:
                misses.append(f"{row['target']}: {key} is {row[key]}, mix "
                              f"says {value}")
    if len(recipes) < least:
        misses.append(f"only {len(recipes)} recipes")
    sheets.holds(f"{name}: {len(recipes)} recipes", misses)


def check_marks(sheets, name, option, step, unit):
    """Doses in whole marks: they are whole, the batch is within 15 %, and the
    mix misses the target by at most what the card states."""
    words = ["350", "500", "--make", "20ml", option, step]
    text = " ".join(w.text for w in
                    pdf_words(sheets.draw("card.pdf", "mix", *words))[1])
    stated = float(re.search(r"up to ([\d.]+) %", text)[1]) / 100 + 5e-5
    makes = re.search(r"makes ([\d.]+)(?: to ([\d.]+))? ml", text)
    misses, worst, batches = [], 0, []
    recipes = recipe_rows(sheets, True, *words)
    for row in recipes:
        doses = [float(row["a"]), float(row["b"])]
        size = float(step)
        if unit == "drops":
            doses, size = [dose * size for dose in doses], size
        for dose in doses:
            if not abs(dose / size - round(dose / size)) < 1e-6:
                misses.append(f"{dose} is not in steps of {step}")
        for dose, mark in zip(doses, (row["few_a"], row["few_b"])):
            if (dose / size < 9.5) != (mark is not None):
                misses.append(f"{dose} is marked {mark!r}")
        real = "g" if unit == "g" else "ml"
        made = sheets.ask("mix", f"350={doses[0]:.6f}{real}",
                          f"500={doses[1]:.6f}{real}")
        if not 17 - 1e-6 <= made["total_ml"] <= 23 + 1e-6:
            misses.append(f"{row['target']}: a batch of {made['total_ml']}")
        batches.append(made["total_ml"])
        miss = abs(math.log(made["result"]["viscosity"] /
                            float(row["target"])))
        worst = max(worst, miss)
        if not miss <= stated:
            misses.append(f"{row['target']}: missed by {miss}")
    if len(recipes) < 10:
        misses.append(f"only {len(recipes)} recipes")
    expected = figures(min(batches)), figures(max(batches))
    if (makes[1], makes[2] or makes[1]) != expected:
        misses.append(f"makes {makes[0]}, the rows make {expected}")
    sheets.holds(f"{name}: misses by {100 * worst:.3f} %", misses)


def check_step(sheets):
    """Recipes are no nearer to each other than a quarter of the uncertainty,
    both as of ln v; a tight pair has one, a wide one has no hole."""
    for pair, paper, least in ((["350", "500"], "A6", 10),
                               (["350", "400"], "A4", 4),
                               (["350", "370"], "A6", 1),
                               (["350", "352"], "A4", 1),
                               (["100", "1500"], "A6", 9),
                               (["100", "3000"], "A6", 9),
                               (["10", "10000"], "A6", 8),
                               (["10k", "1M"], "A4", 8)):
        rows = recipe_rows(sheets, False, *pair, "--paper", paper)
        misses = [] if len(rows) >= least else [f"{len(rows)} recipes"]
        targets = [float(row["target"]) for row in rows]
        widths = [sheets.ask("mix", *pair, "--target", row["target"])["result"]
                  ["uncertainty"] for row in rows]
        for i, j in zip(range(len(rows)), range(1, len(rows))):
            for wide in (widths[i], widths[j]):
                if not abs(math.log(targets[i] / targets[j])) >= math.log(
                        wide["high"] / wide["low"]) / 8.01:
                    misses.append(f"{targets[i]}, {targets[j]}: {wide}")
        places = sorted([0, 100] + [float(row["share"]) for row in rows])
        if len(rows) > 4:
            misses += [f"nothing from {a} to {b} %" for a, b in
                       zip(places, places[1:]) if b - a > 100 / 3]
        sheets.holds(f"{len(targets)} recipes of {pair} on {paper}", misses)


def check_uncertainty(sheets):
    """Low and high of one recipe by the sums of the GUM, with slopes that mix
    answers: two labels of 5 % (1000 and below) and K of 0.20 +- 0.10."""
    share = sheets.ask("mix", "350", "900", "--target",
                       "600")["parts"][1]["share"]

    def ln_v(first=350.0, second=900.0, excess=0.2):
        answer = sheets.ask("mix", f"{first:.15g}={1 - share:.15f}",
                            f"{second:.15g}={share:.15f}", "--excess",
                            f"{excess:.15g}")
        return math.log(answer["result"]["viscosity"])

    u = 0.05 / math.sqrt(3)
    # of all oils, of oils below 1000, of this pair
    uk = math.hypot(0.10 / math.sqrt(3), 0.08, 0.03)
    parts = [(ln_v(first=350 * math.exp(u)) - ln_v(first=350 * math.exp(-u))),
             (ln_v(second=900 * math.exp(u)) -
              ln_v(second=900 * math.exp(-u))),
             (ln_v(excess=0.2 + uk) - ln_v(excess=0.2 - uk))]
    wide = 2 * math.sqrt(sum((part / 2) ** 2 for part in parts))
    row = [r for r in recipe_rows(sheets, False, "350", "900", "--paper",
                                  "A4")
            if r["target"] == "600"][0]
    expected = (figures(600 * math.exp(-wide)), figures(600 * math.exp(wide)))
    found = (row["low"], row["high"])
    sheets.holds("uncertainty of a mix", [] if found == expected else
                 [f"{found}, expected {expected}"])


def cell_misses(sheets, oil, tuned, t, viscosity, rating):
    """An oil at a temperature, and the rating that keeps the damping there of
    the one it has at tuned."""
    misses = []
    answer = sheets.ask("oil", oil, "--at", t)["at"]["viscosity"]
    if viscosity != figures(answer):
        misses.append(f"{oil} at {t}: {viscosity}, oil says {answer}")
    # the rating is printed to 3 figures, and densities differ by grade
    wanted = sheets.ask("oil", oil, "--at", tuned)["at"]["dynamic_mpas"]
    there = sheets.ask("oil", rating.strip("()"), "--at",
                       t)["at"]["dynamic_mpas"]
    if not (rating.startswith("(") and abs(there / wanted - 1) < 0.006):
        misses.append(f"{oil} at {t}: {rating} is {there} mPa.s there, not "
                      f"{wanted}")
    return misses


def is_fahrenheit(c, f):
    return abs(float(f) - (float(c) * 1.8 + 32)) < 0.06


def check_few_oils(sheets):
    """Two oils side by side, temperatures going down."""
    _, words = pdf_words(sheets.draw(
        "day.pdf", "temperature", "350", "2385", "--tuned-at", "21C",
        "--today", "12", "--from", "0", "--to", "30", "--paper", "A5"))
    rows = [[w.text for w in row] for row in pdf_rows(words)]
    rows = [row for row in rows if re.fullmatch(r"-?[\d.]+", row[0]) and
            len(row) == 6]
    misses = []
    if [row[0] for row in rows] != [
            str(t) for t in sorted([21, *range(0, 31, 2)])]:
        misses.append(f"temperatures {[row[0] for row in rows]}")
    for c, f, *cells in rows[::2]:
        if not is_fahrenheit(c, f):
            misses.append(f"{c} C is {f} F")
        misses += cell_misses(sheets, "350", "21", c, *cells[:2])
        misses += cell_misses(sheets, "2385", "21", c, *cells[2:])
    sheets.holds("two oils over the day", misses)


def column_misses(celsius, least, far, named, begin, end):
    """Temperatures across rise, those that are named are among them, and none
    of the range is farther than far from a column."""
    columns = [float(c) for c in celsius]
    if columns != sorted(set(columns)) or len(columns) < least or \
            not set(named) <= set(columns):
        return [f"columns {celsius}"]
    return [f"{t} C is far from {celsius}" for t in range(begin, end + 1)
            if min(abs(t - c) for c in columns) > far]


def check_spread(sheets):
    """However little room there is, the columns tell of the whole day: nine
    bottles of all sizes, and more than a page of them."""
    few = [100, 200, 300, 350, 400, 500, 1000, 10000, 30000]
    many = [round(10 * 10 ** (5 * i / 39), 2) for i in range(40)]
    for oils, paper, today, least, far in (
            (few, "A6", ["--today", "12"], 4, 7),
            (few, "phone", ["--today", "12"], 3, 7),
            (few, "phone", [], 3, 10), (many, "phone", [], 3, 10),
            (many, "A4", [], 6, 5), (many, "A6", ["--today", "12"], 3, 7)):
        _, words = pdf_words(sheets.draw(
            "day.pdf", "temperature", *map(str, oils), "--paper", paper,
            *today))
        celsius = next([w.text for w in row][1:] for row in pdf_rows(words)
                       if row[0].text == "°C")
        sheets.holds(
            f"{len(oils)} oils on {paper} at {' '.join(celsius)}",
            column_misses(celsius, least, far,
                          [25.0] + [12.0] * (today != []), 5, 35))


def check_many_oils(sheets):
    """Oils below each other, temperatures going across."""
    for paper, most, far in (("A6", 4, 5), ("A4", 6, 3), ("phone", 3, 12)):
        oils = [str(v) for v in range(350, 1050, 100)]
        _, words = pdf_words(sheets.draw(
            "day.pdf", "temperature", *oils, "--tuned-at", "21C", "--today",
            "12", "--from", "0", "--to", "30", "--paper", paper))
        rows = [[w.text for w in row] for row in pdf_rows(words)]
        celsius = next(r for r in rows if r[0] == "°C")[1:]
        fahrenheit = next(r for r in rows if r[0] == "°F")[1:]
        misses = [f"{c} C is {f} F" for c, f in zip(celsius, fahrenheit)
                  if not is_fahrenheit(c, f)]
        misses += column_misses(celsius, most, far, [12.0, 21.0], 0, 30)
        if len(celsius) != len(fahrenheit):
            misses.append(f"columns {celsius}, {fahrenheit}")
        for oil in oils[::2]:
            at = next(i for i, r in enumerate(rows) if r[0] == oil and
                      (r[1:2] or [""])[0][:1] not in ("a", "±"))
            # the ratings are in the row below the viscosities
            below = next(i for i in range(at, len(rows))
                         if rows[i][-1].startswith("("))
            ratings = [w for w in rows[below] if w.startswith("(")]
            found = rows[below - 1][-len(celsius):]
            for c, v, rating in zip(celsius, found, ratings):
                misses += cell_misses(sheets, oil, "21", c, v, rating)
            if len(ratings) != len(celsius):
                misses.append(f"{oil}: cells are missing")
        sheets.holds(f"many oils over the day on {paper}", misses)


def check_label(sheets):
    sheets.stock([
        "kind,name,viscosity,temperature,date,parent,volume_ml",
        ",Elm,350,25,2026-09-01,,", ",Lärche,500,25,2026-09-01,,",
        ",Maple,421,25,2026-10-02,,", "mix,Maple,,25,2026-10-03,,",
        "part,Maple,,,,Elm,9.75", "part,Maple,,,,Lärche,10.4"])
    rows = [" ".join(w.text for w in row) for row in pdf_rows(
        pdf_words(sheets.draw("label.pdf", "label", "Maple", "--paper",
                              "A4"))[1])]
    expected = ["422 422", "25 °C / 77 °F 25 °C / 77 °F", "Maple Maple",
                "Elm 9.75 ml Elm 9.75 ml", "Lärche 10.4 ml Lärche 10.4 ml",
                "2026-10-03 ±4.2 % 2026-10-03 ±4.2 %"]
    sheets.holds("two copies of a label", [f"{line!r} is missing: {rows}"
                                           for line in expected
                                           if line not in rows])
    words = [w.text for w in
             pdf_words(sheets.draw("label.pdf", "label", "421"))[1]]
    sheets.holds("the label of an oil by its viscosity has the date of today",
                 [] if words.count("2026-10-03") == 2 else words)


def check_copies(sheets):
    """Of the whole stock: two labels of what was mixed today, none of an empty
    bottle, one of all else; what is named is asked for."""
    sheets.stock([
        "kind,name,viscosity,temperature,date,left_ml,parent,volume_ml",
        ",Elm,350,25,2026-09-01,60,,", ",Larch,500,25,2026-09-01,0,,",
        ",Oak,1000,25,2026-09-01,,,", ",Maple,421,25,2026-10-03,20,,",
        "mix,Maple,,25,2026-10-03,,,", "part,Maple,,,,,Elm,10",
        "part,Maple,,,,,Larch,10", ",Rowan,421,25,2026-09-03,20,,",
        "mix,Rowan,,25,2026-09-03,,,", "part,Rowan,,,,,Elm,10",
        "part,Rowan,,,,,Larch,10"])
    names = ("Elm", "Larch", "Oak", "Maple", "Rowan")
    for words, expected in (([], (1, 0, 1, 2, 1)),
                            (["--empty"], (1, 1, 1, 2, 1)),
                            (["--copies", "3"], (3, 0, 3, 3, 3)),
                            (["Larch", "Elm"], (2, 2, 0, 0, 0)),
                            (["Larch", "--copies", "1"], (0, 1, 0, 0, 0))):
        _, found = pdf_words(sheets.draw("label.pdf", "label", *words))
        # the names are bold, and larger than those of the parents
        large = [w.text for w in found if w.bottom - w.top > 3.3]
        count = tuple(large.count(name) for name in names)
        sheets.holds(f"labels {' '.join(words)}: {count}",
                     [] if count == expected else [f"not {expected}"])


def check_own_parent(sheets):
    """A mix with a bottle that it was made of: they share its error."""
    sheets.stock([
        "kind,name,viscosity,temperature,tolerance_percent,parent,volume_ml",
        ",Elm,350,25,5,,", ",Larch,500,25,5,,", ",hall,420,25,3.6,,",
        "mix,hall,,25,,,", "part,hall,,,,Elm,5", "part,hall,,,,Larch,5"])
    check(sheets, "a mix with its parent", 8, ["hall", "Elm"])


def main():
    sheets = Sheets(sys.argv[1])
    check(sheets, "neighbours", 12, ["350", "500"])
    check(sheets, "the thicker first", 12, ["500", "350"])
    check(sheets, "wide apart", 8, ["238.5", "12k"])
    check(sheets, "thick", 12, ["10k", "1M"], card=["--paper", "A4"])
    check(sheets, "on a cold morning", 10, ["350", "500"], ["--at", "12C"])
    check(sheets, "steps", 7, ["350", "500"],
          card=["--from", "360", "--to", "480", "--step", "20"])
    check(sheets, "many", 30, ["350", "500"],
          card=["--step", "4.5", "--paper", "A4"])
    check(sheets, "mineral", 8, ["30@40C/5@100C", "490@40C/32@100C"],
          ["--family", "mineral"])
    check(sheets, "a batch", 12, ["350", "500"], ["--make", "4x2.5ml"],
          doses=True)
    check(sheets, "a batch in g", 12, ["350", "500"], ["--make", "20g"],
          doses=True)
    check_marks(sheets, "a syringe", "--syringe", "0.2", "ml")
    check_marks(sheets, "a scale", "--scale", "0.05", "g")
    check_marks(sheets, "drops", "--drop", "0.0185", "drops")
    check_step(sheets)
    check_uncertainty(sheets)
    check_few_oils(sheets)
    check_spread(sheets)
    check_many_oils(sheets)
    check_label(sheets)
    check_copies(sheets)
    check_own_parent(sheets)
    sheets.end()


if __name__ == "__main__":
    main()
