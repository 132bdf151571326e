//! Lines drawn on a coarse raster: the boxes of those that touch there. Knows nothing of views.

use super::strokes::Stroke;
use crate::geometry::{Bounds, Point};

/// Cells along the longer side of the raster: gaps below 1/200 of the sheet join.
const CELLS: f64 = 200.0;

/// Side of a cell of a raster over a box.
pub(super) fn side(all: &Bounds) -> f64 {
    let (width, height) = (all.max.x - all.min.x, all.max.y - all.min.y);
    width.max(height).max(f64::MIN_POSITIVE) / CELLS
}

/// Boxes of the strokes whose cells are neighbours, in the order in which their first cells stand in the raster. `all`
/// is the box of all strokes and not empty.
pub(super) fn boxes<'a>(strokes: impl Iterator<Item = Stroke<'a>> + Clone, all: &Bounds) -> Vec<Bounds> {
    let mut raster = Raster::of(all);
    strokes.clone().for_each(|stroke| raster.pass(&stroke));
    let runs = Runs::of(&raster);
    let group_of = runs.groups();
    let mut boxes = vec![Bounds::EMPTY; group_of.iter().max().map_or(0, |last| last + 1)];
    // Most strokes begin in the run where the one before them began.
    let (mut row, mut run) = (usize::MAX, 0);
    for stroke in strokes {
        let cell = raster.cell(stroke.points()[0]);
        if row != cell.y || !runs.runs[run].holds(cell.x) {
            (row, run) = (cell.y, runs.holding(cell));
        }
        // From one end to the other a stroke only passes through neighbours.
        let group = &mut boxes[group_of[run]];
        group.add(stroke.bounds.min);
        group.add(stroke.bounds.max);
    }
    boxes
}

#[derive(Debug, Clone, Copy, PartialEq)]
struct Cell {
    x: usize,
    y: usize,
}

struct Raster {
    origin: Point,
    /// Side of a cell.
    side: f64,
    columns: usize,
    rows: usize,
    /// Words of a row.
    stride: usize,
    /// Row by row a bit for each cell, set where a line passes.
    passed: Vec<u64>,
}

impl Raster {
    fn of(all: &Bounds) -> Raster {
        let (width, height) = (all.max.x - all.min.x, all.max.y - all.min.y);
        let side = side(all);
        let columns = (width / side) as usize + 1;
        let rows = (height / side) as usize + 1;
        let stride = columns.div_ceil(64);
        Raster { origin: all.min, side, columns, rows, stride, passed: vec![0; stride * rows] }
    }

    fn cell(&self, p: Point) -> Cell {
        // The conversion cuts decimals off and makes what is below 0 to 0.
        let x = (((p.x - self.origin.x) / self.side) as u32 as usize).min(self.columns - 1);
        let y = (((p.y - self.origin.y) / self.side) as u32 as usize).min(self.rows - 1);
        Cell { x, y }
    }

    /// Marks the cells that a stroke passes through, that of its first point among them.
    fn pass(&mut self, stroke: &Stroke<'_>) {
        let (low, high) = (self.cell(stroke.bounds.min), self.cell(stroke.bounds.max));
        // In one row or column, as most lines and small arcs are, it passes through every cell from end to end.
        if low.y == high.y {
            return self.enter_row(low.y, low.x, high.x);
        }
        if low.x == high.x {
            return self.enter_column(low.x, low.y, high.y);
        }
        let points = stroke.points();
        let mut first = self.cell(points[0]);
        for ends in points.windows(2) {
            let last = self.cell(ends[1]);
            self.pass_piece(ends[0], ends[1], first, last);
            first = last;
        }
    }

