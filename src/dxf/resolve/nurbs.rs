//! Splines that are circles: rational ones exactly, others within a stated tolerance.

use super::circles::Round;
use crate::dxf::raw::Spline;
use crate::geometry::{Point, Vec3};

/// How far a spline may leave a circle, relative to its radius, and still be one: the usual four cubic arcs leave it
/// by 0.03 %, coarse interpolations by 0.1 %.
pub(super) const ROUNDNESS: f64 = 2e-3;

/// Points at which a spline is compared with a circle.
const SAMPLES: usize = 72;

/// Fewest fit points that are taken as a circle by themselves.
const FEWEST_FIT_POINTS: usize = 8;

/// The circle that a closed spline draws, if it draws one.
pub(super) fn circle_of(spline: &Spline) -> Option<Round> {
    let mut points = if spline.control.is_empty() { spline.fit.clone() } else { samples(spline)? };
    let (first, last) = (*points.first()?, *points.last()?);
    let size = points.iter().map(|p| p.minus(first).length()).fold(0.0, f64::max);
    if last.minus(first).length() > ROUNDNESS * size {
        return None;
    }
    points.pop();
    if points.len() < FEWEST_FIT_POINTS {
        return None;
    }
    round_through(&points)
}

impl Spline {
    /// This spline under an affine map into the plan: its points mapped, its weights and knots as they are.
    pub(super) fn mapped(&self, map: impl Fn(Vec3) -> Point) -> Spline {
        let place = |points: &[Vec3]| {
            let plan = points.iter().map(|p| map(*p));
            plan.map(|p| Vec3::new(p.x, p.y, 0.0)).collect()
        };
        Spline { control: place(&self.control), fit: place(&self.fit), ..self.clone() }
    }
}

/// The circle once around which the points lie in order.
fn round_through(points: &[Vec3]) -> Option<Round> {
    let count = points.len() as f64;
    let mut center = points.iter().fold(Vec3::ZERO, |sum, p| sum.plus(*p)).times(1.0 / count);
    let normal = points
        .iter()
        .zip(points.iter().cycle().skip(1))
        .fold(Vec3::ZERO, |sum, (a, b)| sum.plus(a.minus(center).cross(b.minus(center))))
        .unit()?;
    // The mean of points that are spread unevenly is not the centre; three of them give it.
    center = circumcenter(points, normal).unwrap_or(center);
    let radius = points.iter().map(|p| p.minus(center).length()).sum::<f64>() / count;
    let slack = ROUNDNESS * radius;
    let mut turned = 0.0;
    for (i, p) in points.iter().enumerate() {
        let arm = p.minus(center);
        let next = points[(i + 1) % points.len()].minus(center);
        if (arm.length() - radius).abs() > slack || arm.dot(normal).abs() > slack {
            return None;
        }
        let step = arm.cross(next).dot(normal).atan2(arm.dot(next));
        if step <= 0.0 || step > std::f64::consts::FRAC_PI_2 {
            return None;
        }
        turned += step;
    }
    if (turned - std::f64::consts::TAU).abs() > 1e-3 {
        return None;
    }
    let u = points[0].minus(center).unit()?;
    let u = u.minus(normal.times(u.dot(normal))).unit()?;
    Some(Round { center, u: u.times(radius), v: normal.cross(u).times(radius) })
}

/// The centre of the circle through three points a third of the list apart.
fn circumcenter(points: &[Vec3], normal: Vec3) -> Option<Vec3> {
    let third = points.len() / 3;
    let a = points.first()?;
    let b = points.get(third)?.minus(*a);
    let c = points.get(2 * third)?.minus(*a);
    let twice_area = b.cross(c).dot(normal);
    if twice_area.abs() < 1e-12 * b.length() * c.length() {
        return None;
    }
    let toward = c
        .times(b.dot(b))
        .minus(b.times(c.dot(c)))
        .cross(b.cross(c))
        .times(1.0 / (2.0 * twice_area * twice_area));
    Some(a.plus(toward))
}

/// Points along the spline, the first and the last included.
fn samples(spline: &Spline) -> Option<Vec<Vec3>> {
    let (degree, knots, count) = (spline.degree, &spline.knots, spline.control.len());
    let sound = degree >= 1
        && count > degree
        && knots.len() == count + degree + 1
        && knots.windows(2).all(|pair| pair[0] <= pair[1])
        && (spline.weights.is_empty() || spline.weights.len() == count)
        && spline.weights.iter().all(|w| *w > 0.0);
    if !sound {
        return None;
    }
    let (from, to) = (*knots.get(degree)?, *knots.get(count)?);
    if to <= from {
        return None;
    }
    let mut scratch = Vec::with_capacity(degree + 1);
    let mut at = |i: usize| point_at(spline, from + (to - from) * i as f64 / SAMPLES as f64, &mut scratch);
    let mut few = [Vec3::ZERO; FEW];
    for (i, point) in few.iter_mut().enumerate() {
        *point = at(i * SAMPLES / FEW)?;
    }
    if clearly_not_round(&few) {
        return None;
    }
    (0..=SAMPLES).map(at).collect()
}

/// Points of a spline at which nearly all show already that they are no circle.
const FEW: usize = 6;

/// How far the others of a few points leave the circle through three of them at least, relative to its radius, where not all
/// points of the curve lie within [`ROUNDNESS`] of one circle: many times as far as those would move it.
const CLEARLY: f64 = 50.0 * ROUNDNESS;

