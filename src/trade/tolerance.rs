//! What a hole's size may vary by: general tolerance classes and what processes typically hold.
//! Fits are in `fits`; which tolerance applies to a hole is decided by `verdict`.

use std::sync::LazyLock;

use serde::Deserialize;

use super::{Material, Process, Status, fit, tables};
use crate::decimals::trimmed;
use crate::shared::SharedText;
use crate::units::{Length, Unit};

/// How far a size may lie above and below its nominal, magnitudes of 0 or more.
#[derive(Debug, Clone, PartialEq)]
pub struct Deviations {
    /// Upwards.
    pub plus: Length,
    /// Downwards.
    pub minus: Length,
    /// In words: `±0.05 mm`, `H12`, `AND10387`.
    pub text: SharedText,
    /// Where it comes from.
    pub source: SharedText,
    /// How well that is founded.
    pub status: Status,
}

/// A row of AND10387 (inches).
#[derive(Debug, Deserialize)]
struct Drilled {
    over: f64,
    to: f64,
    plus: f64,
    minus: f64,
    source: SharedText,
    status: Status,
}

/// A row of ISO 2768-1 (mm).
#[derive(Debug, Deserialize)]
struct General {
    class: char,
    over_mm: f64,
    to_mm: f64,
    plus_minus_mm: f64,
    source: SharedText,
    status: Status,
    /// The tolerance in words: `ISO 2768-m ±0.1 mm`.
    #[serde(skip)]
    text: SharedText,
}

/// A row of ISO 9013 (mm).
#[derive(Debug, Deserialize)]
struct Thermal {
    class: u8,
    thickness_over_mm: f64,
    thickness_to_mm: f64,
    over_mm: f64,
    to_mm: f64,
    plus_minus_mm: f64,
    source: SharedText,
    status: Status,
}

/// A row of what processes typically hold.
#[derive(Debug, Deserialize)]
struct Typical {
    process: Process,
    material: Option<Material>,
    unit: Option<String>,
    rule: Option<String>,
    plus_mm: Option<f64>,
    minus_mm: Option<f64>,
    text: SharedText,
    source: SharedText,
    status: Status,
}

/// A row of what processes do to the hole.
#[derive(Debug, Deserialize)]
struct Note {
    process: Process,
    note: String,
    source: SharedText,
    status: Status,
    /// The note with what it is about and its source.
    #[serde(skip)]
    text: String,
}

static AND10387: LazyLock<Vec<Drilled>> =
    LazyLock::new(|| tables::rows("and10387.csv", include_str!("tables/and10387.csv")));
static ISO2768: LazyLock<Vec<General>> = LazyLock::new(|| {
    let mut rows: Vec<General> = tables::rows("iso2768.csv", include_str!("tables/iso2768.csv"));
    for row in &mut rows {
        // No row has more than two decimals.
        row.text = format!("ISO 2768-{} ±{} mm", row.class, trimmed(row.plus_minus_mm, 2)).into();
    }
    rows
});
static ISO9013: LazyLock<Vec<Thermal>> =
    LazyLock::new(|| tables::rows("iso9013.csv", include_str!("tables/iso9013.csv")));
static TYPICAL: LazyLock<Vec<Typical>> =
    LazyLock::new(|| tables::rows("process_tolerances.csv", include_str!("tables/process_tolerances.csv")));
static NOTES: LazyLock<Vec<Note>> = LazyLock::new(|| {
    let mut rows: Vec<Note> = tables::rows("process_notes.csv", include_str!("tables/process_notes.csv"));
    for row in &mut rows {
        let Note { process, note, source, status, .. } = &*row;
        row.text = format!("{}: {note} ({source}, {})", process.name(), status.words());
    }
    rows
});

/// Slack on a table's borders, so that a size on a border is found in every unit (mm).
const BORDER_MM: f64 = 1e-6;

/// A length that a table gives, which is finite.
fn table_length(value: f64, unit: Unit) -> Length {
    Length::new(value, unit).unwrap_or(Length::ZERO)
}

