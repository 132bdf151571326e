//! A text as a row of glyphs: capitals, ASCII digits, one form of each sign, every glyph with the bytes it stands
//! for. Knows the signs that drawings write in many ways; knows no words and no grammar.

use std::ops::Range;

use super::meaning::Meaning;

/// One character after normalising, and where it came from.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Glyph {
    /// Normalised: capital, accents off, signs unified.
    pub(super) ch: char,
    /// Whether the text had a small letter here. Case tells a shaft's `h7` from a hole's `H7`.
    pub(super) small: bool,
    /// First byte of the source.
    pub(super) start: usize,
    /// The longest known word that begins here, and its glyphs. None until the words have looked.
    pub(super) word: Option<(Meaning, u32)>,
}

impl Glyph {
    const fn new(ch: char, small: bool, start: usize) -> Glyph {
        Glyph { ch, small, start, word: None }
    }
}

/// The normalised text.
#[derive(Debug, Clone, PartialEq, Default)]
pub(super) struct Glyphs {
    glyphs: Vec<Glyph>,
    /// Bytes of the source.
    len: usize,
}

impl Glyphs {
    /// Normalises `text`.
    pub(super) fn of(text: &str) -> Glyphs {
        let mut out = Glyphs { glyphs: Vec::with_capacity(text.len()), len: text.len() };
        let mut at = 0;
        // Source bytes that show nothing (underline codes) go with the glyph after them.
        let mut pending = 0;
        while at < text.len() {
            let (used, what) = step(&text[at..]);
            match what {
                Step::Nothing => {}
                Step::Char(c) => {
                    out.push(c, pending);
                    pending = at + used;
                }
            }
            at += used;
        }
        out
    }

    /// All glyphs.
    pub(super) fn as_slice(&self) -> &[Glyph] {
        &self.glyphs
    }

    /// All glyphs, to say which words begin at them.
    pub(super) fn as_mut_slice(&mut self) -> &mut [Glyph] {
        &mut self.glyphs
    }

    /// Source bytes of a range of glyphs. Neighbouring ranges meet without a gap, and the ends reach the ends of
    /// the text; glyphs that came from one source character (`½`) give an empty range to all but the last.
    pub(super) fn bytes(&self, range: Range<usize>) -> Range<usize> {
        self.boundary(range.start)..self.boundary(range.end)
    }

    fn boundary(&self, index: usize) -> usize {
        match self.glyphs.get(index) {
            _ if index == 0 => 0,
            Some(glyph) => glyph.start,
            None => self.len,
        }
    }

    fn push(&mut self, c: char, start: usize) {
        if let Some((whole, part)) = vulgar_fraction(c) {
            if self.glyphs.last().is_some_and(|g| g.ch.is_ascii_digit()) {
                self.glyphs.push(Glyph::new(' ', false, start));
            }
            for ch in [whole, '/', part] {
                self.glyphs.push(Glyph::new(ch, false, start));
            }
            return;
        }
        let folded = fold(c);
        if folded == '\u{0}' {
            for ch in c.to_uppercase() {
                self.glyphs.push(Glyph::new(ch, c.is_lowercase(), start));
            }
        } else {
            for ch in expand(folded) {
                self.glyphs.push(Glyph::new(ch, c.is_lowercase(), start));
            }
        }
    }
}

/// What the next source bytes stand for.
enum Step {
    Nothing,
    Char(char),
}

/// The next character and the bytes it takes; control codes that a reader left in the text are one character.
fn step(rest: &str) -> (usize, Step) {
    if let Some(found) = percent_code(rest) {
        return found;
    }
    if let Some(found) = unicode_escape(rest) {
        return found;
    }
    if rest.starts_with("\\P") {
        return (2, Step::Char('\n'));
    }
    if rest.starts_with("└┘") || rest.starts_with("|_|") {
        return (if rest.starts_with('|') { 3 } else { 6 }, Step::Char('⌴'));
    }
    match rest.chars().next() {
        // Zero-width marks and soft hyphens show nothing.
        Some(c @ ('\u{200b}'..='\u{200f}' | '\u{feff}' | '\u{ad}' | '\u{0300}'..='\u{036f}')) => {
            (c.len_utf8(), Step::Nothing)
        }
        Some(c) => (c.len_utf8(), Step::Char(c)),
        None => (rest.len().max(1), Step::Nothing),
    }
}

/// `%%c`, `%%d`, `%%p`, `%%nnn`, and the codes that only switch a line style.
fn percent_code(rest: &str) -> Option<(usize, Step)> {
    let code = rest.strip_prefix("%%")?;
    let first = code.chars().next()?;
    let found = match first.to_ascii_lowercase() {
        'c' => (3, Step::Char('Ø')),
        'd' => (3, Step::Char('°')),
        'p' => (3, Step::Char('±')),
        'o' | 'u' | 'k' => (3, Step::Nothing),
        '%' => (3, Step::Char('%')),
        '0'..='9' => {
            let number: u32 = code.get(..3)?.parse().ok()?;
            let c = match number {
                127 => '°',
                128 => '±',
                129 => 'Ø',
                _ => char::from_u32(number)?,
            };
            (5, Step::Char(c))
        }
        _ => return None,
    };
    Some(found)
}

