//! A measured value written as the dimension's style writes it: sign, prefix, decimals, tolerance, suffix.

use super::{StyleText, places};
use crate::decimals::{fixed, trimmed};
use crate::drawing::DimensionKind;

/// DIMZIN bits for decimal values.
const NO_LEADING_ZERO: i64 = 4;
const NO_TRAILING_ZEROS: i64 = 8;

/// DIMLUNIT values that write fractions.
const ARCHITECTURAL: i64 = 4;
const FRACTIONAL: i64 = 5;

/// Factor to alternate units where none is stated (mm in an inch).
const DEFAULT_ALTERNATE_FACTOR: f64 = 25.4;

/// The value with everything that the style adds to it.
pub(super) fn value(kind: DimensionKind, measured: f64, length_factor: f64, style: &StyleText) -> String {
    if kind == DimensionKind::Angular {
        return angle(measured, style);
    }
    let stated = measured * length_factor;
    let (prefix, suffix) = match style.post.split_once("<>") {
        Some((prefix, suffix)) => (prefix, suffix),
        None => ("", style.post.as_str()),
    };
    let sign = match kind {
        _ if !prefix.is_empty() => prefix,
        DimensionKind::Diameter => "Ø",
        DimensionKind::Radius => "R",
        _ => "",
    };
    let alternate = alternate(stated, style).map_or(String::new(), |text| format!(" [{text}]"));
    if style.values.tolerance.unwrap_or(0) == 0 && style.values.limits.unwrap_or(0) != 0 {
        return format!("{sign}{}{suffix}{alternate}", limits(stated, style));
    }
    let number = length(stated, style);
    let tolerance = if style.values.tolerance.unwrap_or(0) != 0 { plus_minus(style) } else { String::new() };
    format!("{sign}{number}{tolerance}{suffix}{alternate}")
}

/// The value in alternate units, where the style shows them.
pub(super) fn alternate(stated: f64, style: &StyleText) -> Option<String> {
    if style.values.alternate.unwrap_or(0) == 0 {
        return None;
    }
    let factor = style.values.alternate_factor.unwrap_or(DEFAULT_ALTERNATE_FACTOR);
    let number = decimal(
        stated * factor,
        places(style.values.alternate_decimals.unwrap_or(2)),
        style.values.zeros.unwrap_or(0),
        style,
    );
    Some(match style.alternate_post.split_once("[]") {
        Some((prefix, suffix)) => format!("{prefix}{number}{suffix}"),
        None => number + &style.alternate_post,
    })
}

fn angle(degrees: f64, style: &StyleText) -> String {
    let decimals = match style.values.angle_decimals {
        Some(stated) if stated >= 0 => places(stated),
        Some(_) => style.decimals(),
        None => 0,
    };
    format!("{}°", decimal(degrees, decimals, 0, style))
}

/// The places with which a text shows the measured value: those of the finest number in it that is this value.
pub(super) fn places_shown(text: &str, stated: f64, style: &StyleText) -> Option<usize> {
    let value = rounded(stated, style);
    text.split(|c: char| !c.is_ascii_digit() && c != '.' && c != ',')
        .filter_map(|word| {
            let number = word.trim_end_matches(['.', ',']).replace(',', ".");
            let places = number.split_once('.').map_or(0, |(_, after)| after.len());
            let half_step = 0.5 * 0.1_f64.powi(i32::try_from(places).ok()?);
            let shown: f64 = number.parse().ok()?;
            ((shown - value).abs() <= half_step * (1.0 + 1e-6)).then_some(places)
        })
        .max()
}

/// DIMZIN without the bit that leaves trailing zeros off, for a value whose places are known as written.
pub(super) const fn with_trailing_zeros(zeros: i64) -> i64 {
    zeros & !NO_TRAILING_ZEROS
}

fn rounded(stated: f64, style: &StyleText) -> f64 {
    match style.values.round {
        Some(step) if step > 0.0 => (stated / step).round() * step,
        _ => stated,
    }
}

fn length(stated: f64, style: &StyleText) -> String {
    let rounded = rounded(stated, style);
    match style.values.units {
        Some(ARCHITECTURAL | FRACTIONAL) => fraction(rounded, style.decimals()),
        _ => decimal(rounded, style.decimals(), style.values.zeros.unwrap_or(0), style),
    }
}

/// Upper over lower limit.
fn limits(stated: f64, style: &StyleText) -> String {
    let (plus, minus) = (style.values.plus.unwrap_or(0.0), style.values.minus.unwrap_or(0.0));
    let zeros = style.values.zeros.unwrap_or(0);
    let one = |v: f64| decimal(v, tolerance_places(style), zeros, style);
    format!("{}/{}", one(stated + plus), one(stated - minus))
}

