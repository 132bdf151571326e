//! Where a text can stand on a sheet without being written over something: beside its hole, at the first place of
//! several that is free, else at the one that covers least.

use crate::check::Shape;
use crate::geometry::{Bounds, Point};

/// More lines than these are left out of account: looking at each for every text takes too long.
const MOST_LINES: usize = 100_000;
/// Directions in which a place for a text is looked for.
const DIRECTIONS: u32 = 24;

/// A sheet with what stands on it.
pub(super) struct Sheet {
    /// All that is drawn; a unit square for an empty one.
    pub(super) extents: Bounds,
    /// Letter height of our texts.
    pub(super) letter: f64,
    /// What no text should be written over.
    texts: Vec<Bounds>,
    lines: Vec<(Point, Point)>,
}

/// Width that a text takes at most in the usual fonts.
pub(super) fn text_width(text: &str, letter: f64) -> f64 {
    0.95 * letter * text.chars().count() as f64
}

/// The box of all that is drawn.
pub(super) fn extents(shapes: &[&Shape]) -> Bounds {
    let corners = shapes.iter().map(|shape| shape.bounds()).filter(|bounds| !bounds.is_empty());
    Bounds::of(corners.flat_map(|bounds| [bounds.min, bounds.max]))
}

impl Sheet {
    /// The sheet of what is drawn on it.
    pub(super) fn of(shapes: &[&Shape]) -> Sheet {
        let found = extents(shapes);
        let one = Bounds { min: Point::new(0.0, 0.0), max: Point::new(1.0, 1.0) };
        let extents = if found.is_empty() || found.min == found.max { one } else { found };
        let size = extents.min.distance(extents.max);
        let height = |shape: &&Shape| match shape {
            Shape::Text { height, .. } if height.is_finite() && *height > 0.0 => Some(*height),
            _ => None,
        };
        let letter = letter(shapes.iter().filter_map(height).collect(), size);
        let mut sheet = Sheet { extents, letter, texts: Vec::new(), lines: Vec::new() };
        shapes.iter().for_each(|shape| sheet.draw(shape, size));
        if sheet.lines.len() > MOST_LINES {
            sheet.lines.clear();
        }
        sheet
    }

    /// Takes account of a shape; a curve as the chords of its parts.
    fn draw(&mut self, shape: &Shape, size: f64) {
        match shape {
            Shape::Line(_, [from, to]) => self.lines.push((*from, *to)),
            Shape::Path(_, points) => self.lines.extend(points.windows(2).map(|pair| (pair[0], pair[1]))),
            Shape::Circle(_, center, radius) if *radius < 0.05 * size => {
                self.texts.push(square(*center, *radius));
            }
            Shape::Circle(_, center, radius) => self.arc(*center, *radius, 0.0, 360.0),
            Shape::Arc { center, radius, start_deg, sweep_deg } => {
                self.arc(*center, *radius, *start_deg, *sweep_deg);
            }
            Shape::Text { bounds, .. } => self.texts.push(*bounds),
        }
    }

    fn arc(&mut self, center: Point, radius: f64, start_deg: f64, sweep_deg: f64) {
        let parts = (sweep_deg / 15.0).ceil().clamp(1.0, 24.0);
        let at = |part: f64| {
            let (sin, cos) = (start_deg + sweep_deg * part / parts).to_radians().sin_cos();
            Point::new(center.x + radius * cos, center.y + radius * sin)
        };
        for part in 0..parts as u32 {
            self.lines.push((at(f64::from(part)), at(f64::from(part + 1))));
        }
    }

    /// Says that something stands there now.
    pub(super) fn occupy(&mut self, bounds: Bounds) {
        self.texts.push(bounds);
    }

    /// The best box of that size beside a ring, now taken; `gaps` are the distances from it to try, in letter heights.
    pub(super) fn beside(&mut self, center: Point, radius: f64, size: (f64, f64), gaps: &[f64]) -> Bounds {
        let reach = radius + gaps.iter().copied().fold(0.0, f64::max) * self.letter + size.0 + size.1;
        let near = self.near(center, reach);
        let mut best = (f64::INFINITY, square(center, radius));
        for gap in gaps {
            let far = radius + gap * self.letter;
            for nth in 0..DIRECTIONS {
                // From the upper right on, where a reader looks first.
                let angle = (45.0 - 360.0 * f64::from(nth) / f64::from(DIRECTIONS)).to_radians();
                let (y, x) = angle.sin_cos();
                let at = Point::new(center.x + far * x, center.y + far * y);
                let bounds = reaching(at, (x, y), size);
                let cost =
                    near.cost(&bounds, self.letter) + near.cost_of_way(&bounds, center, radius) + 0.012 * gap;
                if cost < best.0 {
                    best = (cost, bounds);
                }
            }
        }
        self.occupy(best.1);
        best.1
    }

    /// What stands within reach.
    fn near(&self, center: Point, reach: f64) -> Near {
        let all = square(center, reach);
        let texts = self.texts.iter().filter(|text| {
            let shared = common(&all, text);
            shared.min.x <= shared.max.x && shared.min.y <= shared.max.y
        });
        let lines = self.lines.iter().filter(|(from, to)| crosses(&all, *from, *to));
        Near { sheet: self.extents, texts: texts.copied().collect(), lines: lines.copied().collect() }
    }
}

