//! What a thread carries in the JSON form: guidance, with every source in full.

use schemars::JsonSchema;
use serde::Serialize;

use super::{mm, points, rounded};
use crate::trade::Loads;
use crate::verdict::Strip;

#[derive(Debug, Serialize, JsonSchema)]
pub(super) struct StripGuidance {
    /// Always true: this is no acceptance.
    guidance_only: bool,
    /// Length of engagement (mm).
    engagement_mm: f64,
    /// The hole (mm).
    hole_mm: f64,
    /// Strip area of the metal (mm²).
    nut_area_mm2: f64,
    /// Strip area of the screw's thread (mm²).
    screw_area_mm2: f64,
    /// Tensile stress area of the screw (mm²).
    stress_area_mm2: f64,
    /// The metal strips before the screw's thread where the screw's shear strength is more than this times the metal's.
    metal_strips_above_shear_ratio: f64,
    /// Least rolled engagement that the model holds for (percent).
    valid_from: f64,
    /// Greatest rolled engagement that the model holds for (percent).
    valid_to: f64,
    /// Whether this hole is inside.
    valid: bool,
    /// Tensile strength of the metal (MPa).
    metal_tensile_mpa: Option<f64>,
    /// Where that comes from.
    metal_source: Option<String>,
    /// How well it is founded.
    metal_status: Option<&'static str>,
    /// Least tensile load of the screw (N).
    screw_tensile_n: f64,
    /// Least breaking torque of the screw (N·m), where one is recalled.
    screw_torque_nm: Option<f64>,
    /// Where the load comes from.
    screw_source: String,
    /// Where the torque comes from.
    screw_torque_source: Option<String>,
    /// How well both are founded.
    screw_status: &'static str,
    /// Failure loads; null without a strength of the metal, or where the model does not hold.
    loads: Option<LoadsResult>,
}

#[derive(Debug, Serialize, JsonSchema)]
pub(super) struct LoadsResult {
    /// The metal's thread strips, with shear 0.5 and 0.6 of tensile strength (N).
    metal_n: [f64; 2],
    /// The screw's thread strips, the same (N).
    screw_thread_n: [f64; 2],
    /// The screw breaks (N).
    screw_n: f64,
    /// What fails first, the same: `metal-thread`, `screw-thread` or `screw`.
    first: [&'static str; 2],
    /// Engagement from which the screw breaks first, with 0.6 and with 0.5 (mm).
    screw_first_from_mm: [f64; 2],
}

impl StripGuidance {
    pub(super) fn of(strip: &Strip) -> StripGuidance {
        StripGuidance {
            guidance_only: true,
            engagement_mm: mm(strip.engagement),
            hole_mm: mm(strip.hole),
            nut_area_mm2: rounded(strip.nut_area_mm2, 1e3),
            screw_area_mm2: rounded(strip.screw_area_mm2, 1e3),
            stress_area_mm2: rounded(strip.stress_area_mm2, 1e3),
            metal_strips_above_shear_ratio: points(strip.metal_strips_above()),
            valid_from: Strip::VALID.0,
            valid_to: Strip::VALID.1,
            valid: strip.valid,
            metal_tensile_mpa: strip.metal.as_ref().map(|m| m.tensile_mpa),
            metal_source: strip.metal.as_ref().map(|m| m.source.clone()),
            metal_status: strip.metal.as_ref().map(|m| m.status.name()),
            screw_tensile_n: rounded(strip.screw.tensile_n, 1.0),
            screw_torque_nm: strip.screw.torque_nm,
            screw_source: strip.screw.source.clone(),
            screw_torque_source: strip.screw.torque_source.clone(),
            screw_status: strip.screw.status.name(),
            loads: strip.loads.as_ref().map(LoadsResult::of),
        }
    }
}

impl LoadsResult {
    pub(super) fn of(loads: &Loads) -> LoadsResult {
        let newtons = |(low, high): (f64, f64)| [rounded(low, 1.0), rounded(high, 1.0)];
        let (short, long) = loads.screw_first_from;
        LoadsResult {
            metal_n: newtons(loads.metal_n),
            screw_thread_n: newtons(loads.screw_thread_n),
            screw_n: rounded(loads.screw_n, 1.0),
            first: [loads.first.0.name(), loads.first.1.name()],
            screw_first_from_mm: [rounded(short.mm(), 1e3), rounded(long.mm(), 1e3)],
        }
    }
}
