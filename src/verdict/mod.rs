//! One paired hole to limits of size, engagement, band, verdict and advice. Pure arithmetic on `trade`.

mod advice;
mod alike;
mod along;
mod bands;
pub mod calculator;
mod capability;
mod coating;
mod collar;
mod guide;
mod interval;
mod limits;
mod metal;
mod notation;
mod strip;
pub mod table;
mod tapped;
#[cfg(test)]
mod tests;
mod unknowns;

pub use alike::{Judgements, judge_all};
pub(crate) use along::Drafted;
pub use along::{Along, AlongPoint};
pub use capability::Capability;
pub use coating::CoatedHole;
pub(crate) use collar::balance as collar_at;
pub use metal::Metal;
pub(crate) use metal::least;
pub use strip::Strip;

use crate::joint::{Collar, Row, ScrewForm};
use crate::pairing::{Hole, Paired, Role};
use crate::practice::Practice;
use crate::shared::SharedText;
use crate::trade::{Band, Basis, CollarBalance, GuideHole, Status, Thread, percent};
use crate::units::Length;

/// What the numbers say of a screw hole.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum Verdict {
    /// Both limits of size inside the band.
    InBand,
    /// Nominal inside, a limit outside.
    Straddles,
    /// Nominal above the band: hole too small.
    Tight,
    /// Nominal below the band: hole too large.
    Loose,
    /// Something needed is unknown and the answer depends on it.
    Undetermined,
}

impl Verdict {
    /// The name used in reports.
    pub const fn name(self) -> &'static str {
        match self {
            Verdict::InBand => "in-band",
            Verdict::Straddles => "straddles",
            Verdict::Tight => "tight",
            Verdict::Loose => "loose",
            Verdict::Undetermined => "undetermined",
        }
    }
}

/// Which statement the diameter was taken from.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum DiameterSource {
    /// The callout.
    Callout,
    /// The hole list.
    List,
    /// The drawn circle.
    Drawn,
}

impl DiameterSource {
    /// The name used in reports.
    pub const fn name(self) -> &'static str {
        match self {
            DiameterSource::Callout => "callout",
            DiameterSource::List => "list",
            DiameterSource::Drawn => "drawn",
        }
    }
}

/// Which statement the tolerance was taken from.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum ToleranceSource {
    /// The callout.
    Callout,
    /// The hole list.
    List,
    /// General tolerance of the drawing.
    Drawing,
    /// Typical of the process, assumed.
    Process,
    /// None is known.
    None,
}

impl ToleranceSource {
    /// The name used in reports.
    pub const fn name(self) -> &'static str {
        match self {
            ToleranceSource::Callout => "callout",
            ToleranceSource::List => "list",
            ToleranceSource::Drawing => "drawing",
            ToleranceSource::Process => "process",
            ToleranceSource::None => "none",
        }
    }
}

/// The hole's size with its limits.
#[derive(Debug, Clone, PartialEq)]
pub struct Limits {
    /// Nominal; the middle where only limits are stated, the basic size of a fit.
    pub nominal: Length,
    /// Smallest hole; equal to the nominal where no tolerance is known.
    pub min: Length,
    /// Largest hole.
    pub max: Length,
    /// Where the nominal comes from.
    pub source: DiameterSource,
    /// Where the tolerance comes from.
    pub tolerance_source: ToleranceSource,
    /// The tolerance in words where it is general or assumed, with its source, or why none is known. Of one that a callout
    /// or list states nobody asks it.
    pub tolerance_text: SharedText,
}

/// Engagement on the rolled basis, percent.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Engagement {
    /// At the nominal.
    pub nominal: f64,
    /// At the smallest hole (the greatest engagement).
    pub at_min: f64,
    /// At the largest hole.
    pub at_max: f64,
}

/// The band as diameters of this thread.
#[derive(Debug, Clone, PartialEq)]
pub struct HoleBand {
    /// The band.
    pub band: Band,
    /// Smallest hole allowed.
    pub hole_min: Length,
    /// Largest hole allowed.
    pub hole_max: Length,
}

