//! Helpers of this module's tests.

use super::cursor::Cursor;
use super::words::Words;

/// Runs one form over a text.
pub(super) fn parse<T>(text: &str, form: impl FnOnce(Cursor<'_>) -> Option<T>) -> Option<T> {
    let words = Words::built_in();
    form(Cursor::new(words.glyphs(text).as_slice(), words))
}
