//! Named values, as a dimension that drives a drawing shows them: `dia1=38.5000`, `rad2=3.0`, `d1=5`. The digits
//! belong to the name and are never a size; a value that is a formula is not worked out.

use super::cursor::{Cursor, Read};
use super::meaning::Meaning;
use super::number::quantity;
use super::size::Sized;
use super::words::is_latin;
use super::{Quantity, Size};

/// What a name and its value say.
#[derive(Debug, Clone, PartialEq)]
pub(super) enum Named {
    /// `dia1=38.5`, `rad1=3`.
    Size(Sized),
    /// `d1=5`: a length, by its name no diameter.
    Length(Quantity),
    /// A name alone (`dia1`) or a formula (`dia1=d2*2`).
    Unknown,
}

/// What the name stands for.
#[derive(Debug, Clone, Copy, PartialEq)]
enum Name {
    Diameter,
    Radius,
    Length,
}

/// A name with its number, and the value after an equals sign.
pub(super) fn named(c: Cursor<'_>) -> Read<'_, Named> {
    if c.before().is_some_and(|b| b.is_alphanumeric() || matches!(b, '_' | '.' | '*')) {
        return None;
    }
    let (name, after_name) = name(c)?;
    let Some(equals) = after_name.spaces().eat('=') else {
        // `DIA5` in a callout is a diameter; `dia1` as the whole text is the name of a dimension.
        let alone = c.at == 0 && after_name.blanks().at_end() && c.small() && name != Name::Length;
        return alone.then_some((Named::Unknown, after_name));
    };
    let start = equals.spaces();
    let start = start.while_is(|c| c == 'Ø');
    let value = quantity(start).filter(|(_, end)| ends_value(*end));
    let Some((value, end)) = value else { return Some((Named::Unknown, formula_end(start))) };
    let sized = |size, marked| Named::Size(Sized { size, marked });
    let read = match name {
        Name::Diameter => sized(Size::Diameter(value), true),
        Name::Radius => sized(Size::Radius(value), false),
        Name::Length => Named::Length(value),
    };
    Some((read, end))
}

/// `dia1`, `diameter_1`, `rad2`, `d1`: letters of a known meaning and a whole number.
fn name(c: Cursor<'_>) -> Read<'_, Name> {
    let letters = c.while_is(is_latin);
    let name = match c.any_word() {
        Some((Meaning::Diameter, end)) if end.at == letters.at => Name::Diameter,
        Some((Meaning::Radius, end)) if end.at == letters.at => Name::Radius,
        _ => match c.text_to(letters).as_str() {
            "R" => Name::Radius,
            "D" => Name::Length,
            _ => return None,
        },
    };
    let digits = letters.maybe('_');
    let end = digits.while_is(|c| c.is_ascii_digit());
    (end.at > digits.at).then_some((name, end))
}

/// Whether the value is over: no arithmetic and no other name runs on.
fn ends_value(c: Cursor<'_>) -> bool {
    let next = c.spaces();
    let arithmetic =
        matches!(next.peek(), Some('*' | '/' | '^')) || (next.at == c.at && c.peek() == Some('-'));
    let times =
        next.peek() == Some('X') && next.next().spaces().peek().is_some_and(|c| c.is_ascii_alphanumeric());
    let plus =
        next.peek() == Some('+') && next.peek_at(1) != Some('/') && next.next().spaces().at > next.next().at;
    !arithmetic && !times && !plus && c.at_word_end()
}

/// A formula goes on to the end of its line.
fn formula_end(c: Cursor<'_>) -> Cursor<'_> {
    c.while_is(|c| c != '\n')
}

#[cfg(test)]
mod tests {
    use super::super::testing::parse;
    use super::*;

    fn of(text: &str) -> Option<Named> {
        parse(text, |c| named(c).map(|n| n.0))
    }

    fn value_of(text: &str) -> Option<f64> {
        match of(text)? {
            Named::Size(Sized { size: Size::Diameter(q) | Size::Radius(q), .. }) | Named::Length(q) => {
                Some(q.value)
            }
            _ => None,
        }
    }

    #[test]
    fn the_value_is_read_and_never_the_number_of_the_name() {
        assert_eq!(value_of("dia1=38.5000"), Some(38.5));
        assert_eq!(value_of("dia1 = 38,5"), Some(38.5));
        assert_eq!(value_of("rad2=3.0"), Some(3.0));
        assert_eq!(value_of("d1=5"), Some(5.0));
        assert_eq!(value_of("d_1=5"), Some(5.0));
        assert_eq!(value_of("dia1=Ø38.5"), Some(38.5));
    }

    #[test]
    fn names_alone_and_formulas_have_no_value() {
        for text in ["dia1", "rad1", "dia1=d1*2", "dia1=38.5/2", "dia1=38.5*2", "dia1=38.5 + 1", "dia1="] {
            assert_eq!(of(text), Some(Named::Unknown), "{text}");
        }
    }

    #[test]
    fn what_is_no_name() {
        for text in ["DIA5", "DIA 5", "D=5", "D5.5", "DIA=5", "R5", "t2=1.5", "A1=Ø5", "M4"] {
            assert_eq!(of(text), None, "{text}");
        }
    }
}
