//! What speaks for each pair of callout and hole, as named cost terms. Nothing is decided here.

use super::anchors::{Anchor, Means};
use super::edge::{Counted, Edge, term};
use super::fitting::Fitting;
use super::kept::Kept;
use super::rings::same_diameter;
use super::scene::{Scene, Spot};
use super::texts::{Carrier, Statement, called_diameter};
use super::{CostTerm, Detail, PairedBy, Role};
use super::{confidence, nearness, places, tags};
use crate::callout::{Callout, Quantity};
use crate::drawing::DimensionKind;

/// Cost of leaving a hole without any callout: pairs that cost more are not believed.
pub(super) const UNPAIRED: f64 = 4.0;

/// A callout with what it may be paired with.
#[derive(Debug, Clone)]
pub(super) struct Candidate {
    pub(super) statement: usize,
    /// How many holes it may take; none if any number.
    pub(super) capacity: Option<u32>,
    pub(super) edges: Vec<Edge>,
    /// Holes that it may count beside the one it points at.
    pub(super) counted: Vec<Counted>,
    /// Diameter, as drawn, of the one that these are like.
    pub(super) counted_like: f64,
    /// The hole that it points at best.
    pub(super) anchor: Option<usize>,
    /// The drawn diameter that it speaks of, where that is known without a choice.
    pub(super) like: Option<f64>,
    /// Holes whose counterbore, countersink or thread circle it states, not the hole itself.
    pub(super) entry_of: Vec<usize>,
    /// A circle that it points at and that is no hole.
    pub(super) other: Option<Role>,
    /// How much of the callout was read.
    pub(super) read: f64,
}

/// What the choice weighs of a possible pair.
#[derive(Debug, Clone, Copy)]
pub(super) struct Pair {
    pub(super) spot: usize,
    pub(super) by: PairedBy,
    pub(super) cost: f64,
}

impl Candidate {
    /// All pairs that are possible, those whose terms are written out first.
    pub(super) fn pairs(&self) -> impl Iterator<Item = Pair> {
        (0..self.len()).map(|index| self.pair(index))
    }

    /// How many pairs are possible.
    pub(super) fn len(&self) -> usize {
        self.edges.len() + self.counted.len()
    }

    /// One of the pairs.
    pub(super) fn pair(&self, index: usize) -> Pair {
        match self.edges.get(index) {
            Some(&Edge { spot, by, cost, .. }) => Pair { spot, by, cost },
            None => {
                let counted = self.counted[index - self.edges.len()];
                Pair { spot: counted.spot(), by: PairedBy::Count, cost: counted.cost() }
            }
        }
    }

    /// The terms of a pair as far as they are written out; none of a hole that is only counted, which has none that is asked
    /// about.
    pub(super) fn written(&self, index: usize) -> &[CostTerm] {
        self.edges.get(index).map_or(&[], |edge| &edge.terms)
    }

    /// What the cost of a pair is made of, for the hole that took it.
    pub(super) fn take_terms(&mut self, index: usize) -> Vec<CostTerm> {
        match self.edges.get_mut(index) {
            Some(edge) => std::mem::take(&mut edge.terms),
            None => self.counted[index - self.edges.len()].terms(self.counted_like),
        }
    }

    /// Forgets what was weighed, which for a large sheet is more than anything else.
    pub(super) fn forget_pairs(&mut self) {
        self.edges = Vec::new();
        self.counted = Vec::new();
    }
}

/// Every statement that is a callout, with its evidence.
pub(super) fn collect(scene: &Scene<'_>) -> Vec<Candidate> {
    let callouts: Vec<usize> = (0..scene.statements.len()).filter(|&s| is_callout(scene, s)).collect();
    let (fitting, kept) = (Fitting::new(scene), Kept::new(scene, callouts.len()));
    let candidate_of = |s: usize| {
        let candidate = candidate(scene, &fitting, &kept, s);
        kept.keeps(candidate.len());
        candidate
    };
    callouts.into_iter().map(candidate_of).collect()
}

