//! Lines and clauses of a text, and the places in them where something may begin.

use super::super::cursor::Cursor;
use super::super::meaning::Meaning;
use super::super::normal::{Glyph, Glyphs};
use super::super::words::Words;

/// A part of a text: its glyphs and the bytes that they came from.
#[derive(Debug, Clone, Copy)]
pub(super) struct Piece<'a> {
    text: &'a str,
    glyphs: &'a [Glyph],
    words: &'a Words,
    /// Byte after the last glyph.
    end: usize,
}

impl<'a> Piece<'a> {
    /// The whole text, of which `words` made the glyphs.
    pub(super) fn whole(text: &'a str, glyphs: &'a Glyphs, words: &'a Words) -> Self {
        Piece { text, glyphs: glyphs.as_slice(), words, end: text.len() }
    }

    /// Its start.
    pub(super) fn cursor(self) -> Cursor<'a> {
        Cursor::new(self.glyphs, self.words)
    }

    /// The text as written between two places of this piece.
    pub(super) fn source(self, from: Cursor<'_>, to: Cursor<'_>) -> &'a str {
        let byte = |at: usize| self.glyphs.get(at).map_or(self.end, |g| g.start);
        self.text.get(byte(from.at)..byte(to.at)).unwrap_or_default()
    }

    /// The text as written from a place to the end of this piece.
    pub(super) fn rest(self, from: Cursor<'_>) -> &'a str {
        self.source(from, from.moved_to(self.glyphs.len()))
    }

    /// Its lines.
    pub(super) fn lines(self) -> impl Iterator<Item = Piece<'a>> {
        self.split(|glyphs, at| glyphs[at].ch == '\n')
    }

    /// What stands between commas, semicolons, full stops and line ends. A mark inside a number separates nothing.
    pub(super) fn clauses(self) -> impl Iterator<Item = Piece<'a>> {
        self.split(|glyphs, at| match glyphs[at].ch {
            '\n' | ';' => true,
            ',' | '.' => {
                let gap = glyphs.get(at + 1).is_none_or(|g| g.ch == ' ' || g.ch == '\n');
                let number = |i: usize| glyphs.get(i).is_some_and(|g| g.ch.is_ascii_digit() || g.ch == '.');
                // `1. NOTE` and `THK. 2` go on after their full stop.
                let goes_on = glyphs[at].ch == '.' && (number(at.wrapping_sub(1)) || number(at + 2));
                gap && !goes_on
            }
            _ => false,
        })
    }

    fn split(self, ends: impl Fn(&[Glyph], usize) -> bool) -> impl Iterator<Item = Piece<'a>> {
        let mut next = Some(0);
        std::iter::from_fn(move || {
            let from = next?;
            let to = (from..self.glyphs.len()).find(|&i| ends(self.glyphs, i));
            next = to.map(|i| i + 1);
            let end = to.map_or(self.end, |i| self.glyphs[i].start);
            Some(Piece { glyphs: &self.glyphs[from..to.unwrap_or(self.glyphs.len())], end, ..self })
        })
    }

    /// Every place where a word, a number or a sign begins. Known words are stepped over whole, so that no form
    /// begins inside one (the `SP` of `EQ SP`).
    pub(super) fn places(self) -> impl Iterator<Item = Cursor<'a>> {
        std::iter::successors(Some(self.cursor()), |c| Some(step(*c))).take_while(|c| !c.at_end())
    }

    /// Whether a digit stands in it.
    pub(super) fn has_digit(self) -> bool {
        self.glyphs.iter().any(|g| g.ch.is_ascii_digit())
    }

    /// Whether a lone T or S stands in it, which may mark a thickness: `t=2`, `t2`, `s=2`, `1.6T`.
    pub(super) fn has_t(self) -> bool {
        let after_digit = |w: &[Glyph]| w[0].ch.is_ascii_digit() && w[1].ch == 'T';
        let alone = |w: &[Glyph]| matches!(w[0].ch, 'T' | 'S') && !w[1].ch.is_alphabetic();
        self.glyphs.windows(2).any(|w| alone(w) || after_digit(w))
    }

    /// What the known words in it mean.
    pub(super) fn meanings(self) -> Vec<Meaning> {
        self.places().filter_map(|c| c.any_word().map(|(meaning, _)| meaning)).collect()
    }

    /// Whether a known word of one of these meanings stands in it.
    pub(super) fn has(self, wanted: &[Meaning]) -> bool {
        self.places().any(|c| c.word_of(wanted).is_some())
    }

    /// Whether one of these words (capitals, no accents) stands in it.
    pub(super) fn has_literal(self, wanted: &[&str]) -> bool {
        self.places().any(|c| c.at_word_start() && wanted.iter().any(|w| c.literal(w).is_some()))
    }
}

/// Past the word, number or sign at this place.
fn step(c: Cursor<'_>) -> Cursor<'_> {
    if let Some((_, after)) = c.any_word().filter(|(_, after)| after.at > c.at) {
        return after;
    }
    let number = |c: char| c.is_ascii_digit();
    let letter = |c: char| c.is_ascii_alphabetic();
    match c.peek() {
        Some(ch) if number(ch) => c.while_is(|c| number(c) || matches!(c, '.' | ',')),
        Some(ch) if letter(ch) => c.while_is(letter),
        _ => c.next(),
    }
}

/// Past blanks and the marks that stand between a label and its value.
pub(super) fn past_marks(c: Cursor<'_>) -> Cursor<'_> {
    c.while_is(|c| matches!(c, ' ' | ':' | '=' | '-' | '.' | '(' | ')'))
}

#[cfg(test)]
mod tests {
    use super::*;

    fn clauses(text: &str) -> Vec<String> {
        let glyphs = Words::built_in().glyphs(text);
        Piece::whole(text, &glyphs, Words::built_in())
            .clauses()
            .map(|c| c.rest(c.cursor()).trim().to_owned())
            .collect()
    }

    #[test]
    fn clauses_end_at_marks_but_not_inside_numbers() {
        assert_eq!(clauses("STAHL 1,5 mm, grün"), ["STAHL 1,5 mm", "grün"]);
        assert_eq!(clauses("A. B;C\nD .5"), ["A", "B", "C", "D .5"]);
    }

    #[test]
    fn the_source_keeps_its_accents() {
        let text = "½ Tôle acier";
        let glyphs = Words::built_in().glyphs(text);
        let piece = Piece::whole(text, &glyphs, Words::built_in());
        assert_eq!(piece.rest(piece.cursor().moved_to(4)), "Tôle acier");
    }
}
