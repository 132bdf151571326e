//! The picture of a drawing as SVG, with the places of findings marked on it, and the same picture near to each hole.
//! Coordinates are whole numbers of a grid that is fine enough for the smallest marked hole.

use std::fmt::Write as _;

use super::escape;
use crate::check::{DrawingResult, FindingResult, HoleResult, Pen, Picture, PictureSheet, Shape};
use crate::geometry::{Bounds, Point};
use crate::report::text::group::gather;

/// Steps of the grid along the longer side.
const STEPS: f64 = 20_000.0;
/// Half the side of a near view in diameters of the hole: at least, and at most.
const NEAR: (f64, f64) = (4.0, 22.0);

/// From drawing units to the grid, whose ordinate runs down.
struct Grid {
    bounds: Bounds,
    steps: f64,
}

impl Grid {
    fn of(sheet: &PictureSheet) -> Grid {
        let mut bounds = Bounds::EMPTY;
        for shape in &sheet.shapes {
            let own = shape.bounds();
            bounds.add(own.min);
            bounds.add(own.max);
        }
        let side = (bounds.max.x - bounds.min.x).max(bounds.max.y - bounds.min.y);
        let margin = if side > 0.0 { side * 0.04 } else { 1.0 };
        let min = Point::new(bounds.min.x - margin, bounds.min.y - margin);
        let max = Point::new(bounds.max.x + margin, bounds.max.y + margin);
        Grid { bounds: Bounds { min, max }, steps: STEPS / (side + 2.0 * margin) }
    }

    fn at(&self, p: Point) -> (i64, i64) {
        (self.length(p.x - self.bounds.min.x), self.length(self.bounds.max.y - p.y))
    }

    #[expect(clippy::cast_possible_truncation, reason = "a number of steps, at most some ten thousands")]
    fn length(&self, units: f64) -> i64 {
        (units * self.steps).round() as i64
    }

    fn size(&self) -> (i64, i64) {
        (
            self.length(self.bounds.max.x - self.bounds.min.x),
            self.length(self.bounds.max.y - self.bounds.min.y),
        )
    }
}

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
        let marks = marks(picture, nth, d, key);
        if nth > 0 && marks.is_empty() {
            let _ = writeln!(
                html,
                "<details><summary>Layout {}, nothing marked on it</summary>{}</details>",
                escape::text(&sheet.name),
                figure(sheet, nth, &marks, key)
            );
        } else {
            html.push_str(&figure(sheet, nth, &marks, key));
        }
    }
    html
}

fn figure(sheet: &PictureSheet, nth: usize, marks: &str, key: &str) -> String {
    let grid = Grid::of(sheet);
    let (w, h) = grid.size();
    let title =
        if sheet.name == "model" { "Model space".to_owned() } else { format!("Layout {}", sheet.name) };
    let left = match sheet.left_out {
        0 => String::new(),
        count => format!(" {count} more shapes are not drawn here, those farthest from what was found."),
    };
    format!(
        "<figure class=\"sheet\"><div class=\"wide\" tabindex=\"0\" role=\"region\" aria-label=\"{0}\">\
         <svg viewBox=\"0 0 {w} {h}\" role=\"group\" aria-label=\"{0} with marks\">\n<g id=\"{key}-s{nth}\" class=\"ink\">\n{1}</g>\n\
         {marks}</svg></div><figcaption>{0}. Ringed: holes with findings.{left}</figcaption></figure>\n",
        escape::text(&title),
        shapes(sheet, &grid)
    )
}

