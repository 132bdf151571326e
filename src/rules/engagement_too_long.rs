#![doc = include_str!("engagement-too-long.md")]

use super::{Rule, Subject, sizes, words};
use crate::finding::{Finding, Level};
use crate::joint::ScrewForm;
use crate::practice::Limit;

/// The rule.
pub(super) const RULE: Rule = Rule {
    name: "engagement-too-long",
    level: Level::Warn,
    text: include_str!("engagement-too-long.md"),
    check,
};

fn check(subject: &Subject<'_>) -> Vec<Finding> {
    let unit = subject.unit();
    subject
        .screw_holes()
        .filter(|it| it.screw.form != ScrewForm::Spaced)
        .filter_map(|it| {
            let (engaged, major) = (it.engaged()?, it.screw.thread.major);
            let limits = &subject.practice.limits;
            let most = limits.length(Limit::LongestEngagement, &it.screw.thread);
            if engaged < most + sizes::SAME {
                return None;
            }
            let message = format!(
                "the thread of {} is formed over {}, {} diameters; at most {} are useful{}, which is {}",
                it.screw.thread.name,
                words::length(engaged, unit),
                words::short(engaged / major),
                words::count(limits.value(Limit::LongestEngagement)),
                limits.by_whom(Limit::LongestEngagement),
                words::length(most, unit)
            );
            let remedy = "counterbore or open part of the hole, or use a shorter screw";
            Some(RULE.at_hole(subject, it.hole, message).with_remedy(remedy))
        })
        .collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::joint::Row;
    use crate::rules::scene::{Scene, mm};

    fn scene(thickness: f64) -> Scene {
        let mut scene = Scene::metric();
        let hole = scene.screw_hole(3.7);
        scene.paired.holes[hole].making.thickness = Some(mm(thickness));
        scene
    }

    #[test]
    fn more_than_two_diameters_are_found() {
        // M4 through 10 mm is 2.5 diameters, by hand.
        assert_eq!(
            scene(10.0).messages(&RULE),
            ["the thread of M4 is formed over 10 mm, 2.5 diameters; at most two are useful, which is 8 mm"]
        );
    }

    #[test]
    fn a_short_screw_forms_only_as_far_as_it_reaches() {
        let mut scene = scene(10.0);
        scene.paired.holes[0].screw.as_mut().unwrap().length = Some(mm(8.0));
        scene.row(Row { grip: Some(mm(2.0)), ..Row::default() }, &[0]);
        assert_eq!(scene.run(&RULE), []);
    }

    #[test]
    fn silent_up_to_two_diameters() {
        assert_eq!(scene(8.0).run(&RULE), []);
    }
}
