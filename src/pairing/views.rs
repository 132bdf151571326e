//! Which shapes stand together as one view. Sheet borders are set aside, and what touches, or lies inside another, is
//! one view. Scales are found in `scale`.

use super::Role;
use super::directions::along;
use super::rings::Rings;
use super::strokes::{ROUND, Rounds, Strokes};
use super::title::Title;
use super::touching;
use crate::drawing::{Drawing, Origin, SpaceId};
use crate::geometry::{Bounds, Point};

/// A view of the part (or a group of other lines, such as a title block).
#[derive(Debug, Clone)]
pub(super) struct View {
    pub(super) space: SpaceId,
    pub(super) bounds: Bounds,
    /// Whether it is only what stands in no group of lines.
    pub(super) loose: bool,
}

impl View {
    /// From corner to corner, greater than 0.
    pub(super) fn diagonal(&self) -> f64 {
        self.bounds.min.distance(self.bounds.max).max(f64::MIN_POSITIVE)
    }
}

/// The views of a drawing.
#[derive(Debug, Default)]
pub(super) struct Views {
    pub(super) views: Vec<View>,
    /// The view of each ring.
    pub(super) of_ring: Vec<usize>,
    /// Whether each view has rings.
    pub(super) with_rings: Vec<bool>,
}

/// More loose circles than this are no details, and stay together.
const MOST_LOOSE: usize = 200;

/// Loose rings whose rims stand within some diameters of the smaller one, or some letter heights, of one another. A
/// disc that is a part of its own once reached as far as its size, and took the balloons of the next part for its own.
fn clusters(rings: &Rings, mut loose: Vec<usize>, height: f64) -> Vec<Vec<usize>> {
    let close = |a: usize, b: usize| {
        let (a, b) = (&rings.rings[a], &rings.rings[b]);
        let between = a.center.distance(b.center) - 0.5 * (a.diameter + b.diameter);
        between <= (3.0 * a.diameter.min(b.diameter)).max(10.0 * height)
    };
    let mut found = Vec::new();
    while let Some(first) = loose.pop() {
        let mut cluster = vec![first];
        let mut k = 0;
        while let Some(&at) = cluster.get(k) {
            let (near, far): (Vec<usize>, Vec<usize>) = loose.iter().partition(|&&o| close(at, o));
            cluster.extend(near);
            loose = far;
            k += 1;
        }
        cluster.sort_unstable();
        found.push(cluster);
    }
    found.sort();
    found
}

/// Groups the rings of a drawing into views. `early` are the roles that are known by now: a balloon stands outside
/// every view and must not keep a border, and a pitch circle is no line of the part and holds nothing together. `leaders` are lines that serve as leaders, which reach into other views, and `height` is that of the sheet's letters.
pub(super) fn find(
    drawing: &Drawing,
    rings: &Rings,
    early: &[Option<Role>],
    title: &Title,
    leaders: &[usize],
    height: f64,
) -> Views {
    let mut out = Views { of_ring: vec![0; rings.rings.len()], ..Views::default() };
    let mut spaces: Vec<SpaceId> = rings.rings.iter().map(|r| r.space).collect();
    spaces.dedup();
    for space in spaces {
        let members: Vec<usize> = (0..rings.rings.len()).filter(|&i| rings.rings[i].space == space).collect();
        let drawn: Vec<usize> =
            members.iter().copied().filter(|&i| early[i] != Some(Role::PitchCircle)).collect();
        let parts: Vec<usize> =
            drawn.iter().copied().filter(|&i| matches!(early[i], None | Some(Role::Hole))).collect();
        let arcs = rounds(drawing, rings, space, &drawn);
        let lines = lines(drawing, space, leaders, &arcs);
        let groups = groups(drawing, rings, space, lines, &parts, &drawn, title.is_sheet(space));
        let base = out.views.len();
        out.views.extend(groups.iter().map(|&bounds| View { space, bounds, loose: false }));
        let mut loose = Vec::new();
        for &i in &members {
            match smallest_holding(&groups, rings.rings[i].center) {
                Some(g) => out.of_ring[i] = base + g,
                None => loose.push(i),
            }
        }
        // Where views are drawn, circles far apart outside of them are details of their own; else all are one part.
        let apart = !loose.is_empty() && loose.len() < members.len() && loose.len() <= MOST_LOOSE;
        let details = if apart { clusters(rings, loose, height) } else { vec![loose] };
        for cluster in details {
            let mut bounds = Bounds::EMPTY;
            for &i in &cluster {
                let (ring, r) = (&rings.rings[i], rings.rings[i].diameter / 2.0);
                bounds.add(Point::new(ring.center.x - r, ring.center.y - r));
                bounds.add(Point::new(ring.center.x + r, ring.center.y + r));
                out.of_ring[i] = out.views.len();
            }
            if !bounds.is_empty() {
                out.views.push(View { space, bounds, loose: true });
            }
        }
    }
    out.with_rings = vec![false; out.views.len()];
    for &view in &out.of_ring {
        out.with_rings[view] = true;
    }
    out
}

