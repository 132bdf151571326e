//! The calculator's answer in the shape of its JSON form.

use serde::Serialize;

use crate::trade::{Basis, Drill, GuideHole, Possible, Thread, fit, percent};
use crate::units::{Length, Unit};
use crate::verdict::HoleBand;
use crate::verdict::calculator::{Along, Answer, HoleAnswer, Question, Strip};

/// All of it.
#[derive(Debug, Serialize)]
pub(super) struct Size {
    thread: String,
    unit: &'static str,
    major_mm: f64,
    pitch_mm: f64,
    pitch_diameter_mm: f64,
    basis: &'static str,
    material: Option<&'static str>,
    thickness_mm: Option<f64>,
    process: Option<&'static str>,
    band: Option<Band>,
    bands: Vec<Band>,
    missing: Vec<&'static str>,
    unsuitable: Option<Unsuitable>,
    hole: Option<Hole>,
    advice: Option<Advice>,
    drills: Vec<DrillInBand>,
    guide_holes: Vec<Guide>,
    strip: Option<StripGuidance>,
    #[serde(skip_serializing_if = "Option::is_none")]
    along: Option<Vec<AlongPoint>>,
    #[serde(skip_serializing_if = "Option::is_none")]
    along_in_band: Option<bool>,
    #[serde(skip_serializing_if = "Option::is_none")]
    longest_depth_mm: Option<f64>,
    cautions: &'static str,
}

#[derive(Debug, Serialize)]
struct Band {
    #[serde(skip_serializing_if = "Option::is_none")]
    holds_for: Option<String>,
    min: f64,
    target: f64,
    max: f64,
    hole_min_mm: f64,
    hole_max_mm: f64,
    source: String,
    status: &'static str,
    note: Option<String>,
}

#[derive(Debug, Serialize)]
struct Unsuitable {
    reason: String,
    source: String,
    status: &'static str,
}

#[derive(Debug, Serialize)]
struct Hole {
    diameter_mm: f64,
    min_mm: f64,
    max_mm: f64,
    tolerance: String,
    tolerance_source: &'static str,
    engagement: ByBasis,
    engagement_at_min: f64,
    engagement_at_max: f64,
    formed_height: Option<f64>,
    verdict: Option<&'static str>,
    undecided: Vec<String>,
    cut_thread_drill: Option<String>,
}

#[derive(Debug, Serialize)]
struct ByBasis {
    rolled: f64,
    cut: f64,
    basic: f64,
}

#[derive(Debug, Serialize)]
struct Advice {
    diameter_mm: f64,
    drill: Option<String>,
    callout: String,
    engagement: f64,
}

#[derive(Debug, Serialize)]
struct DrillInBand {
    name: String,
    diameter_mm: f64,
    engagement: f64,
    stocked: bool,
    source: String,
    status: &'static str,
}

#[derive(Debug, Serialize)]
struct Guide {
    source: String,
    status: &'static str,
    metal: &'static str,
    length_mm: f64,
    diameter_mm: f64,
    fit: String,
    engagement: f64,
    engagement_at_max: Option<f64>,
    in_2016_range: bool,
    suspect: Option<String>,
}

#[derive(Debug, Serialize)]
struct StripGuidance {
    guidance_only: bool,
    engagement_mm: f64,
    hole_mm: f64,
    nut_area_mm2: f64,
    screw_area_mm2: f64,
    stress_area_mm2: f64,
    metal_strips_above_shear_ratio: f64,
    valid_from: f64,
    valid_to: f64,
    valid: bool,
}

#[derive(Debug, Serialize)]
struct AlongPoint {
    depth_mm: f64,
    diameter_mm: f64,
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
    pub(super) fn of(question: &Question, answer: &Answer) -> Size {
        let thread = &question.thread;
        Size {
            thread: thread.name.clone(),
            unit: thread.unit.name(),
            major_mm: mm(thread.major),
            pitch_mm: mm(thread.pitch),
            pitch_diameter_mm: mm(thread.pitch_diameter()),
            basis: Basis::Rolled.name(),
            material: question.material.map(|m| m.name()),
            thickness_mm: question.thickness.map(mm),
            process: question.process.map(|p| p.name()),
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
                engagement: rolled(thread, a.diameter),
            }),
            drills: answer.drills.iter().map(|d| DrillInBand::of(thread, d)).collect(),
            guide_holes: answer.guide_holes.iter().map(|g| Guide::of(thread, g)).collect(),
            strip: answer.strip.as_ref().map(StripGuidance::of),
            along: answer.along.as_ref().map(|a| a.points.iter().map(|p| point(thread, p)).collect()),
            along_in_band: answer.along.as_ref().and_then(|a| a.in_band),
            longest_depth_mm: answer.along.as_ref().and_then(|a: &Along| a.longest).map(mm),
            cautions: crate::report::text::CAUTION,
        }
    }
}

fn point(thread: &Thread, (depth, diameter): &(Length, Length)) -> AlongPoint {
    AlongPoint { depth_mm: mm(*depth), diameter_mm: mm(*diameter), engagement: rolled(thread, *diameter) }
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
        let on = |basis| points(percent(thread, limits.nominal, basis));
        Hole {
            diameter_mm: mm(limits.nominal),
            min_mm: mm(limits.min),
            max_mm: mm(limits.max),
            tolerance: limits.tolerance_text.clone(),
            tolerance_source: limits.tolerance_source.name(),
            engagement: ByBasis { rolled: on(Basis::Rolled), cut: on(Basis::Cut), basic: on(Basis::Basic) },
            engagement_at_min: rolled(thread, limits.min),
            engagement_at_max: rolled(thread, limits.max),
            formed_height: hole.formed_height.map(points),
            verdict: hole.verdict.map(|v| v.name()),
            undecided: hole.undecided.clone(),
            cut_thread_drill: hole.cut_thread_drill.clone(),
        }
    }
}

impl DrillInBand {
    fn of(thread: &Thread, drill: &Drill) -> DrillInBand {
        DrillInBand {
            name: drill.name.clone(),
            diameter_mm: mm(drill.diameter),
            engagement: rolled(thread, drill.diameter),
            stocked: drill.series.stocked(),
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
        }
    }
}
