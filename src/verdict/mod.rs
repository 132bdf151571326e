//! One paired hole to limits of size, engagement, band, verdict and advice. Pure arithmetic on `trade`.

mod advice;
mod bands;
pub mod calculator;
mod interval;
mod limits;
mod metal;
mod notation;
mod tapped;
#[cfg(test)]
mod tests;

pub use metal::Metal;
pub(crate) use metal::least;

use crate::joint::ScrewForm;
use crate::pairing::{Hole, Paired};
use crate::practice::Practice;
use crate::trade::{Band, Basis, Status, Thread, percent};
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
    /// The tolerance in words, with its source where it was assumed.
    pub tolerance_text: String,
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
}

/// A hole, judged. All but `limits` is empty for a hole that is no screw hole.
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
    /// Name of the tap drill of the same thread that the hole is within 2 % of, at 140 to 165 % rolled.
    pub cut_thread_drill: Option<String>,
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
    fn plain(limits: Limits) -> Judged {
        Judged {
            limits,
            engagement: None,
            band: None,
            verdict: None,
            missing: Vec::new(),
            unsuitable: None,
            advice: None,
            cut_thread_drill: None,
        }
    }
}

/// Judges one hole of a paired drawing.
///
/// The size judged is the stated one: what a coating takes from it afterwards is not looked at here. A spaced
/// or cutting screw has no engagement and no verdict; a material that takes no thread has an engagement but no
/// band and no verdict, which is never a pass.
pub fn judge(hole: &Hole, paired: &Paired, practice: &Practice) -> Judged {
    let limits = limits::of(hole, paired);
    let Some(screw) = hole.screw.as_ref().filter(|s| s.form == ScrewForm::Rolling) else {
        return Judged::plain(limits);
    };
    let thread = &screw.thread;
    let joint = joint_of(hole, paired, thread, practice);
    let unit = notation::unit_of(hole, paired);
    let decided = bands::decide(&joint, &limits, unit);
    let engagement = Some(Engagement::of(thread, &limits));
    let cut_thread_drill = tapped::drill(thread, limits.nominal, practice);
    let advice = decided.band.as_ref().map(|band| {
        let wanted = advice::Wanted::of_hole(&limits, decided.verdict, joint.process, unit);
        notation::advice(&advice::choose(thread, band, &wanted), &limits, hole, paired)
    });
    Judged {
        limits,
        engagement,
        band: decided.band,
        verdict: decided.verdict,
        missing: decided.missing,
        unsuitable: decided.unsuitable.map(|u| (u.reason, u.status)),
        advice,
        cut_thread_drill,
    }
}

/// What is known of the joint at a hole. The thickness is that of the metal in which the thread is formed: with a
/// collar's height, without a counterbore or countersink, and no more than the depth of a blind hole.
fn joint_of<'a>(hole: &Hole, paired: &Paired, thread: &'a Thread, practice: &Practice) -> bands::Joint<'a> {
    let making = &hole.making;
    let row = hole.row.and_then(|r| paired.rows.get(r)).map(|seen| &seen.row);
    let metal = Metal::of(hole, row, &practice.limits);
    bands::Joint {
        thread,
        material: making.material,
        thickness: making.thickness.and_then(|_| metal.length()),
        process: making.process,
        user_band: making.band,
        hardness_hb: making.hardness_hb,
    }
}
