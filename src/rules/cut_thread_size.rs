#![doc = include_str!("cut-thread-size.md")]

use super::{Rule, Subject, words};
use crate::finding::{Finding, Level};
use crate::verdict::Verdict;

/// The rule.
pub(super) const RULE: Rule =
    Rule { name: "cut-thread-size", level: Level::Fail, text: include_str!("cut-thread-size.md"), check };

fn check(subject: &Subject<'_>) -> Vec<Finding> {
    let unit = subject.unit();
    let tight = subject.screw_holes().filter(|it| it.judged.verdict == Some(Verdict::Tight));
    tight
        .filter_map(|it| {
            let drill = it.judged.cut_thread_drill?;
            let message = format!(
                "{} is the tap drill size of {} ({drill}), which is for a cut thread; a rolling screw displaces \
                 metal and needs a larger hole",
                words::diameter(it.judged.limits.nominal, unit),
                it.screw.thread.name
            );
            Some(RULE.at_hole(subject, it.hole, message).with_some_remedy(super::band::call_out(&it)))
        })
        .collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::rules::scene::{Scene, mm};

    /// M4 at its tap drill, 3.3 mm (common practice: D − P).
    fn scene(verdict: Verdict, drill: Option<&'static str>) -> Scene {
        let mut scene = Scene::metric();
        let hole = scene.screw_hole(3.3);
        scene.judged[hole].verdict = Some(verdict);
        scene.judged[hole].cut_thread_drill = drill;
        scene.advise(hole, mm(3.6), "Ø3.6 +0.03/0");
        scene
    }

    #[test]
    fn a_tap_drill_is_named_beside_a_tight_hole() {
        let found = scene(Verdict::Tight, Some("3.3 mm")).run(&RULE);
        assert_eq!(found.len(), 1);
        assert!(
            found[0]
                .message
                .starts_with("Ø3.3 is the tap drill size of M4 (3.3 mm), which is for a cut thread")
        );
        assert_eq!(found[0].remedy.as_deref(), Some("call out Ø3.6 +0.03/0"));
    }

    #[test]
    fn silent_where_the_hole_is_no_tap_drill_or_not_tight() {
        assert_eq!(scene(Verdict::Tight, None).run(&RULE), []);
        // A user's band can allow what is a tap drill.
        assert_eq!(scene(Verdict::InBand, Some("3.3 mm")).run(&RULE), []);
    }
}
