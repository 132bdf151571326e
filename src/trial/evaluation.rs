//! What a trial shows: ratios of failure to drive torque, seating window, share of assemblies outside of it, failure
//! modes, and what is wrong with the test.

use super::{Mode, Trial};
use crate::finding::Level;
use crate::joint::ScrewForm;
use crate::practice::{Limit, Practice};
use crate::statistics::{Sample, tolerance_factor};
use crate::trade::{ScrewStrength, Status, screw_strength};
use crate::units::Length;

/// What a trial is held to.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Limits {
    /// Least ratio of mean failure torque to mean drive torque.
    pub ratio: f64,
    /// Fewest runs.
    pub runs: usize,
    /// Confidence of the statistical limits (0.5 to below 1).
    pub confidence: f64,
    /// Share of all values that the statistical limits cover (0.5 to below 1).
    pub coverage: f64,
}

impl Limits {
    /// The limits that a shop decides.
    pub fn of(practice: &Practice) -> Limits {
        let value = |limit| practice.limits.value(limit);
        Limits {
            ratio: value(Limit::StripToDrive),
            runs: value(Limit::FewestRuns) as usize,
            confidence: value(Limit::TrialConfidence) / 100.0,
            coverage: value(Limit::TrialCoverage) / 100.0,
        }
    }
}

impl Default for Limits {
    /// Common practice: strip at least three times drive, over thirty runs at least, 95/99 limits.
    fn default() -> Self {
        Limits::of(&Practice::default())
    }
}

/// Something wrong with a test or its outcome. The level says how much: `Fail` if the trial does not pass by it.
#[derive(Debug, Clone, PartialEq)]
pub struct Weakness {
    /// Kebab-case name.
    pub name: &'static str,
    /// How much it matters.
    pub level: Level,
    /// One sentence with the numbers.
    pub message: String,
}

/// How often each thing failed.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub struct Modes {
    /// The formed thread stripped.
    pub strip: usize,
    /// The screw broke.
    pub screw_break: usize,
    /// Head or recess gave way.
    pub head: usize,
    /// Not stated.
    pub unknown: usize,
}

impl Modes {
    fn of(trial: &Trial) -> Modes {
        let count = |mode| trial.runs.iter().filter(|run| run.mode == mode).count();
        Modes {
            strip: count(Some(Mode::Strip)),
            screw_break: count(Some(Mode::ScrewBreak)),
            head: count(Some(Mode::Head)),
            unknown: count(None),
        }
    }

    /// How many kinds of failure there were.
    pub(super) fn kinds(self) -> usize {
        [self.strip, self.screw_break, self.head].iter().filter(|n| **n > 0).count()
    }
}

/// A tool setting and what is to be expected of it (torques in N·m, shares 0 to 1).
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Seating {
    /// The setting: the record's, else the middle of the window.
    pub torque: f64,
    /// How far off the tool may stop.
    pub plus_minus: f64,
    /// Whether the record states it.
    pub stated: bool,
    /// Predicted share of assemblies that need more torque to drive than the tool gives, so that the head is not seated.
    pub not_driven: f64,
    /// Predicted share that fail before the tool stops.
    pub failed: f64,
}

impl Seating {
    /// Predicted share of assemblies outside, at most 1.
    pub fn outside(&self) -> f64 {
        (self.not_driven + self.failed).min(1.0)
    }
}

/// What the screw itself bears under torque, by a table and not by the test.
#[derive(Debug, Clone, PartialEq)]
pub struct Torsional {
    /// Least torque that breaks it (N·m).
    pub least: f64,
    /// Where that comes from.
    pub source: String,
    /// How well it is founded.
    pub status: Status,
}

impl Torsional {
    /// That of a thread-rolling screw, where a table has it.
    fn of(trial: &Trial) -> Option<Torsional> {
        if trial.screw.form != ScrewForm::Rolling {
            return None;
        }
        let ScrewStrength { torque_nm, torque_source, status, .. } = screw_strength(&trial.screw.thread);
        Some(Torsional { least: torque_nm?, source: torque_source?, status })
    }
}

/// A trial, evaluated. Torques in N·m.
#[derive(Debug, Clone, PartialEq)]
pub struct Evaluation {
    /// Drive torque of the runs.
    pub drive: Sample,
    /// Failure torque of the runs.
    pub failure: Sample,
    /// One-sided tolerance factor for that many runs.
    pub factor: f64,
    /// With the stated confidence, the stated share of all drive torques is below this.
    pub drive_limit: f64,
    /// With the stated confidence, the stated share of all failure torques is above this.
    pub failure_limit: f64,
    /// Mean failure over mean drive torque.
    pub ratio_of_means: f64,
    /// Failure limit over drive limit; below 1 there is no window.
    pub ratio_of_limits: f64,
    /// Least failure torque over greatest drive torque of any two runs.
    pub ratio_of_extremes: f64,
    /// Least ratio of failure to drive torque of a single run.
    pub least_ratio: f64,
    /// What to expect at the tool's setting or in the middle of the window; none without either.
    pub seating: Option<Seating>,
    /// What the screw bears under torque, which the seating torque must stay well under; none where no table has it.
    pub torsional: Option<Torsional>,
    /// How often each thing failed.
    pub modes: Modes,
    /// Smallest and largest hole; none if no run states its hole.
    pub holes: Option<(Length, Length)>,
    /// Least and greatest thickness.
    pub thicknesses: (Length, Length),
    /// What it was held to.
    pub limits: Limits,
    /// What is wrong with test and outcome, the worst first.
    pub weaknesses: Vec<Weakness>,
}

