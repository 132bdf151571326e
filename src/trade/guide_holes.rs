//! Guide holes of DIN 7500-2:1984 for thread-rolling screws by thread, length of engagement and metal.
//! They are guide values; the 2016 edition replaced the table, dropped copper and the shortest lengths.

use std::sync::LazyLock;

use serde::Deserialize;

use super::{Material, Status, Thread, tables};
use crate::shared::SharedText;
use crate::units::{Length, Unit};

/// The metals that the standard tells apart.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord, Deserialize)]
pub enum GuideMetal {
    /// Steel.
    #[serde(rename = "St")]
    Steel,
    /// Aluminium alloys.
    #[serde(rename = "Al")]
    Aluminium,
    /// Copper alloys.
    #[serde(rename = "Cu")]
    Copper,
}

impl GuideMetal {
    /// Every metal, in the order of the table.
    pub const ALL: [GuideMetal; 3] = [GuideMetal::Steel, GuideMetal::Aluminium, GuideMetal::Copper];

    /// The standard's sign: `St`, `Al`, `Cu`.
    pub const fn sign(self) -> &'static str {
        match self {
            GuideMetal::Steel => "St",
            GuideMetal::Aluminium => "Al",
            GuideMetal::Copper => "Cu",
        }
    }

    /// The column that a material goes by. None for stainless steel, zinc, magnesium and iron, which the table
    /// does not name.
    pub const fn of(material: Material) -> Option<GuideMetal> {
        match material {
            Material::LowCarbonSteel | Material::StructuralSteel => Some(GuideMetal::Steel),
            Material::AluminiumWrought | Material::AluminiumDieCast => Some(GuideMetal::Aluminium),
            Material::Brass | Material::Copper => Some(GuideMetal::Copper),
            Material::StainlessSteel
            | Material::ZincDieCast
            | Material::MagnesiumDieCast
            | Material::GreyIron => None,
        }
    }
}

/// A guide hole.
#[derive(Debug, Clone, PartialEq)]
pub struct GuideHole {
    /// Metal.
    pub metal: GuideMetal,
    /// The table's length of engagement, the upper end where it is a range.
    pub length: Length,
    /// Where the table gives a range of lengths, the length that it starts over.
    pub over: Option<Length>,
    /// Diameter.
    pub hole: Length,
    /// Its fit, `H11`.
    pub fit: SharedText,
    /// Whether the 2016 edition still has this metal and length (its values were not read).
    pub in_2016_range: bool,
    /// Why the printed value is doubted, if it is.
    pub suspect: Option<SharedText>,
    /// Where it comes from.
    pub source: SharedText,
    /// How well that is founded.
    pub status: Status,
}

/// A row of the table.
#[derive(Debug, Deserialize)]
struct Row {
    thread: String,
    length_mm: f64,
    over_mm: Option<f64>,
    metal: GuideMetal,
    hole_mm: f64,
    fit: SharedText,
    in_2016_range: String,
    suspect: Option<SharedText>,
    source: SharedText,
    status: Status,
}

static ROWS: LazyLock<Vec<Row>> =
    LazyLock::new(|| tables::rows("guide_holes.csv", include_str!("tables/guide_holes.csv")));

/// The guide holes for a thread at a length of engagement, one a metal, in the order steel, aluminium, copper;
/// only `metal` if it is given. Validity: M2.5 to M10 coarse, 0.8 to 15 mm. A length between two rows takes the
/// longer one (our reading; the table does not say). Empty outside.
///
/// ```
/// use boreband::trade::{GuideMetal, Thread, guide_holes};
/// use boreband::units::Length;
/// let thread = Thread::parse("M4").unwrap();
/// let found = guide_holes(&thread, Length::from_mm(1.5).unwrap(), Some(GuideMetal::Steel));
/// assert_eq!(found[0].hole.mm(), 3.6); // DIN 7500-2:1984, published
/// ```
pub fn guide_holes(thread: &Thread, length: Length, metal: Option<GuideMetal>) -> Vec<GuideHole> {
    let wanted = GuideMetal::ALL.into_iter().filter(|m| metal.is_none_or(|only| only == *m));
    wanted.filter_map(|m| guide_hole(thread, length, m)).collect()
}

/// The guide hole of one metal.
fn guide_hole(thread: &Thread, length: Length, metal: GuideMetal) -> Option<GuideHole> {
    let mut rows = ROWS.iter().filter(|r| r.metal == metal && r.thread == thread.name).peekable();
    if length.mm() < rows.peek()?.length_mm - 1e-6 {
        return None;
    }
    let row = rows.find(|r| length.mm() <= r.length_mm + 1e-6)?;
    Some(GuideHole {
        metal,
        length: Length::new(row.length_mm, Unit::Mm).ok()?,
        over: row.over_mm.and_then(|mm| Length::new(mm, Unit::Mm).ok()),
        hole: Length::new(row.hole_mm, Unit::Mm).ok()?,
        fit: row.fit.clone(),
        in_2016_range: row.in_2016_range == "yes",
        suspect: row.suspect.clone(),
        source: row.source.clone(),
        status: row.status,
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn table_is_whole_and_ordered() {
        assert_eq!(ROWS.len(), 385);
        for pair in ROWS.windows(2).filter(|p| p[0].thread == p[1].thread && p[0].metal == p[1].metal) {
            assert!(pair[0].length_mm < pair[1].length_mm, "{} {}", pair[0].thread, pair[1].length_mm);
            if let Some(over) = pair[1].over_mm {
                assert_eq!(over, pair[0].length_mm, "ranges join");
            }
        }
        assert!(ROWS.iter().all(|r| r.fit == "H11" && matches!(r.in_2016_range.as_str(), "yes" | "no")));
        assert!(ROWS.iter().all(|r| r.status == Status::Published && r.source.contains("1984")));
    }

    #[test]
    fn only_suspect_cells_break_the_trend() {
        // Longer engagement never takes a smaller hole, save where a cell is marked.
        for pair in ROWS.windows(2).filter(|p| p[0].thread == p[1].thread && p[0].metal == p[1].metal) {
            if pair[1].hole_mm < pair[0].hole_mm {
                assert!(pair[0].suspect.is_some(), "{} {}", pair[0].thread, pair[0].length_mm);
            }
        }
        assert_eq!(ROWS.iter().filter(|r| r.suspect.is_some()).count(), 4);
    }

    #[test]
    fn lookups_between_and_outside_rows() {
        let at = |thread: &str, mm: f64| {
            let thread = Thread::parse(thread).expect("thread");
            guide_holes(&thread, Length::mm_const(mm), Some(GuideMetal::Steel)).first().map(|g| g.hole.mm())
        };
        assert_eq!(at("M4", 2.7), Some(3.65)); // between 2.5 and 3: the longer row
        assert_eq!(at("M8", 11.0), Some(7.5)); // over 10 to 12
        assert_eq!(at("M4", 1.0), None); // the table starts at 1.5
        assert_eq!(at("M4", 9.0), None); // and ends at 7.5
        assert_eq!(at("M12", 5.0), None);
        assert_eq!(at("M4x0.5", 2.0), None); // coarse threads only
    }
}
