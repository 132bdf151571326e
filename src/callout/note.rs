//! A text as a note or title-block entry: thickness, material, general tolerance, unit, scale.

use super::Quantity;
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
    /// General tolerances.
    pub tolerances: Vec<GeneralTolerance>,
    /// `ALL DIMS MM`, `DIMENSIONS IN INCHES`.
    pub unit: Option<Unit>,
    /// `SCALE 2:1`: drawn over true.
    pub scale: Option<f64>,
    /// A process for all holes (`ALL HOLES PUNCHED`).
    pub process: Option<Process>,
}

impl Note {
    /// Whether the text said nothing of this kind.
    pub fn is_empty(&self) -> bool {
        *self == Note::default()
    }
}

/// Reads a decoded text as a note. Never fails; what it does not know it leaves out.
pub fn read(text: &str) -> Note {
    let _ = text;
    Note::default()
}

/// Reads the value of a title-block attribute by its tag (`MATERIAL`, `THICKNESS`, `SCALE`, `UNITS`).
pub fn read_attribute(tag: &str, value: &str) -> Note {
    let _ = (tag, value);
    Note::default()
}
