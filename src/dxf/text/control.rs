//! Control codes that all text carriers share: `%%` codes, `\U+XXXX`, `\M+nXXXX` and caret codes.

use std::borrow::Cow;

use super::codepage::multibyte;
use super::symbols::symbol;

/// A single-line text (TEXT, ATTRIB) decoded.
pub(in crate::dxf) fn plain_text(raw: &str, symbol_font: bool) -> String {
    let mut out = String::with_capacity(raw.len());
    let mut rest = raw;
    loop {
        rest = plain_run(rest, symbol_font, b"%\\^", &mut out);
        let Some(c) = rest.chars().next() else {
            return out;
        };
        if let Some((letters, length)) = control_code(rest) {
            out.push_str(&letters);
            rest = &rest[length..];
        } else if let Some((letter, length)) = caret_code(rest) {
            out.extend(letter);
            rest = &rest[length..];
        } else {
            out.push(if symbol_font { symbol(c) } else { c });
            rest = &rest[c.len_utf8()..];
        }
    }
}

/// Copies the letters up to the next one that may begin a code, which are most of a text; what is left. Nothing in a
/// symbol font, where each letter draws another.
pub(super) fn plain_run<'t>(rest: &'t str, symbol_font: bool, codes: &[u8], out: &mut String) -> &'t str {
    if symbol_font {
        return rest;
    }
    let end = rest.bytes().position(|b| codes.contains(&b)).unwrap_or(rest.len());
    // The codes are ASCII, so that a letter begins at each.
    let (run, left) = rest.split_at_checked(end).unwrap_or(("", rest));
    out.push_str(run);
    left
}

/// The control code at the start of `rest`: what it draws and its length in bytes.
pub(super) fn control_code(rest: &str) -> Option<(Cow<'static, str>, usize)> {
    let bytes = rest.as_bytes();
    match bytes.first()? {
        b'%' if bytes.get(1) == Some(&b'%') => percent_code(bytes),
        b'\\' => {
            unicode_code(bytes).or_else(|| multibyte_code(bytes)).map(|(text, length)| (text.into(), length))
        }
        _ => None,
    }
}

/// `%%c`, `%%d`, `%%p`, `%%u`, `%%o`, `%%k`, `%%%` and `%%nnn` with exactly three digits.
fn percent_code(bytes: &[u8]) -> Option<(Cow<'static, str>, usize)> {
    let code = *bytes.get(2)?;
    let text = match code.to_ascii_lowercase() {
        b'c' => "Ø",
        b'd' => "°",
        b'p' => "±",
        b'u' | b'o' | b'k' => "",
        b'%' => "%",
        b'0'..=b'9' => {
            let digits = bytes.get(2..5)?;
            if !digits.iter().all(u8::is_ascii_digit) {
                return None;
            }
            let number = digits.iter().fold(0_u32, |sum, d| sum * 10 + u32::from(d - b'0'));
            return Some((numbered(number)?.into(), 5));
        }
        _ => return None,
    };
    Some((text.into(), 3))
}

/// What `%%nnn` draws. 127, 128 and 129 are the degree, plus-minus and diameter signs of the old stroke fonts.
fn numbered(number: u32) -> Option<String> {
    let letter = match number {
        127 => '°',
        128 => '±',
        129 => 'Ø',
        0..=31 => return Some(String::new()),
        130..=159 => {
            let byte = [u8::try_from(number).ok()?];
            return Some(encoding_rs::WINDOWS_1252.decode(&byte).0.into_owned());
        }
        160..=255 | 32..=126 => char::from_u32(number)?,
        _ => return None,
    };
    Some(letter.to_string())
}

/// `\U+XXXX` with exactly four hexadecimal digits: `\U+220519` is `∅19`.
fn unicode_code(bytes: &[u8]) -> Option<(String, usize)> {
    if !bytes.get(1)?.eq_ignore_ascii_case(&b'U') || *bytes.get(2)? != b'+' {
        return None;
    }
    let unit = hex4(bytes.get(3..7)?)?;
    if let Some(letter) = char::from_u32(unit) {
        return Some((letter.to_string(), 7));
    }
    // A pair of surrogates stands for one letter above U+FFFF.
    let second = bytes.get(7..14)?;
    if second[0] == b'\\' && second[1].eq_ignore_ascii_case(&b'U') && second[2] == b'+' {
        let low = hex4(&second[3..7])?;
        let units = [u16::try_from(unit).ok()?, u16::try_from(low).ok()?];
        return String::from_utf16(&units).ok().map(|text| (text, 14));
    }
    None
}

/// `\M+nXXXX`: code page `n`, then its two bytes.
fn multibyte_code(bytes: &[u8]) -> Option<(String, usize)> {
    if !bytes.get(1)?.eq_ignore_ascii_case(&b'M') || *bytes.get(2)? != b'+' {
        return None;
    }
    let page = bytes.get(3)?.checked_sub(b'0')?;
    let code = u16::try_from(hex4(bytes.get(4..8)?)?).ok()?;
    multibyte(page, code).map(|text| (text, 8))
}

fn hex4(digits: &[u8]) -> Option<u32> {
    digits.iter().try_fold(0, |sum, d| char::from(*d).to_digit(16).map(|v| sum * 16 + v))
}

/// `^I` (tab), `^J` (line end), `^M` (nothing), `^ ` (a caret); what other carets stand for draws nothing
/// and is left as written.
pub(super) fn caret_code(rest: &str) -> Option<(Option<char>, usize)> {
    let mut chars = rest.chars();
    if chars.next() != Some('^') {
        return None;
    }
    match chars.next()? {
        'I' => Some((Some('\t'), 2)),
        'J' => Some((Some('\n'), 2)),
        'M' => Some((None, 2)),
        ' ' => Some((Some('^'), 2)),
        _ => None,
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn percent_codes() {
        for (raw, text) in [
            ("%%c3.65", "Ø3.65"),
            ("%%C3.65 %%p0.05", "Ø3.65 ±0.05"),
            ("90%%d", "90°"),
            // Exactly three digits belong to the code: this is Ø2.0000, met in real drawings.
            ("%%1292.0000", "Ø2.0000"),
            ("%%uNOTES%%u", "NOTES"),
            ("50%%%", "50%"),
            ("%%065", "A"),
            ("%%12", "%%12"),
            ("100%", "100%"),
            ("%%", "%%"),
            ("%%é", "%%é"),
        ] {
            assert_eq!(plain_text(raw, false), text, "{raw}");
        }
    }

    #[test]
    fn exactly_four_hexadecimal_digits_follow_u_plus() {
        // Both met in real drawings.
        assert_eq!(plain_text("\\U+220519", false), "∅19");
        assert_eq!(plain_text("\\U+22052.3794", false), "∅2.3794");
        assert_eq!(plain_text("\\U+00d8\\U+2300", false), "Ø⌀");
        assert_eq!(plain_text("\\U+22", false), "\\U+22");
        assert_eq!(plain_text("\\U+D83D\\U+DD29", false), "🔩");
    }

    #[test]
    fn multibyte_and_caret_codes() {
        assert_eq!(plain_text("\\M+18C8A", false), "穴");
        assert_eq!(plain_text("A^JB^IC^ D", false), "A\nB\tC^D");
        assert_eq!(plain_text("2^3", false), "2^3");
    }

    #[test]
    fn a_symbol_font_draws_symbols() {
        assert_eq!(plain_text("n3.6 x12", true), "Ø3.6 ↧12");
        assert_eq!(plain_text("v w", true), "⌴ ⌵");
    }
}
