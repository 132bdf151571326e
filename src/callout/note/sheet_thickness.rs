//! Thickness and gauge of the sheet. A gauge is resolved where its metal stands in the same text. Thicknesses of
//! coatings, gaskets and other parts are left alone.

use super::super::Quantity;
use super::super::cursor::{Cursor, Read};
use super::super::meaning::Meaning;
use super::super::number::{integer, quantity};
use super::super::thickness::thickness;
use super::pieces::{Piece, past_marks};
use super::{Note, material};
use crate::trade::{Material, SheetMetal, gauge as table_gauge};
use crate::units::Unit;

/// Gauge tables go from 3 to 30.
const GAUGES: std::ops::RangeInclusive<u32> = 3..=30;

/// A sheet is not thinner than this in any unit; coatings are.
const LEAST: f64 = 0.01;

/// Words that say that a steel is galvanized, which has gauges of its own.
const GALVANIZED: &[&str] = &[
    "GALV",
    "GALVANIZED",
    "GALVANISED",
    "GALVANNEALED",
    "VERZINKT",
    "GALVANISE",
    "ZINCATO",
    "GALVANIZADO",
    "SGCC",
    "SECC",
    "DX51D",
    "DX52D",
    "DX53D",
    "DX54D",
];

/// Fills in thickness and gauge of a note whose material is already read.
pub(super) fn read(whole: Piece<'_>, note: &mut Note) {
    if !whole.has_digit() {
        return;
    }
    let said = whole.meanings();
    let says = |meaning: Meaning| said.contains(&meaning);
    if says(Meaning::Thickness) || whole.has_t() {
        note.thickness = clauses(whole).find_map(stated).or_else(|| below_label(whole));
    }
    if note.thickness.is_none()
        && says(Meaning::Gauge)
        && let Some((number, written)) = clauses(whole).find_map(gauge)
    {
        note.thickness = written.or_else(|| of_gauge(number, metal(whole, note.material)?));
        note.gauge = if note.thickness.is_some() { None } else { Some(number) };
    }
    if note.thickness.is_none() && note.gauge.is_none() && says(Meaning::Sheet) {
        note.thickness = clauses(whole).find_map(of_sheet);
    }
    if note.thickness.is_none() && note.gauge.is_none() && note.material.is_some() {
        note.thickness = whole.lines().find_map(beside_material);
    }
}

