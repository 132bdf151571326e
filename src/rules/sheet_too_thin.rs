#![doc = include_str!("sheet-too-thin.md")]

use super::{Rule, Subject, sizes, words};
use crate::finding::{Finding, Level};
use crate::joint::ScrewForm;
use crate::practice::Limit;
use crate::trade::Process;

/// The rule.
pub(super) const RULE: Rule =
    Rule { name: "sheet-too-thin", level: Level::Warn, text: include_str!("sheet-too-thin.md"), check };

fn check(subject: &Subject<'_>) -> Vec<Finding> {
    let unit = subject.unit();
    subject
        .screw_holes()
        .filter(|it| it.screw.form != ScrewForm::Spaced)
        .filter_map(|it| {
            let collar = it.row.and_then(|row| row.collar);
            if collar.is_none() && it.hole.making.process == Some(Process::Extruded) {
                return None;
            }
            let (metal, pitch) = (it.metal()?, it.screw.thread.pitch);
            let limits = &subject.practice.limits;
            let least = limits.length(Limit::LeastMetal, &it.screw.thread);
            if metal > least - sizes::SAME {
                return None;
            }
            let of = if collar.is_some() { "sheet and collar hold" } else { "metal holds" };
            let message = format!(
                "{} of {of} {} pitches of {}; {} are needed{}, which is {}",
                words::length(metal, unit),
                words::short(metal / pitch),
                it.screw.thread.name,
                words::count(limits.value(Limit::LeastMetal)),
                limits.by_whom(Limit::LeastMetal),
                words::length(least, unit)
            );
            let remedy = match collar {
                Some(_) => "draw the collar higher, or use thicker metal or a finer pitch",
                None => "extrude the hole, or use thicker metal or a finer pitch",
            };
            Some(RULE.at_hole(subject, it.hole, message).with_remedy(remedy))
        })
        .collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::joint::{Collar, Row};
    use crate::pairing::Role;
    use crate::rules::scene::{Scene, mm};

    fn scene(thickness: f64) -> Scene {
        let mut scene = Scene::metric();
        let hole = scene.screw_hole(3.6);
        scene.paired.holes[hole].making.thickness = Some(mm(thickness));
        scene
    }

    #[test]
    fn fewer_than_two_pitches_are_found() {
        // M4: 1.0 / 0.7 = 1.43 pitches, by hand.
        assert_eq!(
            scene(1.0).messages(&RULE),
            ["1 mm of metal holds 1.43 pitches of M4; two are needed, which is 1.4 mm"]
        );
    }

    #[test]
    fn a_counterbore_takes_metal_away() {
        let mut scene = scene(2.0);
        assert_eq!(scene.run(&RULE), []);
        scene.paired.holes[0].entry = Some((Role::Counterbore, mm(8.0), Some(mm(1.0))));
        assert_eq!(scene.run(&RULE).len(), 1);
    }

    #[test]
    fn silent_at_two_pitches_and_with_a_collar() {
        assert_eq!(scene(1.4).run(&RULE), []);
        let mut collared = scene(1.0);
        collared.row(
            Row { collar: Some(Collar { height: mm(1.0), ..Collar::default() }), ..Row::default() },
            &[0],
        );
        assert_eq!(collared.run(&RULE), []);
        collared.paired.rows[0].row.collar =
            Some(Collar { height: mm(0.5), entry_radius: Some(mm(0.2)), ..Collar::default() });
        // 1 + 0.5 − 0.2 = 1.3 mm, by hand: 1.86 pitches.
        assert_eq!(
            collared.messages(&RULE),
            ["1.3 mm of sheet and collar hold 1.86 pitches of M4; two are needed, which is 1.4 mm"]
        );
        let mut extruded = scene(1.0);
        extruded.paired.holes[0].making.process = Some(Process::Extruded);
        assert_eq!(extruded.run(&RULE), []);
    }
}
