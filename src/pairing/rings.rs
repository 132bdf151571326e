//! Circles in an order that does not depend on the file, with doubles joined and concentric ones stacked.
//! Decides no roles.

use crate::drawing::{Circular, Drawing, SpaceId};
use crate::geometry::Point;
use crate::near::Near;

/// Circles drawn over one another: same space, centre and diameter.
#[derive(Debug, Clone)]
pub(super) struct Ring {
    /// Index into [`Drawing::circles`] of the first, which stands for all.
    pub(super) circle: usize,
    /// The others, of which there are few.
    doubles: Vec<usize>,
    pub(super) space: SpaceId,
    pub(super) center: Point,
    /// Drawing units.
    pub(super) diameter: f64,
    /// The stack it belongs to.
    pub(super) stack: usize,
    /// Whether no other ring has its centre in it or on its rim, as most holes have none.
    pub(super) alone: bool,
}

impl Ring {
    /// Indices of all of its circles, in canonical order.
    pub(super) fn circles(&self) -> impl Iterator<Item = usize> {
        std::iter::once(self.circle).chain(self.doubles.iter().copied())
    }
}

/// Everything circular that is shown.
#[derive(Debug, Default)]
pub(super) struct Rings {
    pub(super) rings: Vec<Ring>,
    pub(super) stacks: Stacks,
    /// One index of rings for each space, with the first of them: those of a space follow one another.
    near: Vec<(SpaceId, Near, usize)>,
}

impl Rings {
    /// Rings of a space with rim or inside within `reach` of `p`.
    pub(super) fn within(&self, space: SpaceId, p: Point, reach: f64) -> Vec<usize> {
        self.look(space, |near| near.within(p, reach))
    }

    /// Whether one of those that [`Rings::within`] gives is `wanted`. They are asked about in no certain order.
    pub(super) fn any_within(
        &self,
        space: SpaceId,
        p: Point,
        reach: f64,
        mut wanted: impl FnMut(usize) -> bool,
    ) -> bool {
        self.of(space).is_some_and(|(near, first)| near.any_within(p, reach, |i| wanted(first + i)))
    }

    /// Rings of a space with their centre within `reach` of `p`.
    pub(super) fn centres_within(&self, space: SpaceId, p: Point, reach: f64) -> Vec<usize> {
        self.look(space, |near| near.centres_within(p, reach))
    }

    /// Whether one of those that [`Rings::centres_within`] gives is `wanted`. They are asked about in no certain order.
    pub(super) fn any_centre_within(
        &self,
        space: SpaceId,
        p: Point,
        reach: f64,
        mut wanted: impl FnMut(usize) -> bool,
    ) -> bool {
        self.of(space).is_some_and(|(near, first)| near.any_centre_within(p, reach, |i| wanted(first + i)))
    }

    fn look(&self, space: SpaceId, find: impl Fn(&Near) -> Vec<usize>) -> Vec<usize> {
        let Some((near, first)) = self.of(space) else { return Vec::new() };
        let mut found = find(near);
        found.iter_mut().for_each(|i| *i += first);
        found
    }

    /// The index of a space, and the first of its rings.
    fn of(&self, space: SpaceId) -> Option<(&Near, usize)> {
        self.near.iter().find(|(s, _, _)| *s == space).map(|(_, near, first)| (near, *first))
    }
}

/// Rings of one centre, smallest first, stack after stack in one list: nearly all holes are a stack of one.
#[derive(Debug, Default)]
pub(super) struct Stacks {
    members: Vec<usize>,
    /// Where the members of each stack end.
    ends: Vec<usize>,
}

impl Stacks {
    fn push(&mut self, stack: &[usize]) {
        self.members.extend(stack);
        self.ends.push(self.members.len());
    }

    /// How many there are.
    pub(super) fn len(&self) -> usize {
        self.ends.len()
    }

    /// All of them, in canonical order of their smallest rings.
    pub(super) fn iter(&self) -> impl Iterator<Item = &[usize]> {
        (0..self.len()).map(|stack| &self[stack])
    }
}

impl std::ops::Index<usize> for Stacks {
    type Output = [usize];

    fn index(&self, stack: usize) -> &[usize] {
        let first = if stack == 0 { 0 } else { self.ends[stack - 1] };
        &self.members[first..self.ends[stack]]
    }
}

