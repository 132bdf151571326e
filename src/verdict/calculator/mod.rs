//! The values behind the size calculator: what a thread in a metal wants of its hole, and what a given hole gives.
//! Renders nothing.

mod question;
mod stock;

use super::strip::{Strip, strip};
use super::{Along, Capability, CoatedHole, Drafted, Metal};
use super::{DiameterSource, ToleranceSource, coating, interval};
use super::{HoleBand, Limits, Verdict, advice, bands, notation, tapped};
use crate::practice::{BandAnswer, Limit, Overrides, Possible, Practice};
use crate::shared::SharedText;
use crate::trade::{
    Basis, CollarBalance, GuideHole, GuideMetal, Process, Unsuitable, cored_diameter, formed_height_percent,
    guide_holes, percent, process_typical,
};
use crate::units::Length;

pub use question::Question;
pub use stock::Tool;
pub(super) use stock::drills;

/// What the trade says.
#[derive(Debug, Clone, PartialEq)]
pub struct Answer {
    /// The band, where one holds for all that is known.
    pub band: Option<HoleBand>,
    /// Else every possible one.
    pub possible: Vec<(Possible, HoleBand)>,
    /// What is missing for one band: `material`, `thickness`.
    pub missing: Vec<&'static str>,
    /// Why no thread can be formed in the material, if so.
    pub unsuitable: Option<Unsuitable>,
    /// The given hole.
    pub hole: Option<HoleAnswer>,
    /// The hole to call out.
    pub advice: Option<super::Advice>,
    /// Drills inside the band, by diameter: those of the policy, else stocked and special ones.
    pub drills: Vec<Tool>,
    /// Punches inside the band, where a policy lists what the shop keeps.
    pub punches: Option<Vec<Tool>>,
    /// What a policy sets.
    pub overrides: Option<Overrides>,
    /// Guide holes of the standard at that thickness.
    pub guide_holes: Vec<GuideHole>,
    /// Strip guidance.
    pub strip: Option<Strip>,
    /// A cored hole along its depth.
    pub along: Option<Along>,
    /// The lengths that the thread is formed over.
    pub metal: Metal,
    /// Depth that the screw needs in a blind hole, clearance included, where it is more than the hole has.
    pub needed_depth: Option<Length>,
    /// The collar by volume balance, for the given hole or the one to call out.
    pub collar: Option<CollarBalance>,
}

/// A given hole, judged.
#[derive(Debug, Clone, PartialEq)]
pub struct HoleAnswer {
    /// Its size and limits.
    pub limits: Limits,
    /// The verdict; none where no thread can be formed.
    pub verdict: Option<Verdict>,
    /// What would decide an undetermined one.
    pub undecided: Vec<String>,
    /// The tap drill of the same thread that it is the size of, if it is.
    pub cut_thread_drill: Option<&'static str>,
    /// Height of the formed thread, percent of the full height, where the model holds.
    pub formed_height: Option<f64>,
    /// The hole before and after coating, where one is given. The verdict is that of the hole after it.
    pub coating: Option<CoatedHole>,
    /// Expected share of holes outside the band; beside the verdict, never part of it.
    pub capability: Option<Capability>,
}

impl HoleAnswer {
    /// The hole that the screw meets: after coating, else as given. Where it is not said when the size of a coated hole
    /// holds, from the smallest that it may be to the largest.
    pub fn met(&self) -> Limits {
        coating::span(self.coating.as_ref(), &self.limits)
    }
}

/// Answers a question.
pub fn answer(question: &Question, practice: &Practice) -> Answer {
    let metal = question.metal(&practice.limits);
    let joint = question.joint(&metal, practice);
    let mut answer = Answer {
        band: None,
        possible: Vec::new(),
        missing: Vec::new(),
        unsuitable: None,
        hole: question.hole.map(|hole| judged(question, &joint, hole, practice)),
        advice: None,
        drills: Vec::new(),
        punches: None,
        overrides: practice.overrides(),
        guide_holes: guides(question, &metal),
        strip: None,
        along: None,
        collar: None,
        needed_depth: needed_depth(question, &metal, practice),
        metal,
    };
    match joint.answer() {
        BandAnswer::One(band) => answer.band = Some(HoleBand::of(&question.thread, band)),
        BandAnswer::Depends { bands, missing } => {
            let with_holes = bands.into_iter().map(|p| {
                let holes = HoleBand::of(&question.thread, p.band.clone());
                (p, holes)
            });
            answer.possible = with_holes.collect();
            answer.missing = missing;
        }
        BandAnswer::Unsuitable(why) => answer.unsuitable = Some(why),
    }
    if let Some(band) = &answer.band {
        answer.drills = drills(practice, band.hole_min, band.hole_max);
        answer.punches = stock::punches(practice, question.process, band.hole_min, band.hole_max);
        answer.advice = recommended(question, answer.hole.as_ref(), band, metal.engaged(), practice);
    }
    if let (Some(band), Some(hole)) = (&answer.band, &mut answer.hole) {
        let (making, unit) = (question.making(), question.thread.unit);
        let nominal = hole.limits.nominal;
        hole.capability = Capability::of(question.capability, &making, nominal, unit, band, practice);
    }
    let advised = answer.advice.as_ref().map(|a| question.met(a.diameter).1);
    let shown = answer.hole.as_ref().map(|h| h.met().nominal).or(advised);
    // No thread can be formed there, so there is nothing to strip.
    let strips = shown.zip(metal.engaged()).filter(|_| answer.unsuitable.is_none());
    answer.strip = strips.map(|(hole, length)| {
        let half_way = question.draft.map_or(hole, |draft| cored_diameter(hole, length / 2.0, draft));
        strip(question, half_way, length)
    });
    answer.along = answer
        .hole
        .as_ref()
        .and_then(|hole| along(question, hole, answer.metal.engaged()?, answer.band.as_ref()));
    answer.collar = shown
        .zip(question.collar)
        .zip(question.thickness)
        .map(|((hole, collar), sheet)| super::collar_at(&collar, hole, sheet, &practice.limits));
    answer
}

