//! What speaks for a callout that points at nothing: holes of its size near its text, as many alike as it counts, or the
//! only one of its size. Nothing is decided here.

use super::edge::{Edge, term};
use super::evidence::{Candidate, is_drawn_at, is_side_view, keep_nearest, size_term};
use super::rings::same_diameter;
use super::scene::Scene;
use super::texts::Statement;
use super::{CostTerm, Detail, PairedBy, only, projected};
use crate::geometry::Point;

/// No leader, dimension, tag or block: only nearness.
const NO_ANCHOR: f64 = 1.0;
/// The leader of a callout ends at no circle.
const TIP_MISSES: f64 = 1.4;
/// Per letter height between text and rim.
const PER_HEIGHT: f64 = 0.25;
/// The callout stands with another view than the hole.
const OTHER_VIEW: f64 = 0.8;
/// A general note speaks for a hole that nothing else speaks for.
const GENERAL: f64 = 2.5;
/// The only hole of its view that has the size, beyond the reach of nearness.
const ONLY: f64 = 1.8;
/// Most letter heights between a text without a leader and its hole.
const REACH: f64 = 8.0;

/// Holes for a callout that points at nothing: of its size and near its text, or of its size anywhere if it
/// counts several or speaks of all.
pub(super) fn collect(scene: &Scene<'_>, out: &mut Candidate) {
    let s = out.statement;
    let statement = &scene.statements[s];
    let c = &statement.callout;
    let wide = c.count.is_some_and(|n| n > 1) || c.general || is_side_view(scene, statement);
    let home = nearest_view(scene, statement);
    let mut edges = Vec::new();
    let mut rest = Vec::new();
    for (spot, place) in scene.spots.iter().enumerate() {
        if out.edges.iter().any(|e| e.spot == spot) {
            continue;
        }
        if place.space != statement.origin.space && !(c.general && statement.origin.space != 0) {
            continue;
        }
        let gap = (statement.bounds.distance(place.at) - place.drawn / 2.0).max(0.0);
        let heights = gap / statement.height;
        if !wide && heights > REACH {
            continue;
        }
        // Far holes of another size are never taken; on a sheet of thousands they must cost nothing to pass over.
        let far = !c.general && heights > 3.0;
        if far && statement.called().is_some_and(|q| !is_drawn_at(scene, spot, q)) {
            continue;
        }
        let size = size_term(scene, s, spot, 3.0);
        let fits = size.cost == 0.0 && (c.size.is_some() || c.thread.is_some());
        if !fits && (c.general || wide) {
            if c.general && !statement.typical() {
                rest.push(general_edge(spot, size));
            }
            continue;
        }
        if !fits && (heights > 3.0 || size.cost > 2.5) {
            continue;
        }
        if c.general && !statement.typical() {
            edges.push(general_edge(spot, size));
            continue;
        }
        edges.push(near_edge(scene, spot, size, heights, wide, home));
    }
    if is_side_view(scene, statement) {
        projected::weigh(scene, s, &mut edges);
    }
    if c.general && edges.is_empty() {
        // "ALL HOLES" of a size that no circle is drawn at: it still speaks of all that nothing else speaks of.
        edges = rest;
    }
    if wide && !c.general && c.size.is_none() {
        alike(scene, &mut edges, c.count);
    }
    if wide
        && !c.general
        && let Some(best) = edges.iter().min_by(|a, b| a.cost.total_cmp(&b.cost))
    {
        out.like = Some(scene.spots[best.spot].drawn);
    }
    if edges.is_empty() && out.edges.is_empty() && wide && !c.general {
        edges = as_many_alike(scene, s, home);
    }
    if wide && !c.general {
        in_one_view(scene, &mut edges, c.count, home);
    } else if !c.general && c.size.is_some() && edges.iter().all(Edge::differs) {
        edges.extend(only_of_its_size(scene, s, home));
    }
    keep_nearest(&mut edges, out.capacity);
    out.edges.append(&mut edges);
}

