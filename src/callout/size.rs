//! How large a hole is: diameter, radius, limits of size, drills by name.

use super::cursor::{Cursor, Read};
use super::meaning::Meaning;
use super::number::{magnitude, quantity};
use super::{Quantity, Size, lookup};

/// Limits of one hole lie closer together than this ratio; what is wider apart are two sizes.
const LIMITS_RATIO: f64 = 1.3;

/// A size and whether it is marked as a diameter.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Sized {
    pub(super) size: Size,
    pub(super) marked: bool,
}

/// `Ø`, also doubled; `DIA`, `D=` before a number. A letter before the sign (`SØ`) makes it another sign.
pub(super) fn diameter_sign(c: Cursor<'_>) -> Option<Cursor<'_>> {
    let other_sign = c.before().is_some_and(|b| b.is_ascii_alphabetic() && b != 'X');
    let signs = c.while_is(|c| c == 'Ø');
    if signs.at > c.at && !other_sign {
        return Some(signs.spaces());
    }
    if let Some(after) = c.word(Meaning::Diameter) {
        return Some(after.spaces().maybe('=').maybe(':').spaces());
    }
    let letter = c.at_word_start().then(|| c.eat('D')).flatten()?;
    Some(letter.spaces().eat('=')?.spaces())
}

/// `DIA`, `D` after a number.
pub(super) fn diameter_word(c: Cursor<'_>) -> Option<Cursor<'_>> {
    let c = c.spaces();
    if let Some(after) = c.word(Meaning::Diameter).or_else(|| sign_before_fit(c)) {
        return Some(after);
    }
    let letter = c.eat('D')?;
    let ends =
        !letter.peek().is_some_and(|c| c.is_ascii_alphanumeric() || matches!(c, '\'' | '=' | '-' | '/'));
    ends.then(|| letter.maybe('.'))
}

/// `DIAM` in `DIAMH7`: the word runs into the fit.
pub(super) fn sign_before_fit(c: Cursor<'_>) -> Option<Cursor<'_>> {
    if !c.at_word_start() {
        return None;
    }
    let glued = |word: &str| {
        let end = word.chars().try_fold(c, Cursor::eat)?;
        super::tolerance::fit(end).map(|_| end)
    };
    glued("DIAM").or_else(|| glued("DIA"))
}

/// `Ø3.65`, `.224 DIA`, `DIA .224`, `3.65 D`.
pub(super) fn diameter(c: Cursor<'_>) -> Read<'_, Sized> {
    let marked = |q| Sized { size: Size::Diameter(q), marked: true };
    if let Some(after) = diameter_sign(c) {
        let after = after.eat('(').filter(|c| quantity(*c).is_none()).unwrap_or(after);
        let (number, end) = quantity(after)?;
        // `Ø83°`: an angle whose dimension carries the sign by its style.
        if end.peek() == Some('°') {
            return None;
        }
        return Some((marked(number), diameter_word(end).unwrap_or(end)));
    }
    let (number, after) = quantity(c)?;
    let end = diameter_word(after)?;
    let word = after.spaces();
    let letter = word.word(Meaning::Diameter).is_none() && sign_before_fit(word).is_none();
    (!letter || number.decimals > 0 || number.unit.is_some()).then_some((marked(number), end))
}

/// `D5.5`, `D 3.65`, `12 D`: a diameter only in company, because it may be a machine's name, or `3D`.
pub(super) fn letter_diameter(c: Cursor<'_>) -> Read<'_, Sized> {
    if let Some((number, end)) = quantity(c).and_then(|(number, c)| Some((number, diameter_word(c)?))) {
        return Some((Sized { size: Size::Diameter(number), marked: false }, end));
    }
    let before = c.before().is_none_or(|b| !b.is_ascii_alphanumeric() || b == 'X');
    let letter = c.eat('D').filter(|_| before)?;
    let (number, end) = quantity(letter).or_else(|| {
        // `D 3.65`: a whole number after a blank is a sheet's size or a machine's number more often than a diameter.
        quantity(letter.eat(' ')?.spaces()).filter(|(number, _)| number.decimals > 0)
    })?;
    end.at_word_end().then_some((Sized { size: Size::Diameter(number), marked: false }, end))
}

/// `R5`, `RR5`, `.25 R`, `.25 RAD`.
pub(super) fn radius(c: Cursor<'_>) -> Read<'_, Sized> {
    let sized = |q| Sized { size: Size::Radius(q), marked: false };
    let letters = c.while_is(|c| c == 'Ø').while_is(|c| c == 'R');
    let starts = c.before().is_none_or(|b| !b.is_ascii_alphanumeric() || b == 'X');
    if letters.before() == Some('R') && letters.at > c.at && starts {
        let (number, end) = quantity(letters.spaces())?;
        // R2004 is a release, no radius.
        let plausible = number.decimals > 0 || number.value < 1000.0;
        return (plausible && end.at_word_end()).then_some((sized(number), end));
    }
    if let Some(after) = c.word(Meaning::Radius) {
        let (number, end) = quantity(after.spaces())?;
        return Some((sized(number), end));
    }
    let (number, after) = quantity(c)?;
    let word = after.spaces();
    let end = word.word(Meaning::Radius).or_else(|| word.literal("R"))?;
    Some((sized(number), end))
}

/// `.227/.224`, `.224-.227`, one over the other, `.227 MAX .224 MIN`, each with or without a diameter sign.
pub(super) fn limits(c: Cursor<'_>) -> Read<'_, Sized> {
    let sign = diameter_sign(c);
    let (first, after) = quantity(sign.unwrap_or(c))?;
    let first_end = limit_word(after);
    let between = separator(first_end.unwrap_or(after), first_end.is_some())?;
    let second_sign = diameter_sign(between);
    let (second, after) = quantity(second_sign.unwrap_or(between))?;
    let end = limit_word(after).unwrap_or(after);
    if first.decimals == 0 || second.decimals == 0 || !end.at_word_end() || goes_on(end) {
        return None;
    }
    let (low, high) = if first.value <= second.value { (first, second) } else { (second, first) };
    if low.value == high.value || high.value > low.value * LIMITS_RATIO {
        return None;
    }
    let word = diameter_word(end);
    let (low, high) = (with_unit_of(low, high), with_unit_of(high, low));
    let marked = sign.is_some() || second_sign.is_some() || word.is_some();
    Some((Sized { size: Size::Limits(low, high), marked }, word.unwrap_or(end)))
}

fn limit_word(c: Cursor<'_>) -> Option<Cursor<'_>> {
    c.spaces().word_of(&[Meaning::Max, Meaning::Min]).map(|(_, c)| c)
}

/// What stands between two limits: a stroke, a hyphen or a line end; after `MAX` or `MIN` a blank is enough.
fn separator(c: Cursor<'_>, worded: bool) -> Option<Cursor<'_>> {
    let next = c.spaces();
    if let Some((_, after)) = next.eat_any(&['/', '-', '\n', '~']) {
        return Some(after.blanks());
    }
    worded.then(|| next.maybe(',').spaces())
}

/// A third number makes it a list, a date or a pair of deviations.
fn goes_on(c: Cursor<'_>) -> bool {
    let next = c.eat_any(&['/', '-']).map(|(_, c)| c.eat_any(&['+', '-']).map_or(c, |(_, c)| c));
    next.is_some_and(|c| c.peek().is_some_and(|c| c.is_ascii_digit() || c == '.'))
}

fn with_unit_of(quantity: Quantity, other: Quantity) -> Quantity {
    Quantity { unit: quantity.unit.or(other.unit), ..quantity }
}

/// `#2 DRILL`, `"B" DRILL`, `DRILL LETTER B`, `No. 29`, `29 (.136) DRILL`.
pub(super) fn drill_name(c: Cursor<'_>) -> Read<'_, Sized> {
    let ((name, worded), end) = numbered_drill(c).or_else(|| lettered_drill(c)).or_else(|| bare_drill(c))?;
    let diameter = lookup::drill(&name)?;
    let marked = worded || drill_word_near(c, end);
    Some((Sized { size: Size::Drill { name, diameter }, marked }, end))
}

/// `#29`, `NO. 29`, `N° 29`, `NUMBER 29`; not the `#8` of the thread `#8-32`.
fn numbered_drill(c: Cursor<'_>) -> Read<'_, (String, bool)> {
    let (after, worded) = match c.eat('#') {
        Some(after) => (after, false),
        // `NR.` counts parts, where drills have no numbers.
        None => (number_word(c).filter(|_| c.at_word_start() && c.literal("NR").is_none())?, false),
    };
    let (name, end) = drill_number(after.spaces())?;
    Some(((name, worded), end))
}

/// `NO.`, `N°`, `NR.`, `NUMBER`.
pub(super) fn number_word(c: Cursor<'_>) -> Option<Cursor<'_>> {
    for word in ["NUMBER", "NUM", "NO", "NR"] {
        if let Some(after) = c.literal(word) {
            return Some(after.maybe('.'));
        }
    }
    c.eat('N').and_then(|c| c.eat('°'))
}

fn drill_number(c: Cursor<'_>) -> Read<'_, String> {
    let (number, end) = super::number::integer(c)?;
    // `#8-32` is a thread, `#29 -0.1` a drill with a tolerance.
    let pitch = end.spaces().eat('-').and_then(|c| super::number::integer(c.spaces()));
    let thread = pitch.is_some_and(|(_, c)| !matches!(c.peek(), Some('.' | ',')));
    let decimal = matches!(end.peek(), Some('.' | '/')) && end.peek_at(1).is_some_and(|c| c.is_ascii_digit());
    let ok = (1..=97).contains(&number) && !thread && !decimal && end.at_word_end();
    ok.then(|| (format!("#{number}"), end))
}

/// `"B"`, `'B'`, `LETTER B`, `LTR B`, and `B` beside a drill word.
fn lettered_drill(c: Cursor<'_>) -> Read<'_, (String, bool)> {
    let letter = |c: Cursor<'_>| c.peek().filter(char::is_ascii_uppercase);
    if let Some((quote, after)) = c.eat_any(&['"', '\'']) {
        let name = letter(after)?;
        let end = after.next().eat(quote)?;
        return Some(((name.to_string(), false), end));
    }
    for word in ["LETTER", "LTR"] {
        if let Some(after) = c.literal(word) {
            let after = after.maybe('.').spaces();
            let after = after.eat_any(&['"', '\'']).map_or(after, |(_, c)| c);
            let name = letter(after)?;
            let end = after.next();
            let end = end.eat_any(&['"', '\'']).map_or(end, |(_, c)| c);
            return end.at_word_end().then(|| ((name.to_string(), true), end));
        }
    }
    let name = letter(c).filter(|_| begins_a_part(c))?;
    let end = c.next();
    let drilled = drill_word_after(end).is_some();
    drilled.then(|| ((name.to_string(), true), end))
}

/// Whether nothing stands before on the line, or what ends a part: `4X B DRILL`, but not `REV. B DRILL JIG`.
fn begins_a_part(c: Cursor<'_>) -> bool {
    let end = c.back(&[' ']);
    end.before().is_none_or(|b| matches!(b, '\n' | ',' | ';' | ')' | '/' | 'X' | '-')) || ends_a_count(end)
}

/// Whether a word that counts ends here, behind its number: `2 OFF`, `4 HOLES`.
fn ends_a_count(end: Cursor<'_>) -> bool {
    let mut start = end;
    while start.before().is_some_and(|b| b.is_alphabetic() || b == '.') && start.at > 0 {
        start = start.moved_to(start.at - 1);
    }
    let counts = start.word_of(&[Meaning::Place, Meaning::Hole]).is_some_and(|(_, to)| to.at == end.at);
    counts && start.back(&[' ']).before().is_some_and(|b| b.is_ascii_digit())
}

/// `29 (.136) DRILL`: a small whole number before its diameter and the drill word.
fn bare_drill(c: Cursor<'_>) -> Read<'_, (String, bool)> {
    if !c.at_word_start() || c.before() == Some('.') {
        return None;
    }
    let (name, end) = drill_number(c)?;
    let bracket = bracketed_decimal(end);
    drill_word_after(bracket.unwrap_or(end)).filter(|_| bracket.is_some())?;
    Some(((name, true), end))
}

fn bracketed_decimal(c: Cursor<'_>) -> Option<Cursor<'_>> {
    let (_, c) = c.spaces().eat_any(&['(', '['])?;
    let c = diameter_sign(c).unwrap_or(c);
    let (number, c) = magnitude(c.spaces())?;
    let (_, c) = c.spaces().eat_any(&[')', ']'])?;
    (number.decimals > 0).then_some(c)
}

fn drill_word_after(c: Cursor<'_>) -> Option<Cursor<'_>> {
    let c = c.while_is(|c| c == ' ' || c == '\n' || c == '-');
    c.word_of(&[Meaning::ProcessDrilled, Meaning::TapDrill, Meaning::ProcessReamed]).map(|(_, c)| c)
}

/// Whether a drill word stands right after (also past a bracket) or right before.
fn drill_word_near(start: Cursor<'_>, end: Cursor<'_>) -> bool {
    let past_bracket = bracketed_decimal(end).unwrap_or(end);
    if drill_word_after(end).is_some() || drill_word_after(past_bracket).is_some() {
        return true;
    }
    let word_end = start.back(&[' ', '\n', ':', '=']);
    let word = word_end.moved_to(word_end.at.saturating_sub("DRILLED".len())).text_to(word_end);
    word.ends_with("DRILL") || word.ends_with("DRILLED")
}

#[cfg(test)]
mod tests {
    use super::super::testing::parse;
    use super::*;

    fn diameter_of(text: &str) -> Option<f64> {
        parse(text, |c| diameter(c).map(|d| d.0)).and_then(|s| match s.size {
            Size::Diameter(q) => Some(q.value),
            _ => None,
        })
    }

    fn limits_of(text: &str) -> Option<(f64, f64, bool)> {
        parse(text, |c| limits(c).map(|d| d.0)).and_then(|s| match s.size {
            Size::Limits(a, b) => Some((a.value, b.value, s.marked)),
            _ => None,
        })
    }

    #[test]
    fn diameters_with_sign_word_and_letter() {
        for text in
            ["Ø3.65", "⌀ 3,65", "3.65 DIA", "3.65 DIA.", "3.65 D", "DIA 3.65", "ØØ3.65", "D=3.65", "%%c3.65"]
        {
            assert_eq!(diameter_of(text), Some(3.65), "{text}");
        }
        assert_eq!(diameter_of("3.65"), None);
        assert_eq!(diameter_of("3.65 D-100"), None);
    }

    #[test]
    fn radii() {
        let value = |text| {
            parse(text, |c| radius(c).map(|r| r.0)).and_then(|s| match s.size {
                Size::Radius(q) => Some(q.value),
                _ => None,
            })
        };
        assert_eq!(value("R5"), Some(5.0));
        assert_eq!(value("RR5"), Some(5.0));
        assert_eq!(value(".25 RAD"), Some(0.25));
        assert_eq!(value("R2004"), None);
        assert_eq!(value("5 RED"), None);
    }

    #[test]
    fn limits_in_either_order() {
        assert_eq!(limits_of(".227/.224"), Some((0.224, 0.227, false)));
        assert_eq!(limits_of("Ø.224-.227"), Some((0.224, 0.227, true)));
        assert_eq!(limits_of("Ø.227\n.224"), Some((0.224, 0.227, true)));
        assert_eq!(limits_of(".227 MAX .224 MIN DIA"), Some((0.224, 0.227, true)));
        assert_eq!(limits_of("3,70 - 3,65"), Some((3.65, 3.7, false)));
        assert_eq!(limits_of("Ø.25/.75"), None, "too far apart to be limits of one hole");
        assert_eq!(limits_of(".250-20"), None, "a thread");
    }
}
