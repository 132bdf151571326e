//! Paths of the command line to the drawings under them. Reads folders and the directories of archives, never drawings.

use std::collections::{HashMap, HashSet};
use std::ffi::OsStr;
use std::fmt;
use std::path::{Path, PathBuf};
use std::sync::Arc;

use foldhash::fast::RandomState;
use walkdir::{DirEntry, WalkDir};

use super::source::{Files, split};
use crate::reading::is_zip;

/// A path that could not be searched for drawings. Any of them makes the run end with 2.
#[derive(Debug, Clone, PartialEq, Eq, PartialOrd, Ord)]
pub struct PathFault {
    /// The path, with `/`.
    pub path: String,
    /// What is wrong with it.
    pub message: String,
}

impl fmt::Display for PathFault {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{}: {}", self.path, self.message)
    }
}

/// The drawings under some paths, and the paths that could not be searched.
#[derive(Debug, Clone, Default)]
pub struct Discovery {
    /// The drawings, each once, sorted by the path that reports show. A drawing in an archive has the archive's path and
    /// its own in it.
    pub drawings: Vec<PathBuf>,
    /// What could not be searched, sorted. A caller must not drop them: they are an error of the run.
    pub faults: Vec<PathFault>,
    /// What gives the bytes of the drawings.
    pub files: Arc<Files>,
}

/// The path as reports show it: as given, with `/` on every system.
pub fn shown_path(path: &Path) -> String {
    let text = path.to_string_lossy();
    if std::path::MAIN_SEPARATOR == '/' {
        text.into_owned()
    } else {
        text.replace(std::path::MAIN_SEPARATOR, "/")
    }
}

/// Finds the drawings under files and folders: a file given by name whatever its name, and every `*.dxf` (in any
/// letter case) under a folder, links followed, and in every archive (`*.zip`) under it or given by name. A drawing in an
/// archive can be given by name too, and a folder in one. The same drawing reached by several ways is listed once,
/// under the way that sorts first.
///
/// A broken link or a pipe named `*.dxf` is listed too, an archive in an archive, and an archive with which something
/// is wrong, so that reading it says what it is.
pub fn discover(paths: &[PathBuf]) -> Discovery {
    let mut found = Found::default();
    for path in paths {
        match std::fs::metadata(path) {
            Ok(facts) if facts.is_file() && is_zip(path) => {
                if !found.add_archive(path, "") {
                    found.fault(path, "there is no drawing (*.dxf) in this archive".to_owned());
                }
            }
            Ok(facts) if facts.is_file() => found.add(path.clone()),
            Ok(facts) if facts.is_dir() => search(path, &mut found),
            Ok(_) => found.fault(path, "it is no regular file and no folder".to_owned()),
            Err(error) => match split(path) {
                Some((archive, place)) if found.add_archive(archive, &place) => {}
                Some(_) => found.fault(path, "there is no such drawing in the archive".to_owned()),
                None => found.fault(path, error.to_string()),
            },
        }
    }
    found.finish()
}

#[derive(Default)]
struct Found {
    /// Canonical path to the way it is shown and opened.
    drawings: HashMap<PathBuf, (String, PathBuf), RandomState>,
    faults: Vec<PathFault>,
    files: Arc<Files>,
    /// The folder of the last drawing found by searching, and its canonical path.
    folder: (PathBuf, PathBuf),
}

impl Found {
    fn add(&mut self, path: PathBuf) {
        let canonical = std::fs::canonicalize(&path).unwrap_or_else(|_| path.clone());
        self.add_as(canonical, path);
    }

    /// Adds a drawing that is an entry of a folder itself and no link. Its canonical path follows from that of the folder,
    /// so the system need not be asked for each.
    fn add_entry(&mut self, path: PathBuf) {
        let (Some(folder), Some(name)) = (path.parent(), path.file_name()) else { return self.add(path) };
        if self.folder.1.as_os_str().is_empty() || self.folder.0 != folder {
            let Ok(canonical) = std::fs::canonicalize(folder) else { return self.add(path) };
            self.folder = (folder.to_owned(), canonical);
        }
        self.add_as(self.folder.1.join(name), path);
    }

