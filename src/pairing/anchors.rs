//! Which circle a statement points at: by a leader's tip, a loose line that serves as one, the points of a
//! dimension, or the block that carries it. Looks at places only, never at sizes called out.

use std::cell::LazyCell;

use super::Detail;
use super::near::Near;
use super::rings::{Ring, Rings};
use super::texts::{Carrier, Statement};
use crate::drawing::{Dimension, DimensionKind, Drawing, Leader, Segment, SpaceId, TextKind, Viewport};
use crate::geometry::Point;

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

/// Finds the anchors of all statements.
pub(super) fn find(drawing: &Drawing, rings: &Rings, statements: &[Statement]) -> Anchors {
    let n = statements.len();
    let mut found = Anchors { of: vec![Vec::new(); n], tips: vec![0; n], lines: Vec::new() };
    let by_text = index_texts(drawing, statements);
    let near = Near::new(statements.iter().map(disc).collect());
    let leaders: Vec<&Leader> = drawing.leaders.iter().filter(|l| l.origin.visible).collect();
    let named: Vec<Option<usize>> = leaders.iter().map(|l| named_by_file(drawing, l, &by_text)).collect();
    let mut has_own = vec![false; n];
    named.iter().flatten().for_each(|&s| has_own[s] = true);
    for (leader, named) in leaders.into_iter().zip(named) {
        let Some(&tip) = leader.vertices.first() else { continue };
        let at_tail =
            || if leader.text.is_some() { None } else { at_tail(leader, statements, &has_own, &near) };
        if let Some(s) = named.or_else(at_tail) {
            add_tip(drawing, rings, statements, &mut found, s, tip, Means::Leader, leader.origin.space);
        }
    }
    // Built only where a text has no leader: a drawing has far more lines than anything else.
    let ends = LazyCell::new(|| LineEnds::new(drawing));
    let middles = LazyCell::new(|| ends.middles(drawing));
    let mut of_lines: Vec<(usize, Tip)> = Vec::new();
    for (s, statement) in statements.iter().enumerate() {
        match statement.carrier {
            Carrier::Dimension(d) => add_dimension(drawing, rings, &mut found, s, &drawing.dimensions[d]),
            Carrier::Text(t) => {
                add_attribute(drawing, rings, &mut found, s, t);
                if found.tips[s] == 0 && may_have_line(statement) {
                    let tips = ends.all_tips(drawing, rings, &middles, statement);
                    of_lines.extend(tips.into_iter().map(|tip| (s, tip)));
                }
            }
            Carrier::TableRow => {}
        }
    }
    each_line_to_its_text(statements, &mut of_lines);
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

fn index_texts(drawing: &Drawing, statements: &[Statement]) -> Vec<Option<usize>> {
    let mut by_text = vec![None; drawing.texts.len()];
    for (s, statement) in statements.iter().enumerate() {
        for &t in &statement.texts {
            // A list of notes gives several statements; the first that states a hole is the one pointed from.
            let better = by_text[t].is_none_or(|old: usize| {
                !statements[old].callout.states_hole() && statement.callout.states_hole()
            });
            if better {
                by_text[t] = Some(s);
            }
        }
    }
    by_text
}

/// The statement that the file names for a leader.
fn named_by_file(drawing: &Drawing, leader: &Leader, by_text: &[Option<usize>]) -> Option<usize> {
    if let Some(t) = leader.text {
        return by_text.get(t).copied().flatten();
    }
    let handle = leader.annotation?;
    let t = drawing.texts.iter().position(|t| t.origin.handle == Some(handle))?;
    by_text[t]
}

/// The nearest statement within two letter heights of a leader's tail. One that the file gives a leader of its own
/// takes another only where no other text stands there: its box may reach over the text that is meant.
fn at_tail(leader: &Leader, statements: &[Statement], has_own: &[bool], near: &Near) -> Option<usize> {
    let tail = *leader.vertices.last()?;
    let reach = 2.0 * statements.iter().map(|s| s.height).fold(0.0, f64::max);
    near.within(tail, reach)
        .into_iter()
        .filter(|&s| {
            let c = &statements[s];
            c.origin.space == leader.origin.space
                && matches!(c.carrier, Carrier::Text(_))
                && c.bounds.distance(tail) <= 2.0 * c.height
        })
        .min_by(|&a, &b| {
            let gap = |s: usize| statements[s].bounds.distance(tail) / statements[s].height;
            let hole = |s: usize| if says_hole(&statements[s]) { 0.0 } else { 1.0 };
            let key = |s: usize| (has_own[s] && says_hole(&statements[s]), gap(s) + hole(s));
            let (a_key, b_key) = (key(a), key(b));
            a_key.0.cmp(&b_key.0).then(a_key.1.total_cmp(&b_key.1)).then(a.cmp(&b))
        })
}

fn says_hole(s: &Statement) -> bool {
    s.callout.size.is_some() || s.callout.thread.is_some()
}

fn may_have_line(s: &Statement) -> bool {
    says_hole(s) && (!s.callout.general || s.typical())
}

/// A tip of a statement, in its own space and, through viewports, in model space.
#[expect(
    clippy::too_many_arguments,
    reason = "one call site each for leaders and lines; a struct would only rename them"
)]
fn add_tip(
    drawing: &Drawing,
    rings: &Rings,
    statements: &[Statement],
    found: &mut Anchors,
    s: usize,
    tip: Point,
    means: Means,
    space: SpaceId,
) {
    let number = found.tips[s];
    found.tips[s] += 1;
    for look in looks(drawing, space) {
        let Some(p) = look.point(tip) else { continue };
        let height = statements[s].height / look.scale();
        for ring in look.rings(drawing, rings, p, height) {
            if let Some((cost, detail)) =
                tip_cost(p, rings.rings[ring].center, rings.rings[ring].diameter, height)
            {
                let extra = if means == Means::Line { 0.3 } else { 0.0 };
                found.of[s].push(Anchor {
                    ring,
                    means,
                    cost: cost + extra,
                    detail,
                    tip: number,
                    wide: false,
                });
            }
        }
    }
}