impl Views {
    /// Whether a ring stands outside of all views of its space, where there are views that hold rings.
    pub(super) fn outside(&self, ring: usize) -> bool {
        let own = &self.views[self.of_ring[ring]];
        own.loose && self.of_ring.iter().map(|&v| &self.views[v]).any(|v| !v.loose && v.space == own.space)
    }

    /// The smallest view round a point, if it stands in one.
    pub(super) fn holding(&self, space: SpaceId, p: Point, margin: f64) -> Option<usize> {
        (0..self.views.len())
            .filter(|&v| self.views[v].space == space && self.views[v].bounds.holds(p, margin))
            .min_by(|&a, &b| area(&self.views[a].bounds).total_cmp(&area(&self.views[b].bounds)))
    }
}

fn smallest_holding(groups: &[Bounds], p: Point) -> Option<usize> {
    (0..groups.len())
        .filter(|&g| groups[g].holds(p, 0.0))
        .min_by(|&a, &b| area(&groups[a]).total_cmp(&area(&groups[b])))
}

fn area(b: &Bounds) -> f64 {
    (b.max.x - b.min.x) * (b.max.y - b.min.y)
}

/// Visible arcs and large circles. Small circles do not join views.
fn rounds(drawing: &Drawing, rings: &Rings, space: SpaceId, members: &[usize]) -> Rounds {
    let large: Vec<usize> = members.iter().copied().filter(|&i| holds_others(rings, i)).collect();
    let mut rounds = Rounds::with_capacity(drawing.arcs.len() + large.len());
    for arc in drawing.arcs.iter().filter(|a| shown(&a.origin, space) && finite(a.center)) {
        rounds.add(arc.center, arc.radius, &along(arc.start_deg, arc.sweep_deg, ROUND));
    }
    add_circles(&mut rounds, rings, large);
    rounds
}

fn add_circles(rounds: &mut Rounds, rings: &Rings, members: Vec<usize>) {
    let around = along(0.0, 360.0, ROUND);
    for ring in members.into_iter().map(|i| &rings.rings[i]) {
        rounds.add(ring.center, ring.diameter / 2.0, &around);
    }
}

/// Visible lines, and the arcs and circles of their space.
fn lines<'a>(drawing: &'a Drawing, space: SpaceId, leaders: &[usize], rounds: &'a Rounds) -> Strokes<'a> {
    // Segments and leaders both in their order: what is not yet passed of the leaders tells whether a segment is one.
    let mut leaders = leaders.iter().copied().peekable();
    let mut lines = Strokes::of_lines(&drawing.segments, |i, s| {
        let is_leader = leaders.next_if_eq(&i).is_some();
        !is_leader && shown(&s.origin, space) && finite(s.from) && finite(s.to)
    });
    for outline in drawing.outlines.iter().filter(|o| shown(&o.origin, space)) {
        drawing.corners_of(outline).split(|p| !finite(*p)).for_each(|corners| lines.add_along(corners));
    }
    lines.add_rounds(rounds);
    lines
}

fn shown(origin: &Origin, space: SpaceId) -> bool {
    origin.visible && !origin.is_centre_line() && origin.space == space
}

fn finite(p: Point) -> bool {
    p.x.is_finite() && p.y.is_finite()
}

/// Whether the centre of a circle that is not concentric lies inside a ring.
pub(super) fn holds_others(rings: &Rings, ring: usize) -> bool {
    let r = &rings.rings[ring];
    let wanted = |o: usize| {
        let other = &rings.rings[o];
        other.stack != r.stack && other.center.distance(r.center) + other.diameter / 2.0 <= r.diameter / 2.0
    };
    !r.alone && rings.any_centre_within(r.space, r.center, r.diameter / 2.0, wanted)
}

/// Whether a clearly smaller circle lies inside a ring, concentric or not.
fn encircles(rings: &Rings, ring: usize) -> bool {
    let r = &rings.rings[ring];
    let wanted = |o: usize| {
        let other = &rings.rings[o];
        other.center.distance(r.center) + other.diameter / 2.0 <= 0.45 * r.diameter
    };
    !r.alone && rings.any_centre_within(r.space, r.center, r.diameter / 2.0, wanted)
}

/// Texts that a grid of lines holds at least to be a title block.
const BLOCK: u32 = 5;

