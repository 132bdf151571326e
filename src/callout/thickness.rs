//! The metal's thickness, in a hole callout or in a note.

use super::Quantity;
use super::cursor::{Cursor, Read};
use super::meaning::Meaning;
use super::number::quantity;

/// `t=2`, `t2`, `s=2`, `THK 1.5`, `1.5 THK`.
pub(super) fn thickness(c: Cursor<'_>) -> Read<'_, Quantity> {
    if let Some(after) = c.word(Meaning::Thickness) {
        let next = after.spaces();
        let next = next.eat_any(&['=', ':', '-']).map_or(next, |(_, c)| c.spaces());
        return quantity(next).filter(|(_, c)| c.at_word_end());
    }
    if c.at_word_start() && c.peek() == Some('T') {
        let after = c.next().spaces();
        if let Some((_, value)) = after.eat_any(&['=', ':']) {
            return quantity(value.spaces()).filter(|(_, c)| c.at_word_end());
        }
        let (value, end) = quantity(c.next())?;
        // A capital T with a whole number may name a view or a part.
        return ((c.small() || value.decimals > 0) && end.at_word_end()).then_some((value, end));
    }
    if c.at_word_start() && c.peek() == Some('S') && c.small() {
        // German `Stärke`, Italian `spessore`: only the small letter with its sign of equality.
        let value = c.next().spaces().eat('=')?.spaces();
        return quantity(value).filter(|(_, c)| c.at_word_end());
    }
    let (value, after) = quantity(c)?;
    // `1.6T`, as sheet-metal shops write it; a whole number of T may be a weight.
    let letter = after.literal("T").filter(|_| value.decimals > 0 && value.unit.is_none());
    if let Some(end) = letter.filter(|c| c.peek() != Some('-')) {
        return Some((value, end));
    }
    Some((value, after.spaces().maybe('-').word(Meaning::Thickness)?))
}

#[cfg(test)]
mod tests {
    use super::super::testing::parse;
    use super::*;

    #[test]
    fn forms_of_thickness() {
        let of = |text| parse(text, |c| thickness(c).map(|t| t.0.value));
        for text in [
            "THK 2",
            "2 THK",
            "t=2",
            "t2",
            "t = 2 mm",
            "EP 2",
            "ép. 2",
            "SPESSORE 2",
            "ESPESOR 2",
            "板厚2",
            "T=2",
            "s=2",
            "s = 2 mm",
        ] {
            assert_eq!(of(text), Some(2.0), "{text}");
        }
        assert_eq!(of(".060 THK"), Some(0.06));
        assert_eq!(of("t = 1,5 mm"), Some(1.5));
        assert_eq!(of("T2"), None, "a view or a part");
        assert_eq!(of("S=2"), None, "a series or a side");
    }
}
