//! Points on a grid, to find those near a place. There is one for all ends of the lines of a drawing, so that building it
//! costs a few steps a point; it holds neither discs nor the points themselves. Knows nothing of lines and texts.

use crate::geometry::{Bounds, Point};
use crate::near::cells::{Cells, MOST_LOOKED_AT};

/// Points to a cell where they are spread evenly. They seldom are, so that few cells hold that many.
const TO_A_CELL: f64 = 4.0;

/// The least width of a cell: points nearer to each other are one place.
const FINEST: f64 = 1e-8;

/// Points that stand somewhere, numbered in their order.
pub(super) trait Points {
    /// How many they are.
    fn count(&self) -> usize;

    /// Where the point of a number is.
    fn at(&self, number: usize) -> Point;
}

/// Some points by their places.
pub(super) struct Grid<P> {
    pub(super) points: P,
    cells: Cells,
    /// The numbers of the points, those of a cell together.
    order: Vec<u32>,
}

impl<P: Points> Grid<P> {
    pub(super) fn new(points: P) -> Grid<P> {
        let count = points.count();
        let places = || (0..count).map(|number| points.at(number));
        let Bounds { min, max } = Bounds::of(places());
        let extent = (max.x - min.x).max(max.y - min.y).max(0.0);
        let cells_per_unit = (extent / (count as f64 / TO_A_CELL).sqrt()).max(FINEST).recip();
        let (cells, list) = Cells::new(Bounds { min, max }, cells_per_unit, places());
        let mut order = vec![0; count];
        for (number, place) in (0_u32..).zip(list) {
            order[place as usize] = number;
        }
        Grid { points, cells, order }
    }

    /// The points within `reach` of a place and between two heights, in their order; none if more than `most` are
    /// within `reach` at any height, or if so many would have to be looked at that there may be.
    pub(super) fn few_at_height(
        &self,
        p: Point,
        reach: f64,
        (low, high): (f64, f64),
        most: usize,
    ) -> Option<Vec<usize>> {
        let cells =
            |bottom: f64, top: f64| self.cells(Point::new(p.x - reach, bottom), Point::new(p.x + reach, top));
        let within = |number: &u32| self.points.at(*number as usize).distance(p) <= reach;
        let (bottom, top) = (p.y - reach, p.y + reach);
        let looked_at: usize = cells(bottom, top).map(<[u32]>::len).sum();
        // They are counted one by one only where they may be too many.
        let crowded = || cells(bottom, top).flatten().filter(|n| within(n)).count() > most;
        if looked_at > MOST_LOOKED_AT || looked_at > most && crowded() {
            return None;
        }
        let mut found = Vec::new();
        for number in cells(bottom.max(low), top.min(high)).flatten() {
            let y = self.points.at(*number as usize).y;
            if y >= low && y <= high && within(number) {
                found.push(*number as usize);
            }
        }
        found.sort_unstable();
        Some(found)
    }

    /// Whether all points within `reach` of a place are `wanted`. They are asked about in no certain order, and none
    /// after the first that is not; in a crowd not all are.
    pub(super) fn all_within(&self, p: Point, reach: f64, mut wanted: impl FnMut(usize) -> bool) -> bool {
        let mut looked_at = 0;
        self.cells(Point::new(p.x - reach, p.y - reach), Point::new(p.x + reach, p.y + reach)).all(|cell| {
            looked_at += cell.len();
            let unwanted = |number: &u32| {
                self.points.at(*number as usize).distance(p) <= reach && !wanted(*number as usize)
            };
            looked_at <= MOST_LOOKED_AT && !cell.iter().any(unwanted)
        })
    }

    /// The points in a box and on its edge, in no certain order.
    pub(super) fn in_box(&self, low: Point, high: Point) -> impl Iterator<Item = usize> {
        let all = self.cells(low, high).flatten().map(|number| *number as usize);
        all.filter(move |number| Bounds { min: low, max: high }.holds(self.points.at(*number), 0.0))
    }

    /// The points in the cells that a box reaches over, row by row.
    fn cells(&self, low: Point, high: Point) -> impl Iterator<Item = &[u32]> {
        self.cells.reached(low, high).map(|range| &self.order[range])
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::near::random;

    impl Points for Vec<Point> {
        fn count(&self) -> usize {
            self.len()
        }

        fn at(&self, number: usize) -> Point {
            self[number]
        }
    }

    fn within(grid: &Grid<Vec<Point>>, p: Point, reach: f64) -> Vec<usize> {
        let mut found = Vec::new();
        grid.all_within(p, reach, |i| {
            found.push(i);
            true
        });
        found.sort_unstable();
        found
    }

    // Against looking at each: the same answers for an uneven scatter of points.
    #[test]
    fn finds_what_looking_at_each_finds() {
        let mut random = random();
        let mut scatter = |n: usize| -> Vec<Point> {
            (0..n).map(|_| Point::new(200.0 * random().powi(3) - 50.0, 9.0 * random())).collect()
        };
        let points = scatter(900);
        let grid = Grid::new(points.clone());
        for (k, p) in scatter(300).into_iter().enumerate() {
            let reach = 0.02 * k as f64;
            let each: Vec<usize> = (0..points.len()).filter(|&i| points[i].distance(p) <= reach).collect();
            assert_eq!(within(&grid, p, reach), each);
            let (low, high) = (Point::new(p.x - reach, p.y - 0.5), Point::new(p.x + 1.5, p.y));
            let mut in_box: Vec<usize> = grid.in_box(low, high).collect();
            in_box.sort_unstable();
            let inside = |i: &usize| Bounds { min: low, max: high }.holds(points[*i], 0.0);
            assert_eq!(in_box, (0..points.len()).filter(inside).collect::<Vec<usize>>());
            let band = (p.y - 0.5, p.y + 0.25);
            let level = |i: &usize| points[*i].y >= band.0 && points[*i].y <= band.1;
            let at_height: Vec<usize> = each.iter().copied().filter(level).collect();
            assert_eq!(grid.few_at_height(p, reach, band, 900), Some(at_height));
            assert!(grid.few_at_height(p, reach, band, each.len()).is_some());
            if let Some(fewer) = each.len().checked_sub(1) {
                assert_eq!(grid.few_at_height(p, reach, band, fewer), None);
            }
        }
    }

    #[test]
    fn one_place_no_place_and_no_number_are_looked_up_as_any() {
        let one = Grid::new(vec![Point::new(3.0, 4.0); 5]);
        assert_eq!(within(&one, Point::new(3.0, 4.0), 0.0), [0, 1, 2, 3, 4]);
        assert_eq!(within(&one, Point::new(3.1, 4.0), 0.05), [0; 0]);
        assert_eq!(within(&Grid::new(Vec::new()), Point::new(0.0, 0.0), 1e9), [0; 0]);
        let odd =
            Grid::new(vec![Point::new(f64::NAN, 1.0), Point::new(f64::INFINITY, 1.0), Point::new(1.0, 1.0)]);
        assert_eq!(within(&odd, Point::new(1.0, 1.5), 1.0), [2]);
    }

    #[test]
    fn in_a_crowd_not_all_are_wanted() {
        let mut points = vec![Point::new(1.0, 2.0); MOST_LOOKED_AT + 1];
        points.push(Point::new(900.0, 900.0));
        let grid = Grid::new(points);
        assert!(!grid.all_within(Point::new(1.0, 2.0), 0.5, |_| true));
        assert!(grid.all_within(Point::new(900.0, 900.0), 0.5, |_| true));
        assert_eq!(grid.few_at_height(Point::new(1.0, 2.0), 0.5, (0.0, 9.0), usize::MAX), None);
    }
}
