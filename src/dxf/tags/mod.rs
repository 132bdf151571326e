//! Group code and value pairs, the atoms of a DXF file, from text and binary files alike, and the walk over them
//! from one entity to the next. Knows nothing about what a group means.

mod binary;
mod codes;
mod feeds;
mod number;
mod opening;
mod quick_text;
mod tag;
mod text;
mod zero;

pub(super) use binary::{BinaryTags, SIGNATURE, wide_codes};
pub(super) use opening::Opening;
pub(super) use tag::{Fault, Tag, Value, excerpt};
pub(super) use text::TextTags;

use super::problems::Problems;
use tag::{Text, is_usual_name, opens_entity};

/// What a quick look at the next pair finds.
pub(super) enum Step<'a> {
    /// A pair of another code than 0.
    Group(Tag<'a>),
    /// The pair that opens the next entity.
    Start(Tag<'a>),
    /// Something that needs a closer look; the place has not moved.
    Odd,
}

/// A place among pairs that steps over what is as it should be, and leaves everything else to its [`Tags`]. So small that
/// a loop keeps it in registers.
pub(super) trait Quick<'a>: Copy {
    /// The next pair.
    fn step(&mut self) -> Step<'a>;

    /// The numbers of the next pairs if those have just these codes, one after the other, and all are as they usually are;
    /// then it moves past them.
    fn run<const N: usize>(&mut self, codes: [i32; N]) -> Option<[f64; N]>;

    /// The value of the next pair if that is a handle, written as it usually is; then it moves past it.
    fn handle(&mut self) -> Option<Option<u64>>;

    /// The next pair if it opens an entity and is written as it usually is; then it moves past it.
    fn start(&mut self) -> Option<Start<'a>>;

    /// Whether the next pairs are these bytes, of so many lines; then it moves past them.
    fn repeats(&mut self, bytes: &[u8], lines: u64) -> bool;

    /// The bytes from `begin` up to this place, and their lines.
    fn since(self, begin: Self) -> (&'a [u8], u64);

    /// A pair of the same file as one of [`Quick::step`]: its value of a kind that such a pair can have, so that a loop over
    /// pairs is made for that kind alone.
    fn like_step(tag: Tag<'a>) -> Tag<'a>;
}

/// A source of pairs.
pub(super) trait Tags<'a> {
    /// Its quick place.
    type Quick: Quick<'a>;

    /// The quick place where it stands.
    fn quick(&self) -> Self::Quick;

    /// Goes to where a quick place has come.
    fn resume(&mut self, quick: Self::Quick);

    /// The next pair; none at the end of the file or where nothing more can be understood.
    fn next(&mut self) -> Option<Tag<'a>>;

    /// The first pair of code 0 from here on, everything before it left out unread.
    fn skip_to_start(&mut self) -> Option<Tag<'a>>;

    /// Bytes of the whole file.
    fn size(&self) -> usize;

    /// Goes back to a [`Tags::place`].
    fn go_to(&mut self, place: (u64, usize));

    /// Place of the pair that comes next: line of its group code, byte offset.
    fn place(&self) -> (u64, usize);

    /// Whether the bytes stopped in the middle of a pair.
    fn cut_inside_pair(&self) -> bool;

    /// What was wrong with the pairs themselves so far; clears the list.
    fn take_problems(&mut self) -> Problems;
}

/// A source of pairs that is walked from one entity (or table entry, section mark …) to the next.
pub(super) struct Walk<'a, T> {
    tags: T,
    pending: Option<Start<'a>>,
    done: bool,
}

/// The pair of code 0 that opens an entity.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Start<'a> {
    /// Name as written.
    pub(super) name: &'a [u8],
    /// 1-based line of the group code, 0 in a binary file.
    pub(super) line: u64,
    /// Byte offset of its value.
    pub(super) offset: u64,
}

impl Start<'_> {
    /// Whether the entity states each of these groups; one that it does not state is NaN, which none can state.
    ///
    /// # Errors
    /// The fault of the first that it lacks.
    #[inline]
    pub(super) fn needs<const N: usize>(&self, groups: [(usize, f64); N]) -> Result<(), Fault> {
        match groups.iter().find(|(_, value)| value.is_nan()) {
            Some((code, _)) => Err(self.lacks(*code)),
            None => Ok(()),
        }
    }

    /// The fault of the entity lacking a number that it needs.
    #[cold]
    pub(super) fn lacks(&self, code: usize) -> Fault {
        Fault {
            line: self.line,
            offset: self.offset,
            message: format!("group {code} is missing, expected a number"),
        }
    }
}

/// A place of a walk.
#[derive(Debug, Clone, Copy)]
pub(super) struct Mark<'a> {
    place: (u64, usize),
    pending: Option<Start<'a>>,
    done: bool,
}

