//! The evaluation of trials in the shape of the JSON report.

use schemars::JsonSchema;
use serde::Serialize;

use super::Evaluated;
use crate::check::Tool;
use crate::report::text::CAUTION;
use crate::statistics::Sample;
use crate::trial::{Evaluation, Peaks, Run, Trial};
use crate::units::Length;

/// Evaluated joint tests. Torques are in N·m and lengths in mm, as their keys say; shares are from 0 to 1.
#[derive(Debug, Clone, PartialEq, Serialize, JsonSchema)]
pub struct TrialReport {
    /// Version of this format: 1.
    pub format: u32,
    /// The program.
    pub tool: Tool,
    /// What none of this says.
    pub cautions: String,
    /// The tests, in the order they were given.
    pub trials: Vec<TrialResult>,
}

/// One test.
#[derive(Debug, Clone, PartialEq, Serialize, JsonSchema)]
pub struct TrialResult {
    /// The file of the record.
    pub path: String,
    /// Name or number of the test.
    pub test: Option<String>,
    /// Part number.
    pub part: Option<String>,
    /// Whether nothing fails the test.
    pub passes: bool,
    /// The joint.
    pub joint: JointResult,
    /// Drive torque of the runs.
    pub drive: SampleResult,
    /// Failure torque of the runs.
    pub failure: SampleResult,
    /// Ratios of failure to drive torque.
    pub ratio: RatioResult,
    /// The seating window; null where the limits of drive and failure cross.
    pub window: Option<WindowResult>,
    /// What to expect at the tool's setting, or in the middle of the window; null without either.
    pub seating: Option<SeatingResult>,
    /// What the screw bears under torque; null where no table has it.
    pub screw_torque: Option<TorsionalResult>,
    /// How often each thing failed.
    pub modes: ModesResult,
    /// What is wrong with test and outcome, the worst first.
    pub weaknesses: Vec<WeaknessResult>,
    /// The runs.
    pub runs: Vec<RunResult>,
}

/// The joint that was tested.
#[derive(Debug, Clone, PartialEq, Serialize, JsonSchema)]
pub struct JointResult {
    /// Thread of the screw.
    pub thread: String,
    /// `rolling`, `cutting` or `spaced`.
    pub form: String,
    /// Length of the screw (mm).
    pub length_mm: Option<f64>,
    /// Material.
    pub material: String,
    /// Nominal thickness (mm).
    pub thickness_mm: f64,
    /// Brinell hardness.
    pub hardness_hb: Option<f64>,
    /// How the holes were made.
    pub process: Option<String>,
    /// Finish.
    pub finish: Option<String>,
    /// Lubricant.
    pub lubricant: Option<String>,
    /// Speed of the driver (turns a minute).
    pub driver_rpm: Option<f64>,
    /// Smallest and largest hole (mm).
    pub holes_mm: Option<[f64; 2]>,
    /// Least and greatest thickness (mm).
    pub thicknesses_mm: [f64; 2],
}

/// A sample of torques.
#[derive(Debug, Clone, PartialEq, Serialize, JsonSchema)]
pub struct SampleResult {
    /// How many.
    pub count: usize,
    /// Mean (N·m).
    pub mean_nm: f64,
    /// Standard deviation (N·m).
    pub sd_nm: f64,
    /// The limit that, with the stated confidence, the stated share is below (drive) or above (failure) (N·m).
    pub limit_nm: f64,
    /// One-sided tolerance factor: the limit is so many standard deviations from the mean.
    pub factor: f64,
    /// Confidence of the limit.
    pub confidence: f64,
    /// Share that the limit covers.
    pub coverage: f64,
}

/// Ratios of failure to drive torque.
#[derive(Debug, Clone, PartialEq, Serialize, JsonSchema)]
pub struct RatioResult {
    /// Mean over mean: the one that is judged.
    pub of_means: f64,
    /// Least that passes.
    pub least: f64,
    /// Failure limit over drive limit; below 1 there is no window.
    pub of_limits: f64,
    /// Least failure over greatest drive torque of any two runs.
    pub of_extremes: f64,
    /// Least of a single run.
    pub of_worst_run: f64,
}

