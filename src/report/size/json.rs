//! The calculator's answer in the shape of its JSON form.

use schemars::JsonSchema;
use serde::Serialize;

use crate::check::{CapabilityResult, CoatingResult, CollarResult, LengthsResult, working};
use crate::practice::Possible;
use crate::trade::{Basis, GuideHole, Loads, Thread, fit, percent};
use crate::units::{Length, Unit};
use crate::verdict::calculator::{Answer, HoleAnswer, Question, Tool};
use crate::verdict::table::TableRow;
use crate::verdict::{Along, HoleBand, Strip};

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
struct Band {
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
    source: String,
    /// `published`, `common_practice`, `memory` or `user`.
    status: &'static str,
    /// What the source adds.
    note: Option<String>,
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
struct Hole {
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
    cut_thread_drill: Option<String>,
    /// The hole before and after coating, where one is given.
    coating: Option<CoatingResult>,
    /// Expected share of holes outside the band; beside the verdict, never part of it.
    capability: Option<CapabilityResult>,
}

#[derive(Debug, Serialize, JsonSchema)]
struct ByBasis {
    /// 100 (D − d) / (0.649519 P).
    rolled: f64,
    /// 100 (D − d) / (1.299038 P).
    cut: f64,
    /// 100 (D − d) / (1.082532 P).
    basic: f64,
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
struct DrillInBand {
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
struct Guide {
    /// The standard.
    source: String,
    /// How well that is founded.
    status: &'static str,
    /// Column: `St`, `Al` or `Cu`.
    metal: &'static str,
    /// Length of engagement of its row (mm).
    length_mm: f64,
    /// Guide hole (mm).
    diameter_mm: f64,
    /// Its tolerance.
    fit: String,
    /// Rolled engagement (percent).
    engagement: f64,
    /// The same at the largest hole of the fit (percent).
    engagement_at_max: Option<f64>,
    /// Whether the 2016 edition still has that row.
    in_2016_range: bool,
    /// Why the printed value is doubtful, if it is.
    suspect: Option<String>,
}

#[derive(Debug, Serialize, JsonSchema)]
struct StripGuidance {
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
    /// Where both come from.
    screw_source: String,
    /// How well it is founded.
    screw_status: &'static str,
    /// Failure loads; null without a strength of the metal, or where the model does not hold.
    loads: Option<LoadsResult>,
}

#[derive(Debug, Serialize, JsonSchema)]
struct LoadsResult {
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

#[derive(Debug, Serialize, JsonSchema)]
struct AlongPoint {
    /// Below the surface (mm).
    depth_mm: f64,
    /// Diameter there (mm).
    diameter_mm: f64,
    /// Rolled engagement there (percent).
    engagement: f64,
}

#[derive(Debug, Serialize, JsonSchema)]
struct Row {
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

impl Row {
    fn of(row: &TableRow) -> Row {
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

impl LoadsResult {
    fn of(loads: &Loads) -> LoadsResult {
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

impl Band {
    fn of(band: &HoleBand, holds_for: Option<(&Possible, Unit)>) -> Band {
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
    fn of(thread: &Thread, hole: &HoleAnswer) -> Hole {
        let limits = &hole.limits;
        let met = &hole.met();
        let on = |basis| points(percent(thread, met.nominal, basis));
        Hole {
            diameter_mm: mm(limits.nominal),
            min_mm: mm(limits.min),
            max_mm: mm(limits.max),
            tolerance: limits.tolerance_text.clone(),
            tolerance_source: limits.tolerance_source.name(),
            engagement: ByBasis { rolled: on(Basis::Rolled), cut: on(Basis::Cut), basic: on(Basis::Basic) },
            engagement_at_min: rolled(thread, met.min),
            engagement_at_max: rolled(thread, met.max),
            formed_height: hole.formed_height.map(points),
            verdict: hole.verdict.map(|v| v.name()),
            undecided: hole.undecided.clone(),
            cut_thread_drill: hole.cut_thread_drill.clone(),
            coating: hole.coating.as_ref().map(working::coating),
            capability: hole.capability.as_ref().map(working::capability),
        }
    }
}

impl DrillInBand {
    fn of(thread: &Thread, drill: &Tool) -> DrillInBand {
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
    fn of(thread: &Thread, guide: &GuideHole) -> Guide {
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

impl StripGuidance {
    fn of(strip: &Strip) -> StripGuidance {
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
            screw_status: strip.screw.status.name(),
            loads: strip.loads.as_ref().map(LoadsResult::of),
        }
    }
}
