#![doc = include_str!("holes-too-close.md")]

use std::collections::HashSet;

use foldhash::fast::RandomState;

use super::nearby::Needed;
use super::{Rule, ScrewHole, Subject, sizes, words};
use crate::finding::{Finding, Level};
use crate::near::Near;
use crate::pairing::Hole;
use crate::units::Length;

/// The rule.
pub(super) const RULE: Rule =
    Rule { name: "holes-too-close", level: Level::Warn, text: include_str!("holes-too-close.md"), check };

fn check(subject: &Subject<'_>) -> Vec<Finding> {
    let screws = &subject.screws;
    let Some(neighbours) = Neighbours::of(subject) else { return Vec::new() };
    let mut told: HashSet<_, RandomState> = HashSet::default();
    let mut findings = Vec::new();
    for it in screws.iter().filter(|it| subject.surroundings(it).is_some()) {
        let others = neighbours.near(subject, it).into_iter();
        let close = others.filter_map(|other| too_close(subject, it, screws, other));
        let nearest =
            close.min_by(|a, b| a.distance.mm().total_cmp(&b.distance.mm()).then(a.other.cmp(&b.other)));
        if let Some(close) = nearest
            && told.insert((it.index.min(close.other), it.index.max(close.other)))
        {
            findings.push(close.finding(subject, it));
        }
    }
    findings
}

/// The holes of a drawing by their places.
struct Neighbours {
    discs: Near,
    /// What is needed between the two screw holes that need most.
    spacing: Length,
}

impl Neighbours {
    /// None in a drawing without screw holes.
    fn of(subject: &Subject<'_>) -> Option<Neighbours> {
        let needed = subject.screws.iter().map(|it| it.spacing_needed(it).least);
        let spacing = needed.reduce(Length::max)?;
        let disc = |hole: &Hole| (hole.at, (hole.drawn / 2.0).value_in(subject.unit()));
        Some(Neighbours { discs: Near::new(subject.paired.holes.iter().map(disc)), spacing })
    }

    /// The other holes of its view that may be too near, in their order: no two centres of screws need to be further apart
    /// than the most that is needed anywhere, and no rim further than an edge.
    fn near(&self, subject: &Subject<'_>, it: &ScrewHole<'_>) -> Vec<usize> {
        let reach = it.edge_needed().least.max(self.spacing) * it.hole.view_scale;
        let view = |index: usize| subject.paired.surroundings.get(index).map(|around| around.view);
        let mut near = self.discs.within(it.hole.at, reach.value_in(subject.unit()));
        near.retain(|&other| other != it.index && view(other) == view(it.index));
        near
    }
}

/// Another hole that is too near.
struct Close {
    other: usize,
    /// Between the centres.
    distance: Length,
    needed: Needed,
    /// Whether it is for no screw, so that its rim counts as an edge.
    to_rim: bool,
}

