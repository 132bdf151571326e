//! The file of a ledger: opened by one run at a time, mended at its end, and appended to.

use std::collections::HashMap;
use std::fs::{File, OpenOptions, TryLockError};
use std::io::{self, BufRead, BufReader, Read, Seek, SeekFrom, Write};
use std::path::{Path, PathBuf};
use std::sync::{Mutex, PoisonError};
use std::time::{Duration, Instant};

use super::line::{self, FORMAT, Head, Line};
use super::{Entry, Known};

/// How often what was appended is made to reach the disk: a power cut costs no more than this.
const SYNC_EVERY: Duration = Duration::from_secs(5);

/// Longest line that is believed (bytes); a drawing with a hundred thousand different findings stays below.
const LONGEST_LINE: u64 = 1 << 28;

/// A ledger that a run has opened and locked.
#[derive(Debug)]
pub struct Ledger {
    path: PathBuf,
    end: Mutex<End>,
}

#[derive(Debug)]
struct End {
    file: File,
    synced: Instant,
}

/// A ledger as it was found.
#[derive(Debug)]
pub struct Opened {
    /// To append to.
    pub ledger: Ledger,
    /// The lines that count, by path.
    pub known: HashMap<String, Known>,
    /// What was wrong with it and what was done about it, one sentence each.
    pub repairs: Vec<String>,
}

/// Where the line that counts for a path stands.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) struct Place {
    pub(super) offset: u64,
    pub(super) length: u32,
    pub(super) known: Known,
}

/// All that is in a ledger's file.
#[derive(Debug, Default)]
pub(super) struct Content {
    pub(super) lines: HashMap<String, Place>,
    /// Numbers of damaged lines, with the place of each.
    pub(super) damaged: Vec<u64>,
    /// Where a last line without an end begins, and its number.
    cut: Option<(u64, u64)>,
    /// Bytes in all.
    size: u64,
}

impl Ledger {
    /// Opens a ledger for a run, making a new one if there is none, and locks it against other runs.
    ///
    /// # Errors
    /// If it cannot be read and written, is no ledger or one of a newer format, or another run has it.
    pub fn open(path: &Path) -> Result<Opened, String> {
        let failed = |what: &str, e: &io::Error| format!("{}: {what}: {e}", path.display());
        let mut options = OpenOptions::new();
        options.read(true).append(true).create(true);
        let mut file = options.open(path).map_err(|e| failed("the ledger cannot be opened", &e))?;
        regular(&file, path)?;
        lock(&file, path, false)?;
        let content = read(&mut file, path)?;
        let mut repairs = content.damaged_said(path);
        if content.size == 0 {
            file.write_all(&line::head()).map_err(|e| failed("the ledger cannot be written", &e))?;
        } else if let Some((offset, number)) = content.cut {
            file.set_len(offset).map_err(|e| failed("the ledger cannot be mended", &e))?;
            repairs.push(format!(
                "{}: line {number} was cut short and was taken away; its drawing is checked again",
                path.display()
            ));
            if offset == 0 {
                file.write_all(&line::head()).map_err(|e| failed("the ledger cannot be written", &e))?;
            }
        }
        let known = content.lines.into_iter().map(|(path, place)| (path, place.known)).collect();
        let end = Mutex::new(End { file, synced: Instant::now() });
        Ok(Opened { ledger: Ledger { path: path.to_owned(), end }, known, repairs })
    }

    /// Where it stands.
    pub fn path(&self) -> &Path {
        &self.path
    }

    /// Appends the result of a drawing. Once this returns, a run that is killed keeps it.
    ///
    /// # Errors
    /// If it cannot be written.
    pub fn append(&self, entry: &Entry) -> io::Result<()> {
        self.add(&line::entry(entry))
    }

    /// Appends that a drawing is not there any more.
    ///
    /// # Errors
    /// If it cannot be written.
    pub fn forget(&self, path: &str) -> io::Result<()> {
        self.add(&line::gone(path))
    }

    fn add(&self, line: &[u8]) -> io::Result<()> {
        let mut end = self.end.lock().unwrap_or_else(PoisonError::into_inner);
        // One call a line, so that a line is in the file as a whole or, if the run is killed within the call, at its end.
        end.file.write_all(line)?;
        if end.synced.elapsed() >= SYNC_EVERY {
            end.file.sync_data()?;
            end.synced = Instant::now();
        }
        Ok(())
    }

    /// Makes all that was appended reach the disk, and lets other runs have the ledger.
    ///
    /// # Errors
    /// If it cannot be written.
    pub fn close(self) -> io::Result<()> {
        self.end.into_inner().unwrap_or_else(PoisonError::into_inner).file.sync_data()
    }
}

