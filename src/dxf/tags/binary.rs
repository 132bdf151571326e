//! Pairs of a binary file. R10 to R12 write the group code in one byte (255 announces two), later versions in two.
//! A file that is cut or corrupt ends the pairs with a problem, because nothing after it can be found again.

use memchr::memchr;
use wide::u8x16;

use super::number;
use super::opening::begins_with;
use super::{Quick, Start, Step, Tag, Tags, Text, Value, is_usual_name, opens_entity};
use crate::dxf::problems::Problems;

/// The first bytes of every binary DXF file.
pub(in crate::dxf) const SIGNATURE: &[u8; 22] = b"AutoCAD Binary DXF\r\n\x1a\0";

/// A place in a binary file whose group codes have `W` bytes, 1 or 2.
#[derive(Debug, Clone, Copy)]
pub(in crate::dxf) struct Place<'a, const W: usize> {
    data: &'a [u8],
    pos: usize,
}

/// The pairs of a binary file whose group codes have `W` bytes, 1 or 2.
pub(in crate::dxf) struct BinaryTags<'a, const W: usize> {
    at: Place<'a, W>,
    cut: bool,
    problems: Problems,
}

impl<'a, const W: usize> BinaryTags<'a, W> {
    /// Walks `data`, which begins with [`SIGNATURE`].
    pub(in crate::dxf) fn new(data: &'a [u8]) -> Self {
        let at = Place { data, pos: SIGNATURE.len() };
        BinaryTags { at, cut: false, problems: Problems::default() }
    }

    /// Ends the pairs where no step leads on, and says why, unless it is the end of the file.
    #[cold]
    fn stop(&mut self) -> Option<Tag<'a>> {
        let from = self.at.pos;
        if from >= self.at.data.len() {
            return None;
        }
        let data = self.at.data;
        let message = match code_at::<W>(data, from) {
            None => "the file ends inside a group code".to_owned(),
            Some((code, _)) if !is_known(code) => {
                format!("group code {code} is none of DXF: the file is damaged from here on")
            }
            Some((code, pos)) => match value_at(data, pos, code) {
                None => format!("the file ends inside the value of group {code}"),
                Some(_) => "group 0 holds no name: the file is damaged from here on".to_owned(),
            },
        };
        self.cut = true;
        self.problems.add(0, from as u64, message, true);
        self.at.pos = self.at.data.len();
        None
    }
}

impl<'a, const W: usize> Quick<'a> for Place<'a, W> {
    // All steps work on plain numbers, not on a place: what has no address stays in registers.
    #[inline(always)]
    fn step(&mut self) -> Step<'a> {
        let Some((code, offset)) = code_at::<W>(self.data, self.pos) else {
            return Step::Odd;
        };
        let Some((value, end)) = value_at(self.data, offset, code) else {
            return Step::Odd;
        };
        let tag = Tag { code, line: 0, offset, value };
        if code == 0 {
            if !matches!(value, Value::Text(name) if opens_entity(name.bytes())) {
                return Step::Odd;
            }
            self.pos = end;
            return Step::Start(tag);
        }
        if !(1..=79).contains(&code) && !is_known(code) {
            return Step::Odd;
        }
        self.pos = end;
        Step::Group(tag)
    }

    #[inline(always)]
    fn run<const N: usize>(&mut self, codes: [i32; N]) -> Option<[f64; N]> {
        let (values, pos) = numbers::<W, N>(self.data, self.pos, codes)?;
        self.pos = pos;
        Some(values)
    }

    #[inline(always)]
    fn handle(&mut self) -> Option<Option<u64>> {
        let (5, offset) = code_at::<W>(self.data, self.pos)? else {
            return None;
        };
        let text = text_at(self.data, offset)?;
        self.pos = offset + text.len() + 1;
        Some(number::handle(text))
    }

    #[inline(always)]
    fn start(&mut self) -> Option<Start<'a>> {
        let (0, offset) = code_at::<W>(self.data, self.pos)? else {
            return None;
        };
        let name = text_at(self.data, offset)?;
        if !is_usual_name(name) {
            return None;
        }
        self.pos = offset + name.len() + 1;
        Some(Start { name, line: 0, offset: offset as u64 })
    }

    #[inline(always)]
    fn repeats(&mut self, bytes: &[u8], _: u64) -> bool {
        let same = begins_with(self.data.get(self.pos..).unwrap_or_default(), bytes);
        if same {
            self.pos += bytes.len();
        }
        same
    }

    fn since(self, begin: Self) -> (&'a [u8], u64) {
        (self.data.get(begin.pos..self.pos).unwrap_or_default(), 0)
    }

    #[inline(always)]
    fn like_step(tag: Tag<'a>) -> Tag<'a> {
        tag
    }
}