/// How things on the sheet are looked at: where they are drawn, and as a viewport shows model space there.
#[derive(Clone, Copy)]
enum Look<'d> {
    Space(SpaceId),
    Through(&'d Viewport),
}

/// The looks at what stands in a space: itself, and through each of its viewports.
fn looks(drawing: &Drawing, space: SpaceId) -> impl Iterator<Item = Look<'_>> {
    let through = drawing.viewports.iter().filter(move |v| space != 0 && v.space == space);
    std::iter::once(Look::Space(space)).chain(through.map(Look::Through))
}

impl Look<'_> {
    /// The point that is meant by a point of the sheet; none where the viewport shows nothing.
    fn point(self, p: Point) -> Option<Point> {
        match self {
            Look::Space(_) => Some(p),
            Look::Through(view) => view.model_point(p),
        }
    }

    /// Paper over model.
    fn scale(self) -> f64 {
        match self {
            Look::Space(_) => 1.0,
            Look::Through(view) => view.scale,
        }
    }

    /// The rings near a point, as far as the viewport shows their layers.
    fn rings(self, drawing: &Drawing, rings: &Rings, p: Point, reach: f64) -> Vec<usize> {
        match self {
            Look::Space(space) => rings.within(space, p, reach),
            Look::Through(view) => {
                let mut found = rings.within(0, p, reach);
                found.retain(|ring| {
                    rings.rings[*ring].circles.iter().any(|c| view.shows(drawing.circles[*c].origin.layer))
                });
                found
            }
        }
    }
}

/// On the rim or at the centre is a hit; elsewhere inside is likely; outside it fades over one letter height.
fn tip_cost(tip: Point, center: Point, diameter: f64, height: f64) -> Option<(f64, Detail)> {
    let radius = diameter / 2.0;
    let distance = tip.distance(center);
    let gap = (distance - radius).abs();
    let tolerance = (0.15 * height).max(0.02 * diameter);
    if gap <= tolerance {
        return Some((0.2 * gap / tolerance, "tip on the rim".into()));
    }
    if distance <= 0.1 * radius {
        return Some((0.15, "tip at the centre".into()));
    }
    if distance < radius {
        // In a wide circle the inside is most of a view, and a tip there points at something smaller.
        return (diameter <= 12.0 * height).then(|| (0.3 + 0.3 * gap / radius, "tip inside".into()));
    }
    let heights = gap / height;
    (heights <= 1.0).then_some((0.5 + 0.7 * heights, Detail::TipFromRim(heights)))
}

/// A dimension about the centre of a circle measures it as long as it differs by no more than this part: the circle
/// was changed and the dimension was not.
const OTHER_SIZE: f64 = 0.3;

