#![doc = include_str!("cored-hole-leaves-band.md")]

use super::{Rule, ScrewHole, Subject, sizes, words};
use crate::finding::{Finding, Level};
use crate::joint::Stage;
use crate::trade::{Basis, percent};
use crate::units::{Length, Unit};
use crate::verdict::{Along, AlongPoint, HoleBand};

/// The rule.
pub(super) const RULE: Rule = Rule {
    name: "cored-hole-leaves-band",
    level: Level::Fail,
    text: include_str!("cored-hole-leaves-band.md"),
    check,
};

fn check(subject: &Subject<'_>) -> Vec<Finding> {
    let unit = subject.unit();
    let found = |it: ScrewHole<'_>| {
        let (band, along) = (it.judged.band.as_ref()?, it.judged.along.as_ref()?);
        let message = if along.in_band == Some(false) {
            nominal(&it, band, along, unit)
        } else if along.most > percent(&it.screw.thread, band.hole_min - sizes::SAME, Basis::Rolled) {
            at_limits(&it, band, along, unit)
        } else {
            return None;
        };
        let remedy = otherwise(&it, along, unit);
        Some(RULE.at_hole(subject, it.hole, message).with_remedy(remedy))
    };
    subject.screw_holes().filter_map(found).collect()
}

/// What the nominal hole gives along its depth.
fn nominal(it: &ScrewHole<'_>, band: &HoleBand, along: &Along, unit: Unit) -> String {
    let edges = [band.band.min, band.band.max];
    let [first, middle, last] = along.points.map(|p| words::percent_beside(p.engagement, &edges));
    let ends = match along.longest {
        Some(longest) => {
            format!("; the band ends {} down", words::length(along.points[0].depth + longest, unit))
        }
        None => String::new(),
    };
    format!(
        "along its draft of {}° the hole gives {first} {}, {middle} half way and {last} at {} (rolled, {}); {}{ends}",
        words::short(along.draft.degrees()),
        start(&along.points[0], unit),
        words::length(along.points[2].depth, unit),
        it.screw.thread.name,
        words::allowed(band, unit)
    )
}

/// What the limits of size give where the nominal stays inside.
fn at_limits(it: &ScrewHole<'_>, band: &HoleBand, along: &Along, unit: Unit) -> String {
    let edges = [band.band.min, band.band.max];
    format!(
        "at its limits of size the hole gives {} {} to {} at {} along its draft of {}° (rolled, {}); {}",
        words::percent_beside(along.least, &edges),
        start(&along.points[0], unit),
        words::percent_beside(along.most, &edges),
        words::length(along.points[2].depth, unit),
        words::short(along.draft.degrees()),
        it.screw.thread.name,
        words::allowed(band, unit)
    )
}

fn start(point: &AlongPoint, unit: Unit) -> String {
    if point.depth > Length::ZERO {
        format!("at {}, below the countersink", words::length(point.depth, unit))
    } else {
        "at the entrance".to_owned()
    }
}

