//! The neutral drawing: what a DXF file shows, resolved into world coordinates.
//!
//! Plain data. Every thing carries an [`Origin`]: handle, layer, line in the file, space and whether it is
//! shown. Lengths are bare drawing units, because which unit the drawing is in is decided in `pairing`, not here.
//! Nothing here decides what is right.

mod origin;

use crate::geometry::{Bounds, Point, exact_sin_cos};
pub use origin::{InsertId, LayerId, Origin, SpaceId, Stands};

/// One drawing, read.
#[derive(Debug, Clone, Default)]
pub struct Drawing {
    /// Facts of the header.
    pub header: Header,
    /// Layers, those that only entities name included.
    pub layers: Vec<Layer>,
    /// Model space first, then the layouts.
    pub spaces: Vec<Space>,
    /// Every closed circular shape, once per place where it appears.
    pub circles: Vec<Circular>,
    /// Circular arcs that do not close (cosmetic threads, outline parts).
    pub arcs: Vec<Arc>,
    /// Straight lines: LINE entities and straight segments of polylines that are no outline.
    pub segments: Vec<Segment>,
    /// Long polylines of straight sides, kept whole.
    pub outlines: Vec<Outline>,
    /// The corners of all outlines; [`Drawing::corners_of`] gives those of one.
    pub corners: Vec<Point>,
    /// Texts of every carrier, decoded.
    pub texts: Vec<Text>,
    /// Dimensions.
    pub dimensions: Vec<Dimension>,
    /// Leaders and multileaders.
    pub leaders: Vec<Leader>,
    /// Block placements.
    pub inserts: Vec<Insert>,
    /// Units that block definitions state of themselves. An INSERT is never scaled by them: the program that placed
    /// the block has written the factor into the INSERT's own scale.
    pub block_units: Vec<BlockUnits>,
    /// Viewports of layouts.
    pub viewports: Vec<Viewport>,
    /// Table entities.
    pub tables: Vec<Table>,
}

impl Drawing {
    /// What may still be asked about once it is paired: header, layers, spaces and texts. Shapes are most of a large drawing.
    pub fn without_shapes(self) -> Drawing {
        let Drawing { header, layers, spaces, texts, .. } = self;
        Drawing { header, layers, spaces, texts, ..Drawing::default() }
    }

    /// The corners of an outline of this drawing, in order.
    pub fn corners_of(&self, outline: &Outline) -> &[Point] {
        self.corners.get(outline.corners.clone()).unwrap_or_default()
    }
}

/// Facts of the header, as written; which of them to believe is decided in `pairing`.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct Header {
    /// `$ACADVER`, for example `AC1032`.
    pub version: Option<String>,
    /// `$INSUNITS`: 0 none, 1 inch, 4 mm, 5 cm, 6 m and so on.
    pub insunits: Option<i64>,
    /// `$MEASUREMENT`: 0 imperial, 1 metric.
    pub measurement: Option<i64>,
    /// `$DIMLFAC`, the factor from drawn to stated length.
    pub dimlfac: Option<f64>,
    /// `$DWGCODEPAGE`.
    pub code_page: Option<String>,
    /// The year of `$TDUPDATE`, when the drawing was last saved.
    pub saved_in: Option<i16>,
}

/// A layer and its state.
#[derive(Debug, Clone, PartialEq)]
pub struct Layer {
    /// Name as written.
    pub name: String,
    /// Not switched off.
    pub on: bool,
    /// Frozen.
    pub frozen: bool,
}

/// Model space or a layout.
#[derive(Debug, Clone, PartialEq)]
pub struct Space {
    /// `model`, or the layout's name.
    pub name: String,
}

/// What a circle was drawn with.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum MadeOf {
    /// CIRCLE.
    Circle,
    /// ARCs that close.
    Arcs,
    /// Bulge (LW)POLYLINE.
    Polyline,
    /// ELLIPSE of ratio 1.
    Ellipse,
    /// Closed SPLINE.
    Spline,
    /// Regular polygon, diameter across the mean.
    Polygon,
}

impl MadeOf {
    /// The name used in reports.
    pub const fn name(self) -> &'static str {
        match self {
            MadeOf::Circle => "circle",
            MadeOf::Arcs => "arcs",
            MadeOf::Polyline => "polyline",
            MadeOf::Ellipse => "ellipse",
            MadeOf::Spline => "spline",
            MadeOf::Polygon => "polygon",
        }
    }
}

/// A closed circular shape.
#[derive(Debug, Clone, PartialEq)]
pub struct Circular {
    /// Where it comes from.
    pub origin: Origin,
    /// Centre, world coordinates.
    pub center: Point,
    /// Diameter in drawing units, greater than 0.
    pub diameter: f64,
    /// What it was drawn with.
    pub made_of: MadeOf,
}