/// Holes for a counted callout whose leader ends at no circle, as a leader drawn carelessly does beside the rim: those of the
/// one view that has as many of its size as are counted.
pub(super) fn beside_tip(scene: &Scene<'_>, out: &mut Candidate) {
    let statement = &scene.statements[out.statement];
    let Some(count) = statement.callout.count.filter(|n| *n > 1) else { return };
    let Some(called) = statement.called().filter(|q| q.value > 0.0) else { return };
    let fits = |spot: &usize| {
        scene.spots[*spot].space == statement.origin.space && is_drawn_at(scene, *spot, called)
    };
    let mut fitting: Vec<usize> = (0..scene.spots.len()).filter(fits).collect();
    fitting.sort_by_key(|&spot| scene.spots[spot].view);
    let views = fitting
        .chunk_by(|&a, &b| scene.spots[a].view == scene.spots[b].view)
        .filter(|of_view| of_view.len() == count as usize);
    let Some(only) = only(views) else { return };
    let edge_to = |&spot: &usize| {
        let terms = vec![
            term("tip-misses", TIP_MISSES, "its leader ends at no circle"),
            size_term(scene, out.statement, spot, 3.0),
            term("as-many-alike", 0.4, Detail::Alike(count)),
        ];
        Edge::new(spot, PairedBy::Count, terms)
    };
    let edges: Vec<Edge> = only.iter().map(edge_to).collect();
    out.like = Some(scene.spots[only[0]].drawn);
    out.edges.extend(edges);
}

/// Holes that one callout counts are drawn alike: of a thread, which fits several sizes, those that a view has as many of as
/// are counted, else those like the likeliest one.
fn alike(scene: &Scene<'_>, edges: &mut Vec<Edge>, count: Option<u32>) {
    let of = |e: &Edge| (scene.spots[e.spot].view, scene.true_diameter(e.spot));
    let mut order: Vec<&Edge> = edges.iter().collect();
    order.sort_by(|a, b| {
        let ((view_a, size_a), (view_b, size_b)) = (of(a), of(b));
        view_a.cmp(&view_b).then(size_a.total_cmp(&size_b))
    });
    let groups = order.chunk_by(|a, b| of(a).0 == of(b).0 && same_diameter(of(a).1, of(b).1));
    let likeliest = groups.filter_map(|group| {
        let best = group.iter().min_by(|a, b| a.cost.total_cmp(&b.cost))?;
        Some((count != Some(group.len() as u32), best.cost, best.spot))
    });
    let best = likeliest.min_by(|a, b| a.0.cmp(&b.0).then(a.1.total_cmp(&b.1)).then(a.2.cmp(&b.2)));
    let Some(size) = best.map(|(_, _, spot)| scene.true_diameter(spot)) else { return };
    edges.retain(|e| same_diameter(scene.true_diameter(e.spot), size));
}

/// Where one view alone has as many fitting holes as are counted, the nearest one first, it is the one spoken of.
fn in_one_view(scene: &Scene<'_>, edges: &mut Vec<Edge>, count: Option<u32>, home: Option<usize>) {
    let Some(count) = count else { return };
    let mut in_view = vec![0_u32; scene.views.views.len()];
    for e in edges.iter() {
        in_view[scene.spots[e.spot].view] += 1;
    }
    let full = |v: &usize| in_view[*v] == count;
    let others = || {
        (0..in_view.len()).filter(|v| full(v)).min_by(|&a, &b| {
            let least = |v: usize| {
                edges
                    .iter()
                    .filter(|e| scene.spots[e.spot].view == v)
                    .map(|e| e.cost)
                    .fold(f64::INFINITY, f64::min)
            };
            least(a).total_cmp(&least(b)).then(a.cmp(&b))
        })
    };
    if let Some(view) = home.filter(full).or_else(others) {
        edges.retain(|e| scene.spots[e.spot].view == view);
    }
}

