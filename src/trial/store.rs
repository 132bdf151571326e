//! The trial records that hole lists name, each read and evaluated once.

use std::collections::HashMap;
use std::path::{Path, PathBuf};

use super::{Evaluation, Limits, Trial, evaluate};
use crate::joint::Row;
use crate::reading::{Fault, clean_path};

/// The trial records of a run. Shared by all threads.
#[derive(Debug, Default)]
pub struct Trials {
    read: Vec<(Trial, Evaluation)>,
    /// Index of the record by list and path as the list writes it.
    by_name: HashMap<(String, String), usize>,
}

impl Trials {
    /// Reads the records that rows of hole lists name, by paths relative to their lists.
    ///
    /// # Errors
    /// All faults of all records, and every record that cannot be opened, at the row that names it.
    pub fn load<'a>(rows: impl Iterator<Item = &'a Row>) -> Result<Trials, Vec<Fault>> {
        let mut trials = Trials::default();
        let mut by_file: HashMap<PathBuf, Option<usize>> = HashMap::new();
        let mut faults = Vec::new();
        for row in rows {
            let Some(name) = &row.trial else { continue };
            let key = (row.list.clone(), name.clone());
            if trials.by_name.contains_key(&key) {
                continue;
            }
            let path = Path::new(&row.list).parent().unwrap_or(Path::new("")).join(name);
            if !path.is_file() {
                faults.push(Fault {
                    file: row.list.clone(),
                    pointer: format!("{}/trial", row.pointer),
                    message: format!(
                        "found \"{name}\", expected the path of a trial record; there is no such file"
                    ),
                });
                continue;
            }
            let index = by_file.entry(clean_path(&path)).or_insert_with(|| match Trial::load(&path) {
                Ok(trial) => {
                    let evaluation = evaluate(&trial, Limits::default())?;
                    trials.read.push((trial, evaluation));
                    Some(trials.read.len() - 1)
                }
                Err(more) => {
                    faults.extend(more);
                    None
                }
            });
            if let Some(index) = *index {
                trials.by_name.insert(key, index);
            }
        }
        if faults.is_empty() { Ok(trials) } else { Err(faults) }
    }

    /// The record that a row names, and what it shows when held to `limits`; none if the row names none.
    pub fn of(&self, row: &Row, limits: Limits) -> Option<(&Trial, Evaluation)> {
        let key = (row.list.clone(), row.trial.clone()?);
        let (trial, evaluation) = self.read.get(*self.by_name.get(&key)?)?;
        Some((trial, evaluation.held_to(trial, limits)))
    }
}
