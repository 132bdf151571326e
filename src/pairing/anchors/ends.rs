//! Loose lines that serve as leaders where a drawing has none: followed from a text, from end to end, to the circle that
//! they end at.

use std::cell::OnceCell;

use super::beside::{
    BESIDE, SHELF_REACH, WIDER, beside_text, beside_wide_text, corners_of_shelf, runs_under, width,
};
use super::disc;
use super::grid::{Grid, Points};
use super::look::{Look, looks};
use crate::drawing::{Drawing, Segment};
use crate::geometry::Point;
use crate::near::Near;
use crate::pairing::cover::Cover;
use crate::pairing::rings::{Ring, Rings};
use crate::pairing::texts::Statement;

/// The end of a chain of loose lines at a circle.
pub(super) struct Tip {
    pub(super) at: Point,
    /// Where the chain begins, beside the text.
    pub(super) start: Point,
    pub(super) chain: Vec<usize>,
    /// Whether the text is believed to reach the line only because others are nearer: its letters may be wide.
    pub(super) wide: bool,
    /// Whether the chain begins with a level line under the text.
    pub(super) shelf: bool,
}

/// Ends of loose lines, to follow from a text to a circle where a drawing has no leaders.
pub(super) struct LineEnds<'d> {
    drawing: &'d Drawing,
    rings: &'d Rings,
    near: Grid<Ends<'d>>,
    /// Where a line may end on the rim of a circle of its space, or inside.
    at_circle: Cover,
    /// All of the segments as discs round their middles, found when first asked for.
    all: OnceCell<Near>,
}

/// The segments that can serve. Ends are numbered through them: each segment's `from` and then its `to`.
struct Ends<'d> {
    segments: &'d [Segment],
    /// Their indices.
    serving: Vec<u32>,
}

impl Ends<'_> {
    /// The index of the segment at a place among those that can serve.
    fn segment(&self, place: usize) -> usize {
        self.serving[place] as usize
    }
}

impl Points for Ends<'_> {
    fn count(&self) -> usize {
        2 * self.serving.len()
    }

    fn at(&self, end: usize) -> Point {
        let line = &self.segments[self.segment(end / 2)];
        if end.is_multiple_of(2) { line.from } else { line.to }
    }
}

