//! Archives (`.zip`) of drawings: what is in one, and the bytes of one drawing of it. Nothing is ever written, and what is in
//! the drawings is not known here.

mod place;
mod twice;

use std::collections::{BTreeMap, HashMap};
use std::fs::File;
use std::io::{self, BufReader, Read, Seek};
use std::path::Path;

use zip::read::{OwnedZipFileEntry, ZipFileEntry};
use zip::result::{ZipError, ZipResult};
use zip::{CompressionMethod, ZipArchive, ZipReadOptions};

/// Largest drawing that is read from an archive (bytes). A few hundred bytes can state and hold any size.
pub(super) const LARGEST: u64 = 256 << 20;
/// Most names that one message tells.
const TOLD: usize = 10;

/// What an archive holds, as far as it concerns drawings.
#[derive(Debug, Default)]
pub(super) struct Contents {
    /// By place in the archive, with `/`: never absolute, without `.` and `..`.
    inside: BTreeMap<String, Inside>,
    /// What has no place of its own: entries with names that cannot be used, and why the rest could not be seen.
    nameless: Vec<String>,
    /// Why the archive could not be read to its end.
    damage: Option<String>,
}

/// Something that would be a drawing, if it can be read.
#[derive(Debug)]
enum Inside {
    File(Box<OwnedZipFileEntry>),
    /// How many entries have this name. Which of them is meant cannot be known.
    Several(usize),
    /// An archive in the archive.
    Archive,
}

impl Inside {
    /// How many entries it stands for.
    fn count(&self) -> usize {
        if let Inside::Several(count) = self { *count } else { 1 }
    }
}

/// What an archive tells of a drawing.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) struct Stated {
    /// Size (bytes).
    pub(super) bytes: u64,
    /// Year of its time, if it has one.
    pub(super) year: Option<i16>,
}

impl Contents {
    /// Reads the directory of an archive. What is wrong with it is kept and told by [`Contents::fault`].
    pub(super) fn of(archive: &Path) -> Contents {
        let mut contents = Contents::default();
        let read =
            File::open(archive).map_err(ZipError::from).and_then(|file| contents.fill(BufReader::new(file)));
        contents.damage = read.err().map(|error| reason(&error));
        contents
    }

    fn fill(&mut self, archive: impl Read + Seek) -> ZipResult<()> {
        let archive = ZipArchive::new(archive)?;
        let entries = archive.metadata();
        let start = archive.central_directory_start();
        let mut twice = HashMap::new();
        if entries.has_duplicate_names() {
            // The directory as it was read keeps one of each name.
            twice = twice::names(&mut archive.into_inner(), start)?;
            if twice.is_empty() {
                return Err(ZipError::InvalidArchive("two entries have the same name".into()));
            }
        }
        for index in 0..entries.len() {
            let entry = entries.entry(index)?;
            let more = twice.get(entry.name_raw()).copied().unwrap_or(0);
            self.add(entry, more);
        }
        Ok(())
    }

    /// Takes up an entry whose name stands in the directory once, and `more` times.
    fn add(&mut self, entry: ZipFileEntry<'_>, more: usize) {
        let raw = || String::from_utf8_lossy(entry.name_raw()).into_owned();
        let name = entry.name().map_or_else(|_| raw(), |name| name.into_owned());
        let nested = place::ends_in(&name, "zip");
        if entry.is_dir() || !(nested || place::ends_in(&name, "dxf")) || place::is_companion(&name) {
            return;
        }
        let Some(place) = place::of(&name) else {
            self.nameless.push(name);
            return;
        };
        let known = self.inside.get(&place).map_or(0, Inside::count);
        let inside = match known + more {
            0 if nested => Inside::Archive,
            0 => Inside::File(Box::new(entry.into())),
            others => Inside::Several(others + 1),
        };
        self.inside.insert(place, inside);
    }

    /// The places of drawings, sorted, and of what would be drawings.
    pub(super) fn places(&self) -> impl Iterator<Item = &str> {
        self.inside.keys().map(String::as_str)
    }

    /// How many there are.
    pub(super) fn len(&self) -> usize {
        self.inside.len()
    }

