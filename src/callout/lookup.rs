//! What callouts need of the trade's tables, in the callout's own types. Holds no table itself.

use super::Quantity;
use crate::trade::{Thread, drill_by_name};
use crate::units::Unit;

/// Tables write number and letter drills with four decimal places of an inch.
const DRILL_DECIMALS: u8 = 4;

/// The diameter of a number or letter drill (`#2`, `B`).
pub(super) fn drill(name: &str) -> Option<Quantity> {
    let drill = drill_by_name(name)?;
    let value = round(drill.diameter.inch());
    Some(Quantity { value, unit: Some(Unit::Inch), decimals: DRILL_DECIMALS })
}

/// Takes the noise of the way over millimetres off a table value in inches.
fn round(inch: f64) -> f64 {
    (inch * 1e6).round() / 1e6
}

/// A thread by its designation.
pub(super) fn thread(designation: &str) -> Option<Thread> {
    Thread::parse(designation).ok()
}
