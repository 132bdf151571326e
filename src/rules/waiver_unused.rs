#![doc = include_str!("waiver-unused.md")]

use super::{Rule, Subject};
use crate::finding::{Finding, Level};

/// The rule.
pub(super) const RULE: Rule =
    Rule { name: "waiver-unused", level: Level::Warn, text: include_str!("waiver-unused.md"), check };

fn check(subject: &Subject<'_>) -> Vec<Finding> {
    let left = subject.waivers.iter().filter(|held| !held.is_used);
    left.map(|held| {
        let message = format!(
            "the waiver of {} at {}{} is about nothing that is found here",
            held.waiver.rule, held.file, held.waiver.pointer
        );
        RULE.at_drawing(message).with_remedy("delete it, or accept what changed anew")
    })
    .collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::rules::scene::Scene;
    use crate::waivers::{Held, sample};

    #[test]
    fn only_a_waiver_that_covered_nothing_is_found() {
        let scene = Scene::metric();
        let waiver = sample();
        let found = |is_used| {
            let held = [Held { waiver: &waiver, file: "w.json", is_expired: false, is_used }];
            check(&Subject { waivers: &held, ..scene.subject() })
        };
        assert_eq!(found(true), []);
        assert_eq!(found(false).len(), 1);
        assert!(
            found(false)[0].message.contains("engagement-above-band at w.json/waivers/0"),
            "{:?}",
            found(false)
        );
    }
}
