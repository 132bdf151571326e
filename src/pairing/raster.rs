//! Lines drawn on a coarse raster: the boxes of those that touch there. Knows nothing of views.

use crate::geometry::{Bounds, Point};

/// A straight line between two places.
#[derive(Debug, Clone, Copy)]
pub(super) struct Line {
    pub(super) from: Point,
    pub(super) to: Point,
}

impl Line {
    /// The place at `t`, 0 at its start to 1 at its end.
    fn at(&self, t: f64) -> Point {
        Point::new(self.from.x + (self.to.x - self.from.x) * t, self.from.y + (self.to.y - self.from.y) * t)
    }

    /// The last of its places, which is `to` but for rounding.
    fn end(&self) -> Point {
        self.at(1.0)
    }
}

/// Cells along the longer side of the raster: gaps below 1/200 of the sheet join.
const CELLS: f64 = 200.0;

/// Boxes of the lines whose cells are neighbours, in the order in which their first cells stand in the raster. `all` is
/// the box of all lines and not empty.
pub(super) fn boxes(lines: &[Line], all: &Bounds) -> Vec<Bounds> {
    let mut raster = Raster::of(all);
    let cells: Vec<Cell> = lines.iter().map(|line| raster.pass(line)).collect();
    let runs = Runs::of(&raster);
    let group_of = runs.groups();
    let mut boxes = vec![Bounds::EMPTY; group_of.iter().max().map_or(0, |last| last + 1)];
    // Most lines begin in the run where the one before them began, and many where that one ends.
    let (mut row, mut run, mut end) = (usize::MAX, 0, None);
    for (line, cell) in lines.iter().zip(cells) {
        if row != cell.y || !runs.runs[run].holds(cell.x) {
            (row, run) = (cell.y, runs.holding(cell));
        }
        // From one end to the other a line only passes through neighbours, and reaches no farther than its ends.
        let group = group_of[run];
        if end != Some(line.from) {
            boxes[group].add(line.from);
        }
        let to = line.end();
        boxes[group].add(to);
        end = Some(to);
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
    /// Where the last line ended.
    end: Option<(Point, Cell)>,
}

impl Raster {
    fn of(all: &Bounds) -> Raster {
        let (width, height) = (all.max.x - all.min.x, all.max.y - all.min.y);
        let side = width.max(height).max(f64::MIN_POSITIVE) / CELLS;
        let columns = (width / side) as usize + 1;
        let rows = (height / side) as usize + 1;
        let stride = columns.div_ceil(64);
        Raster { origin: all.min, side, columns, rows, stride, passed: vec![0; stride * rows], end: None }
    }

    fn cell(&self, p: Point) -> Cell {
        // The conversion cuts decimals off and makes what is below 0 to 0.
        let x = (((p.x - self.origin.x) / self.side) as u32 as usize).min(self.columns - 1);
        let y = (((p.y - self.origin.y) / self.side) as u32 as usize).min(self.rows - 1);
        Cell { x, y }
    }

    /// Marks the cells that a line passes through; one of them.
    fn pass(&mut self, line: &Line) -> Cell {
        // Where one goes on from the end of another, as round an arc, that cell is known.
        let known = self.end.filter(|(end, _)| *end == line.from);
        let first = known.map_or_else(|| self.cell(line.from), |(_, cell)| cell);
        let end = line.end();
        let last = self.cell(end);
        self.end = Some((end, last));
        // Along a row or a column, as most lines of drawings run, it passes through every cell between its ends.
        if first == last {
            self.enter(first);
        } else if first.y == last.y {
            self.enter_row(first.y, first.x.min(last.x), first.x.max(last.x));
        } else if first.x == last.x {
            (first.y.min(last.y)..=first.y.max(last.y)).for_each(|y| self.enter(Cell { x: first.x, y }));
        } else {
            let exact = line.from.distance(line.to) / (0.5 * self.side);
            // The next whole number, without the call of `f64::ceil`.
            let whole = f64::from(exact as u32);
            let steps = if whole < exact { whole + 1.0 } else { whole }.clamp(1.0, 4.0 * CELLS);
            self.enter(first);
            (1..steps as u32).for_each(|k| self.enter(self.cell(line.at(f64::from(k) / steps))));
            self.enter(last);
        }
        first
    }

    fn enter(&mut self, cell: Cell) {
        self.passed[cell.y * self.stride + cell.x / 64] |= 1 << (cell.x % 64);
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

/// All runs, row by row.
struct Runs {
    runs: Vec<Run>,
    /// Where the runs of each row begin; one more for the end.
    starts: Vec<usize>,
}

impl Runs {
    fn of(raster: &Raster) -> Runs {
        let mut runs: Vec<Run> = Vec::with_capacity(8 * raster.rows);
        let mut starts = Vec::with_capacity(raster.rows + 1);
        starts.push(0);
        for row in raster.passed.chunks(raster.stride) {
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
        Runs { runs, starts }
    }

    /// The run that a cell lies in.
    fn holding(&self, cell: Cell) -> usize {
        let row = self.starts[cell.y]..self.starts[cell.y + 1];
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
    use super::*;

    #[test]
    fn what_touches_is_one_box_and_what_stands_apart_another() {
        let line = |x0, y0, x1, y1| Line { from: Point::new(x0, y0), to: Point::new(x1, y1) };
        let lines = [
            line(0.0, 0.0, 200.0, 0.0),
            line(100.0, 50.0, 160.0, 90.0),
            line(100.0, 0.4, 100.0, 20.0),
            line(159.5, 90.5, 150.0, 100.0),
        ];
        let all = Bounds::of(lines.iter().flat_map(|l| [l.from, l.to]));
        // A cell is 1 wide (hand calculation).
        let found = boxes(&lines, &all);
        assert_eq!(found.len(), 2);
        assert_eq!(found[0], Bounds { min: Point::new(0.0, 0.0), max: Point::new(200.0, 20.0) });
        assert_eq!(found[1], Bounds { min: Point::new(100.0, 50.0), max: Point::new(160.0, 100.0) });
    }

    #[test]
    fn a_point_is_a_box() {
        let p = Point::new(3.0, 4.0);
        assert_eq!(boxes(&[Line { from: p, to: p }], &Bounds::of([p])), [Bounds { min: p, max: p }]);
    }
}
