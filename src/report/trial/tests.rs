use std::path::Path;

use serde_json::Value;

use super::*;
use crate::trial::{Limits, evaluate};

fn sample(name: &str) -> Vec<Evaluated> {
    let path = Path::new(env!("CARGO_MANIFEST_DIR")).join("samples/trials").join(name);
    let trial = Trial::load(&path).expect("a sample without faults");
    let evaluation = evaluate(&trial, Limits::default()).expect("two runs at least");
    vec![(trial, evaluation)]
}

fn json(trials: &[Evaluated]) -> Value {
    let mut out = Vec::new();
    write_json(trials, &mut out).expect("a buffer");
    serde_json::from_slice(&out).expect("JSON")
}

#[test]
fn peaks_of_the_sample_traces_are_those_they_were_made_with() {
    // samples/draw/trials.py: forming peak and failure in lbf·in, angle of the seat; noise of 0.25.
    let known = [(16.0, 58.0, 2160.0), (17.5, 61.0, 2150.0), (15.2, 55.5, 2170.0)];
    let found = json(&sample("bracket-8-32.trial.json"));
    let runs = found["trials"][0]["runs"].as_array().expect("runs");
    assert_eq!(runs.len(), known.len());
    for (run, (drive, failure, seat)) in runs.iter().zip(known) {
        // 0.112985 N·m in a lbf·in.
        let lbf = |value: &Value| value.as_f64().expect("a number") / 0.112_984_829;
        assert!((lbf(&run["drive_nm"]) - drive).abs() < 0.25, "{run}");
        assert!((lbf(&run["failure_nm"]) - failure).abs() < 0.5, "{run}");
        assert!((run["trace"]["seat_at_deg"].as_f64().expect("a number") - seat).abs() < 8.0, "{run}");
    }
}

#[test]
fn json_follows_its_schema_and_says_whether_the_test_passes() {
    let text = crate::report::schema::schema("trial-report").expect("a schema");
    let schema: Value = serde_json::from_str(&text).expect("JSON");
    let validator = jsonschema::validator_for(&schema).expect("a sound schema");
    for (name, passes) in
        [("lid-m4.trial.json", true), ("housing-m5.trial.json", false), ("bracket-8-32.trial.json", false)]
    {
        let found = json(&sample(name));
        assert!(validator.is_valid(&found), "{name}");
        assert_eq!(found["trials"][0]["passes"], passes, "{name}");
    }
}

#[test]
fn text_fits_its_width_and_says_what_counts() {
    for width in [60, 80, 120] {
        let mut out = Vec::new();
        write_text(&sample("housing-m5.trial.json"), width, false, &mut out).expect("a buffer");
        let page = String::from_utf8(out).expect("UTF-8");
        // The first line is the path, which is not cut.
        for line in page.lines().skip(2) {
            assert!(line.chars().count() <= width, "{width}: {line}");
        }
        for said in [
            "does not pass",
            "of means (3 needed)",
            "10 strip, 2 screw-break",
            "FAIL  ratio-low",
            "test your",
        ] {
            assert!(page.contains(said), "{said} is missing in\n{page}");
        }
    }
}

#[test]
fn the_plot_is_sound_and_names_what_it_shows() {
    let mut trials = sample("lid-m4.trial.json");
    trials[0].0.test = Some("<a & b>".to_owned());
    let mut out = Vec::new();
    write_plot(&trials, &mut out).expect("a buffer");
    let picture = String::from_utf8(out).expect("UTF-8");
    assert!(picture.starts_with("<svg ") && picture.ends_with("</svg>\n"));
    assert!(picture.contains("&lt;a &amp; b&gt;: M4 in 1.5 mm"));
    for said in ["seating window, middle", "99 % drive below", "99 % fail above", "tool 2.00", "torque (N·m)"]
    {
        assert!(picture.contains(said), "{said}");
    }
    assert!(!picture.contains("NaN") && !picture.contains("inf"));
}
