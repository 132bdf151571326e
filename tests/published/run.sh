#!/bin/sh
# Compares what boreband says of threads, fits, stress areas and joint tests with independent packages and published
# values.
# Makes its own Python environment in target/. BOREBAND of the environment names a program that is already built.
set -eu
cd "$(dirname "$0")/../.."
target=${CARGO_TARGET_DIR:-target}
venv=$target/published-venv
if ! cmp -s tests/published/requirements.txt "$venv/requirements.txt"; then
    python3 -m venv --clear "$venv"
    "$venv/bin/pip" install --quiet --disable-pip-version-check -r tests/published/requirements.txt
    cp tests/published/requirements.txt "$venv/requirements.txt"
fi
if [ -z "${BOREBAND:-}" ]; then
    cargo build --quiet --bin boreband
    BOREBAND=$target/debug/boreband
fi
PYTHONDONTWRITEBYTECODE=1
export PYTHONDONTWRITEBYTECODE
"$venv/bin/python" tests/published/compare.py --boreband "$BOREBAND"
"$venv/bin/python" tests/published/tolerance_factors.py --boreband "$BOREBAND"
