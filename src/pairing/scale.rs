//! The scale of each view: drawn over true size, from dimensions' factors and from callouts on their circles.

use super::anchors::Anchors;
use super::rings::Rings;
use super::texts::{Carrier, Statement};
use super::unit::Units;
use super::views::Views;
use crate::drawing::{Dimension, DimensionKind, Drawing};

/// Ratios nearer to 1 than this are wrong sizes and no scale: no drawing is made at 1:1.1.
const LEAST_FACTOR: f64 = 1.3;

/// A ratio of drawn over true size, and how many witnesses it is worth.
type Sample = (f64, u32);

/// The scale of each view; 1 where nothing says another.
pub(super) fn find(
    drawing: &Drawing,
    rings: &Rings,
    views: &Views,
    statements: &[Statement],
    anchors: &Anchors,
    units: &Units,
) -> Vec<f64> {
    let mut samples: Vec<Vec<Sample>> = vec![Vec::new(); views.views.len()];
    for (s, statement) in statements.iter().enumerate() {
        let Some(anchor) = anchors.of[s].first().filter(|a| a.cost < 0.5) else { continue };
        let measured =
            matches!(statement.carrier, Carrier::Dimension(d) if shows_measure(&drawing.dimensions[d]));
        if let Some(called) = statement.called().map(|q| units.in_drawing(q)).filter(|_| !measured) {
            let ratio = rings.rings[anchor.ring].diameter / called;
            samples[views.of_ring[anchor.ring]].push((ratio, 1));
        }
    }
    let margin = 10.0 * super::texts::usual_height(drawing);
    let stated = units.stated.in_mm() / units.reading.unit.in_mm();
    for d in drawing.dimensions.iter().filter(|d| d.origin.visible && d.length_factor > 0.0) {
        let lengths = !matches!(d.kind, DimensionKind::Angular | DimensionKind::Ordinate);
        let view = d.points.first().and_then(|&p| views.holding(d.origin.space, p, margin));
        if let (true, Some(v)) = (lengths && shows_measure(d), view) {
            // Nobody sets a factor by accident, so one that is not 1 counts twice.
            let ratio = 1.0 / (d.length_factor * stated);
            samples[v].push((ratio, if near(ratio, 1.0) { 1 } else { 2 }));
        }
    }
    let notes: Vec<f64> = statements.iter().filter_map(|s| s.note.scale).filter(|s| *s > 0.0).collect();
    samples.iter().map(|s| agreed(s, &notes)).collect()
}

/// Whether a dimension shows what it measures, and not a number typed over it.
fn shows_measure(d: &Dimension) -> bool {
    d.text.as_ref().is_none_or(|t| t.contains("<>"))
}

fn near(a: f64, b: f64) -> bool {
    (a - b).abs() <= 0.01 * a.max(b)
}

/// The ratio that most samples share, if two witnesses do or a note confirms the only one.
fn agreed(samples: &[Sample], notes: &[f64]) -> f64 {
    let mut best = (0, 1.0);
    for &(candidate, _) in samples.iter().filter(|s| s.0.is_finite() && s.0 > 0.0) {
        let votes: u32 = samples.iter().filter(|s| near(s.0, candidate)).map(|s| s.1).sum();
        let confirmed = votes >= 2 || notes.iter().any(|n| near(*n, candidate));
        let far_from_one = candidate >= LEAST_FACTOR || candidate <= 1.0 / LEAST_FACTOR;
        // Of equal votes the one nearer to full size wins, whatever the order.
        let nearer = votes == best.0 && candidate.ln().abs() < f64::ln(best.1).abs();
        if near(candidate, 1.0) && (votes > best.0 || nearer) {
            best = (votes, 1.0);
        } else if far_from_one && confirmed && (votes > best.0 || nearer) {
            best = (votes, candidate);
        }
    }
    let same: Vec<f64> = samples.iter().map(|s| s.0).filter(|s| near(*s, best.1)).collect();
    if best.1 == 1.0 { 1.0 } else { median(same).unwrap_or(1.0) }
}

fn median(mut values: Vec<f64>) -> Option<f64> {
    values.sort_by(f64::total_cmp);
    values.get(values.len() / 2).copied()
}

#[cfg(test)]
mod tests {
    use super::*;

    // Expected values by hand from the rule above.
    #[test]
    fn two_that_agree_make_a_scale_and_one_alone_does_not() {
        assert!((agreed(&[(0.5, 1), (0.501, 1)], &[]) - 0.5).abs() < 0.002);
        assert_eq!(agreed(&[(0.5, 1)], &[]), 1.0);
        assert_eq!(agreed(&[(0.5, 1)], &[0.5]), 0.5);
        assert_eq!(agreed(&[(1.0, 1), (0.5, 1), (1.0, 1), (0.5, 1)], &[]), 1.0);
    }

    #[test]
    fn a_size_drawn_a_little_wrong_twice_is_no_scale() {
        assert_eq!(agreed(&[(0.917, 1), (0.917, 1)], &[]), 1.0);
    }
}
