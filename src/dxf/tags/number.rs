//! Strict numbers: what is no plain decimal number is none. A decimal comma, an empty value, a Fortran exponent,
//! `nan` and `inf` are refused here and become problems with their line further up.

use crate::dxf::bounds::MAX_COORDINATE;

/// A finite decimal number with blanks around it.
#[inline]
pub(super) fn real(bytes: &[u8]) -> Option<f64> {
    // A third of all numbers of a plane drawing are heights of 0.
    if bytes == b"0.0" {
        return Some(0.0);
    }
    believed(fast_float2::parse::<f64, _>(bytes.trim_ascii()).ok()?)
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
