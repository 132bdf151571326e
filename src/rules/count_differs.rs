#![doc = include_str!("count-differs.md")]

use super::{Rule, Subject, row_name, words};
use crate::finding::{Finding, Level};
use crate::pairing::{SeenCallout, SeenRow};

/// The rule.
pub(super) const RULE: Rule =
    Rule { name: "count-differs", level: Level::Warn, text: include_str!("count-differs.md"), check };

fn check(subject: &Subject<'_>) -> Vec<Finding> {
    let callouts = subject.paired.callouts.iter().filter_map(|seen| of_callout(subject, seen));
    let rows = subject.paired.rows.iter().filter_map(|seen| of_row(subject, seen));
    callouts.chain(rows).collect()
}

/// A callout whose count its holes do not meet. Pairing decides that, because it knows views.
fn of_callout(subject: &Subject<'_>, seen: &SeenCallout) -> Option<Finding> {
    let count = seen.callout.count?;
    let left = seen.left.as_ref()?;
    if seen.holes.is_empty() {
        return None;
    }
    let message = format!(
        "{} counts {}, but {left}",
        words::quoted(&seen.callout.text),
        words::counted(count as usize, "hole")
    );
    Some(RULE.at_entity(subject, &seen.origin, message).with_remedy("correct the count or the drawing"))
}

fn of_row(subject: &Subject<'_>, seen: &SeenRow) -> Option<Finding> {
    if seen.holes.is_empty() {
        return None;
    }
    let wanted = if seen.row.at.is_empty() { seen.row.count? as usize } else { seen.row.at.len() };
    let missing = &seen.missing_at;
    let left = seen.left.clone().unwrap_or_default();
    if left.is_empty() && missing.is_empty() {
        return None;
    }
    let mut message = format!(
        "{} stands for {}, but {} found",
        row_name(&seen.row),
        words::counted(wanted, "hole"),
        if seen.holes.len() == 1 { "1 was".to_owned() } else { format!("{} were", seen.holes.len()) }
    );
    if let Some(point) = missing.first() {
        let more =
            if missing.len() > 1 { format!(" and {} more places", missing.len() - 1) } else { String::new() };
        message =
            format!("{message}: none at x {}, y {}{more}", words::short(point.x), words::short(point.y));
    }
    let first = seen.holes.first().and_then(|&hole| subject.paired.holes.get(hole))?;
    let callout = subject.callout_of(first).map(|callout| &callout.origin);
    let finding = RULE.at_entity(subject, callout.unwrap_or(&first.origin), message);
    Some(finding.with_remedy("correct the hole list or the drawing"))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::callout::Callout;
    use crate::geometry::Point;
    use crate::joint::Row;
    use crate::rules::scene::Scene;

    fn three_holes() -> Scene {
        let mut scene = Scene::metric();
        for _ in 0..3 {
            scene.screw_hole(3.6);
        }
        scene
    }

    #[test]
    fn a_callout_that_counts_another_number_is_found_at_the_callout() {
        let mut scene = three_holes();
        let text = "4X Ø3.6 THRU".to_owned();
        let callout = scene.callout(Callout { text, count: Some(4), ..Callout::default() }, &[0, 1, 2]);
        scene.paired.callouts[callout].left = Some("3 such circles are in its view".to_owned());
        let found = scene.run(&RULE);
        assert_eq!(found[0].message, "'4X Ø3.6 THRU' counts 4 holes, but 3 such circles are in its view");
        assert_eq!(found[0].place.handle.as_deref(), Some("41"));
        assert_eq!(found[0].place.layer.as_deref(), Some("NOTES"));
        assert_eq!((found[0].place.hole.as_deref(), found[0].place.at), (None, None));
    }

    #[test]
    fn a_row_that_counts_another_number_is_found() {
        let mut scene = three_holes();
        let row = Row { tag: Some("A".to_owned()), count: Some(4), ..Row::default() };
        let row = scene.row(row, &[0, 1, 2]);
        scene.paired.rows[row].left = Some("3 of 4".to_owned());
        assert_eq!(
            scene.messages(&RULE),
            ["row 1 of lid.holes.json (tag A) stands for 4 holes, but 3 were found"]
        );
    }

    #[test]
    fn a_position_without_a_hole_is_named() {
        let mut scene = three_holes();
        let at = vec![Point::new(0.0, 5.0), Point::new(60.0, 15.0)];
        let row = scene.row(Row { at, ..Row::default() }, &[0]);
        scene.paired.rows[row].missing_at = vec![Point::new(60.0, 15.0)];
        assert_eq!(
            scene.messages(&RULE),
            ["row 1 of lid.holes.json stands for 2 holes, but 1 was found: none at x 60, y 15"]
        );
    }

    #[test]
    fn silent_where_counts_agree_and_where_nothing_was_found() {
        let mut scene = three_holes();
        scene.callout(Callout { count: Some(3), ..Callout::default() }, &[0, 1, 2]);
        scene.row(Row { count: Some(3), ..Row::default() }, &[0, 1, 2]);
        assert_eq!(scene.run(&RULE), []);
        let lonely = scene.callout(Callout { count: Some(3), ..Callout::default() }, &[]);
        scene.paired.callouts[lonely].left = Some("no circle answers it".to_owned());
        assert_eq!(scene.run(&RULE), []);
    }
}
