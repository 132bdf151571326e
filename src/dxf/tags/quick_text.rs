//! The quick way through a text file whose lines end with LF or CR LF: pairs, runs of numbers and openings that are just as
//! nearly all programs write them. Whatever else stands there is left to the general way.

use memchr::memchr;

use super::codes::{PADDED, padded_code, usual_code};
use super::feeds::Feeds;
use super::opening::begins_with;
use super::text::without_cr;
use super::{Quick, Start, Step, Tag, Text, Value, is_usual_name, number, opens_entity};

/// A place in a text file whose lines end with LF or CR LF.
#[derive(Debug, Clone, Copy)]
pub(in crate::dxf) struct Place<'a> {
    pub(super) pos: usize,
    /// 1-based number of the line that starts at `pos`.
    pub(super) line: u64,
    /// The line feeds of the file; none where a CR may end a line. They may lag behind: what is read without them leaves
    /// them where they are.
    pub(super) feeds: Feeds<'a>,
}

impl<'a> Quick<'a> for Place<'a> {
    #[inline(always)]
    fn step(&mut self) -> Step<'a> {
        let data = self.feeds.data();
        let mut feeds = self.feeds;
        feeds.go_to(self.pos);
        if !feeds.pass() {
            return Step::Odd;
        }
        let Some(end) = feeds.take() else {
            return Step::Odd;
        };
        let Some(pair) = data.get(self.pos..end) else {
            return Step::Odd;
        };
        let Some((code, begin)) = padded_code(pair).or_else(|| usual_code(pair)) else {
            return Step::Odd;
        };
        let offset = self.pos + begin;
        let text = Text { upto: without_cr(&data[..end]), from: offset };
        if code == 0 && !opens_entity(text.bytes()) {
            return Step::Odd;
        }
        let tag = Tag { code, line: self.line + 1, offset, value: Value::Text(text) };
        *self = Place { pos: end + 1, line: self.line + 2, feeds };
        if code == 0 { Step::Start(tag) } else { Step::Group(tag) }
    }

    #[inline(always)]
    fn run<const N: usize>(&mut self, codes: [i32; N]) -> Option<[f64; N]> {
        let data = self.feeds.data();
        let (values, pos) = match data.get(self.pos..)?.first_chunk()? {
            [b' ', _, _, b'\n'] => numbers::<{ BEFORE + 4 }, false, N>(data, self.pos, codes)?,
            [b' ', _, _, _] => numbers::<{ BEFORE + 5 }, true, N>(data, self.pos, codes)?,
            [_, _, b'\n', _] => numbers_unpadded::<{ BEFORE + 3 }, false, N>(data, self.pos, codes)?,
            _ => numbers_unpadded::<{ BEFORE + 4 }, true, N>(data, self.pos, codes)?,
        };
        self.pos = pos;
        self.line += 2 * N as u64;
        Some(values)
    }

    #[inline(always)]
    fn handle(&mut self) -> Option<Option<u64>> {
        let (value, _, end) = short_value(self.feeds.data(), self.pos, 5)?;
        let handle = number::handle(value);
        (self.pos, self.line) = (end, self.line + 2);
        Some(handle)
    }

    #[inline(always)]
    fn start(&mut self) -> Option<Start<'a>> {
        let (name, offset, end) = short_value(self.feeds.data(), self.pos, 0)?;
        if !is_usual_name(name) {
            return None;
        }
        let start = Start { name, line: self.line, offset: offset as u64 };
        (self.pos, self.line) = (end, self.line + 2);
        Some(start)
    }

    #[inline(always)]
    fn repeats(&mut self, bytes: &[u8], lines: u64) -> bool {
        let same = begins_with(self.feeds.data().get(self.pos..).unwrap_or_default(), bytes);
        if same {
            (self.pos, self.line) = (self.pos + bytes.len(), self.line + lines);
        }
        same
    }

    fn since(self, begin: Self) -> (&'a [u8], u64) {
        (self.feeds.data().get(begin.pos..self.pos).unwrap_or_default(), self.line - begin.line)
    }

    #[inline(always)]
    fn like_step(tag: Tag<'a>) -> Tag<'a> {
        Tag { value: Value::Text(Text::of(tag.text())), ..tag }
    }
}