/// Whether points lie on no circle by far. Three of them that stand nearly in a line, or two nearly in one place, tell
/// little of a circle.
fn clearly_not_round(points: &[Vec3; FEW]) -> bool {
    let [a, _, b, _, c, _] = points;
    let (ab, ac, bc) = (b.minus(*a), c.minus(*a), c.minus(*b));
    let longest = ab.length().max(ac.length()).max(bc.length());
    let across = ab.cross(ac);
    if across.length() < 0.4 * longest * longest {
        return false;
    }
    let Some(center) = across.unit().and_then(|normal| circumcenter(points, normal)) else { return false };
    let radius = a.minus(center).length();
    points.iter().any(|p| (p.minus(center).length() - radius).abs() > CLEARLY * radius)
}

/// The point at parameter `t`, by de Boor's algorithm in homogeneous coordinates. `d` is room for its points.
fn point_at(spline: &Spline, t: f64, d: &mut Vec<(Vec3, f64)>) -> Option<Vec3> {
    let (degree, knots) = (spline.degree, &spline.knots);
    let last = spline.control.len() - 1;
    let mut span = degree;
    while span < last && t >= knots[span + 1] {
        span += 1;
    }
    d.clear();
    d.extend((0..=degree).map(|j| {
        let i = span - degree + j;
        let weight = spline.weights.get(i).copied().unwrap_or(1.0);
        (spline.control[i].times(weight), weight)
    }));
    for r in 1..=degree {
        for j in (r..=degree).rev() {
            let i = span - degree + j;
            let width = knots[i + degree + 1 - r] - knots[i];
            let alpha = if width > 0.0 { (t - knots[i]) / width } else { 0.0 };
            let (a, b) = (d[j - 1], d[j]);
            d[j] = (a.0.times(1.0 - alpha).plus(b.0.times(alpha)), a.1 * (1.0 - alpha) + b.1 * alpha);
        }
    }
    let (sum, weight) = *d.get(degree)?;
    (weight > 0.0).then(|| sum.times(1.0 / weight))
}

#[cfg(test)]
mod tests {
    use super::*;

    fn at(x: f64, y: f64) -> Vec3 {
        Vec3::new(x, y, 0.0)
    }

    /// The nine-point rational quadratic circle of the textbooks, radius 2 about (5, 7).
    fn rational() -> Spline {
        let h = 0.5_f64.sqrt();
        let ring = [
            (1.0, 0.0),
            (1.0, 1.0),
            (0.0, 1.0),
            (-1.0, 1.0),
            (-1.0, 0.0),
            (-1.0, -1.0),
            (0.0, -1.0),
            (1.0, -1.0),
            (1.0, 0.0),
        ];
        Spline {
            degree: 2,
            knots: vec![0.0, 0.0, 0.0, 1.0, 1.0, 2.0, 2.0, 3.0, 3.0, 4.0, 4.0, 4.0],
            weights: vec![1.0, h, 1.0, h, 1.0, h, 1.0, h, 1.0],
            control: ring.iter().map(|(x, y)| at(5.0 + 2.0 * x, 7.0 + 2.0 * y)).collect(),
            fit: Vec::new(),
        }
    }

    #[test]
    fn a_rational_circle_is_exact() {
        let round = circle_of(&rational()).expect("a circle");
        assert!((round.center.x - 5.0).abs() < 1e-9 && (round.center.y - 7.0).abs() < 1e-9);
        assert!((round.u.length() - 2.0).abs() < 1e-9 && (round.v.length() - 2.0).abs() < 1e-9);
    }

    #[test]
    fn four_cubic_arcs_are_a_circle_within_the_tolerance() {
        // Control distance 0.5522847 for a quarter; leaves the circle by 0.027 % (published).
        let k = 0.552_284_75;
        let ring = [
            (1.0, 0.0),
            (1.0, k),
            (k, 1.0),
            (0.0, 1.0),
            (-k, 1.0),
            (-1.0, k),
            (-1.0, 0.0),
            (-1.0, -k),
            (-k, -1.0),
            (0.0, -1.0),
            (k, -1.0),
            (1.0, -k),
            (1.0, 0.0),
        ];
        let spline = Spline {
            degree: 3,
            knots: [0.0, 1.0, 2.0, 3.0, 4.0]
                .iter()
                .flat_map(|k| {
                    let times = if *k == 0.0 || *k == 4.0 { 4 } else { 3 };
                    std::iter::repeat_n(*k, times)
                })
                .collect(),
            weights: Vec::new(),
            control: ring.iter().map(|(x, y)| at(3.0 * x, 3.0 * y)).collect(),
            fit: Vec::new(),
        };
        let round = circle_of(&spline).expect("a circle");
        assert!((round.u.length() - 3.0).abs() < 3.0 * 5e-4);
    }

    /// The few points that are looked at first stand close together on three quarters of it, or on one.
    #[test]
    fn an_unevenly_stated_circle_is_one() {
        for stretched in [[8.0, 1.0, 1.0, 1.0], [1.0, 1.0, 1.0, 8.0], [1.0, 5.0, 1.0, 5.0]] {
            let mut uneven = rational();
            let mut at = 0.0;
            for (quarter, knots) in uneven.knots[1..].chunks_mut(2).enumerate() {
                knots.fill(at);
                at += stretched.get(quarter).copied().unwrap_or(0.0);
            }
            uneven.knots[11] = uneven.knots[10];
            let round = circle_of(&uneven).expect("a circle");
            assert!((round.center.x - 5.0).abs() < 1e-9 && (round.u.length() - 2.0).abs() < 1e-9);
        }
    }

    #[test]
    fn open_uneven_and_damaged_splines_are_none() {
        let mut open = rational();
        open.control[8] = at(9.0, 9.0);
        assert_eq!(circle_of(&open), None);
        let mut oval = rational();
        for p in &mut oval.control {
            p.x *= 1.1;
        }
        assert_eq!(circle_of(&oval), None);
        let mut damaged = rational();
        damaged.knots.pop();
        assert_eq!(circle_of(&damaged), None);
    }
}
