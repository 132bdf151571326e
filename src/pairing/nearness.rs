//! What speaks for a callout that points at nothing: holes of its size near its text, as many alike as it counts, or the
//! only one of its size. Nothing is decided here.

use super::edge::{Edge, term};
use super::evidence::{Candidate, is_drawn_at, is_side_view, keep_nearest, size_term};
use super::fitting::Fitting;
use super::kept::Kept;
use super::rings::same_diameter;
use super::scene::Scene;
use super::texts::Statement;
use super::{CostTerm, Detail, PairedBy, only, projected};

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
/// The most that a size which differs speaks against a general note.
const MOST_OFF: f64 = 1.0;
/// The only hole of its view that has the size, beyond the reach of nearness.
const ONLY: f64 = 1.8;
/// Most letter heights between a text without a leader and its hole.
const REACH: f64 = 8.0;

/// Holes for a callout that points at nothing: of its size and near its text, or of its size anywhere if it
/// counts several or speaks of all.
pub(super) fn collect(scene: &Scene<'_>, fitting: &Fitting<'_>, kept: &Kept<'_>, out: &mut Candidate) {
    let s = out.statement;
    let statement = &scene.statements[s];
    let c = &statement.callout;
    let wide = c.count.is_some_and(|n| n > 1) || c.general || is_side_view(scene, statement);
    let home = nearest_view(scene, statement);
    let most = kept.most_near(s, out.capacity);
    let search = Search { scene, fitting, s, wide, home, known: &out.edges, most };
    let crowd = search.in_crowd();
    let is_crowd = crowd.is_some();
    let mut edges = crowd.unwrap_or_else(|| search.edges());
    if is_side_view(scene, statement) {
        projected::weigh(scene, s, &mut edges);
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
        if !is_crowd {
            in_one_view(scene, &mut edges, c.count, home);
        }
    } else if !c.general && c.size.is_some() && edges.iter().all(Edge::differs) {
        edges.extend(only_of_its_size(scene, s, home));
    }
    keep_nearest(&mut edges, most);
    out.edges.append(&mut edges);
}

/// Where the holes of a callout that points at nothing are looked for.
struct Search<'a> {
    scene: &'a Scene<'a>,
    s: usize,
    /// Whether it may speak of holes that are far away.
    wide: bool,
    /// The view that its text stands with.
    home: Option<usize>,
    /// The pairs that it has already.
    known: &'a [Edge],
    /// How many pairs are kept, those of least cost.
    most: usize,
    fitting: &'a Fitting<'a>,
}

/// How often a search for the nearest holes goes twice as far, until it goes farther than any sheet reaches.
const DOUBLINGS: i32 = 60;

