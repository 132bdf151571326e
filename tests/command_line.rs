//! The built program as a script meets it: exit codes, what goes to which stream, and closed pipes.

use std::path::{Path, PathBuf};
use std::process::{Command, Output, Stdio};

fn boreband() -> Command {
    let mut command = Command::new(env!("CARGO_BIN_EXE_boreband"));
    command.env_remove("COLUMNS").env_remove("NO_COLOR").current_dir(env!("CARGO_MANIFEST_DIR"));
    command
}

fn run(args: &[&str]) -> Output {
    boreband().args(args).output().unwrap()
}

fn code(output: &Output) -> i32 {
    output.status.code().unwrap()
}

fn stdout(output: &Output) -> String {
    String::from_utf8(output.stdout.clone()).unwrap()
}

fn stderr(output: &Output) -> String {
    String::from_utf8(output.stderr.clone()).unwrap()
}

/// A folder with one file in it.
fn folder_with(name: &str, content: &str) -> (tempfile::TempDir, PathBuf) {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join(name);
    std::fs::write(&path, content).unwrap();
    (folder, path)
}

fn text(path: &Path) -> &str {
    path.to_str().unwrap()
}

#[test]
fn help_and_version_are_results() {
    for args in [&["--help"][..], &["check", "--help"], &["-h"], &["--version"], &["help", "check"]] {
        let output = run(args);
        assert_eq!((code(&output), stderr(&output).as_str()), (0, ""), "{args:?}");
    }
    assert!(stdout(&run(&["--version"])).starts_with(&format!("boreband {}", env!("CARGO_PKG_VERSION"))));
}

/// The table of possible bands was once too wide for 80 columns, and so was not aligned.
#[test]
fn possible_bands_are_a_table_of_80_columns() {
    let shown = stdout(&run(&["size", "1/4-20"]));
    let table: Vec<&str> =
        shown.lines().filter(|l| l.contains("to Ø") || l.contains("target   hole")).collect();
    let column =
        |line: &str| line.chars().count() - line.trim_end().rsplit("   ").next().unwrap().chars().count();
    assert!(table.len() > 10 && table[0].trim_start().starts_with("material"), "{shown}");
    assert!(table.iter().all(|line| line.chars().count() <= 80), "{shown}");
    assert!(table.iter().all(|line| column(line) == column(table[0])), "{shown}");
}

/// `holes` once refused the options of `check` that say what counts.
#[test]
fn holes_takes_a_policy() {
    let (_folder, policy) =
        folder_with("boreband.json", r#"{"format": 1, "levels": {"count-differs": "off"}}"#);
    let output = run(&["holes", "samples/lid/lid-good.dxf", "--policy", text(&policy)]);
    assert_eq!((code(&output), stderr(&output).as_str()), (0, ""));
    let output = run(&["holes", "samples/lid/lid-good.dxf", "--policy", "no-such-policy.json"]);
    assert_eq!(code(&output), 2);
    assert!(stderr(&output).contains("no-such-policy.json"));
}

#[test]
fn bad_arguments_end_with_2() {
    for args in [
        &[][..],
        &["check"],
        &["check", "a.dxf", "--format", "yaml"],
        &["check", "a.dxf", "--fail-on", "error"],
        &["check", "a.dxf", "--quiet", "--verbose"],
        &["check", "a.dxf", "--waive"],
        &["explain"],
        &["explain", "no-such-rule"],
        &["schema", "drawing"],
        &["bore"],
    ] {
        let output = run(args);
        assert_eq!(code(&output), 2, "{args:?}: {}", stderr(&output));
        assert_eq!(stdout(&output), "", "{args:?}");
        assert!(!output.stderr.is_empty(), "{args:?}");
    }
}

#[test]
fn all_wrong_values_are_told_at_once() {
    let args = ["check", "no/such.dxf", "--screw", "Q4", "--material", "wood", "--process", "bitten"];
    let output = run(&args);
    assert_eq!(code(&output), 2);
    for named in ["no/such.dxf", "--screw", "'wood'", "'bitten'"] {
        assert!(stderr(&output).contains(named), "{named} is missing in {}", stderr(&output));
    }
}

#[test]
fn a_folder_without_drawings_ends_with_2() {
    let folder = tempfile::tempdir().unwrap();
    let output = run(&["check", text(folder.path())]);
    assert_eq!(code(&output), 2);
    assert!(stderr(&output).contains("no drawing"), "{}", stderr(&output));
}

#[test]
fn every_fault_of_a_hole_list_is_a_line() {
    let list = r#"{ "format": 1, "unit": "furlong", "colour": 1,
        "drawings": [ { "drawing": "a.dxf", "thickness": -1, "holes": [ { "screw": { "thread": "M99q" } } ] } ] }"#;
    let (folder, list) = folder_with("a.holes.json", list);
    std::fs::write(folder.path().join("a.dxf"), "0\nEOF\n").unwrap();
    let output = run(&["check", text(&folder.path().join("a.dxf"))]);
    assert_eq!((code(&output), stdout(&output).as_str()), (2, ""));
    let lines: Vec<String> = stderr(&output).lines().map(str::to_owned).collect();
    for pointer in ["/unit", "/colour", "/drawings/0/thickness", "/drawings/0/holes/0/screw/thread"] {
        let found = lines.iter().filter(|l| l.contains(text(&list)) && l.contains(pointer)).count();
        assert_eq!(found, 1, "{pointer} in {lines:#?}");
    }
}

