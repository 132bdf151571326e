"""Compares what boreband says of threads, fits and stress areas with independent sources.

    python compare.py --boreband PATH

Threads, stress areas and the strip formulas against the package screw-thread-lib (ASME B1.1-2019 values and
FED-STD-H28/2B table II.B.1), ISO 286 grades against the package pressfit, metric stress areas against ISO 898-1.
The program is asked through its command line wherever it prints the value; the table of grades is read as a file.
"""

import argparse
import csv
import json
import subprocess
import sys
from pathlib import Path

from pressfit.tables import GRADES, it_value
from screw_thread_lib import Assembly
from screw_thread_lib.data import ASME_M_6g6H_dict, ASME_UN_2A2B_dict

HERE = Path(__file__).resolve().parent
TABLES = HERE.parent.parent / "src" / "trade" / "tables"
IN = 25.4

compared = 0
wrong = []


def same(what, found, expected, within):
    """Notes a comparison; `within` is the rounding of the source."""
    global compared
    compared += 1
    if found is None or abs(found - expected) > within + 1e-12:
        wrong.append(f"{what}: found {found}, expected {expected} within {within}")


class Program:
    def __init__(self, path):
        self.path = path

    def size(self, *arguments):
        run = subprocess.run(
            [self.path, "size", *arguments, "--format", "json"], capture_output=True, text=True, check=False
        )
        if run.returncode != 0:
            wrong.append(f"size {' '.join(arguments)}: {run.stderr.strip()}")
            return None
        return json.loads(run.stdout)


def threads(program):
    """Every thread of the package: sizes, stress area, and the length formulas (14) and (16)."""
    # Both sets are in inches, the metric threads too.
    sets = [("ASME_UN_2A2B", ASME_UN_2A2B_dict, True), ("ASME_M_6g6H", ASME_M_6g6H_dict, False)]
    for database, rows, inch in sets:
        for name, row in rows.items():
            asked = name if inch else name.replace("-", "x")
            found = program.size(asked, "--thickness", "4mm", "--material", "low-carbon-steel", "--tensile", "340")
            if found is None:
                continue
            thread = Assembly.from_database(database, name)
            same(f"{name} major", found["major_mm"], row["dbsc"] * IN, 1e-6)
            same(f"{name} pitch", found["pitch_mm"], IN / row["n"], 1e-5)
            same(f"{name} pitch diameter", found["pitch_diameter_mm"], thread.d2bsc * IN, 1e-5)
            # The published table rounds the least pitch diameter of the nut, which is the basic one, to .0001 in.
            if inch:
                same(f"{name} D2 min", found["pitch_diameter_mm"] / IN, row["D2min"], 5.1e-5)
            strip = found["strip"]
            area = (thread.As_FEDSTD_1b() if inch else thread.As_ISO()) * IN**2
            same(f"{name} stress area", strip["stress_area_mm2"], area, area * 5e-5 + 5e-4)
            formulas(name, strip, area)


def formulas(name, strip, area):
    """Engagement from which the screw breaks first: the longer of formulas (14) and (16)."""
    if not strip["valid"]:
        return
    length = strip["engagement_mm"]
    ratio = strip["metal_tensile_mpa"] / (strip["screw_tensile_n"] / area)
    by_screw = 2 * area / (strip["screw_area_mm2"] / length)
    by_metal = 2 * area / (strip["nut_area_mm2"] / length * ratio)
    longest = max(by_screw, by_metal)
    same(f"{name} engagement", strip["loads"]["screw_first_from_mm"][1], longest, longest * 2e-3)


def fits(program):
    """Every row of the ISO 286 table whose grade the package has, just inside both ends of its range."""
    rows = list(csv.DictReader((TABLES / "iso286.csv").open(encoding="utf-8")))
    seen = 0
    for row in rows:
        grade, upper = int(row["grade"]), float(row["to_mm"])
        if grade not in GRADES:
            continue
        seen += 1
        for size in (upper, float(row["over_mm"]) + 1e-6):
            same(f"IT{grade} at {size} mm", float(row["it_um"]), it_value(size, grade), 0)
    if seen < 15:
        wrong.append(f"only {seen} rows of iso286.csv were compared")
    # The same through the program: the largest guide hole is the hole with H11 above it.
    for thread, thickness in (("M4", "2.5"), ("M5", "3"), ("M8", "4"), ("M10", "6")):
        found = program.size(thread, "--thickness", thickness, "--material", "low-carbon-steel")
        for guide in found["guide_holes"] if found else []:
            largest = guide["diameter_mm"] + it_value(guide["diameter_mm"], 11) / 1000
            engagement = 100 * (found["major_mm"] - largest) / (0.649519 * found["pitch_mm"])
            same(f"{thread} guide hole H11", guide["engagement_at_max"], engagement, 0.006)


def stress_areas(program):
    """ISO 898-1 gives three digits."""
    for row in csv.DictReader((HERE / "stress_areas.csv").open(encoding="utf-8")):
        found = program.size(row["thread"], "--thickness", "3", "--hole", "2.5")
        area = float(row["area_mm2"])
        digits = 0.0051 if area < 10 else 0.051
        same(f"{row['thread']} stress area ({row['source']})", found and found["strip"]["stress_area_mm2"], area, digits)


def main():
    arguments = argparse.ArgumentParser()
    arguments.add_argument("--boreband", required=True)
    program = Program(arguments.parse_args().boreband)
    threads(program)
    fits(program)
    stress_areas(program)
    for line in wrong:
        print(line)
    print(f"{compared} values compared with independent sources, {len(wrong)} differ")
    # Fewer would mean that a source was not found where it was looked for.
    return 1 if wrong or compared < 120 else 0


if __name__ == "__main__":
    sys.exit(main())
