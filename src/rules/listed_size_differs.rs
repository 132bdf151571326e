#![doc = include_str!("listed-size-differs.md")]

use super::drawn_size_differs::{scale_words, true_size};
use super::{Rule, ScrewHole, Subject, sizes, words};
use crate::finding::{Finding, Level};
use crate::joint::StatedSize;
use crate::pairing::Hole;
use crate::units::{Length, Unit};

/// The rule.
pub(super) const RULE: Rule = Rule {
    name: "listed-size-differs",
    level: Level::Warn,
    text: include_str!("listed-size-differs.md"),
    check,
};

/// Share of the size that a drawn circle may always be off.
const LEAST_ALLOWANCE: f64 = 0.005;

fn check(subject: &Subject<'_>) -> Vec<Finding> {
    let unit = subject.unit();
    let screws = subject.screw_holes().filter_map(|it| another_thread(subject, &it));
    let holes = subject.paired.holes.iter();
    let sizes = holes.filter_map(|hole| {
        let listed = listed(subject, hole)?;
        let other = match &hole.called {
            Some(called) => against_callout(listed, called, unit),
            None => against_circle(listed, hole, unit),
        }?;
        let message = format!("the hole list says {}, {other}", sizes::text(listed, unit));
        Some(RULE.at_hole(subject, hole, message).with_remedy("correct the one that is out of date"))
    });
    let depths = subject.paired.holes.iter().filter_map(|hole| another_depth(subject, hole));
    let blind = subject.paired.holes.iter().filter_map(|hole| through(subject, hole));
    sizes.chain(screws).chain(depths).chain(blind).collect()
}

/// Share of the metal's thickness by which a depth may be rounded and still be all of it.
const ROUNDED_DEPTH: f64 = 0.02;

/// A hole that the list's row ends within the metal, and that goes through by its callout.
fn through(subject: &Subject<'_>, hole: &Hole) -> Option<Finding> {
    let depth = subject.paired.rows.get(hole.row?)?.row.depth?;
    let thickness = hole.making.thickness?;
    let ends_within = depth < thickness * (1.0 - ROUNDED_DEPTH);
    (ends_within && subject.callout_of(hole)?.callout.through).then(|| {
        let [depth, thickness] = [depth, thickness].map(|length| words::length(length, subject.unit()));
        let message = format!("the hole list says {depth} deep in {thickness}, the callout through");
        RULE.at_hole(subject, hole, message).with_remedy("correct the one that is out of date")
    })
}

/// A blind hole whose callout states another depth than the list's row. Between units it may be off by the rounding of the
/// callout.
fn another_depth(subject: &Subject<'_>, hole: &Hole) -> Option<Finding> {
    let row = &subject.paired.rows.get(hole.row?)?.row;
    let callout = &subject.callout_of(hole)?.callout;
    let unit = hole.called.as_ref().and_then(|called| called.unit).unwrap_or(subject.unit());
    let (listed, written) = (row.depth?, callout.depth.filter(|_| !callout.through)?);
    let called = written.length(unit)?;
    let size =
        StatedSize { decimals: written.decimals, unit: written.unit.or(Some(unit)), ..StatedSize::default() };
    let one_unit = row.unit.unwrap_or(subject.unit()) == written.unit.unwrap_or(unit);
    let rounding = sizes::half_of_last_decimal(&size, subject.unit());
    let allowance = if one_unit { sizes::SAME } else { rounding.max(sizes::SAME) };
    ((listed - called).abs() > allowance).then(|| {
        let (listed, called) = (words::length(listed, subject.unit()), words::length(called, subject.unit()));
        let message = format!("the hole list says {listed} deep, the callout {called}");
        RULE.at_hole(subject, hole, message).with_remedy("correct the one that is out of date")
    })
}

