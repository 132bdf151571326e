//! The calculator's answer in the shape of its JSON form.

mod hole;
mod row;
mod sizes;
mod strength;

use schemars::JsonSchema;
use serde::Serialize;

use self::hole::{Band, Hole};
use self::row::Row;
use self::sizes::{DrillInBand, Guide};
use self::strength::StripGuidance;
use crate::check::{CollarResult, LengthsResult, working};
use crate::trade::{Basis, Thread, percent};
use crate::units::Length;
use crate::verdict::Along;
use crate::verdict::calculator::{Answer, Question};
use crate::verdict::table::TableRow;

/// All of it.
#[derive(Debug, Serialize, JsonSchema)]
pub(super) struct Size {
    /// Version of this format: 1.
    format: u32,
    /// Designation of the thread.
    thread: String,
    /// The unit that the thread is made in: `mm` or `in`. Every length here is in mm.
    unit: &'static str,
    /// Basic major diameter (mm).
    major_mm: f64,
    /// Pitch (mm).
    pitch_mm: f64,
    /// Basic pitch diameter (mm).
    pitch_diameter_mm: f64,
    /// The basis of every engagement without another name: `rolled`.
    basis: &'static str,
    /// Material asked for.
    material: Option<&'static str>,
    /// Thickness asked for (mm).
    thickness_mm: Option<f64>,
    /// Process asked for.
    process: Option<&'static str>,
    /// Brinell hardness asked for.
    hardness_hb: Option<f64>,
    /// Metal, screw length and full thread.
    lengths: LengthsResult,
    /// Depth that the screw needs in a blind hole, clearance included, where the hole is too shallow (mm).
    needed_depth_mm: Option<f64>,
    /// The collar, by volume balance.
    collar: Option<CollarResult>,
    /// The band, where one holds for all that is known.
    band: Option<Band>,
    /// Else every possible one.
    bands: Vec<Band>,
    /// What is missing for one band.
    missing: Vec<&'static str>,
    /// Why no thread can be formed here, if so.
    unsuitable: Option<Unsuitable>,
    /// The given hole, judged.
    hole: Option<Hole>,
    /// The hole to call out.
    advice: Option<Advice>,
    /// Drills inside the band: those that the policy lists, else those of the tables.
    drills: Vec<DrillInBand>,
    /// Punches inside the band; null where no policy lists those that the shop keeps, or the hole is made otherwise.
    punches: Option<Vec<DrillInBand>>,
    /// What the policy sets; null without one.
    policy: Option<PolicyUsed>,
    /// Guide holes of the standard at that length of engagement.
    guide_holes: Vec<Guide>,
    /// Strip guidance, never a pass.
    strip: Option<StripGuidance>,
    /// A hole with draft: start, middle and end of the engaged length. Left out without draft.
    #[serde(skip_serializing_if = "Option::is_none")]
    along: Option<Vec<AlongPoint>>,
    /// Whether the nominal stays in the band all along.
    #[serde(skip_serializing_if = "Option::is_none")]
    along_in_band: Option<bool>,
    /// Whether both limits of size do.
    #[serde(skip_serializing_if = "Option::is_none")]
    along_limits_in_band: Option<bool>,
    /// Depth at which the nominal leaves the band (mm).
    #[serde(skip_serializing_if = "Option::is_none")]
    longest_depth_mm: Option<f64>,
    /// Engaged length that the best entrance could keep with this tolerance and draft (mm).
    #[serde(skip_serializing_if = "Option::is_none")]
    longest_depth_at_best_mm: Option<f64>,
    /// An entrance that keeps this engaged length in the band (mm).
    #[serde(skip_serializing_if = "Option::is_none")]
    entrance_mm: Option<f64>,
    /// Greatest draft per side with which some entrance does (degrees).
    #[serde(skip_serializing_if = "Option::is_none")]
    most_draft_deg: Option<f64>,
    /// A row for each thickness or drill, where a table was asked for.
    #[serde(skip_serializing_if = "Option::is_none")]
    table: Option<Vec<Row>>,
    /// What every answer is subject to.
    cautions: &'static str,
}

#[derive(Debug, Serialize, JsonSchema)]
struct Unsuitable {
    /// Why.
    reason: String,
    /// Where that comes from.
    source: String,
    /// How well it is founded.
    status: &'static str,
}