fn add_dimension(drawing: &Drawing, rings: &Rings, found: &mut Anchors, s: usize, d: &Dimension) {
    let &[a, b, ..] = d.points.as_slice() else { return };
    found.tips[s] += 1;
    for look in looks(drawing, d.origin.space) {
        let (Some(a), Some(b)) = (look.point(a), look.point(b)) else { continue };
        let (center, diameter) = match d.kind {
            DimensionKind::Radius => (a, 2.0 * a.distance(b)),
            _ => (Point::new(f64::midpoint(a.x, b.x), f64::midpoint(a.y, b.y)), a.distance(b)),
        };
        if diameter <= 0.0 {
            continue;
        }
        let mut others: Vec<usize> = Vec::new();
        for ring in look.rings(drawing, rings, center, 0.1 * diameter) {
            let r = &rings.rings[ring];
            let off = r.center.distance(center) / diameter;
            let size = (r.diameter - diameter).abs() / diameter;
            let on_rim = |p: Point| (p.distance(r.center) - r.diameter / 2.0).abs() <= 0.02 * r.diameter;
            let (cost, detail) = if off <= 0.02 && size <= 0.02 {
                (0.0, "its points lie on the circle")
            } else if off <= 0.1 && size <= 0.1 {
                (0.6, "its points lie beside the circle")
            } else if off <= 0.02 && size <= OTHER_SIZE && d.kind == DimensionKind::Diameter {
                others.push(ring);
                continue;
            } else if d.kind == DimensionKind::Diameter && (on_rim(a) || on_rim(b)) {
                (0.8, "one of its points lies on the circle")
            } else {
                continue;
            };
            let detail = detail.into();
            found.of[s].push(Anchor { ring, means: Means::Dimension, cost, detail, tip: 0, wide: false });
        }
        if found.of[s].is_empty() && !measures_arc(drawing, center, diameter) {
            found.of[s].extend(others.into_iter().map(|ring| Anchor {
                ring,
                means: Means::Dimension,
                cost: 0.9,
                detail: "its points lie about the circle's centre, at another size".into(),
                tip: 0,
                wide: false,
            }));
        }
    }
}

/// Whether an arc is drawn where a dimension across a centre measures.
fn measures_arc(drawing: &Drawing, center: Point, diameter: f64) -> bool {
    drawing.arcs.iter().any(|a| {
        a.center.distance(center) <= 0.02 * diameter && (2.0 * a.radius - diameter).abs() <= 0.02 * diameter
    })
}

fn add_attribute(drawing: &Drawing, rings: &Rings, found: &mut Anchors, s: usize, text: usize) {
    let text = &drawing.texts[text];
    let (TextKind::Attribute { .. }, Some(id)) = (&text.kind, text.origin.insert) else { return };
    let Some(insert) = drawing.inserts.get(id as usize) else { return };
    for ring in rings.within(text.origin.space, insert.at, 0.0) {
        let r = &rings.rings[ring];
        let own = r.circles.iter().any(|&c| drawing.circles[c].origin.insert == Some(id));
        if own || r.center.distance(insert.at) <= 0.1 * r.diameter {
            let number = found.tips[s];
            found.tips[s] += 1;
            let detail = "its block stands on the hole".into();
            let cost = if own { 0.1 } else { 0.2 };
            found.of[s].push(Anchor {
                ring,
                means: Means::Attribute,
                cost,
                detail,
                tip: number,
                wide: false,
            });
        }
    }
}

/// What it costs that a line begins beyond the estimated end of its text.
const WIDE: f64 = 0.3;

/// The end of a chain of loose lines at a circle.
struct Tip {
    at: Point,
    /// Where the chain begins, beside the text.
    start: Point,
    chain: Vec<usize>,
    /// Whether the text is believed to reach the line only because others are nearer: its letters may be wide.
    wide: bool,
    /// Whether the chain begins with a level line under the text.
    shelf: bool,
}

