//! The scale, drawn over true (ISO 5455): 2:1 enlarges and is 2, 1:5 reduces and is 0.2.

use super::super::cursor::{Cursor, Read};
use super::super::meaning::Meaning;
use super::super::number::decimal;
use super::pieces::{Piece, past_marks};

/// `SCALE 1/2`, `M 1:2`, a ratio standing alone.
pub(super) fn read(whole: Piece<'_>) -> Option<f64> {
    whole.lines().find_map(|line| {
        let labelled = || line.places().find_map(|c| value(past_marks(c.word(Meaning::Scale)?)));
        labelled().or_else(|| metric(line)).or_else(|| alone(line))
    })
}

/// The value of a field for the scale, where a bare number enlarges: `2`.
pub(super) fn field(piece: Piece<'_>) -> Option<f64> {
    let c = past_marks(piece.cursor());
    let number = |c| {
        let (n, end) = decimal(c)?;
        end.maybe('X').spaces().at_end().then_some(n.value)
    };
    value(c).or_else(|| read(piece)).or_else(|| number(c)).filter(|s| sound(*s))
}

/// A ratio or `FULL`.
fn value(c: Cursor<'_>) -> Option<f64> {
    if c.literal("FULL").is_some() {
        return Some(1.0);
    }
    ratio(c).map(|(r, _)| r)
}

/// `1:2`, `1/2`, `1 = 2`, `1 : 2,5`.
fn ratio(c: Cursor<'_>) -> Read<'_, f64> {
    let (drawn, after) = decimal(c)?;
    let (_, next) = after.spaces().eat_any(&[':', '/', '='])?;
    let (real, end) = decimal(next.spaces())?;
    let ratio = drawn.value / real.value;
    let ends = !matches!(end.peek(), Some(':' | '/' | '=')) && !end.peek().is_some_and(char::is_alphanumeric);
    (ends && sound(ratio)).then_some((ratio, end))
}

fn sound(ratio: f64) -> bool {
    ratio.is_finite() && (0.0005..=2000.0).contains(&ratio)
}

/// `M 1:2` at the start of a line.
fn metric(line: Piece<'_>) -> Option<f64> {
    one_to(line.cursor().spaces().eat('M')?.while_is(|c| c == ' ' || c == '=')).map(|(r, _)| r)
}

/// A line that is a ratio and nothing else, perhaps in brackets. One side is 1: other pairs are times of day.
fn alone(line: Piece<'_>) -> Option<f64> {
    let c = line.cursor().spaces();
    let (found, end) = one_to(c.maybe('('))?;
    end.maybe(')').spaces().at_end().then_some(found)
}

/// A ratio with a colon and a bare 1 on one side.
pub(super) fn one_to(c: Cursor<'_>) -> Read<'_, f64> {
    let (drawn, after) = decimal(c)?;
    let (real, _) = decimal(after.spaces().eat(':')?.spaces())?;
    let bare_one = |q: super::Quantity| q.value == 1.0 && q.decimals == 0;
    let hours = c.peek() == Some('0');
    (!hours && (bare_one(drawn) || bare_one(real))).then(|| ratio(c)).flatten()
}

#[cfg(test)]
mod tests {
    use super::super::read;

    // ISO 5455: the first number is the drawing's, the second the part's.
    #[test]
    fn scales() {
        for (text, scale) in [
            ("SCALE 2:1", 2.0),
            ("SCALE 1/2", 0.5),
            ("1:5", 0.2),
            ("M 1:2", 0.5),
            ("MASSSTAB 1:2", 0.5),
            ("MAßSTAB 1:2", 0.5),
            ("ECHELLE 1:2", 0.5),
            ("SCALA 1:2,5", 0.4),
            ("ESCALA 1:2", 0.5),
            ("比例 1:2", 0.5),
            ("SCALE: FULL", 1.0),
            ("DETAIL A (SCALE 4 : 1)", 4.0),
            ("DETAIL B\n(2:1)", 2.0),
        ] {
            assert_eq!(read(text).scale, Some(scale), "{text}");
        }
        for text in
            ["10:30", "1/2", "SCALE NONE", "M4", "SCALE: NTS", "TAPER 1:50", "RATIO 3:2 AND MORE", "01:01"]
        {
            assert_eq!(read(text).scale, None, "{text}");
        }
    }
}
