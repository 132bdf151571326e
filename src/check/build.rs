//! An examined drawing and its findings to the plain result that is reported. The only place that rounds.

use super::working;
use super::{
    AdviceResult, BandResult, CalloutResult, DiameterResult, DrawingResult, EngagementResult, Examined,
    FindingResult, GuideHoleResult, HoleResult, JointResult, NotJudgedResult, ProblemResult, ScrewResult,
};
use crate::drawing::Problem;
use crate::finding::{Finding, Level};
use crate::joint::{DrawingRows, Screw, ScrewForm};
use crate::pairing::{Hole, SeenCallout, ThicknessSource};
use crate::rules;
use crate::shared::{Shared, SharedText};
use crate::trade::{GuideMetal, guide_holes};
use crate::units::Length;
use crate::verdict::{Advice, Engagement, HoleBand, Judged, Limits};

/// The result of one drawing.
pub(super) fn drawing(
    path: &str,
    digest: String,
    examined: &Examined,
    rows: Option<&DrawingRows>,
    findings: Vec<FindingResult>,
) -> DrawingResult {
    let paired = &examined.paired;
    let sheet = &paired.sheet;
    let thickness = sheet.thickness;
    DrawingResult {
        path: path.to_owned(),
        digest,
        state: examined.state.name().to_owned(),
        problems: examined.problems.iter().map(problem).collect(),
        unit: paired.unit.unit.name().to_owned(),
        unit_source: paired.unit.source.name().to_owned(),
        part: sheet.part.clone().or_else(|| rows.and_then(|rows| rows.part.clone())),
        material: sheet.material.map(|material| material.name().to_owned()),
        thickness_mm: thickness.map(|(length, _)| mm(length)),
        thickness_source: thickness.map_or(ThicknessSource::None, |(_, source)| source).name().to_owned(),
        holes: holes(examined),
        findings,
        saved_in: examined.drawing.header.saved_in,
        picture: None,
        conversion: None,
    }
}

/// The holes of an examined drawing, in its order. What holes that are alike have in common is made once.
pub(super) fn holes(examined: &Examined) -> Vec<HoleResult> {
    let paired = &examined.paired;
    let mut spaces = Names::of(examined.drawing.spaces.len());
    let mut layers = Names::of(examined.drawing.layers.len());
    let mut alike: Vec<Option<Alike>> = vec![None; examined.judged.distinct()];
    let mut results = Vec::with_capacity(paired.holes.len());
    for (index, (hole, (number, judged))) in paired.holes.iter().zip(examined.judged.iter()).enumerate() {
        let around = paired.surroundings.get(index);
        let (space, layer) = (usize::from(hole.origin.space), hole.origin.layer);
        let callout = hole.callout.and_then(|index| paired.callouts.get(index));
        let Alike { drawn, view_scale, words, joint } =
            alike[number].get_or_insert_with(|| Alike::of(hole, judged, callout));
        results.push(HoleResult {
            id: hole.id.clone(),
            x: round(hole.at.x, 1e6),
            y: round(hole.at.y, 1e6),
            space: spaces.name(space, examined.drawing.spaces.get(space).map_or("model", |s| &s.name)),
            drawn_diameter_mm: *drawn,
            view_scale: *view_scale,
            layer: layers.name(layer as usize, examined.layer_name(layer).unwrap_or("0")),
            handle: hole.origin.handle_text(),
            tag: hole.tag.clone(),
            callout: callout.zip(words.as_ref()).map(|(seen, words)| CalloutResult {
                text: words.clone(),
                handle: seen.origin.handle_text(),
            }),
            paired_by: hole.paired_by.name().into(),
            confidence: round(hole.confidence, 100.0),
            joint: joint.clone(),
            not_judged: rules::not_judged(hole, judged, around).into_iter().map(not_judged).collect(),
        });
    }
    results
}

/// Names of layers or spaces, each made once.
struct Names(Vec<Option<SharedText>>);

impl Names {
    fn of(count: usize) -> Names {
        Names(vec![None; count])
    }

    fn name(&mut self, index: usize, name: &str) -> SharedText {
        let make = || SharedText::copied(name);
        self.0.get_mut(index).map_or_else(make, |known| known.get_or_insert_with(make).clone())
    }
}

/// A problem of a file.
pub(super) fn problem(problem: &Problem) -> ProblemResult {
    ProblemResult {
        line: problem.line,
        offset: problem.offset,
        message: problem.message.clone(),
        loss: problem.loss,
    }
}

/// What is the same for all holes that are alike: everything but name, place, confidence, the callout's handle and what
/// stands round them.
#[derive(Clone)]
struct Alike {
    drawn: f64,
    view_scale: f64,
    /// Those of the callout.
    words: Option<SharedText>,
    joint: Shared<JointResult>,
}

impl Alike {
    fn of(hole: &Hole, judged: &Judged, callout: Option<&SeenCallout>) -> Alike {
        Alike {
            drawn: mm(hole.drawn),
            view_scale: round(hole.view_scale, 1e6),
            words: callout.map(|seen| SharedText::copied(&seen.callout.text)),
            joint: joint(hole, judged).into(),
        }
    }
}

