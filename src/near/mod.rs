//! A spatial index over discs: which of them have their rim or inside near a point. Knows nothing of drawings.

pub(crate) mod cells;

use crate::geometry::{Bounds, Point};
use cells::{Cells, MOST_LOOKED_AT};

/// Discs, bucketed by size so that a sheet of small holes inside one large outline stays quick to search.
#[derive(Debug, Default)]
pub struct Near {
    levels: Vec<Level>,
    /// Those of a level together, and of these those of a cell.
    discs: Vec<Disc>,
}

/// A disc, and which of those given it is.
#[derive(Debug, Clone, Copy)]
struct Disc {
    center: Point,
    radius: f64,
    index: u32,
}

impl Disc {
    /// Whether its rim or inside lies within `reach` of `p`.
    fn reaches(&self, p: Point, reach: f64) -> bool {
        self.center.distance(p) - self.radius <= reach
    }
}

/// The discs of about one size, by the cells of a grid. It has about as many cells as discs.
#[derive(Debug)]
struct Level {
    max_radius: f64,
    cells: Cells,
    /// Where its discs begin.
    begin: usize,
}

impl Near {
    /// Builds the index; the order of `discs`, centres and radii, is the order of the answers.
    pub fn new<D>(discs: D) -> Near
    where
        D: IntoIterator<Item = (Point, f64), IntoIter: Clone>,
    {
        let given = discs.into_iter();
        // The sizes in the order in which they come, and where the discs of each end.
        let mut sizes: Vec<(i32, usize)> = Vec::new();
        let mut last = 0;
        let size_of = given.clone().map(|(_, radius)| {
            let size = exponent(radius);
            if sizes.get(last).is_none_or(|(known, _)| *known != size) {
                last = sizes.iter().position(|(known, _)| *known == size).unwrap_or(sizes.len());
            }
            if last == sizes.len() {
                sizes.push((size, 0));
            }
            sizes[last].1 += 1;
            last as u16
        });
        let size_of: Vec<u16> = size_of.collect();
        let mut next = Vec::with_capacity(sizes.len());
        let mut end = 0;
        for (_, count) in &mut sizes {
            next.push(end);
            end += *count;
            *count = end;
        }
        // Those of a size together: there are too many of some drawings' lines to hold them twice.
        let mut discs = vec![Disc { center: Point::new(0.0, 0.0), radius: 0.0, index: 0 }; end];
        for (((center, radius), index), size) in given.zip(0..).zip(size_of) {
            let place = &mut next[usize::from(size)];
            discs[*place] = Disc { center, radius, index };
            *place += 1;
        }
        let mut start = 0;
        let level = |(size, end): (i32, usize)| {
            let begin = std::mem::replace(&mut start, end);
            Level::new(size, begin, &mut discs[begin..end])
        };
        let levels = sizes.into_iter().map(level).collect();
        Near { levels, discs }
    }

    /// Discs whose rim or inside lies within `reach` of `p`, in index order.
    pub fn within(&self, p: Point, reach: f64) -> Vec<usize> {
        let mut found = Vec::new();
        self.any_within(p, reach, |i| {
            found.push(i);
            false
        });
        found.sort_unstable();
        found
    }

    /// Whether one of the discs whose rim or inside lies within `reach` of `p` is `wanted`. They are asked about in no
    /// certain order, and none after the first that is.
    pub fn any_within(&self, p: Point, reach: f64, mut wanted: impl FnMut(usize) -> bool) -> bool {
        let mut passed_over = |disc: &Disc| !(disc.reaches(p, reach) && wanted(disc.index as usize));
        !self
            .levels
            .iter()
            .all(|level| level.search(&self.discs, p, reach + level.max_radius, &mut passed_over))
    }

    /// As [`Near::within`], where a crowd says nothing: none if there are more than `most`, or if so many had to be looked
    /// at that there may be. Found by a drawing that laid half a million lines over each other under its texts.
    pub fn few_within(&self, p: Point, reach: f64, most: usize) -> Option<Vec<usize>> {
        let mut found = Vec::new();
        let mut looked_at = 0;
        let few = self.levels.iter().all(|level| {
            level.search(&self.discs, p, reach + level.max_radius, |disc| {
                looked_at += 1;
                if disc.reaches(p, reach) {
                    found.push(disc.index as usize);
                }
                found.len() <= most && looked_at <= MOST_LOOKED_AT
            })
        });
        found.sort_unstable();
        few.then_some(found)
    }

