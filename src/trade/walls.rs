//! What the wall of a hole does: collars, blind depth, coatings. Geometry only.

use super::Thread;
use crate::units::{Angle, Length};

/// Height of an extruded collar by volume balance: (di² − dp²) t / (Do² − di²). Published: Hole Extrusions
/// Part 1, MetalForming Magazine, October 2011 (the volumes are shown there; the algebra is reconstructed from
/// them). `inside` di, `pierce` dp, `sheet` t, `outside` Do. None where the sizes are not in order
/// (dp < di < Do).
///
/// ```
/// use boreband::trade::collar_height;
/// use boreband::units::Length;
/// let mm = |v| Length::from_mm(v).unwrap();
/// let height = collar_height(mm(8.2), mm(3.0), mm(3.0), mm(11.2)).unwrap();
/// assert!((height.mm() - 3.002).abs() < 0.0005); // the article's example
/// ```
pub fn collar_height(inside: Length, pierce: Length, sheet: Length, outside: Length) -> Option<Length> {
    let (di, dp, t, outer) = (inside.mm(), pierce.mm(), sheet.mm(), outside.mm());
    if !(0.0 <= dp && dp < di && di < outer && t > 0.0) {
        return None;
    }
    Length::from_mm((di * di - dp * dp) * t / (outer * outer - di * di)).ok()
}

/// The pierce that a collar of that height needs: the inverse of [`collar_height`]. None where even no pierce
/// gives enough metal, or the sizes are not in order.
///
/// ```
/// use boreband::trade::collar_pierce;
/// use boreband::units::Length;
/// let mm = |v| Length::from_mm(v).unwrap();
/// let pierce = collar_pierce(mm(5.5), mm(1.5), mm(1.5), mm(7.6)).unwrap();
/// assert!((pierce.mm() - 1.6553).abs() < 5e-5); // √(5.5² − (7.6² − 5.5²) 1.5 / 1.5), by hand
/// assert!(collar_pierce(mm(5.5), mm(4.0), mm(1.5), mm(7.6)).is_none());
/// ```
pub fn collar_pierce(inside: Length, height: Length, sheet: Length, outside: Length) -> Option<Length> {
    let (di, h, t, outer) = (inside.mm(), height.mm(), sheet.mm(), outside.mm());
    if !(h >= 0.0 && 0.0 < di && di < outer && t > 0.0) {
        return None;
    }
    let square = di * di - (outer * outer - di * di) * h / t;
    (square >= 0.0).then(|| Length::from_mm(square.sqrt()).ok()).flatten()
}

/// Depth of a countersink of that diameter and included angle in a hole: (D − d) / (2 tan(angle / 2))
/// (trigonometry). None for an angle that is no cone (0 or 180 degrees and beyond).
///
/// ```
/// use boreband::trade::countersink_depth;
/// use boreband::units::{Angle, Length};
/// let mm = |v| Length::from_mm(v).unwrap();
/// let depth = countersink_depth(mm(6.0), mm(3.6), Angle::from_degrees(90.0).unwrap()).unwrap();
/// assert!((depth.mm() - 1.2).abs() < 1e-9); // 2.4 / (2 tan 45°), by hand
/// ```
pub fn countersink_depth(outer: Length, hole: Length, included: Angle) -> Option<Length> {
    let cone = included.degrees() > 0.0 && included.degrees() < 180.0;
    cone.then(|| (outer - hole).max(Length::ZERO) / (2.0 * (included.radians() / 2.0).tan()))
}

/// Depth of a blind hole: full engagement, the tapered point and clearance, the last two in pitches (common
/// practice: point 2 to 3.5, clearance at least 1).
///
/// ```
/// use boreband::trade::{Thread, blind_depth};
/// use boreband::units::Length;
/// let thread = Thread::parse("1/4-20").unwrap();
/// let depth = blind_depth(&thread, Length::from_inch(0.375).unwrap(), 3.0, 1.0);
/// assert!((depth.inch() - 0.575).abs() < 1e-9); // 0.375 + 4 × 0.05, by hand
/// ```
pub fn blind_depth(thread: &Thread, engagement: Length, taper_pitches: f64, clear_pitches: f64) -> Length {
    engagement + thread.pitch * (taper_pitches + clear_pitches)
}

/// The hole after a coating of that thickness on its wall: it shrinks by twice the thickness (geometry).
///
/// ```
/// use boreband::trade::coated;
/// use boreband::units::Length;
/// let mm = |v| Length::from_mm(v).unwrap();
/// assert!((coated(mm(3.65), mm(0.008)).mm() - 3.634).abs() < 1e-9);
/// ```
pub fn coated(hole: Length, coating: Length) -> Length {
    hole - coating * 2.0
}
