#![doc = include_str!("screw-unsuited.md")]

use super::{Rule, Subject};
use crate::finding::{Finding, Level};
use crate::joint::ScrewForm;

/// The rule.
pub(super) const RULE: Rule =
    Rule { name: "screw-unsuited", level: Level::Fail, text: include_str!("screw-unsuited.md"), check };

fn check(subject: &Subject<'_>) -> Vec<Finding> {
    subject
        .screw_holes()
        .filter_map(|it| {
            let why = match it.screw.form {
                ScrewForm::Rolling => return None,
                ScrewForm::Cutting => "a thread-cutting screw, which removes metal",
                ScrewForm::Spaced => "a screw with a spaced thread, which is no machine thread",
            };
            let message = format!(
                "the hole is for {why} ({}); a rolled percent does not apply and it was not judged",
                it.screw.thread.name
            );
            let remedy = "use the hole table of the screw, or a thread-rolling screw";
            Some(RULE.at_hole(subject, it.hole, message).with_remedy(remedy))
        })
        .collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::rules::scene::Scene;

    fn scene(form: ScrewForm) -> Scene {
        let mut scene = Scene::metric();
        let hole = scene.screw_hole(3.6);
        scene.paired.holes[hole].screw.as_mut().unwrap().form = form;
        scene
    }

    #[test]
    fn cutting_and_spaced_screws_are_found() {
        assert!(scene(ScrewForm::Cutting).messages(&RULE)[0].contains("thread-cutting screw"));
        assert!(scene(ScrewForm::Spaced).messages(&RULE)[0].contains("spaced thread"));
    }

    #[test]
    fn silent_on_a_rolling_screw() {
        assert_eq!(scene(ScrewForm::Rolling).run(&RULE), []);
    }
}
