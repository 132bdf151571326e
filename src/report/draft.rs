//! A starter hole list from what is seen on a drawing: a row for each group of like holes, at the places where they
//! stand, with what the drawing says of them. What the drawing does not say is left out and named, for a person to add;
//! nothing is made up.

use serde::Serialize;

use super::text::numbers::unit_named;
use super::text::words::counted;
use crate::check::{CalloutSeen, HoleResult, Reads, SeenDrawing};
use crate::trade::{Basis, Thread, percent, threads};
use crate::units::{Length, Unit};

/// Engagement (percent, rolled) within which a size may be meant for a thread: the widest of the bands.
const MAY_SUIT: std::ops::RangeInclusive<f64> = 55.0..=98.0;

/// A hole list to begin with.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Draft {
    format: u32,
    unit: &'static str,
    drawings: Vec<DraftDrawing>,
    /// What the drawing does not say and a person must add, a sentence each.
    #[serde(skip)]
    pub unknown: Vec<String>,
}

#[derive(Debug, Clone, PartialEq, Serialize)]
struct DraftDrawing {
    drawing: String,
    #[serde(skip_serializing_if = "Option::is_none")]
    material: Option<String>,
    #[serde(skip_serializing_if = "Option::is_none")]
    thickness: Option<f64>,
    holes: Vec<DraftRow>,
}

#[derive(Debug, Clone, PartialEq, Serialize)]
struct DraftRow {
    #[serde(skip_serializing_if = "Option::is_none")]
    tag: Option<String>,
    count: usize,
    #[serde(skip_serializing_if = "Option::is_none")]
    screw: Option<DraftScrew>,
    #[serde(skip_serializing_if = "Option::is_none")]
    material: Option<String>,
    #[serde(skip_serializing_if = "Option::is_none")]
    thickness: Option<f64>,
    #[serde(skip_serializing_if = "Option::is_none")]
    process: Option<String>,
    #[serde(flatten)]
    size: DraftSize,
    #[serde(skip_serializing_if = "Option::is_none")]
    depth: Option<f64>,
    at: Vec<[f64; 2]>,
    note: String,
}

#[derive(Debug, Clone, PartialEq, Serialize)]
struct DraftScrew {
    thread: String,
    #[serde(skip_serializing_if = "is_rolling")]
    form: String,
}

fn is_rolling(form: &String) -> bool {
    form == "rolling"
}

/// The size as the drawing states it.
#[derive(Debug, Clone, PartialEq, Default, Serialize)]
struct DraftSize {
    #[serde(skip_serializing_if = "Option::is_none")]
    diameter: Option<f64>,
    #[serde(skip_serializing_if = "Option::is_none")]
    plus: Option<f64>,
    #[serde(skip_serializing_if = "Option::is_none")]
    minus: Option<f64>,
    #[serde(skip_serializing_if = "Option::is_none")]
    limits: Option<[f64; 2]>,
    #[serde(skip_serializing_if = "Option::is_none")]
    fit: Option<String>,
}

/// The hole list that the drawing itself gives; `name` is the drawing as the list is to name it, relative to the list.
pub fn draft(seen: &SeenDrawing, name: &str) -> Draft {
    let unit = unit_named(&seen.unit);
    let mut groups: Vec<(DraftRow, Vec<&HoleResult>)> = Vec::new();
    for hole in &seen.holes {
        let row = row(seen, hole, unit);
        match groups.iter_mut().find(|(known, _)| *known == row) {
            Some((_, holes)) => holes.push(hole),
            None => groups.push((row, vec![hole])),
        }
    }
    let unknown = unknown(seen, &groups);
    let holes = groups.into_iter().map(|(row, holes)| placed(row, &holes)).collect();
    let drawing = DraftDrawing {
        drawing: globset::escape(name),
        material: seen.material.clone(),
        thickness: seen.thickness_mm.map(|t| number(t, unit)),
        holes,
    };
    Draft { format: 1, unit: unit.name(), drawings: vec![drawing], unknown }
}

/// The row of one hole, without its place.
fn row(seen: &SeenDrawing, hole: &HoleResult, unit: Unit) -> DraftRow {
    let reads = seen.callouts.iter().find(|c| c.holes.contains(&hole.id)).map(|c: &CalloutSeen| &c.reads);
    DraftRow {
        tag: hole.tag.clone(),
        count: 0,
        screw: hole
            .screw
            .as_ref()
            .map(|s| DraftScrew { thread: s.thread.to_string(), form: s.form.to_string() }),
        material: hole
            .material
            .as_deref()
            .filter(|own| Some(*own) != seen.material.as_deref())
            .map(str::to_owned),
        thickness: hole
            .thickness_mm
            .filter(|_| hole.thickness_mm != seen.thickness_mm)
            .map(|t| number(t, unit)),
        process: hole.process.as_deref().map(str::to_owned),
        size: size(hole, reads, unit),
        depth: reads.and_then(|r| r.depth_mm).map(|d| number(d, unit)),
        at: Vec::new(),
        note: note(hole, reads),
    }
}