/// The hole to call out instead.
#[derive(Debug, Clone, PartialEq)]
pub struct Advice {
    /// Its diameter.
    pub diameter: Length,
    /// The stocked drill of that size, if there is one.
    pub drill: Option<String>,
    /// As a callout in the drawing's own unit and notation.
    pub callout: String,
    /// Its tolerance, up and down as magnitudes; none where none that can be made stays in the band.
    pub tolerance: Option<(Length, Length)>,
    /// Whether a tolerance is stated or known that no size to choose from holds inside the band, so that the callout
    /// has the widest one that stays in it.
    pub narrowed: bool,
}

/// A hole, judged. All but `limits` is empty for a hole that is no screw hole.
// What few holes have stands apart, so that the many others are small.
#[derive(Debug, Clone, PartialEq)]
pub struct Judged {
    /// Size and limits.
    pub limits: Limits,
    /// Engagement; none for a screw that no rolled percent applies to.
    pub engagement: Option<Engagement>,
    /// Band, where one holds.
    pub band: Option<HoleBand>,
    /// Verdict.
    pub verdict: Option<Verdict>,
    /// What is missing to decide an undetermined one, and which values would decide it, for people.
    pub missing: Vec<String>,
    /// Why no thread can be formed here, if so.
    pub unsuitable: Option<(String, Status)>,
    /// What to call out instead, or as the target.
    pub advice: Option<Advice>,
    /// The guide hole of DIN 7500-2 that it is with its fit, where the shop accepts these.
    pub guide_hole: Option<Box<GuideHole>>,
    /// Name of the tap drill of the same thread that the hole is within 2 % of, at 140 to 165 % rolled.
    pub cut_thread_drill: Option<&'static str>,
    /// The hole before and after coating, where one is stated. `engagement` and `verdict` are those after it.
    pub coating: Option<Box<CoatedHole>>,
    /// The hole along its depth, where it has draft and its engaged length is known.
    pub along: Option<Box<Along>>,
    /// Expected share of holes outside the band. Never part of the verdict.
    pub capability: Option<Box<Capability>>,
    /// Metal, screw length and full thread; none for a hole that is no screw hole.
    pub metal: Option<Metal>,
    /// The collar of an extruded hole whose sheet is known.
    pub collar: Option<Box<(Collar, CollarBalance)>>,
}

impl Engagement {
    /// The engagement of a thread in a hole of these limits.
    fn of(thread: &Thread, limits: &Limits) -> Engagement {
        let at = |hole| percent(thread, hole, Basis::Rolled);
        Engagement { nominal: at(limits.nominal), at_min: at(limits.min), at_max: at(limits.max) }
    }
}

impl Judged {
    /// A hole of which nothing but its size is said.
    pub(crate) fn plain(limits: Limits) -> Judged {
        Judged {
            limits,
            engagement: None,
            band: None,
            verdict: None,
            missing: Vec::new(),
            unsuitable: None,
            advice: None,
            cut_thread_drill: None,
            guide_hole: None,
            coating: None,
            along: None,
            capability: None,
            metal: None,
            collar: None,
        }
    }

    /// The hole that the screw meets: after coating, else as stated. Where it is not said when the size of a coated
    /// hole holds, from the smallest that it may be to the largest.
    pub fn met(&self) -> Limits {
        coating::span(self.coating.as_deref(), &self.limits)
    }
}

