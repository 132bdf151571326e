//! How the engagement of screw holes lies against their bands, by thread.

use std::collections::BTreeMap;

use schemars::JsonSchema;
use serde::Serialize;

use crate::ledger::Entry;

/// Width of a bin (percent, rolled).
pub const BIN_WIDTH: f64 = 10.0;
/// Number of bins: from 0 to 200 percent; less stands in the first, more in the last.
pub const BINS: usize = 20;

/// The engagement of the screw holes of one thread.
#[derive(Debug, Clone, PartialEq, Serialize, JsonSchema)]
pub struct Engagement {
    /// The thread.
    pub thread: String,
    /// Screw holes by rolled engagement at their nominal size, in bins of 10 percent from 0; what is less than 0 stands in
    /// the first, what is 200 or more in the last.
    pub holes: [u64; BINS],
    /// Of these, those outside their band by their verdict (tight or loose), by the same bins.
    pub outside: [u64; BINS],
    /// Of these, those in their band by their verdict, by the same bins. The rest straddles an end of its band or is not
    /// known to be in it.
    pub in_band: [u64; BINS],
    /// Least engagement that any of their bands allows, and the greatest (percent); none where no band is known.
    pub bands: Option<(f64, f64)>,
}

/// Histograms in the making.
#[derive(Debug, Default)]
pub(super) struct Tables(BTreeMap<String, Engagement>);

impl Tables {
    pub(super) fn add(&mut self, entry: &Entry) {
        for holes in &entry.screw_holes {
            let Some(engagement) = holes.engagement else { continue };
            let of_thread = self.0.entry(holes.thread.clone()).or_insert_with(|| Engagement {
                thread: holes.thread.clone(),
                holes: [0; BINS],
                outside: [0; BINS],
                in_band: [0; BINS],
                bands: None,
            });
            // A cast keeps within the range of the type.
            let bin = ((engagement / BIN_WIDTH) as usize).min(BINS - 1);
            of_thread.holes[bin] += holes.count;
            match holes.verdict.as_deref() {
                Some("tight" | "loose") => of_thread.outside[bin] += holes.count,
                Some("in-band") => of_thread.in_band[bin] += holes.count,
                _ => {}
            }
            if let Some((min, max)) = holes.band {
                let (low, high) = of_thread.bands.unwrap_or((min, max));
                of_thread.bands = Some((low.min(min), high.max(max)));
            }
        }
    }

    /// Those of the most holes first.
    pub(super) fn finish(self) -> Vec<Engagement> {
        let mut all: Vec<Engagement> = self.0.into_values().collect();
        let count = |one: &Engagement| one.holes.iter().sum::<u64>();
        all.sort_by(|a, b| count(b).cmp(&count(a)).then_with(|| a.thread.cmp(&b.thread)));
        all
    }
}
