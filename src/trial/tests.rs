use std::path::{Path, PathBuf};

use serde_json::{Value, json};

use super::*;
use crate::joint::{Making, Row};
use crate::trade::Thread;

fn write(folder: &Path, name: &str, text: &str) -> PathBuf {
    let path = folder.join(name);
    std::fs::write(&path, text).unwrap();
    path
}

fn load(record: &Value) -> Result<Trial, Vec<Fault>> {
    let folder = tempfile::tempdir().unwrap();
    Trial::load(&write(folder.path(), "a.trial.json", &record.to_string()))
}

/// M4 in 1.5 mm low-carbon steel; runs alternate round the means of the worked example: drive 30 ± 2, failure 120 ± 6.
fn record(count: u32) -> Value {
    let spread = f64::from(count - 1) / f64::from(count);
    let runs: Vec<Value> = (0..count)
        .map(|k| {
            let side = if k % 2 == 0 { spread.sqrt() } else { -spread.sqrt() };
            json!({
                "hole": if k % 2 == 0 { 3.6 } else { 3.63 }, "thickness": if k % 3 == 0 { 1.45 } else { 1.55 },
                "drive": 30.0 + 2.0 * side, "failure": 120.0 + 6.0 * side, "mode": "strip"
            })
        })
        .collect();
    json!({
        "format": 1, "unit": "mm", "torque_unit": "lbf-in",
        "joint": {
            "screw": { "thread": "M4" }, "material": "DC01", "thickness": 1.5, "process": "punched",
            "finish": "Zinc 5 um", "lubricant": "wax", "driver_rpm": 600
        },
        "runs": runs
    })
}

fn names(evaluation: &Evaluation) -> Vec<&'static str> {
    evaluation.weaknesses.iter().map(|w| w.name).collect()
}

#[test]
fn the_worked_example_has_its_ratios_and_window() {
    // By hand with k 3.064 for 30 runs: 36.1 and 101.6 lbf·in, middle 68.9; ratio of means 4.0, of limits 2.81.
    let trial = load(&record(30)).unwrap();
    let e = evaluate(&trial, Limits::default()).unwrap();
    let lbf = |nm: f64| nm / TorqueUnit::PoundInch.in_nm();
    assert!((lbf(e.drive.sd) - 2.0).abs() < 1e-9 && (lbf(e.failure.sd) - 6.0).abs() < 1e-9);
    let (low, high) = e.window().unwrap();
    assert!((lbf(low) - 36.13).abs() < 0.01 && (lbf(high) - 101.62).abs() < 0.01);
    assert!((lbf(f64::midpoint(low, high)) - 68.9).abs() < 0.05);
    assert!((e.ratio_of_means - 4.0).abs() < 1e-9 && (e.ratio_of_limits - 2.81).abs() < 0.005);
    // Such torques are for no M4: 68.9 lbf·in are 7.78 N·m, and an M4 bears 4.1 (DIN 7500-1, from memory).
    assert!(e.passes() && names(&e) == ["seating-near-breaking"], "{:?}", e.weaknesses);
    assert!((e.seating_share().unwrap() - 7.782 / 4.1).abs() < 0.002, "{:?}", e.seating_share());
    assert!(!e.seating.unwrap().stated && e.seating.unwrap().outside() < 1e-6);
}

#[test]
fn what_is_wrong_with_a_test_is_named() {
    let mut few = record(10);
    for key in ["finish", "lubricant", "driver_rpm"] {
        few["joint"].as_object_mut().unwrap().remove(key);
    }
    few["runs"][0]["mode"] = "head".into();
    few["runs"][1].as_object_mut().unwrap().remove("mode");
    for k in 0..10 {
        few["runs"][k]["hole"] = 3.6.into();
        few["runs"][k]["thickness"] = 1.5.into();
    }
    let e = evaluate(&load(&few).unwrap(), Limits::default()).unwrap();
    assert!(!e.passes());
    assert_eq!(
        names(&e),
        [
            "too-few-runs",
            "seating-near-breaking",
            "mixed-modes",
            "modes-missing",
            "one-hole-only",
            "one-thickness-only",
            "lubricant-missing",
            "finish-missing",
            "driver-speed-missing"
        ]
    );
    assert_eq!((e.modes.strip, e.modes.head, e.modes.unknown), (8, 1, 1));
    let strict = Limits { ratio: 4.5, runs: 10, ..Limits::default() };
    let trial = load(&record(10)).unwrap();
    assert_eq!(names(&evaluate(&trial, strict).unwrap()), ["ratio-low", "seating-near-breaking"]);
}

