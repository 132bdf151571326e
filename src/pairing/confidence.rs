//! How sure a pairing is, from 0 to 1.
//!
//! A raw value, made monotone of what it is worth by `calibration`. The raw value is the product of four factors,
//! each with one reason:
//! - the kind of evidence (table below; set by judgement);
//! - the margin to the next best choice: `1 - 0.5 exp(-margin / 0.6)`, so an even choice between two halves it;
//! - how well the evidence itself fits: 1 less a fifth of the cost of the tip, points, block or tag, at least 0.6; 0.7
//!   where a table puts the hole elsewhere or the leader ends at no circle; 0.85 where there is none of these or only a
//!   general note; and 0.85 if the drawn size differs from the size called out;
//! - how much of the callout was read: 1 less 0.4 times the part of its letters and digits that was not.

use super::calibration::calibrated;
use super::{CostTerm, PairedBy};
use crate::callout::{Callout, Part};

fn of_kind(by: PairedBy) -> f64 {
    match by {
        PairedBy::Dimension => 0.99,
        PairedBy::Leader => 0.98,
        PairedBy::Position => 0.98,
        PairedBy::Table | PairedBy::Tag => 0.95,
        PairedBy::Count | PairedBy::Layer => 0.92,
        PairedBy::Drawn => 0.9,
        PairedBy::Nearest => 0.85,
    }
}

/// Confidence in a pair of callout and hole. `margin` is the cost of the next best choice less the cost of this one,
/// `read` the [`part_read`] of the callout.
pub(super) fn of_pair(by: PairedBy, terms: &[CostTerm], margin: f64, read: f64) -> f64 {
    round(calibrated(raw(by, terms, margin, read)))
}

fn raw(by: PairedBy, terms: &[CostTerm], margin: f64, read: f64) -> f64 {
    let clear = 1.0 - 0.5 * (-margin.max(0.0) / 0.6).exp();
    let fit = terms.iter().map(fit).fold(1.0, f64::min);
    let size = if terms.iter().any(|t| t.name == "size-differs" && t.cost > 0.0) { 0.85 } else { 1.0 };
    of_kind(by) * clear * fit * size * read
}

fn fit(term: &CostTerm) -> f64 {
    match term.name {
        "leader-tip" | "line-tip" | "dimension-points" | "attribute-on-hole" | "tag-text"
        | "table-position" => (1.0 - 0.2 * term.cost).max(0.6),
        "position-differs" | "tip-misses" => 0.7,
        "no-anchor" | "general-note" | "count-left" => 0.85,
        _ => 1.0,
    }
}

/// Confidence in a hole that only a row of the list, or nothing, speaks of.
pub(super) fn without_callout(by: PairedBy) -> f64 {
    of_kind(by)
}

/// 1 if the whole callout was understood.
pub(super) fn part_read(callout: &Callout) -> f64 {
    let (mut all, mut unread) = (0_u32, 0_u32);
    for span in &callout.spans {
        let n = callout
            .text
            .get(span.range.clone())
            .map_or(0, |t| t.chars().filter(|c| c.is_alphanumeric()).count());
        let n = u32::try_from(n).unwrap_or(u32::MAX);
        all = all.saturating_add(n);
        if span.part == Part::Unread {
            unread = unread.saturating_add(n);
        }
    }
    if all == 0 { 1.0 } else { 1.0 - 0.4 * f64::from(unread) / f64::from(all) }
}

/// Two decimals are all that the judgement behind the factors carries.
fn round(value: f64) -> f64 {
    (value.clamp(0.0, 1.0) * 100.0).round() / 100.0
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::callout::Span;

    fn callout(unread: bool) -> Callout {
        let part = if unread { Part::Unread } else { Part::Size };
        Callout { text: "3.65".to_owned(), spans: vec![Span { range: 0..4, part }], ..Callout::default() }
    }

    // Expected values by hand from the factors in the module's text.
    #[test]
    fn an_even_choice_halves_it_and_unread_text_lowers_it() {
        let raw = |margin, unread| round(raw(PairedBy::Leader, &[], margin, part_read(&callout(unread))));
        assert_eq!(raw(0.0, false), 0.49);
        assert_eq!(raw(100.0, false), 0.98);
        assert_eq!(raw(100.0, true), 0.59);
    }
}
