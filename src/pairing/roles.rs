//! What each circle is. When in doubt it is a hole: a hole taken for something else would never be checked.

use std::cell::LazyCell;
use std::ops::Deref;

use super::Role;
use super::anchors::{Anchors, Means};
use super::rings::{ON_RIM, Ring, Rings};
use super::signs::signs;
use super::texts::{Carrier, Statement};
use super::title::Title;
use super::views::{Views, holds_others};
use crate::drawing::Drawing;
use crate::geometry::{Bounds, Point};
use crate::near::Near;

/// A larger concentric circle up to this ratio is a counterbore or countersink.
const ENTRY_RATIO: f64 = 3.5;
/// Up to this ratio it is a drawn thread, if something there speaks of a thread.
const THREAD_RATIO: f64 = 1.35;

/// Roles that can be told without views: balloons, symbols, pitch circles. None for the rest. `height` is that of the
/// sheet's letters.
pub(super) fn early(
    drawing: &Drawing,
    rings: &Rings,
    statements: &[Statement],
    anchors: &Anchors,
    title: &Title,
    height: f64,
) -> Vec<Option<Role>> {
    let mut roles = vec![None; rings.rings.len()];
    let measured = measured(rings, statements, anchors);
    let signs = signs(drawing, rings, height, |i| !measured[i]);
    let solid = rings.rings.iter().any(|r| !drawing.circles[r.circle].origin.is_centre_line());
    for (i, ring) in rings.rings.iter().enumerate() {
        let origin = &drawing.circles[ring.circle].origin;
        if signs[i] || title.is_in(drawing, origin.insert) || title.holds(ring.space, ring.center) {
            roles[i] = Some(Role::Symbol);
        } else if (origin.is_centre_line() && solid) || is_pitch_circle(drawing, rings, i) {
            roles[i] = Some(Role::PitchCircle);
        }
    }
    for ring in balloons(drawing, rings, statements, &measured, height) {
        roles[ring] = roles[ring].or(Some(Role::Balloon));
    }
    roles
}

/// Roles of all rings: outlines and concentric circles added, the rest are holes.
pub(super) fn all(
    drawing: &Drawing,
    rings: &Rings,
    statements: &[Statement],
    anchors: &Anchors,
    views: &Views,
    early: Vec<Option<Role>>,
) -> Vec<Role> {
    let mut roles = early;
    let measured = measured(rings, statements, anchors);
    for text in statements.iter().filter(|s| is_mark(s)) {
        if let Some(ring) =
            round_text(rings, text, &measured).find(|&i| roles[i].is_none() && views.outside(i))
        {
            roles[ring] = Some(Role::Balloon);
        }
    }
    let known = roles.clone();
    let whole = LazyCell::new(|| view_extents(drawing, rings, views, &known));
    for i in 0..rings.rings.len() {
        if roles[i].is_none() && is_outline(rings, views, &whole, &roles, i) {
            roles[i] = Some(Role::Outline);
        }
    }
    let threaded = threaded_stacks(drawing, rings, statements, anchors);
    for (s, stack) in rings.stacks.iter().enumerate() {
        let mut hole: Option<f64> = None;
        for &i in stack {
            let diameter = rings.rings[i].diameter;
            if let Some(known) = roles[i] {
                // A hole that a list places: what is drawn about it is no second hole.
                hole = hole.or((known == Role::Hole).then_some(diameter));
                continue;
            }
            roles[i] = Some(match hole {
                None => {
                    hole = Some(diameter);
                    Role::Hole
                }
                Some(d) if diameter / d > ENTRY_RATIO => Role::Outline,
                Some(d) if diameter / d <= THREAD_RATIO && threaded[s] => Role::CosmeticThread,
                Some(d) if diameter / d < 1.15 => Role::CosmeticThread,
                Some(_) => Role::Counterbore,
            });
        }
    }
    roles.into_iter().map(|r| r.unwrap_or(Role::Hole)).collect()
}

/// Rings that a diameter or radius dimension measures, or that a leader of a hole's callout ends at: no balloons.
fn measured(rings: &Rings, statements: &[Statement], anchors: &Anchors) -> Vec<bool> {
    let mut measured = vec![false; rings.rings.len()];
    for (s, found) in anchors.of.iter().enumerate() {
        for a in found {
            let called = a.means == Means::Leader && a.cost < 0.3 && statements[s].callout.states_hole();
            measured[a.ring] |= called || a.means == Means::Dimension;
        }
    }
    measured
}

