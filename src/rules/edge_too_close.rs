#![doc = include_str!("edge-too-close.md")]

use super::{Rule, Subject, sizes, words};
use crate::finding::{Finding, Level};

/// The rule.
pub(super) const RULE: Rule =
    Rule { name: "edge-too-close", level: Level::Warn, text: include_str!("edge-too-close.md"), check };

/// Share by which a round edge may seem nearer than it is, since it is measured along chords.
const CHORDS: f64 = 0.001;

fn check(subject: &Subject<'_>) -> Vec<Finding> {
    let unit = subject.unit();
    subject
        .screw_holes()
        .filter_map(|it| {
            let around = subject.surroundings(&it)?;
            let edge = around.edge?;
            let thread = &it.screw.thread;
            let needed = it.edge_needed();
            let least = needed.least;
            if edge >= least * (1.0 - CHORDS) - sizes::SAME {
                return None;
            }
            let message = format!(
                "the centre is {} from the edge of {}, {} times the diameter of {}; {} are needed, which is {}",
                words::length(edge, unit),
                if around.cut_out { "a cut-out" } else { "the part" },
                words::short(edge / thread.major),
                thread.name,
                it.rule(&needed),
                words::length(least, unit)
            );
            let remedy = format!("move the hole {} {}, or use a smaller screw", words::length(least - edge, unit), if around.cut_out { "away from it" } else { "inwards" });
            Some(RULE.at_hole(subject, it.hole, message).with_remedy(remedy))
        })
        .collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::joint::{Collar, Row};
    use crate::pairing::Surroundings;
    use crate::rules::scene::{Scene, mm};
    use crate::trade::Process;

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
            "the centre is 5 mm from the edge of the part, 1.25 times the diameter of M4; 1.5 diameters of M4 are needed, which is 6 mm"
        );
        assert!(findings[0].remedy.as_ref().is_some_and(|r| r.starts_with("move the hole 1 mm inwards")));
    }

    #[test]
    fn a_cut_out_is_named() {
        let mut scene = scene(5.0);
        scene.paired.surroundings[0].cut_out = true;
        let found = scene.run(&RULE);
        assert!(found[0].message.starts_with("the centre is 5 mm from the edge of a cut-out, 1.25 times"));
        assert!(found[0].remedy.as_ref().is_some_and(|r| r.starts_with("move the hole 1 mm away from it")));
    }

    #[test]
    fn a_collar_wants_three_thicknesses_and_half_a_diameter() {
        // By hand: 3 × 2 + 4 / 2 = 8, more than 1.5 × 4; in 1 mm sheet 3 + 2 = 5 is less, and 6 holds.
        let collared = |edge, thickness| {
            let mut scene = scene(edge);
            scene.paired.holes[0].making.thickness = Some(mm(thickness));
            let collar = Some(Collar { height: mm(1.0), ..Collar::default() });
            scene.row(Row { collar, ..Row::default() }, &[0]);
            scene
        };
        let found = collared(7.0, 2.0).run(&RULE);
        assert!(
            found[0].message.ends_with(
                "; three thicknesses of the sheet and half the diameter of M4, for a collar, are needed, which is 8 mm"
            ),
            "{}",
            found[0].message
        );
        assert_eq!((collared(8.0, 2.0).run(&RULE), collared(6.0, 1.0).run(&RULE)), (vec![], vec![]));
        assert!(
            collared(5.5, 1.0).messages(&RULE)[0].contains("1.5 diameters of M4 are needed, which is 6 mm")
        );
        // An extruded hole has a collar even where its height is not stated.
        let mut extruded = scene(7.0);
        extruded.paired.holes[0].making.thickness = Some(mm(2.0));
        assert_eq!(extruded.run(&RULE), []);
        extruded.paired.holes[0].making.process = Some(Process::Extruded);
        assert_eq!(extruded.run(&RULE).len(), 1);
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
