//! Pairs as the file at hand writes them: as text with its line ends, or binary. Knows nothing of what a pair means.

/// The form of the pairs of a file.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) enum Form<'a> {
    /// Text, with the bytes that end a line and whether letters beyond ASCII are UTF-8.
    Text { line_end: &'a [u8], utf8: bool },
    /// Binary, with group codes of two bytes or one.
    Binary { wide_codes: bool },
}

impl<'a> Form<'a> {
    /// That of a text file: its lines end as its first line does.
    pub(super) fn of_text(bytes: &'a [u8], utf8: bool) -> Form<'a> {
        let first = bytes.iter().position(|b| matches!(b, b'\r' | b'\n')).unwrap_or(bytes.len());
        let end = &bytes[first..];
        // A file that went through two conversions has two carriage returns before each line feed.
        let returns = end.iter().take_while(|b| **b == b'\r').count();
        let line_end = match (returns, end.get(returns)) {
            (_, Some(b'\n')) => &end[..=returns],
            (0, _) => b"\n",
            _ => b"\r",
        };
        Form::Text { line_end, utf8 }
    }
}

/// Pairs to be put in.
#[derive(Debug)]
pub(super) struct Pairs<'a> {
    form: Form<'a>,
    bytes: Vec<u8>,
}

impl<'a> Pairs<'a> {
    pub(super) fn new(form: Form<'a>) -> Self {
        Pairs { form, bytes: Vec::new() }
    }

    /// The pairs so far, which are begun anew.
    pub(super) fn take(&mut self) -> Vec<u8> {
        std::mem::take(&mut self.bytes)
    }

    /// A name or handle, in bytes of the file.
    pub(super) fn name(&mut self, code: i16, value: &[u8]) {
        match self.form {
            Form::Text { line_end, .. } => self.text_pair(code, value, line_end),
            Form::Binary { wide_codes } => {
                self.code(code, wide_codes);
                self.bytes.extend_from_slice(value);
                self.bytes.push(0);
            }
        }
    }

    /// A number with a fraction.
    pub(super) fn real(&mut self, code: i16, value: f64) {
        match self.form {
            Form::Text { line_end, .. } => self.text_pair(code, format!("{value:?}").as_bytes(), line_end),
            Form::Binary { wide_codes } => {
                self.code(code, wide_codes);
                self.bytes.extend_from_slice(&value.to_le_bytes());
            }
        }
    }

    /// A whole number of a group that has two bytes in a binary file.
    pub(super) fn int(&mut self, code: i16, value: i16) {
        match self.form {
            Form::Text { line_end, .. } => self.text_pair(code, value.to_string().as_bytes(), line_end),
            Form::Binary { wide_codes } => {
                self.code(code, wide_codes);
                self.bytes.extend_from_slice(&value.to_le_bytes());
            }
        }
    }

    /// Text to be read by people.
    pub(super) fn words(&mut self, code: i16, text: &str) {
        let utf8 = matches!(self.form, Form::Text { utf8: true, .. });
        self.name(code, encoded(text, utf8).as_bytes());
    }

    fn text_pair(&mut self, code: i16, value: &[u8], line_end: &[u8]) {
        self.bytes.extend_from_slice(format!("{code:>3}").as_bytes());
        self.bytes.extend_from_slice(line_end);
        self.bytes.extend_from_slice(value);
        self.bytes.extend_from_slice(line_end);
    }

    fn code(&mut self, code: i16, wide: bool) {
        let bytes = code.to_le_bytes();
        match u8::try_from(code) {
            Ok(one) if !wide && one != u8::MAX => self.bytes.push(one),
            _ if wide => self.bytes.extend_from_slice(&bytes),
            _ => self.bytes.extend_from_slice(&[u8::MAX, bytes[0], bytes[1]]),
        }
    }
}

/// A text in letters that every code page has, or in UTF-8; a letter beyond the Basic Multilingual Plane, which `\U+`
/// cannot name, by its number. A caret would begin a control code and gets a blank.
fn encoded(text: &str, utf8: bool) -> String {
    let mut out = String::with_capacity(text.len());
    for c in text.chars() {
        match u32::from(c) {
            0x5E => out.push_str("^ "),
            0..=0x7F => out.push(c),
            _ if utf8 => out.push(c),
            code @ 0x80..=0xFFFF => out.push_str(&format!("\\U+{code:04X}")),
            code => out.push_str(&format!("(U+{code:X})")),
        }
    }
    out
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn lines_end_as_the_first_one_does() {
        for (bytes, expected) in [
            ("  0\nSECTION\r\n", "\n"),
            ("  0\r\nSECTION\n", "\r\n"),
            ("  0\rSECTION\r", "\r"),
            ("\r  0\r", "\r"),
            ("  0\r\r\nSECTION\r\r\n", "\r\r\n"),
            ("  0", "\n"),
        ] {
            let Form::Text { line_end, .. } = Form::of_text(bytes.as_bytes(), false) else { panic!("text") };
            assert_eq!(line_end, expected.as_bytes(), "{bytes:?}");
        }
    }

    #[test]
    fn binary_codes_have_the_width_of_the_file() {
        // Group 330 is 0x014A, group 62 0x3E; 2.5 is 0x4004000000000000 (IEEE 754), the least byte first.
        let put = |wide_codes| {
            let mut pairs = Pairs::new(Form::Binary { wide_codes });
            pairs.name(330, b"1F");
            pairs.int(62, 1);
            pairs.real(40, 2.5);
            pairs.take()
        };
        assert_eq!(put(true), b"\x4a\x011F\0\x3e\0\x01\0\x28\0\0\0\0\0\0\0\x04\x40");
        assert_eq!(put(false), b"\xff\x4a\x011F\0\x3e\x01\0\x28\0\0\0\0\0\0\x04\x40");
    }
}
