//! Evaluated joint tests as text, as JSON and as a plot. Calculates nothing anew.

mod json;
mod plot;
mod text;

pub use json::TrialReport;

use std::io::{self, Write};

use super::page::Page;
use crate::trial::{Evaluation, Trial};

/// A record and what it shows.
pub type Evaluated = (Trial, Evaluation);

/// Writes the evaluations as text for people, each in the units of its record.
///
/// # Errors
/// Those of the writer.
pub fn write_text(trials: &[Evaluated], width: usize, colour: bool, out: &mut dyn Write) -> io::Result<()> {
    text::write(trials, &mut Page::new(out, width, colour))
}

/// Writes the evaluations as JSON: torques in N·m, lengths in mm.
///
/// # Errors
/// Those of the writer.
pub fn write_json(trials: &[Evaluated], out: &mut dyn Write) -> io::Result<()> {
    super::json::write(&TrialReport::of(trials), out)
}

/// Writes the distributions of drive and failure torque with limits and window as an SVG picture, one panel a record.
///
/// # Errors
/// Those of the writer.
pub fn write_plot(trials: &[Evaluated], out: &mut dyn Write) -> io::Result<()> {
    out.write_all(plot::svg(trials).as_bytes())
}

/// The verdict on a trial in a word or two.
fn verdict(evaluation: &Evaluation) -> &'static str {
    if evaluation.passes() { "passes" } else { "does not pass" }
}

#[cfg(test)]
mod tests;