/// The numbers of the pairs from `pos` on if those have just these codes; and where the next pair begins.
#[inline(always)]
fn numbers<const W: usize, const N: usize>(
    data: &[u8],
    pos: usize,
    codes: [i32; N],
) -> Option<([f64; N], usize)> {
    // Looked up once for all pairs, so that each of them stands at a fixed place.
    let end = pos + N * (W + 8);
    let mut rest = data.get(pos..end)?;
    let mut values = [0.0; N];
    for (value, wanted) in values.iter_mut().zip(codes) {
        let (code, from_value) = rest.split_first_chunk::<W>()?;
        let (real, from_next) = from_value.split_first_chunk::<8>()?;
        if !(wanted as u16).to_le_bytes().starts_with(code) {
            return None;
        }
        *value = number::believed(f64::from_le_bytes(*real))?;
        rest = from_next;
    }
    Some((values, end))
}

/// Whether a code can stand in a DXF file; another one shows that the pairs are out of step for good.
fn is_known(code: i32) -> bool {
    matches!(code, -5..=481 | 999..=1071)
}

/// Whether the group codes of a binary file have two bytes.
pub(in crate::dxf) fn wide_codes(data: &[u8]) -> bool {
    // The first pair is code 0 with a name: a second zero byte belongs to a code of two bytes.
    let start = SIGNATURE.len();
    match data.get(start) {
        Some(0) => data.get(start + 1) == Some(&0),
        // A comment (999) may come first: FF E7 03 in one-byte files, E7 03 in later ones.
        Some(0xFF) => false,
        _ => true,
    }
}

#[inline(always)]
fn bytes_at<const N: usize>(data: &[u8], pos: usize) -> Option<[u8; N]> {
    data.get(pos..)?.first_chunk::<N>().copied()
}

/// The group code of `W` bytes at `pos`, and where its value begins.
#[inline(always)]
fn code_at<const W: usize>(data: &[u8], pos: usize) -> Option<(i32, usize)> {
    if W == 2 {
        return Some((i32::from(i16::from_le_bytes(bytes_at(data, pos)?)), pos + 2));
    }
    match *data.get(pos)? {
        255 => Some((i32::from(i16::from_le_bytes(bytes_at(data, pos + 1)?)), pos + 3)),
        code => Some((i32::from(code), pos + 1)),
    }
}

/// The value at `pos` of a pair of this code, and where the next pair begins; the commonest kinds first.
#[inline(always)]
fn value_at(data: &[u8], pos: usize, code: i32) -> Option<(Value<'_>, usize)> {
    match code {
        10..=59 => Some((Value::Real(f64::from_le_bytes(bytes_at(data, pos)?)), pos + 8)),
        0..=9 | 100..=105 | 320..=369 => {
            let text = text_at(data, pos)?;
            Some((Value::Text(Text::of(text)), pos + text.len() + 1))
        }
        60..=79 => Some((Value::Int(i64::from(i16::from_le_bytes(bytes_at(data, pos)?))), pos + 2)),
        _ => rare_at(data, pos, code),
    }
}

fn rare_at(data: &[u8], pos: usize, code: i32) -> Option<(Value<'_>, usize)> {
    Some(match code {
        110..=149 | 210..=239 | 460..=469 | 1010..=1059 => {
            (Value::Real(f64::from_le_bytes(bytes_at(data, pos)?)), pos + 8)
        }
        170..=179 | 270..=289 | 370..=389 | 400..=409 | 1060..=1070 => {
            (Value::Int(i64::from(i16::from_le_bytes(bytes_at(data, pos)?))), pos + 2)
        }
        90..=99 | 420..=429 | 440..=459 | 1071 => {
            (Value::Int(i64::from(i32::from_le_bytes(bytes_at(data, pos)?))), pos + 4)
        }
        160..=169 => (Value::Int(i64::from_le_bytes(bytes_at(data, pos)?)), pos + 8),
        290..=299 => (Value::Int(i64::from(*data.get(pos)?)), pos + 1),
        310..=319 | 1004 => {
            let end = pos + 1 + usize::from(*data.get(pos)?);
            data.get(pos..end)?;
            (Value::Chunk, end)
        }
        _ => {
            let text = text_at(data, pos)?;
            (Value::Text(Text::of(text)), pos + text.len() + 1)
        }
    })
}

