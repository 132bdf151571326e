//! Drawings for the benches, made here from a seed: sheets of parts with holes, outlines, callouts, dimensions and
//! notes, as text or binary, as R12 or R2018. Not a test of what is read: only a plausible load.

mod content;
mod entities;
mod pairs;

pub(crate) use content::drawing;
pub(crate) use pairs::Form;

/// The middle of some durations, in seconds; `values` is not empty.
pub(crate) fn median(mut values: Vec<f64>) -> f64 {
    values.sort_by(f64::total_cmp);
    values[values.len() / 2]
}

/// Numbers that look drawn, the same for a seed everywhere.
struct Random(u64);

impl Random {
    fn unit(&mut self) -> f64 {
        // Constants of the 64-bit linear generator of Knuth's MMIX.
        self.0 = self.0.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1_442_695_040_888_963_407);
        (self.0 >> 11) as f64 / (1_u64 << 53) as f64
    }

    /// A number with three decimals, as drafters draw.
    fn within(&mut self, low: f64, high: f64) -> f64 {
        ((low + (high - low) * self.unit()) * 1e3).round() / 1e3
    }

    fn below(&mut self, count: usize) -> usize {
        (self.unit() * count as f64) as usize
    }
}