/// The holes of a view where one size, not far from the one called out, is drawn as often as the callout counts.
fn as_many_alike(scene: &Scene<'_>, s: usize, home: Option<usize>) -> Vec<Edge> {
    let statement = &scene.statements[s];
    let (Some(count), Some(view)) = (statement.callout.count, home) else { return Vec::new() };
    let mut inside: Vec<usize> = (0..scene.spots.len()).filter(|&p| scene.spots[p].view == view).collect();
    inside.sort_by(|&a, &b| scene.spots[a].drawn.total_cmp(&scene.spots[b].drawn).then(a.cmp(&b)));
    let groups = inside.chunk_by(|&a, &b| same_diameter(scene.spots[a].drawn, scene.spots[b].drawn));
    let fits =
        |group: &&[usize]| group.len() == count as usize && size_term(scene, s, group[0], 3.0).cost < 2.4;
    let Some(only) = only(groups.filter(fits)) else { return Vec::new() };
    let edge_to = |&spot: &usize| {
        let terms = vec![
            no_anchor(),
            size_term(scene, s, spot, 3.0),
            term("as-many-alike", 0.4, Detail::Alike(count)),
        ];
        Edge::new(spot, PairedBy::Count, terms)
    };
    only.iter().map(edge_to).collect()
}

/// The hole of a view that alone has the size called out there, however far away.
fn only_of_its_size(scene: &Scene<'_>, s: usize, home: Option<usize>) -> Option<Edge> {
    let fits = |spot: usize| {
        let called = scene.statements[s].called().filter(|q| q.value > 0.0);
        called.is_some_and(|q| is_drawn_at(scene, spot, q))
    };
    let of_view = (0..scene.spots.len()).filter(|&p| Some(scene.spots[p].view) == home);
    let only = only(of_view.filter(|&p| fits(p)))?;
    let terms = vec![
        no_anchor(),
        size_term(scene, s, only, 3.0),
        term("only-of-its-size", ONLY, "far away, but no other hole of the view has the size"),
    ];
    Some(Edge::new(only, PairedBy::Nearest, terms))
}

fn general_edge(spot: usize, size: CostTerm) -> Edge {
    let size = CostTerm { cost: size.cost.min(1.0), ..size };
    let note = term("general-note", GENERAL, "a note for all holes not called out otherwise");
    Edge::new(spot, PairedBy::Count, vec![note, size])
}

fn near_edge(
    scene: &Scene<'_>,
    spot: usize,
    size: CostTerm,
    heights: f64,
    wide: bool,
    home: Option<usize>,
) -> Edge {
    let place = &scene.spots[spot];
    let mut terms = vec![no_anchor(), size];
    let by = if wide && heights > REACH { PairedBy::Count } else { PairedBy::Nearest };
    let distance = if wide {
        0.4 * heights / (heights + 20.0) + if heights > REACH { 0.4 } else { 0.0 }
    } else {
        PER_HEIGHT * heights
    };
    terms.push(term("distance", distance, Detail::FromText(heights)));
    if home.is_some_and(|h| h != place.view) {
        terms.push(term("other-view", OTHER_VIEW, "the text stands nearer to another view"));
    }
    Edge::new(spot, by, terms)
}

/// The view that a text stands in or nearest to.
fn nearest_view(scene: &Scene<'_>, s: &Statement) -> Option<usize> {
    let middle = Point::new(
        f64::midpoint(s.bounds.min.x, s.bounds.max.x),
        f64::midpoint(s.bounds.min.y, s.bounds.max.y),
    );
    (0..scene.views.views.len())
        .filter(|&v| scene.views.views[v].space == s.origin.space && scene.with_holes[v])
        .min_by(|&a, &b| {
            let d = |v: usize| scene.views.views[v].bounds.distance(middle);
            d(a).total_cmp(&d(b)).then(a.cmp(&b))
        })
}

fn no_anchor() -> CostTerm {
    term("no-anchor", NO_ANCHOR, "no leader, dimension or tag")
}
