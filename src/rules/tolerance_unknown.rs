#![doc = include_str!("tolerance-unknown.md")]

use super::once::Once;
use super::{Rule, Subject, words};
use crate::finding::{Finding, Level};
use crate::shared::SharedText;
use crate::units::Unit;
use crate::verdict::{Limits, ToleranceSource};

/// The rule.
pub(super) const RULE: Rule =
    Rule { name: "tolerance-unknown", level: Level::Note, text: include_str!("tolerance-unknown.md"), check };

fn check(subject: &Subject<'_>) -> Vec<Finding> {
    let unit = subject.unit();
    let mut said = Once::for_holes_of(subject);
    subject
        .screw_holes()
        .filter_map(|it| {
            let (message, instead) = said.of(&it, || {
                let message = sentence(&it.judged.limits, unit)?;
                Some((SharedText::from(message), super::band::call_out(&it).map(SharedText::from)))
            })?;
            Some(RULE.at_hole(subject, it.hole, message).with_some_remedy(instead))
        })
        .collect()
}

/// What is said of limits whose tolerance nobody states; none where someone does.
fn sentence(limits: &Limits, unit: Unit) -> Option<String> {
    let size = || words::size(limits, unit);
    let stated = limits.tolerance_text.as_str();
    Some(match limits.tolerance_source {
        ToleranceSource::Callout | ToleranceSource::List | ToleranceSource::Drawing => return None,
        ToleranceSource::Process if stated.is_empty() => {
            format!("no tolerance is stated; the process's typical one was assumed: {}", size())
        }
        ToleranceSource::Process => {
            format!("no tolerance is stated; {} was assumed: {}", words::line(stated), size())
        }
        ToleranceSource::None if !matches!(stated, "" | "none stated") => {
            format!("{}; only {} was judged", words::line(stated), size())
        }
        ToleranceSource::None => {
            format!("no tolerance is stated and none is known for the process; only {} was judged", size())
        }
    })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::rules::scene::Scene;

    fn scene(source: ToleranceSource, text: &str) -> Scene {
        let mut scene = Scene::metric();
        let hole = scene.screw_hole(3.6);
        scene.judged[hole].limits.tolerance_source = source;
        scene.judged[hole].limits.tolerance_text = text.to_owned().into();
        scene
    }

    #[test]
    fn an_open_limit_is_named() {
        let text = "3.6 is the largest size and no smallest is stated (callout)";
        let message = format!("{text}; only Ø3.6 was judged");
        assert_eq!(scene(ToleranceSource::None, text).messages(&RULE), [message]);
    }

    #[test]
    fn an_assumed_tolerance_is_named() {
        let mut scene = scene(ToleranceSource::Process, "punched, typically +0.1/0");
        scene.judged[0].limits.max = crate::rules::scene::mm(3.7);
        assert_eq!(
            scene.messages(&RULE),
            ["no tolerance is stated; punched, typically +0.1/0 was assumed: Ø3.6 +0.1/0"]
        );
    }

    #[test]
    fn a_hole_judged_by_its_nominal_alone_is_named() {
        assert_eq!(
            scene(ToleranceSource::None, "").messages(&RULE),
            ["no tolerance is stated and none is known for the process; only Ø3.6 was judged"]
        );
    }

    #[test]
    fn silent_on_a_stated_tolerance_and_on_other_holes() {
        for source in [ToleranceSource::Callout, ToleranceSource::List, ToleranceSource::Drawing] {
            assert_eq!(scene(source, "").run(&RULE), []);
        }
        let mut other = Scene::metric();
        other.hole(5.0);
        assert_eq!(other.run(&RULE), []);
    }
}
