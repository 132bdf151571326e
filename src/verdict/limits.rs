//! Which diameter and which tolerance a hole is judged by, and where each was stated. Judges nothing.

use super::{DiameterSource, Limits, ToleranceSource};
use crate::callout::note::GeneralTolerance;
use crate::decimals::trimmed;
use crate::joint::{StatedSize, Tolerance};
use crate::pairing::{Hole, Paired};
use crate::shared::SharedText;
use crate::trade::{Deviations, fit, iso2768, process_typical};
use crate::units::{Length, Unit};

/// A list's limits that leave out the callout's nominal by more than this contradict it (mm).
const ROUNDING_MM: f64 = 0.01;

/// Smallest and largest hole, and in words where that comes from if no place states it for this size.
type Range = (Length, Length, SharedText);

/// The size of a hole: the callout's, else the list's, else the drawn circle over its view's scale; with the
/// callout's tolerance, else the list's, else the drawing's general one, else the process's typical one.
pub(super) fn of(hole: &Hole, paired: &Paired) -> Limits {
    let drawing_unit = paired.unit.unit;
    let called = hole.called.as_ref().and_then(nominal).map(|n| (n, DiameterSource::Callout));
    let listed = hole.listed.as_ref().and_then(nominal).map(|n| (n, DiameterSource::List));
    let (nominal, source) = called.or(listed).unwrap_or((drawn(hole), DiameterSource::Drawn));
    let size = match source {
        DiameterSource::Callout => hole.called.as_ref(),
        DiameterSource::List => hole.listed.as_ref(),
        DiameterSource::Drawn => None,
    };
    let unit = size.and_then(|s| s.unit).unwrap_or(drawing_unit);
    let mut remarks = Vec::new();
    let stated = [
        (hole.called.as_ref(), ToleranceSource::Callout, DiameterSource::Callout),
        (hole.listed.as_ref(), ToleranceSource::List, DiameterSource::List),
    ];
    let stated = stated.into_iter().find_map(|(size, from, own)| {
        let tolerance = size?.tolerance.as_ref()?;
        match range(tolerance, nominal, own == source, unit) {
            Ok(range) => Some((range, from)),
            Err(remark) => {
                remarks.push(format!("{remark} ({})", from.name()));
                None
            }
        }
    });
    let general = || {
        let found = general(&paired.sheet.tolerances, size, nominal, drawing_unit)?;
        Some((around(nominal, found), ToleranceSource::Drawing))
    };
    let typical = || {
        let found = process_typical(hole.making.process?, hole.making.material, nominal, unit)?;
        let text = format!("{} ({}, {})", found.text, found.source, found.status.words()).into();
        Some((around(nominal, Deviations { text, ..found }), ToleranceSource::Process))
    };
    // `MAX` or `MIN` puts the general tolerance aside and leaves one limit open.
    let open = |size: &Option<StatedSize>| {
        let tolerance = size.as_ref().and_then(|s| s.tolerance.as_ref());
        matches!(tolerance, Some(Tolerance::Largest | Tolerance::Smallest))
    };
    let open = open(&hole.called) || open(&hole.listed);
    let assumed = || if open { None } else { general().or_else(typical) };
    let none = || {
        let text = if open { "" } else { "none stated" };
        ((nominal, nominal, text.into()), ToleranceSource::None)
    };
    let ((min, max, text), tolerance_source) = stated.or_else(assumed).unwrap_or_else(none);
    let tolerance_text = if remarks.is_empty() {
        text
    } else {
        remarks.insert(0, text.to_string());
        remarks.retain(|text| !text.is_empty());
        remarks.join("; ").into()
    };
    Limits { nominal, min, max, source, tolerance_source, tolerance_text }
}

/// The nominal of a stated size; the middle where only limits are stated.
fn nominal(size: &StatedSize) -> Option<Length> {
    size.nominal.or(match &size.tolerance {
        Some(Tolerance::Limits { min, max }) => Some((*min + *max) / 2.0),
        _ => None,
    })
}

/// The drawn circle in true size.
fn drawn(hole: &Hole) -> Length {
    if hole.view_scale.is_finite() && hole.view_scale > 0.0 {
        hole.drawn / hole.view_scale
    } else {
        hole.drawn
    }
}

/// The limits that a stated tolerance gives. `own` is whether the same place states the nominal: limits of
/// another place must enclose it.
fn range(tolerance: &Tolerance, nominal: Length, own: bool, unit: Unit) -> Result<Range, String> {
    let stated = |min, max| Ok((min, max, SharedText::default()));
    match tolerance {
        Tolerance::PlusMinus { plus, minus } => stated(nominal - *minus, nominal + *plus),
        Tolerance::Limits { min, max } => {
            let (min, max) = (min.min(*max), min.max(*max));
            let slack = Length::mm_const(ROUNDING_MM);
            if own || (nominal >= min - slack && nominal <= max + slack) {
                stated(min, max)
            } else {
                let limits = [min, max, nominal].map(|length| number(length, unit));
                Err(format!("limits {} to {} leave out the nominal {}", limits[0], limits[1], limits[2]))
            }
        }
        Tolerance::Fit(name) => match fit(name, nominal) {
            Some(found) => stated(nominal, nominal + found.upper),
            None => Err(format!("fit {name} is not known for {} mm", number(nominal, Unit::Mm))),
        },
        Tolerance::Largest => {
            Err(format!("{} is the largest size and no smallest is stated", number(nominal, unit)))
        }
        Tolerance::Smallest => {
            Err(format!("{} is the smallest size and no largest is stated", number(nominal, unit)))
        }
    }
}

/// The limits around a nominal.
fn around(nominal: Length, found: Deviations) -> Range {
    (nominal - found.minus, nominal + found.plus, found.text)
}

/// The drawing's general tolerance for a size: by its decimals, else by ISO 2768, else the flat one. A drawn
/// circle has no decimals.
fn general(
    tolerances: &[GeneralTolerance],
    size: Option<&StatedSize>,
    nominal: Length,
    unit: Unit,
) -> Option<Deviations> {
    let flat = |q: crate::callout::Quantity, why: &str| {
        let way = q.length(unit)?.abs();
        let text = ["±", &number(way, unit), " ", unit.name(), ", ", why].concat().into();
        let status = crate::trade::Status::User;
        Some(Deviations { plus: way, minus: way, text, source: "title block".into(), status })
    };
    let decimals = tolerances.iter().find_map(|t| match t {
        GeneralTolerance::Decimals { places, plus_minus } if size?.decimals == *places => {
            flat(*plus_minus, "general tolerance by decimals")
        }
        _ => None,
    });
    let iso = || {
        tolerances.iter().find_map(|t| match t {
            GeneralTolerance::Iso2768(class) => iso2768(*class, nominal),
            _ => None,
        })
    };
    let all = || {
        tolerances.iter().find_map(|t| match t {
            GeneralTolerance::Flat(q) => flat(*q, "general tolerance"),
            _ => None,
        })
    };
    decimals.or_else(iso).or_else(all)
}

/// A length in a unit, without trailing zeros.
fn number(length: Length, unit: Unit) -> String {
    let places = if unit == Unit::Mm { 4 } else { 5 };
    trimmed(length.value_in(unit), places)
}
