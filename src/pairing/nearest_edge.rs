//! How far the nearest edge of the part is from a hole: the contour or the disc round it, or a cut-out beside it. Lengths are
//! those of the drawing; nothing here decides what is right.

use std::cell::OnceCell;

use super::Role;
use super::contours::Contour;
use super::edge_lines::EdgeLines;
use super::rings::{Ring, same_diameter};
use super::scene::{Scene, Spot};
use crate::geometry::Point;
use crate::near::Near;

/// More sides looked at than this, over all holes of a drawing, are too many.
const MOST_LOOKS: usize = 100_000_000;
/// A contour that is hardly larger than the hole, in its diameters, is a slot, a symbol or the hole itself.
const LEAST_WIDTH: f64 = 1.6;
/// A closed contour that is narrower than this, in diameters of the hole beside it, is an arrow head or another sign.
const LEAST_CUT_OUT: f64 = 0.4;
/// A contour round a text that is higher than this, in heights of the text, is no frame of it.
const FRAME: f64 = 5.0;
/// Diameters of a hole beyond which it does not matter what a circle beside it is.
const BESIDE: f64 = 3.0;

/// The nearest edge.
pub(super) struct NearestEdge {
    /// From the centre of the hole, drawing units.
    pub(super) distance: f64,
    /// Whether it is a cut-out's.
    pub(super) cut_out: bool,
    /// Why there may be a nearer one.
    pub(super) doubt: Option<&'static str>,
}

/// What the views that were asked about have for edges.
pub(super) struct Edges<'a> {
    scene: &'a Scene<'a>,
    /// The lines of the drawing, once a view is asked about.
    lines: Option<EdgeLines<'a>>,
    /// View, its contours; none where there are too many lines.
    views: Vec<(usize, Option<Contours>)>,
    looks: usize,
}

/// The edge of the part that a hole stands in.
enum Around<'c> {
    Contour(&'c Contour),
    Disc(&'c Ring),
}

impl Around<'_> {
    /// Whether a contour lies in it; they have no point in common, or both would be one.
    fn holds(&self, contour: &Contour) -> bool {
        match self {
            Around::Contour(around) => contour.lies_in(around),
            Around::Disc(ring) => {
                contour.corners.iter().all(|corner| corner.distance(ring.center) <= ring.diameter / 2.0)
            }
        }
    }

    /// Sides to be looked at to tell.
    fn sides(&self) -> usize {
        match self {
            Around::Contour(around) => around.corners.len(),
            Around::Disc(_) => 1,
        }
    }
}

/// The rim of a circle beside a hole.
struct Rim {
    distance: f64,
    /// Whether it is surely a bore's.
    is_bore: bool,
}

