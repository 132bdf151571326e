//! Tolerances as written: symmetric, deviation pairs on one line or stacked, one-sided, and fits.

use super::cursor::{Cursor, Read};
use super::number::magnitude;
use super::{Quantity, WrittenTolerance};

/// Letters of hole fits (ISO 286-1) that are read after a size, longest first. `M`, `R` are left out where a
/// blank stands before them: `Ø5 M6` names a thread.
const FITS: &[&str] =
    &["JS", "ZA", "A", "B", "C", "D", "E", "F", "G", "H", "J", "K", "M", "N", "P", "R", "S"];

/// Any tolerance of a size.
pub(super) fn tolerance(c: Cursor<'_>) -> Read<'_, WrittenTolerance> {
    plus_minus(c).or_else(|| deviations(c))
}

/// `±.003`, `+/-.003`, `+-0.1`.
pub(super) fn plus_minus(c: Cursor<'_>) -> Read<'_, WrittenTolerance> {
    let (upper, end) = plus_minus_value(c)?;
    let lower = Quantity { value: -upper.value, ..upper };
    Some((WrittenTolerance::Deviations { upper, lower }, end))
}

/// The magnitude of `±.003`.
pub(super) fn plus_minus_value(c: Cursor<'_>) -> Read<'_, Quantity> {
    let sign = c.eat('±').or_else(|| {
        let after = c.eat('+')?;
        after.eat('/').unwrap_or(after).eat('-')
    })?;
    let (value, end) = magnitude(sign.spaces())?;
    (value.value > 0.0 && end.eat('°').is_none()).then_some((value, end))
}

/// `+.003/-.000`, `+.003 -.000`, `-0/+0.05`, `+0.05 0`, `0/-0.02`, `+0.05` alone, also one over the other.
pub(super) fn deviations(c: Cursor<'_>) -> Read<'_, WrittenTolerance> {
    let (first, after) = deviation(c)?;
    let second = second_deviation(after, first);
    if !first.signed && second.is_none() {
        return None;
    }
    let (other, end) = match second {
        Some((second, end)) => (second.value, end),
        None => (Quantity { value: 0.0, ..first.value }, after),
    };
    let (upper, lower) =
        if first.value.value >= other.value { (first.value, other) } else { (other, first.value) };
    let unit = upper.unit.or(lower.unit);
    let upper = Quantity { unit, ..upper };
    let lower = Quantity { unit, ..lower };
    Some((WrittenTolerance::Deviations { upper, lower }, end))
}

#[derive(Clone, Copy)]
struct Deviation {
    value: Quantity,
    signed: bool,
}

/// A signed number, or a bare zero.
fn deviation(c: Cursor<'_>) -> Read<'_, Deviation> {
    let sign = c.eat_any(&['+', '-']);
    let (value, end) = magnitude(sign.map_or(c, |(_, c)| c.spaces()))?;
    if end.eat('°').is_some()
        || !end.at_word_end()
        || value.value == 0.0 && sign.is_none() && end.eat('X').is_some()
    {
        return None;
    }
    match sign {
        Some(('-', after)) => {
            // A hyphen between two parts is no minus: the number follows the sign, and it is a small one.
            let glued = after.peek().is_some_and(|c| c.is_ascii_digit() || c == '.' || c == ',');
            let small = value.value == 0.0 || value.decimals > 0;
            let value = Quantity { value: minus(value.value), ..value };
            (glued && small).then_some((Deviation { value, signed: true }, end))
        }
        Some(_) => Some((Deviation { value, signed: true }, end)),
        None => (value.value == 0.0).then_some((Deviation { value, signed: false }, end)),
    }
}

/// Minus, but never minus zero.
fn minus(value: f64) -> f64 {
    if value == 0.0 { 0.0 } else { -value }
}

/// The other deviation after `/`, blanks or a line end. One of the two carries a sign.
fn second_deviation(c: Cursor<'_>, first: Deviation) -> Read<'_, Deviation> {
    let gap = c.blanks();
    let next = gap.eat_any(&['/', ',']).map_or(gap, |(_, c)| c.blanks());
    let (second, end) = deviation(next)?;
    let joined = next.at > c.at || second.signed;
    (joined && (first.signed || second.signed)).then_some((second, end))
}

/// `H11` after a size, with the case as written: capitals are holes.
pub(super) fn fit(c: Cursor<'_>) -> Read<'_, WrittenTolerance> {
    let gap = c.before() == Some(' ');
    let small = c.small();
    let (letters, after) = FITS.iter().find_map(|f| {
        let mut end = c;
        for w in f.chars() {
            end = end.eat(w)?;
        }
        end.peek().is_some_and(|c| c.is_ascii_digit()).then_some((*f, end))
    })?;
    if gap && matches!(letters, "M" | "R" | "S" | "A" | "B") {
        return None;
    }
    let (grade, end) = super::number::integer(after)?;
    let ends = end.at_word_end()
        && !matches!(end.peek(), Some('.' | ',')) | end.peek_at(1).is_none_or(|c| !c.is_ascii_digit());
    let letters = if small { letters.to_ascii_lowercase() } else { letters.to_owned() };
    ((4..=18).contains(&grade) && ends).then(|| (WrittenTolerance::Fit(format!("{letters}{grade}")), end))
}

#[cfg(test)]
mod tests {
    use super::super::testing::parse;
    use super::*;

    fn pair(text: &str) -> Option<(f64, f64)> {
        parse(text, |c| tolerance(c).map(|t| t.0)).and_then(|t| match t {
            WrittenTolerance::Deviations { upper, lower } => Some((upper.value, lower.value)),
            _ => None,
        })
    }

    #[test]
    fn symmetric() {
        for text in ["±.003", "± .003", "+/-.003", "+/- .003", "+-.003", "%%p.003"] {
            assert_eq!(pair(text), Some((0.003, -0.003)), "{text}");
        }
        assert_eq!(pair("±1°"), None, "an angle's");
    }

    #[test]
    fn pairs_in_either_order() {
        for text in ["+.003/-.000", "+.003 -.000", "+.003\n-.000", "-.000/+.003", "+.003 / 0", "+.003"] {
            assert_eq!(pair(text), Some((0.003, 0.0)), "{text}");
        }
        assert_eq!(pair("+0.05 0"), Some((0.05, 0.0)));
        assert_eq!(pair("+0,1/0"), Some((0.1, 0.0)));
        assert_eq!(pair("0/-0.02"), Some((0.0, -0.02)));
        assert_eq!(pair("0 -0.02"), Some((0.0, -0.02)));
        assert_eq!(pair("-0/+0.05"), Some((0.05, 0.0)));
        assert_eq!(pair("+0.05 +0.02"), Some((0.05, 0.02)));
        assert_eq!(pair("-0.1 -0.3"), Some((-0.1, -0.3)));
        assert_eq!(pair("-0.02"), Some((0.0, -0.02)));
    }

    #[test]
    fn what_is_no_tolerance() {
        assert_eq!(pair("0"), None);
        assert_eq!(pair("- 5"), None);
        assert_eq!(pair("-20"), None);
    }

    #[test]
    fn fits_keep_their_case() {
        let of = |text| parse(text, |c| fit(c).map(|t| t.0));
        assert_eq!(of("H11"), Some(WrittenTolerance::Fit("H11".into())));
        assert_eq!(of("h7"), Some(WrittenTolerance::Fit("h7".into())));
        assert_eq!(of("JS13"), Some(WrittenTolerance::Fit("JS13".into())));
        assert_eq!(of("H2"), None);
        assert_eq!(of("H11A"), None);
    }
}
