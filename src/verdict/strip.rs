//! Strip guidance for the calculator: areas, loads and the metal that makes the screw the weakest member. Guidance,
//! never a pass.

use super::calculator::Question;
use crate::trade::{
    Basis, Loads, MetalStrength, ScrewStrength, Status, failure_loads, formed_nut_area_mm2,
    formed_screw_area_mm2, metal_strength, percent, screw_strength, stress_area_mm2,
};
use crate::units::Length;

/// Areas that resist stripping, and loads where the metal's strength is known. Guidance, never a pass.
#[derive(Debug, Clone, PartialEq)]
pub struct Strip {
    /// Length of engagement that they are for.
    pub engagement: Length,
    /// The hole that they are for.
    pub hole: Length,
    /// Of the metal around the thread (mm²).
    pub nut_area_mm2: f64,
    /// Of the screw (mm²).
    pub screw_area_mm2: f64,
    /// Tensile stress area of the screw (mm²).
    pub stress_area_mm2: f64,
    /// Whether the rolled engagement is in the range the formulas hold for.
    pub valid: bool,
    /// What the screw bears.
    pub screw: ScrewStrength,
    /// What the metal bears; none where neither material nor strength is known.
    pub metal: Option<MetalStrength>,
    /// Failure loads; none without a strength of the metal, or where the formulas do not hold.
    pub loads: Option<Loads>,
}

impl Strip {
    /// Least and greatest rolled engagement that the formulas hold for (percent).
    pub const VALID: (f64, f64) = (60.0, 100.0);

    /// The metal strips before the screw's thread if the screw's shear strength is more than this times the metal's.
    pub fn metal_strips_above(&self) -> f64 {
        self.nut_area_mm2 / self.screw_area_mm2
    }
}

/// Strip guidance for a hole over a length of engagement.
pub(super) fn strip(question: &Question, hole: Length, engagement: Length) -> Strip {
    let thread = &question.thread;
    let rolled = percent(thread, hole, Basis::Rolled);
    let valid = (Strip::VALID.0..=Strip::VALID.1).contains(&rolled);
    let stated = question.tensile_mpa.map(|tensile_mpa| MetalStrength {
        tensile_mpa,
        source: "given".to_owned(),
        status: Status::User,
    });
    let metal = stated.or_else(|| metal_strength(question.material?));
    let screw = screw_strength(thread);
    let loads = metal
        .as_ref()
        .filter(|_| valid)
        .and_then(|m| failure_loads(thread, hole, engagement, m.tensile_mpa, screw.tensile_n));
    Strip {
        engagement,
        hole,
        nut_area_mm2: formed_nut_area_mm2(thread, engagement),
        screw_area_mm2: formed_screw_area_mm2(thread, hole, engagement),
        stress_area_mm2: stress_area_mm2(thread),
        valid,
        screw,
        metal,
        loads,
    }
}