/// A text that states a hole, or a bare size that points at a circle.
fn is_callout(scene: &Scene<'_>, s: usize) -> bool {
    let statement = &scene.statements[s];
    let c = &statement.callout;
    if scene.in_table[s] {
        return false;
    }
    match statement.carrier {
        Carrier::TableRow | Carrier::Dimension(_) => true,
        Carrier::Text(_) if scene.title.holds(statement.origin.space, statement.at) && !c.general => false,
        Carrier::Text(_) => {
            // A bare number in a block on a circle is a tag or an item number, not a size.
            let points = || {
                scene.anchors.of[s].iter().any(|a| a.cost < 0.5 && a.means != Means::Attribute)
                    && !in_balloon(scene, statement)
            };
            c.states_hole() || (c.size.is_some() && (c.general || points() && !is_distance(scene, s)))
        }
    }
}

/// Whether a bare number that only a loose line ties to a circle is another length than its diameter: what is left of
/// a linear dimension drawn with single lines.
fn is_distance(scene: &Scene<'_>, s: usize) -> bool {
    let Some(q) = scene.statements[s].called().filter(|q| q.value > 0.0) else { return false };
    let anchors = &scene.anchors.of[s];
    let spot_of = |ring: usize| scene.spot_of_stack[scene.rings.rings[ring].stack];
    !anchors.is_empty()
        && anchors.iter().all(|a| a.means == Means::Line)
        && !anchors.iter().filter_map(|a| spot_of(a.ring)).any(|spot| is_drawn_at(scene, spot, q))
}

/// Whether a text is the item number of a balloon, whose line may well end on a hole.
fn in_balloon(scene: &Scene<'_>, s: &Statement) -> bool {
    scene.rings.any_within(s.origin.space, s.middle(), 0.0, |ring| scene.roles[ring] == Role::Balloon)
}

fn candidate(scene: &Scene<'_>, fitting: &Fitting<'_>, kept: &Kept<'_>, s: usize) -> Candidate {
    let statement = &scene.statements[s];
    let c = &statement.callout;
    let mut out = Candidate {
        statement: s,
        capacity: Some(1),
        edges: Vec::new(),
        counted: Vec::new(),
        counted_like: 0.0,
        anchor: None,
        like: None,
        entry_of: Vec::new(),
        other: None,
        read: confidence::part_read(c),
    };
    by_anchor(scene, &mut out);
    if !out.entry_of.is_empty() {
        return out;
    }
    let pointed = out.edges.len() as u32;
    let unlimited = (c.general && c.count.is_none()) || statement.carrier == Carrier::TableRow;
    if !statement.tags.is_empty() {
        by_tag(scene, kept, &mut out);
    }
    by_place(scene, &mut out);
    let tagged = out.edges.len() as u32 - pointed;
    // A hole pointed at in a view that only repeats it is counted where it stands first.
    let repeated = out.edges.iter().filter(|e| scene.twin[e.spot].is_some()).count() as u32;
    let counted = c.count.unwrap_or(1).saturating_add(if c.count.is_some() { repeated } else { 0 });
    out.capacity = if unlimited { None } else { Some(counted.max(pointed).max(tagged)) };
    if statement.carrier == Carrier::TableRow || tagged > 0 && c.count.is_none() {
        return out;
    }
    let by_line = by_line_alone(&out);
    if let Some(anchor) = out.anchor {
        if c.count.is_some_and(|n| n > pointed) || c.general {
            let most = kept.most(out.capacity);
            by_count_of_anchor(scene, &mut out, anchor, most);
        }
        if by_line {
            nearness::collect(scene, fitting, kept, &mut out);
        }
    } else if scene.anchors.tips[s] == 0 || is_side_view(scene, statement) || by_lines_only(scene, s) {
        nearness::collect(scene, fitting, kept, &mut out);
    } else if scene.anchors.of[s].is_empty() {
        nearness::beside_tip(scene, &mut out);
    }
    out
}

/// Whether nothing but loose lines, which may be of something else, make a text point.
fn by_lines_only(scene: &Scene<'_>, s: usize) -> bool {
    scene.anchors.of[s].iter().all(|a| a.means == Means::Line) && !scene.anchors.of[s].is_empty()
}

