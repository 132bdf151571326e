//! Where the X and Y columns of a hole table put its rows on the drawing: the table's origin is found by the vote of
//! its rows with the circles. Ties no row to a hole.

use std::collections::BTreeMap;

use super::scene::Spot;
use super::texts::Statement;
use super::unit::Units;
use crate::geometry::Point;
use crate::near::Near;

/// Rows that vote; the rest are held against the result.
const VOTERS: usize = 24;
/// Origins with most votes that are held against all rows.
const TRIED: usize = 8;
/// Places agree within this part of the smallest hole.
pub(super) const WITHIN: f64 = 0.25;

/// A row that states a place, in drawing units at true size.
struct Stated {
    statement: usize,
    x: f64,
    y: f64,
    called: Option<f64>,
}

/// The place on the drawing of each statement that states one, where at least half of them, and two, lie on holes when
/// measured from one origin; none elsewhere.
pub(super) fn find(
    statements: &[Statement],
    spots: &[Spot],
    scales: &[f64],
    units: &Units,
) -> Vec<Option<Point>> {
    let mut places = vec![None; statements.len()];
    let stated: Vec<Stated> = (statements.iter().enumerate())
        .filter_map(|(statement, s)| {
            let (x, y) = s.place?;
            let called = s.called().map(|q| units.in_drawing(q));
            Some(Stated { statement, x: units.in_drawing(x), y: units.in_drawing(y), called })
        })
        .collect();
    let smallest = spots.iter().map(|s| s.drawn).fold(f64::INFINITY, f64::min);
    if stated.len() < 2 || !smallest.is_finite() {
        return places;
    }
    let step = WITHIN * smallest;
    let near = Near::new(spots.iter().map(|s| (s.at, 0.0)));
    let hits = |view: usize, origin: Point| {
        let on_hole = |row: &&Stated| {
            near.centres_within(at(origin, row, scales[view]), step)
                .into_iter()
                .any(|s| spots[s].view == view)
        };
        stated.iter().filter(on_hole).count()
    };
    let best = origins(&stated, spots, scales, step)
        .into_iter()
        .map(|(view, origin)| (hits(view, origin), view, origin))
        .fold(None, |best: Option<(usize, usize, Point)>, next| match best {
            Some(b) if b.0 >= next.0 => Some(b),
            _ => Some(next),
        });
    if let Some((_, view, origin)) = best.filter(|(n, _, _)| *n >= 2 && 2 * n >= stated.len()) {
        for row in &stated {
            places[row.statement] = Some(at(origin, row, scales[view]));
        }
    }
    places
}

fn at(origin: Point, row: &Stated, scale: f64) -> Point {
    Point::new(origin.x + scale * row.x, origin.y + scale * row.y)
}

/// The origins that most pairs of a row and a hole of its size agree on, with the view of those holes.
fn origins(stated: &[Stated], spots: &[Spot], scales: &[f64], step: f64) -> Vec<(usize, Point)> {
    let mut votes: BTreeMap<(usize, i64, i64), (usize, Point)> = BTreeMap::new();
    for row in stated.iter().take(VOTERS) {
        for spot in spots {
            let scale = scales[spot.view];
            let fits = row.called.is_none_or(|c| (spot.drawn / scale - c).abs() <= 0.02 * c);
            if fits {
                let origin = Point::new(spot.at.x - scale * row.x, spot.at.y - scale * row.y);
                let cell = |v: f64| (v / step).round() as i64;
                votes.entry((spot.view, cell(origin.x), cell(origin.y))).or_insert((0, origin)).0 += 1;
            }
        }
    }
    let mut ranked: Vec<_> = votes.into_iter().map(|((view, ..), (n, origin))| (n, view, origin)).collect();
    ranked.sort_by_key(|(n, ..)| std::cmp::Reverse(*n));
    ranked.into_iter().take(TRIED).map(|(_, view, origin)| (view, origin)).collect()
}
