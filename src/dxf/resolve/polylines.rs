//! Polylines: as a circle where all segments are arcs of one circle or sides of a regular polygon, else segment by
//! segment.

use super::circles::{Round, SAME_CIRCLE, closed_by};
use super::curves::FULL_TURN_SLACK_DEG;
use super::place::{Context, Placer};
use super::polygons;
use crate::drawing::{MadeOf, Origin, Outline, Segment};
use crate::dxf::raw::{Common, Polyline, Vertex};
use crate::geometry::{Affine, Vec3};

/// Most corners of a polyline whose sides are kept one by one: frames, leaders and table grids that are drawn as
/// polylines have fewer.
const MOST_LOOSE_SIDES: usize = 8;

/// Bulges below this draw a line that no eye tells from a straight one.
const STRAIGHT: f64 = 1e-9;

/// A segment in the coordinates of the polyline.
#[derive(Debug, Clone, Copy, PartialEq)]
enum Piece {
    Straight(Vec3, Vec3),
    Bent(Bend),
}

/// An arc, counter-clockwise.
#[derive(Debug, Clone, Copy, PartialEq)]
struct Bend {
    center: Vec3,
    radius: f64,
    start_deg: f64,
    sweep_deg: f64,
    /// The polyline runs along it the other way.
    clockwise: bool,
}

impl<'a> Placer<'_, 'a> {
    pub(super) fn place_polyline(
        &mut self,
        common: &Common,
        polyline: &Polyline,
        map: &Affine,
        context: Context,
    ) {
        let vertices = self.raw.vertices.get(polyline.vertices.clone()).unwrap_or_default();
        let map = if polyline.planar { self.plane_map(common, map, context) } else { *map };
        if is_plain_outline(vertices) {
            let origin = self.origin(common, &context);
            if vertices.len() > MOST_LOOSE_SIDES {
                self.keep_whole(origin, vertices, polyline.closed, &map);
                return;
            }
            let closing = polyline.closed.then(|| vertices.first()).flatten();
            let mut from = map.point(vertices[0].at).plan();
            for vertex in vertices.iter().skip(1).chain(closing) {
                let to = map.point(vertex.at).plan();
                if from != to {
                    self.drawing.segments.push(Segment { origin, from, to });
                }
                from = to;
            }
            return;
        }
        let pieces = pieces(vertices, polyline.closed);
        if let Some((round, made_of)) = circle(&pieces) {
            self.place_round(common, &round, made_of, &map, context);
            return;
        }
        let origin = self.origin(common, &context);
        let has_sides = pieces.iter().any(|piece| matches!(piece, Piece::Straight(..)));
        let first_arc = self.drawing.arcs.len();
        for piece in pieces {
            match piece {
                Piece::Straight(from, to) => {
                    let (from, to) = (map.point(from).plan(), map.point(to).plan());
                    self.drawing.segments.push(Segment { origin, from, to });
                }
                Piece::Bent(bend) => {
                    let round = Round::flat(bend.center, bend.radius);
                    let part = (bend.start_deg, bend.sweep_deg);
                    self.place_part(common, &round, part, MadeOf::Polyline, &map, context);
                }
            }
        }
        if has_sides {
            self.keep_outline(first_arc);
        }
    }

    fn keep_whole(&mut self, origin: Origin, vertices: &[Vertex], closed: bool, map: &Affine) {
        let corners = &mut self.drawing.corners;
        let first = corners.len();
        if *map == Affine::IDENTITY {
            corners.extend(vertices.iter().map(|v| v.at.plan()));
        } else {
            corners.extend(vertices.iter().map(|v| map.point(v.at).plan()));
        }
        if closed {
            corners.push(corners[first]);
        }
        self.drawing.outlines.push(Outline { origin, corners: first..corners.len() });
    }

    /// Lets the arcs from `first_arc` on close only among themselves: the round end of a slot is part of the slot,
    /// and makes no circle with the end of another slot that lies over it.
    fn keep_outline(&mut self, first_arc: usize) {
        let (circles, open) = closed_by(self.drawing.arcs.split_off(first_arc));
        self.drawing.circles.extend(circles);
        self.outline_arcs.extend(open);
    }
}

/// Whether a polyline has straight sides only, and its first ones show that it is no regular polygon: by far the most
/// of a large drawing.
fn is_plain_outline(vertices: &[Vertex]) -> bool {
    let [a, b, c, d, ..] = vertices else {
        return false;
    };
    polygons::begins_unevenly([a, b, c, d].map(|v| v.at.plan()))
        && vertices.iter().all(|v| v.bulge.abs() < STRAIGHT)
}

/// The segments of a polyline, those without length left out.
fn pieces(vertices: &[Vertex], closed: bool) -> Vec<Piece> {
    let count = vertices.len();
    let ends = if closed { count } else { count.saturating_sub(1) };
    (0..ends)
        .filter_map(|i| {
            let (from, to) = (&vertices[i], &vertices[(i + 1) % count]);
            if from.at == to.at {
                return None;
            }
            Some(match bend(from, to) {
                Some(bend) => Piece::Bent(bend),
                None => Piece::Straight(from.at, to.at),
            })
        })
        .collect()
}

