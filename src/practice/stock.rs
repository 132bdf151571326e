//! What a shop keeps and what its processes hold: drills, punches, and how its holes come out. Chooses nothing.

use super::Origin;
use crate::trade::Process;
use crate::units::{Length, Unit};

/// A drill or punch of a shop.
#[derive(Debug, Clone, PartialEq)]
pub struct Stocked {
    /// As the shop names it: `3.6mm`, `#25`, `7/32`.
    pub name: String,
    /// Its diameter.
    pub diameter: Length,
    /// The unit it is named in.
    pub unit: Unit,
}

/// The sizes of one kind that a shop keeps.
#[derive(Debug, Clone, PartialEq)]
pub struct Stock {
    /// The sizes, rising, each once; never none.
    pub sizes: Vec<Stocked>,
    /// Where they are set.
    pub origin: Origin,
}

impl Stock {
    /// The sizes inside limits, both included.
    pub fn between(&self, min: Length, max: Length) -> impl Iterator<Item = &Stocked> {
        let slack = Length::mm_const(1e-6);
        self.sizes.iter().filter(move |s| s.diameter >= min - slack && s.diameter <= max + slack)
    }
}

/// Whether a guide hole of DIN 7500-2 is accepted where its tolerance leaves the band.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum GuideHoles {
    /// It is, with a note.
    #[default]
    Accept,
    /// It is judged as any other hole.
    Judge,
}

/// How the holes of a process come out in a shop, where a hole list states no measured diameters.
#[derive(Debug, Clone, PartialEq)]
pub struct CapabilityRow {
    /// The process.
    pub process: Process,
    /// How far the mean diameter is over the nominal; negative if under.
    pub offset: Length,
    /// Standard deviation of the diameters.
    pub sd: Length,
    /// Where it is set.
    pub origin: Origin,
}
