//! The band and the given hole in the JSON form.

use schemars::JsonSchema;
use serde::Serialize;

use super::{mm, points, rolled};
use crate::check::{CapabilityResult, CoatingResult, working};
use crate::practice::Possible;
use crate::shared::SharedText;
use crate::trade::{Basis, Thread, percent};
use crate::units::Unit;
use crate::verdict::HoleBand;
use crate::verdict::calculator::HoleAnswer;

#[derive(Debug, Serialize, JsonSchema)]
pub(super) struct Band {
    /// What it holds for, where several are possible.
    #[serde(skip_serializing_if = "Option::is_none")]
    holds_for: Option<String>,
    /// Least engagement (percent).
    min: f64,
    /// Engagement to aim at (percent).
    target: f64,
    /// Greatest engagement (percent).
    max: f64,
    /// Smallest hole allowed (mm).
    hole_min_mm: f64,
    /// Largest hole allowed (mm).
    hole_max_mm: f64,
    /// Where it comes from.
    source: SharedText,
    /// `published`, `common_practice`, `memory` or `user`.
    status: &'static str,
    /// What the source adds.
    note: Option<String>,
}

#[derive(Debug, Serialize, JsonSchema)]
pub(super) struct Hole {
    /// As given; the engagements are those of the hole after coating (mm).
    diameter_mm: f64,
    /// Smallest (mm).
    min_mm: f64,
    /// Largest (mm).
    max_mm: f64,
    /// The tolerance, in words.
    tolerance: String,
    /// `callout` if given, `process` if assumed, else `none`.
    tolerance_source: &'static str,
    /// Engagement at the nominal on every basis (percent).
    engagement: ByBasis,
    /// Rolled engagement of the smallest hole (percent).
    engagement_at_min: f64,
    /// Rolled engagement of the largest hole (percent).
    engagement_at_max: f64,
    /// Height of the formed thread, percent of the full height; null where the model does not hold.
    formed_height: Option<f64>,
    /// `in-band`, `straddles`, `tight`, `loose` or `undetermined`; null where no thread can be formed.
    verdict: Option<&'static str>,
    /// What would decide an undetermined one.
    undecided: Vec<String>,
    /// The tap drill of the same thread that it is the size of.
    cut_thread_drill: Option<&'static str>,
    /// The hole before and after coating, where one is given.
    coating: Option<CoatingResult>,
    /// Expected share of holes outside the band; beside the verdict, never part of it.
    capability: Option<CapabilityResult>,
}

#[derive(Debug, Serialize, JsonSchema)]
pub(super) struct ByBasis {
    /// 100 (D − d) / (0.649519 P).
    rolled: f64,
    /// 100 (D − d) / (1.299038 P).
    cut: f64,
    /// 100 (D − d) / (1.082532 P).
    basic: f64,
}

impl Band {
    pub(super) fn of(band: &HoleBand, holds_for: Option<(&Possible, Unit)>) -> Band {
        Band {
            holds_for: holds_for.map(|(p, unit)| p.label(unit)),
            min: band.band.min,
            target: band.band.target,
            max: band.band.max,
            hole_min_mm: mm(band.hole_min),
            hole_max_mm: mm(band.hole_max),
            source: band.band.source.clone(),
            status: band.band.status.name(),
            note: band.band.note.clone(),
        }
    }
}

impl Hole {
    pub(super) fn of(thread: &Thread, hole: &HoleAnswer) -> Hole {
        let limits = &hole.limits;
        let met = &hole.met();
        let on = |basis| points(percent(thread, met.nominal, basis));
        Hole {
            diameter_mm: mm(limits.nominal),
            min_mm: mm(limits.min),
            max_mm: mm(limits.max),
            tolerance: limits.tolerance_text.to_string(),
            tolerance_source: limits.tolerance_source.name(),
            engagement: ByBasis { rolled: on(Basis::Rolled), cut: on(Basis::Cut), basic: on(Basis::Basic) },
            engagement_at_min: rolled(thread, met.min),
            engagement_at_max: rolled(thread, met.max),
            formed_height: hole.formed_height.map(points),
            verdict: hole.verdict.map(|v| v.name()),
            undecided: hole.undecided.clone(),
            cut_thread_drill: hole.cut_thread_drill,
            coating: hole.coating.as_ref().map(working::coating),
            capability: hole.capability.as_ref().map(working::capability),
        }
    }
}
