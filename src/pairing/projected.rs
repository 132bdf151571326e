//! What a length that is measured across a hole in a view from the side says of the hole in the view from the front: its
//! drawn diameter, and that it lies straight over or beside the points measured between. Nothing is decided here.

use super::edge::{Edge, term};
use super::rings::same_diameter;
use super::scene::Scene;
use super::texts::Carrier;
use crate::drawing::Dimension;
use crate::geometry::Point;

/// A hole drawn at another diameter than the length measured, where one of that diameter is drawn.
const OTHER_LENGTH: f64 = 0.6;
/// A hole off the lines that carry the points over, where one of the same diameter is on them.
const OFF_PROJECTION: f64 = 0.3;
/// Furthest that a centre lies from the middle of the points measured between, in diameters.
const ALIGNED: f64 = 0.1;

/// Adds to the pairs of a dimension across a hole what its points say of each of them.
pub(super) fn weigh(scene: &Scene<'_>, statement: usize, edges: &mut [Edge]) {
    let Carrier::Dimension(index) = scene.statements[statement].carrier else { return };
    let measured = &scene.drawing.dimensions[index];
    let as_long = |e: &Edge| same_diameter(scene.spots[e.spot].drawn, measured.measured);
    if !edges.iter().any(as_long) {
        return;
    }
    let over = |e: &Edge| as_long(e) && carries_over(measured, scene.spots[e.spot].at);
    let projected = edges.iter().any(over);
    for e in edges {
        let (long, over) = (as_long(e), over(e));
        if !long {
            e.add(term("other-length", OTHER_LENGTH, "another hole is as wide as the length measured"));
        } else if projected {
            e.add(match over {
                true => term("projection", 0.0, "in line with the points measured between"),
                false => term("projection", OFF_PROJECTION, "another hole is in line with the points"),
            });
        }
    }
}

/// Whether the points of a length lie evenly about the lines through a centre across the length.
fn carries_over(d: &Dimension, centre: Point) -> bool {
    let [a, b] = d.points.as_slice() else { return false };
    let length = a.distance(*b);
    if length <= 0.0 {
        return false;
    }
    let along = ((centre.x - a.x) * (b.x - a.x) + (centre.y - a.y) * (b.y - a.y)) / length;
    (along - length / 2.0).abs() <= ALIGNED * length
}