/// The clauses that do not speak of another part or a coating. A screw or washer has a thickness of its own unless
/// the clause also names the sheet.
fn clauses(whole: Piece<'_>) -> impl Iterator<Item = Piece<'_>> {
    let screws = &[Meaning::Screw, Meaning::ScrewRolling, Meaning::ScrewCutting, Meaning::ScrewSpaced];
    whole.clauses().filter(|c| {
        !c.has(&[Meaning::OtherPart, Meaning::Coating])
            && (!c.has(screws) || c.has(&[Meaning::Sheet, Meaning::Material]))
    })
}

/// `THK 1.5`, `1.5 THICK`, `t=2`, `t2`, `板厚2`. A least or greatest thickness is not the thickness.
fn stated(clause: Piece<'_>) -> Option<Quantity> {
    if clause.has(&[Meaning::Min, Meaning::Max]) {
        return None;
    }
    clause.places().filter_map(marked).find(|q| sound(*q))
}

fn marked(c: Cursor<'_>) -> Option<Quantity> {
    let starts_with_number = c.peek().is_some_and(|ch| ch.is_ascii_digit() || ch == '.');
    if starts_with_number && !stands_free(c) {
        return None;
    }
    let (value, end) = thickness(c)?;
    if starts_with_number {
        // `2. THICKNESS: 1.5` is note 2, and `A 3 THK: 1.5` has its number after the word.
        let numbered = c.while_is(|c| c.is_ascii_digit()).eat('.').is_some_and(|c| c.peek() == Some(' '));
        let labels_another = end.spaces().eat_any(&[':', '=']).is_some();
        return (!numbered && !labels_another).then_some(value);
    }
    let measures_else =
        matches!(end.peek(), Some('/' | ':')) || matches!(end.spaces().peek(), Some('°' | '%'));
    (!measures_else).then_some(value)
}

/// Whether a number begins here that is not the tail of a larger word or a tolerance.
fn stands_free(c: Cursor<'_>) -> bool {
    c.before().is_none_or(|b| b == ' ' || matches!(b, '(' | '[' | ',' | ':' | '=' | ';'))
}

fn sound(q: Quantity) -> bool {
    q.value >= LEAST && q.value <= 500.0
}

/// `THICKNESS` on a line by itself and the number alone on the next one.
fn below_label(whole: Piece<'_>) -> Option<Quantity> {
    whole.places().find_map(|c| {
        let label_end = c.word(Meaning::Thickness)?.while_is(|c| c == ' ' || c == ':');
        let (value, end) = quantity(label_end.eat('\n')?.spaces())?;
        let alone = end.spaces();
        ((alone.at_end() || alone.peek() == Some('\n')) && sound(value)).then_some(value)
    })
}

/// `16 GA`, `GAUGE 16`, with the thickness that may stand in brackets beside it.
fn gauge(clause: Piece<'_>) -> Option<(u8, Option<Quantity>)> {
    clause.places().find_map(|c| {
        let (number, end) = gauge_number(c)?;
        if end.spaces().word_of(&[Meaning::Hole, Meaning::Diameter]).is_some() {
            return None;
        }
        let written = end.spaces().eat('(').and_then(|c| quantity(c.spaces())).map(|(q, _)| q);
        let written = written.filter(|q| sound(*q)).map(|q| in_table_unit(number, q));
        Some((number, written))
    })
}

/// A gauge number where one stands.
pub(super) fn gauge_number(c: Cursor<'_>) -> Read<'_, u8> {
    let valid = |n: u32| GAUGES.contains(&n).then(|| u8::try_from(n).ok()).flatten();
    if let Some(after) = c.word(Meaning::Gauge) {
        let (number, end) = integer(past_marks(after))?;
        let whole = end.at_word_end() && !matches!(end.peek(), Some('.' | '/'));
        return whole.then_some((valid(number)?, end));
    }
    if !(stands_free(c) || matches!(c.before(), Some('#' | '.'))) {
        return None;
    }
    let (number, end) = integer(c)?;
    let end = end.spaces().maybe('-').spaces().word(Meaning::Gauge)?;
    Some((valid(number)?, end))
}

/// The unit of a bare thickness written beside its gauge: the one in which some metal has it.
fn in_table_unit(number: u8, q: Quantity) -> Quantity {
    let metals = [SheetMetal::Steel, SheetMetal::Galvanized, SheetMetal::Stainless, SheetMetal::Aluminium];
    let near = |unit: Unit| {
        metals.iter().filter_map(|m| table_gauge(number, *m)).any(|g| {
            let table = g.thickness.value_in(unit);
            (q.value - table).abs() <= 0.05 * table
        })
    };
    let unit = q.unit.or_else(|| [Unit::Inch, Unit::Mm].into_iter().find(|u| near(*u)));
    Quantity { unit, ..q }
}

/// The metal whose gauges hold.
pub(super) fn metal(whole: Piece<'_>, material: Option<Material>) -> Option<SheetMetal> {
    let galvanized = whole.has_literal(GALVANIZED);
    match SheetMetal::of(material?)? {
        SheetMetal::Steel if galvanized => Some(SheetMetal::Galvanized),
        metal => Some(metal),
    }
}

/// The thickness of a gauge, with the four decimals of the tables.
pub(super) fn of_gauge(number: u8, metal: SheetMetal) -> Option<Quantity> {
    let inch = table_gauge(number, metal)?.thickness.inch();
    Some(Quantity { value: (inch * 1e6).round() / 1e6, unit: Some(Unit::Inch), decimals: 4 })
}

/// `Blech 2 mm`, `2 mm PLATE`: beside the word for sheet a number counts only with its unit.
fn of_sheet(clause: Piece<'_>) -> Option<Quantity> {
    let before = |c: Cursor<'_>| {
        let (value, end) = quantity(past_marks(c.word(Meaning::Sheet)?))?;
        (value.unit.is_some() && free_end(end)).then_some(value)
    };
    let after = |c: Cursor<'_>| {
        let (value, end) = quantity(c).filter(|_| stands_free(c))?;
        (value.unit.is_some() && end.spaces().word(Meaning::Sheet).is_some()).then_some(value)
    };
    clause.places().find_map(|c| before(c).or_else(|| after(c))).filter(|q| sound(*q))
}

/// Whether a number ends here that is no first side of `200 x 100`.
fn free_end(c: Cursor<'_>) -> bool {
    matches!(c.peek(), None | Some(' ' | ',' | ';' | ')'))
        && !matches!(c.spaces().peek(), Some('X' | '*' | '±'))
}

