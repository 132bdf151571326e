#![doc = include_str!("coating-closes-hole.md")]

use super::{Rule, ScrewHole, Subject, sizes, words};
use crate::finding::{Finding, Level};
use crate::joint::Stage;
use crate::trade::{Basis, coated, percent};
use crate::units::Unit;

/// The rule.
pub(super) const RULE: Rule = Rule {
    name: "coating-closes-hole",
    level: Level::Warn,
    text: include_str!("coating-closes-hole.md"),
    check,
};

fn check(subject: &Subject<'_>) -> Vec<Finding> {
    let unit = subject.unit();
    let found = |it: ScrewHole<'_>| {
        let message = closed(&it, unit)?;
        let coating = it.hole.making.coating?;
        let instead = match &it.judged.advice {
            Some(advice) => format!("call out {} before coating", words::line(&advice.callout)),
            None => {
                let made = it.judged.limits.nominal + coating.thickness * 2.0;
                format!("make it {} before coating", words::diameter(made, unit))
            }
        };
        let remedy = format!("{instead}, or mask the hole");
        Some(RULE.at_hole(subject, it.hole, message).with_remedy(remedy))
    };
    subject.screw_holes().filter_map(found).collect()
}

/// The sentence, if the coating takes the hole out of its band.
fn closed(it: &ScrewHole<'_>, unit: Unit) -> Option<String> {
    let coating = it.hole.making.coating.filter(|coating| coating.stated == Some(Stage::Before))?;
    let band = it.judged.band.as_ref()?;
    let limits = &it.judged.limits;
    let thread = &it.screw.thread;
    // The first of these that was no smaller than allowed and is now.
    let size = [limits.nominal, limits.min, limits.max].into_iter().find(|&size| {
        let smallest = band.hole_min - sizes::SAME;
        size >= smallest && coated(size, coating.thickness) < smallest
    })?;
    let after = coated(size, coating.thickness);
    Some(format!(
        "{} of coating closes {} to {}: {} rolled engagement for {} instead of {}; {}",
        words::length(coating.thickness, unit),
        words::diameter(size, unit),
        words::diameter(after, unit),
        words::percent_beside(percent(thread, after, Basis::Rolled), &[band.band.max]),
        thread.name,
        words::percent(percent(thread, size, Basis::Rolled)),
        words::allowed(band, unit)
    ))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::joint::Coating;
    use crate::rules::scene::{Scene, band, mm};
    use crate::verdict::Engagement;

    /// M4, Ø3.65, band of 65 to 95 %: by hand Ø3.5681 to Ø3.7045.
    fn scene(coating: f64, stated: Option<Stage>) -> Scene {
        let mut scene = Scene::metric();
        let hole = scene.screw_hole(3.65);
        let engagement = Engagement { nominal: 76.98, at_min: 76.98, at_max: 76.98 };
        scene.judge(hole, (3.65, 3.65, 3.65), engagement, band(65.0, 95.0, mm(3.5681), mm(3.7045)));
        scene.paired.holes[hole].making.coating = Some(Coating { thickness: mm(coating), stated });
        scene
    }

    #[test]
    fn powder_that_closes_the_hole_is_found() {
        // By hand: 3.65 − 0.16 = 3.49; 0.51 / 0.4546633 = 112.2 %.
        let found = scene(0.08, Some(Stage::Before)).run(&RULE);
        assert_eq!(
            found[0].message,
            "0.08 mm of coating closes Ø3.65 to Ø3.49: 112 % rolled engagement for M4 instead of 77 %; 65 to 95 % is \
             allowed (Ø3.568 to Ø3.704)"
        );
        assert_eq!(found[0].remedy.as_deref(), Some("make it Ø3.81 before coating, or mask the hole"));
    }

    #[test]
    fn silent_on_a_thin_coating_and_on_a_size_after_coating() {
        // By hand: 8 µm of zinc gives 80.5 %.
        assert_eq!(scene(0.008, Some(Stage::Before)).run(&RULE), []);
        assert_eq!(scene(0.08, Some(Stage::After)).run(&RULE), []);
        // Where nothing says which it is, the verdict is undetermined and says so.
        assert_eq!(scene(0.08, None).run(&RULE), []);
    }

    #[test]
    fn silent_on_a_hole_that_was_too_small_before() {
        let mut scene = scene(0.08, Some(Stage::Before));
        let limits = &mut scene.judged[0].limits;
        (limits.nominal, limits.min, limits.max) = (mm(3.3), mm(3.3), mm(3.3));
        assert_eq!(scene.run(&RULE), []);
    }
}
