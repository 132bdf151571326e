//! Drawings for the benches, made here from a seed: plates with holes, outlines, hatches, splines, callouts and
//! dimensions, as text or binary, as R12 or R2018. Not a test of what is read: only a plausible load.

mod content;
mod pairs;

pub(crate) use content::drawing;
pub(crate) use pairs::Form;

/// The middle of some durations, in seconds; `values` is not empty.
pub(crate) fn median(mut values: Vec<f64>) -> f64 {
    values.sort_by(f64::total_cmp);
    values[values.len() / 2]
}
