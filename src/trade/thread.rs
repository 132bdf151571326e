//! Screw threads: designation to basic major diameter and pitch.

use crate::units::{Length, Unit};

/// A screw thread of the 60° ISO / Unified basic profile.
#[derive(Debug, Clone, PartialEq)]
pub struct Thread {
    /// Canonical designation: `M4`, `M5x0.5`, `8-32`, `1/4-20`.
    pub name: String,
    /// Basic major diameter.
    pub major: Length,
    /// Pitch.
    pub pitch: Length,
    /// The unit that the designation is written in; bare lengths beside the thread take it.
    pub unit: Unit,
}

/// A thread designation that could not be read.
#[derive(Debug, Clone, PartialEq, thiserror::Error)]
#[error("'{given}' is no thread: {expected}")]
pub struct ThreadError {
    /// What was given.
    pub given: String,
    /// What was expected.
    pub expected: String,
}

impl Thread {
    /// Reads `M4`, `M4x0.7`, `1/4-20`, `.250-20`, `#8-32`, `8-32`, `10-24 UNC`.
    ///
    /// # Errors
    /// [`ThreadError`] that says what was expected.
    pub fn parse(text: &str) -> Result<Thread, ThreadError> {
        Err(ThreadError { given: text.to_owned(), expected: "M4, M4x0.7, 1/4-20, #8-32".to_owned() })
    }
}
