//! Thicknesses between two borders, and how they are put into words.

use crate::decimals::push_trimmed;
use crate::units::{Length, Unit};

/// A thickness that is not known closer: over the first up to and including the second. An end that is open is none.
pub type Between = (Option<Length>, Option<Length>);

/// Thicknesses in words: `0.8 to 1.6 mm`, `up to .0625 in`; none if every thickness is meant.
pub(super) fn thickness_words(between: Between, unit: Unit) -> Option<String> {
    let mut words = String::new();
    push_thickness(&mut words, between, unit).then_some(words)
}

/// Puts thicknesses behind `out` in words: `0.8 to 1.6 mm`, `up to .0625 in`. Whether there was anything to put; there is
/// nothing if every thickness is meant.
pub fn push_thickness(out: &mut String, between: Between, unit: Unit) -> bool {
    match between {
        (None, None) => return false,
        (Some(a), Some(b)) if a == b => push_bare(out, a, unit),
        (Some(a), Some(b)) => {
            push_bare(out, a, unit);
            out.push_str(" to ");
            push_bare(out, b, unit);
        }
        (None, Some(b)) => {
            out.push_str("up to ");
            push_bare(out, b, unit);
        }
        (Some(a), None) => {
            out.push_str("over ");
            push_bare(out, a, unit);
        }
    }
    out.push(' ');
    out.push_str(unit.name());
    true
}

/// Puts a length without its unit behind `out`: `0.8`, `.0625`.
fn push_bare(out: &mut String, length: Length, unit: Unit) {
    let (start, places) = (out.len(), if unit == Unit::Mm { 2 } else { 3 });
    push_trimmed(out, length.value_in(unit), places);
    if unit == Unit::Inch {
        let zeros = out[start..].bytes().take_while(|digit| *digit == b'0').count();
        out.replace_range(start..start + zeros, "");
    }
}
