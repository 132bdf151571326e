//! `audit` and `merge` as people run them: stopped, gone on, in parts, with damage, and changed in between.

use std::fs;
use std::path::{Path, PathBuf};
use std::process::{Command, Output, Stdio};
use std::time::Duration;

/// A library of some folders with drawings, and a place for ledgers beside it.
struct Place {
    dir: tempfile::TempDir,
}

const LIST: &str = r#"{ "format": 1, "unit": "mm", "drawings": [ { "drawing": "**/*.dxf", "thickness": 1.5,
    "material": "low-carbon-steel", "process": "punched",
    "holes": [ { "screw": { "thread": "M4" }, "diameter": DIAMETER, "plus": 0.03, "minus": 0 } ] } ] }"#;

/// A drawing of some circles of this diameter.
fn drawing(circles: usize, diameter: f64) -> String {
    let mut text =
        String::from("0\nSECTION\n2\nHEADER\n9\n$INSUNITS\n70\n4\n0\nENDSEC\n0\nSECTION\n2\nENTITIES\n");
    for i in 0..circles {
        let radius = diameter / 2.0;
        text.push_str(&format!(
            "0\nCIRCLE\n8\nHOLES\n10\n{}.0\n20\n{}.0\n40\n{radius}\n",
            30 * i,
            17 * (i % 3)
        ));
    }
    text + "0\nENDSEC\n0\nEOF\n"
}

impl Place {
    fn new(drawings: usize) -> Place {
        let place = Place { dir: tempfile::tempdir().unwrap() };
        for n in 0..drawings {
            let diameter = [3.6, 3.3, 3.61, 3.9][n % 4];
            place.put(n, &drawing(1 + n % 5, diameter));
        }
        place.list(3.6);
        place
    }

    fn at(&self, name: &str) -> PathBuf {
        self.dir.path().join(name)
    }

    fn drawing(&self, n: usize) -> PathBuf {
        self.at(&format!("lib/part-{}/d{n:03}.dxf", n % 3))
    }

    fn put(&self, n: usize, text: &str) {
        let path = self.drawing(n);
        fs::create_dir_all(path.parent().unwrap()).unwrap();
        fs::write(path, text).unwrap();
    }

    /// One list for all, which asks for M4 in holes of this diameter.
    fn list(&self, diameter: f64) {
        fs::write(self.at("all.holes.json"), LIST.replace("DIAMETER", &diameter.to_string())).unwrap();
    }

    fn command(&self, arguments: &[&str]) -> Command {
        let mut command = Command::new(env!("CARGO_BIN_EXE_boreband"));
        command.current_dir(self.dir.path()).args(arguments).env_remove("NO_COLOR");
        command
    }

    fn audit(&self, ledger: &str, more: &[&str]) -> Output {
        let common = ["audit", "lib", "--holes", "all.holes.json", "--ledger", ledger, "--format", "json"];
        self.command(&[&common[..], more].concat()).output().unwrap()
    }

    fn merge(&self, ledgers: &[&str]) -> Output {
        self.command(&[&["merge", "--format", "json"], ledgers].concat()).output().unwrap()
    }
}

/// What a run said on standard error of the drawings it met.
fn said(output: &Output) -> String {
    String::from_utf8_lossy(&output.stderr).into_owned()
}

fn picture(output: &Output) -> serde_json::Value {
    serde_json::from_slice(&output.stdout).unwrap_or_else(|e| panic!("{e}: {}", said(output)))
}

fn lines(path: &Path) -> usize {
    fs::read(path).unwrap().iter().filter(|byte| **byte == b'\n').count()
}

#[test]
fn a_second_run_checks_nothing_again_and_gives_the_same_bytes() {
    let place = Place::new(40);
    let first = place.audit("a.ledger", &[]);
    assert_eq!(first.status.code(), Some(1), "{}", said(&first));
    assert!(
        said(&first).contains("0 known and unchanged") && said(&first).contains("40 new"),
        "{}",
        said(&first)
    );
    let size = fs::metadata(place.at("a.ledger")).unwrap().len();
    let second = place.audit("a.ledger", &["--jobs", "1"]);
    assert!(said(&second).contains("40 known and unchanged") && said(&second).contains("0 new"));
    assert_eq!(first.stdout, second.stdout);
    assert_eq!(fs::metadata(place.at("a.ledger")).unwrap().len(), size);
    // The sums are those that `check` gives of the drawings without the copies.
    let duplicates = picture(&first)["duplicates"].as_array().unwrap().len();
    assert!(duplicates > 0, "drawings of the same number of circles are the same");
    let totals = picture(&first)["totals"].clone();
    assert_eq!(totals["drawings"].as_u64().unwrap() + duplicates as u64, 40);
    for n in 0..40 {
        let same = (0..n).any(|m| fs::read(place.drawing(m)).unwrap() == fs::read(place.drawing(n)).unwrap());
        if same {
            fs::remove_file(place.drawing(n)).unwrap();
        }
    }
    let check =
        place.command(&["check", "lib", "--holes", "all.holes.json", "--format", "json"]).output().unwrap();
    assert_eq!(totals, picture(&check)["totals"]);
}

