//! Drills, punches and guide holes in the JSON form.

use schemars::JsonSchema;
use serde::Serialize;

use super::{mm, rolled};
use crate::shared::SharedText;
use crate::trade::{GuideHole, Thread, fit};
use crate::verdict::calculator::Tool;

#[derive(Debug, Serialize, JsonSchema)]
pub(super) struct DrillInBand {
    /// Name of the drill or punch.
    name: String,
    /// Its diameter (mm).
    diameter_mm: f64,
    /// Rolled engagement in a hole of that diameter (percent).
    engagement: f64,
    /// Whether shops stock it.
    stocked: bool,
    /// Where the series comes from; the policy for those of a shop.
    source: String,
    /// How well that is founded.
    status: &'static str,
}

#[derive(Debug, Serialize, JsonSchema)]
pub(super) struct Guide {
    /// The standard.
    source: SharedText,
    /// How well that is founded.
    status: &'static str,
    /// Column: `St`, `Al` or `Cu`.
    metal: &'static str,
    /// Length of engagement of its row (mm).
    length_mm: f64,
    /// Guide hole (mm).
    diameter_mm: f64,
    /// Its tolerance.
    fit: SharedText,
    /// Rolled engagement (percent).
    engagement: f64,
    /// The same at the largest hole of the fit (percent).
    engagement_at_max: Option<f64>,
    /// Whether the 2016 edition still has that row.
    in_2016_range: bool,
    /// Why the printed value is doubtful, if it is.
    suspect: Option<SharedText>,
}

impl DrillInBand {
    pub(super) fn of(thread: &Thread, drill: &Tool) -> DrillInBand {
        DrillInBand {
            name: drill.name.clone(),
            diameter_mm: mm(drill.diameter),
            engagement: rolled(thread, drill.diameter),
            stocked: drill.stocked,
            source: drill.source.clone(),
            status: drill.status.name(),
        }
    }
}

impl Guide {
    pub(super) fn of(thread: &Thread, guide: &GuideHole) -> Guide {
        let largest = fit(&guide.fit, guide.hole).map(|f| guide.hole + f.upper);
        Guide {
            source: guide.source.clone(),
            status: guide.status.name(),
            metal: guide.metal.sign(),
            length_mm: mm(guide.length),
            diameter_mm: mm(guide.hole),
            fit: guide.fit.clone(),
            engagement: rolled(thread, guide.hole),
            engagement_at_max: largest.map(|hole| rolled(thread, hole)),
            in_2016_range: guide.in_2016_range,
            suspect: guide.suspect.clone(),
        }
    }
}
