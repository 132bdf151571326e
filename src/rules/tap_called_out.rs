#![doc = include_str!("tap-called-out.md")]

use super::{Rule, Subject, words};
use crate::finding::{Finding, Level};
use crate::joint::ScrewForm;

/// The rule.
pub(super) const RULE: Rule =
    Rule { name: "tap-called-out", level: Level::Fail, text: include_str!("tap-called-out.md"), check };

fn check(subject: &Subject<'_>) -> Vec<Finding> {
    let rolling = subject.screw_holes().filter(|it| it.screw.form == ScrewForm::Rolling);
    rolling
        .filter_map(|it| {
            let callout = &subject.callout_of(it.hole)?.callout;
            if !callout.tapped {
                return None;
            }
            let message = format!(
                "{} calls for a tapped thread, but the hole is for a thread-rolling {} screw, which forms its own",
                words::quoted(&callout.text),
                it.screw.thread.name
            );
            let instead = super::band::call_out(&it)
                .unwrap_or_else(|| "call out the plain hole and name the screw".to_owned());
            Some(RULE.at_hole(subject, it.hole, message).with_remedy(instead))
        })
        .collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::callout::Callout;
    use crate::rules::scene::{Scene, mm};

    fn scene(tapped: bool, form: ScrewForm) -> Scene {
        let mut scene = Scene::metric();
        let hole = scene.screw_hole(3.3);
        scene.paired.holes[hole].screw.as_mut().unwrap().form = form;
        let callout = Callout { text: "4X M4x0.7-6H THRU".to_owned(), tapped, ..Callout::default() };
        scene.callout(callout, &[hole]);
        scene.advise(hole, mm(3.6), "4X Ø3.6 +0.03/0 THRU");
        scene
    }

    #[test]
    fn a_tap_on_a_rolling_screws_hole_is_found() {
        let found = scene(true, ScrewForm::Rolling).run(&RULE);
        assert_eq!(
            found[0].message,
            "'4X M4x0.7-6H THRU' calls for a tapped thread, but the hole is for a thread-rolling M4 screw, which \
             forms its own"
        );
        assert_eq!(found[0].remedy.as_deref(), Some("call out 4X Ø3.6 +0.03/0 THRU"));
    }

    #[test]
    fn silent_without_a_tap_or_a_rolling_screw() {
        assert_eq!(scene(false, ScrewForm::Rolling).run(&RULE), []);
        assert_eq!(scene(true, ScrewForm::Cutting).run(&RULE), []);
    }
}
