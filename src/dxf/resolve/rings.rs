//! LINEs of like length that join end to end to rings, in any order of the file and drawn in either direction. Whether
//! a ring stands for a circle is decided elsewhere.
//!
//! Time and memory grow with the number of lines only: a grid over their ends finds the next line, each line is walked
//! over once, and a look-up gives up after [`MAX_JOINED_ENDS`].

use std::ops::Range;

use super::polygons::FEWEST_SIDES;
use crate::drawing::{Segment, SpaceId};
use crate::dxf::bounds::MAX_JOINED_ENDS;
use crate::geometry::Point;

/// How far ends may lie apart and still join, relative to the side.
const JOINT: f64 = 0.005;

/// How far ends lie apart at most that are one point but for rounding, relative to the side. Such a joint goes before
/// a wider one: where copies of a ring lie almost over each other, each keeps to its own sides.
const SNUG: f64 = 1e-6;

/// How far sides of one ring may differ, relative to the first.
const LIKE: f64 = 0.2;

/// Width of a cell of the grid over the power of two below the length of the lines in it. A joint then mostly lies in one
/// cell, and the other ends of the lines that join there in others.
const CELL: f64 = 24.0 * JOINT;

/// Cosine of the sharpest turn from one side to the next: 22.5° of sixteen sides, with room for uneven ones.
const SHARPEST_TURN_COS: f64 = 0.866;

/// Steps for each line, on the average, after which no line is walked over again.
const MOST_STEPS_PER_LINE: usize = 8;

/// Buckets of a histogram of squared lengths: the exponent and four more bits of the number.
const BUCKETS: u16 = 1 << 15;

/// Sectors of 30° over half a turn: a ring of sixteen sides has some in each, which the lines of tables, frames and
/// grids have not.
const ALL_SECTORS: u8 = 0b11_1111;
const TAN_30: f64 = 0.577_350_269_189_625_8;
const TAN_60: f64 = 1.732_050_807_568_877_2;

/// Sides of a ring that run along neither axis, at least: no more than a few degrees to either side of an axis are as
/// flat as it, where coordinates are rounded.
const FEWEST_SLANTED: u64 = FEWEST_SIDES as u64 / 2;

/// Buckets beside one that hold lines of like length: the squares of lengths within [`LIKE`] stay within an octave.
const LIKE_BUCKETS: usize = 16;

/// A line of a ring as it is walked along: its index among the segments, and the corner where it begins.
pub(super) type Side = (usize, Point);

/// The rings among the segments of `runs`, each with at least [`FEWEST_SIDES`] sides, that `accept` takes. A line
/// belongs to one ring at most.
pub(super) fn rings<R>(
    segments: &[Segment],
    runs: &[Range<usize>],
    mut accept: impl FnMut(&[Side]) -> Option<R>,
) -> Vec<(Vec<Side>, R)> {
    let lines = alike(segments, runs);
    if lines.len() < FEWEST_SIDES {
        return Vec::new();
    }
    let mut joints = Joints::new(segments, &lines);
    let mut found = Vec::new();
    let mut path = Vec::new();
    let mut steps = 0;
    for i in 0..lines.len() {
        while joints.free[i] {
            let returned_to = joints.walk(i, &mut path);
            let ring = returned_to.map(|first| &path[first..]);
            let taken = ring.filter(|r| r.len() >= FEWEST_SIDES).and_then(|ring| {
                let sides: Vec<Side> = ring.iter().map(|(n, p)| (lines[*n], *p)).collect();
                accept(&sides).map(|result| (sides, result))
            });
            // What led into a ring may belong to another one; what led nowhere, or around no circle, is done with.
            steps += path.len();
            let only_ring = taken.is_some() && steps <= MOST_STEPS_PER_LINE * lines.len();
            let done = ring.filter(|_| only_ring).unwrap_or(&path);
            for (n, _) in done {
                joints.free[*n] = false;
            }
            found.extend(taken);
        }
    }
    found
}

/// The segments that have enough others of like length to be a side of a ring.
fn alike(segments: &[Segment], runs: &[Range<usize>]) -> Vec<usize> {
    let count: usize = runs.iter().map(ExactSizeIterator::len).sum();
    if count < FEWEST_SIDES {
        return Vec::new();
    }
    if !run_everywhere(segments, runs) {
        return Vec::new();
    }
    let lines = runs.iter().flat_map(|run| &segments[run.clone()]);
    let slanted: Vec<(u16, u8)> =
        lines.filter(|line| is_slanted(line)).map(|line| (bucket(line), sector(line))).collect();
    let (least, of_sides) = lengths_of_sides(&slanted);
    if !of_sides.contains(&true) {
        return Vec::new();
    }
    let like = |i: &usize| {
        let at = bucket(&segments[*i]).checked_sub(least);
        at.is_some_and(|at| of_sides.get(usize::from(at)) == Some(&true))
    };
    runs.iter().cloned().flatten().filter(like).collect()
}

