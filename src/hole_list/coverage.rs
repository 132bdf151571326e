//! What the lists of a run say together: which entry covers which drawing, and where they contradict each other.

use std::collections::{BTreeMap, HashMap, HashSet};
use std::path::{Path, PathBuf};

use super::discover::Found;
use super::matching::{Covered, Index};
use super::model::{Entry, List};
use crate::reading::{Fault, display_path};

/// Which entries cover which drawings.
#[derive(Debug, Default)]
pub(super) struct Coverage {
    /// List and entry by index of the drawing.
    pub(super) covered: BTreeMap<usize, Vec<(usize, usize)>>,
    /// List and entry of those that cover nothing.
    pub(super) unmatched: Vec<(usize, usize)>,
}

/// Finds the coverage. `found` and `lists` go side by side.
///
/// # Errors
/// Every ambiguous name, every list that does not cover the drawing it is named after, every contradiction.
pub(super) fn find(found: &[Found], lists: &[List], drawings: &[PathBuf]) -> Result<Coverage, Vec<Fault>> {
    let index = Index::new(drawings);
    let mut coverage = Coverage::default();
    let mut faults = Vec::new();
    for (l, (found, list)) in found.iter().zip(lists).enumerate() {
        let folder = found.file.parent().unwrap_or(Path::new(""));
        let mut covers_namesake = found.named_after.is_none();
        for (e, entry) in list.entries.iter().enumerate() {
            match index.covered(&entry.pattern, folder) {
                Covered::Drawings(matched) if matched.is_empty() => coverage.unmatched.push((l, e)),
                Covered::Drawings(matched) => {
                    for drawing in matched {
                        covers_namesake |= found.named_after.as_ref() == Some(&drawings[drawing]);
                        coverage.covered.entry(drawing).or_default().push((l, e));
                    }
                }
                Covered::Ambiguous(matched) => {
                    covers_namesake = true;
                    faults.push(ambiguous(list, entry, &matched, drawings));
                }
            }
        }
        if let (false, Some(namesake)) = (covers_namesake, &found.named_after) {
            faults.push(no_namesake(list, namesake));
        }
    }
    faults.extend(contradictions(lists, &coverage, drawings));
    if faults.is_empty() { Ok(coverage) } else { Err(faults) }
}

fn ambiguous(list: &List, entry: &Entry, matched: &[usize], drawings: &[PathBuf]) -> Fault {
    let names: Vec<String> = matched.iter().map(|index| display_path(&drawings[*index])).collect();
    Fault {
        file: list.file.clone(),
        pointer: format!("{}/drawing", entry.pointer),
        message: format!(
            "\"{}\" may mean each of {}, expected a path that names one of them",
            entry.pattern.text,
            names.join(" and ")
        ),
    }
}

fn no_namesake(list: &List, drawing: &Path) -> Fault {
    let patterns: Vec<String> = list.entries.iter().map(|e| format!("\"{}\"", e.pattern.text)).collect();
    let found = if patterns.is_empty() { "none".to_owned() } else { patterns.join(", ") };
    Fault {
        file: list.file.clone(),
        pointer: "/drawings".to_owned(),
        message: format!(
            "no entry covers {}, which the list is named after; found {found}",
            display_path(drawing)
        ),
    }
}

/// Contradictions between the entries that cover the same drawing. The same pair of entries is told once, however many
/// drawings it covers.
fn contradictions(lists: &[List], coverage: &Coverage, drawings: &[PathBuf]) -> Vec<Fault> {
    let mut faults = Vec::new();
    let mut told = HashSet::new();
    let mut looked_at: HashSet<&[(usize, usize)]> = HashSet::new();
    for (drawing, by) in &coverage.covered {
        if by.len() < 2 || !looked_at.insert(by) {
            continue;
        }
        let name = display_path(&drawings[*drawing]);
        let entries: Vec<(&List, &Entry)> =
            by.iter().map(|&(l, e)| (&lists[l], &lists[l].entries[e])).collect();
        for fault in same_tags(&entries, &name).into_iter().chain(other_facts(&entries, &name)) {
            if told.insert((fault.file.clone(), fault.pointer.clone())) {
                faults.push(fault);
            }
        }
    }
    faults
}

fn same_tags(entries: &[(&List, &Entry)], drawing: &str) -> Vec<Fault> {
    let mut first: HashMap<&str, (usize, String)> = HashMap::new();
    let mut faults = Vec::new();
    for (number, (list, entry)) in entries.iter().enumerate() {
        for row in &entry.rows {
            let Some(tag) = &row.tag else { continue };
            let place = format!("{}: {}", list.file, row.pointer);
            match first.get(tag.as_str()) {
                Some((other, before)) if *other != number => faults.push(Fault {
                    file: list.file.clone(),
                    pointer: format!("{}/tag", row.pointer),
                    message: format!(
                        "the tag \"{tag}\" of {drawing} also stands in {before}, expected it once"
                    ),
                }),
                Some(_) => {}
                None => _ = first.insert(tag, (number, place)),
            }
        }
    }
    faults
}

/// Facts of the whole drawing that two entries state differently.
fn other_facts(entries: &[(&List, &Entry)], drawing: &str) -> Vec<Fault> {
    let mut first: HashMap<&str, (String, String)> = HashMap::new();
    let mut faults = Vec::new();
    for (list, entry) in entries {
        for (key, value) in facts(entry) {
            match first.get(key) {
                Some((before, place)) if *before != value => faults.push(Fault {
                    file: list.file.clone(),
                    pointer: format!("{}/{key}", entry.pointer),
                    message: format!(
                        "found {key} {value} for {drawing}, but {before} in {place}; expected them to agree"
                    ),
                }),
                Some(_) => {}
                None => _ = first.insert(key, (value, format!("{}: {}", list.file, entry.pointer))),
            }
        }
    }
    faults
}

/// What an entry states of the whole drawing, in words that are equal where the facts are.
fn facts(entry: &Entry) -> Vec<(&'static str, String)> {
    let making = &entry.making;
    // Ten digits: a length in inch and the same in mm agree though their bits may not.
    let mm = |length: crate::units::Length| format!("{} mm", (length.mm() * 1e7).round() / 1e7);
    let stated = |stage: Option<crate::joint::Stage>| stage.map_or("nowhere", crate::joint::Stage::name);
    [
        ("part", entry.part.clone()),
        ("revision", entry.revision.clone()),
        ("material", making.material.map(|m| m.name().to_owned())),
        ("thickness", making.thickness.map(mm)),
        ("process", making.process.map(|p| p.name().to_owned())),
        ("coating", making.coating.map(|c| format!("{} stated {}", mm(c.thickness), stated(c.stated)))),
        ("band", making.band.map(|b| format!("{} to {} % (target {:?})", b.min, b.max, b.target))),
        ("hardness_hb", making.hardness_hb.map(|h| h.to_string())),
    ]
    .into_iter()
    .filter_map(|(key, value)| Some((key, value?)))
    .collect()
}
