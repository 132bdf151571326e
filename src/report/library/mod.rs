//! The picture of a library in its forms.

pub mod csv;
mod features;
pub mod html;
mod rank;
mod table;
mod text;
pub mod xlsx;

use std::io::{self, Write};

pub use text::write as write_text;

use super::json;
use crate::library::Picture;

/// Writes it as JSON.
///
/// # Errors
/// Those of the writer.
pub fn write_json(picture: &Picture, out: &mut dyn Write) -> io::Result<()> {
    json::write(picture, out)
}
