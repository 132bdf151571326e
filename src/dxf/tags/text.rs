//! Pairs of a text file: a line with the group code, a line with the value. Lines end with LF, CR LF, CR or a
//! mixture. Where the pairs have lost step (a line feed inside a text, a stray line), reading falls into step
//! again at the next line that is a group code, and says so.

use memchr::{memchr, memchr_iter, memchr2};

use super::codes::any_code;
use super::feeds::Feeds;
use super::quick_text::Place;
use super::{Quick, Step, Tag, Tags, Text, Value, excerpt, opens_entity, zero};
use crate::dxf::problems::Problems;

/// How the lines of a file end.
#[derive(Debug, Clone, Copy, PartialEq)]
enum Ends {
    /// LF or CR LF throughout: the next LF ends the line.
    Lf,
    /// A lone CR ends a line as well.
    Any,
}

/// The pairs of a text file.
pub(in crate::dxf) struct TextTags<'a> {
    data: &'a [u8],
    at: Place<'a>,
    ends: Ends,
    cut: bool,
    problems: Problems,
}

impl<'a> TextTags<'a> {
    /// Walks `data` from `start`, which is where a line begins; `first_line` is its number.
    pub(in crate::dxf) fn new(data: &'a [u8], start: usize) -> Self {
        let ends = line_ends(data);
        TextTags {
            data,
            at: Place { pos: start, line: 1, feeds: feeds(data, start, ends) },
            ends,
            cut: false,
            problems: Problems::default(),
        }
    }

    /// Goes to `pos`, where the line of number `line` begins.
    fn go_to(&mut self, pos: usize, line: u64) {
        self.at = Place { pos, line, feeds: feeds(self.data, pos, self.ends) };
    }

    /// The line at the current place, without its end; moves past it.
    #[inline(always)]
    fn take_line(&mut self) -> &'a [u8] {
        self.at.line += 1;
        if self.ends == Ends::Any {
            return self.take_any_line();
        }
        self.at.feeds.go_to(self.at.pos);
        match self.at.feeds.take() {
            Some(end) => {
                let line = &self.data[self.at.pos..end];
                self.at.pos = end + 1;
                line.strip_suffix(b"\r").unwrap_or(line)
            }
            None => self.take_rest(),
        }
    }

    /// The last line, which has no end.
    #[cold]
    fn take_rest(&mut self) -> &'a [u8] {
        let rest = &self.data[self.at.pos..];
        self.at.pos = self.data.len();
        self.cut = true;
        rest
    }

    /// As [`Self::take_line`], where a CR may end a line. CRs in front of an LF belong to one end (files that went
    /// through two conversions have CR CR LF).
    #[cold]
    fn take_any_line(&mut self) -> &'a [u8] {
        let rest = &self.data[self.at.pos..];
        let Some(n) = memchr2(b'\n', b'\r', rest) else {
            return self.take_rest();
        };
        let mut end = n + 1;
        if rest[n] == b'\r' {
            let run = rest[n..].iter().take_while(|b| **b == b'\r').count();
            if rest.get(n + run) == Some(&b'\n') {
                end = n + run + 1;
            }
        }
        self.at.pos += end;
        &rest[..n]
    }

    /// The group code on the line at the current place; moves past the line. None if it is no group code, or if the
    /// file ends in this line; then the place stays.
    #[inline(always)]
    fn take_code(&mut self) -> Option<i32> {
        let (pos, line) = (self.at.pos, self.at.line);
        // What is read a second time (a spline after a first look) may have met the end of the file before.
        let cut = std::mem::take(&mut self.cut);
        let code = any_code(self.take_line());
        let torn = std::mem::replace(&mut self.cut, cut);
        if code.is_none() || torn {
            self.go_to(pos, line);
            return None;
        }
        code
    }

    /// Whether the current line is the last and has no end: the beginning of a group code at most.
    fn at_torn_line(&self) -> bool {
        memchr2(b'\n', b'\r', &self.data[self.at.pos..]).is_none()
    }

    /// Falls into step again at the next line that is a group code. False at the end of the file.
    #[cold]
    fn resynchronise(&mut self) -> bool {
        let (line, offset) = (self.at.line, self.at.pos);
        let mut found: Option<&[u8]> = None;
        let mut skipped = 0_u64;
        loop {
            if self.at.pos >= self.data.len() {
                break;
            }
            let (pos, at) = (self.at.pos, self.at.line);
            if skipped > 0 && self.take_code().is_some() {
                self.go_to(pos, at);
                break;
            }
            let text = self.take_line();
            if !text.trim_ascii().is_empty() && found.is_none() {
                found = Some(text);
            }
            skipped += 1;
        }
        let at_end = self.at.pos >= self.data.len();
        if let Some(text) = found {
            self.report(
                line,
                offset,
                format!(
                    "expected a group code, found “{}”; went on {skipped} line{} further",
                    excerpt(text),
                    if skipped == 1 { "" } else { "s" }
                ),
                true,
            );
        } else if !at_end {
            self.report(
                line,
                offset,
                "blank line where a group code was expected; passed over".to_owned(),
                false,
            );
        }
        !at_end
    }

    /// The next pair where it is not as it usually is: oddly written, out of step, or cut.
    #[cold]
    fn next_odd(&mut self) -> Option<Tag<'a>> {
        loop {
            if self.at.pos >= self.data.len() {
                return None;
            }
            let (code_line, code_at) = (self.at.line, self.at.pos);
            let Some(code) = self.take_code() else {
                if self.at_torn_line() || !self.resynchronise() {
                    self.at.pos = self.data.len();
                    return None;
                }
                continue;
            };
            if self.at.pos >= self.data.len() {
                // A code without its value belongs to the entity before, unless it opens the next one.
                self.cut |= code != 0;
                return None;
            }
            let offset = self.at.pos;
            let value = self.take_line();
            if code == 0 && !opens_entity(value) {
                self.report(
                    code_line,
                    code_at,
                    format!(
                        "group 0 holds “{}”, expected a name; the pairs are out of step here",
                        excerpt(value)
                    ),
                    true,
                );
                self.go_to(offset, code_line + 1);
                continue;
            }
            return Some(Tag { code, line: code_line + 1, offset, value: Value::Text(Text::of(value)) });
        }
    }

    #[cold]
    fn report(&mut self, line: u64, offset: usize, message: String, loss: bool) {
        self.problems.add(line, offset as u64, message, loss);
    }
}

