//! What a detail enlarges: its title names a letter, and the same letter stands at a ring round a place of another
//! view. Decides no scale and ties no callout.

use super::rings::Rings;
use super::texts::{Carrier, Statement};
use super::views::Views;
use crate::drawing::SpaceId;

/// Letter heights between a detail and its title.
const TITLE_REACH: f64 = 12.0;
/// Letter heights between the rim of the ring in the main view and the letter at it.
const MARK_REACH: f64 = 3.0;

/// What a ring marks is smaller than this part of it.
const SMALLER: f64 = 0.8;

/// A view that enlarges a part of another.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Detail {
    /// The view that it is.
    pub(super) view: usize,
    /// The view that it is of.
    pub(super) of: usize,
    /// The ring that marks the place there.
    pub(super) mark: usize,
    /// The rings inside the marked place.
    pub(super) shows: Vec<usize>,
}

/// The details of a drawing whose title and mark are both found.
pub(super) fn find(rings: &Rings, views: &Views, statements: &[Statement]) -> Vec<Detail> {
    let mut found: Vec<Detail> = Vec::new();
    for title in statements {
        let Some(letters) = title.note.detail.as_deref() else { continue };
        let Some(view) = titled(views, title) else { continue };
        let space = title.origin.space;
        let marks = statements.iter().filter(|s| {
            matches!(s.carrier, Carrier::Text(_))
                && s.origin.space == space
                && s.callout.text.trim().eq_ignore_ascii_case(letters)
        });
        let marked = marks
            .filter_map(|mark| ring_at(rings, views, mark, space, view))
            .min_by(|a, b| a.1.total_cmp(&b.1).then(a.0.cmp(&b.0)));
        let Some((ring, _)) = marked else { continue };
        let around = &rings.rings[ring];
        let of = views.of_ring[ring];
        let mut shows = rings.centres_within(space, around.center, around.diameter / 2.0);
        shows.retain(|&r| rings.rings[r].diameter < SMALLER * around.diameter && views.of_ring[r] == of);
        if !found.iter().any(|d| d.view == view) && !shows.is_empty() {
            found.push(Detail { view, of, mark: ring, shows });
        }
    }
    found
}

/// The view with circles that a title stands at.
fn titled(views: &Views, title: &Statement) -> Option<usize> {
    let distance = |v: usize| {
        let b = &views.views[v].bounds;
        b.distance(title.bounds.min).min(b.distance(title.bounds.max))
    };
    (0..views.views.len())
        .filter(|&v| views.views[v].space == title.origin.space && views.with_rings[v])
        .map(|v| (distance(v), v))
        .filter(|(d, _)| *d <= TITLE_REACH * title.height)
        .min_by(|a, b| a.0.total_cmp(&b.0).then(a.1.cmp(&b.1)))
        .map(|(_, v)| v)
}

/// The ring of another view at whose rim a letter stands and that has something in it, with their distance.
fn ring_at(
    rings: &Rings,
    views: &Views,
    mark: &Statement,
    space: SpaceId,
    detail: usize,
) -> Option<(usize, f64)> {
    let middle = mark.middle();
    let reach = MARK_REACH * mark.height;
    rings
        .within(space, middle, reach)
        .into_iter()
        .filter(|&ring| views.of_ring[ring] != detail)
        .map(|ring| {
            let r = &rings.rings[ring];
            (ring, (r.center.distance(middle) - r.diameter / 2.0).abs())
        })
        .filter(|(ring, gap)| *gap <= reach && is_round_another(rings, *ring))
        .min_by(|a, b| a.1.total_cmp(&b.1).then(a.0.cmp(&b.0)))
}

/// Whether a smaller ring lies in a ring, concentric or not.
fn is_round_another(rings: &Rings, ring: usize) -> bool {
    let r = &rings.rings[ring];
    rings.centres_within(r.space, r.center, r.diameter / 2.0).into_iter().any(|o| {
        let other = &rings.rings[o];
        other.diameter < SMALLER * r.diameter
            && other.center.distance(r.center) + other.diameter / 2.0 <= r.diameter / 2.0
    })
}
