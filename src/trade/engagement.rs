//! Percent thread engagement on three bases, both ways. A percent without its basis means nothing: the bases
//! differ by a factor of up to two.

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

impl Basis {
    /// Every basis, the default first.
    pub const ALL: [Basis; 3] = [Basis::Rolled, Basis::Cut, Basis::Basic];

    /// The name used in reports.
    pub const fn name(self) -> &'static str {
        match self {
            Basis::Rolled => "rolled",
            Basis::Cut => "cut",
            Basis::Basic => "basic",
        }
    }

    /// Major diameter less the 100 % hole, in pitches. Source: basic profile of ISO 68-1 and ASME B1.1
    /// (H = 0.866025 P; 0.75 H, 1.5 H, 1.25 H). That `Rolled` fits thread-rolling screws is common practice.
    pub const fn factor(self) -> f64 {
        match self {
            Basis::Rolled => 0.649_519_052_838_329,
            Basis::Cut => 1.299_038_105_676_658,
            Basis::Basic => 1.082_531_754_730_548,
        }
    }
}

/// Engagement of a hole (percent of `basis`).
///
/// Meaning: 100 (D − d) / (k P), D basic major diameter, d hole, P pitch, k [`Basis::factor`].
/// Validity: machine threads of the 60° basic profile; not for spaced threads. Negative for a hole larger than
/// the major diameter, above 100 for one smaller than the 100 % hole. Source: geometry of the basic profile.
///
/// ```
/// use boreband::trade::{Basis, Thread, percent};
/// use boreband::units::Length;
/// let thread = Thread::parse("M4").unwrap();
/// let hole = Length::from_mm(3.65).unwrap();
/// // (4 − 3.65) / (0.649519 × 0.7) = 0.7698, by hand
/// assert!((percent(&thread, hole, Basis::Rolled) - 76.98).abs() < 0.005);
/// assert!((percent(&thread, hole, Basis::Cut) - 38.49).abs() < 0.005);
/// ```
pub fn percent(thread: &Thread, hole: Length, basis: Basis) -> f64 {
    100.0 * ((thread.major - hole) / thread.pitch) / basis.factor()
}

/// The hole that gives `percent` engagement on `basis`: D − k P percent / 100.
///
/// Validity and source as for [`percent`], whose inverse it is.
///
/// ```
/// use boreband::trade::{Basis, Thread, hole_for};
/// let thread = Thread::parse("1/4-20").unwrap();
/// // 0.25 − 0.8 × 0.649519 × 0.05 = 0.2240 in, by hand
/// assert!((hole_for(&thread, 80.0, Basis::Rolled).inch() - 0.2240).abs() < 5e-5);
/// ```
pub fn hole_for(thread: &Thread, percent: f64, basis: Basis) -> Length {
    thread.major - thread.pitch * (basis.factor() * percent / 100.0)
}

/// An engagement on one basis, on another one (percent). Independent of the thread: the ratio of the factors.
///
/// ```
/// use boreband::trade::{Basis, convert};
/// assert!((convert(75.0, Basis::Cut, Basis::Rolled) - 150.0).abs() < 1e-9); // a cut-tap drill left as it is
/// ```
pub fn convert(percent: f64, from: Basis, to: Basis) -> f64 {
    percent * from.factor() / to.factor()
}

/// Percent points that a change of the hole's diameter costs (positive for a larger hole).
///
/// ```
/// use boreband::trade::{Basis, Thread, percent_per_diameter};
/// use boreband::units::Length;
/// let thread = Thread::parse("M4").unwrap();
/// // 0.01 / (0.649519 × 0.7) = 2.199 points, by hand
/// let lost = percent_per_diameter(&thread, Length::from_mm(0.01).unwrap(), Basis::Rolled);
/// assert!((lost - 2.199).abs() < 5e-4);
/// ```
pub fn percent_per_diameter(thread: &Thread, change: Length, basis: Basis) -> f64 {
    100.0 * (change / thread.pitch) / basis.factor()
}

/// Hole for a cold-forming tap at a percent of its own basis: d = D − 0.0068 × percent × P, a handbook formula as
/// recalled (memory). Not for screws: 100 % there is 104.7 % rolled. Shown so that the two are not mixed up.
///
/// ```
/// use boreband::trade::{Thread, form_tap_hole};
/// let hole = form_tap_hole(&Thread::parse("1/4-20").unwrap(), 65.0);
/// assert!((hole.inch() - 0.2279).abs() < 5e-5); // .250 − 0.0068 × 65 × .05, by hand
/// ```
pub fn form_tap_hole(thread: &Thread, percent: f64) -> Length {
    thread.major - thread.pitch * (0.0068 * percent)
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    fn any_thread() -> impl Strategy<Value = Thread> {
        let names: Vec<String> = super::super::threads().map(|(t, ..)| t.name).collect();
        proptest::sample::select(names).prop_map(|n| Thread::parse(&n).expect("listed"))
    }

    proptest! {
        #[test]
        fn a_larger_hole_never_engages_more(thread in any_thread(), a in 0.01..50.0f64, more in 0.0..5.0f64) {
            let (small, large) = (Length::mm_const(a), Length::mm_const(a + more));
            for basis in Basis::ALL {
                prop_assert!(percent(&thread, large, basis) <= percent(&thread, small, basis));
            }
        }

        #[test]
        fn hole_and_percent_are_inverse(thread in any_thread(), p in -20.0..200.0f64) {
            for basis in Basis::ALL {
                let back = percent(&thread, hole_for(&thread, p, basis), basis);
                prop_assert!((back - p).abs() < 1e-9, "{back} {p}");
            }
        }

        #[test]
        fn mm_and_inch_agree(thread in any_thread(), inch in 0.01..1.5f64) {
            let by_inch = percent(&thread, Length::from_inch(inch).expect("finite"), Basis::Rolled);
            let by_mm = percent(&thread, Length::from_mm(inch * 25.4).expect("finite"), Basis::Rolled);
            prop_assert!((by_inch - by_mm).abs() < 1e-9);
        }
    }
}
