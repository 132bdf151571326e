//! Student's t distribution, central and not, and the one-sided tolerance factors that come from it.

use super::normal::{normal_quantile, normal_share_below};

/// Fewest and most steps of Simpson's rule over the density of the sample's spread; both even.
const STEPS: (f64, f64) = (1200.0, 120_000.0);
/// Steps over the width of the climb of the normal share, which narrows as `t` grows.
const STEPS_A_CLIMB: f64 = 8.0;

/// Share of a noncentral t population below `t`: `(Z + shift) / S`, with Z standard normal and S² the mean of
/// `freedom` squares of such.
///
/// Integrated over the density of S, which needs no series that fails for large shifts. `freedom` from 1 up; the
/// absolute error is below 1e-9.
pub fn noncentral_t_share_below(t: f64, freedom: f64, shift: f64) -> f64 {
    // The density of S is proportional to s^(freedom-1) e^(-freedom s²/2); dividing by its own sum takes the
    // constant away, and by its greatest value the overflow.
    let mode = ((freedom - 1.0) / freedom).max(0.0).sqrt();
    let log_density = |s: f64| {
        let power = if freedom > 1.0 { (freedom - 1.0) * s.ln() } else { 0.0 };
        power - 0.5 * freedom * s * s
    };
    let greatest = if mode > 0.0 { log_density(mode) } else { 0.0 };
    let reach = 12.0 / (2.0 * freedom).sqrt();
    let (low, high) = ((mode - reach).max(0.0), mode + reach);
    // The share climbs from 0 to 1 within about 1/t: one step across it would miss it, as it once did for two values.
    let steps = (STEPS_A_CLIMB * t.abs() * (high - low)).clamp(STEPS.0, STEPS.1) as u32 / 2 * 2;
    let width = (high - low) / f64::from(steps);
    let (mut all, mut below) = (0.0, 0.0);
    for k in 0..=steps {
        let s = low + width * f64::from(k);
        let density = if s == 0.0 && freedom > 1.0 { 0.0 } else { (log_density(s) - greatest).exp() };
        let end = k == 0 || k == steps;
        let weight = if end { 1.0 } else { f64::from(2 + 2 * (k % 2)) };
        all += weight * density;
        below += weight * density * normal_share_below(t * s - shift);
    }
    below / all
}

/// The one-sided tolerance factor k for a normal population: with `confidence`, at least a share `coverage` of it
/// lies below the mean of a sample plus k times the sample's standard deviation.
///
/// `count` is the size of the sample, from 2 up; `confidence` and `coverage` from 0.5 to below 1. From the noncentral
/// t distribution with `count - 1` degrees of freedom and the shift `z(coverage) √count`; the relative error is below
/// 1e-6. NaN for anything outside of these limits.
///
/// ```
/// use boreband::statistics::tolerance_factor;
/// // Computed with scipy: 95 % confidence, 99 % coverage.
/// assert!((tolerance_factor(10, 0.95, 0.99) - 3.981).abs() < 5e-4);
/// ```
pub fn tolerance_factor(count: usize, confidence: f64, coverage: f64) -> f64 {
    let possible = 0.5..1.0;
    if count < 2 || !possible.contains(&confidence) || !possible.contains(&coverage) {
        return f64::NAN;
    }
    let root = (count as f64).sqrt();
    let freedom = (count - 1) as f64;
    let shift = normal_quantile(coverage) * root;
    let share = |k: f64| noncentral_t_share_below(k * root, freedom, shift);
    let (mut low, mut high) = (0.0, 1.0);
    while share(high) < confidence {
        low = high;
        high *= 2.0;
        if high > 1e9 {
            return f64::NAN;
        }
    }
    // Secants through both ends, with the weight of an end that stays put halved so that it moves next time.
    let (mut at_low, mut at_high) = (share(low) - confidence, share(high) - confidence);
    for _ in 0..200 {
        let k = (low * at_high - high * at_low) / (at_high - at_low);
        let off = share(k) - confidence;
        if off.abs() < 1e-12 || high - low < 1e-10 * high {
            return k;
        }
        if off < 0.0 {
            (low, at_low) = (k, off);
            at_high /= 2.0;
        } else {
            (high, at_high) = (k, off);
            at_low /= 2.0;
        }
    }
    f64::midpoint(low, high)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn factors_are_those_computed_elsewhere() {
        // 95 % confidence, 99 % coverage, computed with scipy (checks C133, C135, C136 and the table beside them).
        for (count, factor) in [(5, 5.741), (10, 3.981), (20, 3.295), (30, 3.064)] {
            let found = tolerance_factor(count, 0.95, 0.99);
            assert!((found - factor).abs() < 1e-3, "{count}: {found}");
        }
        // Others, computed with scipy's noncentral t.
        for (count, confidence, coverage, factor) in [
            (2, 0.95, 0.99, 37.093_581_456),
            (2, 0.99, 0.999, 246.557_468_779),
            (43, 0.99, 0.90, 1.873_953_606),
            (300, 0.90, 0.999, 3.279_539_118),
        ] {
            let found = tolerance_factor(count, confidence, coverage);
            assert!((found / factor - 1.0).abs() < 1e-6, "{count}: {found}");
        }
    }

    #[test]
    fn the_least_and_a_large_sample_have_factors_too() {
        // Two values leave one degree of freedom, whose t is the Cauchy distribution when not shifted: the factor for
        // half of the population is tan(0.45 π) / √2, by hand.
        let by_hand = (0.45 * std::f64::consts::PI).tan() / 2f64.sqrt();
        assert!((tolerance_factor(2, 0.95, 0.5) / by_hand - 1.0).abs() < 1e-6);
        // A very large sample knows the population: z(0.99).
        assert!((tolerance_factor(4_000_000, 0.95, 0.99) - 2.326_35).abs() < 3e-3);
        assert!(tolerance_factor(1, 0.95, 0.99).is_nan() && tolerance_factor(5, 0.95, 1.0).is_nan());
    }

    #[test]
    fn more_values_and_less_confidence_ask_for_less() {
        for count in [2, 3, 5, 9, 30, 80] {
            assert!(tolerance_factor(count + 1, 0.95, 0.99) < tolerance_factor(count, 0.95, 0.99));
            assert!(tolerance_factor(count, 0.90, 0.99) < tolerance_factor(count, 0.95, 0.99));
        }
    }

    #[test]
    fn the_central_t_agrees_with_published_tables() {
        // Student's t: 12.706 (1 degree of freedom) and 2.228 (10) leave 2.5 % above.
        for (freedom, t) in [(1.0, 12.706), (10.0, 2.228)] {
            assert!((noncentral_t_share_below(t, freedom, 0.0) - 0.975).abs() < 2e-5, "{freedom}");
        }
    }
}