/// `MATL 5052-H32 .090`, `DC01 1.5 mm`: the only number beside a material that has a unit or the form of an inch
/// decimal. A bare `1.5` may be anything.
fn beside_material(line: Piece<'_>) -> Option<Quantity> {
    material::labelled(line).or_else(|| material::named(line))?;
    only_length(line)
}

/// The one length with a unit in what is known to name the metal: `S235 6 mm`.
pub(super) fn only_length(line: Piece<'_>) -> Option<Quantity> {
    if line.has(&[Meaning::OtherPart, Meaning::Coating]) {
        return None;
    }
    let mut found = line.places().filter_map(|c| {
        let (value, end) = quantity(c).filter(|_| stands_free(c) && c.before() != Some('='))?;
        let inch_decimal = c.peek() == Some('.') && value.decimals >= 2;
        ((value.unit.is_some() || inch_decimal) && free_end(end) && sound(value)).then_some(value)
    });
    found.next().filter(|_| found.next().is_none())
}

#[cfg(test)]
mod tests {
    use super::super::read;
    use super::*;

    fn of(text: &str) -> Option<(f64, Option<Unit>)> {
        read(text).thickness.map(|q| (q.value, q.unit))
    }

    // Ways to write a sheet's thickness (common practice of drawings in these languages).
    #[test]
    fn marked_thickness() {
        for (text, value) in [
            ("THK 1.5", 1.5),
            (".060 THK", 0.06),
            ("t=2", 2.0),
            ("t2", 2.0),
            ("SUS304 t2", 2.0),
            ("EP 2", 2.0),
            ("ép. 2", 2.0),
            ("SPESSORE 2", 2.0),
            ("ESPESOR 2", 2.0),
            ("板厚2", 2.0),
            ("厚 2", 2.0),
            ("DICKE 1,5", 1.5),
            ("STÄRKE 2", 2.0),
            ("2. THICKNESS: 1.5", 1.5),
            ("SHEET STEEL DC01, 1.5 THICK", 1.5),
            ("THICKNESS\n1.5", 1.5),
            ("t=1,5 / DC01", 1.5),
            ("1.6T", 1.6),
            ("SPCC 1.6t", 1.6),
        ] {
            assert_eq!(of(text), Some((value, None)), "{text}");
        }
        for (text, value) in
            [("THICKNESS 1.5 mm", 1.5), ("t = 1,5 mm", 1.5), ("t=1.5mm", 1.5), ("Blech 2 mm DC01", 2.0)]
        {
            assert_eq!(of(text), Some((value, Some(Unit::Mm))), "{text}");
        }
        assert_eq!(of("MATL 5052-H32 .090"), Some((0.09, None)));
    }

    #[test]
    fn what_is_no_thickness() {
        for text in [
            "T2",
            "EQ SP 2",
            "GASKET 3 THK",
            "PAINT THICKNESS 0.06",
            "ZINC 0.005 THK",
            "PLATE 200 mm x 100 mm",
            "SHEET 1 OF 2",
            "SHEET 2",
            "t=20°C",
            "FLAT WASHER 1 THK",
            "MIN WALL THICKNESS 2 mm",
            "DC01 1.5",
            "MAX 2T",
            "1.5T-BAR",
            "PART2.5",
            "6061-T6",
            "12.05.2004",
        ] {
            assert_eq!(of(text), None, "{text}");
        }
    }

    // Gauge tables as recalled: steel 16 .0598, stainless 16 .0625, galvanized 16 .0635, aluminium 16 .0508.
    #[test]
    fn gauges_with_their_metal() {
        for (text, inch) in [
            ("16 GA CRS", 0.0598),
            ("16 GAUGE 304 STAINLESS", 0.0625),
            ("16GA GALVANIZED STEEL", 0.0635),
            ("5052-H32\n16 GA.", 0.0508),
            ("16 GA (.0598)", 0.0598),
        ] {
            let (value, unit) = of(text).expect(text);
            assert!((value - inch).abs() < 6e-5 && unit == Some(Unit::Inch), "{text}: {value}");
        }
        assert_eq!((read("16 GA").gauge, of("16 GA")), (Some(16), None));
        assert_eq!(read("18 GA WIRE").gauge, None);
        assert_eq!(read("2 GAGE HOLES").gauge, None);
    }
}