/// The shapes; lines of one pen in one path, with relative coordinates.
fn shapes(sheet: &PictureSheet, grid: &Grid) -> String {
    let mut svg = String::new();
    for (pen, class) in [(Pen::Edge, "edge"), (Pen::Centre, "centre"), (Pen::Note, "lead")] {
        let mut path = String::new();
        for shape in &sheet.shapes {
            match shape {
                Shape::Line(own, ends) if *own == pen => joined(ends, grid, &mut path),
                Shape::Path(own, points) if *own == pen => joined(points, grid, &mut path),
                Shape::Circle(own, center, radius) if *own == pen => {
                    circle(*center, *radius, grid, &mut path)
                }
                Shape::Arc { center, radius, start_deg, sweep_deg } if pen == Pen::Edge => {
                    arc(*center, *radius, (*start_deg, *sweep_deg), grid, &mut path);
                }
                _ => {}
            }
        }
        if !path.is_empty() {
            let _ = writeln!(svg, "<path class=\"{class}\" d=\"{path}\"/>");
        }
    }
    sheet.shapes.iter().for_each(|shape| text(shape, grid, &mut svg));
    svg
}

fn joined(points: &[Point], grid: &Grid, path: &mut String) {
    let mut last = None;
    for p in points {
        let (x, y) = grid.at(*p);
        match last {
            None => {
                let _ = write!(path, "M{x} {y}");
            }
            Some((px, py)) => {
                let _ = write!(path, "l{} {}", x - px, y - py);
            }
        }
        last = Some((x, y));
    }
}

fn circle(center: Point, radius: f64, grid: &Grid, path: &mut String) {
    let ((x, y), r) = (grid.at(center), grid.length(radius).max(1));
    let _ = write!(path, "M{} {y}a{r} {r} 0 1 0 {} 0a{r} {r} 0 1 0 {} 0", x - r, 2 * r, -2 * r);
}

fn arc(center: Point, radius: f64, (start, sweep): (f64, f64), grid: &Grid, path: &mut String) {
    let at = |deg: f64| {
        let (sin, cos) = deg.to_radians().sin_cos();
        grid.at(Point::new(center.x + radius * cos, center.y + radius * sin))
    };
    let ((x, y), (ex, ey), r) = (at(start), at(start + sweep), grid.length(radius).max(1));
    let large = u8::from(sweep > 180.0);
    let _ = write!(path, "M{x} {y}A{r} {r} 0 {large} 0 {ex} {ey}");
}

fn text(shape: &Shape, grid: &Grid, svg: &mut String) {
    let Shape::Text { content, bounds, height, rotation_deg } = shape else { return };
    let lines = escape::lines(content);
    let size = grid.length(*height / 0.72).max(1);
    let middle = Point::new((bounds.min.x + bounds.max.x) / 2.0, (bounds.min.y + bounds.max.y) / 2.0);
    let upright = rotation_deg.rem_euclid(360.0).min(360.0 - rotation_deg.rem_euclid(360.0)) < 0.5;
    let (x, y) = grid.at(if upright { Point::new(bounds.min.x, middle.y) } else { middle });
    let turn =
        if upright { String::new() } else { format!(" transform=\"rotate({:.1} {x} {y})\"", -rotation_deg) };
    let anchor = if upright { "start" } else { "middle" };
    let width = if upright && lines.len() == 1 && content.chars().count() > 3 {
        grid.length(bounds.max.x - bounds.min.x)
    } else {
        0
    };
    // The font of the drawing is not at hand: another one must not run out of the box that the text was taken to fill.
    let fit = if width > 0 {
        format!(" textLength=\"{width}\" lengthAdjust=\"spacingAndGlyphs\"")
    } else {
        String::new()
    };
    for (nth, line) in lines.iter().enumerate() {
        // The first baseline lies so that the middle of all lines is the middle of the box.
        let down = (nth as f64 - (lines.len() as f64 - 1.0) / 2.0) * 1.2 + 0.36;
        let baseline = y as f64 + down * size as f64;
        let _ = writeln!(
            svg,
            "<text x=\"{x}\" y=\"{baseline:.0}\" font-size=\"{size}\" text-anchor=\"{anchor}\"{fit}{turn}>{line}</text>"
        );
    }
}

