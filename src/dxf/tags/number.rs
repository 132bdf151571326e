//! Strict numbers: what is no plain decimal number is none. A decimal comma, an empty value, a Fortran exponent,
//! `nan` and `inf` are refused here and become problems with their line further up.

use crate::dxf::bounds::MAX_COORDINATE;

/// A finite decimal number with blanks around it. One of up to 15 digits is rounded correctly, a longer one to within
/// one unit of the last place.
#[inline(always)]
pub(super) fn real(bytes: &[u8]) -> Option<f64> {
    // A third of all numbers of a plane drawing are heights of 0.
    if bytes == b"0.0" {
        return Some(0.0);
    }
    plain(bytes).or_else(|| any(bytes))
}

/// A number in any decimal notation.
#[cold]
fn any(bytes: &[u8]) -> Option<f64> {
    believed(fast_float2::parse::<f64, _>(bytes.trim_ascii()).ok()?)
}

/// Powers of ten that are exact.
const TENS: [f64; 20] = [
    1e0, 1e1, 1e2, 1e3, 1e4, 1e5, 1e6, 1e7, 1e8, 1e9, 1e10, 1e11, 1e12, 1e13, 1e14, 1e15, 1e16, 1e17, 1e18,
    1e19,
];

/// A number written as CAD programs write nearly all: digits with a point, perhaps a minus, no exponent, no blanks, 19
/// digits at most. None for all others. Its digits as a whole number, divided once by a power of ten: both exact up to
/// 15 digits, so that only the division rounds.
#[inline(always)]
fn plain(bytes: &[u8]) -> Option<f64> {
    let (negative, digits) = match bytes {
        [b'-', rest @ ..] => (true, rest),
        _ => (false, bytes),
    };
    let (value, decimals) = if digits.len() >= 8 { long(digits)? } else { short(digits)? };
    let value = value as f64 / TENS[decimals];
    Some(if negative { -value } else { value })
}

/// The digits of a number of fewer than eight bytes, and how many of them stand behind the point.
#[inline(always)]
fn short(digits: &[u8]) -> Option<(u64, usize)> {
    let mut value = 0;
    let mut point = None;
    for (n, byte) in digits.iter().enumerate() {
        let digit = byte.wrapping_sub(b'0');
        if digit <= 9 {
            value = value * 10 + u64::from(digit);
        } else if *byte == b'.' && point.is_none() {
            point = Some(n);
        } else {
            return None;
        }
    }
    let decimals = point.map_or(0, |n| digits.len() - n - 1);
    // A point alone, or nothing, is no number.
    (digits.len() > usize::from(point.is_some())).then_some((value, decimals))
}

/// The digits of a number of eight bytes or more whose point is among the first eight, and how many of them stand
/// behind the point. Eight digits at a time, without a loop over digits: how many there are is hard to foresee.
#[inline(always)]
fn long(digits: &[u8]) -> Option<(u64, usize)> {
    const POINTS: u64 = 0x2E2E_2E2E_2E2E_2E2E;
    const LOW: u64 = 0x0101_0101_0101_0101;
    const HIGH: u64 = 0x8080_8080_8080_8080;
    let first = u64::from_le_bytes(*digits.first_chunk::<8>()?);
    // The lowest byte that becomes 0 is marked rightly; what is marked above it may be wrong.
    let differs = first ^ POINTS;
    let marked = differs.wrapping_sub(LOW) & !differs & HIGH;
    if marked == 0 {
        return None;
    }
    let whole = marked.trailing_zeros() as usize / 8;
    let fraction = &digits[whole + 1..];
    if fraction.len() > 18 - whole {
        return None;
    }
    // Digits in the upper bytes, zeros in front of them.
    let mut value = if whole == 0 { 0 } else { eight_digits(last_digits(first << (64 - 8 * whole), whole))? };
    let mut rest = fraction;
    while let Some((eight, more)) = rest.split_first_chunk::<8>() {
        value = value * 100_000_000 + eight_digits(u64::from_le_bytes(*eight))?;
        rest = more;
    }
    if !rest.is_empty() {
        let last = u64::from_le_bytes(*digits.last_chunk::<8>()?);
        value = value * WHOLE_TENS[rest.len()] + eight_digits(last_digits(last, rest.len()))?;
    }
    Some((value, fraction.len()))
}

/// The uppermost `count` (1 to 8) of eight digits, with zeros in the place of the others.
#[inline(always)]
fn last_digits(digits: u64, count: usize) -> u64 {
    let kept = u64::MAX << (64 - 8 * count);
    digits & kept | ZEROS & !kept
}

/// Eight digits 0.
const ZEROS: u64 = 0x3030_3030_3030_3030;

/// Powers of ten as whole numbers.
const WHOLE_TENS: [u64; 8] = [1, 10, 100, 1_000, 10_000, 100_000, 1_000_000, 10_000_000];

/// The number that eight digits are, the first in the lowest byte; none if one of the bytes is no digit.
#[inline(always)]
fn eight_digits(bytes: u64) -> Option<u64> {
    const HIGH: u64 = 0xF0F0_F0F0_F0F0_F0F0;
    // A byte is a digit if its upper half is 3, and still is when 6 is added.
    if bytes & HIGH != ZEROS || bytes.wrapping_add(0x0606_0606_0606_0606) & HIGH != ZEROS {
        return None;
    }
    // Neighbours are joined to numbers of two, four, and eight digits.
    let digits = bytes - ZEROS;
    let twos = (digits * 10 + (digits >> 8)) & 0x00FF_00FF_00FF_00FF;
    let fours = (twos * 100 + (twos >> 16)) & 0x0000_FFFF_0000_FFFF;
    Some((fours * 10_000 + (fours >> 32)) & 0xFFFF_FFFF)
}

