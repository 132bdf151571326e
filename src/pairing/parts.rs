//! Which view a note of the sheet speaks of, and what notes say of single views where a sheet shows several parts.
//! Does not read notes, and does not weigh them against what the sheet or a list says.

use super::scene::Scene;
use super::texts::{Carrier, Statement};

/// Letter heights between a view and a note that is its title.
const TITLE_LINES: f64 = 12.0;
/// Letter heights that a view without holes is wide and high at least, if it is to be a part of its own.
const LEAST_PART: f64 = 10.0;
/// Greatest part of its length that a strip is wide.
const STRIP: f64 = 0.35;
/// Part of an extent that two projections of one part share at least.
const PROJECTED: f64 = 0.8;
/// Texts with letters that such a view holds at most: a block of notes or a list holds more. Lengths and the numbers in
/// balloons stand at any part.
const MOST_TEXTS: usize = 3;

/// The view that a note stands in, or stands above or below as its title: nearer than any other view that holds
/// holes, and within some lines of it.
pub(super) fn view_of_note(scene: &Scene<'_>, note: &Statement) -> Option<usize> {
    let space = note.origin.space;
    let middle = note.middle();
    let reach = TITLE_LINES * note.height;
    let is_part = |v: usize| scene.by_view.any(v) || is_other_part(scene, v);
    let holding = scene.views.holding(space, note.at, 3.0 * note.height).filter(|&v| scene.by_view.any(v));
    holding.or_else(|| {
        let mut near: Vec<(f64, usize)> = (0..scene.views.views.len())
            .filter(|&v| scene.views.views[v].space == space && is_part(v))
            .map(|v| (scene.views.views[v].bounds, v))
            .filter(|(b, _)| middle.x >= b.min.x && middle.x <= b.max.x)
            .map(|(b, v)| (b.distance(middle), v))
            .filter(|(d, _)| *d <= reach)
            .collect();
        near.sort_by(|a, b| a.0.total_cmp(&b.0).then(a.1.cmp(&b.1)));
        near.first().map(|(_, v)| *v)
    })
}

/// Whether a view without holes is another part: wide and high, neither the title block nor a projection of a view
/// with holes, which has one of its extents.
fn is_other_part(scene: &Scene<'_>, view: usize) -> bool {
    let (space, b) = (scene.views.views[view].space, scene.views.views[view].bounds);
    let (wide, high) = (b.max.x - b.min.x, b.max.y - b.min.y);
    let least = LEAST_PART * scene.height;
    let middle = b.middle();
    // Dimensions beside a view reach beyond one of its edges, so of a strip, as a sheet looks from its edge, the other edge
    // and most of the extent are enough. Two plates often stand on one line and are two parts.
    let strip = wide.min(high) <= STRIP * wide.max(high);
    let projects = |from: f64, to: f64, low: f64, up: f64, across: f64| {
        let (starts, ends) = ((from - low).abs() <= 0.02 * across, (to - up).abs() <= 0.02 * across);
        let shared = to.min(up) - from.max(low);
        starts && ends || strip && (starts || ends) && shared >= PROJECTED * across.max(up - low)
    };
    let of_part = |v: usize| {
        let o = scene.views.views[v].bounds;
        projects(b.min.x, b.max.x, o.min.x, o.max.x, wide)
            || projects(b.min.y, b.max.y, o.min.y, o.max.y, high)
    };
    let frame = |v: usize| {
        let o = scene.views.views[v].bounds;
        v != view && b.holds(o.min, 0.0) && b.holds(o.max, 0.0)
    };
    let others =
        || (0..scene.views.views.len()).filter(|&v| v != view && scene.views.views[v].space == space);
    let texts = scene
        .statements
        .iter()
        .filter(|s| matches!(s.carrier, Carrier::Text(_)) && s.origin.space == space && b.holds(s.at, 0.0))
        .filter(|s| s.callout.text.contains(char::is_alphabetic));
    wide.min(high) >= least
        && texts.take(MOST_TEXTS + 1).count() <= MOST_TEXTS
        && !scene.title.holds(space, middle)
        && !others().any(|v| scene.by_view.any(v) && of_part(v))
        && !others().any(frame)
}

/// Whether the sheet shows several parts, or one in several views that hold holes. `noted` are the views that notes of
/// thickness or metal stand at: a note at a part without holes says that there are parts.
pub(super) fn are_several(scene: &Scene<'_>, mut noted: impl Iterator<Item = usize>) -> bool {
    let with_holes = (0..scene.by_view.views()).filter(|&view| scene.by_view.any(view)).count();
    with_holes >= 2 || noted.any(|view| !scene.by_view.any(view))
}

/// What notes that stand at single views say, by view, on a sheet that shows several parts. The first of two notes at one
/// view holds.
pub(super) fn of_views<T: Copy>(
    scene: &Scene<'_>,
    several: bool,
    said: impl Iterator<Item = (usize, T)>,
) -> Vec<Option<T>> {
    let mut of_view = vec![None; scene.views.views.len()];
    if !several {
        return of_view;
    }
    for (view, fact) in said {
        of_view[view] = of_view[view].or(Some(fact));
    }
    // Another view of the same part is of the same metal, unless a note at it says another.
    for (spot, twin) in scene.twin.iter().enumerate() {
        let Some(twin) = *twin else { continue };
        let (here, there) = (scene.spots[spot].view, scene.spots[twin].view);
        of_view[here] = of_view[here].or(of_view[there]);
        of_view[there] = of_view[there].or(of_view[here]);
    }
    of_view
}
