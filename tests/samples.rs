//! The built program over `samples/`, held to what `samples/README.md` says of each drawing.
//!
//! Every expected number here is a hand calculation that stands there with its formula:
//! engagement = 100 (D - d) / (0.649519 P), percent on the rolled basis.

use std::collections::BTreeMap;
use std::path::Path;
use std::process::Command;

use serde_json::Value;

/// The screw holes of one thread on a drawing.
struct Screws {
    thread: &'static str,
    holes: usize,
    /// At the nominal, the smallest and the largest hole (percent).
    engagement: [f64; 3],
    verdict: &'static str,
}

const fn screws(thread: &'static str, holes: usize, engagement: [f64; 3], verdict: &'static str) -> Screws {
    Screws { thread, holes, engagement, verdict }
}

/// A drawing and all that must be said of it.
struct Sample {
    path: &'static str,
    unit: &'static str,
    screws: &'static [Screws],
    /// Rules and how many findings each gives; no other finding is allowed.
    findings: &'static [(&'static str, usize)],
}

const SAMPLES: &[Sample] = &[
    Sample {
        path: "samples/blank/blank-as-cut.dxf",
        unit: "mm",
        screws: &[
            screws("M6", 4, [84.68, 89.30, 80.06], "in-band"),
            screws("M4", 2, [79.18, 83.58, 74.78], "in-band"),
        ],
        findings: &[("cut-edge-hardened", 6), ("hole-without-callout", 6)],
    },
    Sample {
        path: "samples/blank/blank-good.dxf",
        unit: "mm",
        screws: &[
            screws("M6", 4, [84.68, 89.30, 80.06], "in-band"),
            screws("M4", 2, [79.18, 83.58, 74.78], "in-band"),
        ],
        findings: &[("hole-without-callout", 6)],
    },
    Sample {
        path: "samples/bracket/bracket-good.dxf",
        unit: "in",
        screws: &[screws("8-32", 2, [64.05, 68.97, 59.12], "in-band")],
        findings: &[],
    },
    Sample {
        path: "samples/bracket/bracket-thin.dxf",
        unit: "in",
        screws: &[screws("8-32", 2, [64.05, 68.97, 59.12], "in-band")],
        findings: &[("sheet-too-thin", 2)],
    },
    Sample {
        path: "samples/housing/housing-good.dxf",
        unit: "mm",
        screws: &[
            screws("M5", 4, [65.43, 70.24, 60.62], "in-band"),
            screws("M3", 2, [73.90, 83.14, 64.66], "in-band"),
        ],
        findings: &[],
    },
    Sample {
        path: "samples/housing/housing-mistakes.dxf",
        unit: "mm",
        screws: &[
            screws("M5", 4, [48.11, 53.89, 42.34], "loose"),
            // ISO 2768-m of the title block (from memory): ±0.1 over 0.5 to 3 mm, so 2.4 to 2.6.
            screws("M3", 2, [153.96, 184.75, 123.17], "tight"),
        ],
        findings: &[
            ("cut-thread-size", 2),
            ("engagement-above-band", 2),
            ("engagement-below-band", 4),
            ("tap-called-out", 2),
        ],
    },
    Sample {
        path: "samples/lid/lid-good.dxf",
        unit: "mm",
        screws: &[screws("M4", 4, [87.98, 87.98, 81.38], "in-band")],
        findings: &[],
    },
    Sample {
        path: "samples/lid/lid-open-tolerance.dxf",
        unit: "mm",
        screws: &[screws("M4", 4, [87.98, 87.98, 71.48], "straddles")],
        findings: &[("tolerance-leaves-band", 4)],
    },
    Sample {
        path: "samples/lid/lid-tap-drill.dxf",
        unit: "mm",
        screws: &[screws("M4", 4, [153.96, 153.96, 142.96], "tight")],
        findings: &[("cut-thread-size", 4), ("engagement-above-band", 4)],
    },
    Sample {
        path: "samples/lid/lid-unit-muddle.dxf",
        unit: "mm",
        screws: &[screws("M4", 4, [87.98, 87.98, 81.38], "in-band")],
        findings: &[("unit-doubtful", 1)],
    },
    Sample {
        path: "samples/plate/plate-good.dxf",
        unit: "in",
        screws: &[
            screws("1/4-20", 4, [80.06, 89.30, 70.82], "in-band"),
            screws("8-32", 6, [78.83, 88.68, 68.97], "in-band"),
        ],
        findings: &[],
    },
    Sample {
        path: "samples/plate/plate-mistakes.dxf",
        unit: "in",
        screws: &[
            screws("1/4-20", 3, [80.06, 89.30, 70.82], "in-band"),
            screws("8-32", 6, [83.75, 93.61, 73.90], "in-band"),
        ],
        findings: &[("count-differs", 1), ("listed-hole-missing", 1)],
    },
];

