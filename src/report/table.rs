//! What tables show of a report: columns of drawings, holes and findings, for the forms that are rows of cells.
//! Lengths are in mm, engagement in percent on the basis named beside it. Knows nothing of any file format.

use std::borrow::Cow;

use super::by_hole::by_hole;
use super::clean::flowing;
use crate::check::{DrawingResult, FindingResult, HoleResult};

/// One cell.
#[derive(Debug, Clone, PartialEq)]
pub(super) enum Cell<'a> {
    /// Not known, or not applicable.
    Nothing,
    /// A number.
    Number(f64),
    /// Words, with nothing live in them.
    Text(Cow<'a, str>),
}

/// What a row speaks of: a drawing, a hole of it, a finding about either.
#[derive(Debug, Clone, Copy)]
pub(super) struct Row<'a> {
    pub(super) drawing: &'a DrawingResult,
    pub(super) hole: Option<&'a HoleResult>,
    pub(super) finding: Option<&'a FindingResult>,
}

/// A column.
pub(super) struct Column {
    /// Its name: a word, with the unit as its end where it has one.
    pub(super) name: &'static str,
    /// Letters that its cells usually need.
    pub(super) letters: u16,
    /// Its cell of a row.
    pub(super) cell: for<'a> fn(&Row<'a>) -> Cell<'a>,
}

const fn column(name: &'static str, letters: u16, cell: for<'a> fn(&Row<'a>) -> Cell<'a>) -> Column {
    Column { name, letters, cell }
}

/// What names the drawing.
pub(super) static DRAWING: &[Column] = &[
    column("drawing", 32, |row| text(&row.drawing.path)),
    column("state", 11, |row| text(&row.drawing.state)),
    column("part", 14, |row| words(row.drawing.part.as_deref())),
];

/// What more is known of a drawing as a whole.
pub(super) static SHEET: &[Column] = &[
    column("unit", 6, |row| text(&row.drawing.unit)),
    column("unit_source", 12, |row| text(&row.drawing.unit_source)),
    column("material", 18, |row| words(row.drawing.material.as_deref())),
    column("thickness_mm", 13, |row| number(row.drawing.thickness_mm)),
    column("thickness_source", 16, |row| text(&row.drawing.thickness_source)),
    column("holes", 7, |row| count(row.drawing.holes.len())),
    column("screw_holes", 11, |row| count(row.drawing.holes.iter().filter(|h| h.screw.is_some()).count())),
    column("fails", 7, |row| levels(row.drawing, "fail")),
    column("warnings", 9, |row| levels(row.drawing, "warn")),
    column("notes", 7, |row| levels(row.drawing, "note")),
    column("waived", 8, |row| count(row.drawing.findings.iter().filter(|f| f.waived.is_some()).count())),
    column("digest", 20, |row| text(&row.drawing.digest)),
];

/// What is known of a hole.
pub(super) static HOLE: &[Column] = &[
    column("hole", 6, |row| of_hole(row, |h| text(&h.id))),
    column("tag", 6, |row| of_hole(row, |h| words(h.tag.as_deref()))),
    column("verdict", 13, |row| of_hole(row, |h| words(h.verdict.as_deref()))),
    column("thread", 10, |row| of_hole(row, |h| words(h.screw.as_ref().map(|s| s.thread.as_str())))),
    column("callout", 30, |row| of_hole(row, |h| words(h.callout.as_ref().map(|c| c.text.as_str())))),
    column("diameter_mm", 12, |row| of_hole(row, |h| Cell::Number(h.diameter.nominal_mm))),
    column("diameter_min_mm", 15, |row| of_hole(row, |h| Cell::Number(h.diameter.min_mm))),
    column("diameter_max_mm", 15, |row| of_hole(row, |h| Cell::Number(h.diameter.max_mm))),
    column("diameter_source", 15, |row| of_hole(row, |h| text(&h.diameter.source))),
    column("tolerance_source", 16, |row| of_hole(row, |h| text(&h.diameter.tolerance_source))),
    column("engagement", 11, |row| of_hole(row, |h| number(h.engagement.as_ref().map(|e| e.nominal)))),
    column("engagement_at_min", 17, |row| of_hole(row, |h| number(h.engagement.as_ref().map(|e| e.at_min)))),
    column("engagement_at_max", 17, |row| of_hole(row, |h| number(h.engagement.as_ref().map(|e| e.at_max)))),
    column("basis", 8, |row| of_hole(row, |h| words(h.engagement.as_ref().map(|e| e.basis.as_str())))),
    column("band_min", 9, |row| of_hole(row, |h| number(h.band.as_ref().map(|b| b.min)))),
    column("band_target", 11, |row| of_hole(row, |h| number(h.band.as_ref().map(|b| b.target)))),
    column("band_max", 9, |row| of_hole(row, |h| number(h.band.as_ref().map(|b| b.max)))),
    column("hole_min_mm", 12, |row| of_hole(row, |h| number(h.band.as_ref().map(|b| b.hole_min_mm)))),
    column("hole_max_mm", 12, |row| of_hole(row, |h| number(h.band.as_ref().map(|b| b.hole_max_mm)))),
    column("call_out_instead", 30, |row| {
        of_hole(row, |h| words(h.advice.as_ref().map(|a| a.callout.as_str())))
    }),
    column("hole_material", 18, |row| of_hole(row, |h| words(h.material.as_deref()))),
    column("hole_thickness_mm", 17, |row| of_hole(row, |h| number(h.thickness_mm))),
    column("process", 10, |row| of_hole(row, |h| words(h.process.as_deref()))),
    column("paired_by", 10, |row| of_hole(row, |h| text(&h.paired_by))),
    column("confidence", 10, |row| of_hole(row, |h| Cell::Number(h.confidence))),
    column("x", 12, |row| of_hole(row, |h| Cell::Number(h.x))),
    column("y", 12, |row| of_hole(row, |h| Cell::Number(h.y))),
    column("space", 8, |row| of_hole(row, |h| text(&h.space))),
    column("layer", 14, |row| of_hole(row, |h| text(&h.layer))),
    column("handle", 8, |row| of_hole(row, |h| words(h.handle.as_deref()))),
];

/// What is said by a finding.
pub(super) static FINDING: &[Column] = &[
    column("level", 6, |row| of_finding(row, |f| text(&f.level))),
    column("rule", 26, |row| of_finding(row, |f| text(&f.rule))),
    column("message", 80, |row| of_finding(row, |f| text(&f.message))),
    column("remedy", 50, |row| of_finding(row, |f| words(f.remedy.as_deref()))),
    column("waived", 30, |row| of_finding(row, |f| words(f.waived.as_deref()))),
    column("line", 8, |row| of_finding(row, |f| number(f.line.map(|line| line as f64)))),
];

/// The rows of a drawing where holes and findings share one table: a row for each finding with its hole, one for each
/// hole without a finding, and one for a drawing that has neither, so that nothing that was read is left out.
pub(super) fn rows(drawing: &DrawingResult) -> Vec<Row<'_>> {
    let plain = Row { drawing, hole: None, finding: None };
    let mut by_hole = by_hole(drawing);
    let mut rows = Vec::new();
    for hole in &drawing.holes {
        let hole_row = Row { hole: Some(hole), ..plain };
        match by_hole.remove(&Some(hole.id.as_str())) {
            Some(found) => rows.extend(found.into_iter().map(|f| Row { finding: Some(f), ..hole_row })),
            None => rows.push(hole_row),
        }
    }
    rows.extend(by_hole.remove(&None).into_iter().flatten().map(|f| Row { finding: Some(f), ..plain }));
    if rows.is_empty() {
        rows.push(plain);
    }
    rows
}

