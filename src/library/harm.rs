//! Which drawings to look at first.

use std::cmp::Ordering;

use super::{MOST_WORST, Sum, Worst};
use crate::ledger::{Entry, Found};

/// What a warning counts beside a failure. Our own choice: common practice has no number for it.
const WARNING: f64 = 0.25;

/// The expected harm of a drawing: how many of its holes, and things about the drawing as a whole, fail, each counted as
/// far as the pairing that it rests on is sure; a warning counts a quarter, a note and what is waived nothing. A tap drill
/// is the cause of a hole that is too small, and counts with it.
pub fn harm(entry: &Entry) -> f64 {
    let counted = entry.findings.iter().filter(|found| found.waived.is_none());
    let too_small = counted.clone().any(|found| found.rule == "engagement-above-band");
    let counted = counted.filter(|found| !(too_small && found.rule == "cut-thread-size"));
    // The sum of no numbers is minus zero, which would stand behind zero in an order.
    counted.map(|found| weight(found) * found.count as f64 * found.confidence).fold(0.0, |sum, one| sum + one)
}

/// The worst of what was found on a drawing, the first of what weighs the same; what is waived does not count.
pub fn worst(entry: &Entry) -> Option<&Found> {
    let heavy = |found: &Found| weight(found) * found.count as f64 * found.confidence;
    let counted = entry.findings.iter().filter(|found| found.waived.is_none());
    counted.max_by(|a, b| heavy(a).total_cmp(&heavy(b)).then(Ordering::Greater))
}

/// Harm as it is shown: more places than two would claim to know more than is known.
pub fn shown_harm(harm: f64) -> f64 {
    (harm * 100.0).round() / 100.0
}

fn weight(found: &Found) -> f64 {
    match found.level.as_str() {
        "fail" => 1.0,
        "warn" => WARNING,
        _ => 0.0,
    }
}

/// The worst drawings so far.
#[derive(Debug, Default)]
pub(super) struct Ranking {
    worst: Vec<Worst>,
    /// Drawings that have any expected harm.
    harmful: u64,
}

impl Ranking {
    pub(super) fn add(&mut self, entry: &Entry, sum: &Sum, harm: f64) {
        if harm <= 0.0 {
            return;
        }
        self.harmful += 1;
        if self.is_full() && self.worst.last().is_some_and(|last| last.harm >= harm) {
            return;
        }
        let worst = worst(entry);
        let one = Worst {
            path: entry.path.clone(),
            part: entry.part.clone(),
            harm: shown_harm(harm),
            screw_holes: sum.screw_holes,
            fail: sum.fail,
            warn: sum.warn,
            message: worst.map(|found| found.message.clone()).unwrap_or_default(),
            remedy: worst.and_then(|found| found.remedy.clone()),
        };
        let at = self.worst.partition_point(|known| known.harm >= one.harm);
        self.worst.insert(at, one);
        self.worst.truncate(MOST_WORST);
    }

    fn is_full(&self) -> bool {
        self.worst.len() == MOST_WORST
    }

    pub(super) fn finish(self) -> (u64, Vec<Worst>) {
        (self.harmful, self.worst)
    }
}
