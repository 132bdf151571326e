//! Reads the CSV tables that are built into the program. Knows nothing of what they mean.

use csv::StringRecord;
use serde::de::DeserializeOwned;

/// The rows of a table that is built into the program.
///
/// # Panics
/// When a row does not fit its type: the tables are part of the program, and a test reads each of them.
pub(crate) fn rows<T: DeserializeOwned>(name: &str, text: &str) -> Vec<T> {
    let sound = |row: csv::Result<T>| row.unwrap_or_else(|fault| panic!("table {name}: {fault}"));
    if text.contains('"') {
        return csv::Reader::from_reader(text.as_bytes()).deserialize().map(sound).collect();
    }
    // To set up a reader of quoted fields costs more than to read most tables.
    let mut lines = text.lines().map(|line| StringRecord::from_iter(line.split(',')));
    let heads = lines.next().unwrap_or_default();
    lines.map(|row| sound(row.deserialize(Some(&heads)))).collect()
}
