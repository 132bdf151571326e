//! Numbers as a drafter of that drawing writes them: mm with three decimals, inch with four and no leading zero.
//! Converts what the report holds in mm into the drawing's unit, for showing only.

use crate::check::{
    BandResult, CapabilityResult, CoatingResult, DiameterResult, EngagementResult, HoleResult,
};
use crate::decimals;
use crate::rules::words::share;
use crate::units::Unit;

/// The unit of a drawing, by the name that a report gives it.
pub(in crate::report) fn unit_named(name: &str) -> Unit {
    if name == Unit::Inch.name() { Unit::Inch } else { Unit::Mm }
}

/// A hole's numbers, ready to be shown.
#[derive(Debug, PartialEq, Eq)]
pub(in crate::report) struct Shown {
    /// `Ø3.554 to Ø3.636`, where a band holds.
    pub(in crate::report) allowed: Option<String>,
    /// `Ø3.300 +0.050/0`.
    pub(in crate::report) found: String,
    /// `0.254 too small`, where a limit or the nominal is outside.
    pub(in crate::report) difference: Option<String>,
    /// `154 % to 143 % (rolled)`.
    pub(in crate::report) engagement: Option<String>,
    /// `band 80 to 98 %`.
    pub(in crate::report) band: Option<String>,
    /// `coated Ø3.490, 77 % before`, where a coating is on a stated hole.
    pub(in crate::report) coated: Option<String>,
    /// `4.5 % expected outside`, where a share is known.
    pub(in crate::report) expected: Option<String>,
}

/// The numbers of a hole with enough decimals that what is outside a limit also looks it.
pub(in crate::report) fn shown(hole: &HoleResult, unit: Unit) -> Shown {
    let d = &hole.diameter;
    let met = &met(hole);
    let places = places_for(met, hole.band.as_ref(), unit);
    Shown {
        allowed: hole.band.as_ref().map(|b| {
            format!("{} to {}", diameter(b.hole_min_mm, unit, places), diameter(b.hole_max_mm, unit, places))
        }),
        found: with_tolerance(d, unit, places),
        // Of two holes that it may be, none is the difference.
        difference: hole
            .band
            .as_ref()
            .filter(|_| !stage_unknown(hole))
            .and_then(|b| difference(met, b, unit, places)),
        engagement: hole.engagement.as_ref().map(|e| engagement(e, hole.band.as_ref())),
        band: hole.band.as_ref().map(|b| format!("band {} to {} %", trimmed(b.min, 2), trimmed(b.max, 2))),
        coated: hole.coating.as_ref().and_then(|c| coated(c, unit, places)),
        expected: hole.capability.as_deref().map(expected),
    }
}

/// What the coating makes of the stated hole; nothing where that is the one after it.
fn coated(coating: &CoatingResult, unit: Unit, places: usize) -> Option<String> {
    let after = diameter(coating.after_mm, unit, places);
    let before = trimmed(coating.engagement_before.nominal, 0);
    match coating.stated.as_str() {
        "before" => Some(format!("coated {after}, {before} % before")),
        "unknown" => {
            let then = trimmed(coating.engagement_after.nominal, 0);
            Some(format!("coated {after}, {then} %, if that is before coating"))
        }
        _ => None,
    }
}

/// Whether it is not said of a coated hole when its size holds.
fn stage_unknown(hole: &HoleResult) -> bool {
    hole.coating.as_ref().is_some_and(|coating| coating.stated == "unknown")
}

/// The hole that the screw meets: the coated one where a coating is stated; from the smallest that it may be where it
/// is not said whether the size is before coating.
pub(in crate::report) fn met(hole: &HoleResult) -> DiameterResult {
    let d = &hole.diameter;
    let by = hole.coating.as_ref().map_or(0.0, |c| c.after_mm - d.nominal_mm);
    if stage_unknown(hole) {
        return DiameterResult { min_mm: d.min_mm + by, ..d.clone() };
    }
    DiameterResult {
        nominal_mm: d.nominal_mm + by,
        min_mm: d.min_mm + by,
        max_mm: d.max_mm + by,
        ..d.clone()
    }
}

/// The expected share outside the band, and whose spread it is.
fn expected(capability: &CapabilityResult) -> String {
    let whose = if capability.source == "measured" { "measured" } else { "typical of the process" };
    format!("{} expected outside ({whose})", share(capability.outside / 100.0))
}

