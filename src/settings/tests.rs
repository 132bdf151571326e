use std::path::{Path, PathBuf};

use serde_json::{Value, json};

use super::{Policies, Policy, schema};
use crate::finding::Level;
use crate::practice::{Limit, Origin};
use crate::reading::Fault;
use crate::trade::{Material, Process};

const RULES: [&str; 3] = ["engagement-above-band", "thickness-unknown", "count-differs"];

fn write(folder: &Path, name: &str, text: &str) -> PathBuf {
    let path = folder.join(name);
    std::fs::create_dir_all(path.parent().unwrap()).unwrap();
    std::fs::write(&path, text).unwrap();
    path
}

fn load(text: &str) -> Result<Policy, Vec<Fault>> {
    let folder = tempfile::tempdir().unwrap();
    Policy::load(&write(folder.path(), "boreband.json", text), &RULES)
}

#[test]
fn a_policy_sets_levels_and_switches_rules_off() {
    let policy =
        load(r#"{"format": 1, "levels": {"thickness-unknown": "fail", "count-differs": "off"}}"#).unwrap();
    assert_eq!(policy.levels.get("thickness-unknown"), Some(&Some(Level::Fail)));
    assert_eq!(policy.levels.get("count-differs"), Some(&None));
    assert_eq!(policy.levels.get("engagement-above-band"), None, "keeps its own level");
    assert!(policy.file.unwrap().ends_with("/boreband.json"));
}

#[test]
fn every_fault_of_a_policy_is_told() {
    let faults = load(r#"{"fromat": 1, "levels": {"thickness-unknwon": "fail", "count-differs": "error"}}"#)
        .unwrap_err();
    let pointers: Vec<&str> = faults.iter().map(|f| f.pointer.as_str()).collect();
    assert_eq!(pointers, ["/fromat", "/format", "/levels/count-differs", "/levels/thickness-unknwon"]);
    assert!(faults[2].message.contains("found \"error\", expected one of fail, warn, note, off"));
    assert!(faults[3].message.contains("did you mean \"thickness-unknown\"?"), "{}", faults[3].message);
}

#[test]
fn the_nearest_policy_upward_governs() {
    let folder = tempfile::tempdir().unwrap();
    let root = folder.path();
    write(root, "boreband.json", r#"{"format": 1, "levels": {"count-differs": "note"}}"#);
    write(root, "a/boreband.json", r#"{"format": 1, "levels": {"count-differs": "fail"}}"#);
    // Neither drawing nor folder need exist for a policy to be found for them.
    let drawings = ["x.dxf", "a/x.dxf", "a/b/c/x.dxf", "d/x.dxf", "a/../d/y.dxf"].map(|name| root.join(name));
    let policies = Policies::load(None, &drawings, &RULES).unwrap();
    let levels = drawings.each_ref().map(|d| policies.for_drawing(d).levels["count-differs"].unwrap());
    assert_eq!(levels, [Level::Note, Level::Fail, Level::Fail, Level::Note, Level::Note]);
}

#[test]
fn a_named_policy_governs_every_drawing() {
    let folder = tempfile::tempdir().unwrap();
    let root = folder.path();
    write(root, "boreband.json", "not read");
    let named = write(root, "other.json", r#"{"format": 1, "levels": {"count-differs": "off"}}"#);
    let drawings = [root.join("x.dxf")];
    let policies = Policies::load(Some(&named), &drawings, &RULES).unwrap();
    assert_eq!(policies.for_drawing(&drawings[0]).levels["count-differs"], None);

    let missing = Policies::load(Some(&root.join("none.json")), &drawings, &RULES).unwrap_err();
    assert!(missing[0].message.contains("there is no such file"), "{missing:?}");
}

#[test]
fn faults_of_all_policies_are_told_each_once() {
    let folder = tempfile::tempdir().unwrap();
    let root = folder.path();
    write(root, "a/boreband.json", "{");
    write(root, "b/boreband.json", r#"{"format": 3}"#);
    let drawings = ["a/x.dxf", "a/deep/y.dxf", "b/z.dxf"].map(|name| root.join(name));
    let faults = Policies::load(None, &drawings, &RULES).unwrap_err();
    assert_eq!(faults.len(), 2, "{faults:?}");
}

#[test]
fn without_any_policy_every_rule_keeps_its_level() {
    let policies = Policies::load(None, &[], &RULES).unwrap();
    assert_eq!(policies.for_drawing(Path::new("x.dxf")), &Policy::default());
    assert_eq!(Policies::default().for_drawing(Path::new("x.dxf")), &Policy::default());
}

#[test]
fn schema_and_reader_agree() {
    let validator = jsonschema::validator_for(&schema(&RULES)).unwrap();
    let levels = |levels: Value| json!({"format": 1, "levels": levels});
    let mut documents = vec![
        json!({"format": 1}),
        json!({"format": 1.0}),
        json!({"format": 2}),
        json!({}),
        json!([]),
        json!({"format": 1, "level": {}}),
        json!({"format": 1, "$schema": "policy.schema.json"}),
        json!({"format": 1, "$schema": 1}),
        levels(json!({})),
        levels(json!([])),
        levels(Value::Null),
        levels(json!({"no-such-rule": "fail"})),
        json!({"format": 1, "trials": [{}, {"drawing": "a/**", "materials": ["A380"], "threads": ["M4"]}]}),
        json!({"format": 1, "trials": [{"material": "A380"}]}),
        json!({"format": 1, "trials": {}}),
    ];
    let with = |key: &str, value: Value| {
        let mut document = json!({"format": 1});
        document[key] = value;
        document
    };
    for (key, value) in [
        ("bands", json!([])),
        ("bands", json!([{"min": 60, "max": 80}])),
        (
            "bands",
            json!([{"min": 60, "max": 80, "target": 70, "material": "brass", "process": "punched",
            "thread": "M4", "over": 0.2, "to": 0.4}]),
        ),
        ("drills", json!(["3.6mm", "#25"])),
        ("punches", json!([".142in"])),
        ("limits", json!({"least-metal": 2.5, "steel-hardness": 200})),
        ("words", json!({"OTWORY": "hole"})),
        ("guide_holes", json!("judge")),
        ("capability", json!([{"process": "punched", "unit": "mm", "offset": -0.01, "sd": 0.02}])),
        // From here on refused.
        ("bands", json!([{"min": 60}])),
        ("bands", json!([{"min": 60, "max": 80, "thickness": 1}])),
        ("bands", json!([{"min": 60, "max": 300}])),
        ("bands", json!([{"min": 60, "max": 80, "over": 0}])),
        ("drills", json!([])),
        ("drills", json!([3.6])),
        ("limits", json!({"least-metal": -1})),
        ("limits", json!({"most-metal": 1})),
        ("limits", json!({"least-metal": "2"})),
        ("words", json!({"OTWORY": "opening"})),
        ("guide_holes", json!(true)),
        ("capability", json!([{"process": "punched", "unit": "mm", "sd": 0}])),
        ("capability", json!([{"process": "punched", "sd": 0.02}])),
    ] {
        documents.push(with(key, value));
    }
    for level in ["fail", "warn", "note", "off", "error", ""] {
        documents.push(levels(json!({"count-differs": level})));
    }
    let (mut accepted, mut refused) = (0, 0);
    for document in documents {
        let read = load(&document.to_string());
        assert_eq!(read.is_ok(), validator.is_valid(&document), "{document}: {read:?}");
        if read.is_ok() { accepted += 1 } else { refused += 1 }
    }
    // Counted by hand from the list above.
    assert_eq!((accepted, refused), (18, 25));
}

#[test]
fn no_policy_can_touch_the_rules_on_unreadable_drawings() {
    // Such a line would have no effect, and its author would believe that it had.
    for rule in super::FIXED_RULES {
        let folder = tempfile::tempdir().unwrap();
        let text = json!({"format": 1, "levels": {rule: "off"}}).to_string();
        let file = write(folder.path(), "boreband.json", &text);
        let faults = Policy::load(&file, &[rule]).unwrap_err();
        assert_eq!(faults.len(), 1);
        assert_eq!(faults[0].pointer, format!("/levels/{rule}"));
        assert!(faults[0].message.contains("no policy can change"), "{}", faults[0].message);
    }
}

#[test]
fn a_policy_sets_bands_stock_limits_and_words() {
    let policy = load(
        r##"{"format": 1, "limits": {"hole-spacing": 2.5}, "drills": ["#25", "3.6mm", "3.60mm"], "words": {"OTWORY": "hole"},
            "bands": [{"material": "CRS", "thread": "M4", "to": 0.4, "min": 70, "max": 90}],
            "capability": [{"process": "laser", "unit": "in", "offset": 0.001, "sd": 0.002}], "guide_holes": "judge"}"##,
    )
    .unwrap();
    let practice = &policy.practice;
    assert_eq!(practice.limits.value(Limit::HoleSpacing), 2.5);
    // One size written twice is one size; #25 is .1495 in or 3.797 mm (number drills).
    let names: Vec<&str> = practice.drills.as_ref().unwrap().sizes.iter().map(|s| s.name.as_str()).collect();
    assert_eq!(names, ["3.6mm", "#25"]);
    assert_eq!(
        (practice.bands[0].material, practice.bands[0].target),
        (Some(Material::LowCarbonSteel), 80.0)
    );
    let Origin::File { file, pointer } = &practice.bands[0].origin else { panic!() };
    assert!(file.ends_with("/boreband.json") && pointer == "/bands/0");
    assert_eq!(policy.words[0].0.meaning, "hole");
    let laser = practice.capability_of(Process::Laser).unwrap();
    assert!((laser.sd.mm() - 0.0508).abs() < 1e-9); // .002 in
    assert!(!practice.accepts_guide_holes() && Policy::default().practice.accepts_guide_holes());
}

#[test]
fn what_no_schema_can_tell_is_refused_with_its_place() {
    let faults = load(
        r#"{"format": 1, "limits": {"shortest-point": 4, "least-metall": 2}, "drills": ["3.6"], "words": {"12": "hole"},
            "bands": [{"over": 0.5, "to": 0.4, "min": 80, "max": 70}],
            "capability": [{"process": "laser", "unit": "mm", "sd": 0.02}, {"process": "laser", "unit": "mm", "sd": 0.01}]}"#,
    )
    .unwrap_err();
    let at = |pointer: &str| {
        let fault = faults.iter().find(|f| f.pointer == pointer);
        fault.unwrap_or_else(|| panic!("no fault at {pointer}: {faults:?}")).message.clone()
    };
    assert!(at("/limits").contains("shortest-point 4 above longest-point 3.5"));
    assert!(at("/limits/least-metall").contains("did you mean \"least-metal\"?"));
    assert!(at("/drills/0").contains("a size with its unit"));
    assert!(at("/words/12").contains("expected a word with a letter"));
    assert!(at("/bands/0/to").contains("expected to above over"));
    assert!(at("/bands/0/max").contains("expected max above min"));
    assert!(at("/capability/1/process").contains("expected each process once"));
    assert_eq!(faults.len(), 7);
}

#[test]
fn words_of_a_policy_are_read_beside_those_of_the_program() {
    let policy = load(r#"{"format": 1, "words": {"OTWORY": "hole"}}"#).unwrap();
    let words = policy.own_words().unwrap();
    assert_eq!(crate::callout::read_with("4 OTWORY Ø5", words).count, Some(4));
    assert!(Policy::default().own_words().is_none());
}