impl<'d> LineEnds<'d> {
    /// The ends of the lines of a drawing, for texts of at most this letter height.
    pub(super) fn new(drawing: &'d Drawing, rings: &'d Rings, height: f64) -> LineEnds<'d> {
        let mut serving = Vec::with_capacity(drawing.segments.len());
        for (i, segment) in drawing.segments.iter().enumerate() {
            if segment.origin.visible && !segment.origin.is_centre_line() {
                serving.push(i as u32);
            }
        }
        let ends = Ends { segments: &drawing.segments, serving };
        // A little farther, so that rounding keeps out no end.
        let reach = 1.01 * ON_RIM * height;
        let at_circle = Cover::new(rings.rings.iter().map(|r| (r.center, r.diameter / 2.0 + reach)));
        LineEnds { drawing, rings, near: Grid::new(ends), at_circle, all: OnceCell::new() }
    }

    /// The segment of an end, and whether the end is its `from`.
    fn end(&self, end: usize) -> (usize, bool) {
        (self.near.points.segment(end / 2), end.is_multiple_of(2))
    }

    fn line(&self, place: usize) -> &'d Segment {
        &self.drawing.segments[self.near.points.segment(place)]
    }

    /// How many lines can serve.
    fn count(&self) -> usize {
        self.near.points.serving.len()
    }

    fn all(&self) -> &Near {
        self.all.get_or_init(|| Near::new((0..self.count()).map(|k| round_line(self.line(k)))))
    }

    /// The places, among those that can serve, of the lines that run under a text; none where there are so many lines round it that they
    /// are a crowd.
    fn under(&self, s: &Statement) -> Vec<usize> {
        let (center, reach) = (disc(s).0, s.height + 0.5 * (s.bounds.max.y - s.bounds.min.y));
        if self.count() > CROWD {
            let mut near = self.all().few_within(center, reach, CROWD).unwrap_or_default();
            near.retain(|&k| runs_under(s, self.line(k)));
            return near;
        }
        let (lowest, highest) = corners_of_shelf(s);
        let begin = self.near.in_box(lowest, highest).filter(|end| end.is_multiple_of(2)).map(|end| end / 2);
        let mut under: Vec<usize> = begin
            .filter(|&k| {
                let (middle, half) = round_line(self.line(k));
                runs_under(s, self.line(k)) && middle.distance(center) - half <= reach
            })
            .collect();
        under.sort_unstable();
        under
    }

    /// Where lines that run under or through a text end on a circle that they point at the centre of: what is left of
    /// a dimension drawn with single lines.
    fn dimension_tips(&self, s: &Statement) -> Vec<Tip> {
        let center = disc(s).0;
        let mut tips: Vec<Tip> = Vec::new();
        for k in self.all().few_within(center, 1.5 * s.height, CROWD).unwrap_or_default() {
            let line = self.line(k);
            if line.origin.space != s.origin.space
                || center.distance_to_side(line.from, line.to) > 1.5 * s.height
            {
                continue;
            }
            for (tip, other) in [(line.from, line.to), (line.to, line.from)] {
                if aims_at_a_centre(self.rings, s, tip, other)
                    && tips.iter().all(|t| t.at.distance(tip) > 1e-6)
                {
                    let chain = vec![self.near.points.segment(k)];
                    tips.push(Tip { at: tip, start: center, chain, wide: false, shelf: false });
                }
            }
        }
        // Two ends on one circle are one dimension across it; on several circles they are a line between holes.
        tips.truncate(if tips.len() > 2 { 0 } else { 1 });
        tips
    }

    /// The tips of the lines beside a text or under it, and where nothing is there, of what is left of a dimension.
    pub(super) fn all_tips(&self, s: &Statement) -> Vec<Tip> {
        let around = self.around(s);
        let mut tips = self.tips(s, &around, beside_text);
        if !s.callout.states_hole() {
            return tips;
        }
        let mut more = self.shelf_tips(s);
        more.append(&mut self.tips(s, &around, beside_wide_text));
        for tip in more {
            if tips.iter().all(|t| t.at.distance(tip.at) > 0.1 * s.height) {
                tips.push(Tip { wide: true, ..tip });
            }
        }
        if tips.is_empty() { self.dimension_tips(s) } else { tips }
    }

    /// The ends so near a text, and so nearly level with it, that one may be where its leader begins.
    fn around(&self, s: &Statement) -> Vec<usize> {
        let (center, radius) = disc(s);
        let reach = radius + (SHELF_REACH * s.height).max(BESIDE * s.height + WIDER * width(s));
        // A little farther, so that rounding keeps out none that begins beside the text.
        let beside = 1.01 * BESIDE * s.height;
        let level = (s.bounds.min.y - beside, s.bounds.max.y + beside);
        self.near.few_at_height(center, reach, level, CROWD).unwrap_or_default()
    }

    /// Ends on a circle's rim of lines, of at most three pieces, that begin beside the statement's text, at one of the
    /// ends `around` it.
    fn tips(
        &self,
        s: &Statement,
        around: &[usize],
        begins: impl Fn(&Statement, Point, &Segment) -> bool,
    ) -> Vec<Tip> {
        let starts = around.iter().copied().filter(|&end| {
            let (segment, first) = self.end(end);
            let line = &self.drawing.segments[segment];
            begins(s, if first { line.from } else { line.to }, line)
        });
        self.follow_all(s, starts)
    }

    /// Ends on a circle's rim of the pieces that go on from a line drawn under the text: it is the shelf of a leader.
    fn shelf_tips(&self, s: &Statement) -> Vec<Tip> {
        let tips = self.follow_all(s, self.under(s).into_iter().flat_map(|k| [2 * k, 2 * k + 1]));
        tips.into_iter().map(|tip| Tip { shelf: true, ..tip }).collect()
    }

    /// Where the lines that begin at some ends lead to.
    fn follow_all(&self, s: &Statement, starts: impl Iterator<Item = usize>) -> Vec<Tip> {
        let mut tips: Vec<Tip> = Vec::new();
        for end in starts {
            let (segment, first) = self.end(end);
            let line = &self.drawing.segments[segment];
            if line.origin.space != s.origin.space {
                continue;
            }
            if let Some((at, chain)) = self.follow(s, segment, first)
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

    fn follow(&self, s: &Statement, segment: usize, first: bool) -> Option<(Point, Vec<usize>)> {
        let drawing = self.drawing;
        let touch = 0.05 * s.height;
        let mut current = (segment, first);
        let mut chain = [segment; PIECES];
        for piece in 0..PIECES {
            let line = &drawing.segments[current.0];
            chain[piece] = current.0;
            let end = if current.1 { line.to } else { line.from };
            let other = if current.1 { line.from } else { line.to };
            let on_rim = || looks(drawing, s.origin.space).any(|look| self.on_rim(s, look, end, other));
            if s.bounds.distance(end) > 0.5 * s.height && on_rim() {
                return Some((end, chain[..=piece].to_vec()));
            }
            // Where two others begin, they lead nowhere.
            let mut next = None;
            let only_one = self.near.all_within(end, touch, |e| {
                let met = self.end(e);
                met.0 == current.0 || next.replace(met).is_none()
            });
            current = next.filter(|_| only_one)?;
        }
        None
    }

    /// Whether a line from `other` ends on the rim of a circle as a viewport, or the space itself, shows it.
    fn on_rim(&self, s: &Statement, look: Look<'_>, end: Point, other: Point) -> bool {
        if matches!(look, Look::Space(_)) && !self.at_circle.may_hold(end) {
            return false;
        }
        let (Some(end), Some(other)) = (look.point(end), look.point(other)) else { return false };
        let height = s.height / look.scale();
        look.any_ring(self.drawing, self.rings, end, ON_RIM * height, |ring| {
            let r = &self.rings.rings[ring];
            let rim = (end.distance(r.center) - r.diameter / 2.0).abs() <= ON_RIM * height;
            rim || runs_inside(r, end, other) && r.diameter <= 12.0 * height
        })
    }
}

/// A line as a disc round its middle.
fn round_line(Segment { from, to, .. }: &Segment) -> (Point, f64) {
    (Point::new(f64::midpoint(from.x, to.x), f64::midpoint(from.y, to.y)), 0.5 * from.distance(*to))
}

/// Letter heights between the end of a line and the rim that it ends on.
const ON_RIM: f64 = 0.3;

/// Most lines that a leader is drawn with.
const PIECES: usize = 3;

/// Most ends of lines round a text among which one may point at a hole.
const CROWD: usize = 2_000;

/// Whether a line comes from outside of a circle, ends inside and points at its centre, as a dimension's line does
/// whose arrow is outside.
fn runs_inside(r: &Ring, end: Point, other: Point) -> bool {
    let radius = r.diameter / 2.0;
    end.distance(r.center) < radius
        && other.distance(r.center) > radius
        && r.center
            .distance_to_side(end, Point::new(2.0 * end.x - other.x, 2.0 * end.y - other.y))
            .min(r.center.distance_to_side(end, other))
            <= 0.05 * radius
}

/// Whether a line from `other` ends at `tip` on the rim of a circle and runs along one of its radii.
fn aims_at_a_centre(rings: &Rings, s: &Statement, tip: Point, other: Point) -> bool {
    let touch = 0.1 * s.height;
    rings.any_within(s.origin.space, tip, touch, |ring| {
        let r = &rings.rings[ring];
        let radius = r.diameter / 2.0;
        let length = tip.distance(other);
        let cross = (tip.x - other.x) * (r.center.y - other.y) - (tip.y - other.y) * (r.center.x - other.x);
        (tip.distance(r.center) - radius).abs() <= touch.min(0.1 * radius)
            && length > 0.0
            && (cross / length).abs() <= 0.05 * radius
    })
}
