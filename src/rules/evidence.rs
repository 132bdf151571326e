//! What the trial record that a row of a hole list names says for its holes.

use super::{ScrewHole, Subject};
use crate::trial::{Evaluation, Limits, Stale, Tested, Trial};

/// A trial record beside the hole that it was named for.
#[derive(Debug)]
pub struct Evidence<'a> {
    /// The record.
    pub trial: &'a Trial,
    /// What it shows under the policy's limits.
    pub evaluation: Evaluation,
    /// Why it does not stand for the hole, if so.
    pub stale: Stale,
}

impl<'a> Subject<'a> {
    /// The trial record named for a screw hole; none if its row names none.
    pub fn evidence(&self, it: &ScrewHole<'_>) -> Option<Evidence<'a>> {
        let row = it.row?;
        let (trial, evaluation) = self.trials.of(row, Limits::of(self.practice))?;
        // A hole is measured as the screw meets it, after coating.
        let met = it.judged.met();
        let tested = Tested {
            thread: &it.screw.thread,
            form: it.screw.form,
            making: &it.hole.making,
            hole: (met.min, met.max),
            finish: row.finish.as_deref(),
            lubricant: row.lubricant.as_deref(),
        };
        Some(Evidence { trial, evaluation, stale: trial.stale_for(&tested, self.unit()) })
    }
}

impl Evidence<'_> {
    /// Name of the record's file.
    pub fn name(&self) -> &str {
        self.trial.file.rsplit('/').next().unwrap_or_default()
    }

    /// What it shows, if it passes and stands for the hole: the reason of a waiver.
    pub fn accepts(&self) -> Option<String> {
        let e = &self.evaluation;
        (self.stale.reasons.is_empty() && e.passes()).then(|| {
            format!(
                "trial record {}: {} runs, failure {:.2} times drive torque by means and {:.2} by limits",
                self.name(),
                e.drive.count,
                e.ratio_of_means,
                e.ratio_of_limits
            )
        })
    }

    /// Whether it was made for the hole and shows too low a ratio, which has a rule of its own.
    pub fn has_low_ratio(&self) -> bool {
        self.stale.reasons.is_empty() && self.evaluation.ratio_of_means < self.evaluation.limits.ratio
    }

    /// Why it does not accept the hole; none if it does.
    pub fn refuses(&self) -> Option<String> {
        if !self.stale.reasons.is_empty() {
            let reasons = self.stale.reasons.join("; ");
            return Some(format!("trial record {} does not stand for this hole: {reasons}", self.name()));
        }
        let failing = self.evaluation.weaknesses.iter().filter(|w| w.level == crate::finding::Level::Fail);
        let failing: Vec<&str> = failing.map(|weakness| weakness.message.as_str()).collect();
        (!failing.is_empty())
            .then(|| format!("trial record {} does not pass: {}", self.name(), failing.join("; ")))
    }
}
