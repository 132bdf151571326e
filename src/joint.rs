//! What people ask of a hole: the screw, the metal, the size; and a row of a hole list. Plain data, read by
//! `hole_list`, used by `pairing` and everything after it.

use crate::geometry::Point;
use crate::trade::{Material, Process, Thread};
use crate::units::{Angle, Length, Unit};

/// How a self-forming screw makes its thread.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum ScrewForm {
    /// Machine thread, rolled: displaces metal. The default.
    Rolling,
    /// Machine thread, cut: removes metal.
    Cutting,
    /// Spaced thread.
    Spaced,
}

impl ScrewForm {
    /// The name used in files and reports.
    pub const fn name(self) -> &'static str {
        match self {
            ScrewForm::Rolling => "rolling",
            ScrewForm::Cutting => "cutting",
            ScrewForm::Spaced => "spaced",
        }
    }
}

/// The screw that a hole is meant for.
#[derive(Debug, Clone, PartialEq)]
pub struct Screw {
    /// Its thread.
    pub thread: Thread,
    /// Length under the head.
    pub length: Option<Length>,
    /// How it makes its thread.
    pub form: ScrewForm,
}

/// A tolerance as a person states it.
#[derive(Debug, Clone, PartialEq)]
pub enum Tolerance {
    /// Magnitudes of 0 or more, up and down from the nominal.
    PlusMinus {
        /// Upwards.
        plus: Length,
        /// Downwards.
        minus: Length,
    },
    /// Limits of size, without a nominal.
    Limits {
        /// Smallest hole.
        min: Length,
        /// Largest hole.
        max: Length,
    },
    /// A fit such as `H11`; its nominal is the basic size.
    Fit(String),
    /// The nominal is the largest size (`MAX`); no smallest is stated.
    Largest,
    /// The nominal is the smallest size (`MIN`); no largest is stated.
    Smallest,
}

/// A size as a person states it: nominal and tolerance, either of which may be absent.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct StatedSize {
    /// Nominal diameter; absent where only limits are stated.
    pub nominal: Option<Length>,
    /// Tolerance; absent where none is stated.
    pub tolerance: Option<Tolerance>,
    /// Decimal places that the nominal is written with, 0 if unknown; general tolerances go by them.
    pub decimals: u8,
    /// The unit it is written in, where known.
    pub unit: Option<Unit>,
}

/// When the stated size of a coated hole holds.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum Stage {
    /// Before coating: the screw meets a smaller hole.
    Before,
    /// After coating: the screw meets the stated one.
    After,
}

impl Stage {
    /// Both.
    pub const ALL: [Stage; 2] = [Stage::Before, Stage::After];

    /// The name used in files and reports.
    pub const fn name(self) -> &'static str {
        match self {
            Stage::Before => "before",
            Stage::After => "after",
        }
    }
}

/// A coating on the wall of the hole.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Coating {
    /// Thickness on the wall (the diameter shrinks by twice this).
    pub thickness: Length,
    /// When the stated diameter holds; none where that is not said, so that it may be either.
    pub stated: Option<Stage>,
}

impl Coating {
    /// The least and the most that the coating takes from the stated diameter.
    pub fn takes(&self) -> (Length, Length) {
        let twice = self.thickness * 2.0;
        match self.stated {
            Some(Stage::Before) => (twice, twice),
            Some(Stage::After) => (Length::ZERO, Length::ZERO),
            None => (Length::ZERO, twice),
        }
    }
}

/// The collar that extruding draws up round a hole.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct Collar {
    /// Height above the sheet.
    pub height: Length,
    /// Outside diameter; none if not stated.
    pub outside: Option<Length>,
    /// Diameter pierced before extruding; none if not stated.
    pub pierce: Option<Length>,
    /// Radius at the entry, over which no thread forms; none if not stated.
    pub entry_radius: Option<Length>,
}

/// A band set by the user, percent on the rolled basis.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct UserBand {
    /// Least engagement (percent).
    pub min: f64,
    /// Greatest engagement (percent).
    pub max: f64,
    /// Target, the middle if not stated.
    pub target: Option<f64>,
}

/// Facts of the metal and the making that a list can give per drawing or per hole.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Making {
    /// Material.
    pub material: Option<Material>,
    /// Thickness of the metal at the hole.
    pub thickness: Option<Length>,
    /// How the hole is made.
    pub process: Option<Process>,
    /// Coating on the wall.
    pub coating: Option<Coating>,
    /// A band that overrides the trade's.
    pub band: Option<UserBand>,
    /// Brinell hardness.
    pub hardness_hb: Option<f64>,
}

/// One row of a hole list, with the per-drawing facts filled in.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Row {
    /// JSON pointer of the row in its file, for example `/drawings/0/holes/1`.
    pub pointer: String,
    /// Path of the hole list file.
    pub list: String,
    /// The unit that the list is written in.
    pub unit: Option<Unit>,
    /// Tag on the drawing.
    pub tag: Option<String>,
    /// How many holes the row stands for; with `at` the number of points.
    pub count: Option<u32>,
    /// The screw; a row without one describes a hole that is no screw hole.
    pub screw: Option<Screw>,
    /// Thickness of what the screw clamps.
    pub grip: Option<Length>,
    /// Size stated by the list.
    pub size: StatedSize,
    /// Measured mean and standard deviation of diameters.
    pub capability: Option<(Length, Length)>,
    /// Depth of a blind hole.
    pub depth: Option<Length>,
    /// Diameter at the entrance of a cored hole.
    pub entrance_diameter: Option<Length>,
    /// Draft per side.
    pub draft: Option<Angle>,
    /// An extruded collar.
    pub collar: Option<Collar>,
    /// True if the edge is reamed after cutting, false if stated as cut.
    pub edge_reamed: Option<bool>,
    /// World coordinates in the drawing's own units.
    pub at: Vec<Point>,
    /// Layer that its holes are on.
    pub layer: Option<String>,
    /// Finish of screw and hole, for a trial record to be held against.
    pub finish: Option<String>,
    /// Lubricant on the screw, likewise.
    pub lubricant: Option<String>,
    /// Path of a trial record.
    pub trial: Option<String>,
    /// Free text.
    pub note: Option<String>,
    /// Metal and making, the row's over the drawing's.
    pub making: Making,
}

/// All that hole lists say about one drawing.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct DrawingRows {
    /// Part number.
    pub part: Option<String>,
    /// Revision.
    pub revision: Option<String>,
    /// Per-drawing metal and making (already merged into each row).
    pub making: Making,
    /// The rows, in the order of the lists.
    pub rows: Vec<Row>,
    /// Unit of the list that covers it.
    pub unit: Option<Unit>,
}

/// What the command line gives for drawings that no hole list covers.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Defaults {
    /// `--screw`.
    pub thread: Option<Thread>,
    /// `--thickness`, `--material`, `--process`.
    pub making: Making,
}
