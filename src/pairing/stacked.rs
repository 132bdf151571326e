//! Callouts whose tolerance stands beside the size as two small texts over one another, as exploded dimensions leave
//! it, with what follows on the line. Joins them to one statement; everything else stays as it is.

use super::only;
use super::texts::{self, Carrier, Statement};
use crate::callout::Words;
use crate::drawing::{Drawing, Text, TextKind};
use crate::geometry::Point;
use crate::near::Near;

/// Small figures are at most this part of the size's letter height.
const SMALL: f64 = 0.85;
/// Letter heights between the pieces of a line. Fonts differ in width, so a piece may also begin up to half the
/// size's estimated length before or after its estimated end.
const GAP: f64 = 1.2;

/// Statements with their stacked tolerances joined.
pub(super) fn join(drawing: &Drawing, statements: Vec<Statement>, words: &Words) -> Vec<Statement> {
    // Most drawings have none, and one alone is no pair.
    if statements.iter().filter(|s| is_deviation(drawing, s)).nth(1).is_none() {
        return statements;
    }
    let near = Near::new(statements.iter().map(|s| (s.bounds.min, 0.0)));
    let mut used = vec![false; statements.len()];
    let mut joined: Vec<Option<Statement>> = vec![None; statements.len()];
    for (i, size) in statements.iter().enumerate() {
        if used[i] || !takes_tolerance(drawing, size) {
            continue;
        }
        let beside = beside(drawing, &statements, &near, &used, i);
        let (Some(upper), Some(lower)) = (one(&beside, true), one(&beside, false)) else { continue };
        let aligned = (statements[upper].bounds.min.x - statements[lower].bounds.min.x).abs();
        if aligned > 1.5 * size.height {
            continue;
        }
        let mut pieces = vec![i, upper, lower];
        let mut text =
            format!("{} {}/{}", content(size), signed(&statements[upper]), signed(&statements[lower]));
        let end = statements[upper].bounds.max.x.max(statements[lower].bounds.max.x);
        if let Some(rest) = going_on(drawing, &statements, &near, &used, size, end) {
            text = format!("{text} {}", content(&statements[rest]));
            pieces.push(rest);
        }
        let callout = words.callout(&text);
        if callout.tolerance.is_none() {
            continue;
        }
        let mut whole = Statement { callout, ..size.clone() };
        for &piece in &pieces {
            used[piece] = true;
            whole.bounds.add(statements[piece].bounds.min);
            whole.bounds.add(statements[piece].bounds.max);
        }
        whole.texts = pieces.iter().flat_map(|&p| statements[p].texts.iter().copied()).collect();
        joined[i] = Some(whole);
    }
    let kept = statements.into_iter().zip(joined).zip(used);
    kept.filter_map(|((own, whole), used)| whole.or((!used).then_some(own))).collect()
}

fn text_of<'d>(drawing: &'d Drawing, s: &Statement) -> Option<&'d Text> {
    let Carrier::Text(t) = s.carrier else { return None };
    drawing.texts.get(t).filter(|t| t.kind == TextKind::Text && t.rotation_deg.abs() < 1.0)
}

fn content(s: &Statement) -> &str {
    s.callout.text.trim()
}

fn takes_tolerance(drawing: &Drawing, s: &Statement) -> bool {
    let c = &s.callout;
    let one_line = text_of(drawing, s).is_some_and(|t| !t.content.trim().contains('\n'));
    one_line && c.size.is_some() && c.marked_diameter && c.tolerance.is_none()
}

/// The small signed figures right of a size: which, and whether above its middle.
fn beside(
    drawing: &Drawing,
    statements: &[Statement],
    near: &Near,
    used: &[bool],
    size: usize,
) -> Vec<(usize, bool)> {
    let s = &statements[size];
    let middle = f64::midpoint(s.bounds.min.y, s.bounds.max.y);
    let half = 0.5 * (s.bounds.max.x - s.bounds.min.x);
    let reach = half + (GAP + 1.5) * s.height;
    let found = near.within(Point::new(s.bounds.max.x, middle), reach);
    found
        .into_iter()
        .filter(|&o| o != size && !used[o] && statements[o].origin.space == s.origin.space)
        .filter(|&o| {
            let b = &statements[o].bounds;
            let small = statements[o].height <= SMALL * s.height && statements[o].height >= 0.3 * s.height;
            let follows =
                b.min.x >= s.bounds.max.x - half && b.min.x <= s.bounds.max.x + half + GAP * s.height;
            let level = f64::midpoint(b.min.y, b.max.y) - middle;
            small && follows && level.abs() <= s.height && is_deviation(drawing, &statements[o])
        })
        .map(|o| (o, f64::midpoint(statements[o].bounds.min.y, statements[o].bounds.max.y) > middle))
        .collect()
}

/// The only one above, or below.
fn one(beside: &[(usize, bool)], above: bool) -> Option<usize> {
    only(beside.iter().filter(|(_, a)| *a == above).map(|(o, _)| *o))
}

/// `+0,05`, `-.002`, `0`.
fn is_deviation(drawing: &Drawing, s: &Statement) -> bool {
    let Some(text) = text_of(drawing, s) else { return false };
    let text = text.content.trim();
    let number = text.trim_start_matches(['+', '-', '−']).trim();
    let is_number = number.starts_with(|c: char| c.is_ascii_digit() || c == '.' || c == ',')
        && number.chars().all(|c| c.is_ascii_digit() || c == '.' || c == ',');
    is_number && (number.len() < text.len() || number.chars().all(|c| matches!(c, '0' | '.' | ',')))
}

fn signed(s: &Statement) -> String {
    let text = content(s);
    if text.starts_with(['+', '-', '−']) { text.to_owned() } else { format!("+{text}") }
}

/// What goes on behind the small figures, on the size's own line: `THRU`, `X 12 DEEP`.
fn going_on(
    drawing: &Drawing,
    statements: &[Statement],
    near: &Near,
    used: &[bool],
    size: &Statement,
    end: f64,
) -> Option<usize> {
    let slack = 0.5 * (end - size.bounds.max.x).max(0.0) + GAP * size.height;
    let found = near.within(Point::new(end, size.bounds.min.y), slack + size.height);
    found
        .into_iter()
        .filter(|&o| !used[o] && statements[o].origin.space == size.origin.space)
        .filter(|&o| {
            let other = &statements[o];
            let level = (other.bounds.min.y - size.bounds.min.y).abs() <= 0.3 * size.height;
            let same_height = (other.height - size.height).abs() <= 0.25 * size.height;
            let follows = other.bounds.min.x > size.bounds.max.x && other.bounds.min.x <= end + slack;
            let plain = text_of(drawing, other).is_some() && other.callout.size.is_none();
            level
                && same_height
                && follows
                && plain
                && (texts::about_hole(&other.callout) || other.callout.count.is_some())
        })
        .min_by(|&a, &b| statements[a].bounds.min.x.total_cmp(&statements[b].bounds.min.x))
}
