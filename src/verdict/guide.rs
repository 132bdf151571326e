//! Whether a hole is a guide hole of DIN 7500-2 with its fit. Judges no engagement.

use super::bands::Joint;
use super::{Limits, interval};
use crate::practice::Practice;
use crate::trade::{GuideHole, GuideMetal, fit, guide_holes};

/// The guide hole that a hole is, if the shop accepts these: its nominal is the standard's for this thread, metal and
/// length, and both limits are within the standard's fit. None where the material or the thickness is not known, and
/// for a printed value that is doubted.
pub(super) fn accepted(joint: &Joint<'_>, limits: &Limits, practice: &Practice) -> Option<GuideHole> {
    if !practice.accepts_guide_holes() {
        return None;
    }
    let metal = GuideMetal::of(joint.material?)?;
    let found = guide_holes(joint.thread, joint.thickness?, Some(metal)).into_iter().next()?;
    let most = found.hole + fit(&found.fit, found.hole)?.upper;
    let slack = interval::TOLERANCE;
    let is_it = (limits.nominal - found.hole).abs() <= slack
        && limits.min >= found.hole - slack
        && limits.max <= most + slack;
    // Without a tolerance nothing says that the fit is held.
    (is_it && limits.max > limits.min && found.suspect.is_none()).then_some(found)
}
