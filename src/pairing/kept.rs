//! How many of its possible pairs each callout keeps: enough for what it counts, and over all callouts no more than memory
//! bears. Weighs nothing.

use std::cell::RefCell;
use std::collections::{HashMap, HashSet};
use std::sync::Arc;

use super::scene::Scene;
use super::texts::Statement;
use crate::callout::Callout;
use crate::drawing::SpaceId;

/// Pairs that all callouts of a drawing keep together; one with its terms takes some 350 bytes. Met by a sheet of 2,500 callouts
/// `TYP` over 10,000 holes, which took 7.7 GB.
const MOST_PAIRS: usize = 1 << 20;
/// Pairs that each callout may keep in any case.
const FEWEST: usize = 64;
/// Pairs that are enough for each hole that a callout counts.
const FOR_EACH: usize = 4;

/// How many pairs the callouts of a drawing keep.
pub(super) struct Kept<'a> {
    scene: &'a Scene<'a>,
    share: usize,
    /// Whether so few say something of all holes, or of all that have a tag, that each may keep every one.
    are_few: bool,
    /// The callout that said each thing first.
    said: RefCell<HashMap<Said<'a>, usize>>,
}

/// What a callout says, where, and of which tags.
type Said<'a> = (*const Callout, SpaceId, &'a [String]);

impl<'a> Kept<'a> {
    /// Those of the statements that are callouts.
    pub(super) fn new(scene: &'a Scene<'a>, callouts: &[usize]) -> Kept<'a> {
        let statements = callouts.iter().map(|&s| &scene.statements[s]);
        let of_many = statements.filter(|statement| is_note(statement) || !statement.tags.is_empty());
        let different: HashSet<Said<'_>> = of_many.map(said).collect();
        Kept {
            scene,
            share: share(callouts.len()),
            are_few: different.len().saturating_mul(scene.spots.len()) <= MOST_PAIRS,
            said: RefCell::default(),
        }
    }

    /// How many a callout keeps, the best first: as many as it can use if it takes a number of holes.
    pub(super) fn most(&self, capacity: Option<u32>) -> usize {
        capacity.map_or(usize::MAX, enough).min(self.share)
    }

    /// As [`Kept::most`], of a callout that points at nothing. A note for all holes may speak of each.
    pub(super) fn most_near(&self, s: usize, capacity: Option<u32>) -> usize {
        let is_note = capacity.is_none() && is_note(&self.scene.statements[s]);
        if is_note { self.most_of_many(s) } else { self.most(capacity) }
    }

    /// As [`Kept::most`], of the holes that have a tag of a callout, or of all holes. What one before it said already a
    /// callout says in vain, as the first one takes them; it keeps one pair to show that.
    pub(super) fn most_of_many(&self, s: usize) -> usize {
        let is_first = *self.said.borrow_mut().entry(said(&self.scene.statements[s])).or_insert(s) == s;
        match (is_first, self.are_few) {
            (false, _) => 1,
            (true, true) => usize::MAX,
            (true, false) => self.share,
        }
    }
}

/// How many pairs each of so many callouts may keep.
fn share(callouts: usize) -> usize {
    (MOST_PAIRS / callouts.max(1)).max(FEWEST)
}

/// How many pairs are enough for a callout that takes so many holes.
fn enough(holes: u32) -> usize {
    FOR_EACH.saturating_mul(holes as usize).max(FEWEST)
}

fn said(statement: &Statement) -> Said<'_> {
    (Arc::as_ptr(&statement.callout), statement.origin.space, &statement.tags)
}

/// Whether it speaks of all holes, not of those like one.
fn is_note(statement: &Statement) -> bool {
    statement.callout.general && statement.callout.count.is_none() && !statement.typical()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::callout::Words;
    use crate::joint::Defaults;
    use crate::pairing::testing::Sheet;

    // 1,048,576 by 10 and by 10,000, and never fewer than 64.
    #[test]
    fn each_callout_has_a_share_and_four_pairs_for_each_hole_that_it_counts() {
        assert_eq!([10, 10_000, 1_000_000].map(share), [104_857, 104, 64]);
        assert_eq!([1, 16, 17, 100].map(enough), [64, 64, 68, 400]);
        assert_eq!(enough(u32::MAX), 4 * u32::MAX as usize);
    }

    #[test]
    fn what_was_said_before_of_all_holes_or_of_a_tag_keeps_one_pair() {
        let drawing = Sheet::new()
            .circle(0.0, 0.0, 3.6)
            .text(50.0, 50.0, "ALL HOLES Ø3.6")
            .text(50.0, 40.0, "ALL HOLES Ø3.6")
            .text(50.0, 30.0, "ALL HOLES Ø5")
            .text(50.0, 20.0, "A: Ø3.6")
            .text(50.0, 10.0, "A: Ø3.6")
            .drawing();
        let scene = Scene::new(&drawing, None, &Defaults::default(), Words::built_in());
        let callouts: Vec<usize> = (0..scene.statements.len()).collect();
        let kept = Kept::new(&scene, &callouts);
        let tags: Vec<usize> = callouts.iter().map(|&s| scene.statements[s].tags.len()).collect();
        assert_eq!(tags, [0, 0, 0, 1, 1]);
        // Asked again it is still the first.
        for _ in 0..2 {
            let most: Vec<usize> = callouts[..3].iter().map(|&s| kept.most_near(s, None)).collect();
            assert_eq!(most, [usize::MAX, 1, usize::MAX]);
            let most: Vec<usize> = callouts[3..].iter().map(|&s| kept.most_of_many(s)).collect();
            assert_eq!(most, [usize::MAX, 1]);
        }
        assert_eq!(kept.most_near(0, Some(4)), 64, "a note that counts is like any callout");
    }
}
