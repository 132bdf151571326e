//! Where the bytes of drawings come from: whole regular files, and entries of archives. Decides nothing about what is in
//! them.

use std::collections::{HashMap, VecDeque};
use std::fs::File;
use std::io::{self, Read};
use std::path::{Path, PathBuf};
use std::sync::{Arc, Mutex, PoisonError};

use super::archive::Contents;
use super::buffer::Buffer;
use crate::dxf;
use crate::reading::{archive_above, is_zip};

/// Most entries of archives that are remembered at a time. Each takes some 700 bytes.
const REMEMBERED: usize = 50_000;

/// What gives the bytes of a drawing. Shared by all threads, and by those that were left behind.
pub(super) trait Source: Send + Sync + 'static {
    /// About how large a drawing is (bytes), to read the largest first; 0 where it cannot be known.
    fn size(&self, path: &Path) -> u64;

    /// Reads a whole drawing into `buffer`, whose former content is lost and whose memory is kept.
    ///
    /// # Errors
    /// Why it cannot be had.
    fn read(&self, path: &Path, buffer: &mut Buffer) -> io::Result<()>;
}

/// The files of this machine, as its system shows them, and the drawings in its archives: `parts.zip/frames/lid.dxf` is
/// `frames/lid.dxf` in `parts.zip`, read in place. Shared by all threads.
///
/// The directories of archives are remembered, those looked at last, so that each is read once where there are not very
/// many.
#[derive(Debug, Default)]
pub struct Files {
    archives: Mutex<Archives>,
}

/// What is known of a drawing without reading it.
#[derive(Debug, Clone, Copy, Default, PartialEq, Eq)]
pub struct Facts {
    /// Its size (bytes); of a drawing in an archive, as that states it.
    pub bytes: u64,
    /// The year of its last change, as its file system (in UTC) or its archive says.
    pub year: Option<i16>,
}

#[derive(Debug, Default)]
struct Archives {
    by_path: HashMap<PathBuf, Arc<Contents>>,
    /// The oldest first.
    order: VecDeque<PathBuf>,
    entries: usize,
}

impl Files {
    /// The whole bytes of a drawing.
    ///
    /// # Errors
    /// Why it cannot be had: the system's reason; that it is no regular file, or has more than [`dxf::MAX_BYTES`]; of an archive itself, what is wrong with
    /// it; of a drawing in one, that it is encrypted, compressed by a method that is not read, larger than 256 MiB, not
    /// what the archive states, or one of several of its name.
    pub fn read(&self, path: &Path) -> io::Result<Buffer> {
        let mut bytes = Buffer::default();
        Source::read(self, path, &mut bytes)?;
        Ok(bytes)
    }

    /// Size and year of a drawing, as far as they can be had.
    pub fn facts(&self, path: &Path) -> Facts {
        if let Some((archive, place)) = split(path) {
            let stated = self.contents(archive).stated(&place);
            return stated
                .map_or_else(Facts::default, |stated| Facts { bytes: stated.bytes, year: stated.year });
        }
        let Ok(facts) = std::fs::metadata(path) else { return Facts::default() };
        Facts { bytes: facts.len(), year: year_of(&facts) }
    }

    /// What an archive holds.
    pub(super) fn contents(&self, archive: &Path) -> Arc<Contents> {
        let locked = || self.archives.lock().unwrap_or_else(PoisonError::into_inner);
        if let Some(known) = locked().by_path.get(archive) {
            return Arc::clone(known);
        }
        // Not under the lock: this may take as long as a share lets it.
        let contents = Arc::new(Contents::of(archive));
        locked().remember(archive, &contents);
        contents
    }
}

impl Archives {
    fn remember(&mut self, archive: &Path, contents: &Arc<Contents>) {
        if self.by_path.insert(archive.to_owned(), Arc::clone(contents)).is_some() {
            return;
        }
        self.order.push_back(archive.to_owned());
        self.entries += contents.len() + 1;
        while self.entries > REMEMBERED && self.order.len() > 1 {
            let oldest = self.order.pop_front().and_then(|oldest| self.by_path.remove(&oldest));
            self.entries -= oldest.map_or(0, |oldest| oldest.len() + 1);
        }
    }
}

impl Source for Files {
    fn size(&self, path: &Path) -> u64 {
        self.facts(path).bytes
    }

    /// Beside the system's reasons it is an error if `path` is no regular file: opening a pipe would wait for a writer
    /// for ever.
    fn read(&self, path: &Path, buffer: &mut Buffer) -> io::Result<()> {
        if let Some((archive, place)) = split(path) {
            return self.contents(archive).read(archive, &place, buffer.cleared());
        }
        let facts = std::fs::metadata(path)?;
        if !facts.is_file() {
            return Err(io::Error::new(io::ErrorKind::InvalidInput, "it is no regular file"));
        }
        if is_zip(path) {
            let fault = self.contents(path).fault();
            let fault =
                fault.unwrap_or_else(|| "it is an archive and no drawing; name a drawing in it".to_owned());
            return Err(io::Error::new(io::ErrorKind::InvalidData, fault));
        }
        let refuse = |bytes| match dxf::too_large(bytes) {
            Some(why) => Err(io::Error::new(io::ErrorKind::InvalidData, why)),
            None => Ok(()),
        };
        refuse(facts.len())?;
        // A file that is still being written may have no end.
        let source = File::open(path)?.take(dxf::MAX_BYTES + 1);
        buffer.fill(usize::try_from(facts.len()).unwrap_or(usize::MAX), source)?;
        refuse(buffer.len() as u64)
    }
}

/// A path into an archive: the archive, and the place in it with `/`.
pub(super) fn split(path: &Path) -> Option<(&Path, String)> {
    let archive = archive_above(path)?;
    let below = path.strip_prefix(archive).ok()?;
    let parts: Vec<String> =
        below.components().map(|part| part.as_os_str().to_string_lossy().into_owned()).collect();
    Some((archive, parts.join("/")))
}

fn year_of(facts: &std::fs::Metadata) -> Option<i16> {
    let modified = jiff::Timestamp::try_from(facts.modified().ok()?).ok()?;
    Some(jiff::tz::TimeZone::UTC.to_datetime(modified).year())
}
