//! One pair of a DXF file, its value as text, number or handle, and why it is none of these. Looks at no other pair.

use super::number;
use crate::drawing::Problem;

/// Why an entity cannot be read as it stands: the place of the bad value and what was expected.
#[derive(Debug, Clone, PartialEq)]
pub(in crate::dxf) struct Fault {
    /// 1-based line, 0 in a binary file.
    pub(in crate::dxf) line: u64,
    /// 0-based byte offset.
    pub(in crate::dxf) offset: u64,
    /// What was found and what was expected.
    pub(in crate::dxf) message: String,
}

impl Fault {
    /// The problem that this fault is, with something lost by it.
    pub(in crate::dxf) fn loss(self) -> Problem {
        Problem { line: self.line, offset: self.offset, message: self.message, loss: true }
    }
}

/// The value of a pair: bytes of a text file, or what a binary file holds.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(in crate::dxf) enum Value<'a> {
    /// Text, not decoded; in a text file every value is one.
    Text(Text<'a>),
    /// A binary real.
    Real(f64),
    /// A binary integer.
    Int(i64),
    /// A binary chunk, never needed.
    Chunk,
}

/// A text where it stands. What stands before it is at hand, so that a short number can be taken from the file in one
/// piece of a fixed size, without a look at its length.
#[derive(Debug, Clone, Copy)]
pub(in crate::dxf) struct Text<'a> {
    /// The file, or some of it, up to the end of the text.
    pub(super) upto: &'a [u8],
    /// Where in `upto` the text begins.
    pub(super) from: usize,
}

impl<'a> Text<'a> {
    /// The text that `bytes` are.
    #[inline(always)]
    pub(super) fn of(bytes: &'a [u8]) -> Self {
        Text { upto: bytes, from: 0 }
    }

    /// Its bytes.
    #[inline(always)]
    pub(super) fn bytes(self) -> &'a [u8] {
        self.upto.get(self.from..).unwrap_or_default()
    }
}

impl PartialEq for Text<'_> {
    fn eq(&self, other: &Self) -> bool {
        self.bytes() == other.bytes()
    }
}

impl Value<'_> {
    /// It as a finite number.
    #[inline(always)]
    pub(in crate::dxf) fn real(self) -> Option<f64> {
        match self {
            Value::Text(text) => number::real(text.upto, text.from),
            Value::Real(v) => number::believed(v),
            Value::Int(v) => Some(v as f64),
            Value::Chunk => None,
        }
    }
}

/// One pair.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(in crate::dxf) struct Tag<'a> {
    /// Group code.
    pub(in crate::dxf) code: i32,
    /// 1-based line of the value, 0 in a binary file.
    pub(in crate::dxf) line: u64,
    /// Byte offset of the value.
    pub(in crate::dxf) offset: usize,
    /// Value.
    pub(in crate::dxf) value: Value<'a>,
}

// All of these take the pair by value: one that has an address is written to memory, and most pairs are looked at only.
impl<'a> Tag<'a> {
    /// The value as undecoded text; empty for a binary number.
    #[inline(always)]
    pub(in crate::dxf) fn text(self) -> &'a [u8] {
        match self.value {
            Value::Text(text) => text.bytes(),
            _ => b"",
        }
    }

    /// The value as text without the blanks around it, as names are compared.
    #[inline(always)]
    pub(in crate::dxf) fn name(self) -> &'a [u8] {
        match self.text() {
            [] => b"",
            name @ [first, ..] if *first > b' ' && name.last().is_some_and(|last| *last > b' ') => name,
            padded => padded.trim_ascii(),
        }
    }

    /// The value as a finite number.
    #[inline(always)]
    pub(in crate::dxf) fn real(self) -> Result<f64, Fault> {
        self.value.real().ok_or_else(|| self.fault("a number"))
    }

    /// The value as a whole number.
    #[inline(always)]
    pub(in crate::dxf) fn int(self) -> Result<i64, Fault> {
        let parsed = match self.value {
            Value::Text(text) => number::int(text.bytes()),
            Value::Int(v) => Some(v),
            Value::Real(v) => number::whole(v),
            Value::Chunk => None,
        };
        parsed.ok_or_else(|| self.fault("a whole number"))
    }

    /// The value as a handle; none if it is none.
    #[inline(always)]
    pub(in crate::dxf) fn handle(self) -> Option<u64> {
        match self.value {
            Value::Text(text) => number::handle(text.bytes()),
            Value::Int(v) => u64::try_from(v).ok(),
            _ => None,
        }
    }

    /// The fault of this value not being what was `expected`.
    #[inline(always)]
    pub(in crate::dxf) fn fault(self, expected: &str) -> Fault {
        match self.value {
            Value::Text(text) => fault_of_text(self.code, (self.line, self.offset), text.bytes(), expected),
            Value::Real(v) => fault(self.code, (self.line, self.offset), &v.to_string(), expected),
            Value::Int(v) => fault(self.code, (self.line, self.offset), &v.to_string(), expected),
            Value::Chunk => fault(self.code, (self.line, self.offset), "binary data", expected),
        }
    }
}

#[cold]
fn fault_of_text(code: i32, place: (u64, usize), text: &[u8], expected: &str) -> Fault {
    if text.trim_ascii().is_empty() {
        return fault(code, place, "nothing", expected);
    }
    fault(code, place, &format!("“{}”", excerpt(text)), expected)
}

#[cold]
fn fault(code: i32, (line, offset): (u64, usize), found: &str, expected: &str) -> Fault {
    Fault { line, offset: offset as u64, message: format!("group {code} holds {found}, expected {expected}") }
}

/// Whether the value of a pair of code 0 can open an entity. A number cannot: then it is the "0" that was a value, and
/// the pairs are out of step.
#[inline(always)]
pub(super) fn opens_entity(value: &[u8]) -> bool {
    matches!(value, [b'A'..=b'Z', ..]) || opens_oddly(value)
}

/// Whether a value can open an entity and is its name without a blank.
#[inline(always)]
pub(super) fn is_usual_name(value: &[u8]) -> bool {
    matches!(value, [b'A'..=b'Z', ..]) && value.last().is_some_and(|last| *last > b' ')
}

fn opens_oddly(value: &[u8]) -> bool {
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
pub(in crate::dxf) fn excerpt(bytes: &[u8]) -> String {
    const SHOWN: usize = 40;
    let cut = &bytes[..bytes.len().min(SHOWN)];
    let text: String = String::from_utf8_lossy(cut.trim_ascii())
        .chars()
        .map(|c| if c.is_control() { '·' } else { c })
        .collect();
    if bytes.len() > SHOWN { text + "…" } else { text }
}
