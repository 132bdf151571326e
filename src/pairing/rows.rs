//! Which holes each row of a hole list stands for: by the strongest thing that the row states.

use super::assign::Assignment;
use super::conflicts::in_unit;
use super::resolve::could_be_threaded;
use super::scene::Scene;
use super::texts::Carrier;
use super::{PairedBy, tags, twins};
use crate::drawing::SpaceId;
use crate::geometry::Point;
use crate::joint::{DrawingRows, Row, Tolerance};
use crate::units::{Length, Unit};

/// A row and its holes, as spots.
#[derive(Debug, Clone)]
pub(super) struct Found {
    pub(super) spots: Vec<usize>,
    pub(super) by: PairedBy,
    pub(super) missing_at: Vec<Point>,
    pub(super) left: Option<String>,
}

/// What a row is found by, strongest first.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
enum Selector {
    Position,
    Tag,
    Layer,
    Thread,
    Diameter,
    /// It states only a screw.
    Screw,
    Nothing,
}

fn selector(scene: &Scene<'_>, assignment: &Assignment, row: &Row) -> Selector {
    if !row.at.is_empty() {
        Selector::Position
    } else if row.tag.is_some() {
        Selector::Tag
    } else if row.layer.is_some() {
        Selector::Layer
    } else if row.screw.is_some() && (0..scene.spots.len()).any(|s| names_thread(scene, assignment, row, s)) {
        Selector::Thread
    } else if row.size.nominal.is_some() || row.size.tolerance.is_some() {
        Selector::Diameter
    } else if row.screw.is_some() {
        Selector::Screw
    } else {
        Selector::Nothing
    }
}

/// Finds the holes of all rows. The second value gives the row of each spot.
pub(super) fn find(
    scene: &Scene<'_>,
    assignment: &Assignment,
    rows: &DrawingRows,
) -> (Vec<Found>, Vec<Option<usize>>) {
    let mut owner: Vec<Option<usize>> = vec![None; scene.spots.len()];
    let mut found: Vec<Option<Found>> = vec![None; rows.rows.len()];
    let mut order: Vec<(Selector, usize)> =
        rows.rows.iter().enumerate().map(|(i, row)| (selector(scene, assignment, row), i)).collect();
    order.sort();
    for (selector, i) in order {
        let row = &rows.rows[i];
        let (mut by, mut wanted, missing_at) =
            search(scene, assignment, row, selector, &owner, rows.rows.len());
        if selector == Selector::Thread && shares_thread(rows, i) {
            // Several rows ask for this thread, so each takes the holes of its own size, if there are any.
            let own: Vec<usize> =
                wanted.iter().copied().filter(|&s| has_diameter(scene, assignment, row, s)).collect();
            if !own.is_empty() {
                wanted = own;
            }
        }
        let lost = wanted.iter().filter(|&&s| owner[s].is_some()).count();
        let spots: Vec<usize> = wanted.into_iter().filter(|&s| owner[s].is_none()).collect();
        for &s in &spots {
            owner[s] = Some(i);
        }
        if matches!(selector, Selector::Thread | Selector::Diameter | Selector::Screw) {
            by = spots.iter().filter_map(|&s| assignment.taken[s].as_ref().map(|t| t.by)).min().unwrap_or(by);
        }
        let left = left(scene, row, selector, &spots, lost, &missing_at);
        found[i] = Some(Found { spots, by, missing_at, left });
    }
    (found.into_iter().flatten().collect(), owner)
}

/// Whether another row asks for the same thread.
fn shares_thread(rows: &DrawingRows, index: usize) -> bool {
    let Some(screw) = &rows.rows[index].screw else { return false };
    rows.rows
        .iter()
        .enumerate()
        .any(|(i, row)| i != index && row.screw.as_ref().is_some_and(|s| s.thread.is_same(&screw.thread)))
}

fn search(
    scene: &Scene<'_>,
    assignment: &Assignment,
    row: &Row,
    selector: Selector,
    owner: &[Option<usize>],
    rows: usize,
) -> (PairedBy, Vec<usize>, Vec<Point>) {
    let all = 0..scene.spots.len();
    let pick = |fits: &dyn Fn(usize) -> bool| all.clone().filter(|&s| fits(s)).collect::<Vec<usize>>();
    match selector {
        Selector::Position => {
            let (spots, missing) = by_position(scene, row);
            (PairedBy::Position, spots, missing)
        }
        Selector::Tag => {
            let (by, spots) = by_tag(scene, assignment, row.tag.as_deref().unwrap_or_default());
            (by, with_untagged_kin(scene, assignment, row, spots), Vec::new())
        }
        Selector::Layer => (PairedBy::Layer, pick(&|s| on_layer(scene, row, s)), Vec::new()),
        Selector::Thread => {
            (PairedBy::Nearest, pick(&|s| names_thread(scene, assignment, row, s)), Vec::new())
        }
        Selector::Diameter => {
            (PairedBy::Drawn, pick(&|s| has_diameter(scene, assignment, row, s)), Vec::new())
        }
        Selector::Screw => {
            let free = |s: usize| owner[s].is_none();
            (PairedBy::Drawn, pick(&|s| free(s) && (rows == 1 || plausible(scene, row, s))), Vec::new())
        }
        Selector::Nothing => (PairedBy::Drawn, Vec::new(), Vec::new()),
    }
}