impl Search<'_> {
    fn edges(&self) -> Vec<Edge> {
        let Search { scene, s, .. } = *self;
        let statement = &scene.statements[s];
        let c = &statement.callout;
        if c.general && !statement.typical() {
            return self.spoken_of();
        }
        if !self.wide {
            return self.among(self.near_text().into_iter());
        }
        if let (Some(home), Some(count)) = (self.home, c.count)
            && let Some(size) = statement.called().filter(|q| q.value > 0.0)
            && !(c.general || is_side_view(scene, statement))
        {
            let in_views = self.fitting.in_views(size, statement.origin.space);
            let has_it_already =
                |e: &&Edge| scene.spots[e.spot].view == home && is_drawn_at(scene, e.spot, size);
            let known = self.known.iter().filter(has_it_already).count();
            // Where the view that it stands with has as many of its size as it counts, those of other views are none of its.
            if in_views.of(home).saturating_sub(known) == count as usize {
                return self.among(scene.by_view.of(home).iter().copied());
            }
        }
        self.among(0..scene.spots.len())
    }

    /// The pairs of a callout on a sheet of so many holes of its size that they are not all looked at: the nearest ones, those
    /// of its own view before all others. None where it is not so, and where a view has just as many as are counted.
    fn in_crowd(&self) -> Option<Vec<Edge>> {
        let Search { scene, s, most, .. } = *self;
        let statement = &scene.statements[s];
        let (c, space, home) = (&statement.callout, statement.origin.space, self.home?);
        let size = statement.called().filter(|q| q.value > 0.0)?;
        // What is typical on the paper may be so in model space.
        let is_plain =
            if c.general { statement.typical() && space == 0 } else { self.wide && c.count.is_some() };
        if !is_plain || is_side_view(scene, statement) || !self.known.is_empty() {
            return None;
        }
        let in_views = self.fitting.in_views(size, space);
        let own = in_views.of(home);
        let is_crowd = own >= most || in_views.total() - own >= most;
        let is_counted = |count: u32| !c.general && in_views.any_has(count as usize);
        if !is_crowd || c.count.is_some_and(is_counted) {
            return None;
        }
        let is_own = |spot: &usize| scene.spots[*spot].view == home;
        let fits = |spot: &usize| is_drawn_at(scene, *spot, size);
        if own >= most {
            return Some(self.among(self.nearest(|spot| is_own(spot) && fits(spot)).into_iter()));
        }
        let mut spots = self.nearest(|spot| !is_own(spot) && fits(spot));
        spots.extend(scene.by_view.of(home).iter().filter(|spot| fits(spot)));
        spots.sort_unstable();
        Some(self.among(spots.into_iter()))
    }

    /// As many of the spots that are `wanted` as are kept, at least, those nearest to the text; all of them if they are fewer.
    fn nearest(&self, wanted: impl Fn(&usize) -> bool) -> Vec<usize> {
        let scene = self.scene;
        let statement = &scene.statements[self.s];
        let (middle, half) = (statement.middle(), statement.bounds.min.distance(statement.bounds.max) / 2.0);
        let gap =
            |spot: usize| statement.bounds.distance(scene.spots[spot].at) - scene.spots[spot].drawn / 2.0;
        for doubling in 0..DOUBLINGS {
            let reach = REACH * statement.height * f64::from(doubling).exp2();
            let mut found = Vec::new();
            scene.rings.any_within(statement.origin.space, middle, reach + half, |ring| {
                let spot = scene.spot_of_ring(ring).filter(|spot| gap(*spot) <= reach && wanted(spot));
                found.extend(spot);
                false
            });
            if found.len() >= self.most {
                found.sort_unstable();
                return found;
            }
        }
        (0..scene.spots.len()).filter(wanted).collect()
    }

    /// Spots within the reach of nearness, and some more.
    fn near_text(&self) -> Vec<usize> {
        let statement = &self.scene.statements[self.s];
        let reach = statement.bounds.min.distance(statement.bounds.max) / 2.0 + REACH * statement.height;
        let rings = self.scene.rings.within(statement.origin.space, statement.middle(), reach).into_iter();
        let mut spots: Vec<usize> = rings.filter_map(|ring| self.scene.spot_of_ring(ring)).collect();
        spots.sort_unstable();
        spots
    }

    /// Pairs with those of some spots that fit.
    fn among(&self, spots: impl Iterator<Item = usize>) -> Vec<Edge> {
        let Search { scene, s, wide, home, .. } = *self;
        let statement = &scene.statements[s];
        let c = &statement.callout;
        let edge_to = |spot: usize| {
            let place = &scene.spots[spot];
            let gap = (statement.bounds.distance(place.at) - place.drawn / 2.0).max(0.0);
            let heights = gap / statement.height;
            if !wide && heights > REACH {
                return None;
            }
            // Far holes of another size are never taken; on a sheet of thousands they must cost nothing to pass over.
            let far = !c.general && heights > 3.0;
            if far && statement.called().is_some_and(|q| !is_drawn_at(scene, spot, q)) {
                return None;
            }
            let size = size_term(scene, s, spot, 3.0);
            if !self.fits(&size) && (wide || heights > 3.0 || size.cost > 2.5) {
                return None;
            }
            Some(near_edge(scene, spot, size, heights, wide, home))
        };
        spots.filter(|&spot| self.may_be(spot)).filter_map(edge_to).collect()
    }

    /// Pairs of a note for all holes: those of its size, or, where no circle is drawn at it, all that nothing else speaks of.
    fn spoken_of(&self) -> Vec<Edge> {
        let Search { scene, s, .. } = *self;
        let spots = (0..scene.spots.len()).filter(|&spot| self.may_be(spot));
        let (of_its_size, rest): (Vec<_>, Vec<_>) =
            spots.map(|spot| (spot, size_term(scene, s, spot, 3.0))).partition(|(_, size)| self.fits(size));
        let mut spoken_of = if of_its_size.is_empty() { rest } else { of_its_size };
        if spoken_of.len() > self.most {
            spoken_of.sort_by(|(_, a), (_, b)| a.cost.min(MOST_OFF).total_cmp(&b.cost.min(MOST_OFF)));
            spoken_of.truncate(self.most);
        }
        spoken_of.into_iter().map(|(spot, size)| general_edge(spot, size)).collect()
    }

    /// Whether a hole stands where the callout can speak of it, and has no pair with it yet.
    fn may_be(&self, spot: usize) -> bool {
        let statement = &self.scene.statements[self.s];
        let space = statement.origin.space;
        self.known.iter().all(|e| e.spot != spot)
            && (self.scene.spots[spot].space == space || statement.callout.general && space != 0)
    }

    /// Whether a hole has the size called out, or one of the thread that is.
    fn fits(&self, size: &CostTerm) -> bool {
        let c = &self.scene.statements[self.s].callout;
        size.cost == 0.0 && (c.size.is_some() || c.thread.is_some())
    }
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
    // How many of each view, and the least cost of one.
    let mut in_view = vec![(0_u32, f64::INFINITY); scene.views.views.len()];
    for e in edges.iter() {
        let (number, least) = &mut in_view[scene.spots[e.spot].view];
        (*number, *least) = (*number + 1, least.min(e.cost));
    }
    let full = |v: &usize| in_view[*v].0 == count;
    let others = || {
        let full = (0..in_view.len()).filter(full);
        full.min_by(|&a, &b| in_view[a].1.total_cmp(&in_view[b].1).then(a.cmp(&b)))
    };
    if let Some(view) = home.filter(full).or_else(others) {
        edges.retain(|e| scene.spots[e.spot].view == view);
    }
}