    /// What is wrong with the archive beside its single drawings.
    pub(super) fn fault(&self) -> Option<String> {
        let damage = self.damage.as_ref().map(|why| {
            format!(
                "the archive is damaged or none, and drawings in it may be missing here: {why}; pack it again"
            )
        });
        let names = (!self.nameless.is_empty()).then(|| {
            let mut told: Vec<String> = self.nameless.iter().take(TOLD).map(|name| format!("{name:?}")).collect();
            let more = self.nameless.len() - told.len();
            if more > 0 {
                told.push(format!("{more} more"));
            }
            format!(
                "drawings in the archive have names that lead out of it or are no names, and are not read: {}; rename them",
                told.join(", ")
            )
        });
        let all: Vec<String> = damage.into_iter().chain(names).collect();
        (!all.is_empty()).then(|| all.join("; "))
    }

    /// What the archive tells of the drawing at `place`.
    pub(super) fn stated(&self, place: &str) -> Option<Stated> {
        let Some(Inside::File(entry)) = self.inside.get(place) else { return None };
        // The first day that can be stated stands for no time at all.
        let time = entry.last_modified().filter(|t| (t.year(), t.month(), t.day()) != (1980, 1, 1));
        Some(Stated { bytes: entry.size(), year: time.and_then(|time| i16::try_from(time.year()).ok()) })
    }

    /// Reads the drawing at `place` of the `archive` that these are the contents of into `buffer`, which is empty.
    ///
    /// # Errors
    /// Why it cannot be had, and what to do.
    pub(super) fn read(&self, archive: &Path, place: &str, buffer: &mut Vec<u8>) -> io::Result<()> {
        let entry = match self.inside.get(place) {
            Some(Inside::File(entry)) => entry,
            Some(Inside::Several(count)) => {
                return refuse(format!("the archive holds {count} entries of this name; keep one"));
            }
            Some(Inside::Archive) => {
                return refuse("an archive in an archive is not looked into; unpack it beside".to_owned());
            }
            None => {
                let why = self.damage.as_ref().map(|why| format!(" ({why})")).unwrap_or_default();
                return Err(io::Error::new(
                    io::ErrorKind::NotFound,
                    format!("there is no such drawing in the archive{why}"),
                ));
            }
        };
        readable(entry)?;
        let mut file = BufReader::new(File::open(archive)?);
        inflate(entry, &mut file, buffer).map_err(|error| {
            buffer.clear();
            io::Error::new(io::ErrorKind::InvalidData, reason(&error))
        })
    }
}

/// Refuses what cannot be read for what the archive states of it.
fn readable(entry: &OwnedZipFileEntry) -> io::Result<()> {
    if entry.encrypted() {
        return refuse(
            "it is encrypted in the archive; unpack it, with its password, and check the file".to_owned(),
        );
    }
    if entry.is_symlink() {
        return refuse(
            "it is a link, and links in archives are not followed; pack the drawing itself".to_owned(),
        );
    }
    let method = entry.compression();
    if !matches!(method, CompressionMethod::Stored | CompressionMethod::Deflated) {
        return refuse(format!(
            "it is compressed by a method that is not read ({method}); pack it by deflate, or unpack it"
        ));
    }
    let size = entry.size();
    if size > LARGEST {
        return refuse(format!(
            "the archive states {size} bytes for it, more than the {LARGEST} that are read from an archive; unpack it"
        ));
    }
    Ok(())
}

/// Reads an entry, counting what comes: what an archive states may be a lie.
fn inflate(
    entry: &OwnedZipFileEntry,
    archive: &mut (impl Read + Seek),
    buffer: &mut Vec<u8>,
) -> ZipResult<()> {
    let stated = entry.size().min(LARGEST);
    let file = entry.as_ref().with_reader(archive, ZipReadOptions::new())?;
    let read = file.take(stated + 1).read_to_end(buffer)? as u64;
    if read != entry.size() {
        let more = if read > stated { "more" } else { "fewer" };
        let lie = format!("it holds {more} bytes than the {stated} that the archive states");
        return Err(ZipError::InvalidArchive(lie.into()));
    }
    Ok(())
}

fn refuse(why: String) -> io::Result<()> {
    Err(io::Error::new(io::ErrorKind::InvalidData, why))
}

fn reason(error: &ZipError) -> String {
    match error {
        ZipError::Io(error) => error.to_string(),
        ZipError::InvalidArchive(why) => why.to_string(),
        other => other.to_string(),
    }
}

#[cfg(test)]
mod tests;
