//! The features that a library is summed up by, as all forms call them.

use crate::check::Totals;
use crate::library::{Group, Groups};

/// Sums by one feature.
pub(super) struct Feature<'a> {
    /// The feature in a word or some: `thread`.
    pub(super) name: &'static str,
    /// What it says, for a page.
    pub(super) title: &'static str,
    /// Whether it is one of drawings, of which findings are counted too, and not of holes.
    pub(super) of_drawings: bool,
    pub(super) groups: &'a [Group],
}

/// All of them but rules, which have sums of their own.
pub(super) fn features(by: &Groups) -> [Feature<'_>; 6] {
    let of_holes = |name, title, groups| Feature { name, title, of_drawings: false, groups };
    let of_drawings = |name, title, groups| Feature { name, title, of_drawings: true, groups };
    [
        of_holes("thread", "By thread", &by.thread[..]),
        of_holes("material", "By material", &by.material),
        of_holes("process", "By process", &by.process),
        of_holes(
            "thickness over diameter",
            "By thickness of the metal over diameter of the screw",
            &by.thickness_over_diameter,
        ),
        of_drawings("folder", "By folder", &by.folder),
        of_drawings("year", "By year last saved", &by.year),
    ]
}

/// Screw holes that have no verdict.
pub(super) fn not_judged(totals: &Totals) -> u64 {
    let judged = totals.in_band + totals.straddles + totals.tight + totals.loose + totals.undetermined;
    totals.screw_holes.saturating_sub(judged)
}
