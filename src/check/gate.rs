//! Runs the rules and applies the policy's levels to what they found. The only gate between a rule and a report: what a rule
//! found goes in, what is reported of it comes out.

use std::collections::HashMap;

use super::{FindingResult, build};
use crate::finding::Level;
use crate::rules::{ABOUT_WAIVERS, RULES, Rule, Subject};
use crate::settings::{FIXED_RULES, Policy};
use crate::shared::SharedText;

/// What all rules found, at the policy's levels, sorted by place (holes in drawing order, then the whole drawing)
/// and rule.
pub(super) fn findings(subject: &Subject<'_>, policy: &Policy) -> Vec<FindingResult> {
    // Room that is never touched costs nothing, a list that grows is moved each time.
    let mut findings = Vec::with_capacity(OF_A_SCREW * subject.screws.len());
    level(RULES.iter(), subject, policy, &mut findings);
    weigh_trials(&mut findings, subject);
    // Worked out once for each; the findings themselves are large, and are not moved to and fro.
    findings.sort_by_cached_key(rank);
    for of_hole in findings.chunk_by_mut(|a, b| a.hole == b.hole) {
        of_hole.sort_by(|a, b| (&a.rule, a.line, &a.message).cmp(&(&b.rule, b.line, &b.message)));
    }
    findings
}

/// What the rules about waivers found, once these were held against all other findings.
pub(super) fn about_waivers(subject: &Subject<'_>, policy: &Policy) -> Vec<FindingResult> {
    let mut findings = Vec::new();
    level(ABOUT_WAIVERS.into_iter(), subject, policy, &mut findings);
    findings
}

/// Findings that there is room for of each screw hole; most have fewer.
const OF_A_SCREW: usize = 4;

/// Adds what some rules found, at the policy's levels. What one of them found is forgotten before the next one is asked: of a
/// large drawing it is megabytes.
fn level<'r>(
    rules: impl Iterator<Item = &'r Rule>,
    subject: &Subject<'_>,
    policy: &Policy,
    findings: &mut Vec<FindingResult>,
) {
    for rule in rules {
        if let Some(level) = level_of(rule, policy) {
            findings.extend((rule.check)(subject).into_iter().map(|finding| build::finding(finding, level)));
        }
    }
}

/// Rules whose findings a trial record of the hole answers: it shows that a hole outside the guide values works.
const ANSWERED_BY_TRIALS: [&str; 2] = ["engagement-below-band", "tolerance-leaves-band"];

/// Waives what a passing trial record of the hole answers, and says of a record that does not why not.
fn weigh_trials(findings: &mut [FindingResult], subject: &Subject<'_>) {
    let mut answers: HashMap<&str, Result<SharedText, String>> = HashMap::new();
    for it in subject.screw_holes() {
        let Some(evidence) = subject.evidence(&it) else { continue };
        let answer =
            evidence.accepts().map(SharedText::from).ok_or_else(|| evidence.refuses().unwrap_or_default());
        answers.insert(it.hole.id.as_str(), answer);
    }
    for finding in findings.iter_mut().filter(|f| ANSWERED_BY_TRIALS.contains(&f.rule.as_str())) {
        let answer = finding.hole.as_deref().and_then(|id| answers.get(id));
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

/// The place of a finding's hole in the drawing's order, which is its number; behind all holes if it is about none.
fn rank(finding: &FindingResult) -> usize {
    let number = finding.hole.as_deref().and_then(|id| id.trim_start_matches('H').parse().ok());
    number.unwrap_or(usize::MAX)
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

    fn names(findings: &[FindingResult]) -> Vec<(Option<&str>, &str, &str)> {
        findings.iter().map(|f| (f.hole.as_deref(), f.rule.as_str(), f.level.as_str())).collect()
    }

    #[test]
    fn findings_stand_in_hole_order_and_those_of_the_drawing_last() {
        let findings = findings(&scene().subject(), &Policy::default());
        let tight: Vec<_> = names(&findings).into_iter().filter(|f| f.1 != "hole-without-callout").collect();
        assert_eq!(
            tight,
            [
                (Some("H1"), "engagement-above-band", "fail"),
                (Some("H2"), "engagement-above-band", "fail"),
                (None, "drawing-partly-read", "fail"),
            ]
        );
    }

    #[test]
    fn a_policy_changes_a_level_and_switches_a_rule_off() {
        let mut policy = Policy::default();
        policy.levels.insert("engagement-above-band".to_owned(), Some(Level::Note));
        let softened = findings(&scene().subject(), &policy);
        assert!(softened.iter().any(|f| f.rule == "engagement-above-band" && f.level == "note"));
        policy.levels.insert("engagement-above-band".to_owned(), None);
        let removed = findings(&scene().subject(), &policy);
        assert!(removed.iter().all(|f| f.rule != "engagement-above-band"));
    }

    #[test]
    fn no_policy_hides_a_drawing_that_was_not_read_whole() {
        let mut policy = Policy::default();
        policy.levels.insert("drawing-partly-read".to_owned(), None);
        let findings = findings(&scene().subject(), &policy);
        assert!(findings.iter().any(|f| f.rule == "drawing-partly-read" && f.level == "fail"));
    }
}
