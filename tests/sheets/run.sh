#!/bin/sh
# Makes whole drawings with their truth, asks boreband about them, and prints how often it is right, by feature:
#   tests/sheets/run.sh [--assert]
# SEED and COUNT of the environment choose the drawings, BOREBAND a program that is already built. The drawings, the
# misses and the pairs with their confidence stay in target/sheets.
set -eu
cd "$(dirname "$0")/../.."
. tests/agreement/environment.sh
rm -rf "$target/sheets"
mkdir -p "$target/sheets"
"$python" tests/sheets/generate.py "${SEED:-1}" "${COUNT:-200}" "$target/sheets/drawings"
"$python" tests/sheets/score.py --boreband "$BOREBAND" --misses "$target/sheets/misses.jsonl" \
    --pairs "$target/sheets/pairs.csv" "$@" "$target/sheets/drawings"
