//! A spatial index over discs: which of them have their rim or inside near a point. Knows nothing of drawings.

use crate::geometry::{Bounds, Point};

/// Most discs that are looked at where a crowd says nothing; the densest sheets have a few hundred round a text.
const MOST_LOOKED_AT: usize = 20_000;

/// Discs, bucketed by size so that a sheet of small holes inside one large outline stays quick to search.
#[derive(Debug, Default)]
pub(super) struct Near {
    discs: Vec<(Point, f64)>,
    levels: Vec<Level>,
}

/// The discs of about one size, by the cells of a grid. It has about as many cells as discs.
#[derive(Debug)]
struct Level {
    cell: f64,
    max_radius: f64,
    /// The first cell that holds a disc, and the last one, along both axes.
    first: (i64, i64),
    last: (i64, i64),
    /// Where the discs of each cell begin in `members`, row by row; one more for the end.
    starts: Vec<u32>,
    members: Vec<u32>,
}

impl Near {
    /// Builds the index; the order of `discs` is the order of the answers.
    pub(super) fn new(discs: Vec<(Point, f64)>) -> Near {
        let mut by_size: Vec<(i32, Vec<u32>)> = Vec::new();
        for (i, (_, radius)) in discs.iter().enumerate() {
            let size = exponent(*radius);
            match by_size.iter_mut().find(|(known, _)| *known == size) {
                Some((_, members)) => members.push(i as u32),
                None => by_size.push((size, vec![i as u32])),
            }
        }
        let levels =
            by_size.iter().map(|(size, members)| Level::new(2f64.powi(*size), members, &discs)).collect();
        Near { discs, levels }
    }

    /// Discs whose rim or inside lies within `reach` of `p`, in index order.
    pub(super) fn within(&self, p: Point, reach: f64) -> Vec<usize> {
        let mut found = Vec::new();
        for level in &self.levels {
            level.search(p, reach + level.max_radius, |i| {
                let (center, radius) = self.discs[i];
                if center.distance(p) - radius <= reach {
                    found.push(i);
                }
                true
            });
        }
        found.sort_unstable();
        found
    }

    /// As [`Near::within`], where a crowd says nothing: none if there are more than `most`, or if so many had to be looked
    /// at that there may be. Found by a drawing that laid half a million lines over each other under its texts.
    pub(super) fn few_within(&self, p: Point, reach: f64, most: usize) -> Option<Vec<usize>> {
        let mut found = Vec::new();
        let mut looked_at = 0;
        for level in &self.levels {
            level.search(p, reach + level.max_radius, |i| {
                let (center, radius) = self.discs[i];
                looked_at += 1;
                if center.distance(p) - radius <= reach {
                    found.push(i);
                }
                found.len() <= most && looked_at <= MOST_LOOKED_AT
            });
        }
        found.sort_unstable();
        (found.len() <= most && looked_at <= MOST_LOOKED_AT).then_some(found)
    }

    /// Discs whose centre lies within `reach` of `p`, in index order.
    pub(super) fn centres_within(&self, p: Point, reach: f64) -> Vec<usize> {
        let mut found = Vec::new();
        for level in &self.levels {
            level.search(p, reach, |i| {
                if self.discs[i].0.distance(p) <= reach {
                    found.push(i);
                }
                true
            });
        }
        found.sort_unstable();
        found
    }
}

impl Level {
    /// The discs `members`, none of which is larger than `max_radius`.
    fn new(max_radius: f64, members: &[u32], discs: &[(Point, f64)]) -> Level {
        let center = |m: u32| discs[m as usize].0;
        let bounds = Bounds::of(members.iter().map(|&m| center(m)));
        // Of centres that are no numbers, which nothing is near to, there is no box.
        let bounds = if bounds.is_empty() { Bounds::of([Point::default()]) } else { bounds };
        let extent = (bounds.max.x - bounds.min.x).max(bounds.max.y - bounds.min.y);
        // Several hole diameters to a cell: plates carry holes a few diameters apart. Points and specks get the
        // spacing that an even spread would have, or every search would see more cells than members.
        let cell = (max_radius * 8.0).max(extent / (members.len() as f64).sqrt());
        let (first, last) = (cell_of(bounds.min, cell), cell_of(bounds.max, cell));
        let mut level = Level { cell, max_radius, first, last, starts: Vec::new(), members: Vec::new() };
        // Counted, then put in place: the same as sorting by cell, in one step a disc.
        let cells: Vec<u32> =
            members.iter().map(|&m| level.index(level.clamped(cell_of(center(m), cell)))).collect();
        let rows = (last.1 - first.1) as usize + 1;
        level.starts = vec![0; rows * level.columns() + 1];
        for &at in &cells {
            level.starts[at as usize + 1] += 1;
        }
        for at in 1..level.starts.len() {
            level.starts[at] += level.starts[at - 1];
        }
        let mut next = level.starts.clone();
        level.members = vec![0; members.len()];
        for (&m, at) in members.iter().zip(cells) {
            let place = &mut next[at as usize];
            level.members[*place as usize] = m;
            *place += 1;
        }
        level
    }

    fn columns(&self) -> usize {
        (self.last.0 - self.first.0) as usize + 1
    }

    fn clamped(&self, (x, y): (i64, i64)) -> (i64, i64) {
        (x.clamp(self.first.0, self.last.0), y.clamp(self.first.1, self.last.1))
    }

    /// Place in `starts` of a cell of the grid.
    fn index(&self, (x, y): (i64, i64)) -> u32 {
        ((y - self.first.1) as usize * self.columns() + (x - self.first.0) as usize) as u32
    }

