use super::*;
use crate::ledger::{Found, ScrewHoles};

fn holes(count: u64, thread: &str, verdict: &str, engagement: f64) -> ScrewHoles {
    ScrewHoles {
        count,
        thread: thread.to_owned(),
        verdict: Some(verdict.to_owned()),
        engagement: Some(engagement),
        band: Some((80.0, 98.0)),
        confidence: 0.9,
        ..ScrewHoles::default()
    }
}

fn found(rule: &str, level: &str, count: u64, confidence: f64, hole: Option<&str>) -> Found {
    Found {
        rule: rule.to_owned(),
        level: level.to_owned(),
        count,
        hole: hole.map(SharedText::copied),
        confidence,
        message: format!("{rule} is told").into(),
        ..Found::default()
    }
}

fn entry(path: &str, digest: &str) -> Entry {
    Entry {
        path: path.to_owned(),
        digest: digest.to_owned(),
        inputs: "0".repeat(32),
        state: "read".to_owned(),
        unit: "mm".to_owned(),
        bytes: 100,
        holes: 7,
        ..Entry::default()
    }
}

/// A small library: one drawing with the tap drill, one in order, a copy of the first, one that cannot be read.
fn picture() -> Picture {
    let tap_drill = Entry {
        screw_holes: vec![holes(4, "M4", "tight", 153.96), holes(1, "M5", "in-band", 85.0)],
        findings: vec![
            found("cut-thread-size", "fail", 4, 0.9, Some("H1")),
            found("engagement-above-band", "fail", 4, 0.9, Some("H1")),
            found("thickness-unknown", "warn", 1, 1.0, None),
        ],
        year: Some(1998),
        year_source: Some(YearSource::Drawing),
        ..entry("a/lid.dxf", "blake3:1")
    };
    let in_order = Entry {
        screw_holes: vec![ScrewHoles {
            thickness_over_diameter: Some(0.38),
            material: Some("brass".to_owned()),
            ..holes(2, "M4", "in-band", 90.0)
        }],
        ..entry("b/plate.dxf", "blake3:2")
    };
    let copy = Entry { path: "b/z-copy.dxf".to_owned(), ..tap_drill.clone() };
    let broken = Entry {
        state: "unreadable".to_owned(),
        problem: Some("this is a DWG file".to_owned()),
        findings: vec![found("drawing-unreadable", "fail", 1, 1.0, None)],
        holes: 0,
        ..entry("c.dxf", "")
    };
    let mut painter = Painter::new();
    for entry in [&tap_drill, &in_order, &copy, &broken] {
        painter.add(entry);
    }
    painter.finish()
}

#[test]
fn a_drawing_that_is_there_twice_counts_once() {
    let picture = picture();
    let totals = picture.totals;
    assert_eq!((totals.drawings, totals.unreadable, totals.holes, totals.screw_holes), (3, 1, 14, 7));
    assert_eq!((totals.tight, totals.in_band, totals.fail, totals.warn), (4, 3, 9, 1));
    assert_eq!(picture.bytes, 300);
    let duplicate = Duplicate { path: "b/z-copy.dxf".to_owned(), same_as: "a/lid.dxf".to_owned() };
    assert_eq!(picture.duplicates, [duplicate]);
    assert_eq!(picture.not_whole.len(), 1);
    assert_eq!(picture.not_whole[0].problem, "this is a DWG file");
}

#[test]
fn files_that_could_not_be_opened_are_no_copies_of_each_other() {
    let mut painter = Painter::new();
    assert_eq!(painter.add(&entry("a.dxf", "")), Added::Counted(0.0));
    assert_eq!(painter.add(&entry("b.dxf", "")), Added::Counted(0.0));
    let other_list = Entry { inputs: "1".repeat(32), ..entry("d.dxf", "blake3:1") };
    assert_eq!(painter.add(&entry("c.dxf", "blake3:1")), Added::Counted(0.0));
    assert_eq!(painter.add(&other_list), Added::Counted(0.0), "checked for something else");
    assert_eq!(painter.add(&entry("e.dxf", "blake3:1")), Added::Duplicate);
}

