#![doc = include_str!("engagement-below-band.md")]

use super::{Rule, Subject, words};
use crate::finding::{Finding, Level};
use crate::verdict::Verdict;

/// The rule.
pub(super) const RULE: Rule = Rule {
    name: "engagement-below-band",
    level: Level::Fail,
    text: include_str!("engagement-below-band.md"),
    check,
};

fn check(subject: &Subject<'_>) -> Vec<Finding> {
    super::band::of_verdict(subject, &RULE, Verdict::Loose, |band, unit| {
        format!("close the hole to at most {}", words::diameter(band.hole_max, unit))
    })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::rules::scene::{Scene, band, inch};
    use crate::verdict::Engagement;

    /// 1/4-20, Ø.240. By hand: 100 × 0.010 / (0.649519 × 0.05) = 30.79 %; 95 % is 0.25 − 0.95 × 0.03247595 =
    /// 0.21915 in, 65 % is 0.22889 in.
    fn scene(verdict: Verdict) -> Scene {
        let mut scene = Scene::inches();
        let hole = scene.screw_hole(0.24);
        let engagement = Engagement { nominal: 30.79, at_min: 30.79, at_max: 30.79 };
        scene.judge(hole, (0.24, 0.24, 0.24), engagement, band(65.0, 95.0, inch(0.21915), inch(0.22889)));
        scene.judged[hole].verdict = Some(verdict);
        scene
    }

    #[test]
    fn a_loose_hole_is_found_in_the_drawings_unit() {
        let found = scene(Verdict::Loose).run(&RULE);
        assert_eq!(
            found[0].message,
            "Ø.240 gives 31 % rolled engagement for 1/4-20; 65 to 95 % is allowed (Ø.2192 to Ø.2289)"
        );
        assert_eq!(found[0].remedy.as_deref(), Some("close the hole to at most Ø.2289"));
    }

    #[test]
    fn silent_on_every_other_verdict() {
        for verdict in [Verdict::InBand, Verdict::Straddles, Verdict::Tight, Verdict::Undetermined] {
            assert_eq!(scene(verdict).run(&RULE), []);
        }
    }
}
