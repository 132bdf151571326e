//! Where the line feeds of a text are. Most lines of a DXF file are three to twenty bytes long, too short for a search
//! that starts anew at each; so all line feeds of 64 bytes are found at once and taken one by one.

use wide::u8x16;

/// Bytes that are looked at together.
pub(super) const BLOCK: usize = 64;

/// The line feeds of a text from some place on, in order.
pub(super) struct Feeds<'a> {
    data: &'a [u8],
    /// Where the block begins whose line feeds `left` holds.
    block: usize,
    /// The line feeds of the block that were not taken yet, a bit each, the first byte lowest.
    left: u64,
}

impl<'a> Feeds<'a> {
    /// Those of `data` from `at` on.
    pub(super) fn new(data: &'a [u8], at: usize) -> Self {
        let mut feeds = Feeds { data, block: 0, left: 0 };
        feeds.seek(at);
        feeds
    }

    /// Goes on with those from `at` on.
    #[inline]
    pub(super) fn seek(&mut self, at: usize) {
        self.block = at - at % BLOCK;
        self.left = feeds_of(self.data, self.block) & (u64::MAX << (at % BLOCK));
    }

    /// The place of the next one.
    #[inline(always)]
    pub(super) fn take(&mut self) -> Option<usize> {
        while self.left == 0 {
            if self.block + BLOCK >= self.data.len() {
                return None;
            }
            self.block += BLOCK;
            self.left = feeds_of(self.data, self.block);
        }
        let at = self.block + self.left.trailing_zeros() as usize;
        self.left &= self.left - 1;
        Some(at)
    }
}

#[inline(always)]
fn feeds_of(data: &[u8], block: usize) -> u64 {
    bits(data, block, b' ', |bytes| bytes.simd_eq(u8x16::splat(b'\n')))
}

/// The bytes of the block at `from` that are no larger than a blank: blanks and the ends of lines.
#[inline(always)]
pub(super) fn blanks_of(data: &[u8], from: usize) -> u64 {
    bits(data, from, b' ', |bytes| bytes.simd_le(u8x16::splat(b' ')))
}

/// The bytes of the block at `from` that are `0`.
#[inline(always)]
pub(super) fn zeros_of(data: &[u8], from: usize) -> u64 {
    bits(data, from, b' ', |bytes| bytes.simd_eq(u8x16::splat(b'0')))
}

/// A bit for each byte of the block at `from` for which `test` holds; past the end of the data stands `filler`.
#[inline(always)]
fn bits(data: &[u8], from: usize, filler: u8, test: impl Fn(u8x16) -> u8x16) -> u64 {
    let whole: Option<[u8; BLOCK]> = data.get(from..from + BLOCK).and_then(|b| b.try_into().ok());
    let bytes = whole.unwrap_or_else(|| padded(data, from, filler));
    let mut found = 0;
    for (n, part) in bytes.chunks_exact(16).enumerate() {
        let part: [u8; 16] = part.try_into().unwrap_or([filler; 16]);
        found |= u64::from(test(u8x16::new(part)).to_bitmask()) << (16 * n);
    }
    found
}

/// The last, short block.
#[cold]
fn padded(data: &[u8], from: usize, filler: u8) -> [u8; BLOCK] {
    let mut bytes = [filler; BLOCK];
    let rest = data.get(from..).unwrap_or_default();
    for (to, byte) in bytes.iter_mut().zip(rest) {
        *to = *byte;
    }
    bytes
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_line_feed_is_found_once_from_every_place() {
        let text: Vec<u8> = (0..300_u32)
            .map(|n| if n.wrapping_mul(2_654_435_761) >> 29 == 0 { b'\n' } else { b'x' })
            .collect();
        for from in 0..=text.len() {
            let expected: Vec<usize> = (from..text.len()).filter(|n| text[*n] == b'\n').collect();
            let mut feeds = Feeds::new(&text, from);
            let found: Vec<usize> = std::iter::from_fn(|| feeds.take()).collect();
            assert_eq!(found, expected, "{from}");
        }
        assert_eq!(Feeds::new(b"", 0).take(), None);
    }
}
