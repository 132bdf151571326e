#![doc = include_str!("coating-conflict.md")]

use super::{Rule, Subject, conflicts};
use crate::finding::{Finding, Level};
use crate::pairing::Stated;

/// The rule.
pub(super) const RULE: Rule =
    Rule { name: "coating-conflict", level: Level::Warn, text: include_str!("coating-conflict.md"), check };

fn check(subject: &Subject<'_>) -> Vec<Finding> {
    conflicts::found(&RULE, subject, Stated::Coating, "coating")
}
