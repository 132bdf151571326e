//! Words of a report put as a drafter says them, and cells that name a place or a joint.

use super::numbers::{coordinate, length};
use crate::check::{FindingResult, HoleResult};
use crate::report::clean::{flowing, visible};
use crate::trade::{Material, Status};
use crate::units::Unit;

/// Confidence below this is told beside a finding, because a person should look at the pairing first.
const UNSURE: f64 = 0.8;

/// `1 hole`, `2 holes`.
pub(in crate::report) fn counted(count: u64, one: &str) -> String {
    if count == 1 { format!("1 {one}") } else { format!("{count} {one}s") }
}

/// A material as it is said: `low-carbon steel`.
pub(in crate::report) fn material(name: &str) -> String {
    let by_name = Material::ALL.into_iter().find(|known| known.name() == name);
    match by_name.or_else(|| Material::parse(name)) {
        Some(known) => known.words().to_owned(),
        None => visible(name).into_owned(),
    }
}

/// How well a band is founded, as it is said.
pub(in crate::report) fn status(name: &str) -> String {
    Status::from_name(name).map_or_else(|| flowing(name).into_owned(), |status| status.words().to_owned())
}

/// When the stated size of a coated hole holds: `stated before coating`.
pub(in crate::report) fn stage(stated: &str) -> &'static str {
    match stated {
        "before" => "stated before coating",
        "after" => "stated after coating",
        _ => "not said whether the size is before or after it",
    }
}

/// Where a fact of the sheet was taken from: `from the title block`.
pub(in crate::report) fn from(source: &str) -> String {
    match source {
        "header" => "from the header",
        "list" => "from the hole list",
        "callouts" => "from callouts and notes",
        "callout" => "from a callout",
        "title-block" => "from the title block",
        "note" => "from a note",
        "option" => "from the command line",
        "assumed" => "assumed",
        other => return format!("from {}", visible(other)),
    }
    .to_owned()
}

/// `M4 in 1.5 mm low-carbon steel, punched`; what is unknown is said to be unknown.
pub(in crate::report) fn joint(hole: &HoleResult, unit: Unit) -> Option<String> {
    let screw = hole.screw.as_ref()?;
    let form = match screw.form.as_str() {
        "rolling" => String::new(),
        other => format!(" {} screw", visible(other)),
    };
    let metal = match (hole.thickness_mm, hole.material.as_deref()) {
        (Some(t), Some(m)) => [&length(t, unit), " ", &material(m)].concat(),
        (Some(t), None) => format!("{} of unknown material", length(t, unit)),
        (None, Some(m)) => [&material(m), " of unknown thickness"].concat(),
        (None, None) => "unknown material of unknown thickness".to_owned(),
    };
    let process = hole.process.as_deref().map(|p| format!(", {}", visible(p))).unwrap_or_default();
    Some([&visible(&screw.thread), form.as_str(), " in ", &metal, &process].concat())
}

/// Callout text and, where the pairing is weak, how weak.
pub(in crate::report) fn evidence(hole: &HoleResult) -> Vec<String> {
    let mut cells = Vec::new();
    if let Some(callout) = &hole.callout {
        cells.push(["callout ", &flowing(&callout.text)].concat());
    }
    if hole.confidence < UNSURE && hole.paired_by != "drawn" {
        cells.push(format!("pairing unsure: {}, {:.2}", flowing(&hole.paired_by), hole.confidence));
    }
    cells
}

/// Where the diameter was taken from, as the word in front of it.
pub(in crate::report) fn found_word(source: &str) -> &'static str {
    match source {
        "callout" => "called out",
        "list" => "listed",
        _ => "drawn",
    }
}

/// What is added to a tolerance that the callout does not state.
pub(in crate::report) fn tolerance_word(source: &str) -> Option<&'static str> {
    match source {
        "callout" => None,
        "list" => Some("tolerance of the hole list"),
        "drawing" => Some("general tolerance of the drawing"),
        "process" => Some("tolerance assumed from the process"),
        _ => Some("no tolerance known"),
    }
}

/// Cells that say where a finding stands.
pub(in crate::report) fn place(
    finding: &FindingResult,
    hole: Option<&HoleResult>,
    unit: Unit,
) -> Vec<String> {
    let mut cells = Vec::new();
    if let (Some(x), Some(y)) = (finding.x.or(hole.map(|h| h.x)), finding.y.or(hole.map(|h| h.y))) {
        cells.push(["x ", &coordinate(x, unit), "  y ", &coordinate(y, unit)].concat());
    }
    if let Some(space) = hole.map(|h| h.space.as_str()).filter(|s| *s != "model" && !s.is_empty()) {
        cells.push(format!("on {}", flowing(space)));
    }
    if let Some(layer) = finding.layer.as_deref().or(hole.map(|h| h.layer.as_str())) {
        cells.push(["layer ", &flowing(layer)].concat());
    }
    if let Some(tag) = hole.and_then(|h| h.tag.as_deref()) {
        cells.push(format!("tag {}", flowing(tag)));
    }
    if hole.is_none() {
        cells.extend(finding.line.map(|line| format!("line {line} of the file")));
    }
    cells
}

/// The rules that could not be judged, each with the holes and the reason.
pub(in crate::report) fn not_judged(holes: &[HoleResult]) -> Vec<String> {
    let all = holes.iter().flat_map(|h| h.not_judged.iter().map(move |n| ((&n.rule, &n.reason), h)));
    let said = gathered(all).into_iter().map(|((rule, reason), holes)| {
        format!("{} not judged for {}: {}", flowing(rule), ids(&holes), flowing(reason))
    });
    said.collect()
}

/// Holes by what is said of them, in order of the first of each.
pub(super) fn gathered<'a, K: PartialEq>(
    all: impl Iterator<Item = (K, &'a HoleResult)>,
) -> Vec<(K, Vec<&'a HoleResult>)> {
    let mut out: Vec<(K, Vec<&HoleResult>)> = Vec::new();
    for (key, hole) in all {
        match out.iter_mut().find(|(known, _)| *known == key) {
            Some((_, holes)) => holes.push(hole),
            None => out.push((key, vec![hole])),
        }
    }
    out
}

/// Ids of holes, runs of three or more joined: `H1 to H4, H7`.
pub(in crate::report) fn ids(holes: &[&HoleResult]) -> String {
    let mut parts: Vec<String> = Vec::new();
    let mut at = 0;
    while at < holes.len() {
        let run = run_length(&holes[at..]);
        let (first, last) = (&holes[at].id, &holes[at + run - 1].id);
        match run {
            1 => parts.push(first.to_string()),
            2 => parts.extend([first.to_string(), last.to_string()]),
            _ => parts.push(format!("{first} to {last}")),
        }
        at += run;
    }
    parts.join(", ")
}

fn run_length(holes: &[&HoleResult]) -> usize {
    let number = |h: &HoleResult| h.id.strip_prefix('H').and_then(|n| n.parse::<u64>().ok());
    let mut run = 1;
    while run < holes.len() {
        match (number(holes[run - 1]), number(holes[run])) {
            (Some(a), Some(b)) if a + 1 == b => run += 1,
            _ => break,
        }
    }
    run
}
