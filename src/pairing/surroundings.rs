//! What stands round each screw hole in its own view: the edge of the part, and circles drawn about the hole. Lengths
//! are true, the view's scale taken out. What cannot be told is left open and said; nothing here decides what is right.

use std::cell::OnceCell;

use super::contours::Contour;
use super::edge_lines::EdgeLines;
use super::scene::Scene;
use super::{Hole, Role};
use crate::geometry::Point;
use crate::near::Near;
use crate::units::Length;

/// The surroundings of a hole.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Surroundings {
    /// The view it stands in; equal numbers are the same view.
    pub view: usize,
    /// Distance from its centre to the nearest edge of the contour round it, or of a cut-out beside it.
    pub edge: Option<Length>,
    /// Whether that is the edge of a cut-out.
    pub cut_out: bool,
    /// Diameter of the largest circle about the hole that may be the outside of a boss.
    pub outer: Option<Length>,
    /// Why no edge is known; none for a hole whose edge is known, and for one that is no screw hole.
    pub edge_unknown: Option<&'static str>,
}

/// More sides looked at than this, over all holes of a drawing, are too many.
const MOST_LOOKS: usize = 100_000_000;
/// A contour that is hardly larger than the hole, in its diameters, is a slot, a symbol or the hole itself.
const LEAST_WIDTH: f64 = 1.6;
/// A closed contour that is narrower than this, in diameters of the hole beside it, is an arrow head or another sign.
const LEAST_CUT_OUT: f64 = 0.4;

/// The surroundings of each hole, in their order. `order` is the spot of each.
pub(super) fn find(scene: &Scene<'_>, order: &[usize], holes: &[Hole]) -> Vec<Surroundings> {
    let mut edges = Edges { scene, lines: None, views: Vec::new(), looks: 0 };
    let around = |(hole, &spot): (&Hole, &usize)| {
        let view = scene.spots[spot].view;
        let mut found = Surroundings { view, ..Surroundings::default() };
        if hole.screw.is_some() {
            match edges.edge(spot) {
                Ok((distance, cut_out)) => {
                    found.edge = Some(scene.units.drawn(distance / scene.scale_at(spot)));
                    found.cut_out = cut_out;
                }
                Err(why) => found.edge_unknown = Some(why),
            }
            found.outer = outer(scene, spot);
        }
        found
    };
    holes.iter().zip(order).map(around).collect()
}

/// The largest circle about a hole that is drawn solid and belongs to no thread.
fn outer(scene: &Scene<'_>, spot: usize) -> Option<Length> {
    let rings = &scene.rings;
    let own = scene.spots[spot].ring;
    let about = rings.stacks[scene.spots[spot].stack].iter().copied();
    let largest = about
        .filter(|&i| i != own && matches!(scene.roles[i], Role::Counterbore | Role::Outline))
        .map(|i| rings.rings[i].diameter)
        .fold(0.0, f64::max);
    (largest > 0.0).then(|| scene.units.drawn(largest / scene.scale_at(spot)))
}

/// The contours of the views that were asked about.
struct Edges<'a> {
    scene: &'a Scene<'a>,
    /// The lines of the drawing, once a view is asked about.
    lines: Option<EdgeLines<'a>>,
    /// View, its contours; none where there are too many lines.
    views: Vec<(usize, Option<Contours>)>,
    looks: usize,
}

