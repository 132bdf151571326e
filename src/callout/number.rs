//! Numbers as drawings write them: decimals with point or comma, fractions, mixed fractions, and their units.

use super::Quantity;
use super::cursor::{Cursor, Read};
use super::meaning::Meaning;
use crate::units::Unit;

/// A hole on a drawing is smaller than this, in any unit.
const TOO_LARGE: f64 = 1e6;

/// A length above zero, with the unit if one is written.
pub(super) fn quantity(c: Cursor<'_>) -> Read<'_, Quantity> {
    magnitude(c).filter(|(q, _)| q.value > 0.0)
}

/// A length of zero or more, with the unit if one is written. Tolerances may be zero.
pub(super) fn magnitude(c: Cursor<'_>) -> Read<'_, Quantity> {
    let (mut quantity, after) = mixed(c).or_else(|| fraction(c)).or_else(|| decimal(c))?;
    if !quantity.value.is_finite() || quantity.value >= TOO_LARGE {
        return None;
    }
    let Some((unit, end)) = unit(after) else { return Some((quantity, after)) };
    quantity.unit = Some(unit);
    Some((quantity, end))
}

/// `3.65`, `.224`, `3,65`, `12`. A second point or comma with digits makes it a date or a version, no number.
pub(super) fn decimal(c: Cursor<'_>) -> Read<'_, Quantity> {
    let is_digit = |c: char| c.is_ascii_digit();
    // Tried at every place of a text, most of which are no number.
    c.peek().filter(|&first| is_digit(first) || matches!(first, '.' | ','))?;
    let whole = c.while_is(is_digit);
    let digits_follow = |c: Cursor<'_>| c.peek_at(1).is_some_and(is_digit);
    let end = match whole.eat_any(&['.', ',']) {
        Some((_, after)) if digits_follow(whole) => after.while_is(is_digit),
        // `12.` is written for a whole number of inches.
        Some(('.', after)) if whole.at > c.at && after.peek().is_none_or(|c| c == ' ' || c == '\n') => after,
        _ => whole,
    };
    if whole.at == c.at && end.at <= whole.at + 1 {
        return None;
    }
    if end.at > whole.at + 1 && end.eat_any(&['.', ',']).is_some() && digits_follow(end) {
        return None;
    }
    let text = c.text_to(end).replace(',', ".");
    let decimals = u8::try_from(end.at.saturating_sub(whole.at + 1)).ok()?;
    let value = text.trim_end_matches('.').parse().ok()?;
    Some((Quantity { value, unit: None, decimals }, end))
}

/// A whole number.
pub(super) fn integer(c: Cursor<'_>) -> Read<'_, u32> {
    let mut end = c;
    let mut value: u32 = 0;
    while let Some(digit) = end.peek().filter(char::is_ascii_digit).and_then(|d| d.to_digit(10)) {
        value = value.checked_mul(10)?.checked_add(digit)?;
        end = end.next();
    }
    (end.at > c.at).then_some((value, end))
}

/// `7/32`: inch fractions have a power of two up to 128 below the line.
pub(super) fn fraction(c: Cursor<'_>) -> Read<'_, Quantity> {
    let (above, c) = integer(c)?;
    let (below, c) = integer(c.eat('/')?)?;
    let runs_on = c.peek().is_some_and(|n| n.is_ascii_digit() || n == '/')
        || (matches!(c.peek(), Some('.' | ',')) && c.peek_at(1).is_some_and(|n| n.is_ascii_digit()));
    if !below.is_power_of_two() || !(2..=128).contains(&below) || above == 0 || above >= below || runs_on {
        return None;
    }
    Some((inches(f64::from(above) / f64::from(below)), c))
}

/// `1 1/2`, `1-1/2`.
pub(super) fn mixed(c: Cursor<'_>) -> Read<'_, Quantity> {
    let (whole, c) = integer(c)?;
    let (_, c) = c.eat_any(&[' ', '-'])?;
    let (part, c) = fraction(c)?;
    Some((inches(f64::from(whole) + part.value), c))
}

fn inches(value: f64) -> Quantity {
    Quantity { value, unit: Some(Unit::Inch), decimals: 0 }
}

/// `"`, `''`, `IN`, `mm`, after at most one blank.
pub(super) fn unit(c: Cursor<'_>) -> Read<'_, Unit> {
    if let Some(after) = c.eat('"') {
        return Some((Unit::Inch, after));
    }
    if let Some(after) = c.eat('\'').and_then(|c| c.eat('\'')) {
        return Some((Unit::Inch, after));
    }
    let word = c.maybe(' ');
    if word.peek() == Some('M') && word.literal("MM").is_none() && word.literal("MILLIMETER").is_none() {
        return None;
    }
    match word.word_of(&[Meaning::Inch, Meaning::Millimetre])? {
        (Meaning::Millimetre, after) => Some((Unit::Mm, after)),
        // The IN of `4 IN LINE` is no unit: a word that is not known follows it.
        (_, after) => {
            let next = after.spaces();
            let plain = !next.peek().is_some_and(char::is_alphabetic) || next.any_word().is_some();
            plain.then_some((Unit::Inch, after))
        }
    }
}

/// `82°`, `82 DEG`.
pub(super) fn degrees(c: Cursor<'_>) -> Read<'_, f64> {
    let (number, after) = decimal(c)?;
    let next = after.spaces();
    let end = next.eat('°').or_else(|| next.word(Meaning::Degrees))?;
    (number.value > 0.0 && number.value < 360.0).then_some((number.value, end))
}

#[cfg(test)]
mod tests {
    use super::super::testing::parse;
    use super::*;

    fn values(text: &str) -> Option<(f64, Option<Unit>, u8, usize)> {
        parse(text, |c| quantity(c).map(|(q, c)| (q.value, q.unit, q.decimals, c.at)))
    }

    #[test]
    fn decimals_are_counted_as_written() {
        assert_eq!(values("3.65"), Some((3.65, None, 2, 4)));
        assert_eq!(values("3,650 "), Some((3.65, None, 3, 5)));
        assert_eq!(values(".224"), Some((0.224, None, 3, 4)));
        assert_eq!(values("12"), Some((12.0, None, 0, 2)));
    }

    #[test]
    fn fractions_are_inches() {
        // 7/32 = 0.21875 and 1 1/2 = 1.5, by hand.
        assert_eq!(values("7/32"), Some((0.21875, Some(Unit::Inch), 0, 4)));
        assert_eq!(values("1 1/2"), Some((1.5, Some(Unit::Inch), 0, 5)));
        assert_eq!(values("1-1/2\""), Some((1.5, Some(Unit::Inch), 0, 6)));
        assert_eq!(values("½"), Some((0.5, Some(Unit::Inch), 0, 3)));
        assert_eq!(values("7/33"), Some((7.0, None, 0, 1)), "no inch fraction has 33 below");
    }

    #[test]
    fn units_follow() {
        assert_eq!(values("0.224\""), Some((0.224, Some(Unit::Inch), 3, 6)));
        assert_eq!(values("3.65mm"), Some((3.65, Some(Unit::Mm), 2, 6)));
        assert_eq!(values(".5 IN."), Some((0.5, Some(Unit::Inch), 1, 6)));
        assert_eq!(values("4 IN LINE"), Some((4.0, None, 0, 1)));
    }

    #[test]
    fn dates_and_empty_things_are_no_numbers() {
        assert_eq!(values("12.05.2004"), None);
        assert_eq!(values("."), None);
        assert_eq!(values("0"), None);
        assert_eq!(values("1e9"), Some((1.0, None, 0, 1)));
        assert_eq!(values("99999999"), None);
    }

    #[test]
    fn angles() {
        assert_eq!(parse("82°", |c| degrees(c).map(|d| d.0)), Some(82.0));
        assert_eq!(parse("90 DEG.", |c| degrees(c).map(|d| d.0)), Some(90.0));
        assert_eq!(parse("90", |c| degrees(c).map(|d| d.0)), None);
    }
}
