//! Ledgers joined: the lines that count of all of them, in the order of their paths.

use std::collections::HashMap;
use std::fmt::Display;
use std::fs::File;
use std::io::{Read, Seek, SeekFrom};
use std::ops::Range;
use std::path::{Path, PathBuf};

use rayon::prelude::*;

use super::Entry;
use super::file::{Place, lock, read, regular};

/// Lines that are understood side by side.
const SIDE_BY_SIDE: usize = 4096;

/// Several ledgers, or one, as one.
#[derive(Debug)]
pub struct Joined {
    files: Vec<(PathBuf, File)>,
    /// Path, file and place of each line that counts, sorted by path.
    lines: Vec<(Box<str>, u32, Place)>,
    /// What is wrong in the files, one sentence each: what stood there is missing.
    pub damage: Vec<String>,
}

impl Joined {
    /// Reads which lines of the ledgers count.
    ///
    /// # Errors
    /// If one cannot be read, is no ledger, or is being written; and each drawing of which two say something else.
    pub fn of(paths: &[PathBuf]) -> Result<Joined, Vec<String>> {
        let mut joined = Joined { files: Vec::new(), lines: Vec::new(), damage: Vec::new() };
        let mut wrong = Vec::new();
        for path in paths {
            match joined.add(path) {
                Ok(()) => {}
                Err(reason) => wrong.push(reason),
            }
        }
        if wrong.is_empty() {
            wrong = joined.sort();
        }
        if wrong.is_empty() { Ok(joined) } else { Err(wrong) }
    }

    fn add(&mut self, path: &Path) -> Result<(), String> {
        let mut file =
            File::open(path).map_err(|e| format!("{}: the ledger cannot be opened: {e}", path.display()))?;
        regular(&file, path)?;
        lock(&file, path, true)?;
        let content = read(&mut file, path)?;
        self.damage.extend(content.damaged_said(path));
        if let Some(number) = content.cut_line() {
            let path = path.display();
            self.damage
                .push(format!("{path}: line {number} was cut short and counts for nothing; audit again"));
        }
        let nth = self.files.len() as u32;
        self.files.push((path.to_owned(), file));
        self.lines.extend(into_places(content.lines).map(|(path, place)| (path, nth, place)));
        Ok(())
    }

    /// Sorts the lines and joins those of one drawing; what two ledgers contradict each other in.
    fn sort(&mut self) -> Vec<String> {
        self.lines.sort_unstable_by(|a, b| (&a.0, a.1).cmp(&(&b.0, b.1)));
        let mut wrong = Vec::new();
        let files = &self.files;
        self.lines.dedup_by(|later, first| {
            if later.0 != first.0 {
                return false;
            }
            if later.2.known != first.2.known {
                let [one, other] = [first.1, later.1].map(|nth| files[nth as usize].0.display());
                wrong.push(format!("{}: {one} and {other} say something else of this drawing", later.0));
            }
            true
        });
        wrong
    }

    /// Number of drawings.
    pub fn len(&self) -> usize {
        self.lines.len()
    }

    /// Whether there is no drawing.
    pub fn is_empty(&self) -> bool {
        self.lines.is_empty()
    }

    /// Gives each drawing to `each`, in the order of the paths.
    ///
    /// Lines are read one after the other and understood side by side, some thousands at a time, which is what takes long.
    ///
    /// # Errors
    /// If a line cannot be read or understood any more, or by `each`.
    pub fn for_each(&mut self, mut each: impl FnMut(Entry) -> Result<(), String>) -> Result<(), String> {
        let mut bytes = Vec::new();
        for first in (0..self.lines.len()).step_by(SIDE_BY_SIDE) {
            bytes.clear();
            let indices = first..self.lines.len().min(first + SIDE_BY_SIDE);
            let read = indices.map(|index| Ok((index, self.append_line(index, &mut bytes)?)));
            let ranges = read.collect::<Result<Vec<_>, String>>()?;
            let understood =
                ranges.into_par_iter().map(|(index, range)| self.understood(index, &bytes[range]));
            for entry in understood.collect::<Vec<_>>() {
                each(entry?)?;
            }
        }
        Ok(())
    }

    /// The drawing that is the `index`th in the order of the paths, from 0.
    ///
    /// # Errors
    /// If there are not so many, or its line cannot be read or understood any more.
    pub fn get(&mut self, index: usize) -> Result<Entry, String> {
        let mut bytes = Vec::new();
        let range = self.append_line(index, &mut bytes)?;
        self.understood(index, &bytes[range])
    }

    /// Reads a line behind what is in `bytes`; where it stands there.
    fn append_line(&mut self, index: usize, bytes: &mut Vec<u8>) -> Result<Range<usize>, String> {
        let (_, nth, place) =
            self.lines.get(index).ok_or_else(|| format!("there is no drawing {index} in the ledger"))?;
        let (_, file) = &mut self.files[*nth as usize];
        let range = bytes.len()..bytes.len() + place.length as usize;
        bytes.resize(range.end, 0);
        let offset = place.offset;
        let read =
            file.seek(SeekFrom::Start(offset)).and_then(|_| file.read_exact(&mut bytes[range.clone()]));
        read.map(|()| range).map_err(|reason| self.unreadable(index, &reason))
    }

    fn understood(&self, index: usize, line: &[u8]) -> Result<Entry, String> {
        serde_json::from_slice(line).map_err(|reason| self.unreadable(index, &reason))
    }

    fn unreadable(&self, index: usize, reason: &dyn Display) -> String {
        let (path, nth, _) = &self.lines[index];
        let ledger = self.files[*nth as usize].0.display();
        format!("{ledger}: the line of {path} cannot be read: {reason}")
    }
}

fn into_places(lines: HashMap<String, Place>) -> impl Iterator<Item = (Box<str>, Place)> {
    lines.into_iter().map(|(path, place)| (path.into_boxed_str(), place))
}
