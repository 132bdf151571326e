//! General tolerances: by decimal places, by a class of ISO 2768-1, or one for all linear sizes. Those of angles and
//! of fractions, and a bare `±0.1`, are no general tolerance of sizes.

use super::super::Quantity;
use super::super::cursor::{Cursor, Read};
use super::super::meaning::Meaning;
use super::super::number::{decimal, integer, quantity};
use super::super::tolerance::plus_minus_value;
use super::GeneralTolerance;
use super::pieces::{Piece, past_marks};

/// ISO 2768 and the standards with the same classes and values of linear sizes (EN 22768-1, GB/T 1804, JIS B 0405; as
/// recalled), each with what must stand before its number.
const EQUAL_STANDARDS: &[(u32, &[&str])] =
    &[(2768, &[]), (22_768, &["EN", "ISO"]), (1804, &["GB/T", "GB"]), (405, &["JIS B", "JISB"])];

/// The classes in words, longer ones first (ISO 2768-1: fine, medium, coarse, very coarse).
const CLASS_WORDS: &[(&str, char)] = &[
    ("VERY COARSE", 'v'),
    ("SEHR GROB", 'v'),
    ("TRES GROSSIERE", 'v'),
    ("MOLTO GROSSOLANA", 'v'),
    ("MUY BASTA", 'v'),
    ("MUY GRUESA", 'v'),
    ("COARSE", 'c'),
    ("GROB", 'c'),
    ("GROSSIERE", 'c'),
    ("GROSSOLANA", 'c'),
    ("BASTA", 'c'),
    ("GRUESA", 'c'),
    ("MEDIUM", 'm'),
    ("MITTEL", 'm'),
    ("MOYENNE", 'm'),
    ("MOYEN", 'm'),
    ("MEDIA", 'm'),
    ("MEDIO", 'm'),
    ("FINE", 'f'),
    ("FEIN", 'f'),
    ("FINA", 'f'),
    ("FIN", 'f'),
    ("最粗", 'v'),
    ("极粗", 'v'),
    ("極粗", 'v'),
    ("精密", 'f'),
    ("精级", 'f'),
    ("精級", 'f'),
    ("中等", 'm'),
    ("中级", 'm'),
    ("中級", 'm'),
    ("粗糙", 'c'),
    ("粗级", 'c'),
    ("粗級", 'c'),
];

/// All general tolerances of a text, in order.
pub(super) fn read(whole: Piece<'_>) -> Vec<GeneralTolerance> {
    let headed = whole.has(&[Meaning::Tolerance, Meaning::UnlessNoted, Meaning::Dimensions]);
    let mut all: Vec<GeneralTolerance> = Vec::new();
    let mut before = Before::Known;
    for c in whole.places() {
        let found = iso2768(c)
            .or_else(|| pattern(c, headed))
            .or_else(|| places_in_words(c))
            .or_else(|| flat(c).filter(|_| before == Before::Known));
        all.extend(found.filter(|t| !all.contains(t)));
        before = before.then(c);
    }
    all
}

/// What stood before a place in its clause.
#[derive(Debug, Clone, Copy, PartialEq)]
enum Before {
    /// Nothing, or known words that a general tolerance may follow.
    Known,
    /// A size, an angle or an unknown word: the tolerance is that one's.
    Other,
}

impl Before {
    fn then(self, c: Cursor<'_>) -> Before {
        match c.peek() {
            Some('\n' | ';' | ':' | ',') => Before::Known,
            Some(ch) if ch.is_alphanumeric() || ch == 'Ø' => self.then_word(c),
            _ => self,
        }
    }

    fn then_word(self, c: Cursor<'_>) -> Before {
        match c.any_word() {
            Some((
                Meaning::Angular
                | Meaning::Fractions
                | Meaning::Thickness
                | Meaning::Deep
                | Meaning::Radius
                | Meaning::PitchCircle,
                _,
            )) => return Before::Other,
            Some(_) => return self,
            None => {}
        }
        let number_of_note = || {
            let digits = c.while_is(|c| c.is_ascii_digit());
            let mark = digits.eat_any(&['.', ')']).filter(|_| digits.at > c.at);
            mark.is_some_and(|(_, c)| c.peek() == Some(' '))
        };
        if c.literal("ALL").is_some() || number_of_note() { self } else { Before::Other }
    }
}