/// A number that later arithmetic can bear.
#[inline]
pub(super) fn believed(value: f64) -> Option<f64> {
    (value.abs() <= MAX_COORDINATE).then_some(value)
}

/// A whole number with blanks around it; `1.0` is one, `1.5` is not.
pub(super) fn int(bytes: &[u8]) -> Option<i64> {
    let trimmed = bytes.trim_ascii();
    let (negative, digits) = match trimmed.first()? {
        b'-' => (true, &trimmed[1..]),
        b'+' => (false, &trimmed[1..]),
        _ => (false, trimmed),
    };
    if digits.is_empty() || digits.len() > 18 || !digits.iter().all(u8::is_ascii_digit) {
        return whole(real(trimmed)?);
    }
    let value = digits.iter().fold(0_i64, |sum, digit| sum * 10 + i64::from(digit - b'0'));
    Some(if negative { -value } else { value })
}

/// A real that is a whole number.
pub(super) fn whole(value: f64) -> Option<i64> {
    (value.fract() == 0.0 && value.abs() < 9e15).then_some(value as i64)
}

/// A hexadecimal handle; 0 is none.
#[inline]
pub(super) fn handle(bytes: &[u8]) -> Option<u64> {
    let mut value = 0_u64;
    for byte in bytes.trim_ascii() {
        let digit = match byte {
            b'0'..=b'9' => byte - b'0',
            b'a'..=b'f' => byte - b'a' + 10,
            b'A'..=b'F' => byte - b'A' + 10,
            _ => return None,
        };
        if value >> 60 != 0 {
            return None;
        }
        value = value << 4 | u64::from(digit);
    }
    (value != 0).then_some(value)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn only_plain_decimal_numbers_are_numbers() {
        // Each of these once passed a reader as 0, as infinity, or ended its list of entities.
        for bad in [
            "2,5", "", "  ", "1.5D0", "abc", "nan", "NaN", "inf", "-inf", "infinity", "1e400", "1.5 2",
            "0x10", "1e", "--1", "1_0",
        ] {
            assert_eq!(real(bad.as_bytes()), None, "{bad}");
        }
        for (good, value) in [
            (" 2.5", 2.5),
            ("-.5", -0.5),
            ("5.", 5.0),
            ("1E2", 100.0),
            ("+3", 3.0),
            ("1e-400", 0.0),
            ("0.1\t", 0.1),
        ] {
            assert_eq!(real(good.as_bytes()), Some(value), "{good}");
        }
    }

    #[test]
    fn short_numbers_are_rounded_as_the_standard_library_rounds_them() {
        for text in ["0.1", "3.65", "-12.5", "1000.001", ".5", "5.", "-0.0", "123456789.012345", "0.000001"] {
            let ours = real(text.as_bytes()).expect(text);
            assert_eq!(ours.to_bits(), text.parse::<f64>().expect(text).to_bits(), "{text}");
        }
        for text in [".", "-", "-.", "1.2.3", "1.23456789,1", "1.2345678x", "1.1234567:"] {
            assert_eq!(real(text.as_bytes()), None, "{text}");
        }
    }

    proptest::proptest! {
        #[test]
        fn any_number_is_within_one_unit_of_the_last_place(value: f64) {
            let text = format!("{value:?}");
            let expected = Some(value).filter(|v| v.abs() <= MAX_COORDINATE);
            let ours = real(text.as_bytes());
            match (ours, expected) {
                (Some(a), Some(b)) => proptest::prop_assert!((a - b).abs() <= b.abs() * f64::EPSILON),
                (a, b) => proptest::prop_assert_eq!(a, b),
            }
        }

        #[test]
        fn digits_with_a_point_are_within_one_unit_of_the_last_place(text in "-?[0-9]{0,12}\\.[0-9]{0,20}") {
            let ours = real(text.as_bytes());
            match (ours, text.parse::<f64>().ok()) {
                (Some(a), Some(b)) => proptest::prop_assert!((a - b).abs() <= b.abs() * f64::EPSILON),
                (a, b) => proptest::prop_assert_eq!(a, b),
            }
        }
    }

    #[test]
    fn whole_numbers_may_carry_a_zero_fraction() {
        assert_eq!(int(b"     1"), Some(1));
        assert_eq!(int(b"-7 "), Some(-7));
        assert_eq!(int(b"1.0"), Some(1));
        assert_eq!(int(b"1.5"), None);
        assert_eq!(int(b"x"), None);
        assert_eq!(int(b""), None);
        assert_eq!(int(b"-"), None);
        assert_eq!(int(b"99999999999999999999"), None);
    }

    #[test]
    fn handles_are_hexadecimal() {
        assert_eq!(handle(b" 2F"), Some(0x2F));
        assert_eq!(handle(b"0"), None);
        assert_eq!(handle(b"XYZ"), None);
        assert_eq!(handle(b"FFFFFFFFFFFFFFFF"), Some(u64::MAX));
        assert_eq!(handle(b"1FFFFFFFFFFFFFFFF"), None);
    }
}
