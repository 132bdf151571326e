//! The band of a joint, or every possible one, and the verdict under it; and what would decide an open one.

use super::{HoleBand, Limits, Verdict, interval};
use crate::joint::UserBand;
use crate::trade::{
    Band, BandAnswer, Material, Possible, Process, Status, Thread, Unsuitable, band_for, too_hard,
};
use crate::units::{Length, Unit};

/// What is known of a joint.
#[derive(Debug, Clone)]
pub(super) struct Joint<'a> {
    pub(super) thread: &'a Thread,
    pub(super) material: Option<Material>,
    /// Effective thickness: sheet plus collar.
    pub(super) thickness: Option<Length>,
    pub(super) process: Option<Process>,
    /// A band that overrides the trade's.
    pub(super) user_band: Option<UserBand>,
    /// Brinell hardness of the metal.
    pub(super) hardness_hb: Option<f64>,
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
        let hard = self.material.zip(self.hardness_hb).and_then(|(m, hb)| too_hard(m, hb));
        if let Some(why) = hard {
            return BandAnswer::Unsuitable(why);
        }
        let trade = band_for(self.thread, self.material, self.thickness, self.process);
        match (self.user_band, trade) {
            (_, BandAnswer::Unsuitable(why)) => BandAnswer::Unsuitable(why),
            (Some(user), _) => BandAnswer::One(user_band(user)),
            (None, trade) => trade,
        }
    }
}

/// A band that the user set.
fn user_band(user: UserBand) -> Band {
    Band {
        min: user.min,
        target: user.target.unwrap_or((user.min + user.max) / 2.0),
        max: user.max,
        source: "set by the user".to_owned(),
        status: Status::User,
        note: None,
    }
}

/// Decides a joint. Lengths in what is said are in `unit`.
pub(super) fn decide(joint: &Joint<'_>, limits: &Limits, unit: Unit) -> Decided {
    let mut decided = Decided { band: None, verdict: None, missing: Vec::new(), unsuitable: None };
    match joint.answer() {
        BandAnswer::One(band) => {
            let band = HoleBand::of(joint.thread, band);
            decided.verdict = Some(interval::under(limits, &band));
            decided.band = Some(band);
        }
        BandAnswer::Depends { bands, missing } => {
            let holes: Vec<HoleBand> =
                bands.iter().map(|p| HoleBand::of(joint.thread, p.band.clone())).collect();
            let verdict = interval::under_all(limits, &holes, joint.material.is_none());
            decided.verdict = Some(verdict);
            if verdict == Verdict::Undetermined {
                decided.missing = what_decides(&bands, &holes, &missing, limits, unit);
            }
        }
        BandAnswer::Unsuitable(why) => decided.unsuitable = Some(why),
    }
    decided
}

/// What is missing and which values would decide it, one sentence.
fn what_decides(
    bands: &[Possible],
    holes: &[HoleBand],
    missing: &[&str],
    limits: &Limits,
    unit: Unit,
) -> Vec<String> {
    let with = |wanted: Verdict| -> Vec<&Possible> {
        bands
            .iter()
            .zip(holes)
            .filter(|(_, h)| interval::under(limits, h) == wanted)
            .map(|(p, _)| p)
            .collect()
    };
    let (pass, straddle) = (with(Verdict::InBand), with(Verdict::Straddles));
    let (deciding, does) = if pass.is_empty() {
        (straddle, "would bring its nominal, but not its limits, into the band")
    } else {
        (pass, "would make it in-band")
    };
    let by_material = missing.contains(&"material");
    let values = joined(&merged(&deciding, by_material, unit));
    vec![format!("{}: {values} {does}", missing.join(" and "))]
}

/// What the possible bands need, with thicknesses that join made one.
fn merged(deciding: &[&Possible], by_material: bool, unit: Unit) -> Vec<String> {
    let mut kept: Vec<Possible> = Vec::new();
    for possible in deciding {
        match kept.last_mut() {
            Some(last) if last.material == possible.material && joins(last, possible) => {
                last.thickness = last.thickness.zip(possible.thickness).map(|(a, b)| (a.0, b.1));
            }
            _ => kept.push((*possible).clone()),
        }
    }
    let show = |p: &Possible| match (by_material, p.thickness_label(unit)) {
        (false, Some(thickness)) => thickness.trim_end_matches(" thick").to_owned(),
        (_, Some(thickness)) => format!("{} {thickness}", p.material.name()),
        (_, None) => p.material.name().to_owned(),
    };
    kept.iter().map(show).collect()
}

/// Whether one thickness ends where the next starts.
fn joins(a: &Possible, b: &Possible) -> bool {
    match (a.thickness, b.thickness) {
        (Some((_, Some(end))), Some((Some(start), _))) => (end - start).abs() <= interval::TOLERANCE,
        _ => false,
    }
}

/// `a, b or c`.
fn joined(items: &[String]) -> String {
    match items.split_last() {
        None => "no value".to_owned(),
        Some((only, [])) => only.clone(),
        Some((last, rest)) => format!("{} or {last}", rest.join(", ")),
    }
}
