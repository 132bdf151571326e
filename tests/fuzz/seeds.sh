#!/bin/sh
# Fills the corpora of the fuzz targets with small drawings of all kinds: the samples and generated ones, as text and
# binary, and the written forms of callouts. Further files can be given:
#   tests/fuzz/seeds.sh [FILE...]
# Needs the Python environment that tests/agreement/run.sh makes.
set -eu
cd "$(dirname "$0")/../.."
target=${CARGO_TARGET_DIR:-target}
corpus=tests/fuzz/corpus
mkdir -p "$corpus/read_text" "$corpus/read_binary" "$corpus/whole_check" "$corpus/callout" "$corpus/written" "$corpus/ledger"
"$target/agreement-venv/bin/python" tests/agreement/generate.py 7 "${COUNT:-150}" "$target/fuzz-drawings"
find samples "$target/fuzz-drawings" "$@" -type f -iname '*.dxf' -size -100k | while read -r file; do
    name=$(printf '%s' "$file" | cksum | cut -d ' ' -f 1).dxf
    # Binary files begin with a signature that text files cannot have.
    if head -c 18 "$file" | grep -q 'AutoCAD Binary DXF'; then
        cp "$file" "$corpus/read_binary/$name"
    else
        cp "$file" "$corpus/read_text/$name"
    fi
    cp "$file" "$corpus/whole_check/$name"
done
find samples -type f -name '*.json' -size -20k | while read -r file; do
    cp "$file" "$corpus/written/$(printf '%s' "$file" | cksum | cut -d ' ' -f 1).json"
done
# A ledger without its first line, which the target writes.
"${BOREBAND:-$target/debug/boreband}" audit samples/lid --ledger "$target/fuzz.ledger" --quiet > /dev/null || test $? -eq 1
tail -n +2 "$target/fuzz.ledger" > "$corpus/ledger/lid"
"$target/agreement-venv/bin/python" - "$corpus/callout" <<'PYTHON'
import csv, pathlib, sys
for table in ("forms", "not_holes"):
    with open(f"src/callout/{table}.csv", encoding="utf-8", newline="") as rows:
        for number, row in enumerate(csv.DictReader(rows)):
            pathlib.Path(sys.argv[1], f"{table}-{number}").write_text(next(iter(row.values())), encoding="utf-8")
PYTHON
