//! Joins circles, callouts, rows of hole lists and thickness, and says for every leftover why it was left.
//!
//! One assignment over the whole drawing; every cost has a name and is kept as the reason of the pairing.

mod anchors;
mod assign;
mod by_view;
mod calibration;
mod claims;
mod confidence;
mod conflicts;
mod contours;
mod cover;
mod details;
mod directions;
mod edge;
mod edge_lines;
mod evidence;
mod fitting;
mod flow;
mod frames;
mod headless;
mod join;
mod joints;
mod kept;
mod left;
mod measured;
mod nearest_edge;
mod nearness;
mod order;
mod part_size;
mod parts;
mod places;
mod projected;
mod raster;
mod resolve;
mod rings;
mod roles;
mod rows;
mod scale;
mod scene;
mod sheet;
mod sides;
mod signs;
mod stacked;
mod strokes;
mod surroundings;
mod tables;
mod tags;
#[cfg(test)]
pub(crate) mod testing;
#[cfg(test)]
mod tests;
mod texts;
mod title;
mod touching;
mod twins;
mod unit;
mod views;

pub use measured::Detail;
pub use surroundings::Surroundings;

use std::ops::{Deref, DerefMut};
use std::sync::Arc;

use crate::callout::{Callout, Words, note::GeneralTolerance};
use crate::drawing::{Drawing, Origin};
use crate::geometry::Point;
use crate::joint::{Defaults, DrawingRows, Making, Row, Screw, StatedSize};
use crate::shared::{Shared, SharedText};
use crate::trade::Material;
use crate::units::{Length, Unit};

/// What a circle was taken for.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum Role {
    /// A hole.
    Hole,
    /// The counterbore or spotface of a hole.
    Counterbore,
    /// The countersink of a hole.
    Countersink,
    /// The drawn major diameter of a thread.
    CosmeticThread,
    /// A circle that hole centres lie on.
    PitchCircle,
    /// A bubble round a letter or number.
    Balloon,
    /// The outline of a part.
    Outline,
    /// Part of a symbol, logo or title block.
    Symbol,
    /// Not shown.
    Hidden,
}

impl Role {
    /// The name used in reports.
    pub const fn name(self) -> &'static str {
        match self {
            Role::Hole => "hole",
            Role::Counterbore => "counterbore",
            Role::Countersink => "countersink",
            Role::CosmeticThread => "cosmetic-thread",
            Role::PitchCircle => "pitch-circle",
            Role::Balloon => "balloon",
            Role::Outline => "outline",
            Role::Symbol => "symbol",
            Role::Hidden => "hidden",
        }
    }
}

/// The strongest evidence that ties a hole to its callout or row.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub enum PairedBy {
    /// A leader's tip is on it.
    Leader,
    /// A diameter or radius dimension measures it.
    Dimension,
    /// A hole table lists its tag.
    Table,
    /// Its tag.
    Tag,
    /// The list's position.
    Position,
    /// The list's layer.
    Layer,
    /// One of the holes that a counted callout speaks of.
    Count,
    /// The nearest fitting callout.
    Nearest,
    /// Nothing: the drawn circle stands for itself.
    Drawn,
}

impl PairedBy {
    /// The name used in reports.
    pub const fn name(self) -> &'static str {
        match self {
            PairedBy::Leader => "leader",
            PairedBy::Dimension => "dimension",
            PairedBy::Table => "table",
            PairedBy::Tag => "tag",
            PairedBy::Position => "position",
            PairedBy::Layer => "layer",
            PairedBy::Count => "count",
            PairedBy::Nearest => "nearest",
            PairedBy::Drawn => "drawn",
        }
    }
}

/// Where the drawing's unit was taken from.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum UnitSource {
    /// `$INSUNITS` (or `$MEASUREMENT`).
    Header,
    /// The hole list.
    List,
    /// Callouts, notes and the title block.
    Callouts,
    /// The command line.
    Option,
    /// Nothing said; millimetres assumed.
    Assumed,
}

impl UnitSource {
    /// The name used in reports.
    pub const fn name(self) -> &'static str {
        match self {
            UnitSource::Header => "header",
            UnitSource::List => "list",
            UnitSource::Callouts => "callouts",
            UnitSource::Option => "option",
            UnitSource::Assumed => "assumed",
        }
    }
}

