//! Strict numbers: what is no plain decimal number is none. A decimal comma, an empty value, a Fortran exponent,
//! `nan` and `inf` are refused here and become problems with their line further up.

use wide::u8x16;

use crate::dxf::bounds::MAX_COORDINATE;

/// A finite decimal number with blanks around it, which stands in `upto` from `from` to the end. One of up to 15 digits is
/// rounded correctly, a longer one to within one unit of the last place.
#[inline(always)]
pub(super) fn real(upto: &[u8], from: usize) -> Option<f64> {
    plain(upto, from).or_else(|| any(upto.get(from..)?))
}

/// A number in any decimal notation.
#[inline(never)]
fn any(bytes: &[u8]) -> Option<f64> {
    if let [digit @ b'0'..=b'9'] = bytes {
        return Some(f64::from(digit - b'0'));
    }
    longer(bytes).or_else(|| believed(fast_float2::parse::<f64, _>(bytes.trim_ascii()).ok()?))
}

/// Powers of ten that are exact.
const TENS: [f64; 20] = [
    1e0, 1e1, 1e2, 1e3, 1e4, 1e5, 1e6, 1e7, 1e8, 1e9, 1e10, 1e11, 1e12, 1e13, 1e14, 1e15, 1e16, 1e17, 1e18,
    1e19,
];

/// A number written as CAD programs write nearly all: digits with a point, perhaps a minus, no exponent, no blanks, two to 16
/// places beside the minus. None for all others. Its digits as a whole number, divided once by a power of ten: both
/// exact, so that only the division rounds. There is no loop over digits, nor a look at each: how many there are is hard to
/// foresee.
#[inline(always)]
pub(super) fn plain(upto: &[u8], from: usize) -> Option<f64> {
    let negative = *upto.get(from)? == b'-';
    let places = upto.len() - from - usize::from(negative);
    let value = match places {
        2..=8 => eight_places(u64::from_le_bytes(*upto.last_chunk()?), places)?,
        9..=16 => sixteen_places(upto.last_chunk()?, places)?,
        _ => return None,
    };
    Some(with_sign(value, negative))
}

/// As [`plain`], of the number of at most 15 bytes in the middle of this window, from `FROM` on.
#[inline(always)]
pub(super) fn plain_in<const FROM: usize, const N: usize>(window: &[u8; N], length: usize) -> Option<f64> {
    let negative = window[FROM] == b'-';
    let places = length.wrapping_sub(usize::from(negative));
    // No more than it is, but known to end in the window, so that nothing is looked up twice.
    let end = FROM + length % 16;
    let value = match places {
        2..=8 => eight_places(u64::from_le_bytes(*window[..end].last_chunk()?), places)?,
        9..=15 => sixteen_places(window[..end].last_chunk()?, places)?,
        _ => return None,
    };
    Some(with_sign(value, negative))
}

#[inline(always)]
fn with_sign(value: f64, negative: bool) -> f64 {
    f64::from_bits(value.to_bits() | u64::from(negative) << 63)
}

/// Place of the first line feed.
#[inline(always)]
pub(super) fn feed_in(bytes: &[u8; 16]) -> Option<usize> {
    let feeds = u8x16::new(*bytes).simd_eq(u8x16::splat(b'\n')).to_bitmask();
    (feeds != 0).then(|| feeds.trailing_zeros() as usize)
}

/// Place of the first of these bytes that is `byte`.
#[inline(always)]
fn first_of(bytes: u64, byte: u8) -> Option<usize> {
    // The lowest byte that becomes 0 is marked rightly; what is marked above it may be wrong.
    let differs = bytes ^ (LOW * u64::from(byte));
    let marked = differs.wrapping_sub(LOW) & !differs & HIGH;
    (marked != 0).then(|| marked.trailing_zeros() as usize / 8)
}

/// The number in the last two to eight of these places.
#[inline(always)]
fn eight_places(last: u64, places: usize) -> Option<f64> {
    // What is left out becomes digits 0 in front.
    let digits = (last ^ ZEROS) & u64::MAX << (64 - 8 * places as u32);
    let (digits, decimals) = without_point(digits).unwrap_or((digits, 0));
    Some(eight_digits(digits)? as f64 / TENS[decimals])
}

