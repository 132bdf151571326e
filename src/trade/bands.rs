//! Engagement bands by material and thickness over diameter.

use super::{Material, Process, Status, Thread};
use crate::units::Length;

/// The least and greatest engagement allowed, percent on the rolled basis, with a target.
#[derive(Debug, Clone, PartialEq)]
pub struct Band {
    /// Least engagement (percent).
    pub min: f64,
    /// Engagement to aim at (percent).
    pub target: f64,
    /// Greatest engagement (percent).
    pub max: f64,
    /// Where it comes from.
    pub source: String,
    /// How well that is founded.
    pub status: Status,
    /// What the source adds for this process or thickness, if anything.
    pub note: Option<String>,
}

/// Why no thread can be formed in a material at all.
#[derive(Debug, Clone, PartialEq)]
pub struct Unsuitable {
    /// One sentence.
    pub reason: String,
    /// Where it comes from.
    pub source: String,
    /// How well that is founded.
    pub status: Status,
}

/// What the trade answers when asked for a band.
#[derive(Debug, Clone, PartialEq)]
pub enum BandAnswer {
    /// One band holds for all that is known.
    One(Band),
    /// It depends on what is not known: every band that is possible.
    Depends {
        /// The possible bands, each with what would make it hold, for example `1 to 1.6 mm thick`.
        bands: Vec<(String, Band)>,
        /// What is missing: `thickness`, `material`.
        missing: Vec<&'static str>,
    },
    /// A thread cannot be formed in this material.
    Unsuitable(Unsuitable),
}

/// The band for a thread in a material of a thickness; unknown inputs widen the answer.
pub fn band_for(
    thread: &Thread,
    material: Option<Material>,
    thickness: Option<Length>,
    process: Option<Process>,
) -> BandAnswer {
    let _ = (thread, material, thickness, process);
    BandAnswer::Depends { bands: Vec::new(), missing: vec!["material", "thickness"] }
}
