#![doc = include_str!("waiver-expired.md")]

use super::{Rule, Subject};
use crate::finding::{Finding, Level};

/// The rule.
pub(super) const RULE: Rule =
    Rule { name: "waiver-expired", level: Level::Warn, text: include_str!("waiver-expired.md"), check };

fn check(subject: &Subject<'_>) -> Vec<Finding> {
    let over = subject.waivers.iter().filter(|held| held.is_expired && held.is_used);
    over.filter_map(|held| {
        let message = format!(
            "the waiver of {} at {}{} ended on {}; what it covered counts again",
            held.waiver.rule, held.file, held.waiver.pointer, held.waiver.expires?
        );
        Some(RULE.at_drawing(message).with_remedy("mend what it covered, or accept it anew with a later day"))
    })
    .collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::rules::scene::Scene;
    use crate::waivers::{Held, day, sample};

    #[test]
    fn only_an_expired_waiver_is_found_with_its_last_day() {
        let scene = Scene::metric();
        let waiver = crate::waivers::Waiver { expires: day("2027-01-31"), ..sample() };
        let found = |is_expired| {
            let held = [Held { waiver: &waiver, file: "w.json", is_expired, is_used: true }];
            check(&Subject { waivers: &held, ..scene.subject() })
        };
        assert_eq!(found(false), []);
        assert!(found(true)[0].message.contains("ended on 2027-01-31"), "{:?}", found(true));
    }
}
