//! A report as text for people: per drawing what is wrong, where, required against found, and what to call out
//! instead; at the end what was checked. A drawing without findings is silent.

mod drawing;
pub(super) mod group;
pub(super) mod numbers;
mod screws;
mod summary;
mod tally;
pub(super) mod words;

use std::io::{self, Write};

pub use summary::CAUTION;
pub use tally::Tally;

use super::page::Page;
use crate::check::{DrawingResult, Report};

/// How much is shown.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum Detail {
    /// Failures and the summary.
    Quiet,
    /// All findings and the summary.
    #[default]
    Normal,
    /// Also every screw hole, what was seen in the file, and where bands come from.
    Verbose,
}

/// How text is laid out.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Look {
    /// Columns; less than 40 is taken as 40. Only a path may be longer, so that it stays in one piece.
    pub width: usize,
    /// Whether to add colour to the words.
    pub colour: bool,
    /// How much is shown.
    pub detail: Detail,
    /// Whether the command names a screw for all holes, so that naming one is no advice.
    pub screw_named: bool,
}

impl Default for Look {
    fn default() -> Self {
        Look { width: 80, colour: false, detail: Detail::Normal, screw_named: false }
    }
}

/// Writes a report.
///
/// # Errors
/// Those of the writer.
pub fn write(report: &Report, look: &Look, out: &mut dyn Write) -> io::Result<()> {
    report.drawings.iter().try_for_each(|result| drawing(result, look, out))?;
    summary(&Tally::of(report), look, out)
}

/// Writes what the text says of one drawing; nothing if there is nothing to say.
///
/// # Errors
/// Those of the writer.
pub fn drawing(result: &DrawingResult, look: &Look, out: &mut dyn Write) -> io::Result<()> {
    drawing::write(result, look, &mut Page::new(out, look.width, look.colour)).map(drop)
}

/// Writes the last lines.
///
/// # Errors
/// Those of the writer.
pub fn summary(tally: &Tally, look: &Look, out: &mut dyn Write) -> io::Result<()> {
    summary::write(tally, look, &mut Page::new(out, look.width, look.colour))
}
