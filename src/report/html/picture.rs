//! The picture of a drawing as SVG: its sheets with the places of findings marked on them, and the same near to each hole.

mod grid;
mod ink;
mod labels;
mod marks;
mod near;

use super::escape;
use crate::check::{DrawingResult, FindingResult, HoleResult, Picture};
use crate::report::text::words::counted;
use grid::Grid;
use marks::Marks;

pub(super) use near::zooms;

/// Whether a space is among the sheets of a picture.
pub(super) fn shows(picture: &Picture, space: &str) -> bool {
    picture.sheets.iter().any(|sheet| sheet.name == space)
}

/// Marks of findings that are about no hole: their number on the picture.
pub(super) fn places<'a>(
    picture: &Picture,
    d: &'a DrawingResult,
    findings: impl Iterator<Item = &'a FindingResult>,
) -> Vec<(usize, &'a FindingResult)> {
    let number = |f: &FindingResult| {
        picture
            .marks
            .iter()
            .position(|mark| d.findings.get(mark.finding).is_some_and(|own| std::ptr::eq(own, f)))
    };
    findings.filter_map(|f| Some((number(f)? + 1, f))).collect()
}

/// The sheets with all marks.
pub(super) fn sheets(picture: &Picture, d: &DrawingResult, key: &str) -> String {
    let mut html = String::new();
    for (nth, sheet) in picture.sheets.iter().enumerate() {
        let marks = marks::marks(picture, nth, d, key);
        let figure = figure(picture, nth, &marks, key);
        if nth > 0 && marks.svg.is_empty() {
            html.push_str(&format!(
                "<details><summary>Layout {}, nothing marked on it</summary>{figure}</details>\n",
                escape::text(&sheet.name)
            ));
        } else {
            html.push_str(&figure);
        }
    }
    html
}

fn figure(picture: &Picture, nth: usize, marks: &Marks, key: &str) -> String {
    let Some(sheet) = picture.sheets.get(nth) else { return String::new() };
    let (w, h) = Grid::of(sheet).size();
    let title =
        if sheet.name == "model" { "Model space".to_owned() } else { format!("Layout {}", sheet.name) };
    format!(
        "<figure class=\"sheet\"><div class=\"wide\" tabindex=\"0\" role=\"region\" aria-label=\"{0}\">\
         <svg viewBox=\"0 0 {w} {h}\" role=\"group\" aria-label=\"{0} with marks\">\n<g id=\"{key}-s{nth}\" class=\"ink\">\n{1}</g>\n\
         {2}</svg></div><figcaption>{0}.{3}</figcaption></figure>\n",
        escape::text(&title),
        ink::ink(picture, sheet, &format!("{key}-s{nth}"), &format!("{key}-s0")),
        marks.svg,
        caption(sheet.beyond as u64, sheet.left_out as u64, marks)
    )
}

/// What the marks mean, and all that is not to be seen.
fn caption(beyond: u64, left_out: u64, marks: &Marks) -> String {
    let mut said = String::new();
    if marks.rings > 0 {
        said.push_str(" Ringed: holes with findings; each ring leads to what was found.");
    }
    if marks.nameless > 0 {
        said.push_str(&format!(" {} without room for a name.", counted(marks.nameless as u64, "ring")));
    }
    match beyond {
        0 => {}
        1 => said.push_str(" 1 shape lies far outside of this picture."),
        count => said.push_str(&format!(" {count} shapes lie far outside of this picture.")),
    }
    if left_out > 0 {
        said.push_str(&format!(
            " {left_out} more shapes are not drawn here, those farthest from what was found."
        ));
    }
    said
}

/// Radius of a hole as it is drawn, in drawing units.
fn radius(hole: &HoleResult, d: &DrawingResult) -> f64 {
    hole.drawn_diameter_mm / crate::report::text::numbers::unit_named(&d.unit).in_mm() / 2.0
}
