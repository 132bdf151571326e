"""Compares the tolerance factors and predicted shares of `boreband trial` with scipy's noncentral t and t.

    python tolerance_factors.py --boreband PATH

The records are made here; the program is asked through its command line, under policies of several limits.
"""

import argparse
import json
import math
import subprocess
import sys
import tempfile
from pathlib import Path

from scipy.stats import nct, norm, t

SIZES = [2, 3, 4, 5, 7, 10, 15, 20, 30, 31, 50, 100, 300, 1000]
LIMITS = [(95, 99), (90, 95), (99, 99.9), (50, 90)]


def record(count):
    """Drive about 3, failure about 12; the tool stops where a share of both is outside."""
    runs = [
        {"drive": 3 + 0.2 * math.sin(k), "failure": 12 + 0.9 * math.cos(1.7 * k), "mode": "strip"} for k in range(count)
    ]
    joint = {"screw": {"thread": "M4"}, "material": "DC01", "thickness": 1.5}
    return {
        "format": 1, "unit": "mm", "torque_unit": "Nm", "joint": joint, "tool": {"torque": 3.4, "plus_minus": 0.1}, "runs": runs,
    }


def evaluate(boreband, folder, count, confidence, coverage):
    (folder / "test.json").write_text(json.dumps(record(count)))
    limits = {"trial-confidence": confidence, "trial-coverage": coverage}
    (folder / "boreband.json").write_text(json.dumps({"format": 1, "limits": limits}))
    run = subprocess.run(
        [boreband, "trial", str(folder / "test.json"), "--format", "json"], capture_output=True, text=True, check=False
    )
    if run.returncode not in (0, 1):
        raise SystemExit(run.stderr)
    return json.loads(run.stdout)["trials"][0]


def share_below(sample, limit):
    """The prediction for one more value."""
    n = sample["count"]
    return t.cdf((limit - sample["mean_nm"]) / (sample["sd_nm"] * math.sqrt(1 + 1 / n)), n - 1)


def main():
    arguments = argparse.ArgumentParser()
    arguments.add_argument("--boreband", required=True)
    boreband = arguments.parse_args().boreband
    wrong, compared = [], 0
    with tempfile.TemporaryDirectory() as folder:
        for count in SIZES:
            for confidence, coverage in LIMITS:
                found = evaluate(boreband, Path(folder), count, confidence, coverage)
                shift = norm.ppf(coverage / 100) * math.sqrt(count)
                factor = nct.ppf(confidence / 100, count - 1, shift) / math.sqrt(count)
                seating = found["seating"]
                for what, value, expected, within in [
                    # The report rounds factors to 1e-4 and torques and shares to 1e-6.
                    ("factor", found["drive"]["factor"], factor, 6e-5 + 1e-6 * factor),
                    ("not driven", seating["not_driven"], 1 - share_below(found["drive"], 3.3), 1e-5),
                    ("failed", seating["failed"], share_below(found["failure"], 3.5), 1e-5),
                ]:
                    compared += 1
                    if not abs(value - expected) <= within:
                        wrong.append(f"{count} runs, {confidence}/{coverage}, {what}: found {value}, expected {expected}")
    for line in wrong:
        print(line)
    print(f"{compared} tolerance factors and shares compared with scipy, {len(wrong)} differ")
    return 1 if wrong or compared != 3 * len(SIZES) * len(LIMITS) else 0


if __name__ == "__main__":
    sys.exit(main())