/// The size that the callout states, or that is drawn. A tolerance that the drawing states for all, or that the process
/// usually holds, is none of the row's.
fn size(hole: &HoleResult, reads: Option<&Reads>, unit: Unit) -> DraftSize {
    let from_callout = hole.diameter.tolerance_source == "callout";
    if let Some(Reads { min_mm: Some(min), max_mm: Some(max), .. }) = reads {
        return DraftSize { limits: Some([number(*min, unit), number(*max, unit)]), ..DraftSize::default() };
    }
    let diameter = Some(number(hole.diameter.nominal_mm, unit));
    if let Some(fit) = reads.and_then(|r| r.fit.clone()).filter(|_| from_callout) {
        return DraftSize { diameter, fit: Some(fit), ..DraftSize::default() };
    }
    let above = hole.diameter.max_mm - hole.diameter.nominal_mm;
    let below = hole.diameter.nominal_mm - hole.diameter.min_mm;
    // A deviation of both limits to one side has no magnitude of 0 or more.
    if !from_callout || above < 0.0 || below < 0.0 {
        return DraftSize { diameter, ..DraftSize::default() };
    }
    DraftSize {
        diameter,
        plus: Some(number(above, unit)),
        minus: Some(number(below, unit)),
        ..DraftSize::default()
    }
}

/// What is to be known of the row before it can be checked, and what was guessed.
fn note(hole: &HoleResult, reads: Option<&Reads>) -> String {
    let mut parts = Vec::new();
    match &hole.callout {
        Some(callout) => parts.push(format!("called out as '{}'", callout.text.replace('\n', " / "))),
        None => parts.push("no callout; size as drawn".to_owned()),
    }
    if hole.callout.is_some() && hole.confidence < 0.8 {
        parts.push(format!("the callout is its own with a confidence of {:.2}: look", hole.confidence));
    }
    let tapped = reads.is_some_and(|r| r.tapped);
    match (&hole.screw, reads.and_then(|r| r.thread.as_deref())) {
        (Some(_), _) => {}
        (None, Some(thread)) if tapped => parts.push(format!("tapped {thread} as drawn")),
        (None, _) => {
            let suits = suited(hole.diameter.nominal_mm);
            let suits =
                if suits.is_empty() { String::new() } else { format!(" (the size may suit {suits})") };
            parts.push(format!("add \"screw\" if a screw forms its thread here{suits}"));
        }
    }
    parts.join("; ")
}

/// Threads whose widest band holds a hole of this size.
fn suited(diameter_mm: f64) -> String {
    let Ok(diameter) = Length::from_mm(diameter_mm) else {
        return String::new();
    };
    let rolled = |thread: &Thread| percent(thread, diameter, Basis::Rolled);
    let names: Vec<String> = threads()
        .map(|(thread, ..)| (rolled(&thread), thread.name))
        .filter(|(engagement, _)| MAY_SUIT.contains(engagement))
        .map(|(engagement, name)| format!("{name}, {engagement:.0} % rolled"))
        .collect();
    names.join(" or ")
}

/// The row with the places of its holes.
fn placed(row: DraftRow, holes: &[&HoleResult]) -> DraftRow {
    DraftRow { count: holes.len(), at: holes.iter().map(|h| [h.x, h.y]).collect(), ..row }
}

/// What a person must add before the list says all that a check needs.
fn unknown(seen: &SeenDrawing, groups: &[(DraftRow, Vec<&HoleResult>)]) -> Vec<String> {
    let count = |lacks: &dyn Fn(&DraftRow, &HoleResult) -> bool| {
        groups.iter().filter(|(row, holes)| holes.first().is_some_and(|hole| lacks(row, hole))).count() as u64
    };
    let mut unknown = Vec::new();
    let mut say = |rows: u64, what: &str| {
        if rows > 0 {
            unknown.push(format!("{}: {what}", counted(rows, "row")));
        }
    };
    say(
        count(&|row, _| row.screw.is_none()),
        "the drawing names no screw; add \"screw\" where one forms its thread",
    );
    say(
        count(&|_, hole| hole.thickness_mm.is_none()),
        "the thickness of the metal is unknown; add \"thickness\"",
    );
    say(count(&|_, hole| hole.material.is_none()), "the material is unknown; add \"material\"");
    say(count(&|_, hole| hole.process.is_none()), "how the holes are made is unknown; add \"process\"");
    if seen.holes.is_empty() {
        unknown.push("no hole was found, so the list has no row".to_owned());
    }
    if seen.unit_source == "assumed" {
        unknown.push(format!("the drawing does not say its unit; {} was assumed", seen.unit));
    }
    unknown
}

