//! Numbers and names as findings and reports write them: in the drawing's own unit, without needless digits.
//! The one place for it, so that a length reads the same in every message.

use crate::decimals::{fixed, trimmed};
use crate::joint::Stage;
use crate::units::{Length, Unit};
use crate::verdict::{Capability, Engagement, HoleBand, Judged, Limits};

/// Decimals beyond which a hole cannot be made or measured: 0.001 mm, 0.0001 in.
const fn decimals(unit: Unit) -> usize {
    match unit {
        Unit::Mm => 3,
        Unit::Inch => 4,
    }
}

/// A limit in words where it is a small whole number, as a limit often is: `two`, `1.5`.
pub fn count(value: f64) -> String {
    let words = ["one", "two", "three", "four", "five", "six"];
    let known = (1..).zip(words).find(|(n, _)| f64::from(*n) == value);
    known.map_or_else(|| short(value), |(_, word)| word.to_owned())
}

/// So many pitches in words: `one pitch`, `1.5 pitches`.
pub fn pitches(value: f64) -> String {
    format!("{} {}", count(value), if value == 1.0 { "pitch" } else { "pitches" })
}

/// A length in `unit`, bare: `3.554`, `.224`. Millimetres have no needless zeros; inches have no zero before the
/// point and at least three decimals, as on drawings.
pub fn number(length: Length, unit: Unit) -> String {
    let mut text = fixed(length.value_in(unit), decimals(unit));
    if text.starts_with('-') && !text.bytes().any(|digit| matches!(digit, b'1'..=b'9')) {
        text.remove(0);
    }
    match unit {
        Unit::Mm => text.truncate(text.trim_end_matches('0').trim_end_matches('.').len()),
        Unit::Inch => {
            if text.ends_with('0') {
                text.pop();
            }
            let first = usize::from(text.starts_with('-'));
            if text[first..].starts_with('0') {
                text.remove(first);
            }
        }
    }
    text
}

/// A length with its unit: `1.5 mm`, `.060 in`.
pub fn length(length: Length, unit: Unit) -> String {
    [&number(length, unit), " ", unit.name()].concat()
}

/// A diameter: `Ø3.554`, `Ø.224`.
pub fn diameter(length: Length, unit: Unit) -> String {
    ["Ø", &number(length, unit)].concat()
}

/// A size with its tolerance: `Ø3.3 +0.05/0`, `Ø.224 ±.003`, `Ø3.65` where none is known.
pub fn size(limits: &Limits, unit: Unit) -> String {
    with_limits(limits.nominal, limits.min, limits.max, unit)
}

/// The size of a hole with what a coating makes of it, where the screw meets or may meet another hole than the stated.
pub fn coated(judged: &Judged, unit: Unit) -> String {
    let stated = size(&judged.limits, unit);
    let Some(coated) = &judged.coating else { return stated };
    let if_before = match coated.coating.stated {
        Some(Stage::Before) => "",
        None => ", if the size is before it",
        Some(Stage::After) => return stated,
    };
    let after = diameter(coated.after.nominal, unit);
    format!("{stated} coated {} thick ({after} after it{if_before})", length(coated.coating.thickness, unit))
}

/// A nominal with the deviations of its limits: `Ø3.3 +0.05/0`; the nominal alone where both limits are it.
pub fn with_limits(nominal: Length, min: Length, max: Length, unit: Unit) -> String {
    let text = diameter(nominal, unit);
    if min == nominal && max == nominal {
        return text;
    }
    let up = number(max - nominal, unit);
    if up == number(nominal - min, unit) {
        return [&text, " ±", &up].concat();
    }
    let down = number(min - nominal, unit);
    [&text, " ", &signed(&up, '+', unit), "/", &signed(&down, '-', unit)].concat()
}

