//! Bytes kept until they are wanted in another order: in memory up to a limit, then in a temporary file that nobody
//! else sees. Knows nothing of what the bytes say.

use std::fs::File;
use std::io::{self, Read, Seek, SeekFrom, Write};

/// So many bytes are held in memory before they go to the file: enough that few runs need a file at all, little beside
/// what one large drawing takes.
const HELD: usize = 1 << 20;

/// So many bytes of the file are read at a time: pieces are kept nearly in the order in which they are wanted, and most are
/// far smaller.
const WINDOW: u64 = 1 << 16;

/// Where a piece is kept.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) struct Piece {
    start: u64,
    length: usize,
}

impl Piece {
    /// Whether it has no bytes.
    pub(super) fn is_empty(self) -> bool {
        self.length == 0
    }
}

/// Pieces kept one after another.
#[derive(Debug, Default)]
pub(super) struct Spool {
    /// What stands in the file.
    filed: u64,
    file: Option<File>,
    /// What follows after that.
    held: Vec<u8>,
    /// What was last read of the file.
    window: Window,
    /// No file could be had or written: all stays in memory, so that nothing is lost.
    in_memory: bool,
}

/// A part of the file, as it was read. What stands in the file does not change.
#[derive(Debug, Default)]
struct Window {
    begin: u64,
    bytes: Vec<u8>,
}

impl Spool {
    /// Keeps a piece.
    pub(super) fn keep(&mut self, bytes: &[u8]) -> Piece {
        let piece = Piece { start: self.filed + self.held.len() as u64, length: bytes.len() };
        self.held.extend_from_slice(bytes);
        if self.held.len() >= HELD && !self.in_memory {
            self.in_memory = self.move_to_file().is_err();
        }
        piece
    }

    /// Writes a piece that was kept.
    ///
    /// # Errors
    /// Those of the writer, and of the file if it can no longer be read.
    pub(super) fn write(&mut self, piece: Piece, out: &mut dyn Write) -> io::Result<()> {
        // What is held goes to the file as a whole, so that no piece stands in both.
        if let Some(start) = piece.start.checked_sub(self.filed) {
            let start = start as usize;
            return out.write_all(self.held.get(start..start + piece.length).unwrap_or_default());
        }
        let (mut at, end) = (piece.start, piece.start + piece.length as u64);
        while at < end {
            let bytes = self.filed_from(at)?;
            let length = bytes.len().min(usize::try_from(end - at).unwrap_or(usize::MAX));
            out.write_all(&bytes[..length])?;
            at += length as u64;
        }
        Ok(())
    }

    /// What stands in the file from a place on, at least one byte of it.
    fn filed_from(&mut self, place: u64) -> io::Result<&[u8]> {
        let Window { begin, bytes } = &mut self.window;
        if !(*begin..*begin + bytes.len() as u64).contains(&place) {
            let Some(file) = &mut self.file else { return Err(io::ErrorKind::NotFound.into()) };
            bytes.resize(self.filed.saturating_sub(place).min(WINDOW) as usize, 0);
            *begin = place;
            let read = file.seek(SeekFrom::Start(place)).and_then(|_| file.read_exact(bytes));
            if let Err(error) = read {
                bytes.clear();
                return Err(error);
            }
        }
        let start = (place - *begin) as usize;
        bytes
            .get(start..)
            .filter(|bytes| !bytes.is_empty())
            .ok_or_else(|| io::ErrorKind::UnexpectedEof.into())
    }

    fn move_to_file(&mut self) -> io::Result<()> {
        let file = match &mut self.file {
            Some(file) => file,
            none => none.insert(tempfile::tempfile()?),
        };
        // A write that broke off before is written over.
        file.seek(SeekFrom::Start(self.filed))?;
        file.write_all(&self.held)?;
        self.filed += self.held.len() as u64;
        self.held.clear();
        Ok(())
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn written(spool: &mut Spool, piece: Piece) -> Vec<u8> {
        let mut out = Vec::new();
        spool.write(piece, &mut out).unwrap();
        out
    }

    /// Pieces of growing size, three times as much as is held, and one piece larger than that.
    fn pieces() -> Vec<Vec<u8>> {
        let mut all: Vec<Vec<u8>> = (0..3 * HELD / 4096).map(|n| vec![n as u8; 4096 + n]).collect();
        all.insert(5, vec![7; HELD + 3]);
        all.insert(9, Vec::new());
        all
    }

    #[test]
    fn pieces_come_back_in_any_order_from_file_and_memory() {
        let mut spool = Spool::default();
        let kept: Vec<(Piece, Vec<u8>)> = pieces().into_iter().map(|p| (spool.keep(&p), p)).collect();
        assert!(spool.file.is_some() && !spool.held.is_empty(), "both are in use");
        for (piece, bytes) in kept.iter().rev() {
            assert!(written(&mut spool, *piece) == *bytes, "{piece:?}");
        }
    }

    #[test]
    fn without_a_file_all_stays_in_memory() {
        let mut spool = Spool { in_memory: true, ..Spool::default() };
        let kept: Vec<(Piece, Vec<u8>)> = pieces().into_iter().map(|p| (spool.keep(&p), p)).collect();
        assert!(spool.file.is_none());
        for (piece, bytes) in &kept {
            assert!(written(&mut spool, *piece) == *bytes, "{piece:?}");
        }
    }
}
