//! The calculator's answer as text and as JSON. Calculates nothing anew.

mod json;
mod text;

use std::io::{self, Write};

use super::page::Page;
use crate::verdict::calculator::{Answer, Question};

/// Writes the answer as text for people, in the thread's unit.
///
/// # Errors
/// Those of the writer.
pub fn write_text(
    question: &Question,
    answer: &Answer,
    width: usize,
    colour: bool,
    out: &mut dyn Write,
) -> io::Result<()> {
    text::write(question, answer, &mut Page::new(out, width, colour))
}

/// Writes the answer as JSON: lengths in mm, engagement in percent on the rolled basis unless named otherwise.
///
/// # Errors
/// Those of the writer.
pub fn write_json(question: &Question, answer: &Answer, out: &mut dyn Write) -> io::Result<()> {
    super::json::write(&json::Size::of(question, answer), out)
}
