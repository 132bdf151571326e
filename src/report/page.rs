//! Lays text out for a terminal: width in columns, wrapping, aligned cells, colour. Knows nothing of drawings.
//!
//! What it is given must already be free of control characters (see `clean`).

use std::borrow::Cow;
use std::convert::Infallible;
use std::io::{self, Write};

use unicode_width::{UnicodeWidthChar, UnicodeWidthStr};

/// How a piece of text is toned. A tone only repeats what the words say.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Tone {
    /// As it comes.
    Plain,
    /// The word for a failure.
    Fail,
    /// The word for a warning.
    Warn,
    /// The word for a note.
    Note,
    /// Names and numbers that are looked for first.
    Strong,
}

impl Tone {
    const fn code(self) -> &'static str {
        match self {
            Tone::Plain => "",
            Tone::Fail => "1;31",
            Tone::Warn => "1;33",
            Tone::Note => "36",
            Tone::Strong => "1",
        }
    }
}

/// Between cells of one line.
const GAP: &str = "   ";
/// Less room than this beside a label is not worth using.
const LITTLE: usize = 32;

/// A writer of lines of a given width.
pub struct Page<'w> {
    out: &'w mut dyn Write,
    width: usize,
    colour: bool,
}

impl<'w> Page<'w> {
    /// A page on `out`, `width` columns wide (at least 40 are used).
    pub fn new(out: &'w mut dyn Write, width: usize, colour: bool) -> Self {
        Page { out, width: width.max(40), colour }
    }

    /// Columns left of an indent.
    pub fn room(&self, indent: usize) -> usize {
        self.width.saturating_sub(indent).max(16)
    }

    /// An empty line.
    pub fn blank(&mut self) -> io::Result<()> {
        self.out.write_all(b"\n")
    }

    /// A line as it is, however long: for what must keep its own layout.
    pub fn raw(&mut self, text: &str) -> io::Result<()> {
        writeln!(self.out, "{text}")
    }