/// Whether a loose line that ends at a circle of another size is all that ties it: it may be another text's line.
fn by_line_alone(out: &Candidate) -> bool {
    !out.edges.is_empty() && out.edges.iter().all(|e| e.says("line-tip") && e.differs())
}

/// A linear dimension with a diameter sign that is on no circle: it measures a hole seen from the side.
pub(super) fn is_side_view(scene: &Scene<'_>, s: &Statement) -> bool {
    matches!(s.carrier, Carrier::Dimension(d)
        if matches!(scene.drawing.dimensions[d].kind, DimensionKind::Linear | DimensionKind::Aligned))
}

/// The best hole for each tip, dimension or block that points at one.
fn by_anchor(scene: &Scene<'_>, out: &mut Candidate) {
    let s = out.statement;
    let anchors = &scene.anchors.of[s];
    for tip in 0..scene.anchors.tips[s] {
        let mut best: Option<Edge> = None;
        for a in anchors.iter().filter(|a| a.tip == tip) {
            let ring = &scene.rings.rings[a.ring];
            let Some(spot) = scene.spot_of_stack[ring.stack] else {
                out.other = out.other.or(Some(scene.roles[a.ring]));
                continue;
            };
            if !matches!(scene.roles[a.ring], Role::Hole | Role::Counterbore | Role::CosmeticThread) {
                out.other = out.other.or(Some(scene.roles[a.ring]));
                continue;
            }
            if states_entry(scene, s, a, spot) {
                if !out.entry_of.contains(&spot) {
                    out.entry_of.push(spot);
                }
                continue;
            }
            let e = anchor_edge(scene, s, a, spot);
            if best.as_ref().is_none_or(|b| e.cost < b.cost) {
                best = Some(e);
            }
        }
        if let Some(e) = best.filter(|e| out.edges.iter().all(|o| o.spot != e.spot)) {
            out.edges.push(e);
        }
    }
    if !out.edges.is_empty() {
        out.entry_of.clear();
    }
    // Of several loose lines round a text, those that end at a circle of another size are of other texts, and one
    // that begins beyond its estimated end is believed only where no nearer one fits.
    let beyond = |e: &Edge| e.says("beyond-text");
    let near_fits = out.edges.iter().any(|e| !beyond(e) && !e.differs());
    let none_fits = out.edges.iter().all(Edge::differs) && !out.edges.iter().all(beyond);
    if near_fits || none_fits {
        out.edges.retain(|e| !beyond(e));
    }
    if scene.statements[s].called().is_some() && out.edges.iter().any(|e| !e.differs()) {
        out.edges.retain(|e| !e.differs() || !e.says("line-tip"));
    }
    if let Some(best) = out.edges.iter().min_by(|a, b| a.cost.total_cmp(&b.cost)) {
        out.anchor = Some(best.spot);
        out.like = Some(scene.spots[best.spot].drawn);
    }
}

/// Whether a callout that points at the larger of two concentric circles states that circle and not the hole.
fn states_entry(scene: &Scene<'_>, s: usize, a: &Anchor, spot: usize) -> bool {
    let larger = a.ring != scene.spots[spot].ring;
    let Some(q) = scene.statements[s].called().filter(|_| larger) else { return false };
    let called = scene.units.in_drawing(q) * scene.scale_at(spot);
    let to_ring = (called / scene.rings.rings[a.ring].diameter).ln().abs();
    let to_hole = (called / scene.spots[spot].drawn).ln().abs();
    to_ring < 0.02 && to_ring < to_hole
}

fn anchor_edge(scene: &Scene<'_>, s: usize, a: &Anchor, spot: usize) -> Edge {
    let (name, by) = match a.means {
        Means::Dimension => ("dimension-points", PairedBy::Dimension),
        Means::Leader => ("leader-tip", PairedBy::Leader),
        Means::Line => ("line-tip", PairedBy::Leader),
        Means::Attribute => ("attribute-on-hole", PairedBy::Tag),
    };
    let mut terms = vec![term(name, a.cost, a.detail.clone())];
    if a.wide {
        terms.push(term("beyond-text", 0.0, "its line begins where wider letters would end"));
    }
    terms.push(size_term(scene, s, spot, 1.5));
    Edge::new(spot, by, terms)
}

