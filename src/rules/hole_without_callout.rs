#![doc = include_str!("hole-without-callout.md")]

use super::{Rule, Subject, words};
use crate::finding::{Finding, Level};
use crate::verdict::DiameterSource;

/// The rule.
pub(super) const RULE: Rule = Rule {
    name: "hole-without-callout",
    level: Level::Note,
    text: include_str!("hole-without-callout.md"),
    check,
};

fn check(subject: &Subject<'_>) -> Vec<Finding> {
    let unit = subject.unit();
    let silent = subject.screw_holes().filter(|it| it.row.is_some() && it.hole.callout.is_none());
    silent
        .map(|it| {
            let source = match it.judged.limits.source {
                DiameterSource::List => "the hole list's",
                DiameterSource::Callout | DiameterSource::Drawn => "the drawn circle's",
            };
            let message = format!(
                "no callout states this hole for {}; {source} {} was checked",
                it.screw.thread.name,
                words::diameter(it.judged.limits.nominal, unit)
            );
            RULE.at_hole(subject, it.hole, message).with_some_remedy(super::band::call_out(&it))
        })
        .collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::callout::Callout;
    use crate::joint::Row;
    use crate::rules::scene::Scene;

    #[test]
    fn a_listed_hole_that_nothing_states_is_found() {
        let mut scene = Scene::metric();
        let hole = scene.screw_hole(3.6);
        scene.row(Row::default(), &[hole]);
        assert_eq!(
            scene.messages(&RULE),
            ["no callout states this hole for M4; the drawn circle's Ø3.6 was checked"]
        );
    }

    #[test]
    fn silent_with_a_callout_and_on_holes_that_no_row_names() {
        let mut scene = Scene::metric();
        let stated = scene.screw_hole(3.6);
        scene.row(Row::default(), &[stated]);
        scene.callout(Callout::default(), &[stated]);
        scene.screw_hole(3.6);
        scene.hole(5.0);
        assert_eq!(scene.run(&RULE), []);
    }
}