/// Takes a line that several texts begin beside from those that have another and that it fits less.
fn each_line_to_its_text(statements: &[Statement], of_lines: &mut Vec<(usize, Tip)>) {
    let others = |s: usize| of_lines.iter().filter(|(o, _)| *o == s).count() > 1;
    let keep: Vec<bool> = (of_lines.iter())
        .map(|(s, tip)| {
            let own = misfit(&statements[*s], tip.start);
            let better = |(o, other): &(usize, Tip)| {
                o != s
                    && other.at.distance(tip.at) <= 0.1 * statements[*s].height
                    && statements[*o].callout.states_hole()
                    && misfit(&statements[*o], other.start) + 0.7 < own
            };
            !(others(*s) && of_lines.iter().any(better))
        })
        .collect();
    let mut keep = keep.into_iter();
    of_lines.retain(|_| keep.next().unwrap_or(true));
    // What is left alone is believed as if it were near.
    let near: Vec<usize> = of_lines.iter().filter(|(_, t)| !t.wide).map(|(s, _)| *s).collect();
    for (s, tip) in of_lines {
        tip.wide &= near.contains(s);
    }
}

/// Letter heights by which a line begins away from either end of a text, whose width is known to a quarter only.
fn misfit(s: &Statement, start: Point) -> f64 {
    let b = &s.bounds;
    let end = (start.x - b.min.x).abs().min((start.x - b.max.x).abs());
    let across = (end - 0.25 * (b.max.x - b.min.x)).max(0.0);
    let below = (b.min.y - 0.5 * s.height - start.y).max(start.y - b.max.y - 0.2 * s.height).max(0.0);
    (across + below) / s.height
}

/// Ends of loose lines, to follow from a text to a circle where a drawing has no leaders.
struct LineEnds {
    /// Per end: segment and which end. Two for each segment that can serve.
    ends: Vec<(usize, bool)>,
    near: Near,
}

impl LineEnds {
    fn new(drawing: &Drawing) -> LineEnds {
        let mut ends = Vec::with_capacity(2 * drawing.segments.len());
        let mut discs = Vec::with_capacity(2 * drawing.segments.len());
        for (i, segment) in drawing.segments.iter().enumerate() {
            if segment.origin.visible && !segment.origin.centre_line {
                for first in [true, false] {
                    ends.push((i, first));
                    discs.push((if first { segment.from } else { segment.to }, 0.0));
                }
            }
        }
        LineEnds { ends, near: Near::new(discs) }
    }

    /// The lines as discs round their middles, in the order of every second end.
    fn middles(&self, drawing: &Drawing) -> Near {
        let lines = self.ends.iter().step_by(2).map(|&(i, _)| {
            let Segment { from: a, to: b, .. } = drawing.segments[i];
            (Point::new(f64::midpoint(a.x, b.x), f64::midpoint(a.y, b.y)), 0.5 * a.distance(b))
        });
        Near::new(lines.collect())
    }

    /// Where lines that run under or through a text end on a circle that they point at the centre of: what is left of
    /// a dimension drawn with single lines.
    fn dimension_tips(&self, drawing: &Drawing, rings: &Rings, middles: &Near, s: &Statement) -> Vec<Tip> {
        let center = disc(s).0;
        let mut tips: Vec<Tip> = Vec::new();
        for k in middles.few_within(center, 1.5 * s.height, CROWD).unwrap_or_default() {
            let line = &drawing.segments[self.ends[2 * k].0];
            if line.origin.space != s.origin.space || distance_to(center, line.from, line.to) > 1.5 * s.height
            {
                continue;
            }
            for (tip, other) in [(line.from, line.to), (line.to, line.from)] {
                if aims_at_a_centre(rings, s, tip, other) && tips.iter().all(|t| t.at.distance(tip) > 1e-6) {
                    tips.push(Tip {
                        at: tip,
                        start: center,
                        chain: vec![self.ends[2 * k].0],
                        wide: false,
                        shelf: false,
                    });
                }
            }
        }
        // Two ends on one circle are one dimension across it; on several circles they are a line between holes.
        tips.truncate(if tips.len() > 2 { 0 } else { 1 });
        tips
    }

    /// The tips of the lines beside a text or under it, and where nothing is there, of what is left of a dimension.
    fn all_tips(&self, drawing: &Drawing, rings: &Rings, middles: &Near, s: &Statement) -> Vec<Tip> {
        let mut tips = self.tips(drawing, rings, s, beside_text);
        if !s.callout.states_hole() {
            return tips;
        }
        let mut more = self.shelf_tips(drawing, rings, middles, s);
        more.append(&mut self.tips(drawing, rings, s, beside_wide_text));
        for tip in more {
            if tips.iter().all(|t| t.at.distance(tip.at) > 0.1 * s.height) {
                tips.push(Tip { wide: true, ..tip });
            }
        }
        if tips.is_empty() { self.dimension_tips(drawing, rings, middles, s) } else { tips }
    }

