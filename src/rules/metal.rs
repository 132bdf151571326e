//! How much metal a screw finds at a hole. Shared by the rules on thickness, length and depth.

use super::ScrewHole;
use crate::units::Length;
use crate::verdict::Metal;

impl ScrewHole<'_> {
    /// All lengths at the hole.
    pub fn lengths(&self) -> Metal {
        Metal::of(self.hole, self.row, &self.practice.limits)
    }

    /// Length of hole that a thread can be formed in; none if neither thickness nor depth is known.
    pub fn metal(&self) -> Option<Length> {
        self.lengths().length()
    }

    /// How far the screw reaches below the surface, point included; none if its length or the grip is not known.
    pub fn reach(&self) -> Option<Length> {
        self.lengths().reach
    }

    /// Length over which the thread is engaged.
    pub fn engaged(&self) -> Option<Length> {
        self.lengths().engaged()
    }
}