/// Two drawn diameters count as the same within half a percent: below what any drafter would draw as different.
pub(super) fn same_diameter(a: f64, b: f64) -> bool {
    (a - b).abs() <= 0.005 * a.max(b)
}

/// Collects the visible circles of a drawing.
pub(super) fn collect(drawing: &Drawing) -> Rings {
    let mut order: Vec<usize> = (0..drawing.circles.len())
        .filter(|&i| {
            let c = &drawing.circles[i];
            c.origin.visible && c.diameter > 0.0 && c.center.x.is_finite() && c.center.y.is_finite()
        })
        .collect();
    order.sort_by(|&a, &b| canonical(&drawing.circles[a], &drawing.circles[b]));
    let mut all = Rings { rings: Vec::with_capacity(order.len()), ..Rings::default() };
    let space_of = |i: usize| drawing.circles[i].origin.space;
    for ids in order.chunk_by(|&a, &b| space_of(a) == space_of(b)) {
        let (space, first) = (space_of(ids[0]), all.rings.len());
        let of_circles = join_doubles(drawing, ids, space, &mut all.rings);
        let rings = &all.rings[first..];
        // Where nothing was drawn twice, the circles are the rings.
        let near = if rings.len() == ids.len() {
            of_circles
        } else {
            Near::new(rings.iter().map(|r| (r.center, r.diameter / 2.0)))
        };
        all.near.push((space, near, first));
    }
    stack(&mut all);
    all
}

/// Top to bottom, left to right, small before large; never by place in the file unless all else is equal.
fn canonical(a: &Circular, b: &Circular) -> std::cmp::Ordering {
    (a.origin.space.cmp(&b.origin.space))
        .then_with(|| b.center.y.total_cmp(&a.center.y))
        .then_with(|| a.center.x.total_cmp(&b.center.x))
        .then_with(|| a.diameter.total_cmp(&b.diameter))
        .then_with(|| a.origin.is_centre_line().cmp(&b.origin.is_centre_line()))
        .then_with(|| a.origin.handle.cmp(&b.origin.handle))
        .then_with(|| a.origin.line.cmp(&b.origin.line))
}

/// How far outside of a rim a centre stands on it still, as a share of the radius.
pub(super) const ON_RIM: f64 = 0.005;

/// Adds the rings of the circles `ids`, which stand in one space; the index of the circles.
fn join_doubles(drawing: &Drawing, ids: &[usize], space: SpaceId, rings: &mut Vec<Ring>) -> Near {
    let near = Near::new(ids.iter().map(|&i| (drawing.circles[i].center, drawing.circles[i].diameter / 2.0)));
    let mut taken = vec![false; ids.len()];
    for k in 0..ids.len() {
        if taken[k] {
            continue;
        }
        let c = &drawing.circles[ids[k]];
        let tolerance = 1e-4 * c.diameter;
        let mut doubles = Vec::new();
        let mut alone = true;
        near.any_centre_within(c.center, (1.0 + ON_RIM) * (c.diameter / 2.0), |other| {
            if other == k {
                return false;
            }
            let o = &drawing.circles[ids[other]];
            let same_line = o.origin.is_centre_line() == c.origin.is_centre_line();
            let same_place = o.center.distance(c.center) <= tolerance;
            if !taken[other] && same_line && same_place && (o.diameter - c.diameter).abs() <= tolerance {
                taken[other] = true;
                doubles.push(other);
            } else {
                alone = false;
            }
            false
        });
        // In their order, whatever that of the index.
        doubles.sort_unstable();
        doubles.iter_mut().for_each(|circle| *circle = ids[*circle]);
        let (center, diameter) = (c.center, c.diameter);
        rings.push(Ring { circle: ids[k], doubles, space, center, diameter, stack: 0, alone });
    }
    near
}

/// How far the centres of circles of one stack may differ, as a share of the smaller diameter.
const CONCENTRIC: f64 = 0.02;

/// The same where the larger circle is wider by more than [`WIDER`]: an entry drawn that carelessly is an entry still,
/// and no shape of its own stands round a hole so nearly in its middle.
const NEARLY_CONCENTRIC: f64 = 0.05;

/// From this ratio of diameters on, two circles are no hole drawn twice at slightly different places.
const WIDER: f64 = 1.15;