/// The arc of a bulge: the tangent of a quarter of its angle, positive counter-clockwise (DXF reference).
fn bend(from: &Vertex, to: &Vertex) -> Option<Bend> {
    let bulge = from.bulge;
    if bulge.abs() < STRAIGHT {
        return None;
    }
    let chord = to.at.minus(from.at);
    let toward = (1.0 - bulge * bulge) / (4.0 * bulge);
    let center = Vec3::new(
        (from.at.x + to.at.x) / 2.0 - chord.y * toward,
        (from.at.y + to.at.y) / 2.0 + chord.x * toward,
        from.at.z,
    );
    let radius = chord.x.hypot(chord.y) * (1.0 + bulge * bulge) / (4.0 * bulge.abs());
    let first = if bulge > 0.0 { from } else { to };
    let (dx, dy) = (first.at.x - center.x, first.at.y - center.y);
    (radius.is_finite() && radius > 0.0).then(|| Bend {
        center,
        radius,
        start_deg: dy.atan2(dx).to_degrees(),
        sweep_deg: 4.0 * bulge.abs().atan().to_degrees(),
        clockwise: bulge < 0.0,
    })
}

/// The circle that all pieces together draw.
fn circle(pieces: &[Piece]) -> Option<(Round, MadeOf)> {
    match pieces.first()? {
        Piece::Bent(first) => circle_of_bends(pieces, first).map(|round| (round, MadeOf::Polyline)),
        Piece::Straight(..) => polygon(pieces).map(|round| (round, MadeOf::Polygon)),
    }
}

fn circle_of_bends(pieces: &[Piece], first: &Bend) -> Option<Round> {
    let slack = SAME_CIRCLE * first.radius;
    let mut turned = 0.0;
    let (mut center, mut radius) = (Vec3::ZERO, 0.0);
    for piece in pieces {
        let Piece::Bent(bend) = piece else {
            return None;
        };
        let same = bend.center.minus(first.center).length() <= slack
            && (bend.radius - first.radius).abs() <= slack
            && bend.clockwise == first.clockwise;
        if !same {
            return None;
        }
        turned += bend.sweep_deg;
        center = center.plus(bend.center);
        radius += bend.radius;
    }
    let each = 1.0 / pieces.len() as f64;
    ((turned - 360.0).abs() <= FULL_TURN_SLACK_DEG).then(|| Round::flat(center.times(each), radius * each))
}

fn polygon(pieces: &[Piece]) -> Option<Round> {
    if pieces.len() < polygons::FEWEST_SIDES {
        return None;
    }
    let mut corners = Vec::with_capacity(pieces.len());
    let (mut start, mut end) = (None, None);
    for piece in pieces {
        let Piece::Straight(from, to) = piece else {
            return None;
        };
        start = start.or(Some(*from));
        end = Some(*to);
        corners.push(from.plan());
    }
    let gap = end?.minus(start?).length();
    let (center, radius) = polygons::regular(&corners)?;
    if gap > SAME_CIRCLE * radius {
        return None;
    }
    Some(Round::flat(Vec3::new(center.x, center.y, start?.z), radius))
}

#[cfg(test)]
mod tests {
    use super::*;

    fn vertex(x: f64, y: f64, bulge: f64) -> Vertex {
        Vertex { at: Vec3::new(x, y, 0.0), bulge }
    }

    #[test]
    fn two_half_circles_are_a_circle() {
        for bulge in [1.0, -1.0] {
            let ring = [vertex(1.0, 3.0, bulge), vertex(5.0, 3.0, bulge)];
            let (round, made_of) = circle(&pieces(&ring, true)).expect("a circle");
            assert_eq!(round, Round::flat(Vec3::new(3.0, 3.0, 0.0), 2.0));
            assert_eq!(made_of, MadeOf::Polyline);
            // Open and back to its start is closed as well; open and not back is not.
            let back = [ring[0], ring[1], vertex(1.0, 3.0, 0.0)];
            assert!(circle(&pieces(&back, false)).is_some());
            assert!(circle(&pieces(&ring, false)).is_none());
        }
    }

    #[test]
    fn quarters_of_one_circle_are_a_circle_and_a_slot_is_none() {
        // The bulge of a quarter is tan(22.5°).
        let q = 22.5_f64.to_radians().tan();
        let ring = [vertex(2.0, 0.0, q), vertex(0.0, 2.0, q), vertex(-2.0, 0.0, q), vertex(0.0, -2.0, q)];
        let (round, _) = circle(&pieces(&ring, true)).expect("a circle");
        assert!((round.u.x - 2.0).abs() < 1e-12 && round.center.length() < 1e-12);
        let slot =
            [vertex(0.0, 0.0, 0.0), vertex(5.0, 0.0, 1.0), vertex(5.0, 2.0, 0.0), vertex(0.0, 2.0, 1.0)];
        assert!(circle(&pieces(&slot, true)).is_none());
        // A crescent: both bulges on one chord, in opposite senses.
        let crescent = [vertex(0.0, 0.0, 1.0), vertex(4.0, 0.0, -0.5)];
        assert!(circle(&pieces(&crescent, true)).is_none());
    }
}
