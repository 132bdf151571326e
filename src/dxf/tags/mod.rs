//! Group code and value pairs, the atoms of a DXF file, from text and binary files alike, and the walk over them
//! from one entity to the next. Knows nothing about what a group means.

mod binary;
mod feeds;
mod number;
mod text;
mod zero;

pub(super) use binary::{BinaryTags, SIGNATURE, wide_codes};
pub(super) use text::TextTags;

use super::problems::Problems;
use crate::drawing::Problem;

/// Why an entity cannot be read as it stands: the place of the bad value and what was expected.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Fault {
    /// 1-based line, 0 in a binary file.
    pub(super) line: u64,
    /// 0-based byte offset.
    pub(super) offset: u64,
    /// What was found and what was expected.
    pub(super) message: String,
}

impl Fault {
    /// The problem that this fault is, with something lost by it.
    pub(super) fn loss(self) -> Problem {
        Problem { line: self.line, offset: self.offset, message: self.message, loss: true }
    }
}

/// The value of a pair: bytes of a text file, or what a binary file holds.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) enum Value<'a> {
    /// Text, not decoded; in a text file every value is one.
    Text(&'a [u8]),
    /// A binary real.
    Real(f64),
    /// A binary integer.
    Int(i64),
    /// A binary chunk, never needed.
    Chunk,
}

impl Value<'_> {
    /// It as a finite number.
    #[inline(always)]
    pub(super) fn real(self) -> Option<f64> {
        match self {
            Value::Text(bytes) => number::real(bytes),
            Value::Real(v) => number::believed(v),
            Value::Int(v) => Some(v as f64),
            Value::Chunk => None,
        }
    }
}

/// One pair.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Tag<'a> {
    /// Group code.
    pub(super) code: i32,
    /// 1-based line of the value, 0 in a binary file.
    pub(super) line: u64,
    /// Byte offset of the value.
    pub(super) offset: usize,
    /// Value.
    pub(super) value: Value<'a>,
}

impl<'a> Tag<'a> {
    /// The value as undecoded text; empty for a binary number.
    pub(super) fn text(&self) -> &'a [u8] {
        match self.value {
            Value::Text(bytes) => bytes,
            _ => b"",
        }
    }

    /// The value as text without the blanks around it, as names are compared.
    pub(super) fn name(&self) -> &'a [u8] {
        self.text().trim_ascii()
    }

    /// The value as a finite number.
    #[inline(always)]
    pub(super) fn real(&self) -> Result<f64, Fault> {
        self.value.real().ok_or_else(|| self.fault("a number"))
    }

    /// The value as a whole number.
    pub(super) fn int(&self) -> Result<i64, Fault> {
        let parsed = match self.value {
            Value::Text(bytes) => number::int(bytes),
            Value::Int(v) => Some(v),
            Value::Real(v) => number::whole(v),
            Value::Chunk => None,
        };
        parsed.ok_or_else(|| self.fault("a whole number"))
    }

    /// The value as a handle; none if it is none.
    pub(super) fn handle(&self) -> Option<u64> {
        match self.value {
            Value::Text(bytes) => number::handle(bytes),
            Value::Int(v) => u64::try_from(v).ok(),
            _ => None,
        }
    }

    /// The fault of this value not being what was `expected`.
    #[cold]
    pub(super) fn fault(&self, expected: &str) -> Fault {
        let found = match self.value {
            Value::Text(bytes) if bytes.trim_ascii().is_empty() => "nothing".to_owned(),
            Value::Text(bytes) => format!("“{}”", excerpt(bytes)),
            Value::Real(v) => v.to_string(),
            Value::Int(v) => v.to_string(),
            Value::Chunk => "binary data".to_owned(),
        };
        Fault {
            line: self.line,
            offset: self.offset as u64,
            message: format!("group {} holds {found}, expected {expected}", self.code),
        }
    }
}

/// Whether the value of a pair of code 0 can open an entity. A number cannot: then it is the "0" that was a value, and
/// the pairs are out of step.
#[inline]
fn opens_entity(value: &[u8]) -> bool {
    match value.trim_ascii() {
        // 3DFACE, 3DSOLID
        [digit, letter, next, ..] if digit.is_ascii_digit() => {
            letter.is_ascii_alphabetic() && next.is_ascii_alphabetic()
        }
        [first, ..] => first.is_ascii_alphabetic() || matches!(first, b'_' | b'*' | 0x80..),
        [] => false,
    }
}

/// The first bytes of a value as they can be shown in a message.
pub(super) fn excerpt(bytes: &[u8]) -> String {
    const SHOWN: usize = 40;
    let cut = &bytes[..bytes.len().min(SHOWN)];
    let text: String = String::from_utf8_lossy(cut.trim_ascii())
        .chars()
        .map(|c| if c.is_control() { '·' } else { c })
        .collect();
    if bytes.len() > SHOWN { text + "…" } else { text }
}

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
                    self.pending = Some(start_of(&tag));
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

    /// Gives each pair of the entity that was started last to `each`, until that answers false. The same as
    /// [`Self::group`] in a loop, and much faster.
    ///
    /// # Errors
    /// The first fault that `each` finds; the rest of the entity is left as it is.
    #[inline(always)]
    pub(super) fn groups(
        &mut self,
        mut each: impl FnMut(&Tag<'a>) -> Result<bool, Fault>,
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
                    self.pending = Some(start_of(&tag));
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
                    tag
                }
            };
            match each(&tag) {
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
        match self.tags.skip_to_start() {
            Some(tag) => Some(start_of(&tag)),
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
                    self.pending = Some(start_of(&tag));
                    return false;
                }
                102 if tag.name().starts_with(b"}") => return true,
                _ => {}
            }
        }
    }
}

fn start_of<'a>(tag: &Tag<'a>) -> Start<'a> {
    Start { name: tag.name(), line: tag.line.saturating_sub(1), offset: tag.offset as u64 }
}
