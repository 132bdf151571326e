//! Square cells over places: where the things of a cell stand in a list, and which cells a box reaches over. The list is
//! its user's, who asks each thing found whether it is near. Knows nothing of discs and lines.

use std::ops::Range;

use crate::geometry::{Bounds, Point};

/// Cells by which a search goes beyond what it asks for, so that rounding at the edge of a cell hides nothing.
const SLACK: f64 = 1e-6;

/// Most things that a search looks at where a crowd says nothing; the densest sheets have a few hundred round a text.
pub(crate) const MOST_LOOKED_AT: usize = 20_000;

/// The cells, row by row.
#[derive(Debug)]
pub(crate) struct Cells {
    /// The box of the places, larger by what rounding may hide.
    around: Bounds,
    /// Where the first cell begins.
    corner: Point,
    per_unit: f64,
    columns: usize,
    rows: usize,
    /// Where the things of each cell begin in the list; one more for the end.
    starts: Vec<u32>,
}

impl Cells {
    /// Cells of a number to a unit of length over places that lie in a box, and where in the list what lies at each place
    /// is to stand: cell by cell, those of a cell in the order of the places. A place that is no number is taken into
    /// the first column or row.
    pub(crate) fn new(
        Bounds { min, max }: Bounds,
        per_unit: f64,
        places: impl Iterator<Item = Point>,
    ) -> (Cells, Vec<u32>) {
        let slack = SLACK / per_unit;
        let along = |low: f64, high: f64| (per_unit * (high - low)) as u32 as usize + 1;
        let mut cells = Cells {
            around: Bounds {
                min: Point::new(min.x - slack, min.y - slack),
                max: Point::new(max.x + slack, max.y + slack),
            },
            corner: min,
            per_unit,
            columns: along(min.x, max.x),
            rows: along(min.y, max.y),
            starts: Vec::new(),
        };
        // Counted, then put in place: the same as sorting by cell, in one step a place.
        let mut starts = vec![0; cells.rows * cells.columns + 1];
        let count = |place: Point| {
            let cell = cells.row(place.y, 0.0) * cells.columns + cells.column(place.x, 0.0);
            starts[cell] += 1;
            cell as u32
        };
        let mut list: Vec<u32> = places.map(count).collect();
        let mut end = 0;
        for start in &mut starts {
            end += *start;
            *start = end;
        }
        // From the last one back, so that the ends become the beginnings and those of a cell keep their order.
        for place in list.iter_mut().rev() {
            let start = &mut starts[*place as usize];
            *start -= 1;
            *place = *start;
        }
        cells.starts = starts;
        (cells, list)
    }

    /// Where in the list the things of the cells stand that a box reaches over, row by row; nothing for a box so far
    /// beyond all of them that none is in it.
    pub(crate) fn reached(&self, low: Point, high: Point) -> impl Iterator<Item = Range<usize>> {
        let Bounds { min, max } = self.around;
        let apart = high.x < min.x || low.x > max.x || high.y < min.y || low.y > max.y;
        let rows = if apart { 0..0 } else { self.row(low.y, -SLACK)..self.row(high.y, SLACK) + 1 };
        let (first, last) = (self.column(low.x, -SLACK), self.column(high.x, SLACK));
        rows.map(move |row| {
            let (from, to) = (row * self.columns + first, row * self.columns + last + 1);
            self.starts[from] as usize..self.starts[to] as usize
        })
    }

    /// The column of a place, some cells farther; the first or last for a place beyond. The conversion cuts decimals
    /// off and makes what is below 0, or no number, to 0.
    fn column(&self, x: f64, farther: f64) -> usize {
        (((x - self.corner.x) * self.per_unit + farther) as u32 as usize).min(self.columns - 1)
    }

    fn row(&self, y: f64, farther: f64) -> usize {
        (((y - self.corner.y) * self.per_unit + farther) as u32 as usize).min(self.rows - 1)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_box_reaches_over_the_cells_that_it_touches() {
        let places =
            [(0.0, 0.0), (2.5, 0.5), (0.4, 2.5), (0.2, 0.1), (2.9, 2.9)].map(|(x, y)| Point::new(x, y));
        let (cells, list) = Cells::new(Bounds::of(places), 1.0, places.into_iter());
        // Three cells a row (hand calculation): the first holds places 0 and 3, then come 1, 2 and 4.
        assert_eq!(list, [0, 2, 3, 1, 4]);
        let reached = |low: (f64, f64), high: (f64, f64)| -> Vec<(usize, usize)> {
            let ranges = cells.reached(Point::new(low.0, low.1), Point::new(high.0, high.1));
            ranges.map(|range| (range.start, range.end)).collect()
        };
        assert_eq!(reached((0.5, 0.5), (0.6, 0.6)), [(0, 2)]);
        assert_eq!(reached((0.5, 0.5), (2.1, 2.1)), [(0, 3), (3, 3), (3, 5)]);
        assert_eq!(reached((-9.0, 2.2), (0.1, 9.0)), [(3, 4)]);
        assert!(reached((3.1, 0.0), (4.0, 9.0)).is_empty());
    }
}