/// Rings whose centres agree are one stack.
fn stack(all: &mut Rings) {
    let mut by_size: Vec<usize> = (0..all.rings.len()).filter(|&i| !all.rings[i].alone).collect();
    by_size.sort_by(|&a, &b| all.rings[a].diameter.total_cmp(&all.rings[b].diameter).then(a.cmp(&b)));
    let mut owned: Vec<bool> = all.rings.iter().map(|ring| ring.alone).collect();
    // The smallest ring of each stack of several, and the others.
    let mut stacks: Vec<(usize, Vec<usize>)> = Vec::new();
    for i in by_size {
        if owned[i] {
            continue;
        }
        let ring = &all.rings[i];
        let mut members = Vec::with_capacity(2);
        all.any_centre_within(ring.space, ring.center, NEARLY_CONCENTRIC * ring.diameter, |j| {
            if !owned[j] && concentric(ring, &all.rings[j]) {
                members.push(j);
            }
            false
        });
        members.sort_by(|&a, &b| all.rings[a].diameter.total_cmp(&all.rings[b].diameter).then(a.cmp(&b)));
        members.iter().for_each(|&m| owned[m] = true);
        stacks.push((members[0], members));
    }
    // In canonical order of their smallest ring, those that stand alone between the others.
    stacks.sort_unstable_by_key(|(first, _)| *first);
    let mut several = stacks.into_iter().peekable();
    let mut numbered = Stacks::default();
    for i in 0..all.rings.len() {
        let stack = several.next_if(|(first, _)| *first == i).map(|(_, members)| members);
        let members = match &stack {
            Some(members) => members.as_slice(),
            None if all.rings[i].alone => &[i],
            None => continue,
        };
        members.iter().for_each(|&m| all.rings[m].stack = numbered.len());
        numbered.push(members);
    }
    all.stacks = numbered;
}

/// Whether the centre of another ring, no smaller than this one, agrees with its centre.
fn concentric(ring: &Ring, other: &Ring) -> bool {
    let wider = other.diameter >= WIDER * ring.diameter;
    let slack = if wider { NEARLY_CONCENTRIC } else { CONCENTRIC };
    ring.center.distance(other.center) <= slack * ring.diameter
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::pairing::testing::Sheet;

    #[test]
    fn doubles_join_and_concentric_circles_stack() {
        let drawing = Sheet::new()
            .circle(0.0, 0.0, 4.0)
            .circle(0.0, 0.0, 4.0)
            .circle(0.0, 0.0, 8.0)
            .circle(20.0, 0.0, 4.0)
            .drawing();
        let all = collect(&drawing);
        assert_eq!(all.rings.len(), 3);
        assert_eq!(all.rings[0].circles().collect::<Vec<_>>(), [0, 1]);
        assert_eq!(all.stacks.iter().collect::<Vec<_>>(), [&[0, 1][..], &[2]]);
    }

    /// A pocket 0.18 mm beside the middle of its hole was a shape of its own, and said to be the part's outline.
    #[test]
    fn an_entry_slightly_beside_the_middle_stacks_and_a_second_hole_does_not() {
        let drawing = Sheet::new()
            .circle(0.0, 0.0, 8.0)
            .circle(0.14, 0.12, 19.0)
            .circle(40.0, 0.0, 8.0)
            .circle(40.3, 0.0, 8.0)
            .circle(80.0, 0.0, 8.0)
            .circle(80.5, 0.0, 19.0)
            .drawing();
        let mut sizes: Vec<usize> = collect(&drawing).stacks.iter().map(<[_]>::len).collect();
        sizes.sort_unstable();
        // By eye: one counterbored hole, two holes that overlap, and a hole beside the middle of a wider circle.
        assert_eq!(sizes, [1, 1, 1, 1, 2]);
    }

    /// A speck near the middle of a wide circle was a member of its stack as well as a stack of its own.
    #[test]
    fn a_speck_beside_the_middle_of_a_wide_circle_is_a_stack_of_its_own() {
        let all = collect(&Sheet::new().circle(0.0, 0.0, 100.0).circle(1.5, 0.0, 2.0).drawing());
        // By hand: the wide circle stands first, farther left, and its centre is outside of the speck.
        assert_eq!(all.stacks.iter().collect::<Vec<_>>(), [[0], [1]]);
        assert_eq!([all.rings[0].alone, all.rings[1].alone], [false, true]);
    }

    #[test]
    fn a_hidden_circle_is_no_ring() {
        let mut drawing = Sheet::new().circle(0.0, 0.0, 4.0).drawing();
        drawing.circles[0].origin.visible = false;
        assert!(collect(&drawing).rings.is_empty());
    }
}
