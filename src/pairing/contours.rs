//! Closed edges of a part, from loose lines, arcs and polylines: what hangs together and closes is a contour, and its
//! outer boundary is kept. Open lines (bends, centre marks, hatches, extension lines) end somewhere and fall away.
//!
//! Looks at ends only: lines that merely touch the middle of another one do not close anything.

use std::hash::BuildHasher;

use foldhash::fast::RandomState;
use hashbrown::HashTable;
use hashbrown::hash_table::Entry;

use super::directions::along;
use super::sides::Sides;
use crate::geometry::{Bounds, Point};
use crate::near::floor;

/// Degrees of an arc that one straight piece stands for: 0.0003 of the radius at most beside the arc.
const ARC_STEP: f64 = 3.0;

/// A closed edge: its corners in order, the last joined to the first.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Contour {
    pub(super) corners: Vec<Point>,
    pub(super) bounds: Bounds,
}

impl Contour {
    /// Distance from a point inside to the nearest side; none if the point is outside.
    pub(super) fn clearance(&self, p: Point) -> Option<f64> {
        if !self.bounds.holds(p, 0.0) {
            return None;
        }
        let mut inside = false;
        let mut least = f64::INFINITY;
        let mut from = *self.corners.last()?;
        for &to in &self.corners {
            if (from.y > p.y) != (to.y > p.y)
                && p.x < from.x + (p.y - from.y) / (to.y - from.y) * (to.x - from.x)
            {
                inside = !inside;
            }
            least = least.min(p.distance_to_side(from, to));
            from = to;
        }
        inside.then_some(least)
    }

    /// Distance from a point to the nearest side, from inside or outside.
    pub(super) fn distance(&self, p: Point) -> f64 {
        let before = self.corners.iter().cycle().skip(self.corners.len().saturating_sub(1));
        let sides = before.zip(&self.corners);
        sides.map(|(&from, &to)| p.distance_to_side(from, to)).fold(f64::INFINITY, f64::min)
    }

    /// Whether it lies in another one; they have no point in common, or both would be one.
    pub(super) fn lies_in(&self, other: &Contour) -> bool {
        let within = other.bounds.holds(self.bounds.min, 0.0) && other.bounds.holds(self.bounds.max, 0.0);
        within && self.corners.first().is_some_and(|&corner| other.clearance(corner).is_some())
    }

    /// Area of its box, by which nested contours are told apart.
    pub(super) fn size(&self) -> f64 {
        (self.bounds.max.x - self.bounds.min.x) * (self.bounds.max.y - self.bounds.min.y)
    }
}

/// Lines in the making of contours.
#[derive(Debug)]
pub(super) struct Pieces {
    tolerance: f64,
    points: Vec<Point>,
    /// The first point in each cell of a grid. The cell is worked out from the point again: to hold it too would be most of
    /// what the lines of a large drawing take here.
    cells: HashTable<u32>,
    hasher: RandomState,
    /// For each point the next one in its cell, or itself.
    next: Vec<u32>,
    sides: Vec<(u32, u32)>,
}

/// Lines that there is room for from the beginning: about those of one view.
const USUAL: usize = 256;

impl Pieces {
    /// No lines, with room for as many as a drawing has: a list that grows is moved each time. Ends within `tolerance` of
    /// each other are one.
    pub(super) fn new(tolerance: f64, lines: usize) -> Pieces {
        let room = lines.max(USUAL);
        Pieces {
            tolerance,
            points: Vec::with_capacity(room),
            cells: HashTable::with_capacity(USUAL),
            hasher: RandomState::default(),
            next: Vec::with_capacity(room),
            sides: Vec::with_capacity(room),
        }
    }

    /// A straight line.
    pub(super) fn line(&mut self, from: Point, to: Point) {
        let (a, b) = (self.point(from), self.point(to));
        self.side(a, b);
    }

