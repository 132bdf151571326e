"""Compares the circles that boreband finds with those that ezdxf finds, and both with the truth where it is known.

    python circles.py [--boreband PROGRAM] [--explained FILE] PATH...

A path is a drawing or a folder of drawings. Positions and diameters agree within 1e-6 of their size; spaces and
visibility must be the same. A drawing with `<stem>.truth.json` beside it is compared three ways. Without a program
only ezdxf is compared with the truth.

Ends with 1 if anything differs, or if a file that ezdxf reads is not read by boreband, and the list of explained
differences does not explain it. Files that only boreband reads are listed and are no fault of it.

The list of explained differences is a CSV file with the columns `file` (a pattern for the file's name), `what`
(`unread-boreband`, `only-boreband` or `only-ezdxf`), `count` (how many at most, empty for any) and
`reason`.
"""

import argparse
import csv
import fnmatch
import json
import logging
import math
import subprocess
import sys
from collections import Counter
from pathlib import Path

from ezdxf_circles import Found, Unreadable, find, load

TOLERANCE = 1e-6
# A spline leaves its circle by up to this, relative to the diameter, and where between is the circle is no one's to say.
SPLINE_TOLERANCE = 2e-3
APPROXIMATED = {"spline", "polygon"}


def main():
    logging.getLogger("ezdxf").setLevel(logging.CRITICAL)  # what it repairs is not the question here
    options = arguments()
    explained = read_explained(options.explained)
    tally = Counter()
    failures = []
    for path in drawings(options.paths):
        tally["files"] += 1
        for line in compare_file(path, options.boreband, tally, explained):
            failures.append(line)
    print_table(tally)
    for line in failures:
        print(line)
    for row in explained:
        if row["used"]:
            print(f"explained: {row['file']}: {row['what']} {row['used']}: {row['reason']}")
    if not tally["files"]:
        sys.exit("no drawing under the given paths")
    sys.exit(1 if failures else 0)


def arguments():
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    parser.add_argument("--boreband", type=Path, help="the program; without it only ezdxf is compared with the truth")
    parser.add_argument("--explained", type=Path, help="CSV file of explained differences")
    parser.add_argument("paths", nargs="+", type=Path)
    return parser.parse_args()


def drawings(paths):
    for path in paths:
        if path.is_dir():
            yield from sorted(p for p in path.rglob("*") if p.suffix.lower() == ".dxf" and p.is_file())
        else:
            yield path


def read_explained(path):
    if path is None:
        return []
    with open(path, newline="", encoding="utf-8") as stream:
        rows = list(csv.DictReader(stream))
    return [{**row, "used": 0} for row in rows]


def explain(explained, name, what, count):
    """Whether a row explains this many differences of this kind in this file."""
    for row in explained:
        if fnmatch.fnmatch(name, row["file"]) and row["what"] == what:
            if not row["count"] or count <= int(row["count"]):
                row["used"] += count
                return True
    return False


# -- one file ----------------------------------------------------------------------------------------------------


def compare_file(path, program, tally, explained):
    """The unexplained differences of one file, as lines."""
    ours, ours_why = by_program(path, program)
    theirs, theirs_why = by_ezdxf(path)
    truth = known(path)
    if truth is not None and theirs is not None:
        yield from pair_up(path, "truth", truth, "ezdxf", theirs, tally, [])
    if program is None:
        return
    if ours is None and theirs is None:
        tally["read by neither"] += 1
        return
    if ours is None:
        tally["read by ezdxf only"] += 1
        if not explain(explained, path.name, "unread-boreband", 1):
            yield f"{path}: read by ezdxf but not by boreband: {ours_why}"
    if theirs is None:
        tally["read by boreband only"] += 1
        print(f"{path}: read by boreband but not by ezdxf: {theirs_why}")
    if truth is not None and ours is not None:
        yield from pair_up(path, "truth", truth, "boreband", ours, tally, explained)
    if ours is not None and theirs is not None:
        tally["read by both"] += 1
        yield from pair_up(path, "ezdxf", theirs, "boreband", ours, tally, explained)


