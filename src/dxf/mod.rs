//! Bytes to a [`Drawing`] and the [`Problem`]s met. Never decides what is right.
//!
//! Two steps: one pass over the pairs of the file (`scan`) gives entities in their own coordinates, block by
//! block; `resolve` places them in model space and the layouts: those of model space a few at a time while the scan goes
//! on, where nothing that comes later can change them. Numbers are taken strictly, everything else that CAD programs get
//! wrong is borne.

mod bounds;
mod entities;
pub mod marking;
mod problems;
mod raw;
mod resolve;
mod scan;
mod sniff;
mod tags;
mod text;

pub use bounds::MAX_BYTES;

use crate::drawing::{Drawing, Problem};
use resolve::{Early, Idle};
use sniff::Form;
use tags::{BinaryTags, Tags, TextTags, wide_codes};

/// A drawing that was read, with all that was wrong with the file.
#[derive(Debug, Clone, Default)]
pub struct Reading {
    /// What the file shows.
    pub drawing: Drawing,
    /// What could not be read, by place; any with `loss` makes the drawing partly read.
    pub problems: Vec<Problem>,
}

/// Reads a whole text or binary DXF file.
///
/// # Errors
/// The one [`Problem`] that makes the file no readable DXF at all (empty, a DWG, a PDF, garbage, larger than
/// [`MAX_BYTES`]), saying what it is and what to do.
pub fn read(bytes: &[u8]) -> Result<Reading, Problem> {
    let scan = match sniff::sniff(bytes)? {
        Form::Binary if wide_codes(bytes) => reading(|| BinaryTags::<2>::new(bytes), None),
        Form::Binary => reading(|| BinaryTags::<1>::new(bytes), None),
        Form::Text(start) => {
            // Padding to a block size is no content.
            let end = bytes.iter().rposition(|b| *b != 0).map_or(0, |n| n + 1);
            let text = &bytes[..end];
            reading(|| TextTags::new(text, start), Some(text))
        }
    };
    scan.ok_or_else(sniff::not_dxf)
}

/// Why a file of so many bytes is not read, and what to do; none if it may be.
pub fn too_large(bytes: u64) -> Option<String> {
    (bytes > MAX_BYTES).then(|| {
        format!(
            "it has {bytes} bytes, more than the {MAX_BYTES} that are read of a drawing; save it without what is not of the \
             part"
        )
    })
}

/// Reads the pairs of a whole file; none if there is nothing of DXF among them.
fn reading<'a, T: Tags<'a>>(tags: impl Fn() -> T, file: Option<&'a [u8]>) -> Option<Reading> {
    let idle = Idle::default();
    let mut early = Early::new(&idle);
    let scan = match scan::scan(tags(), file, &mut early).filter(|scan| early.holds(&scan.raw)) {
        Some(scan) => scan,
        None => {
            early = Early::new(&idle);
            scan::scan_all(tags(), file)
        }
    };
    scan.recognised.then(|| resolve::resolve(scan, early))
}