#[test]
fn a_name_that_is_no_drawing_cannot_draw_on_the_terminal() {
    let output = run(&["check", "\u{1b}[2Jgone\u{202e}.dxf"]);
    assert_eq!(code(&output), 2);
    assert!(stderr(&output).contains("\\x1b[2Jgone\\u{202e}.dxf"), "{}", stderr(&output));
}

#[test]
fn a_closed_pipe_is_no_error() {
    for args in [&["explain", "--all"][..], &["manual"], &["schema", "hole-list"], &["--help"]] {
        let mut child = boreband().args(args).stdout(Stdio::piped()).stderr(Stdio::piped()).spawn().unwrap();
        drop(child.stdout.take());
        let output = child.wait_with_output().unwrap();
        assert_eq!((code(&output), stderr(&output).as_str()), (0, ""), "{args:?}");
    }
}

/// Every command that answers on standard output says so when the answer is lost. `/dev/full` takes no byte.
#[cfg(target_os = "linux")]
#[test]
fn a_full_disk_ends_with_2() {
    let commands: [&[&str]; 10] = [
        &["check", "samples/lid"],
        &["check", "samples/lid", "--format", "json"],
        &["check", "samples/lid", "--format", "lines"],
        &["holes", "samples/lid/lid-good.dxf"],
        &["size", "M4", "--thickness", "1.5", "--material", "DC01"],
        &["explain", "--all"],
        &["schema", "report"],
        &["completions", "bash"],
        &["manual"],
        &["--version"],
    ];
    for args in commands {
        let full = std::fs::OpenOptions::new().write(true).open("/dev/full").unwrap();
        let output = boreband().args(args).stdout(full).output().unwrap();
        assert_eq!(code(&output), 2, "{args:?}");
    }
    let output = run(&["check", "samples/lid", "--fail-on", "never", "--write", "json=/dev/full"]);
    assert_eq!(code(&output), 2);
    assert!(stderr(&output).contains("/dev/full cannot be written"), "{}", stderr(&output));
}

#[test]
fn every_rule_is_listed_and_explained() {
    let list = stdout(&run(&["explain", "--all"]));
    assert!(!boreband::rules::RULES.is_empty());
    for rule in boreband::rules::RULES {
        assert!(list.lines().any(|l| l.starts_with(rule.name)), "{} is not listed", rule.name);
        let output = run(&["explain", rule.name]);
        assert_eq!(code(&output), 0);
        for heading in ["Requirement", "Why it matters", "How it is measured", "Example", "Source"] {
            assert!(stdout(&output).contains(heading), "{}: {heading}", rule.name);
        }
    }
}

#[test]
fn schemas_completions_and_manual_are_printed() {
    for name in boreband::report::schema::NAMES {
        let schema: serde_json::Value = serde_json::from_str(&stdout(&run(&["schema", name]))).unwrap();
        // A line of a ledger has none: its first line names the format.
        let first = if name == "ledger" { "path" } else { "format" };
        assert!(schema["properties"][first].is_object(), "{name}");
    }
    for shell in ["bash", "zsh", "fish", "powershell"] {
        assert!(stdout(&run(&["completions", shell])).contains("boreband"), "{shell}");
    }
    assert!(stdout(&run(&["manual"])).contains(".TH boreband 1"));
}

const GOOD: &str = "samples/lid/lid-good.dxf";
/// M4 called out at its tap drill: a failure.
const TAP_DRILL: &str = "samples/lid/lid-tap-drill.dxf";
/// A tolerance that leaves the band: a warning and no failure.
const OPEN: &str = "samples/lid/lid-open-tolerance.dxf";