    /// `text` in a tone.
    pub fn toned<'t>(&self, tone: Tone, text: &'t str) -> Cow<'t, str> {
        if self.colour && tone != Tone::Plain && !text.is_empty() {
            format!("\x1b[{}m{text}\x1b[0m", tone.code()).into()
        } else {
            text.into()
        }
    }

    /// A line at an indent.
    fn line(&mut self, indent: usize, text: &str) -> io::Result<()> {
        self.blanks(indent)?;
        self.out.write_all(text.as_bytes())?;
        self.out.write_all(b"\n")
    }

    fn blanks(&mut self, count: usize) -> io::Result<()> {
        const BLANKS: [u8; 64] = [b' '; 64];
        let mut left = count;
        while left > 0 {
            let some = left.min(BLANKS.len());
            self.out.write_all(&BLANKS[..some])?;
            left -= some;
        }
        Ok(())
    }

    /// `left`, and `right` aligned at the right edge; on a line of its own if both do not fit.
    pub fn split(&mut self, left: &str, right: &str) -> io::Result<()> {
        let (l, r) = (columns(left), columns(right));
        let head = self.toned(Tone::Strong, left);
        if l + GAP.len() + r <= self.width {
            let gap = self.width - l - r;
            return writeln!(self.out, "{head}{:gap$}{right}", "");
        }
        writeln!(self.out, "{head}")?;
        for line in wrapped(right, self.room(0)) {
            self.line(self.width.saturating_sub(columns(&line)), &line)?;
        }
        Ok(())
    }

    /// Prose at an indent.
    pub fn prose(&mut self, indent: usize, text: &str) -> io::Result<()> {
        let room = self.room(indent);
        each_line(text, room, |line| self.line(indent, line))
    }

    /// Prose at an indent, all in a tone.
    pub fn toned_prose(&mut self, indent: usize, tone: Tone, text: &str) -> io::Result<()> {
        let room = self.room(indent);
        each_line(text, room, |line| {
            let line = self.toned(tone, line);
            self.line(indent, &line)
        })
    }

    /// A toned label, then prose that hangs at `hang`.
    pub fn labelled(
        &mut self,
        indent: usize,
        label: (Tone, &str),
        hang: usize,
        text: &str,
    ) -> io::Result<()> {
        let pad = hang.saturating_sub(indent + columns(label.1)).max(1);
        let mut lines = wrapped(text, self.room(hang)).into_iter();
        let first = lines.next().unwrap_or_default();
        let shown = self.toned(label.0, label.1);
        if first.is_empty() {
            return writeln!(self.out, "{:indent$}{shown}", "");
        }
        writeln!(self.out, "{:indent$}{shown}{:pad$}{first}", "", "")?;
        for line in lines {
            self.line(hang, &line)?;
        }
        Ok(())
    }

    /// Cells side by side at an indent: on one line if they fit, else in as many aligned columns as fit.
    pub fn cells(&mut self, indent: usize, cells: &[String]) -> io::Result<()> {
        for line in in_columns(cells, self.room(indent)) {
            self.line(indent, &line)?;
        }
        Ok(())
    }

    /// Rows of aligned columns at an indent; where they do not fit, each row is packed on its own.
    pub fn table(&mut self, indent: usize, rows: &[Vec<String>]) -> io::Result<()> {
        let count = rows.iter().map(Vec::len).max().unwrap_or(0);
        let width = |c: usize| rows.iter().filter_map(|r| r.get(c)).map(|s| columns(s)).max().unwrap_or(0);
        let widths: Vec<usize> = (0..count).map(width).collect();
        let whole = widths.iter().sum::<usize>() + GAP.len() * count.saturating_sub(1);
        for row in rows {
            if whole <= self.room(indent) {
                self.line(indent, &aligned(row, &widths))?;
            } else {
                self.packed(&" ".repeat(indent), indent, indent, row)?;
            }
        }
        Ok(())
    }

    /// Whether cells fit side by side on one line at an indent.
    pub fn fits(&self, indent: usize, cells: &[String]) -> bool {
        let widths: usize = cells.iter().map(|c| columns(c)).sum();
        widths + GAP.len() * cells.len().saturating_sub(1) <= self.room(indent)
    }

    /// Cells packed one after the other behind a label; what does not fit hangs at `hang`, or under the label at
    /// `narrow` where the page has little room beside it.
    pub fn packed(&mut self, label: &str, hang: usize, narrow: usize, cells: &[String]) -> io::Result<()> {
        if hang > narrow && hang + LITTLE > self.width {
            self.line(0, label.trim_end())?;
            return self.packed(&" ".repeat(narrow), narrow, narrow, cells);
        }
        let mut lines = packed_lines(cells, self.room(hang)).into_iter();
        let first = [label, &lines.next().unwrap_or_default()].concat();
        if !first.trim().is_empty() {
            self.line(0, first.trim_end())?;
        }
        for line in lines {
            self.line(hang, &line)?;
        }
        Ok(())
    }
}

/// Breaks prose into lines of at most `room` columns, between words, inside a word only if it alone is wider. A
/// no-break space keeps two words together and is shown as a blank.
pub fn wrapped(text: &str, room: usize) -> Vec<String> {
    let mut lines = Vec::new();
    let kept: Result<(), Infallible> = each_line(text, room, |line| {
        lines.push(line.to_owned());
        Ok(())
    });
    let Ok(()) = kept;
    lines
}

