//! Whether a loose line begins beside a text, or runs under it, so that it may be the text's leader, and which of several
//! texts it fits best. Follows no line.

use super::ends::Tip;
use crate::drawing::Segment;
use crate::geometry::Point;
use crate::pairing::texts::Statement;

/// Takes a line that several texts begin beside from those that have another and that it fits less.
pub(super) fn each_line_to_its_text(statements: &[Statement], of_lines: &mut Vec<(usize, Tip)>) {
    let mut lines = vec![0_u32; statements.len()];
    of_lines.iter().for_each(|(s, _)| lines[*s] += 1);
    let keep: Vec<bool> = (of_lines.iter())
        .map(|(s, tip)| {
            let own = misfit(&statements[*s], tip.start);
            let better = |(o, other): &(usize, Tip)| {
                o != s
                    && other.at.distance(tip.at) <= 0.1 * statements[*s].height
                    && statements[*o].callout.states_hole()
                    && misfit(&statements[*o], other.start) + 0.7 < own
            };
            !(lines[*s] > 1 && of_lines.iter().any(better))
        })
        .collect();
    let mut keep = keep.into_iter();
    of_lines.retain(|_| keep.next().unwrap_or(true));
    // What is left alone is believed as if it were near.
    let mut near = vec![false; statements.len()];
    of_lines.iter().for_each(|(s, tip)| near[*s] |= !tip.wide);
    for (s, tip) in of_lines {
        tip.wide &= near[*s];
    }
}

/// Letter heights by which a line begins away from either end of a text, whose width is known to a quarter only.
fn misfit(s: &Statement, start: Point) -> f64 {
    let b = &s.bounds;
    let end = (start.x - b.min.x).abs().min((start.x - b.max.x).abs());
    let across = (end - 0.25 * (b.max.x - b.min.x)).max(0.0);
    let below = (b.min.y - 0.5 * s.height - start.y).max(start.y - b.max.y - 0.2 * s.height).max(0.0);
    (across + below) / s.height
}

/// Letter heights between a text and the line that begins beside it.
pub(super) const BESIDE: f64 = 1.5;

/// Letter heights between a text and the level line that begins before its middle: the box of a text is estimated, and
/// a font narrower than the estimate leaves a gap.
pub(super) const SHELF_REACH: f64 = 4.0;

/// Part of its estimated width by which a text may be longer on either side: letters are estimated narrow.
pub(super) const WIDER: f64 = 0.4;

pub(super) fn width(s: &Statement) -> f64 {
    s.bounds.max.x - s.bounds.min.x
}

/// Whether a line begins beside a text as it is estimated.
pub(super) fn beside_text(s: &Statement, start: Point, line: &Segment) -> bool {
    s.bounds.distance(start) <= BESIDE * s.height || is_shelf(s, start, line)
}

/// Whether a line begins beside a text whose letters are wider than estimated.
pub(super) fn beside_wide_text(s: &Statement, start: Point, _: &Segment) -> bool {
    let b = &s.bounds;
    let beyond = (b.min.x - start.x).max(start.x - b.max.x);
    let level = start.y >= b.min.y - 0.5 * s.height && start.y <= b.max.y + 0.5 * s.height;
    level && beyond > 0.0 && beyond <= BESIDE * s.height + WIDER * width(s)
}

/// Whether a line is level with the middle of a text and begins beside it.
fn is_shelf(s: &Statement, start: Point, line: &Segment) -> bool {
    let middle = f64::midpoint(s.bounds.min.y, s.bounds.max.y);
    let level = || (line.from.y - line.to.y).abs() <= 0.02 * line.from.distance(line.to);
    (start.y - middle).abs() <= 0.6 * s.height
        && level()
        && s.bounds.distance(start) <= SHELF_REACH * s.height
}

/// Whether a level line runs under a text, or along its middle, past the middle of the text, and is about as long.
pub(super) fn runs_under(s: &Statement, line: &Segment) -> bool {
    let (left, right) = (line.from.x.min(line.to.x), line.from.x.max(line.to.x));
    let middle = f64::midpoint(s.bounds.min.x, s.bounds.max.x);
    let (low, top) = height_of_shelf(s);
    let high = line.from.y >= low && line.from.y <= top;
    let long = (0.5 * width(s)..=longest_shelf(s)).contains(&(right - left));
    is_level(line) && high && long && left < middle && middle < right
}

/// The box that each line that runs under a text begins in.
pub(super) fn corners_of_shelf(s: &Statement) -> (Point, Point) {
    let middle = f64::midpoint(s.bounds.min.x, s.bounds.max.x);
    let (low, top) = height_of_shelf(s);
    // A little farther, so that rounding keeps out none.
    let reach = 1.01 * longest_shelf(s);
    (Point::new(middle - reach, low), Point::new(middle + reach, top))
}

fn height_of_shelf(s: &Statement) -> (f64, f64) {
    (s.bounds.min.y - 1.2 * s.height, s.bounds.max.y)
}

fn longest_shelf(s: &Statement) -> f64 {
    4.0 * width(s) + 8.0 * s.height
}

/// Whether a line is level, as all are that a text may stand on.
fn is_level(line: &Segment) -> bool {
    (line.from.y - line.to.y).abs() <= 0.02 * (line.from.x - line.to.x).abs()
}
