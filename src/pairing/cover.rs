//! Whether a place may lie near one of some discs, told from a coarse raster in a few steps. Does not say near which.

use crate::geometry::{Bounds, Point};

/// Cells along either side of the raster; those of a row are the bits of a word.
const CELLS: usize = 64;

/// The cells that discs lie in.
#[derive(Debug)]
pub(super) struct Cover {
    /// The box of all discs.
    bounds: Bounds,
    columns_per_unit: f64,
    rows_per_unit: f64,
    rows: [u64; CELLS],
}

impl Cover {
    /// The cover of discs, given by centre and radius.
    pub(super) fn new(discs: impl Iterator<Item = (Point, f64)> + Clone) -> Cover {
        let box_of = |(c, r): (Point, f64)| (Point::new(c.x - r, c.y - r), Point::new(c.x + r, c.y + r));
        let boxes = discs.map(box_of);
        let bounds = Bounds::of(boxes.clone().flat_map(|(low, high)| [low, high]));
        let per_unit = |low: f64, high: f64| CELLS as f64 / (high - low).max(f64::MIN_POSITIVE);
        let mut cover = Cover {
            bounds,
            columns_per_unit: per_unit(bounds.min.x, bounds.max.x),
            rows_per_unit: per_unit(bounds.min.y, bounds.max.y),
            rows: [0; CELLS],
        };
        for (low, high) in boxes {
            let (first, last) = (cover.column(low), cover.column(high));
            let columns = (u64::MAX << first) & (u64::MAX >> (CELLS - 1 - last));
            let (first, last) = (cover.row(low), cover.row(high));
            cover.rows[first..=last].iter_mut().for_each(|row| *row |= columns);
        }
        cover
    }

    /// Whether a disc may lie at a place; if not, the place lies in none.
    pub(super) fn may_hold(&self, p: Point) -> bool {
        self.bounds.holds(p, 0.0) && self.rows[self.row(p)] >> self.column(p) & 1 == 1
    }

    // The conversions cut decimals off and make what is below 0 to 0. A place to the right of another lies in its column
    // or one to the right of that, however both are rounded.

    fn column(&self, p: Point) -> usize {
        (((p.x - self.bounds.min.x) * self.columns_per_unit) as u32 as usize).min(CELLS - 1)
    }

    fn row(&self, p: Point) -> usize {
        (((p.y - self.bounds.min.y) * self.rows_per_unit) as u32 as usize).min(CELLS - 1)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_lies_in_a_disc_may_and_what_lies_far_from_all_may_not() {
        let discs =
            [(Point::new(0.0, 0.0), 2.0), (Point::new(100.0, 50.0), 1.0), (Point::new(60.0, 0.0), 0.5)];
        let cover = Cover::new(discs.into_iter());
        for (center, radius) in discs {
            // Places in the disc and on its rim.
            for (x, y) in [(0.0, 0.0), (1.0, 0.0), (-1.0, 0.0), (0.0, 1.0), (0.0, -1.0), (-0.7, 0.7)] {
                assert!(cover.may_hold(Point::new(center.x + radius * x, center.y + radius * y)));
            }
        }
        // A cell is 103/64 wide and 53/64 high (hand calculation): these are several away from every disc.
        for (x, y) in [(10.0, 0.0), (0.0, 10.0), (50.0, 25.0), (100.0, 40.0), (101.5, 50.0), (-500.0, 0.0)] {
            assert!(!cover.may_hold(Point::new(x, y)), "{x} {y}");
        }
        assert!(!cover.may_hold(Point::new(f64::NAN, 0.0)));
    }

    #[test]
    fn none_holds_nothing() {
        assert!(!Cover::new(std::iter::empty()).may_hold(Point::new(0.0, 0.0)));
    }
}
