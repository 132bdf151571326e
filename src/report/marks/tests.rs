use super::*;
use crate::check::{AdviceResult, DiameterResult, HoleResult, JointResult};
use crate::drawing::{Header, Space};
use crate::shared::SharedText;

fn hole(id: &str, x: f64, space: &str) -> HoleResult {
    HoleResult {
        id: SharedText::copied(id),
        x,
        y: 50.0,
        space: space.to_owned().into(),
        drawn_diameter_mm: 3.3,
        view_scale: 1.0,
        layer: "0".into(),
        paired_by: "leader".into(),
        confidence: 1.0,
        joint: JointResult {
            thickness_source: "none".into(),
            diameter: DiameterResult {
                nominal_mm: 3.3,
                min_mm: 3.3,
                max_mm: 3.3,
                source: "drawn".into(),
                tolerance_source: "none".into(),
            },
            verdict: Some("tight".into()),
            advice: Some(AdviceResult {
                diameter_mm: 3.6,
                drill: None,
                callout: "2X Ø3.6 +0.03/0 100%%d".into(),
            }),
            ..JointResult::default()
        }
        .into(),
        ..HoleResult::default()
    }
}

fn finding(hole: Option<&str>, level: &str, waived: bool) -> FindingResult {
    FindingResult {
        rule: "engagement-above-band".into(),
        level: level.to_owned().into(),
        hole: hole.map(SharedText::copied),
        message: "tight\u{1b}[31m".into(),
        waived: waived.then(|| "tried".into()),
        ..FindingResult::default()
    }
}

fn sheet() -> Drawing {
    let spaces = ["model", "Sheet 1"].map(|name| Space { name: name.to_owned() }).into();
    Drawing { header: Header::default(), spaces, ..Drawing::default() }
}

fn texts(marks: &[Mark]) -> Vec<(&str, &str, Level)> {
    let text = |mark: &Mark| matches!(mark.shape, Shape::Text { .. });
    let marks = marks.iter().filter(|mark| text(mark));
    marks
        .map(|mark| match &mark.shape {
            Shape::Text { text, .. } => (mark.space.as_str(), text.as_str(), mark.level),
            _ => ("", "", mark.level),
        })
        .collect()
}

#[test]
fn each_hole_has_a_ring_and_a_number_and_each_group_one_label() {
    let holes = vec![hole("H1", 10.0, "model"), hole("H2", 90.0, "model"), hole("H3", 5.0, "Sheet 1")];
    let findings = ["H1", "H2", "H3"].map(|id| finding(Some(id), "fail", false)).into();
    let result = DrawingResult { holes, findings, unit: "mm".to_owned(), ..DrawingResult::default() };
    let marks = marks(&result, &sheet());
    let arcs = |space: &str| {
        let here = marks.iter().filter(|mark| mark.space == space);
        here.filter(|mark| matches!(mark.shape, Shape::Arc { .. })).count()
    };
    // A ring is four arcs.
    assert_eq!((arcs("model"), arcs("Sheet 1")), (8, 4));
    for mark in &marks {
        if let Shape::Arc { radius, .. } = mark.shape {
            assert!(radius > 1.65, "the ring is larger than the hole: {radius}");
        }
    }
    let texts = texts(&marks);
    let count = |text: &str| texts.iter().filter(|(_, t, _)| *t == text).count();
    assert_eq!((count("H1"), count("H2")), (1, 1), "{texts:?}");
    // In the label, and once more in the block; not once a hole.
    assert_eq!(count("H1 H2"), 2);
    let called = texts.iter().filter(|(s, t, _)| *s == "model" && t.starts_with("call out")).count();
    assert_eq!(called, 2);
    assert_eq!(count("call out 2X %%c3.6 +0.03/0 100% %d"), 4, "codes are parted");
    assert!(texts.iter().all(|(_, t, _)| !t.contains(char::is_control)));
}

#[test]
fn what_is_waived_is_counted_and_not_marked() {
    let holes = vec![hole("H1", 10.0, "model"), hole("H2", 90.0, "model")];
    let findings = vec![finding(Some("H1"), "fail", true), finding(None, "warn", false)];
    let mut result = DrawingResult { holes, findings, unit: "mm".to_owned(), ..DrawingResult::default() };
    let found = marks(&result, &sheet());
    assert!(found.iter().all(|mark| mark.level == Level::Warn && mark.space == "model"));
    assert!(texts(&found)[0].1.contains("1 warn, 1 waived and not marked"), "{:?}", texts(&found));
    result.findings.truncate(1);
    assert_eq!(marks(&result, &sheet()), []);
}

#[test]
fn lines_are_cut_at_blanks_and_nothing_is_lost() {
    let text = "word ".repeat(40) + &"x".repeat(130);
    let lines = wrapped(&text);
    assert!(lines.iter().all(|line| line.chars().count() <= 60));
    assert_eq!(lines.concat().replace(' ', ""), text.replace(' ', ""));
}
