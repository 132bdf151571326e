#![doc = include_str!("blind-hole-shallow.md")]

use super::{Rule, Subject, sizes, words};
use crate::finding::{Finding, Level};
use crate::practice::Limit;

/// The rule.
pub(super) const RULE: Rule = Rule {
    name: "blind-hole-shallow",
    level: Level::Fail,
    text: include_str!("blind-hole-shallow.md"),
    check,
};

fn check(subject: &Subject<'_>) -> Vec<Finding> {
    let unit = subject.unit();
    subject
        .screw_holes()
        .filter_map(|it| {
            let (depth, reach) = (it.hole.depth?, it.reach()?);
            let limits = &subject.practice.limits;
            let needed = reach + limits.length(Limit::BlindClearance, &it.screw.thread);
            if needed < depth + sizes::SAME {
                return None;
            }
            let message = format!(
                "the {} screw reaches {} into a hole {} deep; with {} of clearance{} {} is needed",
                it.screw.thread.name,
                words::length(reach, unit),
                words::length(depth, unit),
                words::pitches(limits.value(Limit::BlindClearance)),
                limits.by_whom(Limit::BlindClearance),
                words::length(needed, unit)
            );
            let remedy =
                format!("make the hole {} deep, or use a shorter screw", words::length(needed, unit));
            Some(RULE.at_hole(subject, it.hole, message).with_remedy(remedy))
        })
        .collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::joint::Row;
    use crate::rules::scene::{Scene, mm};

    fn scene(depth: Option<f64>) -> Scene {
        let mut scene = Scene::metric();
        let hole = scene.screw_hole(3.7);
        scene.paired.holes[hole].depth = depth.map(mm);
        scene.paired.holes[hole].screw.as_mut().unwrap().length = Some(mm(12.0));
        scene.row(Row { grip: Some(mm(2.0)), ..Row::default() }, &[hole]);
        scene
    }

    #[test]
    fn a_screw_that_meets_the_bottom_is_found() {
        // By hand: 12 − 2 = 10, plus 0.7.
        assert_eq!(
            scene(Some(10.0)).messages(&RULE),
            [
                "the M4 screw reaches 10 mm into a hole 10 mm deep; with one pitch of clearance 10.7 mm is needed"
            ]
        );
    }

    #[test]
    fn silent_where_it_fits_and_where_the_hole_is_through_or_the_grip_unknown() {
        assert_eq!(scene(Some(10.7)).run(&RULE), []);
        assert_eq!(scene(None).run(&RULE), []);
        let mut unknown = scene(Some(10.0));
        unknown.paired.rows[0].row.grip = None;
        assert_eq!(unknown.run(&RULE), []);
    }
}
