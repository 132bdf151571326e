//! Which circle a statement points at: by a leader's tip, a loose line that serves as one, the points of a
//! dimension, or the block that carries it. Looks at places only, never at sizes called out.

mod beside;
mod ends;
mod grid;
mod hits;
mod leaders;
mod look;

use std::cell::LazyCell;

use super::Detail;
use super::rings::Rings;
use super::texts::{Carrier, Statement};
use crate::drawing::{Drawing, Leader};
use crate::geometry::Point;
use crate::near::Near;
use beside::each_line_to_its_text;
use ends::{LineEnds, Tip};
use hits::{add_attribute, add_dimension, add_tip, hits_circle};
use leaders::{at_tail, index_texts, named_by_file, texts_by_handle};

/// How a statement points at a circle.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub(super) enum Means {
    Dimension,
    Leader,
    Line,
    Attribute,
}

/// A circle that a statement points at.
#[derive(Debug, Clone)]
pub(super) struct Anchor {
    /// Index into [`Rings::rings`].
    pub(super) ring: usize,
    pub(super) means: Means,
    /// 0 for a perfect hit, about 1 at the edge of what is believed.
    pub(super) cost: f64,
    /// What was measured.
    pub(super) detail: Detail,
    /// Which tip it is, so that each tip of several ends in one hole.
    pub(super) tip: usize,
    /// Whether its line begins where the text ends only if its letters are wider than estimated.
    pub(super) wide: bool,
}

/// What each statement points at.
#[derive(Debug, Default)]
pub(super) struct Anchors {
    /// For each statement its anchors, best first.
    pub(super) of: Vec<Vec<Anchor>>,
    /// For each statement how many tips, dimensions or blocks it points with, whether they hit or not.
    pub(super) tips: Vec<usize>,
    /// Indices into [`Drawing::segments`] of lines that serve as leaders, in rising order.
    pub(super) lines: Vec<usize>,
}

impl Anchors {
    /// Adds an anchor of a statement. Most have one, and no room for more.
    fn add(&mut self, statement: usize, anchor: Anchor) {
        let own = &mut self.of[statement];
        if own.is_empty() {
            own.reserve_exact(1);
        }
        own.push(anchor);
    }
}

/// Finds the anchors of all statements.
pub(super) fn find(drawing: &Drawing, rings: &Rings, statements: &[Statement]) -> Anchors {
    let n = statements.len();
    let mut found = Anchors { of: vec![Vec::new(); n], tips: vec![0; n], lines: Vec::new() };
    let by_text = index_texts(drawing, statements);
    let near = LazyCell::new(|| Near::new(statements.iter().map(disc)));
    let tallest = statements.iter().map(|s| s.height).fold(0.0, f64::max);
    let leaders: Vec<&Leader> = drawing.leaders.iter().filter(|l| l.origin.visible).collect();
    let with_handle = LazyCell::new(|| texts_by_handle(drawing));
    let named =
        leaders.iter().map(|l| named_by_file(l, &by_text, |handle| with_handle.get(&handle).copied()));
    let named: Vec<Option<usize>> = named.collect();
    let mut has_own = vec![false; n];
    named.iter().flatten().for_each(|&s| has_own[s] = true);
    let mut guessed = vec![false; n];
    for (leader, named) in leaders.into_iter().zip(named) {
        let Some(&tip) = leader.vertices.first() else { continue };
        let space = leader.origin.space;
        let ends_at_circle = |height| hits_circle(drawing, rings, tip, height, space);
        let at_tail = || match leader.text {
            Some(_) => None,
            None => at_tail(leader, statements, &has_own, (&near, tallest), ends_at_circle),
        };
        if let Some(s) = named.or_else(at_tail) {
            guessed[s] |= named.is_none();
            add_tip(drawing, rings, statements, &mut found, s, tip, Means::Leader, leader.origin.space);
        }
    }
    // Built only where a text has no leader: a drawing has far more lines than anything else.
    let ends = LazyCell::new(|| LineEnds::new(drawing, rings, tallest));
    let mut of_lines: Vec<(usize, Tip)> = Vec::new();
    for (s, statement) in statements.iter().enumerate() {
        match statement.carrier {
            Carrier::Dimension(d) => add_dimension(drawing, rings, &mut found, s, &drawing.dimensions[d]),
            Carrier::Text(t) => {
                add_attribute(drawing, rings, &mut found, s, t);
                // A leader beside it that ends at no circle may be that of something else.
                let missed = guessed[s] && !has_own[s] && found.of[s].is_empty();
                if (found.tips[s] == 0 || missed) && may_have_line(statement) {
                    let tips = ends.all_tips(statement);
                    of_lines.extend(tips.into_iter().map(|tip| (s, tip)));
                }
            }
            Carrier::TableRow => {}
        }
    }
    each_line_to_its_text(statements, &mut of_lines);
    for (s, _) in &of_lines {
        found.tips[*s] = 0;
    }
    for (s, tip) in of_lines {
        let first = found.of[s].len();
        add_tip(drawing, rings, statements, &mut found, s, tip.at, Means::Line, statements[s].origin.space);
        if tip.wide {
            for anchor in &mut found.of[s][first..] {
                anchor.wide = true;
                anchor.cost += WIDE;
            }
        }
        // A shelf and the line that goes on from it are a leader, whichever text it belongs to.
        if !tip.wide || tip.shelf && tip.chain.len() > 1 {
            found.lines.extend(tip.chain);
        }
    }
    found.lines.sort_unstable();
    found.lines.dedup();
    for anchors in &mut found.of {
        anchors.sort_by(|a, b| a.cost.total_cmp(&b.cost).then(a.ring.cmp(&b.ring)));
    }
    found
}

fn disc(s: &Statement) -> (Point, f64) {
    let center = Point::new(
        f64::midpoint(s.bounds.min.x, s.bounds.max.x),
        f64::midpoint(s.bounds.min.y, s.bounds.max.y),
    );
    (center, center.distance(s.bounds.max))
}

fn says_hole(s: &Statement) -> bool {
    s.callout.size.is_some() || s.callout.thread.is_some()
}

fn may_have_line(s: &Statement) -> bool {
    says_hole(s) && (!s.callout.general || s.typical())
}

/// What it costs that a line begins beyond the estimated end of its text.
const WIDE: f64 = 0.3;
