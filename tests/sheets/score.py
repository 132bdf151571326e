"""Scores what boreband says of generated drawings against their truth, and prints tables.

    python score.py [--boreband PROGRAM] [--misses FILE] [--pairs FILE] [--assert] FOLDER

For each drawing with a `<stem>.truth.json` beside it the program is run twice: `holes` for what it sees, `check` for
its findings. `--misses` writes one line for each miss, `--pairs` one CSV line for each pair with its confidence and
whether it is right, `--assert` ends with 1 if an aim is not reached.
"""

import argparse
import csv
import json
import math
import os
import subprocess
import sys
from collections import Counter, defaultdict
from concurrent.futures import ThreadPoolExecutor
from pathlib import Path

AIMS = {"hole": 0.999, "pair": 0.99, "size": 0.995, "thickness": 0.99, "material": 0.99, "count": 0.99, "reads": 0.99}
WORST = 0.95
FALSE_FINDINGS = 0.005
# A feature with fewer cases than this says nothing about a rate.
ENOUGH = 40
# Whether a hole is right for its screw is judged elsewhere; here only whether it is read right.
VERDICTS = {"engagement-above-band", "engagement-below-band", "tolerance-leaves-band", "engagement-undetermined", "cut-thread-size",
            "tolerance-unknown", "sheet-too-thin", "engagement-too-long", "edge-too-close", "holes-too-close", "boss-wall-thin",
            "material-unsuited", "thickness-unknown", "screw-too-short", "cut-edge-hardened", "trial-missing", "hole-without-callout",
            "blind-hole-shallow", "screw-unsuited"}


class Score:
    """Rights and wrongs by measure and feature."""

    def __init__(self):
        self.right, self.all = Counter(), Counter()
        self.feature_right, self.feature_all = defaultdict(Counter), defaultdict(Counter)
        self.misses, self.pairs = [], []
        self.clean, self.with_false, self.defects, self.found = 0, 0, Counter(), Counter()
        self.false_rules = Counter()

    def say(self, measure, right, features, where, what):
        self.all[measure] += 1
        self.right[measure] += right
        for feature in set(features):
            self.feature_all[measure][feature] += 1
            self.feature_right[measure][feature] += right
        if not right:
            self.misses.append({"measure": measure, "file": where, "what": what, "features": sorted(set(features))})


def main():
    options = arguments()
    score = Score()
    truths = sorted(options.folder.glob("*.truth.json"))
    if not truths:
        sys.exit("no drawing with its truth in that folder")
    with ThreadPoolExecutor(os.cpu_count() or 1) as pool:
        for truth, seen, checked in pool.map(lambda t: ask(options.boreband, t), truths):
            judge(score, truth, seen, checked)
    report(score, len(truths))
    if options.misses:
        options.misses.write_text("".join(json.dumps(m, ensure_ascii=False) + "\n" for m in score.misses), encoding="utf-8")
    if options.pairs:
        with open(options.pairs, "w", newline="", encoding="utf-8") as stream:
            csv.writer(stream).writerows([["file", "by", "confidence", "right"]] + score.pairs)
    sys.exit(1 if getattr(options, "assert") and below(score) else 0)


def arguments():
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    parser.add_argument("--boreband", type=Path, default=Path("target/debug/boreband"))
    parser.add_argument("--misses", type=Path)
    parser.add_argument("--pairs", type=Path)
    parser.add_argument("--assert", action="store_true", help="end with 1 if an aim is not reached")
    parser.add_argument("folder", type=Path)
    return parser.parse_args()


def ask(program, truth_path):
    drawing = Path(str(truth_path).removesuffix(".truth.json") + ".dxf")
    truth = json.loads(truth_path.read_text(encoding="utf-8"))
    truth["file"] = drawing.name
    answers = []
    for command in (["holes", drawing, "--format", "json"], ["check", drawing, "--format", "json", "--fail-on", "never"]):
        run = subprocess.run([program, *command], capture_output=True, timeout=120)
        try:
            answers.append(json.loads(run.stdout))
        except ValueError:
            sys.exit(f"{drawing}: exit {run.returncode}, no JSON: {run.stderr.decode(errors='replace')[:400]}")
    return truth, answers[0], answers[1]


