//! What a tip, the points of a dimension or the place of a block hit, and how well: the anchors themselves.

use super::look::looks;
use super::{Anchor, Anchors, Means};
use crate::drawing::{Dimension, DimensionKind, Drawing, SpaceId, TextKind};
use crate::geometry::Point;
use crate::pairing::Detail;
use crate::pairing::rings::Rings;
use crate::pairing::texts::Statement;

/// A tip of a statement, in its own space and, through viewports, in model space.
#[expect(
    clippy::too_many_arguments,
    reason = "one call site each for leaders and lines; a struct would only rename them"
)]
pub(super) fn add_tip(
    drawing: &Drawing,
    rings: &Rings,
    statements: &[Statement],
    found: &mut Anchors,
    s: usize,
    tip: Point,
    means: Means,
    space: SpaceId,
) {
    let number = found.tips[s];
    found.tips[s] += 1;
    for look in looks(drawing, space) {
        let Some(p) = look.point(tip) else { continue };
        let height = statements[s].height / look.scale();
        for ring in look.rings(drawing, rings, p, height) {
            if let Some((cost, detail)) =
                tip_cost(p, rings.rings[ring].center, rings.rings[ring].diameter, height)
            {
                let extra = if means == Means::Line { 0.3 } else { 0.0 };
                found.add(s, Anchor { ring, means, cost: cost + extra, detail, tip: number, wide: false });
            }
        }
    }
}

/// Whether a tip hits any circle, in its own space or through a viewport.
pub(super) fn hits_circle(drawing: &Drawing, rings: &Rings, tip: Point, height: f64, space: SpaceId) -> bool {
    looks(drawing, space).any(|look| {
        let Some(p) = look.point(tip) else { return false };
        let height = height / look.scale();
        look.any_ring(drawing, rings, p, height, |ring| {
            let r = &rings.rings[ring];
            tip_cost(p, r.center, r.diameter, height).is_some()
        })
    })
}

/// On the rim or at the centre is a hit; elsewhere inside is likely; outside it fades over one letter height.
fn tip_cost(tip: Point, center: Point, diameter: f64, height: f64) -> Option<(f64, Detail)> {
    let radius = diameter / 2.0;
    let distance = tip.distance(center);
    let gap = (distance - radius).abs();
    let tolerance = (0.15 * height).max(0.02 * diameter);
    if gap <= tolerance {
        return Some((0.2 * gap / tolerance, "tip on the rim".into()));
    }
    if distance <= 0.1 * radius {
        return Some((0.15, "tip at the centre".into()));
    }
    if distance < radius {
        // In a wide circle the inside is most of a view, and a tip there points at something smaller.
        return (diameter <= 12.0 * height).then(|| (0.3 + 0.3 * gap / radius, "tip inside".into()));
    }
    let heights = gap / height;
    (heights <= 1.0).then_some((0.5 + 0.7 * heights, Detail::TipFromRim(heights)))
}

/// A dimension about the centre of a circle measures it as long as it differs by no more than this part: the circle
/// was changed and the dimension was not.
const OTHER_SIZE: f64 = 0.3;

pub(super) fn add_dimension(drawing: &Drawing, rings: &Rings, found: &mut Anchors, s: usize, d: &Dimension) {
    let &[a, b, ..] = d.points.as_slice() else { return };
    found.tips[s] += 1;
    for look in looks(drawing, d.origin.space) {
        let (Some(a), Some(b)) = (look.point(a), look.point(b)) else { continue };
        let (center, diameter) = match d.kind {
            DimensionKind::Radius => (a, 2.0 * a.distance(b)),
            _ => (Point::new(f64::midpoint(a.x, b.x), f64::midpoint(a.y, b.y)), a.distance(b)),
        };
        if diameter <= 0.0 {
            continue;
        }
        let mut others: Vec<usize> = Vec::new();
        for ring in look.rings(drawing, rings, center, 0.1 * diameter) {
            let r = &rings.rings[ring];
            let off = r.center.distance(center) / diameter;
            let size = (r.diameter - diameter).abs() / diameter;
            let on_rim = |p: Point| (p.distance(r.center) - r.diameter / 2.0).abs() <= 0.02 * r.diameter;
            let (cost, detail) = if off <= 0.02 && size <= 0.02 {
                (0.0, "its points lie on the circle")
            } else if off <= 0.1 && size <= 0.1 {
                (0.6, "its points lie beside the circle")
            } else if off <= 0.02 && size <= OTHER_SIZE && d.kind == DimensionKind::Diameter {
                others.push(ring);
                continue;
            } else if d.kind == DimensionKind::Diameter && (on_rim(a) || on_rim(b)) {
                (0.8, "one of its points lies on the circle")
            } else {
                continue;
            };
            let detail = detail.into();
            found.add(s, Anchor { ring, means: Means::Dimension, cost, detail, tip: 0, wide: false });
        }
        if found.of[s].is_empty() && !measures_arc(drawing, center, diameter) {
            found.of[s].extend(others.into_iter().map(|ring| Anchor {
                ring,
                means: Means::Dimension,
                cost: 0.9,
                detail: "its points lie about the circle's centre, at another size".into(),
                tip: 0,
                wide: false,
            }));
        }
    }
}

/// Whether an arc is drawn where a dimension across a centre measures.
fn measures_arc(drawing: &Drawing, center: Point, diameter: f64) -> bool {
    drawing.arcs.iter().any(|a| {
        a.center.distance(center) <= 0.02 * diameter && (2.0 * a.radius - diameter).abs() <= 0.02 * diameter
    })
}

pub(super) fn add_attribute(drawing: &Drawing, rings: &Rings, found: &mut Anchors, s: usize, text: usize) {
    let text = &drawing.texts[text];
    let (TextKind::Attribute { .. }, Some(id)) = (&text.kind, text.origin.insert) else { return };
    let Some(insert) = drawing.inserts.get(id.index()) else { return };
    for ring in rings.within(text.origin.space, insert.at, 0.0) {
        let r = &rings.rings[ring];
        let own = r.circles().any(|c| drawing.circles[c].origin.insert == Some(id));
        if own || r.center.distance(insert.at) <= 0.1 * r.diameter {
            let number = found.tips[s];
            found.tips[s] += 1;
            let detail = "its block stands on the hole".into();
            let cost = if own { 0.1 } else { 0.2 };
            found.add(s, Anchor { ring, means: Means::Attribute, cost, detail, tip: number, wide: false });
        }
    }
}