    /// Adds what is in an archive at or below `place`, and the archive itself if something is wrong with it. Whether
    /// there was anything.
    fn add_archive(&mut self, archive: &Path, place: &str) -> bool {
        let canonical = std::fs::canonicalize(archive).unwrap_or_else(|_| archive.to_owned());
        let contents = self.files.contents(archive);
        let is_meant = |its: &&str| {
            let below = its.strip_prefix(place);
            below.is_some_and(|below| place.is_empty() || below.is_empty() || below.starts_with('/'))
        };
        let mut any = contents.fault().is_some();
        if any {
            self.add_as(canonical.clone(), archive.to_owned());
        }
        for its in contents.places().filter(is_meant) {
            any = true;
            self.add_as(canonical.join(its), archive.join(its));
        }
        any
    }

    fn add_as(&mut self, canonical: PathBuf, path: PathBuf) {
        let way = (shown_path(&path), path);
        self.drawings
            .entry(canonical)
            .and_modify(|known| {
                if way < *known {
                    known.clone_from(&way);
                }
            })
            .or_insert(way);
    }

    fn fault(&mut self, path: &Path, message: String) {
        self.faults.push(PathFault { path: shown_path(path), message });
    }

    fn finish(mut self) -> Discovery {
        let mut ways: Vec<(String, PathBuf)> = self.drawings.into_values().collect();
        ways.sort();
        self.faults.sort();
        self.faults.dedup();
        Discovery {
            drawings: ways.into_iter().map(|(_, path)| path).collect(),
            faults: self.faults,
            files: self.files,
        }
    }
}

/// Adds every drawing under the folder `root`.
fn search(root: &Path, found: &mut Found) {
    let mut any = false;
    // Folders already entered, so that many links to one folder cost it once and not once for each way.
    let mut entered = HashSet::new();
    let new_folder = move |entry: &DirEntry| {
        !entry.file_type().is_dir()
            || std::fs::canonicalize(entry.path()).map_or(true, |canonical| entered.insert(canonical))
    };
    let walk = WalkDir::new(root)
        .follow_links(true)
        // Real entries before links, so that a drawing keeps its real name where it has one; then by name, in which alone
        // the paths of one folder differ.
        .sort_by(|a, b| {
            let (name, other) = (a.path().as_os_str(), b.path().as_os_str());
            (a.path_is_symlink(), name).cmp(&(b.path_is_symlink(), other))
        })
        .into_iter()
        .filter_entry(new_folder);
    for entry in walk {
        match entry {
            Ok(entry) if !entry.file_type().is_dir() && is_dxf(entry.path()) => {
                any = true;
                if entry.path_is_symlink() {
                    found.add(entry.into_path());
                } else {
                    found.add_entry(entry.into_path());
                }
            }
            Ok(entry) if entry.file_type().is_file() && is_zip(entry.path()) => {
                any |= found.add_archive(entry.path(), "");
            }
            Ok(_) => {}
            // A link to a folder above it: all that is under it is found there.
            Err(error) if error.loop_ancestor().is_some() => {}
            Err(error) => match error.path() {
                // A link that leads nowhere is a drawing that cannot be read.
                Some(path) if is_dxf(path) && path.symlink_metadata().is_ok_and(|m| m.is_symlink()) => {
                    any = true;
                    found.add(path.to_path_buf());
                }
                // A link that leads nowhere and is no drawing is nobody's concern.
                Some(path) if path.symlink_metadata().is_ok_and(|m| m.is_symlink()) => {}
                path => {
                    let path = path.unwrap_or(root).to_path_buf();
                    let reason = error.io_error().map_or_else(|| error.to_string(), ToString::to_string);
                    found.fault(&path, format!("the folder cannot be searched: {reason}"));
                    any = true;
                }
            },
        }
    }
    if !any {
        found.fault(root, "there is no drawing (*.dxf) under it, nor in an archive (*.zip)".to_owned());
    }
}

fn is_dxf(path: &Path) -> bool {
    path.extension().and_then(OsStr::to_str).is_some_and(|e| e.eq_ignore_ascii_case("dxf"))
}

