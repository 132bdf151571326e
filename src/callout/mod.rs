//! Text to a callout value with spans. Never looks at geometry and never decides the drawing's unit.
//!
//! [`read`] reads a text as a hole callout, [`note::read`] as a note or title-block entry; a text may be both.

mod assemble;
mod coating;
mod count;
mod cursor;
mod depth;
mod element;
mod entry;
mod lookup;
mod meaning;
mod memory;
mod named;
mod normal;
pub mod note;
mod number;
mod other_thread;
mod print;
mod size;
mod tag;
mod thickness;
mod thread;
mod tolerance;
mod words;

#[cfg(test)]
mod forms;
#[cfg(test)]
mod properties;
#[cfg(test)]
mod testing;

use std::ops::Range;

pub use coating::{Stage, WrittenCoating};
pub use meaning::Meaning;
pub use words::{UserWord, WordError, Words};

use assemble::assemble;
use cursor::Cursor;
use element::elements;

use crate::joint::ScrewForm;
use crate::trade::{Process, Thread};
use crate::units::{Angle, Length, Unit};

/// A number as written: its unit only if the text states one.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Quantity {
    /// The value, in the unit written or in the drawing's.
    pub value: f64,
    /// Stated unit (`mm`, `"`, a drill name or fraction means inch); none if the drawing's unit applies.
    pub unit: Option<Unit>,
    /// Decimal places written.
    pub decimals: u8,
}

impl Quantity {
    /// The length, with the drawing's unit where none is stated. None if it is not finite.
    pub fn length(self, drawing_unit: Unit) -> Option<Length> {
        Length::new(self.value, self.unit.unwrap_or(drawing_unit)).ok()
    }
}

/// How a callout states a hole's size.
#[derive(Debug, Clone, PartialEq)]
pub enum Size {
    /// `Ø3.65`, `.224 DIA`, `7/32`.
    Diameter(Quantity),
    /// A drill by name (`#2`, `B`, `No. 29`) with its diameter, always in inch.
    Drill {
        /// Name as in the drill table.
        name: String,
        /// Its diameter.
        diameter: Quantity,
    },
    /// A radius: `R5`.
    Radius(Quantity),
    /// Limits of size without a nominal, smaller first: `.227/.224`.
    Limits(Quantity, Quantity),
}

/// A tolerance as written on the callout.
#[derive(Debug, Clone, PartialEq)]
pub enum WrittenTolerance {
    /// Signed deviations, upper first: `+.003/-.000`, `±.003`, `+0.1 0`.
    Deviations {
        /// Upper deviation, signed.
        upper: Quantity,
        /// Lower deviation, signed.
        lower: Quantity,
    },
    /// A fit: `H11`.
    Fit(String),
    /// `Ø3.6 MAX`: the size is its only limit, the largest; no smallest is stated.
    Largest,
    /// `Ø3.55 MIN`: the size is its only limit, the smallest; no largest is stated.
    Smallest,
}

/// A counterbore, spotface or countersink of the same callout.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Entry {
    /// Diameter at the face.
    pub diameter: Option<Quantity>,
    /// Depth.
    pub depth: Option<Quantity>,
    /// Included angle of a countersink.
    pub angle: Option<Angle>,
}

/// A thread that a callout names.
#[derive(Debug, Clone, PartialEq)]
pub struct NamedThread {
    /// The thread.
    pub thread: Thread,
    /// Class as written: `2B`, `6H`.
    pub class: Option<String>,
    /// Left-hand.
    pub left_hand: bool,
    /// Depth of full thread.
    pub depth: Option<Quantity>,
}

/// What a piece of the text was read as.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum Part {
    /// `4X`.
    Count,
    /// Diameter sign and number, drill, limits.
    Size,
    /// Tolerance or fit.
    Tolerance,
    /// `[5.69]`: the same size in the other unit.
    SecondUnit,
    /// `THRU`, `↧12`.
    Depth,
    /// Counterbore, countersink, spotface.
    Entry,
    /// `M4x0.7-6H`.
    Thread,
    /// `TAP`, `GEWINDE`.
    Tapped,
    /// `DRILL`, `PUNCH`.
    Process,
    /// `THREAD ROLLING SCREW`, `DIN 7500`.
    Screw,
    /// `A`, `HOLE A`.
    Tag,
    /// `THK 1.5` inside a callout.
    Thickness,
    /// `BEFORE PLATING`, `8 µm`.
    Coating,
    /// `ON Ø60 B.C.`: where the holes lie, not how large they are.
    PitchCircle,
    /// `ALL HOLES`, `UNLESS NOTED`, `TYP`.
    General,
    /// Blanks and punctuation between parts.
    Filler,
    /// Not understood.
    Unread,
}

