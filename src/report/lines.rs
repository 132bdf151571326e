//! One finding a line, `path:line: level rule: message`, for editors and for `grep`.

use std::io::{self, Write};

use super::clean::visible;
use super::said::said_in_full;
use crate::check::{DrawingResult, Report};

/// Writes every finding, waived ones marked. The line is that of the entity in the text DXF file, 1 where there
/// is none.
///
/// # Errors
/// Those of the writer.
pub fn write(report: &Report, out: &mut dyn Write) -> io::Result<()> {
    report.drawings.iter().try_for_each(|result| drawing(result, out))
}

/// Writes the findings of one drawing.
///
/// # Errors
/// Those of the writer.
pub fn drawing(result: &DrawingResult, out: &mut dyn Write) -> io::Result<()> {
    let path = visible(&result.path);
    for finding in &result.findings {
        let line = finding.line.unwrap_or(1).max(1);
        writeln!(out, "{path}:{line}: {} {}: {}", finding.level, finding.rule, said_in_full(finding))?;
    }
    Ok(())
}
