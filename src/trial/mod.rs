//! Joint tests: reads trial records and traces strictly, finds the peaks of traces, and evaluates drive and failure
//! torque. Which hole of a drawing a record is made for is told by [`Trial::stale_for`]; what that means for a finding
//! is decided in `check`.

mod evaluation;
mod fitness;
mod peaks;
mod read;
mod store;
mod trace;
mod weaknesses;
mod wire;

pub use evaluation::{Evaluation, Limits, Modes, Seating, Weakness, evaluate};
pub use fitness::{Stale, Tested};
pub use peaks::Peaks;
pub use store::Trials;

use std::path::Path;

use crate::joint::Screw;
use crate::reading::{Fault, schema_document};
use crate::trade::{Material, Process};
use crate::units::{Length, Torque, TorqueUnit, Unit};

/// What failed in a run.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub enum Mode {
    /// The formed thread stripped.
    Strip,
    /// The screw broke.
    ScrewBreak,
    /// The head or its recess gave way.
    Head,
}

impl Mode {
    /// All of them.
    pub const ALL: [Mode; 3] = [Mode::Strip, Mode::ScrewBreak, Mode::Head];

    /// The name used in files and reports.
    pub const fn name(self) -> &'static str {
        match self {
            Mode::Strip => "strip",
            Mode::ScrewBreak => "screw-break",
            Mode::Head => "head",
        }
    }
}

/// One screw driven to failure.
#[derive(Debug, Clone, PartialEq)]
pub struct Run {
    /// Name or number, as stated or counted from 1.
    pub name: String,
    /// Measured diameter of the hole.
    pub hole: Option<Length>,
    /// Thickness of the metal, the joint's where the run states none.
    pub thickness: Length,
    /// Greatest torque of forming.
    pub drive: Torque,
    /// Torque of failure.
    pub failure: Torque,
    /// What failed.
    pub mode: Option<Mode>,
    /// What was found on its trace, if it names one.
    pub peaks: Option<Peaks>,
}

/// A trial record, read.
#[derive(Debug, Clone, PartialEq)]
pub struct Trial {
    /// The file, as faults name it.
    pub file: String,
    /// Name or number of the test.
    pub test: Option<String>,
    /// Part number.
    pub part: Option<String>,
    /// Free text.
    pub note: Option<String>,
    /// The unit that its lengths are written in.
    pub unit: Unit,
    /// The unit that its torques are written in.
    pub torque_unit: TorqueUnit,
    /// The screw.
    pub screw: Screw,
    /// The metal.
    pub material: Material,
    /// Its nominal thickness.
    pub thickness: Length,
    /// Its measured Brinell hardness.
    pub hardness_hb: Option<f64>,
    /// How the holes were made.
    pub process: Option<Process>,
    /// Finish of screw and hole.
    pub finish: Option<String>,
    /// Lubricant.
    pub lubricant: Option<String>,
    /// Speed of the driver (turns a minute).
    pub driver_rpm: Option<f64>,
    /// What the assembly tool is set to, and how far off it may stop.
    pub tool: Option<(Torque, Torque)>,
    /// The runs, two at least.
    pub runs: Vec<Run>,
}

impl Trial {
    /// Reads a trial record and the traces that it names.
    ///
    /// # Errors
    /// All faults of the record and of its traces, each with its place.
    pub fn load(path: &Path) -> Result<Trial, Vec<Fault>> {
        read::load(path)
    }
}

/// The JSON Schema of a trial record.
pub fn schema() -> serde_json::Value {
    let mut schema = schema_document::<wire::Record>(
        "trial",
        "boreband trial record",
        "What a joint test measured: screws driven to failure in one metal, for the ratio of strip to drive torque and the seating window.",
    );
    wire::add_to_schema(&mut schema);
    schema
}

#[cfg(test)]
mod tests;
