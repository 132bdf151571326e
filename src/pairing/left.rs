//! Why a callout has no hole, or not as many as it counts.

use std::cell::LazyCell;
use std::ops::Deref;

use super::assign::Assignment;
use super::evidence::Candidate;
use super::scene::Scene;
use super::texts::Carrier;
use super::{Role, twins};
use crate::drawing::DimensionKind;

/// For each candidate the reason for what is left over of it; none if all is well.
pub(super) fn reasons(scene: &Scene<'_>, assignment: &Assignment) -> Vec<Option<String>> {
    let alike = LazyCell::new(|| of_all_that_say_the_same(scene, assignment));
    (0..assignment.candidates.len()).map(|index| reason(scene, assignment, &alike, index)).collect()
}

fn reason(
    scene: &Scene<'_>,
    assignment: &Assignment,
    alike: &impl Deref<Target = Vec<Option<usize>>>,
    index: usize,
) -> Option<String> {
    let candidate = &assignment.candidates[index];
    let statement = &scene.statements[candidate.statement];
    let count = statement.callout.count;
    let spots = &assignment.holes[index];
    let holes = spots.len();
    if holes == 0 && !candidate.entry_of.is_empty() {
        // It states the counterbore or thread circle of a hole that another callout states.
        return None;
    }
    if holes == 0 {
        return Some(no_hole(scene, assignment, candidate));
    }
    let expected = count? as usize;
    let (holes, circles) = twins::counted(scene, spots);
    let twice = || expected == circles && !another_counts_once(scene, assignment, index);
    if expected == holes || twice() || alike[index] == Some(expected) {
        return None;
    }
    Some(format!("{holes} such {} found for it", if holes == 1 { "circle was" } else { "circles were" }))
}

/// Whether another callout of holes that the same two views show counts each of them once: then the views show one part
/// and not two faces of it.
fn another_counts_once(scene: &Scene<'_>, assignment: &Assignment, index: usize) -> bool {
    let views = |spots: &[usize]| {
        let pairs = spots.iter().filter_map(|&s| {
            let twin = scene.twin[s]?;
            Some((scene.spots[twin].view, scene.spots[s].view))
        });
        pairs.collect::<Vec<_>>()
    };
    let own = views(&assignment.holes[index]);
    assignment.candidates.iter().enumerate().filter(|(i, _)| *i != index).any(|(i, candidate)| {
        let spots = &assignment.holes[i];
        let count = scene.statements[candidate.statement].callout.count;
        let (holes, circles) = twins::counted(scene, spots);
        count.is_some_and(|n| n as usize == holes)
            && holes != circles
            && views(spots).iter().any(|pair| own.contains(pair))
    })
}

/// For each candidate how many holes all callouts of its text have: a counted callout may stand at each of its holes. None
/// for the only one of its text.
fn of_all_that_say_the_same(scene: &Scene<'_>, assignment: &Assignment) -> Vec<Option<usize>> {
    let text = |i: usize| {
        let s = &scene.statements[assignment.candidates[i].statement];
        (s.origin.space, s.callout.text.as_str())
    };
    let mut order: Vec<usize> = (0..assignment.candidates.len()).collect();
    order.sort_by(|&a, &b| text(a).cmp(&text(b)));
    let mut counted = vec![None; order.len()];
    for same in order.chunk_by(|&a, &b| text(a) == text(b)).filter(|same| same.len() > 1) {
        let spots: Vec<usize> = same.iter().flat_map(|&i| assignment.holes[i].iter().copied()).collect();
        let (holes, _) = twins::counted(scene, &spots);
        same.iter().for_each(|&i| counted[i] = Some(holes));
    }
    counted
}

fn no_hole(scene: &Scene<'_>, assignment: &Assignment, candidate: &Candidate) -> String {
    let statement = &scene.statements[candidate.statement];
    if let Some(role) = candidate.other {
        return format!("points at a circle that was taken for {}", article(role));
    }
    if let Some(edge) = candidate.edges.first() {
        let rival =
            assignment.taken[edge.spot].as_ref().map(|t| assignment.candidates[t.candidate].statement);
        return match rival {
            Some(s) => {
                format!("its hole is claimed by '{}'", scene.statements[s].callout.text.replace('\n', " "))
            }
            None => "nothing ties it to a hole closely enough".to_owned(),
        };
    }
    match statement.carrier {
        Carrier::TableRow => format!("no hole is tagged {}", statement.tags.join(", ")),
        Carrier::Dimension(d) => match scene.drawing.dimensions[d].kind {
            DimensionKind::Diameter | DimensionKind::Radius => "measures no full circle".to_owned(),
            _ => "measures a hole from the side, and no circle of that size is drawn".to_owned(),
        },
        Carrier::Text(_) if scene.anchors.tips[candidate.statement] > 0 => {
            "its leader ends at no circle".to_owned()
        }
        Carrier::Text(_) if !statement.tags.is_empty() => {
            format!("no hole is tagged {}, and no circle near it fits", statement.tags.join(", "))
        }
        Carrier::Text(_) => "has no leader, and no circle near it fits".to_owned(),
    }
}

fn article(role: Role) -> String {
    let vowel = matches!(role, Role::Outline);
    format!("{} {}", if vowel { "an" } else { "a" }, role.name().replace('-', " "))
}