/// A length in the unit of the list, to a millionth of it.
fn number(mm: f64, unit: Unit) -> f64 {
    let value = Length::from_mm(mm).map_or(mm, |length| length.value_in(unit));
    (value * 1e6).round() / 1e6 + 0.0
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::check::{CalloutResult, DiameterResult, JointResult};
    use crate::shared::SharedText;

    fn hole(id: &str, at: f64, nominal: f64) -> HoleResult {
        HoleResult {
            id: SharedText::copied(id),
            x: at,
            y: 5.0,
            space: "model".into(),
            drawn_diameter_mm: nominal,
            view_scale: 1.0,
            layer: "HOLES".into(),
            paired_by: "drawn".into(),
            confidence: 1.0,
            joint: JointResult {
                thickness_source: "none".into(),
                diameter: DiameterResult {
                    nominal_mm: nominal,
                    min_mm: nominal,
                    max_mm: nominal,
                    source: "drawn".into(),
                    tolerance_source: "none".into(),
                },
                ..JointResult::default()
            }
            .into(),
            ..HoleResult::default()
        }
    }

    fn called(mut hole: HoleResult, min: f64, max: f64) -> HoleResult {
        hole.callout = Some(CalloutResult { text: "as the test says".into(), handle: None });
        hole.diameter.min_mm = min;
        hole.diameter.max_mm = max;
        hole.diameter.tolerance_source = "callout".into();
        hole
    }

    fn seen(unit: &str, holes: Vec<HoleResult>, reads: Reads) -> SeenDrawing {
        let callout = CalloutSeen {
            text: String::new(),
            handle: None,
            x: 0.0,
            y: 0.0,
            reads,
            holes: holes.iter().filter(|h| h.callout.is_some()).map(|h| h.id.clone()).collect(),
            left: None,
        };
        SeenDrawing { unit: unit.to_owned(), holes, callouts: vec![callout], ..SeenDrawing::default() }
    }

    fn rows(seen: &SeenDrawing) -> serde_json::Value {
        serde_json::to_value(draft(seen, "a[1].dxf")).unwrap()["drawings"][0].clone()
    }

    #[test]
    fn like_holes_are_one_row_and_a_name_is_no_pattern() {
        let drawing = seen(
            "mm",
            vec![hole("H1", 1.0, 3.6), hole("H2", 9.0, 8.0), hole("H3", 2.0, 3.6)],
            Reads::default(),
        );
        let written = rows(&drawing);
        assert_eq!(written["drawing"], "a[[]1[]].dxf");
        assert_eq!(written["holes"][0]["at"], serde_json::json!([[1.0, 5.0], [2.0, 5.0]]));
        assert_eq!(
            (written["holes"][0]["count"].as_u64(), written["holes"][1]["count"].as_u64()),
            (Some(2), Some(1))
        );
    }

    #[test]
    fn sizes_are_written_as_the_callout_states_them() {
        // In inch by hand: 5.6896 mm is .224 in, 0.0762 mm is .003 in.
        let pair = seen("in", vec![called(hole("H1", 1.0, 5.6896), 5.6896, 5.7658)], Reads::default());
        let row = &rows(&pair)["holes"][0];
        assert_eq!(
            (&row["diameter"], &row["plus"], &row["minus"]),
            (&0.224.into(), &0.003.into(), &0.0.into())
        );
        let limits = Reads { min_mm: Some(3.6), max_mm: Some(3.7), ..Reads::default() };
        let row =
            rows(&seen("mm", vec![called(hole("H1", 1.0, 3.65), 3.6, 3.7)], limits))["holes"][0].clone();
        assert_eq!((&row["limits"], row.get("diameter")), (&serde_json::json!([3.6, 3.7]), None));
        let fit = Reads { fit: Some("H11".to_owned()), ..Reads::default() };
        let row = rows(&seen("mm", vec![called(hole("H1", 1.0, 3.6), 3.6, 3.675)], fit))["holes"][0].clone();
        assert_eq!((&row["fit"], row.get("plus")), (&"H11".into(), None));
        // Limits that both lie above the nominal are no plus and minus.
        let shifted = seen("mm", vec![called(hole("H1", 1.0, 3.6), 3.62, 3.65)], Reads::default());
        assert_eq!(rows(&shifted)["holes"][0].get("plus"), None);
    }

    #[test]
    fn what_is_unknown_is_left_out_and_said() {
        let drawing = seen("mm", vec![hole("H1", 1.0, 3.6)], Reads::default());
        let row = &rows(&drawing)["holes"][0];
        assert_eq!((row.get("screw"), row.get("thickness"), row.get("process")), (None, None, None));
        // By hand: (4 - 3.6) / 0.00454663 = 88 %.
        assert!(row["note"].as_str().unwrap().contains("M4, 88 % rolled"), "{row}");
        let said = draft(&drawing, "a.dxf").unknown.join("\n");
        for word in ["screw", "thickness", "material", "process"] {
            assert!(said.contains(&format!("\"{word}\"")), "{word}: {said}");
        }
        let tapped = Reads { tapped: true, thread: Some("M4".into()), ..Reads::default() };
        let drawing = seen("mm", vec![called(hole("H1", 1.0, 3.3), 3.3, 3.3)], tapped);
        assert!(rows(&drawing)["holes"][0]["note"].as_str().unwrap().ends_with("tapped M4 as drawn"));
    }
}