impl<'a, T: Tags<'a>> Walk<'a, T> {
    /// Bytes of the whole file.
    pub(super) fn size(&self) -> usize {
        self.tags.size()
    }

    pub(super) fn new(tags: T) -> Self {
        Walk { tags, pending: None, done: false }
    }

    /// The next pair of the entity that was started last; none at its end. Comments and the bracketed lists of
    /// code 102 (reactors, dictionaries) are left out.
    #[inline(always)]
    pub(super) fn group(&mut self) -> Option<Tag<'a>> {
        if self.pending.is_some() || self.done {
            return None;
        }
        loop {
            let Some(tag) = self.tags.next() else {
                self.done = true;
                return None;
            };
            match tag.code {
                0 => {
                    self.pending = Some(start_of(tag));
                    return None;
                }
                999 => {}
                102 if tag.name().starts_with(b"{") => {
                    if !self.skip_bracket() {
                        return None;
                    }
                }
                _ => return Some(tag),
            }
        }
    }

    /// Gives each pair of the entity that was started last to `each`, until that answers false, with the place behind it, at
    /// which `each` may take numbers that follow as a run. The same as [`Self::group`] in a loop, and much faster.
    ///
    /// # Errors
    /// The first fault that `each` finds; the rest of the entity is left as it is.
    #[inline(always)]
    pub(super) fn groups(
        &mut self,
        mut each: impl FnMut(Tag<'a>, &mut T::Quick) -> Result<bool, Fault>,
    ) -> Result<(), Fault> {
        if self.pending.is_some() || self.done {
            return Ok(());
        }
        let mut quick = self.tags.quick();
        loop {
            let tag = match quick.step() {
                Step::Group(tag) if tag.code != 999 && tag.code != 102 => tag,
                Step::Start(tag) => {
                    self.tags.resume(quick);
                    self.pending = Some(start_of(tag));
                    return Ok(());
                }
                Step::Group(tag) => {
                    self.tags.resume(quick);
                    let opens = tag.code == 102 && tag.name().starts_with(b"{");
                    if opens && !self.skip_bracket() {
                        return Ok(());
                    }
                    quick = self.tags.quick();
                    if tag.code == 999 || opens {
                        continue;
                    }
                    tag
                }
                Step::Odd => {
                    self.tags.resume(quick);
                    let Some(tag) = self.group() else {
                        return Ok(());
                    };
                    quick = self.tags.quick();
                    T::Quick::like_step(tag)
                }
            };
            match each(tag, &mut quick) {
                Ok(true) => {}
                done => {
                    self.tags.resume(quick);
                    return done.map(|_| ());
                }
            }
        }
    }

    /// The next entity; what is left of the last one is passed over.
    pub(super) fn start(&mut self) -> Option<Start<'a>> {
        if let Some(start) = self.pending.take() {
            return Some(start);
        }
        if self.done {
            return None;
        }
        let mut quick = self.tags.quick();
        if let Some(start) = quick.start() {
            self.tags.resume(quick);
            return Some(start);
        }
        match self.tags.skip_to_start() {
            Some(tag) => Some(start_of(tag)),
            None => {
                self.done = true;
                None
            }
        }
    }

    /// Gives `start` back, to be met again.
    pub(super) fn put_back(&mut self, start: Start<'a>) {
        self.pending = Some(start);
    }

    /// Where the walk stands, to come back to.
    pub(super) fn mark(&self) -> Mark<'a> {
        Mark { place: self.tags.place(), pending: self.pending, done: self.done }
    }

    /// Goes to a mark.
    pub(super) fn return_to(&mut self, mark: Mark<'a>) {
        self.tags.go_to(mark.place);
        (self.pending, self.done) = (mark.pending, mark.done);
    }

    /// Whether the bytes are used up.
    pub(super) fn ended(&self) -> bool {
        self.done && self.pending.is_none()
    }

    /// Whether they stopped in the middle of a pair.
    pub(super) fn cut_inside_pair(&self) -> bool {
        self.tags.cut_inside_pair()
    }

    /// Line and offset where reading stands.
    pub(super) fn place(&self) -> (u64, usize) {
        self.tags.place()
    }

    pub(super) fn take_problems(&mut self) -> Problems {
        self.tags.take_problems()
    }

    /// Passes over a bracketed list; false if the entity ended in it.
    fn skip_bracket(&mut self) -> bool {
        loop {
            let Some(tag) = self.tags.next() else {
                self.done = true;
                return false;
            };
            match tag.code {
                0 => {
                    self.pending = Some(start_of(tag));
                    return false;
                }
                102 if tag.name().starts_with(b"}") => return true,
                _ => {}
            }
        }
    }
}

#[inline(always)]
fn start_of(tag: Tag<'_>) -> Start<'_> {
    Start { name: tag.name(), line: tag.line.saturating_sub(1), offset: tag.offset as u64 }
}
