//! Which holes are drawn twice because another view shows them too: a detail, the part from behind, a view at
//! another scale. Compares places and true sizes alone, never callouts.

use std::cell::LazyCell;
use std::ops::Deref;

use super::by_view::ByView;
use super::details::Detail;
use super::scene::{Scene, Spot};
use super::views::Views;
use crate::geometry::{Bounds, Point};
use crate::near::Near;

/// Most comparisons of one drawing, so that a sheet of thousands of like holes stays quick; beyond it no more twins
/// are looked for.
const BUDGET: usize = 2_000_000;
/// Places agree within this part of the hole's diameter.
const PLACE: f64 = 0.05;

/// How the smaller view lies on the larger one.
#[derive(Debug, Clone, Copy)]
struct Turn {
    x: f64,
    y: f64,
}

/// As seen from the same side, and from behind over either axis.
const TURNS: [Turn; 3] = [Turn { x: 1.0, y: 1.0 }, Turn { x: -1.0, y: 1.0 }, Turn { x: 1.0, y: -1.0 }];

impl Turn {
    /// Where a place of the smaller view lies when `from` lies on `to`.
    fn laid(self, place: Point, from: Point, to: Point, ratio: f64) -> Point {
        let (x, y) = (place.x - from.x, place.y - from.y);
        Point::new(to.x + self.x * ratio * x, to.y + self.y * ratio * y)
    }
}

/// For each spot the spot of another view that shows the same hole; none for holes that are shown once, and for the
/// one that the others repeat.
pub(super) fn find(
    spots: &[Spot],
    members: &ByView,
    scales: &[f64],
    views: &Views,
    details: &[Detail],
) -> Vec<Option<usize>> {
    let mut twin = vec![None; spots.len()];
    let all = || (0..members.views()).map(|v| members.of(v).iter().map(|&s| &spots[s]));
    let holes = Holes {
        spots,
        sizes: spots.iter().map(|s| s.drawn / scales[s.view]).collect(),
        boxes: all().map(|here| Bounds::of(here.map(|s| s.at))).collect(),
        widest: all().map(|here| here.map(|s| s.drawn).fold(0.0, f64::max)).collect(),
    };
    // Larger views first: they are what the smaller ones repeat.
    let mut order: Vec<usize> = (0..members.views()).filter(|&v| members.any(v)).collect();
    order.sort_by_key(|&v| (std::cmp::Reverse(members.of(v).len()), v));
    let mut repeats = vec![false; members.views()];
    // Most views have no hole of the other's size, and then nobody looks for places in them.
    let near: Vec<LazyCell<Near, _>> = (0..members.views())
        .map(|v| LazyCell::new(move || Near::new(members.of(v).iter().map(|&s| (spots[s].at, 0.0)))))
        .collect();
    let mut budget = BUDGET;
    for (k, &small) in order.iter().enumerate() {
        let detail = details.iter().find(|d| d.view == small);
        for &large in &order[..k] {
            if repeats[large] || detail.is_some_and(|d| d.of != large) {
                continue;
            }
            let pair = Pair {
                holes: &holes,
                large: View { members: members.of(large), number: large, scale: scales[large] },
                small: View { members: members.of(small), number: small, scale: scales[small] },
                near: &near[large],
                shown: detail.map(|d| d.shows.as_slice()),
                outlines: views
                    .views
                    .get(large)
                    .zip(views.views.get(small))
                    .map(|(l, s)| (l.bounds, s.bounds)),
            };
            if let Some(found) = pair.matched(&mut budget) {
                for (&s, of) in members.of(small).iter().zip(found) {
                    twin[s] = Some(of);
                }
                repeats[small] = true;
                break;
            }
        }
    }
    twin
}

/// All holes, and what is compared of them.
struct Holes<'a> {
    spots: &'a [Spot],
    /// The true diameter of each.
    sizes: Vec<f64>,
    /// The box of the centres of each view, and the largest diameter as drawn.
    boxes: Vec<Bounds>,
    widest: Vec<f64>,
}

/// One of the two views of a pair.
struct View<'a> {
    members: &'a [usize],
    number: usize,
    scale: f64,
}

/// Two views, the smaller as if drawn at the scale of the larger.
struct Pair<'a, N> {
    holes: &'a Holes<'a>,
    large: View<'a>,
    small: View<'a>,
    /// The holes of the larger view by their places.
    near: &'a N,
    /// The rings that the smaller one, a detail, shows of the larger.
    shown: Option<&'a [usize]>,
    /// The boxes round the larger and the smaller view.
    outlines: Option<(Bounds, Bounds)>,
}

