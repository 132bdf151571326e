#!/bin/sh
# Audits a library on two workers of a Dask cluster on this machine, kills one of them midway, and compares what comes
# out with one run. Makes its own Python environment in target/. BOREBAND of the environment names a program that is
# already built.
set -eu
cd "$(dirname "$0")/../.."
target=${CARGO_TARGET_DIR:-target}
venv=$target/cluster-venv
if ! cmp -s tests/cluster/requirements.txt "$venv/requirements.txt"; then
    python3 -m venv --clear "$venv"
    "$venv/bin/pip" install --quiet --disable-pip-version-check -r tests/cluster/requirements.txt
    cp tests/cluster/requirements.txt "$venv/requirements.txt"
fi
if [ -z "${BOREBAND:-}" ]; then
    cargo build --quiet --bin boreband
    BOREBAND=$target/debug/boreband
fi
PYTHONDONTWRITEBYTECODE=1
export PYTHONDONTWRITEBYTECODE
"$venv/bin/python" tests/cluster/lost_worker.py --boreband "$BOREBAND"
