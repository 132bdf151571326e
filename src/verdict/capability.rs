//! The share of holes that a process is expected to make outside the band. Stands beside the worst-case verdict and
//! never instead of it.

use super::{HoleBand, coating};
use crate::joint::Making;
use crate::practice::Practice;
use crate::trade::{Process, Shares, process_typical, shares_outside};
use crate::units::{Length, Unit};

/// Expected shares of holes outside the band.
#[derive(Debug, Clone, PartialEq)]
pub struct Capability {
    /// Mean diameter, as the hole is stated (before coating if the size is).
    pub mean: Length,
    /// Standard deviation.
    pub sd: Length,
    /// Whether both were measured; else they are the process's typical ones.
    pub measured: bool,
    /// Where they come from, for people.
    pub source: String,
    /// Shares too small (tight) and too large (loose), 0 to 1.
    pub shares: Shares,
}

impl Capability {
    /// The shares for measured diameters, else for what the process typically holds about the nominal; none where
    /// neither is known. Where it is not said
    /// when the size of a coated hole holds, the greater share of both.
    pub(crate) fn of(
        measured: Option<(Length, Length)>,
        making: &Making,
        nominal: Length,
        unit: Unit,
        band: &HoleBand,
        practice: &Practice,
    ) -> Option<Capability> {
        let typical = || {
            let process = making.process?;
            let own = practice.capability_of(process);
            own.map(|row| (nominal + row.offset, row.sd, row.origin.words()))
                .or_else(|| typical(process, making, nominal, unit))
        };
        let (mean, sd, source) = match measured {
            Some((mean, sd)) => (mean, sd, "measured".to_owned()),
            None => typical()?,
        };
        let (least, most) = coating::takes(making.coating);
        let [one, other] =
            [least, most].map(|takes| shares_outside(mean, sd, band.hole_min + takes, band.hole_max + takes));
        let shares = if other.outside() > one.outside() { other } else { one };
        Some(Capability { mean, sd, measured: measured.is_some(), source, shares })
    }
}

/// Mean and standard deviation that a process's typical limits stand for: their middle, and a sixth of their width,
/// because limits that a process holds are commonly three standard deviations from its mean.
fn typical(
    process: Process,
    making: &Making,
    nominal: Length,
    unit: Unit,
) -> Option<(Length, Length, String)> {
    let found = process_typical(process, making.material, nominal, unit)?;
    let mean = nominal + (found.plus - found.minus) / 2.0;
    let text = format!("{}, taken as mean ± 3 sd ({})", found.text, found.status.words());
    Some((mean, (found.plus + found.minus) / 6.0, text))
}
