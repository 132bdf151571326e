#![doc = include_str!("torque-ratio-low.md")]

use super::{Rule, Subject, words};
use crate::finding::{Finding, Level};
use crate::practice::Limit;

/// The rule.
pub(super) const RULE: Rule =
    Rule { name: "torque-ratio-low", level: Level::Fail, text: include_str!("torque-ratio-low.md"), check };

fn check(subject: &Subject<'_>) -> Vec<Finding> {
    let least = subject.practice.limits.value(Limit::StripToDrive);
    subject
        .screw_holes()
        .filter_map(|it| {
            let evidence = subject.evidence(&it)?;
            let e = &evidence.evaluation;
            if e.ratio_of_means >= least {
                return None;
            }
            let message = format!(
                "trial record {} gives a mean failure torque of {} times the mean drive torque over {}; {} times is needed",
                evidence.name(),
                words::short(e.ratio_of_means),
                words::counted(e.drive.count, "run"),
                words::short(least)
            );
            let remedy = "a larger hole or a lubricant lowers the drive torque; thicker metal or a longer engagement raises the strip torque";
            Some(RULE.at_hole(subject, it.hole, message).with_remedy(remedy))
        })
        .collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::joint::Row;
    use crate::rules::scene::Scene;
    use crate::trial::Trials;

    /// A hole whose row names a record of the samples.
    fn scene(record: &str) -> Scene {
        let mut scene = Scene::metric();
        let hole = scene.screw_hole(3.6);
        scene.row(Row { trial: Some(record.to_owned()), ..Row::default() }, &[hole]);
        let row = &mut scene.paired.rows[0].row;
        row.list = format!("{}/samples/trials/lid.holes.json", env!("CARGO_MANIFEST_DIR"));
        scene.trials = Trials::load([&*row].into_iter()).expect("a sample without faults");
        scene
    }

    #[test]
    fn a_low_ratio_is_found_and_a_sufficient_one_is_not() {
        // samples/README.md: 6.321 / 2.376 = 2.66.
        assert_eq!(
            scene("housing-m5.trial.json").messages(&RULE),
            [
                "trial record housing-m5.trial.json gives a mean failure torque of 2.66 times the mean drive torque over 12 \
              runs; 3 times is needed"
            ]
        );
        assert_eq!(scene("lid-m4.trial.json").run(&RULE), []);
    }

    #[test]
    fn silent_without_a_record() {
        let mut scene = Scene::metric();
        scene.screw_hole(3.6);
        assert_eq!(scene.run(&RULE), []);
    }
}
