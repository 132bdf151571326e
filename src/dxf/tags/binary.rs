//! Pairs of a binary file. R10 to R12 write the group code in one byte (255 announces two), later versions in two.
//! A file that is cut or corrupt ends the pairs with a problem, because nothing after it can be found again.

use memchr::memchr;

use super::{Tag, Tags, Value, opens_entity};
use crate::dxf::problems::Problems;

/// The first bytes of every binary DXF file.
pub(in crate::dxf) const SIGNATURE: &[u8; 22] = b"AutoCAD Binary DXF\r\n\x1a\0";

/// The pairs of a binary file.
pub(in crate::dxf) struct BinaryTags<'a> {
    data: &'a [u8],
    pos: usize,
    wide_codes: bool,
    cut: bool,
    problems: Problems,
}

impl<'a> BinaryTags<'a> {
    /// Walks `data`, which begins with [`SIGNATURE`].
    pub(in crate::dxf) fn new(data: &'a [u8]) -> Self {
        // The first pair is code 0 with a name: a second zero byte belongs to a code of two bytes.
        let start = SIGNATURE.len();
        let wide_codes = match data.get(start) {
            Some(0) => data.get(start + 1) == Some(&0),
            // A comment (999) may come first: FF E7 03 in one-byte files, E7 03 in later ones.
            Some(0xFF) => false,
            _ => true,
        };
        BinaryTags { data, pos: start, wide_codes, cut: false, problems: Problems::default() }
    }

    #[inline(always)]
    fn take<const N: usize>(&mut self) -> Option<[u8; N]> {
        let bytes = self.data.get(self.pos..)?.first_chunk::<N>()?;
        self.pos += N;
        Some(*bytes)
    }

    #[inline(always)]
    fn take_code(&mut self) -> Option<i32> {
        if self.wide_codes {
            return self.take::<2>().map(|b| i32::from(i16::from_le_bytes(b)));
        }
        match self.take::<1>()? {
            [255] => self.take::<2>().map(|b| i32::from(i16::from_le_bytes(b))),
            [code] => Some(i32::from(code)),
        }
    }

    /// The value of a pair of this code; the commonest kinds first.
    #[inline(always)]
    fn take_value(&mut self, code: i32) -> Option<Value<'a>> {
        match code {
            10..=59 => self.take().map(|b| Value::Real(f64::from_le_bytes(b))),
            0..=9 | 100..=105 | 320..=369 => self.take_text(),
            60..=79 => self.take().map(|b| Value::Int(i64::from(i16::from_le_bytes(b)))),
            _ => self.take_rare(code),
        }
    }

    fn take_rare(&mut self, code: i32) -> Option<Value<'a>> {
        Some(match code {
            110..=149 | 210..=239 | 460..=469 | 1010..=1059 => Value::Real(f64::from_le_bytes(self.take()?)),
            170..=179 | 270..=289 | 370..=389 | 400..=409 | 1060..=1070 => {
                Value::Int(i64::from(i16::from_le_bytes(self.take()?)))
            }
            90..=99 | 420..=429 | 440..=459 | 1071 => Value::Int(i64::from(i32::from_le_bytes(self.take()?))),
            160..=169 => Value::Int(i64::from_le_bytes(self.take()?)),
            290..=299 => Value::Int(i64::from(self.take::<1>()?[0])),
            310..=319 | 1004 => {
                let length = usize::from(self.take::<1>()?[0]);
                self.data.get(self.pos..self.pos + length)?;
                self.pos += length;
                Value::Chunk
            }
            _ => self.take_text()?,
        })
    }

    /// A text up to its zero byte. Names and handles are too short for a call of a search to pay.
    #[inline(always)]
    fn take_text(&mut self) -> Option<Value<'a>> {
        let rest = self.data.get(self.pos..)?;
        let mut n = 0;
        while let Some(eight) = rest[n..].first_chunk::<8>() {
            let bytes = u64::from_le_bytes(*eight);
            // The lowest zero byte is marked rightly.
            let marked = bytes.wrapping_sub(0x0101_0101_0101_0101) & !bytes & 0x8080_8080_8080_8080;
            if marked != 0 {
                n += marked.trailing_zeros() as usize / 8;
                self.pos += n + 1;
                return Some(Value::Text(&rest[..n]));
            }
            n += 8;
            if n >= 64 {
                break;
            }
        }
        n += memchr(0, &rest[n..])?;
        self.pos += n + 1;
        Some(Value::Text(&rest[..n]))
    }

    /// Whether a code can stand in a DXF file; another one shows that the pairs are out of step for good.
    fn known(code: i32) -> bool {
        matches!(code, -5..=481 | 999..=1071)
    }

    #[cold]
    fn stop_in_value(&mut self, at: usize, code: i32) -> Option<Tag<'a>> {
        if !Self::known(code) {
            return self.stop_at_code(at, code);
        }
        self.stop(at, format!("the file ends inside the value of group {code}"))
    }

    #[cold]
    fn stop_at_code(&mut self, at: usize, code: i32) -> Option<Tag<'a>> {
        self.stop(at, format!("group code {code} is none of DXF: the file is damaged from here on"))
    }

    /// Ends the pairs.
    #[cold]
    fn stop(&mut self, at: usize, message: String) -> Option<Tag<'a>> {
        self.cut = true;
        self.problems.add(0, at as u64, message, true);
        self.pos = self.data.len();
        None
    }
}