#[cfg(test)]
mod tests {
    use super::*;

    fn touch(path: &Path) {
        std::fs::create_dir_all(path.parent().unwrap()).unwrap();
        std::fs::write(path, "").unwrap();
    }

    fn names(root: &Path, found: &Discovery) -> Vec<String> {
        found.drawings.iter().map(|p| shown_path(p.strip_prefix(root).unwrap())).collect()
    }

    #[test]
    fn finds_drawings_in_any_letter_case_sorted_and_nothing_else() {
        let dir = tempfile::tempdir().unwrap();
        for name in ["b.DXF", "a/z.dxf", "a/deep/y.Dxf", "note.txt", "dxf", "lid.dxf.bak"] {
            touch(&dir.path().join(name));
        }
        let found = discover(&[dir.path().to_path_buf()]);
        assert_eq!(names(dir.path(), &found), ["a/deep/y.Dxf", "a/z.dxf", "b.DXF"]);
        assert_eq!(found.faults, []);
    }

    #[test]
    fn the_same_drawing_given_twice_is_listed_once_in_any_order() {
        let dir = tempfile::tempdir().unwrap();
        touch(&dir.path().join("sub/a.dxf"));
        let folder = dir.path().to_path_buf();
        let file = dir.path().join("sub/a.dxf");
        let round_about = dir.path().join("sub/../sub/a.dxf");
        let one = discover(&[folder.clone(), file.clone(), round_about.clone()]);
        let other = discover(&[round_about, file, folder]);
        assert_eq!(one.drawings.len(), 1);
        assert_eq!(one.drawings, other.drawings);
    }

    #[test]
    fn a_file_given_by_name_is_read_whatever_its_name() {
        let dir = tempfile::tempdir().unwrap();
        touch(&dir.path().join("drawing.txt"));
        assert_eq!(discover(&[dir.path().join("drawing.txt")]).drawings.len(), 1);
    }

    #[test]
    fn a_path_that_is_missing_or_holds_no_drawing_is_a_fault_and_the_rest_is_found() {
        let dir = tempfile::tempdir().unwrap();
        touch(&dir.path().join("full/a.dxf"));
        std::fs::create_dir(dir.path().join("empty")).unwrap();
        let found = discover(&["missing", "full", "empty"].map(|name| dir.path().join(name)));
        assert_eq!(found.drawings.len(), 1);
        assert_eq!(found.faults.len(), 2);
        assert!(found.faults[0].path.ends_with("/empty") && found.faults[0].message.contains("no drawing"));
        assert!(found.faults[1].path.ends_with("/missing"));
    }

    #[cfg(unix)]
    #[test]
    fn links_in_a_circle_end_and_broken_links_are_kept() {
        let dir = tempfile::tempdir().unwrap();
        touch(&dir.path().join("real/a.dxf"));
        std::os::unix::fs::symlink(dir.path(), dir.path().join("real/up")).unwrap();
        std::os::unix::fs::symlink(dir.path().join("real"), dir.path().join("also")).unwrap();
        std::os::unix::fs::symlink("nowhere", dir.path().join("lost.dxf")).unwrap();
        let found = discover(&[dir.path().to_path_buf()]);
        assert_eq!(names(dir.path(), &found), ["lost.dxf", "real/a.dxf"]);
        assert_eq!(found.faults, []);
    }

    #[cfg(unix)]
    #[test]
    fn many_links_to_the_same_folders_do_not_multiply_the_work() {
        // Forty folders that each hold two links to the next have 2^40 ways to the last one.
        let dir = tempfile::tempdir().unwrap();
        for i in 0..40 {
            let folder = dir.path().join(format!("f{i:02}"));
            std::fs::create_dir(&folder).unwrap();
            for link in ["l", "r"] {
                std::os::unix::fs::symlink(dir.path().join(format!("f{:02}", i + 1)), folder.join(link))
                    .unwrap();
            }
        }
        touch(&dir.path().join("f40/a.dxf"));
        assert_eq!(discover(&[dir.path().to_path_buf()]).drawings.len(), 1);
    }
}
