//! A policy as people write it: at once the strict reading and the JSON Schema.

use crate::finding::Level;
use crate::practice::{Origin, RequiredTrial, check_pattern};
use crate::reading::{
    AnyText, Choice, Choose, Format, Map, MaterialName, Object, PathText, Placed, ThreadName, written,
};

written! {
    /// A policy: what a shop decides for its drawings.
    pub(super) struct PolicyFile {
        /// The schema that this file follows, for editors. Not used otherwise.
        "$schema" => schema: optional AnyText,
        /// Version of the format: 1.
        "format" => format: required Format,
        /// The level of rules by their name, instead of their own: `fail`, `warn`, `note`, or `off`.
        "levels" => levels: optional Map<Choose<RuleLevel>>,
        /// The holes that a trial record is asked for.
        "trials" => trials: optional Vec<Placed<RequiredRow>>,
    }
}

written! {
    /// Holes that a trial record is asked for: those of all that is named here; of every drawing, material and thread where
    /// nothing is.
    pub(super) struct RequiredRow {
        /// Path or pattern of drawings, with `/` between folders, from any folder on: `castings/**`.
        "drawing" => drawing: optional PathText,
        /// Materials, by a name or a common drawing name.
        "materials" => materials: optional Vec<MaterialName>,
        /// Threads, such as `M4` or `1/4-20`.
        "threads" => threads: optional Vec<ThreadName>,
    }
    checked by check_required
}

fn check_required(row: &RequiredRow, object: &Object<'_>) {
    if let Some(pattern) = &row.drawing
        && let Err(reason) = check_pattern(&pattern.0)
    {
        object
            .fault_at("drawing", format!("found \"{}\", expected a path or a pattern: {reason}", pattern.0));
    }
}

impl RequiredRow {
    /// The demand that a file makes here.
    pub(super) fn required(&self, file: &str, pointer: &str) -> RequiredTrial {
        RequiredTrial {
            drawing: self.drawing.as_ref().map(|pattern| pattern.0.clone()),
            materials: self.materials.iter().flatten().map(|m| m.0).collect(),
            threads: self.threads.iter().flatten().map(|t| t.0.clone()).collect(),
            origin: Origin::File { file: file.to_owned(), pointer: pointer.to_owned() },
        }
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