/// A deviation with its sign; nothing is `0` in mm and `-.000` or `+.000` in inches, as on drawings.
fn signed(number: &str, side: char, unit: Unit) -> String {
    let zero = number.bytes().all(|b| b == b'0' || b == b'.');
    match (zero, unit) {
        (true, Unit::Mm) => "0".to_owned(),
        (true, Unit::Inch) => format!("{side}{number}"),
        (false, _) if number.starts_with('-') => number.to_owned(),
        (false, _) => format!("+{number}"),
    }
}

/// A percentage without decimals: `154 %`.
pub fn percent(value: f64) -> String {
    format!("{value:.0} %")
}

/// A percentage with just so many decimals (at most two) that it does not read like a limit it differs from.
pub fn percent_beside(value: f64, limits: &[f64]) -> String {
    let reads_like = |digits: usize| {
        let text = fixed(value, digits);
        limits.iter().any(|limit| (value - limit).abs() > 0.005 && text == fixed(*limit, digits))
    };
    let digits = (0..2).find(|&digits| !reads_like(digits)).unwrap_or(2);
    let mut text = fixed(value, digits);
    text.push_str(" %");
    text
}

/// Engagement over the limits of size, the nominal's if they are one: `154 % to 143 % rolled engagement`.
pub fn engagement(engagement: &Engagement, band: Option<&HoleBand>) -> String {
    let limits = band.map_or(Vec::new(), |b| vec![b.band.min, b.band.max]);
    let (tight, loose) =
        (percent_beside(engagement.at_min, &limits), percent_beside(engagement.at_max, &limits));
    if tight == loose {
        format!("{tight} rolled engagement")
    } else {
        format!("{tight} to {loose} rolled engagement")
    }
}

/// A band and its hole: `80 to 98 % is allowed (Ø3.554 to Ø3.636)`.
pub fn allowed(band: &HoleBand, unit: Unit) -> String {
    format!(
        "{} to {} % is allowed ({} to {})",
        short(band.band.min),
        short(band.band.max),
        diameter(band.hole_min, unit),
        diameter(band.hole_max, unit)
    )
}

/// The expected share outside the band: `4.55 % of the holes are expected outside (measured mean Ø3.6, sd 0.02)`.
pub fn expected(capability: &Capability, unit: Unit) -> String {
    let mean = format!("mean {}, sd {}", diameter(capability.mean, unit), number(capability.sd, unit));
    let basis = if capability.measured { format!("measured {mean}") } else { capability.source.clone() };
    format!("{} of the holes are expected outside ({basis})", share(capability.shares.outside()))
}

/// A share of holes in percent, with two digits that say something; `none to speak of` below one in a billion.
pub fn share(value: f64) -> String {
    let percent = 100.0 * value;
    match percent {
        p if p < 1e-7 => "none to speak of".to_owned(),
        p if p >= 9.95 => format!("{p:.0} %"),
        p if p >= 0.995 => format!("{p:.1} %"),
        p => {
            let places = (1..10).find(|n| p * 10f64.powi(*n) >= 9.95).unwrap_or(9);
            format!("{p:.*} %", usize::try_from(places).unwrap_or(9))
        }
    }
}

/// A number with at most two decimals and no needless zeros.
pub fn short(value: f64) -> String {
    let text = trimmed(value, 2);
    if text == "-0" { "0".to_owned() } else { text }
}

/// A text of a drawing on one line, without control and direction characters, and with single blanks.
pub fn line(text: &str) -> String {
    let steers = |c: char| {
        c.is_control()
            || matches!(c, '\u{200e}' | '\u{200f}' | '\u{202a}'..='\u{202e}' | '\u{2066}'..='\u{2069}')
    };
    let plain: String = text.chars().map(|c| if steers(c) { ' ' } else { c }).collect();
    plain.split_whitespace().collect::<Vec<_>>().join(" ")
}

/// The same in quotation marks, cut at 60 characters.
pub fn quoted(text: &str) -> String {
    const LONGEST: usize = 60;
    let line = line(text);
    if line.chars().count() <= LONGEST {
        return format!("'{line}'");
    }
    let start: String = line.chars().take(LONGEST - 1).collect();
    format!("'{}…'", start.trim_end())
}