/// The rings, boxes and names on one sheet, each leading to its finding.
fn marks(picture: &Picture, nth: usize, d: &DrawingResult, key: &str) -> String {
    let Some(sheet) = picture.sheets.get(nth) else { return String::new() };
    let grid = Grid::of(sheet);
    let unit = (grid.size().0.max(grid.size().1) as f64 / 100.0).max(1.0);
    let mut svg = String::new();
    for (index, group) in gather(d, |f| f.waived.is_none()).iter().enumerate() {
        let Some(level) = group.said.first().map(|said| escape::text(&said.finding.level)) else { continue };
        for hole in group.holes().iter().filter(|hole| hole.space == sheet.name) {
            let id = escape::text(&hole.id);
            if svg.contains(&format!("id=\"{key}-{id}\"")) {
                continue;
            }
            let (x, y) = grid.at(Point::new(hole.x, hole.y));
            let r = (radius(hole, d) * grid.steps * 1.5).max(unit);
            let _ = writeln!(
                svg,
                "<a class=\"mark {level}\" id=\"{key}-{id}\" href=\"#{key}-f{index}\" aria-label=\"{id}, {level}\">\
                 <circle cx=\"{x}\" cy=\"{y}\" r=\"{r:.0}\"/><text x=\"{:.0}\" y=\"{:.0}\" font-size=\"{:.0}\">{id}</text></a>",
                x as f64 + r * 0.8,
                y as f64 - r * 0.8,
                2.2 * unit
            );
        }
    }
    for (number, mark) in (1..).zip(&picture.marks).filter(|(_, mark)| mark.sheet == nth) {
        let Some(finding) = d.findings.get(mark.finding).filter(|f| f.waived.is_none()) else { continue };
        let ((x, y), (right, bottom)) = (
            grid.at(Point::new(mark.bounds.min.x, mark.bounds.max.y)),
            grid.at(Point::new(mark.bounds.max.x, mark.bounds.min.y)),
        );
        let pad = unit * 0.8;
        let _ = writeln!(
            svg,
            "<a class=\"mark {0}\" id=\"{key}-p{number}\" href=\"#{key}\" aria-label=\"P{number}, {0}\">\
             <rect x=\"{1:.0}\" y=\"{2:.0}\" width=\"{3:.0}\" height=\"{4:.0}\"/><text x=\"{1:.0}\" y=\"{5:.0}\" font-size=\"{6:.0}\">P{number}</text></a>",
            escape::text(&finding.level),
            x as f64 - pad,
            y as f64 - pad,
            (right - x) as f64 + 2.0 * pad,
            (bottom - y) as f64 + 2.0 * pad,
            y as f64 - 1.4 * pad,
            2.2 * unit
        );
    }
    svg
}

/// Radius of a hole as it is drawn, in drawing units.
fn radius(hole: &HoleResult, d: &DrawingResult) -> f64 {
    hole.drawn_diameter_mm / crate::report::text::numbers::unit_named(&d.unit).in_mm() / 2.0
}

/// The near views of holes: the first at once, the others when asked for.
pub(super) fn zooms(holes: &[&HoleResult], picture: &Picture, d: &DrawingResult, key: &str) -> String {
    let mut holes = holes.to_vec();
    // The hole that its callout is nearest to shows best what was read as what.
    let to_callout = |hole: &&HoleResult| {
        let place = picture.callouts.iter().find(|place| place.hole == hole.id);
        place.map_or(f64::INFINITY, |place| place.bounds.distance(Point::new(hole.x, hole.y)))
    };
    let nearest = holes.iter().enumerate().min_by(|a, b| to_callout(a.1).total_cmp(&to_callout(b.1)));
    if let Some((nth, _)) = nearest {
        holes[..=nth].rotate_right(1);
    }
    let all: Vec<String> = holes.iter().filter_map(|hole| zoom(hole, picture, d, key)).collect();
    let Some((first, others)) = all.split_first() else { return String::new() };
    if others.is_empty() {
        return first.clone();
    }
    format!(
        "{first}<details class=\"others\"><summary>The other {} near by</summary>{}</details>\n",
        crate::report::text::words::counted(others.len() as u64, "hole"),
        others.concat()
    )
}

