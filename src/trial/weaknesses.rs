//! What is wrong with a test or with its outcome, each under its own name.

use super::evaluation::{Evaluation, Weakness};
use super::{Mode, Trial};
use crate::finding::Level;

/// Holes and thicknesses nearer together than this share of the pitch are one extreme, tested several times.
const ONE: f64 = 0.01;

/// The weaknesses of a trial, the worst first.
pub(super) fn of(trial: &Trial, evaluation: &Evaluation) -> Vec<Weakness> {
    let all = [
        ratio_low(evaluation),
        no_window(evaluation),
        outside_window(evaluation),
        too_few_runs(evaluation),
        screw_may_break(trial, evaluation),
        mixed_modes(evaluation),
        modes_missing(evaluation),
        one_hole(trial, evaluation),
        one_thickness(trial, evaluation),
        missing(
            trial.lubricant.is_none(),
            "lubricant-missing",
            "no lubricant is stated, not even none; wax alone changes the drive torque",
        ),
        missing(
            trial.finish.is_none(),
            "finish-missing",
            "no finish is stated, not even none; another finish makes another test",
        ),
        missing(
            trial.driver_rpm.is_none(),
            "driver-speed-missing",
            "no driver speed is stated; test at that of production",
        ),
        form(trial),
    ];
    let mut all: Vec<Weakness> = all.into_iter().flatten().collect();
    all.sort_by_key(|weakness| std::cmp::Reverse(weakness.level));
    all
}

fn fail(name: &'static str, message: String) -> Option<Weakness> {
    Some(Weakness { name, level: Level::Fail, message })
}

fn warn(name: &'static str, message: String) -> Option<Weakness> {
    Some(Weakness { name, level: Level::Warn, message })
}

fn missing(is: bool, name: &'static str, message: &str) -> Option<Weakness> {
    is.then(|| Weakness { name, level: Level::Warn, message: message.to_owned() })
}

fn ratio_low(e: &Evaluation) -> Option<Weakness> {
    if e.ratio_of_means >= e.limits.ratio {
        return None;
    }
    let (found, needed) = (e.ratio_of_means, e.limits.ratio);
    fail("ratio-low", format!("mean failure is {found:.2} times mean drive torque; {needed} is needed"))
}

fn no_window(e: &Evaluation) -> Option<Weakness> {
    if e.window().is_some() {
        return None;
    }
    let ratio = e.ratio_of_limits;
    fail(
        "no-window",
        format!(
            "the limits of drive and failure cross (ratio {ratio:.2}), so no torque suits all assemblies"
        ),
    )
}

/// A setting of the tool that the window does not hold.
fn outside_window(e: &Evaluation) -> Option<Weakness> {
    let seating = e.seating.filter(|s| s.stated)?;
    let (low, high) = e.window()?;
    if seating.torque - seating.plus_minus >= low && seating.torque + seating.plus_minus <= high {
        return None;
    }
    fail("tool-outside-window", "the tool's setting with its scatter leaves the seating window".to_owned())
}

/// A seating torque that the screw need not bear. Only a warning: the strength is that of a table, and in the runs
/// themselves a screw that breaks is a failure like any other.
fn screw_may_break(trial: &Trial, e: &Evaluation) -> Option<Weakness> {
    let (seating, screw) = (e.seating?, e.torsional.as_ref()?);
    if e.seating_share()? < 1.0 {
        return None;
    }
    let unit = trial.torque_unit;
    let value = |nm: f64| format!("{:.2}", nm / unit.in_nm());
    let whose =
        if seating.stated { "the tool's setting with its scatter" } else { "the middle of the window" };
    warn(
        "seating-near-breaking",
        format!(
            "{whose}, {} {unit}, reaches the torque that {} bears at least, {} {unit} ({}); seat well under it",
            value(seating.torque + seating.plus_minus),
            trial.screw.thread.name,
            value(screw.least),
            screw.status.words()
        ),
    )
}

fn too_few_runs(e: &Evaluation) -> Option<Weakness> {
    let (found, needed) = (e.drive.count, e.limits.runs);
    if found >= needed {
        return None;
    }
    fail("too-few-runs", format!("{found} runs; {needed} are needed to rely on the spread"))
}

fn mixed_modes(e: &Evaluation) -> Option<Weakness> {
    if e.modes.kinds() < 2 {
        return None;
    }
    let counts =
        [(Mode::Strip, e.modes.strip), (Mode::ScrewBreak, e.modes.screw_break), (Mode::Head, e.modes.head)];
    let said: Vec<String> =
        counts.iter().filter(|(_, n)| *n > 0).map(|(mode, n)| format!("{n} {}", mode.name())).collect();
    let said = said.join(", ");
    warn(
        "mixed-modes",
        format!(
            "failures of several kinds ({said}) are no one population; the limit of failure is a rough guide"
        ),
    )
}

fn modes_missing(e: &Evaluation) -> Option<Weakness> {
    let unknown = e.modes.unknown;
    if unknown == 0 {
        return None;
    }
    warn("modes-missing", format!("{unknown} of {} runs do not say what failed", e.drive.count))
}

fn one_hole(trial: &Trial, e: &Evaluation) -> Option<Weakness> {
    let Some((low, high)) = e.holes else {
        return warn(
            "holes-missing",
            "no run states its hole, so it is not known which holes the test stands for".to_owned(),
        );
    };
    let same = high - low <= trial.screw.thread.pitch * ONE;
    let all = "all runs were made at one size of hole; test the smallest and the largest";
    if same { warn("one-hole-only", all.to_owned()) } else { None }
}

fn one_thickness(trial: &Trial, e: &Evaluation) -> Option<Weakness> {
    let (low, high) = e.thicknesses;
    let same = high - low <= trial.screw.thread.pitch * ONE;
    let all = "all runs were made in one thickness; test the thinnest and the thickest";
    if same { warn("one-thickness-only", all.to_owned()) } else { None }
}

fn form(trial: &Trial) -> Option<Weakness> {
    use crate::joint::ScrewForm;
    if trial.screw.form == ScrewForm::Rolling {
        return None;
    }
    let form = trial.screw.form.name();
    warn(
        "not-rolling",
        format!("a {form} screw was tested, so the test says nothing of a thread-rolling one"),
    )
}