/// `ISO 2768-m`, `DIN ISO 2768 mK`, `ISO 2768-1 - m`. The second letter is for form and position.
fn iso2768(c: Cursor<'_>) -> Option<GeneralTolerance> {
    let (number, after) = integer(c)?;
    if c.before().is_some_and(|b| b.is_ascii_digit()) {
        return None;
    }
    // `JIS B 0405`, `GB/T 1804` and `EN 22768`: their number alone may be any other.
    let names: &[&str] = EQUAL_STANDARDS.iter().find(|(n, _)| *n == number)?.1;
    let before = c.back(&[' ', '-']);
    let named = |name: &&str| before.moved_to(before.at.saturating_sub(name.len())).text_to(before) == **name;
    if !names.is_empty() && !names.iter().any(named) {
        return None;
    }
    let start = past_part(after);
    if let Some((_, class)) = CLASS_WORDS.iter().find(|(word, _)| says(start, word)) {
        return Some(GeneralTolerance::Iso2768(*class));
    }
    let (class, end) = start.eat_any(&['F', 'M', 'C', 'V'])?;
    let end = end.eat_any(&['H', 'K', 'L']).map_or(end, |(_, c)| c);
    let runs_on = end.peek().is_some_and(char::is_alphanumeric);
    (!runs_on).then(|| GeneralTolerance::Iso2768(class.to_ascii_lowercase()))
}

/// Whether this word (capitals, no accents) stands here.
fn says(c: Cursor<'_>, word: &str) -> bool {
    let end = word.chars().try_fold(c, Cursor::eat);
    end.is_some_and(|end| !end.peek().is_some_and(|c| c.is_ascii_alphabetic()))
}

