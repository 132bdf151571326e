//! Reads a length as people write it on a command line or in a text: number with unit, fraction, drill, gauge.
//! Hole callouts have a grammar of their own in `callout`.

use super::{Material, SheetMetal, drill_by_name, gauge};
use crate::units::{Length, Unit};

/// A length with how it was written.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct LengthText {
    /// The length.
    pub length: Length,
    /// The unit written, or inch for a fraction, drill or gauge; none for a bare number.
    pub unit: Option<Unit>,
    /// Decimal places written.
    pub decimals: u8,
}

/// A length that could not be read.
#[derive(Debug, Clone, PartialEq, thiserror::Error)]
#[error("'{given}' is no length: {expected}")]
pub struct LengthTextError {
    /// What was given.
    pub given: String,
    /// What was expected.
    pub expected: String,
}

/// The length of [`read_length`] alone.
///
/// # Errors
/// [`LengthTextError`] that says what was expected.
pub fn parse_length(text: &str, bare: Unit, material: Option<Material>) -> Result<Length, LengthTextError> {
    read_length(text, bare, material).map(|read| read.length)
}

/// Reads `3.65mm`, `0.224in`, `.224"`, `7/32in`, `7/32` (always inch), `1 1/2in`, `#2`, `B` (drills), `16ga` (with a
/// material, or as `16ga galv`), or a bare number, which takes the unit `bare`. A decimal comma is read where it
/// cannot be a thousands mark. Negative lengths are refused.
///
/// ```
/// use boreband::trade::{Material, read_length};
/// use boreband::units::Unit;
/// let mm = |text: &str| read_length(text, Unit::Mm, Some(Material::LowCarbonSteel)).unwrap().length.mm();
/// assert_eq!(mm("3,65 mm"), 3.65);
/// assert!((mm("7/32") - 5.55625).abs() < 1e-9);
/// assert!((mm("16ga") - 0.0598 * 25.4).abs() < 1e-9);
/// assert!(read_length("16ga", Unit::Mm, None).unwrap_err().to_string().contains("material"));
/// ```
///
/// # Errors
/// [`LengthTextError`] that says what was expected.
pub fn read_length(
    text: &str,
    bare: Unit,
    material: Option<Material>,
) -> Result<LengthText, LengthTextError> {
    let given = text.trim();
    let fault = |expected: String| LengthTextError { given: given.to_owned(), expected };
    let upper = given.to_uppercase().replace(['”', '″'], "\"");
    let inches = |length| LengthText { length, unit: Some(Unit::Inch), decimals: 0 };
    if let Some(found) = gauge_text(&upper, material) {
        return found.map(inches).map_err(fault);
    }
    if is_drill(&upper) {
        let drill =
            drill_by_name(&upper).ok_or_else(|| fault("expected a drill of #80 to #1 or A to Z".into()))?;
        return Ok(inches(drill.diameter));
    }
    let (body, unit) = split_unit(&upper);
    if body.starts_with('-') {
        return Err(fault("expected a length of 0 or more".to_owned()));
    }
    if body.contains('/') {
        let value =
            fraction(body).ok_or_else(|| fault("expected a fraction such as 7/32 or 1 1/2".into()))?;
        if unit == Some(Unit::Mm) {
            return Err(fault("expected a decimal number of mm; fractions are inches".to_owned()));
        }
        return Length::new(value, Unit::Inch).map(inches).map_err(|e| fault(e.to_string()));
    }
    let (value, decimals) = decimal(body).map_err(fault)?;
    let length = Length::new(value, unit.unwrap_or(bare)).map_err(|e| fault(e.to_string()))?;
    Ok(LengthText { length, unit, decimals })
}

/// Whether the text has the form of a drill's name.
fn is_drill(upper: &str) -> bool {
    let letter = upper.len() == 1 && upper.chars().all(|c| c.is_ascii_uppercase());
    letter || upper.starts_with('#') || upper.starts_with("NO")
}

/// The number and its unit.
fn split_unit(upper: &str) -> (&str, Option<Unit>) {
    let ends: [(&str, Unit); 8] = [
        ("MILLIMETRES", Unit::Mm),
        ("MM", Unit::Mm),
        ("INCHES", Unit::Inch),
        ("INCH", Unit::Inch),
        ("IN.", Unit::Inch),
        ("IN", Unit::Inch),
        ("''", Unit::Inch),
        ("\"", Unit::Inch),
    ];
    let found = ends.iter().find_map(|(end, unit)| Some((upper.strip_suffix(end)?, *unit)));
    found.map_or((upper, None), |(body, unit)| (body.trim(), Some(unit)))
}

/// A decimal number and its places. Refuses what could be a thousands mark.
fn decimal(body: &str) -> Result<(f64, u8), String> {
    let expected = "expected a length such as 3.65mm, .224in, 7/32in, #2, B or 16ga";
    let digits = body.chars().filter(char::is_ascii_digit).count();
    let marks = body.chars().filter(|c| matches!(c, '.' | ',')).count();
    if digits == 0 || digits + marks != body.chars().count() || marks > 1 {
        return Err(expected.to_owned());
    }
    let places = body.split(['.', ',']).nth(1).map_or(0, str::len);
    let whole = body.split(['.', ',']).next().unwrap_or_default();
    if body.contains(',') && places == 3 && whole.chars().any(|c| c != '0') {
        return Err(format!(
            "the comma could mark thousands: expected {} or another unit",
            body.replace(',', ".")
        ));
    }
    let value: f64 = body.replace(',', ".").parse().map_err(|_| expected.to_owned())?;
    Ok((value, u8::try_from(places).unwrap_or(u8::MAX)))
}

