//! The picture of a library as page, table and workbook: pinned, agreeing with each other on every sum, and with nothing
//! of a drawing live in them. Golden files are our own output, read and pinned; `BOREBAND_RENEW=1 cargo test` writes them
//! anew.

mod page;
mod sample;
mod tables;

use std::io;
use std::path::Path;

use boreband::ledger::{Entry, Joined};
use boreband::library::Picture;
use boreband::report::library;
use sample::Library;

type Form = fn(&Picture, &mut Joined, &mut dyn io::Write) -> io::Result<()>;

const CSV: Form = library::csv::write;
const XLSX: Form = library::xlsx::write;
const PAGE: Form = |picture, _, out| library::html::write(picture, out);

fn bytes(entries: &[Entry], form: Form) -> Vec<u8> {
    let Library { picture, mut joined, .. } = Library::of(entries);
    let mut out = Vec::new();
    form(&picture, &mut joined, &mut out).unwrap();
    out
}

fn text(entries: &[Entry], form: Form) -> String {
    String::from_utf8(bytes(entries, form)).unwrap()
}

fn golden(name: &str, got: &str) {
    let path = Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/golden").join(name);
    if std::env::var_os("BOREBAND_RENEW").is_some() {
        std::fs::write(&path, got).unwrap();
    }
    let pinned = std::fs::read_to_string(&path).unwrap_or_default();
    assert_eq!(got, pinned, "{} differs; renew it with BOREBAND_RENEW=1 and read it", path.display());
}

/// Markup, quotes that leave an attribute, a formula, and characters that act.
const HOSTILE: &str = "=HYPERLINK(1)\"><script>alert(1)</script><!--<img src=x onerror='alert(2)'>' onload=\"x\u{202e}\n\u{7}\u{2028}";