impl Evaluation {
    /// Whether nothing fails it.
    pub fn passes(&self) -> bool {
        self.weaknesses.iter().all(|weakness| weakness.level < Level::Fail)
    }

    /// The same measurements held to other limits.
    #[must_use]
    pub fn held_to(&self, trial: &Trial, limits: Limits) -> Evaluation {
        let same = (limits.confidence, limits.coverage) == (self.limits.confidence, self.limits.coverage);
        let mut held =
            if same { Evaluation { limits, ..self.clone() } } else { self.with_factor(trial, limits) };
        held.weaknesses = super::weaknesses::of(trial, &held);
        held
    }

    fn with_factor(&self, trial: &Trial, limits: Limits) -> Evaluation {
        let factor = tolerance_factor(self.drive.count, limits.confidence, limits.coverage);
        let drive_limit = self.drive.mean + factor * self.drive.sd;
        let failure_limit = self.failure.mean - factor * self.failure.sd;
        let ratio_of_limits = failure_limit.max(0.0) / drive_limit;
        let mut with =
            Evaluation { limits, factor, drive_limit, failure_limit, ratio_of_limits, ..self.clone() };
        with.seating = seating(trial, &with);
        with
    }

    /// The most that the tool may give, as a share of the least torque that breaks the screw (0 to 1 and above).
    pub fn seating_share(&self) -> Option<f64> {
        let (seating, screw) = (self.seating?, self.torsional.as_ref()?);
        Some((seating.torque + seating.plus_minus) / screw.least)
    }

    /// Lower and upper end of the seating window; none where the limits cross.
    pub fn window(&self) -> Option<(f64, f64)> {
        (self.drive_limit < self.failure_limit).then_some((self.drive_limit, self.failure_limit))
    }
}

/// Evaluates a trial; none if it has fewer than two runs, which reading refuses.
pub fn evaluate(trial: &Trial, limits: Limits) -> Option<Evaluation> {
    let drives: Vec<f64> = trial.runs.iter().map(|run| run.drive.nm()).collect();
    let failures: Vec<f64> = trial.runs.iter().map(|run| run.failure.nm()).collect();
    let (drive, failure) = (Sample::of(&drives)?, Sample::of(&failures)?);
    let ratios = trial.runs.iter().map(|run| run.failure.nm() / run.drive.nm());
    let greatest = drives.iter().copied().fold(f64::NEG_INFINITY, f64::max);
    let least = failures.iter().copied().fold(f64::INFINITY, f64::min);
    let measured = Evaluation {
        drive,
        failure,
        factor: f64::NAN,
        drive_limit: f64::NAN,
        failure_limit: f64::NAN,
        ratio_of_means: failure.mean / drive.mean,
        ratio_of_limits: f64::NAN,
        ratio_of_extremes: least / greatest,
        least_ratio: ratios.fold(f64::INFINITY, f64::min),
        seating: None,
        torsional: Torsional::of(trial),
        modes: Modes::of(trial),
        holes: range(trial.runs.iter().filter_map(|run| run.hole)),
        thicknesses: range(trial.runs.iter().map(|run| run.thickness))
            .unwrap_or((trial.thickness, trial.thickness)),
        limits,
        weaknesses: Vec::new(),
    };
    Some(measured.with_factor(trial, limits).held_to(trial, limits))
}

fn seating(trial: &Trial, evaluation: &Evaluation) -> Option<Seating> {
    let stated = trial.tool.map(|(torque, off)| (torque.nm(), off.nm()));
    let middle = evaluation.window().map(|(low, high)| (f64::midpoint(low, high), 0.0));
    let (torque, plus_minus) = stated.or(middle)?;
    Some(Seating {
        torque,
        plus_minus,
        stated: stated.is_some(),
        not_driven: 1.0 - evaluation.drive.share_below(torque - plus_minus),
        failed: evaluation.failure.share_below(torque + plus_minus),
    })
}

fn range(lengths: impl Iterator<Item = Length>) -> Option<(Length, Length)> {
    lengths.fold(None, |range, l| Some(range.map_or((l, l), |(a, b): (Length, Length)| (a.min(l), b.max(l)))))
}
