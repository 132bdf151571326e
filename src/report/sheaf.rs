//! A report written drawing by drawing as results come, in any order, and bound together in theirs: only what the form
//! shows of a drawing is kept, and the sums over all.

use std::io::{self, Write};
use std::sync::{Mutex, PoisonError};

use super::spool::{Piece, Spool};
use super::text::{Look, Tally};
use super::{json, lines, text};
use crate::check::{DrawingResult, Report, Totals};

/// A form of report that is made of what it shows of each drawing.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Form {
    /// Text for people.
    Text(Look),
    /// JSON.
    Json,
    /// One finding a line.
    Lines,
}

/// What was written of the drawings so far. Shared by all threads.
#[derive(Debug)]
pub struct Sheaf {
    form: Form,
    state: Mutex<State>,
}

#[derive(Debug, Default)]
struct State {
    spool: Spool,
    tally: Tally,
}

impl Sheaf {
    /// Nothing yet.
    pub fn new(form: Form) -> Sheaf {
        Sheaf { form, state: Mutex::default() }
    }

    /// Writes one drawing, counts it, and keeps what was written.
    ///
    /// # Errors
    /// If it cannot be put into this form.
    pub fn add(&self, drawing: &DrawingResult) -> io::Result<Piece> {
        let mut bytes = Vec::new();
        match self.form {
            Form::Text(look) => text::drawing(drawing, &look, &mut bytes)?,
            Form::Json => json::drawing(drawing, &mut bytes)?,
            Form::Lines => lines::drawing(drawing, &mut bytes)?,
        }
        let mut state = self.state.lock().unwrap_or_else(PoisonError::into_inner);
        state.tally.add(drawing);
        Ok(state.spool.keep(&bytes))
    }

    /// The sums over all drawings so far.
    pub fn totals(&self) -> Totals {
        self.state.lock().unwrap_or_else(PoisonError::into_inner).tally.totals
    }

    /// Writes the report of the drawings that `pieces` are of, in their order.
    ///
    /// # Errors
    /// Those of the writer, and of the temporary file that a large report was kept in.
    pub fn write(self, pieces: &[Piece], out: &mut dyn Write) -> io::Result<()> {
        let State { mut spool, tally } = self.state.into_inner().unwrap_or_else(PoisonError::into_inner);
        match self.form {
            Form::Json => {
                let frame = Report { totals: tally.totals, ..Report::of(Vec::new()) };
                json::frame(&frame, pieces.iter(), out, |&piece, out| spool.write(piece, out))
            }
            Form::Lines => pieces.iter().try_for_each(|&piece| spool.write(piece, out)),
            Form::Text(look) => {
                let mut shown = pieces.iter().filter(|piece| !piece.is_empty());
                shown.try_for_each(|&piece| spool.write(piece, out))?;
                text::summary(&tally, &look, out)
            }
        }
    }
}
