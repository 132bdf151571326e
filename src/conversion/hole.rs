//! The hole to call out for a rolling screw, by the same judgement as any screw hole, and the guide hole beside it; and
//! what metal, coating and edge say.

use super::{Fact, Grounds, Group, Guide, NewHole};
use crate::pairing::{Hole, Paired};
use crate::practice::Ground;
use crate::trade::{Basis, GuideMetal, Material, Process, Thread, fit, guide_holes, percent};
use crate::units::Length;
use crate::verdict::{Advice, HoleBand, judge as verdict};

/// Judges a hole as if it were called out for a rolling screw, and puts what follows into its group.
pub(super) fn judge(hole: &Hole, paired: &Paired, group: &mut Group, grounds: &mut Grounds<'_>) {
    choose(hole, paired, group, grounds);
    coating(hole, paired, group.new_hole.as_ref(), grounds);
}

fn choose(hole: &Hole, paired: &Paired, group: &mut Group, grounds: &mut Grounds<'_>) {
    let Some(thread) = group.thread.clone() else { return };
    let judged = verdict(hole, paired, grounds.practice);
    let takes = hole.making.coating.map_or((Length::ZERO, Length::ZERO), |coating| coating.takes());
    edge(hole, grounds);
    group.guide = group.length.and_then(|length| guide(&thread, length, hole.making.material));
    match (&judged.unsuitable, hole.making.material) {
        (Some((reason, status)), _) => {
            let fact = Fact::Words(reason.clone());
            grounds.add_from(Ground::MetalUnsuitable, fact, (reason.clone(), *status));
            return;
        }
        (None, None) => grounds.add(Ground::MetalUnknown, Fact::Nothing),
        (None, Some(material)) => {
            let fact = Fact::Words(material.name().to_owned());
            match &judged.band {
                Some(band) => {
                    let from = (band.band.source.to_string(), band.band.status);
                    grounds.add_from(Ground::MetalFormable, fact, from);
                }
                None => grounds.add(Ground::MetalFormable, fact),
            }
        }
    }
    // Without a band what is missing stands among the grounds already.
    let Some(band) = &judged.band else { return };
    match &judged.advice {
        Some(advice) => {
            if advice.tolerance.is_none() {
                grounds.add(Ground::NoTolerance, Fact::Length(advice.diameter));
            }
            group.new_hole = Some(new_hole(&thread, advice, band, takes));
        }
        None => grounds.add(Ground::NoBand, Fact::Nothing),
    }
}

/// The hole that is called out, with the engagement of the holes that the screw meets: a coating takes the least and the
/// most of `takes` off.
fn new_hole(thread: &Thread, advice: &Advice, band: &HoleBand, takes: (Length, Length)) -> NewHole {
    let limits = advice.tolerance.map(|(plus, minus)| (advice.diameter - minus, advice.diameter + plus));
    let at = |hole: Length| percent(thread, hole, Basis::Rolled);
    let (least, most) = takes;
    NewHole {
        diameter: advice.diameter,
        limits,
        drill: advice.drill.clone(),
        callout: advice.callout.clone(),
        engagement: at(advice.diameter - least),
        at_limits: limits.map(|(small, large)| (at(small - most), at(large - least))),
        band: band.clone(),
    }
}

/// The standard's guide hole; none for a metal that it does not name or that is not known.
fn guide(thread: &Thread, length: Length, material: Option<Material>) -> Option<Guide> {
    let metal = GuideMetal::of(material?)?;
    let row = guide_holes(thread, length, Some(metal)).into_iter().next()?;
    let largest = fit(&row.fit, row.hole).map(|fit| row.hole + fit.upper);
    let at = |hole| percent(thread, hole, Basis::Rolled);
    Some(Guide { engagement: at(row.hole), at_largest: largest.map(at), largest, row })
}

/// A coating is allowed for where it is known what it takes off, or where the hole stays in its band either way.
fn coating(hole: &Hole, paired: &Paired, new_hole: Option<&NewHole>, grounds: &mut Grounds<'_>) {
    let called = hole.callout.and_then(|c| paired.callouts.get(c)).and_then(|seen| seen.callout.coating);
    let in_band = new_hole.is_some_and(|new| {
        let (least, most) = (new.band.band.min - 1e-6, new.band.band.max + 1e-6);
        new.at_limits.is_some_and(|(tight, loose)| tight <= most && loose >= least)
    });
    match hole.making.coating {
        Some(coating) if coating.stated.is_some() || in_band => {
            grounds.add(Ground::CoatingAllowed, Fact::Length(coating.thickness));
        }
        None if called.is_none() => {}
        _ => grounds.add(Ground::CoatingUnknown, Fact::Nothing),
    }
}

/// A laser or plasma cut edge of steel, which is too hard unless it is taken off.
fn edge(hole: &Hole, grounds: &mut Grounds<'_>) {
    let cut = hole.making.process.filter(|p| matches!(p, Process::Laser | Process::Plasma));
    let steel = matches!(
        hole.making.material,
        None | Some(Material::LowCarbonSteel | Material::StructuralSteel | Material::StainlessSteel)
    );
    if let Some(process) = cut.filter(|_| steel) {
        grounds.add(Ground::EdgeHardened, Fact::Words(process.name().to_owned()));
    }
}