#[test]
fn groups_add_up_to_the_totals() {
    let Picture { by, totals, .. } = picture();
    let holes = |groups: &[Group]| groups.iter().map(|group| group.sum.screw_holes).sum::<u64>();
    for groups in [&by.thread, &by.material, &by.process, &by.thickness_over_diameter, &by.folder, &by.year] {
        assert_eq!(holes(groups), totals.screw_holes);
    }
    let drawings = |groups: &[Group]| groups.iter().map(|group| group.sum.drawings).sum::<u64>();
    assert_eq!((drawings(&by.folder), drawings(&by.year)), (3, 3));
    let fails: u64 = by.rule.iter().map(|rule| rule.fail).sum();
    assert_eq!(fails, totals.fail);
    let values = |groups: &[Group]| groups.iter().map(|group| group.value.clone()).collect::<Vec<_>>();
    assert_eq!(values(&by.folder), [".", "a", "b"]);
    assert_eq!(values(&by.year), ["1998", "not known"]);
    assert_eq!(values(&by.thread), ["M4", "M5"]);
    assert_eq!(values(&by.material), ["not known", "brass"]);
    assert_eq!(values(&by.thickness_over_diameter), ["0.25 to 0.5", "not known"]);
    let m4 = by.thread[0].sum;
    assert_eq!((m4.drawings, m4.screw_holes, m4.tight, m4.in_band), (2, 6, 4, 2));
}

#[test]
fn engagement_stands_in_bins_of_ten_percent() {
    let engagement = picture().engagement;
    assert_eq!(engagement[0].thread, "M4");
    assert_eq!((engagement[0].holes[15], engagement[0].holes[9]), (4, 2));
    assert_eq!((engagement[0].outside[15], engagement[0].outside[9]), (4, 0));
    assert_eq!((engagement[0].in_band[15], engagement[0].in_band[9]), (0, 2));
    assert_eq!(engagement[0].bands, Some((80.0, 98.0)));
    let mut painter = Painter::new();
    let far = [-5.0, 0.0, 199.9, 200.0, 1e9].map(|at| holes(1, "M3", "tight", at));
    painter.add(&Entry { screw_holes: far.to_vec(), ..entry("a.dxf", "blake3:1") });
    let bins = painter.finish().engagement[0].holes;
    assert_eq!((bins[0], bins[BINS - 1]), (2, 3));
}

#[test]
fn a_tap_drill_is_one_cause_and_not_two() {
    let causes = picture().causes;
    let told: Vec<(&str, u64, u64)> =
        causes.iter().map(|cause| (cause.cause.as_str(), cause.drawings, cause.findings)).collect();
    assert_eq!(
        told,
        [
            ("the tap-drill size was called out, or a tap", 1, 4),
            ("the file could not be read whole", 1, 1),
            ("the thickness of the metal is not stated, or stated twice", 1, 1),
        ]
    );
}

#[test]
fn the_worst_come_first_by_what_is_sure_to_fail() {
    let Picture { worst, harmful, .. } = picture();
    assert_eq!(harmful, 2, "the one in order has none, and a copy does not count");
    // Hand calculation: 4 failures at 0.9, told by two rules, and a quarter for the warning; a failure of
    // the whole drawing is sure.
    let order: Vec<(&str, f64)> = worst.iter().map(|worst| (worst.path.as_str(), worst.harm)).collect();
    assert_eq!(order, [("a/lid.dxf", 3.85), ("c.dxf", 1.0)]);
    assert_eq!(worst[0].message, "cut-thread-size is told");
    let waived = Found { waived: Some("tested".into()), ..found("cut-thread-size", "fail", 9, 1.0, None) };
    assert_eq!(harm(&Entry { findings: vec![waived], ..Entry::default() }), 0.0);
}

#[test]
fn only_so_many_are_named_and_the_worst_of_all() {
    let mut painter = Painter::new();
    for n in 0..500_u64 {
        let findings = vec![found("cut-thread-size", "fail", n * 7 % 500, 1.0, None)];
        painter.add(&Entry { findings, ..entry(&format!("{n:03}.dxf"), "") });
    }
    let Picture { worst, harmful, .. } = painter.finish();
    // All but the one with no finding.
    assert_eq!((harmful, worst.len()), (499, MOST_WORST));
    let harms: Vec<f64> = worst.iter().map(|worst| worst.harm).collect();
    let expected: Vec<f64> = (300..500).rev().map(f64::from).collect();
    assert_eq!(harms, expected);
}