/// The same deviation both ways, in mm.
fn both_ways(mm: f64, text: SharedText, source: &SharedText, status: Status) -> Deviations {
    let way = table_length(mm, Unit::Mm);
    Deviations { plus: way, minus: way, text, source: source.clone(), status }
}

/// Tolerance of a drilled hole after AND10387 (published). Validity: 0.0135 to 2.000 in; the rows are read as
/// over .125 up to and including .250, where the sheet writes .126 to .250. None outside.
///
/// ```
/// use boreband::trade::and10387;
/// use boreband::units::Length;
/// let found = and10387(Length::from_inch(0.224).unwrap()).unwrap();
/// assert!((found.plus.inch() - 0.005).abs() < 1e-12 && (found.minus.inch() - 0.001).abs() < 1e-12);
/// ```
pub fn and10387(hole: Length) -> Option<Deviations> {
    let slack = BORDER_MM / 25.4;
    let inch = hole.inch();
    if inch < 0.0135 - slack {
        return None;
    }
    let row = AND10387.iter().find(|r| inch > r.over + slack && inch <= r.to + slack)?;
    Some(Deviations {
        plus: table_length(row.plus, Unit::Inch),
        minus: table_length(row.minus, Unit::Inch),
        text: "AND10387".into(),
        source: row.source.clone(),
        status: row.status,
    })
}

/// General tolerance for linear sizes after ISO 2768-1, class `f`, `m`, `c` or `v` (from memory).
/// Validity: 0.5 to 120 mm here, class v from over 3 mm; a size on a border belongs to the row that it ends.
/// None outside or for another class.
///
/// ```
/// use boreband::trade::iso2768;
/// use boreband::units::Length;
/// assert_eq!(iso2768('m', Length::from_mm(3.65).unwrap()).unwrap().plus.mm(), 0.1);
/// ```
pub fn iso2768(class: char, size: Length) -> Option<Deviations> {
    let class = class.to_ascii_lowercase();
    let mm = size.mm();
    let starts = |r: &General| if r.over_mm == 0.5 { mm >= 0.5 } else { mm > r.over_mm + BORDER_MM };
    let row = ISO2768.iter().find(|r| r.class == class && starts(r) && mm <= r.to_mm + BORDER_MM)?;
    Some(both_ways(row.plus_minus_mm, row.text.clone(), &row.source, row.status))
}

/// Limit deviations of thermal cuts after ISO 9013 (from memory): class 1 is what lasers, class 2 what plasma
/// holds. Validity: sheets up to 15 mm (class 1) or 10 mm (class 2), sizes up to 10 mm here. None outside.
pub fn iso9013(class: u8, thickness: Length, size: Length) -> Option<Deviations> {
    let (t, mm) = (thickness.mm(), size.mm());
    let fits = |r: &&Thermal| {
        r.class == class
            && t > r.thickness_over_mm
            && t <= r.thickness_to_mm + BORDER_MM
            && mm >= r.over_mm
            && mm < r.to_mm
    };
    let row = ISO9013.iter().find(fits)?;
    let text = format!("ISO 9013 class {class} ±{} mm", row.plus_minus_mm);
    Some(both_ways(row.plus_minus_mm, text.into(), &row.source, row.status))
}

/// What a process typically holds, to be assumed only where nothing is stated, and named when it is.
/// `unit` is the drawing's: drilled holes follow AND10387 on inch drawings and H12 on metric ones. Where the
/// trade gives a range its wider end is taken. None where the process's rule ends.
pub fn process_typical(
    process: Process,
    material: Option<Material>,
    hole: Length,
    unit: Unit,
) -> Option<Deviations> {
    let here = |r: &&Typical| {
        r.process == process
            && r.unit.as_deref().is_none_or(|u| u == unit.name())
            && r.material.is_none_or(|m| Some(m) == material)
    };
    let row = TYPICAL.iter().find(here)?;
    let limits = match row.rule.as_deref() {
        Some("and10387") => and10387(hole)?,
        Some(name) => fit(name, hole)?.into(),
        None => {
            let mm = |v: Option<f64>| table_length(v.unwrap_or(0.0), Unit::Mm);
            Deviations {
                plus: mm(row.plus_mm),
                minus: mm(row.minus_mm),
                text: row.text.clone(),
                source: row.source.clone(),
                status: row.status,
            }
        }
    };
    let text = format!("{}, typical of {} holes", limits.text, process.name());
    Some(Deviations { text: text.into(), source: row.source.clone(), status: row.status, ..limits })
}

