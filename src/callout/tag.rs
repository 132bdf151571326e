//! Tags that tie a callout to its circles: `A`, `A1`, `HOLE A`, `(A)`, `A: Ø5`.

use super::cursor::{Cursor, Read};
use super::meaning::Meaning;

/// A tag where one may stand.
pub(super) fn tag(c: Cursor<'_>) -> Read<'_, String> {
    hole_tag(c).or_else(|| leading_tag(c)).or_else(|| whole_tag(c))
}

/// One or two letters and up to two digits: `A`, `A1`, `AB12`.
fn name(c: Cursor<'_>) -> Read<'_, String> {
    let letters = c.while_is(|c| c.is_ascii_alphabetic());
    let digits = letters.while_is(|c| c.is_ascii_digit());
    let shape = (1..=2).contains(&(letters.at - c.at)) && digits.at - letters.at <= 2;
    let ends =
        !digits.peek().is_some_and(|c| c.is_alphanumeric() || matches!(c, '.' | '\'' | '_' | '/' | '"'));
    (shape && ends && c.at_word_start()).then(|| (c.cased_to(digits), digits))
}

/// `HOLE A`, `HOLES A1`.
fn hole_tag(c: Cursor<'_>) -> Read<'_, String> {
    let (_, after) = c.word_of(&[Meaning::Hole]).filter(|(_, c)| c.peek() == Some(' '))?;
    let inner = after.spaces();
    let inner = inner.eat_any(&['"', '\'']).map_or(inner, |(_, c)| c);
    // `HOLE DP`, `HOLE EQ SP`: a known word is no tag; a lone A is.
    if inner.any_word().is_some() && inner.peek_at(1).is_some_and(|c| c.is_alphabetic()) {
        return None;
    }
    let (tag, end) = name(inner)?;
    Some((tag, end.eat_any(&['"', '\'']).map_or(end, |(_, c)| c)))
}

/// `A: Ø5`, `A = Ø5`, `A) Ø5` at the start of the text.
fn leading_tag(c: Cursor<'_>) -> Read<'_, String> {
    if c.at != 0 {
        return None;
    }
    let (tag, end) = name(c)?;
    let (_, after) = end.spaces().eat_any(&[':', '=', ')'])?;
    // `D=5.5` and `T=2` are sizes, `M 1:2` a scale.
    let size = after.spaces().peek().is_some_and(|c| c.is_ascii_digit() || c == '.');
    let other =
        size && matches!(tag.to_ascii_uppercase().as_str(), "D" | "T" | "M" | "R" | "X" | "Y" | "Z" | "SC");
    (!other && !after.at_end()).then_some((tag, after))
}

/// `A`, `A1`, `(A)` as the whole text.
fn whole_tag(c: Cursor<'_>) -> Read<'_, String> {
    if c.moved_to(0).blanks().at != c.at {
        return None;
    }
    let (inner, close) = match c.eat_any(&['(', '[']) {
        Some(('(', inner)) => (inner, Some(')')),
        Some((_, inner)) => (inner, Some(']')),
        None => (c, None),
    };
    let (tag, end) = name(inner)?;
    let end = match close {
        Some(close) => end.eat(close)?,
        None => end,
    };
    end.blanks().at_end().then_some((tag, end))
}

#[cfg(test)]
mod tests {
    use super::super::testing::parse;
    use super::*;

    #[test]
    fn tags() {
        let of = |text| parse(text, |c| tag(c).map(|t| t.0));
        assert_eq!(of("A").as_deref(), Some("A"));
        assert_eq!(of("A1").as_deref(), Some("A1"));
        assert_eq!(of("(A)").as_deref(), Some("A"));
        assert_eq!(of("HOLE A").as_deref(), Some("A"));
        assert_eq!(of("A: 4X Ø5").as_deref(), Some("A"));
        for text in ["ABC", "D100", "A.1", "HOLE DP", "HOLE EQ SP", "A B", "T=2", "M 1:2"] {
            assert_eq!(of(text), None, "{text}");
        }
    }
}