#[test]
fn what_changed_is_checked_again_and_what_is_gone_is_forgotten() {
    let place = Place::new(12);
    place.audit("a.ledger", &[]);
    place.put(3, &drawing(9, 3.3));
    fs::remove_file(place.drawing(4)).unwrap();
    place.put(50, &drawing(2, 3.61));
    let run = place.audit("a.ledger", &[]);
    assert!(
        said(&run).contains("10 known and unchanged, 1 changed, 0 checked again")
            && said(&run).contains("1 new; 1 gone"),
        "{}",
        said(&run)
    );
    assert_eq!(run.stdout, place.audit("fresh.ledger", &[]).stdout);
    // Another list, another policy, another option: each drawing again.
    place.list(3.61);
    let run = place.audit("a.ledger", &[]);
    assert!(said(&run).contains("0 known and unchanged, 0 changed, 12 checked again"), "{}", said(&run));
    fs::write(place.at("lib/boreband.json"), r#"{ "format": 1, "levels": { "tolerance-unknown": "warn" } }"#)
        .unwrap();
    let run = place.audit("a.ledger", &[]);
    assert!(said(&run).contains("12 checked again"), "{}", said(&run));
    let run = place.audit("a.ledger", &["--thickness", "2mm"]);
    assert!(said(&run).contains("12 checked again"), "{}", said(&run));
    let run = place.audit("a.ledger", &["--thickness", "2mm"]);
    assert!(said(&run).contains("12 known and unchanged"), "{}", said(&run));
}

/// Killed at five moments of its work, then let go on to the end.
#[test]
fn a_run_that_is_killed_goes_on_where_it_stopped() {
    let place = Place::new(240);
    let whole = place.audit("whole.ledger", &[]);
    let mut kept = 0;
    for wait in [4, 9, 15, 22, 30] {
        let arguments = [
            "audit",
            "lib",
            "--holes",
            "all.holes.json",
            "--ledger",
            "a.ledger",
            "--format",
            "json",
            "--jobs",
            "2",
        ];
        let mut child =
            place.command(&arguments).stdout(Stdio::null()).stderr(Stdio::null()).spawn().unwrap();
        std::thread::sleep(Duration::from_millis(wait));
        let _ = child.kill();
        child.wait().unwrap();
        if place.at("a.ledger").exists() {
            let now = lines(&place.at("a.ledger"));
            assert!(now >= kept, "a result was lost: {now} of {kept} lines");
            kept = now;
        }
    }
    let rest = place.audit("a.ledger", &[]);
    assert_eq!(rest.stdout, whole.stdout, "{}", said(&rest));
}

#[test]
fn shards_merge_to_the_picture_of_one_run_in_any_order() {
    let place = Place::new(60);
    let whole = place.audit("whole.ledger", &[]);
    let names: Vec<String> = (1..=7).map(|k| format!("{k}.ledger")).collect();
    let mut drawings = 0;
    for (k, name) in (1..=7).zip(&names) {
        let shard = format!("{k}/7");
        place.audit(name, &["--shard", &shard]);
        drawings += lines(&place.at(name)) - 1;
    }
    assert_eq!(drawings, 60);
    let mut order: Vec<&str> = names.iter().map(String::as_str).collect();
    let merged = place.merge(&order);
    assert_eq!(merged.stdout, whole.stdout, "{}", said(&merged));
    assert_eq!(merged.status.code(), whole.status.code());
    order.reverse();
    order.push("1.ledger");
    assert_eq!(place.merge(&order).stdout, whole.stdout, "a ledger that is given twice counts once");
    // A drawing that is gone is forgotten by its own shard only.
    fs::remove_file(place.drawing(5)).unwrap();
    let gone: usize = (1..=7)
        .map(|k| {
            usize::from(said(&place.audit(&names[k - 1], &["--shard", &format!("{k}/7")])).contains("1 gone"))
        })
        .sum();
    assert_eq!(gone, 1);
}

#[test]
fn one_bad_drawing_costs_itself_only_and_is_named() {
    let place = Place::new(20);
    fs::write(place.drawing(7), "%PDF-1.7\n").unwrap();
    let run = place.audit("a.ledger", &["--fail-on", "never"]);
    assert_eq!(run.status.code(), Some(2));
    let picture = picture(&run);
    assert_eq!(picture["totals"]["unreadable"], 1);
    assert_eq!(picture["not_whole"][0]["path"], "lib/part-1/d007.dxf");
    assert!(picture["not_whole"][0]["problem"].as_str().unwrap().contains("PDF"));
    let again = place.audit("a.ledger", &["--fail-on", "never"]);
    assert_eq!((again.status.code(), &again.stdout), (Some(2), &run.stdout), "it is still not read");
}

#[test]
fn a_ledger_that_was_cut_by_a_power_cut_is_mended_and_that_is_said() {
    let place = Place::new(20);
    let whole = place.audit("a.ledger", &[]);
    let bytes = fs::read(place.at("a.ledger")).unwrap();
    fs::write(place.at("a.ledger"), &bytes[..bytes.len() - 40]).unwrap();
    let merged = place.merge(&["a.ledger"]);
    assert_eq!(merged.status.code(), Some(2), "a picture with a hole in it is no result");
    assert!(said(&merged).contains("line 21 was cut short"), "{}", said(&merged));
    let run = place.audit("a.ledger", &[]);
    assert!(said(&run).contains("line 21 was cut short and was taken away"), "{}", said(&run));
    assert!(said(&run).contains("19 known and unchanged") && said(&run).contains("1 new"), "{}", said(&run));
    assert_eq!(run.stdout, whole.stdout);
}

#[test]
fn what_cannot_be_done_is_said_before_the_work() {
    let place = Place::new(3);
    fs::write(place.at("notes.txt"), "not a ledger\n").unwrap();
    for (arguments, expected) in [
        (vec!["audit", "lib", "--ledger", "notes.txt"], "is no ledger"),
        (vec!["audit", "lib", "--ledger", "none/a.ledger"], "cannot be opened"),
        (vec!["audit", "lib"], "--ledger"),
        (vec!["audit", "lib", "--ledger", "a.ledger", "--shard", "8/7"], "is no shard"),
        (vec!["audit", "lib", "--ledger", "a.ledger", "--write", "sarif=a.sarif"], "boreband check"),
        (vec!["audit", "nowhere", "--ledger", "a.ledger"], "nowhere"),
        (vec!["merge", "none.ledger"], "none.ledger"),
        (vec!["merge", "notes.txt"], "is no ledger"),
        (vec!["merge"], "LEDGER"),
    ] {
        let output = place.command(&arguments).output().unwrap();
        assert_eq!(output.status.code(), Some(2), "{arguments:?}");
        assert!(said(&output).contains(expected), "{arguments:?}: {}", said(&output));
    }
    assert_eq!(fs::read_to_string(place.at("notes.txt")).unwrap(), "not a ledger\n");
}

/// A disk that is full, as a limit on the size of files.
#[test]
#[cfg(target_os = "linux")]
fn a_ledger_that_cannot_be_written_ends_the_run() {
    let place = Place::new(60);
    let program = env!("CARGO_BIN_EXE_boreband");
    // In units of 512 bytes.
    let script = format!(
        "trap '' XFSZ; ulimit -f 16; exec {program} audit lib --holes all.holes.json --ledger a.ledger"
    );
    let run = Command::new("sh").current_dir(place.dir.path()).args(["-c", &script]).output().unwrap();
    assert_eq!(run.status.code(), Some(2), "{}", said(&run));
    assert!(said(&run).contains("a.ledger: the ledger cannot be written"), "{}", said(&run));
    assert!(run.stdout.is_empty(), "half a library is no picture");
    // With room again it goes on with what it has.
    let rest = place.audit("a.ledger", &[]);
    assert!(!said(&rest).contains("0 known and unchanged"), "{}", said(&rest));
    assert_eq!(rest.stdout, place.audit("fresh.ledger", &[]).stdout);
    let device = place.audit("/dev/full", &[]);
    assert_eq!(device.status.code(), Some(2));
    assert!(said(&device).contains("no regular file"), "{}", said(&device));
}

#[test]
fn the_picture_and_the_lines_are_as_their_schemas_say() {
    let place = Place::new(10);
    let run = place.audit("a.ledger", &[]);
    let schema = |name: &str| {
        let text = boreband::report::schema::schema(name).unwrap();
        jsonschema::validator_for(&serde_json::from_str(&text).unwrap()).unwrap()
    };
    let wrong: Vec<String> = schema("library").iter_errors(&picture(&run)).map(|e| e.to_string()).collect();
    assert_eq!(wrong, [""; 0]);
    let ledger = fs::read_to_string(place.at("a.ledger")).unwrap();
    let lines = schema("ledger");
    let mut seen = 0;
    for line in ledger.lines().skip(1) {
        let value: serde_json::Value = serde_json::from_str(line).unwrap();
        assert!(lines.is_valid(&value), "{line}");
        seen += 1;
    }
    assert_eq!(seen, 10);
}
