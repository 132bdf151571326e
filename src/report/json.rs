//! A report as JSON: pretty, one newline at the end, the same bytes for the same report.
//!
//! Characters that act on a terminal (delete, C1 controls, bidirectional controls) are escaped although JSON
//! does not ask for it; a JSON reader gets the same text.

use std::io::{self, Write};

use serde::Serialize;
use serde_json::ser::{CharEscape, Formatter, PrettyFormatter, Serializer};

use super::clean::is_live;

/// Writes any value of a report.
///
/// # Errors
/// Those of the writer.
pub fn write<T: Serialize>(value: &T, out: &mut dyn Write) -> io::Result<()> {
    let formatter = Inert(PrettyFormatter::new());
    value.serialize(&mut Serializer::with_formatter(&mut *out, formatter)).map_err(io::Error::from)?;
    out.write_all(b"\n")
}

/// Writes one item of a list as it stands at the end of [`frame`]: without the blanks before it and the comma after it.
/// `depth` counts the objects and lists around it.
///
/// # Errors
/// Those of the writer.
pub fn item<T: Serialize>(item: &T, depth: usize, out: &mut dyn Write) -> io::Result<()> {
    let mut inner = PrettyFormatter::new();
    for _ in 0..depth {
        inner.begin_array(&mut io::sink())?;
    }
    item.serialize(&mut Serializer::with_formatter(&mut *out, Inert(inner))).map_err(io::Error::from)
}

/// How deep drawings stand in a report: in its object and its list.
pub const DRAWING_DEPTH: usize = 2;

/// Writes `frame`, whose last list is empty, with items in that list that were put into JSON before, each written by
/// `write`. The same bytes as [`write()`] gives for the whole.
///
/// # Errors
/// Those of the writer and of `write`.
pub fn frame<F: Serialize, T>(
    frame: &F,
    depth: usize,
    items: impl Iterator<Item = T>,
    out: &mut dyn Write,
    mut write: impl FnMut(T, &mut dyn Write) -> io::Result<()>,
) -> io::Result<()> {
    let mut around = Vec::new();
    self::write(frame, &mut around)?;
    let bracket = around.iter().rposition(|&b| b == b'[').map_or(around.len(), |at| at + 1);
    let (head, end) = around.split_at(bracket);
    out.write_all(head)?;
    let mut empty = true;
    for item in items {
        out.write_all(if empty { b"\n" } else { b",\n" })?;
        write!(out, "{:1$}", "", 2 * depth)?;
        write(item, out)?;
        empty = false;
    }
    if !empty {
        write!(out, "\n{:1$}", "", 2 * depth.saturating_sub(1))?;
    }
    out.write_all(end)
}

/// The pretty form with live characters escaped.
struct Inert(PrettyFormatter<'static>);

impl Formatter for Inert {
    fn write_string_fragment<W: ?Sized + Write>(&mut self, out: &mut W, fragment: &str) -> io::Result<()> {
        let mut start = 0;
        for (at, c) in fragment.char_indices().filter(|(_, c)| is_live(*c)) {
            out.write_all(&fragment.as_bytes()[start..at])?;
            for unit in c.encode_utf16(&mut [0; 2]) {
                write!(out, "\\u{unit:04x}")?;
            }
            start = at + c.len_utf8();
        }
        out.write_all(&fragment.as_bytes()[start..])
    }

    fn write_char_escape<W: ?Sized + Write>(&mut self, out: &mut W, escape: CharEscape) -> io::Result<()> {
        self.0.write_char_escape(out, escape)
    }

    fn begin_array<W: ?Sized + Write>(&mut self, out: &mut W) -> io::Result<()> {
        self.0.begin_array(out)
    }

    fn end_array<W: ?Sized + Write>(&mut self, out: &mut W) -> io::Result<()> {
        self.0.end_array(out)
    }

    fn begin_array_value<W: ?Sized + Write>(&mut self, out: &mut W, first: bool) -> io::Result<()> {
        self.0.begin_array_value(out, first)
    }

    fn end_array_value<W: ?Sized + Write>(&mut self, out: &mut W) -> io::Result<()> {
        self.0.end_array_value(out)
    }

    fn begin_object<W: ?Sized + Write>(&mut self, out: &mut W) -> io::Result<()> {
        self.0.begin_object(out)
    }

    fn end_object<W: ?Sized + Write>(&mut self, out: &mut W) -> io::Result<()> {
        self.0.end_object(out)
    }

    fn begin_object_key<W: ?Sized + Write>(&mut self, out: &mut W, first: bool) -> io::Result<()> {
        self.0.begin_object_key(out, first)
    }

    fn begin_object_value<W: ?Sized + Write>(&mut self, out: &mut W) -> io::Result<()> {
        self.0.begin_object_value(out)
    }

    fn end_object_value<W: ?Sized + Write>(&mut self, out: &mut W) -> io::Result<()> {
        self.0.end_object_value(out)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn live_characters_are_escaped_and_read_back() {
        let text = "a\x1b\u{7f}\u{9b}\u{202e}\u{e0041}\n\"Ø";
        let mut out = Vec::new();
        write(&serde_json::json!({ "k": [text] }), &mut out).unwrap();
        let shown = String::from_utf8(out).unwrap();
        assert!(!shown.chars().any(|c| is_live(c) && c != '\n'), "{shown}");
        let back: serde_json::Value = serde_json::from_str(&shown).unwrap();
        assert_eq!(back["k"][0], text);
        assert!(shown.ends_with("}\n"));
    }
}
