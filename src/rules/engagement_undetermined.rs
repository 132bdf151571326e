#![doc = include_str!("engagement-undetermined.md")]

use super::once::Once;
use super::{Rule, ScrewHole, Subject, words};
use crate::finding::{Finding, Level};
use crate::shared::SharedText;
use crate::units::Unit;
use crate::verdict::Verdict;

/// The rule.
pub(super) const RULE: Rule = Rule {
    name: "engagement-undetermined",
    level: Level::Warn,
    text: include_str!("engagement-undetermined.md"),
    check,
};

fn check(subject: &Subject<'_>) -> Vec<Finding> {
    let unit = subject.unit();
    let holes = subject.screw_holes().filter(|it| it.judged.verdict == Some(Verdict::Undetermined));
    let mut said = Once::for_holes_of(subject);
    holes
        .map(|it| {
            let message = said.of(&it, || SharedText::from(sentence(&it, unit)));
            RULE.at_hole(subject, it.hole, message)
                .with_remedy("state what is missing on the drawing or in the hole list")
        })
        .collect()
}

fn sentence(it: &ScrewHole<'_>, unit: Unit) -> String {
    let judged = it.judged;
    let size = words::coated(judged, unit);
    let thread = &it.screw.thread.name;
    let gives = judged.engagement.as_ref().map_or_else(String::new, |engagement| {
        format!(" ({})", words::engagement(engagement, judged.band.as_ref()))
    });
    let missing = if judged.missing.is_empty() {
        "the drawing and the hole list do not say enough".to_owned()
    } else {
        judged.missing.join("; ")
    };
    [&size, " for ", thread, &gives, " cannot be judged: ", &missing].concat()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::rules::scene::Scene;
    use crate::verdict::Engagement;

    /// M4, Ø3.6: by hand 0.4 / 0.4546633 = 87.98 %.
    fn scene(verdict: Verdict) -> Scene {
        let mut scene = Scene::metric();
        let hole = scene.screw_hole(3.6);
        scene.judged[hole].engagement = Some(Engagement { nominal: 87.98, at_min: 87.98, at_max: 87.98 });
        scene.judged[hole].missing =
            vec!["thickness is missing".to_owned(), "1 mm or less is in band".to_owned()];
        scene.judged[hole].verdict = Some(verdict);
        scene
    }

    #[test]
    fn what_is_missing_is_said() {
        assert_eq!(
            scene(Verdict::Undetermined).messages(&RULE),
            [
                "Ø3.6 for M4 (88 % rolled engagement) cannot be judged: thickness is missing; 1 mm or less is in band"
            ]
        );
    }

    #[test]
    fn silent_on_every_other_verdict() {
        for verdict in [Verdict::InBand, Verdict::Loose, Verdict::Tight, Verdict::Straddles] {
            assert_eq!(scene(verdict).run(&RULE), []);
        }
    }
}
