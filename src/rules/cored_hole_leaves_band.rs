#![doc = include_str!("cored-hole-leaves-band.md")]

use super::{Rule, ScrewHole, Subject, sizes, words};
use crate::finding::{Finding, Level};
use crate::trade::{Basis, cored_diameter, cored_longest_depth, hole_for, percent};
use crate::units::{Angle, Length, Unit};
use crate::verdict::HoleBand;

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
        let draft = it.row?.draft.filter(|draft| draft.degrees() > 0.0)?;
        let (band, depth) = (it.judged.band.as_ref()?, it.engaged()?);
        let entrance = it.row?.entrance_diameter.unwrap_or(it.judged.limits.nominal);
        let along = [Length::ZERO, depth / 2.0, depth].map(|z| cored_diameter(entrance, z, draft));
        let inside = |d: &Length| *d >= band.hole_min - sizes::SAME && *d <= band.hole_max + sizes::SAME;
        if along.iter().all(inside) {
            return None;
        }
        let message = sentence(&it, band, along, depth, unit);
        let remedy = otherwise(&it, band, depth, draft, unit);
        Some(RULE.at_hole(subject, it.hole, message).with_some_remedy(remedy))
    };
    subject.screw_holes().filter_map(found).collect()
}

fn sentence(it: &ScrewHole<'_>, band: &HoleBand, along: [Length; 3], depth: Length, unit: Unit) -> String {
    let edges = [band.band.min, band.band.max];
    let [first, middle, last] =
        along.map(|d| words::percent_beside(percent(&it.screw.thread, d, Basis::Rolled), &edges));
    format!(
        "along its draft the hole gives {first} at the entrance, {middle} half way and {last} at {} (rolled, {}); {}",
        words::length(depth, unit),
        it.screw.thread.name,
        words::allowed(band, unit)
    )
}

/// The entrance that keeps this depth inside the band, or the depth that some entrance could keep.
fn otherwise(it: &ScrewHole<'_>, band: &HoleBand, depth: Length, draft: Angle, unit: Unit) -> Option<String> {
    let thread = &it.screw.thread;
    let longest = cored_longest_depth(thread, band.band.min, band.band.max, draft)?;
    if longest < depth {
        return Some(format!(
            "at this draft no more than {} can stay inside the band; reduce the draft or the engaged length",
            words::length(longest, unit)
        ));
    }
    // The middle of the band half way down leaves the same room at both ends.
    let half_way = hole_for(thread, f64::midpoint(band.band.min, band.band.max), Basis::Rolled);
    let entrance = cored_diameter(half_way, -depth / 2.0, draft);
    Some(format!("make the entrance {}", words::diameter(entrance, unit)))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::joint::Row;
    use crate::rules::scene::{Scene, band, mm};
    use crate::trade::Thread;
    use crate::verdict::Engagement;

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
        scene
    }

    #[test]
    fn a_hole_that_leaves_the_band_along_its_depth_is_found() {
        // By hand: 5.7 − 24 tan 1° = 5.2811, half way 5.4905; 46.19, 78.44 and 110.68 %.
        // Longest: 0.25 × 0.649519 / (2 × 0.0174551) = 4.651 mm.
        let found = scene(5.7, 12.0, 1.0).run(&RULE);
        assert_eq!(
            found[0].message,
            "along its draft the hole gives 46 % at the entrance, 78 % half way and 111 % at 12 mm (rolled, M6); 60 \
             to 85 % is allowed (Ø5.448 to Ø5.61)"
        );
        let remedy = found[0].remedy.as_deref().unwrap();
        assert!(
            remedy.starts_with("at this draft no more than 4.651 mm can stay inside the band"),
            "{remedy}"
        );
    }

    #[test]
    fn where_another_entrance_would_do_it_is_named() {
        // By hand: 72.5 % is 6 − 0.725 × 0.649519 = 5.5291; half of 4 mm at 0.5°: 4 tan 0.5° = 0.0349; 5.564.
        let found = scene(5.7, 4.0, 0.5).run(&RULE);
        assert_eq!(found[0].remedy.as_deref(), Some("make the entrance Ø5.564"));
        assert_eq!(scene(5.564, 4.0, 0.5).run(&RULE), []);
    }

    #[test]
    fn silent_without_draft() {
        assert_eq!(scene(5.7, 12.0, 0.0).run(&RULE), []);
    }
}
