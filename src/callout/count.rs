//! How many holes: `4X`, `(4)`, `4-Ø3.6`, `4 PLCS`, `N.4 FORI`.

use super::cursor::{Cursor, Read};
use super::meaning::Meaning;
use super::number::integer;
use super::size::number_word;

/// More equal holes than this are no count on a drawing but a number of another kind.
const MOST: u32 = 100_000;

/// A count after its size is seldom larger; a depth may be.
const MOST_BEHIND: u32 = 99;

/// Any form of count.
pub(super) fn count(c: Cursor<'_>) -> Read<'_, u32> {
    if let Some(found) = numbered(c) {
        return Some(found).filter(|(n, _)| (1..=MOST).contains(n));
    }
    let starts = !c.before().is_some_and(|b| b.is_ascii_alphanumeric() || b == '.' || b == ',');
    if !starts {
        return None;
    }
    times(c)
        .or_else(|| bracketed_count(c))
        .or_else(|| dashed(c))
        .or_else(|| places(c))
        .or_else(|| quantity_of(c))
        .filter(|(n, _)| (1..=MOST).contains(n))
}

/// `4X`, `4 X`, `4×`. An X between two numbers multiplies them; before an angle it is a chamfer.
pub(super) fn times(c: Cursor<'_>) -> Read<'_, u32> {
    let (n, after) = integer(c)?;
    let after = after.spaces().eat('X')?;
    let next = after.spaces();
    let gap = next.at > after.at;
    let fits = match next.peek() {
        None | Some('\n') => true,
        Some(d) if d.is_ascii_digit() => (gap || worked_size(next)) && super::number::degrees(next).is_none(),
        Some('.') => next.peek_at(1).is_some_and(|c| c.is_ascii_digit()),
        Some(l) if l.is_ascii_alphabetic() && !gap => starts_a_part(next),
        Some(_) => true,
    };
    if !fits || super::number::degrees(next).is_some() {
        return None;
    }
    // `4X EQ SP` says no more than 4X does.
    let end = next.word(Meaning::EquallySpaced).or_else(|| next.word(Meaning::Place)).unwrap_or(after);
    Some((n, end))
}

/// `Ø5 x4`: the X glued to a whole number after a blank; also a depth, if another count stands in the text.
pub(super) fn behind(c: Cursor<'_>) -> Read<'_, (u32, super::Quantity)> {
    if c.before() != Some(' ') {
        return None;
    }
    let glued = c.eat('X')?;
    let (n, end) = integer(glued)?;
    let value = super::Quantity { value: f64::from(n), unit: None, decimals: 0 };
    let next = end.spaces();
    let ends = end.at_word_end()
        && !matches!(end.peek(), Some('.' | ',' | '/' | '"'))
            | end.peek_at(1).is_none_or(|c| !c.is_ascii_digit());
    let measures = super::number::degrees(glued).is_some()
        || next.eat('X').is_some()
        || super::number::unit(end).is_some()
        || next.word_of(&[Meaning::Deep, Meaning::FullThread, Meaning::Place, Meaning::Hole]).is_some();
    ((1..=MOST_BEHIND).contains(&n) && ends && !measures).then_some(((n, value), end))
}

/// `N. 4 FORI`, `N°4 FORI`, `NR. 4 BOHRUNGEN`: the number of holes, so marked.
fn numbered(c: Cursor<'_>) -> Read<'_, u32> {
    if !c.at_word_start() {
        return None;
    }
    let after = c.eat('N')?;
    let after = after.eat('R').unwrap_or(after);
    let (_, after) = after.eat_any(&['.', '°', 'º'])?;
    let (n, next) = integer(after.spaces())?;
    let (_, end) = next.spaces().word_of(&[Meaning::Hole, Meaning::Place])?;
    Some((n, end))
}

/// Whether the letter after `4X` may begin a size or a thread (`4XM4`, `4XR5`) or a word.
fn starts_a_part(c: Cursor<'_>) -> bool {
    let number = c.peek_at(1).is_some_and(|c| c.is_ascii_digit() || c == '.');
    // `4×R 9.00`: a radius may stand apart from its letter.
    let apart = c.peek() == Some('R')
        && c.peek_at(1) == Some(' ')
        && c.peek_at(2).is_some_and(|c| c.is_ascii_digit() || c == '.');
    apart
        || (matches!(c.peek(), Some('M' | 'R' | 'D')) && number)
        || super::other_thread::other_thread(c).is_some()
}

/// `(4X)`, `(4 PLCS)`. `(4)` alone is settled by what stands beside it.
pub(super) fn bracketed_count(c: Cursor<'_>) -> Read<'_, u32> {
    let (_, inner) = c.eat_any(&['(', '['])?;
    let inner = inner.spaces();
    // `(x4)`.
    if let Some((n, end)) = inner.eat('X').and_then(|c| integer(c.spaces())) {
        return end.spaces().eat_any(&[')', ']']).map(|(_, end)| (n, end));
    }
    let inner = inner.word(Meaning::Typical).map_or(inner, Cursor::spaces);
    let ((n, after), worded) = match places(inner) {
        Some(found) => (found, true),
        None => (integer(inner)?, false),
    };
    let after_x = after.spaces().eat('X');
    if !worded && after_x.is_none() && inner.at == c.next().spaces().at {
        return None;
    }
    let end = after_x.unwrap_or(after);
    let end = end.spaces().word(Meaning::EquallySpaced).unwrap_or(end).spaces();
    let (_, end) = end.eat_any(&[')', ']'])?;
    // `(4) PLACES` was met by the other form; `(4X) PLACES` is met here.
    Some((n, end.spaces().word(Meaning::Place).unwrap_or(end)))
}

/// `4-Ø3.6`, `4-M4`, `4-R5`, `4 - #29`.
pub(super) fn dashed(c: Cursor<'_>) -> Read<'_, u32> {
    let (n, after) = integer(c)?;
    let next = after.spaces().eat('-')?.spaces();
    let number = |c: Cursor<'_>| c.peek().is_some_and(|c| c.is_ascii_digit() || c == '.');
    let fits = match next.peek()? {
        'Ø' => true,
        'M' | 'D' | 'R' | '#' if number(next.next()) => true,
        c if c.is_ascii_digit() || c == '.' => worked_size(next),
        _ if super::other_thread::other_thread(next).is_some() => true,
        _ => next.any_word().is_some_and(|(m, _)| m == Meaning::Hole || m == Meaning::Diameter),
    };
    fits.then_some((n, next))
}

/// `6.6キリ`, `4.29/4.20 DIA`: a bare size that its process or mark follows at once.
fn worked_size(c: Cursor<'_>) -> bool {
    let worked =
        [Meaning::ProcessDrilled, Meaning::ProcessReamed, Meaning::ProcessPunched, Meaning::Diameter];
    let limits = || super::size::limits(c).is_some_and(|(sized, _)| sized.marked);
    super::number::decimal(c).is_some_and(|(_, end)| end.spaces().word_of(&worked).is_some()) || limits()
}

/// `4 PLCS`, `4 HOLES`, `4 OFF`, `4 EQ SP`, `TWO PLACES`, `(4) HOLES`.
pub(super) fn places(c: Cursor<'_>) -> Read<'_, u32> {
    let (n, after) = number(c)?;
    let next = after.blanks().maybe('-').maybe('X').spaces();
    // `4 NO. Ø5`: the British count.
    if let Some(sized) = next.literal("NO").map(|c| c.maybe('.').spaces()).filter(|c| c.peek() == Some('Ø'))
    {
        return Some((n, sized));
    }
    if next.word(Meaning::TappedHole).is_some() {
        // The words say more than the count: they are left to be read.
        return Some((n, after));
    }
    // `4 DIA HOLES .187`: the size stands behind, so the first number counts.
    let dia = next.word(Meaning::Diameter).map(Cursor::spaces);
    if let Some(holes) = dia.filter(|c| c.word(Meaning::Hole).is_some_and(size_follows)) {
        return Some((n, holes));
    }
    let (_, end) =
        next.word_of(&[Meaning::Place, Meaning::Hole, Meaning::EquallySpaced, Meaning::AllHoles])?;
    let more = end.spaces().maybe(',').spaces();
    Some((n, more.word(Meaning::EquallySpaced).unwrap_or(end)))
}

/// Whether a number with decimals or a fraction comes next.
fn size_follows(c: Cursor<'_>) -> bool {
    let start = c.while_is(|c| matches!(c, ' ' | '-' | ',' | ':' | 'Ø'));
    super::number::quantity(start).is_some_and(|(q, _)| q.decimals > 0 || q.unit.is_some())
}

/// `QTY 4`, `QTY: (4)`, `TYP OF 4`.
pub(super) fn quantity_of(c: Cursor<'_>) -> Read<'_, u32> {
    if let Some(after) = c.word(Meaning::Quantity) {
        return number(after.spaces().maybe('=').maybe(':').maybe('.').spaces())
            .filter(|(_, c)| c.at_word_end());
    }
    // `N° 4 fori`: a number of holes where no drill is meant.
    if let Some(after) = number_word(c).filter(|_| c.at_word_start()) {
        return places(after.spaces());
    }
    let after = c.word(Meaning::Typical)?.spaces();
    let of = after.literal("OF").or_else(|| after.literal("FOR"))?;
    number(of.spaces())
        .map(|(n, c)| (n, c.spaces().word_of(&[Meaning::Place, Meaning::Hole]).map_or(c, |(_, c)| c)))
}

/// A number in digits, in brackets or in words.
fn number(c: Cursor<'_>) -> Read<'_, u32> {
    let words = [
        (Meaning::Two, 2),
        (Meaning::Three, 3),
        (Meaning::Four, 4),
        (Meaning::Five, 5),
        (Meaning::Six, 6),
        (Meaning::Eight, 8),
    ];
    if let Some((n, after)) = integer(c) {
        return Some((n, after));
    }
    if let Some(inner) = c.eat('(') {
        let (n, after) = integer(inner.spaces())?;
        return Some((n, after.spaces().eat(')')?));
    }
    words.iter().find_map(|(m, n)| {
        let after = c.word(*m)?;
        // `FOUR (4) PLACES` says the number twice.
        let again = after.spaces().eat('(').and_then(|c| integer(c.spaces()));
        let again = again.filter(|(again, _)| again == n).and_then(|(_, c)| c.spaces().eat(')'));
        Some((*n, again.unwrap_or(after)))
    })
}

#[cfg(test)]
mod tests {
    use super::super::testing::parse;
    use super::*;

    fn of(text: &str) -> Option<u32> {
        parse(text, |c| count(c).map(|n| n.0))
    }

    #[test]
    fn every_form_of_count() {
        for text in [
            "4X Ø5",
            "4x",
            "4 X Ø5",
            "4×Ø5",
            "4X.224",
            "(4X)",
            "4-Ø3.6",
            "4-M4",
            "4 PLCS",
            "4 PL",
            "4 HOLES",
            "4 OFF",
            "4 EQ SP",
            "(4 PLACES)",
            "FOUR HOLES",
            "FOUR (4) PLACES",
            "QTY 4",
            "TYP OF 4",
            "4XM4",
            "4 BOHRUNGEN",
            "4个",
            "4箇所",
            "4 TROUS",
            "(TYP 4 PLCS)",
            "(4) HOLES",
            "4 HOLES EQ SP",
            "4X EQ SP",
        ] {
            assert_eq!(of(text), Some(4), "{text}");
        }
    }

    #[test]
    fn what_is_no_count() {
        for text in ["1X45°", "2 X 45°", "10x20", "4-40", "0X", "4XL", "4.5X", "(5.69)", "4"] {
            assert_eq!(of(text), None, "{text}");
        }
    }
}