    /// Discs whose centre lies within `reach` of `p`, in index order.
    pub fn centres_within(&self, p: Point, reach: f64) -> Vec<usize> {
        let mut found = Vec::new();
        self.any_centre_within(p, reach, |i| {
            found.push(i);
            false
        });
        found.sort_unstable();
        found
    }

    /// Whether one of the discs whose centre lies within `reach` of `p` is `wanted`; asked as in [`Near::any_within`].
    pub fn any_centre_within(&self, p: Point, reach: f64, mut wanted: impl FnMut(usize) -> bool) -> bool {
        let mut passed_over =
            |disc: &Disc| !(disc.center.distance(p) <= reach && wanted(disc.index as usize));
        !self.levels.iter().all(|level| level.search(&self.discs, p, reach, &mut passed_over))
    }
}

impl Level {
    /// Puts discs, none of which is larger than two to the power of `size` and the first of which is the one at `begin`, in
    /// the order of their cells. Of centres that are no numbers, which nothing is near to, there is one cell.
    fn new(size: i32, begin: usize, discs: &mut [Disc]) -> Level {
        let max_radius = 2f64.powi(size);
        let mut least = Point::new(f64::INFINITY, f64::INFINITY);
        let mut most = Point::new(f64::NEG_INFINITY, f64::NEG_INFINITY);
        // Not `f64::min`: a centre that is no number is smaller than nothing, and this is one instruction.
        for Disc { center, .. } in &*discs {
            least.x = if center.x < least.x { center.x } else { least.x };
            least.y = if center.y < least.y { center.y } else { least.y };
            most.x = if center.x > most.x { center.x } else { most.x };
            most.y = if center.y > most.y { center.y } else { most.y };
        }
        let (width, height) = ((most.x - least.x).max(0.0), (most.y - least.y).max(0.0));
        // The spacing that an even spread would have, with no more rows or columns than four times those of a square, or a
        // wide search would see more of them than discs: about as many cells as discs.
        let share = (discs.len() as f64).sqrt();
        let spread = ((width * height).sqrt() / share).max(width.max(height) / (4.0 * share));
        // No less than two diameters to a cell: plates carry holes a few diameters apart.
        let cells_per_unit = (max_radius * 4.0).max(spread).recip();
        let around = Bounds { min: least, max: most };
        let (cells, mut list) = Cells::new(around, cells_per_unit, discs.iter().map(|disc| disc.center));
        // Each goes to its place, and the one that stood there on to its own.
        for i in 0..discs.len() {
            while list[i] as usize != i {
                let place = list[i] as usize;
                discs.swap(i, place);
                list.swap(i, place);
            }
        }
        Level { max_radius, cells, begin }
    }

    /// Shows the discs of the cells within `reach` of `p` to `visit`, until that answers false; whether it never did. `discs`
    /// are those of all levels.
    fn search(&self, discs: &[Disc], p: Point, reach: f64, mut visit: impl FnMut(&Disc) -> bool) -> bool {
        let (low, high) = (Point::new(p.x - reach, p.y - reach), Point::new(p.x + reach, p.y + reach));
        let own = &discs[self.begin..];
        self.cells.reached(low, high).all(|range| own[range].iter().all(&mut visit))
    }
}

/// The power of two that a radius is no larger than.
fn exponent(radius: f64) -> i32 {
    let bits = radius.max(1e-9).to_bits();
    let whole_power = bits.trailing_zeros() >= f64::MANTISSA_DIGITS - 1;
    (bits >> (f64::MANTISSA_DIGITS - 1)) as i32 - (f64::MAX_EXP - 1) + i32::from(!whole_power)
}

/// The largest whole number that is no larger, as `f64::floor` gives it, without its call.
pub(crate) fn floor(value: f64) -> i64 {
    let whole = value as i64;
    if whole as f64 > value { whole.saturating_sub(1) } else { whole }
}

/// Numbers from 0 to 1 without an order that shows, the same each time.
#[cfg(test)]
pub(crate) fn random() -> impl FnMut() -> f64 {
    let mut state = 1_u32;
    move || {
        state = state.wrapping_mul(1_664_525).wrapping_add(1_013_904_223);
        f64::from(state >> 8) / f64::from(1 << 24)
    }
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
        let mut random = random();
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