impl<N: Deref<Target = Near>> Pair<'_, N> {
    /// For each hole of the smaller view its hole in the larger, if all of them lie on holes of their size. One hole
    /// alone lies on any other of its size, so it is a twin only in a view of another scale, or where the same part is
    /// drawn round it.
    fn matched(&self, budget: &mut usize) -> Option<Vec<usize>> {
        let ratio = self.large.scale / self.small.scale;
        let same_scale = (ratio - 1.0).abs() <= 0.01;
        let first = *self.small.members.first()?;
        let shown = |l: &usize| self.shown.is_none_or(|rings| rings.contains(&self.holes.spots[*l].ring));
        let alike = || self.large.members.iter().copied().filter(|&l| self.same_size(l, first)).filter(shown);
        if self.small.members.len() < 2 {
            return alike().find(|&l| !same_scale || self.same_place(l, first)).map(|l| vec![l]);
        }
        // A little more than a hole may miss the one under it by, so that rounding hides none.
        let reach = 1.01 * PLACE * self.holes.widest[self.small.number] * ratio;
        if !self.is_small_enough(ratio, reach) {
            return None;
        }
        let alike: Vec<usize> = alike().collect();
        let mut found = Vec::new();
        for turn in TURNS {
            for &onto in &alike {
                if !self.lies_inside(turn, ratio, (first, onto), reach) {
                    *budget = budget.checked_sub(1)?;
                    continue;
                }
                found.clear();
                let all = self.laid(turn, ratio, (first, onto), budget, &mut found).is_some();
                if all || *budget == 0 {
                    return all.then_some(found);
                }
            }
        }
        None
    }

    /// Whether the box of the smaller view is no larger than that of the larger view.
    fn is_small_enough(&self, ratio: f64, reach: f64) -> bool {
        let (large, small) = (&self.holes.boxes[self.large.number], &self.holes.boxes[self.small.number]);
        ratio * (small.max.x - small.min.x) <= 1.01 * (large.max.x - large.min.x) + 2.0 * reach
            && ratio * (small.max.y - small.min.y) <= 1.01 * (large.max.y - large.min.y) + 2.0 * reach
    }

    /// Whether the box of the smaller view lies in that of the larger one when its first hole lies on one of the larger.
    fn lies_inside(&self, turn: Turn, ratio: f64, (first, onto): (usize, usize), reach: f64) -> bool {
        let (large, small) = (&self.holes.boxes[self.large.number], &self.holes.boxes[self.small.number]);
        let (from, to) = (self.holes.spots[first].at, self.holes.spots[onto].at);
        [small.min, small.max]
            .into_iter()
            .all(|corner| large.holds(turn.laid(corner, from, to, ratio), reach))
    }

    /// Adds to `found` the holes under those of the smaller view when its first lies on one of the larger; none where one
    /// of them lies on no hole of its size.
    fn laid(
        &self,
        turn: Turn,
        ratio: f64,
        (first, onto): (usize, usize),
        budget: &mut usize,
        found: &mut Vec<usize>,
    ) -> Option<()> {
        let (from, to) = (self.holes.spots[first].at, self.holes.spots[onto].at);
        for &s in self.small.members {
            *budget = budget.checked_sub(1)?;
            if s == first {
                // One surely lies under it; which, is looked up where all others lie on holes too, which is seldom.
                found.push(onto);
                continue;
            }
            found.push(self.under(turn.laid(self.holes.spots[s].at, from, to, ratio), ratio, s)?);
        }
        found[0] = self.under(to, ratio, first)?;
        Some(())
    }

    /// The first hole of the larger view at a place that has the size of one of the smaller view.
    fn under(&self, place: Point, ratio: f64, small: usize) -> Option<usize> {
        let reach = (PLACE * self.holes.spots[small].drawn * ratio).max(f64::MIN_POSITIVE);
        let mut under: Option<usize> = None;
        self.near.any_centre_within(place, reach, |i| {
            if under.is_none_or(|before| i < before) && self.same_size(self.large.members[i], small) {
                under = Some(i);
            }
            false
        });
        under.map(|i| self.large.members[i])
    }

    /// Whether boxes of one size are drawn round both holes and they lie at one place in them, seen from either side.
    fn same_place(&self, large: usize, small: usize) -> bool {
        let Some((a, b)) = &self.outlines else { return false };
        let size = |b: &Bounds| (b.max.x - b.min.x, b.max.y - b.min.y);
        let ((w, h), (x, y)) = (size(a), size(b));
        let reach = PLACE * self.holes.spots[small].drawn;
        let (p, q) = (self.holes.spots[large].at, self.holes.spots[small].at);
        let (left, right) = ((p.x - a.min.x) - (q.x - b.min.x), (a.max.x - p.x) - (q.x - b.min.x));
        let up = (p.y - a.min.y) - (q.y - b.min.y);
        (w - x).abs() <= reach
            && (h - y).abs() <= reach
            && up.abs() <= reach
            && left.abs().min(right.abs()) <= reach
    }

    fn same_size(&self, large: usize, small: usize) -> bool {
        let (a, b) = (self.holes.sizes[large], self.holes.sizes[small]);
        (a - b).abs() <= 0.01 * a.max(b)
    }
}

