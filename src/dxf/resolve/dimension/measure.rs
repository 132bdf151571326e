//! What a dimension measures, from its points in the plan.

use crate::drawing::DimensionKind;
use crate::dxf::raw::RawDimension;
use crate::geometry::{Affine, Point, Vec3, exact_sin_cos};

/// Bits of the type number.
const KIND: i64 = 7;
const THREE_POINTS: i64 = 5;
const ORDINATE_X: i64 = 64;

/// The measured length (degrees for an angle) and the points that it is measured between.
pub(super) fn measure(raw: &RawDimension<'_>, plane: &Affine, map: &Affine) -> (f64, Vec<Point>) {
    let at = |p: Vec3| map.point(p).plan();
    let (p10, p13, p14, p15) = (at(raw.p10), at(raw.p13), at(raw.p14), at(raw.p15));
    let turned = |deg: f64| {
        let (sin, cos) = exact_sin_cos(deg);
        map.direction(plane.direction(Vec3::new(cos, sin, 0.0))).plan()
    };
    match raw.kind {
        DimensionKind::Linear => (along(p13, p14, turned(raw.rotation_deg)), vec![p13, p14]),
        DimensionKind::Aligned => (p13.distance(p14), vec![p13, p14]),
        DimensionKind::Diameter => (p15.distance(p10), vec![p15, p10]),
        DimensionKind::Radius => (p10.distance(p15), vec![p10, p15]),
        DimensionKind::Ordinate => {
            let x = raw.type_bits & ORDINATE_X != 0;
            let deg = if x { 0.0 } else { 90.0 } - raw.horizontal_deg;
            (along(p10, p13, turned(deg)), vec![p10, p13])
        }
        DimensionKind::Angular if raw.type_bits & KIND == THREE_POINTS => {
            (angle_at(p15, [p13, p14], p10), vec![p15, p13, p14])
        }
        DimensionKind::ArcLength => {
            let deg = angle_at(p15, [p13, p14], p10);
            (deg.to_radians() * p15.distance(p13), vec![p13, p14, p15])
        }
        DimensionKind::Angular => {
            let arc = map.point(plane.point(raw.p16)).plan();
            (angle_between((p13, p14), (p15, p10), arc), vec![p13, p14, p15, p10])
        }
    }
}

/// Distance of two points along a direction.
fn along(a: Point, b: Point, direction: Point) -> f64 {
    let length = direction.x.hypot(direction.y);
    if length <= 0.0 {
        return a.distance(b);
    }
    (((b.x - a.x) * direction.x + (b.y - a.y) * direction.y) / length).abs()
}

fn bearing(from: Point, to: Point) -> f64 {
    (to.y - from.y).atan2(to.x - from.x).to_degrees()
}

/// The angle at a vertex between two points, on the side where the dimension arc lies.
fn angle_at(vertex: Point, [a, b]: [Point; 2], arc: Point) -> f64 {
    let first = bearing(vertex, a);
    let sweep = (bearing(vertex, b) - first).rem_euclid(360.0);
    let to_arc = (bearing(vertex, arc) - first).rem_euclid(360.0);
    if to_arc <= sweep { sweep } else { 360.0 - sweep }
}

/// The angle between two lines in the sector where the dimension arc lies.
fn angle_between(first: (Point, Point), second: (Point, Point), arc: Point) -> f64 {
    let (d, e) = (
        Point::new(first.1.x - first.0.x, first.1.y - first.0.y),
        Point::new(second.1.x - second.0.x, second.1.y - second.0.y),
    );
    let cross = d.x * e.y - d.y * e.x;
    if cross.abs() < 1e-12 * d.x.hypot(d.y) * e.x.hypot(e.y) || cross == 0.0 {
        return 0.0;
    }
    let (dx, dy) = (second.0.x - first.0.x, second.0.y - first.0.y);
    let t = (dx * e.y - dy * e.x) / cross;
    let meet = Point::new(first.0.x + t * d.x, first.0.y + t * d.y);
    // Lines cross at an angle and at its supplement; the arc lies in a sector of one of them.
    let line = d.y.atan2(d.x).to_degrees();
    let sweep = (e.y.atan2(e.x).to_degrees() - line).rem_euclid(180.0);
    let to_arc = (bearing(meet, arc) - line).rem_euclid(180.0);
    if to_arc <= sweep { sweep } else { 180.0 - sweep }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn lengths_along_a_direction() {
        // Hand calculation: from (0,0) to (3,4), 3 along x, 4 along y.
        let (a, b) = (Point::new(0.0, 0.0), Point::new(3.0, 4.0));
        assert_eq!(along(a, b, Point::new(1.0, 0.0)), 3.0);
        assert_eq!(along(a, b, Point::new(0.0, -2.0)), 4.0);
    }

    #[test]
    fn angles_on_the_side_of_the_arc() {
        let o = Point::new(0.0, 0.0);
        let (x, y) = (Point::new(1.0, 0.0), Point::new(0.0, 1.0));
        assert!((angle_at(o, [x, y], Point::new(1.0, 1.0)) - 90.0).abs() < 1e-9);
        assert!((angle_at(o, [x, y], Point::new(-1.0, -1.0)) - 270.0).abs() < 1e-9);
        // Lines at 60°: 60 between them, 120 beside.
        let steep = Point::new(0.5, 0.75_f64.sqrt());
        let between = angle_between((o, x), (o, steep), Point::new(1.0, 0.5));
        assert!((between - 60.0).abs() < 1e-9);
        let beside = angle_between((o, x), (o, steep), Point::new(-1.0, 1.0));
        assert!((beside - 120.0).abs() < 1e-9);
    }
}