fn zoom(hole: &HoleResult, picture: &Picture, d: &DrawingResult, key: &str) -> Option<String> {
    let nth = picture.sheets.iter().position(|sheet| sheet.name == hole.space)?;
    let grid = Grid::of(&picture.sheets[nth]);
    let r = radius(hole, d);
    let place = picture.callouts.iter().find(|place| place.hole == hole.id && place.sheet == nth);
    let center = Point::new(hole.x, hole.y);
    let near = |half: f64| Bounds {
        min: Point::new(center.x - half, center.y - half * 0.6),
        max: Point::new(center.x + half, center.y + half * 0.6),
    };
    let mut frame = near(NEAR.0 * 2.0 * r);
    let whole = place.filter(|place| {
        let far = near(NEAR.1 * 2.0 * r);
        far.holds(place.bounds.min, 0.0) && far.holds(place.bounds.max, 0.0)
    });
    let mut boxed = String::new();
    if let Some(place) = whole {
        frame.add(place.bounds.min);
        frame.add(place.bounds.max);
        let (a, b) = (
            grid.at(Point::new(place.bounds.min.x, place.bounds.max.y)),
            grid.at(Point::new(place.bounds.max.x, place.bounds.min.y)),
        );
        let pad = (b.1 - a.1) / 4;
        let _ = write!(
            boxed,
            "<rect x=\"{}\" y=\"{}\" width=\"{}\" height=\"{}\"/>",
            a.0 - pad,
            a.1 - pad,
            b.0 - a.0 + 2 * pad,
            b.1 - a.1 + 2 * pad
        );
    }
    let margin = (frame.max.x - frame.min.x) * 0.06;
    let (x, y) = grid.at(Point::new(frame.min.x - margin, frame.max.y + margin));
    let (w, h) = (
        grid.length(frame.max.x - frame.min.x + 2.0 * margin),
        grid.length(frame.max.y - frame.min.y + 2.0 * margin),
    );
    let (cx, cy) = grid.at(center);
    let ring = grid.length(r * 1.35).max(1);
    let id = escape::text(&hole.id);
    let far = match (&hole.callout, whole) {
        (Some(callout), None) => {
            format!(" Its callout {} stands outside of this view.", escape::text(&callout.text))
        }
        (Some(_), Some(_)) => " Boxed: its callout.".to_owned(),
        (None, _) => " It has no callout.".to_owned(),
    };
    Some(format!(
        "<figure class=\"near\"><svg viewBox=\"{x} {y} {w} {h}\" role=\"img\" aria-label=\"{id} near by\">\
         <use class=\"ink\" href=\"#{key}-s{nth}\"/><g class=\"mark {2}\"><circle cx=\"{cx}\" cy=\"{cy}\" r=\"{ring}\"/>{boxed}\
         <text x=\"{0}\" y=\"{1}\" font-size=\"{3}\">{id}</text></g></svg><figcaption>{id} near by.{far}</figcaption></figure>\n",
        cx + ring * 3 / 4,
        cy - ring * 3 / 4,
        level_of(hole, d),
        (w / 16).max(1),
    ))
}

/// The worst level that is said of a hole.
fn level_of(hole: &HoleResult, d: &DrawingResult) -> &'static str {
    let mine =
        d.findings.iter().filter(|f| f.waived.is_none() && f.hole.as_deref() == Some(hole.id.as_str()));
    match mine.map(|f| crate::report::text::group::rank(&f.level)).min() {
        Some(0) => "fail",
        Some(1) => "warn",
        _ => "note",
    }
}