impl<'a> Edges<'a> {
    /// Those of a drawing.
    pub(super) fn new(scene: &'a Scene<'a>) -> Edges<'a> {
        Edges { scene, lines: None, views: Vec::new(), looks: 0 }
    }

    /// The nearest edge at a hole; else why it is not known.
    pub(super) fn nearest(&mut self, spot: usize) -> Result<NearestEdge, &'static str> {
        let place = &self.scene.spots[spot];
        let index = self.contours(place.view);
        let (_, contours) = self.views.get(index).ok_or("its view is not known")?;
        let contours = contours.as_ref().ok_or("its view has too many lines")?;
        let mut looks = 0;
        let around = (self.contour_round(contours, place, &mut looks)).or_else(|| self.disc_round(spot));
        let rims = around.as_ref().map(|(_, clearance)| self.rims(place, *clearance)).unwrap_or_default();
        let nearest = |sure: bool| {
            let rims = rims.iter().filter(|rim| rim.is_bore == sure).map(|rim| rim.distance);
            rims.min_by(f64::total_cmp)
        };
        let beside = around.as_ref().and_then(|(around, clearance)| {
            let cut_out = self.cut_out(contours, around, place, *clearance, &mut looks);
            nearest(true).filter(|bore| *bore < cut_out.unwrap_or(*clearance)).or(cut_out)
        });
        self.looks += looks;
        if self.looks > MOST_LOOKS {
            return Err("the drawing has too many lines");
        }
        let (_, clearance) = around.ok_or("no closed outline round the hole is found")?;
        let distance = beside.unwrap_or(clearance);
        if distance < place.drawn / 2.0 {
            return Err("a line crosses the hole");
        }
        let doubtful = nearest(false).is_some_and(|rim| rim < distance.min(BESIDE * place.drawn));
        let doubt =
            doubtful.then_some("a circle beside it may be the rim of a bore, or the mark of a detail");
        Ok(NearestEdge { distance, cut_out: beside.is_some(), doubt })
    }

    /// The innermost contour that a hole stands in, and how far it is away.
    fn contour_round<'c>(
        &self,
        contours: &'c Contours,
        place: &Spot,
        looks: &mut usize,
    ) -> Option<(Around<'c>, f64)> {
        let holding = contours.near(place.at, 0.0).map(|(contour, _)| contour);
        let mut wide = holding.filter(|c| wide(c, place.drawn) && c.bounds.holds(place.at, 0.0));
        // Smallest first.
        wide.find_map(|contour| {
            *looks += contour.corners.len();
            contour.clearance(place.at).map(|clearance| (Around::Contour(contour), clearance))
        })
    }

    /// A round part: a circle that a hole stands in, in a view that is no detail of another, and how far its rim is away.
    fn disc_round<'c>(&self, spot: usize) -> Option<(Around<'c>, f64)>
    where
        'a: 'c,
    {
        let scene = self.scene;
        if scene.twin[spot].is_some() || scene.scale_at(spot) != 1.0 {
            return None;
        }
        let place = &scene.spots[spot];
        let inside = |ring: &Ring| ring.diameter / 2.0 - ring.center.distance(place.at);
        let holding = self.outlines(place, 0.0).map(|(_, ring)| (Around::Disc(ring), inside(ring)));
        holding.min_by(|a, b| a.1.total_cmp(&b.1))
    }

    /// Distance to the nearest cut-out beside a hole: a closed contour in the edge round it that does not hold the hole,
    /// where it is nearer than `least`. What frames a text is a symbol.
    fn cut_out(
        &self,
        contours: &Contours,
        around: &Around<'_>,
        place: &Spot,
        least: f64,
        looks: &mut usize,
    ) -> Option<f64> {
        let mut nearest = None;
        for (contour, frames_text) in contours.near(place.at, least) {
            let so_far = nearest.unwrap_or(least);
            if contour.bounds.distance(place.at) >= so_far
                || narrowest(contour) < LEAST_CUT_OUT * place.drawn
                || !around.holds(contour)
            {
                continue;
            }
            *looks += contour.corners.len() + around.sides();
            let distance = contour.distance(place.at);
            let is_edge = distance < so_far && contour.clearance(place.at).is_none();
            if is_edge && !frames_text.get_or_init(|| self.frames_text(contour)) {
                nearest = Some(distance);
            }
        }
        nearest
    }

    fn frames_text(&self, contour: &Contour) -> bool {
        let mut texts = self.scene.drawing.texts.iter().filter(|t| t.origin.visible);
        texts.any(|t| {
            narrowest(contour) <= FRAME * (t.bounds.max.y - t.bounds.min.y).max(t.height)
                && contour.clearance(t.bounds.middle()).is_some()
        })
    }

    /// The rims beside a hole, nearer than `least`, of circles that are no holes by themselves because others stand in them:
    /// perhaps bores through which more is seen. The ring that marks what a detail enlarges is none.
    fn rims(&self, place: &Spot, least: f64) -> Vec<Rim> {
        let marks_detail = |ring: usize| self.scene.details.iter().any(|detail| detail.mark == ring);
        let beside =
            self.outlines(place, least).filter(|(i, _)| !marks_detail(*i)).filter_map(|(_, ring)| {
                let distance = ring.center.distance(place.at) - ring.diameter / 2.0;
                (distance > 0.0 && distance < least).then(|| Rim { distance, is_bore: self.is_bore(ring) })
            });
        beside.collect()
    }

    /// Whether a circle that others stand in is surely no mark drawn over the part: none of them crosses its rim, and none
    /// is drawn like a hole of the part beside it.
    fn is_bore(&self, ring: &Ring) -> bool {
        let scene = self.scene;
        let radius = ring.diameter / 2.0;
        let inside = scene.rings.within(ring.space, ring.center, radius).into_iter();
        let mut others = inside.filter(|&i| scene.roles[i] != Role::PitchCircle);
        !others.any(|i| {
            let other = &scene.rings.rings[i];
            let away = other.center.distance(ring.center);
            let crosses = away + other.diameter / 2.0 > radius && away + radius > other.diameter / 2.0;
            let like_beside = || {
                let holes = scene.by_view.of(scene.views.of_ring[i]).iter().map(|&spot| &scene.spots[spot]);
                let mut beside = holes.filter(|hole| hole.at.distance(ring.center) > radius);
                beside.any(|hole| same_diameter(hole.drawn, other.diameter))
            };
            let in_it = scene.roles[i] == Role::Hole && away < radius;
            other.stack != ring.stack && (crosses || in_it && like_beside())
        })
    }

    /// Circles that others stand in, with rim or inside within `reach` of a hole and not about it, in its view. Hidden ones
    /// are left out.
    fn outlines<'c>(&self, place: &Spot, reach: f64) -> impl Iterator<Item = (usize, &'c Ring)>
    where
        'a: 'c,
    {
        let scene = self.scene;
        let (view, stack) = (place.view, place.stack);
        let near = scene.rings.within(place.space, place.at, reach).into_iter();
        let of_view =
            near.filter(move |&i| scene.roles[i] == Role::Outline && scene.views.of_ring[i] == view);
        let rings = of_view.map(|i| (i, &scene.rings.rings[i]));
        rings.filter(move |(_, ring)| {
            ring.stack != stack && !scene.drawing.circles[ring.circle].origin.is_hidden_line()
        })
    }

    /// Index of a view's contours, found when first asked for.
    fn contours(&mut self, view: usize) -> usize {
        if let Some(index) = self.views.iter().position(|(v, _)| *v == view) {
            return index;
        }
        let scene = self.scene;
        let lines = self.lines.get_or_insert_with(|| EdgeLines::new(scene.drawing, &scene.anchors.lines));
        let contours = lines.contours(&scene.views.views[view], &scene.title);
        self.views.push((view, contours.map(Contours::new)));
        self.views.len() - 1
    }
}

/// The contours of a view, and which of them are near to a place.
struct Contours {
    /// The smallest first, each with whether it frames a text, once that was asked.
    all: Vec<(Contour, OnceCell<bool>)>,
    discs: Near,
}

impl Contours {
    fn new(all: Vec<Contour>) -> Contours {
        let disc =
            |Contour { bounds, .. }: &Contour| (bounds.middle(), bounds.min.distance(bounds.max) / 2.0);
        let discs = Near::new(all.iter().map(disc));
        Contours { all: all.into_iter().map(|contour| (contour, OnceCell::new())).collect(), discs }
    }

    /// Those whose box may reach as near as this to a place, the smallest first.
    fn near(&self, place: Point, reach: f64) -> impl Iterator<Item = &(Contour, OnceCell<bool>)> {
        self.discs.within(place, reach).into_iter().map(|index| &self.all[index])
    }
}

fn wide(contour: &Contour, hole: f64) -> bool {
    narrowest(contour) >= LEAST_WIDTH * hole
}

/// The smaller extent of a contour.
fn narrowest(contour: &Contour) -> f64 {
    let b = contour.bounds;
    (b.max.x - b.min.x).min(b.max.y - b.min.y)
}
