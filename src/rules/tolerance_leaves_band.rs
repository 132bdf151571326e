#![doc = include_str!("tolerance-leaves-band.md")]

use super::{Rule, Subject, words};
use crate::finding::{Finding, Level};
use crate::verdict::{ToleranceSource, Verdict};

/// The rule.
pub(super) const RULE: Rule = Rule {
    name: "tolerance-leaves-band",
    level: Level::Warn,
    text: include_str!("tolerance-leaves-band.md"),
    check,
};

fn check(subject: &Subject<'_>) -> Vec<Finding> {
    let mut findings = super::band::of_verdict(subject, &RULE, Verdict::Straddles, |band, unit| {
        format!(
            "narrow the tolerance to stay within {} to {}",
            words::diameter(band.hole_min, unit),
            words::diameter(band.hole_max, unit)
        )
    });
    let straddling = subject.screw_holes().filter(|it| super::band::is_at(it, Verdict::Straddles));
    for (finding, it) in findings.iter_mut().zip(straddling) {
        let limits = &it.judged.limits;
        let inherited =
            matches!(limits.tolerance_source, ToleranceSource::Drawing | ToleranceSource::Process);
        if inherited && !limits.tolerance_text.is_empty() {
            let message = format!("{}; the tolerance is {}", finding.message, limits.tolerance_text);
            finding.message = message.into();
        }
    }
    findings
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::rules::scene::{Scene, band, mm};
    use crate::verdict::Engagement;

    /// M4, Ø3.6 ±0.1. By hand with 0.4546633 mm for 100 %: 0.5 / 0.4546633 = 109.97 %, 0.3 / … = 65.98 %.
    fn scene(verdict: Verdict) -> Scene {
        let mut scene = Scene::metric();
        let hole = scene.screw_hole(3.6);
        let engagement = Engagement { nominal: 87.98, at_min: 109.97, at_max: 65.98 };
        scene.judge(hole, (3.6, 3.5, 3.7), engagement, band(80.0, 98.0, mm(3.5544), mm(3.6363)));
        scene.judged[hole].verdict = Some(verdict);
        scene
    }

    #[test]
    fn a_straddling_hole_is_found() {
        let found = scene(Verdict::Straddles).run(&RULE);
        assert_eq!(
            found[0].message,
            "Ø3.6 ±0.1 gives 110 % to 66 % rolled engagement for M4; 80 to 98 % is allowed (Ø3.554 to Ø3.636)"
        );
        assert_eq!(found[0].remedy.as_deref(), Some("narrow the tolerance to stay within Ø3.554 to Ø3.636"));
    }

    #[test]
    fn a_tolerance_that_the_callout_does_not_state_is_named() {
        let mut scene = scene(Verdict::Straddles);
        scene.judged[0].limits.tolerance_source = ToleranceSource::Drawing;
        scene.judged[0].limits.tolerance_text = "general tolerance ±0.1".into();
        assert!(scene.messages(&RULE)[0].ends_with("; the tolerance is general tolerance ±0.1"));
    }

    #[test]
    fn silent_on_every_other_verdict() {
        for verdict in [Verdict::InBand, Verdict::Loose, Verdict::Tight, Verdict::Undetermined] {
            assert_eq!(scene(verdict).run(&RULE), []);
        }
    }
}
