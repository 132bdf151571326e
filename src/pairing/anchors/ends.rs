//! Loose lines that serve as leaders where a drawing has none: followed from a text, from end to end, to the circle that
//! they end at.

use std::cell::OnceCell;

use super::beside::{BESIDE, SHELF_REACH, WIDER, beside_text, beside_wide_text, is_level, runs_under, width};
use super::disc;
use super::look::{Look, looks};
use crate::drawing::{Drawing, Segment};
use crate::geometry::Point;
use crate::pairing::near::Near;
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
    /// The segments that can serve. Ends are numbered through them: each segment's `from` and then its `to`.
    segments: Vec<usize>,
    near: Near,
    /// All of the segments, and those that may be the shelf of a leader; each found when first asked for.
    all: OnceCell<Lines>,
    shelves: OnceCell<Lines>,
}

/// Lines as discs round their middles.
struct Lines {
    /// Places in [`LineEnds::segments`], in the order of the discs.
    places: Vec<usize>,
    near: Near,
}

impl<'d> LineEnds<'d> {
    pub(super) fn new(drawing: &'d Drawing, rings: &'d Rings) -> LineEnds<'d> {
        let serves = |i: &usize| {
            let origin = &drawing.segments[*i].origin;
            origin.visible && !origin.centre_line
        };
        let segments: Vec<usize> = (0..drawing.segments.len()).filter(serves).collect();
        let mut points = Vec::with_capacity(2 * segments.len());
        for &i in &segments {
            points.extend([drawing.segments[i].from, drawing.segments[i].to]);
        }
        let near = Near::of_points(&points);
        LineEnds { drawing, rings, segments, near, all: OnceCell::new(), shelves: OnceCell::new() }
    }

    /// The segment of an end, and whether the end is its `from`.
    fn end(&self, end: usize) -> (usize, bool) {
        (self.segments[end / 2], end.is_multiple_of(2))
    }

    fn line(&self, place: usize) -> &'d Segment {
        &self.drawing.segments[self.segments[place]]
    }

    fn lines(&self, wanted: impl Fn(&Segment) -> bool) -> Lines {
        let places: Vec<usize> = (0..self.segments.len()).filter(|&k| wanted(self.line(k))).collect();
        let near = Near::new(places.iter().map(|&k| {
            let Segment { from: a, to: b, .. } = self.line(k);
            (Point::new(f64::midpoint(a.x, b.x), f64::midpoint(a.y, b.y)), 0.5 * a.distance(*b))
        }));
        Lines { places, near }
    }

    fn all(&self) -> &Lines {
        self.all.get_or_init(|| self.lines(|_| true))
    }

    /// The lines that may be the shelf of a leader, and where there are so many that they may be a crowd, all.
    fn shelves(&self) -> &Lines {
        if self.segments.len() > CROWD {
            return self.all();
        }
        self.shelves.get_or_init(|| self.lines(is_level))
    }

    /// Where lines that run under or through a text end on a circle that they point at the centre of: what is left of
    /// a dimension drawn with single lines.
    fn dimension_tips(&self, s: &Statement) -> Vec<Tip> {
        let center = disc(s).0;
        let mut tips: Vec<Tip> = Vec::new();
        let all = self.all();
        for k in all.near.few_within(center, 1.5 * s.height, CROWD).unwrap_or_default() {
            let line = self.line(all.places[k]);
            if line.origin.space != s.origin.space
                || center.distance_to_side(line.from, line.to) > 1.5 * s.height
            {
                continue;
            }
            for (tip, other) in [(line.from, line.to), (line.to, line.from)] {
                if aims_at_a_centre(self.rings, s, tip, other)
                    && tips.iter().all(|t| t.at.distance(tip) > 1e-6)
                {
                    let chain = vec![self.segments[all.places[k]]];
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
        let (low, high) = (s.bounds.min.y - beside, s.bounds.max.y + beside);
        let level = |end: Point| end.y >= low && end.y <= high;
        self.near.wanted_of_few(center, reach, CROWD, level).unwrap_or_default()
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
        let reach = s.height + 0.5 * (s.bounds.max.y - s.bounds.min.y);
        let shelves = self.shelves();
        let under = shelves.near.few_within(disc(s).0, reach, CROWD).unwrap_or_default();
        let places = under.into_iter().map(|k| shelves.places[k]).filter(|&k| runs_under(s, self.line(k)));
        let tips = self.follow_all(s, places.flat_map(|k| [2 * k, 2 * k + 1]));
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
        let (drawing, rings) = (self.drawing, self.rings);
        let touch = 0.05 * s.height;
        let mut current = (segment, first);
        let mut chain = [segment; PIECES];
        for piece in 0..PIECES {
            let line = &drawing.segments[current.0];
            chain[piece] = current.0;
            let end = if current.1 { line.to } else { line.from };
            let other = if current.1 { line.from } else { line.to };
            let on_rim =
                || looks(drawing, s.origin.space).any(|look| on_rim(drawing, rings, s, look, end, other));
            if s.bounds.distance(end) > 0.5 * s.height && on_rim() {
                return Some((end, chain[..=piece].to_vec()));
            }
            // Of the line itself one or both ends are met, so more than three hold two others, which lead nowhere.
            let met = self.near.few_within(end, touch, 3)?;
            let mut others = met.into_iter().map(|e| self.end(e)).filter(|(line, _)| *line != current.0);
            current = others.next().filter(|_| others.next().is_none())?;
        }
        None
    }
}

/// Most lines that a leader is drawn with.
const PIECES: usize = 3;

/// Most ends of lines round a text among which one may point at a hole.
const CROWD: usize = 2_000;

/// Whether a line from `other` ends on the rim of a circle as a viewport, or the space itself, shows it.
fn on_rim(drawing: &Drawing, rings: &Rings, s: &Statement, look: Look<'_>, end: Point, other: Point) -> bool {
    let (Some(end), Some(other)) = (look.point(end), look.point(other)) else { return false };
    let height = s.height / look.scale();
    look.any_ring(drawing, rings, end, 0.3 * height, |ring| {
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