/// A piece of the text, by bytes, and what it was read as.
#[derive(Debug, Clone, PartialEq)]
pub struct Span {
    /// Byte range in [`Callout::text`].
    pub range: Range<usize>,
    /// What it was read as.
    pub part: Part,
}

/// A text, read as a hole callout. Lossless: the spans cover every byte.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Callout {
    /// The text, decoded.
    pub text: String,
    /// What each piece was read as, in order, covering the whole text.
    pub spans: Vec<Span>,
    /// How many holes.
    pub count: Option<u32>,
    /// Whether it speaks of all holes (`ALL HOLES`) or all typical ones (`TYP`).
    pub general: bool,
    /// The hole's size; the pilot or tap drill if the hole is tapped.
    pub size: Option<Size>,
    /// Whether the size is marked as a diameter (sign, `DIA`, drill word) and not a bare number.
    pub marked_diameter: bool,
    /// The size repeated in the other unit.
    pub second: Option<Quantity>,
    /// Tolerance.
    pub tolerance: Option<WrittenTolerance>,
    /// Depth of a blind hole.
    pub depth: Option<Quantity>,
    /// Through.
    pub through: bool,
    /// Thread named, for a tap or for a screw.
    pub thread: Option<NamedThread>,
    /// A thread that is neither metric nor unified, as a designation: `G1/4`, `Tr20x4`, `1/4-18 NPT`. Its hole is
    /// tapped; its size is not known.
    pub other_thread: Option<String>,
    /// Whether a tapped (cut or formed) thread is called out.
    pub tapped: bool,
    /// Counterbore or spotface.
    pub counterbore: Option<Entry>,
    /// Countersink.
    pub countersink: Option<Entry>,
    /// Process words.
    pub process: Option<Process>,
    /// A self-forming screw is named.
    pub screw: Option<ScrewForm>,
    /// Length of the screw that is named: `FOR M4x10 SCREW`. No depth of the hole.
    pub screw_length: Option<Quantity>,
    /// Tag (`A`).
    pub tag: Option<String>,
    /// Thickness named in the callout.
    pub thickness: Option<Quantity>,
    /// A coating named in the callout, or that the size holds before or after one.
    pub coating: Option<WrittenCoating>,
}

impl Callout {
    /// Whether it does not begin with words that are not understood, which say what else it speaks of: `LABEL SIZE 4X`.
    pub fn begins_understood(&self) -> bool {
        let words = |span: &&Span| self.text[span.range.clone()].contains(char::is_alphabetic);
        self.spans.iter().find(words).is_none_or(|span| span.part != Part::Unread)
    }

    /// Whether the text states a hole: a marked size, or a thread. A shaft's fit (`Ø20 h6`) states none, nor does a
    /// radius unless it goes through or to a depth.
    pub fn states_hole(&self) -> bool {
        let worked = self.through || self.depth.is_some() || self.process.is_some();
        let shaft = matches!(&self.tolerance, Some(WrittenTolerance::Fit(fit)) if fit.starts_with(char::is_lowercase));
        let size = match &self.size {
            Some(Size::Radius(_)) => worked,
            Some(_) => self.marked_diameter && (worked || !shaft),
            None => false,
        };
        size || self.thread.is_some() || self.other_thread.is_some()
    }

    /// The pieces that were not understood.
    pub fn unread(&self) -> impl Iterator<Item = &str> {
        self.spans.iter().filter(|s| s.part == Part::Unread).map(|s| &self.text[s.range.clone()])
    }
}

/// Reads a decoded text as a hole callout. Never fails: what is not understood is a span [`Part::Unread`].
///
/// ```
/// let read = boreband::callout::read("4X Ø3.65 +0.05/0 THRU ⌴ Ø8 ↧3");
/// assert_eq!(read.count, Some(4));
/// assert!(read.through && read.states_hole());
/// assert_eq!(read.counterbore.and_then(|c| c.depth).map(|d| d.value), Some(3.0));
/// ```
pub fn read(text: &str) -> Callout {
    read_with(text, Words::built_in())
}

/// [`read`] with words of one's own.
pub fn read_with(text: &str, words: &Words) -> Callout {
    let glyphs = words.glyphs(text);
    let elements = elements(Cursor::new(glyphs.as_slice(), words));
    assemble(text, &glyphs, &elements)
}
