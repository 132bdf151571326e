//! `holes --draft` on every sample: the list that it writes is one that `check` takes on the same drawing, with a row for
//! every hole and no finding about the list itself.

use std::path::{Path, PathBuf};
use std::process::{Command, Output};

use serde_json::Value;

fn run(args: &[&str]) -> Output {
    Command::new(env!("CARGO_BIN_EXE_boreband")).args(args).output().unwrap()
}

fn json(output: &Output) -> Value {
    let said = String::from_utf8_lossy(&output.stderr);
    serde_json::from_slice(&output.stdout).unwrap_or_else(|e| panic!("{e}: {said}"))
}

fn drawings(folder: &Path, found: &mut Vec<PathBuf>) {
    for entry in std::fs::read_dir(folder).unwrap() {
        let path = entry.unwrap().path();
        if path.is_dir() {
            drawings(&path, found);
        } else if path.extension().is_some_and(|e| e == "dxf") {
            found.push(path);
        }
    }
}

#[test]
fn a_draft_is_a_list_that_check_takes() {
    let mut samples = Vec::new();
    drawings(&Path::new(env!("CARGO_MANIFEST_DIR")).join("samples"), &mut samples);
    assert!(samples.len() > 50, "{} samples", samples.len());
    for sample in samples {
        let folder = tempfile::tempdir().unwrap();
        let drawing = folder.path().join("part [1].dxf");
        std::fs::copy(&sample, &drawing).unwrap();
        let path = drawing.to_str().unwrap();
        let drafted = run(&["holes", path, "--draft"]);
        assert_eq!(drafted.status.code(), Some(0), "{}", sample.display());
        let list = json(&drafted);
        let rows = list["drawings"][0]["holes"].as_array().unwrap();
        std::fs::write(drawing.with_extension("holes.json"), &drafted.stdout).unwrap();

        let checked = run(&["check", path, "--format", "json"]);
        assert_ne!(checked.status.code(), Some(2), "{}: {checked:?}", sample.display());
        let report = json(&checked);
        let holes = report["drawings"][0]["holes"].as_array().unwrap();
        let listed: u64 = rows.iter().map(|row| row["count"].as_u64().unwrap()).sum();
        assert_eq!(listed, holes.len() as u64, "{}", sample.display());
        for finding in report["drawings"][0]["findings"].as_array().unwrap() {
            let rule = finding["rule"].as_str().unwrap();
            let about_the_list = ["listed-hole-missing", "listed-size-differs"].contains(&rule);
            assert!(!about_the_list, "{}: {finding}", sample.display());
        }
        let screws = rows.iter().filter(|row| row.get("screw").is_some()).count();
        let said = String::from_utf8_lossy(&drafted.stderr).contains("names no screw");
        assert_eq!(said, screws < rows.len(), "{}", sample.display());
    }
}
