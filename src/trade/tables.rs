//! Reads the CSV tables that are built into the program. Knows nothing of what they mean.

use serde::de::DeserializeOwned;

/// The rows of a table that is built into the program.
///
/// # Panics
/// When a row does not fit its type: the tables are part of the program, and a test reads each of them.
pub(crate) fn rows<T: DeserializeOwned>(name: &str, text: &str) -> Vec<T> {
    csv::Reader::from_reader(text.as_bytes())
        .deserialize()
        .map(|row| row.unwrap_or_else(|fault| panic!("table {name}: {fault}")))
        .collect()
}