/// A circular arc that does not close.
#[derive(Debug, Clone, PartialEq)]
pub struct Arc {
    /// Where it comes from.
    pub origin: Origin,
    /// Centre, world coordinates.
    pub center: Point,
    /// Radius in drawing units, greater than 0.
    pub radius: f64,
    /// Start angle, degrees counter-clockwise.
    pub start_deg: f64,
    /// Sweep, degrees counter-clockwise, greater than 0 and less than 360.
    pub sweep_deg: f64,
}

/// A straight line.
#[derive(Debug, Clone, PartialEq)]
pub struct Segment {
    /// Where it comes from.
    pub origin: Origin,
    /// One end.
    pub from: Point,
    /// The other end.
    pub to: Point,
}

/// A polyline of more than eight corners and straight sides only: the edge of a part or of a section, a contour. Most
/// of the bytes of a large drawing are of such, so their sides are no segments of their own.
#[derive(Debug, Clone, PartialEq)]
pub struct Outline {
    /// Where it comes from.
    pub origin: Origin,
    /// Its corners among [`Drawing::corners`]; a closed one ends with its first corner again.
    pub corners: std::ops::Range<usize>,
}

/// What carries a text.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum TextKind {
    /// TEXT.
    Text,
    /// MTEXT.
    MText,
    /// ATTRIB of the insert in [`Origin::insert`], with its tag.
    Attribute {
        /// Attribute tag, for example `MATERIAL`.
        tag: String,
    },
    /// ATTDEF outside a block.
    AttributeDefinition {
        /// Attribute tag.
        tag: String,
    },
    /// Content of a MULTILEADER.
    MultiLeader,
    /// TOLERANCE (feature control frame).
    Tolerance,
}

/// A text, decoded: control codes and formatting resolved, lines split by `\n`.
///
/// `%%c` and the symbol-font letters arrive as `Ø`, `%%d` as `°`, `%%p` as `±`; a stacked `\S+.003^-.000;`
/// as `+.003/-.000`, a stacked fraction `\S7/32;` as `7/32`.
#[derive(Debug, Clone, PartialEq)]
pub struct Text {
    /// Where it comes from.
    pub origin: Origin,
    /// What carries it.
    pub kind: TextKind,
    /// Decoded content.
    pub content: String,
    /// Its alignment or insertion point.
    pub at: Point,
    /// Estimated box of the drawn text (exact rendering needs the font; within a few character widths).
    pub bounds: Bounds,
    /// Letter height in drawing units.
    pub height: f64,
    /// Rotation, degrees counter-clockwise.
    pub rotation_deg: f64,
}

/// What a dimension measures.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum DimensionKind {
    /// Rotated, horizontal or vertical.
    Linear,
    /// Along its two points.
    Aligned,
    /// Angular, either form.
    Angular,
    /// Diameter.
    Diameter,
    /// Radius.
    Radius,
    /// Ordinate.
    Ordinate,
    /// Length along an arc.
    ArcLength,
}

/// The tolerance that a dimension's style or its overrides show, in stated units.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum DimensionTolerance {
    /// DIMTOL on: plus and minus magnitudes.
    PlusMinus {
        /// DIMTP.
        plus: f64,
        /// DIMTM (a positive value goes downwards).
        minus: f64,
    },
    /// DIMLIM on: written as limits that are this far from the measured value.
    Limits {
        /// DIMTP.
        plus: f64,
        /// DIMTM.
        minus: f64,
    },
}

/// A dimension.
#[derive(Debug, Clone, PartialEq)]
pub struct Dimension {
    /// Where it comes from.
    pub origin: Origin,
    /// What it measures.
    pub kind: DimensionKind,
    /// Measured from its points: drawing units (degrees for an angular one), without the length factor.
    pub measured: f64,
    /// Factor from drawn to stated length: DIMLFAC of override, style or header; 1 if none.
    pub length_factor: f64,
    /// Override text, decoded, `<>` kept; none where the measured value is shown.
    pub text: Option<String>,
    /// What is shown: the override with `<>` filled in, or the value as the style formats it (sign `Ø` or `R`,
    /// prefix, suffix, decimals, tolerance), empty if the text is suppressed.
    pub shown: String,
    /// Tolerance shown by style or override.
    pub tolerance: Option<DimensionTolerance>,
    /// Decimal places that the style shows (DIMDEC).
    pub decimals: u8,
    /// The points measured between (two for most; the chord ends for a diameter; centre and chord point for a radius).
    pub points: Vec<Point>,
    /// Middle of the text, where the file states it.
    pub text_at: Option<Point>,
}

/// A leader or multileader.
#[derive(Debug, Clone, PartialEq)]
pub struct Leader {
    /// Where it comes from.
    pub origin: Origin,
    /// Vertices, arrow tip first; spurious (0,0) vertices removed. A multileader with several arms gives one
    /// leader for each arm.
    pub vertices: Vec<Point>,
    /// Handle of the text or block it annotates, where the file states one.
    pub annotation: Option<u64>,
    /// Index into [`Drawing::texts`] of the text it annotates, where that is known (always for a multileader).
    pub text: Option<usize>,
}