/// Past `-1`, ` T1`, `-1:1989` and the marks round them.
fn past_part(c: Cursor<'_>) -> Cursor<'_> {
    let start = past_marks(c);
    let named = ["TEIL", "PART", "T"].iter().find_map(|word| {
        let after = word.chars().try_fold(start, Cursor::eat)?.spaces();
        after.peek().is_some_and(|c| c.is_ascii_digit()).then_some(after)
    });
    let is_digit = |c: char| c.is_ascii_digit();
    let part = past_marks(named.unwrap_or(start).while_is(is_digit));
    past_marks(part.while_is(is_digit))
}

/// `.XX ±.01`, `X.X = ±0.1`. Noughts in place of the letters need a word about tolerances in the same text.
fn pattern(c: Cursor<'_>, headed: bool) -> Option<GeneralTolerance> {
    if !c.at_word_start() || c.before() == Some('.') {
        return None;
    }
    // `X ±0.5` for sizes without decimals: at the start of its line, where the X is no count and no axis of a list.
    let starts = headed || matches!(c.before(), None | Some('\n'));
    if let Some(after) = c.eat('X').filter(|after| starts && after.peek() == Some(' '))
        && after.spaces().peek() == Some('±')
    {
        let (plus_minus, _) = linear(after.spaces())?;
        return Some(GeneralTolerance::Decimals { places: 0, plus_minus });
    }
    ['X', '0'].iter().filter(|sign| **sign == 'X' || headed).find_map(|&sign| {
        let whole = c.while_is(|c| c == sign || c == '0');
        let (_, point) = whole.eat_any(&['.', ','])?;
        let end = point.while_is(|c| c == sign);
        let places = u8::try_from(end.at - point.at).ok().filter(|p| *p <= 6)?;
        let bare_point = places == 0 && !headed;
        let runs_on = end.peek().is_some_and(char::is_alphanumeric);
        if bare_point || runs_on {
            return None;
        }
        let (plus_minus, _) = value_after(end).or_else(|| equals(end, headed))?;
        Some(GeneralTolerance::Decimals { places, plus_minus })
    })
}

/// The magnitude after marks and words such as `PLACE DECIMAL`, on the same line.
fn value_after(mut c: Cursor<'_>) -> Read<'_, Quantity> {
    loop {
        c = past_marks(c);
        let words = &[Meaning::PlaceDecimal, Meaning::Place, Meaning::Tolerance, Meaning::Join];
        match c.word_of(words) {
            Some((_, after)) => c = after,
            None => return linear(c),
        }
    }
}

/// `±.01`, but not `±1°` or `±1 DEG`.
fn linear(c: Cursor<'_>) -> Read<'_, Quantity> {
    let (value, end) = plus_minus_value(c)?;
    let angle = end.spaces().eat('°').is_some() || end.spaces().word(Meaning::Degrees).is_some();
    (!angle).then_some((value, end))
}

/// The value of a field for the tolerance: `±0.1`, `0.1`.
pub(super) fn bare(c: Cursor<'_>) -> Read<'_, Quantity> {
    linear(c).or_else(|| quantity(c))
}

/// `.XX = .01` under a heading of tolerances.
fn equals(c: Cursor<'_>, headed: bool) -> Read<'_, Quantity> {
    let value = c.spaces().eat('=').filter(|_| headed)?.spaces();
    let (value, end) = decimal(value)?;
    (value.value > 0.0 && value.decimals > 0 && end.spaces().eat('°').is_none()).then_some((value, end))
}

/// `2 PLACE DECIMAL ±.01`, `TWO PLACE ±.01`.
fn places_in_words(c: Cursor<'_>) -> Option<GeneralTolerance> {
    let (places, after) = number_of_places(c)?;
    let next = after.while_is(|c| c == ' ' || c == '-');
    // PLCS and PLACES count holes; only the singular counts decimals.
    let named = next
        .word(Meaning::PlaceDecimal)
        .or_else(|| ["PLACE", "PL", "PLC"].iter().find_map(|w| next.literal(w)))
        .or_else(|| ["DECIMAL", "DECIMALS"].iter().find_map(|w| next.literal(w)))?;
    let (plus_minus, _) = value_after(named)?;
    Some(GeneralTolerance::Decimals { places, plus_minus })
}

fn number_of_places(c: Cursor<'_>) -> Read<'_, u8> {
    if !c.at_word_start() {
        return None;
    }
    let words = [("ONE", 1), ("TWO", 2), ("THREE", 3), ("FOUR", 4)];
    if let Some(found) = words.iter().find_map(|(w, n)| Some((*n, c.literal(w)?))) {
        return Some(found);
    }
    let digit = c.peek()?.to_digit(10).filter(|d| (1..=6).contains(d))?;
    (!c.next().peek().is_some_and(|c| c.is_ascii_digit())).then_some((u8::try_from(digit).ok()?, c.next()))
}

/// `LINEAR ±0.1`, `GENERAL TOLERANCE ±0.1`, `UNLESS OTHERWISE SPECIFIED ±0.1`, also with the value on the next line.
fn flat(c: Cursor<'_>) -> Option<GeneralTolerance> {
    let (_, mut c) = c.word_of(&[Meaning::Tolerance, Meaning::UnlessNoted])?;
    loop {
        c = past_marks(c).while_is(|c| matches!(c, '\n' | ' ' | ':' | ','));
        let words = &[
            Meaning::Tolerance,
            Meaning::UnlessNoted,
            Meaning::Dimensions,
            Meaning::Join,
            Meaning::Inch,
            Meaning::Millimetre,
        ];
        match c.word_of(words) {
            Some((_, after)) => c = after,
            None => match c.literal("ALL") {
                Some(after) => c = after,
                None => break,
            },
        }
    }
    linear(c).map(|(value, _)| GeneralTolerance::Flat(value))
}

#[cfg(test)]
mod tests {
    use super::super::{GeneralTolerance, read};

    /// Places (none for a flat tolerance) and magnitude.
    fn of(text: &str) -> Vec<(Option<u8>, f64)> {
        let tolerances = read(text).tolerances;
        let pair = |t: &GeneralTolerance| match t {
            GeneralTolerance::Decimals { places, plus_minus } => (Some(*places), plus_minus.value),
            GeneralTolerance::Flat(q) => (None, q.value),
            GeneralTolerance::Iso2768(class) => panic!("{text}: class {class}"),
        };
        tolerances.iter().map(pair).collect()
    }

    // Title blocks by ASME Y14.5 practice: letters or words count the decimal places (common practice).
    #[test]
    fn by_decimal_places() {
        for text in [
            ".XX ±.01 .XXX ±.005",
            ".XX = ±.01\n.XXX = ±.005",
            "TOLERANCES: X.XX ±.01, X.XXX ±.005",
            "2 PLACE DECIMAL ±.01\n3 PLACE DECIMAL ±.005",
            "TWO PLACE ±.01 THREE PLACE ±.005 ANGLES ±1°",
            "UNLESS OTHERWISE SPECIFIED TOLERANCES ARE\nFRACTIONS ±1/64\n.xx +/-.01\n.xxx +/-.005",
            "TOLERANCES .XX = .01 .XXX = .005",
            "TOLERANCES 0.00 ±.01 0.000 ±.005",
        ] {
            assert_eq!(of(text), [(Some(2), 0.01), (Some(3), 0.005)], "{text}");
        }
        assert_eq!(of("X.X ±0.1"), [(Some(1), 0.1)]);
        assert_eq!(of(".X ±.1"), [(Some(1), 0.1)]);
    }

    // ISO 2768-1: f, m, c, v for linear sizes; H, K, L of ISO 2768-2 for form and position.
    #[test]
    fn classes() {
        for text in [
            "ISO 2768-m",
            "ISO 2768-mK",
            "DIN ISO 2768 m",
            "ISO2768-mH",
            "ISO 2768-1-m",
            "DIN ISO 2768 T1 m",
            "Allgemeintoleranzen ISO 2768 - mK",
            "ISO 2768-1:1989 m",
            "ISO 2768 mittel",
            "Allgemeintoleranzen nach DIN ISO 2768 - mittel",
            "ISO 2768-1 moyenne",
            "ISO 2768 - MEDIUM",
            "GB/T 1804-m",
            "未注公差按GB/T 1804-m",
            "JIS B 0405-m",
            "JIS B 0405 中級",
            "EN 22768-m",
        ] {
            assert_eq!(read(text).tolerances, [GeneralTolerance::Iso2768('m')], "{text}");
        }
        for text in ["ISO 2768", "ISO 2768-2 K", "ISO 2768 M4", "PART 12768 M", "PART 1804 M", "405 MEDIUM"] {
            assert_eq!(read(text).tolerances, [], "{text}");
        }
    }

    #[test]
    fn one_for_all() {
        for text in [
            "LINEAR ±0.1",
            "GENERAL TOLERANCE ±0.1",
            "UNLESS OTHERWISE SPECIFIED ±0.1",
            "TOLERANCES ±0.1 ANGLES ±1",
            "1. ALL TOLERANCES: ±0.1",
            "TOLERANCES UNLESS NOTED:\n±0.1",
            "Allgemeintoleranz ±0,1",
        ] {
            assert_eq!(of(text), [(None, 0.1)], "{text}");
        }
    }

    #[test]
    fn what_is_not_general() {
        for text in [
            "A ±0.1",
            "±0.1 mm",
            "ANGLES ±1°",
            "ANGULAR ±0.5°",
            "ANGULAR TOLERANCE ±1",
            "Ø3.6 TOL ±0.05",
            "POSITION TOLERANCE ±0.1",
            "THICKNESS TOLERANCE ±0.1",
            "4X Ø3.6 ±0.05",
            "2 PLACES ±.01",
            "FRACTIONS ±1/64",
            "0.000 ±0.005 A",
        ] {
            assert_eq!(of(text), [], "{text}");
        }
    }
}
