//! Shares of a normal distribution: how many of the holes that a process makes are too small or too large.
//! An estimate for planning; it says nothing of a single hole.

use crate::statistics::normal_share_below;
use crate::units::Length;

/// Shares of holes below and above two limits, 0 to 1.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Shares {
    /// Smaller than the lower limit.
    pub below: f64,
    /// Larger than the upper limit.
    pub above: f64,
}

impl Shares {
    /// Both tails together.
    pub fn outside(&self) -> f64 {
        self.below + self.above
    }
}

/// The expected shares of normally distributed diameters outside two limits. With no spread (`sd` zero or less)
/// every hole has the mean size. Validity: a process in control whose diameters are normal; the mean and the
/// standard deviation are taken as known, not as estimated from few parts.
///
/// ```
/// use boreband::trade::shares_outside;
/// use boreband::units::Length;
/// let mm = |v| Length::from_mm(v).unwrap();
/// let shares = shares_outside(mm(3.6), mm(0.02), mm(3.56), mm(3.64));
/// assert!((shares.outside() - 0.045500).abs() < 1e-6); // ± 2 sd: 4.55 %, table of the normal distribution
/// ```
pub fn shares_outside(mean: Length, sd: Length, lower: Length, upper: Length) -> Shares {
    if sd <= Length::ZERO {
        let all_if = |outside: bool| if outside { 1.0 } else { 0.0 };
        return Shares { below: all_if(mean < lower), above: all_if(mean > upper) };
    }
    Shares { below: normal_share_below((lower - mean) / sd), above: normal_share_below((mean - upper) / sd) }
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    fn mm(value: f64) -> Length {
        Length::from_mm(value).expect("finite")
    }

    #[test]
    fn without_spread_every_hole_is_the_mean() {
        let shares = shares_outside(mm(3.7), Length::ZERO, mm(3.5), mm(3.6));
        assert_eq!((shares.below, shares.above, shares.outside()), (0.0, 1.0, 1.0));
        assert_eq!(shares_outside(mm(3.55), Length::ZERO, mm(3.5), mm(3.6)).outside(), 0.0);
    }

    proptest! {
        #[test]
        fn a_wider_band_never_loses_more_holes(
            mean in 3.0..4.0f64, sd in 0.001..0.2f64, low in 3.0..3.5f64, wide in 0.0..0.5f64, more in 0.0..0.2f64,
        ) {
            let narrow = shares_outside(mm(mean), mm(sd), mm(low), mm(low + wide));
            let wider = shares_outside(mm(mean), mm(sd), mm(low - more), mm(low + wide + more));
            prop_assert!(wider.outside() <= narrow.outside() + 1e-12);
            prop_assert!((0.0..=1.0 + 1e-12).contains(&narrow.outside()));
        }
    }
}