/// Gives each line of [`wrapped`] to `put`, which may fail.
fn each_line<E>(text: &str, room: usize, mut put: impl FnMut(&str) -> Result<(), E>) -> Result<(), E> {
    let mut put = |line: &str| {
        if line.contains('\u{a0}') { put(&line.replace('\u{a0}', " ")) } else { put(line) }
    };
    // Most texts need no look at their widths, and in them a word that fits as a whole fits letter by letter.
    let plain = is_all_narrow(text);
    if plain && !text.starts_with(' ') && !text.ends_with(' ') && !text.contains("  ") {
        return each_plain_line(text, room, put);
    }
    let width = |text: &str| if plain { text.chars().count() } else { text.width() };
    let mut line = String::new();
    // Columns of the line so far, which are only added up where no character changes the width of another.
    let mut used = 0;
    for word in text.split(' ').filter(|w| !w.is_empty()) {
        let wide = width(word);
        if !line.is_empty() && used + 1 + wide > room {
            put(&line)?;
            line.clear();
            used = 0;
        }
        if !line.is_empty() {
            line.push(' ');
            used = if plain { used + 1 } else { line.width() };
        }
        if plain && used + wide <= room {
            line.push_str(word);
            used += wide;
            continue;
        }
        for c in word.chars() {
            if !line.is_empty() && used + c.width().unwrap_or(0) > room {
                put(&line)?;
                line.clear();
                used = 0;
            }
            line.push(c);
            used = if plain { used + 1 } else { line.width() };
        }
    }
    // An empty text is one empty line.
    if !line.is_empty() || text.bytes().all(|b| b == b' ') { put(&line) } else { Ok(()) }
}

/// [`each_line`] of a text whose characters are all one column wide and whose words stand one blank apart: its lines
/// are pieces of it.
fn each_plain_line<E>(text: &str, room: usize, mut put: impl FnMut(&str) -> Result<(), E>) -> Result<(), E> {
    let mut rest = text;
    // The first character that has no room ends the line, or the word before it does.
    while let Some(full) = end_of_columns(rest, room) {
        let (line, next) = if rest[full..].starts_with(' ') {
            (full, full + 1)
        } else {
            rest[..full].rfind(' ').map_or((full, full), |blank| (blank, blank + 1))
        };
        put(&rest[..line])?;
        rest = &rest[next..];
    }
    put(rest)
}

/// Where the first `room` characters of a text end; none if it has no more than these.
fn end_of_columns(text: &str, room: usize) -> Option<usize> {
    if text.len() <= room {
        return None;
    }
    if text.is_ascii() { Some(room) } else { text.char_indices().nth(room).map(|(at, _)| at) }
}

/// How many columns a text takes.
fn columns(text: &str) -> usize {
    if text.bytes().fold(true, |all, b| all & matches!(b, b' '..=b'~')) {
        return text.len();
    }
    let plain = is_all_narrow(text) && !text.chars().any(char::is_control);
    if plain { text.chars().count() } else { text.width() }
}

/// Whether every character is one column wide whatever stands beside it: ASCII, and Latin letters and signs without the
/// soft hyphen. What combines with others stands behind them. Looks at bytes, most of which tell it alone.
fn is_all_narrow(text: &str) -> bool {
    let bytes = text.as_bytes();
    // The first byte of U+0300 is 0xcc; controls and the soft hyphen begin as the signs of U+00A0 to U+00BF do.
    bytes.iter().fold(true, |all, b| all & (*b < 0xcc))
        && memchr::memchr_iter(0xc2, bytes)
            .all(|at| bytes.get(at + 1).is_some_and(|second| matches!(second, 0xa0..=0xac | 0xae..)))
}

fn in_columns(cells: &[String], room: usize) -> Vec<String> {
    for count in (2..=cells.len()).rev() {
        let rows = cells.len().div_ceil(count);
        let count = cells.len().div_ceil(rows);
        let widths: Vec<usize> =
            (0..count).map(|c| column(cells, c, count).map(|s| columns(s)).max().unwrap_or(0)).collect();
        if widths.iter().sum::<usize>() + GAP.len() * (count - 1) <= room {
            return cells.chunks(count).map(|row| aligned(row, &widths)).collect();
        }
    }
    cells.iter().flat_map(|cell| wrapped(cell, room)).collect()
}

fn column(cells: &[String], index: usize, columns: usize) -> impl Iterator<Item = &String> {
    cells.iter().skip(index).step_by(columns)
}