    /// Ends on a circle's rim of lines, of at most three pieces, that begin beside the statement's text.
    fn tips(
        &self,
        drawing: &Drawing,
        rings: &Rings,
        s: &Statement,
        begins: fn(&Statement, Point, &Segment) -> bool,
    ) -> Vec<Tip> {
        let (center, radius) = disc(s);
        let reach = radius + (SHELF_REACH * s.height).max(1.5 * s.height + WIDER * width(s));
        let mut starts = self.near.few_within(center, reach, CROWD).unwrap_or_default();
        starts.retain(|end| {
            let (segment, first) = self.ends[*end];
            let line = &drawing.segments[segment];
            begins(s, if first { line.from } else { line.to }, line)
        });
        self.follow_all(drawing, rings, s, &starts)
    }

    /// Ends on a circle's rim of the pieces that go on from a line drawn under the text: it is the shelf of a leader.
    fn shelf_tips(&self, drawing: &Drawing, rings: &Rings, middles: &Near, s: &Statement) -> Vec<Tip> {
        let reach = s.height + 0.5 * (s.bounds.max.y - s.bounds.min.y);
        let mut under = middles.few_within(disc(s).0, reach, CROWD).unwrap_or_default();
        under.retain(|line| runs_under(s, &drawing.segments[self.ends[2 * line].0]));
        let starts: Vec<usize> = under.iter().flat_map(|line| [2 * line, 2 * line + 1]).collect();
        let tips = self.follow_all(drawing, rings, s, &starts);
        tips.into_iter().map(|tip| Tip { shelf: true, ..tip }).collect()
    }

    /// Where the lines that begin at some ends lead to.
    fn follow_all(&self, drawing: &Drawing, rings: &Rings, s: &Statement, starts: &[usize]) -> Vec<Tip> {
        let mut tips: Vec<Tip> = Vec::new();
        for &end in starts {
            let (segment, first) = self.ends[end];
            let line = &drawing.segments[segment];
            if line.origin.space != s.origin.space {
                continue;
            }
            if let Some((at, chain)) = self.follow(drawing, rings, s, segment, first)
                && tips.iter().all(|t| t.at.distance(at) > 0.1 * s.height)
            {
                let start = if first { line.from } else { line.to };
                tips.push(Tip { at, start, chain, wide: false, shelf: false });
            }
        }
        // Many lines round a text are a grid or an outline, and point at nothing.
        if tips.len() > 4 {
            tips.clear();
        }
        tips.sort_by(|a, b| a.at.x.total_cmp(&b.at.x).then(a.at.y.total_cmp(&b.at.y)));
        tips
    }

    fn follow(
        &self,
        drawing: &Drawing,
        rings: &Rings,
        s: &Statement,
        segment: usize,
        first: bool,
    ) -> Option<(Point, Vec<usize>)> {
        let touch = 0.05 * s.height;
        let mut current = (segment, first);
        let mut chain = Vec::new();
        for _ in 0..3 {
            let line = &drawing.segments[current.0];
            chain.push(current.0);
            let end = if current.1 { line.to } else { line.from };
            let other = if current.1 { line.from } else { line.to };
            let on_rim =
                looks(drawing, s.origin.space).any(|look| on_rim(drawing, rings, s, look, end, other));
            if on_rim && s.bounds.distance(end) > 0.5 * s.height {
                return Some((end, chain));
            }
            let met = self.near.few_within(end, touch, CROWD)?;
            let next: Vec<usize> = met.into_iter().filter(|&e| self.ends[e].0 != current.0).collect();
            let &[only] = next.as_slice() else { return None };
            current = self.ends[only];
        }
        None
    }
}

/// Most ends of lines round a text among which one may point at a hole.
const CROWD: usize = 2_000;

/// Letter heights between a text and the level line that begins before its middle: the box of a text is estimated, and
/// a font narrower than the estimate leaves a gap.
const SHELF_REACH: f64 = 4.0;

/// Part of its estimated width by which a text may be longer on either side: letters are estimated narrow.
const WIDER: f64 = 0.4;

fn width(s: &Statement) -> f64 {
    s.bounds.max.x - s.bounds.min.x
}

