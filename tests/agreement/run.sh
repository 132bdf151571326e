#!/bin/sh
# Compares the circles that boreband finds with those that ezdxf finds, over the samples and over generated
# drawings. Makes its own Python environment in target/. Further paths can be given:
#   tests/agreement/run.sh [PATH...]
# SEED and COUNT of the environment choose the generated drawings, BOREBAND a program that is already built.
set -eu
cd "$(dirname "$0")/../.."
target=${CARGO_TARGET_DIR:-target}
venv=$target/agreement-venv
drawings=$target/agreement-drawings
if ! "$venv/bin/python" -c 'import ezdxf, sys; sys.exit(ezdxf.__version__ != "1.4.5")' 2>/dev/null; then
    python3 -m venv --clear "$venv"
    "$venv/bin/pip" install --quiet --disable-pip-version-check -r tests/agreement/requirements.txt
fi
if [ -z "${BOREBAND:-}" ]; then
    cargo build --quiet --bin boreband
    BOREBAND=$target/debug/boreband
fi
rm -rf "$drawings"
PYTHONDONTWRITEBYTECODE=1
export PYTHONDONTWRITEBYTECODE
# The committed samples are what their scripts draw.
rm -rf "$target/samples-drawn"
"$venv/bin/python" samples/draw/build.py "$target/samples-drawn"
(cd "$target/samples-drawn" && find . -type f | sort) | while read -r drawn; do
    cmp "$target/samples-drawn/$drawn" "samples/$drawn"
done
"$venv/bin/python" tests/agreement/generate.py "${SEED:-1}" "${COUNT:-200}" "$drawings"
"$venv/bin/python" tests/agreement/circles.py --boreband "$BOREBAND" --explained tests/agreement/explained.csv \
    samples "$drawings" "$@"
