//! A library as comma-separated values: a row for each drawing, the most expected harm first, then by path; at the end
//! a row for each duplicate, which names the drawing that it is the same as and counts nothing.
//!
//! Words that a spreadsheet would take for a formula are made text, as in the table of a check.

use std::io::{self, Write};

use super::rank::Ranking;
use super::table::{COLUMNS, Column, Row, SAME_AS, drawings, duplicates};
use crate::ledger::Joined;
use crate::library::Picture;
use crate::report::csv::field;

/// Writes all drawings of the ledgers that the picture was made of.
///
/// # Errors
/// Those of the writer, and if a line of the ledgers cannot be read any more.
pub fn write(picture: &Picture, joined: &mut Joined, out: &mut dyn Write) -> io::Result<()> {
    let ranking = Ranking::of(picture, joined)?;
    let mut writer = csv::Writer::from_writer(out);
    writer.write_record(columns().map(|column| column.name))?;
    let mut add = |row: &Row<'_>| Ok(writer.write_record(columns().map(|column| field((column.cell)(row))))?);
    drawings(&ranking, joined, usize::MAX, &mut add)?;
    duplicates(&ranking, picture, joined, add)?;
    writer.flush()
}

fn columns() -> impl Iterator<Item = &'static Column> {
    COLUMNS.iter().chain([&SAME_AS])
}
