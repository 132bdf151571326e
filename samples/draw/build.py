"""Draws every sample and writes its DXF file and hole list. Running it again gives the same bytes.

    python build.py [FOLDER]        (default: the samples folder)
"""

import json
import sys
from pathlib import Path

sys.dont_write_bytecode = True

import blank
import bracket
import convert
import housing
import lid
import plate
import rules
import trials
from page import fix_output

# file, the function that draws it, its hole list (none where the drawing says everything itself)
SAMPLES = [
    ("lid/lid-good.dxf", lid.good, lid.good_list()),
    ("lid/lid-tap-drill.dxf", lid.tap_drill, lid.tap_drill_list()),
    ("lid/lid-open-tolerance.dxf", lid.open_tolerance, lid.open_tolerance_list()),
    ("lid/lid-unit-muddle.dxf", lid.unit_muddle, lid.good_list()),
    ("housing/housing-good.dxf", housing.good, housing.hole_list(with_draft=True)),
    ("housing/housing-mistakes.dxf", housing.mistakes, housing.hole_list(with_draft=False)),
    ("plate/plate-good.dxf", plate.good, plate.good_list()),
    ("plate/plate-mistakes.dxf", plate.mistakes, plate.mistakes_list()),
    ("blank/blank-good.dxf", blank.good, blank.hole_list("reamed")),
    ("blank/blank-as-cut.dxf", blank.as_cut, blank.hole_list("as-cut")),
    ("bracket/bracket-good.dxf", bracket.good, None),
    ("bracket/bracket-thin.dxf", bracket.thin, bracket.thin_list()),
    ("convert/cover.dxf", convert.cover, None),
    ("convert/base.dxf", convert.base, None),
    ("convert/rail.dxf", convert.rail, convert.rail_list()),
    *rules.samples(),
]

# The policies beside samples that need one, by folder.
JUDGE_GUIDE_HOLES = '{ "format": 1, "guide_holes": "judge" }\n'
POLICIES = {
    "lid": JUDGE_GUIDE_HOLES,
    "rules/tolerance-leaves-band": JUDGE_GUIDE_HOLES,
    "rules/trial-missing": '{ "format": 1, "trials": [{}] }\n',
}


def main():
    folder = Path(sys.argv[1]) if len(sys.argv) > 1 else Path(__file__).resolve().parent.parent
    fix_output()
    for name, draw, holes in SAMPLES:
        path = folder / name
        path.parent.mkdir(parents=True, exist_ok=True)
        draw(path)
        if holes:
            write_list(path, *holes)
    trials.write(folder / "trials")
    convert.write_costs(folder / "convert" / "costs.json")
    for name, policy in POLICIES.items():
        (folder / name / "boreband.json").write_text(policy, encoding="utf-8", newline="\n")


def write_list(drawing, unit, facts, rows):
    """Writes the hole list beside its drawing, one hole row a line."""
    head = json.dumps({"drawing": drawing.name, **facts}, ensure_ascii=False)[1:-1]
    body = ",\n".join("        " + json.dumps(row, ensure_ascii=False) for row in rows)
    drawing.with_suffix(".holes.json").write_text(
        f'{{\n  "format": 1,\n  "unit": "{unit}",\n  "drawings": [\n    {{\n      {head},\n'
        f'      "holes": [\n{body}\n      ]\n    }}\n  ]\n}}\n',
        encoding="utf-8",
        newline="\n",
    )


if __name__ == "__main__":
    main()