/// The circles drawn round short texts, of each text the first that something else too says is a bubble.
fn balloons(
    drawing: &Drawing,
    rings: &Rings,
    statements: &[Statement],
    measured: &[bool],
    height: f64,
) -> impl Iterator<Item = usize> {
    let mut round: Vec<(usize, Vec<usize>)> = Vec::new();
    for text in statements {
        let Carrier::Text(t) = text.carrier else { continue };
        if text.callout.text.trim().chars().count() <= 4 {
            round.push((t, round_text(rings, text, measured).collect()));
        }
    }
    let touched =
        touched_rims(drawing, rings, height, round.iter().flat_map(|(_, around)| around).copied().collect());
    round.into_iter().filter_map(move |(t, around)| {
        around.into_iter().find(|&i| {
            let circle = &drawing.circles[rings.rings[i].circle].origin;
            let in_one_block = circle.insert.is_some() && circle.insert == drawing.texts[t].origin.insert;
            touched[i] || in_one_block
        })
    })
}

/// Which of the rings `asked` have a rim that a line's end or a leader's tip touches from outside. Only these are
/// looked at: a drawing has far more ends of lines than bubbles.
fn touched_rims(drawing: &Drawing, rings: &Rings, height: f64, mut asked: Vec<usize>) -> Vec<bool> {
    let mut touched = vec![false; rings.rings.len()];
    if asked.is_empty() {
        return touched;
    }
    asked.sort_unstable();
    asked.dedup();
    let near = Near::new(asked.iter().map(|&i| (rings.rings[i].center, rings.rings[i].diameter / 2.0)));
    let reach = 0.2 * height;
    let mut touch = |space, end: Point, from: Point| {
        near.any_within(end, reach, |k| {
            let i = asked[k];
            touched[i] |= rings.rings[i].space == space && touches(&rings.rings[i], end, from);
            false
        });
    };
    // Centre lines too: the line of a section ends at its bubbles, but runs across the rim of a hole.
    for s in drawing.segments.iter().filter(|s| s.origin.visible) {
        touch(s.origin.space, s.from, s.to);
        touch(s.origin.space, s.to, s.from);
    }
    for l in drawing.leaders.iter().filter(|l| l.origin.visible && l.vertices.len() >= 2) {
        let n = l.vertices.len();
        touch(l.origin.space, l.vertices[n - 1], l.vertices[n - 2]);
    }
    touched
}

/// Whether a line that comes from `from` ends on the rim, and comes from outside.
fn touches(ring: &Ring, end: Point, from: Point) -> bool {
    let radius = ring.diameter / 2.0;
    (end.distance(ring.center) - radius).abs() <= 0.05 * radius && from.distance(ring.center) > 1.05 * radius
}

/// Whether a text is a letter or two, as sections, details and datums are marked with, or two such joined by a hyphen,
/// as in `A-A` and `E-1`.
fn is_mark(s: &Statement) -> bool {
    let is_short =
        |part: &str| (1..=2).contains(&part.chars().count()) && part.chars().all(|c| c.is_alphanumeric());
    let text = s.callout.text.trim();
    let (before, after) = text.split_once('-').unwrap_or((text, text));
    matches!(s.carrier, Carrier::Text(_)) && is_short(before) && is_short(after)
}

/// The rings that are drawn round a text as a bubble would be, those that are measured left out.
fn round_text<'a>(
    rings: &'a Rings,
    text: &'a Statement,
    measured: &'a [bool],
) -> impl Iterator<Item = usize> + 'a {
    rings.within(text.origin.space, text.middle(), 0.0).into_iter().filter(move |&i| {
        let r = &rings.rings[i];
        let radius = r.diameter / 2.0;
        let few_heights = radius >= 0.6 * text.height && radius <= 4.0 * text.height;
        few_heights && text.middle().distance(r.center) <= 0.45 * radius && !measured[i]
    })
}

/// Layer names that mark construction, beside the line type.
fn on_centre_layer(drawing: &Drawing, layer: u32) -> bool {
    drawing.layers.get(layer as usize).is_some_and(|l| {
        let name = l.name.to_uppercase();
        ["CENTER", "CENTRE", "CENTERLINE", "MITTEL", "ACHSE", "AXIS", "PITCH"]
            .iter()
            .any(|w| name.contains(w))
    })
}

/// Three or more smaller circles stand on its rim, evenly spaced; one is enough on a centre layer.
fn is_pitch_circle(drawing: &Drawing, rings: &Rings, ring: usize) -> bool {
    let r = &rings.rings[ring];
    if r.alone {
        return false;
    }
    let radius = r.diameter / 2.0;
    let mut on_rim: Vec<Point> = Vec::new();
    rings.any_centre_within(r.space, r.center, (1.0 + ON_RIM) * radius, |o| {
        let other = &rings.rings[o];
        if other.diameter < 0.5 * r.diameter
            && (other.center.distance(r.center) - radius).abs() <= ON_RIM * radius
        {
            on_rim.push(other.center);
        }
        false
    });
    if !on_rim.is_empty() && on_centre_layer(drawing, drawing.circles[r.circle].origin.layer) {
        return true;
    }
    if on_rim.len() < 3 {
        return false;
    }
    let angle = |c: &Point| (c.y - r.center.y).atan2(c.x - r.center.x).to_degrees();
    let mut angles: Vec<f64> = on_rim.iter().map(angle).collect();
    angles.sort_by(f64::total_cmp);
    angles.dedup_by(|a, b| (*a - *b).abs() < 0.1);
    angles.len() >= 3 && evenly_spaced(&angles)
}

