//! `--write overlay=DIR` and `--write marked=DIR`: a file for each drawing with findings, written on the thread that
//! checked it. No drawing is ever written over.

use std::collections::HashSet;
use std::io::Write;
use std::path::{Component, Path, PathBuf};
use std::sync::{Arc, Mutex, PoisonError};

use super::output::Refused;
use super::whole_file::WholeFile;
use crate::batch::{Buffer, Files};
use crate::check::DrawingResult;
use crate::drawing::Drawing;
use crate::dxf;
use crate::dxf::marking::{LAYER_PREFIX, Mark, insert};
use crate::report::marks::marks;
use crate::report::overlay;

/// What is written for each drawing.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum FolderForm {
    /// A DXF of marks only.
    Overlay,
    /// A copy of the drawing with the marks in it.
    Marked,
}

/// Folders that are written into while drawings are checked. Shared by all threads.
pub(super) struct Folders {
    orders: Vec<(FolderForm, PathBuf)>,
    files: Arc<Files>,
    /// What the paths of the drawings lose in front, and keep behind the folder.
    root: Root,
    told: Mutex<Told>,
}

/// What is to be said at the end: work not done, and what is worth knowing.
#[derive(Debug, Default)]
struct Told {
    refused: Vec<String>,
    stale: Vec<String>,
}

/// How the place of a drawing under a folder is made from its path.
enum Root {
    /// As given: no path leads out of the folder.
    AsGiven,
    /// Relative to what all paths, made absolute, have in common.
    Common(PathBuf),
}

impl Folders {
    /// Makes the folders.
    ///
    /// # Errors
    /// Each that cannot be made, and each file in them that is one of the `drawings` themselves.
    pub(super) fn begin(
        orders: Vec<(FolderForm, PathBuf)>,
        drawings: &[PathBuf],
        files: &Arc<Files>,
    ) -> Result<Self, Refused> {
        let root = Root::of(if orders.is_empty() { &[] } else { drawings });
        let mut wrong = Refused::default();
        for (nth, (_, folder)) in orders.iter().enumerate() {
            if orders[..nth].iter().any(|(_, other)| other == folder) {
                wrong.add([format!("--write: {} is given twice", folder.display())]);
            }
            if let Err(error) = std::fs::create_dir_all(folder) {
                wrong.add([format!("{} cannot be made: {error}", folder.display())]);
            }
            wrong.add(over_drawings(folder, &root, drawings));
        }
        wrong.or_ok()?;
        Ok(Folders { orders, files: Arc::clone(files), root, told: Mutex::default() })
    }

    /// Writes what was ordered for one drawing.
    pub(super) fn add(&self, path: &Path, result: &DrawingResult) {
        if self.orders.is_empty() {
            return;
        }
        let marked = result.findings.iter().any(|finding| finding.waived.is_none());
        let read = if marked { self.read_again(path, result) } else { None };
        for (form, folder) in &self.orders {
            let place = folder.join(self.root.place(path));
            match &read {
                Some(read) => self.write(*form, &place, read),
                None if !marked && is_ours(&place) => {
                    let mut told = self.told.lock().unwrap_or_else(PoisonError::into_inner);
                    told.stale.push(format!(
                        "{} is left from an earlier check: nothing is to be marked now",
                        place.display()
                    ));
                }
                None => {}
            }
        }
    }

    /// The drawing as it was checked, with its marks; none, and said why, if it cannot be had.
    fn read_again(&self, path: &Path, result: &DrawingResult) -> Option<Read> {
        let refuse = |why: &str| {
            self.refuse([format!("{}: no marks are written: {why}", path.display())]);
            None
        };
        if result.state == "unreadable" {
            return refuse("the drawing cannot be read");
        }
        let bytes = match self.files.read(path) {
            Ok(bytes) => bytes,
            Err(error) => return refuse(&error.to_string()),
        };
        if format!("blake3:{}", blake3::hash(&bytes).to_hex()) != result.digest {
            return refuse("the file has changed since it was checked");
        }
        match dxf::read(&bytes) {
            Ok(reading) => {
                let marks = marks(result, &reading.drawing);
                let whole = result.state == "read";
                Some(Read { path: path.to_owned(), bytes, whole, drawing: reading.drawing, marks })
            }
            Err(problem) => refuse(&problem.message),
        }
    }

    fn write(&self, form: FolderForm, place: &Path, read: &Read) {
        let outcome = match form {
            FolderForm::Overlay => overlays(place, read),
            FolderForm::Marked => marked(place, read),
        };
        if let Err(refused) = outcome {
            self.refuse(refused.lines());
        }
    }

    fn refuse(&self, lines: impl IntoIterator<Item = String>) {
        self.told.lock().unwrap_or_else(PoisonError::into_inner).refused.extend(lines);
    }

    /// What is worth knowing, once all is written, in a fixed order.
    ///
    /// # Errors
    /// All that could not be written.
    pub(super) fn finish(self) -> Result<Vec<String>, Refused> {
        let mut told = self.told.into_inner().unwrap_or_else(PoisonError::into_inner);
        told.refused.sort();
        told.stale.sort();
        Refused::all(told.refused).or_ok()?;
        Ok(told.stale)
    }
}

/// A drawing with its marks.
struct Read {
    path: PathBuf,
    bytes: Buffer,
    /// Nothing of it was lost.
    whole: bool,
    drawing: Drawing,
    marks: Vec<Mark>,
}

