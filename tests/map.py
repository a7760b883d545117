#!/usr/bin/python3
# Copyright the midweight authors. SPDX-License-Identifier: GPL-3.0-or-later
"""Check every include against the map of DEVELOPERS.md; print TAP.

The map is the block below "The map": a line for each floor, the lowest first,
as in "    lib  base" or "    cli  parse output". A room may use the rooms of
lower floors of its tree, and cli/ all of lib/; never one beside it or above.
Includes are rooted ("fluid/oil.h"), so that the room shows.

    map.py ROOT
"""
import os
import re
import sys

from tap import Tap

INCLUDE = re.compile(r'^\s*#\s*include\s+"([^"]+)"', re.M)
# headers outside the rooms: the umbrella, and those that the build makes
FREE = {"midweight.h", "version.h", "d2270_rows.h"}


def read_map(text):
    """{(tree, room): floor}"""
    rooms, floors = {}, {"lib": 0, "cli": 0}
    block = text.split("## The map", 1)[1].split("\n## ", 1)[0]
    for line in block.splitlines():
        match = re.fullmatch(r"    (lib|cli)  ([a-z ]+?)(?:  # .*)?", line)
        if match:
            tree = match[1]
            floors[tree] += 1
            for room in match[2].split():
                assert (tree, room) not in rooms, f"{room} is there twice"
                rooms[tree, room] = floors[tree]
    return rooms


def room_of(path):
    """The room of a path such as lib/fluid/oil.c; None for cli/main.c."""
    parts = path.split("/")
    return parts[1] if len(parts) > 2 else None


def faults_of(path, text, rooms):
    tree, room = path.split("/")[0], room_of(path)
    if room is not None and (tree, room) not in rooms:
        yield f"{path}: the room {room} has no line in the map"
        return
    for name in INCLUDE.findall(text):
        if name in FREE:
            continue
        other = name.split("/")[0] if "/" in name else None
        if other is None:
            yield f"{path}: {name} names no room"
        elif room is None or other == room:
            continue
        elif (tree, other) in rooms:
            if rooms[tree, other] >= rooms[tree, room]:
                yield f"{path}: {room} may not use {other} ({name})"
        elif not (tree == "cli" and ("lib", other) in rooms):
            yield f"{path}: {name} is in no room that {tree}/ may use"


def sources(root):
    for tree in ("lib", "cli"):
        for folder, _, files in os.walk(os.path.join(root, tree)):
            for file in sorted(files):
                if file.endswith((".c", ".h")):
                    path = os.path.join(folder, file)
                    with open(path, encoding="utf-8") as source:
                        yield os.path.relpath(path, root), source.read()


def check(root):
    """The faults of a tree, the number of its files, and its rooms."""
    with open(os.path.join(root, "DEVELOPERS.md"), encoding="utf-8") as file:
        rooms = read_map(file.read())
    wrong, used, count = [], set(), 0
    for path, text in sources(root):
        wrong += faults_of(path, text, rooms)
        used.add((path.split("/")[0], room_of(path)))
        count += 1
    wrong += [f"{tree}/{room} is in the map only" for tree, room in rooms
              if (tree, room) not in used]
    return wrong, count, rooms


# what the test must find, and what it must pass: path, text, number of faults
SAMPLES = [
    ("lib/fluid/oil.c", '#include "base/status.h"', 0),
    ("lib/fluid/oil.c", '#include "uncertainty/budget.h"', 1),
    ("lib/base/root.c", '#include "fluid/oil.h"', 1),
    ("lib/fluid/oil.c", '#include "oil.h"', 1),
    ("lib/fluid/oil.c", '#include "util/error.h"', 1),
    ("lib/attic/oil.c", '', 1),
    ("cli/mix/read.c", '#include "fluid/oil.h"\n#include "store/stock.h"', 0),
    ("cli/mix/read.c", '#include "hold/hold.h"', 1),
    ("cli/parse/number.c", '#include "output/text.h"', 1),
    ("cli/main.c", '#include "mix/command.h"', 0),
]


def main():
    wrong, count, rooms = check(sys.argv[1])
    if count <= 100 or len(rooms) <= 15:
        wrong.append("too few to be all of them")
    tap = Tap()
    tap.holds(f"{count} files keep to the map of {len(rooms)} rooms", wrong)
    for path, text, faults in SAMPLES:
        found = list(faults_of(path, text, rooms))
        tap.holds(f"{path} with {text!r}: {faults} wrong",
                  [found] if len(found) != faults else [])
    sys.exit(tap.end())


main()
