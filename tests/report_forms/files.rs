//! The forms for build servers and spreadsheets: pinned, safe to open, and agreeing with the report on every sum.

use std::collections::HashMap;
use std::io::Cursor;

use boreband::check::Report;
use boreband::finding::Level;
use boreband::report::clean;
use boreband::report::sheaf::Form;
use calamine::{Data, Reader, Xlsx};
use quick_xml::events::{BytesStart, Event};

use super::{bound, bound_bytes, golden, sample};

const JUNIT: Form = Form::JUnit(Some(Level::Fail));

#[test]
fn csv_form() {
    golden("report.csv", &bound(&sample::report(), Form::Csv));
}

#[test]
fn junit_form() {
    golden("report.junit.xml", &bound(&sample::report(), JUNIT));
}

#[test]
fn sarif_form() {
    golden("report.sarif", &without_rules(&bound(&sample::report(), Form::Sarif)));
}

/// The texts of the rules would only stand in the golden file a second time; their indices follow from them.
fn without_rules(log: &str) -> String {
    let mut log: serde_json::Value = serde_json::from_str(log).unwrap();
    let rules = log["runs"][0]["tool"]["driver"]["rules"].take();
    assert_eq!(rules.as_array().unwrap().len(), boreband::rules::RULES.len());
    for result in log["runs"][0]["results"].as_array_mut().unwrap() {
        let index = result.as_object_mut().unwrap().shift_remove("ruleIndex").unwrap();
        assert_eq!(rules[index.as_u64().unwrap() as usize]["id"], result["ruleId"]);
    }
    serde_json::to_string_pretty(&log).unwrap() + "\n"
}

/// Rows of the CSV form by column name.
fn csv_rows(report: &Report) -> Vec<HashMap<String, String>> {
    let text = bound(report, Form::Csv);
    csv::Reader::from_reader(text.as_bytes()).deserialize().map(Result::unwrap).collect()
}

/// Rows of a sheet of the workbook by column name, read by another library than the one that writes.
fn sheet_rows(report: &Report, name: &str) -> Vec<HashMap<String, Data>> {
    let mut book = Xlsx::new(Cursor::new(bound_bytes(report, Form::Xlsx))).unwrap();
    let range = book.worksheet_range(name).unwrap();
    let mut rows = range.rows();
    let names: Vec<String> = rows.next().unwrap().iter().map(ToString::to_string).collect();
    rows.map(|row| names.iter().cloned().zip(row.iter().cloned()).collect()).collect()
}

/// Every element of the JUnit form with its attributes.
fn elements(report: &Report) -> Vec<(String, HashMap<String, String>)> {
    let text = bound(report, JUNIT);
    let mut reader = quick_xml::Reader::from_str(&text);
    let mut found = Vec::new();
    let read = |e: &BytesStart<'_>| {
        let attributes = e.attributes().map(|a| {
            let a = a.unwrap();
            let value = a.normalized_value(quick_xml::XmlVersion::Implicit1_0).unwrap();
            (a.key.as_ref().to_owned(), value.into_owned())
        });
        (e.name().as_ref().to_owned(), attributes.collect())
    };
    loop {
        match reader.read_event().unwrap() {
            Event::Start(e) | Event::Empty(e) => found.push(read(&e)),
            Event::Eof => return found,
            _ => {}
        }
    }
}

