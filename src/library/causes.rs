//! What lies behind findings: several rules tell of one mistake, and it is the mistake that can be stopped.

use schemars::JsonSchema;
use serde::Serialize;

use crate::ledger::Entry;

/// A mistake that drawings have in common.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, JsonSchema)]
pub struct Cause {
    /// The mistake, in words.
    pub cause: String,
    /// The rules that tell of it.
    pub rules: Vec<String>,
    /// Drawings that have it.
    pub drawings: u64,
    /// Findings of it.
    pub findings: u64,
}

/// Each mistake with the rules that tell of it. A rule that is not here tells of itself.
const CAUSES: [(&str, &[&str]); 13] = [
    ("the tap-drill size was called out, or a tap", &["cut-thread-size", "tap-called-out"]),
    ("the tolerance is too wide for the band", &["tolerance-leaves-band"]),
    ("the hole is too small, for another reason than a tap drill", &["engagement-above-band"]),
    ("the hole is too large", &["engagement-below-band"]),
    (
        "the thickness of the metal is not stated, or stated twice",
        &["thickness-unknown", "thickness-conflict"],
    ),
    ("something else that decides is not stated", &["engagement-undetermined"]),
    ("no tolerance is stated", &["tolerance-unknown"]),
    ("the metal is too thin or too deep for the screw", &["sheet-too-thin", "engagement-too-long"]),
    (
        "drawing, callout and hole list disagree",
        &[
            "drawn-size-differs",
            "listed-size-differs",
            "count-differs",
            "callout-without-hole",
            "hole-without-callout",
            "listed-hole-missing",
        ],
    ),
    ("mm and inch are mixed up", &["unit-doubtful"]),
    ("a thermally cut edge is not cut to size", &["cut-edge-hardened"]),
    (
        "the hole stands too close to an edge or to another",
        &["edge-too-close", "holes-too-close", "boss-wall-thin"],
    ),
    ("the file could not be read whole", &["drawing-unreadable", "drawing-partly-read"]),
];

/// Causes in the making.
#[derive(Debug, Default)]
pub(super) struct Tables(Vec<Cause>);

impl Tables {
    pub(super) fn add(&mut self, entry: &Entry) {
        let tap_drill = |hole: &Option<String>| {
            entry
                .findings
                .iter()
                .any(|found| found.rule == "cut-thread-size" && found.waived.is_none() && found.hole == *hole)
        };
        let mut told = Vec::new();
        for found in entry.findings.iter().filter(|found| found.waived.is_none()) {
            // The tap drill explains why the hole is too small.
            if found.rule == "engagement-above-band" && tap_drill(&found.hole) {
                continue;
            }
            let at = self.at(&found.rule);
            self.0[at].findings += found.count;
            if !told.contains(&at) {
                told.push(at);
                self.0[at].drawings += 1;
            }
        }
    }

    fn at(&mut self, rule: &str) -> usize {
        if let Some(at) = self.0.iter().position(|cause| cause.rules.iter().any(|known| known == rule)) {
            return at;
        }
        let known = CAUSES.iter().find(|(_, rules)| rules.contains(&rule));
        let (cause, rules) = match known {
            Some((cause, rules)) => {
                ((*cause).to_owned(), rules.iter().map(|rule| (*rule).to_owned()).collect())
            }
            None => (rule.replace('-', " "), vec![rule.to_owned()]),
        };
        self.0.push(Cause { cause, rules, drawings: 0, findings: 0 });
        self.0.len() - 1
    }

    /// The most drawings first.
    pub(super) fn finish(mut self) -> Vec<Cause> {
        self.0.sort_by(|a, b| {
            (b.drawings, b.findings).cmp(&(a.drawings, a.findings)).then_with(|| a.cause.cmp(&b.cause))
        });
        self.0
    }
}

#[cfg(test)]
mod tests {
    use super::CAUSES;
    use crate::rules::RULES;

    #[test]
    fn every_cause_names_rules_that_there_are_and_no_rule_has_two() {
        let named: Vec<&str> = CAUSES.iter().flat_map(|(_, rules)| rules.iter().copied()).collect();
        for rule in &named {
            assert!(RULES.iter().any(|known| known.name == *rule), "{rule}");
            assert_eq!(named.iter().filter(|other| other == &rule).count(), 1, "{rule}");
        }
    }
}