/// `size-differs`: nothing when drawn and called out agree within rounding, then growing to `most`.
pub(super) fn size_term(scene: &Scene<'_>, s: usize, spot: usize, most: f64) -> CostTerm {
    let statement = &scene.statements[s];
    let drawn = scene.true_diameter(spot);
    if let Some(q) = statement.called().filter(|q| q.value > 0.0) {
        let differs = size_difference(scene, q, drawn);
        let cost = if differs <= rounding(q) { 0.0 } else { f64::min(most, 0.3 + 6.0 * differs) };
        let called = scene.units.in_drawing(q);
        return term("size-differs", cost, Detail::Sizes(called, drawn));
    }
    if let Some(named) = &statement.callout.thread {
        let ratio = drawn / named.thread.major.value_in(scene.units.reading.unit);
        let cost = if (0.6..=1.12).contains(&ratio) { 0.0 } else { most.min(1.0) };
        return term("size-differs", cost, Detail::OfMajor(ratio, named.thread.name.clone()));
    }
    term("size-differs", 0.0, "no size called out")
}

/// Whether a hole is drawn at the size called out, but for rounding.
pub(super) fn is_drawn_at(scene: &Scene<'_>, spot: usize, q: Quantity) -> bool {
    size_difference(scene, q, scene.true_diameter(spot)) <= rounding(q)
}

fn size_difference(scene: &Scene<'_>, q: Quantity, drawn: f64) -> f64 {
    let called = scene.units.in_drawing(q);
    (drawn - called).abs() / called
}

/// One percent, or half a unit of the last decimal written where that is more.
fn rounding(q: Quantity) -> f64 {
    let half = 0.5 * 10f64.powi(-i32::from(q.decimals)) / q.value;
    if q.decimals == 0 { 0.01 } else { half.max(0.01) }
}

/// Holes with one of its tags beside them.
fn by_tag(scene: &Scene<'_>, kept: &Kept<'_>, out: &mut Candidate) {
    let statement = &scene.statements[out.statement];
    let by = if statement.carrier == Carrier::TableRow { PairedBy::Table } else { PairedBy::Tag };
    let edge_to = |(spot, place): (usize, &Spot)| {
        let beside = scene.beside[place.ring].as_ref()?;
        let named = statement.tags.iter().any(|t| tags::means(t, &beside.tag));
        let is_new = || out.edges.iter().all(|e| e.spot != spot);
        (named && is_new()).then(|| {
            let detail = Detail::Tag(beside.tag.clone(), beside.heights);
            let tag = term("tag-text", 0.2 + 0.1 * beside.heights, detail);
            Edge::new(spot, by, vec![tag, size_term(scene, out.statement, spot, 1.0)])
        })
    };
    let tagged = scene.spots.iter().enumerate().filter_map(edge_to);
    let mut tagged: Vec<Edge> = tagged.take(kept.most_of_many(out.statement)).collect();
    out.edges.append(&mut tagged);
}

/// A row's place: it speaks for or against the hole that has its tag, and alone for the hole there where none has.
fn by_place(scene: &Scene<'_>, out: &mut Candidate) {
    let Some(place) = scene.places[out.statement] else { return };
    let off = |spot: usize| scene.spots[spot].at.distance(place) / scene.spots[spot].drawn;
    if let [only] = out.edges.as_mut_slice() {
        let off = off(only.spot);
        let agrees = off <= places::WITHIN;
        only.add(if agrees {
            term("table-position", 0.0, "the table's X and Y are those of the circle")
        } else {
            term("position-differs", 1.0, Detail::TableElsewhere(place.x, place.y))
        });
    } else if out.edges.is_empty() {
        let space = scene.statements[out.statement].origin.space;
        let there = scene.rings.within(space, place, 0.0).into_iter();
        let spots = there.filter_map(|ring| scene.spot_of_stack[scene.rings.rings[ring].stack]);
        let nearest = spots.filter(|&s| off(s) <= places::WITHIN).min_by(|&a, &b| off(a).total_cmp(&off(b)));
        if let Some(spot) = nearest {
            let detail = Detail::TableFromCentre(off(spot));
            let terms = vec![term("table-position", 0.3, detail), size_term(scene, out.statement, spot, 1.0)];
            out.edges.push(Edge::new(spot, PairedBy::Table, terms));
        }
    }
}