/// What the screw needs of a blind hole that is too shallow for it.
fn needed_depth(question: &Question, metal: &Metal, practice: &Practice) -> Option<Length> {
    let clearance = practice.limits.length(Limit::BlindClearance, &question.thread);
    let needed = metal.reach? + clearance;
    (needed > question.depth? + interval::TOLERANCE).then_some(needed)
}

/// A given hole's limits: the stated tolerance, else the process's typical one, else none.
fn limits(question: &Question, hole: Length) -> Limits {
    let made = |plus, minus, tolerance_source, tolerance_text| Limits {
        nominal: hole,
        min: hole - minus,
        max: hole + plus,
        source: DiameterSource::Callout,
        tolerance_source,
        tolerance_text,
    };
    if let Some((plus, minus)) = question.tolerance {
        return made(plus, minus, ToleranceSource::Callout, "stated".into());
    }
    let typical = question.process.and_then(|p| typical(question, p, hole));
    match typical {
        Some((plus, minus, text)) => made(plus, minus, ToleranceSource::Process, text),
        None => made(Length::ZERO, Length::ZERO, ToleranceSource::None, "none stated".into()),
    }
}

/// What the process typically holds at a size: up, down, in words.
fn typical(question: &Question, process: Process, hole: Length) -> Option<(Length, Length, SharedText)> {
    let found = process_typical(process, question.material, hole, question.thread.unit)?;
    Some((found.plus, found.minus, format!("{} ({})", found.text, found.status.words()).into()))
}

fn judged(question: &Question, joint: &bands::Joint<'_>, hole: Length, practice: &Practice) -> HoleAnswer {
    let thread = &question.thread;
    let limits = limits(question, hole);
    let coating = question.coating.map(|coating| CoatedHole::of(coating, &limits, thread));
    let met = coating::span(coating.as_ref(), &limits);
    let decided = bands::decide(joint, &coating::met(coating.as_ref(), &limits), thread.unit);
    HoleAnswer {
        verdict: decided.verdict,
        undecided: decided.missing,
        cut_thread_drill: tapped::drill(thread, hole, practice),
        formed_height: formed_height_percent(percent(thread, met.nominal, Basis::Rolled)),
        capability: None,
        coating,
        limits,
    }
}

/// The hole to call out: the given one where it is right, else the target on a size that the process has.
fn recommended(
    question: &Question,
    given: Option<&HoleAnswer>,
    band: &HoleBand,
    engaged: Option<Length>,
    practice: &Practice,
) -> Option<super::Advice> {
    let at_target = (band.hole_min + band.hole_max) / 2.0;
    let of_process = || {
        let (plus, minus, _) = typical(question, question.process?, at_target)?;
        Some((plus, minus))
    };
    let wanted = advice::Wanted {
        keep: given.filter(|hole| hole.verdict == Some(Verdict::InBand)).map(|hole| hole.limits.nominal),
        tolerance: question.tolerance.or_else(of_process),
        process: question.process,
        unit: question.thread.unit,
        larger: advice::Larger::by(
            question.takes(),
            question.draft.map_or(0.0, |draft| 2.0 * draft.radians().tan()),
            Length::ZERO,
            engaged.unwrap_or(Length::ZERO),
        ),
        practice,
    };
    let choice = advice::choose(&question.thread, band, &wanted)?;
    let narrowed = wanted.tolerance.is_some() && choice.tolerance.is_some() && !choice.kept;
    let callout = notation::plain(&choice, question.thread.unit, None);
    Some(super::Advice {
        diameter: choice.diameter,
        tolerance: choice.tolerance,
        drill: choice.drill,
        callout,
        narrowed,
    })
}

/// The standard's guide holes: of the material's column, of all columns if the material is unknown.
fn guides(question: &Question, metal: &Metal) -> Vec<GuideHole> {
    let length = question.thickness.and_then(|_| metal.length());
    let Some(length) = length else { return Vec::new() };
    match question.material.map(GuideMetal::of) {
        None => guide_holes(&question.thread, length, None),
        Some(Some(metal)) => guide_holes(&question.thread, length, Some(metal)),
        Some(None) => Vec::new(),
    }
}

/// A cored hole along its engagement.
fn along(question: &Question, hole: &HoleAnswer, engaged: Length, band: Option<&HoleBand>) -> Option<Along> {
    let draft = question.draft?;
    let limits = &hole.met();
    let drafted = Drafted { thread: &question.thread, limits, draft, start: Length::ZERO, engaged };
    Some(drafted.along(band, question.thread.unit))
}

#[cfg(test)]
mod tests;
