#!/bin/sh
# Writes a report of the samples in every form and holds each to what others publish: SARIF to its JSON Schema (OASIS,
# as the crate serde-sarif carries it), JUnit to a schema that a test runner carries (junit-10.xsd of pytest), the
# workbook and the CSV to independent readers, the page to a browser, the sums of all to each other, and overlays and
# marked copies of the samples in several versions, text and binary, to ezdxf. Makes its own Python environment in
# target/, and installs the browser (Debian's Chromium) where it is missing. BOREBAND of the environment chooses a program
# that is already built.
set -eu
cd "$(dirname "$0")/../.."
. tests/agreement/environment.sh
forms=$target/forms
rm -rf "$forms"
mkdir -p "$forms/schemas"
forms_python=$target/forms-python
if ! cmp -s tests/forms/requirements.txt "$forms_python/requirements.txt"; then
    python3 -m venv --clear "$forms_python"
    "$forms_python/bin/pip" install --quiet --disable-pip-version-check -r tests/forms/requirements.txt
    cp tests/forms/requirements.txt "$forms_python/requirements.txt"
fi
# The schemas, each in one version, from the packages that carry them.
cp tests/forms/schemas.toml "$forms/schemas/Cargo.toml"
: > "$forms/schemas/lib.rs"
cargo vendor --quiet --manifest-path "$forms/schemas/Cargo.toml" "$forms/vendor" > /dev/null
"$forms_python/bin/pip" download --quiet --disable-pip-version-check --no-deps --no-binary :all: \
    --dest "$forms" pytest==8.3.4
tar -xzf "$forms/pytest-8.3.4.tar.gz" -C "$forms" pytest-8.3.4/testing/example_scripts/junit-10.xsd

# Findings make the program end with 1; that is no fault here.
for form in json junit sarif csv xlsx html; do
    set -- "$@" --write "$form=$forms/report.$form"
done
status=0
"$BOREBAND" check samples "$@" > /dev/null || status=$?
test "$status" -le 1
"$forms_python/bin/python" tests/forms/valid.py "$forms" \
    "$forms/vendor/serde-sarif/src/schema.json" "$forms/pytest-8.3.4/testing/example_scripts/junit-10.xsd"

. tests/forms/chromium.sh
# Few drawings stand in the page itself and can be read without a script; many are kept apart.
"$BOREBAND" check samples/lid --fail-on never --write "html=$forms/few.html" > /dev/null
"$forms_python/bin/python" tests/forms/browser.py "$forms/report.html" "$forms/few.html" "$forms/report.json"

# The page of a library, as an audit of the samples writes it.
status=0
"$BOREBAND" audit samples --ledger "$forms/library.ledger" --quiet \
    --write "html=$forms/library.html" --write "json=$forms/library.json" > /dev/null || status=$?
test "$status" -le 1
"$forms_python/bin/python" tests/forms/auditor.py "$forms/library.html" "$forms/library.json"

"$python" tests/forms/marked.py --versions "$BOREBAND" "$forms/marks" samples
