//! What stands round each screw hole in its own view: the edge of the part, and circles drawn about the hole. Lengths
//! are true, the view's scale taken out. What cannot be told is left open and said; nothing here decides what is right.

use super::nearest_edge::{Edges, NearestEdge};
use super::scene::{Scene, Spot};
use super::{Joint, Role};
use crate::shared::Shared;
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
    /// Why no edge is known, or a nearer one may be there; none for a hole whose nearest edge is known, and for one that is no
    /// screw hole.
    pub edge_unknown: Option<&'static str>,
    /// Whether the circle of another hole crosses that of this one.
    pub crossed: bool,
}

/// The surroundings of each hole, in their order. `order` is the spot of each.
pub(super) fn find(scene: &Scene<'_>, order: &[usize], joints: &[Shared<Joint>]) -> Vec<Surroundings> {
    let mut edges = Edges::new(scene);
    let around = |(joint, &spot): (&Shared<Joint>, &usize)| {
        let view = scene.spots[spot].view;
        let mut found = Surroundings { view, ..Surroundings::default() };
        if joint.screw.is_some() {
            match edges.nearest(spot) {
                Ok(NearestEdge { distance, cut_out, doubt }) => {
                    found.edge = Some(scene.units.drawn(distance / scene.scale_at(spot)));
                    found.cut_out = cut_out;
                    found.edge_unknown = doubt;
                }
                Err(why) => found.edge_unknown = Some(why),
            }
            found.outer = outer(scene, spot);
            found.crossed = crossed(scene, spot);
        }
        found
    };
    joints.iter().zip(order).map(around).collect()
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

/// Whether another hole that is not about the same centre lies partly in a hole.
fn crossed(scene: &Scene<'_>, spot: usize) -> bool {
    let Spot { stack, view, space, at, drawn, .. } = scene.spots[spot];
    scene.rings.any_within(space, at, drawn / 2.0, |i| {
        let ring = &scene.rings.rings[i];
        let away = ring.center.distance(at);
        let partly = away + drawn / 2.0 > ring.diameter / 2.0 && away + ring.diameter / 2.0 > drawn / 2.0;
        let is_hole = scene.roles[i] == Role::Hole && scene.views.of_ring[i] == view;
        is_hole && ring.stack != stack && partly && away < (drawn + ring.diameter) / 2.0
    })
}

#[cfg(test)]
mod tests {
    use crate::drawing::Stands;
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
        drawing.segments[box_about..].iter_mut().for_each(|s| s.origin.stands = Stands::Hidden);
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
        // A window far larger than the letters in it is none that frames them.
        assert_eq!(with(plate().outline(24.0, 5.0, 60.0, 25.0).text(40.0, 14.0, "R2")), (Some(4.0), true));
        // One that cuts the hole is not understood.
        assert_eq!(with(plate().outline(21.0, 10.0, 31.0, 20.0)), (None, false));
    }

    #[test]
    fn the_rim_of_a_bore_that_shows_another_hole_is_an_edge() {
        // By hand: the bore of 20 about (34, 15) begins at x 24, 4 from the centre at x 20; what stands in it makes it an
        // outline. In a disc of radius 30 the same.
        let with = |sheet: Sheet| {
            let found =
                paired(sheet.circle(34.0, 15.0, 20.0).circle(36.0, 16.0, 3.3).circle(20.0, 15.0, 3.6));
            let around =
                found.surroundings.iter().zip(&found.holes).find(|(_, hole)| hole.at.x == 20.0).unwrap().0;
            (around.edge.map(|l| (l.mm() * 1e4).round() / 1e4), around.cut_out)
        };
        assert_eq!(with(plate()), (Some(4.0), true));
        assert_eq!(with(Sheet::new().circle(30.0, 15.0, 60.0)), (Some(4.0), true));
        // Where a hole like another beside it stands in it, or one crosses its rim, it may be a mark.
        let doubtful = |sheet: Sheet| {
            let found =
                paired(sheet.circle(34.0, 15.0, 20.0).circle(36.0, 16.0, 3.3).circle(20.0, 15.0, 3.6));
            let around =
                found.surroundings.iter().zip(&found.holes).find(|(_, hole)| hole.at.x == 20.0).unwrap().0;
            (around.edge.map(|l| l.mm()), around.edge_unknown.is_some())
        };
        assert_eq!(doubtful(plate().circle(60.0, 15.0, 3.3)), (Some(15.0), true));
        assert_eq!(doubtful(plate().circle(43.0, 15.0, 5.0)), (Some(15.0), true));
        // The ring that marks what a detail enlarges is no bore: A stands at its rim, and the view to the right is the detail.
        let detail = plate()
            .text(45.0, 23.0, "A")
            .outline(150.0, 0.0, 190.0, 40.0)
            .circle(172.0, 17.0, 6.6)
            .text(160.0, -8.0, "DETAIL A")
            .text(160.0, -12.0, "SCALE 2:1");
        assert_eq!(with(detail), (Some(15.0), false));
    }

    #[test]
    fn a_hole_that_another_one_breaks_into_is_crossed() {
        // By hand: radii of 1.8 and 5 about centres 6, 7 and 2 apart; one that touches leaves no metal, but crosses nothing.
        for (x, crossed) in [(26.0, true), (27.0, false), (26.8, false)] {
            let found = paired(plate().circle(20.0, 15.0, 3.6).circle(x, 15.0, 10.0));
            assert_eq!(found.surroundings[0].crossed, crossed, "{x}");
        }
        // A thread about it is its own.
        assert!(!paired(plate().circle(20.0, 15.0, 3.6).circle(20.0, 15.0, 4.0)).surroundings[0].crossed);
    }

    #[test]
    fn a_round_part_is_an_outline_too() {
        // By hand: a disc of radius 30, the hole 24 from its centre: 6 to the edge.
        let sheet = || Sheet::new().circle(0.0, 0.0, 60.0).circle(24.0, 0.0, 3.6).circle(-20.0, 0.0, 3.6);
        assert_eq!(edges(sheet()), [Some(10.0), Some(6.0)]);
        // A window in it begins 4 to the right of one; one that reaches beyond the rim is not of the part.
        assert_eq!(edges(sheet().outline(-16.0, -5.0, 10.0, 5.0)), [Some(4.0), Some(6.0)]);
        assert_eq!(edges(sheet().outline(-23.0, -50.0, -22.0, 50.0)), [Some(10.0), Some(6.0)]);
    }
}
