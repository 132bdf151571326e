//! What a raw confidence is worth: the share of pairs with it that were right on generated drawings with known truth.
//! A monotone map; the raw value is made by `confidence`.

use std::sync::OnceLock;

/// Our own measurement: raw value, share of right pairs, and how many pairs it rests on. Fitted by
/// `tests/sheets/calibrate.py` on careful and careless generated drawings together.
const TABLE: &str = include_str!("confidence.csv");

/// The calibrated confidence, between the knots of the table by straight lines.
pub(super) fn calibrated(raw: f64) -> f64 {
    let knots = knots();
    let after = knots.partition_point(|k| k.0 <= raw);
    match (after.checked_sub(1).and_then(|i| knots.get(i)), knots.get(after)) {
        (Some(a), Some(b)) => a.1 + (b.1 - a.1) * (raw - a.0) / (b.0 - a.0),
        (Some(a), None) => a.1,
        _ => raw,
    }
}

fn knots() -> &'static [(f64, f64)] {
    static KNOTS: OnceLock<Vec<(f64, f64)>> = OnceLock::new();
    KNOTS.get_or_init(|| {
        let mut reader = csv::Reader::from_reader(TABLE.as_bytes());
        reader
            .deserialize::<(f64, f64, u32)>()
            .filter_map(Result::ok)
            .map(|(raw, said, _)| (raw, said))
            .collect()
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_row_is_a_knot_and_they_rise() {
        assert_eq!(knots().len(), TABLE.lines().count() - 1);
        assert!(knots().windows(2).all(|w| w[0].0 < w[1].0 && w[0].1 < w[1].1), "{:?}", knots());
        let (first, last) = (knots()[0], knots()[knots().len() - 1]);
        assert_eq!((first, last.0), ((0.0, 0.0), 1.0));
        // Nothing that was measured on finitely many pairs is certain.
        assert!(last.1 < 0.995);
    }

    #[test]
    fn it_goes_through_its_knots_and_straight_between_them() {
        for &(raw, said) in knots() {
            assert!((calibrated(raw) - said).abs() < 1e-12);
        }
        let (a, b) = (knots()[1], knots()[2]);
        let half = calibrated(f64::midpoint(a.0, b.0));
        assert!((half - f64::midpoint(a.1, b.1)).abs() < 1e-12);
    }
}
