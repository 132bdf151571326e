//! Time and memory of commands.

use std::fs;
use std::path::{Path, PathBuf};
use std::process::{Command, Stdio};
use std::time::{Duration, Instant};

/// What a command took, in seconds, and how many lines it wrote.
pub(crate) struct Spent {
    /// On the clock.
    pub(crate) passed: f64,
    pub(crate) user: f64,
    pub(crate) system: f64,
    pub(crate) lines: usize,
}

/// Runs a command of the shell in `folder`; its processor time is what the shell's `times` says of its children.
///
/// A command that ends with another code than one of `codes` or writes nothing did not do the work that is timed.
pub(crate) fn run(folder: &Path, command: &str, codes: &[i32]) -> Spent {
    run_often(folder, command, codes, 1)
}

/// As [`run`], so many times in one shell, and what one of them took on the average. `times` states hundredths of a
/// second, so a command that takes no longer than some of them must run often to be known well.
pub(crate) fn run_often(folder: &Path, command: &str, codes: &[i32], often: u32) -> Spent {
    let written = folder.with_extension("out");
    let shell = format!(
        "i=0; while [ $i -lt {often} ]; do i=$((i+1)); {command} > '{}'; code=$?; done; times; exit $code",
        written.display()
    );
    let start = Instant::now();
    let output = Command::new("sh").args(["-c", &shell]).current_dir(folder).output().expect("a shell");
    let passed = start.elapsed().as_secs_f64() / f64::from(often);
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
    Spent { passed, user: user / f64::from(often), system: system / f64::from(often), lines }
}

/// Seconds of a time such as `0m1.25s`.
fn clock(text: &str) -> Option<f64> {
    let (minutes, seconds) = text.strip_suffix('s')?.split_once('m')?;
    Some(minutes.parse::<f64>().ok()? * 60.0 + seconds.parse::<f64>().ok()?)
}

/// Peak memory of a program over a folder, in bytes, seen while it runs.
pub(crate) fn peak(folder: &Path, command: &[&str]) -> u64 {
    let mut child = Command::new(command[0])
        .args(&command[1..])
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
        // The system writes kB and counts 1024 bytes.
        most = most.max(stated.and_then(|kb| kb.trim().parse().ok()).unwrap_or(0) * 1024);
        std::thread::sleep(Duration::from_millis(1));
    }
    most
}
