//! Every screw hole of a drawing with its verdict, gathered by joint, so that what was checked can be read.

use std::io;

use super::numbers::{self, shown};
use super::words;
use crate::check::{DrawingResult, GuideHoleResult, HoleResult};
use crate::report::clean::flowing;
use crate::report::page::Page;
use crate::units::Unit;

/// Writes the screw holes, then what is known of the sheet.
pub(super) fn write(
    drawing: &DrawingResult,
    unit: Unit,
    indent: usize,
    page: &mut Page<'_>,
) -> io::Result<()> {
    for joint in by_joint(&drawing.holes) {
        page.prose(indent, &heading(joint[0], unit))?;
        page.table(indent + 2, &joint.iter().map(|h| row(h, unit)).collect::<Vec<_>>())?;
        advised(&joint, unit, indent + 2, page)?;
    }
    for said in words::not_judged(&drawing.holes) {
        page.prose(indent, &said)?;
    }
    let others = drawing.holes.iter().filter(|h| h.screw.is_none()).count() as u64;
    if others > 0 {
        page.prose(indent, &format!("{} for no self-forming screw", words::counted(others, "other hole")))?;
    }
    let thickness = match drawing.thickness_mm {
        Some(t) => format!("sheet {}, {}", numbers::length(t, unit), words::from(&drawing.thickness_source)),
        None => "thickness of the sheet unknown".to_owned(),
    };
    page.prose(indent, &format!("{thickness}; unit {unit}, {}", words::from(&drawing.unit_source)))
}

/// What to call out for the holes of a joint, and the standard's guide hole beside it.
fn advised(joint: &[&HoleResult], unit: Unit, indent: usize, page: &mut Page<'_>) -> io::Result<()> {
    let called = |h: &HoleResult| h.advice.as_ref().map(|advice| advice.callout.clone());
    for (callout, holes) in words::gathered(joint.iter().filter_map(|h| Some((called(h)?, *h)))) {
        page.prose(indent, &format!("call out {}: {}", flowing(&callout), words::ids(&holes)))?;
    }
    let guides = joint.iter().flat_map(|h| h.guide_holes.iter().map(|g| (guide_hole(g, unit), *h)));
    for (guide, holes) in words::gathered(guides) {
        let which =
            if holes.len() == joint.len() { String::new() } else { format!(": {}", words::ids(&holes)) };
        page.prose(indent, &format!("{guide}{which}"))?;
    }
    let accepted: Vec<&HoleResult> =
        joint.iter().copied().filter(|h| h.accepted_guide_hole.is_some()).collect();
    if accepted.is_empty() {
        return Ok(());
    }
    page.prose(indent, &format!("guide hole as called out, and accepted as such: {}", words::ids(&accepted)))
}

/// `guide hole Ø3.6 H11, 88.0 to 71.5 %, from DIN 7500-2 (published)`.
fn guide_hole(guide: &GuideHoleResult, unit: Unit) -> String {
    let most = guide.engagement_at_max.map(|p| format!(" to {p:.1}")).unwrap_or_default();
    let doubt = guide.suspect.as_ref().map(|why| format!("; doubtful: {}", flowing(why))).unwrap_or_default();
    format!(
        "guide hole {} {}, {:.1}{most} %, from {} ({}){doubt}",
        numbers::diameter(guide.diameter_mm, unit, if unit == Unit::Mm { 3 } else { 4 }),
        flowing(&guide.fit),
        guide.engagement,
        flowing(&guide.source),
        words::status(&guide.status)
    )
}

/// Screw holes of the same joint and band, in order of the first of each.
fn by_joint(holes: &[HoleResult]) -> Vec<Vec<&HoleResult>> {
    let mut joints: Vec<Vec<&HoleResult>> = Vec::new();
    for hole in holes.iter().filter(|h| h.screw.is_some()) {
        match joints.iter_mut().find(|j| same_joint(j[0], hole)) {
            Some(joint) => joint.push(hole),
            None => joints.push(vec![hole]),
        }
    }
    joints
}

fn same_joint(a: &HoleResult, b: &HoleResult) -> bool {
    let facts = |h: &HoleResult| (h.screw.clone(), h.material.clone(), h.process.clone(), h.band.clone());
    a.thickness_mm == b.thickness_mm && facts(a) == facts(b)
}

fn heading(hole: &HoleResult, unit: Unit) -> String {
    let joint = words::joint(hole, unit).unwrap_or_default();
    let shown = shown(hole, unit);
    match (&hole.band, shown.band, shown.allowed) {
        (Some(band), Some(percent), Some(allowed)) => format!(
            "{joint}: {percent}, {allowed}, from {} ({})",
            flowing(&band.source),
            words::status(&band.status)
        ),
        _ => format!("{joint}: no band"),
    }
}

fn row(hole: &HoleResult, unit: Unit) -> Vec<String> {
    let shown = shown(hole, unit);
    let measured = hole.capability.as_ref().is_some_and(|c| c.source == "measured");
    let mut row = vec![
        hole.id.to_string(),
        hole.verdict.as_deref().unwrap_or("not judged").to_owned(),
        shown.found,
        shown.engagement.unwrap_or_default(),
        format!("by {}, {:.2}", flowing(&hole.paired_by), hole.confidence),
    ];
    row.extend(shown.coated);
    row.extend(shown.expected.filter(|_| measured));
    row
}