/// Writes one overlay for the model and one for each layout with marks, because what is attached to a drawing is the
/// model space of a file.
fn overlays(place: &Path, read: &Read) -> Result<(), Refused> {
    let mut spaces: Vec<&str> = read.marks.iter().map(|mark| mark.space.as_str()).collect();
    spaces.sort_unstable();
    spaces.dedup();
    let mut wrong = Refused::default();
    for space in spaces {
        let here: Vec<&Mark> = read.marks.iter().filter(|mark| mark.space == space).collect();
        let place = if space == "model" { place.to_owned() } else { of_layout(place, space) };
        wrong.unless(write_whole(&place, |out| overlay::write(&here, &read.drawing.header, out)));
    }
    wrong.or_ok()
}

/// Writes a copy of the drawing with the marks in it.
fn marked(place: &Path, read: &Read) -> Result<(), Refused> {
    let copy =
        if read.whole { insert(&read.bytes, &read.marks) } else { Err("it was not read whole".to_owned()) };
    let shown = read.path.display();
    let copy = copy.map_err(|why| Refused::because(format!("{shown}: no marked copy is written: {why}")))?;
    write_whole(place, |out| out.write_all(&copy))
}

/// `lid.dxf` to `lid.layout-Sheet 1.dxf`.
fn of_layout(place: &Path, space: &str) -> PathBuf {
    let safe: String =
        space.chars().map(|c| if c.is_alphanumeric() || " -_".contains(c) { c } else { '_' }).collect();
    let stem = place.file_stem().unwrap_or_default().to_string_lossy();
    place.with_file_name(format!("{stem}.layout-{safe}.dxf"))
}

/// Writes a file that takes its name when it is whole, in a folder that is made where it is missing.
fn write_whole(
    place: &Path,
    write: impl FnOnce(&mut dyn Write) -> std::io::Result<()>,
) -> Result<(), Refused> {
    if place.exists() && !is_ours(place) {
        let place = place.display();
        return Err(Refused::because(format!("{place} holds no marks of boreband and is not written over")));
    }
    if let Some(folder) = place.parent() {
        std::fs::create_dir_all(folder)
            .map_err(|error| Refused::because(format!("{} cannot be made: {error}", folder.display())))?;
    }
    WholeFile::begin(place)?.finish(write)
}

/// Whether a file holds one of our layers, so that it may be replaced.
fn is_ours(place: &Path) -> bool {
    std::fs::read(place).is_ok_and(|bytes| memchr::memmem::find(&bytes, LAYER_PREFIX.as_bytes()).is_some())
}

/// A complaint for each drawing that would be written over.
fn over_drawings(folder: &Path, root: &Root, drawings: &[PathBuf]) -> Vec<String> {
    let targets: Vec<PathBuf> = drawings.iter().map(|drawing| folder.join(root.place(drawing))).collect();
    let there: Vec<(&PathBuf, PathBuf)> =
        targets.iter().filter_map(|target| Some((target, std::fs::canonicalize(target).ok()?))).collect();
    if there.is_empty() {
        return Vec::new();
    }
    let drawings: HashSet<PathBuf> = drawings.iter().filter_map(|d| std::fs::canonicalize(d).ok()).collect();
    let over = there.into_iter().filter(|(_, target)| drawings.contains(target));
    over.map(|(target, _)| format!("--write: {} is itself a drawing to be checked", target.display()))
        .collect()
}

impl Root {
    fn of(drawings: &[PathBuf]) -> Root {
        let inside = |path: &PathBuf| {
            path.components().all(|part| matches!(part, Component::Normal(_) | Component::CurDir))
        };
        if drawings.iter().all(inside) {
            return Root::AsGiven;
        }
        let mut folders =
            drawings.iter().map(|path| absolute(path).parent().map_or_else(PathBuf::new, Path::to_owned));
        let first = folders.next().unwrap_or_default();
        Root::Common(folders.fold(first, |common, folder| {
            let same = common.components().zip(folder.components()).take_while(|(a, b)| a == b);
            same.map(|(part, _)| part).collect()
        }))
    }

    fn place(&self, drawing: &Path) -> PathBuf {
        match self {
            Root::AsGiven => drawing.components().filter(|part| *part != Component::CurDir).collect(),
            Root::Common(root) => {
                let whole = absolute(drawing);
                whole
                    .strip_prefix(root)
                    .map_or_else(|_| whole.file_name().map(PathBuf::from).unwrap_or_default(), Path::to_owned)
            }
        }
    }
}

/// A path from the root of the file system, without `..`.
fn absolute(path: &Path) -> PathBuf {
    let mut whole = PathBuf::new();
    for part in std::path::absolute(path).unwrap_or_else(|_| path.to_owned()).components() {
        match part {
            Component::ParentDir => {
                whole.pop();
            }
            Component::CurDir => {}
            other => whole.push(other),
        }
    }
    whole
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn no_place_leads_out_of_the_folder() {
        let paths = |all: &[&str]| all.iter().map(PathBuf::from).collect::<Vec<_>>();
        let given = paths(&["a/lid.dxf", "./b/lid.dxf"]);
        let root = Root::of(&given);
        assert_eq!(root.place(&given[0]), Path::new("a/lid.dxf"));
        assert_eq!(root.place(&given[1]), Path::new("b/lid.dxf"));
        let outside = paths(&["/x/y/a/lid.dxf", "/x/y/b/../b/lid.dxf"]);
        let root = Root::of(&outside);
        assert_eq!(root.place(&outside[0]), Path::new("a/lid.dxf"));
        assert_eq!(root.place(&outside[1]), Path::new("b/lid.dxf"));
        let one = paths(&["../lid.dxf"]);
        assert_eq!(Root::of(&one).place(&one[0]), Path::new("lid.dxf"));
    }

    #[test]
    fn a_layout_gets_a_file_name_that_is_one() {
        let place = of_layout(Path::new("out/lid.dxf"), "A/3 ../é");
        assert_eq!(place, Path::new("out/lid.layout-A_3 ___é.dxf"));
    }
}
