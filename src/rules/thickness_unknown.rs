#![doc = include_str!("thickness-unknown.md")]

use super::once::Once;
use super::{Rule, Subject};
use crate::finding::{Finding, Level};
use crate::shared::SharedText;

/// The rule.
pub(super) const RULE: Rule =
    Rule { name: "thickness-unknown", level: Level::Warn, text: include_str!("thickness-unknown.md"), check };

fn check(subject: &Subject<'_>) -> Vec<Finding> {
    let unknown = subject.screw_holes().filter(|it| it.metal().is_none());
    let mut said = Once::for_holes_of(subject);
    unknown
        .map(|it| {
            let thread = &it.screw.thread.name;
            let message = said.of(&it, || {
                SharedText::from(format!(
                    "neither the hole list nor the drawing states how thick the metal is at this hole for {thread}"
                ))
            });
            RULE.at_hole(subject, it.hole, message)
                .with_remedy("state the thickness in the title block or in the hole list")
        })
        .collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::rules::scene::{Scene, mm};

    #[test]
    fn a_screw_hole_in_metal_of_unknown_thickness_is_found() {
        let mut scene = Scene::metric();
        let hole = scene.screw_hole(3.6);
        scene.paired.holes[hole].making.thickness = None;
        assert_eq!(
            scene.messages(&RULE),
            ["neither the hole list nor the drawing states how thick the metal is at this hole for M4"]
        );
    }

    #[test]
    fn silent_with_a_thickness_a_depth_or_no_screw() {
        let mut scene = Scene::metric();
        scene.screw_hole(3.6);
        let blind = scene.screw_hole(3.6);
        scene.paired.holes[blind].making.thickness = None;
        scene.paired.holes[blind].depth = Some(mm(12.0));
        scene.hole(5.0);
        assert_eq!(scene.run(&RULE), []);
    }
}
