//! Circles drawn as regular polygons of 16 or more sides, by LINEs or by the vertices of a polyline.

use std::ops::Range;

use super::rings::{Side, rings};
use crate::drawing::{Circular, Drawing, MadeOf, Segment};
use crate::geometry::Point;

/// Fewest sides that stand for a circle. Polygons with fewer are meant as such (nuts, keys).
pub(super) const FEWEST_SIDES: usize = 16;

/// How far corners may leave the circle, relative to its radius: coordinates rounded to two decimals on small holes.
const ROUNDNESS: f64 = 5e-3;

/// How far sides may differ from the side of the regular polygon, relative to it.
const EVENNESS: f64 = 0.1;

/// Centre and mean radius of a regular polygon of [`FEWEST_SIDES`] or more, given its corners in order: the mean of
/// the circles through its corners and along its sides.
pub(super) fn regular(corners: &[Point]) -> Option<(Point, f64)> {
    if corners.len() < FEWEST_SIDES {
        return None;
    }
    if begins_unevenly([corners[0], corners[1], corners[2], corners[3]]) {
        return None;
    }
    let count = corners.len() as f64;
    let sum = corners.iter().fold(Point::default(), |sum, p| Point::new(sum.x + p.x, sum.y + p.y));
    let center = Point::new(sum.x / count, sum.y / count);
    let outer = corners.iter().map(|p| p.distance(center)).sum::<f64>() / count;
    if outer <= 0.0 {
        return None;
    }
    let half_angle = std::f64::consts::PI / count;
    let side = 2.0 * outer * half_angle.sin();
    // Sides of the regular length on such a circle can only go around it once, if all turn the same way.
    let mut turning = 0.0_f64;
    for (i, a) in corners.iter().enumerate() {
        let b = corners[(i + 1) % corners.len()];
        let on_circle = (a.distance(center) - outer).abs() <= ROUNDNESS * outer;
        let even = (a.distance(b) - side).abs() <= EVENNESS * side;
        let turn = (a.x - center.x) * (b.y - center.y) - (a.y - center.y) * (b.x - center.x);
        if !on_circle || !even || turn * turning < 0.0 {
            return None;
        }
        turning = turn;
    }
    Some((center, outer * (1.0 + half_angle.cos()) / 2.0))
}

/// Whether the first three sides differ by more than those of a regular polygon may.
pub(super) fn begins_unevenly([a, b, c, d]: [Point; 4]) -> bool {
    let sides = [square(a, b), square(b, c), square(c, d)];
    let least = sides.into_iter().fold(f64::INFINITY, f64::min);
    let most = sides.into_iter().fold(0.0, f64::max);
    // Squares of sides that lie within the tolerance around the regular length; a repeated point shows nothing.
    least > 0.0 && most > least * (1.0 + 5.0 * EVENNESS)
}

/// The square of the distance of two points.
fn square(a: Point, b: Point) -> f64 {
    (a.x - b.x).powi(2) + (a.y - b.y).powi(2)
}

/// Replaces LINEs that join to a regular polygon by the circle that they stand for. `runs` are the segments that came
/// from LINE entities.
pub(super) fn close_lines(drawing: &mut Drawing, runs: &[Range<usize>]) {
    let found = rings(&drawing.segments, runs, circle_along);
    if found.is_empty() {
        return;
    }
    let mut gone = vec![false; drawing.segments.len()];
    for (sides, (center, radius)) in found {
        let first = sides.iter().map(|(i, _)| *i).min().unwrap_or_default();
        drawing.circles.push(Circular {
            origin: drawing.segments[first].origin,
            center,
            diameter: 2.0 * radius,
            made_of: MadeOf::Polygon,
        });
        for (i, _) in sides {
            gone[i] = true;
        }
    }
    let mut gone = gone.into_iter();
    drawing.segments.retain(|_| !gone.next().unwrap_or(false));
}

/// How many circles LINEs stand for.
pub(super) fn count(lines: &[Segment]) -> usize {
    rings(lines, std::slice::from_ref(&(0..lines.len())), circle_along).len()
}

fn circle_along(sides: &[Side]) -> Option<(Point, f64)> {
    let corners: Vec<Point> = sides.iter().map(|(_, corner)| *corner).collect();
    regular(&corners)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn ring(sides: usize, radius: f64, squeeze: f64) -> Vec<Point> {
        (0..sides)
            .map(|i| {
                let (sin, cos) = (std::f64::consts::TAU * i as f64 / sides as f64).sin_cos();
                Point::new(4.0 + radius * cos, 5.0 + radius * sin * squeeze)
            })
            .collect()
    }

    #[test]
    fn sixteen_even_sides_are_a_circle_across_the_mean() {
        // Hand calculation: corners on radius 2, sides at 2 cos(180°/16), mean of the two.
        let (center, radius) = regular(&ring(16, 2.0, 1.0)).expect("a polygon");
        let expected = (2.0 + 2.0 * (std::f64::consts::PI / 16.0).cos()) / 2.0;
        assert!((radius - expected).abs() < 1e-12);
        assert!(center.distance(Point::new(4.0, 5.0)) < 1e-12);
    }

    #[test]
    fn few_uneven_or_star_shaped_ones_are_none() {
        assert_eq!(regular(&ring(15, 2.0, 1.0)), None);
        assert_eq!(regular(&ring(32, 2.0, 0.95)), None);
        let star: Vec<Point> = ring(32, 2.0, 1.0).into_iter().step_by(3).cycle().take(32).collect();
        assert_eq!(regular(&star), None);
    }
}
