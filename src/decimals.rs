//! Numbers with a fixed count of decimals, digit for digit as the standard library writes them, at a fraction of its
//! cost: messages and reports are full of them. Knows no units and no signs of the trade.

use std::fmt::Write as _;

/// Numbers below this, times their power of ten, are written here.
const MOST: f64 = 1e9;

/// So near to the middle between two last digits only the exact value tells which of them is right. A product below
/// [`MOST`] is off by less than 1.2e-7.
const DOUBT: f64 = 1e-6;

const POWERS: [f64; 7] = [1.0, 10.0, 100.0, 1e3, 1e4, 1e5, 1e6];

/// `value` with exactly `places` decimals, as `format!("{value:.places$}")` writes it.
///
/// ```
/// assert_eq!(boreband::decimals::fixed(3.6363, 3), "3.636");
/// assert_eq!(boreband::decimals::fixed(-0.0001, 3), "-0.000");
/// ```
pub fn fixed(value: f64, places: usize) -> String {
    let mut text = String::with_capacity(places + 8);
    push_fixed(&mut text, value, places);
    text
}

/// Puts `value` behind `out` as [`fixed`] writes it.
pub fn push_fixed(out: &mut String, value: f64, places: usize) {
    match in_last_digits(value, places) {
        Some(whole) => {
            if value.is_sign_negative() {
                out.push('-');
            }
            push_digits(out, whole, places);
        }
        None => {
            // A string takes all that is written to it.
            let _ = write!(out, "{value:.places$}");
        }
    }
}

/// `value` with at most `places` decimals and no needless zeros. A negative zero keeps its sign.
///
/// ```
/// assert_eq!(boreband::decimals::trimmed(1.50, 3), "1.5");
/// assert_eq!(boreband::decimals::trimmed(20.0, 3), "20");
/// ```
pub fn trimmed(value: f64, places: usize) -> String {
    let mut text = String::with_capacity(places + 8);
    push_trimmed(&mut text, value, places);
    text
}

/// Puts `value` behind `out` as [`trimmed`] writes it.
pub fn push_trimmed(out: &mut String, value: f64, places: usize) {
    let start = out.len();
    push_fixed(out, value, places);
    let text = &out[start..];
    if text.contains('.') {
        let kept = text.trim_end_matches('0').trim_end_matches('.').len();
        out.truncate(start + kept);
    }
}

/// The magnitude in units of the last decimal, rounded; none where that is too large or too near to a tie to be sure.
fn in_last_digits(value: f64, places: usize) -> Option<u64> {
    let scaled = value.abs() * POWERS.get(places)?;
    let whole = scaled as u64;
    let rest = scaled - whole as f64;
    // Neither holds for what is no number.
    (scaled < MOST && (rest - 0.5).abs() > DOUBT).then(|| whole + u64::from(rest > 0.5))
}

/// Puts the digits of a number in units of its last decimal, with the point before the last `places` of them.
fn push_digits(out: &mut String, mut whole: u64, places: usize) {
    // Nine digits of the number, or a zero before six decimals, and the point.
    let mut digits = [b'0'; 12];
    let mut first = digits.len();
    let mut written = 0;
    while whole > 0 || written <= places {
        if written == places && places > 0 {
            first -= 1;
            digits[first] = b'.';
        }
        first -= 1;
        digits[first] = b'0' + (whole % 10) as u8;
        whole /= 10;
        written += 1;
    }
    // Digits and a point are ASCII.
    out.push_str(std::str::from_utf8(&digits[first..]).unwrap_or_default());
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    /// What the standard library writes.
    fn plain(value: f64, places: usize) -> String {
        format!("{value:.places$}")
    }

    #[test]
    fn ties_and_odd_numbers_are_written_as_the_standard_library_does() {
        let values = [
            0.0,
            -0.0,
            0.5,
            1.5,
            2.5,
            0.125,
            0.375,
            0.0005,
            1.0005,
            2.675,
            0.1 + 0.2,
            999.9995,
            999_999_999.0,
            1e9,
            1e300,
            5e-324,
            0.049_999_999_999_999_99,
            9.999_999_5,
            f64::INFINITY,
            f64::NAN,
        ];
        for value in values.into_iter().flat_map(|v| [v, -v]) {
            for places in 0..9 {
                assert_eq!(fixed(value, places), plain(value, places), "{value:e} with {places}");
            }
        }
    }

    #[test]
    fn needless_zeros_go_and_whole_numbers_stay() {
        for (value, text) in [(1.5, "1.5"), (100.0, "100"), (0.0004, "0"), (12.34, "12.34"), (-2.0, "-2")] {
            assert_eq!(trimmed(value, 3), text);
        }
        assert_eq!(trimmed(100.0, 0), "100");
    }

    proptest! {
        #[test]
        fn any_number_is_written_as_the_standard_library_does(value in -2000.0..2000.0f64, places in 0..8usize) {
            prop_assert_eq!(fixed(value, places), plain(value, places));
        }

        #[test]
        fn numbers_of_few_digits_too(whole in -9_999_999i64..9_999_999, scale in 0..7usize, places in 0..8usize) {
            // Many of these are as near to a tie as a double can be.
            let value = whole as f64 / POWERS[scale];
            prop_assert_eq!(fixed(value, places), plain(value, places));
        }

        #[test]
        fn whatever_its_size(bits in any::<u64>(), places in 0..8usize) {
            let value = f64::from_bits(bits);
            prop_assert_eq!(fixed(value, places), plain(value, places));
        }
    }
}
