//! How much metal a screw finds at a hole: thickness, collar, counterbore, blind depth, and the screw's own length
//! and point. Judges nothing.

use crate::joint::Row;
use crate::pairing::Hole;
use crate::practice::Limits;
use crate::units::Length;

/// Lengths at a screw hole. What is not known is none.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct Metal {
    /// Thickness and collar, less the collar's entry radius, less a counterbore or countersink.
    pub through: Option<Length>,
    /// Depth of a blind hole, less a counterbore or countersink.
    pub blind: Option<Length>,
    /// Depth of a counterbore or countersink, from the surface; zero where there is none or it is not stated.
    pub sunk: Length,
    /// How far the screw reaches below the surface, point included: its length less the grip.
    pub reach: Option<Length>,
    /// Least and greatest length of full thread that the screw brings into the hole: its reach less what is sunk and
    /// less the longest and the shortest point.
    pub full_thread: Option<(Length, Length)>,
}

impl Metal {
    /// The lengths at a hole with its row of the hole list.
    pub fn of(hole: &Hole, row: Option<&Row>, limits: &Limits) -> Metal {
        let sunk = hole.entry.and_then(|(_, _, depth)| depth).unwrap_or(Length::ZERO);
        let collar = row.and_then(|r| r.collar).map_or(Length::ZERO, |collar| {
            (collar.height - collar.entry_radius.unwrap_or(Length::ZERO)).max(Length::ZERO)
        });
        let below = |length: Length| (length - sunk).max(Length::ZERO);
        let screw = hole.screw.as_ref();
        let length = screw.and_then(|s| s.length);
        let reach = length.zip(row.and_then(|r| r.grip)).map(|(l, grip)| (l - grip).max(Length::ZERO));
        let full_thread = reach.zip(screw).map(|(reach, screw)| {
            let (short, long) = limits.point(&screw.thread);
            (below(reach - long), below(reach - short))
        });
        Metal {
            through: hole.making.thickness.map(|t| below(t + collar)),
            blind: hole.depth.map(below),
            sunk,
            reach,
            full_thread,
        }
    }

    /// Length of hole that a thread can be formed in: what it goes through, or the depth of a blind hole where that
    /// is less or alone known. None if neither is known.
    pub fn length(&self) -> Option<Length> {
        least(self.through, self.blind)
    }

    /// Length over which the thread is engaged: the metal, or what the screw's reach leaves of it.
    pub fn engaged(&self) -> Option<Length> {
        let metal = self.length()?;
        let reach = self.reach.map(|reach| (reach - self.sunk).max(Length::ZERO));
        Some(reach.map_or(metal, |reach| reach.min(metal)))
    }
}

/// The smaller of two lengths, or the one that is known.
pub(crate) fn least(a: Option<Length>, b: Option<Length>) -> Option<Length> {
    match (a, b) {
        (Some(a), Some(b)) => Some(a.min(b)),
        (a, b) => a.or(b),
    }
}
