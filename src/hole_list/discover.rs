//! Which hole lists a run reads: those that are named, else those beside its drawings.

use std::collections::{BTreeMap, HashMap};
use std::io::ErrorKind;
use std::path::{Path, PathBuf};

use crate::reading::{Fault, archive_above, clean_path, display_path};

/// The ending of a list that is named after one drawing.
const OWN_LIST: &str = ".holes.json";
/// The name of a list for all drawings of its folder.
const FOLDER_LIST: &str = "holes.json";
/// Never a hole list, though it may lie in a folder of them.
const POLICY: &str = "boreband.json";

/// One list to read.
#[derive(Debug, PartialEq, Eq)]
pub(super) struct Found {
    /// The file.
    pub(super) file: PathBuf,
    /// The drawing it is named after, if it was found beside it.
    pub(super) named_after: Option<PathBuf>,
}

/// The lists that `--holes` names. A folder stands for every `*.json` in it and below it except policies.
///
/// # Errors
/// A fault for each path that does not exist, each folder without a list and each folder that cannot be read.
pub(super) fn named(paths: &[PathBuf]) -> Result<Vec<Found>, Vec<Fault>> {
    let mut found = Vec::new();
    let mut faults = Vec::new();
    for path in paths {
        if path.is_dir() {
            match lists_under(path) {
                Ok(files) if files.is_empty() => faults.push(Fault::whole(
                    &display_path(path),
                    "found no *.json file in this folder, expected hole lists",
                )),
                Ok(files) => found.extend(files),
                Err(fault) => faults.push(fault),
            }
        } else {
            // A file that is missing or unreadable is reported by whoever reads it.
            found.push(path.clone());
        }
    }
    if !faults.is_empty() {
        return Err(faults);
    }
    let mut seen = std::collections::HashSet::new();
    found.retain(|file| seen.insert(clean_path(file)));
    Ok(found.into_iter().map(|file| Found { file, named_after: None }).collect())
}

fn lists_under(folder: &Path) -> Result<Vec<PathBuf>, Fault> {
    let mut files = Vec::new();
    for entry in walkdir::WalkDir::new(folder).follow_links(true).sort_by_file_name() {
        let entry = entry.map_err(|e| Fault::whole(&display_path(folder), format!("cannot be read: {e}")))?;
        let is_json = entry.path().extension().is_some_and(|e| e.eq_ignore_ascii_case("json"));
        if entry.file_type().is_file() && is_json && entry.file_name() != POLICY {
            files.push(entry.into_path());
        }
    }
    Ok(files)
}

/// The lists beside the drawings of a run: for each folder in turn, those named after one of its drawings, then the
/// folder's own. Each folder is looked at once. What lies in an archive is never a list, since it comes with the drawings
/// it would speak of; the folder of the archive may hold its list.
///
/// # Errors
/// A fault for each folder that may hold lists but cannot be listed.
pub(super) fn beside(drawings: &[PathBuf]) -> Result<Vec<Found>, Vec<Fault>> {
    let mut by_folder: BTreeMap<&Path, Vec<&PathBuf>> = BTreeMap::new();
    for drawing in drawings {
        let archive = archive_above(drawing);
        let beside =
            by_folder.entry(archive.unwrap_or(drawing).parent().unwrap_or(Path::new(""))).or_default();
        if archive.is_none() {
            beside.push(drawing);
        }
    }
    let mut found = Vec::new();
    let mut faults = Vec::new();
    for (folder, drawings) in by_folder {
        let names = list_names(folder).unwrap_or_else(|fault| {
            faults.push(fault);
            HashMap::new()
        });
        if names.is_empty() {
            continue;
        }
        for drawing in drawings {
            let Some(stem) = drawing.file_stem() else { continue };
            let wanted = format!("{}{OWN_LIST}", stem.to_string_lossy());
            if let Some(name) = name_in(&names, &wanted) {
                found.push(Found { file: folder.join(name), named_after: Some(drawing.clone()) });
            }
        }
        if let Some(name) = name_in(&names, FOLDER_LIST) {
            found.push(Found { file: folder.join(name), named_after: None });
        }
    }
    let mut seen = std::collections::HashSet::new();
    found.retain(|list| seen.insert(list.file.clone()));
    if faults.is_empty() { Ok(found) } else { Err(faults) }
}

/// The files of a folder that are lists by their name, under their name in lower case.
fn list_names(folder: &Path) -> Result<HashMap<String, Vec<String>>, Fault> {
    let mut names: HashMap<String, Vec<String>> = HashMap::new();
    let here = if folder.as_os_str().is_empty() { Path::new(".") } else { folder };
    let unlisted = |error: std::io::Error| {
        Fault::whole(&display_path(here), format!("cannot be searched for hole lists: {error}"))
    };
    let entries = match std::fs::read_dir(here) {
        Ok(entries) => entries,
        // A folder that is not there shows when its drawings are read.
        Err(error) if matches!(error.kind(), ErrorKind::NotFound | ErrorKind::NotADirectory) => {
            return Ok(names);
        }
        Err(error) => return Err(unlisted(error)),
    };
    for entry in entries {
        let name = entry.map_err(unlisted)?.file_name().to_string_lossy().into_owned();
        let lower = name.to_lowercase();
        if lower == FOLDER_LIST || lower.ends_with(OWN_LIST) {
            names.entry(lower).or_default().push(name);
        }
    }
    Ok(names)
}

/// The wanted name, or the only one that differs from it in letter case alone.
fn name_in<'a>(names: &'a HashMap<String, Vec<String>>, wanted: &str) -> Option<&'a str> {
    let alike = names.get(&wanted.to_lowercase())?;
    if let Some(exact) = alike.iter().find(|name| *name == wanted) {
        return Some(exact);
    }
    match alike.as_slice() {
        [only] => Some(only),
        _ => None,
    }
}