    /// Marks the cells from the `first`, where a piece begins, to its `last`.
    fn pass_piece(&mut self, from: Point, to: Point, first: Cell, last: Cell) {
        if first == last {
            self.enter(first);
        } else if first.y == last.y {
            self.enter_row(first.y, first.x.min(last.x), first.x.max(last.x));
        } else if first.x == last.x {
            self.enter_column(first.x, first.y.min(last.y), first.y.max(last.y));
        } else {
            let exact = from.distance(to) / (0.5 * self.side);
            // The next whole number, without the call of `f64::ceil`.
            let whole = f64::from(exact as u32);
            let steps = if whole < exact { whole + 1.0 } else { whole }.clamp(1.0, 4.0 * CELLS);
            self.enter(first);
            for k in 1..steps as u32 {
                let t = f64::from(k) / steps;
                let p = Point::new(from.x + (to.x - from.x) * t, from.y + (to.y - from.y) * t);
                self.enter(self.cell(p));
            }
            self.enter(last);
        }
    }

    fn enter(&mut self, cell: Cell) {
        self.passed[cell.y * self.stride + cell.x / 64] |= 1 << (cell.x % 64);
    }

    fn enter_column(&mut self, x: usize, first: usize, last: usize) {
        (first..=last).for_each(|y| self.enter(Cell { x, y }));
    }

    fn enter_row(&mut self, y: usize, first: usize, last: usize) {
        for k in first / 64..=last / 64 {
            let from = first.saturating_sub(64 * k);
            let to = (last - 64 * k).min(63);
            self.passed[y * self.stride + k] |= (u64::MAX >> (63 - to)) & (u64::MAX << from);
        }
    }
}

/// Cells of a row without a gap, that lines pass through.
#[derive(Debug, Clone, Copy)]
struct Run {
    first: usize,
    last: usize,
}

impl Run {
    fn holds(&self, x: usize) -> bool {
        (self.first..=self.last).contains(&x)
    }
}

/// All runs, row by row. Rows that follow one another and are the same, as between the ends of upright lines, are kept
/// once: each of their runs touches that of the next row and no other.
struct Runs {
    runs: Vec<Run>,
    /// Where the runs of each row that is kept begin; one more for the end.
    starts: Vec<usize>,
    /// For each row of the raster the one that is kept for it.
    kept: Vec<usize>,
}

impl Runs {
    fn of(raster: &Raster) -> Runs {
        let mut runs: Vec<Run> = Vec::with_capacity(8 * raster.rows);
        let mut starts = Vec::with_capacity(raster.rows + 1);
        let mut kept = Vec::with_capacity(raster.rows);
        starts.push(0);
        let mut before: &[u64] = &[];
        for row in raster.passed.chunks(raster.stride) {
            if row == std::mem::replace(&mut before, row) {
                kept.push(starts.len() - 2);
                continue;
            }
            kept.push(starts.len() - 1);
            let begin = runs.len();
            for (k, &word) in row.iter().enumerate() {
                let mut left = word;
                while left != 0 {
                    let from = left.trailing_zeros() as usize;
                    let length = (left >> from).trailing_ones() as usize;
                    let run = Run { first: 64 * k + from, last: 64 * k + from + length - 1 };
                    left = if from + length < 64 { left & (u64::MAX << (from + length)) } else { 0 };
                    // Only what begins with the word may go on from the word before.
                    match runs[begin..].last_mut().filter(|_| from == 0) {
                        Some(before) if before.last + 1 == run.first => before.last = run.last,
                        _ => runs.push(run),
                    }
                }
            }
            starts.push(runs.len());
        }
        Runs { runs, starts, kept }
    }

    /// The run that a cell lies in.
    fn holding(&self, cell: Cell) -> usize {
        let kept = self.kept[cell.y];
        let row = self.starts[kept]..self.starts[kept + 1];
        row.start + self.runs[row].partition_point(|run| run.last < cell.x)
    }

