//! How deep a hole or a thread goes.

use super::Quantity;
use super::cursor::{Cursor, Read};
use super::meaning::Meaning;
use super::number::quantity;

/// `THRU`, `DURCH`, `PASS.`.
pub(super) fn through(c: Cursor<'_>) -> Option<Cursor<'_>> {
    // Italian and Spanish shorten `passante`, always with a full stop; `PASS 5` is of another trade.
    let shortened = || c.literal("PASS").filter(|_| c.at_word_start())?.eat('.');
    c.word(Meaning::Through).or_else(shortened)
}

/// `↧12`, `X 12 DEEP`, `12 DP`, `DEPTH 12`, `TIEFE 12`, `12 TIEF`.
pub(super) fn depth(c: Cursor<'_>) -> Read<'_, Quantity> {
    depth_sign(c).or_else(|| depth_before(c)).or_else(|| depth_after(c))
}

fn depth_sign(c: Cursor<'_>) -> Read<'_, Quantity> {
    let after = c.while_is(|c| c == '↧');
    let (value, end) = (after.at > c.at).then(|| quantity(after.spaces())).flatten()?;
    Some((value, trailing(end)))
}

/// `DEPTH 12`, `PROF. 12`, `DEPTH: 12`.
fn depth_before(c: Cursor<'_>) -> Read<'_, Quantity> {
    let after = c.word(Meaning::Deep)?.spaces();
    let after = after.eat_any(&['=', ':']).map_or(after, |(_, c)| c.spaces());
    let after =
        after.word_of(&[Meaning::Min, Meaning::Max, Meaning::Join]).map_or(after, |(_, c)| c.spaces());
    let (value, end) = quantity(after)?;
    (!end.peek().is_some_and(|c| c.is_ascii_digit())).then(|| (value, trailing(end)))
}

/// `X 12 DEEP`, `12 DP`, `12 MIN DEEP`.
fn depth_after(c: Cursor<'_>) -> Read<'_, Quantity> {
    let number = c.eat('X').map_or(c, Cursor::spaces);
    let (value, after) = quantity(number)?;
    let next = limit_word(after.spaces().maybe('-').spaces()).spaces();
    Some((value, trailing(next.word(Meaning::Deep)?)))
}

/// `X 12` after a diameter (ISO 15786 writes `Ø5 × 12`): only where nothing but an end or another part follows.
pub(super) fn times_depth(c: Cursor<'_>) -> Read<'_, Quantity> {
    let (value, end) = quantity(c.eat('X')?.spaces())?;
    let next = end.spaces();
    let ends = match next.peek() {
        None | Some('\n' | ',' | ';' | ')' | '/' | 'Ø' | '-' | '(' | '⌴' | '⌵') => true,
        Some(_) => next.any_word().is_some_and(|(m, _)| {
            !matches!(
                m,
                Meaning::Place | Meaning::Countersink | Meaning::Counterbore | Meaning::Hole | Meaning::Long
            )
        }),
    };
    (ends && super::number::degrees(c.next().spaces()).is_none()).then_some((value, end))
}

/// `x 10 LG`, `x 1/2" LONG`, `x 10 LANG`: how long a screw is.
pub(super) fn long(c: Cursor<'_>) -> Read<'_, Quantity> {
    let (value, end) = quantity(c.eat('X')?.spaces())?;
    Some((value, end.spaces().word(Meaning::Long)?))
}

/// `FULL THREAD 10 MIN`, `GEWINDETIEFE 10`, `10 FULL THREAD`: the thread's own depth.
pub(super) fn thread_depth(c: Cursor<'_>) -> Read<'_, Quantity> {
    if let Some(after) = c.word(Meaning::FullThread) {
        let after = after.spaces();
        let after = after.eat_any(&['=', ':']).map_or(after, |(_, c)| c.spaces());
        let (value, end) = quantity(limit_word(after).spaces())?;
        return Some((value, trailing(end)));
    }
    let number = c.eat('X').map_or(c, Cursor::spaces);
    let (value, after) = quantity(number)?;
    let next = limit_word(after.spaces()).spaces();
    Some((value, trailing(next.word(Meaning::FullThread)?)))
}

fn limit_word(c: Cursor<'_>) -> Cursor<'_> {
    c.word_of(&[Meaning::Min, Meaning::Max]).map_or(c, |(_, c)| c)
}

/// `↧12 MIN`, `↧12 DEEP`: words that add nothing after the number.
fn trailing(c: Cursor<'_>) -> Cursor<'_> {
    let next = c.spaces();
    next.word_of(&[Meaning::Min, Meaning::Deep]).map_or(c, |(_, c)| c)
}

#[cfg(test)]
mod tests {
    use super::super::testing::parse;
    use super::*;

    fn of(text: &str) -> Option<f64> {
        parse(text, |c| depth(c).map(|q| q.0.value))
    }

    #[test]
    fn every_form_of_depth() {
        for text in [
            "↧12",
            "↧ 12",
            "12 DEEP",
            "X 12 DEEP",
            "12 DP",
            "12DP",
            "DEPTH 12",
            "TIEFE 12",
            "12 TIEF",
            "PROF. 12",
            "深12",
            "深さ12",
            "12 MIN DEEP",
            "DEPTH=12",
            "12-DEEP",
        ] {
            assert_eq!(of(text), Some(12.0), "{text}");
        }
        assert_eq!(of("12"), None);
    }

    #[test]
    fn through_words() {
        for text in ["THRU", "THRU ALL", "through", "DURCH", "DURCHGEHEND", "PASSANTE", "贯穿", "通し"] {
            assert!(parse(text, |c| through(c).map(|c| c.at)).is_some(), "{text}");
        }
    }

    #[test]
    fn a_threads_own_depth() {
        let of = |text| parse(text, |c| thread_depth(c).map(|q| q.0.value));
        assert_eq!(of("FULL THREAD 10 MIN"), Some(10.0));
        assert_eq!(of("10 MIN FULL THD"), Some(10.0));
        assert_eq!(of("GEWINDETIEFE 10"), Some(10.0));
    }
}
