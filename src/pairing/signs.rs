//! Circles that are part of a sign: the circle in the V of a surface sign, and the circle on the bend of an arrow line
//! that stands for a weld all around. Says nothing of signs without a circle.

use super::cover::Cover;
use super::rings::{Ring, Rings};
use crate::drawing::{Drawing, SpaceId};
use crate::geometry::Point;
use crate::near::Near;

/// Signs are about as large as letters; the circle in them is smaller than this many heights of the usual letter.
const MOST_LETTERS: f64 = 1.6;

/// How far the lines of a sign may miss the circle, as a share of its radius.
const SLACK: f64 = 0.08;

/// Between these angles (degrees) an arrow line bends. Lines that meet at a right angle or go straight on are centre
/// marks and extension lines.
const BEND_DEG: (f64, f64) = (95.0, 172.0);

/// A line that ends at the foot of a V and touches the circle, with the side on which it passes the middle.
#[derive(Debug, Clone, Copy)]
struct Leg {
    foot: Point,
    side: f64,
}

/// What was found at one ring.
#[derive(Debug, Clone, Default)]
struct Found {
    legs: Vec<Leg>,
    /// The far ends of the lines that end in the middle.
    from_middle: Vec<Point>,
    bend_of_leader: bool,
}

/// Which rings are part of a sign, of those that `may_be` one, on a sheet of letters of a `height`.
pub(super) fn signs(
    drawing: &Drawing,
    rings: &Rings,
    height: f64,
    may_be: impl Fn(usize) -> bool,
) -> Vec<bool> {
    let mut signs = vec![false; rings.rings.len()];
    let most = MOST_LETTERS * height;
    let asked: Vec<usize> =
        (0..rings.rings.len()).filter(|&i| rings.rings[i].diameter <= most && may_be(i)).collect();
    if asked.is_empty() || drawing.texts.is_empty() {
        return signs;
    }
    let near = Near::new(asked.iter().map(|&i| (rings.rings[i].center, rings.rings[i].diameter / 2.0)));
    let mut found = vec![Found::default(); asked.len()];
    // A line of a sign ends in the middle or two radii from it; most lines end near no ring at all.
    let reach = |diameter: f64| (1.0 + SLACK) * diameter;
    let cover = Cover::new(asked.iter().map(|&i| (rings.rings[i].center, reach(rings.rings[i].diameter))));
    let mut look = |space: SpaceId, end: Point, other: Point| {
        if !cover.may_hold(end) {
            return;
        }
        near.any_centre_within(end, reach(most), |k| {
            let ring = &rings.rings[asked[k]];
            if ring.space == space {
                found[k].add_line(ring, end, other);
            }
            false
        });
    };
    for s in drawing.segments.iter().filter(|s| s.origin.visible && !s.origin.is_centre_line()) {
        look(s.origin.space, s.from, s.to);
        look(s.origin.space, s.to, s.from);
    }
    for l in drawing.leaders.iter().filter(|l| l.origin.visible && l.vertices.len() >= 3) {
        let (first, last) = (l.vertices[0], l.vertices[l.vertices.len() - 1]);
        for &bend in l.vertices.iter().filter(|&&v| v != first && v != last) {
            for k in near.centres_within(bend, SLACK * most / 2.0) {
                let ring = &rings.rings[asked[k]];
                found[k].bend_of_leader |= ring.space == l.origin.space && is_middle(ring, bend);
            }
        }
    }
    for (found, i) in found.iter().zip(asked) {
        signs[i] =
            found.bend_of_leader || found.is_surface_sign(&rings.rings[i]) || found.is_on_a_bend(rings, i);
    }
    signs
}

impl Found {
    fn add_line(&mut self, ring: &Ring, end: Point, other: Point) {
        if is_middle(ring, end) {
            self.from_middle.push(other);
        } else if let Some(leg) = leg(ring, end, other) {
            self.legs.push(leg);
        }
    }

    /// Two lines from one foot, one on each side.
    fn is_surface_sign(&self, ring: &Ring) -> bool {
        let slack = SLACK * ring.diameter;
        self.legs.iter().enumerate().any(|(k, a)| {
            self.legs[..k].iter().any(|b| a.side * b.side < 0.0 && a.foot.distance(b.foot) <= slack)
        })
    }

    /// Two lines and no more end in the middle and make a bend there, one of them level as reference lines are, and
    /// neither leads to the middle of another circle as lines from hole to hole do.
    fn is_on_a_bend(&self, rings: &Rings, i: usize) -> bool {
        let [a, b] = self.from_middle[..] else { return false };
        let ring = &rings.rings[i];
        let direction = |p: Point| (p.y - ring.center.y).atan2(p.x - ring.center.x).to_degrees();
        let between = (direction(a) - direction(b)).rem_euclid(360.0);
        let angle = between.min(360.0 - between);
        let far = |p: Point| p.distance(ring.center) > ring.diameter;
        let level = |p: Point| (p.y - ring.center.y).abs() <= 0.02 * p.distance(ring.center);
        let to_another = |p: Point| !rings.centres_within(ring.space, p, SLACK * ring.diameter).is_empty();
        angle > BEND_DEG.0
            && angle < BEND_DEG.1
            && (level(a) || level(b))
            && [a, b].into_iter().all(|p| far(p) && !to_another(p))
    }
}

