//! The findings of a drawing by the hole that they are about.

use std::collections::HashMap;

use crate::check::{DrawingResult, FindingResult};

/// The findings of each hole by its name, in their order; those of the whole drawing under none.
pub(super) fn by_hole(drawing: &DrawingResult) -> HashMap<Option<&str>, Vec<&FindingResult>> {
    let mut by_hole: HashMap<Option<&str>, Vec<&FindingResult>> = HashMap::new();
    for finding in &drawing.findings {
        by_hole.entry(finding.hole.as_deref()).or_default().push(finding);
    }
    by_hole
}