/// Whether there are slanted lines in all directions. The lines of most drawings run along two or three.
fn run_everywhere(segments: &[Segment], runs: &[Range<usize>]) -> bool {
    let mut sectors = 0;
    for run in runs {
        for line in &segments[run.clone()] {
            if is_slanted(line) {
                sectors |= 1 << sector(line);
                if sectors == ALL_SECTORS {
                    return true;
                }
            }
        }
    }
    false
}

/// Whether a line runs along neither axis, as most lines of most drawings do and few sides of a ring.
fn is_slanted(line: &Segment) -> bool {
    line.from.x != line.to.x && line.from.y != line.to.y
}

/// A bucket, and for each from it on whether there are so many slanted lines of like length in all directions that a line
/// of its length may be a side of a ring with them.
fn lengths_of_sides(slanted: &[(u16, u8)]) -> (u16, Vec<bool>) {
    // The lengths of a drawing fill few of the buckets that there are.
    let ends = |(least, most): (u16, u16), line: &(u16, u8)| (least.min(line.0), most.max(line.0));
    let (least, most) = slanted.iter().fold((u16::MAX, 0), ends);
    let least = least.saturating_sub(LIKE_BUCKETS as u16);
    let buckets = usize::from(most.saturating_sub(least)) + 1 + LIKE_BUCKETS;
    // How many lines of each length there are, and in which sectors of direction.
    let mut histogram = vec![(0_u32, 0_u8); buckets];
    for (length, sector) in slanted {
        let at = usize::from(length - least);
        histogram[at].0 += 1;
        histogram[at].1 |= 1 << sector;
    }
    let mut of_sides = vec![false; buckets];
    for at in (0..buckets).filter(|at| histogram[*at].0 > 0) {
        let like = at.saturating_sub(LIKE_BUCKETS)..(at + LIKE_BUCKETS + 1).min(buckets);
        let sum = |sum: (u64, u8), line: &(u32, u8)| (sum.0 + u64::from(line.0), sum.1 | line.1);
        let (count, sectors) = histogram[like.clone()].iter().fold((0, 0), sum);
        if count >= FEWEST_SLANTED && sectors == ALL_SECTORS {
            of_sides[like].fill(true);
        }
    }
    (least, of_sides)
}

/// The bucket of a line's length.
fn bucket(segment: &Segment) -> u16 {
    let (dx, dy) = (segment.to.x - segment.from.x, segment.to.y - segment.from.y);
    // The square of a length has no sign, so that this is below BUCKETS.
    ((dx * dx + dy * dy).to_bits() >> 48) as u16 & (BUCKETS - 1)
}

/// The sector of 30° in which a line runs, either way.
fn sector(segment: &Segment) -> u8 {
    let (dx, dy) = (segment.to.x - segment.from.x, segment.to.y - segment.from.y);
    let (across, up) = (dx.abs(), dy.abs());
    let third = u8::from(up > TAN_30 * across) + u8::from(up > TAN_60 * across);
    if dx * dy < 0.0 { 5 - third } else { third }
}

/// A line with its length.
#[derive(Clone, Copy)]
struct Line {
    ends: [Point; 2],
    length: f64,
    /// Space and visibility, which the sides of a ring share.
    place: (SpaceId, bool),
}

/// A grid over the ends of lines, as lists in two arrays: the first end of each cell and the next one of each end.
struct Joints {
    lines: Vec<Line>,
    /// Not yet in a ring, and not yet known to be in none.
    free: Vec<bool>,
    first: Vec<u32>,
    /// The end `2 n` is the start of line `n`, `2 n + 1` its other end.
    next: Vec<u32>,
    /// Where in the walk that goes on a line stands, by the number of the walk.
    walked: Vec<(u32, u32)>,
    walks: u32,
}

/// No end.
const NONE: u32 = u32::MAX;

/// A line that goes on, its end at the joint, and the sine of the turn.
type Next = (usize, usize, f64);

impl Joints {
    fn new(segments: &[Segment], lines: &[usize]) -> Self {
        let line = |s: &Segment| Line {
            ends: [s.from, s.to],
            length: s.from.distance(s.to),
            place: (s.origin.space, s.origin.visible),
        };
        let lines: Vec<Line> = lines.iter().map(|i| line(&segments[*i])).collect();
        let count = lines.len();
        let mut joints = Joints {
            lines,
            free: vec![true; count],
            first: vec![NONE; (2 * count).next_power_of_two()],
            next: vec![NONE; 2 * count],
            walked: vec![(0, 0); count],
            walks: 0,
        };
        for n in 0..count {
            let level = level(joints.lines[n].length);
            for end in 0..2 {
                let cell = cell(joints.end(n, end), level);
                let slot = joints.slot(cell, level);
                joints.next[2 * n + end] = std::mem::replace(&mut joints.first[slot], (2 * n + end) as u32);
            }
        }
        joints
    }

