//! What one paired hole is: its screw, metal, sizes and entry, each from the strongest source that states it.

use super::assign::{Assignment, Taken};
use super::scene::Scene;
use super::sheet::SheetFacts;
use super::texts::Statement;
use super::{Conflict, Hole, PairedBy, Role, ThicknessSource, confidence, conflicts, texts};
use crate::callout::{Callout, Quantity, Size, WrittenTolerance};
use crate::joint::{Coating, Defaults, DrawingRows, Making, Row, Screw, ScrewForm, StatedSize, Tolerance};
use crate::shared::SharedText;
use crate::trade::{Thread, countersink_depth};
use crate::units::Length;

/// What a hole is resolved from.
pub(super) struct Sources<'a> {
    pub(super) scene: &'a Scene<'a>,
    pub(super) assignment: &'a Assignment,
    pub(super) facts: &'a SheetFacts,
    pub(super) rows: Option<&'a DrawingRows>,
    pub(super) defaults: &'a Defaults,
    /// Tags that rows or callouts speak of.
    pub(super) tags: Vec<String>,
}

impl<'a> Sources<'a> {
    /// What the callout of a spot states.
    fn statement(&self, spot: usize) -> Option<&'a Statement> {
        let taken = self.assignment.taken[spot].as_ref()?;
        Some(&self.scene.statements[self.assignment.candidates[taken.candidate].statement])
    }
}

/// The tags that anything in the list or on the drawing speaks of.
pub(super) fn known_tags(scene: &Scene<'_>, rows: Option<&DrawingRows>) -> Vec<String> {
    let listed = rows.into_iter().flat_map(|r| &r.rows).filter_map(|r| r.tag.clone());
    let called =
        scene.statements.iter().filter(|s| s.callout.states_hole()).flat_map(|s| s.tags.iter().cloned());
    let mut tags: Vec<String> = listed.chain(called).collect();
    tags.sort_unstable();
    tags.dedup();
    tags
}

/// A row that covers a hole: its index and how it found it.
pub(super) type RowOf<'a> = Option<(usize, &'a Row, PairedBy)>;

/// Resolves one spot to a hole, as yet without the reasons of its pairing.
pub(super) fn hole(
    sources: &Sources<'_>,
    spot: usize,
    number: usize,
    row: RowOf<'_>,
    screw: Option<Screw>,
    conflicts: &mut Vec<Conflict>,
) -> Hole {
    let scene = sources.scene;
    let place = &scene.spots[spot];
    let taken = sources.assignment.taken[spot].as_ref();
    let statement = sources.statement(spot);
    let callout = statement.map(|s| &*s.callout);
    let circle = scene.rings.rings[place.ring].circle;
    let (making, thickness_source) = making(sources, spot, callout, row.map(|r| r.1));
    conflicts.extend(conflicts::at_hole(sources, spot, number, callout, row.map(|r| r.1)));
    let (paired_by, confidence) = evidence(taken, row.map(|r| r.2));
    let called = callout.and_then(|c| called(scene, c));
    let true_size = scene.units.drawn(place.drawn / scene.scales[place.view]);
    Hole {
        id: SharedText::numbered("H", number as u64 + 1, 10),
        circle,
        origin: scene.drawing.circles[circle].origin,
        at: place.at,
        drawn: scene.units.drawn(place.drawn),
        view_scale: scene.scale_at(spot),
        tag: tag(sources, spot, statement, row.map(|r| r.1)),
        callout: taken.map(|t| t.candidate),
        row: row.map(|r| r.0),
        paired_by,
        confidence,
        reasons: Vec::new(),
        screw,
        making,
        thickness_source,
        entry: entry(scene, spot, callout, called.as_ref().and_then(|c| c.nominal).unwrap_or(true_size)),
        called,
        listed: row.and_then(|r| listed(r.1)),
        depth: depth(scene, callout, row.map(|r| r.1)),
    }
}

/// The strongest of the evidence of callout and row. A row that found its hole through the callout or by its
/// diameter adds nothing to what ties the hole to the callout.
fn evidence(taken: Option<&Taken>, row: Option<PairedBy>) -> (PairedBy, f64) {
    let own =
        |by: &PairedBy| matches!(by, PairedBy::Table | PairedBy::Tag | PairedBy::Position | PairedBy::Layer);
    match (taken, row.filter(own)) {
        (Some(t), Some(by)) if by < t.by => (by, t.confidence.max(confidence::without_callout(by))),
        (Some(t), _) => (t.by, t.confidence),
        (None, Some(by)) => (by, confidence::without_callout(by)),
        (None, None) => (PairedBy::Drawn, confidence::without_callout(PairedBy::Drawn)),
    }
}

/// The tag beside it if anything on the drawing or in the list speaks of that tag, else its row's or callout's.
fn tag(
    sources: &Sources<'_>,
    spot: usize,
    statement: Option<&Statement>,
    row: Option<&Row>,
) -> Option<String> {
    let beside = sources.scene.tag_at(spot);
    let listed = row.and_then(|r| r.tag.clone());
    let known = |tag: &str| sources.tags.iter().any(|name| super::tags::means(name, tag));
    let called = statement.and_then(|s| s.callout.tag.clone());
    beside.filter(|t| known(t)).map(str::to_owned).or(listed).or(called)
}

/// The screw that a hole is for.
pub(super) fn screw(sources: &Sources<'_>, spot: usize, row: RowOf<'_>) -> Option<Screw> {
    let row = row.map(|(_, row, _)| row);
    let statement = sources.statement(spot);
    let callout = statement.map(|s| &*s.callout);
    if let Some(row) = row {
        let mut screw = row.screw.clone()?;
        // A list that leaves the length out is no other word than the callout's.
        screw.length = screw.length.or_else(|| length_called(sources.scene, callout?, &screw.thread));
        return Some(screw);
    }
    let default = sources.defaults.thread.as_ref().filter(|_| sources.rows.is_none());
    if let Some(c) = callout
        && let Some(form) = c.screw
    {
        let thread = c.thread.as_ref().map(|n| n.thread.clone()).or_else(|| default.cloned())?;
        let length = c.screw_length.and_then(|q| sources.scene.units.length(q));
        return Some(Screw { thread, length, form });
    }
    let thread = default?;
    // A tap of the very thread is a mistake to be found; another thread is another hole.
    if callout.and_then(|c| c.thread.as_ref()).is_some_and(|n| !n.thread.is_same(thread)) {
        return None;
    }
    let scene = sources.scene;
    let called = statement.and_then(Statement::called).and_then(|q| scene.units.length(q));
    let diameter = called.unwrap_or_else(|| scene.units.drawn(scene.true_diameter(spot)));
    could_be_threaded(diameter / thread.major).then(|| Screw {
        thread: thread.clone(),
        length: None,
        form: ScrewForm::Rolling,
    })
}

/// The length of the screw that a callout names, if it is one of this thread.
fn length_called(scene: &Scene<'_>, callout: &Callout, thread: &Thread) -> Option<Length> {
    let named = callout.thread.as_ref().is_some_and(|n| n.thread.is_same(thread));
    callout.screw_length.filter(|_| named).and_then(|q| scene.units.length(q))
}

/// Whether a hole of this share of a thread's major diameter could be meant for the thread: tap drills begin at about
/// 0.75, and at the major diameter nothing is left to form. Common practice, no source.
pub(super) fn could_be_threaded(hole_over_major: f64) -> bool {
    (0.7..1.0).contains(&hole_over_major)
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