/// `\U+2205`: exactly four hexadecimal digits, so `\U+220519` is Ø19.
fn unicode_escape(rest: &str) -> Option<(usize, Step)> {
    let code = rest.strip_prefix("\\U+").or_else(|| rest.strip_prefix("\\u+"))?;
    let digits = code.get(..4)?;
    if !digits.bytes().all(|b| b.is_ascii_hexdigit()) {
        return None;
    }
    let c = char::from_u32(u32::from_str_radix(digits, 16).ok()?)?;
    Some((7, Step::Char(c)))
}

fn vulgar_fraction(c: char) -> Option<(char, char)> {
    Some(match c {
        '½' => ('1', '2'),
        '¼' => ('1', '4'),
        '¾' => ('3', '4'),
        '⅛' => ('1', '8'),
        '⅜' => ('3', '8'),
        '⅝' => ('5', '8'),
        '⅞' => ('7', '8'),
        _ => return None,
    })
}

/// One form for signs that look alike; `\0` where the character is no such sign.
fn fold(c: char) -> char {
    match c {
        'Ø' | '∅' | '⌀' | 'ø' | 'φ' | 'Φ' | 'ϕ' | 'Ф' | 'ф' | '⍉' | '⦰' => 'Ø',
        '×' | '✕' | '✖' | '⨯' | '*' | 'х' | 'Х' | '╳' => 'X',
        'М' => 'M',
        '\u{2010}'..='\u{2015}' | '−' | '－' | '﹣' => '-',
        '“' | '”' | '„' | '‟' | '″' | '〃' | '＂' => '"',
        '‘' | '’' | '‛' | '´' | '`' | '′' | '＇' => '\'',
        'º' | '˚' => '°',
        '⁄' | '∕' | '╱' => '/',
        '∓' => '±',
        '⌴' | '凵' | '⊔' | '⨆' => '⌴',
        '⌵' | '∨' | '﹀' => '⌵',
        '↧' | '↓' | '⤓' | '↡' | '▼' | '￬' => '↧',
        '\n' | '\u{85}' | '\u{2028}' | '\u{2029}' => '\n',
        '，' | '、' => ',',
        '。' => '.',
        '【' | '〔' => '[',
        '】' | '〕' => ']',
        '\u{ff01}'..='\u{ff5e}' => full_width(c),
        c if c.is_whitespace() || c.is_control() => ' ',
        c if c.is_ascii() => c.to_ascii_uppercase(),
        _ => without_accent(c).unwrap_or('\u{0}'),
    }
}

/// Full-width forms of ASCII stand 0xFEE0 above it.
fn full_width(c: char) -> char {
    char::from_u32(c as u32 - 0xfee0).map_or(c, |c| c.to_ascii_uppercase())
}

/// Capital of a Latin letter without its accent; `ß` stands for itself until [`expand`].
fn without_accent(c: char) -> Option<char> {
    Some(match c {
        'À'..='Å' | 'à'..='å' | 'Ā'..='ą' => 'A',
        'Ç' | 'ç' | 'Ć'..='č' => 'C',
        'È'..='Ë' | 'è'..='ë' | 'Ē'..='ě' => 'E',
        'Ì'..='Ï' | 'ì'..='ï' => 'I',
        'Ñ' | 'ñ' | 'Ń'..='ň' => 'N',
        'Ò'..='Ö' | 'ò'..='ö' => 'O',
        'Ù'..='Ü' | 'ù'..='ü' => 'U',
        'Ý' | 'ý' | 'ÿ' => 'Y',
        'Ś'..='š' => 'S',
        'Ź'..='ž' => 'Z',
        'ß' | 'ẞ' => 'ß',
        _ => return None,
    })
}

fn expand(c: char) -> impl Iterator<Item = char> {
    let (first, second) = if c == 'ß' { ('S', Some('S')) } else { (c, None) };
    std::iter::once(first).chain(second)
}

/// The normalised text alone, for words of data files.
pub(super) fn normalise(text: &str) -> String {
    // A letter, digit or blank of ASCII stands for itself, whatever stands beside it.
    if text.bytes().all(|b| b.is_ascii_alphanumeric() || matches!(b, b' ' | b'-' | b'.')) {
        return text.to_ascii_uppercase();
    }
    Glyphs::of(text).glyphs.iter().map(|g| g.ch).collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn diameter_signs_are_one_sign() {
        // The signs and codes that drawings use, each before 5.
        for sign in ["Ø", "∅", "⌀", "ø", "φ", "Φ", "%%c", "%%C", "%%129", "\\U+2205", "\\U+00d8", "\\U+00F8"]
        {
            assert_eq!(normalise(&format!("{sign}5")), "Ø5", "{sign}");
        }
    }

    #[test]
    fn an_escape_takes_exactly_four_digits() {
        assert_eq!(normalise("\\U+220519"), "Ø19");
        assert_eq!(normalise("\\U+22052.3794"), "Ø2.3794");
        assert_eq!(normalise("%%1292.0000"), "Ø2.0000");
    }

    #[test]
    fn accents_and_case_go() {
        assert_eq!(normalise("Épaisseur Maße 1½″ ４×"), "EPAISSEUR MASSE 1 1/2\" 4X");
    }

    #[test]
    fn bytes_meet_without_gaps() {
        let text = "%%u½ Maße é";
        let glyphs = Glyphs::of(text);
        let mut end = 0;
        for i in 0..glyphs.as_slice().len() {
            let range = glyphs.bytes(i..i + 1);
            assert_eq!(range.start, end);
            end = range.end;
        }
        assert_eq!(end, text.len());
    }
}
