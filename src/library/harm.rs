//! Which drawings to look at first.

use std::cmp::Ordering;

use super::{MOST_WORST, Sum, Worst};
use crate::ledger::{Entry, Found};

/// What a warning counts beside a failure. Our own choice: common practice has no number for it.
const WARNING: f64 = 0.25;

/// The expected harm of a drawing: how many of its holes, and things about the drawing as a whole, fail, each counted as
/// far as the pairing that it rests on is sure; a warning counts a quarter, a note and what is waived nothing.
pub fn harm(entry: &Entry) -> f64 {
    let counted = entry.findings.iter().filter(|found| found.waived.is_none());
    counted.map(|found| weight(found) * found.count as f64 * found.confidence).sum()
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
pub(super) struct Ranking(Vec<Worst>);

impl Ranking {
    pub(super) fn add(&mut self, entry: &Entry, sum: &Sum, harm: f64) {
        if harm <= 0.0 || self.is_full() && self.0.last().is_some_and(|last| last.harm >= harm) {
            return;
        }
        let counted = entry.findings.iter().filter(|found| found.waived.is_none());
        // The first of the heaviest.
        let worst = counted.max_by(|a, b| {
            let heavy = |f: &Found| weight(f) * f.count as f64 * f.confidence;
            heavy(a).total_cmp(&heavy(b)).then(Ordering::Greater)
        });
        let one = Worst {
            path: entry.path.clone(),
            part: entry.part.clone(),
            harm: (harm * 100.0).round() / 100.0,
            screw_holes: sum.screw_holes,
            fail: sum.fail,
            warn: sum.warn,
            message: worst.map(|found| found.message.clone()).unwrap_or_default(),
            remedy: worst.and_then(|found| found.remedy.clone()),
        };
        let at = self.0.partition_point(|known| known.harm >= one.harm);
        self.0.insert(at, one);
        self.0.truncate(MOST_WORST);
    }

    fn is_full(&self) -> bool {
        self.0.len() == MOST_WORST
    }

    pub(super) fn finish(self) -> Vec<Worst> {
        self.0
    }
}
