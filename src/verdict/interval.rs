//! Limits of size against bands. With several bands possible the verdict is what holds under every one.

use super::{Band, HoleBand, Limits, Verdict};
use crate::trade::{Basis, Thread, hole_for};
use crate::units::Length;

/// Diameters are compared with this tolerance (mm); band edges are included.
pub(super) const TOLERANCE: Length = Length::mm_const(1e-6);

impl HoleBand {
    /// A band as diameters of a thread: the greatest engagement gives the smallest hole.
    pub(super) fn of(thread: &Thread, band: Band) -> HoleBand {
        HoleBand {
            hole_min: hole_for(thread, band.max, Basis::Rolled),
            hole_max: hole_for(thread, band.min, Basis::Rolled),
            band,
        }
    }

    /// Whether a hole of that size is inside, edges included.
    pub(super) fn holds(&self, hole: Length) -> bool {
        hole >= self.hole_min - TOLERANCE && hole <= self.hole_max + TOLERANCE
    }
}

/// The verdict under one band. Where both deviations have one sign the limit nearest to the nominal stands for
/// it: the nominal itself is no size that the hole may have.
pub(super) fn under(limits: &Limits, band: &HoleBand) -> Verdict {
    let nominal = limits.nominal.max(limits.min).min(limits.max);
    if nominal < band.hole_min - TOLERANCE {
        Verdict::Tight
    } else if nominal > band.hole_max + TOLERANCE {
        Verdict::Loose
    } else if band.holds(limits.min) && band.holds(limits.max) {
        Verdict::InBand
    } else {
        Verdict::Straddles
    }
}

/// The verdict that holds for every possible hole under its band. `may_be_unsuitable` is whether a material that
/// takes no thread is possible too: then nothing is a pass. Undetermined without any band.
pub(super) fn under_all(possible: &[(&Limits, &HoleBand)], may_be_unsuitable: bool) -> Verdict {
    let each: Vec<Verdict> = possible.iter().map(|(limits, band)| under(limits, band)).collect();
    let inside = |v: &Verdict| matches!(v, Verdict::InBand | Verdict::Straddles);
    if each.is_empty() {
        return Verdict::Undetermined;
    }
    if !each.iter().any(inside) {
        return outside(possible, &each);
    }
    if may_be_unsuitable || !each.iter().all(inside) {
        return Verdict::Undetermined;
    }
    if each.iter().all(|v| *v == Verdict::InBand) { Verdict::InBand } else { Verdict::Straddles }
}

/// Outside every band: tight or loose; by the nearest band where the bands leave a gap and the hole lies in it.
fn outside(possible: &[(&Limits, &HoleBand)], each: &[Verdict]) -> Verdict {
    let gap = |(limits, b): &(&Limits, &HoleBand)| {
        (b.hole_min - limits.nominal).mm().max((limits.nominal - b.hole_max).mm())
    };
    let nearest = possible.iter().zip(each).min_by(|a, b| gap(a.0).total_cmp(&gap(b.0)));
    nearest.map_or(Verdict::Undetermined, |(_, verdict)| *verdict)
}
