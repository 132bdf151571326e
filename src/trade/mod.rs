//! What the trade knows about holes for thread-rolling screws. Tables are CSV files beside the code, each row
//! with its source and status; nothing here looks at a drawing or decides whether a hole is right.

mod bands;
mod capability;
mod collars;
mod cored;
mod drills;
mod engagement;
mod fits;
mod gauges;
mod guide_holes;
mod length_text;
mod loads;
mod material;
mod process;
mod strength;
pub(crate) mod tables;
mod tap_drills;
mod tapped;
mod thread;
mod thread_text;
mod tolerance;
mod torque;
mod walls;

#[cfg(test)]
mod checks;

pub use bands::{Band, BandOf, Unsuitable, band_at, band_rows, schedule_borders, too_hard};
pub use capability::{Shares, shares_outside};
pub use collars::{CollarBalance, CollarWanted, collar_balance, collar_outside};
pub use cored::{cored_diameter, cored_longest_depth};
pub use drills::{Drill, DrillSeries, drill_by_name, drills, drills_between, nearest_drill};
pub use engagement::{Basis, convert, form_tap_hole, hole_for, percent, percent_per_diameter};
pub use fits::{Fit, fit};
pub use gauges::{Gauge, SheetMetal, gauge};
pub use guide_holes::{GuideHole, GuideMetal, guide_holes};
pub use length_text::{LengthText, LengthTextError, parse_length, read_length};
pub use loads::{
    Loads, Member, MetalStrength, SHEAR_SHARE, ScrewStrength, failure_loads, metal_strength, screw_strength,
};
pub use material::{Material, MaterialAlias};
pub use process::Process;
pub use strength::{
    external_strip_area_mm2, formed_height_percent, formed_nut_area_mm2, formed_screw_area_mm2,
    internal_strip_area_mm2, stress_area_mm2, strip_free_length,
};
pub use tap_drills::{TapDrill, tap_drills};
pub use tapped::{ClassKind, RolledThread, ThreadClass, rolled_thread, thread_class};
pub use thread::{Thread, ThreadError, threads};
pub use thread_text::Designation;
pub use tolerance::{Deviations, and10387, iso2768, iso9013, process_note, process_typical};
pub use torque::{clamp_stress, tightening_torque_nmm, torsional_shear_mpa};
pub use walls::{blind_depth, coated, collar_height, collar_pierce, countersink_depth};

/// How well a fact of the trade is founded.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, serde::Deserialize)]
#[serde(rename_all = "snake_case")]
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
    /// How it is said to a reader.
    pub const fn words(self) -> &'static str {
        match self {
            Status::Published => "published",
            Status::CommonPractice => "common practice",
            Status::Memory => "recalled, not verified",
            Status::User => "set by the user",
        }
    }

    /// The status of that name, if there is one.
    pub fn from_name(name: &str) -> Option<Status> {
        let all = [Status::Published, Status::CommonPractice, Status::Memory, Status::User];
        all.into_iter().find(|status| status.name() == name)
    }

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