/// The nearest hole centre to each point, within half its diameter or a tenth of a millimetre (five thousandths
/// of an inch).
fn by_position(scene: &Scene<'_>, row: &Row) -> (Vec<usize>, Vec<Point>) {
    let least = match scene.units.reading.unit {
        Unit::Mm => 0.1,
        Unit::Inch => 0.005,
    };
    let mut used = vec![false; scene.spots.len()];
    let mut spots: Vec<usize> = Vec::new();
    let mut missing = Vec::new();
    for &p in &row.at {
        let nearest = (0..scene.drawing.spaces.len().max(1))
            .flat_map(|space| scene.rings.within(space as SpaceId, p, least))
            .filter_map(|ring| scene.spot_of_stack[scene.rings.rings[ring].stack])
            .filter(|&s| !used[s])
            .map(|s| (scene.spots[s].at.distance(p), scene.spots[s].space, s))
            .filter(|&(d, _, s)| d <= (0.5 * scene.spots[s].drawn).max(least))
            .min_by(|a, b| a.1.cmp(&b.1).then(a.0.total_cmp(&b.0)).then(a.2.cmp(&b.2)));
        match nearest {
            Some((_, _, s)) => {
                used[s] = true;
                spots.push(s);
            }
            None => missing.push(p),
        }
    }
    (spots, missing)
}

/// A tag in the callout, beside the circle, or in a hole table.
fn by_tag(scene: &Scene<'_>, assignment: &Assignment, tag: &str) -> (PairedBy, Vec<usize>) {
    let mut by = PairedBy::Tag;
    let spots: Vec<usize> = (0..scene.spots.len())
        .filter(|&s| {
            if scene.tag_at(s).is_some_and(|t| tags::means(tag, t)) {
                return true;
            }
            let Some(statement) = assignment.taken[s]
                .as_ref()
                .map(|t| &scene.statements[assignment.candidates[t.candidate].statement])
            else {
                return false;
            };
            let named = statement.tags.iter().any(|t| tags::means(tag, t));
            // A table row of several tags says which tags its holes have, not that each has all of them.
            if statement.carrier == Carrier::TableRow { named && statement.tags.len() == 1 } else { named }
        })
        .collect();
    let from_table = |&s: &usize| assignment.taken[s].as_ref().is_some_and(|t| t.by == PairedBy::Table);
    if !spots.is_empty() && spots.iter().all(from_table) {
        by = PairedBy::Table;
    }
    (by, spots)
}

/// Where the tag stands beside one hole of a callout only and the row counts as many holes as the callout has, the
/// tag speaks for all of them.
fn with_untagged_kin(scene: &Scene<'_>, assignment: &Assignment, row: &Row, spots: Vec<usize>) -> Vec<usize> {
    let of = |s: usize| assignment.taken[s].as_ref().map(|t| t.candidate);
    let Some(candidate) = spots.first().and_then(|&s| of(s)) else { return spots };
    let kin = &assignment.holes[candidate];
    let all_of_one = spots.iter().all(|&s| of(s) == Some(candidate));
    let counted = row.count.is_some_and(|count| count as usize == kin.len() && kin.len() > spots.len());
    let free = || kin.iter().all(|s| spots.contains(s) || scene.tag_at(*s).is_none());
    if all_of_one && counted && free() { kin.clone() } else { spots }
}

fn on_layer(scene: &Scene<'_>, row: &Row, spot: usize) -> bool {
    let wanted = row.layer.as_deref().unwrap_or_default().trim().to_lowercase();
    let mut circles = scene.rings.rings[scene.spots[spot].ring].circles();
    circles.any(|c| {
        let layer = scene.drawing.circles[c].origin.layer;
        scene.drawing.layers.get(layer as usize).is_some_and(|l| l.name.trim().to_lowercase() == wanted)
    })
}

/// Whether the hole's callout names the thread of the row's screw.
fn names_thread(scene: &Scene<'_>, assignment: &Assignment, row: &Row, spot: usize) -> bool {
    let (Some(screw), Some(taken)) = (&row.screw, &assignment.taken[spot]) else { return false };
    let callout = &scene.statements[assignment.candidates[taken.candidate].statement].callout;
    callout.thread.as_ref().is_some_and(|n| n.thread.is_same(&screw.thread))
}

