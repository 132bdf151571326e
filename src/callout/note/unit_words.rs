//! The unit that a note states for all dimensions.

use super::super::cursor::Cursor;
use super::super::meaning::Meaning;
use super::pieces::{Piece, past_marks};
use crate::units::Unit;

/// `ALL DIMENSIONS IN mm`, `UNITS: INCH`, `Maße in mm`.
pub(super) fn read(whole: Piece<'_>) -> Option<Unit> {
    whole.clauses().find_map(|clause| clause.places().find_map(stated))
}

/// A word for dimensions or units, then only words without weight, then a unit. `DIMENSIONS IN [] ARE mm` speaks of
/// the second unit and does not match, for the brackets are in the way.
fn stated(c: Cursor<'_>) -> Option<Unit> {
    let (head, mut c) = c.word_of(&[Meaning::Dimensions, Meaning::Units])?;
    let mut open = false;
    loop {
        c = c.while_is(|c| matches!(c, ' ' | ':' | '=' | '-'));
        match c.any_word() {
            Some((Meaning::Millimetre, _)) => return Some(Unit::Mm),
            // IN may be a preposition: the unit is what follows it.
            Some((Meaning::Inch, after)) if c.literal("IN").is_some() => {
                open = true;
                c = after;
            }
            Some((Meaning::Inch, _)) => return Some(Unit::Inch),
            Some((Meaning::Join | Meaning::Dimensions | Meaning::Units | Meaning::UnlessNoted, after)) => {
                c = after
            }
            // `2 UNITS IN` does not end in a unit, `UNITS: IN` does.
            _ => return (open && head == Meaning::Units && c.at_end()).then_some(Unit::Inch),
        }
    }
}

/// The value of a field for units: `MM`, `INCH`, `in`.
pub(super) fn field(piece: Piece<'_>) -> Option<Unit> {
    let c = past_marks(piece.cursor());
    if c.literal("IMPERIAL").is_some() || c.literal("ENGLISH").is_some() {
        return Some(Unit::Inch);
    }
    match c.word_of(&[Meaning::Millimetre, Meaning::Inch]) {
        Some((Meaning::Millimetre, _)) => Some(Unit::Mm),
        // `IN MM` is a preposition and a unit.
        Some((_, after)) => {
            Some(if past_marks(after).word(Meaning::Millimetre).is_some() { Unit::Mm } else { Unit::Inch })
        }
        None => read(piece),
    }
}

#[cfg(test)]
mod tests {
    use super::super::read;
    use super::*;

    // Notes of drawings in these languages (common practice).
    #[test]
    fn units_of_notes() {
        for (text, unit) in [
            ("DIMENSIONS IN INCHES", Unit::Inch),
            ("DIMENSIONS ARE IN INCHES [MM]", Unit::Inch),
            ("ALL DIMENSIONS IN mm", Unit::Mm),
            ("ALL DIMENSIONS ARE IN MILLIMETERS", Unit::Mm),
            ("UNLESS OTHERWISE SPECIFIED DIMENSIONS ARE IN MILLIMETRES", Unit::Mm),
            ("ALL DIMS MM", Unit::Mm),
            ("UNITS: MM", Unit::Mm),
            ("UNITS: IN", Unit::Inch),
            ("Maße in mm", Unit::Mm),
            ("COTES EN mm", Unit::Mm),
            ("QUOTE IN mm", Unit::Mm),
        ] {
            assert_eq!(read(text).unit, Some(unit), "{text}");
        }
        for text in ["INCH", "MM", "3.65 mm", "DIMENSIONS IN [] ARE mm", "MASSE 2 kg", "UNIT 5 MM FROM WALL"]
        {
            assert_eq!(read(text).unit, None, "{text}");
        }
    }
}
