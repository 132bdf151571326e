//! Waivers as people use them: accept what is found, check again, change the drawing, let time pass.

use std::path::{Path, PathBuf};
use std::process::Command;

use serde_json::Value;

fn samples() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("samples")
}

/// A run of `check` in a folder: its report and exit code.
fn check(folder: &Path, args: &[&str]) -> (Value, i32) {
    let output = Command::new(env!("CARGO_BIN_EXE_boreband"))
        .args(["check", "--format", "json", "--today", "2027-01-31"])
        .args(args)
        .current_dir(folder)
        .output()
        .unwrap();
    let report = serde_json::from_slice(&output.stdout).unwrap_or(Value::Null);
    (report, output.status.code().unwrap_or(-1))
}

fn total(report: &Value, key: &str) -> u64 {
    report["totals"][key].as_u64().unwrap()
}

fn rules(report: &Value) -> Vec<&str> {
    let findings = report["drawings"][0]["findings"].as_array().unwrap();
    findings.iter().filter(|f| f["waived"].is_null()).map(|f| f["rule"].as_str().unwrap()).collect()
}

/// A folder with the lid whose holes have the tap-drill size, and its hole list.
fn lid() -> tempfile::TempDir {
    let folder = tempfile::tempdir().unwrap();
    for name in ["lid-tap-drill.dxf", "lid-tap-drill.holes.json"] {
        std::fs::copy(samples().join("lid").join(name), folder.path().join(name)).unwrap();
    }
    folder
}

#[test]
fn what_was_accepted_no_longer_counts_and_stays_in_the_report() {
    let folder = lid();
    let folder = folder.path();
    let (found, code) = check(folder, &["lid-tap-drill.dxf", "--write-waivers", "w.json"]);
    let fails = total(&found, "fail");
    assert!(code == 1 && fails == 8, "what is accepted counts in the run that accepts it");
    let (again, code) = check(folder, &["lid-tap-drill.dxf", "--waivers", "w.json", "--fail-on", "note"]);
    assert_eq!((code, total(&again, "fail"), total(&again, "waived")), (0, 0, fails));
}

/// Codes of handles and of what points at them (DXF reference, group codes in numerical order).
fn names_a_handle(code: &str) -> bool {
    matches!(code.trim().parse(), Ok(5 | 105 | 320..=369 | 390..=399 | 480..=481 | 1005))
}

#[test]
fn a_new_export_with_other_handles_is_still_accepted() {
    let folder = lid();
    let folder = folder.path();
    check(folder, &["lid-tap-drill.dxf", "--write-waivers", "w.json"]);
    let path = folder.join("lid-tap-drill.dxf");
    let text = std::fs::read_to_string(&path).unwrap();
    let lines: Vec<&str> = text.lines().collect();
    let renamed = lines.chunks(2).map(|pair| match *pair {
        [code, value] if names_a_handle(code) && value.trim() != "0" => format!("{code}\n7{value}\n"),
        [code, value] => format!("{code}\n{value}\n"),
        _ => String::new(),
    });
    let before = text.len();
    let renamed: String = renamed.collect();
    assert!(renamed.len() > before + 100, "handles were renamed");
    std::fs::write(&path, renamed).unwrap();
    let (report, code) = check(folder, &["lid-tap-drill.dxf", "--waivers", "w.json", "--fail-on", "warn"]);
    assert_eq!((code, total(&report, "waived")), (0, 8), "{:?}", rules(&report));
}

#[test]
fn a_hole_whose_size_changed_counts_again_and_its_waiver_is_unused() {
    let folder = lid();
    let folder = folder.path();
    check(folder, &["lid-tap-drill.dxf", "--write-waivers", "w.json"]);
    let path = folder.join("lid-tap-drill.dxf");
    let text = std::fs::read_to_string(&path).unwrap();
    let changed = text.replace("3.3 +0.05/-0", "3.4 +0.05/-0");
    assert_ne!(changed, text, "the callout was found");
    std::fs::write(&path, changed).unwrap();
    let (report, code) = check(folder, &["lid-tap-drill.dxf", "--waivers", "w.json"]);
    assert_eq!((code, total(&report, "waived")), (1, 0));
    assert_eq!(rules(&report).iter().filter(|rule| **rule == "waiver-unused").count(), 8);
    // Accepting anew drops what is about nothing.
    let (_, _) = check(folder, &["lid-tap-drill.dxf", "--write-waivers", "w.json"]);
    let (report, code) = check(folder, &["lid-tap-drill.dxf", "--waivers", "w.json", "--fail-on", "warn"]);
    assert_eq!((code, rules(&report)), (0, vec![]));
}

#[test]
fn the_sample_ends_on_its_last_day() {
    let file = "waivers/lid-tap-drill.json";
    let run = |day: &str| {
        let args = ["lid/lid-tap-drill.dxf", "--waivers", file, "--today", day];
        let output = Command::new(env!("CARGO_BIN_EXE_boreband"))
            .args(["check", "--format", "json"])
            .args(args)
            .current_dir(samples())
            .output()
            .unwrap();
        (serde_json::from_slice::<Value>(&output.stdout).unwrap(), output.status.code())
    };
    let (report, code) = run("2027-04-30");
    assert_eq!((code, total(&report, "waived")), (Some(0), 8));
    let (report, code) = run("2027-05-01");
    assert_eq!((code, total(&report, "waived"), total(&report, "fail")), (Some(1), 0, 8));
    assert_eq!(rules(&report).iter().filter(|rule| **rule == "waiver-expired").count(), 8);
}

#[test]
fn no_waiver_hides_a_drawing_that_was_not_read_and_faults_are_told_at_once() {
    let folder = tempfile::tempdir().unwrap();
    let folder = folder.path();
    std::fs::write(folder.join("bad.dxf"), "AC1032 no drawing").unwrap();
    let (_, code) = check(folder, &["bad.dxf", "--write-waivers", "w.json"]);
    assert_eq!(code, 2);
    let written: Value = serde_json::from_slice(&std::fs::read(folder.join("w.json")).unwrap()).unwrap();
    assert_eq!(written["waivers"], serde_json::json!([]));
    let rows = r#"{ "format": 1, "waivers": [
        { "rule": "drawing-unreadable", "drawing": "bad.dxf", "message": "m", "reason": "r", "who": "w" },
        { "rule": "count-differs", "drawing": "bad.dxf", "message": "m", "reason": "", "who": "w" } ] }"#;
    std::fs::write(folder.join("w.json"), rows).unwrap();
    let output = Command::new(env!("CARGO_BIN_EXE_boreband"))
        .args(["check", "bad.dxf", "--waivers", "w.json"])
        .current_dir(folder)
        .output()
        .unwrap();
    let said = String::from_utf8(output.stderr).unwrap();
    assert_eq!(output.status.code(), Some(2));
    assert!(said.contains("/waivers/0/rule") && said.contains("/waivers/1/reason"), "{said}");
}