/// The number in the last nine to sixteen of these places.
#[inline(always)]
fn sixteen_places(bytes: &[u8; 16], places: usize) -> Option<f64> {
    let all = u128::from_le_bytes(*bytes);
    let (first, last) = (all as u64 ^ ZEROS, (all >> 64) as u64 ^ ZEROS);
    let (low, high) = (first & u64::MAX << (128 - 8 * places as u32), last);
    // The half with the point moves up to close the gap, and takes a digit of the lower half along.
    let (low, high, decimals) = match without_point(high) {
        Some((joined, decimals)) => (low << 8, joined | low >> 56, decimals),
        None => {
            let (joined, decimals) = without_point(low)?;
            (joined, high, decimals + 8)
        }
    };
    Some((eight_digits(low)? * 100_000_000 + eight_digits(high)?) as f64 / TENS[decimals])
}

/// Places that hold digits, as numbers, and one point: the digits without the point, a 0 before them, and how many stand
/// behind it. None where there is no point.
#[inline(always)]
fn without_point(places: u64) -> Option<(u64, usize)> {
    let point = first_of(places, b'.' ^ b'0')? as u32;
    let whole = places & !(u64::MAX << (8 * point));
    let fraction = places & (u64::MAX << (8 * point)) << 8;
    Some((whole << 8 | fraction, 7 - point as usize))
}

/// The number that eight digits are, the first in the lowest byte; none if one of the bytes is no digit.
#[inline(always)]
fn eight_digits(digits: u64) -> Option<u64> {
    // A byte above 9 reaches the highest bit when 0x76 is added to it, or has it.
    if (((digits & !HIGH) + 0x76 * LOW) | digits) & HIGH != 0 {
        return None;
    }
    // Neighbours are joined to numbers of two, four, and eight digits: each factor adds a number times a power of ten to the
    // one above it, where what is shifted out below is of no use any more.
    let twos = (digits.wrapping_mul(10 << 8 | 1) >> 8) & 0x00FF_00FF_00FF_00FF;
    let fours = (twos.wrapping_mul(100 << 16 | 1) >> 16) & 0x0000_FFFF_0000_FFFF;
    Some(fours.wrapping_mul(10_000 << 32 | 1) >> 32)
}

/// A bit in each byte, the lowest and the highest.
const LOW: u64 = 0x0101_0101_0101_0101;
const HIGH: u64 = 0x8080_8080_8080_8080;

/// Eight digits 0.
const ZEROS: u64 = b'0' as u64 * LOW;

/// A number of digits with a point, perhaps a minus, of up to 19 digits: rounded twice, so to within one unit of the last
/// place, but much faster than by the strict rule. Its point is among the first eight places.
fn longer(bytes: &[u8]) -> Option<f64> {
    let (negative, places) = match bytes {
        [b'-', rest @ ..] => (true, rest),
        _ => (false, bytes),
    };
    let (eight, rest) = places.split_first_chunk::<8>()?;
    let (next, last) = rest.split_first_chunk::<8>()?;
    if !(1..=3).contains(&last.len()) {
        return None;
    }
    let (first, decimals) = without_point(u64::from_le_bytes(*eight) ^ ZEROS)?;
    let mut value = eight_digits(first)? * 100_000_000 + eight_digits(u64::from_le_bytes(*next) ^ ZEROS)?;
    for byte in last {
        value = value * 10 + u64::from(byte.checked_sub(b'0').filter(|digit| *digit <= 9)?);
    }
    let value = value as f64 / TENS[decimals + 8 + last.len()];
    Some(if negative { -value } else { value })
}

/// A number that later arithmetic can bear.
#[inline]
pub(super) fn believed(value: f64) -> Option<f64> {
    (value.abs() <= MAX_COORDINATE).then_some(value)
}

/// A whole number with blanks around it; `1.0` is one, `1.5` is not.
#[inline(never)]
pub(super) fn int(bytes: &[u8]) -> Option<i64> {
    let trimmed = bytes.trim_ascii();
    let (negative, digits) = match trimmed.first()? {
        b'-' => (true, &trimmed[1..]),
        b'+' => (false, &trimmed[1..]),
        _ => (false, trimmed),
    };
    if digits.is_empty() || digits.len() > 18 || !digits.iter().all(u8::is_ascii_digit) {
        return whole(real(trimmed, 0)?);
    }
    let value = digits.iter().fold(0_i64, |sum, digit| sum * 10 + i64::from(digit - b'0'));
    Some(if negative { -value } else { value })
}

/// A real that is a whole number.
pub(super) fn whole(value: f64) -> Option<i64> {
    (value.fract() == 0.0 && value.abs() < 9e15).then_some(value as i64)
}