/// `1 hole`, `3 holes`: a count with its noun.
pub fn counted(count: usize, one: &str) -> String {
    if count == 1 { format!("1 {one}") } else { format!("{count} {one}s") }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::shared::SharedText;
    use crate::verdict::{DiameterSource, ToleranceSource};

    fn mm(value: f64) -> Length {
        Length::from_mm(value).unwrap()
    }

    fn inch(value: f64) -> Length {
        Length::from_inch(value).unwrap()
    }

    fn limits(nominal: Length, min: Length, max: Length) -> Limits {
        Limits {
            nominal,
            min,
            max,
            source: DiameterSource::Callout,
            tolerance_source: ToleranceSource::Callout,
            tolerance_text: SharedText::default(),
        }
    }

    #[test]
    fn millimetres_drop_needless_zeros() {
        for (value, text) in
            [(3.5544, "3.554"), (3.6, "3.6"), (4.0, "4"), (0.05, "0.05"), (-0.0001, "0"), (10.0, "10")]
        {
            assert_eq!(number(mm(value), Unit::Mm), text);
        }
    }

    #[test]
    fn inches_have_no_leading_zero_and_three_decimals_at_least() {
        for (value, text) in [
            (0.224, ".224"),
            (0.2281, ".2281"),
            (1.25, "1.250"),
            (0.0, ".000"),
            (-0.003, "-.003"),
            (10.0, "10.000"),
        ] {
            assert_eq!(number(inch(value), Unit::Inch), text);
        }
    }

    #[test]
    fn tolerances_read_as_on_drawings() {
        assert_eq!(size(&limits(mm(3.3), mm(3.3), mm(3.35)), Unit::Mm), "Ø3.3 +0.05/0");
        assert_eq!(size(&limits(mm(3.65), mm(3.65), mm(3.65)), Unit::Mm), "Ø3.65");
        assert_eq!(size(&limits(mm(3.6), mm(3.5), mm(3.7)), Unit::Mm), "Ø3.6 ±0.1");
        assert_eq!(size(&limits(mm(3.6), mm(3.62), mm(3.65)), Unit::Mm), "Ø3.6 +0.05/+0.02");
        assert_eq!(size(&limits(inch(0.224), inch(0.224), inch(0.227)), Unit::Inch), "Ø.224 +.003/-.000");
        assert_eq!(size(&limits(inch(0.224), inch(0.221), inch(0.226)), Unit::Inch), "Ø.224 +.002/-.003");
    }

    #[test]
    fn a_percentage_never_reads_like_the_limit_it_breaks() {
        assert_eq!(percent_beside(153.96, &[80.0, 98.0]), "154 %");
        assert_eq!(percent_beside(98.3, &[80.0, 98.0]), "98.3 %");
        assert_eq!(percent_beside(98.02, &[80.0, 98.0]), "98.02 %");
        assert_eq!(percent_beside(98.0, &[80.0, 98.0]), "98 %");
    }

    #[test]
    fn shares_keep_two_digits() {
        for (value, text) in [
            (0.5, "50 %"),
            (0.0455, "4.5 %"),
            (0.0027, "0.27 %"),
            (6.3e-5, "0.0063 %"),
            (1e-12, "none to speak of"),
            (0.0, "none to speak of"),
        ] {
            assert_eq!(share(value), text, "{value}");
        }
    }

    #[test]
    fn texts_of_drawings_are_made_harmless_and_short() {
        assert_eq!(quoted("4X Ø3.6\nTHRU\u{1b}[31m"), "'4X Ø3.6 THRU [31m'");
        assert_eq!(quoted("a\u{202e}b"), "'a b'");
        assert_eq!(quoted(&"x".repeat(100)).chars().count(), 62);
    }
}
