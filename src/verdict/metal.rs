//! How much metal a screw finds at a hole: thickness, collar, counterbore, blind depth, and the screw's own length
//! and point. Judges nothing.

use crate::joint::{Collar, Row};
use crate::pairing::Hole;
use crate::practice::Limits;
use crate::trade::Thread;
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
    /// The lengths at a hole with its row of the hole list; none of the screw's where it is no screw hole.
    pub fn of(hole: &Hole, row: Option<&Row>, limits: &Limits) -> Metal {
        let sunk = hole.entry.and_then(|(_, _, depth)| depth).unwrap_or(Length::ZERO);
        let (thickness, collar) = (hole.making.thickness, row.and_then(|r| r.collar));
        let Some(screw) = &hole.screw else { return Metal { sunk, ..Metal::default() } };
        let grip = row.and_then(|r| r.grip);
        Metal::from_parts(&screw.thread, (thickness, collar), hole.depth, sunk, (screw.length, grip), limits)
    }

    /// The lengths from what is known: sheet with its collar, depth of a blind hole, depth of what is sunk at the
    /// entrance, length of the screw with its grip.
    pub(crate) fn from_parts(
        thread: &Thread,
        (thickness, collar): (Option<Length>, Option<Collar>),
        depth: Option<Length>,
        sunk: Length,
        (length, grip): (Option<Length>, Option<Length>),
        limits: &Limits,
    ) -> Metal {
        let collar = collar.map_or(Length::ZERO, |collar| {
            (collar.height - collar.entry_radius.unwrap_or(Length::ZERO)).max(Length::ZERO)
        });
        let below = |length: Length| (length - sunk).max(Length::ZERO);
        let reach = length.zip(grip).map(|(length, grip)| (length - grip).max(Length::ZERO));
        let (short, long) = limits.point(thread);
        Metal {
            through: thickness.map(|t| below(t + collar)),
            blind: depth.map(below),
            sunk,
            reach,
            full_thread: reach.map(|reach| (below(reach - long), below(reach - short))),
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
