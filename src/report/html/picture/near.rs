//! The picture near to a hole, with its callout and leader, and near to the callout where that stands too far off.

use std::fmt::Write as _;

use super::super::escape;
use super::grid::Grid;
use super::radius;
use crate::check::{CalloutPlace, DrawingResult, HoleResult, Picture};
use crate::geometry::{Bounds, Point};
use crate::report::text::group::rank;
use crate::report::text::words::counted;

/// Half the side of a near view in diameters of the hole: at least, and at most.
const NEAR: (f64, f64) = (4.0, 22.0);
/// Height of a near view over its width.
const FLAT: f64 = 0.6;

/// A hole where it is shown: on the sheet of its callout where a viewport shows it there, else on its own.
struct Sight<'a> {
    hole: &'a HoleResult,
    sheet: usize,
    center: Point,
    /// Radius as it appears there.
    r: f64,
    /// Its callout on the same sheet.
    callout: Option<&'a CalloutPlace>,
}

impl<'a> Sight<'a> {
    fn of(hole: &'a HoleResult, picture: &'a Picture, d: &DrawingResult) -> Option<Sight<'a>> {
        let callout = picture.callouts.iter().find(|place| place.hole == hole.id);
        let r = radius(hole, d);
        let seen = callout
            .and_then(|place| picture.seen.iter().find(|s| s.hole == hole.id && s.sheet == place.sheet));
        if let Some(seen) = seen.filter(|seen| seen.scale > 0.0) {
            return Some(Sight { hole, sheet: seen.sheet, center: seen.at, r: r * seen.scale, callout });
        }
        let sheet = picture.sheets.iter().position(|sheet| sheet.name == hole.space)?;
        let callout = callout.filter(|place| place.sheet == sheet);
        Some(Sight { hole, sheet, center: Point::new(hole.x, hole.y), r, callout })
    }

    fn to_callout(&self) -> f64 {
        self.callout.map_or(f64::INFINITY, |place| place.bounds.distance(self.center))
    }

    /// The box of so many diameters to each side.
    fn around(&self, diameters: f64) -> Bounds {
        let half = diameters * 2.0 * self.r;
        Bounds {
            min: Point::new(self.center.x - half, self.center.y - half * FLAT),
            max: Point::new(self.center.x + half, self.center.y + half * FLAT),
        }
    }

    /// Whether its callout stands within reach of a near view.
    fn holds_callout(&self) -> bool {
        let far = self.around(NEAR.1);
        self.callout.is_some_and(|c| far.holds(c.bounds.min, 0.0) && far.holds(c.bounds.max, 0.0))
    }
}

/// The near views of holes: the first at once, the others when asked for.
pub(in crate::report::html) fn zooms(
    holes: &[&HoleResult],
    picture: &Picture,
    d: &DrawingResult,
    key: &str,
) -> String {
    let mut sights: Vec<Sight<'_>> = holes.iter().filter_map(|hole| Sight::of(hole, picture, d)).collect();
    // The hole that its callout is nearest to shows best what was read as what.
    let nearest = sights.iter().enumerate().min_by(|a, b| a.1.to_callout().total_cmp(&b.1.to_callout()));
    if let Some((nth, _)) = nearest {
        sights[..=nth].rotate_right(1);
    }
    let Some((first, others)) = sights.split_first() else { return String::new() };
    let mut html = zoom(first, picture, d, key, first.holds_callout());
    if let Some(place) = first.callout.filter(|_| !first.holds_callout()) {
        html.push_str(&callout(first, place, picture, d, key));
    }
    if !others.is_empty() {
        let others: Vec<String> =
            others.iter().map(|sight| zoom(sight, picture, d, key, sight.holds_callout())).collect();
        let _ = writeln!(
            html,
            "<details class=\"others\"><summary>The other {} near by</summary>{}</details>",
            counted(others.len() as u64, "hole"),
            others.concat()
        );
    }
    html
}