/// The folders of the product's parts; `samples/rules` has one folder a rule.
const PARTS: &[&str] =
    &["samples/blank", "samples/bracket", "samples/housing", "samples/lid", "samples/plate"];

/// All findings on the failing strip of each rule: one a hole, or one for the callout, the row or the drawing.
/// Other rules speak only where they must: a hole of the tap drill's size or closed by a coating is too small as well, a band that depends
/// on the thickness is undetermined without it, and the typical ±0.05 mm of a punch leaves the band.
const STRIPS: &[(&str, &[(&str, usize)])] = &[
    ("blind-hole-shallow", &[("blind-hole-shallow", 2)]),
    ("boss-wall-thin", &[("boss-wall-thin", 2)]),
    ("callout-without-hole", &[("callout-without-hole", 1)]),
    ("callouts-differ", &[("callouts-differ", 1)]),
    ("coating-closes-hole", &[("coating-closes-hole", 2), ("engagement-above-band", 2)]),
    ("coating-conflict", &[("coating-conflict", 2)]),
    ("collar-too-tall", &[("collar-too-tall", 2)]),
    ("cored-hole-leaves-band", &[("cored-hole-leaves-band", 2)]),
    ("count-differs", &[("count-differs", 1)]),
    ("cut-edge-hardened", &[("cut-edge-hardened", 2)]),
    ("cut-thread-size", &[("cut-thread-size", 2), ("engagement-above-band", 2)]),
    ("drawn-size-differs", &[("drawn-size-differs", 2)]),
    ("edge-too-close", &[("edge-too-close", 2)]),
    ("engagement-above-band", &[("engagement-above-band", 2)]),
    ("engagement-below-band", &[("engagement-below-band", 2)]),
    ("engagement-too-long", &[("engagement-too-long", 2)]),
    ("engagement-undetermined", &[("engagement-undetermined", 2), ("thickness-unknown", 2)]),
    ("guide-hole-accepted", &[("guide-hole-accepted", 2)]),
    ("hole-without-callout", &[("hole-without-callout", 2)]),
    ("holes-too-close", &[("holes-too-close", 1)]),
    ("listed-hole-missing", &[("listed-hole-missing", 1)]),
    ("listed-size-differs", &[("listed-size-differs", 2)]),
    ("material-conflict", &[("material-conflict", 1)]),
    ("material-unsuited", &[("material-unsuited", 2)]),
    ("process-conflict", &[("process-conflict", 2)]),
    ("screw-too-short", &[("screw-too-short", 2)]),
    ("screw-unsuited", &[("screw-unsuited", 2)]),
    ("sheet-too-thin", &[("sheet-too-thin", 2)]),
    ("tap-called-out", &[("tap-called-out", 2)]),
    ("thickness-conflict", &[("thickness-conflict", 1)]),
    ("thickness-unknown", &[("engagement-undetermined", 2), ("thickness-unknown", 2)]),
    ("tolerance-leaves-band", &[("tolerance-leaves-band", 2)]),
    ("tolerance-unknown", &[("tolerance-leaves-band", 2), ("tolerance-unknown", 2)]),
    ("torque-ratio-low", &[("torque-ratio-low", 2)]),
    ("trial-missing", &[("trial-missing", 2)]),
    ("unit-doubtful", &[("unit-doubtful", 1)]),
];