impl Edges<'_> {
    /// Distance from a hole's centre to the nearest edge, in drawing units, and whether that is a cut-out's; else why it
    /// is not known.
    fn edge(&mut self, spot: usize) -> Result<(f64, bool), &'static str> {
        let place = &self.scene.spots[spot];
        let (center, drawn, view) = (place.at, place.drawn, place.view);
        let index = self.contours(view);
        let (_, contours) = self.views.get(index).ok_or("its view is not known")?;
        let contours = contours.as_ref().ok_or("its view has too many lines")?;
        let mut nearest: Option<f64> = None;
        let mut looks = 0;
        let mut round: Option<&Contour> = None;
        // Smallest first: the innermost contour is what the hole stands in.
        let holding = contours.near(center, 0.0).map(|(contour, _)| contour);
        for contour in holding.filter(|c| wide(c, drawn) && c.bounds.holds(center, 0.0)) {
            looks += contour.corners.len();
            nearest = contour.clearance(center);
            if nearest.is_some() {
                round = Some(contour);
                break;
            }
        }
        let beside = nearest
            .zip(round)
            .and_then(|(least, round)| self.cut_out(contours, round, (center, drawn), least, &mut looks));
        self.looks += looks;
        if self.looks > MOST_LOOKS {
            return Err("the drawing has too many lines");
        }
        let edge = beside.or(nearest).or_else(|| self.round_part(spot));
        let edge = edge.ok_or("no closed outline round the hole is found")?;
        if edge < drawn / 2.0 { Err("a line crosses the hole") } else { Ok((edge, beside.is_some())) }
    }

    /// Distance to the nearest cut-out beside a hole: a closed contour in the one round it that does not hold the hole,
    /// where it is nearer than `least`. What frames a text is a symbol.
    fn cut_out(
        &self,
        contours: &Contours,
        round: &Contour,
        (center, drawn): (Point, f64),
        least: f64,
        looks: &mut usize,
    ) -> Option<f64> {
        let mut nearest = None;
        for (contour, frames_text) in contours.near(center, least) {
            let so_far = nearest.unwrap_or(least);
            if contour.bounds.distance(center) >= so_far
                || narrowest(contour) < LEAST_CUT_OUT * drawn
                || !contour.lies_in(round)
            {
                continue;
            }
            *looks += contour.corners.len() + round.corners.len();
            let distance = contour.distance(center);
            let is_edge = distance < so_far && contour.clearance(center).is_none();
            if is_edge && !frames_text.get_or_init(|| self.frames_text(contour)) {
                nearest = Some(distance);
            }
        }
        nearest
    }

    fn frames_text(&self, contour: &Contour) -> bool {
        let mut texts = self.scene.drawing.texts.iter().filter(|t| t.origin.visible);
        texts.any(|t| contour.clearance(t.bounds.middle()).is_some())
    }

    /// Clearance in a round part: a circle that holds the hole, in a view that is no detail of another.
    fn round_part(&self, spot: usize) -> Option<f64> {
        let scene = self.scene;
        if scene.twin[spot].is_some() || scene.scale_at(spot) != 1.0 {
            return None;
        }
        let place = &scene.spots[spot];
        let holding = scene.rings.within(place.space, place.at, 0.0).into_iter();
        holding
            .filter(|&i| scene.roles[i] == Role::Outline && scene.views.of_ring[i] == place.view)
            .filter(|&i| scene.rings.rings[i].stack != place.stack)
            .map(|i| scene.rings.rings[i].diameter / 2.0 - scene.rings.rings[i].center.distance(place.at))
            .min_by(f64::total_cmp)
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

#[cfg(test)]
mod tests {
    use crate::joint::{Defaults, Making};
    use crate::pairing::testing::Sheet;
    use crate::pairing::{Paired, pair};
    use crate::trade::Thread;

    fn paired(sheet: Sheet) -> Paired {
        let defaults = Defaults { thread: Thread::parse("M4").ok(), making: Making::default() };
        pair(&sheet.drawing(), None, &defaults)
    }

    fn edges(sheet: Sheet) -> Vec<Option<f64>> {
        paired(sheet).surroundings.iter().map(|s| s.edge.map(|l| (l.mm() * 1e6).round() / 1e6)).collect()
    }

    fn plate() -> Sheet {
        Sheet::new().outline(0.0, 0.0, 80.0, 30.0)
    }

    #[test]
    fn the_nearest_side_of_the_outline_is_measured_whatever_else_is_drawn() {
        // By hand: (4, 15) is 4 from the left side. Hatch, bend line, centre mark and a symbol beside it change nothing.
        let sheet = plate()
            .circle(4.0, 15.0, 3.6)
            .line(1.0, 10.0, 6.0, 20.0)
            .line(7.0, 0.0, 7.0, 30.0)
            .line(4.0, 11.0, 4.0, 19.0)
            .outline(7.0, 20.0, 9.0, 22.0);
        assert_eq!(edges(sheet), [Some(4.0)]);
    }

    #[test]
    fn an_open_outline_is_unknown_and_says_so() {
        let sheet = Sheet::new().line(0.0, 0.0, 80.0, 0.0).line(80.0, 0.0, 80.0, 30.0).circle(4.0, 4.0, 3.6);
        let found = paired(sheet);
        assert_eq!(found.surroundings[0].edge, None);
        assert!(found.surroundings[0].edge_unknown.unwrap().contains("no closed outline"));
    }

    #[test]
    fn hidden_layers_and_the_circles_of_the_hole_itself_are_no_edges() {
        let sheet = plate()
            .circle(20.0, 15.0, 3.6)
            .circle(20.0, 15.0, 7.2)
            .layer("HIDDEN")
            .outline(16.0, 11.0, 24.0, 19.0);
        let found = paired(sheet);
        assert_eq!(found.surroundings[0].edge.unwrap().mm(), 15.0);
        assert_eq!(found.surroundings[0].outer.unwrap().mm(), 7.2);
    }

    #[test]
    fn lines_of_a_hidden_type_are_no_edges() {
        let mut drawing = plate().circle(20.0, 15.0, 3.6).outline(16.0, 11.0, 24.0, 19.0).drawing();
        let box_about = drawing.segments.len() - 4;
        drawing.segments[box_about..].iter_mut().for_each(|s| s.origin.hidden_line = true);
        let defaults = Defaults { thread: Thread::parse("M4").ok(), making: Making::default() };
        assert_eq!(pair(&drawing, None, &defaults).surroundings[0].edge.unwrap().mm(), 15.0);
    }

    #[test]
    fn a_cut_out_beside_a_hole_is_an_edge() {
        // By hand: the window begins at x 24, 4 from the centre; at (20, 15) the plate's own edge is 15 away.
        let with = |sheet: Sheet| {
            let found = paired(sheet.circle(20.0, 15.0, 3.6));
            (found.surroundings[0].edge.map(|l| (l.mm() * 1e4).round() / 1e4), found.surroundings[0].cut_out)
        };
        assert_eq!(with(plate().outline(24.0, 10.0, 34.0, 20.0)), (Some(4.0), true));
        // A corner: (23, 19) is 3 to the right of the centre and 4 above it.
        assert_eq!(with(plate().outline(23.0, 19.0, 33.0, 25.0)), (Some(5.0), true));
        // A slot, 4 wide with round ends: its end at x 26 is a half circle of 2 about x 28.
        let slot = |d: f64| {
            let sheet = plate().line(28.0, 13.0, 40.0, 13.0).line(28.0, 17.0, 40.0, 17.0);
            sheet.arc(28.0, 15.0, d, 90.0, 180.0).arc(40.0, 15.0, d, -90.0, 180.0)
        };
        assert_eq!(with(slot(4.0)), (Some(6.0), true));
        // A framed text, a sign too small to be cut out, a window outside of the part.
        assert_eq!(with(plate().outline(24.0, 10.0, 34.0, 20.0).text(26.0, 14.0, "A")), (Some(15.0), false));
        assert_eq!(with(plate().outline(23.0, 14.5, 24.0, 15.5)), (Some(15.0), false));
        assert_eq!(with(plate().outline(18.0, 31.0, 30.0, 36.0)), (Some(15.0), false));
        // One that cuts the hole is not understood.
        assert_eq!(with(plate().outline(21.0, 10.0, 31.0, 20.0)), (None, false));
    }

    #[test]
    fn a_round_part_is_an_outline_too() {
        // By hand: a disc of radius 30, the hole 24 from its centre: 6 to the edge.
        let sheet = Sheet::new().circle(0.0, 0.0, 60.0).circle(24.0, 0.0, 3.6).circle(-20.0, 0.0, 3.6);
        assert_eq!(edges(sheet), [Some(10.0), Some(6.0)]);
    }
}
