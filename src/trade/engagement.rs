//! Percent thread engagement on three bases, both ways.

use super::Thread;
use crate::units::Length;

/// What 100 % means.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum Basis {
    /// 100 % is a hole at the basic pitch diameter: 0.649519 P. For thread-rolling screws.
    Rolled,
    /// 100 % is twice the full thread height: 1.299038 P. For cut taps.
    Cut,
    /// 100 % is a hole at the basic minor diameter: 1.082532 P.
    Basic,
}

/// Engagement of a hole, in percent of `basis`.
pub fn percent(thread: &Thread, hole: Length, basis: Basis) -> f64 {
    let _ = (thread, hole, basis);
    0.0
}

/// The hole that gives `percent` engagement on `basis`.
pub fn hole_for(thread: &Thread, percent: f64, basis: Basis) -> Length {
    let _ = (percent, basis);
    thread.major
}