    /// An arc.
    pub(super) fn arc(&mut self, center: Point, radius: f64, start_deg: f64, sweep_deg: f64) {
        let steps = (sweep_deg / ARC_STEP).ceil().clamp(1.0, 120.0) as u32;
        let mut from = None;
        for d in along(start_deg, sweep_deg, steps).iter() {
            let to = self.point(Point::new(center.x + radius * d.x, center.y + radius * d.y));
            if let Some(from) = from.replace(to) {
                self.side(from, to);
            }
        }
    }

    fn side(&mut self, a: u32, b: u32) {
        if a != b {
            self.sides.push((a, b));
        }
    }

    /// Index of the point that stands for `p`.
    fn point(&mut self, p: Point) -> u32 {
        let width = CELL * self.tolerance;
        let (columns, rows) = (reached(p.x / width), reached(p.y / width));
        // Few points are so near to another cell.
        if !(columns.is_one() && rows.is_one()) {
            for x in columns.cells() {
                for y in rows.cells() {
                    if let Some(known) = self.known(p, (x, y)) {
                        return known;
                    }
                }
            }
        }
        let index = self.points.len() as u32;
        let (own, points) = ((columns.own, rows.own), &self.points);
        let cell_of = |point: &u32| cell(points[*point as usize], width);
        let hash = |cell: Cell| self.hasher.hash_one(cell);
        match self.cells.entry(hash(own), |first| cell_of(first) == own, |first| hash(cell_of(first))) {
            Entry::Vacant(cell) => {
                cell.insert(index);
            }
            Entry::Occupied(cell) => match within(points, &self.next, *cell.get(), p, self.tolerance) {
                Ok(known) => return known,
                Err(last) => self.next[last as usize] = index,
            },
        }
        self.points.push(p);
        self.next.push(index);
        index
    }

    /// The first point of a cell that is within the tolerance of `p`.
    fn known(&self, p: Point, wanted: Cell) -> Option<u32> {
        let width = CELL * self.tolerance;
        let is_wanted = |first: &u32| cell(self.points[*first as usize], width) == wanted;
        let first = *self.cells.find(self.hasher.hash_one(wanted), is_wanted)?;
        within(&self.points, &self.next, first, p, self.tolerance).ok()
    }

    /// The contours, in an order that does not depend on the order of the lines.
    pub(super) fn contours(self) -> Vec<Contour> {
        let joined = Joined::of(self);
        let mut seen = vec![false; joined.points.len()];
        let mut found = Vec::new();
        for start in 0..joined.points.len() {
            if seen[start] || joined.sides.of(start).is_empty() {
                continue;
            }
            let leftmost = joined.mark(start, &mut seen);
            let corners = joined.boundary(leftmost);
            if corners.len() >= 3 {
                let bounds = Bounds::of(corners.iter().copied());
                found.push(Contour { corners, bounds });
            }
        }
        drop((joined, seen));
        found.sort_by(|a, b| {
            let key = |c: &Contour| [c.size(), c.bounds.min.x, c.bounds.min.y];
            let (a, b) = (key(a), key(b));
            a.iter()
                .zip(&b)
                .map(|(x, y)| x.total_cmp(y))
                .find(|o| o.is_ne())
                .unwrap_or(std::cmp::Ordering::Equal)
        });
        found
    }
}

/// Lines joined at their ends, without what hangs loose.
struct Joined {
    points: Vec<Point>,
    sides: Sides,
    /// Sides at most.
    count: usize,
}

impl Joined {
    fn of(pieces: Pieces) -> Joined {
        // Of a large view each part of the pieces is megabytes, so each goes as soon as it has served.
        let Pieces { points, sides: pairs, cells, next, .. } = pieces;
        drop((cells, next));
        let mut sides = Sides::new(points.len(), &pairs);
        sides.prune();
        Joined { points, sides, count: pairs.len() }
    }

