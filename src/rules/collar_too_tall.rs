#![doc = include_str!("collar-too-tall.md")]

use super::{Rule, ScrewHole, Subject, sizes, words};
use crate::finding::{Finding, Level};
use crate::joint::Collar;
use crate::practice::{Limit, Limits};
use crate::trade::{CollarBalance, collar_outside};
use crate::units::{Length, Unit};
use crate::verdict::collar_at;

/// The rule.
pub(super) const RULE: Rule =
    Rule { name: "collar-too-tall", level: Level::Warn, text: include_str!("collar-too-tall.md"), check };

fn check(subject: &Subject<'_>) -> Vec<Finding> {
    let unit = subject.unit();
    let found = |it: ScrewHole<'_>| {
        let (collar, sheet) = (it.row?.collar?, it.hole.making.thickness?);
        let inside = it.judged.met().nominal;
        let limits = &subject.practice.limits;
        let balance = collar_at(&collar, inside, sheet, limits);
        let (message, remedy) = wrong(&collar, (inside, sheet), &balance, limits, unit)?;
        Some(RULE.at_hole(subject, it.hole, message).with_remedy(remedy))
    };
    subject.screw_holes().filter_map(found).collect()
}

/// What is wrong with a collar, and what would do.
fn wrong(
    collar: &Collar,
    (inside, sheet): (Length, Length),
    balance: &CollarBalance,
    limits: &Limits,
    unit: Unit,
) -> Option<(String, String)> {
    let (hole, pierce, outside) = (
        words::diameter(inside, unit),
        words::diameter(balance.smallest_pierce, unit),
        words::diameter(balance.outside, unit),
    );
    let thinning = words::percent(100.0 * balance.thinning);
    let Some(greatest) = balance.greatest_height else {
        let message = format!(
            "no collar can be drawn with a pierce of {pierce}, a hole of {hole} and an outside of {outside}: each must \
             be larger than the one before"
        );
        return Some((message, "correct the collar in the hole list".to_owned()));
    };
    if collar.height > greatest + sizes::SAME {
        let message = format!(
            "the collar is {} high; {pierce} pierced in {} gives {} at {outside} outside, where its wall is thinned by \
             {thinning}",
            words::length(collar.height, unit),
            words::length(sheet, unit),
            words::length(greatest, unit)
        );
        let smallest = sheet * limits.value(Limit::SmallestPierce);
        return Some((message, lower(collar, (sheet, smallest), greatest, balance, unit)));
    }
    let most = limits.value(Limit::CollarThinning) / 100.0;
    if balance.thinning > most + 1e-9 {
        let message = format!(
            "an outside of {outside} round {hole} thins the wall of {} by {thinning}; {} is the most{}",
            words::length(sheet, unit),
            words::percent(100.0 * most),
            limits.by_whom(Limit::CollarThinning)
        );
        let least = collar_outside(inside, sheet, most);
        return Some((message, format!("make the outside at least {}", words::diameter(least, unit))));
    }
    None
}

/// A smaller pierce where one gives the height and is no smaller than the sheet is thick, else a lower collar.
fn lower(
    collar: &Collar,
    (sheet, smallest): (Length, Length),
    greatest: Length,
    balance: &CollarBalance,
    unit: Unit,
) -> String {
    if let Some(pierce) = balance.pierce.filter(|p| collar.pierce.is_some() && *p >= smallest) {
        return format!("pierce {} for this height", words::diameter(pierce, unit));
    }
    let thread = sheet + greatest - collar.entry_radius.unwrap_or(Length::ZERO);
    format!(
        "make the collar at most {} high, which with the sheet is {} of thread",
        words::length(greatest, unit),
        words::length(thread, unit)
    )
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::joint::Row;
    use crate::rules::scene::{Scene, mm};

    /// M4, Ø3.6, in 1 mm of sheet.
    fn scene(collar: Collar) -> Scene {
        let mut scene = Scene::metric();
        let hole = scene.screw_hole(3.6);
        scene.paired.holes[hole].making.thickness = Some(mm(1.0));
        scene.row(Row { collar: Some(collar), ..Row::default() }, &[hole]);
        scene
    }

    fn collar(height: f64) -> Collar {
        Collar { height: mm(height), ..Collar::default() }
    }

    #[test]
    fn a_collar_that_the_pierce_cannot_give_is_found() {
        // By hand: pierce 1, outside 3.6 + 1 = 4.6: (12.96 − 1) × 1 / (21.16 − 12.96) = 1.4585 mm.
        let found = scene(collar(1.6)).run(&RULE);
        assert_eq!(
            found[0].message,
            "the collar is 1.6 mm high; Ø1 pierced in 1 mm gives 1.459 mm at Ø4.6 outside, where its wall is thinned by \
             50 %"
        );
        assert_eq!(
            found[0].remedy.as_deref(),
            Some("make the collar at most 1.459 mm high, which with the sheet is 2.459 mm of thread")
        );
    }

    #[test]
    fn a_smaller_pierce_is_named_where_one_was_stated() {
        // Outside 5: √(12.96 − 12.04 × 0.9) = 1.4574; with 2 only (12.96 − 4) / 12.04 = 0.744 mm.
        let stated = Collar { outside: Some(mm(5.0)), pierce: Some(mm(2.0)), ..collar(0.9) };
        let found = scene(stated).run(&RULE);
        assert!(found[0].message.contains("Ø2 pierced in 1 mm gives 0.744 mm at Ø5 outside"));
        assert_eq!(found[0].remedy.as_deref(), Some("pierce Ø1.457 for this height"));
    }

    #[test]
    fn a_wall_thinned_too_far_and_sizes_out_of_order_are_found() {
        // (4.2 − 3.6) / 2 = 0.3 of 1 mm: thinned by 70 %; 12.96 − 1 over 17.64 − 12.96 = 2.556 mm would be there.
        let thin = scene(Collar { outside: Some(mm(4.2)), ..collar(1.0) });
        assert!(thin.messages(&RULE)[0].contains("thins the wall of 1 mm by 70 %; 50 % is the most"));
        assert_eq!(thin.run(&RULE)[0].remedy.as_deref(), Some("make the outside at least Ø4.6"));
        let wrong = scene(Collar { outside: Some(mm(3.0)), ..collar(1.0) });
        assert!(wrong.messages(&RULE)[0].starts_with("no collar can be drawn with a pierce of Ø1"));
    }

    #[test]
    fn silent_on_a_collar_that_the_metal_gives_and_without_a_sheet_thickness() {
        assert_eq!(scene(collar(1.4)).run(&RULE), []);
        let mut unknown = scene(collar(3.0));
        unknown.paired.holes[0].making.thickness = None;
        assert_eq!(unknown.run(&RULE), []);
    }
}
