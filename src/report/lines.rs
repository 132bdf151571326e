//! One finding a line, `path:line: level rule: message`, for editors and for `grep`.

use std::io::{self, Write};

use super::clean::{flowing, visible};
use crate::check::{DrawingResult, FindingResult, Report};

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
        writeln!(out, "{path}:{line}: {} {}: {}", finding.level, finding.rule, said(finding))?;
    }
    Ok(())
}

fn said(finding: &FindingResult) -> String {
    let mut text = String::new();
    if let Some(hole) = finding.hole.as_deref().filter(|h| !finding.message.contains(*h)) {
        text.push_str(hole);
        text.push_str(": ");
    }
    text.push_str(finding.message.trim_end_matches('.'));
    if let Some(remedy) = &finding.remedy {
        text.push_str("; ");
        text.push_str(remedy.trim_end_matches('.'));
    }
    if let Some(reason) = &finding.waived {
        text.push_str(" [waived: ");
        text.push_str(reason);
        text.push(']');
    }
    flowing(&text)
}
