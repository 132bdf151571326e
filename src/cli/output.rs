//! The way out: results to standard output, complaints to standard error. A closed pipe is no error.

use std::fmt::Display;
use std::io::{self, BufWriter, ErrorKind, Write};

use crate::report::clean::visible;

/// Why the work could not be done: one complaint a line. Ends with exit code 2.
#[derive(Debug, Default)]
pub(super) struct Refused {
    lines: Vec<String>,
}

impl Refused {
    /// One complaint.
    pub(super) fn because(line: impl Display) -> Self {
        Refused { lines: vec![line.to_string()] }
    }

    /// Several complaints.
    pub(super) fn all<T: Display>(lines: impl IntoIterator<Item = T>) -> Self {
        Refused { lines: lines.into_iter().map(|l| l.to_string()).collect() }
    }

    /// Adds complaints.
    pub(super) fn add<T: Display>(&mut self, lines: impl IntoIterator<Item = T>) {
        self.lines.extend(lines.into_iter().map(|l| l.to_string()));
    }

    /// The complaints.
    pub(super) fn lines(self) -> Vec<String> {
        self.lines
    }

    /// The value, or nothing once its complaints are added to these.
    pub(super) fn unless<T>(&mut self, outcome: Result<T, Refused>) -> Option<T> {
        outcome.map_err(|other| self.lines.extend(other.lines)).ok()
    }

    /// Nothing to complain about is success.
    pub(super) fn or_ok(self) -> Result<(), Refused> {
        if self.lines.is_empty() { Ok(()) } else { Err(self) }
    }

    /// Writes them to standard error.
    pub(super) fn complain(&self) {
        tell(&self.lines);
    }
}

/// Writes lines to standard error. If that cannot be written to, nothing is left to be done.
pub(super) fn tell<T: Display>(lines: impl IntoIterator<Item = T>) {
    let mut err = io::stderr().lock();
    for line in lines {
        let _ = writeln!(err, "boreband: {}", visible(&line.to_string()));
    }
}

/// Writes a result to standard output.
///
/// # Errors
/// [`Refused`] if it cannot be written, unless because nobody reads on.
pub(super) fn result(write: impl FnOnce(&mut dyn Write) -> io::Result<()>) -> Result<(), Refused> {
    let mut out = BufWriter::with_capacity(1 << 16, io::stdout().lock());
    match write(&mut out).and_then(|()| out.flush()) {
        Err(e) if e.kind() != ErrorKind::BrokenPipe => {
            Err(Refused::because(format!("standard output could not be written: {e}")))
        }
        _ => {
            // What is left in the buffer after a closed pipe has no reader.
            let _ = out.into_parts();
            Ok(())
        }
    }
}
