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

    fn take<const N: usize>(&mut self) -> Option<[u8; N]> {
        let bytes = self.data.get(self.pos..self.pos + N)?;
        self.pos += N;
        bytes.try_into().ok()
    }

    fn take_code(&mut self) -> Option<i32> {
        if self.wide_codes {
            return self.take::<2>().map(|b| i32::from(i16::from_le_bytes(b)));
        }
        match self.take::<1>()? {
            [255] => self.take::<2>().map(|b| i32::from(i16::from_le_bytes(b))),
            [code] => Some(i32::from(code)),
        }
    }

    fn take_value(&mut self, code: i32) -> Option<Value<'a>> {
        Some(match code {
            10..=59 | 110..=149 | 210..=239 | 460..=469 | 1010..=1059 => {
                Value::Real(f64::from_le_bytes(self.take()?))
            }
            60..=79 | 170..=179 | 270..=289 | 370..=389 | 400..=409 | 1060..=1070 => {
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
            _ => {
                let rest = self.data.get(self.pos..)?;
                let n = memchr(0, rest)?;
                self.pos += n + 1;
                Value::Text(&rest[..n])
            }
        })
    }

    /// Whether a code can stand in a DXF file; another one shows that the pairs are out of step for good.
    fn known(code: i32) -> bool {
        matches!(code, -5..=481 | 999..=1071)
    }

    #[cold]
    fn stop(&mut self, at: usize, message: String) {
        self.cut = true;
        self.problems.add(0, at as u64, message, true);
        self.pos = self.data.len();
    }
}

impl<'a> Tags<'a> for BinaryTags<'a> {
    fn next(&mut self) -> Option<Tag<'a>> {
        let at = self.pos;
        if at >= self.data.len() {
            return None;
        }
        let Some(code) = self.take_code() else {
            self.stop(at, "the file ends inside a group code".to_owned());
            return None;
        };
        if !Self::known(code) {
            self.stop(at, format!("group code {code} is none of DXF: the file is damaged from here on"));
            return None;
        }
        let offset = self.pos;
        let Some(value) = self.take_value(code) else {
            self.stop(at, format!("the file ends inside the value of group {code}"));
            return None;
        };
        if code == 0 && !matches!(value, Value::Text(name) if opens_entity(name)) {
            self.stop(at, "group 0 holds no name: the file is damaged from here on".to_owned());
            return None;
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
