//! The features that a library is summed up by, as all forms call them.

use crate::check::Totals;
use crate::library::{Group, Groups};

/// Sums by one feature.
pub(super) struct Feature<'a> {
    /// The feature in a word or some: `thread`.
    pub(super) name: &'static str,
    /// Title of its section, and of the column of its values.
    pub(super) title: &'static str,
    pub(super) head: &'static str,
    /// Whether it is one of drawings, of which findings are counted too, and not of holes.
    pub(super) of_drawings: bool,
    pub(super) groups: &'a [Group],
}

/// All of them but rules, which have sums of their own.
pub(super) fn features(by: &Groups) -> [Feature<'_>; 6] {
    let one = |name, title, head, of_drawings, groups| Feature { name, title, head, of_drawings, groups };
    [
        one("thread", "By thread", "Thread", false, &by.thread[..]),
        one("material", "By material", "Material", false, &by.material),
        one("process", "By process", "Process", false, &by.process),
        one(
            "thickness over diameter",
            "By thickness of the metal over diameter of the screw",
            "Thickness over diameter",
            false,
            &by.thickness_over_diameter,
        ),
        one("folder", "By folder", "Folder", true, &by.folder),
        one("year", "By year last saved", "Year", true, &by.year),
    ]
}

/// Screw holes that have no verdict.
pub(super) fn not_judged(totals: &Totals) -> u64 {
    let judged = totals.in_band + totals.straddles + totals.tight + totals.loose + totals.undetermined;
    totals.screw_holes.saturating_sub(judged)
}