/// The row of a drawing.
pub(super) fn sheet(drawing: &DrawingResult) -> Vec<Row<'_>> {
    vec![Row { drawing, hole: None, finding: None }]
}

/// A row for each hole.
pub(super) fn holes(drawing: &DrawingResult) -> Vec<Row<'_>> {
    drawing.holes.iter().map(|hole| Row { drawing, hole: Some(hole), finding: None }).collect()
}

/// A row for each finding, with its hole.
pub(super) fn findings(drawing: &DrawingResult) -> Vec<Row<'_>> {
    rows(drawing).into_iter().filter(|row| row.finding.is_some()).collect()
}

fn of_hole<'a>(row: &Row<'a>, cell: impl Fn(&'a HoleResult) -> Cell<'a>) -> Cell<'a> {
    row.hole.map_or(Cell::Nothing, cell)
}

fn of_finding<'a>(row: &Row<'a>, cell: impl Fn(&'a FindingResult) -> Cell<'a>) -> Cell<'a> {
    row.finding.map_or(Cell::Nothing, cell)
}

fn text(text: &str) -> Cell<'_> {
    Cell::Text(flowing(text))
}

fn words(words: Option<&str>) -> Cell<'_> {
    words.map_or(Cell::Nothing, text)
}

fn number(value: Option<f64>) -> Cell<'static> {
    value.map_or(Cell::Nothing, Cell::Number)
}

fn count(count: usize) -> Cell<'static> {
    Cell::Number(count as f64)
}

/// How many findings of a level count.
fn levels(drawing: &DrawingResult, level: &str) -> Cell<'static> {
    count(drawing.findings.iter().filter(|f| f.level == level && f.waived.is_none()).count())
}
