//! The rings, boxes and names on a sheet, each leading to its card.

use std::collections::HashSet;
use std::fmt::Write as _;

use super::super::escape;
use super::grid::Grid;
use super::labels::{Place, Taken};
use crate::check::{DrawingResult, HoleResult, Picture, Shape};
use crate::geometry::Point;
use crate::report::text::group::{Group, gather};

/// Beyond so many marks names do not go round the words of the drawing any more.
const MANY: usize = 300;

/// The marks of one sheet.
#[derive(Debug, Default)]
pub(super) struct Marks {
    /// As SVG; empty where nothing is marked.
    pub(super) svg: String,
    /// How many holes are ringed.
    pub(super) rings: usize,
    /// How many of them have no room for their name.
    pub(super) nameless: usize,
}

/// A ring to be drawn.
struct Ring<'a> {
    hole: &'a HoleResult,
    level: String,
    /// Index of the card.
    card: usize,
    at: (f64, f64),
    r: f64,
}

/// The marks of the `nth` sheet of a picture.
pub(super) fn marks(picture: &Picture, nth: usize, d: &DrawingResult, key: &str) -> Marks {
    let Some(sheet) = picture.sheets.get(nth) else { return Marks::default() };
    let grid = Grid::of(sheet);
    let size = (grid.size().0 as f64, grid.size().1 as f64);
    let unit = (size.0.max(size.1) / 100.0).max(1.0);
    let groups = gather(d, |f| f.waived.is_none());
    let rings = rings(picture, nth, d, &groups, &grid, unit);
    let mut taken = Taken::default();
    rings.iter().for_each(|ring| taken.ring(ring.at, ring.r));
    if rings.len() <= MANY {
        for shape in sheet.shapes.iter().filter(|shape| matches!(shape, Shape::Text { .. })) {
            let (x, y, w, h) = grid.frame(&shape.bounds());
            taken.words((x as f64, y as f64, (x + w) as f64, (y + h) as f64));
        }
    }
    let mut marks = Marks { rings: rings.len(), ..Marks::default() };
    // Smaller names where there are many, down to half.
    let letter = 2.2 * unit * (12.0 / rings.len().max(1) as f64).sqrt().clamp(0.6, 1.0);
    boxes(picture, nth, d, &groups, key, (&grid, unit), &mut taken, &mut marks.svg);
    let mut named = HashSet::new();
    for ring in &rings {
        let wide = ring.hole.id.chars().count() as f64 * 0.72 * letter;
        let place = taken.place(ring.at, ring.r, (wide, letter), size);
        marks.nameless += usize::from(place.is_none());
        // A hole that two viewports show has two rings, of which the first has its name within the page.
        let first = named.insert(ring.hole.id.as_str());
        put_ring(ring, first.then(|| id(picture, nth, ring.hole, key)), place, letter, key, &mut marks.svg);
    }
    marks
}

/// The name within the page of a hole's ring. On another sheet than the hole's own it names the sheet as well.
pub(super) fn id(picture: &Picture, nth: usize, hole: &HoleResult, key: &str) -> String {
    let own = picture.sheets.get(nth).is_some_and(|sheet| sheet.name == hole.space);
    let name = escape::text(&hole.id);
    if own { format!("{key}-{name}") } else { format!("{key}-{name}-s{nth}") }
}

/// The holes with findings on a sheet: its own, and those that viewports show.
fn rings<'a>(
    picture: &Picture,
    nth: usize,
    d: &DrawingResult,
    groups: &[Group<'a>],
    grid: &Grid,
    unit: f64,
) -> Vec<Ring<'a>> {
    let Some(sheet) = picture.sheets.get(nth) else { return Vec::new() };
    let mut rings = Vec::new();
    let mut known = HashSet::new();
    for (card, group) in groups.iter().enumerate() {
        let Some(level) = group.said.first().map(|said| escape::text(&said.finding.level)) else { continue };
        for hole in group.holes() {
            if !known.insert(hole.id.as_str()) {
                continue;
            }
            let mut put = |at: Point, scale: f64| {
                let (x, y) = grid.at(at);
                let r = (super::radius(hole, d) * scale * grid.steps * 1.5).max(unit);
                rings.push(Ring { hole, level: level.clone(), card, at: (x as f64, y as f64), r });
            };
            if hole.space == sheet.name {
                put(Point::new(hole.x, hole.y), 1.0);
            }
            for seen in picture.seen.iter().filter(|seen| seen.sheet == nth && seen.hole == hole.id) {
                put(seen.at, seen.scale);
            }
        }
    }
    rings
}

fn put_ring(
    ring: &Ring<'_>,
    id: Option<String>,
    place: Option<Place>,
    letter: f64,
    key: &str,
    svg: &mut String,
) {
    let name = escape::text(&ring.hole.id);
    let id = id.map_or_else(String::new, |id| format!(" id=\"{id}\""));
    let ((x, y), r, level) = (ring.at, ring.r, &ring.level);
    let _ = write!(
        svg,
        "<a class=\"mark {level}\"{id} href=\"#{key}-f{}\" aria-label=\"{name}, {level}\"><title>{name}, {level}</title>\
         <circle cx=\"{x:.0}\" cy=\"{y:.0}\" r=\"{r:.0}\"/>",
        ring.card
    );
    if let Some(place) = place {
        if let Some([from, to]) = place.line {
            let _ = write!(svg, "<path d=\"M{:.0} {:.0}L{:.0} {:.0}\"/>", from.0, from.1, to.0, to.1);
        }
        let _ = write!(
            svg,
            "<text x=\"{:.0}\" y=\"{:.0}\" font-size=\"{letter:.0}\">{name}</text>",
            place.x, place.y
        );
    }
    svg.push_str("</a>\n");
}

/// The boxes of findings that are about no hole.
#[expect(clippy::too_many_arguments, reason = "one step of `marks`, split off for its length")]
fn boxes(
    picture: &Picture,
    nth: usize,
    d: &DrawingResult,
    groups: &[Group<'_>],
    key: &str,
    (grid, unit): (&Grid, f64),
    taken: &mut Taken,
    svg: &mut String,
) {
    for (number, mark) in (1..).zip(&picture.marks).filter(|(_, mark)| mark.sheet == nth) {
        let Some(finding) = d.findings.get(mark.finding).filter(|f| f.waived.is_none()) else { continue };
        let card = groups.iter().position(|group| {
            let mut all =
                group.said.iter().flat_map(|s| std::iter::once(s.finding).chain(s.also.iter().copied()));
            all.any(|own| std::ptr::eq(own, finding))
        });
        let way = card.map_or_else(|| key.to_owned(), |card| format!("{key}-f{card}"));
        let (x, y, w, h) = grid.frame(&mark.bounds);
        let pad = unit * 0.8;
        let (x, y, w, h) = (x as f64 - pad, y as f64 - pad, w as f64 + 2.0 * pad, h as f64 + 2.0 * pad);
        taken.mark((x, y, x + w, y + h));
        taken.mark((x, y - 2.4 * unit, x + 3.2 * unit, y));
        let _ = writeln!(
            svg,
            "<a class=\"mark {0}\" id=\"{key}-p{number}\" href=\"#{way}\" aria-label=\"P{number}, {0}\"><title>P{number}, {0}</title>\
             <rect x=\"{x:.0}\" y=\"{y:.0}\" width=\"{w:.0}\" height=\"{h:.0}\"/>\
             <text x=\"{x:.0}\" y=\"{1:.0}\" font-size=\"{2:.0}\">P{number}</text></a>",
            escape::text(&finding.level),
            y - 0.4 * unit,
            2.2 * unit
        );
    }
}
