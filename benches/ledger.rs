//! A ledger of 1,000,000 lines, made up: how long `merge` takes and what memory. LINES of the environment chooses another
//! number.

mod measure;

use std::fs::{self, File};
use std::io::{BufWriter, Write};
use std::path::Path;

use boreband::ledger::{Entry, Found, ScrewHoles, YearSource};
use measure::{peak, run};

const BOREBAND: &str = env!("CARGO_BIN_EXE_boreband");

fn main() {
    let count: u64 = std::env::var("LINES").ok().and_then(|n| n.parse().ok()).unwrap_or(1_000_000);
    let folder = Path::new(env!("CARGO_TARGET_TMPDIR")).join("ledger");
    let _ = fs::remove_dir_all(&folder);
    fs::create_dir_all(&folder).expect("a folder");
    let bytes = make(&folder.join("a.ledger"), count);
    println!("{count} lines, {:.2} GB, {:.0} bytes a line", bytes as f64 / 1e9, bytes as f64 / count as f64);
    println!("| measure (one run) | value |\n| --- | ---: |");
    let merge = |more: &str| format!("'{BOREBAND}' merge a.ledger --format json {more}");
    let spent = run(&folder, &merge(""), &[0, 1]);
    let busy = spent.user + spent.system;
    println!("| time of `merge` | {:.1} s, {busy:.1} s of it processor time |", spent.passed);
    println!("| lines of the picture | {} |", spent.lines);
    let all = run(&folder, &merge("--write csv=a.csv --write html=a.html"), &[0, 1]);
    println!("| time with the CSV and the page | {:.1} s |", all.passed);
    let memory =
        peak(&folder, &[BOREBAND, "merge", "a.ledger", "--write", "csv=a.csv", "--write", "html=a.html"]);
    println!("| peak memory | {:.0} MB |", memory as f64 / 1e6);
}

/// Writes a ledger as a library gives one: each third drawing has screw holes, each ninth findings, each fiftieth is a
/// copy. Its bytes.
fn make(path: &Path, count: u64) -> u64 {
    let mut file = BufWriter::with_capacity(1 << 20, File::create(path).expect("a ledger can be made"));
    file.write_all(b"{\"boreband_ledger\":1}\n").expect("it can be written");
    for n in 0..count {
        let content = if n % 50 == 49 { n - 1 } else { n };
        serde_json::to_writer(&mut file, &entry(n, content)).expect("it can be written");
        file.write_all(b"\n").expect("it can be written");
    }
    file.into_inner().expect("it can be written").metadata().expect("its size").len()
}

fn entry(n: u64, content: u64) -> Entry {
    let digest = blake3::hash(&content.to_le_bytes()).to_hex();
    let thread = ["M3", "M4", "M5", "M6", "1/4-20", "8-32"][(n % 6) as usize];
    let tight = n.is_multiple_of(9);
    let holes = ScrewHoles {
        count: 2 + n % 7,
        first: "H1".into(),
        thread: thread.to_owned(),
        material: Some("low-carbon-steel".to_owned()),
        thickness_mm: Some(1.5),
        thickness_over_diameter: Some(0.38),
        process: Some("punched".to_owned()),
        diameter_mm: 3.65,
        min_mm: 3.65,
        max_mm: 3.7,
        engagement: Some(if tight { 154.0 } else { 76.98 + (n % 20) as f64 }),
        band: Some((80.0, 98.0)),
        verdict: Some(if tight { "tight" } else { "in-band" }.to_owned()),
        confidence: 0.9,
        advice: Some("4X Ø3.6 +0.03/0 THRU".to_owned()),
        ..ScrewHoles::default()
    };
    let found = Found {
        rule: "engagement-above-band".to_owned(),
        level: "fail".to_owned(),
        count: 2 + n % 7,
        hole: Some("H1".into()),
        confidence: 0.9,
        message: "Ø3.3 +0.05/0 gives 154 % to 143 % rolled engagement for M4; 80 to 98 % is allowed (Ø3.554 to Ø3.636)".into(),
        remedy: Some("call out 4X Ø3.6 +0.03/0 THRU".into()),
        ..Found::default()
    };
    Entry {
        path: format!("library/{:04}/part-{n:07}.dxf", n / 200),
        digest: format!("blake3:{digest}"),
        inputs: "07e76531581a43f8c70834189c777fde".to_owned(),
        bytes: 60_000,
        year: Some(1990 + (n % 35) as i16),
        year_source: Some(YearSource::Drawing),
        state: "read".to_owned(),
        unit: "mm".to_owned(),
        holes: 3 + n % 20,
        screw_holes: if n.is_multiple_of(3) { vec![holes] } else { Vec::new() },
        findings: if tight { vec![found] } else { Vec::new() },
        ..Entry::default()
    }
}
