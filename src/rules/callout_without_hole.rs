#![doc = include_str!("callout-without-hole.md")]

use super::{Rule, Subject, words};
use crate::callout::Callout;
use crate::finding::{Finding, Level};
use crate::joint::Row;

/// The rule.
pub(super) const RULE: Rule = Rule {
    name: "callout-without-hole",
    level: Level::Warn,
    text: include_str!("callout-without-hole.md"),
    check,
};

fn check(subject: &Subject<'_>) -> Vec<Finding> {
    let rows = &subject.paired.rows;
    let lonely = subject.paired.callouts.iter().filter(|seen| seen.holes.is_empty());
    lonely
        .filter(|seen| {
            seen.callout.screw.is_some() || rows.iter().any(|row| row_names(&row.row, &seen.callout))
        })
        .map(|seen| {
            let why = seen.left.as_ref().map_or_else(String::new, |left| format!(": {}", words::line(left)));
            let message = format!("no hole answers {}{why}", words::quoted(&seen.callout.text));
            RULE.at_entity(subject, &seen.origin, message).with_remedy("draw the hole, or remove the callout")
        })
        .collect()
}

/// Whether a row for a screw names this callout, by its tag or by its thread.
fn row_names(row: &Row, callout: &Callout) -> bool {
    let Some(screw) = &row.screw else { return false };
    let by_tag = row.tag.is_some() && row.tag == callout.tag;
    let by_thread = callout.thread.as_ref().is_some_and(|named| named.thread.name == screw.thread.name);
    by_tag || by_thread
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::joint::ScrewForm;
    use crate::rules::scene::Scene;

    fn named(screw: Option<ScrewForm>, tag: Option<&str>) -> Callout {
        let text = "4X Ø3.6 FOR M4 THREAD ROLLING SCREW".to_owned();
        Callout { text, screw, tag: tag.map(str::to_owned), ..Callout::default() }
    }

    #[test]
    fn a_screw_callout_that_no_circle_answers_is_found() {
        let mut scene = Scene::metric();
        let callout = scene.callout(named(Some(ScrewForm::Rolling), None), &[]);
        scene.paired.callouts[callout].left = Some("no circle of that size".to_owned());
        let found = scene.run(&RULE);
        assert_eq!(
            found[0].message,
            "no hole answers '4X Ø3.6 FOR M4 THREAD ROLLING SCREW': no circle of that size"
        );
        assert_eq!(found[0].place.handle.as_deref(), Some("41"));
    }

    #[test]
    fn a_callout_that_the_list_names_by_tag_is_found() {
        let mut scene = Scene::metric();
        let hole = scene.screw_hole(3.6);
        let screw = scene.paired.holes[hole].screw.clone();
        scene.row(Row { tag: Some("B".to_owned()), screw, ..Row::default() }, &[]);
        scene.callout(named(None, Some("B")), &[]);
        assert_eq!(scene.run(&RULE).len(), 1);
    }

    #[test]
    fn silent_on_answered_callouts_and_on_holes_of_other_kinds() {
        let mut scene = Scene::metric();
        let hole = scene.screw_hole(3.6);
        scene.callout(named(Some(ScrewForm::Rolling), None), &[hole]);
        scene.callout(named(None, Some("C")), &[]);
        assert_eq!(scene.run(&RULE), []);
    }
}