/// All gaps are whole multiples of the smallest.
fn evenly_spaced(angles: &[f64]) -> bool {
    let mut gaps: Vec<f64> = angles.windows(2).map(|w| w[1] - w[0]).collect();
    if let (Some(first), Some(last)) = (angles.first(), angles.last()) {
        gaps.push(first + 360.0 - last);
    }
    let least = gaps.iter().copied().fold(f64::INFINITY, f64::min);
    gaps.iter().all(|g| {
        let times = g / least;
        (times - times.round()).abs() <= 0.03 * times
    })
}

/// The box of everything in a view, as far as it could be the part.
fn view_extents(drawing: &Drawing, rings: &Rings, views: &Views, roles: &[Option<Role>]) -> Vec<Bounds> {
    let mut boxes = vec![Bounds::EMPTY; views.views.len()];
    for (i, ring) in rings.rings.iter().enumerate().filter(|(i, _)| roles[*i].is_none()) {
        let r = ring.diameter / 2.0;
        boxes[views.of_ring[i]].add(Point::new(ring.center.x - r, ring.center.y - r));
        boxes[views.of_ring[i]].add(Point::new(ring.center.x + r, ring.center.y + r));
    }
    for s in drawing.segments.iter().filter(|s| s.origin.visible && !s.origin.is_centre_line()) {
        for (v, view) in views.views.iter().enumerate().filter(|(_, view)| view.space == s.origin.space) {
            if view.bounds.holds(s.from, 0.0) && view.bounds.holds(s.to, 0.0) {
                boxes[v].add(s.from);
                boxes[v].add(s.to);
            }
        }
    }
    for o in drawing.outlines.iter().filter(|o| o.origin.visible && !o.origin.is_centre_line()) {
        let extent = Bounds::of(drawing.corners_of(o).iter().copied());
        for (v, view) in views.views.iter().enumerate().filter(|(_, view)| view.space == o.origin.space) {
            if view.bounds.holds(extent.min, 0.0) && view.bounds.holds(extent.max, 0.0) {
                boxes[v].add(extent.min);
                boxes[v].add(extent.max);
            }
        }
    }
    boxes
}

/// Holds other circles beside its centre, or is the edge of everything in its view.
fn is_outline(
    rings: &Rings,
    views: &Views,
    whole: &impl Deref<Target = Vec<Bounds>>,
    roles: &[Option<Role>],
    ring: usize,
) -> bool {
    let r = &rings.rings[ring];
    if holds_others(rings, ring) {
        let holds_hole = rings.any_centre_within(r.space, r.center, r.diameter / 2.0, |o| {
            let other = &rings.rings[o];
            other.stack != r.stack
                && matches!(roles[o], None | Some(Role::Hole | Role::Outline))
                && other.diameter <= 0.6 * r.diameter
                && other.center.distance(r.center) + other.diameter / 2.0 <= r.diameter / 2.0
        });
        if holds_hole {
            return true;
        }
    }
    let stack = &rings.stacks[r.stack];
    let smaller = stack.iter().any(|&o| roles[o].is_none() && rings.rings[o].diameter < 0.8 * r.diameter);
    let inside = |b: &Bounds| {
        let radius = r.diameter / 2.0 * 1.01;
        b.min.x >= r.center.x - radius
            && b.max.x <= r.center.x + radius
            && b.min.y >= r.center.y - radius
            && b.max.y <= r.center.y + radius
    };
    smaller && inside(&whole[views.of_ring[ring]])
}

/// Stacks that a callout with a thread points at, or that carry a three-quarter arc.
fn threaded_stacks(
    drawing: &Drawing,
    rings: &Rings,
    statements: &[Statement],
    anchors: &Anchors,
) -> Vec<bool> {
    let mut threaded = vec![false; rings.stacks.len()];
    let with_thread = (0..statements.len()).filter(|&s| statements[s].callout.thread.is_some());
    for s in with_thread {
        for a in &anchors.of[s] {
            threaded[rings.rings[a.ring].stack] = true;
        }
    }
    for arc in drawing.arcs.iter().filter(|a| a.origin.visible && a.sweep_deg > 225.0 && a.sweep_deg < 330.0)
    {
        rings.any_centre_within(arc.origin.space, arc.center, 0.02 * arc.radius, |i| {
            let ratio = 2.0 * arc.radius / rings.rings[i].diameter;
            if ratio > 1.02 && ratio < 1.5 {
                threaded[rings.rings[i].stack] = true;
            }
            false
        });
    }
    threaded
}
