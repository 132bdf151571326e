//! Tells the build which commit it is made of, for `boreband --version`. Outside of a repository, or without git, the
//! version stands alone. `BOREBAND_COMMIT` of the environment, if it is set, is taken as it is.

use std::path::{Path, PathBuf};
use std::process::Command;

fn main() {
    println!("cargo::rerun-if-env-changed=BOREBAND_COMMIT");
    if std::env::var_os("BOREBAND_COMMIT").is_some() {
        return;
    }
    // A copy of the sources inside of another repository is not of its commit.
    let folder = std::env::var_os("CARGO_MANIFEST_DIR").map(PathBuf::from);
    let top = git(&["rev-parse", "--show-toplevel"]).map(PathBuf::from);
    let real = |path: Option<PathBuf>| path.and_then(|path| path.canonicalize().ok());
    if real(top).is_none_or(|top| Some(top) != real(folder)) {
        return;
    }
    // The log of HEAD grows with every commit, checkout and merge.
    let log = git(&["rev-parse", "--git-path", "logs/HEAD"]).filter(|log| Path::new(log).exists());
    if let Some(log) = log {
        println!("cargo::rerun-if-changed={log}");
    }
    if let Some(commit) = git(&["rev-parse", "--short=10", "HEAD"]) {
        println!("cargo::rustc-env=BOREBAND_COMMIT={commit}");
    }
}

fn git(arguments: &[&str]) -> Option<String> {
    let output =
        Command::new("git").args(arguments).output().ok().filter(|output| output.status.success())?;
    let text = String::from_utf8(output.stdout).ok()?;
    Some(text.trim().to_owned()).filter(|text| !text.is_empty())
}
