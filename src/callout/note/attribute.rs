//! The value of a title-block attribute, read by what its tag says it is.

use super::super::meaning::Meaning;
use super::super::normal::normalise;
use super::super::number::quantity;
use super::super::words::Words;
use super::pieces::{Piece, past_marks};
use super::{GeneralTolerance, Note, material, ratio, read_with, sheet_thickness, tolerances, unit_words};

/// Fields that name finishes, people and numbers: what they hold says nothing of the sheet's metal or size.
const OTHER_FIELDS: &[&str] = &[
    "FINISH",
    "COATING",
    "TREATMENT",
    "SURFACE",
    "OBERFLACHE",
    "OBERFLAECHE",
    "HEAT",
    "DATE",
    "DATUM",
    "REV",
    "REVISION",
    "DRAWN",
    "CHECKED",
    "APPROVED",
    "PART",
    "NUMBER",
    "DWG",
    "DRAWING",
    "SHEET",
    "SIZE",
    "FORMAT",
    "WEIGHT",
    "MASS",
    "GEWICHT",
    "COMPANY",
    "CUSTOMER",
    "PROJECT",
    "FILE",
    "FILENAME",
];

/// The fields that are read.
const FIELDS: &[Meaning] = &[
    Meaning::Thickness,
    Meaning::Gauge,
    Meaning::Material,
    Meaning::Scale,
    Meaning::Units,
    Meaning::Dimensions,
    Meaning::Tolerance,
];

/// Reads the value of a title-block attribute by its tag (`MATERIAL`, `THICKNESS`, `SCALE`, `UNITS`). A value whose
/// tag is not known is read as a note; of a finish, a date or a number nothing is read.
///
/// ```
/// use boreband::callout::note::read_attribute;
/// assert_eq!(read_attribute("THICKNESS", ".060").thickness.map(|t| t.value), Some(0.06));
/// assert_eq!(read_attribute("SCALE", "1:5").scale, Some(0.2));
/// ```
pub fn read_attribute(tag: &str, value: &str) -> Note {
    read_attribute_with(tag, value, Words::built_in())
}

/// [`read_attribute`] with words of one's own.
pub fn read_attribute_with(tag: &str, value: &str, words: &Words) -> Note {
    let glyphs = words.glyphs(value);
    let piece = Piece::whole(value, &glyphs, words);
    let read = |text: &str| read_with(text, words);
    match field(tag, words) {
        Some(Meaning::Thickness | Meaning::Gauge) => thickness(piece, read(value)),
        Some(Meaning::Material) => {
            let note = read(value);
            // `16 GA, 304` needs the field to tell its metal, and the metal to tell its thickness.
            let material = material::entry(value).or(note.material);
            let mut named = Note { material, material_labelled: material.is_some(), ..Note::default() };
            sheet_thickness::read(piece, &mut named);
            if named.material.is_some() && named.gauge.is_none() {
                named.thickness = named.thickness.or_else(|| sheet_thickness::only_length(piece));
            }
            named
        }
        Some(Meaning::Scale) => Note { scale: ratio::field(piece), ..Note::default() },
        Some(Meaning::Units | Meaning::Dimensions) => {
            Note { unit: unit_words::field(piece), ..Note::default() }
        }
        Some(Meaning::Tolerance) => tolerance(piece, || read(value)),
        Some(_) => Note::default(),
        None if is_other(tag) => Note::default(),
        None => read(value),
    }
}

/// What a tag says its value is. Tags join words with `_` and count with digits: `MATERIAL_1`.
fn field(tag: &str, words: &Words) -> Option<Meaning> {
    let text = spaced(tag);
    let glyphs = words.glyphs(&text);
    let piece = Piece::whole(&text, &glyphs, words);
    let german = piece.has_literal(&["STAERKE", "BLECHSTAERKE", "MATERIALSTAERKE"]);
    if german {
        return Some(Meaning::Thickness);
    }
    if piece.has_literal(&["GENTOL"]) {
        return Some(Meaning::Tolerance);
    }
    FIELDS.iter().copied().find(|f| piece.has(&[*f]))
}

/// Whether a short text is nothing but the name of a field that is read: `MATERIAL`, `板厚`, `SCALE:`.
pub fn is_label(text: &str) -> bool {
    is_label_with(text, Words::built_in())
}

/// [`is_label`] with words of one's own.
pub fn is_label_with(text: &str, words: &Words) -> bool {
    let glyphs = words.glyphs(text);
    let start = Piece::whole(text, &glyphs, words).cursor().spaces();
    start.word_of(FIELDS).is_some_and(|(_, after)| past_marks(after).at_end())
}

fn is_other(tag: &str) -> bool {
    normalise(&spaced(tag)).split_whitespace().any(|w| OTHER_FIELDS.contains(&w.trim_matches([':', '.'])))
}