/// The numbers of the pairs from `pos` on if those have just these codes, of two digits, all three places wide or none, and all
/// their lines end with LF, or all with CR LF; and where the next pair begins. `FROM` is where a value begins in its window.
#[inline(always)]
fn numbers<const FROM: usize, const CR: bool, const N: usize>(
    data: &[u8],
    mut pos: usize,
    codes: [i32; N],
) -> Option<([f64; N], usize)> {
    let mut values = [0.0; N];
    for (value, line_of_code) in values.iter_mut().zip(codes.map(line_of::<FROM, CR>)) {
        let window = data.get(pos.checked_sub(BEFORE)?..)?.first_chunk::<WINDOW>()?;
        let unused = 64 - 8 * (FROM - BEFORE);
        if u64::from_le_bytes(*window[BEFORE..].first_chunk()?) << unused != line_of_code << unused {
            return None;
        }
        let line = window[FROM..].first_chunk::<16>()?;
        // A third of all numbers of a plane drawing are heights of 0.
        let zero: &[u8] = if CR { b"0.0\r\n" } else { b"0.0\n" };
        if line.starts_with(zero) {
            pos += FROM - BEFORE + zero.len();
            continue;
        }
        if let Some(feed) = number::feed_in(line)
            && let Some(number) = if CR {
                let length = feed.wrapping_sub(1);
                let ends = line[length % 16] == b'\r';
                if ends { number::plain_in::<FROM, WINDOW>(window, length) } else { None }
            } else {
                number::plain_in::<FROM, WINDOW>(window, feed)
            }
        {
            *value = number;
            pos += FROM - BEFORE + feed + 1;
        } else {
            (*value, pos) = odd_number::<CR>(data, pos + FROM - BEFORE)?;
        }
    }
    Some((values, pos))
}

/// As [`numbers`], of codes without blanks before them.
#[inline(never)]
fn numbers_unpadded<const FROM: usize, const CR: bool, const N: usize>(
    data: &[u8],
    pos: usize,
    codes: [i32; N],
) -> Option<([f64; N], usize)> {
    numbers::<FROM, CR, N>(data, pos, codes)
}

/// Bytes in front of a pair, and with a pair as it usually is, that are looked up at once.
const BEFORE: usize = 16;
const WINDOW: usize = BEFORE + 21;

/// A number that is longer than most or written in another way, and where the next pair begins.
#[inline(never)]
fn odd_number<const CR: bool>(data: &[u8], begin: usize) -> Option<(f64, usize)> {
    const LONGEST: usize = 32;
    let rest = data.get(begin..)?;
    let feed = begin + memchr(b'\n', &rest[..rest.len().min(LONGEST)])?;
    let mut upto = data.get(..feed)?;
    if CR {
        upto = upto.strip_suffix(b"\r")?;
    }
    Some((number::real(upto, begin)?, feed + 1))
}

/// The line of a group code, with its end, as [`numbers`] meets it.
#[inline(always)]
fn line_of<const FROM: usize, const CR: bool>(code: i32) -> u64 {
    let places = FROM - BEFORE - 1 - usize::from(CR);
    let padded = u64::from(PADDED[code as usize % PADDED.len()]);
    let end = if CR { 0x0A_0D } else { 0x0A };
    padded >> (8 * (3 - places)) | end << (8 * places)
}

/// The value of the pair at `pos`, where it stands, and where the next pair begins, if the pair has this code, of one digit,
/// three places wide or without blanks, and a value of up to 16 bytes with its end of line.
#[inline(always)]
fn short_value(data: &[u8], pos: usize, code: u8) -> Option<(&[u8], usize, usize)> {
    let pair = data.get(pos..)?.first_chunk::<21>()?;
    let digit = b'0' + code;
    let begin = match pair {
        [b' ', b' ', d, b'\n', ..] if *d == digit => 4,
        _ => begin_of_odd(pair, digit)?,
    };
    let line = pair[begin..].first_chunk::<16>()?;
    let feed = number::feed_in(line)?;
    Some((without_cr(&line[..feed]), pos + begin, pos + begin + feed + 1))
}

/// Where the value begins of a pair whose code is this digit, unless it is three places wide and its line ends with LF.
#[inline(never)]
fn begin_of_odd(pair: &[u8; 21], digit: u8) -> Option<usize> {
    match pair {
        [b' ', b' ', d, b'\r', b'\n', ..] if *d == digit => Some(5),
        [d, b'\n', ..] if *d == digit => Some(2),
        [d, b'\r', b'\n', ..] if *d == digit => Some(3),
        _ => None,
    }
}
