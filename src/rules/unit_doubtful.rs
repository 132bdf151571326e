#![doc = include_str!("unit-doubtful.md")]

use super::{Rule, Subject, words};
use crate::finding::{Finding, Level};
use crate::units::Unit;

/// The rule.
pub(super) const RULE: Rule =
    Rule { name: "unit-doubtful", level: Level::Warn, text: include_str!("unit-doubtful.md"), check };

fn check(subject: &Subject<'_>) -> Vec<Finding> {
    let reading = &subject.paired.unit;
    if !reading.doubtful {
        return Vec::new();
    }
    let side = |unit: Unit| {
        let who: Vec<&str> =
            reading.votes.iter().filter(|v| v.unit == unit).map(|v| v.who.as_str()).collect();
        (!who.is_empty()).then(|| format!("{unit} by {}", words::line(&who.join(", "))))
    };
    let sides: Vec<String> = [Unit::Mm, Unit::Inch].into_iter().filter_map(side).collect();
    let votes = if sides.is_empty() { String::new() } else { format!(": {}", sides.join("; ")) };
    let message = format!("the drawing's unit is doubtful, and was read as {}{votes}", reading.unit);
    vec![RULE.at_drawing(message).with_remedy("state the unit in the title block and set $INSUNITS to it")]
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::pairing::UnitVote;
    use crate::rules::scene::Scene;

    #[test]
    fn every_vote_is_named() {
        let mut scene = Scene::inches();
        scene.paired.unit.doubtful = true;
        for (unit, who) in
            [(Unit::Mm, "$INSUNITS 4"), (Unit::Inch, "callout .224"), (Unit::Inch, "title block")]
        {
            scene.paired.unit.votes.push(UnitVote { unit, who: who.to_owned(), weight: 1.0 });
        }
        assert_eq!(
            scene.messages(&RULE),
            [
                "the drawing's unit is doubtful, and was read as in: mm by $INSUNITS 4; in by callout .224, title block"
            ]
        );
    }

    #[test]
    fn silent_where_the_votes_leave_no_doubt() {
        assert_eq!(Scene::inches().run(&RULE), []);
    }
}