impl<'a> Tags<'a> for BinaryTags<'a> {
    #[inline(always)]
    fn next(&mut self) -> Option<Tag<'a>> {
        let at = self.pos;
        if at >= self.data.len() {
            return None;
        }
        let Some(code) = self.take_code() else {
            return self.stop(at, "the file ends inside a group code".to_owned());
        };
        let offset = self.pos;
        let Some(value) = self.take_value(code) else {
            return self.stop_in_value(at, code);
        };
        if code == 0 {
            if !matches!(value, Value::Text(name) if opens_entity(name)) {
                return self.stop(at, "group 0 holds no name: the file is damaged from here on".to_owned());
            }
        } else if !(1..=79).contains(&code) && !Self::known(code) {
            return self.stop_at_code(at, code);
        }
        Some(Tag { code, line: 0, offset, value })
    }

    fn skip_to_start(&mut self) -> Option<Tag<'a>> {
        loop {
            let tag = self.next()?;
            if tag.code == 0 {
                return Some(tag);
            }
        }
    }

    fn go_to(&mut self, (_, pos): (u64, usize)) {
        self.pos = pos;
    }

    fn place(&self) -> (u64, usize) {
        (0, self.pos)
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
        for bytes in [
            file(&[b"\0CIRCLE\0", b"\x28", &radius, b"\xff\xe7\x03note\0"]),
            file(&[b"\0\0CIRCLE\0", b"\x28\0", &radius, b"\xe7\x03note\0"]),
        ] {
            let mut tags = BinaryTags::new(&bytes);
            assert_eq!(tags.next().map(|t| t.text()), Some(&b"CIRCLE"[..]));
            assert_eq!(tags.next().map(|t| (t.code, t.value)), Some((40, Value::Real(2.5))));
            assert_eq!(tags.next().map(|t| t.code), Some(999));
            assert_eq!(tags.next(), None);
            assert!(!tags.cut_inside_pair());
        }
    }

    #[test]
    fn a_cut_or_an_impossible_code_stops_with_a_loss() {
        let bytes = file(&[b"\0\0CIRCLE\0", b"\x28\0", b"\0\0\0"]);
        let mut tags = BinaryTags::new(&bytes);
        while tags.next().is_some() {}
        assert!(tags.cut_inside_pair());
        assert!(tags.take_problems().finish()[0].loss);
        let bytes = file(&[b"\0\0CIRCLE\0", b"\x10\x27"]);
        let mut tags = BinaryTags::new(&bytes);
        while tags.next().is_some() {}
        assert!(tags.take_problems().finish()[0].message.contains("10000"));
    }
}