    fn end(&self, line: usize, end: usize) -> Point {
        self.lines[line].ends[end]
    }

    fn slot(&self, (x, y): (i64, i64), level: i32) -> usize {
        let mixed = (x as u64).wrapping_mul(0x9E37_79B9_7F4A_7C15)
            ^ (y as u64).wrapping_mul(0xC2B2_AE3D_27D4_EB4F)
            ^ (level as u64).wrapping_mul(0x1656_67B1_9E37_79F9);
        (mixed ^ (mixed >> 29)).wrapping_mul(0xBF58_476D_1CE4_E5B9) as usize >> 20 & (self.first.len() - 1)
    }

    /// Follows lines from `start` until they come back to one of them or go no further. `sides` becomes the way; the place
    /// in it to which it came back, if it did.
    fn walk(&mut self, start: usize, sides: &mut Vec<Side>) -> Option<usize> {
        self.walks += 1;
        let Line { length, ends, .. } = self.lines[start];
        let (mut line, mut corner, mut at) = (start, ends[0], ends[1]);
        sides.clear();
        let mut turned = 0.0;
        loop {
            self.walked[line] = (self.walks, sides.len() as u32);
            sides.push((line, corner));
            let usual = turned / sides.len() as f64;
            let (next, end, turn) = self.follow(line, (corner, at), length, usual)?;
            turned += turn;
            let (walk, place) = self.walked[next];
            if walk == self.walks {
                return Some(place as usize);
            }
            (line, corner, at) = (next, at, self.end(next, 1 - end));
        }
    }

    /// The line that goes on at the end of a side: of like length, and turning as much as the others do.
    fn follow(&self, line: usize, (from, to): (Point, Point), length: f64, usual: f64) -> Option<Next> {
        let place = self.lines[line].place;
        let reach = JOINT * length;
        // How well it goes on: wider joints after snug ones, then the turn that differs least from the usual one. Of lines
        // drawn twice the first, so that a walk keeps to one of two copies of a ring.
        let mut best: Option<((bool, f64, usize), Next)> = None;
        let mut looked_at = 0;
        for level in level(length * (1.0 - LIKE))..=level(length * (1.0 + LIKE)) {
            let low = cell(Point::new(to.x - reach, to.y - reach), level);
            let high = cell(Point::new(to.x + reach, to.y + reach), level);
            // Far from the origin the grid has no more cells to tell apart; one is enough then.
            let across = |low: i64, high: i64| low..=high.min(low.saturating_add(2));
            for x in across(low.0, high.0) {
                for y in across(low.1, high.1) {
                    let mut end = self.first[self.slot((x, y), level)];
                    while end != NONE && looked_at < MAX_JOINED_ENDS {
                        looked_at += 1;
                        let (next, which) = (end as usize / 2, end as usize % 2);
                        end = self.next[end as usize];
                        let Line { ends, length: other, place: there } = self.lines[next];
                        let gap = ends[which].distance(to);
                        let fits = next != line
                            && self.free[next]
                            && (other - length).abs() <= LIKE * length
                            && gap <= reach
                            && there == place;
                        if !fits {
                            continue;
                        }
                        let turn = turn((from, to), (ends[which], ends[1 - which]));
                        if let Some(turn) = turn {
                            let rank = (gap > SNUG * length, (turn - usual).abs(), next);
                            if best.is_none_or(|(known, _)| rank < known) {
                                best = Some((rank, (next, which, turn)));
                            }
                        }
                    }
                }
            }
        }
        best.map(|(_, found)| found)
    }
}

/// The power of two below a length.
fn level(length: f64) -> i32 {
    ((length.to_bits() >> 52) & 0x7FF) as i32 - 1023
}

/// The whole number below, without the call that rounding down is on a plain processor. A cast keeps within the range of
/// the type.
fn floor(value: f64) -> i64 {
    let cut = value as i64;
    cut.saturating_sub(i64::from(cut as f64 > value))
}

fn cell(p: Point, level: i32) -> (i64, i64) {
    // 2 to the power of -level, from its bits: this is asked for every end of every line.
    let per_width = f64::from_bits(u64::from((1023 - level).clamp(1, 2046) as u32) << 52) / CELL;
    (floor(p.x * per_width), floor(p.y * per_width))
}