fn plus_minus(style: &StyleText) -> String {
    let (plus, minus) = (style.values.plus.unwrap_or(0.0), style.values.minus.unwrap_or(0.0));
    let zeros = style.values.tolerance_zeros.or(style.values.zeros);
    let one = |v: f64| decimal(v.abs(), tolerance_places(style), zeros.unwrap_or(0), style);
    if plus == minus {
        return format!(" ±{}", one(plus));
    }
    let signed = |v: f64| {
        let sign = if v > 0.0 {
            "+"
        } else if v < 0.0 {
            "-"
        } else {
            ""
        };
        format!("{sign}{}", one(v))
    };
    format!(" {}/{}", signed(plus), signed(-minus))
}

fn tolerance_places(style: &StyleText) -> usize {
    style.values.tolerance_decimals.map_or(style.decimals(), places)
}

fn decimal(value: f64, decimals: usize, zeros: i64, style: &StyleText) -> String {
    let write = if zeros & NO_TRAILING_ZEROS != 0 { trimmed } else { fixed };
    let mut text = write(value, decimals);
    if zeros & NO_LEADING_ZERO != 0 {
        if let Some(rest) = text.strip_prefix("0.") {
            text = format!(".{rest}");
        } else if let Some(rest) = text.strip_prefix("-0.") {
            text = format!("-.{rest}");
        }
    }
    match style.values.separator.and_then(|c| u8::try_from(c).ok()) {
        Some(separator) if separator.is_ascii_punctuation() && separator != b'.' => {
            text.replace('.', &char::from(separator).to_string())
        }
        _ => text,
    }
}

/// A value as a whole number and a reduced fraction; `power` is the power of two of the finest denominator.
fn fraction(value: f64, power: usize) -> String {
    let finest = 1_i64 << power.min(8);
    let mut parts = (value.abs() * finest as f64).round() as i64;
    let mut below = finest;
    let whole = parts / below;
    parts %= below;
    while parts != 0 && parts % 2 == 0 {
        parts /= 2;
        below /= 2;
    }
    let sign = if value < 0.0 { "-" } else { "" };
    match (whole, parts) {
        (_, 0) => format!("{sign}{whole}"),
        (0, _) => format!("{sign}{parts}/{below}"),
        _ => format!("{sign}{whole} {parts}/{below}"),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::dxf::raw::StyleValues;

    fn style(post: &str, decimals: i64, values: StyleValues<'static>) -> StyleText {
        StyleText { post: post.to_owned(), alternate_post: String::new(), decimals: Some(decimals), values }
    }

    /// Expected texts: what the DXF reference says of each variable, by hand.
    #[test]
    fn styles_write_the_value() {
        use DimensionKind::{Angular, Diameter, Linear, Radius};
        let plain = StyleValues::default;
        let tolerance = |plus: f64, minus: f64| StyleValues {
            tolerance: Some(1),
            plus: Some(plus),
            minus: Some(minus),
            ..plain()
        };
        let cases = [
            (Diameter, 3.65, style("", 2, plain()), "Ø3.65"),
            (Radius, 3.65, style("", 1, plain()), "R3.6"),
            (Linear, 3.65, style("4X Ø<> THRU", 2, plain()), "4X Ø3.65 THRU"),
            (Linear, 3.65, style(" mm", 2, plain()), "3.65 mm"),
            (Diameter, 3.6, style("", 2, tolerance(0.05, 0.0)), "Ø3.60 +0.05/0.00"),
            (Diameter, 3.6, style("", 2, tolerance(0.05, 0.05)), "Ø3.60 ±0.05"),
            (Diameter, 3.6, style("", 2, tolerance(0.1, -0.05)), "Ø3.60 +0.10/+0.05"),
            (Angular, 90.0, style("", 2, plain()), "90°"),
        ];
        for (kind, measured, style, text) in cases {
            assert_eq!(value(kind, measured, 1.0, &style), text);
        }
        let zeros = StyleValues { zeros: Some(12), separator: Some(44), ..plain() };
        assert_eq!(value(Linear, 0.5, 1.0, &style("", 3, zeros)), ",5");
        let limits =
            StyleValues { limits: Some(1), plus: Some(0.003), minus: Some(0.0), zeros: Some(4), ..plain() };
        assert_eq!(value(Diameter, 0.224, 1.0, &style("", 3, limits)), "Ø.227/.224");
        let fractions = StyleValues { units: Some(5), ..plain() };
        assert_eq!(value(Diameter, 0.21875, 1.0, &style("", 6, fractions)), "Ø7/32");
        let alternate = StyleValues { alternate: Some(1), ..plain() };
        assert_eq!(value(Linear, 1.0, 2.0, &style("", 1, alternate)), "2.0 [50.80]");
    }
}
