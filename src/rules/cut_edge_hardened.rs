#![doc = include_str!("cut-edge-hardened.md")]

use super::{Rule, Subject, words};
use crate::finding::{Finding, Level};
use crate::practice::Limit;
use crate::trade::{Material, Process};

/// The rule.
pub(super) const RULE: Rule =
    Rule { name: "cut-edge-hardened", level: Level::Fail, text: include_str!("cut-edge-hardened.md"), check };

fn check(subject: &Subject<'_>) -> Vec<Finding> {
    let unit = subject.unit();
    subject
        .screw_holes()
        .filter_map(|it| {
            let making = &it.hole.making;
            let (process, material) = (making.process?, making.material?);
            let thermal = matches!(process, Process::Laser | Process::Plasma);
            let hardens = matches!(material, Material::LowCarbonSteel | Material::StructuralSteel);
            let reamed = it.row.is_some_and(|row| row.edge_reamed == Some(true));
            if !thermal || !hardens || reamed {
                return None;
            }
            let message = format!(
                "a {} cut hardens the hole's wall in {}, and the hole is not reamed or drilled to size",
                process.name(),
                material.words()
            );
            let target = it.judged.advice.as_ref().map_or(it.judged.limits.nominal, |advice| advice.diameter);
            let finished = match &it.judged.advice {
                Some(advice) => words::line(&advice.callout),
                None => words::diameter(target, unit),
            };
            let remedy = format!(
                "cut it {} or smaller{}, then ream or drill it to {finished}",
                words::diameter(
                    target - subject.practice.limits.length(Limit::CutUndersize, &it.screw.thread),
                    unit
                ),
                subject.practice.limits.by_whom(Limit::CutUndersize)
            );
            Some(RULE.at_hole(subject, it.hole, message).with_remedy(remedy))
        })
        .collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::joint::Row;
    use crate::rules::scene::Scene;

    fn scene(process: Process, material: Material, reamed: Option<bool>) -> Scene {
        let mut scene = Scene::metric();
        let hole = scene.screw_hole(3.6);
        scene.paired.holes[hole].making.process = Some(process);
        scene.paired.holes[hole].making.material = Some(material);
        scene.row(Row { edge_reamed: reamed, ..Row::default() }, &[hole]);
        scene
    }

    #[test]
    fn a_laser_cut_in_carbon_steel_is_found_with_both_sizes() {
        let found = scene(Process::Laser, Material::LowCarbonSteel, None).run(&RULE);
        assert_eq!(
            found[0].message,
            "a laser cut hardens the hole's wall in low-carbon steel, and the hole is not reamed or drilled to size"
        );
        // 3.6 − 0.5, by hand.
        assert_eq!(found[0].remedy.as_deref(), Some("cut it Ø3.1 or smaller, then ream or drill it to Ø3.6"));
        assert_eq!(scene(Process::Plasma, Material::StructuralSteel, Some(false)).run(&RULE).len(), 1);
    }

    #[test]
    fn silent_when_reamed_and_on_other_metals_and_processes() {
        assert_eq!(scene(Process::Laser, Material::LowCarbonSteel, Some(true)).run(&RULE), []);
        assert_eq!(scene(Process::Laser, Material::AluminiumWrought, None).run(&RULE), []);
        assert_eq!(scene(Process::Punched, Material::LowCarbonSteel, None).run(&RULE), []);
        assert_eq!(scene(Process::Waterjet, Material::LowCarbonSteel, None).run(&RULE), []);
    }
}