impl<'a> Tags<'a> for TextTags<'a> {
    type Quick = Place<'a>;

    fn quick(&self) -> Place<'a> {
        self.at
    }

    fn resume(&mut self, quick: Place<'a>) {
        self.at = quick;
    }

    #[inline(always)]
    fn next(&mut self) -> Option<Tag<'a>> {
        match self.at.step() {
            Step::Group(tag) | Step::Start(tag) => Some(tag),
            Step::Odd => self.next_odd(),
        }
    }

    /// Goes straight to the next line of a group code 0. What lies between is not looked at, so that a fault in it is
    /// none: nothing of it was wanted.
    fn skip_to_start(&mut self) -> Option<Tag<'a>> {
        if self.ends == Ends::Lf
            && let Some(at) = zero::next_start(self.data, self.at.pos)
        {
            let lines = memchr_iter(b'\n', &self.data[self.at.pos..at]).count() as u64;
            self.go_to(at, self.at.line + lines);
        }
        loop {
            let tag = self.next()?;
            if tag.code == 0 {
                return Some(tag);
            }
        }
    }

    fn size(&self) -> usize {
        self.data.len()
    }

    fn go_to(&mut self, (line, pos): (u64, usize)) {
        TextTags::go_to(self, pos, line);
    }

    fn place(&self) -> (u64, usize) {
        (self.at.line, self.at.pos)
    }

    fn cut_inside_pair(&self) -> bool {
        self.cut
    }

    fn take_problems(&mut self) -> Problems {
        std::mem::take(&mut self.problems)
    }
}

/// The line feeds from `pos` on, none where a CR may end a line.
fn feeds(data: &[u8], pos: usize, ends: Ends) -> Feeds<'_> {
    Feeds::new(if ends == Ends::Lf { data } else { &[] }, pos)
}

/// A line without the CR at its end.
#[inline(always)]
pub(super) fn without_cr(line: &[u8]) -> &[u8] {
    match line {
        [line @ .., b'\r'] => line,
        line => line,
    }
}

