#![doc = include_str!("drawing-unreadable.md")]

use super::{Rule, Subject, words};
use crate::drawing::ReadState;
use crate::finding::{Finding, Level};

/// The rule.
pub(super) const RULE: Rule = Rule {
    name: "drawing-unreadable",
    level: Level::Fail,
    text: include_str!("drawing-unreadable.md"),
    check,
};

fn check(subject: &Subject<'_>) -> Vec<Finding> {
    if subject.state != ReadState::Unreadable {
        return Vec::new();
    }
    let problems = subject.problems.iter();
    problems.map(|problem| RULE.at_line(problem.line, words::line(&problem.message))).collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::rules::scene::Scene;

    #[test]
    fn the_reason_is_given_with_its_line() {
        let mut scene = Scene::metric();
        scene.lose(3, "this is a PDF file: export the drawing as DXF");
        scene.state = ReadState::Unreadable;
        let found = scene.run(&RULE);
        assert_eq!(found[0].message, "this is a PDF file: export the drawing as DXF");
        assert_eq!(found[0].place.line, Some(3));
    }

    #[test]
    fn silent_on_a_drawing_that_was_read_in_part() {
        let mut scene = Scene::metric();
        scene.lose(3, "a number was expected");
        assert_eq!(scene.run(&RULE), []);
    }
}