/// The other holes of a counted callout: drawn like the one it points at, in the same view.
fn by_count_of_anchor(scene: &Scene<'_>, out: &mut Candidate, anchor: usize, most: usize) {
    let anchor = scene.twin[anchor].unwrap_or(anchor);
    let from = &scene.spots[anchor];
    let across = scene.views.views[from.view].diagonal();
    // Where the hole pointed at is the one of another size, the others are known by the size called out.
    let called = scene.statements[out.statement].called().filter(|q| q.value > 0.0);
    let fits = |spot: usize| called.is_some_and(|q| is_drawn_at(scene, spot, q));
    let by_line = by_line_alone(out);
    let odd = called.is_some() && !fits(anchor) && !by_line;
    let is_counted = |&spot: &usize| {
        (same_diameter(scene.spots[spot].drawn, from.drawn) || odd && fits(spot))
            && !out.edges.iter().any(|e| e.spot == spot)
    };
    let part = |spot: usize| scene.spots[spot].at.distance(from.at) / across;
    if by_line {
        // A line that may be another text's makes the holes like the one at its end no likelier than their size.
        let edge_to = |&spot: &usize| {
            let mut terms = Counted::new(spot, part(spot)).terms(from.drawn);
            terms.push(size_term(scene, out.statement, spot, 1.5));
            Edge::new(spot, PairedBy::Count, terms)
        };
        let counted = scene.by_view.of(from.view).iter().filter(|spot| is_counted(spot));
        let mut edges: Vec<Edge> = counted.map(edge_to).collect();
        keep_nearest(&mut edges, most);
        out.edges.append(&mut edges);
    } else {
        let nearest = scene.nearest(anchor, most, is_counted).into_iter();
        let mut counted: Vec<Counted> = nearest.map(|spot| Counted::new(spot, part(spot))).collect();
        keep(&mut counted, most, |counted| (counted.cost(), counted.spot()));
        counted.shrink_to_fit();
        (out.counted, out.counted_like) = (counted, from.drawn);
    }
}

/// Keeps so many pairs, the best first.
pub(super) fn keep_nearest(edges: &mut Vec<Edge>, most: usize) {
    keep(edges, most, |edge| (edge.cost, edge.spot));
}

/// Keeps so many, the best first: those of least cost, by number where that is the same.
fn keep<T>(pairs: &mut Vec<T>, most: usize, key: impl Fn(&T) -> (f64, usize)) {
    let order = |a: &T, b: &T| {
        let (a, b) = (key(a), key(b));
        a.0.total_cmp(&b.0).then(a.1.cmp(&b.1))
    };
    if pairs.len() > most {
        pairs.select_nth_unstable_by(most, order);
        pairs.truncate(most);
    }
    pairs.sort_by(order);
}

/// Whether two callouts say the same thing, so that it does not matter which of them a hole takes.
pub(super) fn same_words(a: &Callout, b: &Callout) -> bool {
    let diameter = |c: &Callout| c.size.as_ref().map(called_diameter).map(|q| (q.value, q.unit));
    let same_size = match (diameter(a), diameter(b)) {
        (Some((x, u)), Some((y, v))) => u == v && (x - y).abs() <= 1e-6 * x.abs().max(y.abs()),
        (None, None) => true,
        _ => false,
    };
    same_size
        && a.tolerance == b.tolerance
        && a.thread == b.thread
        && a.depth == b.depth
        && a.screw == b.screw
}
