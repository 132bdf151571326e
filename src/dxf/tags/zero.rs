//! Finds the next group code 0 of a text file by looking at bytes alone, many at a time, without following the pairs.
//! A line `0` is that code only if the next line is a name: after a value `0` stands another group code, a number.

use memchr::memchr;

use super::feeds::{BLOCK, blanks_of, zeros_of};
use super::opens_entity;

/// Place of the first line from `from` on (where a line begins) that is a group code 0 with a name on the next line.
/// None where there is none; lines must end with LF or CR LF.
pub(super) fn next_start(data: &[u8], from: usize) -> Option<usize> {
    let mut block = from - from % BLOCK;
    let mut wanted = u64::MAX << (from % BLOCK);
    // Whether the byte before the block is blank, in the lowest bit.
    let mut before = u64::from(block == 0 || data[block - 1] <= b' ');
    while block < data.len() {
        let (zeros, blanks) = (zeros_of(data, block), blanks_of(data, block));
        // What follows the last byte of the block is looked at below.
        let after = blanks >> 1 | 1 << (BLOCK - 1);
        let mut lone = zeros & (blanks << 1 | before) & after & wanted;
        while lone != 0 {
            let found = start_at(data, from, block + lone.trailing_zeros() as usize);
            if found.is_some() {
                return found;
            }
            lone &= lone - 1;
        }
        before = blanks >> (BLOCK - 1);
        block += BLOCK;
        wanted = u64::MAX;
    }
    None
}

/// The beginning of the line, not before `from`, that consists of the `0` at `i`, if a name stands on the next line.
fn start_at(data: &[u8], from: usize, i: usize) -> Option<usize> {
    let blank = |b: &u8| *b == b' ' || *b == b'\t';
    let begin = data[from..i].iter().rposition(|b| !blank(b)).map_or(from, |n| from + n + 1);
    if begin > from && data[begin - 1] != b'\n' {
        return None;
    }
    let rest = &data[i + 1..];
    let end = rest.iter().position(|b| !blank(b) && *b != b'\r')?;
    if rest[end] != b'\n' {
        return None;
    }
    let value = &rest[end + 1..];
    opens_entity(&value[..memchr(b'\n', value).unwrap_or(value.len())]).then_some(begin)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_zero_is_a_code_only_before_a_name() {
        // The value 0 of group 70, a layer 0, a number that ends in 0, a text that ends in 0, and entities whose names
        // begin with a digit.
        let text = " 70\n     0\n  8\n0\n 62\n10\n  1\nM5 x 0\n  0\n3DFACE\n  0\r\nLINE\r\n";
        let first = next_start(text.as_bytes(), 0).expect("a start");
        assert!(text[first..].starts_with("  0\n3DFACE"));
        let second = next_start(text.as_bytes(), first + 4).expect("a second");
        assert!(text[second..].starts_with("  0\r\nLINE"));
        assert_eq!(next_start(text.as_bytes(), second + 5), None);
    }

    #[test]
    fn every_offset_within_a_block_finds_the_same_line() {
        for fill in 0..200 {
            let text = format!("1\n{}\n  0\nCIRCLE\n 40\n2.5\n{}", "x".repeat(fill), "y".repeat(200));
            assert_eq!(next_start(text.as_bytes(), 0), Some(fill + 3), "{fill}");
        }
    }
}