/// `7/32`, `1 1/2`, `1-1/2`.
fn fraction(body: &str) -> Option<f64> {
    let (front, below) = body.split_once('/')?;
    let whole_and_top: Vec<&str> = front.split([' ', '-']).filter(|p| !p.is_empty()).collect();
    let value = |text: &str| text.parse::<u32>().ok().map(f64::from);
    let (whole, top) = match whole_and_top.as_slice() {
        [top] => (0.0, value(top)?),
        [whole, top] => (value(whole)?, value(top)?),
        _ => return None,
    };
    let below = value(below.trim()).filter(|b| *b > 0.0)?;
    Some(whole + top / below)
}

/// A sheet gauge; none if the text is no gauge.
fn gauge_text(upper: &str, material: Option<Material>) -> Option<Result<Length, String>> {
    let galvanized = upper.contains("GALV");
    let words = upper.split("GALV").next().unwrap_or_default().trim().trim_end_matches('.').trim();
    let ends = ["GAUGE", "GAGE", "GA", "GG"];
    let number = ends.iter().find_map(|e| words.strip_suffix(e).or_else(|| words.strip_prefix(e)))?;
    let number: u8 = number.trim_matches(|c: char| c == ' ' || c == '.' || c == '-').parse().ok()?;
    let metal = if galvanized { Some(SheetMetal::Galvanized) } else { material.and_then(SheetMetal::of) };
    Some(match metal {
        None => Err("a gauge needs a sheet material (steel, stainless, aluminium)".to_owned()),
        Some(metal) => gauge(number, metal)
            .map(|g| g.thickness)
            .ok_or_else(|| "expected a gauge of 3 to 30 (8 to 30 for galvanized and stainless)".to_owned()),
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn forms_that_people_write() {
        let steel = Some(Material::LowCarbonSteel);
        for (text, bare, mm) in [
            ("3.65mm", Unit::Inch, 3.65),
            ("3.65 mm", Unit::Inch, 3.65),
            ("3.65", Unit::Mm, 3.65),
            ("3,65", Unit::Mm, 3.65),
            ("0,224in", Unit::Mm, 0.224 * 25.4),
            ("0.224in", Unit::Mm, 0.224 * 25.4),
            (".224\"", Unit::Mm, 0.224 * 25.4),
            (".224 inch", Unit::Mm, 0.224 * 25.4),
            (".224", Unit::Inch, 0.224 * 25.4),
            ("7/32in", Unit::Mm, 7.0 / 32.0 * 25.4),
            ("7/32", Unit::Mm, 7.0 / 32.0 * 25.4),
            ("1 1/2in", Unit::Mm, 38.1),
            ("1-1/2\"", Unit::Mm, 38.1),
            ("#2", Unit::Mm, 0.221 * 25.4),
            ("No. 2", Unit::Mm, 0.221 * 25.4),
            ("B", Unit::Mm, 0.238 * 25.4),
            ("b", Unit::Mm, 0.238 * 25.4),
            ("16ga", Unit::Mm, 0.0598 * 25.4),
            ("16 GA.", Unit::Mm, 0.0598 * 25.4),
            ("GA 16", Unit::Mm, 0.0598 * 25.4),
            ("16 gauge", Unit::Mm, 0.0598 * 25.4),
            ("16ga galv", Unit::Mm, 0.0635 * 25.4),
            ("0", Unit::Mm, 0.0),
            ("5", Unit::Mm, 5.0),
        ] {
            let read = read_length(text, bare, steel).unwrap_or_else(|e| panic!("{e}"));
            assert!((read.length.mm() - mm).abs() < 1e-9, "{text}: {}", read.length.mm());
        }
        let read = read_length(".2240", Unit::Inch, None).expect("a bare number");
        assert_eq!((read.unit, read.decimals), (None, 4));
    }

    #[test]
    fn faults_say_what_was_expected() {
        for (text, expected) in [
            ("", "such as 3.65mm"),
            ("abc", "such as 3.65mm"),
            ("3.6.5", "such as 3.65mm"),
            ("1e5", "such as 3.65mm"),
            ("nan", "such as 3.65mm"),
            ("inf", "such as 3.65mm"),
            ("mm", "such as 3.65mm"),
            ("-1", "0 or more"),
            ("1,500", "thousands"),
            ("7/0", "fraction"),
            ("7/32mm", "fractions are inches"),
            ("#99", "drill"),
            ("16ga", "material"),
            ("3 65", "such as 3.65mm"),
        ] {
            let fault = read_length(text, Unit::Mm, None).expect_err(text);
            assert!(fault.expected.contains(expected), "{text}: {}", fault.expected);
        }
        let fault = read_length("99ga", Unit::Mm, Some(Material::StainlessSteel)).expect_err("no such gauge");
        assert!(fault.expected.contains("gauge of 3 to 30"));
        assert!(read_length("16ga", Unit::Mm, Some(Material::ZincDieCast)).is_err());
    }
}