/// How many holes different circles are, at least and at most. A hole that a view of another scale repeats is one; two views of
/// one scale may show the same holes from two sides or like holes of two faces.
pub(super) fn counted(scene: &Scene<'_>, spots: &[usize]) -> (usize, usize) {
    if spots.iter().all(|&s| scene.twin[s].is_none()) {
        return (spots.len(), spots.len());
    }
    let distinct = |at_one_scale: bool| {
        let repeated = |&s: &usize| {
            let twin = scene.twin[s]?;
            let one_scale = (scene.scale_at(twin) / scene.scale_at(s) - 1.0).abs() <= 0.01;
            (at_one_scale || !one_scale).then_some(twin)
        };
        let mut ids: Vec<usize> = spots.iter().map(|s| repeated(s).unwrap_or(*s)).collect();
        ids.sort_unstable();
        ids.dedup();
        ids.len()
    };
    (distinct(true), distinct(false))
}

#[cfg(test)]
mod tests {
    use super::*;

    fn found(spots: &[Spot], scales: &[f64]) -> Vec<Option<usize>> {
        find(spots, &ByView::new(spots, scales.len()), scales, &Views::default(), &[])
    }

    fn spot(view: usize, x: f64, y: f64, drawn: f64) -> Spot {
        Spot { ring: 0, stack: 0, view, space: 0, at: Point::new(x, y), drawn }
    }

    // Expected twins follow from the places: the second view is the first mirrored, moved or enlarged.
    #[test]
    fn a_view_from_behind_and_an_enlarged_one_repeat_their_holes() {
        let mut spots = vec![spot(0, 0.0, 0.0, 4.0), spot(0, 30.0, 0.0, 4.0), spot(0, 30.0, 20.0, 6.0)];
        spots.extend([spot(1, 100.0, 0.0, 4.0), spot(1, 100.0, 20.0, 6.0)]);
        assert_eq!(found(&spots, &[1.0, 1.0]), [None, None, None, Some(1), Some(2)]);
        let mut spots = vec![spot(0, 0.0, 0.0, 4.0), spot(0, 30.0, 0.0, 4.0), spot(0, 0.0, 20.0, 6.0)];
        spots.extend([spot(1, 0.0, 100.0, 8.0), spot(1, 60.0, 100.0, 8.0)]);
        assert_eq!(found(&spots, &[1.0, 2.0]), [None, None, None, Some(0), Some(1)]);
    }

    #[test]
    fn one_hole_of_the_same_size_and_scale_may_be_another_hole() {
        let spots = [spot(0, 0.0, 0.0, 4.0), spot(0, 30.0, 0.0, 4.0), spot(1, 100.0, 0.0, 4.0)];
        assert_eq!(found(&spots, &[1.0, 1.0]), [None; 3]);
        let spots = [spot(0, 0.0, 0.0, 4.0), spot(0, 30.0, 0.0, 5.0), spot(1, 100.0, 0.0, 10.0)];
        assert_eq!(found(&spots, &[1.0, 2.0]), [None, None, Some(1)]);
    }

    #[test]
    fn other_distances_are_other_holes() {
        let spots = [
            spot(0, 0.0, 0.0, 4.0),
            spot(0, 30.0, 0.0, 4.0),
            spot(1, 100.0, 0.0, 4.0),
            spot(1, 131.0, 0.0, 4.0),
        ];
        assert_eq!(found(&spots, &[1.0, 1.0]), [None; 4]);
    }
}
