//! What lies behind findings: several rules tell of one mistake, and it is the mistake that can be stopped.

use schemars::JsonSchema;
use serde::Serialize;

use crate::ledger::Entry;
use crate::shared::SharedText;

/// A mistake that drawings have in common.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, JsonSchema)]
pub struct Cause {
    /// The mistake, in words.
    pub cause: String,
    /// What to do about it; none where only the rule can say.
    pub what_to_do: Option<String>,
    /// The rules that tell of it.
    pub rules: Vec<String>,
    /// Drawings that have it.
    pub drawings: u64,
    /// Findings of it.
    pub findings: u64,
}

/// A mistake that drawings have in common, as it is known.
struct Known {
    cause: &'static str,
    what_to_do: &'static str,
    rules: &'static [&'static str],
}

/// Each mistake with the rules that tell of it. A rule that is not here tells of itself.
const CAUSES: [Known; 14] = [
    Known {
        cause: "the tap-drill size was called out, or a tap",
        what_to_do: "call out the larger hole in which a screw rolls its thread, and no tap",
        rules: &["cut-thread-size", "tap-called-out"],
    },
    Known {
        cause: "the tolerance is too wide for the band",
        what_to_do: "narrow the tolerance, or move the nominal towards the middle of the band",
        rules: &["tolerance-leaves-band"],
    },
    Known {
        cause: "the hole is too small, for another reason than a tap drill",
        what_to_do: "call out the larger hole that is named for each drawing",
        rules: &["engagement-above-band"],
    },
    Known {
        cause: "the hole is too large",
        what_to_do: "call out the smaller hole that is named for each drawing",
        rules: &["engagement-below-band"],
    },
    Known {
        cause: "the thickness of the metal is not stated, or stated twice",
        what_to_do: "state the thickness once: in the title block, in a note or in the hole list",
        rules: &["thickness-unknown", "thickness-conflict"],
    },
    Known {
        cause: "the metal, the process or the coating is stated twice, and not the same",
        what_to_do: "decide which is meant, and state it once: on the drawing or in the hole list",
        rules: &["material-conflict", "process-conflict", "coating-conflict"],
    },
    Known {
        cause: "something else that decides is not stated",
        what_to_do: "state what is missing on the drawing or in the hole list",
        rules: &["engagement-undetermined"],
    },
    Known {
        cause: "no tolerance is stated",
        what_to_do: "state a tolerance at the hole, or a general one in the title block",
        rules: &["tolerance-unknown"],
    },
    Known {
        cause: "the metal is too thin or too deep for the screw",
        what_to_do: "thin: extrude the hole or use a screw of finer pitch; deep: counterbore it or use a shorter screw",
        rules: &["sheet-too-thin", "engagement-too-long"],
    },
    Known {
        cause: "drawing, callout and hole list disagree",
        what_to_do: "decide which of them is meant and correct the others",
        rules: &[
            "drawn-size-differs",
            "listed-size-differs",
            "count-differs",
            "callout-without-hole",
            "callouts-differ",
            "hole-without-callout",
            "listed-hole-missing",
        ],
    },
    Known {
        cause: "mm and inch are mixed up",
        what_to_do: "state the unit in the title block and set $INSUNITS to it",
        rules: &["unit-doubtful"],
    },
    Known {
        cause: "a thermally cut edge is not cut to size",
        what_to_do: "cut the hole smaller, then ream or drill it to size",
        rules: &["cut-edge-hardened"],
    },
    Known {
        cause: "the hole stands too close to an edge or to another",
        what_to_do: "move the hole away, or leave more metal around it",
        rules: &["edge-too-close", "holes-too-close", "boss-wall-thin"],
    },
    Known {
        cause: "the file could not be read whole",
        what_to_do: "save the drawing anew as DXF with the program that drew it, and check it again",
        rules: &["drawing-unreadable", "drawing-partly-read"],
    },
];

/// Causes in the making.
#[derive(Debug, Default)]
pub(super) struct Tables(Vec<Cause>);

impl Tables {
    pub(super) fn add(&mut self, entry: &Entry) {
        let tap_drill = |hole: &Option<SharedText>| {
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
        let known = CAUSES.iter().find(|known| known.rules.contains(&rule));
        let cause = known.map_or_else(|| rule.replace('-', " "), |known| known.cause.to_owned());
        let rules = known.map_or_else(
            || vec![rule.to_owned()],
            |known| known.rules.iter().map(|rule| (*rule).to_owned()).collect(),
        );
        let what_to_do = known.map(|known| known.what_to_do.to_owned());
        self.0.push(Cause { cause, what_to_do, rules, drawings: 0, findings: 0 });
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
        let named: Vec<&str> = CAUSES.iter().flat_map(|known| known.rules.iter().copied()).collect();
        for rule in &named {
            assert!(RULES.iter().any(|known| known.name == *rule), "{rule}");
            assert_eq!(named.iter().filter(|other| other == &rule).count(), 1, "{rule}");
        }
    }
}