fn aligned(row: &[String], widths: &[usize]) -> String {
    let mut line = String::new();
    for (cell, width) in row.iter().zip(widths) {
        if !line.is_empty() {
            line.push_str(GAP);
        }
        line.push_str(cell);
        line.extend(std::iter::repeat_n(' ', width.saturating_sub(columns(cell))));
    }
    line.trim_end().to_owned()
}

fn packed_lines(cells: &[String], room: usize) -> Vec<String> {
    let mut lines: Vec<String> = Vec::new();
    for cell in cells.iter().filter(|c| !c.is_empty()) {
        match lines.last_mut() {
            Some(line) if columns(line) + GAP.len() + columns(cell) <= room => {
                line.push_str(GAP);
                line.push_str(cell);
            }
            _ => lines.extend(wrapped_cell(cell, room)),
        }
    }
    lines
}

/// A cell that fits keeps its double blanks; only a wider one is wrapped.
fn wrapped_cell(cell: &str, room: usize) -> Vec<String> {
    if columns(cell) <= room { vec![cell.to_owned()] } else { wrapped(cell, room) }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn words_wrap_and_long_words_break() {
        assert_eq!(wrapped("one two three", 7), ["one two", "three"]);
        assert_eq!(wrapped("abcdefghij kl", 4), ["abcd", "efgh", "ij", "kl"]);
        assert_eq!(wrapped("", 10), [""]);
        assert_eq!(wrapped("one 2\u{a0}three", 9), ["one", "2 three"]);
        assert_eq!(wrapped("one two", 3), ["one", "two"]);
        assert_eq!(wrapped("Ø3.6 für abcdefgh i", 4), ["Ø3.6", "für", "abcd", "efgh", "i"]);
        assert_eq!(wrapped(" one  two three ", 7), ["one two", "three"]);
    }

    #[test]
    fn wide_characters_count_two_columns() {
        // Ideographs are two columns wide (Unicode Standard Annex 11).
        assert_eq!(wrapped("穴穴 穴穴", 5), ["穴穴", "穴穴"]);
        assert_eq!(wrapped("穴穴穴", 5), ["穴穴", "穴"]);
    }

    #[test]
    fn narrow_characters_are_one_column_wide() {
        let is_narrow = |c: char| c.is_ascii() || ('\u{a0}'..'\u{300}').contains(&c) && c != '\u{ad}';
        for c in '\0'..'\u{2000}' {
            assert_eq!(is_all_narrow(&format!("Ø{c}±")), is_narrow(c), "{c:?}");
        }
        let narrow: String = ('!'..'\u{400}').filter(|c| !c.is_control() && is_narrow(*c)).collect();
        assert_eq!(narrow.width(), narrow.chars().count());
        assert!(is_narrow('Ø') && is_narrow('±') && !is_narrow('穴') && !is_narrow('\u{301}'));
    }

    #[test]
    fn four_cells_fall_into_two_columns() {
        let cells: Vec<String> = ["aaaa", "b", "cc", "dddd"].map(String::from).to_vec();
        assert_eq!(in_columns(&cells, 40), ["aaaa   b   cc   dddd"]);
        assert_eq!(in_columns(&cells, 15), ["aaaa   b", "cc     dddd"]);
        assert_eq!(in_columns(&cells, 8), ["aaaa", "b", "cc", "dddd"]);
    }

    #[test]
    fn right_part_keeps_to_the_edge() {
        let mut out = Vec::new();
        Page::new(&mut out, 40, false).split("a.dxf", "2 findings").unwrap();
        assert_eq!(String::from_utf8(out).unwrap(), format!("a.dxf{}2 findings\n", " ".repeat(25)));
    }

    #[test]
    fn tone_is_only_added() {
        let mut out = Vec::new();
        let page = Page::new(&mut out, 80, true);
        assert_eq!(page.toned(Tone::Fail, "FAIL"), "\x1b[1;31mFAIL\x1b[0m");
        let mut out = Vec::new();
        assert_eq!(Page::new(&mut out, 80, false).toned(Tone::Fail, "FAIL"), "FAIL");
    }
}
