//! Runs the rules and applies the policy's levels to what they found. The only gate between a rule and a report.

use std::collections::HashMap;

use foldhash::fast::RandomState;

use crate::finding::{Finding, Level};
use crate::rules::{ABOUT_WAIVERS, RULES, Rule, Subject};
use crate::settings::{FIXED_RULES, Policy};
use crate::shared::SharedText;

/// What all rules found, at the policy's levels, sorted by place (holes in drawing order, then the whole drawing)
/// and rule.
pub(super) fn findings(subject: &Subject<'_>, policy: &Policy) -> Vec<Finding> {
    let mut findings = levelled(RULES.iter(), subject, policy);
    weigh_trials(&mut findings, subject);
    if findings.len() > 1 { sort(findings, subject) } else { findings }
}

/// What the rules about waivers found, once these were held against all other findings.
pub(super) fn about_waivers(subject: &Subject<'_>, policy: &Policy) -> Vec<Finding> {
    levelled(ABOUT_WAIVERS.into_iter(), subject, policy)
}

/// What some rules found, at the policy's levels.
fn levelled<'r>(
    rules: impl Iterator<Item = &'r Rule>,
    subject: &Subject<'_>,
    policy: &Policy,
) -> Vec<Finding> {
    let mut findings = Vec::new();
    for rule in rules {
        let Some(level) = level_of(rule, policy) else { continue };
        findings.extend((rule.check)(subject).into_iter().map(|finding| Finding { level, ..finding }));
    }
    findings
}

/// Rules whose findings a trial record of the hole answers: it shows that a hole outside the guide values works.
const ANSWERED_BY_TRIALS: [&str; 2] = ["engagement-below-band", "tolerance-leaves-band"];

/// Waives what a passing trial record of the hole answers, and says of a record that does not why not.
fn weigh_trials(findings: &mut [Finding], subject: &Subject<'_>) {
    let mut answers: HashMap<&str, Result<SharedText, String>> = HashMap::new();
    for it in subject.screw_holes() {
        let Some(evidence) = subject.evidence(&it) else { continue };
        let answer =
            evidence.accepts().map(SharedText::from).ok_or_else(|| evidence.refuses().unwrap_or_default());
        answers.insert(it.hole.id.as_str(), answer);
    }
    for finding in findings.iter_mut().filter(|f| ANSWERED_BY_TRIALS.contains(&f.rule.0)) {
        let answer = finding.place.hole.as_ref().and_then(|id| answers.get(id.as_str()));
        match answer {
            Some(Ok(shown)) => finding.waived = Some(shown.clone()),
            Some(Err(why)) if !why.is_empty() => {
                let remedy = finding.remedy.take().map(|r| format!("{r}; {why}"));
                finding.remedy = Some(remedy.unwrap_or_else(|| why.clone()).into());
            }
            _ => {}
        }
    }
}

/// The level of a rule under a policy; none if it is switched off.
fn level_of(rule: &Rule, policy: &Policy) -> Option<Level> {
    if FIXED_RULES.contains(&rule.name) {
        return Some(rule.level);
    }
    policy.levels.get(rule.name).copied().unwrap_or(Some(rule.level))
}

/// Each finding with the rank of its hole, or behind all holes, is sorted by that first.
fn sort(findings: Vec<Finding>, subject: &Subject<'_>) -> Vec<Finding> {
    let holes = subject.paired.holes.iter();
    let order: HashMap<&str, usize, RandomState> = holes.map(|h| h.id.as_str()).zip(0..).collect();
    let place = |finding: &Finding| {
        finding.place.hole.as_deref().and_then(|id| order.get(id).copied()).unwrap_or(usize::MAX)
    };
    let mut placed: Vec<(usize, Finding)> = findings.into_iter().map(|f| (place(&f), f)).collect();
    placed.sort_by(|(at, a), (other, b)| {
        (at, a.rule, a.place.line, &a.message).cmp(&(other, b.rule, b.place.line, &b.message))
    });
    placed.into_iter().map(|(_, finding)| finding).collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::rules::scene::Scene;
    use crate::verdict::Verdict;

    /// Two tight holes with an unread entity, found by three rules.
    fn scene() -> Scene {
        let mut scene = Scene::metric();
        for _ in 0..2 {
            let hole = scene.screw_hole(3.3);
            scene.judged[hole].verdict = Some(Verdict::Tight);
        }
        scene.lose(7, "an entity with a wrong number");
        scene
    }

    fn names(findings: &[Finding]) -> Vec<(Option<&str>, &str, Level)> {
        findings.iter().map(|f| (f.place.hole.as_deref(), f.rule.0, f.level)).collect()
    }

    #[test]
    fn findings_stand_in_hole_order_and_those_of_the_drawing_last() {
        let findings = findings(&scene().subject(), &Policy::default());
        let tight: Vec<_> = names(&findings).into_iter().filter(|f| f.1 != "hole-without-callout").collect();
        assert_eq!(
            tight,
            [
                (Some("H1"), "engagement-above-band", Level::Fail),
                (Some("H2"), "engagement-above-band", Level::Fail),
                (None, "drawing-partly-read", Level::Fail),
            ]
        );
    }

    #[test]
    fn a_policy_changes_a_level_and_switches_a_rule_off() {
        let mut policy = Policy::default();
        policy.levels.insert("engagement-above-band".to_owned(), Some(Level::Note));
        let softened = findings(&scene().subject(), &policy);
        assert!(softened.iter().any(|f| f.rule.0 == "engagement-above-band" && f.level == Level::Note));
        policy.levels.insert("engagement-above-band".to_owned(), None);
        let removed = findings(&scene().subject(), &policy);
        assert!(removed.iter().all(|f| f.rule.0 != "engagement-above-band"));
    }

    #[test]
    fn no_policy_hides_a_drawing_that_was_not_read_whole() {
        let mut policy = Policy::default();
        policy.levels.insert("drawing-partly-read".to_owned(), None);
        let findings = findings(&scene().subject(), &policy);
        assert!(findings.iter().any(|f| f.rule.0 == "drawing-partly-read" && f.level == Level::Fail));
    }
}