    /// For each run the group of neighbours it belongs to, numbered by their first runs.
    fn groups(&self) -> Vec<usize> {
        let mut root: Vec<usize> = (0..self.runs.len()).collect();
        for rows in self.starts.windows(3) {
            let mut below = rows[0];
            for run in rows[1]..rows[2] {
                let Run { first, last } = self.runs[run];
                while below < rows[1] && self.runs[below].last + 1 < first {
                    below += 1;
                }
                // The last one that touches this run may touch the next one too.
                let touching = (below..rows[1]).take_while(|&b| self.runs[b].first <= last + 1);
                touching.for_each(|b| join(&mut root, b, run));
            }
        }
        let mut groups = 0;
        let mut numbers = Vec::with_capacity(root.len());
        for (run, &before) in root.iter().enumerate() {
            // What a run leads to stands before it, and has its number by now.
            if before == run {
                numbers.push(groups);
                groups += 1;
            } else {
                numbers.push(numbers[before]);
            }
        }
        numbers
    }
}

/// Makes two runs belong together; the one that stands first is the root of all.
fn join(root: &mut [usize], a: usize, b: usize) {
    let (a, b) = (find(root, a), find(root, b));
    root[a.max(b)] = a.min(b);
}

fn find(root: &mut [usize], mut at: usize) -> usize {
    while root[at] != at {
        root[at] = root[root[at]];
        at = root[at];
    }
    at
}

#[cfg(test)]
mod tests {
    use super::super::strokes::Strokes;
    use super::*;

    /// The boxes of strokes through some places each.
    fn boxes_of(strokes: &[&[(f64, f64)]]) -> Vec<Bounds> {
        let place = |&(x, y): &(f64, f64)| Point::new(x, y);
        let points: Vec<Vec<Point>> =
            strokes.iter().map(|places| places.iter().map(place).collect()).collect();
        let mut strokes = Strokes::default();
        points.iter().for_each(|points| strokes.add_along(points));
        boxes(strokes.iter(), &strokes.bounds())
    }

    #[test]
    fn what_touches_is_one_box_and_what_stands_apart_another() {
        let found = boxes_of(&[
            &[(0.0, 0.0), (200.0, 0.0)],
            &[(100.0, 50.0), (160.0, 90.0)],
            &[(100.0, 0.4), (100.0, 20.0)],
            &[(159.5, 90.5), (150.0, 100.0)],
        ]);
        // A cell is 1 wide (hand calculation).
        assert_eq!(found.len(), 2);
        assert_eq!(found[0], Bounds { min: Point::new(0.0, 0.0), max: Point::new(200.0, 20.0) });
        assert_eq!(found[1], Bounds { min: Point::new(100.0, 50.0), max: Point::new(160.0, 100.0) });
    }

    #[test]
    fn a_stroke_of_several_pieces_is_what_its_pieces_are() {
        // A cell is 1 wide. A U open above, with a line that stands in it and touches none of its pieces, one that
        // touches its left leg, and strokes within one row and one column (hand calculation).
        let strokes: [&[(f64, f64)]; 6] = [
            &[(0.0, 100.0), (0.0, 0.0), (200.0, 0.0), (200.0, 100.0)],
            &[(50.5, 50.5), (60.5, 60.5), (70.5, 50.5)],
            &[(1.5, 80.5), (9.5, 89.5)],
            &[(90.5, 30.2), (99.5, 30.8), (95.5, 30.4)],
            &[(150.2, 30.5), (150.8, 39.5), (150.4, 20.5)],
            &[(100.5, 31.5), (120.5, 31.5)],
        ];
        let found = boxes_of(&strokes);
        let pieces: Vec<&[(f64, f64)]> = strokes.iter().flat_map(|s| s.windows(2)).collect();
        assert_eq!(found, boxes_of(&pieces));
        let bounds = |x0, y0, x1, y1| Bounds { min: Point::new(x0, y0), max: Point::new(x1, y1) };
        assert_eq!(
            found,
            [
                bounds(0.0, 0.0, 200.0, 100.0),
                bounds(150.2, 20.5, 150.8, 39.5),
                bounds(90.5, 30.2, 120.5, 31.5),
                bounds(50.5, 50.5, 70.5, 60.5),
            ]
        );
    }

    #[test]
    fn a_point_is_a_box() {
        let p = Point::new(3.0, 4.0);
        assert_eq!(boxes_of(&[&[(3.0, 4.0), (3.0, 4.0)]]), [Bounds { min: p, max: p }]);
    }
}