#[test]
fn limits_that_cross_leave_no_window_and_a_tool_outside_fails() {
    // Three runs, k 10.553 (computed with scipy): 30 + 21.1 = 51.1 and 80 - 63.3 = 16.7 lbf·in cross.
    let mut wide = record(3);
    for (k, (drive, failure)) in [(28.0, 74.0), (30.0, 80.0), (32.0, 86.0)].into_iter().enumerate() {
        wide["runs"][k]["drive"] = drive.into();
        wide["runs"][k]["failure"] = failure.into();
    }
    let e = evaluate(&load(&wide).unwrap(), Limits { ratio: 2.0, runs: 2, ..Limits::default() }).unwrap();
    assert!(e.window().is_none() && e.seating.is_none());
    assert_eq!(names(&e), ["no-window"]);
    let mut set = record(30);
    set["tool"] = json!({ "torque": 34, "plus_minus": 4 });
    let e = evaluate(&load(&set).unwrap(), Limits::default()).unwrap();
    assert_eq!(names(&e), ["tool-outside-window", "seating-near-breaking"]); // 38 lbf·in are 4.29 N·m; M4 bears 4.1
    // At the tool's least, 30 lbf·in, half of the assemblies need more.
    assert!((e.seating.unwrap().not_driven - 0.5).abs() < 1e-9);
}

#[test]
fn every_fault_of_a_record_is_told_at_its_place() {
    let record = json!({
        "format": 1, "unit": "cm", "torque_unit": "lbf-in",
        "joint": { "screw": { "thread": "M4.3x" }, "material": "DC01", "thickness": 0, "lubrikant": "wax" },
        "runs": [
            { "drive": 5, "failure": 4 }, { "drive": -1 }, { "drive": 1, "failure": 9, "trace": "a.csv" },
            { "mode": "stripped", "trace": "b.csv" }
        ]
    });
    let pointers: Vec<String> = load(&record).unwrap_err().into_iter().map(|f| f.pointer).collect();
    assert_eq!(
        pointers,
        [
            "/unit",
            "/joint/lubrikant",
            "/joint/screw/thread",
            "/joint/thickness",
            "/runs/0/failure",
            "/runs/1/drive",
            "/runs/1/failure",
            "/runs/2",
            "/runs/3/mode"
        ]
    );
    let one = load(&super::tests::record(1)).unwrap_err();
    assert!(one[0].message.contains("2 runs at least"), "{one:?}");
}

#[test]
fn faults_of_traces_stand_at_the_run_that_names_them() {
    let folder = tempfile::tempdir().unwrap();
    let mut record = record(3);
    record["runs"][0] = json!({ "trace": "none.csv" });
    record["runs"][2] = json!({ "trace": "bad.csv" });
    write(folder.path(), "bad.csv", "angle,torque\n1,x\n2,y\n");
    let faults = Trial::load(&write(folder.path(), "a.json", &record.to_string())).unwrap_err();
    let said: Vec<(&str, bool)> =
        faults.iter().map(|f| (f.pointer.as_str(), f.message.contains("line 3"))).collect();
    assert_eq!(said, [("/runs/0/trace", false), ("/runs/2/trace", false), ("/runs/2/trace", true)]);
}

#[test]
fn schema_and_reader_agree() {
    let validator = jsonschema::validator_for(&schema()).unwrap();
    let with = |change: &dyn Fn(&mut Value)| {
        let mut record = record(3);
        change(&mut record);
        record
    };
    let documents = [
        with(&|_| {}),
        with(&|r| r["tool"] = json!({ "torque": 60 })),
        with(&|r| r["tool"] = json!({ "torque": 0 })),
        with(&|r| r["runs"] = json!([{ "drive": 1, "failure": 2 }])),
        with(&|r| r["runs"][0] = json!({ "drive": 1 })),
        with(&|r| r["runs"][0] = json!({ "drive": 1, "failure": 2, "trace": "a.csv" })),
        with(&|r| r["joint"]["driver_rpm"] = json!("fast")),
        with(&|r| r["torque_unit"] = json!("kgf")),
        with(&|r| r["joint"]["screw"] = json!({ "thread": "M4", "length": 10, "form": "spaced" })),
        with(&|r| r["run"] = json!([])),
    ];
    let mut accepted = 0;
    for document in &documents {
        let read = load(document);
        assert_eq!(read.is_ok(), validator.is_valid(document), "{document}: {read:?}");
        accepted += usize::from(read.is_ok());
    }
    // Counted by hand: the plain one, the tool, the spaced screw.
    assert_eq!(accepted, 3);
}

