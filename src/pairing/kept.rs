//! How many of its possible pairs each callout keeps: enough for what it counts, and over all callouts no more than memory
//! bears. Weighs nothing.

use std::cell::{Cell, RefCell};
use std::collections::HashMap;
use std::sync::Arc;

use super::scene::Scene;
use super::texts::Statement;
use crate::callout::Callout;
use crate::drawing::SpaceId;

/// Pairs that the callouts of a drawing keep as long as each can use them; from there on each keeps its share of as many again. One
/// with its terms takes some 350 bytes. Met by a sheet of 2,500 callouts `TYP` over 10,000 holes, which took 7.7 GB.
const MOST_PAIRS: usize = 1 << 19;
/// Pairs that each callout may keep in any case.
const FEWEST: usize = 64;
/// Pairs that are enough for each hole that a callout counts.
const FOR_EACH: usize = 4;

/// How many pairs the callouts of a drawing keep.
pub(super) struct Kept<'a> {
    scene: &'a Scene<'a>,
    /// Pairs that are still to be had by whoever can use them.
    left: Cell<usize>,
    share: usize,
    /// The callout that said each thing first.
    said: RefCell<HashMap<Said<'a>, usize>>,
}

/// What a callout says, where, and of which tags.
type Said<'a> = (*const Callout, SpaceId, &'a [String]);

impl<'a> Kept<'a> {
    /// Those of so many callouts.
    pub(super) fn new(scene: &'a Scene<'a>, callouts: usize) -> Kept<'a> {
        Kept { scene, left: Cell::new(MOST_PAIRS), share: share(callouts), said: RefCell::default() }
    }

    /// How many a callout keeps, the best first: as many as it can use if it takes a number of holes.
    pub(super) fn most(&self, capacity: Option<u32>) -> usize {
        capacity.map_or(usize::MAX, enough).min(self.left.get().max(self.share))
    }

    /// As [`Kept::most`], of a callout that points at nothing.
    pub(super) fn most_near(&self, s: usize, capacity: Option<u32>) -> usize {
        let is_note = capacity.is_none() && is_note(&self.scene.statements[s]);
        if is_note { self.most_of_many(s) } else { self.most(capacity) }
    }

    /// As [`Kept::most`], of the holes that have a tag of a callout, or of all holes. What one before it said already a
    /// callout says in vain, as the first one takes them; it keeps one pair to show that.
    pub(super) fn most_of_many(&self, s: usize) -> usize {
        let is_first = *self.said.borrow_mut().entry(said(&self.scene.statements[s])).or_insert(s) == s;
        if is_first { self.most(None) } else { 1 }
    }

    /// Says that a callout keeps so many.
    pub(super) fn keeps(&self, pairs: usize) {
        self.left.set(self.left.get().saturating_sub(pairs));
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

    // 524,288 by 10 and by 5,000, and never fewer than 64.
    #[test]
    fn each_callout_has_a_share_and_four_pairs_for_each_hole_that_it_counts() {
        assert_eq!([10, 5_000, 1_000_000].map(share), [52_428, 104, 64]);
        assert_eq!([1, 16, 17, 100].map(enough), [64, 64, 68, 400]);
        assert_eq!(enough(u32::MAX), 4 * u32::MAX as usize);
    }

    fn with_texts(texts: &[&str], work: impl FnOnce(&Scene<'_>, &Kept<'_>)) {
        let sheet = Sheet::new().circle(0.0, 0.0, 3.6);
        let sheet = texts
            .iter()
            .enumerate()
            .fold(sheet, |sheet, (k, text)| sheet.text(50.0, 50.0 - 10.0 * k as f64, text));
        let drawing = sheet.drawing();
        let scene = Scene::new(&drawing, None, &Defaults::default(), Words::built_in());
        work(&scene, &Kept::new(&scene, 5_000));
    }

    #[test]
    fn a_callout_keeps_what_it_can_use_until_the_pairs_are_used_up() {
        with_texts(&["4X Ø3.6"], |_, kept| {
            assert_eq!((kept.most(Some(4)), kept.most(Some(1_000)), kept.most(None)), (64, 4_000, 524_288));
            kept.keeps(524_288 - 3_000);
            assert_eq!((kept.most(Some(4)), kept.most(Some(1_000)), kept.most(None)), (64, 3_000, 3_000));
            kept.keeps(4_000);
            assert_eq!((kept.most(Some(4)), kept.most(Some(1_000)), kept.most(None)), (64, 104, 104));
        });
    }

    #[test]
    fn what_was_said_before_of_all_holes_or_of_a_tag_keeps_one_pair() {
        let texts = ["ALL HOLES Ø3.6", "ALL HOLES Ø3.6", "ALL HOLES Ø5", "A: Ø3.6", "A: Ø3.6"];
        with_texts(&texts, |scene, kept| {
            assert_eq!(scene.statements.iter().map(|s| s.tags.len()).collect::<Vec<_>>(), [0, 0, 0, 1, 1]);
            // Asked again it is still the first.
            for _ in 0..2 {
                assert_eq!([0, 1, 2].map(|s| kept.most_near(s, None)), [MOST_PAIRS, 1, MOST_PAIRS]);
                assert_eq!([3, 4].map(|s| kept.most_of_many(s)), [MOST_PAIRS, 1]);
            }
            assert_eq!(kept.most_near(0, Some(4)), 64, "a note that counts is like any callout");
        });
    }
}
