//! A possible pair of callout and hole, and what its cost is made of. Weighs nothing.

use super::{CostTerm, Detail, PairedBy};

/// A possible pair.
#[derive(Debug, Clone)]
pub(super) struct Edge {
    pub(super) spot: usize,
    pub(super) by: PairedBy,
    pub(super) cost: f64,
    pub(super) terms: Vec<CostTerm>,
}

/// A hole that a callout may count beside the one it points at. There may be hundreds for each callout, so it is kept small
/// and what it costs is written out only for those that are taken.
#[derive(Debug, Clone, Copy)]
pub(super) struct Counted {
    spot: u32,
    /// How far it is from the one pointed at, as a part of the view. No view is drawn so finely that more digits told holes
    /// apart.
    part: f32,
}

/// What ends at a hole, or stands beside it, costs less.
const SURE: f64 = 0.5;
/// A hole that a counted callout only counts.
const COUNTED: f64 = 0.8;
/// The same as far away as the view is wide.
const ACROSS: f64 = 0.4;

impl Counted {
    /// A hole so far away. A drawing has no more holes than an index of them can hold.
    pub(super) fn new(spot: usize, part: f64) -> Counted {
        Counted { spot: spot as u32, part: part as f32 }
    }

    pub(super) fn spot(self) -> usize {
        self.spot as usize
    }

    pub(super) fn cost(self) -> f64 {
        COUNTED + ACROSS * self.part()
    }

    fn part(self) -> f64 {
        self.part.into()
    }

    /// What it costs, beside one that is drawn with the diameter `like`.
    pub(super) fn terms(self, like: f64) -> Vec<CostTerm> {
        vec![
            term("counted", COUNTED, "one of the holes that the callout counts"),
            term("same-size-as-anchor", 0.0, Detail::LikeAnchor(like)),
            term("distance", ACROSS * self.part(), Detail::OfView(100.0 * self.part())),
        ]
    }
}

impl Edge {
    /// A pair with these terms, whose cost is their sum.
    pub(super) fn new(spot: usize, by: PairedBy, terms: Vec<CostTerm>) -> Edge {
        let cost = terms.iter().map(|t| t.cost).sum();
        Edge { spot, by, cost, terms }
    }

    /// Whether it has a term of this name.
    pub(super) fn says(&self, name: &str) -> bool {
        self.terms.iter().any(|t| t.name == name)
    }

    /// Whether the hole is drawn at another size than is called out.
    pub(super) fn differs(&self) -> bool {
        self.terms.iter().any(|t| t.name == "size-differs" && t.cost > 0.0)
    }

    /// Whether a leader or a dimension, and no loose line, is as good as on the hole, or its tag as good as beside it.
    pub(super) fn speaks_surely(&self) -> bool {
        let sure = |t: &CostTerm| matches!(t.name, "leader-tip" | "dimension-points" | "tag-text");
        self.terms.iter().any(|t| sure(t) && t.cost < SURE)
    }

    /// Adds a term, and its cost.
    pub(super) fn add(&mut self, term: CostTerm) {
        self.cost += term.cost;
        self.terms.push(term);
    }
}

pub(super) fn term(name: &'static str, cost: f64, detail: impl Into<Detail>) -> CostTerm {
    CostTerm { name, cost, detail: detail.into() }
}
