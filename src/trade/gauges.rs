//! Sheet gauges: one number means another thickness in each metal.

use std::sync::LazyLock;

use serde::Deserialize;

use super::{Material, Status, tables};
use crate::units::{Length, Unit};

/// A metal that has a gauge table of its own.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Deserialize)]
#[serde(rename_all = "lowercase")]
pub enum SheetMetal {
    /// Uncoated steel, Manufacturers' Standard Gauge.
    Steel,
    /// Galvanized steel, zinc included.
    Galvanized,
    /// Stainless steel.
    Stainless,
    /// Aluminium; also brass and copper (American wire gauge).
    Aluminium,
}

impl SheetMetal {
    /// The gauge table that a material goes by; none for castings. Galvanized steel is a low-carbon steel too:
    /// the caller must know it.
    pub const fn of(material: Material) -> Option<SheetMetal> {
        match material {
            Material::LowCarbonSteel | Material::StructuralSteel => Some(SheetMetal::Steel),
            Material::StainlessSteel => Some(SheetMetal::Stainless),
            Material::AluminiumWrought | Material::Brass | Material::Copper => Some(SheetMetal::Aluminium),
            Material::AluminiumDieCast
            | Material::ZincDieCast
            | Material::MagnesiumDieCast
            | Material::GreyIron => None,
        }
    }
}

/// A gauge with its thickness.
#[derive(Debug, Clone, PartialEq)]
pub struct Gauge {
    /// The metal it belongs to.
    pub metal: SheetMetal,
    /// The number.
    pub number: u8,
    /// Thickness.
    pub thickness: Length,
    /// Where it comes from.
    pub source: String,
    /// How well that is founded.
    pub status: Status,
}

/// A row of the gauge table.
#[derive(Debug, Deserialize)]
struct Row {
    metal: SheetMetal,
    gauge: u8,
    inch: f64,
    source: String,
    status: Status,
}

static GAUGES: LazyLock<Vec<Row>> =
    LazyLock::new(|| tables::rows("gauges.csv", include_str!("tables/gauges.csv")));

/// The thickness of a gauge. Validity: 3 to 30 for steel and aluminium, 8 to 30 for galvanized and stainless.
/// The laws behind the tables are recalled (status memory); the arithmetic on them is tested. None outside.
///
/// ```
/// use boreband::trade::{SheetMetal, gauge};
/// // 40 oz/ft2 / 16 / 41.82 lb/ft2 per inch = 0.0598 in
/// assert!((gauge(16, SheetMetal::Steel).unwrap().thickness.inch() - 0.0598).abs() < 1e-9);
/// ```
pub fn gauge(number: u8, metal: SheetMetal) -> Option<Gauge> {
    let row = GAUGES.iter().find(|r| r.metal == metal && r.gauge == number)?;
    Some(Gauge {
        metal,
        number,
        thickness: Length::new(row.inch, Unit::Inch).ok()?,
        source: row.source.clone(),
        status: row.status,
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn table_is_whole_and_falls() {
        let of = |m| GAUGES.iter().filter(move |r| r.metal == m).collect::<Vec<_>>();
        for (metal, first, count) in [
            (SheetMetal::Steel, 3, 28),
            (SheetMetal::Galvanized, 8, 23),
            (SheetMetal::Stainless, 8, 23),
            (SheetMetal::Aluminium, 3, 28),
        ] {
            let rows = of(metal);
            assert_eq!((rows[0].gauge, rows.len()), (first, count), "{metal:?}");
            assert!(rows.windows(2).all(|p| p[0].gauge + 1 == p[1].gauge && p[0].inch > p[1].inch));
            assert!(rows.iter().all(|r| r.status == Status::Memory && !r.source.is_empty()));
        }
    }

    #[test]
    fn values_that_mills_print() {
        // Gauge charts as recalled: steel 16 .0598, galvanized 16 .0635, stainless 16 .0625, aluminium 16 .0508.
        for (number, metal, inch) in [
            (16, SheetMetal::Steel, 0.0598),
            (10, SheetMetal::Steel, 0.1345),
            (20, SheetMetal::Steel, 0.0359),
            (11, SheetMetal::Steel, 0.1196),
            (16, SheetMetal::Galvanized, 0.0635),
            (14, SheetMetal::Galvanized, 0.0785),
            (24, SheetMetal::Galvanized, 0.0276),
            (16, SheetMetal::Stainless, 0.0625),
            (11, SheetMetal::Stainless, 0.125),
            (20, SheetMetal::Stainless, 0.0375),
            (16, SheetMetal::Aluminium, 0.0508),
            (10, SheetMetal::Aluminium, 0.1019),
            (20, SheetMetal::Aluminium, 0.0320),
        ] {
            let found = gauge(number, metal).expect("a gauge").thickness.inch();
            assert!((found - inch).abs() < 6e-5, "{number} {metal:?}: {found}");
        }
        assert_eq!(gauge(2, SheetMetal::Steel), None);
        assert_eq!(gauge(31, SheetMetal::Aluminium), None);
    }
}