/// The callout's size, or else the drawn one, is the row's within rounding or 0.02 mm.
fn has_diameter(scene: &Scene<'_>, assignment: &Assignment, row: &Row, spot: usize) -> bool {
    let Some(wanted) = wanted_mm(row) else { return false };
    // A row of limits alone may be drawn anywhere between them.
    let off = |mm: f64| match (&row.size.nominal, &row.size.tolerance) {
        (None, Some(Tolerance::Limits { min, max })) => (min.mm() - mm).max(mm - max.mm()).max(0.0),
        _ => (mm - wanted).abs(),
    };
    let called = assignment.taken[spot].as_ref().and_then(|t| {
        let statement = &scene.statements[assignment.candidates[t.candidate].statement];
        statement.called().and_then(|q| {
            scene
                .units
                .length(q)
                .map(|l| (l.mm(), half_step(q.decimals, q.unit.unwrap_or(scene.units.stated))))
        })
    });
    match called {
        Some((mm, half)) => off(mm) <= half.clamp(0.02, 0.1),
        None => off(scene.units.drawn(scene.true_diameter(spot)).mm()) <= 0.02,
    }
}

/// The nominal of a row, or the middle of its limits.
fn wanted_mm(row: &Row) -> Option<f64> {
    if let Some(nominal) = row.size.nominal {
        return Some(nominal.mm());
    }
    match &row.size.tolerance {
        Some(Tolerance::Limits { min, max }) => Some(f64::midpoint(min.mm(), max.mm())),
        _ => None,
    }
}

fn half_step(decimals: u8, unit: Unit) -> f64 {
    if decimals == 0 { 0.02 } else { 0.5 * 10f64.powi(-i32::from(decimals)) * unit.in_mm() }
}

/// Whether a hole could take the row's screw.
fn plausible(scene: &Scene<'_>, row: &Row, spot: usize) -> bool {
    let Some(screw) = &row.screw else { return false };
    could_be_threaded(scene.units.drawn(scene.true_diameter(spot)) / screw.thread.major)
}

/// What is wrong with the number of holes found; none if nothing is.
fn left(
    scene: &Scene<'_>,
    row: &Row,
    selector: Selector,
    spots: &[usize],
    lost: usize,
    missing: &[Point],
) -> Option<String> {
    let mut says = Vec::new();
    let (found, circles) = twins::counted(scene, spots);
    if !missing.is_empty() {
        let places: Vec<String> = missing.iter().map(|p| format!("({:.3}, {:.3})", p.x, p.y)).collect();
        says.push(format!("no hole at {}", places.join(", ")));
    } else if found == 0 && lost == 0 {
        says.push(none_found(scene, row, selector));
    }
    if lost > 0 {
        let are = if lost == 1 { "is" } else { "are" };
        says.push(format!("{lost} of its holes {are} claimed by a row that states more"));
    }
    if let Some(count) = row.count
        && count as usize != found
        && count as usize != circles
        && missing.is_empty()
        && (found > 0 || lost > 0)
    {
        let were = if found == 1 { "was" } else { "were" };
        says.push(format!("counts {count} holes, but {found} {were} found"));
    }
    (!says.is_empty()).then(|| says.join("; "))
}

fn none_found(scene: &Scene<'_>, row: &Row, selector: Selector) -> String {
    let what = match selector {
        Selector::Tag => format!("no hole is tagged {}", row.tag.as_deref().unwrap_or_default()),
        Selector::Layer => format!("no hole is on layer {}", row.layer.as_deref().unwrap_or_default()),
        Selector::Diameter => {
            let unit = row.size.unit.or(row.unit).unwrap_or(scene.units.reading.unit);
            let wanted = Length::from_mm(wanted_mm(row).unwrap_or_default()).unwrap_or_default();
            format!("no hole of Ø{} is called out or drawn", in_unit(wanted, unit))
        }
        Selector::Nothing => return "states nothing that a hole could be found by".to_owned(),
        _ => {
            let thread = row.screw.as_ref().map(|s| s.thread.name.clone()).unwrap_or_default();
            return format!("no hole is called out for or fits {thread}");
        }
    };
    // The usual cause is a wrong word in the list or on the drawing, so say what could be meant.
    let fits = (0..scene.spots.len()).filter(|&s| plausible(scene, row, s)).count();
    match (&row.screw, fits) {
        (Some(screw), 1) => format!("{what}; 1 hole could take {}", screw.thread.name),
        (Some(screw), 2..) => format!("{what}; {fits} holes could take {}", screw.thread.name),
        _ => what,
    }
}
