#![doc = include_str!("boss-wall-thin.md")]

use super::{Rule, ScrewHole, Subject, sizes, words};
use crate::finding::{Finding, Level};
use crate::practice::Limit;
use crate::trade::{Material, Process};
use crate::units::Length;

/// The rule.
pub(super) const RULE: Rule =
    Rule { name: "boss-wall-thin", level: Level::Warn, text: include_str!("boss-wall-thin.md"), check };

/// Share by which a circle may differ from a counterbore that is called out and still be it.
const SAME_CIRCLE: f64 = 0.05;

fn check(subject: &Subject<'_>) -> Vec<Finding> {
    let unit = subject.unit();
    let limits = &subject.practice.limits;
    subject
        .screw_holes()
        .filter_map(|it| {
            let outside = boss(subject, &it)?;
            let thread = &it.screw.thread;
            let wall = (outside - it.judged.limits.max) / 2.0;
            let least_wall = limits.length(Limit::BossWall, thread);
            let magnesium = it.hole.making.material == Some(Material::MagnesiumDieCast);
            let outside_limit = if magnesium { Limit::BossOutsideMagnesium } else { Limit::BossOutside };
            let least_outside = limits.length(outside_limit, thread);
            let needed = (least_wall * 2.0 + it.judged.limits.max).max(least_outside);
            if outside >= needed - sizes::SAME {
                return None;
            }
            let message = format!(
                "the boss of {} leaves a wall of {}; {} needs a wall of {} and an outside of {}, {} and {} times its diameter",
                words::diameter(outside, unit),
                words::length(wall, unit),
                thread.name,
                words::length(least_wall, unit),
                words::diameter(least_outside, unit),
                words::short(limits.value(Limit::BossWall)),
                words::short(limits.value(outside_limit))
            );
            let remedy = format!("make the boss {}", words::diameter(needed, unit));
            Some(RULE.at_hole(subject, it.hole, message).with_remedy(remedy))
        })
        .collect()
}

/// Outside of the boss round a hole. In sheet and plate a circle about a hole is a counterbore; only a casting has
/// bosses, and there a circle that the callout names is none either.
fn boss(subject: &Subject<'_>, it: &ScrewHole<'_>) -> Option<Length> {
    let cast = matches!(
        it.hole.making.material,
        Some(Material::AluminiumDieCast | Material::ZincDieCast | Material::MagnesiumDieCast)
    ) || it.hole.making.process == Some(Process::Cored);
    let outside = subject.surroundings(it)?.outer.filter(|_| cast)?;
    let callout = subject.callout_of(it.hole).map(|seen| &seen.callout);
    let called = callout.is_some_and(|c| c.counterbore.is_some() || c.countersink.is_some());
    let entry = it.hole.entry.filter(|_| called).map(|(_, diameter, _)| diameter);
    let is_entry = entry.is_some_and(|entry| (outside - entry).abs() <= entry * SAME_CIRCLE);
    (!is_entry).then_some(outside)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::callout::{Callout, Entry};
    use crate::pairing::{Role, Surroundings};
    use crate::rules::scene::{Scene, mm};

    fn scene(material: Material, outer: f64) -> Scene {
        let mut scene = Scene::metric();
        let hole = scene.screw_hole(3.7);
        scene.paired.holes[hole].making.material = Some(material);
        scene.paired.surroundings = vec![Surroundings { outer: Some(mm(outer)), ..Surroundings::default() }];
        scene
    }

    #[test]
    fn a_thin_boss_is_found() {
        // M4: (7 - 3.7) / 2 = 1.65, less than 2; the outside of 8 is what two diameters and 3.7 + 4 ask for.
        let findings = scene(Material::AluminiumDieCast, 7.0).run(&RULE);
        assert_eq!(
            findings[0].message,
            "the boss of Ø7 leaves a wall of 1.65 mm; M4 needs a wall of 2 mm and an outside of Ø8, 0.5 and 2 times its diameter"
        );
        assert_eq!(findings[0].remedy.as_deref(), Some("make the boss Ø8"));
    }

    #[test]
    fn magnesium_needs_more() {
        assert_eq!(scene(Material::ZincDieCast, 8.0).run(&RULE), []);
        assert_eq!(scene(Material::MagnesiumDieCast, 9.9).run(&RULE).len(), 1);
        assert_eq!(scene(Material::MagnesiumDieCast, 10.0).run(&RULE), []);
    }

    #[test]
    fn a_circle_in_sheet_and_a_counterbore_called_out_are_no_boss() {
        assert_eq!(scene(Material::LowCarbonSteel, 7.0).run(&RULE), []);
        let mut sunk = scene(Material::AluminiumDieCast, 7.0);
        sunk.paired.holes[0].entry = Some((Role::Counterbore, mm(7.0), None));
        sunk.callout(
            Callout {
                counterbore: Some(Entry { diameter: None, depth: None, angle: None }),
                ..Callout::default()
            },
            &[0],
        );
        assert_eq!(sunk.run(&RULE), []);
    }
}