/// One vote on the drawing's unit.
#[derive(Debug, Clone, PartialEq)]
pub struct UnitVote {
    /// The unit voted for.
    pub unit: Unit,
    /// Who votes, for example `$INSUNITS 4` or `callout .224`.
    pub who: String,
    /// How much it counts.
    pub weight: f64,
}

/// The drawing's unit, who said so and who disagreed.
#[derive(Debug, Clone, PartialEq)]
pub struct UnitReading {
    /// The unit.
    pub unit: Unit,
    /// Where it was taken from.
    pub source: UnitSource,
    /// All votes.
    pub votes: Vec<UnitVote>,
    /// Whether the votes disagree so that a person must look (`unit-doubtful`).
    pub doubtful: bool,
}

/// Where the thickness at a hole was taken from.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum ThicknessSource {
    /// The hole list.
    List,
    /// The callout.
    Callout,
    /// The title block.
    TitleBlock,
    /// A note.
    Note,
    /// The command line.
    Option,
    /// Nowhere.
    None,
}

impl ThicknessSource {
    /// The name used in reports.
    pub const fn name(self) -> &'static str {
        match self {
            ThicknessSource::List => "list",
            ThicknessSource::Callout => "callout",
            ThicknessSource::TitleBlock => "title-block",
            ThicknessSource::Note => "note",
            ThicknessSource::Option => "option",
            ThicknessSource::None => "none",
        }
    }
}

/// One named term of the cost of a pairing.
#[derive(Debug, Clone, PartialEq)]
pub struct CostTerm {
    /// Its name, for example `leader-tip` or `size-differs`.
    pub name: &'static str,
    /// Its cost, 0 or more.
    pub cost: f64,
    /// What was measured.
    pub detail: Detail,
}

/// A circle and what it was taken for.
#[derive(Debug, Clone, PartialEq)]
pub struct SeenCircle {
    /// Index into [`Drawing::circles`].
    pub circle: usize,
    /// What it was taken for.
    pub role: Role,
    /// Index into [`Paired::holes`] of the hole it is or belongs to.
    pub hole: Option<usize>,
}

/// A callout on the drawing.
#[derive(Debug, Clone, PartialEq)]
pub struct SeenCallout {
    /// What it says.
    pub callout: Arc<Callout>,
    /// Where it comes from.
    pub origin: Origin,
    /// Where it stands.
    pub at: Point,
    /// Indices into [`Paired::holes`] of its holes.
    pub holes: Vec<usize>,
    /// Why it has no hole, or not as many as it counts; none if all is well.
    pub left: Option<String>,
    /// Holes that it speaks of too, and that another callout took.
    pub claims: Vec<Claim>,
    /// Whether it is a dimension whose number is what it measures, as its style rounds it.
    pub measured: bool,
}

/// A hole that a callout points at with a leader or as a dimension, or names by its tag, and that another callout took.
#[derive(Debug, Clone, PartialEq)]
pub struct Claim {
    /// Index into [`Paired::holes`].
    pub hole: usize,
    /// The size that the callout states.
    pub size: Option<StatedSize>,
}

/// A row of a hole list and the holes it found.
#[derive(Debug, Clone, PartialEq)]
pub struct SeenRow {
    /// The row.
    pub row: Row,
    /// Indices into [`Paired::holes`].
    pub holes: Vec<usize>,
    /// How it found them.
    pub by: PairedBy,
    /// Points of `at` where no hole was found.
    pub missing_at: Vec<Point>,
    /// Why it found none or another number; none if all is well.
    pub left: Option<String>,
}

/// A hole with all that the drawing, the list and the command line say of it.
#[derive(Debug, Clone, PartialEq)]
pub struct Hole {
    /// `H1`, `H2` … in drawing order of its view (top to bottom, left to right).
    pub id: SharedText,
    /// Index into [`Drawing::circles`].
    pub circle: usize,
    /// Where the circle comes from.
    pub origin: Origin,
    /// Centre.
    pub at: Point,
    /// Diameter as drawn.
    pub drawn: Length,
    /// Drawn over true size in its view, 1 if unknown.
    pub view_scale: f64,
    /// Tag beside it, in its callout or row.
    pub tag: Option<String>,
    /// Index into [`Paired::callouts`].
    pub callout: Option<usize>,
    /// Index into [`Paired::rows`].
    pub row: Option<usize>,
    /// Strongest evidence.
    pub paired_by: PairedBy,
    /// How sure the pairing is, 0 to 1.
    pub confidence: f64,
    /// The terms of the pairing's cost, if they were asked for.
    pub reasons: Box<[CostTerm]>,
    /// What is said of it. A hole dereferences to it.
    pub joint: Shared<Joint>,
}

