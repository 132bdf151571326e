//! Which statement a leader of the file belongs to: the one that the file names, or the one at its tail. Finds no circles.

use std::collections::HashMap;

use foldhash::fast::RandomState;

use super::says_hole;
use crate::drawing::{Drawing, Leader};
use crate::near::Near;
use crate::pairing::texts::{Carrier, Statement};

pub(super) fn index_texts(drawing: &Drawing, statements: &[Statement]) -> Vec<Option<usize>> {
    let mut by_text = vec![None; drawing.texts.len()];
    for (s, statement) in statements.iter().enumerate() {
        for &t in &statement.texts {
            // A list of notes gives several statements; the first that states a hole is the one pointed from.
            let better = by_text[t].is_none_or(|old: usize| {
                !statements[old].callout.states_hole() && statement.callout.states_hole()
            });
            if better {
                by_text[t] = Some(s);
            }
        }
    }
    by_text
}

/// The texts by their handles; of texts that have the same one, the first.
pub(super) fn texts_by_handle(drawing: &Drawing) -> HashMap<u64, usize, RandomState> {
    let texts = drawing.texts.iter().enumerate().rev();
    texts.filter_map(|(t, text)| Some((text.origin.handle?.get(), t))).collect()
}

/// The statement that the file names for a leader.
pub(super) fn named_by_file(
    leader: &Leader,
    by_text: &[Option<usize>],
    with_handle: impl Fn(u64) -> Option<usize>,
) -> Option<usize> {
    let named = leader.text.or_else(|| with_handle(leader.annotation?))?;
    by_text.get(named).copied().flatten()
}

/// The nearest statement within two letter heights of a leader's tail, one that states a hole before another where the
/// leader ends at a circle. One that the file gives a leader of its own takes another only where no other text stands
/// there: its box may reach over the text that is meant. All are found by their places, with the height of the tallest.
pub(super) fn at_tail(
    leader: &Leader,
    statements: &[Statement],
    has_own: &[bool],
    (near, tallest): (&Near, f64),
    ends_at_circle: impl Fn(f64) -> bool,
) -> Option<usize> {
    let tail = *leader.vertices.last()?;
    near.within(tail, 2.0 * tallest)
        .into_iter()
        .filter(|&s| {
            let c = &statements[s];
            c.origin.space == leader.origin.space
                && matches!(c.carrier, Carrier::Text(_))
                && c.bounds.distance(tail) <= 2.0 * c.height
        })
        .min_by(|&a, &b| {
            let gap = |s: usize| statements[s].bounds.distance(tail) / statements[s].height;
            let behind = |s: usize| !says_hole(&statements[s]) && ends_at_circle(statements[s].height);
            let hole = |s: usize| if behind(s) { 1.0 } else { 0.0 };
            let key = |s: usize| (has_own[s] && says_hole(&statements[s]), gap(s) + hole(s));
            let (a_key, b_key) = (key(a), key(b));
            a_key.0.cmp(&b_key.0).then(a_key.1.total_cmp(&b_key.1)).then(a.cmp(&b))
        })
}
