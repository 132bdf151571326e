//! What one paired hole is: its place, its names, its screw and how sure all that is, with what is said of its joint.

use super::assign::{Assignment, Taken};
use super::scene::Scene;
use super::sheet::SheetFacts;
use super::texts::Statement;
use super::{Conflict, Hole, Joint, PairedBy, confidence, conflicts};
use crate::callout::Callout;
use crate::joint::{Defaults, DrawingRows, Row, Screw, ScrewForm};
use crate::shared::{Shared, SharedText};
use crate::trade::Thread;
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
    pub(super) fn statement(&self, spot: usize) -> Option<&'a Statement> {
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
    joint: Shared<Joint>,
    conflicts: &mut Vec<Conflict>,
) -> Hole {
    let scene = sources.scene;
    let place = &scene.spots[spot];
    let taken = sources.assignment.taken[spot].as_ref();
    let statement = sources.statement(spot);
    let callout = statement.map(|s| &*s.callout);
    let circle = scene.rings.rings[place.ring].circle;
    conflicts.extend(conflicts::at_hole(sources, spot, number, callout, row.map(|r| r.1)));
    let (paired_by, confidence) = evidence(taken, row.map(|r| r.2));
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
        reasons: Box::default(),
        joint,
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
