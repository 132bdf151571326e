//! A place in a normalised text, copied freely so that a form can be tried and dropped without undoing anything.

use super::meaning::Meaning;
use super::normal::Glyph;
use super::words::Words;

/// What a form returns: its value and the place after it, or nothing if the form does not stand here.
pub(super) type Read<'a, T> = Option<(T, Cursor<'a>)>;

/// A place in a text.
#[derive(Debug, Clone, Copy)]
pub(super) struct Cursor<'a> {
    glyphs: &'a [Glyph],
    words: &'a Words,
    /// Index of the next glyph.
    pub(super) at: usize,
}

impl<'a> Cursor<'a> {
    /// The start of a text of which `words` made the glyphs.
    pub(super) fn new(glyphs: &'a [Glyph], words: &'a Words) -> Self {
        Cursor { glyphs, words, at: 0 }
    }

    /// The same text at another place.
    pub(super) fn moved_to(self, at: usize) -> Self {
        Cursor { at, ..self }
    }

    /// The next character.
    pub(super) fn peek(self) -> Option<char> {
        self.peek_at(0)
    }

    /// The character `ahead` places on.
    pub(super) fn peek_at(self, ahead: usize) -> Option<char> {
        self.glyphs.get(self.at + ahead).map(|g| g.ch)
    }

    /// The character before.
    pub(super) fn before(self) -> Option<char> {
        self.at.checked_sub(1).and_then(|i| self.glyphs.get(i)).map(|g| g.ch)
    }

    /// Whether the next character was a small letter.
    pub(super) fn small(self) -> bool {
        self.glyphs.get(self.at).is_some_and(|g| g.small)
    }

    /// Whether nothing follows.
    pub(super) fn at_end(self) -> bool {
        self.at >= self.glyphs.len()
    }

    /// Past the next character.
    pub(super) fn next(self) -> Self {
        Cursor { at: (self.at + 1).min(self.glyphs.len()), ..self }
    }

    /// Past `wanted`, if it is next.
    pub(super) fn eat(self, wanted: char) -> Option<Self> {
        (self.peek() == Some(wanted)).then(|| self.next())
    }

    /// Past one of `wanted`, if one is next.
    pub(super) fn eat_any(self, wanted: &[char]) -> Read<'a, char> {
        let c = self.peek()?;
        wanted.contains(&c).then(|| (c, self.next()))
    }

    /// Past `wanted` if it is next, else here.
    pub(super) fn maybe(self, wanted: char) -> Self {
        self.eat(wanted).unwrap_or(self)
    }

    /// Past every character that `wanted` accepts.
    pub(super) fn while_is(self, wanted: impl Fn(char) -> bool) -> Self {
        let mut c = self;
        while c.peek().is_some_and(&wanted) {
            c = c.next();
        }
        c
    }

    /// Back over characters of `skipped`.
    pub(super) fn back(self, skipped: &[char]) -> Self {
        let mut c = self;
        while c.before().is_some_and(|b| skipped.contains(&b)) {
            c.at -= 1;
        }
        c
    }

    /// Past blanks on this line.
    pub(super) fn spaces(self) -> Self {
        self.while_is(|c| c == ' ')
    }

    /// Past blanks and line ends.
    pub(super) fn blanks(self) -> Self {
        self.while_is(|c| c == ' ' || c == '\n')
    }

    /// The longest known word here.
    pub(super) fn any_word(self) -> Read<'a, Meaning> {
        let (meaning, length) = self.glyphs.get(self.at)?.word?;
        let end = self.at + length as usize;
        if end <= self.glyphs.len() {
            return Some((meaning, self.moved_to(end)));
        }
        // It goes on behind this piece of the text, which may hold a shorter one.
        let (end, meaning) = self.words.longest(self.glyphs, self.at)?;
        Some((meaning, self.moved_to(end)))
    }

    /// Past a known word of this meaning.
    pub(super) fn word(self, wanted: Meaning) -> Option<Self> {
        self.any_word().filter(|(m, _)| *m == wanted).map(|(_, c)| c)
    }

    /// Past a known word of one of these meanings.
    pub(super) fn word_of(self, wanted: &[Meaning]) -> Read<'a, Meaning> {
        self.any_word().filter(|(m, _)| wanted.contains(m))
    }

    /// Past these capitals exactly, if no letter or digit runs on.
    pub(super) fn literal(self, wanted: &str) -> Option<Self> {
        let mut c = self;
        for w in wanted.chars() {
            c = c.eat(w)?;
        }
        (!c.peek().is_some_and(|c| c.is_ascii_alphanumeric())).then_some(c)
    }

    /// Whether a letter or digit neither runs into this place nor out of it.
    pub(super) fn at_word_start(self) -> bool {
        !self.before().is_some_and(|c| c.is_ascii_alphanumeric())
    }

    /// Whether what was read may end here: no letter or digit runs on, except a known word or a count or depth
    /// sign (`X`).
    pub(super) fn at_word_end(self) -> bool {
        match self.peek() {
            Some(c) if c.is_ascii_digit() => false,
            Some('X') => !self.peek_at(1).is_some_and(|c| c.is_ascii_alphabetic()),
            Some(c) if c.is_alphabetic() && c.is_ascii() => {
                // `before` is a letter for M4TAP read to the letter only; words check that themselves.
                self.any_word().is_some()
            }
            _ => true,
        }
    }

    /// The text from here to `end`.
    pub(super) fn text_to(self, end: Cursor<'_>) -> String {
        self.glyphs[self.at..end.at.max(self.at)].iter().map(|g| g.ch).collect()
    }

    /// The text from here to `end` with its own small letters.
    pub(super) fn cased_to(self, end: Cursor<'_>) -> String {
        let glyphs = &self.glyphs[self.at..end.at.max(self.at)];
        glyphs.iter().map(|g| if g.small { g.ch.to_ascii_lowercase() } else { g.ch }).collect()
    }
}
