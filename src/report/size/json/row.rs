//! A row of a table over thicknesses or drills in the JSON form.

use schemars::JsonSchema;
use serde::Serialize;

use super::hole::Band;
use super::strength::LoadsResult;
use super::{mm, points};
use crate::verdict::table::TableRow;

#[derive(Debug, Serialize, JsonSchema)]
pub(super) struct Row {
    /// Thickness (mm).
    thickness_mm: Option<f64>,
    /// Name of the drill.
    drill: Option<String>,
    /// Whether it is stocked.
    stocked: bool,
    /// The hole (mm).
    hole_mm: Option<f64>,
    /// Rolled engagement (percent).
    engagement: Option<f64>,
    /// The same of the smallest hole, where a tolerance is known (percent).
    engagement_at_min: Option<f64>,
    /// The same of the largest hole (percent).
    engagement_at_max: Option<f64>,
    /// The band.
    band: Option<Band>,
    /// The verdict.
    verdict: Option<&'static str>,
    /// Failure loads, as guidance.
    loads: Option<LoadsResult>,
}

impl Row {
    pub(super) fn of(row: &TableRow) -> Row {
        Row {
            thickness_mm: row.thickness.map(mm),
            drill: row.drill.clone(),
            stocked: row.stocked,
            hole_mm: row.hole.map(mm),
            engagement: row.engagement.map(points),
            engagement_at_min: row.limits.map(|(most, _)| points(most)),
            engagement_at_max: row.limits.map(|(_, least)| points(least)),
            band: row.band.as_ref().map(|b| Band::of(b, None)),
            verdict: row.verdict.map(|v| v.name()),
            loads: row.strip.as_ref().and_then(|s| s.loads.as_ref()).map(LoadsResult::of),
        }
    }
}
