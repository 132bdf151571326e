#![doc = include_str!("callouts-differ.md")]

use super::{Rule, Subject, sizes, words};
use crate::callout::Callout;
use crate::finding::{Finding, Level};
use crate::joint::StatedSize;
use crate::pairing::{Claim, SeenCallout};
use crate::units::Unit;

/// The rule.
pub(super) const RULE: Rule =
    Rule { name: "callouts-differ", level: Level::Warn, text: include_str!("callouts-differ.md"), check };

/// A size more than this many times another is of something else.
const LARGEST_RATIO: f64 = 4.0 / 3.0;

fn check(subject: &Subject<'_>) -> Vec<Finding> {
    let claims =
        subject.paired.callouts.iter().flat_map(|seen| seen.claims.iter().map(move |claim| (seen, claim)));
    claims.filter_map(|(seen, claim)| finding(subject, seen, claim)).collect()
}

fn finding(subject: &Subject<'_>, claimant: &SeenCallout, claim: &Claim) -> Option<Finding> {
    let hole = subject.paired.holes.get(claim.hole).filter(|hole| hole.screw.is_some())?;
    let taken = subject.callout_of(hole)?;
    let rounded = claimant.measured || taken.measured;
    let sizes = hole.called.as_ref().zip(claim.size.as_ref());
    let differ = sizes.is_some_and(|(of_hole, other)| contradict(of_hole, other, rounded, subject.unit()))
        || threads_differ(&taken.callout, &claimant.callout);
    differ.then(|| {
        let (own, other) = (words::quoted(&taken.callout.text), words::quoted(&claimant.callout.text));
        let message = format!("it was checked by {own}, and {other} speaks of it too");
        RULE.at_hole(subject, hole, message).with_remedy("remove the one that is out of date")
    })
}

fn contradict(a: &StatedSize, b: &StatedSize, rounded: bool, unit: Unit) -> bool {
    let (Some(first), Some(second)) = (sizes::nominal(a), sizes::nominal(b)) else { return false };
    let alike = first <= second * LARGEST_RATIO && second <= first * LARGEST_RATIO;
    let differ = if rounded {
        sizes::differ_beyond_rounding(a, b, unit)
    } else {
        sizes::differ(a, b, unit) || sizes::limits_differ(a, b, unit)
    };
    alike && differ
}

fn threads_differ(a: &Callout, b: &Callout) -> bool {
    let threads = a.thread.as_ref().zip(b.thread.as_ref());
    threads.is_some_and(|(a, b)| !a.thread.is_same(&b.thread))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::rules::scene::{Scene, stated, toleranced};

    /// A screw hole that one callout took and another claims.
    fn scene(taken: (&str, StatedSize), other: (&str, StatedSize)) -> Scene {
        let mut scene = Scene::metric();
        let hole = scene.screw_hole(3.6);
        scene.callout(Callout { text: taken.0.to_owned(), ..Callout::default() }, &[hole]);
        scene.paired.holes[hole].called = Some(taken.1);
        let claimant = scene.callout(Callout { text: other.0.to_owned(), ..Callout::default() }, &[]);
        scene.paired.callouts[claimant].claims = vec![Claim { hole, size: Some(other.1) }];
        scene
    }

    fn mm(value: f64, decimals: u8) -> StatedSize {
        stated(value, decimals, Unit::Mm)
    }

    #[test]
    fn another_size_at_the_same_hole_is_found() {
        let scene = scene(("Ø3.6 +0.03/0", toleranced(mm(3.6, 1), 0.03, 0.0)), ("Ø3.3", mm(3.3, 1)));
        assert_eq!(scene.messages(&RULE), ["it was checked by 'Ø3.6 +0.03/0', and 'Ø3.3' speaks of it too"]);
        assert_eq!(scene.run(&RULE)[0].place.hole.as_deref(), Some("H1"));
    }

    #[test]
    fn another_tolerance_is_found_and_none_is_no_other() {
        let taken = || ("Ø3.6 +0.03/0", toleranced(mm(3.6, 1), 0.03, 0.0));
        assert_eq!(scene(taken(), ("Ø3.6 ±0.1", toleranced(mm(3.6, 1), 0.1, 0.1))).run(&RULE).len(), 1);
        assert_eq!(scene(taken(), ("Ø3.6", mm(3.6, 1))).run(&RULE), []);
    }

    #[test]
    fn what_a_dimension_measures_may_be_rounded() {
        // 3.65 is shown as 3.7 with one decimal, and as 3.6 by some; 3.75 is not (hand calculation).
        for (taken, found) in [(3.65, 0), (3.75, 1)] {
            let mut scene = scene(("Ø", mm(taken, 2)), ("Ø3.6", mm(3.6, 1)));
            scene.paired.callouts[1].measured = true;
            assert_eq!(scene.run(&RULE).len(), found, "{taken}");
            scene.paired.callouts[1].measured = false;
            assert_eq!(scene.run(&RULE).len(), 1, "{taken}");
        }
    }

    #[test]
    fn the_size_of_something_else_is_none_of_the_hole() {
        // 3.6 times 4/3 is 4.8.
        assert_eq!(scene(("Ø3.6", mm(3.6, 1)), ("Ø8", mm(8.0, 0))).run(&RULE), []);
        assert_eq!(scene(("Ø3.6", mm(3.6, 1)), ("Ø4.8", mm(4.8, 1))).run(&RULE).len(), 1);
    }

    #[test]
    fn another_thread_is_found_and_a_plain_hole_is_not_looked_at() {
        let mut scene = scene(("M4", mm(3.6, 1)), ("M5", mm(3.6, 1)));
        for (callout, thread) in scene.paired.callouts.iter_mut().zip(["FOR M4 THREAD ROLLING SCREW", "M5"]) {
            callout.callout = crate::callout::read(thread).into();
        }
        assert_eq!(scene.run(&RULE).len(), 1);
        scene.paired.holes[0].screw = None;
        assert_eq!(scene.run(&RULE), []);
    }
}