/// The text at `pos`, up to its zero byte. Names and handles are too short for a call of a search to pay.
#[inline(always)]
fn text_at(data: &[u8], pos: usize) -> Option<&[u8]> {
    let rest = data.get(pos..)?;
    if let Some(sixteen) = rest.first_chunk::<16>() {
        let ends = u8x16::new(*sixteen).simd_eq(u8x16::ZERO).to_bitmask();
        if ends != 0 {
            return Some(&sixteen[..ends.trailing_zeros() as usize]);
        }
    }
    rest.get(..memchr(0, rest)?)
}

impl<'a, const W: usize> Tags<'a> for BinaryTags<'a, W> {
    type Quick = Place<'a, W>;

    fn quick(&self) -> Place<'a, W> {
        self.at
    }

    fn resume(&mut self, quick: Place<'a, W>) {
        self.at = quick;
    }

    fn next(&mut self) -> Option<Tag<'a>> {
        match self.at.step() {
            Step::Group(tag) | Step::Start(tag) => Some(tag),
            Step::Odd => self.stop(),
        }
    }

    fn skip_to_start(&mut self) -> Option<Tag<'a>> {
        let mut place = self.at;
        let found = loop {
            match place.step() {
                Step::Group(_) => {}
                Step::Start(tag) => break Some(tag),
                Step::Odd => break None,
            }
        };
        self.at = place;
        found.or_else(|| self.next())
    }

    fn size(&self) -> usize {
        self.at.data.len()
    }

    fn go_to(&mut self, (_, pos): (u64, usize)) {
        self.at.pos = pos;
    }

    fn place(&self) -> (u64, usize) {
        (0, self.at.pos)
    }

    fn cut_inside_pair(&self) -> bool {
        self.cut
    }

    fn take_problems(&mut self) -> Problems {
        std::mem::take(&mut self.problems)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn file(parts: &[&[u8]]) -> Vec<u8> {
        let mut bytes = SIGNATURE.to_vec();
        for part in parts {
            bytes.extend_from_slice(part);
        }
        bytes
    }

    #[test]
    fn one_and_two_byte_codes_are_told_apart() {
        let radius = 2.5_f64.to_le_bytes();
        let one = file(&[b"\0CIRCLE\0", b"\x28", &radius, b"\xff\xe7\x03note\0"]);
        let two = file(&[b"\0\0CIRCLE\0", b"\x28\0", &radius, b"\xe7\x03note\0"]);
        assert!(!wide_codes(&one) && wide_codes(&two));
        radius_and_comment(BinaryTags::<1>::new(&one));
        radius_and_comment(BinaryTags::<2>::new(&two));
    }

    fn radius_and_comment<const W: usize>(mut tags: BinaryTags<'_, W>) {
        assert_eq!(tags.next().map(|t| t.text()), Some(&b"CIRCLE"[..]));
        assert_eq!(tags.next().map(|t| (t.code, t.value)), Some((40, Value::Real(2.5))));
        assert_eq!(tags.next().map(|t| t.code), Some(999));
        assert_eq!(tags.next(), None);
        assert!(!tags.cut_inside_pair());
    }

    #[test]
    fn a_cut_or_an_impossible_code_stops_with_a_loss() {
        let bytes = file(&[b"\0\0CIRCLE\0", b"\x28\0", b"\0\0\0"]);
        let mut tags = BinaryTags::<2>::new(&bytes);
        while tags.next().is_some() {}
        assert!(tags.cut_inside_pair());
        assert!(tags.take_problems().finish()[0].loss);
        let bytes = file(&[b"\0\0CIRCLE\0", b"\x10\x27"]);
        let mut tags = BinaryTags::<2>::new(&bytes);
        while tags.next().is_some() {}
        assert!(tags.take_problems().finish()[0].message.contains("10000"));
    }
}
