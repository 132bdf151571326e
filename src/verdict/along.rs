//! A hole with draft along its depth: what the screw engages at the entrance, half way and at the end, how deep the
//! band reaches, and which entrance or draft would do. Judges nothing; `rules` and the calculator do.

use super::{HoleBand, Limits, interval};
use crate::trade::{Basis, Thread, cored_diameter, percent};
use crate::units::{Angle, Length, Unit};

/// A place along the depth.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct AlongPoint {
    /// Below the surface.
    pub depth: Length,
    /// Diameter there, of the nominal hole.
    pub diameter: Length,
    /// Rolled engagement there (percent).
    pub engagement: f64,
}

/// A drafted hole along its engaged length.
#[derive(Debug, Clone, PartialEq)]
pub struct Along {
    /// Draft per side.
    pub draft: Angle,
    /// Start, middle and end of the engaged length.
    pub points: [AlongPoint; 3],
    /// Greatest engagement that the tolerance allows: the smallest hole at the end (percent).
    pub most: f64,
    /// Least engagement that the tolerance allows: the largest hole at the start (percent).
    pub least: f64,
    /// Whether the nominal stays in the band all along; none where no band is known.
    pub in_band: Option<bool>,
    /// Whether both limits of size do.
    pub limits_in_band: Option<bool>,
    /// Engaged length from this start to where the nominal leaves the band; none without draft or band, or where the
    /// start is outside.
    pub longest: Option<Length>,
    /// Engaged length that the best entrance could keep in the band with this tolerance and draft.
    pub longest_at_best: Option<Length>,
    /// An entrance that keeps this engaged length in the band with this tolerance; none where none does.
    pub entrance: Option<Length>,
    /// Greatest draft with which some entrance keeps this engaged length in the band; none where the tolerance alone
    /// fills the band.
    pub most_draft: Option<Angle>,
}

/// A drafted hole: entrance with its limits, draft, depth at which the thread starts and length over which it runs.
#[derive(Debug, Clone)]
pub(crate) struct Drafted<'a> {
    pub(crate) thread: &'a Thread,
    pub(crate) limits: &'a Limits,
    pub(crate) draft: Angle,
    pub(crate) start: Length,
    pub(crate) engaged: Length,
}

impl Drafted<'_> {
    /// Loss of diameter over depth.
    pub(crate) fn slope(&self) -> f64 {
        2.0 * self.draft.radians().tan()
    }

    fn at(&self, entrance: Length, depth: Length) -> AlongPoint {
        let diameter = cored_diameter(entrance, depth, self.draft);
        AlongPoint { depth, diameter, engagement: percent(self.thread, diameter, Basis::Rolled) }
    }

    /// The hole along its depth, against a band if one is known. Sizes are rounded in `unit`.
    pub(crate) fn along(&self, band: Option<&HoleBand>, unit: Unit) -> Along {
        let end = self.start + self.engaged;
        let limits = self.limits;
        let points =
            [self.start, self.start + self.engaged / 2.0, end].map(|depth| self.at(limits.nominal, depth));
        let (smallest, largest) = (self.at(limits.min, end), self.at(limits.max, self.start));
        let slope = self.slope();
        let per = |room: Length| (slope > 0.0).then(|| room.max(Length::ZERO) / slope);
        let tolerance = limits.max - limits.min;
        let longest = |b: &HoleBand| {
            let start = points[0].diameter;
            b.holds(start).then(|| per(start - b.hole_min)).flatten()
        };
        Along {
            draft: self.draft,
            most: smallest.engagement,
            least: largest.engagement,
            in_band: band.map(|b| points.iter().all(|p| b.holds(p.diameter))),
            limits_in_band: band.map(|b| b.holds(smallest.diameter) && b.holds(largest.diameter)),
            longest: band.and_then(longest),
            longest_at_best: band.and_then(|b| per(b.hole_max - b.hole_min - tolerance)),
            entrance: band.and_then(|b| self.entrance(b, slope, unit)),
            most_draft: band.and_then(|b| self.most_draft(b)),
            points,
        }
    }

    /// The entrance that leaves the same room at both ends, to 0.01 mm or .001 in where that stays inside.
    fn entrance(&self, band: &HoleBand, slope: f64, unit: Unit) -> Option<Length> {
        let limits = self.limits;
        let (plus, minus) = (limits.max - limits.nominal, limits.nominal - limits.min);
        let least = band.hole_min + minus + (self.start + self.engaged) * slope;
        let most = band.hole_max - plus + self.start * slope;
        if least > most + interval::TOLERANCE {
            return None;
        }
        let middle = (least + most) / 2.0;
        let step = if unit == Unit::Mm { 0.01 } else { 0.001 };
        let rounded = Length::new((middle.value_in(unit) / step).round() * step, unit).ok()?;
        Some(if rounded >= least && rounded <= most { rounded } else { middle })
    }

    /// The draft that uses up what the tolerance leaves of the band, down to 0.05 degrees.
    fn most_draft(&self, band: &HoleBand) -> Option<Angle> {
        let room = band.hole_max - band.hole_min - (self.limits.max - self.limits.min);
        if room <= Length::ZERO || self.engaged <= Length::ZERO {
            return None;
        }
        let degrees = (room / (self.engaged * 2.0)).atan().to_degrees();
        Angle::from_degrees((degrees * 20.0 + 1e-9).floor() / 20.0).ok()
    }
}
