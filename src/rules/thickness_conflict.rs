#![doc = include_str!("thickness-conflict.md")]

use super::{Rule, Subject, words};
use crate::finding::{Finding, Level};

/// The rule.
pub(super) const RULE: Rule = Rule {
    name: "thickness-conflict",
    level: Level::Warn,
    text: include_str!("thickness-conflict.md"),
    check,
};

fn check(subject: &Subject<'_>) -> Vec<Finding> {
    let conflicts = subject.paired.thickness_conflicts.iter();
    conflicts
        .map(|conflict| {
            let message =
                format!("statements of the thickness disagree: {}", words::line(&conflict.says.join(", ")));
            let hole = conflict.hole.and_then(|index| subject.paired.holes.get(index));
            let finding = match hole {
                Some(hole) => RULE.at_hole(subject, hole, message),
                None => RULE.at_drawing(message),
            };
            finding.with_remedy("correct the one that is out of date")
        })
        .collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::pairing::Conflict;
    use crate::rules::scene::Scene;

    #[test]
    fn conflicts_of_the_sheet_and_of_a_hole_are_found() {
        let mut scene = Scene::metric();
        let hole = scene.screw_hole(3.6);
        for hole in [None, Some(hole)] {
            let says = vec!["list 1.5 mm".to_owned(), "title block 2 mm".to_owned()];
            scene.paired.thickness_conflicts.push(Conflict { says, hole });
        }
        let found = scene.run(&RULE);
        assert_eq!(found[0].message, "statements of the thickness disagree: list 1.5 mm, title block 2 mm");
        assert_eq!(found.iter().map(|f| f.place.hole.as_deref()).collect::<Vec<_>>(), [None, Some("H1")]);
    }

    #[test]
    fn silent_without_a_conflict() {
        let mut scene = Scene::metric();
        scene.screw_hole(3.6);
        assert_eq!(scene.run(&RULE), []);
    }
}