/// Judges one hole of a paired drawing.
///
/// The size judged is that of the hole the screw meets: after coating, where one is stated. Where nothing says whether
/// a size is before coating or after it, both are judged, and the verdict is the one that holds for both. A spaced or cutting screw
/// has no engagement and no verdict; a material that takes no thread has an engagement but no band and no verdict,
/// which is never a pass.
pub fn judge(hole: &Hole, paired: &Paired, practice: &Practice) -> Judged {
    let limits = limits::of(hole, paired);
    let Some(screw) = hole.screw.as_ref().filter(|s| s.form == ScrewForm::Rolling) else {
        let screw = hole.screw.as_ref();
        let metal = screw.map(|_| Metal::of(hole, row_of(hole, paired), &practice.limits));
        return Judged { metal, ..Judged::plain(limits) };
    };
    let thread = &screw.thread;
    let joint = joint_of(hole, paired, thread, practice);
    let unit = notation::unit_of(hole, paired);
    let coating = hole.making.coating.map(|c| CoatedHole::of(c, &limits, thread));
    let takes = coating::takes(hole.making.coating);
    let met = &coating::span(coating.as_ref(), &limits);
    let decided = bands::decide(&joint, &coating::met(coating.as_ref(), &limits), unit);
    let row = row_of(hole, paired);
    let draft = drafted(hole, row, thread, met, &practice.limits);
    let larger = match &draft {
        Some(draft) => advice::Larger::by(takes, draft.slope(), draft.start, draft.engaged),
        None => advice::Larger::by(takes, 0.0, Length::ZERO, Length::ZERO),
    };
    let advice = decided.band.as_ref().and_then(|band| {
        let wanted = advice::Wanted::of_hole(&limits, decided.verdict, joint.process, unit, larger, practice);
        Some(notation::advice(&advice::choose(thread, band, &wanted)?, &limits, hole, paired))
    });
    let collar = row.and_then(|r| r.collar).zip(hole.making.thickness);
    let measured = row.and_then(|r| r.capability);
    let capability = decided
        .band
        .as_ref()
        .and_then(|band| Capability::of(measured, &hole.making, limits.nominal, unit, band, practice));
    Judged {
        engagement: Some(Engagement::of(thread, met)),
        metal: Some(Metal::of(hole, row, &practice.limits)),
        collar: collar
            .map(|(c, sheet)| (c, collar::balance(&c, met.nominal, sheet, &practice.limits)).into()),
        along: draft.map(|d| d.along(decided.band.as_ref(), unit).into()),
        cut_thread_drill: tapped::drill(thread, limits.nominal, practice),
        guide_hole: guide::accepted(&joint, met, practice).map(Box::new),
        band: decided.band,
        verdict: decided.verdict,
        missing: decided.missing,
        unsuitable: decided.unsuitable.map(|u| (u.reason, u.status)),
        advice,
        capability: capability.map(Box::new),
        coating: coating.map(Box::new),
        limits,
    }
}

/// The row of the hole list that a hole stands in.
fn row_of<'a>(hole: &Hole, paired: &'a Paired) -> Option<&'a Row> {
    hole.row.and_then(|r| paired.rows.get(r)).map(|seen| &seen.row)
}

/// The draft of a hole over its engaged length; none without draft, or where that length is not known. The mouth of
/// the hole is at the floor of a counterbore, but at the surface beside a countersink, which only takes thread away.
pub(crate) fn drafted<'a>(
    hole: &Hole,
    row: Option<&Row>,
    thread: &'a Thread,
    limits: &'a Limits,
    practice: &crate::practice::Limits,
) -> Option<Drafted<'a>> {
    let draft = row?.draft.filter(|draft| draft.degrees() > 0.0)?;
    let metal = Metal::of(hole, row, practice);
    let cone = hole.entry.is_some_and(|(role, _, _)| role == Role::Countersink);
    let start = if cone { metal.sunk } else { Length::ZERO };
    Some(Drafted { thread, limits, draft, start, engaged: metal.engaged()? })
}

/// What is known of the joint at a hole. The thickness is that of the metal in which the thread is formed: with a
/// collar's height, without a counterbore or countersink, and no more than the depth of a blind hole.
fn joint_of<'a>(
    hole: &Hole,
    paired: &Paired,
    thread: &'a Thread,
    practice: &'a Practice,
) -> bands::Joint<'a> {
    let making = &hole.making;
    let metal = Metal::of(hole, row_of(hole, paired), &practice.limits);
    bands::Joint {
        thread,
        material: making.material,
        thickness: making.thickness.and_then(|_| metal.length()),
        process: making.process,
        user_band: making.band,
        hardness_hb: making.hardness_hb,
        practice,
    }
}
