//! Every form of a report, from one report made by hand: compared with golden files, safe to show, and agreeing on
//! its totals. Golden files are our own output, read and pinned; `BOREBAND_RENEW=1 cargo test` writes them anew.

mod files;
mod page;
mod sample;
mod seen;

use std::path::Path;

use boreband::check::{Report, Totals};
use boreband::finding::Level;
use boreband::report::sheaf::{Form, Sheaf};
use boreband::report::text::{Detail, Look};
use boreband::report::{clean, json, lines, text};
use unicode_width::UnicodeWidthStr;

fn as_text(report: &Report, look: Look) -> String {
    let mut out = Vec::new();
    text::write(report, &look, &mut out).unwrap();
    String::from_utf8(out).unwrap()
}

fn as_lines(report: &Report) -> String {
    let mut out = Vec::new();
    lines::write(report, &mut out).unwrap();
    String::from_utf8(out).unwrap()
}

fn as_json(report: &Report) -> String {
    let mut out = Vec::new();
    json::write(report, &mut out).unwrap();
    String::from_utf8(out).unwrap()
}

/// The report as `check` writes it: its drawings put into forms as results come, here in the opposite order. The form
/// stands second, so that it is not only the first that is right.
fn bound_bytes(report: &Report, form: Form) -> Vec<u8> {
    let mut sheaf = Sheaf::new(vec![Form::Lines, form]);
    let mut leaves: Vec<_> = report.drawings.iter().rev().map(|d| sheaf.add(d).unwrap()).collect();
    leaves.reverse();
    let mut out = Vec::new();
    sheaf.write(1, &leaves, &mut out).unwrap();
    out
}

fn bound(report: &Report, form: Form) -> String {
    String::from_utf8(bound_bytes(report, form)).unwrap()
}

#[test]
fn a_report_bound_of_drawings_is_the_same_as_one_written_whole() {
    let full = sample::report();
    assert!(full.drawings.len() > 1);
    let clean = sample::clean_report().drawings;
    for report in [full.drawings, clean, Vec::new()].map(Report::of) {
        for detail in [Detail::Quiet, Detail::Normal, Detail::Verbose] {
            let look = Look { detail, ..Look::default() };
            assert_eq!(bound(&report, Form::Text(look)), as_text(&report, look));
        }
        assert_eq!(bound(&report, Form::Lines), as_lines(&report));
        let json = bound(&report, Form::Json);
        assert_eq!(json, as_json(&report));
        let read: serde_json::Value = serde_json::from_str(&json).unwrap();
        assert_eq!(read["drawings"].as_array().unwrap().len(), report.drawings.len());
    }
}

fn golden(name: &str, got: &str) {
    let path = Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/golden").join(name);
    if std::env::var_os("BOREBAND_RENEW").is_some() {
        std::fs::write(&path, got).unwrap();
    }
    let pinned = std::fs::read_to_string(&path).unwrap_or_default();
    assert_eq!(got, pinned, "{} differs; renew it with BOREBAND_RENEW=1 and read it", path.display());
}

/// A drawing without a screw hole must not read like a pass.
#[test]
fn nothing_checked_is_said_plainly() {
    let mut report = sample::clean_report();
    report.totals = Totals { drawings: 1, holes: 2, ..Totals::default() };
    for hole in &mut report.drawings[0].holes {
        (hole.screw, hole.band, hole.engagement, hole.verdict) = (None, None, None, None);
    }
    let text = as_text(&report, Look::default());
    assert!(text.contains("No screw hole was checked") && text.contains("--screw"), "{text}");
    assert!(!text.contains("verdicts"), "{text}");
    // Who has named a screw is not told to name one.
    let named = as_text(&report, Look { screw_named: true, ..Look::default() });
    assert!(named.contains("none of the holes is 0.7 to 1 times"), "{named}");
    assert!(!named.contains("for example: --screw"), "{named}");
    report.drawings[0].holes.clear();
    report.totals.holes = 0;
    assert!(as_text(&report, Look::default()).contains("No hole was found"));
    report.totals.unreadable = 1;
    assert!(as_text(&report, Look::default()).contains("No drawing could be read"));
}

