#![doc = include_str!("engagement-above-band.md")]

use super::{Rule, Subject, words};
use crate::finding::{Finding, Level};
use crate::verdict::Verdict;

/// The rule.
pub(super) const RULE: Rule = Rule {
    name: "engagement-above-band",
    level: Level::Fail,
    text: include_str!("engagement-above-band.md"),
    check,
};

fn check(subject: &Subject<'_>) -> Vec<Finding> {
    super::band::of_verdict(subject, &RULE, Verdict::Tight, |band, unit| {
        format!("open the hole to at least {}", words::diameter(band.hole_min, unit))
    })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::rules::scene::{Scene, band, mm};
    use crate::verdict::Engagement;

    /// M4, Ø3.3 +0.05/0. By hand: 100 × 0.7 / (0.649519 × 0.7) = 153.96 %, 100 × 0.65 / 0.4546633 = 142.96 %;
    /// 98 % is 4 − 0.98 × 0.4546633 = 3.5544 mm, 80 % is 3.6363 mm.
    fn scene(verdict: Verdict) -> Scene {
        let mut scene = Scene::metric();
        let hole = scene.screw_hole(3.3);
        let engagement = Engagement { nominal: 153.96, at_min: 153.96, at_max: 142.96 };
        scene.judge(hole, (3.3, 3.3, 3.35), engagement, band(80.0, 98.0, mm(3.5544), mm(3.6363)));
        scene.judged[hole].verdict = Some(verdict);
        scene
    }

    #[test]
    fn a_tight_hole_is_found_with_required_and_found_and_what_to_write() {
        let mut scene = scene(Verdict::Tight);
        scene.advise(0, mm(3.6), "4X Ø3.6 +0.03/0 THRU");
        let found = scene.run(&RULE);
        assert_eq!(found.len(), 1);
        assert_eq!(
            found[0].message,
            "Ø3.3 +0.05/0 gives 154 % to 143 % rolled engagement for M4; 80 to 98 % is allowed (Ø3.554 to Ø3.636)"
        );
        assert_eq!(found[0].remedy.as_deref(), Some("call out 4X Ø3.6 +0.03/0 THRU"));
        assert_eq!(found[0].place.hole.as_deref(), Some("H1"));
        assert_eq!(found[0].place.layer.as_deref(), Some("HOLES"));
    }

    #[test]
    fn where_no_band_is_known_the_answer_says_what_it_waits_for() {
        let mut scene = scene(Verdict::Tight);
        scene.judged[0].band = None;
        scene.paired.holes[0].making.thickness = None;
        let found = scene.run(&RULE);
        assert!(found[0].message.ends_with("for M4, more than is allowed in any metal that it may be"));
        assert_eq!(
            found[0].remedy.as_deref(),
            Some(
                "state the thickness in the title block or the hole list; the hole to call out depends on it"
            )
        );
    }

    #[test]
    fn without_advice_the_least_hole_is_named() {
        assert_eq!(
            scene(Verdict::Tight).run(&RULE)[0].remedy.as_deref(),
            Some("open the hole to at least Ø3.554")
        );
    }

    #[test]
    fn the_place_is_the_callout_a_drafter_edits() {
        let mut scene = scene(Verdict::Tight);
        scene.callout(crate::callout::Callout::default(), &[0]);
        let place = scene.run(&RULE).remove(0).place;
        assert_eq!((place.handle.as_deref(), place.line), (Some("41"), Some(900)));
        assert_eq!(place.layer.as_deref(), Some("HOLES"), "the circle's layer");
    }

    #[test]
    fn silent_on_every_other_verdict() {
        for verdict in [Verdict::InBand, Verdict::Straddles, Verdict::Loose, Verdict::Undetermined] {
            assert_eq!(scene(verdict).run(&RULE), []);
        }
    }
}
