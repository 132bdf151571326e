//! Coatings: how thick, and whether a size holds before the part is coated or after it. Says nothing of which
//! coating it is.

use super::Quantity;
use super::cursor::{Cursor, Read};
use super::meaning::Meaning;
use super::number::decimal;
pub use crate::joint::Stage;
use crate::units::Unit;

/// A coating as written.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct WrittenCoating {
    /// Thickness on one side; of a range the greatest, which closes a hole most.
    pub thickness: Option<Quantity>,
    /// When the sizes beside it hold; none if that is not said.
    pub stage: Option<Stage>,
}

/// More micrometres than any coating of a hole has.
const MOST_MICRONS: f64 = 2000.0;

/// Names of the micrometre that stand after a blank or none.
const MICRONS: &[&str] =
    &["ΜM", "UM", "MICRON", "MICRONS", "MICROMETER", "MICROMETERS", "MIKRON", "MICRAS", "MICRONI"];

/// `BEFORE PLATING`, `nach dem Beschichten`, `镀前`.
pub(super) fn stage(c: Cursor<'_>) -> Read<'_, Stage> {
    if let Some(after) = c.word(Meaning::Coating) {
        // Ideographs say the coating first.
        return match after.spaces().peek()? {
            '前' => Some((Stage::Before, after.spaces().next())),
            '后' | '後' => Some((Stage::After, after.spaces().next())),
            _ => None,
        };
    }
    let (meaning, mut end) = c.word_of(&[Meaning::Before, Meaning::After])?;
    let stage = if meaning == Meaning::Before { Stage::Before } else { Stage::After };
    // `vor dem Verzinken`, `AFTER BLACK POWDER COAT`: one word may stand between.
    for _ in 0..2 {
        end = end.spaces();
        if let Some(coated) = end.word(Meaning::Coating) {
            return Some((stage, coated));
        }
        end = match end.word(Meaning::Join) {
            Some(joined) => joined,
            None => end.while_is(|c| c.is_ascii_alphabetic()),
        };
    }
    let coated = end.spaces().word(Meaning::Coating)?;
    Some((stage, coated))
}

/// `8 µm`, `60-80 µm`, `12 MICRONS`, in millimetres.
pub(super) fn microns(c: Cursor<'_>) -> Read<'_, Quantity> {
    if c.before().is_some_and(|b| b.is_ascii_alphanumeric() || matches!(b, '.' | ',' | '-')) {
        return None;
    }
    let (first, mut end) = decimal(c)?;
    let mut most = first.value;
    let range = end.spaces().eat_any(&['-', '/', '~', '…']).map(|(_, c)| c.spaces());
    if let Some((second, after)) = range.and_then(decimal) {
        (most, end) = (most.max(second.value), after);
    }
    let name = end.spaces();
    let end = MICRONS.iter().find_map(|n| name.literal(n))?;
    let sound = most > 0.0 && most <= MOST_MICRONS;
    sound.then_some((Quantity { value: most / 1000.0, unit: Some(Unit::Mm), decimals: 3 }, end))
}

#[cfg(test)]
mod tests {
    use super::super::testing::parse;
    use super::*;

    #[test]
    fn stages_in_the_languages() {
        let of = |text| parse(text, |c| stage(c).map(|s| s.0));
        for text in [
            "BEFORE PLATING",
            "PRIOR TO PAINTING",
            "vor Beschichtung",
            "vor dem Verzinken",
            "avant revêtement",
            "avant peinture",
            "prima della zincatura",
            "antes de pintar",
            "antes del recubrimiento",
            "镀前",
            "喷涂前",
            "めっき前",
            "塗装前",
        ] {
            assert_eq!(of(text), Some(Stage::Before), "{text}");
        }
        for text in [
            "AFTER PLATING",
            "AFTER POWDER COAT",
            "AFTER BLACK POWDER COAT",
            "nach Beschichtung",
            "nach dem Verzinken",
            "après peinture",
            "dopo verniciatura",
            "dopo la zincatura",
            "después del recubrimiento",
            "镀后",
            "镀锌后",
            "メッキ後",
        ] {
            assert_eq!(of(text), Some(Stage::After), "{text}");
        }
        for text in ["BEFORE DRILLING", "AFTER FORMING", "nach ISO 2768", "PLATING", "BEFORE"] {
            assert_eq!(of(text), None, "{text}");
        }
    }

    #[test]
    fn thicknesses() {
        let of = |text| parse(text, |c| microns(c).map(|q| q.0.value));
        assert_eq!(of("8 µm"), Some(0.008));
        assert_eq!(of("8μm"), Some(0.008));
        assert_eq!(of("60-80 µm"), Some(0.08));
        assert_eq!(of("12 MICRONS"), Some(0.012));
        assert_eq!(of("25um"), Some(0.025));
        for text in ["8 mm", "8", "5000 µm", "0 µm"] {
            assert_eq!(of(text), None, "{text}");
        }
    }
}
