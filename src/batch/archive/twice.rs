//! Names that stand in the directory of an archive more than once. Its reader, which keeps one entry of each name, has
//! found the directory sound before.

use std::collections::HashMap;
use std::io::{BufReader, Read, Seek, SeekFrom};

use zip::result::ZipResult;

/// What each header in the directory begins with, and its length without name, extra field and comment (bytes).
const HEADER: ([u8; 4], usize) = (*b"PK\x01\x02", 46);

/// The names, as their bytes stand there, in the directory that begins at `start`: each with how often it
/// is repeated.
pub(super) fn names(archive: &mut (impl Read + Seek), start: u64) -> ZipResult<HashMap<Vec<u8>, usize>> {
    archive.seek(SeekFrom::Start(start))?;
    let mut directory = BufReader::new(archive);
    let mut seen = HashMap::new();
    let mut header = [0; HEADER.1];
    while directory.read_exact(&mut header).is_ok() && header.starts_with(&HEADER.0) {
        let length = |at: usize| u16::from_le_bytes([header[at], header[at + 1]]);
        let mut name = vec![0; length(28).into()];
        directory.read_exact(&mut name)?;
        directory.seek_relative(i64::from(length(30)) + i64::from(length(32)))?;
        seen.entry(name).and_modify(|again| *again += 1).or_insert(0);
    }
    seen.retain(|_, again| *again > 0);
    Ok(seen)
}