/// A callout that names a self-forming screw of another thread than the list's row. A tap is another rule's matter.
fn another_thread(subject: &Subject<'_>, it: &ScrewHole<'_>) -> Option<Finding> {
    it.row?.screw.as_ref()?;
    let callout = &subject.callout_of(it.hole)?.callout;
    let named = &callout.thread.as_ref().filter(|_| callout.screw.is_some())?.thread;
    let listed = &it.screw.thread;
    if named.is_same(listed) {
        return None;
    }
    let message = format!("the hole list says {}, the callout names {}", listed.name, named.name);
    Some(RULE.at_hole(subject, it.hole, message).with_remedy("correct the one that is out of date"))
}

/// What the list says of the size that is drawn: its diameter where it states the entrance of a cored hole beside it.
fn listed<'a>(subject: &Subject<'a>, hole: &'a Hole) -> Option<&'a StatedSize> {
    let row = hole.row.and_then(|r| subject.paired.rows.get(r)).map(|seen| &seen.row);
    let both = row.filter(|row| row.entrance_diameter.is_some() && row.size.nominal.is_some());
    both.map(|row| &row.size).or(hole.listed.as_ref())
}

/// What the callout says, if it is not what the list says.
fn against_callout(listed: &StatedSize, called: &StatedSize, unit: Unit) -> Option<String> {
    let differs = sizes::differ(listed, called, unit) || sizes::limits_differ(listed, called, unit);
    differs.then(|| format!("the callout {}", sizes::text(called, unit)))
}