#[test]
fn the_exit_code_follows_the_threshold() {
    for (args, expected) in [
        (&["check", GOOD][..], 0),
        (&["check", GOOD, "--fail-on", "note"], 0),
        (&["check", TAP_DRILL], 1),
        (&["check", TAP_DRILL, "--quiet"], 1),
        (&["check", TAP_DRILL, "--fail-on", "never"], 0),
        (&["check", OPEN], 0),
        (&["check", OPEN, "--fail-on", "warn"], 1),
        (&["check", GOOD, TAP_DRILL, "--format", "lines"], 1),
        (&["check", GOOD, TAP_DRILL, "--format", "json"], 1),
        (&["holes", TAP_DRILL], 0),
    ] {
        let output = run(args);
        assert_eq!((code(&output), stderr(&output).as_str()), (expected, ""), "{args:?}");
    }
}

#[test]
fn a_bad_drawing_ends_with_2_and_the_others_are_checked() {
    let (_folder, bad) = folder_with("bad.dxf", "%PDF-1.7 no drawing");
    for args in [
        &["check", text(&bad), TAP_DRILL][..],
        &["check", text(&bad), TAP_DRILL, "--fail-on", "never"],
        &["check", text(&bad), TAP_DRILL, "--quiet"],
    ] {
        let output = run(args);
        assert_eq!(code(&output), 2, "{args:?}");
        let said = stdout(&output);
        assert!(said.contains("drawing-unreadable") && said.contains("engagement-above-band"), "{said}");
    }
    let holes = run(&["holes", text(&bad), "--format", "json"]);
    let value: serde_json::Value = serde_json::from_str(&stdout(&holes)).unwrap();
    assert_eq!((code(&holes), value["state"].as_str()), (2, Some("unreadable")));
}

#[test]
fn a_closed_pipe_keeps_the_code_of_the_check() {
    for (path, expected) in [(GOOD, 0), (TAP_DRILL, 1)] {
        let mut child =
            boreband().args(["check", path]).stdout(Stdio::piped()).stderr(Stdio::piped()).spawn().unwrap();
        drop(child.stdout.take());
        let output = child.wait_with_output().unwrap();
        assert_eq!((code(&output), stderr(&output).as_str()), (expected, ""));
    }
}

/// The drafter's answer: where, required, found, difference, cause and what to write. The numbers follow by hand from
/// 100(D-d)/(0.649519 P): 154 % at Ø3.3, 143 % at Ø3.35, and Ø3.554 to Ø3.636 for 98 to 80 %.
#[test]
fn the_answer_for_a_tap_drill_is_whole() {
    let said = stdout(&run(&["check", TAP_DRILL]));
    for part in [
        "FAIL  engagement-above-band",
        "FAIL  cut-thread-size",
        "4 holes: ",
        "M4 in 1.5 mm low-carbon steel, punched",
        "Ø3.554 to Ø3.636",
        "Ø3.300 +0.050/0",
        "154 % to 143 % (rolled)",
        "0.254 too small",
        "call out 4X Ø3.6",
    ] {
        assert!(said.contains(part), "{part} is missing in\n{said}");
    }
    assert!(!said.contains('\x1b'), "no colour where standard output is no terminal");
    assert!(stdout(&run(&["check", TAP_DRILL, "--color", "always"])).contains("\x1b["));
}

#[test]
fn a_clean_drawing_is_silent_but_for_the_summary() {
    let said = stdout(&run(&["check", GOOD]));
    assert!(!said.contains(GOOD), "{said}");
    assert!(said.contains("screw holes checked are in their bands"), "{said}");
    assert!(said.contains("lowest") && said.contains("mean"), "{said}");
}

#[test]
fn the_bytes_depend_neither_on_jobs_nor_on_order() {
    let one = run(&["check", "samples/lid", "samples/plate", "--format", "json", "--jobs", "1"]);
    let many = run(&["check", "samples/plate", "samples/lid", "--format", "json", "--jobs", "7"]);
    assert!(one.stdout.len() > 1000);
    assert_eq!(one.stdout, many.stdout);
}

#[test]
fn width_follows_columns() {
    for width in [60_usize, 80, 160] {
        let output =
            boreband().args(["check", "samples/lid"]).env("COLUMNS", width.to_string()).output().unwrap();
        let said = stdout(&output);
        let widest = said.lines().map(|l| l.chars().count()).max().unwrap();
        assert!(widest <= width && widest > width / 2, "{widest} of {width}");
    }
}