/// Boxes of the groups of lines. A border goes only if every circle of the `parts` still stands inside some other group,
/// or most do on a `sheet` with a title block. Circles that are `drawn` round others hold a view together then.
fn groups(
    drawing: &Drawing,
    rings: &Rings,
    space: SpaceId,
    mut lines: Strokes<'_>,
    parts: &[usize],
    drawn: &[usize],
    sheet: bool,
) -> Vec<Bounds> {
    let all = lines.bounds();
    if all.is_empty() {
        return Vec::new();
    }
    let texts =
        drawing.texts.iter().filter(|t| t.origin.visible && t.origin.space == space && all.holds(t.at, 0.0));
    let texts: Vec<Point> = texts.map(|t| t.at).collect();
    if texts.len() < 2 {
        return touching::boxes(lines.iter(), &all);
    }
    // Hardly any line is long enough to be a piece of the border.
    let border = lines.take_out(|bounds| !is_short(bounds, &all), |ends| on_border(ends, &all));
    if border.is_empty() || lines.is_empty() {
        lines.put_back(border);
        return touching::boxes(lines.iter(), &all);
    }
    // Without the border a circle drawn round others holds a view together, as round a detail.
    let mut circles = Rounds::default();
    add_circles(&mut circles, rings, drawn.iter().copied().filter(|&i| encircles(rings, i)).collect());
    let mut within = lines.bounds();
    circles.strokes().for_each(|circle| circle.add_to(&mut within));
    let split = touching::boxes(lines.iter().chain(circles.strokes()), &within);
    let mut of_holes = vec![false; split.len()];
    let mut enclosed = 0;
    for g in parts.iter().filter_map(|&i| smallest_holding(&split, rings.rings[i].center)) {
        of_holes[g] = true;
        enclosed += 1;
    }
    let mut held = vec![0_u32; split.len()];
    for g in texts.iter().filter_map(|&p| smallest_holding(&split, p)) {
        held[g] += 1;
    }
    // A grid of many texts round no hole is a title block or a table, whatever its words are.
    let sheet = sheet || held.iter().zip(&of_holes).any(|(n, hole)| *n >= BLOCK && !hole);
    // Round a title block the outer line is the sheet's, though a detail may have no line round its circles.
    // A part's own edge holds its callouts and dimensions, a border holds texts that stand beside the views too.
    let at_holes = |p: &Point| split.iter().zip(&of_holes).any(|(g, hole)| *hole && g.distance(*p) <= 0.0);
    let beside = texts.iter().filter(|p| !at_holes(p)).count() >= 2;
    if beside && enclosed == parts.len() || sheet && 2 * enclosed > parts.len() {
        return split;
    }
    lines.put_back(border);
    touching::boxes(lines.iter(), &all)
}

/// Whether a box is less than half as wide and half as high as the sheet.
fn is_short(b: &Bounds, all: &Bounds) -> bool {
    b.max.x - b.min.x < 0.5 * (all.max.x - all.min.x) && b.max.y - b.min.y < 0.5 * (all.max.y - all.min.y)
}

/// Long, along an axis, and within a twentieth of the sheet's edge.
fn on_border([from, to]: &[Point; 2], all: &Bounds) -> bool {
    let (w, h) = (all.max.x - all.min.x, all.max.y - all.min.y);
    let (dx, dy) = ((to.x - from.x).abs(), (to.y - from.y).abs());
    let margin = 0.05 * w.max(h);
    let near = |v: f64, a: f64, b: f64| (v - a).abs() <= margin || (v - b).abs() <= margin;
    (dx >= 0.5 * w && dy <= 1e-6 * w && near(from.y, all.min.y, all.max.y))
        || (dy >= 0.5 * h && dx <= 1e-6 * h && near(from.x, all.min.x, all.max.x))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::pairing::rings;
    use crate::pairing::testing::{HEIGHT, Sheet};

    fn views_of(drawing: &Drawing) -> Views {
        let rings = rings::collect(drawing);
        find(drawing, &rings, &vec![None; rings.rings.len()], &Title::default(), &[], HEIGHT)
    }

    #[test]
    fn two_outlines_in_a_border_are_two_views() {
        let drawing = Sheet::new()
            .outline(0.0, 0.0, 420.0, 297.0)
            .outline(50.0, 100.0, 150.0, 200.0)
            .outline(250.0, 100.0, 350.0, 200.0)
            .circle(100.0, 150.0, 4.0)
            .circle(120.0, 150.0, 4.0)
            .circle(300.0, 150.0, 4.0)
            .text(360.0, 20.0, "SCALE 1:1")
            .text(360.0, 10.0, "LID")
            .drawing();
        let views = views_of(&drawing);
        assert_eq!(views.of_ring[0], views.of_ring[1]);
        assert_ne!(views.of_ring[0], views.of_ring[2]);
    }

    #[test]
    fn a_plate_with_cut_outs_is_no_border() {
        // The circle stands in the plate and in no cut-out, so the plate's edge must stay.
        let drawing = Sheet::new()
            .outline(0.0, 0.0, 420.0, 297.0)
            .outline(50.0, 100.0, 150.0, 200.0)
            .outline(250.0, 100.0, 350.0, 200.0)
            .circle(200.0, 50.0, 4.0)
            .circle(300.0, 150.0, 4.0)
            .text(360.0, 20.0, "A")
            .text(360.0, 10.0, "B")
            .drawing();
        let views = views_of(&drawing);
        assert_eq!(views.of_ring[0], views.of_ring[1]);
    }

    #[test]
    fn loose_circles_are_one_view() {
        let drawing = Sheet::new().circle(0.0, 0.0, 4.0).circle(500.0, 0.0, 4.0).drawing();
        let views = views_of(&drawing);
        assert_eq!(views.views.len(), 1);
        assert_eq!(views.of_ring, vec![0, 0]);
    }
}
