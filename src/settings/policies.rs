//! The policies of a run: the one that is named, else for each folder the nearest `boreband.json` upward.

use std::collections::HashMap;
use std::path::{Component, Path, PathBuf};
use std::sync::LazyLock;

use super::Policy;
use crate::reading::{Fault, clean_path};

/// The name of a policy that is found by itself.
const FILE_NAME: &str = "boreband.json";

/// The policies of a run, each read once. Shared by all threads.
#[derive(Debug, Default)]
pub struct Policies {
    policies: Vec<Policy>,
    /// Index of the policy for each folder that holds drawings.
    by_folder: HashMap<PathBuf, usize>,
}

impl Policies {
    /// Reads the policy that `--policy` names, or, without one, finds for each drawing the nearest `boreband.json` in
    /// its folder or above. `rules` are the names of all rules.
    ///
    /// # Errors
    /// All faults of all policies.
    pub fn load(named: Option<&Path>, drawings: &[PathBuf], rules: &[&str]) -> Result<Policies, Vec<Fault>> {
        if let Some(path) = named {
            let policies = vec![Policy::load(path, rules)?];
            return Ok(Policies { policies, by_folder: HashMap::new() });
        }
        // Index 0 is the policy of drawings that no file governs.
        let mut loaded = Policies { policies: vec![Policy::default()], by_folder: HashMap::new() };
        let mut finder = Finder::default();
        let mut by_file: HashMap<PathBuf, usize> = HashMap::new();
        let mut faults = Vec::new();
        for drawing in drawings {
            let folder = drawing.parent().unwrap_or(Path::new(""));
            if loaded.by_folder.contains_key(folder) {
                continue;
            }
            let index = match finder.nearest(folder) {
                None => 0,
                Some(file) => *by_file.entry(file.clone()).or_insert_with(|| {
                    match Policy::load(&file, rules) {
                        Ok(policy) => loaded.policies.push(policy),
                        Err(more) => {
                            faults.extend(more);
                            loaded.policies.push(Policy::default());
                        }
                    }
                    loaded.policies.len() - 1
                }),
            };
            loaded.by_folder.insert(folder.to_path_buf(), index);
        }
        if faults.is_empty() { Ok(loaded) } else { Err(faults) }
    }

    /// The policy of a folder: the one that is named, else the nearest `boreband.json` in it or above, else the empty
    /// one. `rules` are the names of all rules.
    ///
    /// # Errors
    /// All faults of the policy.
    pub fn of_folder(named: Option<&Path>, folder: &Path, rules: &[&str]) -> Result<Policy, Vec<Fault>> {
        let file = named.map(Path::to_path_buf).or_else(|| Finder::default().nearest(folder));
        file.map_or_else(|| Ok(Policy::default()), |file| Policy::load(&file, rules))
    }

    /// Each policy that governs some of these drawings, with them, in their order.
    pub fn governing<'a>(&'a self, drawings: &'a [PathBuf]) -> Vec<(&'a Policy, Vec<&'a Path>)> {
        let mut all: Vec<(&Policy, Vec<&Path>)> = Vec::new();
        for drawing in drawings {
            let policy = self.for_drawing(drawing);
            match all.iter_mut().find(|(known, _)| std::ptr::eq(*known, policy)) {
                Some((_, governed)) => governed.push(drawing),
                None => all.push((policy, vec![drawing])),
            }
        }
        all
    }

    /// The policy for a drawing, given by the same path as to [`Policies::load`]; the empty one if no file governs it.
    pub fn for_drawing(&self, drawing: &Path) -> &Policy {
        static NONE: LazyLock<Policy> = LazyLock::new(Policy::default);
        let folder = drawing.parent().unwrap_or(Path::new(""));
        let index = self.by_folder.get(folder).copied().unwrap_or(0);
        self.policies.get(index).unwrap_or(&NONE)
    }
}

/// Walks up from folders and remembers what it saw, so that no folder is looked at twice.
#[derive(Debug, Default)]
struct Finder {
    /// The nearest policy by clean absolute folder.
    seen: HashMap<PathBuf, Option<PathBuf>>,
    /// The working folder, as seen once.
    here: Option<PathBuf>,
}

impl Finder {
    /// The nearest policy of a folder, named relative to the working folder where the drawing was.
    fn nearest(&mut self, folder: &Path) -> Option<PathBuf> {
        let mut passed = Vec::new();
        let mut found = None;
        for above in self.folders_upward(folder) {
            let known_as = clean_path(&above);
            if let Some(known) = self.seen.get(&known_as) {
                found = known.clone();
                break;
            }
            passed.push(known_as);
            let file = above.join(FILE_NAME);
            if file.is_file() {
                found = Some(file);
                break;
            }
        }
        for folder in passed {
            self.seen.insert(folder, found.clone());
        }
        found
    }

    /// The folder and all above it, relative as long as it is.
    fn folders_upward(&mut self, folder: &Path) -> Vec<PathBuf> {
        let owned = |path: &Path| path.to_path_buf();
        if folder.components().any(|part| part == Component::ParentDir) {
            // What is above `a/..` cannot be told from its text.
            return clean_path(folder).ancestors().map(owned).collect();
        }
        let mut folders: Vec<PathBuf> = folder.ancestors().map(owned).collect();
        if folder.is_relative() {
            let here = self.here.get_or_insert_with(|| clean_path(Path::new(".")));
            folders.extend(here.ancestors().skip(1).map(owned));
        }
        folders
    }
}
