//! The rules: each looks at a judged hole or a judged drawing and returns findings. A rule never knows whether it
//! is waived or switched off.
//!
//! One file and one text for each rule, both named for it; [`RULES`] lists them sorted by name.

mod band;
mod conflicts;
mod evidence;
mod metal;
mod nearby;
mod once;
mod place;
#[cfg(test)]
pub(crate) mod scene;
mod sizes;
pub mod words;

pub use evidence::Evidence;
pub use nearby::{NotJudged, not_judged};
pub use place::{ScrewHole, row_name};

use crate::drawing::{Drawing, Problem, ReadState};
use crate::finding::{Finding, Level};
use crate::pairing::Paired;
use crate::practice::Practice;
use crate::trial::Trials;
use crate::verdict::Judgements;
use crate::waivers::Held;

/// All that a rule may look at.
#[derive(Debug)]
pub struct Subject<'a> {
    /// Path of the drawing, as reports write it.
    pub path: &'a str,
    /// How far the file was read.
    pub state: ReadState,
    /// What was wrong with the file, by place.
    pub problems: &'a [Problem],
    /// The drawing as read.
    pub drawing: &'a Drawing,
    /// The drawing with everything joined.
    pub paired: &'a Paired,
    /// The judgement of each of `paired.holes`.
    pub judged: &'a Judgements,
    /// Every hole that is meant for a self-forming screw, in order: most rules look at these alone.
    pub screws: Vec<ScrewHole<'a>>,
    /// What the shop decides: the limits that rules compare with.
    pub practice: &'a Practice,
    /// The trial records that hole lists name.
    pub trials: &'a Trials,
    /// The waivers of the drawing, once all else was found and held against them; none before.
    pub waivers: &'a [Held<'a>],
}

/// A rule.
#[derive(Debug)]
pub struct Rule {
    /// Kebab-case name.
    pub name: &'static str,
    /// Its level unless the policy says otherwise.
    pub level: Level,
    /// Its text (Markdown): Requirement, Why it matters, How it is measured, Example, Source.
    pub text: &'static str,
    /// Looks, and returns what it found.
    pub check: fn(&Subject<'_>) -> Vec<Finding>,
}

mod blind_hole_shallow;
mod boss_wall_thin;
mod callout_without_hole;
mod callouts_differ;
mod coating_closes_hole;
mod coating_conflict;
mod collar_too_tall;
mod cored_hole_leaves_band;
mod count_differs;
mod cut_edge_hardened;
mod cut_thread_size;
mod drawing_partly_read;
mod drawing_unreadable;
mod drawn_size_differs;
mod edge_too_close;
mod engagement_above_band;
mod engagement_below_band;
mod engagement_too_long;
mod engagement_undetermined;
mod guide_hole_accepted;
mod hole_without_callout;
mod holes_too_close;
mod listed_hole_missing;
mod listed_size_differs;
mod material_conflict;
mod material_unsuited;
mod process_conflict;
mod screw_too_short;
mod screw_unsuited;
mod sheet_too_thin;
mod tap_called_out;
mod thickness_conflict;
mod thickness_unknown;
mod tolerance_leaves_band;
mod tolerance_unknown;
mod torque_ratio_low;
mod trial_missing;
mod unit_doubtful;
mod waiver_expired;
mod waiver_unused;

/// Every rule, sorted by name.
pub static RULES: &[Rule] = &[
    blind_hole_shallow::RULE,
    boss_wall_thin::RULE,
    callout_without_hole::RULE,
    callouts_differ::RULE,
    coating_closes_hole::RULE,
    coating_conflict::RULE,
    collar_too_tall::RULE,
    cored_hole_leaves_band::RULE,
    count_differs::RULE,
    cut_edge_hardened::RULE,
    cut_thread_size::RULE,
    drawing_partly_read::RULE,
    drawing_unreadable::RULE,
    drawn_size_differs::RULE,
    edge_too_close::RULE,
    engagement_above_band::RULE,
    engagement_below_band::RULE,
    engagement_too_long::RULE,
    engagement_undetermined::RULE,
    guide_hole_accepted::RULE,
    hole_without_callout::RULE,
    holes_too_close::RULE,
    listed_hole_missing::RULE,
    listed_size_differs::RULE,
    material_conflict::RULE,
    material_unsuited::RULE,
    process_conflict::RULE,
    screw_too_short::RULE,
    screw_unsuited::RULE,
    sheet_too_thin::RULE,
    tap_called_out::RULE,
    thickness_conflict::RULE,
    thickness_unknown::RULE,
    tolerance_leaves_band::RULE,
    tolerance_unknown::RULE,
    torque_ratio_low::RULE,
    trial_missing::RULE,
    unit_doubtful::RULE,
    waiver_expired::RULE,
    waiver_unused::RULE,
];

/// The rules about waivers, which look once all others have found.
pub static ABOUT_WAIVERS: [&Rule; 2] = [&waiver_expired::RULE, &waiver_unused::RULE];

/// The rule of that name.
pub fn by_name(name: &str) -> Option<&'static Rule> {
    let index = RULES.binary_search_by(|rule| rule.name.cmp(name)).ok()?;
    RULES.get(index)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn registry_is_sorted_and_each_rule_stands_once() {
        for pair in RULES.windows(2) {
            assert!(pair[0].name < pair[1].name, "{} stands before {}", pair[0].name, pair[1].name);
        }
    }

    #[test]
    fn names_are_kebab_case_and_found() {
        for rule in RULES {
            let parts: Vec<&str> = rule.name.split('-').collect();
            assert!(parts.len() >= 2, "{}", rule.name);
            assert!(
                parts.iter().all(|p| !p.is_empty() && p.bytes().all(|b| b.is_ascii_lowercase())),
                "{}",
                rule.name
            );
            assert!(std::ptr::eq(by_name(rule.name).unwrap(), rule));
        }
        assert!(by_name("no-such-rule").is_none());
    }

    #[test]
    fn every_text_has_the_same_headings_in_the_same_order() {
        for rule in RULES {
            let headings: Vec<&str> = rule.text.lines().filter(|line| line.starts_with('#')).collect();
            let title = format!("# {}", rule.name);
            let expected = [
                title.as_str(),
                "## Requirement",
                "## Why it matters",
                "## How it is measured",
                "## Example",
                "## Source",
            ];
            assert_eq!(headings, expected, "{}", rule.name);
            let sections = rule.text.split("\n## ").skip(1);
            for section in sections {
                let body = section.split_once('\n').map_or("", |(_, body)| body).trim();
                assert!(body.len() > 15, "{}: a section says too little: {body:?}", rule.name);
            }
        }
    }

    #[test]
    fn every_source_names_its_status() {
        for rule in RULES {
            let source = rule.text.split("## Source").nth(1).unwrap_or_default().to_lowercase();
            let statuses = ["published", "common practice", "from memory", "rule of this program"];
            assert!(statuses.iter().any(|status| source.contains(status)), "{}: {source}", rule.name);
        }
    }

    #[test]
    fn nothing_is_found_on_an_empty_drawing() {
        let scene = scene::Scene::metric();
        for rule in RULES {
            assert_eq!(scene.run(rule), [], "{}", rule.name);
        }
    }
}
