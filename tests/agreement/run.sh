#!/bin/sh
# Compares the circles that boreband finds with those that ezdxf finds, over the samples and over generated
# drawings. Makes its own Python environment in target/. Further paths can be given:
#   tests/agreement/run.sh [PATH...]
# SEED and COUNT of the environment choose the generated drawings, BOREBAND a program that is already built.
set -eu
cd "$(dirname "$0")/../.."
. tests/agreement/environment.sh
drawings=$target/agreement-drawings
rm -rf "$drawings"
# The committed samples are what their scripts draw.
rm -rf "$target/samples-drawn"
"$python" samples/draw/build.py "$target/samples-drawn"
(cd "$target/samples-drawn" && find . -type f | sort) | while read -r drawn; do
    cmp "$target/samples-drawn/$drawn" "samples/$drawn"
done
"$python" tests/agreement/generate.py "${SEED:-1}" "${COUNT:-200}" "$drawings"
"$python" tests/agreement/circles.py --boreband "$BOREBAND" --explained tests/agreement/explained.csv \
    samples "$drawings" "$@"
