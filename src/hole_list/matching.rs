//! Which drawings of a run an entry covers, without comparing each entry with each drawing.

use std::cell::OnceCell;
use std::collections::HashMap;
use std::path::{Path, PathBuf};

use super::pattern::Pattern;
use crate::reading::{clean_path, display_path};

/// The drawings of a run by their place and by their name. Letter case counts only where two differ in nothing else.
#[derive(Debug)]
pub(super) struct Index<'a> {
    drawings: &'a [PathBuf],
    /// Clean absolute path of each drawing, in the order of `drawings`.
    clean: Vec<String>,
    /// The same in lower case, sorted, with the index of the drawing.
    sorted: Vec<(String, usize)>,
    /// Indices by file name in lower case. Only lists that lie apart from their drawings need it.
    by_name: OnceCell<HashMap<String, Vec<usize>>>,
}

/// What an entry covers.
#[derive(Debug, PartialEq, Eq)]
pub(super) enum Covered {
    /// These drawings of the run, perhaps none.
    Drawings(Vec<usize>),
    /// One of these, and nothing says which.
    Ambiguous(Vec<usize>),
}

impl<'a> Index<'a> {
    /// Over the drawings of a run.
    pub(super) fn new(drawings: &'a [PathBuf]) -> Self {
        let clean: Vec<String> = drawings.iter().map(|path| display_path(&clean_path(path))).collect();
        let mut sorted: Vec<_> = clean.iter().enumerate().map(|(i, path)| (path.to_lowercase(), i)).collect();
        sorted.sort_unstable();
        Index { drawings, clean, sorted, by_name: OnceCell::new() }
    }

    /// The drawings that a pattern of a list in `folder` covers.
    pub(super) fn covered(&self, pattern: &Pattern, folder: &Path) -> Covered {
        let literal = pattern.literal(folder);
        let named = self.at_path(&display_path(&literal));
        match named.as_slice() {
            [] => {}
            [_] => return Covered::Drawings(named),
            _ => return Covered::Ambiguous(named),
        }
        if pattern.is_glob() {
            return Covered::Drawings(self.under_glob(pattern, folder));
        }
        // A file that exists where the list says is meant, though it is no part of this run.
        if !pattern.is_bare_name() || literal.is_file() {
            return Covered::Drawings(Vec::new());
        }
        let named = self.of_name(&pattern.text);
        if named.len() > 1 { Covered::Ambiguous(named) } else { Covered::Drawings(named) }
    }

    /// The drawing at a clean absolute path; those that differ from it in letter case alone if it is not there.
    fn at_path(&self, path: &str) -> Vec<usize> {
        let lower = path.to_lowercase();
        let alike: Vec<usize> = self.from(&lower).take_while(|(p, _)| *p == lower).map(|(_, i)| *i).collect();
        exact_or_alike(alike, |index| self.clean[index] == path)
    }

    fn under_glob(&self, pattern: &Pattern, folder: &Path) -> Vec<usize> {
        let Some((glob, prefix)) = pattern.absolute_glob(folder) else { return Vec::new() };
        let prefix = prefix.to_lowercase();
        let mut matched: Vec<usize> = self
            .from(&prefix)
            .take_while(|(path, _)| path.starts_with(&prefix))
            .map(|(_, index)| *index)
            .filter(|index| glob.is_match(&self.clean[*index]))
            .collect();
        matched.sort_unstable();
        matched
    }

    fn of_name(&self, name: &str) -> Vec<usize> {
        let by_name = self.by_name.get_or_init(|| {
            let mut map: HashMap<String, Vec<usize>> = HashMap::new();
            for (index, path) in self.drawings.iter().enumerate() {
                let name = path.file_name().unwrap_or_default().to_string_lossy().to_lowercase();
                map.entry(name).or_default().push(index);
            }
            map
        });
        let alike = by_name.get(&name.to_lowercase()).cloned().unwrap_or_default();
        exact_or_alike(alike, |index| self.drawings[index].file_name().is_some_and(|n| n == name))
    }

    fn from(&self, lower: &str) -> impl Iterator<Item = &(String, usize)> {
        let start = self.sorted.partition_point(|(path, _)| path.as_str() < lower);
        self.sorted[start..].iter()
    }
}

fn exact_or_alike(alike: Vec<usize>, is_exact: impl Fn(usize) -> bool) -> Vec<usize> {
    let exact: Vec<usize> = alike.iter().copied().filter(|index| is_exact(*index)).collect();
    if exact.is_empty() { alike } else { exact }
}