#[derive(Debug, Serialize, JsonSchema)]
struct Advice {
    /// Diameter to call out, before coating if one is given for a hole stated before it (mm).
    diameter_mm: f64,
    /// A drill of that size.
    drill: Option<String>,
    /// The callout to write.
    callout: String,
    /// Rolled engagement of the hole that the screw then meets (percent).
    engagement: f64,
}

#[derive(Debug, Serialize, JsonSchema)]
struct PolicyUsed {
    /// The file.
    file: String,
    /// Each thing that it sets over the trade, in words.
    sets: Vec<String>,
}

#[derive(Debug, Serialize, JsonSchema)]
struct AlongPoint {
    /// Below the surface (mm).
    depth_mm: f64,
    /// Diameter there (mm).
    diameter_mm: f64,
    /// Rolled engagement there (percent).
    engagement: f64,
}

/// A length as reported, mm to 1e-6.
fn mm(length: Length) -> f64 {
    rounded(length.mm(), 1e6)
}

/// A percent as reported, to 0.01.
fn points(percent: f64) -> f64 {
    rounded(percent, 100.0)
}

fn rounded(value: f64, scale: f64) -> f64 {
    // Adding zero turns a negative zero into a plain one.
    (value * scale).round() / scale + 0.0
}

fn rolled(thread: &Thread, hole: Length) -> f64 {
    points(percent(thread, hole, Basis::Rolled))
}

impl Size {
    /// The answer, rounded as reports round.
    pub(super) fn of(question: &Question, answer: &Answer, rows: Option<&[TableRow]>) -> Size {
        let thread = &question.thread;
        let along = answer.along.as_ref();
        Size {
            format: 1,
            thread: thread.name.clone(),
            unit: thread.unit.name(),
            major_mm: mm(thread.major),
            pitch_mm: mm(thread.pitch),
            pitch_diameter_mm: mm(thread.pitch_diameter()),
            basis: Basis::Rolled.name(),
            material: question.material.map(|m| m.name()),
            thickness_mm: question.thickness.map(mm),
            process: question.process.map(|p| p.name()),
            hardness_hb: question.hardness_hb,
            lengths: working::lengths(&answer.metal, thread),
            needed_depth_mm: answer.needed_depth.map(mm),
            collar: question.collar.zip(answer.collar.as_ref()).map(|(c, b)| working::collar(&c, b)),
            band: answer.band.as_ref().map(|b| Band::of(b, None)),
            bands: answer.possible.iter().map(|(p, b)| Band::of(b, Some((p, thread.unit)))).collect(),
            missing: answer.missing.clone(),
            unsuitable: answer.unsuitable.as_ref().map(|u| Unsuitable {
                reason: u.reason.clone(),
                source: u.source.clone(),
                status: u.status.name(),
            }),
            hole: answer.hole.as_ref().map(|h| Hole::of(thread, h)),
            advice: answer.advice.as_ref().map(|a| Advice {
                diameter_mm: mm(a.diameter),
                drill: a.drill.clone(),
                callout: a.callout.clone(),
                engagement: rolled(thread, question.met(a.diameter).1),
            }),
            drills: answer.drills.iter().map(|d| DrillInBand::of(thread, d)).collect(),
            punches: answer
                .punches
                .as_ref()
                .map(|all| all.iter().map(|p| DrillInBand::of(thread, p)).collect()),
            policy: answer
                .overrides
                .as_ref()
                .map(|o| PolicyUsed { file: o.file.clone(), sets: o.sets.clone() }),
            guide_holes: answer.guide_holes.iter().map(|g| Guide::of(thread, g)).collect(),
            strip: answer.strip.as_ref().map(StripGuidance::of),
            along: along.map(|a| a.points.iter().map(AlongPoint::of).collect()),
            along_in_band: along.and_then(|a| a.in_band),
            along_limits_in_band: along.and_then(|a| a.limits_in_band),
            longest_depth_mm: along.and_then(|a: &Along| Some(mm(a.points[0].depth + a.longest?))),
            longest_depth_at_best_mm: along.and_then(|a| a.longest_at_best).map(mm),
            entrance_mm: along.and_then(|a| a.entrance).map(mm),
            most_draft_deg: along.and_then(|a| a.most_draft).map(|d| points(d.degrees())),
            table: rows.map(|rows| rows.iter().map(Row::of).collect()),
            cautions: crate::report::text::CAUTION,
        }
    }
}

impl AlongPoint {
    fn of(point: &crate::verdict::AlongPoint) -> AlongPoint {
        AlongPoint {
            depth_mm: mm(point.depth),
            diameter_mm: mm(point.diameter),
            engagement: points(point.engagement),
        }
    }
}