fn too_close(
    subject: &Subject<'_>,
    it: &ScrewHole<'_>,
    screws: &[ScrewHole<'_>],
    other: usize,
) -> Option<Close> {
    let unit = subject.unit();
    let hole: &Hole = subject.paired.holes.get(other)?;
    let true_size = |of: &Hole| of.drawn / of.view_scale;
    let distance = Length::new(it.hole.at.distance(hole.at), unit).ok()? / it.hole.view_scale;
    let radii = (true_size(it.hole) + true_size(hole)) / 2.0;
    if distance < radii {
        // Circles that overlap are no two holes in one face.
        return None;
    }
    let screw = screws.binary_search_by(|screw| screw.index.cmp(&other)).ok().map(|found| &screws[found]);
    let needed = screw.map_or_else(
        || {
            let mut edge = it.edge_needed();
            edge.least = edge.least + true_size(hole) / 2.0;
            edge
        },
        |screw| it.spacing_needed(screw),
    );
    let to_rim = screw.is_none();
    (distance < needed.least - sizes::SAME).then_some(Close { other, distance, needed, to_rim })
}

impl Close {
    fn finding(&self, subject: &Subject<'_>, it: &ScrewHole<'_>) -> Finding {
        let unit = subject.unit();
        let other = &subject.paired.holes[self.other];
        let least = self.needed.least;
        let (distance, needed) = (words::length(self.distance, unit), words::length(least, unit));
        let rule = it.rule(&self.needed) + if self.to_rim { " to its rim" } else { "" };
        let rule = rule.trim_end_matches(',');
        let size = words::diameter(other.drawn / other.view_scale, unit);
        let message = format!(
            "{distance} from centre to centre of {} ({size}); {rule} are needed, which is {needed}",
            other.id
        );
        RULE.at_hole(subject, it.hole, message)
            .with_remedy(format!("move them {} further apart", words::length(least - self.distance, unit)))
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::geometry::Point;
    use crate::joint::{Collar, Row};
    use crate::pairing::Surroundings;
    use crate::rules::scene::{Scene, mm};
    use crate::trade::Thread;

    /// Screw holes at these abscissas, in these views.
    fn scene(places: &[(f64, usize)]) -> Scene {
        let mut scene = Scene::metric();
        for &(x, view) in places {
            let hole = scene.screw_hole(3.6);
            scene.paired.holes[hole].at = Point::new(x, 0.0);
            scene.paired.surroundings.push(Surroundings { view, ..Surroundings::default() });
        }
        scene
    }

    #[test]
    fn a_pair_nearer_than_three_diameters_is_told_once() {
        // M4: three times 4 is 12.
        assert_eq!(
            scene(&[(0.0, 0), (10.0, 0)]).messages(&RULE),
            ["10 mm from centre to centre of H2 (Ø3.6); 3 diameters are needed, which is 12 mm"]
        );
        assert_eq!(scene(&[(0.0, 0), (12.0, 0)]).run(&RULE), []);
    }

    #[test]
    fn holes_of_other_views_and_overlapping_circles_are_no_neighbours() {
        assert_eq!(scene(&[(0.0, 0), (10.0, 1)]).run(&RULE), []);
        assert_eq!(scene(&[(0.0, 0), (2.0, 0)]).run(&RULE), []);
        let mut enlarged = scene(&[(0.0, 0), (20.0, 0)]);
        for hole in &mut enlarged.paired.holes {
            // Twice as large on the paper: 20 is 10.
            hole.view_scale = 2.0;
            hole.drawn = hole.drawn * 2.0;
        }
        assert_eq!(enlarged.run(&RULE).len(), 1);
    }

    #[test]
    fn collars_want_six_thicknesses_between_them() {
        // By hand: 6 × 2.5 = 15, more than 3 × 4; beside a hole without a collar 12 hold.
        let collared = |distance, both: bool| {
            let mut scene = scene(&[(0.0, 0), (distance, 0)]);
            for hole in &mut scene.paired.holes {
                hole.making.thickness = Some(mm(2.5));
            }
            let collar = Some(Collar { height: mm(1.0), ..Collar::default() });
            scene.row(Row { collar, ..Row::default() }, if both { &[0, 1] } else { &[0] });
            scene
        };
        assert_eq!(
            collared(13.0, true).messages(&RULE),
            [
                "13 mm from centre to centre of H2 (Ø3.6); six thicknesses of the sheet between collars are needed, \
              which is 15 mm"
            ]
        );
        assert_eq!((collared(15.0, true).run(&RULE), collared(13.0, false).run(&RULE)), (vec![], vec![]));
    }

    #[test]
    fn the_rim_of_another_hole_is_an_edge() {
        // 1.5 times 4 and a radius of 5: 11, and 56 with one of 50, by hand.
        for (diameter, distance, found) in
            [(10.0, 10.5, 1), (10.0, 11.0, 0), (100.0, 55.0, 1), (100.0, 56.0, 0)]
        {
            let mut scene = scene(&[(0.0, 0)]);
            let other = scene.hole(diameter);
            scene.paired.holes[other].at = Point::new(distance, 0.0);
            scene.paired.surroundings.push(Surroundings::default());
            assert_eq!(scene.run(&RULE).len(), found, "{diameter} {distance}");
        }
    }

    #[test]
    fn what_a_larger_screw_needs_is_seen_from_the_smaller_one() {
        // Three times 10 is 30, by hand; the other one is not drawn to scale, and says nothing of its own.
        for (distance, found) in [(29.0, 1), (30.0, 0)] {
            let mut scene = scene(&[(0.0, 0), (distance, 0)]);
            let other = &mut scene.paired.holes[1];
            other.screw.as_mut().unwrap().thread = Thread::parse("M10").unwrap();
            other.drawn = mm(9.2);
            assert_eq!(scene.run(&RULE).len(), found, "{distance}");
        }
    }
}
