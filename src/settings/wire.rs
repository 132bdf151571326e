//! A policy as people write it: at once the strict reading and the JSON Schema.

use crate::finding::Level;
use crate::reading::{AnyText, Choice, Choose, Format, Map, written};

written! {
    /// A policy: what a shop decides for its drawings.
    pub(super) struct PolicyFile {
        /// The schema that this file follows, for editors. Not used otherwise.
        "$schema" => schema: optional AnyText,
        /// Version of the format: 1.
        "format" => format: required Format,
        /// The level of rules by their name, instead of their own: `fail`, `warn`, `note`, or `off`.
        "levels" => levels: optional Map<Choose<RuleLevel>>,
    }
}

/// What a policy makes of a rule.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum RuleLevel {
    /// Findings of this level.
    At(Level),
    /// No findings.
    Off,
}

impl RuleLevel {
    /// The level; none if the rule is off.
    pub(super) fn level(self) -> Option<Level> {
        match self {
            RuleLevel::At(level) => Some(level),
            RuleLevel::Off => None,
        }
    }
}

impl Choice for RuleLevel {
    const ALL: &'static [Self] =
        &[RuleLevel::At(Level::Fail), RuleLevel::At(Level::Warn), RuleLevel::At(Level::Note), RuleLevel::Off];

    fn word(self) -> &'static str {
        match self {
            RuleLevel::At(level) => level.name(),
            RuleLevel::Off => "off",
        }
    }
}
