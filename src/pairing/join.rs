//! The steps of pairing in their order, and their results as the values that others use.

use std::sync::Arc;

use super::assign::{Assignment, assign};
use super::joints::Joints;
use super::resolve::{RowOf, Sources};
use super::scene::Scene;
use super::{
    Hole, Joint, Manner, Paired, Role, SeenCallout, SeenCircle, SeenRow, Sheet, ThicknessSource, claims,
    left, order, resolve, rows, sheet, surroundings,
};
use crate::drawing::Drawing;
use crate::joint::{Defaults, DrawingRows};
use crate::shared::Shared;

/// Looks, assigns, finds the rows' holes, resolves each hole and numbers them.
pub(super) fn join(
    drawing: &Drawing,
    list: Option<&DrawingRows>,
    defaults: &Defaults,
    manner: Manner<'_>,
) -> Paired {
    let scene = Scene::new(drawing, list, defaults, manner.words);
    let mut assignment = assign(&scene, manner.reasoned);
    let (found, owner) = list.map(|l| rows::find(&scene, &assignment, l)).unwrap_or_default();
    let facts = sheet::gather(&scene, list);
    let order = order::order(&scene);
    let mut number_of = vec![0; scene.spots.len()];
    for (number, &spot) in order.iter().enumerate() {
        number_of[spot] = number;
    }
    let numbers = |spots: &mut dyn Iterator<Item = usize>| {
        let mut numbers: Vec<usize> = spots.map(|s| number_of[s]).collect();
        numbers.sort_unstable();
        numbers
    };
    let callouts = seen_callouts(&scene, &assignment, &number_of, &numbers);
    assignment.forget_pairs();
    let tags = resolve::known_tags(&scene, list);
    let sources =
        Sources { scene: &scene, assignment: &assignment, facts: &facts, rows: list, defaults, tags };
    let row = |spot: usize| -> RowOf<'_> {
        let index = owner.get(spot).copied().flatten()?;
        Some((index, list?.rows.get(index)?, found[index].by))
    };
    let mut made = Joints::default();
    let joints: Vec<Shared<Joint>> = order.iter().map(|&spot| made.of(&sources, spot, row(spot))).collect();
    // The lines of a large sheet take more room while they are joined than all that follows, so before there are holes.
    let surroundings = surroundings::find(&scene, &order, &joints);
    let mut conflicts = facts.conflicts.clone();
    let mut holes: Vec<Hole> = (order.iter().zip(joints).enumerate())
        .map(|(number, (&spot, joint))| {
            resolve::hole(&sources, spot, number, row(spot), joint, &mut conflicts)
        })
        .collect();
    let mut circles = Vec::new();
    if manner.reasoned {
        circles = seen_circles(&scene, &assignment, &number_of);
        for (hole, &spot) in holes.iter_mut().zip(&order) {
            hole.reasons =
                assignment.taken[spot].as_mut().map(|t| std::mem::take(&mut t.terms)).unwrap_or_default();
        }
    }
    let rows = list.into_iter().flat_map(|l| &l.rows).zip(found);
    let rows = rows
        .map(|(row, found)| SeenRow {
            row: row.clone(),
            holes: numbers(&mut found.spots.iter().copied()),
            by: found.by,
            missing_at: found.missing_at,
            left: found.left,
        })
        .collect();
    Paired {
        unit: scene.units.reading.clone(),
        sheet: completed(facts.sheet, &holes, defaults),
        circles,
        holes,
        callouts,
        rows,
        conflicts,
        surroundings,
    }
}

/// What list and sheet leave open, from the callouts where all that state a thickness state the same, else from the
/// command line.
fn completed(sheet: Sheet, holes: &[Hole], defaults: &Defaults) -> Sheet {
    let mut called = (holes.iter())
        .filter(|h| h.thickness_source == ThicknessSource::Callout)
        .filter_map(|h| h.making.thickness);
    let first = called.next().filter(|first| called.all(|t| t == *first));
    let option = &defaults.making;
    let said = sheet.thickness.or(first.map(|t| (t, ThicknessSource::Callout)));
    Sheet {
        thickness: said.or(option.thickness.map(|t| (t, ThicknessSource::Option))),
        material: sheet.material.or(option.material),
        ..sheet
    }
}

/// Callouts in the order of the candidates, which is from top to bottom.
fn seen_callouts(
    scene: &Scene<'_>,
    assignment: &Assignment,
    number_of: &[usize],
    numbers: &dyn Fn(&mut dyn Iterator<Item = usize>) -> Vec<usize>,
) -> Vec<SeenCallout> {
    assignment
        .candidates
        .iter()
        .zip(left::reasons(scene, assignment))
        .enumerate()
        .map(|(i, (candidate, left))| {
            let statement = &scene.statements[candidate.statement];
            let own = &assignment.holes[i];
            let spots = if own.is_empty() { &candidate.entry_of } else { own };
            SeenCallout {
                callout: Arc::clone(&statement.callout),
                origin: statement.origin,
                at: statement.at,
                holes: numbers(&mut spots.iter().copied()),
                left,
                claims: claims::of(scene, assignment, i, number_of),
                measured: claims::is_measured(scene, assignment, i),
            }
        })
        .collect()
}

/// Every circle of the drawing once, in its order, with its role and the hole it is or belongs to.
fn seen_circles(scene: &Scene<'_>, assignment: &Assignment, number_of: &[usize]) -> Vec<SeenCircle> {
    let mut circles: Vec<SeenCircle> = (0..scene.drawing.circles.len())
        .map(|circle| SeenCircle { circle, role: Role::Hidden, hole: None })
        .collect();
    for (i, ring) in scene.rings.rings.iter().enumerate() {
        let spot = scene.spot_of_stack[ring.stack];
        let countersunk = spot.and_then(|s| assignment.taken[s].as_ref()).is_some_and(|t| {
            let callout = &scene.statements[assignment.candidates[t.candidate].statement].callout;
            callout.countersink.is_some() && callout.counterbore.is_none()
        });
        let role = match scene.roles[i] {
            Role::Counterbore if countersunk => Role::Countersink,
            other => other,
        };
        let belongs =
            matches!(role, Role::Hole | Role::Counterbore | Role::Countersink | Role::CosmeticThread);
        for c in ring.circles() {
            circles[c].role = role;
            circles[c].hole = spot.filter(|_| belongs).map(|s| number_of[s]);
        }
    }
    circles
}
