//! The working behind a verdict to the plain results that are reported: coating, lengths, draft, collar, capability,
//! guide holes.

use super::build::{engagement, mm, percent, round};
use super::{
    AlongPointResult, AlongResult, CapabilityResult, CoatingResult, CollarResult, GuideHoleResult,
    LengthsResult,
};
use crate::joint::{Collar, Stage};
use crate::trade::{Basis, CollarBalance, GuideHole, Thread, fit};
use crate::verdict::{Along, Capability, CoatedHole, Metal};

/// A coated hole.
pub(crate) fn coating(coated: &CoatedHole) -> CoatingResult {
    CoatingResult {
        thickness_mm: mm(coated.coating.thickness),
        stated: coated.coating.stated.map_or("unknown", Stage::name).into(),
        before_mm: mm(coated.before.nominal),
        after_mm: mm(coated.after.nominal),
        engagement_before: engagement(&coated.engagement_before),
        engagement_after: engagement(&coated.engagement_after),
    }
}

/// The lengths at a screw hole.
pub(crate) fn lengths(metal: &Metal, thread: &Thread) -> LengthsResult {
    let engaged = metal.engaged();
    LengthsResult {
        sunk_mm: mm(metal.sunk),
        metal_mm: metal.length().map(mm),
        reach_mm: metal.reach.map(mm),
        engaged_mm: engaged.map(mm),
        engaged_pitches: engaged.map(|length| percent(length / thread.pitch)),
        full_thread_least_mm: metal.full_thread.map(|(least, _)| mm(least)),
        full_thread_most_mm: metal.full_thread.map(|(_, most)| mm(most)),
    }
}

/// A hole along its depth.
pub(crate) fn along(along: &Along) -> AlongResult {
    let points = along.points.iter().map(|point| AlongPointResult {
        depth_mm: mm(point.depth),
        diameter_mm: mm(point.diameter),
        engagement: percent(point.engagement),
    });
    AlongResult {
        draft_deg: round(along.draft.degrees(), 1e6),
        points: points.collect(),
        most: percent(along.most),
        least: percent(along.least),
        in_band: along.in_band,
        limits_in_band: along.limits_in_band,
        longest_mm: along.longest.map(mm),
        longest_at_best_mm: along.longest_at_best.map(mm),
        entrance_mm: along.entrance.map(mm),
        most_draft_deg: along.most_draft.map(|draft| percent(draft.degrees())),
    }
}

/// A collar, balanced.
pub(crate) fn collar(collar: &Collar, balance: &CollarBalance) -> CollarResult {
    CollarResult {
        height_mm: mm(collar.height),
        outside_mm: mm(balance.outside),
        outside_source: if collar.outside.is_some() { "list" } else { "assumed" }.into(),
        thinning: percent(100.0 * balance.thinning),
        greatest_height_mm: balance.greatest_height.map(mm),
        pierce_mm: balance.pierce.map(mm),
        entry_radius_mm: collar.entry_radius.map(mm),
    }
}

/// Expected shares outside the band.
pub(crate) fn capability(capability: &Capability) -> CapabilityResult {
    let shares = &capability.shares;
    CapabilityResult {
        mean_mm: mm(capability.mean),
        sd_mm: mm(capability.sd),
        source: if capability.measured { "measured" } else { "process" }.into(),
        text: capability.source.clone().into(),
        tight: share(shares.below),
        loose: share(shares.above),
        outside: share(shares.outside()),
    }
}

/// A guide hole of the standard.
pub(crate) fn guide(guide: &GuideHole, thread: &Thread) -> GuideHoleResult {
    let rolled = |hole| percent(crate::trade::percent(thread, hole, Basis::Rolled));
    GuideHoleResult {
        source: guide.source.clone(),
        status: guide.status.name().into(),
        metal: guide.metal.sign().into(),
        diameter_mm: mm(guide.hole),
        fit: guide.fit.clone(),
        engagement: rolled(guide.hole),
        engagement_at_max: fit(&guide.fit, guide.hole).map(|f| rolled(guide.hole + f.upper)),
        suspect: guide.suspect.clone(),
    }
}

/// A share in percent, to one part in a million, so that rare holes are not shown as none.
fn share(value: f64) -> f64 {
    round(100.0 * value, 1e4)
}