/// The holes of a view where one size, not far from the one called out, is drawn as often as the callout counts.
fn as_many_alike(scene: &Scene<'_>, s: usize, home: Option<usize>) -> Vec<Edge> {
    let statement = &scene.statements[s];
    let (Some(count), Some(view)) = (statement.callout.count, home) else { return Vec::new() };
    let mut inside = scene.by_view.of(view).to_vec();
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
    let only = only(scene.by_view.of(home?).iter().copied().filter(|&p| fits(p)))?;
    let terms = vec![
        no_anchor(),
        size_term(scene, s, only, 3.0),
        term("only-of-its-size", ONLY, "far away, but no other hole of the view has the size"),
    ];
    Some(Edge::new(only, PairedBy::Nearest, terms))
}

fn general_edge(spot: usize, size: CostTerm) -> Edge {
    let size = CostTerm { cost: size.cost.min(MOST_OFF), ..size };
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
    let middle = s.middle();
    (0..scene.views.views.len())
        .filter(|&v| scene.views.views[v].space == s.origin.space && scene.by_view.any(v))
        .min_by(|&a, &b| {
            let d = |v: usize| scene.views.views[v].bounds.distance(middle);
            d(a).total_cmp(&d(b)).then(a.cmp(&b))
        })
}

fn no_anchor() -> CostTerm {
    term("no-anchor", NO_ANCHOR, "no leader, dimension or tag")
}

#[cfg(test)]
mod tests {
    use super::super::testing::Sheet;
    use super::*;
    use crate::callout::Words;
    use crate::joint::Defaults;
    use crate::near::random;

    // Against looking at each hole of the sheet.
    #[test]
    fn the_nearest_of_a_crowd_are_those_that_looking_at_each_finds() {
        let mut random = random();
        let mut sheet = Sheet::new().outline(-10.0, -10.0, 510.0, 310.0).outline(990.0, -10.0, 1510.0, 310.0);
        for k in 0..600 {
            // Two views, the second with fewer than are kept, and every fourth hole of another size.
            let left = if k % 12 == 0 { 1000.0 } else { 0.0 };
            let size = if k % 4 == 1 { 5.0 } else { 3.6 };
            sheet = sheet.circle(left + 500.0 * random().powi(2), 300.0 * random(), size);
        }
        for _ in 0..20 {
            sheet = sheet.text(1500.0 * random(), 300.0 * random(), "4X Ø3.6 THRU");
        }
        let drawing = sheet.drawing();
        let scene = Scene::new(&drawing, None, &Defaults::default(), Words::built_in());
        let fitting = Fitting::new(&scene);
        let (mut homes, mut narrowed) = (std::collections::BTreeSet::new(), 0);
        for s in 0..scene.statements.len() {
            let home = nearest_view(&scene, &scene.statements[s]);
            let search =
                Search { scene: &scene, fitting: &fitting, s, wide: true, home, known: &[], most: 64 };
            let kept = |mut edges: Vec<Edge>| {
                assert!(edges.len() >= 64);
                keep_nearest(&mut edges, 64);
                edges.into_iter().map(|e| (e.spot, e.by, e.cost)).collect::<Vec<_>>()
            };
            let crowd = search.in_crowd().expect("a crowd");
            let each = search.edges();
            narrowed += usize::from(crowd.len() < each.len());
            assert_eq!(kept(crowd), kept(each));
            homes.insert(home);
        }
        // Both views, and what the search saves.
        assert!(homes.len() == 2 && narrowed >= 5, "{homes:?} {narrowed}");
    }

    // By hand: Ø4 is 11 % off Ø3.6, and Ø5 is 39 %.
    #[test]
    fn of_a_note_that_fits_no_hole_the_pairs_of_least_cost_are_kept() {
        let sheet = Sheet::new().circle(0.0, 0.0, 5.0).circle(30.0, 0.0, 4.0).circle(60.0, 0.0, 5.0);
        let drawing = sheet.text(200.0, 200.0, "ALL HOLES Ø3.6").drawing();
        let scene = Scene::new(&drawing, None, &Defaults::default(), Words::built_in());
        let fitting = Fitting::new(&scene);
        for (most, kept) in [(1, vec![4.0]), (2, vec![4.0, 5.0]), (3, vec![5.0, 4.0, 5.0])] {
            let search =
                Search { scene: &scene, fitting: &fitting, s: 0, wide: true, home: None, known: &[], most };
            let drawn: Vec<f64> = search.edges().iter().map(|e| scene.spots[e.spot].drawn).collect();
            assert_eq!(drawn, kept, "{most}");
        }
    }
}