/// All in band, but a warning or a loss remains: then it is not said that all is well.
#[test]
fn all_is_well_only_if_nothing_remains() {
    let said = "All 2 screw holes checked are in their bands";
    assert!(as_text(&sample::clean_report(), Look::default()).contains(said));
    let changes: [fn(&mut Totals); 4] =
        [|t| t.warn = 1, |t| t.partly_read = 1, |t| t.in_band = 1, |t| t.fail = 1];
    for change in changes {
        let mut report = sample::clean_report();
        change(&mut report.totals);
        assert!(!as_text(&report, Look::default()).contains(said));
    }
}

fn look(width: usize, detail: Detail) -> Look {
    Look { width, colour: false, detail, ..Look::default() }
}

#[test]
fn text_at_80_columns() {
    golden("report-80.txt", &as_text(&sample::report(), look(80, Detail::Normal)));
}

#[test]
fn text_at_160_columns() {
    golden("report-160.txt", &as_text(&sample::report(), look(160, Detail::Normal)));
}

#[test]
fn text_in_full() {
    golden("report-verbose.txt", &as_text(&sample::report(), look(100, Detail::Verbose)));
}

#[test]
fn text_in_short() {
    golden("report-quiet.txt", &as_text(&sample::report(), look(80, Detail::Quiet)));
}

#[test]
fn text_of_a_clean_drawing() {
    golden("report-clean.txt", &as_text(&sample::clean_report(), Look::default()));
}

#[test]
fn one_finding_a_line() {
    golden("report.lines", &as_lines(&sample::report()));
}

#[test]
fn json_form() {
    golden("report.json", &as_json(&sample::report()));
}

#[test]
fn no_line_is_wider_than_the_page() {
    for detail in [Detail::Quiet, Detail::Normal, Detail::Verbose] {
        for width in [40, 60, 80, 100, 120, 160] {
            for line in as_text(&sample::report(), look(width, detail)).lines() {
                let is_path = line.starts_with("parts/");
                assert!(is_path || line.width() <= width, "{} columns of {width}: {line}", line.width());
            }
        }
    }
}

#[test]
fn colour_only_adds_to_the_words() {
    let plain = as_text(&sample::report(), look(80, Detail::Verbose));
    let coloured = as_text(&sample::report(), Look { colour: true, ..look(80, Detail::Verbose) });
    assert_ne!(plain, coloured);
    let mut stripped = String::new();
    let mut rest = coloured.as_str();
    while let Some((before, after)) = rest.split_once("\x1b[") {
        stripped.push_str(before);
        rest = after.split_once('m').unwrap().1;
    }
    stripped.push_str(rest);
    assert_eq!(stripped, plain);
}

#[test]
fn nothing_of_a_drawing_is_live_in_any_form() {
    // Escapes of a terminal, a bidirectional control, line ends, what leaves an attribute, markup, and a formula.
    let words = [
        "ev\u{1b}]0;il\u{7}\u{202e}\r\n\u{9b}2J\u{2028}\u{0}",
        "ev\"><script>alert(1)</script><img onerror='x'>]]>&il;--><!--",
        "=cmd|'/c calc'!A1 ev",
        "@SUM(1) ev",
        "+1 ev",
        "-1 ev",
    ];
    for word in words {
        let report = page::with_word(sample::report(), word);
        let look = |detail| Form::Text(look(80, detail));
        let forms = [
            look(Detail::Quiet),
            look(Detail::Normal),
            look(Detail::Verbose),
            Form::Lines,
            Form::Json,
            Form::JUnit(Some(Level::Note)),
            Form::Sarif,
            Form::Csv,
            Form::Html,
        ];
        for form in forms {
            let text = bound(&report, form);
            assert!(text.contains("ev"), "{form:?}: the word is shown");
            let live: Vec<char> = text.chars().filter(|c| clean::is_live(*c) && *c != '\n').collect();
            assert!(live.is_empty(), "{form:?}: {live:?}");
            // The page has a script of its own; the words of a drawing add none.
            let markup = matches!(form, Form::JUnit(_) | Form::Html);
            assert!(!markup || !text.contains("<script>alert") && !text.contains("<img"), "{form:?}");
        }
        let findings: usize = report.drawings.iter().map(|d| d.findings.len()).sum();
        assert_eq!(as_lines(&report).lines().count(), findings, "a name with a newline adds no line");
        files::no_cell_acts(&report);
    }
}

