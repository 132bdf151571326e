//! A library of 2,000 drawings: the whole `check`, against `wc -l` over the same files, two jobs against one, and the
//! peak of memory, also over one large drawing, whose time is compared with that of as many bytes of the library. With the
//! variable EZDXF_PYTHON (a Python that has ezdxf) also against a plain script.
//!
//! Needs a POSIX shell, `wc`, and /proc for the memory.

mod common;
mod measure;

use std::fs;
use std::path::Path;

use common::{Form, drawing, median};
use measure::{Spent, peak, run, run_often};

const DRAWINGS: usize = 2_000;
/// Bytes of one large drawing, whose memory and time are measured.
const LARGE: usize = 25_000_000;
/// How often each is measured, in turn, so that a busy moment of the machine meets all of them.
const RUNS: usize = 5;
/// How often `wc` runs for one measure, so that hundredths of a second more or less do not count.
const COUNTS: u32 = 20;
const BOREBAND: &str = env!("CARGO_BIN_EXE_boreband");

const SCRIPT: &str = "\
import sys, ezdxf
for path in sys.argv[1:]:
    for e in ezdxf.readfile(path).modelspace():
        if e.dxftype() in ('CIRCLE', 'TEXT', 'MTEXT'):
            print(e.dxftype(), e.dxf.handle, e.dxf.center if e.dxftype() == 'CIRCLE' else e.dxf.insert)
";

fn main() {
    let folder = Path::new(env!("CARGO_TARGET_TMPDIR")).join("library");
    let bytes = make(&folder, DRAWINGS);
    let few = Path::new(env!("CARGO_TARGET_TMPDIR")).join("library-tenth");
    make(&few, DRAWINGS / 10);
    let of_library = bytes as f64;
    println!("{DRAWINGS} drawings, {:.1} MB", of_library / 1e6);
    let check = |jobs: usize| format!("'{BOREBAND}' check --jobs {jobs} .");
    let (mut wc, mut one, mut two) = (Vec::new(), Vec::new(), Vec::new());
    for _ in 0..RUNS {
        wc.push(run_often(&folder, "wc -l *.dxf", &[0], COUNTS));
        one.push(run(&folder, &check(1), &[0, 1]));
        two.push(run(&folder, &check(2), &[0, 1]));
    }
    let busy = |runs: &[Spent]| median(runs.iter().map(|s| s.user + s.system).collect());
    let passed = |runs: &[Spent]| median(runs.iter().map(|s| s.passed).collect());
    println!("| measure (middle of {RUNS} runs) | value |\n| --- | ---: |");
    for (name, runs) in [("wc -l", &wc), ("check --jobs 1", &one), ("check --jobs 2", &two)] {
        let user = median(runs.iter().map(|s| s.user).collect());
        let system = median(runs.iter().map(|s| s.system).collect());
        println!("| processor time of `{name}`, user + system | {user:.3} + {system:.3} s |");
    }
    println!("| `check --jobs 1` over `wc -l` | {:.1} |", busy(&one) / busy(&wc));
    println!("| bytes checked a second of processor time | {:.0} MB/s |", of_library / 1e6 / busy(&one));
    println!("| time of one job over two | {:.2} |", passed(&one) / passed(&two));
    if let Some(python) = std::env::var_os("EZDXF_PYTHON") {
        let script = folder.with_extension("py");
        fs::write(&script, SCRIPT).expect("the script can be written");
        // All drawings in one go, as a check has them, so that neither's start is counted more than once.
        let spent = run(&folder, &format!("'{}' '{}' *.dxf", python.display(), script.display()), &[0]);
        assert!(spent.lines > DRAWINGS, "the script must list something of each drawing");
        let took = busy(std::slice::from_ref(&spent));
        println!("| processor time of the script ({} lines listed) | {took:.1} s |", spent.lines);
        println!("| script over `check --jobs 1` | {:.0} |", took / busy(&one));
    }
    let peak_of = |folder: &Path| peak(folder, &[BOREBAND, "check", "--jobs", "1", "."]);
    let (all, tenth) = (peak_of(&folder), peak_of(&few));
    println!("| peak memory, one job | {:.1} MB |", all as f64 / 1e6);
    println!("| peak memory, one job, a tenth of the drawings | {:.1} MB |", tenth as f64 / 1e6);
    for form in Form::ALL {
        let folder = Path::new(env!("CARGO_TARGET_TMPDIR")).join("library-large");
        let bytes = drawing(form, LARGE, 1);
        let _ = fs::remove_dir_all(&folder);
        fs::create_dir_all(&folder).expect("a folder for the drawing");
        fs::write(folder.join(name(0)), &bytes).expect("a drawing can be written");
        let most = peak_of(&folder) as f64;
        println!(
            "| peak memory over a drawing of 25 MB, {form} | {:.1} MB, {:.1} times its size |",
            most / 1e6,
            most / bytes.len() as f64
        );
        let took = busy(&[run(&folder, &check(1), &[0, 1])]);
        println!(
            "| processor time of it | {took:.2} s, {:.1} times that of as many bytes of the library |",
            took / bytes.len() as f64 * of_library / busy(&one)
        );
    }
}

fn name(n: usize) -> String {
    format!("part-{n:04}.dxf")
}

/// Writes the drawings, from 6 kB to 200 kB, most of them small, in all four forms; their bytes.
fn make(folder: &Path, count: usize) -> usize {
    let _ = fs::remove_dir_all(folder);
    fs::create_dir_all(folder).expect("a folder for the drawings");
    (0..count)
        .map(|n| {
            let size = 6_000 + 194_000 * (n * 7 % 20).pow(3) / 19_usize.pow(3);
            let bytes = drawing(Form::ALL[n % 4], size, n as u64);
            fs::write(folder.join(name(n)), &bytes).expect("a drawing can be written");
            bytes.len()
        })
        .sum()
}
