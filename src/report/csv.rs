//! A report as comma-separated values (RFC 4180, UTF-8, a header line): a row for each finding with its hole, one for
//! each hole without a finding, one for a drawing without either.
//!
//! A spreadsheet takes words that begin with `=`, `+`, `-` or `@` for a formula. Drawings are not to be trusted that
//! far: such words get an apostrophe before them, which spreadsheets read as "this is text". Numbers are never words.

use std::io::{self, Write};

use super::table::{Cell, Column, DRAWING, FINDING, HOLE, rows};
use crate::check::{DrawingResult, Report};

/// Writes a report.
///
/// # Errors
/// Those of the writer.
pub fn write(report: &Report, out: &mut dyn Write) -> io::Result<()> {
    header(out)?;
    report.drawings.iter().try_for_each(|result| drawing(result, out))
}

/// Writes the names of the columns.
///
/// # Errors
/// Those of the writer.
pub fn header(out: &mut dyn Write) -> io::Result<()> {
    let mut writer = csv::Writer::from_writer(out);
    writer.write_record(columns().map(|column| column.name))?;
    writer.flush()
}

/// Writes the rows of one drawing.
///
/// # Errors
/// Those of the writer.
pub fn drawing(result: &DrawingResult, out: &mut dyn Write) -> io::Result<()> {
    let mut writer = csv::Writer::from_writer(out);
    for row in rows(result) {
        writer.write_record(columns().map(|column| field((column.cell)(&row))))?;
    }
    writer.flush()
}

fn columns() -> impl Iterator<Item = &'static Column> {
    DRAWING.iter().chain(HOLE).chain(FINDING)
}

/// A cell as a field, never a formula.
pub(super) fn field(cell: Cell<'_>) -> String {
    match cell {
        Cell::Nothing => String::new(),
        Cell::Number(value) => value.to_string(),
        // Some spreadsheets take the wide forms of these as well.
        Cell::Text(text) if text.starts_with(['=', '+', '-', '@', '＝', '＋', '－', '＠']) => {
            format!("'{text}")
        }
        Cell::Text(text) => text.into_owned(),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn words_that_would_be_formulas_are_text_and_numbers_stay_numbers() {
        for text in ["=1+1", "+A1", "-A1", "@SUM(A1)"] {
            assert_eq!(field(Cell::Text(text.into())), format!("'{text}"));
        }
        assert_eq!(field(Cell::Text("4X Ø3.3 +0.05/-0".into())), "4X Ø3.3 +0.05/-0");
        assert_eq!(field(Cell::Number(-0.5)), "-0.5");
        assert_eq!(field(Cell::Nothing), "");
    }
}