/// The sine of the turn from one side to the next; none where it is too sharp for a ring of enough sides.
fn turn((a, b): (Point, Point), (c, d): (Point, Point)) -> Option<f64> {
    let (u, v) = ((b.x - a.x, b.y - a.y), (d.x - c.x, d.y - c.y));
    let product = ((u.0 * u.0 + u.1 * u.1) * (v.0 * v.0 + v.1 * v.1)).sqrt();
    let (dot, cross) = (u.0 * v.0 + u.1 * v.1, u.0 * v.1 - u.1 * v.0);
    (product > 0.0 && dot >= SHARPEST_TURN_COS * product).then_some(cross / product)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::drawing::{Origin, Stands};

    fn line(from: Point, to: Point) -> Segment {
        let origin = Origin {
            handle: None,
            layer: 0,
            line: 0,
            space: 0,
            visible: true,
            insert: None,
            stands: Stands::Other,
        };
        Segment { origin, from, to }
    }

    /// The sides of a ring whose first corner lies at an angle, with coordinates of three decimals.
    fn ring(sides: usize, radius: f64, first_deg: f64) -> Vec<Segment> {
        let corner = |i: usize| {
            let deg = first_deg + 360.0 * i as f64 / sides as f64;
            let (sin, cos) = deg.to_radians().sin_cos();
            let round = |v: f64| (1000.0 * v).round() / 1000.0;
            Point::new(round(50.0 + radius * cos), round(20.0 + radius * sin))
        };
        (0..sides).map(|i| line(corner(i), corner(i + 1))).collect()
    }

    /// How many sides the rings have that are found.
    fn found(segments: &[Segment]) -> Vec<usize> {
        let all = 0..segments.len();
        rings(segments, std::slice::from_ref(&all), |sides| Some(sides.len()))
            .into_iter()
            .map(|(_, sides)| sides)
            .collect()
    }

    // With half a side between its first corner and the axis, a ring has four sides along the axes.
    #[test]
    fn a_ring_is_found_whether_or_not_sides_of_it_run_along_the_axes() {
        for (sides, first_deg) in [(16, 0.0), (16, 11.25), (16, 4.0), (64, 0.0), (64, 2.8125)] {
            let mut segments = ring(sides, 3.0, first_deg);
            let along = segments.iter().filter(|side| !is_slanted(side)).count();
            assert_eq!(along, if [11.25, 2.8125].contains(&first_deg) { 4 } else { 0 });
            assert_eq!(found(&segments), [sides]);
            // Among lines along the axes, which lead nowhere, and a line in each direction.
            segments.extend((0..40).map(|i| line(Point::new(i.into(), 0.0), Point::new(i.into(), 1.2))));
            segments.extend((0..12).map(|i| {
                let (sin, cos) = f64::to_radians(15.0 * f64::from(i) + 3.0).sin_cos();
                line(Point::new(90.0, 90.0), Point::new(90.0 + 70.0 * cos, 90.0 + 70.0 * sin))
            }));
            assert_eq!(found(&segments), [sides]);
        }
    }

    // Wherever its corners lie in the grid. A walk once changed from one copy to the other, and went round twice.
    #[test]
    fn a_ring_drawn_twice_is_two_rings() {
        for step in 0..60 {
            for snug in [true, false] {
                let mut segments = ring(48, 7.0 + 0.37 * f64::from(step), 0.1);
                let shift = if snug { 0.0 } else { 1e-4 * segments[0].from.x };
                segments.extend(segments.clone().iter().map(|side| Segment {
                    from: Point::new(side.from.x + shift, side.from.y),
                    to: Point::new(side.to.x + shift, side.to.y),
                    ..*side
                }));
                assert_eq!(found(&segments), [48, 48], "{step} {snug}");
            }
        }
    }

    #[test]
    fn lines_in_all_directions_but_of_other_lengths_are_looked_at_no_further() {
        let of_length = |i: u32| {
            let (sin, cos) = f64::to_radians(11.0 * f64::from(i) + 3.0).sin_cos();
            let length = 3_f64.powi(i as i32 % 9);
            line(Point::default(), Point::new(length * cos, length * sin))
        };
        let segments: Vec<Segment> = (0..36).map(of_length).collect();
        assert!(alike(&segments, std::slice::from_ref(&(0..36))).is_empty());
    }

    #[test]
    fn rounding_down_is_that_of_the_standard_library() {
        for value in [0.0, -0.0, 0.5, -0.5, 7.0, -7.0, 1e15 + 0.5, -1e15 - 0.5, 1e150, -1e150, f64::NAN] {
            assert_eq!(floor(value), value.floor() as i64, "{value}");
        }
    }
}
