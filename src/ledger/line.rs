//! The lines of a ledger as they are written, and what of them is looked at to know which count.

use std::borrow::Cow;

use serde::{Deserialize, Serialize};

use super::Entry;

/// Version of the format.
pub(super) const FORMAT: u32 = 1;

/// The first line.
#[derive(Debug, Serialize, Deserialize)]
pub(super) struct Head {
    /// Names the format, and its version.
    pub(super) boreband_ledger: u32,
}

/// A drawing that is not there any more.
#[derive(Debug, Serialize, Deserialize)]
struct Gone<'a> {
    #[serde(borrow)]
    gone: Cow<'a, str>,
}

/// What tells whether a drawing's line still holds.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Known {
    /// The first half of the digest of the file's bytes; 0 if it could not be opened.
    pub content: u128,
    /// The digest of all else that the result rests on.
    pub inputs: u128,
}

impl Known {
    /// Whether the file's content is this.
    pub fn content_is(&self, bytes: &[u8]) -> bool {
        let digest = blake3::hash(bytes);
        let first = digest.as_bytes().first_chunk::<16>();
        self.content != 0 && first.is_some_and(|first| u128::from_be_bytes(*first) == self.content)
    }

    /// Whether the file's content has this digest, as reports write it.
    pub fn digest_is(&self, text: &str) -> bool {
        self.content != 0 && content(text) == Some(self.content)
    }

    /// Whether all else is that of this digest.
    pub fn inputs_are(&self, text: &str) -> bool {
        digest(text) == Some(self.inputs)
    }
}

/// The part of an entry that is looked at first; the rest of the line is passed over.
#[derive(Debug, Deserialize)]
struct Outline<'a> {
    #[serde(borrow)]
    path: Cow<'a, str>,
    #[serde(borrow)]
    digest: Cow<'a, str>,
    #[serde(borrow)]
    inputs: Cow<'a, str>,
}

/// A line, looked at.
#[derive(Debug, PartialEq)]
pub(super) enum Line<'a> {
    /// The result of a drawing.
    Entry(Cow<'a, str>, Known),
    /// A drawing that is not there any more.
    Gone(Cow<'a, str>),
}

/// Looks at a line behind the first; none if it is damaged.
pub(super) fn look(line: &[u8]) -> Option<Line<'_>> {
    if line.starts_with(br#"{"gone""#) {
        return serde_json::from_slice::<Gone<'_>>(line).ok().map(|gone| Line::Gone(gone.gone));
    }
    let outline: Outline<'_> = serde_json::from_slice(line).ok()?;
    let known = Known { content: content(&outline.digest)?, inputs: digest(&outline.inputs)? };
    Some(Line::Entry(outline.path, known))
}

/// The first half of a content digest as reports write it.
pub(super) fn content(digest_text: &str) -> Option<u128> {
    match digest_text {
        "" => Some(0),
        text => digest(text.strip_prefix("blake3:")?.get(..32)?),
    }
}

/// 32 hexadecimal digits.
fn digest(text: &str) -> Option<u128> {
    (text.len() == 32).then(|| u128::from_str_radix(text, 16).ok())?
}

/// The first line of a new ledger, with its line feed.
pub(super) fn head() -> Vec<u8> {
    with_feed(&Head { boreband_ledger: FORMAT })
}

/// The line of a drawing.
pub(super) fn entry(entry: &Entry) -> Vec<u8> {
    with_feed(entry)
}

/// The line that says that a drawing is not there any more.
pub(super) fn gone(path: &str) -> Vec<u8> {
    with_feed(&Gone { gone: Cow::Borrowed(path) })
}

/// A value that cannot fail to be written, as a line.
fn with_feed(value: &impl Serialize) -> Vec<u8> {
    let mut line = serde_json::to_vec(value).unwrap_or_default();
    line.push(b'\n');
    line
}
