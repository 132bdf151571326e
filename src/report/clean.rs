//! Makes text that comes from drawings and file names safe to show: nothing in it may move the cursor, change
//! colours, break a line or turn the reading direction. It does not shorten or translate.

use std::borrow::Cow;
use std::fmt::Write as _;

/// The text on one line, with every control character written out: `\n`, `\t`, `\x1b`, `\u{202e}`.
///
/// A backslash of the text itself stays as it is, so that Windows paths can be copied.
pub fn visible(text: &str) -> Cow<'_, str> {
    if is_plain(text) || !text.chars().any(is_live) {
        return Cow::Borrowed(text);
    }
    let mut out = String::with_capacity(text.len() + 16);
    for c in text.chars() {
        match c {
            '\n' => out.push_str("\\n"),
            '\r' => out.push_str("\\r"),
            '\t' => out.push_str("\\t"),
            c if is_live(c) && u32::from(c) < 0x100 => {
                let _ = write!(out, "\\x{:02x}", u32::from(c));
            }
            c if is_live(c) => {
                let _ = write!(out, "\\u{{{:x}}}", u32::from(c));
            }
            c => out.push(c),
        }
    }
    Cow::Owned(out)
}

/// A callout or message for reading: its own line breaks and tabs become blanks, the rest is as [`visible`].
pub fn flowing(text: &str) -> Cow<'_, str> {
    const BREAKS: [char; 3] = ['\n', '\r', '\t'];
    if memchr::memchr3(b'\n', b'\r', b'\t', text.as_bytes()).is_none() {
        return visible(text.trim());
    }
    let joined = text.split(BREAKS).map(str::trim).filter(|s| !s.is_empty());
    visible(&joined.collect::<Vec<_>>().join(" ")).into_owned().into()
}

/// Whether all bytes are of letters and signs among which no character is live: of ASCII, and of what two bytes from
/// U+00A0 on stand for. Looks at every byte, since that is faster than to stop at the first other one.
fn is_plain(text: &str) -> bool {
    let plain = |b: u8| matches!(b, b' '..=b'~' | 0x80..=0xbf | 0xc2..=0xd7);
    text.bytes().fold(true, |all, b| all & plain(b)) && !has_upper_control(text)
}

/// Whether a control character of U+0080 to U+009F is among characters of one or two bytes: the signs `±` and `°` begin
/// with the same byte.
fn has_upper_control(text: &str) -> bool {
    let bytes = text.as_bytes();
    memchr::memchr_iter(0xc2, bytes).any(|at| bytes.get(at + 1).is_some_and(|second| *second < 0xa0))
}

/// Whether a character acts instead of showing: controls, bidirectional controls, line separators, the invisible
/// characters that make two names look alike, and the two that are none and that XML refuses.
pub fn is_live(c: char) -> bool {
    // Most letters need no look at the list.
    if c < '\u{61c}' {
        return c.is_control();
    }
    c.is_control()
        || matches!(c,
            '\u{061c}' | '\u{200b}'..='\u{200f}' | '\u{2028}'..='\u{202e}' | '\u{2060}'..='\u{206f}'
            | '\u{feff}' | '\u{fff9}'..='\u{fffb}' | '\u{fffe}' | '\u{ffff}' | '\u{e0000}'..='\u{e007f}')
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn controls_are_written_out() {
        assert_eq!(visible("a\x1b[31mb\u{9b}c\x7f"), "a\\x1b[31mb\\x9bc\\x7f");
        assert_eq!(visible("lid\n.dxf\t\r"), "lid\\n.dxf\\t\\r");
        assert_eq!(visible("abc\u{202e}fxd.\u{2066}"), "abc\\u{202e}fxd.\\u{2066}");
    }

    #[test]
    fn ordinary_text_is_untouched() {
        for text in ["C:\\parts\\lid.dxf", "4X Ø3.65 ±0.05 ↧12", "Bohrung für Gewinde", "穴 3.65"] {
            assert_eq!(visible(text), text);
        }
    }

    #[test]
    fn no_plain_text_has_a_live_character() {
        let plain = |c: &char| is_plain(&c.to_string());
        assert!(('\0'..=char::MAX).filter(plain).all(|c| !is_live(c)));
        assert!(is_plain("4X Ø3.65 ±0.05 90°") && !is_plain("a\tb") && !is_plain("±\u{9b}"));
    }

    #[test]
    fn line_breaks_of_a_callout_flow() {
        assert_eq!(flowing("4X Ø3.3\n+0.05/-0\r\n\tTHRU"), "4X Ø3.3 +0.05/-0 THRU");
        assert_eq!(flowing("a\x1b[2Jb"), "a\\x1b[2Jb");
    }
}