#[test]
fn sums_of_all_forms_agree() {
    let report = sample::report();
    let t = &report.totals;
    let findings = t.fail + t.warn + t.note + t.waived;

    let csv = csv_rows(&report);
    let holes = |rows: &[HashMap<String, String>]| {
        let named = rows.iter().filter(|row| !row["hole"].is_empty());
        named
            .map(|row| (row["drawing"].clone(), row["hole"].clone()))
            .collect::<std::collections::HashSet<_>>()
    };
    assert_eq!(holes(&csv).len() as u64, t.holes);
    assert_eq!(csv.iter().filter(|row| !row["rule"].is_empty()).count() as u64, findings);
    let drawings: std::collections::HashSet<_> = csv.iter().map(|row| row["drawing"].clone()).collect();
    assert_eq!(drawings.len() as u64, t.drawings);

    for (level, count) in [("fail", t.fail), ("warn", t.warn), ("note", t.note)] {
        let rows = csv.iter().filter(|row| row["level"] == level && row["waived"].is_empty()).count() as u64;
        assert_eq!(rows, count, "CSV, {level}");
    }

    for (sheet, count) in [("Drawings", t.drawings), ("Holes", t.holes), ("Findings", findings)] {
        assert_eq!(sheet_rows(&report, sheet).len() as u64, count, "{sheet}");
    }
    let fails = sheet_rows(&report, "Findings")
        .into_iter()
        .filter(|row| row["level"] == Data::String("fail".to_owned()) && row["waived"] == Data::Empty);
    assert_eq!(fails.count() as u64, t.fail);

    let log: serde_json::Value = serde_json::from_str(&bound(&report, Form::Sarif)).unwrap();
    let results = log["runs"][0]["results"].as_array().unwrap();
    assert_eq!(results.len() as u64, findings);
    let waived = results.iter().filter(|r| r.get("suppressions").is_some()).count() as u64;
    assert_eq!(waived, t.waived);
    let errors = results.iter().filter(|r| r["level"] == "error" && r.get("suppressions").is_none());
    assert_eq!(errors.count() as u64, t.fail);

    let elements = elements(&report);
    let named = |name: &str| elements.iter().filter(|(n, _)| n == name).count() as u64;
    assert_eq!(named("testsuite"), t.drawings);
    assert_eq!(named("error"), t.unreadable + t.partly_read);
    let sum = |key: &str| -> u64 {
        let suites = elements.iter().filter(|(name, _)| name == "testsuite");
        suites.map(|(_, attributes)| attributes[key].parse::<u64>().unwrap()).sum()
    };
    assert_eq!(sum("tests"), named("testcase"));
    assert_eq!(
        (sum("failures"), sum("errors"), sum("skipped")),
        (named("failure"), named("error"), named("skipped"))
    );
}

/// A hole whose verdict is not known must not look passed to a build server.
#[test]
fn an_undetermined_hole_is_skipped_and_a_tight_one_failed() {
    let report = sample::report();
    let elements = elements(&report);
    let skipped = elements.windows(2).filter(|pair| pair[0].0 == "testcase" && pair[1].0 == "skipped");
    assert_eq!(skipped.count() as u64, report.totals.undetermined);
    // Every tight or loose hole of the sample carries a failing finding, written by hand there.
    let failed = elements.windows(2).filter(|pair| pair[1].0 == "failure" && pair[0].1["name"] != "drawing");
    assert!(failed.count() as u64 >= report.totals.tight + report.totals.loose - 1);
}

#[test]
fn without_a_threshold_nothing_fails_but_what_was_not_read() {
    let text = bound(&sample::report(), Form::JUnit(None));
    assert!(!text.contains("<failure") && text.contains("<error"), "{text}");
}

#[test]
fn nothing_of_a_drawing_is_live_in_a_file() {
    let mut report = sample::report();
    let hostile = report.drawings.iter_mut().find(|d| d.path.contains("ev")).unwrap();
    for (hole, text) in hostile.holes.iter_mut().zip(["=HYPERLINK(\"http://x\")", "@SUM(1)", "+1", "-1"]) {
        hole.layer = text.into();
        hole.tag = Some("]]><script>alert(1)</script>&\u{fffe}".to_owned());
    }
    for form in [Form::Csv, JUNIT, Form::Sarif] {
        let text = bound(&report, form);
        assert!(text.contains("ev"), "the hostile drawing is shown");
        let live: Vec<char> = text.chars().filter(|c| clean::is_live(*c) && *c != '\n').collect();
        assert!(live.is_empty(), "{form:?}: {live:?}");
    }
    assert!(!bound(&report, JUNIT).contains("<script>"));
    assert!(csv_rows(&report).iter().any(|row| row["layer"].starts_with("'=")));
    let mut book = Xlsx::new(Cursor::new(bound_bytes(&report, Form::Xlsx))).unwrap();
    for name in book.sheet_names() {
        let formulas = book.worksheet_formula(&name).unwrap();
        assert!(formulas.used_cells().next().is_none(), "{name} has a formula");
    }
    let layers = sheet_rows(&report, "Holes");
    assert!(layers.iter().any(|row| row["layer"] == Data::String("=HYPERLINK(\"http://x\")".to_owned())));
}

