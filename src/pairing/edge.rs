//! A possible pair of callout and hole, and what its cost is made of. Weighs nothing.

use super::{CostTerm, Detail, PairedBy};

/// A possible pair.
#[derive(Debug, Clone)]
pub(super) struct Edge {
    pub(super) spot: usize,
    pub(super) by: PairedBy,
    pub(super) cost: f64,
    terms: Terms,
}

/// What a cost is made of. There may be hundreds of holes that each callout could count, so theirs is written out only for
/// those that take it.
#[derive(Debug, Clone)]
enum Terms {
    Written(Vec<CostTerm>),
    Counted(Counted),
}

/// A hole that a callout may count beside the one it points at.
#[derive(Debug, Clone, Copy)]
pub(super) struct Counted {
    /// Diameter of the one pointed at, as drawn.
    pub(super) like: f64,
    /// How far away it is, as a part of the view.
    pub(super) part: f64,
}

/// What ends at a hole, or stands beside it, costs less.
const SURE: f64 = 0.5;
/// A hole that a counted callout only counts.
const COUNTED: f64 = 0.8;
/// The same as far away as the view is wide.
const ACROSS: f64 = 0.4;

impl Counted {
    pub(super) fn terms(self) -> Vec<CostTerm> {
        vec![
            term("counted", COUNTED, "one of the holes that the callout counts"),
            term("same-size-as-anchor", 0.0, Detail::LikeAnchor(self.like)),
            term("distance", ACROSS * self.part, Detail::OfView(100.0 * self.part)),
        ]
    }
}

impl Edge {
    /// A pair with these terms, whose cost is their sum.
    pub(super) fn new(spot: usize, by: PairedBy, terms: Vec<CostTerm>) -> Edge {
        let cost = terms.iter().map(|t| t.cost).sum();
        Edge { spot, by, cost, terms: Terms::Written(terms) }
    }

    /// A pair with a hole that is only counted.
    pub(super) fn counted(spot: usize, counted: Counted) -> Edge {
        let cost = COUNTED + ACROSS * counted.part;
        Edge { spot, by: PairedBy::Count, cost, terms: Terms::Counted(counted) }
    }

    /// Its terms; none of a hole that is only counted, which has none that is asked about.
    pub(super) fn written(&self) -> &[CostTerm] {
        match &self.terms {
            Terms::Written(terms) => terms,
            Terms::Counted(_) => &[],
        }
    }

    /// Whether it has a term of this name.
    pub(super) fn says(&self, name: &str) -> bool {
        self.written().iter().any(|t| t.name == name)
    }

    /// Whether the hole is drawn at another size than is called out.
    pub(super) fn differs(&self) -> bool {
        self.written().iter().any(|t| t.name == "size-differs" && t.cost > 0.0)
    }

    /// Whether a leader or a dimension, and no loose line, is as good as on the hole, or its tag as good as beside it.
    pub(super) fn speaks_surely(&self) -> bool {
        let sure = |t: &CostTerm| matches!(t.name, "leader-tip" | "dimension-points" | "tag-text");
        self.written().iter().any(|t| sure(t) && t.cost < SURE)
    }

    /// Adds a term, and its cost.
    pub(super) fn add(&mut self, term: CostTerm) {
        let mut terms = self.take_terms();
        self.cost += term.cost;
        terms.push(term);
        self.terms = Terms::Written(terms);
    }

    /// What its cost is made of, for the hole that took it.
    pub(super) fn take_terms(&mut self) -> Vec<CostTerm> {
        match &mut self.terms {
            Terms::Written(terms) => std::mem::take(terms),
            Terms::Counted(counted) => counted.terms(),
        }
    }
}

pub(super) fn term(name: &'static str, cost: f64, detail: impl Into<Detail>) -> CostTerm {
    CostTerm { name, cost, detail: detail.into() }
}
