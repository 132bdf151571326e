//! What is said of the joint at each hole: its screw, metal and making, sizes and entry, each from the strongest source that
//! states it.

use std::collections::HashMap;
use std::sync::Arc;

use foldhash::fast::RandomState;

use super::resolve::{RowOf, Sources};
use super::scene::Scene;
use super::{Joint, Role, ThicknessSource, resolve, texts};
use crate::callout::{Callout, Quantity, Size, WrittenTolerance};
use crate::joint::{Coating, Making, Row, StatedSize, Tolerance};
use crate::shared::Shared;
use crate::trade::countersink_depth;
use crate::units::Length;

/// The joint made last of each callout, row and view: most holes have the same.
#[derive(Default)]
pub(super) struct Joints(HashMap<RestsOn, Shared<Joint>, RandomState>);

/// What a joint rests on: the callout, which is one value for all that say the same in the same words, the row and the view.
type RestsOn = (Option<*const Callout>, Option<usize>, usize);

impl Joints {
    /// What is said of the joint at a hole.
    pub(super) fn of(&mut self, sources: &Sources<'_>, spot: usize, row: RowOf<'_>) -> Shared<Joint> {
        let screw = resolve::screw(sources, spot, row);
        let scene = sources.scene;
        let place = &scene.spots[spot];
        let callout = sources.statement(spot).map(|s| &s.callout);
        let key = (callout.map(Arc::as_ptr), row.map(|r| r.0), place.view);
        let callout = callout.map(|c| &**c);
        let joint =
            self.0.entry(key).or_insert_with(|| stated(sources, spot, callout, row.map(|r| r.1)).into());
        let nominal = joint.called.as_ref().and_then(|c| c.nominal);
        let true_size = || scene.units.drawn(place.drawn / scene.scales[place.view]);
        let entry = entry(scene, spot, callout, nominal.unwrap_or_else(true_size));
        if joint.screw != screw || joint.entry != entry {
            (joint.screw, joint.entry) = (screw, entry);
        }
        joint.clone()
    }
}

/// What callout, row and view say, as yet without the screw and what is drawn.
fn stated(sources: &Sources<'_>, spot: usize, callout: Option<&Callout>, row: Option<&Row>) -> Joint {
    let (making, thickness_source) = making(sources, spot, callout, row);
    Joint {
        screw: None,
        making,
        thickness_source,
        called: callout.and_then(|c| called(sources.scene, c)),
        listed: row.and_then(listed),
        entry: None,
        depth: depth(sources.scene, callout, row),
    }
}

/// List over callout over note of the view over title block over note over command line.
fn making(
    sources: &Sources<'_>,
    spot: usize,
    callout: Option<&Callout>,
    row: Option<&Row>,
) -> (Making, ThicknessSource) {
    let listed =
        row.map(|r| &r.making).or_else(|| sources.rows.map(|r| &r.making)).cloned().unwrap_or_default();
    let option = &sources.defaults.making;
    let scene = sources.scene;
    let on_callout = callout.and_then(|c| c.thickness).and_then(|q| scene.units.length(q));
    let on_sheet = sources.facts.thickness_in(scene.spots[spot].view);
    let (thickness, source) = if let Some(t) = listed.thickness {
        (Some(t), ThicknessSource::List)
    } else if let Some(t) = on_callout {
        (Some(t), ThicknessSource::Callout)
    } else if let Some((t, source)) = on_sheet {
        (Some(t), source)
    } else if let Some(t) = option.thickness {
        (Some(t), ThicknessSource::Option)
    } else {
        (None, ThicknessSource::None)
    };
    let making = Making {
        material: listed.material.or(sources.facts.material_in(scene.spots[spot].view)).or(option.material),
        thickness,
        process: listed
            .process
            .or(callout.and_then(|c| c.process))
            .or(sources.facts.process)
            .or(option.process),
        coating: coating(listed.coating, sources, callout).or(option.coating),
        band: listed.band.or(option.band),
        hardness_hb: listed.hardness_hb.or(option.hardness_hb),
    };
    (making, source)
}

/// The list's coating, else the drawing's; when sizes hold is taken from the drawing where the list leaves it open.
fn coating(listed: Option<Coating>, sources: &Sources<'_>, callout: Option<&Callout>) -> Option<Coating> {
    let called = callout.and_then(|c| c.coating);
    let stage = || called.and_then(|c| c.stage).or(sources.facts.coating.stage);
    listed
        .map(|coating| Coating { stated: coating.stated.or_else(stage), ..coating })
        .or_else(|| sources.facts.coating(called, &sources.scene.units))
}

