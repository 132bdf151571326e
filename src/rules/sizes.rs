//! When two statements of a size disagree. Shared by the rules that compare them.

use crate::joint::{StatedSize, Tolerance};
use crate::units::{Length, Unit};

/// Two lengths nearer than this are one length written twice (mm).
pub(super) const SAME: Length = Length::mm_const(1e-6);

/// Half of the last decimal that a size is written with; nothing for a whole number, which drafters mean exactly.
pub(super) fn half_of_last_decimal(size: &StatedSize, drawing_unit: Unit) -> Length {
    if size.decimals == 0 {
        return Length::ZERO;
    }
    let step = 10_f64.powi(-i32::from(size.decimals));
    Length::new(step / 2.0, size.unit.unwrap_or(drawing_unit)).unwrap_or(Length::ZERO)
}

/// Limits that a size states itself; its nominal twice where it states no tolerance or a fit.
pub(super) fn limits(size: &StatedSize) -> Option<(Length, Length)> {
    match (&size.tolerance, size.nominal) {
        (Some(Tolerance::Limits { min, max }), _) => Some((*min, *max)),
        (Some(Tolerance::PlusMinus { plus, minus }), Some(nominal)) => {
            Some((nominal - *minus, nominal + *plus))
        }
        (_, nominal) => nominal.map(|nominal| (nominal, nominal)),
    }
}

/// The nominal, or the middle of the limits where only they are stated.
pub(super) fn nominal(size: &StatedSize) -> Option<Length> {
    size.nominal.or_else(|| limits(size).map(|(min, max)| (min + max) / 2.0))
}

/// Whether two written sizes differ beyond what their rounding explains. In one unit the finer writing counts, so
/// that 3.6 and 3.65 differ; across units the coarser one does, so that .224 and 5.69 do not.
pub(super) fn differ(a: &StatedSize, b: &StatedSize, drawing_unit: Unit) -> bool {
    let one_unit = a.unit.unwrap_or(drawing_unit) == b.unit.unwrap_or(drawing_unit);
    if one_unit { further_apart(a, b, SAME) } else { differ_beyond_rounding(a, b, drawing_unit) }
}

/// Whether two written sizes differ by more than half of the last decimal of the coarser writing.
pub(super) fn differ_beyond_rounding(a: &StatedSize, b: &StatedSize, drawing_unit: Unit) -> bool {
    let (round_a, round_b) = (half_of_last_decimal(a, drawing_unit), half_of_last_decimal(b, drawing_unit));
    further_apart(a, b, round_a.max(round_b).max(SAME))
}

fn further_apart(a: &StatedSize, b: &StatedSize, allowance: Length) -> bool {
    nominal(a).zip(nominal(b)).is_some_and(|(first, second)| (first - second).abs() > allowance)
}

/// Whether both state limits and these are not the same.
pub(super) fn limits_differ(listed: &StatedSize, called: &StatedSize, unit: Unit) -> bool {
    let stated = |size: &StatedSize| match size.tolerance {
        Some(Tolerance::PlusMinus { .. } | Tolerance::Limits { .. }) => limits(size),
        _ => None,
    };
    let (Some(list), Some(callout)) = (stated(listed), stated(called)) else { return false };
    let one_unit = listed.unit.unwrap_or(unit) == called.unit.unwrap_or(unit);
    // Each limit is a sum of two written numbers, so between units it can be off by both roundings.
    let rounding = half_of_last_decimal(listed, unit) + half_of_last_decimal(called, unit);
    let allowance = if one_unit { SAME } else { rounding.max(SAME) };
    (list.0 - callout.0).abs() > allowance || (list.1 - callout.1).abs() > allowance
}

/// A size as stated, for messages: nominal and tolerance, or limits.
pub(super) fn text(size: &StatedSize, unit: Unit) -> String {
    use super::words;
    match (&size.tolerance, size.nominal) {
        (Some(Tolerance::Limits { min, max }), None) => {
            format!("{} to {}", words::diameter(*min, unit), words::diameter(*max, unit))
        }
        (Some(Tolerance::Fit(fit)), Some(nominal)) => format!("{} {fit}", words::diameter(nominal, unit)),
        (_, Some(nominal)) => {
            let (min, max) = limits(size).unwrap_or((nominal, nominal));
            words::with_limits(nominal, min, max, unit)
        }
        (_, None) => "no size".to_owned(),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::rules::scene::{stated, toleranced};

    #[test]
    fn in_one_unit_every_written_difference_counts() {
        assert!(differ(&stated(3.6, 1, Unit::Mm), &stated(3.65, 2, Unit::Mm), Unit::Mm));
        assert!(!differ(&stated(3.6, 1, Unit::Mm), &stated(3.6, 2, Unit::Mm), Unit::Mm));
    }

    #[test]
    fn across_units_the_coarser_rounding_is_allowed() {
        // .224 in is 5.6896 mm exactly; half of its last decimal is 0.0127 mm.
        assert!(!differ(&stated(0.224, 3, Unit::Inch), &stated(5.69, 2, Unit::Mm), Unit::Inch));
        assert!(differ(&stated(0.224, 3, Unit::Inch), &stated(5.72, 2, Unit::Mm), Unit::Inch));
    }

    #[test]
    fn limits_without_a_nominal_are_compared_by_their_middle() {
        let limits = StatedSize {
            tolerance: Some(Tolerance::Limits { min: Length::mm_const(3.6), max: Length::mm_const(3.7) }),
            unit: Some(Unit::Mm),
            ..StatedSize::default()
        };
        assert!(!differ(&limits, &stated(3.65, 2, Unit::Mm), Unit::Mm));
        assert_eq!(text(&limits, Unit::Mm), "Ø3.6 to Ø3.7");
    }

    #[test]
    fn sizes_read_as_written() {
        assert_eq!(text(&toleranced(stated(3.6, 1, Unit::Mm), 0.05, 0.0), Unit::Mm), "Ø3.6 +0.05/0");
        let fit =
            StatedSize { tolerance: Some(Tolerance::Fit("H11".to_owned())), ..stated(3.6, 1, Unit::Mm) };
        assert_eq!(text(&fit, Unit::Mm), "Ø3.6 H11");
    }
}
