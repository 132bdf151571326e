//! Helpers of this module's tests.

use super::cursor::Cursor;
use super::normal::Glyphs;
use super::words::Words;

/// Runs one form over a text.
pub(super) fn parse<T>(text: &str, form: impl FnOnce(Cursor<'_>) -> Option<T>) -> Option<T> {
    let glyphs = Glyphs::of(text);
    form(Cursor::new(glyphs.as_slice(), Words::built_in()))
}
