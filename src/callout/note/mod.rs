//! A text as a note or title-block entry: thickness, material, general tolerance, unit, scale. Says only what the
//! text says; which of several notes holds is decided by `pairing`.

mod attribute;
mod detail;
mod finish;
mod making;
mod material;
mod pieces;
mod ratio;
mod sheet_thickness;
mod tolerances;
mod unit_words;

pub use attribute::{is_label, is_label_with, read_attribute, read_attribute_with};

use pieces::Piece;

use super::Quantity;
use super::coating::WrittenCoating;
use super::meaning::Meaning;
use super::words::Words;
use crate::trade::{Material, Process};
use crate::units::Unit;

/// A general tolerance of a title block or note.
#[derive(Debug, Clone, PartialEq)]
pub enum GeneralTolerance {
    /// `ISO 2768-m` (also `mK`): class letter `f`, `m`, `c`, `v`.
    Iso2768(char),
    /// `.XX ±.01`, `X.X ± 0.1`: by decimal places.
    Decimals {
        /// Decimal places that it holds for.
        places: u8,
        /// Magnitude both ways.
        plus_minus: Quantity,
    },
    /// `±0.1` for all linear sizes.
    Flat(Quantity),
}

/// What a text says about the whole sheet, view or part.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Note {
    /// `THK 1.5`, `t=2`, `Blech 2 mm`, a gauge with its metal already resolved.
    pub thickness: Option<Quantity>,
    /// A sheet gauge whose metal is not named in the same text.
    pub gauge: Option<u8>,
    /// Material.
    pub material: Option<Material>,
    /// Whether that stands behind a label that says so, or in a field of its own, and so is surely the part's.
    pub material_labelled: bool,
    /// General tolerances.
    pub tolerances: Vec<GeneralTolerance>,
    /// `ALL DIMS MM`, `DIMENSIONS IN INCHES`.
    pub unit: Option<Unit>,
    /// `SCALE 2:1`: drawn over true.
    pub scale: Option<f64>,
    /// `DETAIL B`, `Z (5:1)`: the letters of the detail whose title it is, in capitals.
    pub detail: Option<String>,
    /// A coating with its thickness, or whether sizes hold before or after it.
    pub coating: Option<WrittenCoating>,
    /// A process for all holes (`ALL HOLES PUNCHED`).
    pub process: Option<Process>,
}

impl Note {
    /// Whether the text said nothing of this kind.
    pub fn is_empty(&self) -> bool {
        *self == Note::default()
    }
}

/// Reads a decoded text as a note. Never fails; what it does not know it leaves out. Of two statements of the same
/// kind the first counts, except for general tolerances, of which all are kept.
///
/// ```
/// let note = boreband::callout::note::read("16 GA CRS\nTOLERANCES: .XX ±.01 .XXX ±.005");
/// assert_eq!(note.thickness.map(|t| t.value), Some(0.0598));
/// assert_eq!(note.tolerances.len(), 2);
/// ```
pub fn read(text: &str) -> Note {
    read_with(text, Words::built_in())
}

/// [`read`] with words of one's own.
pub fn read_with(text: &str, words: &Words) -> Note {
    if !text.chars().any(|c| c.is_alphabetic() || c == ':') {
        return Note::default();
    }
    let glyphs = words.glyphs(text);
    let whole = Piece::whole(text, &glyphs, words);
    // One look for what can be there at all: a drawing has many thousands of texts that say nothing of this kind.
    let said = whole.meanings();
    let says = |wanted: &[Meaning]| wanted.iter().any(|m| said.contains(m));
    let mut note = Note::default();
    let labelled = says(&[Meaning::Material]);
    for line in whole.lines() {
        if note.material.is_some() {
            break;
        }
        let by_label = if labelled { material::labelled(line) } else { None };
        note.material_labelled = by_label.is_some();
        note.material = by_label.or_else(|| material::named(line));
    }
    if labelled && note.material.is_none() {
        // A label on a line by itself has its value on the next one.
        note.material = material::labelled(whole);
        note.material_labelled = note.material.is_some();
    }
    sheet_thickness::read(whole, &mut note);
    if text.contains(['±', '+', '%', '=']) || ["2768", "1804", "0405"].iter().any(|n| text.contains(n)) {
        note.tolerances = tolerances::read(whole);
    }
    if says(&[Meaning::Scale]) || text.contains([':', '：']) {
        note.scale = ratio::read(whole);
    }
    if text.contains([':', '：']) || says(&[Meaning::Detail]) {
        detail::read(whole, &mut note);
    }
    if says(&[Meaning::Dimensions, Meaning::Units]) {
        note.unit = unit_words::read(whole);
    }
    if says(&[Meaning::Coating]) {
        note.coating = finish::read(whole);
    }
    if says(&[Meaning::AllHoles, Meaning::Hole]) {
        note.process = making::read(whole);
    }
    note
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::*;

    proptest! {
        #[test]
        fn any_text_can_be_read(text in "\\PC{0,60}", tag in "[A-Z_ ]{0,12}") {
            let _ = (read(&text), read_attribute(&tag, &text));
        }

        #[test]
        fn texts_of_known_words_keep_their_values_sound(
            words in proptest::collection::vec(
                proptest::sample::select(vec![
                    "THK", "t=", "1.5", ".060", "16", "GA", "CRS", "MATERIAL", ":", "\n", ".XX", "±", ".01", "SCALE",
                    "1:2", "ISO 2768-m", "DIMENSIONS", "IN", "MM", "Blech", "mm", "TOLERANCES", "HOLES", "PUNCHED",
                    "板厚", "2", "PLACE", ",", "é", "½", "Ø",
                ]),
                0..9,
            ),
            joined in proptest::sample::select(vec!["", " "]),
        ) {
            let note = read(&words.join(joined));
            prop_assert!(note.thickness.is_none_or(|t| t.value.is_finite() && t.value > 0.0));
            prop_assert!(note.scale.is_none_or(|s| s.is_finite() && s > 0.0));
        }
    }

    // A block of notes as sheet-metal drawings carry them (common practice).
    #[test]
    fn a_block_of_notes() {
        let note = read(
            "NOTES: UNLESS OTHERWISE SPECIFIED\n1. MATERIAL: 5052-H32 ALUMINUM, .090 THK\n2. DIMENSIONS ARE IN \
             INCHES\n3. TOLERANCES: .XX ±.01 .XXX ±.005 ANGLES ±1°\n4. ALL HOLES PUNCHED\n5. FINISH: PAINT BLACK",
        );
        assert_eq!(note.material, Some(Material::AluminiumWrought));
        assert_eq!(note.thickness.map(|t| t.value), Some(0.09));
        assert_eq!(note.unit, Some(Unit::Inch));
        assert_eq!(note.tolerances.len(), 2);
        assert_eq!(note.process, Some(Process::Punched));
        assert_eq!(note.scale, None);
    }

    #[test]
    fn sentences_say_nothing() {
        for text in [
            "REMOVE ALL BURRS AND SHARP EDGES",
            "12.05.2004",
            "DWG NO 304-1018",
            "SEE SHEET 2",
            "PART NO 5052",
            "4X Ø3.6 +0.03/0 THRU",
            "SECTION A-A",
            "10:30",
            "R1.5 TYP",
            "",
        ] {
            assert!(read(text).is_empty(), "{text}: {:?}", read(text));
        }
    }
}
