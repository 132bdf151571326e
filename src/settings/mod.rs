//! Finds, reads and validates the policy (`boreband.json`). Levels are applied by `check`, not here.

mod costs;
mod policies;
mod values;
mod wire;

use std::collections::BTreeMap;
use std::path::Path;
use std::sync::Arc;

use crate::callout::{UserWord, Words};
use crate::finding::Level;
use crate::practice::{Grounds, Limits, Origin, Practice, Stock};
use crate::reading::{At, Fault, Placed, Tree, display_path, nearest, read_file_with, schema_document};

pub use costs::{costs_schema, load_costs};
pub use policies::Policies;

/// Rules that no policy can change, because no option hides a drawing that was not read whole.
pub const FIXED_RULES: [&str; 2] = ["drawing-partly-read", "drawing-unreadable"];

/// The effective policy for one drawing.
#[derive(Debug, Clone, Default)]
pub struct Policy {
    /// Path of the file it was read from, if any.
    pub file: Option<String>,
    /// Levels that replace a rule's own; `None` switches the rule off.
    pub levels: BTreeMap<String, Option<Level>>,
    /// Words of its own in callouts and notes, with the place of each.
    pub words: Vec<(UserWord, Origin)>,
    /// What it decides over the trade.
    pub practice: Practice,
    /// The words of the program with those of its own, if it has any.
    own_words: Option<Arc<Words>>,
}

impl PartialEq for Policy {
    fn eq(&self, other: &Self) -> bool {
        // What `own_words` is follows from `words`.
        let Policy { file, levels, words, practice, own_words: _ } = self;
        (file, levels, words, practice) == (&other.file, &other.levels, &other.words, &other.practice)
    }
}

impl Policy {
    /// Reads a policy file. `rules` are the names of all rules, for a policy that names another is at fault, as is one
    /// that names a rule of [`FIXED_RULES`].
    ///
    /// # Errors
    /// All its faults.
    pub fn load(path: &Path, rules: &[&str]) -> Result<Policy, Vec<Fault>> {
        let file = display_path(path);
        let written: wire::PolicyFile = read_file_with(path, |root| refuse_unknown_rules(root, rules))?;
        let levels = written.levels.iter().flat_map(|levels| &levels.0);
        let levels = levels.map(|(rule, level)| (rule.clone(), level.value.0.level())).collect();
        let words = words(&written, &file);
        Ok(Policy {
            levels,
            own_words: with_own(&words).map(Arc::new),
            words,
            practice: practice(&written, &file),
            file: Some(file),
        })
    }
}

impl Policy {
    /// The words of the program and those that the policy adds; none if it adds none.
    pub fn own_words(&self) -> Option<&Words> {
        self.own_words.as_deref()
    }
}

/// The words of the program and those that a file adds; none if it adds none.
fn with_own(words: &[(UserWord, Origin)]) -> Option<Words> {
    let own: Vec<UserWord> = words.iter().map(|(word, _)| word.clone()).collect();
    // Each word was tried when it was read.
    if own.is_empty() { None } else { Words::with(&own).ok() }
}

/// The words that a file adds.
fn words(written: &wire::PolicyFile, file: &str) -> Vec<(UserWord, Origin)> {
    let words = written.words.iter().flat_map(|words| &words.0);
    words.map(|placed| (placed.value.clone(), at(file, &placed.pointer))).collect()
}

/// What a file without faults decides over the trade.
fn practice(written: &wire::PolicyFile, file: &str) -> Practice {
    let mut grounds = Grounds::default();
    for placed in written.conversion.iter().flat_map(|grounds| &grounds.0) {
        let (ground, answer) = placed.value;
        grounds.set(ground, answer, at(file, &placed.pointer));
    }
    let mut limits = Limits::default();
    for placed in written.limits.iter().flat_map(|limits| &limits.0) {
        let (limit, value) = placed.value;
        limits.set(limit, value, at(file, &placed.pointer));
    }
    let stock = |sizes: &Option<Placed<values::Sizes>>| {
        let placed = sizes.as_ref()?;
        Some(Stock { sizes: placed.value.0.clone(), origin: at(file, &placed.pointer) })
    };
    Practice {
        costs: written.costs.as_ref().and_then(|placed| placed.value.costs(file, &placed.pointer)),
        grounds,
        limits,
        bands: rows(&written.bands, file, wire::BandEntry::row),
        drills: stock(&written.drills),
        punches: stock(&written.punches),
        guide_holes: written.guide_holes.as_ref().map(|placed| (placed.value.0, at(file, &placed.pointer))),
        capability: rows(&written.capability, file, wire::CapabilityEntry::row),
        trials: written.trials.iter().flatten().map(|row| row.value.required(file, &row.pointer)).collect(),
    }
}

/// What the entries of a list say, each with its place.
fn rows<T, R>(entries: &Option<Vec<Placed<T>>>, file: &str, row: impl Fn(&T, Origin) -> Option<R>) -> Vec<R> {
    entries.iter().flatten().filter_map(|e| row(&e.value, at(file, &e.pointer))).collect()
}

/// A place in a file.
fn at(file: &str, pointer: &str) -> Origin {
    Origin::File { file: file.to_owned(), pointer: pointer.to_owned() }
}

/// Only the caller knows which rules there are, so the type of a policy cannot tell.
fn refuse_unknown_rules(root: &At<'_>, rules: &[&str]) {
    for (key, levels) in object_members(root) {
        if key == "levels" {
            for (rule, at) in object_members(&levels) {
                if FIXED_RULES.contains(&rule) {
                    at.fault(format!("found \"{rule}\", which no policy can change, expected another rule"));
                } else if !rules.contains(&rule) {
                    at.fault(unknown_rule(rule, rules));
                }
            }
        }
    }
}

/// The members of an object; none for any other value, which the types have told of already.
fn object_members<'a>(at: &'a At<'a>) -> Vec<(&'a str, At<'a>)> {
    match at.tree() {
        Tree::Object(_) => at.members("an object").unwrap_or_default(),
        _ => Vec::new(),
    }
}

fn unknown_rule(rule: &str, rules: &[&str]) -> String {
    let meant = match nearest(rule, rules.iter().copied()) {
        Some(near) => format!("; did you mean \"{near}\"?"),
        None => String::new(),
    };
    let shown: String = rule.chars().take(60).collect();
    format!("found \"{shown}\", expected the name of a rule{meant}")
}

/// The JSON Schema of a policy. `rules` are the names of all rules.
pub fn schema(rules: &[&str]) -> serde_json::Value {
    let mut schema = schema_document::<wire::PolicyFile>(
        "policy",
        "boreband policy",
        "What a shop decides for its drawings: levels of rules, bands, stock, limits, words and trials.",
    );
    if let Some(levels) = schema.pointer_mut("/properties/levels") {
        let open: Vec<&&str> = rules.iter().filter(|rule| !FIXED_RULES.contains(rule)).collect();
        levels["propertyNames"] = serde_json::json!({ "enum": open });
    }
    costs::close_part_rows(&mut schema);
    schema
}

#[cfg(test)]
mod tests;