/// A seating window.
#[derive(Debug, Clone, PartialEq, Serialize, JsonSchema)]
pub struct WindowResult {
    /// The limit of drive torque (N·m).
    pub low_nm: f64,
    /// The middle (N·m).
    pub middle_nm: f64,
    /// The limit of failure torque (N·m).
    pub high_nm: f64,
}

/// What to expect of a tool.
#[derive(Debug, Clone, PartialEq, Serialize, JsonSchema)]
pub struct SeatingResult {
    /// Its setting (N·m).
    pub torque_nm: f64,
    /// How far off it may stop (N·m).
    pub plus_minus_nm: f64,
    /// `record` for the setting that the record states, `middle` for the middle of the window.
    pub source: String,
    /// Predicted share of assemblies outside: not driven home, or failed.
    pub outside: f64,
    /// Of these, not driven home.
    pub not_driven: f64,
    /// Of these, failed before the tool stops.
    pub failed: f64,
}

/// What the screw bears under torque, by a table and not by the test.
#[derive(Debug, Clone, PartialEq, Serialize, JsonSchema)]
pub struct TorsionalResult {
    /// Least torque that breaks it (N·m).
    pub least_nm: f64,
    /// The tool's greatest torque over it; null without a setting or a window.
    pub seating_share: Option<f64>,
    /// Where it comes from.
    pub source: String,
    /// `published`, `common_practice` or `memory`.
    pub status: String,
}

/// How often each thing failed.
#[derive(Debug, Clone, PartialEq, Serialize, JsonSchema)]
pub struct ModesResult {
    /// The formed thread stripped.
    pub strip: usize,
    /// The screw broke.
    pub screw_break: usize,
    /// Head or recess gave way.
    pub head: usize,
    /// Not stated.
    pub unknown: usize,
}

/// Something wrong with a test or its outcome.
#[derive(Debug, Clone, PartialEq, Serialize, JsonSchema)]
pub struct WeaknessResult {
    /// Its name, such as `too-few-runs`.
    pub name: String,
    /// `fail` if the test does not pass by it, `warn` if not.
    pub level: String,
    /// One sentence with the numbers.
    pub message: String,
}

/// A run.
#[derive(Debug, Clone, PartialEq, Serialize, JsonSchema)]
pub struct RunResult {
    /// Name or number.
    pub run: String,
    /// Diameter of the hole (mm).
    pub hole_mm: Option<f64>,
    /// Thickness (mm).
    pub thickness_mm: f64,
    /// Drive torque (N·m).
    pub drive_nm: f64,
    /// Failure torque (N·m).
    pub failure_nm: f64,
    /// `strip`, `screw-break` or `head`.
    pub mode: Option<String>,
    /// What was found on its trace.
    pub trace: Option<TraceResult>,
}

/// What was found on a trace.
#[derive(Debug, Clone, PartialEq, Serialize, JsonSchema)]
pub struct TraceResult {
    /// Angle of the forming peak (degrees).
    pub drive_at_deg: f64,
    /// Angle at which the seating rise begins (degrees).
    pub seat_at_deg: f64,
    /// Torque there (N·m).
    pub seat_nm: f64,
    /// Angle of the failure peak (degrees).
    pub failure_at_deg: f64,
}

impl TrialReport {
    /// The report of these evaluations.
    pub fn of(trials: &[Evaluated]) -> TrialReport {
        TrialReport {
            format: 1,
            tool: Tool {
                name: env!("CARGO_PKG_NAME").to_owned(),
                version: env!("CARGO_PKG_VERSION").to_owned(),
            },
            cautions: CAUTION.to_owned(),
            trials: trials.iter().map(|(trial, evaluation)| result(trial, evaluation)).collect(),
        }
    }
}

