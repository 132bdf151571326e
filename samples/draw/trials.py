"""Joint tests: trial records of invented parts, and traces with known peaks. No drawing is needed to read them.

The numbers come from a generator that is written out here, so that they are the same with every Python.
"""

import json
import math


class Numbers:
    """Normal numbers from a linear congruential generator (sum of twelve uniform ones)."""

    def __init__(self, seed):
        self.state = seed

    def uniform(self):
        self.state = (self.state * 6364136223846793005 + 1442695040888963407) % 2**64
        return (self.state >> 11) / 2**53

    def normal(self, mean, sd):
        return mean + sd * (sum(self.uniform() for _ in range(12)) - 6.0)


def lid():
    """32 runs at both ends of hole and thickness; passes."""
    numbers = Numbers(7)
    runs = []
    for k in range(32):
        small, thin = k % 2 == 0, k % 4 < 2
        drive = 0.82 + (0.06 if small else 0.0) + (0.0 if thin else 0.04)
        failure = 3.35 + (0.08 if small else 0.0) + (0.0 if thin else 0.12)
        runs.append({
            "hole": 3.6 if small else 3.63,
            "thickness": 1.44 if thin else 1.56,
            "drive": round(numbers.normal(drive, 0.04), 2),
            "failure": round(numbers.normal(failure, 0.13), 2),
            "mode": "strip",
        })
    joint = {
        "screw": {"thread": "M4", "length": 10}, "material": "DC01", "thickness": 1.5, "hardness_hb": 105,
        "process": "punched", "finish": "zinc 5 um", "lubricant": "wax", "driver_rpm": 600,
    }
    head = {"unit": "mm", "torque_unit": "Nm", "test": "Lid screws, lot 3", "part": "GC-104"}
    return head, joint, {"torque": 2.0, "plus_minus": 0.1}, runs


def dry():
    """The lid's screws without wax: the same metal, and a drive torque that leaves too little."""
    numbers = Numbers(23)
    runs = []
    for k in range(30):
        small = k % 2 == 0
        runs.append({
            "hole": 3.6 if small else 3.63,
            "thickness": 1.44 if k % 4 < 2 else 1.56,
            "drive": round(numbers.normal(1.36 if small else 1.30, 0.05), 2),
            "failure": round(numbers.normal(3.45, 0.13), 2),
            "mode": "strip",
        })
    head, joint, _, _ = lid()
    return {**head, "test": "Lid screws, dry"}, {**joint, "lubricant": "none"}, None, runs


def housing():
    """12 runs at one hole and one thickness; the ratio is low, two screws broke, and much is not stated."""
    numbers = Numbers(11)
    runs = []
    for k in range(12):
        broke = k in (4, 9)
        runs.append({
            "hole": 4.55,
            "drive": round(numbers.normal(2.4, 0.2), 2),
            "failure": round(numbers.normal(7.4 if broke else 6.2, 0.3), 2),
            "mode": "screw-break" if broke else "strip",
        })
    joint = {"screw": {"thread": "M5"}, "material": "A380", "thickness": 8.0, "process": "cored"}
    return {"unit": "mm", "torque_unit": "Nm", "test": "Housing, first castings"}, joint, None, runs


# Forming peak, level at the seat, failure peak (lbf·in), angle of the seat (degrees): known to whoever checks.
TRACES = [(16.0, 11.0, 58.0, 2160.0), (17.5, 12.0, 61.0, 2150.0), (15.2, 10.5, 55.5, 2170.0)]


def bracket():
    """Three traces in inches; too few to pass."""
    runs = [
        {"run": f"T{k + 1}", "hole": hole, "thickness": thickness, "trace": f"bracket-8-32-T{k + 1}.csv", "mode": "strip"}
        for k, (hole, thickness) in enumerate([(0.150, 0.0781), (0.152, 0.0781), (0.150, 0.0747)])
    ]
    joint = {
        "screw": {"thread": "#8-32"}, "material": "304", "thickness": 0.0781, "process": "drilled",
        "finish": "passivated", "lubricant": "wax", "driver_rpm": 450,
    }
    return {"unit": "in", "torque_unit": "lbf-in", "test": "Bracket, traces"}, joint, None, runs


def trace(peak, level, failure, seat, seed):
    """Forming climbs over two turns, falls to the level of the seat, climbs within 100 degrees, holds 20, falls."""
    numbers = Numbers(seed)
    lines = ["angle_deg,torque_lbf_in"]
    for k in range(int((seat + 240.0) / 2.0)):
        angle = 2.0 * k
        if angle < 720.0:
            torque = peak * math.sin(0.5 * math.pi * angle / 720.0)
        elif angle < seat:
            torque = peak + (level - peak) * (angle - 720.0) / (seat - 720.0)
        elif angle < seat + 100.0:
            torque = level + (failure - level) * (angle - seat) / 100.0
        elif angle < seat + 120.0:
            torque = failure
        else:
            torque = max(failure - 0.5 * (angle - seat - 120.0), 5.0)
        lines.append(f"{angle:.0f},{numbers.normal(torque, 0.25):.2f}")
    return "\n".join(lines) + "\n"


def write(folder):
    """Writes every record and trace."""
    folder.mkdir(parents=True, exist_ok=True)
    for name, record in [("lid-m4", lid()), ("lid-m4-dry", dry()), ("housing-m5", housing()), ("bracket-8-32", bracket())]:
        (folder / f"{name}.trial.json").write_text(text(*record), encoding="utf-8", newline="\n")
    for k, known in enumerate(TRACES):
        content = trace(*known, seed=100 + k)
        (folder / f"bracket-8-32-T{k + 1}.csv").write_text(content, encoding="utf-8", newline="\n")


def text(head, joint, tool, runs):
    """The record, one run a line."""
    rows = [f'  "format": 1']
    rows += [f"  {json.dumps(key)}: {json.dumps(value)}" for key, value in head.items()]
    rows.append(f'  "joint": {json.dumps(joint)}')
    if tool:
        rows.append(f'  "tool": {json.dumps(tool)}')
    body = ",\n".join("    " + json.dumps(run) for run in runs)
    rows.append(f'  "runs": [\n{body}\n  ]')
    return "{\n" + ",\n".join(rows) + "\n}\n"
