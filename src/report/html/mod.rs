//! A report as one HTML file for people: nothing is fetched, nothing of a drawing is live. What is said of a drawing is a
//! row of the library and a sheet of its own, with the picture where something was found. Of a large library the sheets
//! stay plain text in the file until they are opened, so that it stays quick.

mod drawing;
mod finding;
mod frame;
mod gauge;
mod library;
mod picture;
mod working;

use std::io::{self, Write};

use super::text::Tally;
use super::web::escape;
use crate::check::{DrawingResult, Tool};

pub use super::web::CAUTIONS;

/// The script of the page.
pub(super) const SCRIPT: &str = include_str!("script.js");

/// So many drawings are put into the page itself, so that it can be read and printed without a script.
const AT_ONCE: usize = 60;

/// Bytes before the row that say how long it is.
const LENGTH: usize = 8;

/// Writes what is kept of one drawing: the length of its row, the row, its sheet.
///
/// # Errors
/// Those of the writer.
pub(super) fn drawing(result: &DrawingResult, out: &mut dyn Write) -> io::Result<()> {
    let row = library::row(result);
    out.write_all(&(row.len() as u64).to_le_bytes())?;
    out.write_all(row.as_bytes())?;
    out.write_all(drawing::sheet(result).as_bytes())
}

/// Writes the file. `piece` gives what was kept of the drawing that is the `nth` of `count`.
///
/// # Errors
/// Those of the writer and of `piece`.
pub(super) fn write(
    tool: &Tool,
    tally: &Tally,
    count: usize,
    mut piece: impl FnMut(usize) -> io::Result<Vec<u8>>,
    out: &mut dyn Write,
) -> io::Result<()> {
    let at_once = count <= AT_ONCE;
    out.write_all(frame::begin(tool, tally, at_once).as_bytes())?;
    for nth in 0..count {
        out.write_all(parts(&piece(nth)?).0)?;
    }
    out.write_all(frame::between().as_bytes())?;
    for nth in 0..count {
        let piece = piece(nth)?;
        let sheet = parts(&piece).1;
        if at_once {
            out.write_all(sheet)?;
        } else {
            out.write_all(b"<script type=\"text/plain\" class=\"kept\">")?;
            out.write_all(sheet)?;
            out.write_all(b"</script>\n")?;
        }
    }
    out.write_all(frame::end().as_bytes())
}

/// Row and sheet of a piece.
fn parts(piece: &[u8]) -> (&[u8], &[u8]) {
    let (length, rest) = piece.split_at_checked(LENGTH).unwrap_or((&[], piece));
    let length = length.try_into().map_or(0, u64::from_le_bytes);
    let row = usize::try_from(length).unwrap_or(0).min(rest.len());
    rest.split_at(row)
}

/// The name of a drawing within the page: the same for the same path, and nothing but letters and digits.
fn key(path: &str) -> String {
    format!("d{}", blake3::hash(path.as_bytes()).to_hex().get(..12).unwrap_or_default())
}