fn mm(value: f64) -> Length {
    Length::from_mm(value).unwrap()
}

fn making() -> Making {
    Making {
        material: Some(Material::LowCarbonSteel),
        thickness: Some(mm(1.5)),
        process: Some(Process::Punched),
        ..Making::default()
    }
}

fn stale<'a>(trial: &Trial, change: impl FnOnce(&mut Tested<'a>)) -> Vec<String> {
    // Leaked, so that the change may bring borrowed values of its own; a test ends soon.
    let thread: &'a Thread = Box::leak(Box::new(Thread::parse("M4").unwrap()));
    let making: &'a Making = Box::leak(Box::new(making()));
    let mut hole = Tested {
        thread,
        form: crate::joint::ScrewForm::Rolling,
        making,
        hole: (mm(3.6), mm(3.63)),
        finish: None,
        lubricant: None,
    };
    change(&mut hole);
    trial.stale_for(&hole, Unit::Mm).reasons
}

#[test]
fn a_record_stands_for_its_own_hole_only() {
    let trial = load(&record(30)).unwrap();
    assert_eq!(stale(&trial, |_| {}), [""; 0]);
    assert_eq!(stale(&trial, |h| h.finish = Some("zinc  5 UM")), [""; 0]);
    let m5 = Thread::parse("M5").unwrap();
    assert_eq!(stale(&trial, |h| h.thread = &m5), ["it tested the thread M4, the hole has M5"]);
    assert_eq!(
        stale(&trial, |h| h.finish = Some("black")),
        ["it tested the finish Zinc 5 um, the hole has black"]
    );
    assert_eq!(stale(&trial, |h| h.lubricant = Some("none")).len(), 1);
    // Slack of a hundredth of the pitch: 3.637 is as good as tested, 3.64 is not.
    assert_eq!(stale(&trial, |h| h.hole.1 = mm(3.637)), [""; 0]);
    assert_eq!(
        stale(&trial, |h| h.hole.1 = mm(3.64)),
        ["it tested holes of 3.6 mm to 3.63 mm, the hole may be 3.6 mm to 3.64 mm"]
    );
    assert_eq!(stale(&trial, |h| h.hole.0 = mm(3.55)).len(), 1);
    let others = [
        Making { material: Some(Material::StainlessSteel), ..making() },
        Making { material: None, ..making() },
        Making { thickness: Some(mm(2.0)), ..making() },
        Making { thickness: None, ..making() },
        Making { process: Some(Process::Drilled), ..making() },
    ];
    for other in &others {
        assert_eq!(stale(&trial, |h| h.making = other).len(), 1, "{other:?}");
    }
    let mut unmeasured = trial.clone();
    unmeasured.runs.iter_mut().for_each(|run| run.hole = None);
    assert_eq!(stale(&unmeasured, |_| {}), ["it does not say which holes it tested"]);
}

#[test]
fn records_are_found_beside_the_list_that_names_them() {
    let folder = tempfile::tempdir().unwrap();
    write(folder.path(), "a.trial.json", &record(30).to_string());
    let list = folder.path().join("lid.holes.json").to_string_lossy().into_owned();
    let row = |trial: &str| Row {
        list: list.clone(),
        pointer: "/drawings/0/holes/0".to_owned(),
        trial: Some(trial.to_owned()),
        ..Row::default()
    };
    let rows = [row("a.trial.json"), row("a.trial.json"), Row::default()];
    let trials = Trials::load(rows.iter()).unwrap();
    assert!(trials.of(&rows[0], Limits::default()).unwrap().1.passes());
    assert!(!trials.of(&rows[0], Limits { ratio: 5.0, ..Limits::default() }).unwrap().1.passes());
    assert!(trials.of(&rows[2], Limits::default()).is_none());
    let missing = Trials::load([row("b.trial.json")].iter()).unwrap_err();
    assert_eq!(missing[0].pointer, "/drawings/0/holes/0/trial");
}
