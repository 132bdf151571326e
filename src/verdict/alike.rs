//! Holes of a pattern are alike in all that a judgement looks at, and are judged once.

use std::collections::HashMap;
use std::collections::hash_map::Entry;

use super::{Judged, judge};
use crate::pairing::{Hole, Paired};
use crate::practice::Practice;

/// [`judge`] for each hole of a paired drawing, in their order.
pub fn judge_all(paired: &Paired, practice: &Practice) -> Vec<Judged> {
    let mut judged: Vec<Judged> = Vec::with_capacity(paired.holes.len());
    // The last hole judged of each callout and row.
    let mut last: HashMap<_, usize> = HashMap::new();
    for (index, hole) in paired.holes.iter().enumerate() {
        let known = match last.entry((hole.callout, hole.row)) {
            Entry::Occupied(mut known) => Some(known.insert(index)),
            Entry::Vacant(place) => {
                place.insert(index);
                None
            }
        };
        let known =
            known.filter(|&other| alike(&paired.holes[other], hole)).map(|other| judged[other].clone());
        judged.push(known.unwrap_or_else(|| judge(hole, paired, practice)));
    }
    judged
}

/// Whether two holes differ in nothing but their place and how they were paired.
fn alike(a: &Hole, b: &Hole) -> bool {
    // Named one by one, so that what a hole gains one day is not forgotten here.
    let Hole {
        id: _,
        circle: _,
        origin: _,
        at: _,
        tag: _,
        confidence: _,
        reasons: _,
        drawn,
        view_scale,
        callout,
        row,
        paired_by,
        screw,
        making,
        thickness_source,
        called,
        listed,
        entry,
        depth,
    } = a;
    (*drawn, *view_scale, *callout, *row, *paired_by)
        == (b.drawn, b.view_scale, b.callout, b.row, b.paired_by)
        && (screw, making, thickness_source) == (&b.screw, &b.making, &b.thickness_source)
        && (called, listed, entry, depth) == (&b.called, &b.listed, &b.entry, &b.depth)
}
