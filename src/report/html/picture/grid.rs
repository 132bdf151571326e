//! From drawing units to a grid of whole numbers, fine enough for the smallest marked hole, whose ordinate runs down.

use crate::check::PictureSheet;
use crate::geometry::{Bounds, Point};

/// Steps of the grid along the longer side.
const STEPS: f64 = 20_000.0;

/// Farther off than this nothing is shown; what lies there keeps its direction.
const FARTHEST: f64 = 1e12;

/// The grid of a sheet.
#[derive(Debug)]
pub(super) struct Grid {
    /// What it shows, in drawing units, with a margin.
    pub(super) bounds: Bounds,
    /// Steps for one drawing unit.
    pub(super) steps: f64,
}

impl Grid {
    /// The grid of the body of a sheet.
    pub(super) fn of(sheet: &PictureSheet) -> Grid {
        let bounds = sheet.body;
        let side = (bounds.max.x - bounds.min.x).max(bounds.max.y - bounds.min.y);
        let margin = if side > 0.0 { side * 0.04 } else { 1.0 };
        let min = Point::new(bounds.min.x - margin, bounds.min.y - margin);
        let max = Point::new(bounds.max.x + margin, bounds.max.y + margin);
        Grid { bounds: Bounds { min, max }, steps: STEPS / (side + 2.0 * margin) }
    }

    /// A point.
    pub(super) fn at(&self, p: Point) -> (i64, i64) {
        (self.length(p.x - self.bounds.min.x), self.length(self.bounds.max.y - p.y))
    }

    /// A length.
    #[expect(clippy::cast_possible_truncation, reason = "held within 1e12 steps")]
    pub(super) fn length(&self, units: f64) -> i64 {
        (units * self.steps).round().clamp(-FARTHEST, FARTHEST) as i64
    }

    /// A box: left, top, width and height.
    pub(super) fn frame(&self, bounds: &Bounds) -> (i64, i64, i64, i64) {
        let (left, top) = self.at(Point::new(bounds.min.x, bounds.max.y));
        let (right, bottom) = self.at(Point::new(bounds.max.x, bounds.min.y));
        (left, top, right - left, bottom - top)
    }

    /// Width and height of all of it.
    pub(super) fn size(&self) -> (i64, i64) {
        (
            self.length(self.bounds.max.x - self.bounds.min.x),
            self.length(self.bounds.max.y - self.bounds.min.y),
        )
    }
}