/// A length without trailing zeros and with its unit: `1.5 mm`, `.0598 in`.
pub(in crate::report) fn length(mm: f64, unit: Unit) -> String {
    let text = trimmed(mm / unit.in_mm(), usual_places(unit));
    format!("{} {unit}", without_zero(text, unit))
}

/// A coordinate of the drawing.
pub(in crate::report) fn coordinate(value: f64, unit: Unit) -> String {
    without_zero(fixed(value, usual_places(unit)), unit)
}

/// A number with at most `places` decimals and no trailing zeros.
pub(in crate::report) fn trimmed(value: f64, places: usize) -> String {
    unsigned_zero(decimals::trimmed(value, places))
}

const fn usual_places(unit: Unit) -> usize {
    match unit {
        Unit::Mm => 3,
        Unit::Inch => 4,
    }
}

/// Fixed decimals, without a sign on zero.
fn fixed(value: f64, places: usize) -> String {
    unsigned_zero(decimals::fixed(value, places))
}

fn unsigned_zero(text: String) -> String {
    match text.strip_prefix('-') {
        Some(rest) if rest.bytes().all(|b| matches!(b, b'0' | b'.')) => rest.to_owned(),
        _ => text,
    }
}

fn without_zero(text: String, unit: Unit) -> String {
    match (unit, text.strip_prefix("0."), text.strip_prefix("-0.")) {
        (Unit::Inch, Some(rest), _) => format!(".{rest}"),
        (Unit::Inch, _, Some(rest)) => format!("-.{rest}"),
        _ => text,
    }
}

pub(in crate::report) fn value(mm: f64, unit: Unit, places: usize) -> String {
    without_zero(fixed(mm / unit.in_mm(), places), unit)
}

pub(in crate::report) fn diameter(mm: f64, unit: Unit, places: usize) -> String {
    format!("Ø{}", value(mm, unit, places))
}

fn with_tolerance(d: &DiameterResult, unit: Unit, places: usize) -> String {
    let nominal = diameter(d.nominal_mm, unit, places);
    let (plus, minus) = (d.max_mm - d.nominal_mm, d.nominal_mm - d.min_mm);
    let shown = |mm: f64| value(mm, unit, places);
    if d.tolerance_source == "none" {
        nominal
    } else if shown(plus) == shown(minus) {
        format!("{nominal} ±{}", shown(plus))
    } else {
        format!("{nominal} {}/{}", signed('+', plus, unit, places), signed('-', minus, unit, places))
    }
}

/// A deviation with its sign; metric practice writes nothing but `0` for none, inch practice all its decimals.
fn signed(sign: char, mm: f64, unit: Unit, places: usize) -> String {
    let text = value(mm, unit, places);
    let none = text.chars().all(|c| matches!(c, '0' | '.'));
    match (none, unit) {
        (true, Unit::Mm) => "0".to_owned(),
        _ if text.starts_with('-') => text.replacen('-', if sign == '+' { "-" } else { "+" }, 1),
        _ => format!("{sign}{text}"),
    }
}

/// How far the nominal, or else a limit of size, is outside what is allowed.
fn difference(d: &DiameterResult, band: &BandResult, unit: Unit, places: usize) -> Option<String> {
    let by = |mm: f64| value(mm, unit, places);
    let mut says = Vec::new();
    if d.nominal_mm < band.hole_min_mm - SAME_MM {
        says.push(format!("{} too small", by(band.hole_min_mm - d.nominal_mm)));
    } else if d.nominal_mm > band.hole_max_mm + SAME_MM {
        says.push(format!("{} too large", by(d.nominal_mm - band.hole_max_mm)));
    } else {
        if d.min_mm < band.hole_min_mm - SAME_MM {
            says.push(format!("smallest {} too small", by(band.hole_min_mm - d.min_mm)));
        }
        if d.max_mm > band.hole_max_mm + SAME_MM {
            says.push(format!("largest {} too large", by(d.max_mm - band.hole_max_mm)));
        }
    }
    (!says.is_empty()).then(|| says.join(", "))
}

/// Diameters nearer than this are the same, as for verdicts; twice that, because a report is rounded to 1e-6 mm.
const SAME_MM: f64 = 2e-6;