/// The entrance that keeps this length inside the band, or the length and the draft that some entrance could keep.
fn otherwise(it: &ScrewHole<'_>, along: &Along, unit: Unit) -> String {
    let coating = it.judged.coating.as_ref();
    if let Some(entrance) = along.entrance {
        let made = entrance + coating.map_or(Length::ZERO, |c| c.coating.takes().0);
        let when = if coating.is_some_and(|c| c.coating.stated == Some(Stage::Before)) {
            " before coating"
        } else {
            ""
        };
        return format!("make the entrance {}{when}", words::diameter(made, unit));
    }
    let Some((longest, draft)) = along.longest_at_best.zip(along.most_draft) else {
        return "the tolerance alone fills the band; narrow it".to_owned();
    };
    let engaged = along.points[2].depth - along.points[0].depth;
    let less = if draft.degrees() > 0.0 {
        format!("reduce the draft to {}° or the engaged length", words::short(draft.degrees()))
    } else {
        "reduce the engaged length".to_owned()
    };
    format!(
        "at this draft no more than {} of {} can stay inside the band; {less}",
        words::number(longest, unit),
        words::length(engaged, unit)
    )
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::joint::Row;
    use crate::rules::scene::{Scene, band, mm};
    use crate::trade::Thread;
    use crate::units::Angle;
    use crate::verdict::{Engagement, drafted};

    /// M6, entrance Ø5.70: by hand 0.3 / 0.649519 = 46.19 %. Band of 60 to 85 %: Ø5.4479 to Ø5.6103.
    fn scene(entrance: f64, depth: f64, draft: f64) -> Scene {
        let mut scene = Scene::metric();
        let hole = scene.screw_hole(entrance);
        let thread =
            Thread { name: "M6".to_owned(), major: mm(6.0), pitch: mm(1.0), ..Thread::parse("M6").unwrap() };
        scene.paired.holes[hole].screw.as_mut().unwrap().thread = thread;
        scene.paired.holes[hole].depth = Some(mm(depth));
        scene.paired.holes[hole].making.thickness = Some(mm(20.0));
        let engagement = Engagement { nominal: 46.19, at_min: 46.19, at_max: 46.19 };
        let limits = (entrance, entrance, entrance);
        scene.judge(hole, limits, engagement, band(60.0, 85.0, mm(5.447_909), mm(5.610_289)));
        let draft = Angle::from_degrees(draft).ok();
        scene.row(Row { draft, ..Row::default() }, &[hole]);
        along(&mut scene);
        scene
    }

    /// Works out the hole along its depth anew.
    fn along(scene: &mut Scene) {
        let (hole, judged) = (&scene.paired.holes[0], &scene.judged[0]);
        let thread = &hole.screw.as_ref().unwrap().thread;
        let met = judged.met();
        let drafted = drafted(hole, Some(&scene.paired.rows[0].row), thread, &met, &scene.practice.limits);
        let found = drafted.map(|d| d.along(judged.band.as_ref(), Unit::Mm));
        scene.judged[0].along = found.map(Box::new);
    }

    #[test]
    fn a_hole_that_leaves_the_band_along_its_depth_is_found() {
        // By hand: 5.7 − 24 tan 1° = 5.2811, half way 5.4905; 46.19, 78.44 and 110.68 %.
        // Longest: 0.25 × 0.649519 / (2 × 0.0174551) = 4.651 mm.
        let found = scene(5.7, 12.0, 1.0).run(&RULE);
        assert_eq!(
            found[0].message,
            "along its draft of 1° the hole gives 46 % at the entrance, 78 % half way and 111 % at 12 mm (rolled, M6); 60 \
             to 85 % is allowed (Ø5.448 to Ø5.61)"
        );
        let remedy = found[0].remedy.as_deref().unwrap();
        assert!(
            remedy.starts_with("at this draft no more than 4.651 of 12 mm can stay inside the band"),
            "{remedy}"
        );
        // (5.610289 − 5.447909) / 24 is tan 0.3877°; 0.35° is the step of 0.05° below.
        assert!(remedy.ends_with("reduce the draft to 0.35° or the engaged length"), "{remedy}");
    }

    #[test]
    fn where_another_entrance_would_do_it_is_named() {
        // By hand: 72.5 % is 6 − 0.725 × 0.649519 = 5.5291; half of 4 mm at 0.5°: 4 tan 0.5° = 0.0349; 5.564.
        let found = scene(5.7, 4.0, 0.5).run(&RULE);
        assert_eq!(found[0].remedy.as_deref(), Some("make the entrance Ø5.56"));
        assert_eq!(scene(5.56, 4.0, 0.5).run(&RULE), []);
    }

    #[test]
    fn limits_that_leave_the_band_at_the_bottom_are_found() {
        // Nominal 5.56 to 5.4902 over 4 mm at 0.5°: inside. Smallest 5.50 − 0.0698 = 5.4302: 87.7 %, above 85.
        let mut scene = scene(5.56, 4.0, 0.5);
        scene.judged[0].limits.min = mm(5.5);
        along(&mut scene);
        let found = scene.run(&RULE);
        assert!(found[0].message.starts_with("at its limits of size the hole gives"), "{}", found[0].message);
        assert!(found[0].message.contains("to 88 % at 4 mm"), "{}", found[0].message);
    }

    #[test]
    fn a_countersink_takes_its_depth_off_the_thread() {
        // 12 deep with a countersink 8 deep: thread from 8 to 12. By hand 5.7 − 16 tan 1° = 5.4207: 89.2 %.
        let mut scene = scene(5.7, 12.0, 1.0);
        scene.paired.holes[0].entry = Some((crate::pairing::Role::Countersink, mm(9.0), Some(mm(8.0))));
        along(&mut scene);
        let message = scene.run(&RULE).remove(0).message;
        assert!(message.contains("89 % at 8 mm, below the countersink"), "{message}");
        // Below a counterbore the mouth is at its floor: 5.7 there, 4 mm of thread.
        scene.paired.holes[0].entry = Some((crate::pairing::Role::Counterbore, mm(9.0), Some(mm(8.0))));
        along(&mut scene);
        let message = scene.run(&RULE).remove(0).message;
        assert!(message.contains("46 % at the entrance") && message.contains("at 4 mm"), "{message}");
    }

    #[test]
    fn silent_without_draft() {
        assert_eq!(scene(5.7, 12.0, 0.0).run(&RULE), []);
    }
}
