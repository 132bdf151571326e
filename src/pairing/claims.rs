//! Holes that a callout speaks of and that another callout took. Decides nothing about which of them is right.

use super::assign::Assignment;
use super::scale::shows_measure;
use super::scene::Scene;
use super::texts::Carrier;
use super::{Claim, joints};

/// The claims of a candidate, by the numbers of the holes.
pub(super) fn of(
    scene: &Scene<'_>,
    assignment: &Assignment,
    candidate: usize,
    number_of: &[usize],
) -> Vec<Claim> {
    let taken_from_it =
        |spot: usize| assignment.taken[spot].as_ref().is_some_and(|t| t.candidate != candidate);
    let own = &assignment.candidates[candidate];
    let lost = own.edges.iter().filter(|edge| edge.speaks_surely() && taken_from_it(edge.spot));
    let callout = &scene.statements[own.statement].callout;
    lost.map(|edge| Claim { hole: number_of[edge.spot], size: joints::called(scene, callout) }).collect()
}

/// Whether a candidate is a dimension whose number is what it measures, as its style rounds it.
pub(super) fn is_measured(scene: &Scene<'_>, assignment: &Assignment, candidate: usize) -> bool {
    let statement = assignment.candidates[candidate].statement;
    matches!(scene.statements[statement].carrier, Carrier::Dimension(d) if shows_measure(&scene.drawing.dimensions[d]))
}

#[cfg(test)]
mod tests {
    use crate::joint::Defaults;
    use crate::pairing::pair;
    use crate::pairing::testing::Sheet;

    #[test]
    fn of_two_callouts_at_one_hole_one_takes_it_and_the_other_claims_it() {
        let sheet = Sheet::new()
            .circle(20.0, 30.0, 3.6)
            .circle(80.0, 30.0, 3.6)
            .leader((21.8, 30.0), (35.0, 70.0), "Ø3.6")
            .leader((20.0, 31.8), (-9.0, 70.0), "Ø3.3");
        let paired = pair(&sheet.drawing(), None, &Defaults::default());
        let claims = |text: &str| {
            let seen = paired.callouts.iter().find(|seen| seen.callout.text == text).unwrap();
            let size = |size: &Option<crate::joint::StatedSize>| size.as_ref().unwrap().nominal.unwrap().mm();
            let holes = |hole: usize| paired.holes[hole].at.x;
            seen.claims.iter().map(|claim| (holes(claim.hole), size(&claim.size))).collect::<Vec<_>>()
        };
        assert_eq!(claims("Ø3.6"), []);
        assert_eq!(claims("Ø3.3"), [(20.0, 3.3)]);
    }

    #[test]
    fn a_row_of_a_table_claims_the_hole_that_has_its_tag() {
        let mut sheet = Sheet::new()
            .circle(20.0, 30.0, 3.6)
            .text(22.3, 31.0, "A1")
            .leader((18.2, 30.0), (5.0, 70.0), "Ø3.6")
            .outline(150.0, 30.0, 190.0, 50.0)
            .line(150.0, 40.0, 190.0, 40.0)
            .line(170.0, 30.0, 170.0, 50.0);
        for (x, y, cell) in
            [(152.0, 42.0, "TAG"), (172.0, 42.0, "SIZE"), (152.0, 32.0, "A1"), (172.0, 32.0, "Ø3.3")]
        {
            sheet = sheet.text(x, y, cell);
        }
        let paired = pair(&sheet.drawing(), None, &Defaults::default());
        let claims: Vec<usize> = paired.callouts.iter().map(|seen| seen.claims.len()).collect();
        assert_eq!(paired.callouts.iter().map(|seen| seen.holes.len()).collect::<Vec<_>>(), [1, 0]);
        assert_eq!(claims, [0, 1]);
    }
}