/// Whether a line begins beside a text as it is estimated.
fn beside_text(s: &Statement, start: Point, line: &Segment) -> bool {
    s.bounds.distance(start) <= 1.5 * s.height || is_shelf(s, start, line)
}

/// Whether a line begins beside a text whose letters are wider than estimated.
fn beside_wide_text(s: &Statement, start: Point, _: &Segment) -> bool {
    let b = &s.bounds;
    let beyond = (b.min.x - start.x).max(start.x - b.max.x);
    let level = start.y >= b.min.y - 0.5 * s.height && start.y <= b.max.y + 0.5 * s.height;
    level && beyond > 0.0 && beyond <= 1.5 * s.height + WIDER * width(s)
}

/// Whether a line is level with the middle of a text and begins beside it.
fn is_shelf(s: &Statement, start: Point, line: &Segment) -> bool {
    let middle = f64::midpoint(s.bounds.min.y, s.bounds.max.y);
    let level = (line.from.y - line.to.y).abs() <= 0.02 * line.from.distance(line.to);
    level && (start.y - middle).abs() <= 0.6 * s.height && s.bounds.distance(start) <= SHELF_REACH * s.height
}

/// Whether a level line runs under a text, or along its middle, past the middle of the text, and is about as long.
fn runs_under(s: &Statement, line: &Segment) -> bool {
    let (left, right) = (line.from.x.min(line.to.x), line.from.x.max(line.to.x));
    let middle = f64::midpoint(s.bounds.min.x, s.bounds.max.x);
    let width = width(s);
    let level = (line.from.y - line.to.y).abs() <= 0.02 * (right - left);
    let high = line.from.y >= s.bounds.min.y - 1.2 * s.height && line.from.y <= s.bounds.max.y;
    let long = (0.5 * width..=4.0 * width + 8.0 * s.height).contains(&(right - left));
    level && high && long && left < middle && middle < right
}

/// Whether a line from `other` ends on the rim of a circle as a viewport, or the space itself, shows it.
fn on_rim(drawing: &Drawing, rings: &Rings, s: &Statement, look: Look<'_>, end: Point, other: Point) -> bool {
    let (Some(end), Some(other)) = (look.point(end), look.point(other)) else { return false };
    let height = s.height / look.scale();
    look.rings(drawing, rings, end, 0.3 * height).into_iter().any(|ring| {
        let r = &rings.rings[ring];
        let rim = (end.distance(r.center) - r.diameter / 2.0).abs() <= 0.3 * height;
        rim || runs_inside(r, end, other) && r.diameter <= 12.0 * height
    })
}

/// Whether a line comes from outside of a circle, ends inside and points at its centre, as a dimension's line does
/// whose arrow is outside.
fn runs_inside(r: &Ring, end: Point, other: Point) -> bool {
    let radius = r.diameter / 2.0;
    end.distance(r.center) < radius
        && other.distance(r.center) > radius
        && distance_to(r.center, end, Point::new(2.0 * end.x - other.x, 2.0 * end.y - other.y))
            .min(distance_to(r.center, end, other))
            <= 0.05 * radius
}

/// Whether a line from `other` ends at `tip` on the rim of a circle and runs along one of its radii.
fn aims_at_a_centre(rings: &Rings, s: &Statement, tip: Point, other: Point) -> bool {
    let touch = 0.1 * s.height;
    rings.within(s.origin.space, tip, touch).into_iter().any(|ring| {
        let r = &rings.rings[ring];
        let radius = r.diameter / 2.0;
        let length = tip.distance(other);
        let cross = (tip.x - other.x) * (r.center.y - other.y) - (tip.y - other.y) * (r.center.x - other.x);
        (tip.distance(r.center) - radius).abs() <= touch.min(0.1 * radius)
            && length > 0.0
            && (cross / length).abs() <= 0.05 * radius
    })
}

/// Distance from a point to a line between two points.
fn distance_to(p: Point, a: Point, b: Point) -> f64 {
    let (dx, dy) = (b.x - a.x, b.y - a.y);
    let square = dx * dx + dy * dy;
    if square <= 0.0 {
        return p.distance(a);
    }
    let t = (((p.x - a.x) * dx + (p.y - a.y) * dy) / square).clamp(0.0, 1.0);
    p.distance(Point::new(a.x + t * dx, a.y + t * dy))
}
