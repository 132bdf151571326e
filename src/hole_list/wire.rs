//! A hole list as people write it. Each structure here is at once the strict reading and the JSON Schema.
//!
//! Checks that need more than one value stand in `checks`; what the values mean is told in `model`.

use super::checks;
use super::values::{Coating, Count, Degrees, EdgeFinish, FitName, LimitPair};
use crate::joint::ScrewForm;
use crate::reading::{
    AnyText, Band, Brinell, Choose, Coordinates, Format, LengthAboveZero, LengthFromZero, MaterialName,
    PathText, Placed, Text, ThreadName, written,
};
use crate::trade::Process;
use crate::units::Unit;

written! {
    /// A hole list: which holes of which drawings take which screw, in what material and thickness.
    pub(super) struct HoleList {
        /// The schema that this file follows, for editors. Not used otherwise.
        "$schema" => schema: optional AnyText,
        /// Version of the format: 1.
        "format" => format: required Format,
        /// The unit of every length in the file, `mm` or `in`. Only `at` is in the drawing's own coordinates.
        "unit" => unit: required Choose<Unit>,
        /// The drawings, each with its holes.
        "drawings" => drawings: required Vec<Placed<DrawingEntry>>,
    }
}

written! {
    /// One drawing, or all drawings that a pattern matches, with its holes.
    pub(super) struct DrawingEntry {
        /// Path of the drawing relative to this file, with `/` between folders on every system, or a pattern with
        /// `*`, `?`, `**`, `[…]` and `{…}`. A name without a folder also matches the one drawing of that name under the paths given.
        "drawing" => drawing: required PathText,
        /// Part number.
        "part" => part: optional Text,
        /// Revision of the drawing.
        "revision" => revision: optional Text,
        /// Material of all holes: a name, or a common drawing name such as `DC01` or `A380`.
        "material" => material: optional MaterialName,
        /// Thickness of the metal at all holes.
        "thickness" => thickness: optional LengthAboveZero,
        /// How all holes are made.
        "process" => process: optional Choose<Process>,
        /// Coating on the wall of all holes.
        "coating" => coating: optional Coating,
        /// The engagement allowed in all holes, instead of the band that the trade gives.
        "band" => band: optional Band,
        /// Brinell hardness of the metal.
        "hardness_hb" => hardness_hb: optional Brinell,
        /// The rows. Each stands for one hole or for several that are alike.
        "holes" => holes: required Vec<Placed<HoleRow>>,
    }
    checked by checks::entry
}

written! {
    /// One hole, or several that are alike. It finds its holes on the drawing by the strongest thing it states: `at`, then
    /// `tag`, then `layer`, then the callout that names its thread, then its size.
    pub(super) struct HoleRow {
        /// Tag of the holes on the drawing, for example in a hole table. `A` also means `A1` to `An`.
        "tag" => tag: optional Text,
        /// How many holes the row stands for; with `at`, the number of points.
        "count" => count: optional Count,
        /// The self-forming screw. A row without one describes a hole that takes none.
        "screw" => screw: optional ScrewRow,
        /// Thickness of what the screw clamps.
        "grip" => grip: optional LengthFromZero,
        /// Nominal diameter.
        "diameter" => diameter: optional LengthAboveZero,
        /// Upper deviation, as a magnitude. 0 if only `minus` is stated.
        "plus" => plus: optional LengthFromZero,
        /// Lower deviation, as a magnitude. 0 if only `plus` is stated.
        "minus" => minus: optional LengthFromZero,
        /// Limits of size `[min, max]`, instead of `diameter`, `plus`, `minus` and `fit`.
        "limits" => limits: optional LimitPair,
        /// ISO 286 tolerance of the hole, for example `H11`, instead of `plus`, `minus` and `limits`. `diameter` is its basic size.
        "fit" => fit: optional Choose<FitName>,
        /// Measured diameters, if there are any.
        "capability" => capability: optional Capability,
        /// Depth of a blind hole.
        "depth" => depth: optional LengthAboveZero,
        /// Diameter at the entrance of a cored hole.
        "entrance_diameter" => entrance_diameter: optional LengthAboveZero,
        /// Draft per side of a cored hole (degrees).
        "draft_deg" => draft_deg: optional Degrees,
        /// Collar of an extruded hole.
        "collar" => collar: optional Collar,
        /// The edge of a cut hole: left as cut, or reamed afterwards.
        "edge_finish" => edge_finish: optional Choose<EdgeFinish>,
        /// Centres `[x, y]` in the drawing's own coordinates and unit.
        "at" => at: optional Coordinates,
        /// Layer that the holes are drawn on.
        "layer" => layer: optional Text,
        /// Path of a trial record relative to this file, with `/` between folders.
        "trial" => trial: optional PathText,
        /// Free text.
        "note" => note: optional AnyText,
        /// Material of these holes, over the drawing's.
        "material" => material: optional MaterialName,
        /// Thickness of the metal at these holes, over the drawing's.
        "thickness" => thickness: optional LengthAboveZero,
        /// How these holes are made, over the drawing's.
        "process" => process: optional Choose<Process>,
        /// Coating on the wall of these holes, over the drawing's.
        "coating" => coating: optional Coating,
        /// The engagement allowed in these holes, over the drawing's.
        "band" => band: optional Band,
        /// Brinell hardness of the metal at these holes, over the drawing's.
        "hardness_hb" => hardness_hb: optional Brinell,
    }
    checked by checks::row
}

written! {
    /// A self-forming screw.
    pub(super) struct ScrewRow {
        /// Thread: `M4`, `M4x0.7`, `1/4-20`, `#8-32`.
        "thread" => thread: required ThreadName,
        /// Length under the head.
        "length" => length: optional LengthAboveZero,
        /// How it makes its thread: `rolling` (the default), `cutting`, or `spaced` for a spaced thread.
        "form" => form: optional Choose<ScrewForm>,
        /// Finish of the screw and the hole, as a trial record states it: `zinc 8 µm`, `none`.
        "finish" => finish: optional Text,
        /// Wax or other lubricant on the screw, as a trial record states it: `wax`, `none`.
        "lubricant" => lubricant: optional Text,
    }
}

written! {
    /// Measured diameters of such holes.
    pub(super) struct Capability {
        /// Mean of the measured diameters.
        "mean" => mean: required LengthAboveZero,
        /// Standard deviation of the measured diameters.
        "sd" => sd: required LengthAboveZero,
    }
}

written! {
    /// The collar that extruding draws up round a hole.
    pub(super) struct Collar {
        /// Height above the sheet.
        "height" => height: required LengthAboveZero,
        /// Outside diameter of the collar.
        "outside_diameter" => outside_diameter: optional LengthAboveZero,
        /// Diameter that is pierced before extruding.
        "pierce" => pierce: optional LengthAboveZero,
        /// Radius at the entry, over which no thread forms.
        "entry_radius" => entry_radius: optional LengthFromZero,
    }
}
