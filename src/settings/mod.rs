//! Finds, reads and validates the policy (`boreband.json`). Levels are applied by `check`, not here.

mod policies;
mod wire;

use std::collections::BTreeMap;
use std::path::Path;

use crate::finding::Level;
use crate::reading::{Fault, display_path, nearest, pointer_token, read_file, schema_document};

pub use policies::Policies;

/// The effective policy for one drawing.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct Policy {
    /// Path of the file it was read from, if any.
    pub file: Option<String>,
    /// Levels that replace a rule's own; `None` switches the rule off.
    pub levels: BTreeMap<String, Option<Level>>,
}

impl Policy {
    /// Reads a policy file. `rules` are the names of all rules, for a policy that names another is at fault.
    ///
    /// # Errors
    /// All its faults.
    pub fn load(path: &Path, rules: &[&str]) -> Result<Policy, Vec<Fault>> {
        let file = display_path(path);
        let written: wire::PolicyFile = match read_file(path) {
            Ok(written) => written,
            Err(faults) => return Err(faults),
        };
        let mut policy = Policy { file: Some(file.clone()), ..Policy::default() };
        let mut faults = Vec::new();
        for (rule, level) in written.levels.iter().flat_map(|levels| &levels.0) {
            if rules.contains(&rule.as_str()) {
                policy.levels.insert(rule.clone(), level.value.0.level());
            } else {
                faults.push(unknown_rule(&file, rule, rules));
            }
        }
        if faults.is_empty() { Ok(policy) } else { Err(faults) }
    }
}

fn unknown_rule(file: &str, rule: &str, rules: &[&str]) -> Fault {
    let meant = match nearest(rule, rules.iter().copied()) {
        Some(near) => format!("; did you mean \"{near}\"?"),
        None => String::new(),
    };
    let shown: String = rule.chars().take(60).collect();
    Fault {
        file: file.to_owned(),
        pointer: format!("/levels/{}", pointer_token(rule)),
        message: format!("found \"{shown}\", expected the name of a rule{meant}"),
    }
}

/// The JSON Schema of a policy. `rules` are the names of all rules.
pub fn schema(rules: &[&str]) -> serde_json::Value {
    let mut schema = schema_document::<wire::PolicyFile>(
        "policy",
        "boreband policy",
        "What a shop decides for its drawings: the level of each rule.",
    );
    if let Some(levels) = schema.pointer_mut("/properties/levels") {
        levels["propertyNames"] = serde_json::json!({ "enum": rules });
    }
    schema
}

#[cfg(test)]
mod tests;