# -- one drawing ---------------------------------------------------------------------------------------------------


def judge(score, truth, seen, checked):
    if seen["state"] != "read":
        score.say("hole", False, truth["features"], truth["file"], f"state {seen['state']}: {seen['problems'][:2]}")
    matched = match(score, truth, seen)
    carriers(seen)
    pairings(score, truth, seen, matched)
    counts(score, truth, seen, matched)
    findings(score, truth, checked)


def near(a, b, size):
    return abs(a - b) <= 1e-4 * max(1.0, size)


def match(score, truth, seen):
    """Each true hole with the reported one; what is reported beyond is a miss of what it really is."""
    rest = list(seen["holes"])
    unit = 25.4 if seen["unit"] == "in" else 1.0
    matched = []
    for hole in truth["holes"]:
        hit = next((h for h in rest if near(h["x"], hole["x"], 100) and near(h["y"], hole["y"], 100)
                    and near(h["drawn_diameter_mm"] / unit, hole["drawn"], hole["drawn"])), None)
        score.say("hole", hit is not None, hole["features"], truth["file"], f"no hole at {hole['x']:.3f}, {hole['y']:.3f} Ø{hole['drawn']:g} (unit {seen['unit']})")
        if hit is not None:
            rest.remove(hit)
        matched.append(hit)
    for other in truth["others"]:
        hit = next((h for h in rest if near(h["x"], other["x"], 100) and near(h["y"], other["y"], 100)
                    and abs(h["drawn_diameter_mm"] / unit - other["diameter"]) <= 1e-3 * other["diameter"]), None)
        score.say("hole", hit is None, ["not-a-hole:" + other["kind"]], truth["file"], f"{other['kind']} Ø{other['diameter']:.3f} taken for a hole")
        if hit is not None:
            rest.remove(hit)
    for hole in rest:
        score.say("hole", False, ["not-a-hole:unknown"], truth["file"], f"hole at {hole['x']}, {hole['y']} is not on the drawing")
    return matched


def carriers(seen):
    """Each callout of the answer by the holes that it has."""
    by_hole = {}
    for callout in seen["callouts"]:
        for hole in callout["holes"]:
            by_hole.setdefault(hole, callout)
    seen["callout_of"] = by_hole


def is_of(callout, true):
    return callout is not None and callout["handle"] in true["handles"]


def pairings(score, truth, seen, matched):
    for hole, hit in zip(truth["holes"], matched):
        if hit is None:
            continue
        where = f"{truth['file']}"
        at = f"{hit['id']} at {hole['x']:.3f}, {hole['y']:.3f}"
        got = hit["callout"]
        features = hole["features"]
        if hole["callout"] == "any":
            right = got is None or any(is_of(got, truth["callouts"][k]) for k in hole["also"])
            want = "none or the one of its other view"
        elif hole["callout"] is None:
            right, want = got is None, "no callout"
        else:
            true = truth["callouts"][hole["callout"]]
            right, want = is_of(got, true), " ".join(true["text"])
            if hole["spoiled"]:
                right = right or got is None
        score.say("pair", right, features, where, f"{at}: wanted {want!r}, got {got and got['text']!r} by {hit['paired_by']} {hit['confidence']}")
        if got is not None:
            score.pairs.append([truth["file"], hit["paired_by"], hit["confidence"], int(right)])
        thick, want_thick = hit["thickness_mm"], hole["thickness_mm"]
        if truth["defect"] != "thickness-conflict" and truth["defect"] != "unit-doubtful":
            same = thick is None if want_thick is None else thick is not None and abs(thick - want_thick) <= 1e-4 + 2e-3 * want_thick
            thick_features = [f for f in features if f.startswith(("thickness", "title", "language", "mode", "unit", "version", "header", "view"))]
            score.say("thickness", same, thick_features, where, f"{at}: thickness {thick}, wanted {want_thick}")
        if hole["material"] != "any":
            metal_features = [f for f in features if f.startswith(("thickness", "title", "language", "mode", "view"))]
            same = hit["material"] == hole["material"]
            score.say("material", same, metal_features, where, f"{at}: material {hit['material']}, wanted {hole['material']}")
        if hole["callout"] == "any" or not right or hole["spoiled"] or truth["defect"] == "unit-doubtful":
            continue
        sizes(score, truth, hole, hit, at)


