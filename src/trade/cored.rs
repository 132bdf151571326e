//! Cored holes with draft: the diameter along the depth.

use super::{Basis, Thread};
use crate::units::{Angle, Length};

/// Diameter at a depth below the entrance of a cored hole with draft per side: d − 2 z tan α (trigonometry).
///
/// ```
/// use boreband::trade::cored_diameter;
/// use boreband::units::{Angle, Length};
/// let mm = |v| Length::from_mm(v).unwrap();
/// let bottom = cored_diameter(mm(5.7), mm(12.0), Angle::from_degrees(1.0).unwrap());
/// assert!((bottom.mm() - 5.2811).abs() < 5e-5); // 5.7 − 24 tan 1°, by hand
/// ```
pub fn cored_diameter(entrance: Length, depth: Length, draft_per_side: Angle) -> Length {
    entrance - depth * (2.0 * draft_per_side.radians().tan())
}

/// The longest depth over which a drafted hole can stay inside a band of `min` to `max` percent (rolled), its
/// entrance being at `min`: (max − min)/100 × 0.649519 P / (2 tan α). Common practice. None without draft,
/// where every depth will do.
///
/// ```
/// use boreband::trade::{Thread, cored_longest_depth};
/// use boreband::units::Angle;
/// let thread = Thread::parse("M5").unwrap();
/// let depth = cored_longest_depth(&thread, 60.0, 95.0, Angle::from_degrees(1.0).unwrap()).unwrap();
/// assert!((depth.mm() - 5.21).abs() < 0.005); // 0.35 × 0.519615 / (2 tan 1°), by hand
/// ```
pub fn cored_longest_depth(thread: &Thread, min: f64, max: f64, draft_per_side: Angle) -> Option<Length> {
    let slope = 2.0 * draft_per_side.radians().tan();
    (slope > 0.0).then(|| thread.pitch * ((max - min) / 100.0 * Basis::Rolled.factor() / slope))
}