    /// Marks all that hangs together with a point; the leftmost, lowest of it.
    fn mark(&self, start: usize, seen: &mut [bool]) -> usize {
        let mut leftmost = start;
        let mut queue = vec![start];
        seen[start] = true;
        while let Some(at) = queue.pop() {
            let (p, l) = (self.points[at], self.points[leftmost]);
            if p.x.total_cmp(&l.x).then(p.y.total_cmp(&l.y)).is_lt() {
                leftmost = at;
            }
            for &next in self.sides.of(at) {
                if !std::mem::replace(&mut seen[next as usize], true) {
                    queue.push(next as usize);
                }
            }
        }
        leftmost
    }

    /// Walks round the outside, counter-clockwise: at each point the first side to the right.
    fn boundary(&self, start: usize) -> Vec<Point> {
        let direction = |from: usize, to: usize| {
            let (a, b) = (self.points[from], self.points[to]);
            (b.y - a.y).atan2(b.x - a.x)
        };
        let next = |at: usize, back: f64| {
            let turn = |to: usize| {
                let turn = (direction(at, to) - back).rem_euclid(std::f64::consts::TAU);
                // Straight back is the last choice.
                if turn <= 1e-12 { std::f64::consts::TAU } else { turn }
            };
            let ends = self.sides.of(at).iter().map(|&to| to as usize);
            ends.min_by(|&a, &b| turn(a).total_cmp(&turn(b)).then(a.cmp(&b)))
        };
        // Left of the leftmost point there is nothing: as if come from there.
        let Some(first) = next(start, std::f64::consts::PI) else { return Vec::new() };
        let mut corners = vec![self.points[start]];
        let (mut from, mut at) = (start, first);
        let most = 2 * self.count + 2;
        while corners.len() <= most {
            let only = self.only_way_on(from, at);
            let Some(to) = only.or_else(|| next(at, direction(at, from))) else { break };
            if at == start && to == first {
                return corners;
            }
            corners.push(self.points[at]);
            (from, at) = (at, to);
        }
        Vec::new()
    }

    /// The other end of the only other side at a point that was come to from `from`, unless it may run straight back.
    /// Nearly all points of a contour are such, and no angle need be taken there.
    fn only_way_on(&self, from: usize, at: usize) -> Option<usize> {
        let &[a, b] = self.sides.of(at) else { return None };
        let to = if a as usize == from { b } else { a } as usize;
        let (p, back, on) = (self.points[at], self.points[from], self.points[to]);
        let (back, on) = ((back.x - p.x, back.y - p.y), (on.x - p.x, on.y - p.y));
        let along = back.0 * on.0 + back.1 * on.1;
        let across = back.0 * on.1 - back.1 * on.0;
        (along < 0.0 || across.abs() > 1e-6 * along).then_some(to)
    }
}

/// The first point of a chain that is within the tolerance of `p`; if there is none, the last of the chain. A cell is a
/// speck of the view, so there are only a few.
fn within(points: &[Point], next: &[u32], first: u32, p: Point, tolerance: f64) -> Result<u32, u32> {
    let mut at = first;
    loop {
        if points[at as usize].distance(p) <= tolerance {
            return Ok(at);
        }
        let following = next[at as usize];
        if following == at {
            return Err(at);
        }
        at = following;
    }
}

/// Tolerances to the side of a cell: few points have another cell within their tolerance, and few share theirs.
const CELL: f64 = 32.0;

/// A cell of the grid: column and row.
type Cell = (i64, i64);

/// The cell that a point lies in.
fn cell(p: Point, width: f64) -> Cell {
    (floor(p.x / width), floor(p.y / width))
}

/// The cell of a grid that a place along one axis lies in, and those in which another place within the tolerance may lie.
struct Reached {
    first: i64,
    own: i64,
    last: i64,
}

impl Reached {
    fn is_one(&self) -> bool {
        self.first == self.last
    }

    fn cells(&self) -> std::ops::RangeInclusive<i64> {
        self.first..=self.last
    }
}

