//! The normal distribution.

use std::f64::consts::{FRAC_1_SQRT_2, PI};

/// Share of a standard normal population below `z`. Absolute error below 1e-15, relative error below 1e-12 in the
/// lower tail.
///
/// ```
/// use boreband::statistics::normal_share_below;
/// // Published tables: 97.5 % below 1.959964.
/// assert!((normal_share_below(1.959_964) - 0.975).abs() < 1e-8);
/// ```
pub fn normal_share_below(z: f64) -> f64 {
    0.5 * erfc(-z * FRAC_1_SQRT_2)
}

/// The value that a share of a standard normal population lies below. Shares of 0 and less give negative infinity,
/// of 1 and more infinity.
pub fn normal_quantile(share: f64) -> f64 {
    if share <= 0.0 {
        return f64::NEG_INFINITY;
    }
    if share >= 1.0 {
        return f64::INFINITY;
    }
    // Newton's steps held inside a bracket: the tail probability below -39 is less than any double.
    let (mut low, mut high) = (-40.0, 40.0);
    let mut z: f64 = 0.0;
    for _ in 0..200 {
        let off = normal_share_below(z) - share;
        if off > 0.0 {
            high = z
        } else {
            low = z
        }
        let density = (-0.5 * z * z).exp() / (2.0 * PI).sqrt();
        let step = z - off / density;
        let next = if step > low && step < high { step } else { f64::midpoint(low, high) };
        if (next - z).abs() <= 1e-15 * (1.0 + z.abs()) {
            return next;
        }
        z = next;
    }
    z
}

/// The complementary error function: its power series near 0, its continued fraction beyond.
fn erfc(x: f64) -> f64 {
    if x < 0.0 {
        return 2.0 - erfc(-x);
    }
    if x < 2.5 { 1.0 - erf_series(x) } else { erfc_fraction(x) }
}

/// `2/√π e^(-x²) Σ 2^k x^(2k+1) / (1·3·…·(2k+1))`, whose terms are all of one sign.
fn erf_series(x: f64) -> f64 {
    let mut term = x;
    let mut sum = x;
    let mut k = 0.0;
    while term > 1e-18 * sum {
        k += 1.0;
        term *= 2.0 * x * x / (2.0 * k + 1.0);
        sum += term;
    }
    2.0 / PI.sqrt() * (-x * x).exp() * sum
}

/// `e^(-x²)/√π · 1/(x + (1/2)/(x + 1/(x + (3/2)/(x + …))))`, from the inside out.
fn erfc_fraction(x: f64) -> f64 {
    let mut inner = x;
    for k in (1..=60).rev() {
        inner = x + 0.5 * f64::from(k) / inner;
    }
    (-x * x).exp() / (PI.sqrt() * inner)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn agrees_with_published_tables() {
        // Handbook tables of the normal distribution, 15 digits where they give them.
        for (z, share) in [
            (0.0, 0.5),
            (1.0, 0.841_344_746_068_543),
            (2.0, 0.977_249_868_051_821),
            (3.0, 0.998_650_101_968_370),
            (-3.0, 0.001_349_898_031_630),
            (-5.0, 2.866_515_718_791_9e-7),
        ] {
            let found = normal_share_below(z);
            assert!((found - share).abs() < 1e-14, "{z}: {found}");
        }
        assert!((normal_share_below(-5.0) / 2.866_515_718_791_9e-7 - 1.0).abs() < 1e-12);
        assert!((normal_quantile(0.99) - 2.326_347_874_040_84).abs() < 1e-13);
        assert!((normal_quantile(0.95) - 1.644_853_626_951_47).abs() < 1e-13);
    }

    #[test]
    fn both_ways_agree_where_they_meet_and_quantiles_lead_back() {
        assert!((1.0 - erf_series(2.5) - erfc_fraction(2.5)).abs() < 1e-15);
        for share in [1e-12, 1e-3, 0.2, 0.5, 0.9, 0.999_999] {
            let back = normal_share_below(normal_quantile(share));
            assert!((back / share - 1.0).abs() < 1e-11, "{share}: {back}");
        }
        assert_eq!((normal_quantile(0.0), normal_quantile(1.0)), (f64::NEG_INFINITY, f64::INFINITY));
    }
}
