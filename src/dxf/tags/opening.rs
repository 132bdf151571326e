//! The pairs that entities of one kind open with: owner, subclass, layer, line type. From one entity to the next they are
//! most often the same bytes, so that one comparison stands for the reading of each. Knows nothing about what they mean.

use super::{Quick, Start, Step, Tag, Tags, Walk};

/// The pairs that an entity opens with, without its handle, which stands before them.
#[derive(Debug, Clone, Copy)]
pub(in crate::dxf) struct Opening<'a> {
    /// Whether a handle comes first.
    handle: bool,
    bytes: &'a [u8],
    /// Lines of a text file.
    lines: u64,
}

impl<'a> Opening<'a> {
    /// Passes over this opening where the next pairs are the same but for the handle, which it gives.
    #[inline(always)]
    fn pass(&self, quick: &mut impl Quick<'a>) -> Option<Option<u64>> {
        let mut handle = None;
        if self.handle {
            handle = match quick.handle() {
                Some(handle) => handle,
                None => match quick.step() {
                    Step::Group(tag) if tag.code == 5 => tag.handle(),
                    _ => return None,
                },
            };
        }
        quick.repeats(self.bytes, self.lines).then_some(handle)
    }
}

impl<'a, T: Tags<'a>> Walk<'a, T> {
    /// Passes over the opening of the entity that was started last if it is `known`, its handle apart, which it gives.
    #[inline(always)]
    pub(in crate::dxf) fn opens_as(&mut self, known: &Opening<'a>) -> Option<Option<u64>> {
        if self.pending.is_some() || self.done {
            return None;
        }
        let mut quick = self.tags.quick();
        let handle = known.pass(&mut quick)?;
        self.tags.resume(quick);
        Some(handle)
    }

    /// Whether the entity that was started last opens so.
    pub(in crate::dxf) fn is_opened_as(&self, known: &Opening<'a>) -> bool {
        self.pending.is_none() && !self.done && known.pass(&mut self.tags.quick()).is_some()
    }

    /// Gives each entity to `each`, with its handle and numbers, from `start` on, which was started last, for as long as they
    /// are of this name, have a known opening, then just these numbers and nothing more, and `each` takes them. Whether any
    /// was taken; the one after them is started next. If none was, all is as before.
    #[inline(always)]
    pub(in crate::dxf) fn alike<const L: usize, const N: usize>(
        &mut self,
        mut start: Start<'a>,
        name: &[u8; L],
        known: &Opening<'a>,
        codes: [i32; N],
        mut each: impl FnMut(Start<'a>, Option<u64>, [f64; N]) -> bool,
    ) -> bool {
        if self.pending.is_some() || self.done {
            return false;
        }
        let first = start.offset;
        let mut quick = self.tags.quick();
        while start.name == name {
            let mut ahead = quick;
            let Some(handle) = known.pass(&mut ahead) else { break };
            let Some(numbers) = ahead.run(codes) else { break };
            let Some(next) = ahead.start() else { break };
            if !each(start, handle, numbers) {
                break;
            }
            (start, quick) = (next, ahead);
        }
        let any = start.offset != first;
        if any {
            self.pending = Some(start);
            self.tags.resume(quick);
        }
        any
    }

    /// Passes over the opening of the entity that was started last: its handle, and all pairs behind it that `each` takes.
    /// None, and the place stays, where there is anything that cannot be known again by its bytes alone.
    pub(in crate::dxf) fn opening(&mut self, mut each: impl FnMut(Tag<'a>) -> bool) -> Option<Opening<'a>> {
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
            let first = !handle && before.since(begin).0.is_empty();
            if tag.code == 5 && first && each(tag) {
                handle = true;
                begin = quick;
            } else if tag.code == 5 || !each(tag) {
                self.tags.resume(before);
                let (bytes, lines) = before.since(begin);
                return Some(Opening { handle, bytes, lines });
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

/// Whether `data` begins with these few bytes. In steps of 16 or 8, because a call takes longer than the comparison.
#[inline(always)]
pub(super) fn begins_with(data: &[u8], bytes: &[u8]) -> bool {
    let Some(data) = data.get(..bytes.len()) else {
        return false;
    };
    if let (Some(a), Some(b)) = (data.last_chunk::<16>(), bytes.last_chunk::<16>()) {
        let (same, parts) = (data.as_chunks::<16>().0, bytes.as_chunks::<16>().0);
        return a == b && same.iter().zip(parts).all(|(a, b)| a == b);
    }
    if let (Some(a), Some(b)) = (data.last_chunk::<8>(), bytes.last_chunk::<8>()) {
        return a == b && data.first_chunk::<8>() == bytes.first_chunk::<8>();
    }
    data.iter().zip(bytes).all(|(a, b)| a == b)
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
