//! Tests of hole lists: what one file says, what several say together, and that schema and reader agree.

mod agreement;
mod files;
mod values;

use super::wire::HoleList;
use crate::reading::{Fault, read_bytes};

/// The faults of a list, by its text.
fn faults_of(text: &str) -> Vec<Fault> {
    match read_bytes::<HoleList>("test.holes.json", text.as_bytes()) {
        Ok(_) => Vec::new(),
        Err(faults) => faults,
    }
}

/// A list with one drawing whose rows are the given text.
fn list_with_rows(rows: &str) -> String {
    format!(r#"{{"format": 1, "unit": "mm", "drawings": [{{"drawing": "lid.dxf", "holes": [{rows}]}}]}}"#)
}
