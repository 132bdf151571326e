//! Means, spreads and statistical limits of small samples from a normal population. Knows nothing of torques; decides
//! nothing.

mod normal;
mod student;

pub use normal::{normal_quantile, normal_share_below};
pub use student::{noncentral_t_share_below, tolerance_factor};

/// A sample: how many, their mean and their standard deviation.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Sample {
    /// How many values.
    pub count: usize,
    /// Their mean, in the unit of the values.
    pub mean: f64,
    /// Their standard deviation with `count - 1` in the divisor, in the unit of the values.
    pub sd: f64,
}

impl Sample {
    /// The sample of these values; none for fewer than two values, which have no spread, and for values that are not
    /// finite.
    ///
    /// ```
    /// use boreband::statistics::Sample;
    /// let sample = Sample::of(&[2.0, 4.0, 4.0, 6.0]).unwrap();
    /// // By hand: mean 16/4, deviations 4 + 0 + 0 + 4 = 8, 8/3 under the root.
    /// assert_eq!((sample.count, sample.mean), (4, 4.0));
    /// assert!((sample.sd - (8.0_f64 / 3.0).sqrt()).abs() < 1e-15);
    /// assert!(Sample::of(&[2.0]).is_none());
    /// ```
    pub fn of(values: &[f64]) -> Option<Sample> {
        let count = values.len();
        if count < 2 {
            return None;
        }
        let mean = values.iter().sum::<f64>() / count as f64;
        let squares: f64 = values.iter().map(|v| (v - mean) * (v - mean)).sum();
        let sd = (squares / (count - 1) as f64).sqrt();
        (mean.is_finite() && sd.is_finite()).then_some(Sample { count, mean, sd })
    }

    /// The share of further values that lie below `limit`, as far as this sample can tell: the prediction for one more
    /// value, which allows for mean and spread being known from `count` values only (Student's t with `count - 1`
    /// degrees of freedom). A sample without spread gives 0, ½ or 1.
    pub fn share_below(&self, limit: f64) -> f64 {
        let away = limit - self.mean;
        if self.sd == 0.0 {
            return if away == 0.0 { 0.5 } else { f64::from(u8::from(away > 0.0)) };
        }
        let n = self.count as f64;
        noncentral_t_share_below(away / (self.sd * (1.0 + 1.0 / n).sqrt()), n - 1.0, 0.0)
    }

    /// The limit that, with `confidence`, at least a share `coverage` of all values lies below.
    pub fn upper_limit(&self, confidence: f64, coverage: f64) -> f64 {
        self.mean + tolerance_factor(self.count, confidence, coverage) * self.sd
    }

    /// The limit that, with `confidence`, at least a share `coverage` of all values lies above.
    pub fn lower_limit(&self, confidence: f64, coverage: f64) -> f64 {
        self.mean - tolerance_factor(self.count, confidence, coverage) * self.sd
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn limits_of_the_worked_example() {
        // Worked by hand with the factor 3.064 for 30 values (95 % confidence, 99 % coverage; computed with scipy):
        // drive 30 ± 2 gives 36.1, strip 120 ± 6 gives 101.6.
        let drive = Sample { count: 30, mean: 30.0, sd: 2.0 };
        let strip = Sample { count: 30, mean: 120.0, sd: 6.0 };
        assert!((drive.upper_limit(0.95, 0.99) - 36.13).abs() < 0.005);
        assert!((strip.lower_limit(0.95, 0.99) - 101.62).abs() < 0.005);
    }

    #[test]
    fn a_share_allows_for_the_size_of_the_sample() {
        // Student's t, published tables: with 4 degrees of freedom 2.132 leaves 5 % above, with 29 it is 1.699.
        for (count, t) in [(5, 2.132), (30, 1.699)] {
            let sample = Sample { count, mean: 10.0, sd: 1.0 };
            let limit = 10.0 + t * (1.0 + 1.0 / count as f64).sqrt();
            assert!((1.0 - sample.share_below(limit) - 0.05).abs() < 5e-5, "{count}");
        }
        let flat = Sample { count: 3, mean: 10.0, sd: 0.0 };
        assert_eq!([9.0, 10.0, 11.0].map(|l| flat.share_below(l)), [0.0, 0.5, 1.0]);
    }
}
