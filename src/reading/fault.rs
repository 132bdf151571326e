//! One fault in a file that a person wrote, with its place.

use std::fmt;

/// One fault in a file that a person wrote.
#[derive(Debug, Clone, PartialEq, Eq, PartialOrd, Ord)]
pub struct Fault {
    /// The file.
    pub file: String,
    /// JSON pointer of the value (RFC 6901), empty for the whole file. For a missing key, where it should stand.
    pub pointer: String,
    /// What was found, and what was expected.
    pub message: String,
}

impl Fault {
    /// A fault of the file as a whole.
    pub fn whole(file: &str, message: impl Into<String>) -> Self {
        Fault { file: file.to_owned(), pointer: String::new(), message: message.into() }
    }
}

impl fmt::Display for Fault {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{}: ", Plain(&self.file))?;
        if !self.pointer.is_empty() {
            write!(f, "{}: ", Plain(&self.pointer))?;
        }
        write!(f, "{}", Plain(&self.message))
    }
}

/// One token of a JSON pointer, with `~` and `/` escaped as RFC 6901 asks.
pub fn pointer_token(key: &str) -> String {
    key.replace('~', "~0").replace('/', "~1")
}

/// Text for a terminal: control characters and direction marks from a file are shown, not obeyed.
struct Plain<'a>(&'a str);

impl fmt::Display for Plain<'_> {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        for c in self.0.chars() {
            let steers = c.is_control()
                || matches!(c, '\u{200e}' | '\u{200f}' | '\u{202a}'..='\u{202e}' | '\u{2066}'..='\u{2069}');
            if steers {
                write!(f, "{}", c.escape_unicode())?;
            } else {
                write!(f, "{c}")?;
            }
        }
        Ok(())
    }
}
