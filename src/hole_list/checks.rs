//! What one value of a hole list alone cannot tell: statements that contradict each other or say nothing.

use std::collections::HashMap;

use serde_json::{Value, json};

use super::wire::{DrawingEntry, HoleRow};
use crate::reading::Object;

/// The keys by which a row can find its holes, any one of which is enough.
pub(super) const FINDERS: [&str; 6] = ["at", "tag", "layer", "screw", "diameter", "limits"];

/// Each size statement with those that contradict it when they stand beside it.
pub(super) const CONTRADICTORY: [(&str, &[&str]); 2] =
    [("limits", &["diameter", "plus", "minus", "fit"]), ("fit", &["plus", "minus"])];

/// Looks at a row as a whole.
pub(super) fn row(row: &HoleRow, object: &Object<'_>) {
    if !FINDERS.iter().any(|key| object.has(key)) {
        let keys = FINDERS.join(", ");
        object.fault(format!("the row states nothing that finds its holes, expected at least one of {keys}"));
    }
    for (key, others) in CONTRADICTORY {
        for other in others.iter().filter(|other| object.has(key) && object.has(other)) {
            object
                .fault_at(other, format!("found {other} beside {key}, expected the size to be stated once"));
        }
    }
    if let (Some(count), Some(at)) = (row.count, &row.at)
        && count.0 != at.0.len() as f64
    {
        let points = at.0.len();
        object.fault_at("count", format!("found {}, expected {points}, the number of points in at", count.0));
    }
    if let (Some(diameter), Some(minus)) = (row.diameter, row.minus)
        && minus.0 >= diameter.0
    {
        object
            .fault_at("minus", format!("found {}, expected less than the diameter {}", minus.0, diameter.0));
    }
}

/// Looks at the entry of a drawing as a whole.
pub(super) fn entry(entry: &DrawingEntry, object: &Object<'_>) {
    if let Some(pattern) = &entry.drawing
        && let Err(reason) = super::pattern::check(&pattern.0)
    {
        object
            .fault_at("drawing", format!("found \"{}\", expected a path or a pattern: {reason}", pattern.0));
    }
    let mut rows_by_tag = HashMap::new();
    for row in entry.holes.iter().flatten() {
        let Some(tag) = &row.value.tag else { continue };
        if let Some(first) = rows_by_tag.insert(tag.0.trim(), &row.pointer) {
            object.fault_below(
                format!("{}/tag", row.pointer),
                format!("the tag \"{}\" also stands in {first}, expected each tag once", tag.0),
            );
        }
    }
}

/// Puts into the schema what can be said there of a row as a whole.
pub(super) fn add_to_schema(schema: &mut serde_json::Value) {
    let Some(row) = schema.pointer_mut("/$defs/HoleRow") else { return };
    row["anyOf"] = FINDERS.iter().map(|key| json!({ "required": [key] })).collect();
    for (key, others) in CONTRADICTORY {
        let none: serde_json::Map<String, Value> =
            others.iter().map(|o| ((*o).to_owned(), json!(false))).collect();
        row["dependentSchemas"][key] = json!({ "properties": none });
    }
}
