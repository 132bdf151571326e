//! Ledgers joined: the lines that count of all of them, in the order of their paths.

use std::collections::HashMap;
use std::fs::File;
use std::io::{self, Read, Seek, SeekFrom};
use std::path::{Path, PathBuf};

use super::Entry;
use super::file::{Place, lock, read, regular};

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
    /// # Errors
    /// If a line cannot be read or understood any more, or by `each`.
    pub fn for_each(&mut self, mut each: impl FnMut(Entry) -> Result<(), String>) -> Result<(), String> {
        let mut bytes = Vec::new();
        for index in 0..self.lines.len() {
            each(self.read(index, &mut bytes)?)?;
        }
        Ok(())
    }

    /// The drawing that is the `index`th in the order of the paths, from 0.
    ///
    /// # Errors
    /// If there are not so many, or its line cannot be read or understood any more.
    pub fn get(&mut self, index: usize) -> Result<Entry, String> {
        self.read(index, &mut Vec::new())
    }

    fn read(&mut self, index: usize, bytes: &mut Vec<u8>) -> Result<Entry, String> {
        let (path, nth, place) =
            self.lines.get(index).ok_or_else(|| format!("there is no drawing {index} in the ledger"))?;
        let (ledger, file) = &mut self.files[*nth as usize];
        line_at(file, *place, bytes)
            .map_err(|reason| format!("{}: the line of {path} cannot be read: {reason}", ledger.display()))
    }
}

fn into_places(lines: HashMap<String, Place>) -> impl Iterator<Item = (Box<str>, Place)> {
    lines.into_iter().map(|(path, place)| (path.into_boxed_str(), place))
}

fn line_at(file: &mut File, place: Place, bytes: &mut Vec<u8>) -> io::Result<Entry> {
    bytes.resize(place.length as usize, 0);
    file.seek(SeekFrom::Start(place.offset))?;
    file.read_exact(bytes)?;
    serde_json::from_slice(bytes).map_err(io::Error::from)
}