def sizes(score, truth, hole, hit, at):
    """Nominal and limits, where the drawing states them."""
    got = hit["diameter"]
    wrong = []
    if not hole["unsized"]:
        for key in ("nominal_mm", "min_mm", "max_mm"):
            want = hole.get(key)
            if want is None:
                continue
            tolerance = 1e-4 if hole["callout"] is not None else 2e-3 * want
            if got.get(key) is None or abs(got[key] - want) > tolerance:
                wrong.append(f"{key} {got.get(key)} wanted {want:.4f}")
    if hole.get("screw") and (hit["screw"] is None or not same_thread(hit["screw"]["thread"], hole["screw"])):
        wrong.append(f"screw {hit['screw']} wanted {hole['screw']}")
    said = hit["callout"]["text"] if hit["callout"] else "nothing"
    score.say("size", not wrong, hole["features"], truth["file"], f"{at}: {'; '.join(wrong)} from {said!r}")


def same_thread(got, want):
    return got.replace("#", "").split()[0].split("x")[0] == want.replace("#", "")


def counts(score, truth, seen, matched):
    """Count as written, and as many holes as the callout speaks of."""
    extra = {id(hit) for hole, hit in zip(truth["holes"], matched) if hole["callout"] == "any" and hit is not None}
    ids = {hit["id"] for hit in seen["holes"] if id(hit) in extra}
    for index, true in enumerate(truth["callouts"]):
        mine = [c for c in seen["callouts"] if c["handle"] in true["handles"] and c["holes"]]
        holes = {h for c in mine for h in c["holes"]} - ids
        read = {c["reads"]["count"] for c in mine} - {None}
        wanted = {hit["id"] for hole, hit in zip(truth["holes"], matched) if hole["callout"] == index and hit is not None}
        if len({tuple(true["handles"])} | {tuple(t["handles"]) for t in truth["callouts"]}) != len(truth["callouts"]):
            # Several callouts in one entity: rows of one table.
            mine = [c for c in mine if wanted.intersection(c["holes"])]
            read = {c["reads"]["count"] for c in mine} - {None}
            holes &= wanted
        count = true["count"]
        right_count = not read and count in (None, 1) or read == {count} or (count in (None, 1) and read <= {1})
        if "carrier:table" in true["features"]:
            right_count = not read or count is None or count in read or read == {1}
        right = bool(right_count) and (true.get("spoiled") or len(holes) == true["holes"])
        what = f"reads count {sorted(read)} on {len(holes)} holes; wanted {count} on {true['holes']}: {' '.join(true['text'])!r}"
        score.say("count", right, true["features"], truth["file"], what)
        rest(score, truth, true, mine)


def rest(score, truth, true, mine):
    """Depth, entry, process and screw of a callout that was found, as the drawing states them."""
    if len(mine) != 1 or "reads" not in true or "carrier:table" in true["features"] or "carrier:general-note" in true["features"]:
        return
    got, wrong = mine[0]["reads"], []
    for key, want in true["reads"].items():
        is_same = (got[key] or None) == (want or None)
        if isinstance(want, float) or isinstance(want, int) and not isinstance(want, bool):
            is_same = got[key] is not None and abs(got[key] - want) <= 1e-4 + 1e-6 * want
        if not is_same:
            wrong.append(f"{key} {got[key]} wanted {want}")
    score.say("reads", not wrong, true["features"], truth["file"], f"{'; '.join(wrong)} from {mine[0]['text']!r}")


