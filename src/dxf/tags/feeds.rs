//! Where the line feeds of a text are. Most lines of a DXF file are three to twenty bytes long, too short for a search
//! that starts anew at each; so all line feeds of 64 bytes are found at once and taken one by one.

use wide::u8x16;

/// Bytes that are looked at together.
pub(super) const BLOCK: usize = 64;

/// The line feeds of a text from some place on, in order.
#[derive(Debug, Clone, Copy)]
pub(super) struct Feeds<'a> {
    data: &'a [u8],
    /// Where the block begins whose line feeds `left` holds.
    block: usize,
    /// The line feeds of the block that were not taken yet, a bit each, the first byte lowest.
    left: u64,
}

impl<'a> Feeds<'a> {
    /// Those of `data` from `at` on.
    #[inline]
    pub(super) fn new(data: &'a [u8], at: usize) -> Self {
        let block = at - at % BLOCK;
        let left = feeds_of(data, block) & (u64::MAX << (at % BLOCK));
        Feeds { data, block, left }
    }

    /// The text.
    pub(super) fn data(&self) -> &'a [u8] {
        self.data
    }

    /// The place of the next one.
    #[inline(always)]
    pub(super) fn take(&mut self) -> Option<usize> {
        if self.left == 0 && !self.next_block() {
            return None;
        }
        let at = self.block + self.left.trailing_zeros() as usize;
        self.left &= self.left - 1;
        Some(at)
    }

    /// Passes over the next one; whether there is one.
    #[inline(always)]
    pub(super) fn pass(&mut self) -> bool {
        if self.left == 0 && !self.next_block() {
            return false;
        }
        self.left &= self.left - 1;
        true
    }

    /// Goes on to `at`: those before it are passed over.
    #[inline(always)]
    pub(super) fn go_to(&mut self, at: usize) {
        let block = at - at % BLOCK;
        if block != self.block {
            self.block = block;
            self.left = feeds_of(self.data, block);
        }
        self.left &= u64::MAX << (at % BLOCK);
    }

    /// Goes to the next block that has any; whether there is one.
    #[inline(always)]
    fn next_block(&mut self) -> bool {
        while self.left == 0 {
            if self.block + BLOCK >= self.data.len() {
                return false;
            }
            self.block += BLOCK;
            self.left = feeds_of(self.data, self.block);
        }
        true
    }
}

#[inline(always)]
fn feeds_of(data: &[u8], block: usize) -> u64 {
    bits(data, block, |bytes| bytes.simd_eq(u8x16::splat(b'\n')))
}

/// The bytes of the block at `from` that are no larger than a blank: blanks and the ends of lines.
#[inline(always)]
pub(super) fn blanks_of(data: &[u8], from: usize) -> u64 {
    bits(data, from, |bytes| bytes.simd_le(u8x16::splat(b' ')))
}

/// The bytes of the block at `from` that are `0`.
#[inline(always)]
pub(super) fn zeros_of(data: &[u8], from: usize) -> u64 {
    bits(data, from, |bytes| bytes.simd_eq(u8x16::splat(b'0')))
}

/// A bit for each byte of the block at `from` for which `test` holds; past the end of the data stand blanks.
#[inline(always)]
fn bits(data: &[u8], from: usize, test: impl Fn(u8x16) -> u8x16) -> u64 {
    match data.get(from..).and_then(|rest| rest.first_chunk::<BLOCK>()) {
        Some(whole) => bits_of(whole, test),
        None => bits_of(&padded(data, from), test),
    }
}

#[inline(always)]
fn bits_of(block: &[u8; BLOCK], test: impl Fn(u8x16) -> u8x16) -> u64 {
    let (parts, _) = block.as_chunks::<16>();
    let mut found = 0;
    for (n, part) in parts.iter().enumerate() {
        found |= u64::from(test(u8x16::new(*part)).to_bitmask()) << (16 * n);
    }
    found
}

/// The last, short block.
#[cold]
#[inline(never)]
fn padded(data: &[u8], from: usize) -> [u8; BLOCK] {
    let mut bytes = [b' '; BLOCK];
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