/// No cell of the CSV form or of the workbook is a formula, begins one, or holds a character that acts.
pub(super) fn no_cell_acts(report: &Report) {
    for (column, cell) in csv_rows(report).iter().flatten() {
        let number = cell.parse::<f64>().is_ok();
        assert!(number || !cell.starts_with(['=', '+', '-', '@']), "{column}: {cell:?}");
    }
    let mut book = Xlsx::new(Cursor::new(bound_bytes(report, Form::Xlsx))).unwrap();
    for name in book.sheet_names() {
        assert!(book.worksheet_formula(&name).unwrap().used_cells().next().is_none(), "{name} has a formula");
        let range = book.worksheet_range(&name).unwrap();
        let texts = range.used_cells().filter_map(|(_, _, cell)| match cell {
            Data::String(text) => Some(text.clone()),
            _ => None,
        });
        for text in texts {
            assert!(!text.chars().any(clean::is_live), "{name}: {text:?}");
        }
    }
}

/// The forms for people and scripts agree with the sums too: the text, one finding a line, and JSON with itself.
#[test]
fn sums_of_text_lines_and_json_agree() {
    let report = sample::report();
    let t = &report.totals;
    let text = bound(&report, Form::Text(boreband::report::text::Look::default()));
    let flowing = text.split_whitespace().collect::<Vec<_>>().join(" ");
    for said in [
        format!("drawings {} checked: ", t.drawings),
        format!("{} partly read, {} unreadable", t.partly_read, t.unreadable),
        format!("holes {} found, ", t.holes),
        format!("{} for self-forming screws", t.screw_holes),
        format!(
            "{} in band, {} straddles, {} tight (too small), {} loose (too large), {} undetermined",
            t.in_band, t.straddles, t.tight, t.loose, t.undetermined
        ),
        format!("findings {} fail, {} warn, {} note, {} waived", t.fail, t.warn, t.note, t.waived),
    ] {
        assert!(flowing.contains(&said), "{said}");
    }

    let lines = bound(&report, Form::Lines);
    let of = |level: &str| lines.lines().filter(|line| line.contains(&format!(": {level} "))).count() as u64;
    assert_eq!(lines.lines().count() as u64, t.fail + t.warn + t.note + t.waived);
    assert_eq!(of("fail") + of("warn") + of("note"), t.fail + t.warn + t.note + t.waived);
    assert!(of("fail") >= t.fail && of("warn") >= t.warn && of("note") >= t.note);

    let json: serde_json::Value = serde_json::from_str(&bound(&report, Form::Json)).unwrap();
    let drawings = json["drawings"].as_array().unwrap();
    let holes: Vec<_> = drawings.iter().flat_map(|d| d["holes"].as_array().unwrap()).collect();
    let findings: Vec<_> = drawings.iter().flat_map(|d| d["findings"].as_array().unwrap()).collect();
    let totals = |key: &str| json["totals"][key].as_u64().unwrap();
    let verdicts = |name: &str| holes.iter().filter(|h| h["verdict"] == name).count() as u64;
    let levels =
        |name: &str| findings.iter().filter(|f| f["level"] == name && f["waived"].is_null()).count() as u64;
    assert_eq!((totals("drawings"), totals("holes")), (drawings.len() as u64, holes.len() as u64));
    for (key, verdict) in [
        ("in_band", "in-band"),
        ("straddles", "straddles"),
        ("tight", "tight"),
        ("loose", "loose"),
        ("undetermined", "undetermined"),
    ] {
        assert_eq!(totals(key), verdicts(verdict), "{key}");
    }
    for level in ["fail", "warn", "note"] {
        assert_eq!(totals(level), levels(level), "{level}");
    }
    assert_eq!(totals("waived"), findings.iter().filter(|f| !f["waived"].is_null()).count() as u64);
}

#[test]
fn a_workbook_is_the_same_bytes_for_the_same_report() {
    let report = sample::report();
    let first = bound_bytes(&report, Form::Xlsx);
    std::thread::sleep(std::time::Duration::from_millis(1100));
    assert!(first == bound_bytes(&report, Form::Xlsx));
}

#[test]
fn a_report_without_drawings_is_a_whole_file_in_each_form() {
    let none = Report::of(Vec::new());
    assert_eq!(bound(&none, Form::Csv).lines().count(), 1);
    assert!(sheet_rows(&none, "Holes").is_empty());
    assert_eq!(elements(&none).len(), 1);
    let log: serde_json::Value = serde_json::from_str(&bound(&none, Form::Sarif)).unwrap();
    assert_eq!(log["runs"][0]["results"], serde_json::json!([]));
}