fn is_middle(ring: &Ring, p: Point) -> bool {
    p.distance(ring.center) <= SLACK * ring.diameter / 2.0
}

/// A V of 60° whose legs touch the circle has its foot two radii from the middle (ISO 21920-1).
fn leg(ring: &Ring, foot: Point, other: Point) -> Option<Leg> {
    let radius = ring.diameter / 2.0;
    let long = foot.distance(other);
    let slack = SLACK * radius;
    if (foot.distance(ring.center) - 2.0 * radius).abs() > slack || long < 1.7 * radius {
        return None;
    }
    let across =
        (other.x - foot.x) * (ring.center.y - foot.y) - (other.y - foot.y) * (ring.center.x - foot.x);
    let side = across / long;
    ((side.abs() - radius).abs() <= slack && along(foot, other, ring.center) > 0.0)
        .then_some(Leg { foot, side })
}

/// How far a point lies along a line, seen from its foot; only the sign matters.
fn along(foot: Point, other: Point, p: Point) -> f64 {
    (other.x - foot.x) * (p.x - foot.x) + (other.y - foot.y) * (p.y - foot.y)
}

#[cfg(test)]
mod tests {
    use super::super::rings::collect;
    use super::super::texts::usual_height;
    use super::*;
    use crate::pairing::testing::Sheet;

    fn signs_of(sheet: Sheet) -> Vec<bool> {
        let drawing = sheet.drawing();
        signs(&drawing, &collect(&drawing), usual_height(&drawing), |_| true)
    }

    /// The foot of the V at (0, 0), its legs at 60° and 120°; a circle of radius 1 that touches both stands at (0, 2).
    fn surface_sign() -> Sheet {
        Sheet::new()
            .text(3.0, 5.0, "Ra 3.2")
            .circle(0.0, 2.0, 2.0)
            .line(0.0, 0.0, 4.0, 6.928)
            .line(0.0, 0.0, -2.0, 3.464)
    }

    #[test]
    fn a_circle_in_a_v_is_a_sign_and_one_beside_a_line_is_none() {
        assert_eq!(signs_of(surface_sign()), [true]);
        let one_leg = Sheet::new().text(3.0, 5.0, "Ra 3.2").circle(0.0, 2.0, 2.0).line(0.0, 0.0, 4.0, 6.928);
        assert_eq!(signs_of(one_leg), [false]);
    }

    #[test]
    fn a_circle_on_the_bend_of_an_arrow_line_is_a_sign() {
        let bent = Sheet::new().text(-20.0, 6.0, "a3").circle(0.0, 5.0, 3.0);
        assert_eq!(signs_of(bent.line(0.0, 5.0, 9.0, 0.0).line(0.0, 5.0, -20.0, 5.0)), [true]);
    }

    #[test]
    fn holes_that_lines_lead_to_from_hole_to_hole_are_no_signs() {
        let row = Sheet::new()
            .text(-20.0, 6.0, "A")
            .circle(0.0, 0.0, 3.0)
            .circle(20.0, 10.0, 3.0)
            .circle(-20.0, 0.0, 3.0);
        assert_eq!(
            signs_of(row.line(0.0, 0.0, 20.0, 10.0).line(0.0, 0.0, -20.0, 0.0)),
            [false, false, false]
        );
    }

    #[test]
    fn a_hole_with_a_centre_mark_or_extension_lines_is_no_sign() {
        let hole = || Sheet::new().text(-20.0, 6.0, "A").circle(0.0, 0.0, 3.0);
        let half_lines = hole().line(0.0, 0.0, 5.0, 0.0).line(0.0, 0.0, -5.0, 0.0);
        assert_eq!(signs_of(half_lines.line(0.0, 0.0, 0.0, 5.0).line(0.0, 0.0, 0.0, -5.0)), [false]);
        assert_eq!(signs_of(hole().line(0.0, 0.0, 0.0, -30.0).line(0.0, 0.0, -30.0, 0.0)), [false]);
        assert_eq!(signs_of(hole().line(1.5, 0.0, 20.0, 15.0).line(20.0, 15.0, 40.0, 15.0)), [false]);
    }

    #[test]
    fn a_circle_larger_than_signs_are_is_a_hole() {
        assert_eq!(
            signs_of(
                Sheet::new()
                    .text(9.0, 9.0, "A")
                    .circle(0.0, 0.0, 12.0)
                    .line(0.0, 0.0, 40.0, 30.0)
                    .line(0.0, 0.0, -40.0, 0.0)
            ),
            [false]
        );
    }
}
