//! A spatial index over discs: which of them have their rim or inside near a point. Knows nothing of drawings.

use std::collections::HashMap;

use crate::geometry::{Bounds, Point};

/// Most discs that are looked at where a crowd says nothing; the densest sheets have a few hundred round a text.
const MOST_LOOKED_AT: usize = 20_000;

/// Discs, bucketed by size so that a sheet of small holes inside one large outline stays quick to search.
#[derive(Debug, Default)]
pub(super) struct Near {
    discs: Vec<(Point, f64)>,
    levels: Vec<Level>,
}

#[derive(Debug)]
struct Level {
    cell: f64,
    max_radius: f64,
    /// Cell and disc, sorted: a row of cells is found by one search, and building it takes no memory for each cell.
    members: Vec<((i64, i64), u32)>,
}

impl Near {
    /// Builds the index; the order of `discs` is the order of the answers.
    pub(super) fn new(discs: Vec<(Point, f64)>) -> Near {
        let mut by_level: HashMap<i32, Vec<u32>> = HashMap::new();
        for (i, (_, radius)) in discs.iter().enumerate() {
            let level = radius.max(1e-9).log2().ceil() as i32;
            by_level.entry(level).or_default().push(i as u32);
        }
        let mut keys: Vec<i32> = by_level.keys().copied().collect();
        keys.sort_unstable();
        let mut levels = Vec::with_capacity(keys.len());
        for key in keys {
            let members = by_level.remove(&key).unwrap_or_default();
            let max_radius = 2f64.powi(key);
            // Several hole diameters to a cell: plates carry holes a few diameters apart. Points and specks get the
            // spacing that an even spread would have, or every search would see more cells than members.
            let spacing = extent(&discs, &members) / (members.len() as f64).sqrt();
            let cell = (max_radius * 8.0).max(spacing);
            let mut members: Vec<_> =
                members.into_iter().map(|m| (cell_of(discs[m as usize].0, cell), m)).collect();
            members.sort_unstable();
            levels.push(Level { cell, max_radius, members });
        }
        Near { discs, levels }
    }

    /// Discs whose rim or inside lies within `reach` of `p`, in index order.
    pub(super) fn within(&self, p: Point, reach: f64) -> Vec<usize> {
        let mut found = Vec::new();
        for level in &self.levels {
            self.search(level, p, reach + level.max_radius, |this, i| {
                let (center, radius) = this.discs[i];
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
            self.search(level, p, reach + level.max_radius, |this, i| {
                let (center, radius) = this.discs[i];
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
            self.search(level, p, reach, |this, i| {
                if this.discs[i].0.distance(p) <= reach {
                    found.push(i);
                }
                true
            });
        }
        found.sort_unstable();
        found
    }

    /// Shows the discs of the cells within `reach` to `visit`, until that answers false.
    fn search(&self, level: &Level, p: Point, reach: f64, mut visit: impl FnMut(&Near, usize) -> bool) {
        let (x0, y0) = cell_of(Point::new(p.x - reach, p.y - reach), level.cell);
        let (x1, y1) = cell_of(Point::new(p.x + reach, p.y + reach), level.cell);
        let rows = x1.saturating_sub(x0) as f64 + 1.0;
        if rows > level.members.len() as f64 {
            level.members.iter().all(|&(_, m)| visit(self, m as usize));
            return;
        }
        for x in x0..=x1 {
            let start = level.members.partition_point(|(cell, _)| *cell < (x, y0));
            let row = level.members[start..].iter().take_while(|(cell, _)| *cell <= (x, y1));
            for &(_, m) in row {
                if !visit(self, m as usize) {
                    return;
                }
            }
        }
    }
}

/// The longer side of the box round the centres of `members`.
fn extent(discs: &[(Point, f64)], members: &[u32]) -> f64 {
    let mut bounds = Bounds::EMPTY;
    for &m in members {
        bounds.add(discs[m as usize].0);
    }
    (bounds.max.x - bounds.min.x).max(bounds.max.y - bounds.min.y)
}

fn cell_of(p: Point, cell: f64) -> (i64, i64) {
    (floor(p.x / cell), floor(p.y / cell))
}

/// The largest whole number that is no larger, as `f64::floor` gives it, without its call.
fn floor(value: f64) -> i64 {
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