/// Refuses what is no regular file: reading a device may never end.
pub(super) fn regular(file: &File, path: &Path) -> Result<(), String> {
    let is_file = file.metadata().is_ok_and(|facts| facts.is_file());
    if is_file { Ok(()) } else { Err(format!("{}: this is no regular file, so no ledger", path.display())) }
}

/// Locks a ledger: for one that writes, or for those that read.
pub(super) fn lock(file: &File, path: &Path, shared: bool) -> Result<(), String> {
    let outcome = if shared { file.try_lock_shared() } else { file.try_lock() };
    match outcome {
        Ok(()) => Ok(()),
        Err(TryLockError::WouldBlock) => {
            Err(format!("{}: another run is at work on this ledger; wait for it to end", path.display()))
        }
        // Some network shares know no locks; whoever uses them must see to it that one run is at work at a time.
        Err(TryLockError::Error(error)) if error.kind() == io::ErrorKind::Unsupported => Ok(()),
        Err(TryLockError::Error(error)) => {
            Err(format!("{}: the ledger cannot be locked: {error}", path.display()))
        }
    }
}

/// Reads which lines of a ledger count.
///
/// # Errors
/// If it cannot be read, or is no ledger.
pub(super) fn read(file: &mut File, path: &Path) -> Result<Content, String> {
    let failed = |e: io::Error| format!("{}: the ledger cannot be read: {e}", path.display());
    file.seek(SeekFrom::Start(0)).map_err(failed)?;
    let mut reader = BufReader::with_capacity(1 << 20, file);
    let mut content = Content::default();
    let mut bytes = Vec::new();
    let mut number = 0;
    loop {
        bytes.clear();
        let offset = content.size;
        let length = (&mut reader).take(LONGEST_LINE).read_until(b'\n', &mut bytes).map_err(failed)? as u64;
        if length == 0 {
            return Ok(content);
        }
        number += 1;
        content.size += length;
        if length == LONGEST_LINE && !bytes.ends_with(b"\n") {
            content.size += pass_line(&mut reader).map_err(failed)?;
            content.damaged.push(number);
            continue;
        }
        let whole = bytes.strip_suffix(b"\n");
        if number == 1 {
            let is_head = is_head(whole.unwrap_or(&bytes), path)?;
            match whole {
                Some(_) if is_head => {}
                // The very first write was cut short.
                None if line::head().starts_with(&bytes) => content.cut = Some((offset, number)),
                _ => return Err(no_ledger(path)),
            }
            continue;
        }
        match whole {
            Some(whole) => content.take(whole, offset, number),
            None => content.cut = Some((offset, number)),
        }
    }
}

/// Passes over the rest of a line; its length.
fn pass_line(reader: &mut impl BufRead) -> io::Result<u64> {
    let mut passed = 0;
    loop {
        let buffer = reader.fill_buf()?;
        let (length, ended) = match memchr::memchr(b'\n', buffer) {
            Some(at) => (at + 1, true),
            None => (buffer.len(), buffer.is_empty()),
        };
        reader.consume(length);
        passed += length as u64;
        if ended {
            return Ok(passed);
        }
    }
}

impl Content {
    fn take(&mut self, whole: &[u8], offset: u64, number: u64) {
        match line::look(whole) {
            Some(Line::Entry(path, known)) => {
                let place = Place { offset, length: whole.len() as u32, known };
                match self.lines.get_mut(&*path) {
                    Some(earlier) => *earlier = place,
                    None => drop(self.lines.insert(path.into_owned(), place)),
                }
            }
            Some(Line::Gone(path)) => drop(self.lines.remove(&*path)),
            None => self.damaged.push(number),
        }
    }

    /// What is wrong inside the file, one sentence a line.
    pub(super) fn damaged_said(&self, path: &Path) -> Vec<String> {
        let said = |number| {
            format!(
                "{}: line {number} is damaged and counts for nothing; its drawing is checked again when it is met",
                path.display()
            )
        };
        self.damaged.iter().map(said).collect()
    }

    /// Whether the last line was cut short, by its number.
    pub(super) fn cut_line(&self) -> Option<u64> {
        self.cut.map(|(_, number)| number)
    }
}

/// Whether a line is the first of a ledger.
fn is_head(line: &[u8], path: &Path) -> Result<bool, String> {
    let Ok(head) = serde_json::from_slice::<Head>(line) else { return Ok(false) };
    if head.boreband_ledger == FORMAT {
        return Ok(true);
    }
    Err(format!(
        "{}: this ledger has format {}; this program knows format {FORMAT} only",
        path.display(),
        head.boreband_ledger
    ))
}

fn no_ledger(path: &Path) -> String {
    format!(
        "{}: this file is no ledger, and was left as it is; give the name of a ledger or of a file that is not there yet",
        path.display()
    )
}