def by_program(path, program):
    """The circles of `boreband holes`, or none and why not."""
    if program is None:
        return None, "no program given"
    run = subprocess.run([program, "holes", path, "--format", "json"], capture_output=True, timeout=120)
    try:
        report = json.loads(run.stdout)
    except ValueError:
        return None, f"exit {run.returncode}, no JSON; {run.stderr.decode(errors='replace').strip()[:300]}"
    if report["state"] == "unreadable":
        return None, "; ".join(str(p.get("message", p)) for p in report["problems"])[:300]
    circles = [
        Found(c["space"], c["x"], c["y"], c["diameter"], c["visible"], c["made_of"])
        for c in report["circles"]
    ]
    return circles, ""


def by_ezdxf(path):
    try:
        return find(load(path)), ""
    except Unreadable as error:
        return None, str(error)[:300]


def known(path):
    truth = path.with_suffix(".truth.json")
    if not truth.exists():
        return None
    rows = json.loads(truth.read_text(encoding="utf-8"))
    return [Found(r["space"], r["x"], r["y"], r["diameter"], r["visible"], r["made_of"]) for r in rows]


# -- matching ----------------------------------------------------------------------------------------------------


def pair_up(path, left_name, left, right_name, right, tally, explained):
    """Matches two lists of circles one to one and reports what is left of both."""
    agreed, only_left, only_right = match(left, right)
    tally[f"{left_name} = {right_name}"] += agreed
    for name, rest in ((left_name, only_left), (right_name, only_right)):
        if not rest:
            continue
        tally[f"only {name} ({left_name} against {right_name})"] += len(rest)
        what = f"only-{name}"
        if left_name == "ezdxf" and explain(explained, path.name, what, len(rest)):
            continue
        other = right_name if name == left_name else left_name
        for circle in rest[:5]:
            yield (
                f"{path}: {name} but not {other}: {circle.space} x {circle.x:.9g} y {circle.y:.9g} "
                f"diameter {circle.diameter:.9g} {'visible' if circle.visible else 'hidden'} {circle.made_of}"
            )
        if len(rest) > 5:
            yield f"{path}: {name} but not {other}: {len(rest) - 5} more"


def match(left, right):
    """How many agree, and what is left of each list."""
    waiting = {}
    for circle in right:
        waiting.setdefault(key(circle), []).append(circle)
    agreed, only_left = 0, []
    for circle in left:
        for cell in cells(circle):
            candidates = waiting.get(cell, [])
            hit = next((c for c in candidates if same(circle, c)), None)
            if hit is not None:
                candidates.remove(hit)
                agreed += 1
                break
        else:
            only_left.append(circle)
    return agreed, only_left, [c for rest in waiting.values() for c in rest]


def key(circle):
    """A coarse cell that a circle falls into; `cells` gives the neighbours too."""
    return (circle.space, circle.visible, octave(circle.diameter))


def cells(circle):
    space, visible, size = key(circle)
    return [(space, visible, size + step) for step in (0, -1, 1)]


def octave(diameter):
    return math.floor(math.log2(diameter)) if diameter > 0.0 else 0


def same(a, b):
    # What is approximated says so on both sides; the truth names nothing else.
    approximated = {a.made_of, b.made_of} & APPROXIMATED
    if approximated and a.made_of != b.made_of:
        return False
    size = max(abs(a.x), abs(a.y), a.diameter)
    share = SPLINE_TOLERANCE if "spline" in approximated else TOLERANCE
    near = TOLERANCE * size + (SPLINE_TOLERANCE * a.diameter if "spline" in approximated else 0.0)
    return abs(a.x - b.x) <= near and abs(a.y - b.y) <= near and abs(a.diameter - b.diameter) <= share * a.diameter


def print_table(tally):
    width = max((len(name) for name in tally), default=0)
    for name, count in tally.items():
        print(f"{name:<{width}}  {count:>8}")


if __name__ == "__main__":
    main()