/// Looks once through the file for a CR that no LF follows.
fn line_ends(data: &[u8]) -> Ends {
    let Some(first) = memchr(b'\r', data) else {
        return Ends::Lf;
    };
    let data = &data[first..];
    let lone = data.chunks(255).enumerate().any(|(n, chunk)| {
        let followers = &data[n * 255 + 1..];
        let count: u8 = chunk
            .iter()
            .zip(followers)
            .map(|(a, b)| u8::from(*a == b'\r' && *b != b'\n'))
            .fold(0, u8::wrapping_add);
        count != 0
    });
    // A CR as the very last byte ends the last line either way.
    if lone { Ends::Any } else { Ends::Lf }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn pairs(text: &str) -> (Vec<(i32, String, u64)>, Vec<crate::drawing::Problem>) {
        let mut tags = TextTags::new(text.as_bytes(), 0);
        let mut all = Vec::new();
        while let Some(tag) = tags.next() {
            let value = String::from_utf8_lossy(tag.text()).into_owned();
            all.push((tag.code, value, tag.line));
        }
        (all, tags.take_problems().finish())
    }

    #[test]
    fn every_kind_of_line_end_gives_the_same_pairs() {
        let lf = "  0\nLINE\n 10\n1.5\n  8\n\n";
        let (expected, problems) = pairs(lf);
        assert_eq!(expected.len(), 3);
        assert_eq!(expected[2], (8, String::new(), 6));
        assert!(problems.is_empty());
        for end in ["\r\n", "\r", "\r\r\n"] {
            assert_eq!(pairs(&lf.replace('\n', end)).0, expected, "{end:?}");
        }
        let mixed = "  0\r\nLINE\n 10\r1.5\r\n  8\n\n";
        assert_eq!(pairs(mixed).0, expected);
    }

    #[test]
    fn a_line_feed_inside_a_text_loses_that_line_only() {
        let (all, problems) = pairs("1\nhello\nworld\n7\nStandard\n0\nLINE\n");
        let codes: Vec<i32> = all.iter().map(|p| p.0).collect();
        assert_eq!(codes, [1, 7, 0]);
        assert_eq!(problems.len(), 1);
        assert_eq!(problems[0].line, 3);
        assert!(problems[0].loss && problems[0].message.contains("world"));
    }

    #[test]
    fn blank_lines_between_pairs_are_no_loss() {
        let (all, problems) = pairs("\n\n0\nLINE\n\n8\n0\n0\nEOF\n\n\n");
        let codes: Vec<i32> = all.iter().map(|p| p.0).collect();
        assert_eq!(codes, [0, 8, 0]);
        assert!(problems.iter().all(|p| !p.loss));
    }

    #[test]
    fn a_zero_before_a_number_is_a_value_and_the_pairs_fall_into_step() {
        // One line is missing: the value of 70 is gone, so that "0" meets "62".
        let (all, problems) = pairs("70\n62\n0\n62\n0\n0\nLINE\n");
        assert_eq!(all.last().map(|p| (p.0, p.1.as_str())), Some((0, "LINE")));
        assert!(problems.iter().any(|p| p.loss));
    }

    #[test]
    fn a_missing_value_at_the_end_is_a_cut() {
        let mut tags = TextTags::new(b"0\nLINE\n10\n", 0);
        while tags.next().is_some() {}
        assert!(tags.cut_inside_pair());
        let mut whole = TextTags::new(b"0\nLINE\n10\n1.0\n", 0);
        while whole.next().is_some() {}
        assert!(!whole.cut_inside_pair());
    }

    #[test]
    fn a_cut_at_the_end_spoils_nothing_that_is_read_a_second_time() {
        // An odd group code was once none in the second reading of a cut file.
        let mut tags = TextTags::new(b"0\nSPLINE\n 05\n1F\n10\n", 0);
        let begin = tags.place();
        while tags.next().is_some() {}
        assert!(tags.cut_inside_pair());
        Tags::go_to(&mut tags, begin);
        let codes: Vec<i32> = std::iter::from_fn(|| tags.next()).map(|tag| tag.code).collect();
        assert_eq!(codes, [0, 5]);
        assert!(tags.cut_inside_pair());
        assert!(tags.take_problems().finish().is_empty());
    }
}
