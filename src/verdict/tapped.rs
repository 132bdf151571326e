//! Whether a hole has the size for cutting the same thread with a tap.

use crate::practice::{Limit, Practice};
use crate::trade::{Basis, Thread, percent, tap_drills};
use crate::units::Length;

/// The tap drill of the thread that the hole is made with, if it is. The percent range is widened to the drill's
/// own percent, because some lists go below it: No. 29 for 8-32 reads 138 %.
pub(super) fn drill(thread: &Thread, hole: Length, practice: &Practice) -> Option<&'static str> {
    let limit = |limit| practice.limits.value(limit);
    let near = limit(Limit::TapDrillNearness) / 100.0;
    let (least, most) = (limit(Limit::CutThreadLeast), limit(Limit::CutThreadMost));
    let rolled = percent(thread, hole, Basis::Rolled);
    let off = |d: Length| (hole - d).abs();
    let fits = |d: Length| {
        let own = percent(thread, d, Basis::Rolled);
        off(d).mm() <= d.mm() * near + 1e-6 && rolled >= least.min(own) - 1e-6 && rolled <= most + 1e-6
    };
    let found = tap_drills(thread).into_iter().filter(|d| fits(d.diameter));
    found.min_by(|a, b| off(a.diameter).mm().total_cmp(&off(b.diameter).mm())).map(|d| d.name)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::units::Unit;

    #[test]
    fn tap_drill_sizes_are_known() {
        // Tap drills as recalled; percents by hand: M4 3.3 154.0, 1/4-20 #7 150.9, 8-32 #29 137.9.
        for (thread, size, unit, expected) in [
            ("M4", 3.3, Unit::Mm, Some("3.3 mm")),
            ("M4", 3.35, Unit::Mm, Some("3.3 mm")),
            ("M4", 3.4, Unit::Mm, None), // 132 %
            ("M4", 3.2, Unit::Mm, None), // 3 % off, 176 %
            ("M4", 3.65, Unit::Mm, None),
            ("1/4-20", 0.201, Unit::Inch, Some("#7")),
            ("1/4-20", 0.2010, Unit::Inch, Some("#7")),
            ("8-32", 0.136, Unit::Inch, Some("#29")),
            ("M5x0.5", 4.5, Unit::Mm, Some("4.5 mm")),
        ] {
            let thread = Thread::parse(thread).expect("thread");
            let found = drill(&thread, Length::new(size, unit).expect("finite"), &Practice::default());
            assert_eq!(found, expected, "{} {size}", thread.name);
        }
    }
}