fn spaced(tag: &str) -> String {
    tag.chars().map(|c| if c == '_' || c == '-' || c.is_ascii_digit() { ' ' } else { c }).collect()
}

/// A bare quantity, a gauge, or a text that says more.
fn thickness(piece: Piece<'_>, mut note: Note) -> Note {
    if note.thickness.is_some() || note.gauge.is_some() {
        return Note {
            thickness: note.thickness,
            gauge: note.gauge,
            material: note.material,
            ..Note::default()
        };
    }
    let c = past_label(piece);
    note = Note { material: note.material, ..Note::default() };
    if let Some((q, end)) = quantity(c)
        && !end.peek().is_some_and(|c| c.is_alphanumeric() || matches!(c, '/' | ':'))
    {
        note.thickness = Some(q);
    }
    note
}

/// The start of the number: past marks, but not past the point of `.060`.
fn past_label(piece: Piece<'_>) -> super::super::cursor::Cursor<'_> {
    piece.cursor().while_is(|c| matches!(c, ' ' | ':' | '=' | 'T'))
}

/// General tolerances as in a note, or one bare value: `±0.1`, `0.1`.
fn tolerance(piece: Piece<'_>, read: impl Fn() -> Note) -> Note {
    let written = tolerances::read(piece);
    if !written.is_empty() {
        return Note { tolerances: written, ..Note::default() };
    }
    // `±.005`, also `±.005 UNLESS NOTED`.
    let ends = |end: super::super::cursor::Cursor<'_>| {
        let end = end.spaces();
        end.at_end() || end.word(Meaning::UnlessNoted).is_some()
    };
    let bare = tolerances::bare(piece.cursor().spaces()).filter(|(_, end)| ends(*end));
    let tolerances = bare.map(|(q, _)| vec![GeneralTolerance::Flat(q)]).unwrap_or_default();
    let note = if tolerances.is_empty() { read().tolerances } else { tolerances };
    Note { tolerances: note, ..Note::default() }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::trade::Material;
    use crate::units::Unit;

    // Tags and values as title blocks carry them (common practice); gauges as recalled.
    #[test]
    fn thickness_fields() {
        for (tag, value, expected, unit) in [
            ("THICKNESS", "1.5", 1.5, None),
            ("THK", ".060", 0.06, None),
            ("DICKE", "1,5 mm", 1.5, Some(Unit::Mm)),
            ("STAERKE", "2", 2.0, None),
            ("EPAISSEUR", "2", 2.0, None),
            ("MATERIAL_THICKNESS", ".250", 0.25, None),
            ("THK", "t=2", 2.0, None),
            ("MATERIAL", "16 GA CRS", 0.0598, Some(Unit::Inch)),
            ("MATERIAL", "304, 16 GA", 0.0625, Some(Unit::Inch)),
        ] {
            let read = read_attribute(tag, value).thickness.map(|q| (q.value, q.unit));
            assert_eq!(read, Some((expected, unit)), "{tag} {value}");
        }
        assert_eq!(read_attribute("THICKNESS", "14 GA").gauge, Some(14));
        for value in ["", "SEE NOTE", "1/2/3", "-"] {
            assert!(read_attribute("THICKNESS", value).is_empty(), "{value}");
        }
    }

    #[test]
    fn other_fields() {
        assert_eq!(
            read_attribute("MATERIAL", "304 STAINLESS STEEL").material,
            Some(Material::StainlessSteel)
        );
        assert_eq!(read_attribute("WERKSTOFF", "DC01").material, Some(Material::LowCarbonSteel));
        assert_eq!(read_attribute("MAT1", "STEEL").material, Some(Material::LowCarbonSteel));
        assert_eq!(read_attribute("MATERIAL", "DC01 1.5").thickness, None, "a number without a mark");
        assert_eq!(read_attribute("SCALE", "1:5").scale, Some(0.2));
        assert_eq!(read_attribute("MASSSTAB", "2").scale, Some(2.0));
        assert_eq!(read_attribute("SCALE", "NTS").scale, None);
        assert_eq!(read_attribute("UNITS", "INCH").unit, Some(Unit::Inch));
        assert_eq!(read_attribute("UNIT", "in mm").unit, Some(Unit::Mm));
        assert_eq!(read_attribute("MATERIAL", "S235 6 mm").thickness.map(|t| t.value), Some(6.0));
        assert_eq!(read_attribute("TOL", "±0.1").tolerances.len(), 1);
        assert_eq!(read_attribute("TOLERANCES", "±.005 UNLESS NOTED").tolerances.len(), 1);
        assert_eq!(read_attribute("GENTOL", "ISO 2768-m").tolerances, [GeneralTolerance::Iso2768('m')]);
        assert!(read_attribute("FINISH", "COPPER PLATE").is_empty());
        assert_eq!(read_attribute("NOTE1", "THK 2").thickness.map(|t| t.value), Some(2.0));
    }
}
