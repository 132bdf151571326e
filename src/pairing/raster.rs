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
}

/// Cells along the longer side of the raster: gaps below 1/200 of the sheet join.
const CELLS: f64 = 200.0;

/// No line passes through this cell.
const EMPTY: u16 = 0;
/// A line passes, and what it touches is not known yet. Greater numbers are those of groups.
const PASSED: u16 = 1;

/// Boxes of the lines whose cells are neighbours, in the order in which their first cells stand in the raster. `all` is
/// the box of all lines and not empty.
pub(super) fn boxes(lines: &[Line], all: &Bounds) -> Vec<Bounds> {
    let mut raster = Raster::of(all);
    let cells: Vec<usize> = lines.iter().map(|line| raster.pass(line)).collect();
    let first_cells = raster.group();
    let mut boxes = vec![Bounds::EMPTY; first_cells.len()];
    for (line, cell) in lines.iter().zip(cells) {
        // From one end to the other a line only passes through neighbours, and reaches no farther than its ends.
        let group = raster.cells[cell] - PASSED - 1;
        boxes[usize::from(group)].add(line.at(0.0));
        boxes[usize::from(group)].add(line.at(1.0));
    }
    let mut order: Vec<(usize, Bounds)> = first_cells.into_iter().zip(boxes).collect();
    order.sort_unstable_by_key(|(first, _)| *first);
    order.into_iter().map(|(_, bounds)| bounds).collect()
}

struct Raster {
    origin: Point,
    /// Side of a cell.
    side: f64,
    columns: usize,
    rows: usize,
    /// Row by row, with a frame of empty cells, so that every cell has all its neighbours.
    cells: Vec<u16>,
    /// The cells that lines pass through.
    passed: Vec<usize>,
}

impl Raster {
    fn of(all: &Bounds) -> Raster {
        let (width, height) = (all.max.x - all.min.x, all.max.y - all.min.y);
        let side = width.max(height).max(f64::MIN_POSITIVE) / CELLS;
        let columns = (width / side) as usize + 1;
        let rows = (height / side) as usize + 1;
        let cells = vec![EMPTY; (columns + 2) * (rows + 2)];
        Raster { origin: all.min, side, columns, rows, cells, passed: Vec::new() }
    }

    fn cell(&self, p: Point) -> usize {
        // The conversion cuts decimals off and makes what is below 0 to 0.
        let x = (((p.x - self.origin.x) / self.side) as u32 as usize).min(self.columns - 1);
        let y = (((p.y - self.origin.y) / self.side) as u32 as usize).min(self.rows - 1);
        (y + 1) * (self.columns + 2) + x + 1
    }

    /// Marks the cells that a line passes through; one of them.
    fn pass(&mut self, line: &Line) -> usize {
        let (first, last) = (self.cell(line.at(0.0)), self.cell(line.at(1.0)));
        let (from, to) = (first.min(last), first.max(last));
        let stride = self.columns + 2;
        // Along a row or a column, as most lines of drawings run, it passes through every cell between its ends.
        if from / stride == to / stride {
            (from..=to).for_each(|cell| self.enter(cell));
        } else if (to - from) % stride == 0 {
            (from..=to).step_by(stride).for_each(|cell| self.enter(cell));
        } else {
            let steps = (line.from.distance(line.to) / (0.5 * self.side)).ceil().clamp(1.0, 4.0 * CELLS);
            (0..=steps as usize).for_each(|k| self.enter(self.cell(line.at(k as f64 / steps))));
        }
        first
    }

    fn enter(&mut self, cell: usize) {
        if self.cells[cell] == EMPTY {
            self.cells[cell] = PASSED;
            self.passed.push(cell);
        }
    }

    /// Numbers the groups of neighbouring cells; the first cell of each.
    fn group(&mut self) -> Vec<usize> {
        let stride = self.columns + 2;
        let mut first_cells = Vec::new();
        let mut queue = Vec::new();
        for &start in &self.passed {
            if self.cells[start] != PASSED {
                continue;
            }
            // A raster has far fewer cells than the numbers go.
            let number = PASSED + 1 + first_cells.len() as u16;
            let mut first = start;
            self.cells[start] = number;
            queue.push(start);
            while let Some(at) = queue.pop() {
                first = first.min(at);
                let (below, above) = (at - stride, at + stride);
                for near in [below - 1, below, below + 1, at - 1, at + 1, above - 1, above, above + 1] {
                    if self.cells[near] == PASSED {
                        self.cells[near] = number;
                        queue.push(near);
                    }
                }
            }
            first_cells.push(first);
        }
        first_cells
    }
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
