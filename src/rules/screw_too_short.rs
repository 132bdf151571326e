#![doc = include_str!("screw-too-short.md")]

use super::{Rule, ScrewHole, Subject, sizes, words};
use crate::finding::{Finding, Level};
use crate::practice::{Limit, Limits};
use crate::units::Length;
use crate::verdict::least;

/// The rule.
pub(super) const RULE: Rule =
    Rule { name: "screw-too-short", level: Level::Warn, text: include_str!("screw-too-short.md"), check };

fn check(subject: &Subject<'_>) -> Vec<Finding> {
    let unit = subject.unit();
    subject
        .screw_holes()
        .filter_map(|it| {
            let lengths = it.lengths();
            let (reach, (least, most)) = (lengths.reach?, lengths.full_thread?);
            let limits = &it.practice.limits;
            let (_, long) = limits.point(&it.screw.thread);
            let (wanted, bottomed) = holds(&it, long, limits)?;
            // Where the bottom of a hole sets the limit, only one length would fill it. A screw will do if the next
            // longer one would meet the bottom.
            let step =
                if bottomed { limits.length(Limit::ScrewLengthStep, &it.screw.thread) } else { Length::ZERO };
            if least > wanted - step - sizes::SAME {
                return None;
            }
            let turns = |length: Length| format!("{:.1}", length / it.screw.thread.pitch);
            let message = format!(
                "the {} screw reaches {} into the metal and leaves {} to {} of full thread ({} to {} \
                 turns) after its point{}; the metal could hold {}{}",
                it.screw.thread.name,
                words::length(reach, unit),
                words::number(least, unit),
                words::length(most, unit),
                turns(least),
                turns(most),
                limits.by_whom(Limit::LongestPoint),
                words::length(wanted, unit),
                whose(bottomed, wanted, limits.length(Limit::LongestEngagement, &it.screw.thread), limits)
            );
            let length = it.screw.length.unwrap_or(Length::ZERO) + (wanted - least);
            let remedy = if bottomed {
                let from = words::number(length - step, unit);
                format!("use a screw {from} to {} long", words::length(length, unit))
            } else {
                format!("use a screw at least {} long", words::length(length, unit))
            };
            Some(RULE.at_hole(subject, it.hole, message).with_remedy(remedy))
        })
        .collect()
}

/// Whose limit it is that ends what the metal could hold: the clearance of a blind hole, or the longest engagement.
fn whose(bottomed: bool, wanted: Length, longest: Length, limits: &Limits) -> String {
    if bottomed {
        limits.by_whom(Limit::BlindClearance)
    } else if wanted >= longest {
        limits.by_whom(Limit::LongestEngagement)
    } else {
        String::new()
    }
}

/// Full thread that the metal could hold with a point of that length, and whether the bottom of a blind hole is what
/// ends it.
fn holds(it: &ScrewHole<'_>, taper: Length, limits: &Limits) -> Option<(Length, bool)> {
    let limit = |limit| limits.length(limit, &it.screw.thread);
    let lengths = it.lengths();
    let blind = lengths.blind.map(|depth| depth - taper - limit(Limit::BlindClearance));
    let usable = least(lengths.through, blind)?.min(limit(Limit::LongestEngagement)).max(Length::ZERO);
    Some((usable, blind.is_some_and(|blind| blind <= usable)))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::joint::Row;
    use crate::practice::Origin;
    use crate::rules::scene::{Scene, mm};

    fn scene(length: f64, grip: Option<f64>, thickness: f64) -> Scene {
        let mut scene = Scene::metric();
        let hole = scene.screw_hole(3.6);
        scene.paired.holes[hole].making.thickness = Some(mm(thickness));
        scene.paired.holes[hole].screw.as_mut().unwrap().length = Some(mm(length));
        scene.row(Row { grip: grip.map(mm), ..Row::default() }, &[hole]);
        scene
    }

    #[test]
    fn a_screw_whose_point_ends_in_the_metal_is_found() {
        // By hand: 6 − 2 = 4; 4 − 3.5 × 0.7 = 1.55; 4 − 2 × 0.7 = 2.6; 6 + 3 − 1.55 = 7.45.
        let found = scene(6.0, Some(2.0), 3.0).run(&RULE);
        assert_eq!(
            found[0].message,
            "the M4 screw reaches 4 mm into the metal and leaves 1.55 to 2.6 mm of full thread (2.2 to 3.7 turns) \
             after its point; the metal could hold 3 mm"
        );
        assert_eq!(found[0].remedy.as_deref(), Some("use a screw at least 7.45 mm long"));
    }

    #[test]
    fn a_blind_hole_holds_its_depth_less_point_and_clearance() {
        // By hand: depth 10 − 2.45 − 0.7 = 6.85; reach 9.3 − 2.45 = 6.85.
        let mut scene = scene(11.3, Some(2.0), 12.0);
        scene.paired.holes[0].depth = Some(mm(10.0));
        assert_eq!(scene.run(&RULE), []);
        // Half a diameter shorter is 9.3: the next usual length would meet the bottom. Shorter still is too short.
        scene.paired.holes[0].screw.as_mut().unwrap().length = Some(mm(9.3));
        assert_eq!(scene.run(&RULE), []);
        scene.paired.holes[0].screw.as_mut().unwrap().length = Some(mm(9.2));
        let found = scene.run(&RULE);
        assert_eq!(found[0].remedy.as_deref(), Some("use a screw 9.3 to 11.3 mm long"));
    }

    #[test]
    fn a_limit_of_a_policy_is_named() {
        let of = |limit| {
            let mut scene = scene(6.0, Some(2.0), 3.0);
            let origin = Origin::File { file: "boreband.json".to_owned(), pointer: String::new() };
            // 0.5 diameters of M4 are 2 mm, less than the 3 mm of metal; a point of three pitches is shorter.
            let value = if limit == Limit::LongestEngagement { 0.5 } else { 3.0 };
            scene.practice.limits.set(limit, value, origin);
            scene.messages(&RULE).concat()
        };
        assert!(of(Limit::LongestPoint).contains("after its point (policy boreband.json); the metal"));
        assert!(of(Limit::LongestEngagement).ends_with("could hold 2 mm (policy boreband.json)"));
    }

    #[test]
    fn silent_when_long_enough_or_when_the_grip_is_not_known() {
        assert_eq!(scene(8.0, Some(2.0), 3.0).run(&RULE), []);
        assert_eq!(scene(4.0, None, 3.0).run(&RULE), []);
    }
}
