#![doc = include_str!("guide-hole-accepted.md")]

use super::{Rule, Subject, words};
use crate::finding::{Finding, Level};
use crate::verdict::Verdict;

/// The rule.
pub(super) const RULE: Rule = Rule {
    name: "guide-hole-accepted",
    level: Level::Note,
    text: include_str!("guide-hole-accepted.md"),
    check,
};

fn check(subject: &Subject<'_>) -> Vec<Finding> {
    let unit = subject.unit();
    let found = |it: super::ScrewHole<'_>| {
        let guide = it.judged.guide_hole.as_ref()?;
        let outside = matches!(it.judged.verdict, Some(Verdict::Straddles | Verdict::Tight | Verdict::Loose));
        let band = it.judged.band.as_ref().filter(|_| outside)?;
        let engagement = it.judged.engagement.as_ref()?;
        let edition =
            if guide.in_2016_range { "" } else { ", a length or metal that the 2016 edition dropped" };
        let message = format!(
            "{} is the guide hole {} {} for {} in {}{edition}, and is accepted although it gives {}; {}",
            words::size(&it.judged.met(), unit),
            words::diameter(guide.hole, unit),
            guide.fit,
            it.screw.thread.name,
            source(&guide.source),
            words::engagement(engagement, Some(band)),
            words::allowed(band, unit)
        );
        let remedy = "test the joint; \"guide_holes\": \"judge\" in the policy judges such holes by the band";
        Some(RULE.at_hole(subject, it.hole, message).with_remedy(remedy))
    };
    subject.screw_holes().filter_map(found).collect()
}

/// The standard's name at the head of its source.
fn source(source: &str) -> &str {
    source.split(" guide").next().unwrap_or(source)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::rules::scene::{Scene, band, mm};
    use crate::trade::{GuideMetal, Thread, guide_holes};
    use crate::verdict::Engagement;

    /// M4, Ø3.6 H11: by hand 0.4 / 0.4546633 = 87.98 %, at Ø3.675 0.325 / 0.4546633 = 71.48 %.
    fn scene(verdict: Verdict) -> Scene {
        let mut scene = Scene::metric();
        let hole = scene.screw_hole(3.6);
        let engagement = Engagement { nominal: 87.98, at_min: 87.98, at_max: 71.48 };
        scene.judge(hole, (3.6, 3.6, 3.675), engagement, band(80.0, 98.0, mm(3.5544), mm(3.6363)));
        scene.judged[hole].verdict = Some(verdict);
        let thread = Thread::parse("M4").expect("M4");
        // DIN 7500-2:1984, published: 3.6 at 1.5 mm in steel.
        scene.judged[hole].guide_hole =
            guide_holes(&thread, mm(1.5), Some(GuideMetal::Steel)).into_iter().next().map(Box::new);
        scene
    }

    #[test]
    fn an_accepted_guide_hole_is_told_of_and_of_nothing_else() {
        let scene = scene(Verdict::Straddles);
        let messages = scene.messages(&RULE);
        assert_eq!(messages.len(), 1);
        assert!(
            messages[0].starts_with("Ø3.6 +0.075/0 is the guide hole Ø3.6 H11 for M4 in DIN 7500-2:1984-12"),
            "{messages:?}"
        );
        for other in ["tolerance-leaves-band", "engagement-below-band", "engagement-above-band"] {
            let mut scene = self::scene(Verdict::Straddles);
            for verdict in [Verdict::Straddles, Verdict::Loose, Verdict::Tight] {
                scene.judged[0].verdict = Some(verdict);
                assert_eq!(scene.run(crate::rules::by_name(other).expect("a rule")), [], "{other}");
            }
        }
    }

    #[test]
    fn silent_inside_the_band_and_on_other_holes() {
        assert_eq!(scene(Verdict::InBand).run(&RULE), []);
        let mut other = scene(Verdict::Straddles);
        other.judged[0].guide_hole = None;
        assert_eq!(other.run(&RULE), []);
    }
}
