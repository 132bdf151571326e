//! The built program with trial records: what `trial` answers, and what a record does to the findings of a drawing.

use std::path::Path;
use std::process::Command;

use serde_json::{Value, json};

fn run(args: &[&str], folder: &Path) -> (String, String, i32) {
    let output =
        Command::new(env!("CARGO_BIN_EXE_boreband")).args(args).current_dir(folder).output().unwrap();
    let text = |bytes| String::from_utf8(bytes).unwrap();
    (text(output.stdout), text(output.stderr), output.status.code().unwrap())
}

fn samples() -> &'static Path {
    Path::new(concat!(env!("CARGO_MANIFEST_DIR"), "/samples"))
}

#[test]
fn a_passing_test_ends_with_0_a_failing_one_with_1_and_a_faulty_record_with_2() {
    let folder = samples().join("trials");
    assert_eq!(run(&["trial", "lid-m4.trial.json"], &folder).2, 0);
    assert_eq!(run(&["trial", "lid-m4.trial.json", "bracket-8-32.trial.json"], &folder).2, 1);
    let (stdout, stderr, code) =
        run(&["trial", "lid-m4.trial.json", "bracket-8-32-T1.csv", "none.json"], &folder);
    assert_eq!((stdout.as_str(), code), ("", 2));
    assert!(stderr.contains("bracket-8-32-T1.csv") && stderr.contains("none.json"), "{stderr}");
}

#[test]
fn a_policy_sets_what_a_test_needs_and_the_plot_is_written() {
    let work = tempfile::tempdir().unwrap();
    let record = samples().join("trials/lid-m4.trial.json");
    std::fs::copy(record, work.path().join("a.json")).unwrap();
    let (stdout, _, code) = run(&["trial", "a.json", "--format", "json", "--plot", "a.svg"], work.path());
    let found: Value = serde_json::from_str(&stdout).unwrap();
    assert_eq!((code, &found["trials"][0]["passes"]), (0, &true.into()));
    assert!(std::fs::read_to_string(work.path().join("a.svg")).unwrap().starts_with("<svg"));
}

/// The lid whose H11 straddles its band (3.600 to 3.675), with a list that names `record`; the report on its drawing.
fn lid_with(record: &Value, thickness: f64) -> (Value, i32) {
    let work = tempfile::tempdir().unwrap();
    std::fs::copy(samples().join("lid/lid-open-tolerance.dxf"), work.path().join("lid.dxf")).unwrap();
    std::fs::copy(samples().join("lid/boreband.json"), work.path().join("boreband.json")).unwrap();
    let list = samples().join("lid/lid-open-tolerance.holes.json");
    let mut list: Value = serde_json::from_str(&std::fs::read_to_string(list).unwrap()).unwrap();
    let entry = &mut list["drawings"][0];
    entry["drawing"] = "lid.dxf".into();
    entry["thickness"] = thickness.into();
    for row in entry["holes"].as_array_mut().unwrap() {
        row["trial"] = "lid.trial.json".into();
    }
    std::fs::write(work.path().join("lid.holes.json"), list.to_string()).unwrap();
    std::fs::write(work.path().join("lid.trial.json"), record.to_string()).unwrap();
    let (stdout, stderr, code) =
        run(&["check", "lid.dxf", "--format", "json", "--fail-on", "warn"], work.path());
    let report: Value = serde_json::from_str(&stdout).unwrap_or_else(|_| panic!("{stderr}"));
    (report, code)
}

/// The sample record of that lid, its larger holes made as large as given.
fn record(largest: f64) -> Value {
    let text = std::fs::read_to_string(samples().join("trials/lid-m4.trial.json")).unwrap();
    let mut record: Value = serde_json::from_str(&text).unwrap();
    for run in record["runs"].as_array_mut().unwrap() {
        if run["hole"] == json!(3.63) {
            run["hole"] = largest.into();
        }
    }
    record
}

#[test]
fn a_passing_record_waives_the_straddling_holes_it_was_made_for() {
    let (report, code) = lid_with(&record(3.68), 1.5);
    let findings = report["drawings"][0]["findings"].as_array().unwrap();
    assert_eq!(findings.len(), 4, "{findings:?}");
    for finding in findings {
        assert_eq!(finding["rule"], "tolerance-leaves-band");
        let reason = finding["waived"].as_str().unwrap();
        assert!(reason.starts_with("trial record lid.trial.json: 32 runs"), "{reason}");
    }
    // The verdict stays what it is; only the findings no longer count.
    assert_eq!((&report["totals"]["straddles"], &report["totals"]["waived"]), (&4.into(), &4.into()));
    assert_eq!((&report["totals"]["warn"], code), (&0.into(), 0));
}

