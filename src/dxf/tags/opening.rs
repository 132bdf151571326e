//! The pairs that entities of one kind open with: owner, subclass, layer, line type. From one entity to the next they are
//! most often the same bytes, so that one comparison stands for the reading of each. Knows nothing about what they mean.

use super::{Quick, Step, Tag, Tags, Walk};

/// The pairs in front of the first number of an entity, without its handle, which stands before them.
#[derive(Debug, Clone, Copy)]
pub(in crate::dxf) struct Opening<'a> {
    /// Whether a handle comes first.
    handle: bool,
    bytes: &'a [u8],
    /// Lines of a text file.
    lines: u64,
}

impl<'a, T: Tags<'a>> Walk<'a, T> {
    /// Passes over the opening of the entity that was started last if it is `known`, its handle apart, which it gives.
    #[inline(always)]
    pub(in crate::dxf) fn opens_as(&mut self, known: &Opening<'a>) -> Option<Option<u64>> {
        if self.pending.is_some() || self.done {
            return None;
        }
        let mut quick = self.tags.quick();
        let mut handle = None;
        if known.handle {
            handle = match quick.handle() {
                Some(handle) => handle,
                None => match quick.step() {
                    Step::Group(tag) if tag.code == 5 => tag.handle(),
                    _ => return None,
                },
            };
        }
        if !quick.repeats(known.bytes, known.lines) {
            return None;
        }
        self.tags.resume(quick);
        Some(handle)
    }

    /// Passes over the opening of the entity that was started last, up to its first group `until`, and gives each pair of
    /// it to `each`. None, and the place stays, where `each` answers false, or where there is anything that cannot be
    /// known again by its bytes alone.
    pub(in crate::dxf) fn opening(
        &mut self,
        until: i32,
        mut each: impl FnMut(Tag<'a>) -> bool,
    ) -> Option<Opening<'a>> {
        if self.pending.is_some() || self.done {
            return None;
        }
        let mut quick = self.tags.quick();
        let mut begin = quick;
        let mut handle = false;
        loop {
            let before = quick;
            let Step::Group(tag) = quick.step() else {
                return None;
            };
            match tag.code {
                code if code == until => {
                    self.tags.resume(before);
                    let (bytes, lines) = before.since(begin);
                    return Some(Opening { handle, bytes, lines });
                }
                5 if !handle && before.since(begin).0.is_empty() => {
                    handle = true;
                    begin = quick;
                }
                // A second handle, numbers of the entity itself, comments, and lists that are left out.
                5 | 10..=59 | 70..=99 | 101..=109 | 210..=239 | 999 => return None,
                _ => {}
            }
            if !each(tag) {
                return None;
            }
        }
    }

    /// The numbers of the next pairs if those have just these codes; then it moves past them, and past the beginning of the
    /// next entity if that follows at once.
    #[inline(always)]
    pub(in crate::dxf) fn run<const N: usize>(&mut self, codes: [i32; N]) -> Option<[f64; N]> {
        if self.pending.is_some() || self.done {
            return None;
        }
        let mut quick = self.tags.quick();
        let values = quick.run(codes)?;
        self.pending = quick.start();
        self.tags.resume(quick);
        Some(values)
    }

    /// Gives the numbers of the next pairs to `each`, and moves past them, for as long as they have just these codes, again
    /// and again, and `each` takes them.
    #[inline(always)]
    pub(in crate::dxf) fn runs<const N: usize>(
        &mut self,
        codes: [i32; N],
        mut each: impl FnMut([f64; N]) -> bool,
    ) {
        if self.pending.is_some() || self.done {
            return;
        }
        let mut quick = self.tags.quick();
        loop {
            let before = quick;
            if !quick.run(codes).is_some_and(&mut each) {
                self.tags.resume(before);
                return;
            }
        }
    }
}

/// Whether `data` begins with these few bytes. In steps of 16, because a call takes longer than the comparison.
#[inline(always)]
pub(super) fn begins_with(data: &[u8], bytes: &[u8]) -> bool {
    let (Some(data), (parts, rest)) = (data.get(..bytes.len()), bytes.as_chunks::<16>()) else {
        return false;
    };
    let (same, last) = data.as_chunks::<16>();
    match (data.last_chunk::<16>(), bytes.last_chunk::<16>()) {
        (Some(a), Some(b)) => a == b && same.iter().zip(parts).all(|(a, b)| a == b),
        _ => last == rest,
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_byte_of_a_beginning_counts() {
        let data: Vec<u8> = (0..80).collect();
        for length in 0..=70 {
            let mut bytes = data[..length].to_vec();
            assert!(begins_with(&data, &bytes) && begins_with(&bytes, &bytes), "{length}");
            for n in 0..length {
                bytes[n] ^= 1;
                assert!(!begins_with(&data, &bytes), "{length} {n}");
                bytes[n] ^= 1;
                assert!(!begins_with(&data[..n], &bytes), "{length} {n}");
            }
        }
    }
}
