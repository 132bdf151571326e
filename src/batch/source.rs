//! Where the bytes of drawings come from: whole regular files. Decides nothing about what is in them.

use std::fs::File;
use std::io::{self, Read};
use std::path::Path;

/// What gives the bytes of a drawing. Shared by all threads, and by those that were left behind.
pub(super) trait Source: Send + Sync + 'static {
    /// About how large a drawing is (bytes), to read the largest first; 0 where it cannot be known.
    fn size(&self, path: &Path) -> u64;

    /// Reads a whole drawing into `buffer`, whose former content is lost and whose memory is kept.
    ///
    /// # Errors
    /// Why it cannot be had.
    fn read(&self, path: &Path, buffer: &mut Vec<u8>) -> io::Result<()>;
}

/// The files of this machine, as its system shows them.
#[derive(Debug)]
pub(super) struct Disk;

impl Source for Disk {
    fn size(&self, path: &Path) -> u64 {
        std::fs::metadata(path).map_or(0, |m| m.len())
    }

    /// Beside the system's reasons it is an error if `path` is no regular file: opening a pipe would wait for a writer
    /// for ever.
    fn read(&self, path: &Path, buffer: &mut Vec<u8>) -> io::Result<()> {
        buffer.clear();
        let facts = std::fs::metadata(path)?;
        if !facts.is_file() {
            return Err(io::Error::new(io::ErrorKind::InvalidInput, "it is no regular file"));
        }
        let size = usize::try_from(facts.len()).unwrap_or(usize::MAX);
        buffer
            .try_reserve(size)
            .map_err(|_| io::Error::new(io::ErrorKind::OutOfMemory, "it is too large for memory"))?;
        File::open(path)?.read_to_end(buffer)?;
        Ok(())
    }
}