#[test]
fn a_stale_record_waives_nothing_and_says_why() {
    // Tested up to 3.63 only; tested in 1.5 mm and used in 1.2; and a record that does not pass.
    let mut failing = record(3.68);
    failing["runs"].as_array_mut().unwrap().truncate(8);
    for (record, thickness, why) in [
        (record(3.63), 1.5, "it tested holes of 3.6 mm to 3.63 mm, the hole may be 3.6 mm to 3.675 mm"),
        (record(3.68), 1.2, "it tested metal of 1.44 mm to 1.56 mm, the hole has 1.2 mm"),
        (failing, 1.5, "does not pass: 8 runs; 30 are needed"),
    ] {
        let (report, code) = lid_with(&record, thickness);
        assert_eq!((&report["totals"]["waived"], code), (&0.into(), 1));
        let findings = report["drawings"][0]["findings"].as_array().unwrap();
        let straddling = findings.iter().filter(|f| f["rule"] == "tolerance-leaves-band");
        assert_eq!(straddling.clone().count(), 4);
        for finding in straddling {
            assert!(finding["remedy"].as_str().unwrap().contains(why), "{finding}");
        }
    }
}

#[test]
fn a_record_that_a_list_names_and_that_is_not_there_is_a_fault_of_the_list() {
    let work = tempfile::tempdir().unwrap();
    std::fs::copy(samples().join("lid/lid-good.dxf"), work.path().join("lid.dxf")).unwrap();
    let list = json!({ "format": 1, "unit": "mm", "drawings": [{ "drawing": "lid.dxf", "holes": [
        { "tag": "A", "screw": { "thread": "M4" }, "trial": "none.json" }] }] });
    std::fs::write(work.path().join("lid.holes.json"), list.to_string()).unwrap();
    let (_, stderr, code) = run(&["check", "lid.dxf"], work.path());
    assert_eq!(code, 2);
    assert!(stderr.contains("/drawings/0/holes/0/trial"), "{stderr}");
}

/// The strip whose holes are too large, Ø3.7 +0.03/0 (66.0 to 59.4 %, band 80 to 98), with a record of runs at both
/// ends of them, or of holes that were smaller.
fn loose_strip(smallest: f64, largest: f64) -> (Value, i32) {
    let work = tempfile::tempdir().unwrap();
    let strip = samples().join("rules/engagement-below-band");
    std::fs::copy(strip.join("fail.dxf"), work.path().join("fail.dxf")).unwrap();
    let list = std::fs::read_to_string(strip.join("fail.holes.json")).unwrap();
    let mut list: Value = serde_json::from_str(&list).unwrap();
    list["drawings"][0]["holes"][0]["trial"] = "strip.trial.json".into();
    std::fs::write(work.path().join("fail.holes.json"), list.to_string()).unwrap();
    let mut record = record(largest);
    for run in record["runs"].as_array_mut().unwrap() {
        if run["hole"] == json!(3.6) {
            run["hole"] = smallest.into();
        }
    }
    std::fs::write(work.path().join("strip.trial.json"), record.to_string()).unwrap();
    let (stdout, stderr, code) = run(&["check", "fail.dxf", "--format", "json"], work.path());
    (serde_json::from_str(&stdout).unwrap_or_else(|_| panic!("{stderr}")), code)
}

#[test]
fn a_passing_record_waives_the_loose_holes_it_was_made_for_and_no_others() {
    let (report, code) = loose_strip(3.7, 3.73);
    let findings = report["drawings"][0]["findings"].as_array().unwrap();
    let loose: Vec<&Value> = findings.iter().filter(|f| f["rule"] == "engagement-below-band").collect();
    assert_eq!((loose.len(), code), (2, 0), "{findings:?}");
    for finding in &loose {
        let reason = finding["waived"].as_str().unwrap();
        assert!(reason.starts_with("trial record strip.trial.json: 32 runs"), "{reason}");
    }
    // The holes stay loose; the evidence only takes the findings out of the count.
    assert_eq!((&report["totals"]["loose"], &report["totals"]["fail"]), (&2.into(), &0.into()));

    // Runs in smaller holes say nothing of these.
    let (report, code) = loose_strip(3.6, 3.63);
    assert_eq!((&report["totals"]["fail"], &report["totals"]["waived"], code), (&2.into(), &0.into(), 1));
    let finding = &report["drawings"][0]["findings"][0];
    let why = "it tested holes of 3.6 mm to 3.63 mm, the hole may be 3.7 mm to 3.73 mm";
    assert!(finding["waived"].is_null() && finding["remedy"].as_str().unwrap().contains(why), "{finding}");
}