/// What stands near a place.
struct Near {
    /// All that is drawn.
    sheet: Bounds,
    texts: Vec<Bounds>,
    lines: Vec<(Point, Point)>,
}

impl Near {
    /// How much a text there would be in the way: shares of it that lie over others, a little for each line through it,
    /// and a little for standing beyond all that is drawn.
    fn cost(&self, bounds: &Bounds, letter: f64) -> f64 {
        let area = |b: &Bounds| (b.max.x - b.min.x).max(0.0) * (b.max.y - b.min.y).max(0.0);
        let own = area(bounds).max(f64::MIN_POSITIVE);
        let margin = 0.3 * letter;
        let wide = Bounds {
            min: Point::new(bounds.min.x - margin, bounds.min.y - margin),
            max: Point::new(bounds.max.x + margin, bounds.max.y + margin),
        };
        let over: f64 = self.texts.iter().map(|text| area(&common(&wide, text)) / own).sum();
        let crossing = self.lines.iter().filter(|(from, to)| crosses(&wide, *from, *to)).count();
        let inside = self.sheet.holds(bounds.min, 0.0) && self.sheet.holds(bounds.max, 0.0);
        10.0 * over + 0.4 * crossing as f64 + if inside { 0.0 } else { 0.2 }
    }

    /// How much the line from a text to its ring would be in the way of other texts, holes and rings.
    fn cost_of_way(&self, bounds: &Bounds, center: Point, radius: f64) -> f64 {
        let from = Point::new(
            center.x.clamp(bounds.min.x, bounds.max.x),
            center.y.clamp(bounds.min.y, bounds.max.y),
        );
        let far = from.distance(center);
        if far <= radius {
            return 0.0;
        }
        let to = Point::new(
            center.x + (from.x - center.x) * radius / far,
            center.y + (from.y - center.y) * radius / far,
        );
        let others = self.texts.iter().filter(|text| !text.holds(center, 0.0));
        0.15 * others.filter(|text| crosses(text, from, to)).count() as f64
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

/// The box of `size` that touches `at` and lies beyond it in a direction; above and below, it begins there, so that the
/// line from its side to the ring does not pass under the text.
fn reaching(at: Point, (x, y): (f64, f64), (width, height): (f64, f64)) -> Bounds {
    let left = if x < -0.1 { width } else { 0.0 };
    let below = match y {
        y if y > 0.1 => 0.0,
        y if y < -0.1 => height,
        _ => height / 2.0,
    };
    let min = Point::new(at.x - left, at.y - below);
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

#[cfg(test)]
mod tests {
    use super::*;
    use crate::check::Pen;

    fn path(points: &[(f64, f64)]) -> Shape {
        Shape::Path(Pen::Edge, points.iter().map(|(x, y)| Point::new(*x, *y)).collect())
    }

    #[test]
    fn a_text_stands_free_of_lines_texts_and_curves() {
        // A sheet of 100 x 100 with a contour, a text, a leader and a large circle to the right of the place.
        let frame = path(&[(0.0, 0.0), (100.0, 0.0), (100.0, 100.0), (0.0, 100.0), (0.0, 0.0)]);
        let zigzag = path(&[(52.0, 50.0), (70.0, 52.0), (55.0, 54.0), (70.0, 56.0), (55.0, 58.0)]);
        let bounds = Bounds { min: Point::new(52.0, 40.0), max: Point::new(70.0, 48.0) };
        let text = Shape::Text { content: "x".into(), bounds, height: 1.0, rotation_deg: 0.0 };
        let circle = Shape::Circle(Pen::Edge, Point::new(48.0, 80.0), 20.0);
        let shapes = [frame, zigzag.clone(), text, circle];
        let shapes: Vec<&Shape> = shapes.iter().collect();
        let mut sheet = Sheet::of(&shapes);
        assert_eq!(sheet.extents, Bounds { min: Point::new(0.0, 0.0), max: Point::new(100.0, 100.0) });
        let found = sheet.beside(Point::new(50.0, 50.0), 2.0, (15.0, 4.0), &[1.0, 4.0, 8.0]);
        assert!(sheet.extents.holds(found.min, 0.0) && sheet.extents.holds(found.max, 0.0), "{found:?}");
        let Shape::Path(_, corners) = zigzag else { panic!("a path") };
        assert!(!corners.windows(2).any(|pair| crosses(&found, pair[0], pair[1])), "{found:?}");
        let shared = common(&found, &bounds);
        assert!(shared.min.x > shared.max.x || shared.min.y > shared.max.y, "{found:?}");
        // The nearest and the farthest corner from the middle of the circle, 20 away from its edge.
        let distances = [found.min, found.max].map(|p| p.distance(Point::new(48.0, 80.0)));
        assert!(distances.iter().all(|d| *d > 20.0), "{found:?}");
        // What stands there now is in the way of the next one.
        let next = sheet.beside(Point::new(50.0, 50.0), 2.0, (15.0, 4.0), &[1.0, 4.0, 8.0]);
        let shared = common(&found, &next);
        assert!(shared.min.x > shared.max.x || shared.min.y > shared.max.y, "{found:?} {next:?}");
    }
}
