//! A library of 2,000 drawings: the whole `check`, against `wc -l` over the same files, two jobs against one, and the
//! peak of memory. With the variable EZDXF_PYTHON (a Python that has ezdxf) also against a plain script.
//!
//! Needs a POSIX shell, `wc`, and /proc for the memory.

mod common;

use std::fs;
use std::path::{Path, PathBuf};
use std::process::{Command, Stdio};
use std::time::{Duration, Instant};

use common::{Form, drawing, median};

const DRAWINGS: usize = 2_000;
/// Every how many drawings the script reads one: it takes minutes for all. Shares no divisor with the 4 forms and the
/// 20 sizes that follow one another, so that it meets all of them alike.
const SCRIPT_STEP: usize = 21;
const RUNS: usize = 3;
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
    println!("{DRAWINGS} drawings, {:.1} MB", bytes as f64 / 1e6);
    let check = |jobs: usize| format!("'{BOREBAND}' check --jobs {jobs} .");
    let (mut wc, mut one, mut two) = (Vec::new(), Vec::new(), Vec::new());
    for _ in 0..RUNS {
        wc.push(run(&folder, "wc -l *.dxf", &[0]));
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
    println!("| bytes checked a second of processor time | {:.0} MB/s |", bytes as f64 / 1e6 / busy(&one));
    println!("| time of one job over two | {:.2} |", passed(&one) / passed(&two));
    if let Some(python) = std::env::var_os("EZDXF_PYTHON") {
        let script = folder.with_extension("py");
        fs::write(&script, SCRIPT).expect("the script can be written");
        let names: Vec<String> = (0..DRAWINGS).step_by(SCRIPT_STEP).map(name).collect();
        let command = format!("'{}' '{}' {}", python.display(), script.display(), names.join(" "));
        let spent = run(&folder, &command, &[0]);
        assert!(spent.lines > names.len(), "the script must list something of each drawing");
        let of_all = (spent.user + spent.system) * DRAWINGS as f64 / names.len() as f64;
        println!(
            "| script over `check --jobs 1` (script: {} drawings, {} lines listed) | {:.0} |",
            names.len(),
            spent.lines,
            of_all / busy(&one)
        );
    }
    let (all, tenth) = (peak(&folder), peak(&few));
    println!("| peak memory, one job | {:.1} MB |", all as f64 / 1e3);
    println!("| peak memory, one job, a tenth of the drawings | {:.1} MB |", tenth as f64 / 1e3);
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

/// What a command took, in seconds, and how many lines it wrote.
struct Spent {
    passed: f64,
    user: f64,
    system: f64,
    lines: usize,
}

/// Runs a command of the shell in `folder`; its processor time is what the shell's `times` says of its children.
///
/// A command that ends with another code than one of `codes` or writes nothing did not do the work that is timed.
fn run(folder: &Path, command: &str, codes: &[i32]) -> Spent {
    let written = folder.with_extension("out");
    let shell = format!("{command} > '{}'; code=$?; times; exit $code", written.display());
    let start = Instant::now();
    let output = Command::new("sh").args(["-c", &shell]).current_dir(folder).output().expect("a shell");
    let passed = start.elapsed().as_secs_f64();
    let errors = String::from_utf8_lossy(&output.stderr);
    assert!(
        output.status.code().is_some_and(|c| codes.contains(&c)),
        "{command}: {}: {errors}",
        output.status
    );
    let lines = fs::read(&written).expect("what it wrote").iter().filter(|&&b| b == b'\n').count();
    assert!(lines > 0, "{command}: wrote nothing: {errors}");
    let said = String::from_utf8_lossy(&output.stdout);
    let children: Vec<f64> =
        said.lines().nth(1).unwrap_or_default().split_whitespace().filter_map(clock).collect();
    let &[user, system] = children.as_slice() else { panic!("{command}: the shell states no time: {said}") };
    Spent { passed, user, system, lines }
}

/// Seconds of a time such as `0m1.25s`.
fn clock(text: &str) -> Option<f64> {
    let (minutes, seconds) = text.strip_suffix('s')?.split_once('m')?;
    Some(minutes.parse::<f64>().ok()? * 60.0 + seconds.parse::<f64>().ok()?)
}

/// Peak memory of `check --jobs 1` over a folder, in kB, seen while it runs.
fn peak(folder: &Path) -> u64 {
    let mut child = Command::new(BOREBAND)
        .args(["check", "--jobs", "1", "."])
        .current_dir(folder)
        .stdout(Stdio::null())
        .stderr(Stdio::null())
        .spawn()
        .expect("the program starts");
    let status = PathBuf::from(format!("/proc/{}/status", child.id()));
    let mut most = 0;
    while child.try_wait().expect("the program can be waited for").is_none() {
        let text = fs::read_to_string(&status).unwrap_or_default();
        let stated = text.lines().find_map(|l| l.strip_prefix("VmHWM:")?.trim().strip_suffix("kB"));
        most = most.max(stated.and_then(|kb| kb.trim().parse().ok()).unwrap_or(0));
        std::thread::sleep(Duration::from_millis(1));
    }
    most
}