/// The tolerance in cells, and what rounding may add to it: beyond it from its edge another cell is out of reach.
const REACH: f64 = 1.1 / CELL;

fn reached(place: f64) -> Reached {
    let own = floor(place);
    let within = place - own as f64;
    let first = if within > REACH { own } else { own.saturating_sub(1) };
    let last = if within < 1.0 - REACH { own } else { own.saturating_add(1) };
    Reached { first, own, last }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn p(x: f64, y: f64) -> Point {
        Point::new(x, y)
    }

    fn rectangle(pieces: &mut Pieces, x0: f64, y0: f64, x1: f64, y1: f64) {
        let corners = [p(x0, y0), p(x1, y0), p(x1, y1), p(x0, y1), p(x0, y0)];
        for side in corners.windows(2) {
            pieces.line(side[0], side[1]);
        }
    }

    #[test]
    fn a_rectangle_with_loose_lines_is_one_contour() {
        let mut pieces = Pieces::new(0.001, 0);
        rectangle(&mut pieces, 0.0, 0.0, 80.0, 30.0);
        // A bend line from edge to edge, a hatch, an extension line from a corner, and one side drawn twice.
        pieces.line(p(40.0, 0.0), p(40.0, 30.0));
        pieces.line(p(3.0, 2.0), p(9.0, 8.0));
        pieces.line(p(80.0, 30.0), p(80.0, 45.0));
        pieces.line(p(80.0, 0.0), p(0.0, 0.0));
        let contours = pieces.contours();
        assert_eq!(contours.len(), 1);
        assert_eq!(contours[0].corners.len(), 4);
        // By hand: (20, 12) is 12 above the lower side, (75, 20) 5 from the right one.
        assert_eq!(contours[0].clearance(p(20.0, 12.0)), Some(12.0));
        assert_eq!(contours[0].clearance(p(75.0, 20.0)), Some(5.0));
        assert_eq!(contours[0].clearance(p(85.0, 20.0)), None);
    }

    #[test]
    fn a_split_part_has_its_outer_boundary_and_a_pocket_its_own() {
        let mut pieces = Pieces::new(0.001, 0);
        // Two rectangles that share the side at x 40, as a part split along a bend.
        rectangle(&mut pieces, 0.0, 0.0, 40.0, 30.0);
        rectangle(&mut pieces, 40.0, 0.0, 80.0, 30.0);
        rectangle(&mut pieces, 50.0, 10.0, 60.0, 20.0);
        let contours = pieces.contours();
        assert_eq!(contours.len(), 2);
        // The shared side is no edge: 10 to the upper one.
        assert_eq!(contours[1].clearance(p(38.0, 20.0)), Some(10.0));
        assert_eq!(contours[0].clearance(p(52.0, 15.0)), Some(2.0));
    }

    #[test]
    fn round_ends_count_and_ends_that_nearly_meet_close() {
        let mut pieces = Pieces::new(0.01, 0);
        // A slot-shaped plate, 20 wide, half circles at both ends; one end is 0.005 off.
        pieces.line(p(0.0, 10.0), p(50.0, 10.005));
        pieces.line(p(0.0, -10.0), p(50.0, -10.0));
        pieces.arc(p(0.0, 0.0), 10.0, 90.0, 180.0);
        pieces.arc(p(50.0, 0.0), 10.0, -90.0, 180.0);
        let contours = pieces.contours();
        assert_eq!(contours.len(), 1);
        let clearance = contours[0].clearance(p(-4.0, 0.0)).unwrap();
        assert!((clearance - 6.0).abs() < 0.005, "{clearance}");
    }

    #[test]
    fn an_open_outline_is_none() {
        let mut pieces = Pieces::new(0.001, 0);
        for side in [p(0.0, 0.0), p(80.0, 0.0), p(80.0, 30.0), p(0.0, 30.0)].windows(2) {
            pieces.line(side[0], side[1]);
        }
        assert_eq!(pieces.contours(), []);
    }
}
