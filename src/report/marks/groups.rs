//! Holes of which the same is to be said, so that it is written once for all of them.

use std::num::NonZeroU64;

use crate::check::{DrawingResult, FindingResult, HoleResult};
use crate::drawing::{Drawing, SpaceId};
use crate::finding::Level;
use crate::geometry::Point;
use crate::report::clean::flowing;

use super::level;

/// Holes of one space with the same findings and the same callout to write.
pub(super) struct Group<'a> {
    pub(super) space: SpaceId,
    pub(super) spots: Vec<Spot>,
    /// Findings of the first hole, which stand for those of all.
    pub(super) findings: Vec<&'a FindingResult>,
    advice: Option<&'a str>,
    called: Option<&'a str>,
}

/// A place to mark.
pub(super) struct Spot {
    /// The hole's number, empty for a place that is no hole.
    pub(super) id: String,
    pub(super) at: Point,
    /// Radius of the hole as drawn, 0 where there is none.
    pub(super) radius: f64,
}

/// The groups of a drawing, in the order of their first findings.
pub(super) fn groups<'a>(
    result: &'a DrawingResult,
    drawing: &Drawing,
    counting: &[&'a FindingResult],
) -> Vec<Group<'a>> {
    let mut groups: Vec<Group<'a>> = Vec::new();
    let per_unit = if result.unit == "in" { 25.4 } else { 1.0 };
    let of_hole = |id: &str| counting.iter().copied().filter(|f| f.hole.as_deref() == Some(id)).collect();
    for hole in &result.holes {
        let findings: Vec<&FindingResult> = of_hole(&hole.id);
        if findings.is_empty() {
            continue;
        }
        let spot = Spot {
            id: flowing(&hole.id).into_owned(),
            at: Point::new(hole.x, hole.y),
            radius: hole.drawn_diameter_mm / per_unit / 2.0,
        };
        let group = Group {
            space: space_named(drawing, &hole.space),
            spots: vec![spot],
            findings,
            advice: advice(hole),
            called: hole.callout.as_ref().map(|callout| callout.text.as_str()),
        };
        join(&mut groups, group);
    }
    let known = |finding: &&&FindingResult| result.holes.iter().any(|h| finding.hole.as_ref() == Some(&h.id));
    for finding in counting.iter().filter(|finding| !known(finding)) {
        let (Some(x), Some(y)) = (finding.x, finding.y) else { continue };
        let id = finding.hole.as_deref().map(flowing).unwrap_or_default().into_owned();
        let spot = Spot { id, at: Point::new(x, y), radius: 0.0 };
        let space = space_of_handle(drawing, finding.handle.as_deref());
        groups.push(Group { space, spots: vec![spot], findings: vec![finding], advice: None, called: None });
    }
    groups
}

/// The callout to write, where the hole is not right as it is.
fn advice(hole: &HoleResult) -> Option<&str> {
    let wrong = hole.verdict.as_deref().is_some_and(|verdict| verdict != "in-band");
    hole.advice.as_ref().filter(|_| wrong).map(|advice| advice.callout.as_str())
}

fn join<'a>(groups: &mut Vec<Group<'a>>, group: Group<'a>) {
    let same = groups.iter_mut().find(|other| {
        let key = |f: &Group<'a>| (f.space, f.advice, f.called);
        let said = |f: &Group<'a>| -> Vec<(&'a str, &'a str, &'a str, Option<&'a str>)> {
            let said = |f: &&'a FindingResult| {
                (f.rule.as_str(), f.level.as_str(), f.message.as_str(), f.remedy.as_deref())
            };
            f.findings.iter().map(said).collect()
        };
        key(other) == key(&group) && said(other) == said(&group)
    });
    match same {
        Some(other) => other.spots.extend(group.spots),
        None => groups.push(group),
    }
}

fn space_named(drawing: &Drawing, name: &str) -> SpaceId {
    let index = drawing.spaces.iter().position(|space| space.name == name).unwrap_or(0);
    SpaceId::try_from(index).unwrap_or(0)
}

/// The space of the text that carries a handle; model space if none does.
fn space_of_handle(drawing: &Drawing, handle: Option<&str>) -> SpaceId {
    let wanted = handle.and_then(|handle| u64::from_str_radix(handle, 16).ok());
    let text = drawing
        .texts
        .iter()
        .find(|text| wanted.is_some() && text.origin.handle.map(NonZeroU64::get) == wanted);
    text.map_or(0, |text| text.origin.space)
}

impl Group<'_> {
    /// The worst level of its findings.
    pub(super) fn level(&self) -> Level {
        self.findings.iter().map(|finding| level(finding)).max().unwrap_or(Level::Note)
    }

    /// `H1 H2 H6 H7`.
    pub(super) fn ids(&self) -> String {
        let ids: Vec<&str> = self.spots.iter().map(|spot| spot.id.as_str()).collect();
        ids.join(" ").trim().to_owned()
    }

    /// `call out 4X Ø3.6 +0.03/0 THRU`.
    pub(super) fn call_out(&self) -> Option<String> {
        self.advice.map(|callout| format!("call out {}", flowing(callout)))
    }

    /// The lines of the label beside the first hole, each with its level.
    pub(super) fn label(&self) -> Vec<(Level, String)> {
        const MOST_NAMED: usize = 6;
        let mut lines = Vec::new();
        if self.spots.len() > 1 {
            let named: Vec<&str> = self.spots.iter().take(MOST_NAMED).map(|s| s.id.as_str()).collect();
            let more = self.spots.len() - named.len();
            let more = if more > 0 { format!(" and {more} more") } else { String::new() };
            lines.push((self.level(), format!("{}{more}", named.join(" "))));
        }
        lines.extend(self.call_out().map(|text| (self.level(), text)));
        for finding in &self.findings {
            let line = (level(finding), flowing(&finding.rule).into_owned());
            if !lines.contains(&line) {
                lines.push(line);
            }
        }
        lines
    }
}
