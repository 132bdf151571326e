#![doc = include_str!("listed-hole-missing.md")]

use super::{Rule, Subject, row_name, words};
use crate::finding::{Finding, Level};

/// The rule.
pub(super) const RULE: Rule = Rule {
    name: "listed-hole-missing",
    level: Level::Fail,
    text: include_str!("listed-hole-missing.md"),
    check,
};

fn check(subject: &Subject<'_>) -> Vec<Finding> {
    let lost = subject.paired.rows.iter().filter(|seen| seen.holes.is_empty());
    lost.map(|seen| {
        let why = seen.left.as_ref().map_or_else(String::new, |left| format!(": {}", words::line(left)));
        RULE.at_drawing(format!("{} finds no hole{why}", row_name(&seen.row)))
            .with_remedy("correct the row, or draw the hole")
    })
    .collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::joint::Row;
    use crate::rules::scene::Scene;

    #[test]
    fn a_row_without_a_hole_is_found() {
        let mut scene = Scene::metric();
        let hole = scene.screw_hole(3.6);
        let screw = scene.paired.holes[hole].screw.clone();
        scene.row(Row::default(), &[hole]);
        let row = scene.row(Row { tag: Some("B".to_owned()), screw, ..Row::default() }, &[]);
        scene.paired.rows[row].left = Some("no tag B on the drawing".to_owned());
        assert_eq!(
            scene.messages(&RULE),
            ["row 2 of lid.holes.json (tag B, M4) finds no hole: no tag B on the drawing"]
        );
    }

    #[test]
    fn silent_where_the_row_found_its_holes() {
        let mut scene = Scene::metric();
        let hole = scene.screw_hole(3.6);
        scene.row(Row::default(), &[hole]);
        assert_eq!(scene.run(&RULE), []);
    }
}
