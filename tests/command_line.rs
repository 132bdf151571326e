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

#[test]
fn every_rule_is_listed_and_explained() {
    let list = stdout(&run(&["explain", "--all"]));
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
    let schema: serde_json::Value = serde_json::from_str(&stdout(&run(&["schema", "hole-list"]))).unwrap();
    assert!(schema.is_object());
    for shell in ["bash", "zsh", "fish", "powershell"] {
        assert!(stdout(&run(&["completions", shell])).contains("boreband"), "{shell}");
    }
    assert!(stdout(&run(&["manual"])).contains(".TH boreband 1"));
}
