//! Group codes as text files write them: in three places, without blanks, or in any other way that is still a number.
//! Knows no values.

/// Group codes three places wide, as most programs write them; by their number.
pub(super) static PADDED: [u32; 1024] = {
    let mut codes = [0; 1024];
    let mut code = 0;
    while code < 1000 {
        let first = if code < 100 { b' ' } else { b'0' + (code / 100) as u8 };
        let second = if code < 10 { b' ' } else { b'0' + (code / 10 % 10) as u8 };
        codes[code] = u32::from_le_bytes([first, second, b'0' + (code % 10) as u8, 0]);
        code += 1;
    }
    codes
};

/// The group code of a pair that is three places wide, and where its value begins.
#[inline(always)]
pub(super) fn padded_code(pair: &[u8]) -> Option<(i32, usize)> {
    let [a, b, c, _] = pair.first_chunk::<4>()?;
    // The lower half of a blank is 0, as that of the digit 0. What is no such code is not written as the one that it
    // seems to be.
    let code = u32::from(a & 15) * 100 + u32::from(b & 15) * 10 + u32::from(c & 15);
    if u32::from_le_bytes([*a, *b, *c, 0]) != PADDED[code as usize % PADDED.len()] {
        return None;
    }
    match pair.get(3..)? {
        [b'\n', ..] => Some((code as i32, 4)),
        [b'\r', b'\n', ..] => Some((code as i32, 5)),
        _ => None,
    }
}

/// The group code of a pair that is written with nothing before or behind it but a CR, and where its value begins.
#[inline(never)]
pub(super) fn usual_code(pair: &[u8]) -> Option<(i32, usize)> {
    let mut code = 0;
    for (n, byte) in pair.iter().take(5).enumerate() {
        match byte {
            b'0'..=b'9' if n < 4 => code = 10 * code + i32::from(byte - b'0'),
            b'\n' if n > 0 => return Some((code, n + 1)),
            b'\r' if n > 0 && pair.get(n + 1) == Some(&b'\n') => return Some((code, n + 2)),
            _ => return None,
        }
    }
    None
}

/// The group code that a line is: a number of at most five digits with blanks around it.
pub(super) fn any_code(line: &[u8]) -> Option<i32> {
    const LONGEST: usize = 5;
    let blank = |b: &u8| *b == b' ' || *b == b'\t';
    let begin = line.iter().position(|b| !blank(b))?;
    let end = line.iter().rposition(|b| !blank(b))? + 1;
    let written = &line[begin..end];
    let digits = written.strip_prefix(b"-").unwrap_or(written);
    if digits.is_empty() || digits.len() > LONGEST || !digits.iter().all(u8::is_ascii_digit) {
        return None;
    }
    let code = digits.iter().fold(0, |sum, digit| sum * 10 + i32::from(digit - b'0'));
    Some(if digits.len() < written.len() { -code } else { code })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn only_numbers_of_up_to_five_digits_are_codes() {
        for (line, code) in [
            ("0", 0),
            ("  0", 0),
            (" 10", 10),
            ("999", 999),
            ("100\r", 100),
            ("10\r", 10),
            ("7\r", 7),
            ("  7\r", 7),
            ("-5", -5),
            ("  1071", 1071),
            ("\t62 ", 62),
            ("00010", 10),
        ] {
            let line = line.strip_suffix("\r").unwrap_or(line);
            assert_eq!(any_code(line.as_bytes()), Some(code), "{line:?}");
        }
        for line in [
            "", "   ", "1 0", " 1 ", "1a", "a1", "!10", "1!0", "/ 0", "1.0", "123456", "--1", "-", "\r",
            "1:2", "10:",
        ] {
            let expected = if line == " 1 " { Some(1) } else { None };
            assert_eq!(any_code(line.as_bytes()), expected, "{line:?}");
        }
    }

    #[test]
    fn a_code_that_is_read_at_once_is_the_one_that_a_close_look_finds() {
        // Every line of three bytes, and shorter ones of bytes that are like those of a code.
        for n in 0..1_u32 << 24 {
            let [a, b, c, _] = n.to_le_bytes();
            if let Some((code, begin)) = padded_code(&[a, b, c, b'\n', b'X']) {
                assert_eq!((any_code(&[a, b, c]), begin), (Some(code), 4), "{a} {b} {c}");
            }
        }
        let likely = b" \t\r-./0123456789:;@AOP`p\x00\x10\x1f\x2f\x3f\x80\xb0\xff";
        for (a, b) in likely.iter().flat_map(|a| likely.iter().map(move |b| (*a, *b))) {
            if let Some((code, _)) = usual_code(&[a, b, b'\n', b'X']) {
                let written: &[u8] = if b == b'\r' { &[a] } else { &[a, b] };
                assert_eq!(any_code(written), Some(code), "{a} {b}");
            }
        }
        // All codes as programs write them.
        for code in 0..=1071 {
            for line in [format!("{code}"), format!("{code:>3}")] {
                for end in ["\n", "\r\n"] {
                    let pair = format!("{line}{end}LINE");
                    let read = padded_code(pair.as_bytes()).or_else(|| usual_code(pair.as_bytes()));
                    assert_eq!(read, Some((code, pair.len() - 4)), "{pair:?}");
                }
            }
        }
        for pair in ["\nLINE", "\r\nLINE", " 1 \nLINE", "12345\nLINE", "1", "1\r", "12\rX\nLINE"] {
            assert_eq!(
                padded_code(pair.as_bytes()).or_else(|| usual_code(pair.as_bytes())),
                None,
                "{pair:?}"
            );
        }
    }
}
