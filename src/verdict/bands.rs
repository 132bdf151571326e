//! The band of a joint, or every possible one, and the verdict under it. What would decide an open one is worked out
//! in `unknowns`.

use super::coating::Met;
use super::interval::Found;
use super::{HoleBand, Verdict, unknowns};
use crate::joint::{Stage, UserBand};
use crate::practice::{self, BandAnswer, Between, Known, Practice, Standing, World};
use crate::trade::{Band, Material, Process, Status, Thread, Unsuitable};
use crate::units::{Length, Unit};

/// What is known of a joint.
#[derive(Debug, Clone)]
pub(super) struct Joint<'a> {
    pub(super) thread: &'a Thread,
    pub(super) material: Option<Material>,
    /// Effective thickness: sheet plus collar.
    pub(super) thickness: Option<Length>,
    pub(super) process: Option<Process>,
    /// A band that overrides the trade's and the policy's.
    pub(super) user_band: Option<UserBand>,
    /// Brinell hardness of the metal.
    pub(super) hardness_hb: Option<f64>,
    /// What the shop decides.
    pub(super) practice: &'a Practice,
}

/// A joint, decided as far as it can be.
#[derive(Debug, Clone)]
pub(super) struct Decided {
    pub(super) band: Option<HoleBand>,
    pub(super) verdict: Option<Verdict>,
    pub(super) missing: Vec<String>,
    pub(super) unsuitable: Option<Unsuitable>,
}

impl Joint<'_> {
    /// The band, every possible one, or why there is none. A user's band stands over the trade's, but not over
    /// a metal that takes no thread.
    pub(super) fn answer(&self) -> BandAnswer {
        match (self.user_band, self.practice.band_for(&self.known())) {
            (_, BandAnswer::Unsuitable(why)) => BandAnswer::Unsuitable(why),
            (Some(user), _) => BandAnswer::One(user_band(user)),
            (None, answer) => answer,
        }
    }

    fn known(&self) -> Known<'_> {
        Known {
            thread: self.thread,
            material: self.material,
            thickness: self.thickness,
            process: self.process,
            hardness_hb: self.hardness_hb,
        }
    }
}

/// A band that the user set in a hole list.
fn user_band(user: UserBand) -> Band {
    Band {
        min: user.min,
        target: user.target.unwrap_or((user.min + user.max) / 2.0),
        max: user.max,
        source: "set by the user".into(),
        status: Status::User,
        note: None,
    }
}

/// What is unknown of a coated hole where nothing says whether its size holds before coating or after it.
pub(super) const STAGE: &str = "coating stage";

/// Decides a joint for every hole that the screw may meet. Lengths in what is said are in `unit`.
pub(super) fn decide(joint: &Joint<'_>, met: &[Met], unit: Unit) -> Decided {
    let mut decided = Decided { band: None, verdict: None, missing: Vec::new(), unsuitable: None };
    let known = joint.known();
    let worlds = joint.practice.worlds(&known);
    let band = match (joint.user_band, Standing::of(&known, &worlds)) {
        (_, Standing::Unsuitable(why)) => {
            decided.unsuitable = Some(why.clone());
            return decided;
        }
        (Some(user), _) => Some(user_band(user)),
        (None, Standing::One(band)) => Some(band.clone()),
        (None, Standing::Depends) => None,
    };
    let (cases, mut missing): (Vec<Case>, _) = match &band {
        Some(band) => (met.iter().map(|hole| Case::of_known(band, joint.thread, hole)).collect(), Vec::new()),
        None => {
            let of_hole = |hole| worlds.iter().map(move |world| Case::of(world, joint.thread, hole));
            (met.iter().flat_map(of_hole).collect(), practice::missing(&known, &worlds))
        }
    };
    decided.band = band.map(|band| HoleBand::of(joint.thread, band));
    let verdict = unknowns::verdict(&cases);
    decided.verdict = Some(verdict);
    if verdict == Verdict::Undetermined {
        missing.extend(met.iter().any(|hole| hole.stage.is_some()).then_some(STAGE));
        decided.missing = unknowns::what_decides(&cases, &missing, unit);
    }
    decided
}

/// One way that what is not known may turn out, and what the hole is then. What is known, or makes no difference, is
/// none.
#[derive(Debug, Clone, Copy)]
pub(super) struct Case {
    pub(super) material: Option<Material>,
    pub(super) thickness: Option<Between>,
    pub(super) process: Option<Process>,
    /// When the stated size of a coated hole holds.
    pub(super) stage: Option<Stage>,
    /// What the hole that the screw meets is; none where no thread can be formed.
    pub(super) found: Option<Found>,
}

impl Case {
    fn of(world: &World, thread: &Thread, hole: &Met) -> Case {
        let band = world.outcome.as_ref().ok();
        Case {
            material: Some(world.material),
            thickness: world.thickness,
            process: world.process,
            stage: hole.stage,
            found: band.map(|band| Found::under(&hole.limits, thread, band)),
        }
    }

    fn of_known(band: &Band, thread: &Thread, hole: &Met) -> Case {
        Case {
            material: None,
            thickness: None,
            process: None,
            stage: hole.stage,
            found: Some(Found::under(&hole.limits, thread, band)),
        }
    }
}
