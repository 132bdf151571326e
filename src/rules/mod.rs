//! The rules: each looks at a judged hole or a judged drawing and returns findings. A rule never knows whether it
//! is waived or switched off.

use crate::drawing::{Drawing, Problem};
use crate::finding::{Finding, Level};
use crate::pairing::Paired;
use crate::verdict::Judged;

/// All that a rule may look at.
#[derive(Debug)]
pub struct Subject<'a> {
    /// The drawing as read.
    pub drawing: &'a Drawing,
    /// What was wrong with the file.
    pub problems: &'a [Problem],
    /// The drawing with everything joined.
    pub paired: &'a Paired,
    /// One judgement for each of `paired.holes`.
    pub judged: &'a [Judged],
}

/// A rule.
#[derive(Debug)]
pub struct Rule {
    /// Kebab-case name.
    pub name: &'static str,
    /// Its level unless the policy says otherwise.
    pub level: Level,
    /// Its text (Markdown): Requirement, Why it matters, How it is measured, Example, Source.
    pub text: &'static str,
    /// Looks, and returns what it found.
    pub check: fn(&Subject<'_>) -> Vec<Finding>,
}

/// Every rule, sorted by name.
pub static RULES: &[Rule] = &[];

/// The rule of that name.
pub fn by_name(name: &str) -> Option<&'static Rule> {
    RULES.iter().find(|r| r.name == name)
}
