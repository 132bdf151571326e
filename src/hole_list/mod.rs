//! Finds, reads and validates hole lists; every fault with its place. Which hole of a drawing a row means is not
//! decided here.

mod checks;
mod coverage;
mod discover;
mod matching;
mod model;
mod pattern;
mod values;
mod wire;

use std::collections::HashMap;
use std::path::{Path, PathBuf};

use crate::joint::{DrawingRows, Making, Row};
pub use crate::reading::Fault;
use crate::reading::{display_path, read_file, schema_document};
use coverage::Coverage;
use discover::Found;
use model::List;

/// The hole lists of a run, ready to be asked about drawings. Shared by all threads.
#[derive(Debug, Default)]
pub struct HoleLists {
    lists: Vec<List>,
    /// For each drawing that is covered, list and entry, in the order of the lists.
    covered: HashMap<PathBuf, Vec<(usize, usize)>>,
    /// List and entry of those that cover no drawing of the run.
    unmatched: Vec<(usize, usize)>,
}

impl HoleLists {
    /// Reads the lists that `--holes` names (files or folders), or, if `named` is empty, finds
    /// `<stem>.holes.json` beside each drawing and `holes.json` in its folder. Both count where both are there.
    ///
    /// # Errors
    /// All faults of all lists: of their text, and of what they say together (the same tag twice for a drawing,
    /// facts of a drawing that contradict each other, a name that two drawings bear, a list named after a drawing that
    /// it does not cover).
    pub fn load(named: &[PathBuf], drawings: &[PathBuf]) -> Result<HoleLists, Vec<Fault>> {
        let found = if named.is_empty() { discover::beside(drawings)? } else { discover::named(named)? };
        if found.is_empty() {
            return Ok(HoleLists::default());
        }
        let (found, lists) = read_all(found)?;
        let Coverage { covered, unmatched } = coverage::find(&found, &lists, drawings)?;
        let covered = covered.into_iter().map(|(index, by)| (drawings[index].clone(), by)).collect();
        Ok(HoleLists { lists, covered, unmatched })
    }

    /// What the lists say about one drawing, given by the same path as to [`HoleLists::load`]; none if no list covers
    /// it.
    pub fn rows_for(&self, drawing: &Path) -> Option<DrawingRows> {
        let by = self.covered.get(drawing)?;
        let mut all = DrawingRows::default();
        let mut units = Vec::new();
        for &(list, entry) in by {
            let list = &self.lists[list];
            let entry = &list.entries[entry];
            all.part = all.part.or_else(|| entry.part.clone());
            all.revision = all.revision.or_else(|| entry.revision.clone());
            all.making = filled(&all.making, &entry.making);
            all.rows.extend(entry.rows.iter().cloned());
            units.push(list.unit);
        }
        // A fact of the drawing holds for its rows, whichever list states it.
        for row in &mut all.rows {
            row.making = filled(&row.making, &all.making);
        }
        // Lists that disagree about the unit say nothing about the drawing's.
        all.unit = units.first().copied().filter(|first| units.iter().all(|unit| unit == first));
        Some(all)
    }

    /// Entries that cover no drawing of the run. That is no error, since a list may cover a whole library, but worth
    /// telling whoever wonders why a row had no effect.
    pub fn unmatched(&self) -> Vec<Fault> {
        let note = |&(list, entry): &(usize, usize)| {
            let list = &self.lists[list];
            let entry = &list.entries[entry];
            Fault {
                file: list.file.clone(),
                pointer: format!("{}/drawing", entry.pointer),
                message: format!("\"{}\" covers no drawing of this run", entry.pattern.text),
            }
        };
        self.unmatched.iter().map(note).collect()
    }

    /// All rows of all lists, those that cover no drawing of the run included.
    pub fn rows(&self) -> impl Iterator<Item = &Row> {
        self.lists.iter().flat_map(|list| &list.entries).flat_map(|entry| &entry.rows)
    }

    /// The files of the lists, in the order they were read.
    pub fn files(&self) -> impl Iterator<Item = &str> {
        self.lists.iter().map(|list| list.file.as_str())
    }
}

/// Reads every list, or gives the faults of all of them.
fn read_all(found: Vec<Found>) -> Result<(Vec<Found>, Vec<List>), Vec<Fault>> {
    let mut lists = Vec::with_capacity(found.len());
    let mut faults = Vec::new();
    for one in &found {
        let file = display_path(&one.file);
        match read_file::<wire::HoleList>(&one.file) {
            Ok(written) => match model::list(&file, &written) {
                Some(list) => lists.push(list),
                None => faults.push(Fault::whole(&file, "could not be used as a hole list")),
            },
            Err(more) => faults.extend(more),
        }
    }
    if faults.is_empty() { Ok((found, lists)) } else { Err(faults) }
}

/// `over`, with what it leaves open taken from `under`.
fn filled(over: &Making, under: &Making) -> Making {
    Making {
        material: over.material.or(under.material),
        thickness: over.thickness.or(under.thickness),
        process: over.process.or(under.process),
        coating: over.coating.or(under.coating),
        band: over.band.or(under.band),
        hardness_hb: over.hardness_hb.or(under.hardness_hb),
    }
}

/// The JSON Schema of a hole list.
pub fn schema() -> serde_json::Value {
    let mut schema = schema_document::<wire::HoleList>(
        "hole-list",
        "boreband hole list",
        "Says which holes of which drawings take which self-forming screw, in what material and thickness.",
    );
    checks::add_to_schema(&mut schema);
    schema
}

#[cfg(test)]
mod tests;