/// A placed block, for attributes and symbols.
#[derive(Debug, Clone, PartialEq)]
pub struct Insert {
    /// Where it comes from; `insert` names the enclosing one.
    pub origin: Origin,
    /// Block name.
    pub block: String,
    /// Insertion point, world coordinates.
    pub at: Point,
}

/// The unit that a block's record states (group 70, in R2000 extended data).
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct BlockUnits {
    /// Name of the block.
    pub block: String,
    /// As `$INSUNITS`: 1 inch, 4 mm and so on; never 0.
    pub insunits: i64,
}

/// A view of model space on a layout.
#[derive(Debug, Clone, PartialEq)]
pub struct Viewport {
    /// The layout.
    pub space: SpaceId,
    /// Centre on the paper.
    pub center: Point,
    /// Width and height on the paper.
    pub size: (f64, f64),
    /// The point of model space that is shown at the centre.
    pub model_center: Point,
    /// Paper units per model unit.
    pub scale: f64,
    /// Turn of the view: model space appears turned by this on the paper, degrees counter-clockwise.
    pub twist_deg: f64,
    /// Whether it looks straight down on the plan, without perspective; another one has no scale for what lies in
    /// the plan.
    pub from_above: bool,
    /// Corners of its boundary on the paper, where that is no rectangle; else empty.
    pub clip: std::sync::Arc<[Point]>,
    /// Layers that are frozen in this viewport only.
    pub frozen: Vec<LayerId>,
}

impl Viewport {
    /// The point of model space that is shown at a point of the paper; none outside of the viewport, and where it
    /// shows no plan.
    pub fn model_point(&self, paper: Point) -> Option<Point> {
        if !self.from_above || self.scale <= 0.0 || !self.holds(paper) {
            return None;
        }
        let (sin, cos) = exact_sin_cos(-self.twist_deg);
        let (x, y) = ((paper.x - self.center.x) / self.scale, (paper.y - self.center.y) / self.scale);
        Some(Point::new(self.model_center.x + x * cos - y * sin, self.model_center.y + x * sin + y * cos))
    }

    /// Where on the paper a point of model space is shown; none where it is not.
    pub fn paper_point(&self, model: Point) -> Option<Point> {
        let (sin, cos) = exact_sin_cos(self.twist_deg);
        let (x, y) =
            ((model.x - self.model_center.x) * self.scale, (model.y - self.model_center.y) * self.scale);
        let paper = Point::new(self.center.x + x * cos - y * sin, self.center.y + x * sin + y * cos);
        (self.from_above && self.scale > 0.0 && self.holds(paper)).then_some(paper)
    }

    /// Whether things on a layer are shown, as far as this viewport decides it.
    pub fn shows(&self, layer: LayerId) -> bool {
        !self.frozen.contains(&layer)
    }

    /// Whether a point of the paper lies within the boundary, or on it.
    fn holds(&self, p: Point) -> bool {
        let within = (p.x - self.center.x).abs() <= self.size.0 / 2.0
            && (p.y - self.center.y).abs() <= self.size.1 / 2.0;
        within && (self.clip.is_empty() || inside(&self.clip, p))
    }
}

/// Whether a point lies inside a polygon, by the number of its sides to the right of the point.
fn inside(corners: &[Point], p: Point) -> bool {
    let sides = corners.iter().zip(corners.iter().cycle().skip(1));
    let crossed = sides
        .filter(|(a, b)| (a.y > p.y) != (b.y > p.y) && p.x < a.x + (p.y - a.y) / (b.y - a.y) * (b.x - a.x));
    crossed.count() % 2 == 1
}

/// A table entity.
#[derive(Debug, Clone, PartialEq)]
pub struct Table {
    /// Where it comes from.
    pub origin: Origin,
    /// Insertion point.
    pub at: Point,
    /// Cell texts, row by row, decoded.
    pub rows: Vec<Vec<String>>,
}

/// Something in a file that could not be read as it stands.
#[derive(Debug, Clone, PartialEq, Eq, PartialOrd, Ord)]
pub struct Problem {
    /// 1-based line in a text file, 0 in a binary one.
    pub line: u64,
    /// 0-based byte offset.
    pub offset: u64,
    /// What was found and what was expected.
    pub message: String,
    /// Whether anything of the drawing was lost by it (makes the drawing `partly-read`).
    pub loss: bool,
}

/// How far a drawing was read.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum ReadState {
    /// Whole.
    Read,
    /// With losses, each a problem.
    PartlyRead,
    /// Not at all.
    Unreadable,
}

impl ReadState {
    /// The name used in reports.
    pub const fn name(self) -> &'static str {
        match self {
            ReadState::Read => "read",
            ReadState::PartlyRead => "partly-read",
            ReadState::Unreadable => "unreadable",
        }
    }
}