/// How the circle is drawn, if that is not what the list says.
fn against_circle(listed: &StatedSize, hole: &Hole, unit: Unit) -> Option<String> {
    let drawn = true_size(hole)?;
    let (min, max) = sizes::limits(listed)?;
    let nominal = sizes::nominal(listed)?;
    let allowance = sizes::half_of_last_decimal(listed, unit).max(nominal * LEAST_ALLOWANCE);
    let (least, most): (Length, Length) = (min.min(nominal) - allowance, max.max(nominal) + allowance);
    let right = drawn >= least && drawn <= most;
    (!right).then(|| {
        format!("the circle is drawn {}{}", words::diameter(drawn, unit), scale_words(hole.view_scale))
    })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::joint::Row;
    use crate::rules::scene::{Scene, stated, toleranced};

    fn scene(drawn: f64, listed: StatedSize, called: Option<StatedSize>) -> Scene {
        let mut scene = Scene::metric();
        let hole = scene.screw_hole(drawn);
        scene.paired.holes[hole].listed = Some(listed);
        scene.paired.holes[hole].called = called;
        scene
    }

    fn mm(value: f64) -> StatedSize {
        stated(value, 2, Unit::Mm)
    }

    #[test]
    fn another_nominal_is_found() {
        assert_eq!(
            scene(3.3, mm(3.6), Some(mm(3.3))).messages(&RULE),
            ["the hole list says Ø3.6, the callout Ø3.3"]
        );
    }

    #[test]
    fn another_tolerance_is_found() {
        let listed = toleranced(mm(3.6), 0.05, 0.0);
        assert_eq!(
            scene(3.6, listed.clone(), Some(toleranced(mm(3.6), 0.1, 0.0))).messages(&RULE),
            ["the hole list says Ø3.6 +0.05/0, the callout Ø3.6 +0.1/0"]
        );
        assert_eq!(scene(3.6, listed.clone(), Some(listed)).run(&RULE), []);
    }

    #[test]
    fn the_same_size_in_the_other_unit_is_the_same() {
        // .142 in is 3.6068 mm; half of its last decimal is 0.0127 mm.
        assert_eq!(scene(3.6, stated(0.142, 3, Unit::Inch), Some(mm(3.6))).run(&RULE), []);
    }

    #[test]
    fn another_depth_is_found() {
        // .31 in is 7.874 mm; half of its last decimal is 0.127 mm.
        for (text, unit, found) in [
            ("Ø3.6 x 6 DEEP", Unit::Mm, 1),
            ("Ø3.6 x 8 DEEP", Unit::Mm, 0),
            ("Ø.142 x .31 DEEP", Unit::Inch, 0),
        ] {
            let mut scene =
                scene(3.6, mm(3.6), Some(stated(if unit == Unit::Mm { 3.6 } else { 0.142 }, 3, unit)));
            let depth = Length::new(8.0, Unit::Mm).ok();
            scene.row(Row { depth, unit: Some(Unit::Mm), ..Row::default() }, &[0]);
            scene.callout(crate::callout::read(text), &[0]);
            assert_eq!(scene.run(&RULE).len(), found, "{text}");
            if found == 1 {
                assert_eq!(scene.messages(&RULE), ["the hole list says 8 mm deep, the callout 6 mm"]);
            }
        }
    }

    /// It was once judged as blind, whatever the callout said, without a word.
    #[test]
    fn a_depth_within_the_metal_is_another_than_through() {
        for (text, thickness, found) in [
            ("Ø3.6 THRU", Some(10.0), vec!["the hole list says 8 mm deep in 10 mm, the callout through"]),
            // The whole thickness but for rounding, or one that nobody states.
            ("Ø3.6 THRU", Some(8.1), vec![]),
            ("Ø3.6 THRU", None, vec![]),
            ("Ø3.6", Some(10.0), vec![]),
        ] {
            let mut scene = scene(3.6, mm(3.6), Some(mm(3.6)));
            let length = |value| Length::new(value, Unit::Mm).ok();
            scene.paired.holes[0].joint.making.thickness = thickness.and_then(length);
            scene.row(Row { depth: length(8.0), ..Row::default() }, &[0]);
            scene.callout(crate::callout::read(text), &[0]);
            assert_eq!(scene.messages(&RULE), found, "{text} {thickness:?}");
        }
    }

    #[test]
    fn without_a_callout_the_circle_is_compared() {
        assert_eq!(
            scene(3.3, mm(3.6), None).messages(&RULE),
            ["the hole list says Ø3.6, the circle is drawn Ø3.3"]
        );
        assert_eq!(scene(3.61, mm(3.6), None).run(&RULE), []);
    }

    /// A row with entrance and diameter of a cored hole once disagreed with a circle drawn at that diameter.
    #[test]
    fn the_entrance_of_a_cored_hole_is_no_other_size() {
        let mut scene = scene(3.7, mm(3.74), None);
        let row = Row { size: mm(3.7), entrance_diameter: mm(3.74).nominal, ..Row::default() };
        scene.row(row.clone(), &[0]);
        assert_eq!(scene.run(&RULE), []);
        scene.paired.rows[0].row = Row { size: mm(3.6), ..row };
        assert_eq!(scene.messages(&RULE), ["the hole list says Ø3.6, the circle is drawn Ø3.7"]);
    }

    /// A list that says M4 beside a callout for an M5 screw once passed in silence.
    #[test]
    fn another_thread_than_the_callout_names_is_found() {
        let with_screw = |text: &str| {
            let mut scene = scene(3.6, mm(3.6), None);
            let screw = scene.paired.holes[0].screw.clone();
            scene.row(Row { screw, ..Row::default() }, &[0]);
            scene.callout(crate::callout::read(text), &[0]);
            scene.messages(&RULE)
        };
        assert_eq!(
            with_screw("Ø3.6 FOR M5 THREAD ROLLING SCREW"),
            ["the hole list says M4, the callout names M5"]
        );
        assert_eq!(with_screw("Ø3.6 FOR M4x0.7 THREAD ROLLING SCREW"), [""; 0]);
    }

    #[test]
    fn silent_without_a_listed_size() {
        let mut scene = scene(3.3, mm(3.3), Some(mm(3.3)));
        scene.paired.holes[0].listed = None;
        assert_eq!(scene.run(&RULE), []);
    }
}