/// A rule and what is found on its failing strip.
type Strip = (&'static str, &'static [(&'static str, usize)]);

/// Further strips of a rule by what begins their names: `collar-pass.dxf` and `collar-fail.dxf`.
const FURTHER: &[(&str, Strip)] = &[
    ("collar-", ("edge-too-close", &[("edge-too-close", 2)])),
    ("collar-", ("holes-too-close", &[("holes-too-close", 1)])),
    ("window-", ("edge-too-close", &[("edge-too-close", 1)])),
    ("coating-", ("engagement-undetermined", &[("engagement-undetermined", 2)])),
];

/// Rules that no drawing of the samples breaks: a run over them reads every file (`tests/reader` has others), and waivers
/// are given by an option (`tests/waivers.rs`).
const WITHOUT_STRIP: &[&str] =
    &["drawing-partly-read", "drawing-unreadable", "waiver-expired", "waiver-unused"];

/// Standard output of a run and its exit code.
fn run(args: &[&str]) -> (String, i32) {
    let output = Command::new(env!("CARGO_BIN_EXE_boreband"))
        .args(args)
        .current_dir(env!("CARGO_MANIFEST_DIR"))
        .output()
        .unwrap();
    (String::from_utf8(output.stdout).unwrap(), output.status.code().unwrap())
}

fn check_json(paths: &[&str], options: &[&str]) -> String {
    let args: Vec<&str> = [&["check"], paths, &["--format", "json"], options].concat();
    let (stdout, code) = run(&args);
    assert_eq!(code, 1, "the samples hold findings of level fail and no unreadable drawing");
    stdout
}

fn report() -> Vec<Value> {
    let report: Value = serde_json::from_str(&check_json(PARTS, &[])).unwrap();
    report["drawings"].as_array().unwrap().clone()
}

fn drawing<'a>(drawings: &'a [Value], path: &str) -> &'a Value {
    drawings.iter().find(|d| d["path"] == path).unwrap_or_else(|| panic!("{path} is not in the report"))
}

/// How many findings each rule has on a drawing.
fn counts(drawing: &Value) -> BTreeMap<&str, usize> {
    let mut counts = BTreeMap::new();
    for finding in drawing["findings"].as_array().unwrap() {
        *counts.entry(finding["rule"].as_str().unwrap()).or_insert(0) += 1;
    }
    counts
}

#[test]
fn every_sample_is_read_whole_and_stands_in_this_list_and_in_the_readme() {
    let drawings = report();
    let found: Vec<&str> = drawings.iter().map(|d| d["path"].as_str().unwrap()).collect();
    let listed: Vec<&str> = SAMPLES.iter().map(|s| s.path).collect();
    assert_eq!(found, listed);
    let readme = Path::new(env!("CARGO_MANIFEST_DIR")).join("samples/README.md");
    let readme = std::fs::read_to_string(readme).unwrap();
    for each in &drawings {
        assert_eq!(
            (&each["state"], &each["problems"]),
            (&"read".into(), &Value::Array(Vec::new())),
            "{}",
            each["path"]
        );
        let name = each["path"].as_str().unwrap().strip_prefix("samples/").unwrap();
        assert!(readme.contains(&format!("`{name}`")), "samples/README.md does not name {name}");
    }
}

#[test]
fn every_sample_gives_the_findings_of_the_readme_and_no_others() {
    let drawings = report();
    let mut wrong = Vec::new();
    for sample in SAMPLES {
        let found = counts(drawing(&drawings, sample.path));
        let expected: BTreeMap<&str, usize> = sample.findings.iter().copied().collect();
        if found != expected {
            wrong.push(format!("{}: expected {expected:?}, found {found:?}", sample.path));
        }
    }
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
}

#[test]
fn every_sample_gives_the_engagements_and_verdicts_of_the_readme() {
    let drawings = report();
    let mut wrong = Vec::new();
    for sample in SAMPLES {
        let drawing = drawing(&drawings, sample.path);
        if drawing["unit"] != sample.unit {
            wrong.push(format!("{}: unit {}", sample.path, drawing["unit"]));
        }
        let holes: Vec<&Value> =
            drawing["holes"].as_array().unwrap().iter().filter(|h| !h["screw"].is_null()).collect();
        let expected: usize = sample.screws.iter().map(|s| s.holes).sum();
        if holes.len() != expected {
            wrong.push(format!("{}: expected {expected} screw holes, found {}", sample.path, holes.len()));
        }
        for screws in sample.screws {
            let right = holes.iter().filter(|hole| is_as_expected(hole, screws)).count();
            if right != screws.holes {
                let thread = screws.thread;
                let all: Vec<String> = holes
                    .iter()
                    .map(|h| format!("  {} {} {}", h["screw"]["thread"], h["engagement"], h["verdict"]))
                    .collect();
                wrong.push(format!(
                    "{}: expected {} holes for {thread}, {:?} {}, found {right} in\n{}",
                    sample.path,
                    screws.holes,
                    screws.engagement,
                    screws.verdict,
                    all.join("\n")
                ));
            }
        }
    }
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
}

/// Thread, verdict and the three engagements; those to the rounding of the hand calculation, 0.01 percent.
fn is_as_expected(hole: &Value, screws: &Screws) -> bool {
    let thread = hole["screw"]["thread"].as_str().unwrap_or_default().trim_start_matches('#');
    let values =
        ["nominal", "at_min", "at_max"].map(|key| hole["engagement"][key].as_f64().unwrap_or(f64::NAN));
    thread == screws.thread
        && hole["verdict"] == screws.verdict
        && hole["engagement"]["basis"] == "rolled"
        && values.iter().zip(screws.engagement).all(|(found, expected)| (found - expected).abs() <= 0.011)
}

#[test]
fn the_report_is_the_same_bytes_with_any_jobs_and_in_any_order() {
    let first = check_json(PARTS, &["--jobs", "1"]);
    assert_eq!(first, check_json(PARTS, &["--jobs", "4"]));
    let forward: Vec<&str> = SAMPLES.iter().map(|s| s.path).collect();
    let backward: Vec<&str> = forward.iter().rev().copied().collect();
    assert_eq!(first, check_json(&forward, &["--jobs", "4"]));
    assert_eq!(first, check_json(&backward, &["--jobs", "3"]));
}

#[test]
fn right_samples_end_with_0_and_mistakes_end_with_1() {
    let right = [
        "samples/blank/blank-good.dxf",
        "samples/bracket/bracket-good.dxf",
        "samples/housing/housing-good.dxf",
        "samples/lid/lid-good.dxf",
        "samples/plate/plate-good.dxf",
    ];
    let (stdout, code) = run(&[&["check", "--fail-on", "warn"], &right[..]].concat());
    assert_eq!(code, 0, "{stdout}");
    for sample in SAMPLES.iter().filter(|s| !right.contains(&s.path)) {
        let (stdout, code) = run(&["check", sample.path, "--fail-on", "warn"]);
        assert_eq!(code, 1, "{}\n{stdout}", sample.path);
    }
}

#[test]
fn each_rule_is_silent_on_its_passing_strip_and_speaks_on_its_failing_one() {
    let report: Value = serde_json::from_str(&check_json(&["samples/rules"], &[])).unwrap();
    let drawings = report["drawings"].as_array().unwrap();
    assert_eq!(drawings.len(), 2 * STRIPS.len() + 2 * FURTHER.len());
    let mut wrong = Vec::new();
    let plain = STRIPS.iter().map(|strip| ("", strip));
    for (kind, (rule, expected)) in plain.chain(FURTHER.iter().map(|(kind, strip)| (*kind, strip))) {
        for (name, expected) in [("pass", &[][..]), ("fail", *expected)] {
            let path = format!("samples/rules/{rule}/{kind}{name}.dxf");
            let found = counts(drawing(drawings, &path));
            if found != expected.iter().copied().collect() {
                wrong.push(format!("{path}: expected {expected:?}, found {found:?}"));
            }
        }
    }
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
}

#[test]
fn every_rule_has_its_strips_and_stands_in_the_readme() {
    let readme = Path::new(env!("CARGO_MANIFEST_DIR")).join("samples/README.md");
    let readme = std::fs::read_to_string(readme).unwrap();
    for rule in boreband::rules::RULES.iter().filter(|rule| !WITHOUT_STRIP.contains(&rule.name)) {
        assert!(STRIPS.iter().any(|(name, _)| *name == rule.name), "{} has no strips", rule.name);
        assert!(readme.contains(&format!("| `{}` |", rule.name)), "samples/README.md lacks {}", rule.name);
    }
}

/// What each rule without a strip says where it fires and where it does not: the run's other arguments, the drawing.
fn without_strip(work: &Path, rule: &str, fires: bool) -> String {
    let strip = concat!(env!("CARGO_MANIFEST_DIR"), "/samples/rules/engagement-above-band/fail.dxf");
    let text = std::fs::read_to_string(strip).unwrap();
    std::fs::copy(strip.replace("fail.dxf", "fail.holes.json"), work.join("fail.holes.json")).unwrap();
    let drawing = work.join("fail.dxf");
    let (drawn, mut waivers) = match (rule, fires) {
        // Half of a file ends within a section; without its first line it is no DXF.
        ("drawing-partly-read", true) => (text[..text.len() * 3 / 4].to_owned(), None),
        ("drawing-unreadable", true) => ("not a drawing\n".to_owned(), None),
        ("waiver-expired", true) => (text, Some("2001-01-31")),
        ("waiver-unused", true) => (text.replace("%%c3.5 +0.03/0", "%%c3.6 +0.03/0"), Some("2999-12-31")),
        (_, false) => (text, Some("2999-12-31")),
        _ => panic!("{rule} is not known here"),
    };
    let list = work.join("waivers.json");
    std::fs::copy(strip, &drawing).unwrap();
    if waivers.is_some() {
        let path = drawing.to_str().unwrap();
        run(&["check", path, "--write-waivers", list.to_str().unwrap(), "--fail-on", "never"]);
        let mut written: Value = serde_json::from_str(&std::fs::read_to_string(&list).unwrap()).unwrap();
        for waiver in written["waivers"].as_array_mut().unwrap() {
            waiver["expires"] = waivers.take().map_or("2999-12-31", |day| day).into();
        }
        std::fs::write(&list, written.to_string()).unwrap();
    }
    std::fs::write(&drawing, drawn).unwrap();
    let mut args = vec!["check", drawing.to_str().unwrap(), "--format", "json"];
    if list.exists() {
        args.extend(["--waivers", list.to_str().unwrap()]);
    }
    run(&args).0
}

/// With the strips above every rule is seen to fire and to be silent; these need a broken file or a file of waivers.
#[test]
fn rules_without_a_strip_fire_and_are_silent_too() {
    for rule in WITHOUT_STRIP {
        for fires in [true, false] {
            let work = tempfile::tempdir().unwrap();
            let report: Value = serde_json::from_str(&without_strip(work.path(), rule, fires)).unwrap();
            let found = counts(&report["drawings"][0]);
            assert_eq!(found.contains_key(rule), fires, "{rule}: {found:?}");
        }
    }
}

/// A finding that only names its defect leaves the drafter to measure; these are no question of size.
#[test]
fn findings_on_failing_strips_carry_their_numbers() {
    const WITHOUT_NUMBER: &[&str] =
        &["material-unsuited", "process-conflict", "screw-unsuited", "thickness-unknown", "trial-missing"];
    let report: Value = serde_json::from_str(&check_json(&["samples/rules"], &[])).unwrap();
    let mut seen = std::collections::BTreeSet::new();
    for drawing in report["drawings"].as_array().unwrap() {
        for finding in drawing["findings"].as_array().unwrap() {
            let (rule, message) = (finding["rule"].as_str().unwrap(), finding["message"].as_str().unwrap());
            // The name of a thread is no number.
            let remedy = finding["remedy"].as_str().unwrap_or_default();
            let said = format!("{message} {remedy}").replace("M4", "").replace("M5", "");
            if !WITHOUT_NUMBER.contains(&rule) {
                assert!(said.contains(|c: char| c.is_ascii_digit()), "{rule}: {said}");
            }
            seen.insert(rule.to_owned());
        }
    }
    for rule in boreband::rules::RULES.iter().filter(|rule| !WITHOUT_STRIP.contains(&rule.name)) {
        assert!(seen.contains(rule.name), "{} fires on no strip", rule.name);
    }
}
