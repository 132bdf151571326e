#![doc = include_str!("trial-missing.md")]

use super::{Rule, ScrewHole, Subject};
use crate::finding::{Finding, Level};

/// The rule.
pub(super) const RULE: Rule =
    Rule { name: "trial-missing", level: Level::Note, text: include_str!("trial-missing.md"), check };

fn check(subject: &Subject<'_>) -> Vec<Finding> {
    let found = |it: ScrewHole<'_>| {
        let asked = asked(subject, &it);
        let message = match (subject.evidence(&it), asked) {
            (Some(evidence), _) if evidence.has_low_ratio() => return None,
            (Some(evidence), _) => evidence.refuses()?,
            (None, true) => format!(
                "the policy asks for a trial record of {} here, and none is named",
                it.screw.thread.name
            ),
            (None, false) => return None,
        };
        let remedy = "test this joint and name the record in the hole list ('trial')";
        Some(RULE.at_hole(subject, it.hole, message).with_remedy(remedy))
    };
    subject.screw_holes().filter_map(found).collect()
}

fn asked(subject: &Subject<'_>, it: &ScrewHole<'_>) -> bool {
    let required = &subject.practice.trials;
    required.iter().any(|r| r.asks(subject.path, &it.screw.thread, it.hole.making.material))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::practice::{Origin, RequiredTrial};
    use crate::rules::scene::Scene;

    #[test]
    fn speaks_only_where_the_policy_asks() {
        let mut scene = Scene::metric();
        scene.screw_hole(3.6);
        assert_eq!(scene.run(&RULE), []);
        scene.practice.trials.push(RequiredTrial {
            drawing: Some("lid*".to_owned()),
            materials: Vec::new(),
            threads: Vec::new(),
            origin: Origin::File { file: "boreband.json".to_owned(), pointer: "/trials/0".to_owned() },
        });
        assert_eq!(
            scene.messages(&RULE),
            ["the policy asks for a trial record of M4 here, and none is named"]
        );
        scene.practice.trials[0].drawing = Some("castings/**".to_owned());
        assert_eq!(scene.run(&RULE), []);
    }
}
