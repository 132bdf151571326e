//! Circles that are not drawn as CIRCLE: arcs of one centre and radius that together close.

use super::curves::FULL_TURN_SLACK_DEG;
use crate::drawing::{Arc, Circular, Drawing, MadeOf};
use crate::geometry::Vec3;

/// How far, relative to the radius, centres and radii may differ and still be those of one circle. Arcs of real
/// drawings, rounded to four decimals, differ by less.
pub(super) const SAME_CIRCLE: f64 = 1e-4;

/// A circle in space: its centre and two half-axes at right angles.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Round {
    pub(super) center: Vec3,
    pub(super) u: Vec3,
    pub(super) v: Vec3,
}

impl Round {
    /// A circle in the plane of its coordinate system.
    pub(super) fn flat(center: Vec3, radius: f64) -> Round {
        Round { center, u: Vec3::new(radius, 0.0, 0.0), v: Vec3::new(0.0, radius, 0.0) }
    }
}

/// Replaces arcs that together close by the circle that they draw.
pub(super) fn close_arcs(drawing: &mut Drawing) {
    let (found, open) = closed_by(std::mem::take(&mut drawing.arcs));
    drawing.circles.extend(found);
    drawing.arcs = open;
}

/// The circles that arcs close together, in the order of their first arcs, and the arcs that are left.
pub(super) fn closed_by(arcs: Vec<Arc>) -> (Vec<Circular>, Vec<Arc>) {
    let place = |i: usize| (arcs[i].origin.space, arcs[i].origin.visible);
    let mut order: Vec<usize> = (0..arcs.len()).collect();
    order.sort_by_key(|i| place(*i));
    let mut closing: Vec<Vec<usize>> = Vec::new();
    for of_place in order.chunk_by_mut(|a, b| place(*a) == place(*b)) {
        same_circles(&arcs, of_place, &[|a| a.radius, |a| a.center.x, |a| a.center.y], &mut |group| {
            if covers_turn(&arcs, group) {
                closing.push(group.to_vec());
            }
        });
    }
    if closing.is_empty() {
        return (Vec::new(), arcs);
    }
    let mut closed = vec![false; arcs.len()];
    closing.iter().flatten().for_each(|i| closed[*i] = true);
    let mut first: Vec<usize> = closing.iter().filter_map(|group| group.iter().copied().min()).collect();
    first.sort_unstable();
    let found = first.into_iter().map(|i| circle_of(&arcs, i)).collect();
    let open = arcs.into_iter().zip(closed).filter(|(_, closed)| !closed).map(|(arc, _)| arc).collect();
    (found, open)
}

fn circle_of(arcs: &[Arc], index: usize) -> Circular {
    let arc = &arcs[index];
    Circular { origin: arc.origin, center: arc.center, diameter: 2.0 * arc.radius, made_of: MadeOf::Arcs }
}

/// Shows each group of arcs that agree in all `keys`, those of one circle, to `group`: sorted and split where neighbours
/// differ, key by key, so that many arcs stay cheap.
fn same_circles(
    arcs: &[Arc],
    order: &mut [usize],
    keys: &[fn(&Arc) -> f64],
    group: &mut impl FnMut(&[usize]),
) {
    let Some((key, finer)) = keys.split_first() else {
        group(order);
        return;
    };
    order.sort_by(|a, b| key(&arcs[*a]).total_cmp(&key(&arcs[*b])));
    let apart = |a: usize, b: usize| key(&arcs[b]) - key(&arcs[a]) > SAME_CIRCLE * arcs[a].radius;
    for same in order.chunk_by_mut(|a, b| !apart(*a, *b)) {
        same_circles(arcs, same, finer, group);
    }
}

/// Whether the arcs of a group cover the full turn, and each of them is near enough to the first.
fn covers_turn(arcs: &[Arc], group: &[usize]) -> bool {
    let Some(first) = group.first().map(|i| &arcs[*i]) else {
        return false;
    };
    // Most groups are one arc, which alone is too short.
    let together: f64 = group.iter().map(|i| arcs[*i].sweep_deg + FULL_TURN_SLACK_DEG).sum();
    if together < 360.0 - FULL_TURN_SLACK_DEG {
        return false;
    }
    let mut parts: Vec<(f64, f64)> = Vec::with_capacity(group.len());
    for i in group {
        let arc = &arcs[*i];
        // Neighbours within the tolerance may add up to a long chain of different circles.
        let slack = 3.0 * SAME_CIRCLE * first.radius;
        if arc.center.distance(first.center) > slack || (arc.radius - first.radius).abs() > slack {
            return false;
        }
        parts.push((arc.start_deg.rem_euclid(360.0), arc.sweep_deg));
    }
    parts.sort_by(|a, b| a.0.total_cmp(&b.0));
    let Some(start) = parts.first().map(|p| p.0) else {
        return false;
    };
    let mut reached = start;
    for (from, sweep) in &parts {
        if *from > reached + FULL_TURN_SLACK_DEG {
            return false;
        }
        reached = reached.max(from + sweep);
    }
    reached >= start + 360.0 - FULL_TURN_SLACK_DEG
}