fn engagement(e: &EngagementResult, band: Option<&BandResult>) -> String {
    let places = engagement_places(e, band);
    let (most, least) = (trimmed(e.at_min, places), trimmed(e.at_max, places));
    if most == least {
        format!("{most} % ({})", e.basis)
    } else {
        format!("{most} % to {least} % ({})", e.basis)
    }
}

fn engagement_places(e: &EngagementResult, band: Option<&BandResult>) -> usize {
    let Some(band) = band else { return 0 };
    let edges = [band.min, band.max];
    (0..2).find(|p| order_kept(&[e.at_min, e.at_max], &edges, *p, 1.0)).unwrap_or(2)
}

pub(in crate::report) fn places_for(d: &DiameterResult, band: Option<&BandResult>, unit: Unit) -> usize {
    let usual = usual_places(unit);
    let Some(band) = band else { return usual };
    let edges = [band.hole_min_mm, band.hole_max_mm];
    let found = [d.nominal_mm, d.min_mm, d.max_mm];
    (usual..usual + 3).find(|p| order_kept(&found, &edges, *p, unit.in_mm())).unwrap_or(usual + 3)
}

/// Whether values that differ from an edge still differ from it when rounded.
fn order_kept(values: &[f64], edges: &[f64], places: usize, scale: f64) -> bool {
    let rounded = |v: f64| fixed(v / scale, places);
    values.iter().all(|v| edges.iter().all(|e| (v - e).abs() <= SAME_MM || rounded(*v) != rounded(*e)))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::shared::SharedText;

    fn size(d: &DiameterResult, unit: Unit) -> String {
        with_tolerance(d, unit, usual_places(unit))
    }

    fn hole(nominal: f64, min: f64, max: f64) -> DiameterResult {
        DiameterResult {
            nominal_mm: nominal,
            min_mm: min,
            max_mm: max,
            source: "callout".into(),
            tolerance_source: "callout".into(),
        }
    }

    #[test]
    fn metric_sizes() {
        assert_eq!(size(&hole(3.3, 3.3, 3.35), Unit::Mm), "Ø3.300 +0.050/0");
        assert_eq!(size(&hole(3.3, 3.2, 3.4), Unit::Mm), "Ø3.300 ±0.100");
        assert_eq!(size(&hole(3.3, 3.25, 3.4), Unit::Mm), "Ø3.300 +0.100/-0.050");
        assert_eq!(length(1.5, Unit::Mm), "1.5 mm");
        assert_eq!(coordinate(-0.0, Unit::Mm), "0.000");
    }

    #[test]
    fn inch_sizes_have_no_leading_zero() {
        // .224 in = 5.6896 mm, .003 in = 0.0762 mm, 16 ga steel .0598 in = 1.51892 mm (exact 25.4)
        assert_eq!(size(&hole(5.6896, 5.6896, 5.7658), Unit::Inch), "Ø.2240 +.0030/-.0000");
        assert_eq!(length(1.51892, Unit::Inch), ".0598 in");
        assert_eq!(coordinate(-0.5, Unit::Inch), "-.5000");
        assert_eq!(coordinate(12.25, Unit::Inch), "12.2500");
    }

    #[test]
    fn both_deviations_on_one_side() {
        assert_eq!(size(&hole(5.0, 5.1, 5.2), Unit::Mm), "Ø5.000 +0.200/+0.100");
        assert_eq!(size(&hole(5.0, 4.8, 4.9), Unit::Mm), "Ø5.000 -0.100/-0.200");
    }

    #[test]
    fn decimals_grow_until_the_difference_shows() {
        let band = BandResult {
            min: 80.0,
            target: 90.0,
            max: 98.0,
            hole_min_mm: 3.55443,
            hole_max_mm: 3.63627,
            source: SharedText::default(),
            status: SharedText::default(),
        };
        let d = hole(3.5544, 3.5544, 3.5544);
        assert_eq!(places_for(&d, Some(&band), Unit::Mm), 5);
        assert_eq!(difference(&d, &band, Unit::Mm, 5).as_deref(), Some("0.00003 too small"));
        assert_eq!(places_for(&hole(3.3, 3.3, 3.35), Some(&band), Unit::Mm), 3);
        let e = EngagementResult { basis: "rolled".into(), nominal: 98.4, at_min: 98.4, at_max: 90.0 };
        assert_eq!(engagement(&e, Some(&band)), "98.4 % to 90 % (rolled)");
    }
}
