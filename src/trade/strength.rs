//! Areas that carry load: tensile stress area, strip areas of gauged threads and of formed ones.
//! Guidance for a designer; nothing here passes or fails a joint.

use std::f64::consts::PI;

use super::{Basis, Thread, percent};
use crate::units::{Length, Unit};

/// Tensile stress area of the screw (mm²).
///
/// Inch threads: π/4 (D − 0.974279 P)², FED-STD-H28/2B table II.B.1 formula 1b. Metric threads:
/// π/4 (D − 0.938194 P)², ISO 898-1. The two constants differ; using the inch one for M6 gives 19.84 instead
/// of 20.12 mm². Published.
///
/// ```
/// use boreband::trade::{Thread, stress_area_mm2};
/// let area = stress_area_mm2(&Thread::parse("M6").unwrap());
/// assert!((area - 20.12).abs() < 0.005); // public table of metric stress areas
/// ```
pub fn stress_area_mm2(thread: &Thread) -> f64 {
    let factor = match thread.unit {
        Unit::Mm => 0.938_194_2,
        Unit::Inch => 0.974_278_6,
    };
    PI / 4.0 * (thread.major - thread.pitch * factor).mm().powi(2)
}

/// Strip area of a gauged internal thread (mm²), FED-STD-H28/2B table II.B.1 formula (2a), published:
/// π n Le d_min (1/(2n) + 0.57735 (d_min − D2_max)).
///
/// `engagement` is Le, `screw_major_min` the least major diameter of the screw, `nut_pitch_max` the greatest
/// pitch diameter of the internal thread. Validity: 60° threads whose limits of size are known; not for a
/// formed thread, whose limits are not gauged.
pub fn internal_strip_area_mm2(
    pitch: Length,
    engagement: Length,
    screw_major_min: Length,
    nut_pitch_max: Length,
) -> f64 {
    gauged_area(pitch, engagement, screw_major_min, screw_major_min - nut_pitch_max)
}

/// Strip area of a gauged external thread (mm²), FED-STD-H28/2B table II.B.1 formula (4a), published:
/// π n Le D1_max (1/(2n) + 0.57735 (d2_min − D1_max)).
///
/// `nut_minor_max` is the greatest minor diameter of the internal thread, `screw_pitch_min` the least pitch
/// diameter of the screw. Validity as for [`internal_strip_area_mm2`].
pub fn external_strip_area_mm2(
    pitch: Length,
    engagement: Length,
    nut_minor_max: Length,
    screw_pitch_min: Length,
) -> f64 {
    gauged_area(pitch, engagement, nut_minor_max, screw_pitch_min - nut_minor_max)
}

/// Shear along a cylinder through both threads: the tooth is half a pitch wide at the other's pitch diameter.
fn gauged_area(pitch: Length, engagement: Length, cylinder: Length, overlap: Length) -> f64 {
    let turns = engagement / pitch;
    PI * turns * cylinder.mm() * (pitch.mm() / 2.0 + overlap.mm() / 3f64.sqrt())
}

/// Strip area of the metal around a formed thread (mm²): 0.875 π D Le, shear at the major diameter, where the
/// basic profile leaves 7/8 of the pitch. Own reduction from the basic profile, common practice; it does not
/// depend on the hole. Validity: 60 to 100 % rolled; below that the crest bends before it shears.
///
/// ```
/// use boreband::trade::{Thread, formed_nut_area_mm2};
/// use boreband::units::Length;
/// let area = formed_nut_area_mm2(&Thread::parse("M6").unwrap(), Length::from_mm(4.0).unwrap());
/// assert!((area - 66.0).abs() < 0.05); // 0.875 π 6 × 4, by hand
/// ```
pub fn formed_nut_area_mm2(thread: &Thread, engagement: Length) -> f64 {
    0.875 * PI * thread.major.mm() * engagement.mm()
}