fn joint(hole: &Hole, judged: &Judged) -> JointResult {
    JointResult {
        screw: hole.screw.as_ref().map(screw),
        material: hole.making.material.map(|material| material.name().into()),
        thickness_mm: hole.making.thickness.map(mm),
        thickness_source: hole.thickness_source.name().into(),
        process: hole.making.process.map(|process| process.name().into()),
        diameter: diameter(&judged.limits),
        engagement: judged.engagement.as_ref().map(engagement),
        band: judged.band.as_ref().map(band),
        verdict: judged.verdict.map(|verdict| verdict.name().into()),
        undecided: judged.missing.iter().map(|missing| SharedText::copied(missing)).collect(),
        advice: judged.advice.as_ref().map(advice),
        guide_holes: guides(hole, judged),
        accepted_guide_hole: judged
            .guide_hole
            .as_ref()
            .zip(hole.screw.as_ref())
            .map(|(guide, screw)| Box::new(working::guide(guide, &screw.thread))),
        coating: judged.coating.as_deref().map(working::coating).map(Box::new),
        lengths: judged.metal.zip(hole.screw.as_ref()).map(|(m, s)| working::lengths(&m, &s.thread).into()),
        along: judged.along.as_deref().map(working::along).map(Box::new),
        collar: judged.collar.as_deref().map(|(collar, balance)| working::collar(collar, balance).into()),
        capability: judged.capability.as_deref().map(working::capability).map(Box::new),
    }
}

/// The standard's guide holes for a hole's screw, metal and length of engagement; none where one is not known.
fn guides(hole: &Hole, judged: &Judged) -> Vec<GuideHoleResult> {
    let screw = hole.screw.as_ref().filter(|screw| screw.form == ScrewForm::Rolling);
    let found = screw.and_then(|screw| {
        let metal = GuideMetal::of(hole.making.material?)?;
        let length = judged.metal?.length()?;
        let guides = guide_holes(&screw.thread, length, Some(metal));
        Some(guides.iter().map(|guide| working::guide(guide, &screw.thread)).collect())
    });
    found.unwrap_or_default()
}

fn not_judged(it: rules::NotJudged) -> NotJudgedResult {
    NotJudgedResult { rule: it.rule.into(), reason: it.reason.into() }
}

fn screw(screw: &Screw) -> ScrewResult {
    ScrewResult {
        thread: SharedText::copied(&screw.thread.name),
        major_mm: mm(screw.thread.major),
        pitch_mm: mm(screw.thread.pitch),
        form: screw.form.name().into(),
    }
}

fn diameter(limits: &Limits) -> DiameterResult {
    DiameterResult {
        nominal_mm: mm(limits.nominal),
        min_mm: mm(limits.min),
        max_mm: mm(limits.max),
        source: limits.source.name().into(),
        tolerance_source: limits.tolerance_source.name().into(),
    }
}

pub(super) fn engagement(engagement: &Engagement) -> EngagementResult {
    EngagementResult {
        basis: "rolled".into(),
        nominal: percent(engagement.nominal),
        at_min: percent(engagement.at_min),
        at_max: percent(engagement.at_max),
    }
}

fn band(band: &HoleBand) -> BandResult {
    BandResult {
        min: percent(band.band.min),
        target: percent(band.band.target),
        max: percent(band.band.max),
        hole_min_mm: mm(band.hole_min),
        hole_max_mm: mm(band.hole_max),
        source: band.band.source.clone(),
        status: band.band.status.name().into(),
    }
}

fn advice(advice: &Advice) -> AdviceResult {
    AdviceResult {
        diameter_mm: mm(advice.diameter),
        drill: advice.drill.clone().map(SharedText::from),
        callout: advice.callout.clone().into(),
    }
}

/// What a rule found, at a level.
pub(super) fn finding(finding: Finding, level: Level) -> FindingResult {
    let place = finding.place;
    FindingResult {
        rule: finding.rule.0.into(),
        level: level.name().into(),
        hole: place.hole,
        x: place.at.map(|(x, _)| round(x, 1e6)),
        y: place.at.map(|(_, y)| round(y, 1e6)),
        handle: place.handle,
        layer: place.layer,
        line: place.line,
        message: finding.message,
        remedy: finding.remedy,
        waived: None,
    }
}

/// A length in mm, rounded to 1e-6 mm.
pub(super) fn mm(length: Length) -> f64 {
    round(length.mm(), 1e6)
}

/// A percentage, rounded to 0.01.
pub(super) fn percent(value: f64) -> f64 {
    round(value, 100.0)
}

/// Rounds to one part in `per_unit`; never gives a negative zero, which would print as `-0.0`.
pub(super) fn round(value: f64, per_unit: f64) -> f64 {
    let scaled = (value * per_unit).round();
    // Beyond the range in which a double has such digits there is nothing to round.
    if scaled.is_finite() { scaled / per_unit + 0.0 } else { value }
}