#[test]
fn the_joint_can_come_from_the_command_line() {
    let (_folder, copy) = folder_with("copy.dxf", &std::fs::read_to_string(GOOD).unwrap());
    let without: serde_json::Value =
        serde_json::from_str(&stdout(&run(&["check", text(&copy), "--format", "json"]))).unwrap();
    assert_eq!(without["totals"]["screw_holes"], 0);
    let args = ["--screw", "M4", "--thickness", "1.5", "--material", "DC01", "--process", "punched"];
    let output = run(&[&["check", text(&copy), "--format", "json"][..], &args[..]].concat());
    let with: serde_json::Value = serde_json::from_str(&stdout(&output)).unwrap();
    assert!(with["totals"]["screw_holes"].as_u64().unwrap() > 0, "{}", with["totals"]);
    assert_eq!(with["drawings"][0]["holes"][0]["thickness_mm"], 1.5);
}

#[test]
fn progress_goes_to_standard_error_and_only_when_it_takes_a_moment() {
    let output = run(&["check", GOOD, "--progress", "always"]);
    assert_eq!((code(&output), stderr(&output).as_str()), (0, ""));
}

#[test]
fn size_answers_and_names_every_bad_argument() {
    let output =
        run(&["size", "M4", "--thickness", "1.5", "--material", "DC01", "--hole", "3.6", "--format", "json"]);
    assert_eq!((code(&output), stderr(&output).as_str()), (0, ""));
    let found: serde_json::Value = serde_json::from_str(&stdout(&output)).unwrap();
    assert_eq!(found["hole"]["verdict"], "in-band");
    // 16 gauge steel is .0598 in (Manufacturers' Standard Gauge, as recalled): 1.519 mm.
    let output = run(&["size", "1/4-20", "--thickness", "16ga", "--material", "CRS", "--format", "json"]);
    let found: serde_json::Value = serde_json::from_str(&stdout(&output)).unwrap();
    assert_eq!(found["thickness_mm"], 1.51892);

    let output = run(&["size", "M4x0.7", "--hole", "-1", "--material", "foo", "--thickness", "16ga"]);
    assert_eq!((code(&output), stdout(&output).as_str()), (2, ""));
    let said = stderr(&output);
    for part in ["--hole: '-1'", "--material: 'foo'", "--thickness: '16ga'"] {
        assert!(said.contains(part), "{part} in {said}");
    }
    assert_eq!(code(&run(&["size", "M4x9"])), 2);
    assert_eq!(code(&run(&["size", "M4", "--draft", "1"])), 2);
}

#[test]
fn size_takes_a_policy_that_is_named_or_that_is_found_upward() {
    let folder = tempfile::tempdir().unwrap();
    let policy = r##"{ "format": 1, "drills": ["3.5mm", "#28", "3.6mm"], "punches": ["3.57mm"],
        "limits": { "blind-clearance": 2 },
        "bands": [{ "material": "low-carbon-steel", "min": 85, "target": 95, "max": 99 }] }"##;
    let below = folder.path().join("below");
    std::fs::create_dir(&below).unwrap();
    std::fs::write(folder.path().join("boreband.json"), policy).unwrap();
    let asked = ["size", "M4", "--thickness", "1.5", "--material", "DC01", "--format", "json"];
    let found =
        Command::new(env!("CARGO_BIN_EXE_boreband")).args(asked).current_dir(&below).output().unwrap();
    let found: serde_json::Value = serde_json::from_slice(&found.stdout).unwrap();
    // The band is Ø3.5499 to Ø3.6135 (4 − 0.99 and 0.85 times 0.454663); of three drills #28 (.1405 in, 3.569 mm) and 3.6
    // are in it, and 95 % is Ø3.568.
    let names = |of: &str| -> Vec<String> {
        found[of].as_array().unwrap().iter().map(|d| d["name"].as_str().unwrap().to_owned()).collect()
    };
    assert_eq!(
        (names("drills"), names("punches")),
        (vec!["#28".into(), "3.6mm".into()], vec!["3.57mm".into()])
    );
    assert_eq!((&found["band"]["status"], &found["drills"][0]["status"]), (&"user".into(), &"user".into()));
    let sets: Vec<&str> =
        found["policy"]["sets"].as_array().unwrap().iter().filter_map(|s| s.as_str()).collect();
    assert_eq!(sets, ["limit blind-clearance 2 pitches", "1 band", "3 drills", "1 punch"]);

    let named = folder.path().join("boreband.json");
    let text = stdout(&run(&[
        "size",
        "M4",
        "--thickness",
        "1.5",
        "--material",
        "DC01",
        "--policy",
        named.to_str().unwrap(),
    ]));
    for said in ["85 to 99 % rolled", "(set by the user)", "limit blind-clearance 2 pitches"] {
        assert!(text.contains(said), "{said} is missing in\n{text}");
    }
    let missing = run(&["size", "M4x9", "--policy", "nowhere.json"]);
    assert_eq!(code(&missing), 2);
    assert!(stderr(&missing).contains("nowhere.json") && stderr(&missing).contains("M4x9"));
}
