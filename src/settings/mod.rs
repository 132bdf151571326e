//! Finds, reads and validates the policy (`boreband.json`). Levels are applied by `check`, not here.

mod policies;
mod wire;

use std::collections::BTreeMap;
use std::path::Path;

use crate::finding::Level;
use crate::practice::Practice;
use crate::reading::{At, Fault, Tree, display_path, nearest, read_file_with, schema_document};

pub use policies::Policies;

/// Rules that no policy can change, because no option hides a drawing that was not read whole.
pub const FIXED_RULES: [&str; 2] = ["drawing-partly-read", "drawing-unreadable"];

/// The effective policy for one drawing.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct Policy {
    /// Path of the file it was read from, if any.
    pub file: Option<String>,
    /// Levels that replace a rule's own; `None` switches the rule off.
    pub levels: BTreeMap<String, Option<Level>>,
    /// What it decides over the trade.
    pub practice: Practice,
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
        let trials = written.trials.iter().flatten();
        let trials = trials.map(|row| row.value.required(&file, &row.pointer)).collect();
        Ok(Policy { file: Some(file), levels, practice: Practice { trials, ..Practice::default() } })
    }
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
        "What a shop decides for its drawings: the level of each rule.",
    );
    if let Some(levels) = schema.pointer_mut("/properties/levels") {
        let open: Vec<&&str> = rules.iter().filter(|rule| !FIXED_RULES.contains(rule)).collect();
        levels["propertyNames"] = serde_json::json!({ "enum": open });
    }
    schema
}

#[cfg(test)]
mod tests;
