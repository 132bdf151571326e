//! What the rules on contradictory statements share.

use super::{Rule, Subject, words};
use crate::finding::Finding;
use crate::pairing::{Conflict, Stated};

/// The statements about a fact that contradict each other. `what` is the fact in words.
pub(super) fn found(rule: &Rule, subject: &Subject<'_>, about: Stated, what: &str) -> Vec<Finding> {
    let conflicts = subject.paired.conflicts.iter().filter(|conflict| conflict.about == about);
    let finding = |conflict: &Conflict| {
        let message =
            format!("statements of the {what} disagree: {}", words::line(&conflict.says.join(", ")));
        let hole = conflict.hole.and_then(|index| subject.paired.holes.get(index));
        let finding = match hole {
            Some(hole) => rule.at_hole(subject, hole, message),
            None => rule.at_drawing(message),
        };
        finding.with_remedy("correct the one that is out of date")
    };
    conflicts.map(finding).collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::rules::scene::Scene;
    use crate::rules::{material_conflict, thickness_conflict};

    #[test]
    fn conflicts_of_the_sheet_and_of_a_hole_are_found_each_by_its_rule() {
        let mut scene = Scene::metric();
        let hole = scene.screw_hole(3.6);
        for hole in [None, Some(hole)] {
            let says = vec!["list 1.5 mm".to_owned(), "title block 2 mm".to_owned()];
            scene.paired.conflicts.push(Conflict { about: Stated::Thickness, says, hole });
        }
        let found = scene.run(&thickness_conflict::RULE);
        assert_eq!(found[0].message, "statements of the thickness disagree: list 1.5 mm, title block 2 mm");
        assert_eq!(found.iter().map(|f| f.place.hole.as_deref()).collect::<Vec<_>>(), [None, Some("H1")]);
        assert_eq!(scene.run(&material_conflict::RULE), []);
        let says = vec!["hole list: brass".to_owned(), "title block: copper".to_owned()];
        scene.paired.conflicts = vec![Conflict { about: Stated::Material, says, hole: None }];
        assert_eq!(
            scene.messages(&material_conflict::RULE),
            ["statements of the metal disagree: hole list: brass, title block: copper"]
        );
        assert_eq!(scene.run(&thickness_conflict::RULE), []);
    }
}