/// A hexadecimal handle; 0 is none.
#[inline(always)]
pub(super) fn handle(bytes: &[u8]) -> Option<u64> {
    if bytes.len() > 16 {
        return odd_handle(bytes);
    }
    let (mut value, mut seen) = (0_u64, 0);
    for byte in bytes {
        let digit = HEXADECIMAL[usize::from(*byte)];
        seen |= digit;
        value = value << 4 | u64::from(digit);
    }
    if seen > 15 { odd_handle(bytes) } else { Some(value).filter(|value| *value != 0) }
}

/// What each byte stands for as a digit of a handle; more than 15 for one that is none.
static HEXADECIMAL: [u8; 256] = {
    let mut digits = [16; 256];
    let mut digit = 0;
    while digit < 16 {
        digits[b"0123456789ABCDEF"[digit] as usize] = digit as u8;
        digits[b"0123456789abcdef"[digit] as usize] = digit as u8;
        digit += 1;
    }
    digits
};

/// A handle with blanks around it or zeros in front.
#[inline(never)]
fn odd_handle(bytes: &[u8]) -> Option<u64> {
    let mut value = 0_u64;
    for byte in bytes.trim_ascii() {
        let digit = HEXADECIMAL[usize::from(*byte)];
        if digit > 15 || value >> 60 != 0 {
            return None;
        }
        value = value << 4 | u64::from(digit);
    }
    (value != 0).then_some(value)
}

#[cfg(test)]
mod tests {
    use super::*;

    /// A number as it stands in a file, with its group code before it.
    fn real(text: &str) -> Option<f64> {
        let file = format!("LINE\n330\n1F\n 10\n{text}");
        let in_file = super::real(file.as_bytes(), file.len() - text.len());
        // What stands before a number says nothing about it.
        assert_eq!(in_file.map(f64::to_bits), super::real(text.as_bytes(), 0).map(f64::to_bits), "{text}");
        in_file
    }

    #[test]
    fn only_plain_decimal_numbers_are_numbers() {
        // Each of these once passed a reader as 0, as infinity, or ended its list of entities.
        for bad in [
            "2,5", "", "  ", "1.5D0", "abc", "nan", "NaN", "inf", "-inf", "infinity", "1e400", "1.5 2",
            "0x10", "1e", "--1", "1_0",
        ] {
            assert_eq!(real(bad), None, "{bad}");
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
            assert_eq!(real(good), Some(value), "{good}");
        }
    }

    #[test]
    fn short_numbers_are_rounded_as_the_standard_library_rounds_them() {
        for text in ["0.1", "3.65", "-12.5", "1000.001", ".5", "5.", "-0.0", "123456789.012345", "0.000001"] {
            let ours = real(text).expect(text);
            assert_eq!(ours.to_bits(), text.parse::<f64>().expect(text).to_bits(), "{text}");
        }
        for text in [".", "-", "-.", "1.2.3", "1.23456789,1", "1.2345678x", "1.1234567:"] {
            assert_eq!(real(text), None, "{text}");
        }
    }

    proptest::proptest! {
        #[test]
        fn any_number_is_within_one_unit_of_the_last_place(value: f64) {
            let text = format!("{value:?}");
            let expected = Some(value).filter(|v| v.abs() <= MAX_COORDINATE);
            let ours = real(&text);
            match (ours, expected) {
                (Some(a), Some(b)) => proptest::prop_assert!((a - b).abs() <= b.abs() * f64::EPSILON),
                (a, b) => proptest::prop_assert_eq!(a, b),
            }
        }

        #[test]
        fn a_number_of_up_to_15_digits_is_rounded_as_the_standard_library_rounds_it(
            text in "-?[0-9]{0,15}",
            point in 0_usize..17,
            pointed: bool,
        ) {
            let mut text = text;
            if pointed {
                text.insert(point.min(text.len()).max(usize::from(text.starts_with('-'))), '.');
            }
            let expected = text.parse::<f64>().ok().map(f64::to_bits);
            proptest::prop_assert_eq!(real(&text).map(f64::to_bits), expected);
        }

        #[test]
        fn what_is_no_number_is_none(text in "[-+.0-9eE,:/ ]{1,18}") {
            // The standard library takes the same numbers, but for blanks around them.
            let expected = text.trim_ascii().parse::<f64>().ok().filter(|v| v.abs() <= MAX_COORDINATE);
            proptest::prop_assert_eq!(real(&text).is_some(), expected.is_some());
        }

        #[test]
        fn digits_with_a_point_are_within_one_unit_of_the_last_place(text in "-?[0-9]{0,12}\\.[0-9]{0,20}") {
            let ours = real(&text);
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
