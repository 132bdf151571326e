//! One file into a buffer that is used again for the next one.

use std::fs::File;
use std::io::{self, Read};
use std::path::Path;

/// Reads a whole regular file into `buffer`, whose former content is lost and whose memory is kept.
///
/// # Errors
/// The system's reason, or that `path` is no regular file: opening a pipe would wait for a writer for ever.
pub(super) fn into_buffer(path: &Path, buffer: &mut Vec<u8>) -> io::Result<()> {
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
