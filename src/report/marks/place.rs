//! Where a text can stand on a sheet without being written over something: beside its hole, at the first place of
//! several that is free, else at the one that covers least.

use crate::drawing::{Drawing, SpaceId};
use crate::geometry::{Bounds, Point};

use super::DIAGONAL;

/// More lines than these are left out of account: looking at each for every place takes too long.
const MOST_LINES: usize = 20_000;

/// A sheet with what stands on it.
pub(super) struct Sheet {
    /// All that is drawn; a unit square for an empty one.
    pub(super) extents: Bounds,
    /// Letter height of our texts.
    pub(super) letter: f64,
    texts: Vec<Bounds>,
    lines: Vec<(Point, Point)>,
}

/// Width that a text takes at most in the usual fonts.
pub(super) fn text_width(text: &str, letter: f64) -> f64 {
    0.95 * letter * text.chars().count() as f64
}

/// The box of all visible things of a space.
pub(super) fn extents(drawing: &Drawing, space: SpaceId) -> Bounds {
    let mut all = Bounds::EMPTY;
    let mut add = |p: Point| all.add(p);
    for circle in drawing.circles.iter().filter(|c| c.origin.space == space && c.origin.visible) {
        let r = circle.diameter / 2.0;
        add(Point::new(circle.center.x - r, circle.center.y - r));
        add(Point::new(circle.center.x + r, circle.center.y + r));
    }
    for arc in drawing.arcs.iter().filter(|a| a.origin.space == space && a.origin.visible) {
        let bounds = Bounds::of_arc(arc.center, arc.radius, arc.start_deg, arc.sweep_deg);
        [bounds.min, bounds.max].into_iter().for_each(&mut add);
    }
    for segment in drawing.segments.iter().filter(|s| s.origin.space == space && s.origin.visible) {
        [segment.from, segment.to].into_iter().for_each(&mut add);
    }
    for text in drawing.texts.iter().filter(|t| t.origin.space == space && t.origin.visible) {
        if !text.bounds.is_empty() {
            [text.bounds.min, text.bounds.max].into_iter().for_each(&mut add);
        }
    }
    all
}

impl Sheet {
    /// The sheet of a space.
    pub(super) fn of(drawing: &Drawing, space: SpaceId) -> Sheet {
        let found = extents(drawing, space);
        let one = Bounds { min: Point::new(0.0, 0.0), max: Point::new(1.0, 1.0) };
        let extents = if found.is_empty() || found.min == found.max { one } else { found };
        let here = drawing.texts.iter().filter(|t| t.origin.space == space && t.origin.visible);
        let heights = here.clone().map(|t| t.height).filter(|h| h.is_finite() && *h > 0.0).collect();
        let mut texts: Vec<Bounds> = here.map(|t| t.bounds).filter(|b| !b.is_empty()).collect();
        let circles = drawing.circles.iter().filter(|c| c.origin.space == space && c.origin.visible);
        let size = extents.min.distance(extents.max);
        texts.extend(circles.filter(|c| c.diameter < 0.1 * size).map(|c| square(c.center, c.diameter / 2.0)));
        let lines = drawing.segments.iter().filter(|s| s.origin.space == space && s.origin.visible);
        let lines = if drawing.segments.len() > MOST_LINES {
            Vec::new()
        } else {
            lines.map(|s| (s.from, s.to)).collect()
        };
        Sheet { extents, letter: letter(heights, size), texts, lines }
    }

    /// Says that something stands there now.
    pub(super) fn occupy(&mut self, bounds: Bounds) {
        self.texts.push(bounds);
    }

    /// The best box of that size beside a ring, now taken; `gaps` are the distances from it to try, in letter heights.
    pub(super) fn beside(&mut self, center: Point, radius: f64, size: (f64, f64), gaps: &[f64]) -> Bounds {
        let mut best = (f64::INFINITY, square(center, radius));
        for gap in gaps {
            let far = radius + gap * self.letter;
            for (x, y) in [
                (DIAGONAL, DIAGONAL),
                (DIAGONAL, -DIAGONAL),
                (-DIAGONAL, DIAGONAL),
                (-DIAGONAL, -DIAGONAL),
                (1.0, 0.0),
                (-1.0, 0.0),
                (0.0, 1.0),
                (0.0, -1.0),
            ] {
                let bounds = reaching(Point::new(center.x + far * x, center.y + far * y), (x, y), size);
                let cost = self.cost(&bounds) + 0.01 * gap;
                if cost < best.0 {
                    best = (cost, bounds);
                }
            }
        }
        self.occupy(best.1);
        best.1
    }

    /// How much a text there would be in the way: shares of it that lie over others, and a little for each line through
    /// it.
    fn cost(&self, bounds: &Bounds) -> f64 {
        let area = |b: &Bounds| (b.max.x - b.min.x).max(0.0) * (b.max.y - b.min.y).max(0.0);
        let own = area(bounds).max(f64::MIN_POSITIVE);
        let margin = 0.3 * self.letter;
        let wide = Bounds {
            min: Point::new(bounds.min.x - margin, bounds.min.y - margin),
            max: Point::new(bounds.max.x + margin, bounds.max.y + margin),
        };
        let over: f64 = self.texts.iter().map(|text| area(&common(&wide, text)) / own).sum();
        let crossing = self.lines.iter().filter(|(from, to)| crosses(&wide, *from, *to)).count();
        10.0 * over + 0.2 * crossing as f64
    }
}

/// The middle of the drawing's own letter heights, within reason for the sheet's diagonal.
fn letter(mut heights: Vec<f64>, size: f64) -> f64 {
    heights.sort_by(f64::total_cmp);
    let middle = heights.get(heights.len() / 2).copied();
    // 3.5 mm on an A3 sheet, whose diagonal is 514 mm; ISO 3098 has 2.5 to 5 mm there.
    middle.unwrap_or(0.007 * size).clamp(0.004 * size, 0.012 * size)
}

fn square(center: Point, half: f64) -> Bounds {
    Bounds {
        min: Point::new(center.x - half, center.y - half),
        max: Point::new(center.x + half, center.y + half),
    }
}

/// The box of `size` that touches `at` and lies beyond it in a direction.
fn reaching(at: Point, (x, y): (f64, f64), (width, height): (f64, f64)) -> Bounds {
    let share = |direction: f64| match direction {
        d if d > 0.1 => 0.0,
        d if d < -0.1 => 1.0,
        _ => 0.5,
    };
    let min = Point::new(at.x - share(x) * width, at.y - share(y) * height);
    Bounds { min, max: Point::new(min.x + width, min.y + height) }
}

fn common(a: &Bounds, b: &Bounds) -> Bounds {
    Bounds {
        min: Point::new(a.min.x.max(b.min.x), a.min.y.max(b.min.y)),
        max: Point::new(a.max.x.min(b.max.x), a.max.y.min(b.max.y)),
    }
}

/// Whether a line passes through a box.
fn crosses(bounds: &Bounds, from: Point, to: Point) -> bool {
    let (dx, dy) = (to.x - from.x, to.y - from.y);
    let (mut enter, mut leave) = (0.0_f64, 1.0_f64);
    for (start, step, low, high) in
        [(from.x, dx, bounds.min.x, bounds.max.x), (from.y, dy, bounds.min.y, bounds.max.y)]
    {
        if step == 0.0 {
            if start < low || start > high {
                return false;
            }
            continue;
        }
        let (a, b) = ((low - start) / step, (high - start) / step);
        enter = enter.max(a.min(b));
        leave = leave.min(a.max(b));
    }
    enter <= leave
}
