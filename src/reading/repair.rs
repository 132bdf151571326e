//! Marks `NaN`, `Infinity` and numbers beyond the range of a double in text that failed to parse as JSON.
//!
//! Scripts write such tokens. They are faults, but one of them must not hide every other fault of the file.

/// Opens a marked string. A noncharacter, so that no text of a person begins with it by chance.
const MARK: char = '\u{fdd0}';

/// The text with each such token replaced by a marked string; none if there is no such token.
pub(super) fn with_marked_numbers(text: &str) -> Option<String> {
    let mut out = String::with_capacity(text.len() + 32);
    let mut found = false;
    let mut rest = text;
    while let Some(first) = rest.chars().next() {
        let length = match first {
            '"' => string_length(rest),
            c if starts_token(c) => rest.find(|c| !in_token(c)).unwrap_or(rest.len()),
            c => c.len_utf8(),
        };
        let (token, after) = rest.split_at(length);
        if starts_token(first) && is_no_finite_number(token) {
            out.extend(['"', MARK]);
            out.push_str(token);
            out.push('"');
            found = true;
        } else {
            out.push_str(token);
        }
        rest = after;
    }
    found.then_some(out)
}

/// The token that a marked string stands for; none for any other string.
pub(super) fn marked(text: &str) -> Option<&str> {
    text.strip_prefix(MARK).filter(|token| is_no_finite_number(token))
}

fn starts_token(c: char) -> bool {
    c.is_ascii_alphanumeric() || c == '-' || c == '+'
}

fn in_token(c: char) -> bool {
    starts_token(c) || c == '.'
}

fn is_no_finite_number(token: &str) -> bool {
    let bare = token.trim_start_matches(['-', '+']);
    matches!(bare, "NaN" | "nan" | "Infinity" | "infinity" | "inf" | "Inf")
        || (bare.starts_with(|c: char| c.is_ascii_digit())
            && token.parse::<f64>().is_ok_and(|value| value.is_infinite()))
}

/// Bytes of the JSON string that `text` starts with, quotes included; all of it if the string never ends.
fn string_length(text: &str) -> usize {
    let mut escaped = false;
    for (index, byte) in text.bytes().enumerate().skip(1) {
        match byte {
            _ if escaped => escaped = false,
            b'\\' => escaped = true,
            b'"' => return index + 1,
            _ => {}
        }
    }
    text.len()
}