#[test]
fn nothing_of_a_drawing_is_live() {
    let report = sample::report();
    let text = as_text(&report, look(80, Detail::Verbose));
    for form in [text, as_lines(&report), as_json(&report)] {
        assert!(form.contains("ev"), "the hostile drawing is shown");
        let live: Vec<char> = form.chars().filter(|c| clean::is_live(*c) && *c != '\n').collect();
        assert!(live.is_empty(), "{live:?}");
    }
    let findings: usize = report.drawings.iter().map(|d| d.findings.len()).sum();
    assert_eq!(as_lines(&report).lines().count(), findings, "a name with a newline adds no line");
}

#[test]
fn json_reads_back_to_the_same_names() {
    let value: serde_json::Value = serde_json::from_str(&as_json(&sample::report())).unwrap();
    assert_eq!(value["drawings"][3]["path"], format!("parts/{}.dxf", sample::HOSTILE));
    assert_eq!(value["drawings"][0]["findings"][0]["waived"], serde_json::Value::Null);
}

/// The totals of the sample are counted by hand in it; here they are counted again from its drawings.
#[test]
fn totals_of_text_and_json_agree() {
    let report = sample::report();
    let json: serde_json::Value = serde_json::from_str(&as_json(&report)).unwrap();
    let total = |key: &str| json["totals"][key].as_u64().unwrap();
    let text = as_text(&report, look(160, Detail::Normal));
    let row = |label: &str| text.lines().rfind(|l| l.starts_with(label)).unwrap_or_default().to_owned();
    for (label, says) in [
        ("drawings", format!("{} checked", total("drawings"))),
        ("drawings", format!("{} partly read, {} unreadable", total("partly_read"), total("unreadable"))),
        ("holes", format!("{} found", total("holes"))),
        ("holes", format!("{} for self-forming screws", total("screw_holes"))),
        ("verdicts", format!("{} in band, {} straddles", total("in_band"), total("straddles"))),
        ("verdicts", format!("{} tight (too small), {} loose", total("tight"), total("loose"))),
        ("verdicts", format!("{} undetermined", total("undetermined"))),
        ("findings", format!("{} fail, {} warn, {} note", total("fail"), total("warn"), total("note"))),
        ("findings", format!("{} waived", total("waived"))),
    ] {
        assert!(row(label).contains(&says), "{says:?} is not in {:?}", row(label));
    }
    let level = |name: &str| {
        let all = report.drawings.iter().flat_map(|d| &d.findings);
        all.filter(|f| f.level == name && f.waived.is_none()).count() as u64
    };
    assert_eq!((level("fail"), level("warn"), level("note")), (total("fail"), total("warn"), total("note")));
    assert_eq!(report.drawings.iter().map(|d| d.holes.len() as u64).sum::<u64>(), total("holes"));
}

#[test]
fn every_hole_with_a_finding_is_named() {
    let text = as_text(&sample::report(), look(80, Detail::Normal));
    for named in [
        "4 holes: H1 to H4",
        "H5",
        "callout of H1 to H4",
        "pairing unsure: nearest, 0.62",
        "tag A",
        "on Sheet 2",
    ] {
        assert!(text.contains(named), "{named} is missing");
    }
    // A hole's joint stands once, although two of its findings are about it.
    assert_eq!(text.matches("M4 in 1.5 mm low-carbon steel, punched").count(), 1);
}
