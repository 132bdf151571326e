//! Holes of a pattern are alike in all that a judgement looks at, and are judged once.

use std::collections::HashMap;
use std::sync::Arc;

use foldhash::fast::RandomState;

use super::{Judged, judge};
use crate::callout::Callout;
use crate::pairing::{Hole, Paired};
use crate::practice::Practice;

/// Most drawings have no more different holes than this.
const MOST_OFTEN: usize = 16;

/// The judgement of each hole of a drawing. Holes that are alike share one.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct Judgements {
    each: Vec<Judged>,
    /// For each hole which of them is its own.
    of_hole: Vec<usize>,
}

impl Judgements {
    /// None yet, with room for those of the holes of most drawings: they are large, and would be moved again and again.
    fn for_holes(count: usize) -> Judgements {
        Judgements { each: Vec::with_capacity(count.min(MOST_OFTEN)), of_hole: Vec::with_capacity(count) }
    }

    /// Adds the next hole with a judgement of its own.
    pub fn push(&mut self, judged: Judged) {
        self.of_hole.push(self.each.len());
        self.each.push(judged);
    }

    /// Adds the next hole with the judgement of an earlier one.
    fn repeat(&mut self, hole: usize) {
        self.of_hole.push(self.of_hole[hole]);
    }

    /// For each hole, in their order, its judgement and the number of that, which is below [`Judgements::distinct`].
    pub fn iter(&self) -> impl Iterator<Item = (usize, &Judged)> {
        self.of_hole.iter().filter_map(|&number| Some((number, self.each.get(number)?)))
    }

    /// How many different judgements there are.
    pub fn distinct(&self) -> usize {
        self.each.len()
    }
}

#[cfg(test)]
impl std::ops::Index<usize> for Judgements {
    type Output = Judged;

    fn index(&self, hole: usize) -> &Judged {
        &self.each[self.of_hole[hole]]
    }
}

#[cfg(test)]
impl std::ops::IndexMut<usize> for Judgements {
    fn index_mut(&mut self, hole: usize) -> &mut Judged {
        &mut self.each[self.of_hole[hole]]
    }
}

/// [`judge`] for each hole of a paired drawing.
pub fn judge_all(paired: &Paired, practice: &Practice) -> Judgements {
    let mut judged = Judgements::for_holes(paired.holes.len());
    // The last hole judged of each kind. What points at one hole of a pattern counts the others, so that both take turns.
    let mut last: HashMap<_, usize, RandomState> = HashMap::default();
    for (index, hole) in paired.holes.iter().enumerate() {
        let sizes = [hole.drawn.mm(), hole.view_scale].map(f64::to_bits);
        match last.insert((sizes, words_of(hole, paired), hole.row, hole.paired_by), index) {
            Some(other) if alike(&paired.holes[other], hole, paired) => judged.repeat(other),
            _ => judged.push(judge(hole, paired, practice)),
        }
    }
    judged
}

/// What tells apart what callouts of holes say: those that say the same in the same words are mostly one value.
fn words_of(hole: &Hole, paired: &Paired) -> Option<*const Callout> {
    hole.callout.and_then(|index| paired.callouts.get(index)).map(|seen| Arc::as_ptr(&seen.callout))
}

/// Whether two holes differ in nothing but their place, how they were paired and which of the callouts that say the same is
/// theirs.
fn alike(a: &Hole, b: &Hole, paired: &Paired) -> bool {
    // Named one by one, so that what a hole gains one day is not forgotten here.
    let Hole {
        id: _,
        circle: _,
        origin: _,
        at: _,
        tag: _,
        confidence: _,
        reasons: _,
        callout: _,
        drawn,
        view_scale,
        row,
        paired_by,
        joint,
    } = a;
    words_of(a, paired) == words_of(b, paired)
        && (*drawn, *view_scale, *row, *paired_by) == (b.drawn, b.view_scale, b.row, b.paired_by)
        && (joint.is(&b.joint) || *joint == b.joint)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::joint::Defaults;
    use crate::pairing::testing::Sheet;
    use crate::pairing::{PairedBy, pair};
    use crate::trade::Thread;

    #[test]
    fn holes_that_are_pointed_at_and_counted_in_turn_are_judged_once_each() {
        let mut sheet = Sheet::new();
        for row in 0..3 {
            let y = 60.0 * f64::from(row);
            sheet = sheet.circle(20.0, y, 3.6).circle(40.0, y, 3.6);
            sheet = sheet.leader((21.8, y), (35.0, y + 20.0), "2X Ø3.6");
        }
        let paired = pair(&sheet.drawing(), None, &Defaults::default());
        let judged = judge_all(&paired, &Practice::default());
        let by: Vec<_> = paired.holes.iter().map(|hole| hole.paired_by).collect();
        assert_eq!(by, [PairedBy::Leader, PairedBy::Count].repeat(3));
        assert_eq!(judged.iter().map(|(number, _)| number).collect::<Vec<_>>(), [0, 1].repeat(3));
    }

    #[test]
    fn holes_with_callouts_of_the_same_words_are_judged_once() {
        let sheet = Sheet::new().circle(20.0, 30.0, 3.6).circle(80.0, 30.0, 3.6).circle(50.0, 10.0, 3.6);
        let sheet =
            sheet.leader((21.8, 30.0), (35.0, 70.0), "Ø3.6").leader((80.0, 31.8), (95.0, 70.0), "Ø3.6");
        let defaults = Defaults { thread: Thread::parse("M4").ok(), ..Defaults::default() };
        let paired = pair(&sheet.drawing(), None, &defaults);
        let judged = judge_all(&paired, &Practice::default());
        // The third has no callout.
        assert_eq!(judged.iter().map(|(number, _)| number).collect::<Vec<_>>(), [0, 0, 1]);
        for (hole, (_, own)) in paired.holes.iter().zip(judged.iter()) {
            assert_eq!(*own, judge(hole, &paired, &Practice::default()));
        }
    }
}
