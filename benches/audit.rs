//! A library of 20,000 drawings, audited in one go, killed five times and resumed, and in seven shards merged: the three
//! pictures must be the same. Against `wc -l` over the same files, two jobs against one, and the peak of memory.
//!
//! Makes a few GB of drawings. Needs a POSIX shell, `find`, `wc`, and /proc for the memory. DRAWINGS of the environment
//! chooses another number.

mod common;
mod measure;

use std::fs;
use std::path::{Path, PathBuf};
use std::process::{Command, Stdio};
use std::time::Duration;

use common::{Form, drawing, median};
use measure::{Spent, peak, run, run_often};

const BOREBAND: &str = env!("CARGO_BIN_EXE_boreband");
const SHARDS: usize = 7;
/// How far the killed runs come, in parts of the time of the whole run.
const KILLS: [f64; 5] = [0.11, 0.31, 0.07, 0.19, 0.23];

fn main() {
    let count = std::env::var("DRAWINGS").ok().and_then(|n| n.parse().ok()).unwrap_or(20_000);
    let folder = Path::new(env!("CARGO_TARGET_TMPDIR")).join("audit");
    let bytes = make(&folder.join("library"), count);
    println!("{count} drawings, {:.2} GB", bytes as f64 / 1e9);
    println!("| measure (one run) | value |\n| --- | ---: |");
    let audit = |ledger: &str, more: &str| {
        format!("'{BOREBAND}' audit library --ledger {ledger} --format json --quiet {more}")
    };
    let codes = [0, 1];
    // Before and after, so that a busy moment of the machine does not meet one of them only.
    let count_lines = || busy(&run_often(&folder, "find library -name '*.dxf' -exec wc -l {} +", &[0], 3));
    let mut counts = vec![count_lines(), count_lines()];
    let whole = run(&folder, &audit("whole.ledger", "--jobs 1"), &codes);
    let picture = fs::read(written(&folder)).expect("the picture");
    counts.extend([count_lines(), count_lines(), count_lines()]);
    let wc = median(counts);
    let two = run(&folder, &audit("two.ledger", "--jobs 2"), &codes);
    let again = run(&folder, &audit("whole.ledger", "--jobs 1"), &codes);
    assert!(
        picture == fs::read(written(&folder)).expect("the picture"),
        "a second run gives the same picture"
    );

    let mut kept = Vec::new();
    for part in KILLS {
        let mut child = Command::new("sh")
            .args(["-c", &format!("exec {}", audit("killed.ledger", "--jobs 2"))])
            .current_dir(&folder)
            .stdout(Stdio::null())
            .stderr(Stdio::null())
            .spawn()
            .expect("the program starts");
        std::thread::sleep(Duration::from_secs_f64(two.passed * part));
        child.kill().expect("the program can be killed");
        child.wait().expect("the program can be waited for");
        kept.push(lines(&folder.join("killed.ledger")));
    }
    run(&folder, &audit("killed.ledger", "--jobs 2"), &codes);
    let resumed = picture == fs::read(written(&folder)).expect("the picture");

    for k in 1..=SHARDS {
        run(&folder, &audit(&format!("shard-{k}.ledger"), &format!("--jobs 2 --shard {k}/{SHARDS}")), &codes);
    }
    let merge = run(&folder, &format!("'{BOREBAND}' merge shard-*.ledger --format json"), &codes);
    let merged = picture == fs::read(written(&folder)).expect("the picture");
    assert!(resumed && merged, "resumed runs the same: {resumed}, merged shards the same: {merged}");
    fs::remove_file(folder.join("two.ledger")).expect("the ledger can be removed");
    let memory = peak(&folder, &[BOREBAND, "audit", "library", "--ledger", "two.ledger", "--jobs", "2"]);

    let ledger = fs::metadata(folder.join("whole.ledger")).expect("the ledger").len();
    println!("| processor time of `wc -l`, the middle of five runs | {wc:.2} s |");
    println!("| processor time of `audit --jobs 1` | {:.2} s |", busy(&whole));
    println!("| `audit --jobs 1` over `wc -l` | {:.1} |", busy(&whole) / wc);
    println!("| drawings a second, one job | {:.0} |", count as f64 / whole.passed);
    println!("| bytes a second, one job | {:.0} MB/s |", bytes as f64 / 1e6 / whole.passed);
    println!("| time of one job over two | {:.2} |", whole.passed / two.passed);
    println!("| a second run, nothing changed, one job | {:.2} s |", again.passed);
    println!("| peak memory, two jobs | {:.1} MB |", memory as f64 / 1e6);
    println!("| ledger, bytes a drawing | {:.0} |", ledger as f64 / count as f64);
    println!("| merge of {SHARDS} shards | {:.2} s |", merge.passed);
    println!("| results kept after each of five kills | {kept:?} |");
    println!("| one run, resumed runs and merged shards | the same {} lines |", whole.lines);
}

/// Processor time.
fn busy(spent: &Spent) -> f64 {
    spent.user + spent.system
}

/// Where `measure::run` keeps what a command wrote.
fn written(folder: &Path) -> PathBuf {
    folder.with_extension("out")
}

fn lines(ledger: &Path) -> usize {
    let bytes = fs::read(ledger).unwrap_or_default();
    bytes.iter().filter(|&&b| b == b'\n').count().saturating_sub(1)
}

/// Drawings in folders of a hundred, each seventh one of the samples with a comment in front, the others made; a hole list
/// for those. Their bytes.
fn make(folder: &Path, count: usize) -> usize {
    let _ = fs::remove_dir_all(folder.parent().expect("a folder around it"));
    fs::create_dir_all(folder).expect("a folder for the drawings");
    let list = r#"{ "format": 1, "unit": "mm", "drawings": [ { "drawing": "**/part-*.dxf", "thickness": 1.5,
        "material": "low-carbon-steel", "holes": [ { "screw": { "thread": "M4" }, "diameter": 3.65 } ] } ] }"#;
    fs::write(folder.join("holes.json"), list).expect("a list can be written");
    let samples = samples();
    let mut bytes = 0;
    for n in 0..count {
        let inner = folder.join(format!("{:03}", n / 100));
        fs::create_dir_all(&inner).expect("a folder");
        let (name, drawing) = if n % 7 == 0 {
            let sample = &samples[n / 7 % samples.len()];
            ("sample", [format!("999\ncopy {n}\n").as_bytes(), sample].concat())
        } else {
            let size = 6_000 + 194_000 * (n * 7 % 20).pow(3) / 19_usize.pow(3);
            ("part", drawing(Form::ALL[n % 4], size, n as u64))
        };
        bytes += drawing.len();
        fs::write(inner.join(format!("{name}-{n:05}.dxf")), drawing).expect("a drawing can be written");
    }
    bytes
}

/// The text drawings among the samples.
fn samples() -> Vec<Vec<u8>> {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("samples");
    let found = walkdir::WalkDir::new(folder).sort_by_file_name().into_iter().flatten();
    let drawings = found.filter(|entry| entry.path().extension().is_some_and(|e| e == "dxf"));
    let read = drawings.map(|entry| fs::read(entry.path()).expect("a sample can be read"));
    read.filter(|bytes| bytes.is_ascii()).collect()
}