def findings(score, truth, checked):
    found = checked["drawings"][0]["findings"]
    if truth["clean"]:
        score.clean += 1
        # A coating that is stated closes the holes that it comes after: a verdict like the others, if it was drawn.
        false = [f for f in found if f["rule"] not in VERDICTS and not (f["rule"] == "coating-closes-hole" and truth["coated"])]
        score.with_false += bool(false)
        for finding in false:
            score.false_rules[finding["rule"]] += 1
            score.misses.append({"measure": "finding", "file": truth["file"], "what": f"{finding['rule']}: {finding['message']}", "features": []})
        return
    for wanted in truth["expected"]:
        score.defects[wanted["rule"]] += 1
        hits = [f for f in found if f["rule"] in (wanted["rule"], wanted.get("or"))]
        score.found[wanted["rule"]] += bool(hits)
        if not hits:
            score.misses.append({"measure": "defect", "file": truth["file"], "what": f"{wanted['rule']} not found", "features": []})


# -- tables --------------------------------------------------------------------------------------------------------


def report(score, drawings):
    print(f"{drawings} drawings, {score.clean} of them clean")
    print("\nmeasure       right      all     rate    aim")
    for measure, aim in AIMS.items():
        rate = score.right[measure] / max(1, score.all[measure])
        print(f"{measure:<11} {score.right[measure]:>7} {score.all[measure]:>8} {100 * rate:>7.2f}% {100 * aim:>6.1f}%")
    rate = score.with_false / max(1, score.clean)
    print(f"clean drawings with a false finding: {score.with_false} of {score.clean}, {100 * rate:.2f} % (aim below {100 * FALSE_FINDINGS} %) {dict(score.false_rules)}")
    for rule, n in sorted(score.defects.items()):
        print(f"defect {rule}: {score.found[rule]} of {n} found")
    print("\nfeature                                   hole           pair           size        thickness       material          count          reads")
    features = sorted({f for by in score.feature_all.values() for f in by})
    for feature in features:
        cells = [cell(score, measure, feature) for measure in AIMS]
        mark = " <" if any(weak(score, m, feature) for m in AIMS) else ""
        print(f"{feature:<34}" + "".join(cells) + mark)
    reliability(score)


def weak(score, measure, feature):
    n = score.feature_all[measure][feature]
    return n >= ENOUGH and score.feature_right[measure][feature] < WORST * n


def cell(score, measure, feature):
    n = score.feature_all[measure][feature]
    if not n:
        return f"{'':>15}"
    return f"{100 * score.feature_right[measure][feature] / n:>8.1f} {n:>6}"


def reliability(score):
    """Pairs by the confidence said, and how many of them were right."""
    print("\nconfidence said     pairs    mean said    right    lower and upper 95 %")
    edges = [0.0, 0.3, 0.5, 0.6, 0.7, 0.8, 0.85, 0.9, 0.95, 0.98, 1.01]
    for low, high in zip(edges, edges[1:]):
        these = [(c, r) for _, _, c, r in score.pairs if low <= c < high]
        if not these:
            continue
        n, right = len(these), sum(r for _, r in these)
        said = sum(c for c, _ in these) / n
        lower, upper = wilson(right, n)
        print(f"{low:.2f} to {min(high, 1.0):.2f}   {n:>9} {said:>11.3f} {right / n:>9.3f}    {lower:.3f} to {upper:.3f}")


def wilson(right, n, z=1.96):
    """Wilson's interval of a proportion."""
    p = right / n
    middle = (p + z * z / (2 * n)) / (1 + z * z / n)
    half = z * math.sqrt(p * (1 - p) / n + z * z / (4 * n * n)) / (1 + z * z / n)
    return middle - half, middle + half


def below(score):
    """Whether any aim is missed."""
    rates = any(score.right[m] < aim * score.all[m] for m, aim in AIMS.items())
    worst = any(weak(score, m, f) for m in AIMS for f in score.feature_all[m])
    return rates or worst or score.with_false >= max(1, FALSE_FINDINGS * score.clean)


if __name__ == "__main__":
    main()