    /// Shows the discs of the cells within `reach` of `p` to `visit`, until that answers false.
    fn search(&self, p: Point, reach: f64, mut visit: impl FnMut(usize) -> bool) {
        let low = cell_of(Point::new(p.x - reach, p.y - reach), self.cell);
        let high = cell_of(Point::new(p.x + reach, p.y + reach), self.cell);
        let outside =
            low.0 > self.last.0 || low.1 > self.last.1 || high.0 < self.first.0 || high.1 < self.first.1;
        if outside {
            return;
        }
        let (low, high) = (self.clamped(low), self.clamped(high));
        for y in low.1..=high.1 {
            let (from, to) = (self.index((low.0, y)) as usize, self.index((high.0, y)) as usize + 1);
            for &m in &self.members[self.starts[from] as usize..self.starts[to] as usize] {
                if !visit(m as usize) {
                    return;
                }
            }
        }
    }
}

/// The power of two that a radius is no larger than.
fn exponent(radius: f64) -> i32 {
    let bits = radius.max(1e-9).to_bits();
    let whole_power = bits.trailing_zeros() >= f64::MANTISSA_DIGITS - 1;
    (bits >> (f64::MANTISSA_DIGITS - 1)) as i32 - (f64::MAX_EXP - 1) + i32::from(!whole_power)
}

fn cell_of(p: Point, cell: f64) -> (i64, i64) {
    (floor(p.x / cell), floor(p.y / cell))
}

/// The largest whole number that is no larger, as `f64::floor` gives it, without its call.
pub(super) fn floor(value: f64) -> i64 {
    let whole = value as i64;
    if whole as f64 > value { whole.saturating_sub(1) } else { whole }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn finds_by_rim_and_by_centre_across_sizes() {
        let near = Near::new(vec![
            (Point::new(0.0, 0.0), 100.0),
            (Point::new(10.0, 0.0), 1.0),
            (Point::new(-90.0, 0.0), 2.0),
        ]);
        // (12,0) is inside the large disc and 1 from the rim of the small one (hand calculation).
        assert_eq!(near.within(Point::new(12.0, 0.0), 1.5), vec![0, 1]);
        assert_eq!(near.within(Point::new(101.0, 0.0), 0.5), Vec::<usize>::new());
        assert_eq!(near.within(Point::new(101.0, 0.0), 1.0), vec![0]);
        assert_eq!(near.centres_within(Point::new(9.0, 0.0), 1.0), vec![1]);
    }

    #[test]
    fn the_size_is_the_next_power_of_two() {
        // 2^2 = 4, 2^3 = 8, 2^-1 = 0.5 (hand calculation).
        for (radius, power) in [(4.0, 2), (4.1, 3), (8.0, 3), (0.5, -1), (0.51, 0), (1.0, 0)] {
            assert_eq!(exponent(radius), power, "{radius}");
        }
        assert!(2f64.powi(exponent(0.0)) < 1e-8);
    }

    #[test]
    fn what_is_no_number_is_near_to_nothing() {
        let far = Point::new(f64::INFINITY, 0.0);
        let near = Near::new(vec![(Point::new(f64::NAN, 1.0), 1.0), (far, 1.0), (Point::new(3.0, 0.0), 1.0)]);
        assert_eq!(near.within(Point::new(1.0, 0.0), 1.0), vec![2]);
        let none = Near::new(vec![(Point::new(f64::NAN, f64::NAN), 0.0)]);
        assert_eq!(none.within(Point::new(0.0, 0.0), 1e9), Vec::<usize>::new());
    }

    // Against looking at each: the same answers for an uneven scatter of discs of many sizes.
    #[test]
    fn finds_what_looking_at_each_finds() {
        let mut seed = 1_u32;
        let mut random = move || {
            seed = seed.wrapping_mul(1_664_525).wrapping_add(1_013_904_223);
            f64::from(seed >> 8) / f64::from(1 << 24)
        };
        let mut scatter = |n: usize| -> Vec<(Point, f64)> {
            (0..n)
                .map(|_| (Point::new(200.0 * random() - 50.0, 9.0 * random()), random().powi(9) * 40.0))
                .collect()
        };
        let discs = scatter(500);
        let near = Near::new(discs.clone());
        for (p, reach) in scatter(300) {
            let each = |far: &dyn Fn(&(Point, f64)) -> f64| -> Vec<usize> {
                (0..discs.len()).filter(|&i| far(&discs[i]) <= reach).collect()
            };
            assert_eq!(near.within(p, reach), each(&|(center, radius)| center.distance(p) - radius));
            assert_eq!(near.centres_within(p, reach), each(&|(center, _)| center.distance(p)));
        }
    }

    #[test]
    fn a_crowd_is_none() {
        let mut discs = vec![(Point::new(1.0, 2.0), 0.0); 30_000];
        discs.push((Point::new(900.0, 900.0), 0.0));
        let near = Near::new(discs);
        assert_eq!(near.few_within(Point::new(1.0, 2.0), 0.5, 50), None);
        assert_eq!(near.few_within(Point::new(1.0, 2.6), 0.5, 50), None);
        assert_eq!(near.few_within(Point::new(900.0, 900.2), 0.5, 50), Some(vec![30_000]));
        let few = Near::new(vec![(Point::new(1.0, 2.0), 0.0), (Point::new(1.2, 2.0), 0.0)]);
        assert_eq!(few.few_within(Point::new(1.0, 2.0), 0.5, 2), Some(vec![0, 1]));
        assert_eq!(few.few_within(Point::new(1.0, 2.0), 0.5, 1), None);
    }
}
