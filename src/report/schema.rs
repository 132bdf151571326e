//! The JSON Schemas that the program prints, by the name of the file that they describe.

use serde_json::Value;

use super::json;
use crate::check::Report;
use crate::ledger::Entry;
use crate::library::Picture;
use crate::{hole_list, reading, rules, settings, trial, waivers};

/// The names of files that have a schema.
pub const NAMES: [&str; 11] = [
    "conversion",
    "costs",
    "hole-list",
    "ledger",
    "library",
    "policy",
    "report",
    "size",
    "trial",
    "trial-report",
    "waivers",
];

/// The JSON Schema (2020-12) of that name, as text with a newline at its end; none if there is no such name.
pub fn schema(name: &str) -> Option<String> {
    let value = match name {
        "hole-list" => hole_list::schema(),
        "ledger" => ledger(),
        "library" => library(),
        "policy" => {
            let rules: Vec<&str> = rules::RULES.iter().map(|rule| rule.name).collect();
            settings::schema(&rules)
        }
        "report" => report(),
        "trial" => trial::schema(),
        "trial-report" => trial_report(),
        "size" => super::size::schema(),
        "conversion" => conversion(),
        "costs" => settings::costs_schema(),
        "waivers" => waivers::schema(),
        _ => return None,
    };
    let mut text = Vec::new();
    json::write(&value, &mut text).ok()?;
    String::from_utf8(text).ok()
}

fn report() -> Value {
    reading::schema_document::<Report>(
        "report",
        "boreband report",
        "What a run found. Every length is in mm and its key ends in _mm; x and y are in the drawing's own units; \
         engagement is in percent on the basis named beside it.",
    )
}

fn ledger() -> Value {
    reading::schema_document::<Entry>(
        "ledger",
        "boreband ledger line",
        "A line of a ledger that states a drawing. The first line names the format, and a line {\"gone\": PATH} says that a \
         drawing is not there any more; the last line of a path counts.",
    )
}

fn library() -> Value {
    reading::schema_document::<Picture>(
        "library",
        "boreband library picture",
        "What an audit found in a library as a whole. Engagement is in percent on the rolled basis.",
    )
}

fn trial_report() -> Value {
    reading::schema_document::<super::trial::TrialReport>(
        "trial-report",
        "boreband trial report",
        "What boreband found in joint tests. Torques are in N·m and lengths in mm, as their keys say; shares are from 0 to 1.",
    )
}

fn conversion() -> Value {
    reading::schema_document::<super::conversion::ConversionReport>(
        "conversion",
        "boreband conversion report",
        "Tapped holes that a thread-rolling screw could replace, and what that saves. Every length is in mm and its key \
         ends in _mm; money is in the currency of the costs.",
    )
}
