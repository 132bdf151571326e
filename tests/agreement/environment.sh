# Sourced by the scripts that draw with ezdxf: makes the Python environment in target/ once, and builds the program
# unless BOREBAND names one. Sets `target`, `python` and BOREBAND. The working folder is the project's.
target=${CARGO_TARGET_DIR:-target}
venv=$target/agreement-venv
if ! "$venv/bin/python" -c 'import ezdxf, sys; sys.exit(ezdxf.__version__ != "1.4.5")' 2>/dev/null; then
    python3 -m venv --clear "$venv"
    "$venv/bin/pip" install --quiet --disable-pip-version-check -r tests/agreement/requirements.txt
fi
python=$venv/bin/python
if [ -z "${BOREBAND:-}" ]; then
    cargo build --quiet --bin boreband
    BOREBAND=$target/debug/boreband
fi
PYTHONDONTWRITEBYTECODE=1
export PYTHONDONTWRITEBYTECODE
