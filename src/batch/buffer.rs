//! The bytes of one drawing. Those of a large one lie in memory of their own, which the system has back as soon as they are
//! forgotten: the allocator would hold on to it while the drawing is checked.

use std::io::{self, ErrorKind, Read};
use std::ops::Deref;

use memmap2::MmapMut;

/// Files from this size (bytes) have memory of their own. Little less than this is not worth asking the system for.
const APART: usize = 4 << 20;
/// Memory up to this size (bytes) is kept for the next drawing.
const KEPT: usize = 1 << 20;

/// The bytes of a drawing, and memory for those of the next.
#[derive(Debug, Default)]
pub struct Buffer {
    held: Vec<u8>,
    apart: Option<Apart>,
}

/// Memory of the system, and how much of it is read.
#[derive(Debug)]
struct Apart {
    memory: MmapMut,
    length: usize,
}

impl Buffer {
    /// Nothing, with memory that can be added to.
    pub(super) fn cleared(&mut self) -> &mut Vec<u8> {
        self.apart = None;
        self.held.clear();
        &mut self.held
    }

    /// Whether its memory is kept for the next drawing.
    pub(super) fn is_kept(&self) -> bool {
        self.apart.is_none() && self.held.capacity() <= KEPT
    }

    /// Whether it has no memory.
    pub(super) fn is_new(&self) -> bool {
        self.apart.is_none() && self.held.capacity() == 0
    }

    /// Reads all that a source has, which is about `size` bytes. What was held before is lost.
    ///
    /// # Errors
    /// Those of the source, and that there is not enough memory.
    pub(super) fn fill(&mut self, size: usize, mut source: impl Read) -> io::Result<()> {
        let held = self.cleared();
        let apart = if size >= APART { MmapMut::map_anon(size).ok() } else { None };
        if let Some(mut memory) = apart {
            let length = read_into(&mut memory, &mut source)?;
            // One more byte tells whether that is all; a file that grew meanwhile is held as small ones are.
            let mut more = [0];
            if length < memory.len() || read_into(&mut more, &mut source)? == 0 {
                self.apart = Some(Apart { memory, length });
                return Ok(());
            }
            reserve(held, length + 1)?;
            held.extend_from_slice(&memory);
            held.extend_from_slice(&more);
        } else {
            reserve(held, size)?;
        }
        source.read_to_end(held)?;
        Ok(())
    }
}

fn reserve(held: &mut Vec<u8>, size: usize) -> io::Result<()> {
    held.try_reserve(size).map_err(|_| io::Error::new(ErrorKind::OutOfMemory, "it is too large for memory"))
}

/// Reads until there is no more or no room; how many bytes.
fn read_into(room: &mut [u8], source: &mut impl Read) -> io::Result<usize> {
    let mut length = 0;
    while length < room.len() {
        match source.read(&mut room[length..]) {
            Ok(0) => break,
            Ok(read) => length += read,
            Err(error) if error.kind() == ErrorKind::Interrupted => {}
            Err(error) => return Err(error),
        }
    }
    Ok(length)
}

impl Deref for Buffer {
    type Target = [u8];

    fn deref(&self) -> &[u8] {
        match &self.apart {
            Some(Apart { memory, length }) => &memory[..*length],
            None => &self.held,
        }
    }
}

impl AsRef<[u8]> for Buffer {
    fn as_ref(&self) -> &[u8] {
        self
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Gives its bytes a few at a time, and is interrupted between.
    struct Slow<'a>(&'a [u8], bool);

    impl Read for Slow<'_> {
        fn read(&mut self, into: &mut [u8]) -> io::Result<usize> {
            self.1 = !self.1;
            if self.1 {
                return Err(ErrorKind::Interrupted.into());
            }
            let few = into.len().min(700_001);
            self.0.read(&mut into[..few])
        }
    }

    #[test]
    fn all_bytes_are_read_whatever_size_was_stated() {
        let bytes: Vec<u8> = (0..APART + 5).map(|n| (n % 251) as u8).collect();
        let mut buffer = Buffer::default();
        for length in [0, 9, APART - 1, APART, APART + 5] {
            for stated in [0, 9, APART - 1, APART, APART + 5, APART + 90] {
                buffer.fill(stated, Slow(&bytes[..length], false)).unwrap();
                assert!(*buffer == bytes[..length], "{length} bytes, {stated} stated");
            }
        }
        assert!(buffer.cleared().is_empty() && buffer.is_empty());
    }

    #[test]
    fn only_small_memory_is_kept() {
        let mut buffer = Buffer::default();
        assert!(buffer.is_new() && buffer.is_kept());
        buffer.fill(100, &[1; 100][..]).unwrap();
        assert!(!buffer.is_new() && buffer.is_kept());
        buffer.fill(APART, &[1; 100][..]).unwrap();
        assert!(!buffer.is_new() && !buffer.is_kept());
        assert_eq!(buffer.len(), 100);
        let mut large = Buffer::default();
        large.cleared().resize(KEPT + 1, 0);
        assert!(!large.is_kept());
    }
}
