#![doc = include_str!("drawing-partly-read.md")]

use super::{Rule, Subject, words};
use crate::drawing::{Problem, ReadState};
use crate::finding::{Finding, Level};

/// The rule.
pub(super) const RULE: Rule = Rule {
    name: "drawing-partly-read",
    level: Level::Fail,
    text: include_str!("drawing-partly-read.md"),
    check,
};

/// Findings of one drawing before a last one sums up the rest. A damaged file can hold one problem a line.
const MOST: usize = 20;

fn check(subject: &Subject<'_>) -> Vec<Finding> {
    if subject.state != ReadState::PartlyRead {
        return Vec::new();
    }
    let losses: Vec<&Problem> = subject.problems.iter().filter(|problem| problem.loss).collect();
    let (named, rest) = losses.split_at(losses.len().min(MOST));
    let finding = |problem: &&Problem| RULE.at_line(problem.line, words::line(&problem.message));
    let mut findings: Vec<Finding> = named.iter().map(finding).collect();
    if let Some(next) = rest.first() {
        let message =
            format!("{} follow; the report lists them all", words::counted(rest.len(), "more problem"));
        findings.push(RULE.at_line(next.line, message));
    }
    findings
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::rules::scene::Scene;

    #[test]
    fn each_loss_is_found_with_its_line_and_harmless_problems_are_not() {
        let mut scene = Scene::metric();
        scene.lose(12, "a number was expected, found 2,5");
        scene.lose(40, "the file ends inside an entity");
        scene.lose(50, "no end of file mark");
        scene.problems[2].loss = false;
        let found = scene.run(&RULE);
        assert_eq!(found.iter().map(|f| f.place.line).collect::<Vec<_>>(), [Some(12), Some(40)]);
        assert_eq!(found[0].message, "a number was expected, found 2,5");
    }

    #[test]
    fn many_losses_are_summed_up_and_counted() {
        let mut scene = Scene::metric();
        for line in 1..=25 {
            scene.lose(line, "lost");
        }
        let found = scene.run(&RULE);
        assert_eq!(found.len(), 21);
        assert_eq!(found[20].message, "5 more problems follow; the report lists them all");
        assert_eq!(found[20].place.line, Some(21));
    }

    #[test]
    fn silent_on_a_drawing_that_was_read_whole() {
        assert_eq!(Scene::metric().run(&RULE), []);
    }
}
