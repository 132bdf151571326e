#![doc = include_str!("drawn-size-differs.md")]

use super::{Rule, Subject, sizes, words};
use crate::finding::{Finding, Level};
use crate::pairing::Hole;
use crate::units::{Length, Unit};

/// The rule.
pub(super) const RULE: Rule = Rule {
    name: "drawn-size-differs",
    level: Level::Warn,
    text: include_str!("drawn-size-differs.md"),
    check,
};

/// Share of the size that a drawn circle may always be off.
const LEAST_ALLOWANCE: f64 = 0.005;

fn check(subject: &Subject<'_>) -> Vec<Finding> {
    let unit = subject.unit();
    let holes = subject.paired.holes.iter();
    holes
        .filter_map(|hole| {
            let called = hole.called.as_ref()?;
            let (least, most) = allowed(hole, subject, unit)?;
            let drawn = true_size(hole)?;
            if drawn >= least && drawn <= most {
                return None;
            }
            let message = format!(
                "the circle is drawn {}{}, the callout says {}",
                words::diameter(drawn, unit),
                scale_words(hole.view_scale),
                sizes::text(called, unit)
            );
            Some(RULE.at_hole(subject, hole, message).with_remedy("correct the circle or the callout"))
        })
        .collect()
}

/// The drawn diameter at true size; none if the view's scale is no scale.
pub(super) fn true_size(hole: &Hole) -> Option<Length> {
    (hole.view_scale > 0.0).then(|| hole.drawn / hole.view_scale)
}

/// ` at true size (view scale 0.5)`, or nothing at 1:1.
pub(super) fn scale_words(scale: f64) -> String {
    if (scale - 1.0).abs() < 1e-6 {
        String::new()
    } else {
        format!(" at true size (view scale {})", words::short(scale))
    }
}

/// The diameters that a circle with this callout may be drawn with.
fn allowed(hole: &Hole, subject: &Subject<'_>, unit: Unit) -> Option<(Length, Length)> {
    let called = hole.called.as_ref()?;
    let (min, max) = sizes::limits(called)?;
    let nominal = sizes::nominal(called)?;
    let allowance = sizes::half_of_last_decimal(called, unit).max(nominal * LEAST_ALLOWANCE);
    let callout = subject.callout_of(hole).map(|seen| &seen.callout);
    let major = callout.filter(|c| c.tapped).and_then(|c| c.thread.as_ref()).map(|named| named.thread.major);
    let most = max.max(nominal).max(major.unwrap_or(nominal));
    Some((min.min(nominal) - allowance, most + allowance))
}

#[cfg(test)]
mod tests {
    use std::sync::Arc;

    use super::*;
    use crate::callout::{Callout, NamedThread};
    use crate::joint::StatedSize;
    use crate::rules::scene::{Scene, mm, stated, toleranced};
    use crate::trade::Thread;

    fn scene(drawn: f64, scale: f64, called: StatedSize) -> Scene {
        let mut scene = Scene::metric();
        let hole = scene.hole(drawn);
        scene.paired.holes[hole].view_scale = scale;
        scene.paired.holes[hole].called = Some(called);
        scene
    }

    fn plain(value: f64) -> StatedSize {
        stated(value, 1, Unit::Mm)
    }

    #[test]
    fn a_circle_of_another_size_is_found() {
        assert_eq!(
            scene(3.3, 1.0, toleranced(plain(3.6), 0.05, 0.0)).messages(&RULE),
            ["the circle is drawn Ø3.3, the callout says Ø3.6 +0.05/0"]
        );
        // Half of the last decimal of 3.6 is 0.05.
        assert_eq!(scene(3.66, 1.0, plain(3.6)).run(&RULE).len(), 1);
        assert_eq!(scene(3.649, 1.0, plain(3.6)).run(&RULE), []);
    }

    #[test]
    fn the_views_scale_is_taken_out() {
        // 3.6 drawn at 1:2 is 1.8.
        assert_eq!(scene(1.8, 0.5, plain(3.6)).run(&RULE), []);
        assert_eq!(
            scene(3.6, 0.5, plain(3.6)).messages(&RULE),
            ["the circle is drawn Ø7.2 at true size (view scale 0.5), the callout says Ø3.6"]
        );
    }

    #[test]
    fn anywhere_within_the_stated_limits_is_right() {
        assert_eq!(scene(3.9, 1.0, toleranced(plain(3.6), 0.4, 0.0)).run(&RULE), []);
    }

    #[test]
    fn a_whole_number_is_meant_exactly_but_for_half_a_percent() {
        let whole = || stated(4.0, 0, Unit::Mm);
        assert_eq!(scene(4.3, 1.0, whole()).run(&RULE).len(), 1);
        assert_eq!(scene(4.019, 1.0, whole()).run(&RULE), []);
    }

    #[test]
    fn a_tapped_hole_may_be_drawn_at_its_thread() {
        let mut scene = scene(4.0, 1.0, plain(3.3));
        let thread = Thread { name: "M4".to_owned(), major: mm(4.0), pitch: mm(0.7), unit: Unit::Mm };
        let thread = NamedThread { thread, class: None, left_hand: false, depth: None };
        scene.callout(Callout { tapped: true, thread: Some(thread), ..Callout::default() }, &[0]);
        assert_eq!(scene.run(&RULE), []);
        Arc::make_mut(&mut scene.paired.callouts[0].callout).tapped = false;
        assert_eq!(scene.run(&RULE).len(), 1);
    }

    #[test]
    fn silent_without_a_callout() {
        let mut scene = Scene::metric();
        scene.hole(3.3);
        assert_eq!(scene.run(&RULE), []);
    }
}
