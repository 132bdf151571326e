//! How much metal a screw finds at a hole. Shared by the rules on thickness, length and depth.

use super::ScrewHole;
use crate::joint::Row;
use crate::pairing::Role;
use crate::units::Length;

impl ScrewHole<'_> {
    /// Metal that a hole goes through: thickness and collar less a counterbore whose depth is stated. None if the
    /// thickness is not known.
    pub fn through(&self) -> Option<Length> {
        let collar = self.row.and_then(|row| row.collar_height).unwrap_or(Length::ZERO);
        let sunk = match self.hole.entry {
            Some((Role::Counterbore, _, Some(depth))) => depth,
            _ => Length::ZERO,
        };
        self.hole.making.thickness.map(|thickness| (thickness + collar - sunk).max(Length::ZERO))
    }

    /// Length of hole that a thread can be formed in: what it goes through, or the depth of a blind hole where that
    /// is less or alone known. None if neither is known.
    pub fn metal(&self) -> Option<Length> {
        least(self.through(), self.hole.depth)
    }

    /// How far the screw reaches into the metal, point included: its length less the grip. None if either is not
    /// known.
    pub fn reach(&self) -> Option<Length> {
        let grip = self.row.and_then(|row: &Row| row.grip)?;
        Some((self.screw.length? - grip).max(Length::ZERO))
    }

    /// Length over which the thread is engaged: the metal, or the screw's reach where that is known and shorter.
    pub fn engaged(&self) -> Option<Length> {
        let metal = self.metal()?;
        Some(self.reach().map_or(metal, |reach| reach.min(metal)))
    }
}

/// The smaller of two lengths, or the one that is known.
pub(super) fn least(a: Option<Length>, b: Option<Length>) -> Option<Length> {
    match (a, b) {
        (Some(a), Some(b)) => Some(a.min(b)),
        (a, b) => a.or(b),
    }
}