/// The size on the callout as lengths; none if it states none (a bare thread).
pub(super) fn called(scene: &Scene<'_>, callout: &Callout) -> Option<StatedSize> {
    let size = callout.size.as_ref()?;
    let q = texts::called_diameter(size);
    let unit = Some(q.unit.unwrap_or(scene.units.stated));
    if let Size::Limits(a, b) = size {
        let (min, max) = (scene.units.length(*a)?, scene.units.length(*b)?);
        return Some(StatedSize {
            nominal: None,
            tolerance: Some(Tolerance::Limits { min, max }),
            decimals: q.decimals,
            unit,
        });
    }
    let nominal = scene.units.length(q)?;
    let times = if matches!(size, Size::Radius(_)) { 2.0 } else { 1.0 };
    let tolerance = callout.tolerance.as_ref().and_then(|t| tolerance(scene, t, nominal, q, times));
    Some(StatedSize { nominal: Some(nominal), tolerance, decimals: q.decimals, unit })
}

/// Deviations in the size's own unit where they state none; both on one side of the nominal become limits.
fn tolerance(
    scene: &Scene<'_>,
    written: &WrittenTolerance,
    nominal: Length,
    size: Quantity,
    times: f64,
) -> Option<Tolerance> {
    match written {
        WrittenTolerance::Fit(name) => Some(Tolerance::Fit(name.clone())),
        WrittenTolerance::Largest => Some(Tolerance::Largest),
        WrittenTolerance::Smallest => Some(Tolerance::Smallest),
        WrittenTolerance::Deviations { upper, lower } => {
            let length = |q: &Quantity| {
                scene.units.length(Quantity { unit: q.unit.or(size.unit), ..*q }).map(|l| l * times)
            };
            let (upper, lower) = (length(upper)?, length(lower)?);
            if upper >= Length::ZERO && lower <= Length::ZERO {
                return Some(Tolerance::PlusMinus { plus: upper, minus: -lower });
            }
            Some(Tolerance::Limits { min: nominal + lower.min(upper), max: nominal + lower.max(upper) })
        }
    }
}

/// The size that a row states; of a cored hole that is the entrance's, unless the row states limits.
fn listed(row: &Row) -> Option<StatedSize> {
    let limits = matches!(row.size.tolerance, Some(Tolerance::Limits { .. }));
    let entrance = row.entrance_diameter.filter(|_| !limits);
    let size = StatedSize { nominal: entrance.or(row.size.nominal), ..row.size.clone() };
    (size.nominal.is_some() || size.tolerance.is_some()).then_some(size)
}

/// Counterbore or countersink: called out, else drawn. The depth of a countersink follows from its angle.
fn entry(
    scene: &Scene<'_>,
    spot: usize,
    callout: Option<&Callout>,
    hole: Length,
) -> Option<(Role, Length, Option<Length>)> {
    let place = &scene.spots[spot];
    let drawn = entry_ring(scene, spot)
        .map(|i| scene.units.drawn(scene.rings.rings[i].diameter / scene.scales[place.view]));
    let (role, stated) = match callout {
        Some(c) if c.countersink.is_some() => (Role::Countersink, c.countersink),
        Some(c) if c.counterbore.is_some() => (Role::Counterbore, c.counterbore),
        _ => (Role::Counterbore, None),
    };
    let length = |q: Option<Quantity>| q.and_then(|q| scene.units.length(q));
    let diameter = length(stated.and_then(|e| e.diameter)).or(drawn)?;
    let angle = stated.and_then(|e| e.angle).filter(|_| role == Role::Countersink);
    let depth = length(stated.and_then(|e| e.depth)).or_else(|| countersink_depth(diameter, hole, angle?));
    Some((role, diameter, depth))
}

/// The innermost larger circle of a hole's stack that is an entry.
pub(super) fn entry_ring(scene: &Scene<'_>, spot: usize) -> Option<usize> {
    let stack = &scene.rings.stacks[scene.spots[spot].stack];
    stack.iter().copied().find(|&i| scene.roles[i] == Role::Counterbore)
}

fn depth(scene: &Scene<'_>, callout: Option<&Callout>, row: Option<&Row>) -> Option<Length> {
    let called = callout.filter(|c| !c.through).and_then(|c| c.depth).and_then(|q| scene.units.length(q));
    row.and_then(|r| r.depth).or(called)
}