/// A hole, together with its callout where that is within reach.
fn zoom(sight: &Sight<'_>, picture: &Picture, d: &DrawingResult, key: &str, whole: bool) -> String {
    let Some(sheet) = picture.sheets.get(sight.sheet) else { return String::new() };
    let grid = Grid::of(sheet);
    let mut frame = sight.around(NEAR.0);
    let mut marks = String::new();
    if let Some(place) = sight.callout.filter(|_| whole) {
        frame.add(place.bounds.min);
        frame.add(place.bounds.max);
        marks = boxed(&grid, &place.bounds);
    }
    let hole = sight.hole;
    let (id, (cx, cy)) = (escape::text(&hole.id), grid.at(sight.center));
    let ring = grid.length(sight.r * 1.35).max(1);
    let letter = letter(&grid, &frame);
    let _ = write!(
        marks,
        "<circle cx=\"{cx}\" cy=\"{cy}\" r=\"{ring}\"/><text x=\"{}\" y=\"{}\" font-size=\"{letter}\">{id}</text>",
        cx + ring * 3 / 4,
        cy - ring * 3 / 4,
    );
    let far = match &hole.callout {
        Some(_) if whole => " Boxed: its callout.".to_owned(),
        Some(callout) => {
            format!(" Its callout {} stands outside of this view.", escape::text(&callout.text))
        }
        None => " It has no callout.".to_owned(),
    };
    figure(sight, (&grid, &frame), &marks, d, key, &format!("{id} near by"), &far)
}

/// The callout of a hole where it stands, when it is too far off to be shown with the hole.
fn callout(
    sight: &Sight<'_>,
    place: &CalloutPlace,
    picture: &Picture,
    d: &DrawingResult,
    key: &str,
) -> String {
    let Some(sheet) = picture.sheets.get(sight.sheet) else { return String::new() };
    let grid = Grid::of(sheet);
    let b = place.bounds;
    let middle = Point::new((b.min.x + b.max.x) / 2.0, (b.min.y + b.max.y) / 2.0);
    // A point without a size is shown as far round as the hole.
    let half = (b.max.x - b.min.x).max((b.max.y - b.min.y) / FLAT).max(2.0 * NEAR.0 * sight.r) * 0.8;
    let frame = Bounds {
        min: Point::new(middle.x - half, middle.y - half * FLAT),
        max: Point::new(middle.x + half, middle.y + half * FLAT),
    };
    let title = format!("The callout of {}", escape::text(&sight.hole.id));
    figure(sight, (&grid, &frame), &boxed(&grid, &b), d, key, &title, "")
}

fn figure(
    sight: &Sight<'_>,
    (grid, frame): (&Grid, &Bounds),
    marks: &str,
    d: &DrawingResult,
    key: &str,
    title: &str,
    more: &str,
) -> String {
    let (x, y, w, h) = grid.frame(frame);
    let margin = w * 6 / 100;
    format!(
        "<figure class=\"near\"><svg viewBox=\"{} {} {} {}\" role=\"img\" aria-label=\"{title}\">\
         <use class=\"ink\" href=\"#{key}-s{}\"/><g class=\"mark {}\">{marks}</g></svg><figcaption>{title}.{more}</figcaption></figure>\n",
        x - margin,
        y - margin,
        w + 2 * margin,
        h + 2 * margin,
        sight.sheet,
        level_of(sight.hole, d),
    )
}

fn letter(grid: &Grid, frame: &Bounds) -> i64 {
    let (_, _, w, _) = grid.frame(frame);
    (w * 112 / 1600).max(1)
}

/// A box round a text.
fn boxed(grid: &Grid, bounds: &Bounds) -> String {
    let (x, y, w, h) = grid.frame(bounds);
    let pad = h / 4;
    format!(
        "<rect x=\"{}\" y=\"{}\" width=\"{}\" height=\"{}\"/>",
        x - pad,
        y - pad,
        w + 2 * pad,
        h + 2 * pad
    )
}

/// The worst level that is said of a hole.
fn level_of(hole: &HoleResult, d: &DrawingResult) -> &'static str {
    let mine =
        d.findings.iter().filter(|f| f.waived.is_none() && f.hole.as_deref() == Some(hole.id.as_str()));
    match mine.map(|f| rank(&f.level)).min() {
        Some(0) => "fail",
        Some(1) => "warn",
        _ => "note",
    }
}
