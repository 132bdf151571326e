#![doc = include_str!("edge-too-close.md")]

use super::{Rule, Subject, sizes, words};
use crate::finding::{Finding, Level};
use crate::practice::Limit;

/// The rule.
pub(super) const RULE: Rule =
    Rule { name: "edge-too-close", level: Level::Warn, text: include_str!("edge-too-close.md"), check };

/// Share by which a round edge may seem nearer than it is, since it is measured along chords.
const CHORDS: f64 = 0.001;

fn check(subject: &Subject<'_>) -> Vec<Finding> {
    let unit = subject.unit();
    let limits = &subject.practice.limits;
    subject
        .screw_holes()
        .filter_map(|it| {
            let edge = subject.surroundings(&it)?.edge?;
            let thread = &it.screw.thread;
            let least = limits.length(Limit::EdgeDistance, thread);
            if edge >= least * (1.0 - CHORDS) - sizes::SAME {
                return None;
            }
            let message = format!(
                "the centre is {} from the edge of the part, {} times the diameter of {}; {} times is needed{}, which is {}",
                words::length(edge, unit),
                words::short(edge / thread.major),
                thread.name,
                words::short(limits.value(Limit::EdgeDistance)),
                limits.by_whom(Limit::EdgeDistance),
                words::length(least, unit)
            );
            let remedy = format!("move the hole {} inwards, or use a smaller screw", words::length(least - edge, unit));
            Some(RULE.at_hole(subject, it.hole, message).with_remedy(remedy))
        })
        .collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::pairing::Surroundings;
    use crate::rules::scene::{Scene, mm};

    fn scene(edge: f64) -> Scene {
        let mut scene = Scene::metric();
        scene.screw_hole(3.6);
        scene.paired.surroundings = vec![Surroundings { edge: Some(mm(edge)), ..Surroundings::default() }];
        scene
    }

    #[test]
    fn nearer_than_one_and_a_half_diameters_is_found() {
        // M4: 1.5 times 4 is 6; 5 / 4 = 1.25, by hand.
        let findings = scene(5.0).run(&RULE);
        assert_eq!(
            findings[0].message,
            "the centre is 5 mm from the edge of the part, 1.25 times the diameter of M4; 1.5 times is needed, which is 6 mm"
        );
        assert!(findings[0].remedy.as_ref().is_some_and(|r| r.starts_with("move the hole 1 mm inwards")));
    }

    #[test]
    fn silent_at_the_limit_without_an_outline_and_where_nothing_is_to_scale() {
        assert_eq!(scene(6.0).run(&RULE), []);
        let mut unknown = scene(5.0);
        unknown.paired.surroundings[0].edge = None;
        assert_eq!(unknown.run(&RULE), []);
        let mut unscaled = scene(5.0);
        unscaled.judged[0].limits.nominal = mm(7.2);
        assert_eq!(unscaled.run(&RULE), []);
    }
}
