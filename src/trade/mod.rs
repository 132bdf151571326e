//! What the trade knows about holes for thread-rolling screws. Tables are CSV files beside the code, each row
//! with its source and status.

mod bands;
mod engagement;
mod material;
mod process;
mod thread;

pub use bands::{Band, BandAnswer, Unsuitable, band_for};
pub use engagement::{Basis, hole_for, percent};
pub use material::Material;
pub use process::Process;
pub use thread::{Thread, ThreadError};

/// How well a fact of the trade is founded.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum Status {
    /// Read in a standard, a standard's data or a published article, which the source names.
    Published,
    /// Trade knowledge, or arithmetic on it; no source.
    CommonPractice,
    /// Recalled, not verified.
    Memory,
    /// Set by the user in a hole list or policy.
    User,
}

impl Status {
    /// The name used in tables and reports.
    pub const fn name(self) -> &'static str {
        match self {
            Status::Published => "published",
            Status::CommonPractice => "common_practice",
            Status::Memory => "memory",
            Status::User => "user",
        }
    }
}