/// Strip area of the screw in a formed thread (mm²): π d Le (0.125 + 0.375 R), R the rolled engagement as a
/// fraction: the width of the screw's tooth at the hole's wall. Own reduction from the basic profile, common
/// practice; it ignores the crest that forms inside the hole, so it is on the safe side. Validity: 60 to 100 %
/// rolled.
///
/// ```
/// use boreband::trade::{Thread, formed_screw_area_mm2};
/// use boreband::units::Length;
/// let mm = |v| Length::from_mm(v).unwrap();
/// let area = formed_screw_area_mm2(&Thread::parse("M6").unwrap(), mm(5.5), mm(4.0));
/// assert!((area - 28.6).abs() < 0.05); // π 5.5 × 4 × (0.125 + 0.375 × 0.7698), by hand
/// ```
pub fn formed_screw_area_mm2(thread: &Thread, hole: Length, engagement: Length) -> f64 {
    PI * hole.mm() * engagement.mm() * tooth_width(percent(thread, hole, Basis::Rolled))
}

/// Width of the screw's tooth at the hole's wall, in pitches, from the rolled percent.
pub(super) fn tooth_width(rolled_percent: f64) -> f64 {
    0.125 + 0.375 * rolled_percent / 100.0
}

/// The engagement at which the formed thread carries `load_n` (N) in a metal of shear strength `shear_mpa`
/// (MPa): F / (0.875 π D τ). Own reduction, guidance only. None for a strength that is not above 0.
///
/// ```
/// use boreband::trade::{Thread, strip_free_length};
/// let length = strip_free_length(&Thread::parse("M6").unwrap(), 16_000.0, 204.0).unwrap();
/// assert!((length.mm() - 4.76).abs() < 0.005); // 16000 / (0.875 π 6 × 204), by hand
/// ```
pub fn strip_free_length(thread: &Thread, load_n: f64, shear_mpa: f64) -> Option<Length> {
    let per_mm = 0.875 * PI * thread.major.mm() * shear_mpa;
    if per_mm > 0.0 { Length::from_mm(load_n / per_mm).ok() } else { None }
}

/// Height of the formed internal thread, as percent on the cut basis, for a hole at `rolled_percent`: the metal
/// that the screw's tooth displaces fills the groove beside it (planar volume balance, no springback, no axial
/// flow; own derivation, common practice). Validity: 0 to 100 % rolled. None outside; above 100 % the groove is
/// overfilled.
///
/// ```
/// use boreband::trade::formed_height_percent;
/// assert!((formed_height_percent(100.0).unwrap() - 100.0).abs() < 1e-6);
/// assert!((formed_height_percent(75.0).unwrap() - 56.57).abs() < 0.005);
/// ```
pub fn formed_height_percent(rolled_percent: f64) -> Option<f64> {
    if !(0.0..=100.0).contains(&rolled_percent) {
        return None;
    }
    let depth = Basis::Rolled.factor() / 2.0 * rolled_percent / 100.0;
    let groove = 1.0 - tooth_width(rolled_percent);
    let slope = 1.0 / 3f64.sqrt();
    let rest = (groove * groove - 4.0 * slope * displaced_area(rolled_percent)).max(0.0);
    let rise = (groove - rest.sqrt()) / (2.0 * slope);
    Some(100.0 * 2.0 * (depth + rise) / Basis::Cut.factor())
}

/// Area of the screw's tooth outside the hole, over the square of the pitch.
pub(super) fn displaced_area(rolled_percent: f64) -> f64 {
    let depth = Basis::Rolled.factor() / 2.0 * rolled_percent / 100.0;
    (0.125 + tooth_width(rolled_percent)) / 2.0 * depth
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn stress_areas_never_mix_constants() {
        // ISO 898-1 nominal stress areas (M4 8.78, M8 36.6, M10 58.0) and ASME B1.1 (1/4-20 0.0318 in²).
        for (name, expected) in [("M4", 8.78), ("M8", 36.6), ("M10", 58.0)] {
            let found = stress_area_mm2(&Thread::parse(name).expect(name));
            assert!((found / expected - 1.0).abs() < 5e-4, "{name} {found}");
        }
        let inch = stress_area_mm2(&Thread::parse("1/4-20").expect("1/4-20")) / 25.4f64.powi(2);
        assert!((inch - 0.0318).abs() < 5e-5);
    }

    #[test]
    fn formed_height_is_bounded() {
        assert_eq!(formed_height_percent(-1.0), None);
        assert_eq!(formed_height_percent(120.0), None);
        assert_eq!(formed_height_percent(f64::NAN), None);
        assert_eq!(formed_height_percent(0.0), Some(0.0));
    }
}
