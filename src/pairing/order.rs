//! The order that holes are numbered in: views from top to bottom, then left to right; holes in a view likewise.

use super::scene::Scene;
use crate::geometry::{Bounds, Point};

/// Spots in drawing order. Depends on places and sizes alone, never on the order in the file.
pub(super) fn order(scene: &Scene<'_>) -> Vec<usize> {
    let members = &scene.by_view;
    let mut views: Vec<usize> = (0..members.views()).filter(|&v| members.any(v)).collect();
    views.sort_by_key(|&v| scene.views.views[v].space);
    let mut ordered = Vec::with_capacity(scene.spots.len());
    let spaces: Vec<_> = views.iter().map(|&v| scene.views.views[v].space).collect();
    let mut seen = Vec::new();
    for space in spaces {
        if seen.contains(&space) {
            continue;
        }
        seen.push(space);
        let here: Vec<usize> =
            views.iter().copied().filter(|&v| scene.views.views[v].space == space).collect();
        for v in rows_of_views(scene, here) {
            match members.of(v) {
                [only] => ordered.push(*only),
                several => ordered.extend(in_view(scene, several)),
            }
        }
    }
    ordered
}

/// Views whose middles stand within the height of the first of a row are one row.
fn rows_of_views(scene: &Scene<'_>, mut views: Vec<usize>) -> Vec<usize> {
    let bounds = |v: usize| scene.views.views[v].bounds;
    let middle = |v: usize| f64::midpoint(bounds(v).min.y, bounds(v).max.y);
    views.sort_by(|&a, &b| compare(bounds(a), bounds(b)));
    let mut ordered = Vec::new();
    while let Some(&first) = views.first() {
        let floor = bounds(first).min.y;
        let (mut row, rest): (Vec<usize>, Vec<usize>) = views.iter().partition(|&&v| middle(v) >= floor);
        row.sort_by(|&a, &b| bounds(a).min.x.total_cmp(&bounds(b).min.x).then(compare(bounds(a), bounds(b))));
        ordered.extend(row);
        views = rest;
    }
    ordered
}

fn compare(a: Bounds, b: Bounds) -> std::cmp::Ordering {
    (b.max.y.total_cmp(&a.max.y)).then(a.min.x.total_cmp(&b.min.x)).then(b.min.y.total_cmp(&a.min.y))
}

/// Rows as high as half the median diameter, so that a hole a hair lower does not change its row.
fn in_view(scene: &Scene<'_>, members: &[usize]) -> Vec<usize> {
    let mut diameters: Vec<f64> = members.iter().map(|&s| scene.spots[s].drawn).collect();
    diameters.sort_by(f64::total_cmp);
    let tolerance = 0.5 * diameters.get(diameters.len() / 2).copied().unwrap_or_default();
    let at = |s: usize| -> Point { scene.spots[s].at };
    let mut by_height = members.to_vec();
    by_height.sort_by(|&a, &b| at(b).y.total_cmp(&at(a).y).then(at(a).x.total_cmp(&at(b).x)).then(a.cmp(&b)));
    let mut ordered: Vec<usize> = Vec::with_capacity(members.len());
    let mut start = 0;
    while start < by_height.len() {
        let top = at(by_height[start]).y;
        let end = by_height[start..]
            .iter()
            .position(|&s| at(s).y < top - tolerance)
            .map_or(by_height.len(), |n| start + n);
        let mut row = by_height[start..end].to_vec();
        row.sort_by(|&a, &b| at(a).x.total_cmp(&at(b).x).then(at(b).y.total_cmp(&at(a).y)).then(a.cmp(&b)));
        ordered.extend(row);
        start = end;
    }
    ordered
}
