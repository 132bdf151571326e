//! The order of the drawings, and the sums over all. Sums of money are taken in the order of the drawings, so that they do
//! not depend on which was done first.

use std::cmp::Ordering;
use std::collections::{BTreeMap, BTreeSet};

use super::Converted;
use crate::conversion::saving::{Amount, Joint};
use crate::practice::Answer;

/// What a drawing is ranked by.
#[derive(Debug, Clone, Copy)]
pub(super) struct Rank {
    /// The first year, less the proving.
    first_year: Option<f64>,
    yearly: Option<Amount>,
    per_part: Option<f64>,
    candidates: u64,
    doubtful: u64,
}

/// Sums over all drawings.
#[derive(Debug, Default)]
pub(super) struct Sums {
    pub(super) drawings: u64,
    pub(super) unreadable: u64,
    pub(super) partly_read: u64,
    /// Drawings with a tapped hole.
    pub(super) tapped: u64,
    pub(super) candidate: u64,
    pub(super) doubtful: u64,
    pub(super) no: u64,
    /// Callouts of taps that no hole answers.
    pub(super) unanswered: u64,
    /// Each ground that decided an answer other than candidate, with its holes.
    pub(super) grounds: BTreeMap<crate::practice::Ground, u64>,
    /// Joints of the candidates, with the cost of proving each.
    pub(super) joints: BTreeMap<Joint, Option<f64>>,
    /// Rows of the costs that stated the parts of a drawing.
    pub(super) rows_used: BTreeSet<usize>,
    /// Drawings with candidates whose yearly saving is known, and those whose is not.
    pub(super) known: u64,
    pub(super) not_known: u64,
    /// The yearly saving of those that is known.
    pub(super) yearly: Option<Amount>,
}

impl Rank {
    pub(super) fn of(converted: &Converted<'_>) -> Rank {
        let of = |answer| holes(converted, answer);
        let candidates = of(Answer::Candidate);
        let saving = converted.saving().filter(|_| candidates > 0);
        Rank {
            first_year: saving.and_then(|s| s.first_year.value()),
            yearly: saving.map(|s| s.candidates.yearly),
            per_part: saving.and_then(|s| s.candidates.per_part.value()),
            candidates,
            doubtful: of(Answer::Doubtful),
        }
    }

    /// The greatest saving of the first year first, then what is known of a part, then the count of holes.
    pub(super) fn compare(&self, other: &Rank) -> Ordering {
        let money = |a: Option<f64>, b: Option<f64>| match (a, b) {
            (Some(a), Some(b)) => b.total_cmp(&a),
            (a, b) => b.is_some().cmp(&a.is_some()),
        };
        let yearly = |rank: &Rank| rank.yearly.and_then(Amount::value);
        money(self.first_year, other.first_year)
            .then_with(|| money(yearly(self), yearly(other)))
            .then_with(|| money(self.per_part, other.per_part))
            .then_with(|| (other.candidates, other.doubtful).cmp(&(self.candidates, self.doubtful)))
    }
}

/// How many holes have an answer.
pub(super) fn holes(converted: &Converted<'_>, answer: Answer) -> u64 {
    let own = converted.conversion.groups.iter().filter(|group| group.answer == answer);
    own.map(|group| u64::from(group.count)).sum()
}

impl Sums {
    pub(super) fn add(&mut self, converted: &Converted<'_>) {
        self.drawings += 1;
        match converted.drawing.state.as_str() {
            "unreadable" => self.unreadable += 1,
            "partly-read" => self.partly_read += 1,
            _ => {}
        }
        let groups = &converted.conversion.groups;
        self.tapped += u64::from(groups.iter().any(|group| group.count > 0));
        self.unanswered += groups.iter().filter(|group| group.holes.is_empty()).count() as u64;
        self.candidate += holes(converted, Answer::Candidate);
        self.doubtful += holes(converted, Answer::Doubtful);
        self.no += holes(converted, Answer::No);
        for group in groups.iter().filter(|group| group.answer != Answer::Candidate && group.count > 0) {
            for reason in group.reasons.iter().filter(|reason| reason.answer == group.answer) {
                *self.grounds.entry(reason.ground).or_default() += u64::from(group.count);
            }
        }
        let Some(saving) = converted.saving() else { return };
        self.rows_used.extend(saving.yearly_parts.map(|(nth, _)| nth));
        self.joints.extend(saving.joints.iter().cloned());
    }

    /// Adds up the yearly savings.
    pub(super) fn money<'a>(&mut self, ranks: impl Iterator<Item = &'a Rank>) {
        (self.known, self.not_known, self.yearly) = (0, 0, None);
        for amount in ranks.filter_map(|rank| rank.yearly) {
            if amount == Amount::NotKnown {
                self.not_known += 1;
            } else {
                self.known += 1;
                self.yearly = Some(self.yearly.map_or(amount, |sum| sum.plus(amount)));
            }
        }
    }

    /// What proving every joint costs, each once; none where a cost is not stated.
    pub(super) fn proving(&self) -> Option<f64> {
        self.joints.values().copied().sum()
    }
}