/// What a process does to the hole, one line.
pub fn process_note(process: Process) -> &'static str {
    NOTES.iter().find(|note| note.process == process).map_or("", |note| &note.text)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn tables_are_whole() {
        assert_eq!((AND10387.len(), ISO2768.len(), ISO9013.len()), (6, 15, 15));
        assert_eq!((TYPICAL.len(), NOTES.len()), (10, 8));
        for pair in AND10387.windows(2) {
            assert_eq!(pair[0].to, pair[1].over);
            assert!(pair[0].plus < pair[1].plus);
        }
        for pair in ISO2768.windows(2).filter(|p| p[0].class == p[1].class) {
            assert_eq!(pair[0].to_mm, pair[1].over_mm);
            assert!(pair[0].plus_minus_mm <= pair[1].plus_minus_mm);
        }
        for process in Process::ALL {
            assert!(!process_note(process).is_empty(), "{}", process.name());
            for unit in [Unit::Mm, Unit::Inch] {
                let found = process_typical(process, None, Length::mm_const(4.0), unit).expect("a tolerance");
                assert!(found.plus > Length::ZERO && !found.source.is_empty());
            }
        }
        for row in ISO9013.iter() {
            assert_eq!(row.status, Status::Memory);
            assert!(row.thickness_over_mm < row.thickness_to_mm && row.over_mm < row.to_mm);
        }
    }

    #[test]
    fn iso2768_rows() {
        // ISO 2768-1 table 1, from memory.
        for (class, mm, expected) in [
            ('f', 3.0, Some(0.05)),
            ('m', 3.0, Some(0.1)),
            ('m', 6.0, Some(0.1)),
            ('m', 6.1, Some(0.2)),
            ('c', 2.0, Some(0.2)),
            ('c', 3.5, Some(0.3)),
            ('v', 2.0, None),
            ('v', 5.0, Some(0.5)),
            ('m', 0.4, None),
            ('x', 5.0, None),
        ] {
            let found = iso2768(class, Length::mm_const(mm)).map(|d| d.plus.mm());
            assert_eq!(found, expected, "{class} {mm}");
        }
    }

    #[test]
    fn typical_tolerances() {
        let at = |process, material, unit| process_typical(process, material, Length::mm_const(3.65), unit);
        // Common practice: punched ±0.05 mm, zinc cores ±0.05, others ±0.1, metric drilling H12 (+0.12 at 3 to 6).
        let punched = at(Process::Punched, None, Unit::Mm).expect("punched");
        assert_eq!((punched.plus.mm(), punched.minus.mm()), (0.05, 0.05));
        let zinc = at(Process::Cored, Some(Material::ZincDieCast), Unit::Mm).expect("zinc");
        assert_eq!(zinc.plus.mm(), 0.05);
        let other = at(Process::Cored, Some(Material::AluminiumDieCast), Unit::Mm).expect("aluminium");
        assert_eq!(other.plus.mm(), 0.1);
        let drilled = at(Process::Drilled, None, Unit::Mm).expect("drilled");
        assert!((drilled.plus.mm() - 0.12).abs() < 1e-12 && drilled.minus.mm() == 0.0);
        let inch = at(Process::Drilled, None, Unit::Inch).expect("drilled");
        assert!((inch.plus.inch() - 0.005).abs() < 1e-12);
        assert!(inch.text.contains("AND10387") && inch.text.contains("drilled"));
    }

    #[test]
    fn thermal_cuts() {
        let found = iso9013(1, Length::mm_const(2.0), Length::mm_const(3.6)).expect("class 1");
        assert_eq!(found.plus.mm(), 0.15); // ISO 9013 class 1, 1 to 3.15 mm, from memory
        assert_eq!(iso9013(1, Length::mm_const(40.0), Length::mm_const(3.6)), None);
    }
}
