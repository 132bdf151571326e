//! Limits of size against bands. With several bands possible the verdict is what holds under every one.

use super::{Band, HoleBand, Limits, Verdict};
use crate::trade::{Basis, Thread, hole_for};
use crate::units::Length;

/// Diameters are compared with this tolerance (mm); band edges are included.
pub(super) const TOLERANCE: Length = Length::mm_const(1e-6);

impl HoleBand {
    /// A band as diameters of a thread: the greatest engagement gives the smallest hole.
    pub(super) fn of(thread: &Thread, band: Band) -> HoleBand {
        let (hole_min, hole_max) = edges(thread, &band);
        HoleBand { hole_min, hole_max, band }
    }

    /// Whether a hole of that size is inside, edges included.
    pub(super) fn holds(&self, hole: Length) -> bool {
        holds((self.hole_min, self.hole_max), hole)
    }
}

/// The smallest and the largest hole of a thread in a band.
fn edges(thread: &Thread, band: &Band) -> (Length, Length) {
    let at = |percent| hole_for(thread, percent, Basis::Rolled);
    (at(band.max), at(band.min))
}

fn holds((least, most): (Length, Length), hole: Length) -> bool {
    hole >= least - TOLERANCE && hole <= most + TOLERANCE
}

/// What a hole is under one band.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Found {
    verdict: Verdict,
    /// How far the nominal is outside the band (mm); negative inside.
    off_mm: f64,
}

impl Found {
    /// A hole under a band of a thread.
    pub(super) fn under(limits: &Limits, thread: &Thread, band: &Band) -> Found {
        let (least, most) = edges(thread, band);
        let off_mm = (least - limits.nominal).mm().max((limits.nominal - most).mm());
        Found { verdict: verdict(limits, (least, most)), off_mm }
    }

    /// Whether the nominal is in the band.
    fn inside(self) -> bool {
        matches!(self.verdict, Verdict::InBand | Verdict::Straddles)
    }
}

/// The verdict under one band. Where both deviations have one sign the limit nearest to the nominal stands for
/// it: the nominal itself is no size that the hole may have.
fn verdict(limits: &Limits, band: (Length, Length)) -> Verdict {
    let nominal = limits.nominal.max(limits.min).min(limits.max);
    if nominal < band.0 - TOLERANCE {
        Verdict::Tight
    } else if nominal > band.1 + TOLERANCE {
        Verdict::Loose
    } else if holds(band, limits.min) && holds(band, limits.max) {
        Verdict::InBand
    } else {
        Verdict::Straddles
    }
}

/// What holds for every possible hole under its band, added up one possibility at a time.
#[derive(Debug, Clone, Copy, Default)]
pub(super) struct Possibilities {
    any: bool,
    inside: bool,
    outside: bool,
    straddles: bool,
    takes_no_thread: bool,
    /// The one whose band is nearest; the first of equals.
    nearest: Option<Found>,
}

impl Possibilities {
    /// Adds a possible hole; none for a material that takes no thread.
    pub(super) fn add(&mut self, found: Option<Found>) {
        self.any = true;
        let Some(found) = found else {
            self.takes_no_thread = true;
            return;
        };
        self.inside |= found.inside();
        self.outside |= !found.inside();
        self.straddles |= found.verdict == Verdict::Straddles;
        if self.nearest.is_none_or(|nearest| found.off_mm.total_cmp(&nearest.off_mm).is_lt()) {
            self.nearest = Some(found);
        }
    }

    /// The verdict that holds for all; none where nothing was possible. Outside every band it is that of the nearest,
    /// where the bands leave a gap and the hole lies in it. Where a material that takes no thread is possible too,
    /// nothing is a pass, and without any band nothing is decided.
    pub(super) fn verdict(&self) -> Option<Verdict> {
        let decided = match self.nearest {
            None => Verdict::Undetermined,
            Some(nearest) if !self.inside => nearest.verdict,
            Some(_) if self.takes_no_thread || self.outside => Verdict::Undetermined,
            Some(_) if self.straddles => Verdict::Straddles,
            Some(_) => Verdict::InBand,
        };
        self.any.then_some(decided)
    }
}