fn result(trial: &Trial, e: &Evaluation) -> TrialResult {
    let window = e.window().map(|(low, high)| WindowResult {
        low_nm: torque(low),
        middle_nm: torque(f64::midpoint(low, high)),
        high_nm: torque(high),
    });
    let seating = e.seating.map(|s| SeatingResult {
        torque_nm: torque(s.torque),
        plus_minus_nm: torque(s.plus_minus),
        source: if s.stated { "record" } else { "middle" }.to_owned(),
        outside: share(s.outside()),
        not_driven: share(s.not_driven),
        failed: share(s.failed),
    });
    let screw_torque = e.torsional.as_ref().map(|screw| TorsionalResult {
        least_nm: torque(screw.least),
        seating_share: e.seating_share().map(|share| rounded(share, 1e4)),
        source: screw.source.clone(),
        status: screw.status.name().to_owned(),
    });
    let weakness = |w: &crate::trial::Weakness| WeaknessResult {
        name: w.name.to_owned(),
        level: w.level.name().to_owned(),
        message: w.message.clone(),
    };
    TrialResult {
        path: trial.file.clone(),
        test: trial.test.clone(),
        part: trial.part.clone(),
        passes: e.passes(),
        joint: joint(trial, e),
        drive: sample(&e.drive, e.drive_limit, e),
        failure: sample(&e.failure, e.failure_limit, e),
        ratio: RatioResult {
            of_means: rounded(e.ratio_of_means, 1e4),
            least: e.limits.ratio,
            of_limits: rounded(e.ratio_of_limits, 1e4),
            of_extremes: rounded(e.ratio_of_extremes, 1e4),
            of_worst_run: rounded(e.least_ratio, 1e4),
        },
        window,
        seating,
        screw_torque,
        modes: ModesResult {
            strip: e.modes.strip,
            screw_break: e.modes.screw_break,
            head: e.modes.head,
            unknown: e.modes.unknown,
        },
        weaknesses: e.weaknesses.iter().map(weakness).collect(),
        runs: trial.runs.iter().map(run).collect(),
    }
}

fn joint(trial: &Trial, e: &Evaluation) -> JointResult {
    JointResult {
        thread: trial.screw.thread.name.clone(),
        form: trial.screw.form.name().to_owned(),
        length_mm: trial.screw.length.map(mm),
        material: trial.material.name().to_owned(),
        thickness_mm: mm(trial.thickness),
        hardness_hb: trial.hardness_hb,
        process: trial.process.map(|p| p.name().to_owned()),
        finish: trial.finish.clone(),
        lubricant: trial.lubricant.clone(),
        driver_rpm: trial.driver_rpm,
        holes_mm: e.holes.map(|(a, b)| [mm(a), mm(b)]),
        thicknesses_mm: [mm(e.thicknesses.0), mm(e.thicknesses.1)],
    }
}

fn sample(sample: &Sample, limit: f64, e: &Evaluation) -> SampleResult {
    SampleResult {
        count: sample.count,
        mean_nm: torque(sample.mean),
        sd_nm: torque(sample.sd),
        limit_nm: torque(limit),
        factor: rounded(e.factor, 1e4),
        confidence: e.limits.confidence,
        coverage: e.limits.coverage,
    }
}

fn run(run: &Run) -> RunResult {
    let trace = |p: Peaks| TraceResult {
        drive_at_deg: rounded(p.drive_at, 10.0),
        seat_at_deg: rounded(p.seat_at, 10.0),
        seat_nm: torque(p.seat),
        failure_at_deg: rounded(p.failure_at, 10.0),
    };
    RunResult {
        run: run.name.clone(),
        hole_mm: run.hole.map(mm),
        thickness_mm: mm(run.thickness),
        drive_nm: torque(run.drive.nm()),
        failure_nm: torque(run.failure.nm()),
        mode: run.mode.map(|m| m.name().to_owned()),
        trace: run.peaks.map(trace),
    }
}

/// A length in mm, rounded to 1e-6.
fn mm(length: Length) -> f64 {
    rounded(length.mm(), 1e6)
}

/// A torque in N·m, rounded to 1e-6.
fn torque(nm: f64) -> f64 {
    rounded(nm, 1e6)
}

/// A share, rounded to 1e-6: smaller ones rest on no sample.
fn share(share: f64) -> f64 {
    rounded(share, 1e6)
}

fn rounded(value: f64, per_unit: f64) -> f64 {
    (value * per_unit).round() / per_unit + 0.0
}
