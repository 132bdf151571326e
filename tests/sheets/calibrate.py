"""Fits what a confidence is worth: the monotone map of `src/pairing/confidence.csv`.

    python calibrate.py PAIRS.CSV... > src/pairing/confidence.csv

Takes the pairs that `score.py --pairs` writes, with the confidence as the program says it, and prints for each knot
the share of right pairs, made monotone by pooling neighbours (isotonic regression). The program must say raw values
while the pairs are made: let the map hold only `0,0` and `1,1` before. Use careless drawings (`generate.py --hard`)
beside careful ones; on careful ones alone hardly any pair is wrong and every value comes out as 1.
"""

import csv
import sys

# Raw values between which pairs are counted; narrow where they are many.
EDGES = [0.0, 0.45, 0.55, 0.65, 0.72, 0.8, 0.88, 0.95, 1.01]
# Never said: on paper every pair of a class may have been right.
MOST = 0.99


def main():
    pairs = []
    for path in sys.argv[1:]:
        with open(path, newline="", encoding="utf-8") as stream:
            pairs += [(float(row["confidence"]), int(row["right"])) for row in csv.DictReader(stream)]
    if not pairs:
        sys.exit(__doc__)
    pools = []
    for low, high in zip(EDGES, EDGES[1:]):
        these = [(c, r) for c, r in pairs if low <= c < high]
        if these:
            # One right and one wrong pair are added (Laplace), so that few pairs say little.
            pools.append([sum(c for c, _ in these), sum(r for _, r in these), len(these)])
    merged = []
    for pool in pools:
        merged.append([pool])
        while len(merged) > 1 and share(merged[-2]) > share(merged[-1]):
            merged[-2:] = [merged[-2] + merged[-1]]
    print("raw,said,pairs")
    print("0,0,0")
    last = 0.0
    for group in merged:
        for pool in group:
            said = min(MOST, share(group))
            said = max(said, last + 0.001)  # strictly rising, so that no two raw values become one
            last = said
            print(f"{pool[0] / pool[2]:.3f},{said:.3f},{pool[2]}")
    print(f"1,{last + 0.001:.3f},0")


def share(group):
    right, all_of = sum(p[1] for p in group), sum(p[2] for p in group)
    return (right + 1) / (all_of + 2)


if __name__ == "__main__":
    main()
