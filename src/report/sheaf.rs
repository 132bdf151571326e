//! Reports written drawing by drawing as results come, in any order, and bound together in theirs: only what the forms
//! show of a drawing is kept, and the sums over all.

use std::io::{self, Write};
use std::sync::{Mutex, PoisonError};

use super::spool::{Piece, Spool};
use super::text::{Look, Tally};
use super::{csv, html, json, junit, lines, sarif, text, xlsx};
use crate::check::{DrawingResult, Report};
use crate::finding::Level;

/// A form of report.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Form {
    /// Text for people.
    Text(Look),
    /// JSON.
    Json,
    /// One finding a line.
    Lines,
    /// Comma-separated values.
    Csv,
    /// JUnit XML; a finding of this level or above is a failure.
    JUnit(Option<Level>),
    /// SARIF 2.1.0.
    Sarif,
    /// A workbook.
    Xlsx,
    /// One HTML file.
    Html,
}

/// What was written of the drawings so far, in each form. Shared by all threads.
#[derive(Debug)]
pub struct Sheaf {
    forms: Vec<Form>,
    state: Mutex<State>,
}

/// Where a drawing is kept in each form.
#[derive(Debug, Clone)]
pub struct Leaf(Box<[Piece]>);

#[derive(Debug, Default)]
struct State {
    spool: Spool,
    tally: Tally,
}

impl Sheaf {
    /// Nothing yet.
    pub fn new(forms: Vec<Form>) -> Sheaf {
        Sheaf { forms, state: Mutex::default() }
    }

    /// Writes one drawing in each form, counts it, and keeps what was written.
    ///
    /// # Errors
    /// If it cannot be put into a form.
    pub fn add(&self, drawing: &DrawingResult) -> io::Result<Leaf> {
        // Enough for most drawings in most forms, so that it seldom has to grow.
        let mut bytes = Vec::with_capacity(1 << 14);
        let mut ends = Vec::with_capacity(self.forms.len());
        for form in &self.forms {
            form.drawing(drawing, &mut bytes)?;
            ends.push(bytes.len());
        }
        let mut state = self.state.lock().unwrap_or_else(PoisonError::into_inner);
        state.tally.add(drawing);
        let mut start = 0;
        let pieces = ends.into_iter().map(|end| {
            let piece = state.spool.keep(&bytes[start..end]);
            start = end;
            piece
        });
        Ok(Leaf(pieces.collect()))
    }

    /// The sums over all drawings so far.
    pub fn tally(&mut self) -> &Tally {
        &self.state.get_mut().unwrap_or_else(PoisonError::into_inner).tally
    }

    /// Writes the report of the drawings that `leaves` are of, in their order, in the form that was given as the
    /// `nth`.
    ///
    /// # Errors
    /// Those of the writer, and of the temporary file that a large report was kept in.
    pub fn write(&mut self, nth: usize, leaves: &[Leaf], out: &mut dyn Write) -> io::Result<()> {
        let Some(form) = self.forms.get(nth) else { return Ok(()) };
        let State { spool, tally } = self.state.get_mut().unwrap_or_else(PoisonError::into_inner);
        let pieces = leaves.iter().filter_map(|leaf| leaf.0.get(nth).copied());
        let mut shown = pieces.clone().filter(|piece| !piece.is_empty());
        let frame = Report { totals: tally.totals, ..Report::of(Vec::new()) };
        let totals = &tally.totals;
        match *form {
            Form::Json => {
                json::frame(&frame, json::DRAWING_DEPTH, pieces, out, |piece, out| spool.write(piece, out))
            }
            Form::Lines => shown.try_for_each(|piece| spool.write(piece, out)),
            Form::Text(look) => {
                shown.try_for_each(|piece| spool.write(piece, out))?;
                text::summary(tally, &look, out)
            }
            Form::Csv => {
                csv::header(out)?;
                shown.try_for_each(|piece| spool.write(piece, out))
            }
            Form::JUnit(_) => {
                junit::begin(out)?;
                shown.try_for_each(|piece| spool.write(piece, out))?;
                junit::end(out)
            }
            Form::Sarif => {
                let log = sarif::frame(&frame.tool, totals);
                json::frame(&log, sarif::RESULT_DEPTH, shown, out, |piece, out| spool.write(piece, out))
            }
            Form::Html => {
                let pieces: Vec<Piece> = pieces.collect();
                let piece = |nth| pieces.get(nth).map_or(Ok(Vec::new()), |piece| bytes(spool, *piece));
                html::write(&frame.tool, tally, pieces.len(), piece, out)
            }
            Form::Xlsx => xlsx::write((&frame.tool, totals), pieces.map(|piece| kept(spool, piece)), out),
        }
    }
}

impl Form {
    /// Whether it shows the digests of drawings.
    pub const fn states_digests(self) -> bool {
        matches!(self, Form::Json | Form::Csv | Form::Xlsx)
    }

    /// Writes what the form keeps of one drawing.
    fn drawing(self, drawing: &DrawingResult, out: &mut dyn Write) -> io::Result<()> {
        match self {
            Form::Text(look) => text::drawing(drawing, &look, out),
            Form::Json => json::item(drawing, json::DRAWING_DEPTH, out),
            Form::Lines => lines::drawing(drawing, out),
            Form::Csv => csv::drawing(drawing, out),
            Form::JUnit(fail_on) => junit::drawing(drawing, fail_on, out),
            Form::Sarif => sarif::drawing(drawing, out),
            Form::Html => html::drawing(drawing, out),
            Form::Xlsx => serde_json::to_writer(out, drawing).map_err(io::Error::from),
        }
    }
}

/// A drawing that was kept as a value.
fn kept(spool: &mut Spool, piece: Piece) -> io::Result<DrawingResult> {
    serde_json::from_slice(&bytes(spool, piece)?).map_err(io::Error::from)
}

fn bytes(spool: &mut Spool, piece: Piece) -> io::Result<Vec<u8>> {
    let mut bytes = Vec::new();
    spool.write(piece, &mut bytes)?;
    Ok(bytes)
}
