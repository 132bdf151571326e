//! What tapped holes could become and what that saves, as text, JSON and CSV. Written drawing by drawing as results come
//! and bound together by rank, so that of each drawing only its bytes and its rank are kept. Calculates nothing but sums.

mod json;
mod rank;
mod table;
mod text;
mod words;

pub use json::ConversionReport;

use std::io::{self, Write};
use std::sync::{Mutex, PoisonError};

use super::page::Page;
use super::spool::{Piece, Spool};
use crate::check::DrawingResult;
use crate::conversion::Conversion;
use crate::conversion::saving::{Saving, saving};
use crate::practice::Costs;
use rank::{Rank, Sums};

/// What is said of no part, of which the user must be told each time.
pub const CAUTION: &str = "Guide values: test your own joint before a tap is left out. This is no verdict for \
                           safety-critical, lifting, pressure, aircraft, vehicle-safety, structural or \
                           electrical-bonding joints; codes that hold at the place of use and a licensed engineer \
                           govern. A formed thread is not made to a class of thread, and is not for repeated removal \
                           without a test.";

/// A form of the report.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Form {
    /// Text for people, so many columns wide, in colour or not.
    Text {
        /// Columns.
        width: usize,
        /// Whether words are toned.
        colour: bool,
    },
    /// JSON.
    Json,
    /// Comma-separated values, a row for each group of holes.
    Csv,
}

/// A drawing with what its tapped holes could become.
struct Converted<'a> {
    drawing: &'a DrawingResult,
    conversion: &'a Conversion,
    costs: Option<(&'a Costs, Saving)>,
}

/// What was written of the drawings so far. Shared by all threads.
#[derive(Debug)]
pub struct Ranking {
    forms: Vec<Form>,
    state: Mutex<State>,
}

#[derive(Debug, Default)]
struct State {
    spool: Spool,
    sums: Sums,
}

/// Where a drawing is kept, and its rank.
#[derive(Debug)]
pub struct Ranked {
    pieces: Box<[Piece]>,
    rank: Rank,
}

impl Ranking {
    /// Nothing yet.
    pub fn new(forms: Vec<Form>) -> Ranking {
        Ranking { forms, state: Mutex::default() }
    }

    /// Writes one drawing in each form, by these costs if there are any, and keeps what was written. A drawing that was
    /// read whole and has no tapped hole is only counted.
    ///
    /// # Errors
    /// If it cannot be put into a form.
    pub fn add(&self, drawing: &DrawingResult, costs: Option<&Costs>) -> io::Result<Ranked> {
        let none = Conversion { unit: crate::units::Unit::Mm, groups: Vec::new() };
        let conversion = drawing.conversion.as_deref().unwrap_or(&none);
        let costs =
            costs.map(|costs| (costs, saving(conversion, &drawing.path, drawing.part.as_deref(), costs)));
        let converted = Converted { drawing, conversion, costs };
        let mut bytes = Vec::new();
        let mut ends = Vec::with_capacity(self.forms.len());
        for form in &self.forms {
            if converted.is_shown() {
                form.drawing(&converted, &mut bytes)?;
            }
            ends.push(bytes.len());
        }
        let mut state = self.state.lock().unwrap_or_else(PoisonError::into_inner);
        state.sums.add(&converted);
        let mut start = 0;
        let pieces = ends.into_iter().map(|end| {
            let piece = state.spool.keep(&bytes[start..end]);
            start = end;
            piece
        });
        Ok(Ranked { pieces: pieces.collect(), rank: Rank::of(&converted) })
    }

    /// Puts the drawings in their order, the greatest saving first, and adds up what they save. They are given in the
    /// order of the drawings.
    pub fn sort(&mut self, ranked: &mut [Ranked]) {
        let State { sums, .. } = self.state.get_mut().unwrap_or_else(PoisonError::into_inner);
        sums.money(ranked.iter().map(|r| &r.rank));
        ranked.sort_by(|a, b| a.rank.compare(&b.rank));
    }

    /// Whether a drawing could not be read whole.
    pub fn has_unread(&mut self) -> bool {
        let sums = &self.state.get_mut().unwrap_or_else(PoisonError::into_inner).sums;
        sums.unreadable + sums.partly_read > 0
    }

    /// The rows of the costs that stated the parts of some drawing, by their numbers.
    pub fn rows_used(&mut self) -> Vec<usize> {
        let sums = &self.state.get_mut().unwrap_or_else(PoisonError::into_inner).sums;
        sums.rows_used.iter().copied().collect()
    }

    /// Writes the report of the drawings in the order that they stand in, in the form that was given as the `nth`.
    ///
    /// # Errors
    /// Those of the writer, and of the temporary file that a large report was kept in.
    pub fn write(
        &mut self,
        nth: usize,
        ranked: &[Ranked],
        costs: Option<&Costs>,
        out: &mut dyn Write,
    ) -> io::Result<()> {
        let Some(form) = self.forms.get(nth) else { return Ok(()) };
        let State { spool, sums } = self.state.get_mut().unwrap_or_else(PoisonError::into_inner);
        let pieces = ranked.iter().filter_map(|r| r.pieces.get(nth).copied());
        let mut pieces = pieces.filter(|piece| !piece.is_empty());
        match *form {
            Form::Json => {
                let frame = ConversionReport::of(sums, costs);
                super::json::frame(&frame, super::json::DRAWING_DEPTH, pieces, out, |piece, out| {
                    spool.write(piece, out)
                })
            }
            Form::Csv => {
                table::header(out)?;
                pieces.try_for_each(|piece| spool.write(piece, out))
            }
            Form::Text { width, colour } => {
                pieces.try_for_each(|piece| spool.write(piece, out))?;
                text::summary(sums, costs, &mut Page::new(out, width, colour))
            }
        }
    }
}

impl Form {
    fn drawing(self, converted: &Converted<'_>, out: &mut dyn Write) -> io::Result<()> {
        match self {
            Form::Json => {
                super::json::item(&json::ConvertedDrawing::of(converted), super::json::DRAWING_DEPTH, out)
            }
            Form::Csv => table::drawing(converted, out),
            Form::Text { width, colour } => text::drawing(converted, &mut Page::new(out, width, colour)),
        }
    }
}

impl Converted<'_> {
    /// Whether there is anything to say of it.
    fn is_shown(&self) -> bool {
        !self.conversion.groups.is_empty() || self.drawing.state != "read"
    }

    fn saving(&self) -> Option<&Saving> {
        self.costs.as_ref().map(|(_, saving)| saving)
    }
}