/// What is said of a hole and of the joint there, all but its place. Holes of which the same is said share one: on large
/// sheets that are thousands.
#[derive(Debug, Clone, PartialEq)]
pub struct Joint {
    /// The screw, if it is a screw hole.
    pub screw: Option<Screw>,
    /// Metal and making: list over callout over view note over title block over command line.
    pub making: Making,
    /// Where the thickness was taken from.
    pub thickness_source: ThicknessSource,
    /// Size on the callout, in lengths.
    pub called: Option<StatedSize>,
    /// Size in the list.
    pub listed: Option<StatedSize>,
    /// Diameter of a counterbore or countersink that belongs to it, and its depth where stated or given by its angle.
    pub entry: Option<(Role, Length, Option<Length>)>,
    /// Depth of a blind hole, list over callout.
    pub depth: Option<Length>,
}

impl Deref for Hole {
    type Target = Joint;

    fn deref(&self) -> &Joint {
        &self.joint
    }
}

impl DerefMut for Hole {
    fn deref_mut(&mut self) -> &mut Joint {
        &mut self.joint
    }
}

/// What statements can contradict each other in.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum Stated {
    /// Thickness of the metal.
    Thickness,
    /// The metal.
    Material,
    /// How a hole is made.
    Process,
    /// What is on its wall.
    Coating,
}

/// A statement of a fact of the sheet that contradicts another.
#[derive(Debug, Clone, PartialEq)]
pub struct Conflict {
    /// The fact.
    pub about: Stated,
    /// What each source says, for people: `list 1.5 mm`, `title block 2 mm`.
    pub says: Vec<String>,
    /// The hole it is about; none for the whole drawing.
    pub hole: Option<usize>,
}

/// What the sheet says for all its holes.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Sheet {
    /// Thickness, from title block, note or list, and where from.
    pub thickness: Option<(Length, ThicknessSource)>,
    /// Material.
    pub material: Option<Material>,
    /// General tolerances.
    pub tolerances: Vec<GeneralTolerance>,
    /// Part number, from the list.
    pub part: Option<String>,
}

/// A drawing with everything joined.
#[derive(Debug, Clone, PartialEq)]
pub struct Paired {
    /// The unit.
    pub unit: UnitReading,
    /// The sheet.
    pub sheet: Sheet,
    /// Every circular shape, if that was asked for.
    pub circles: Vec<SeenCircle>,
    /// Every hole, in drawing order.
    pub holes: Vec<Hole>,
    /// Every callout.
    pub callouts: Vec<SeenCallout>,
    /// Every row of the list.
    pub rows: Vec<SeenRow>,
    /// Contradictory statements.
    pub conflicts: Vec<Conflict>,
    /// What stands round each hole, in their order.
    pub surroundings: Vec<Surroundings>,
}

/// Joins a drawing with what the lists and the command line say of it.
pub fn pair(drawing: &Drawing, rows: Option<&DrawingRows>, defaults: &Defaults) -> Paired {
    pair_with(drawing, rows, defaults, Manner { words: Words::built_in(), reasoned: true })
}

/// How a drawing is paired.
#[derive(Debug, Clone, Copy)]
pub struct Manner<'a> {
    /// The words of callouts and notes.
    pub words: &'a Words,
    /// Whether holes keep the reasons of their pairing, and circles what they were taken for, which take more room than the
    /// holes and which few look at.
    pub reasoned: bool,
}

/// [`pair`] in a manner of one's own.
pub fn pair_with(
    drawing: &Drawing,
    rows: Option<&DrawingRows>,
    defaults: &Defaults,
    manner: Manner<'_>,
) -> Paired {
    join::join(drawing, rows, defaults, manner)
}

/// The only one; none where there are several.
fn only<T>(mut found: impl Iterator<Item = T>) -> Option<T> {
    found.next().filter(|_| found.next().is_none())
}
