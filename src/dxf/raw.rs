//! What a file holds before anything is placed: entities in their own coordinates, block by block, texts as byte
//! ranges. Plain data between the scan and the resolution.

mod counts;

use std::num::NonZeroU64;
use std::ops::Range;

use super::tags::Start;
use crate::drawing::{BlockUnits, DimensionKind, Stands};
use crate::geometry::{Point, Vec3};
pub(super) use counts::Counts;

/// Index of a layer in [`Raw::layers`].
pub(super) type LayerIndex = u32;

/// Where a line type comes from, as far as it says what a line stands for.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum LineType {
    /// As its layer.
    ByLayer,
    /// As the INSERT that shows it.
    ByBlock,
    /// Its own.
    Own(Stands),
}

/// A layer of the table, or one that only an entity names.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct RawLayer {
    pub(super) name: String,
    pub(super) on: bool,
    pub(super) frozen: bool,
    pub(super) stands: Stands,
    /// Whether what stands on it are marks of an earlier check.
    pub(super) marks: bool,
}

/// What all entities have. There is one for each entity, so it is kept small: what many entities share stands once.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Common {
    pub(super) offset: u64,
    pub(super) handle: Option<NonZeroU64>,
    /// No file has more lines than this holds.
    pub(super) line: u32,
    /// Index into [`Raw::settings`].
    pub(super) setting: u32,
}

impl Common {
    /// That of the entity that `start` opened.
    #[inline(always)]
    pub(super) fn new(start: Start<'_>, handle: Option<u64>, setting: u32) -> Self {
        let line = u32::try_from(start.line).unwrap_or(u32::MAX);
        Common { line, offset: start.offset, handle: handle.and_then(NonZeroU64::new), setting }
    }
}

/// How an entity stands in the drawing: the same for many of its neighbours.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Setting {
    /// Handle of the block record that owns it, 0 where none is stated.
    pub(super) owner: u64,
    pub(super) layer: LayerIndex,
    /// Extrusion direction as an index into [`Raw::normals`].
    pub(super) normal: u32,
    pub(super) line_type: LineType,
    pub(super) invisible: bool,
    pub(super) on_paper: bool,
}

/// An entity. Entities own nothing, so that many are forgotten at once.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Entity {
    pub(super) common: Common,
    pub(super) kind: Kind,
}

/// What an entity is; for all but the simplest and commonest ones an index into the list of their kind in [`Raw`].
#[derive(Debug, Clone, PartialEq)]
pub(super) enum Kind {
    /// A LINE at height 0, as nearly all are.
    Line {
        from: Point,
        to: Point,
    },
    /// Another LINE.
    SpatialLine(u32),
    Circle {
        center: Vec3,
        radius: f64,
    },
    Arc(u32),
    Ellipse(u32),
    Polyline(Polyline),
    Spline(u32),
    Text(u32),
    Insert(u32),
    Dimension(u32),
    Leader(u32),
    MultiLeader(u32),
    Viewport(u32),
    Table(u32),
}

/// ARC.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct RawArc {
    pub(super) center: Vec3,
    pub(super) radius: f64,
    pub(super) start_deg: f64,
    pub(super) end_deg: f64,
}

/// ELLIPSE, in world coordinates of its block.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Ellipse {
    pub(super) center: Vec3,
    pub(super) major: Vec3,
    pub(super) ratio: f64,
    /// Parameters in radians.
    pub(super) start: f64,
    pub(super) end: f64,
}

/// A vertex of a polyline, with the bulge of the segment that it begins.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Vertex {
    pub(super) at: Vec3,
    pub(super) bulge: f64,
}

/// LWPOLYLINE or POLYLINE; its vertices lie in [`Raw::vertices`].
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Polyline {
    pub(super) vertices: Range<usize>,
    pub(super) closed: bool,
    /// In the plane of its extrusion direction; a spatial one is in the coordinates of its block.
    pub(super) planar: bool,
}

/// SPLINE.
#[derive(Debug, Clone, PartialEq, Default)]
pub(super) struct Spline {
    pub(super) degree: usize,
    pub(super) knots: Vec<f64>,
    pub(super) weights: Vec<f64>,
    pub(super) control: Vec<Vec3>,
    pub(super) fit: Vec<Vec3>,
}

/// What carries a raw text.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Carrier {
    Text,
    MText,
    Attribute,
    AttributeDefinition,
    Tolerance,
}

/// Where a text stands relative to its point, in units of its width and height.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Anchor {
    /// 0 left, 0.5 middle, 1 right.
    pub(super) across: f64,
    /// 0 bottom, 0.5 middle, 1 top.
    pub(super) up: f64,
}

/// A text of any carrier.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct RawText<'a> {
    pub(super) carrier: Carrier,
    pub(super) chunks: Chunks<'a>,
    pub(super) tag: &'a [u8],
    pub(super) at: Vec3,
    pub(super) height: f64,
    /// Width of a letter over the font's own; for MTEXT 1.
    pub(super) width_factor: f64,
    /// Width at which an MTEXT wraps, 0 if it does not.
    pub(super) wrap: f64,
    /// Direction of the line of text.
    pub(super) along: Vec3,
    pub(super) anchor: Anchor,
    pub(super) symbol_font: bool,
    /// MTEXT formatting applies.
    pub(super) formatted: bool,
    /// Point and direction are in the plane of the extrusion direction.
    pub(super) planar: bool,
    /// A constant attribute definition, shown with every INSERT of its block.
    pub(super) constant: bool,
    /// The attribute's own flag.
    pub(super) hidden: bool,
}

/// A value in one or several pieces.
#[derive(Debug, Clone, PartialEq, Default)]
pub(super) struct Chunks<'a> {
    pub(super) first: &'a [u8],
    pub(super) more: Vec<&'a [u8]>,
}

impl<'a> Chunks<'a> {
    /// A value in one piece.
    pub(super) fn one(first: &'a [u8]) -> Self {
        Chunks { first, more: Vec::new() }
    }

    /// Adds a piece at the end.
    pub(super) fn push(&mut self, piece: &'a [u8]) {
        if self.first.is_empty() && self.more.is_empty() {
            self.first = piece;
        } else {
            self.more.push(piece);
        }
    }

    /// Length of all pieces.
    pub(super) fn len(&self) -> usize {
        self.first.len() + self.more.iter().map(|piece| piece.len()).sum::<usize>()
    }
}

/// INSERT with its attributes, which lie in [`Raw::attributes`].
#[derive(Debug, Clone, PartialEq)]
pub(super) struct RawInsert<'a> {
    pub(super) block: &'a [u8],
    pub(super) at: Vec3,
    pub(super) scale: Vec3,
    pub(super) rotation_deg: f64,
    pub(super) columns: i64,
    pub(super) rows: i64,
    pub(super) column_spacing: f64,
    pub(super) row_spacing: f64,
    pub(super) attributes: Range<usize>,
}

/// DIMENSION of any kind.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct RawDimension<'a> {
    pub(super) kind: DimensionKind,
    /// The type number, for what the kind does not tell (which angular form, which ordinate).
    pub(super) type_bits: i64,
    /// Points of groups 10, 13, 14, 15 and 16.
    pub(super) p10: Vec3,
    pub(super) p13: Vec3,
    pub(super) p14: Vec3,
    pub(super) p15: Vec3,
    pub(super) p16: Vec3,
    pub(super) text_at: Option<Vec3>,
    /// Direction of a rotated dimension, of the x axis for an ordinate one.
    pub(super) rotation_deg: f64,
    pub(super) horizontal_deg: f64,
    pub(super) text: &'a [u8],
    pub(super) block: &'a [u8],
    pub(super) style: &'a [u8],
    pub(super) overrides: StyleValues<'a>,
}

/// LEADER.
#[derive(Debug, Clone, PartialEq, Default)]
pub(super) struct RawLeader {
    pub(super) vertices: Vec<Vec3>,
    pub(super) annotation: Option<u64>,
}

/// MULTILEADER.
#[derive(Debug, Clone, PartialEq, Default)]
pub(super) struct RawMultiLeader<'a> {
    /// Each arm, arrow tip first.
    pub(super) arms: Vec<Vec<Vec3>>,
    pub(super) text: Option<Chunks<'a>>,
    /// Handle of its text style.
    pub(super) style: Option<u64>,
    pub(super) text_at: Vec3,
    pub(super) along: Vec3,
    pub(super) height: f64,
    pub(super) block_record: Option<u64>,
    pub(super) block_at: Vec3,
    /// Texts of the attributes of a block content.
    pub(super) attributes: Vec<&'a [u8]>,
}

/// VIEWPORT.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct RawViewport {
    pub(super) center: Vec3,
    pub(super) width: f64,
    pub(super) height: f64,
    pub(super) view_center: Vec3,
    pub(super) target: Vec3,
    /// From the target to the eye.
    pub(super) direction: Vec3,
    pub(super) perspective: bool,
    pub(super) view_height: f64,
    pub(super) twist_deg: f64,
    /// 1 is the sheet itself.
    pub(super) id: i64,
    pub(super) off: bool,
    /// Handle of the entity that is its boundary.
    pub(super) clip: Option<u64>,
    /// Layers frozen in it, by handle.
    pub(super) frozen_handles: Vec<u64>,
    /// Layers frozen in it, by name (R12).
    pub(super) frozen: Vec<LayerIndex>,
}

/// ACAD_TABLE.
#[derive(Debug, Clone, PartialEq, Default)]
pub(super) struct RawTable<'a> {
    pub(super) at: Vec3,
    pub(super) columns: usize,
    pub(super) cells: Vec<Chunks<'a>>,
    /// Places of the cells whose own text style is a symbol font, in order.
    pub(super) symbols: Vec<usize>,
}

/// Values of a dimension style that the reader uses; none where not stated.
#[derive(Debug, Clone, PartialEq, Default)]
pub(super) struct StyleValues<'a> {
    /// DIMPOST (3).
    pub(super) post: Option<&'a [u8]>,
    /// DIMAPOST (4).
    pub(super) alternate_post: Option<&'a [u8]>,
    /// DIMRND (45).
    pub(super) round: Option<f64>,
    /// DIMTP (47).
    pub(super) plus: Option<f64>,
    /// DIMTM (48).
    pub(super) minus: Option<f64>,
    /// DIMALTF (143).
    pub(super) alternate_factor: Option<f64>,
    /// DIMLFAC (144).
    pub(super) length_factor: Option<f64>,
    /// DIMTOL (71).
    pub(super) tolerance: Option<i64>,
    /// DIMLIM (72).
    pub(super) limits: Option<i64>,
    /// DIMZIN (78).
    pub(super) zeros: Option<i64>,
    /// DIMALT (170).
    pub(super) alternate: Option<i64>,
    /// DIMALTD (171).
    pub(super) alternate_decimals: Option<i64>,
    /// DIMADEC (179).
    pub(super) angle_decimals: Option<i64>,
    /// DIMDEC (271).
    pub(super) decimals: Option<i64>,
    /// DIMTDEC (272).
    pub(super) tolerance_decimals: Option<i64>,
    /// DIMLUNIT (277) or DIMUNIT (270).
    pub(super) units: Option<i64>,
    /// DIMDSEP (278).
    pub(super) separator: Option<i64>,
    /// DIMTZIN (284).
    pub(super) tolerance_zeros: Option<i64>,
}

/// A dimension style of the table.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct RawStyle<'a> {
    pub(super) name: String,
    pub(super) values: StyleValues<'a>,
}

/// A block definition.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct RawBlock {
    /// Name, upper case.
    pub(super) key: String,
    pub(super) base: Vec3,
    pub(super) entities: Range<usize>,
    /// An external reference, whose content is in another file, with the path as written.
    pub(super) external: Option<String>,
    /// Its own groups could not be read, so that nothing of it can be placed; that is reported already.
    pub(super) unusable: bool,
    pub(super) record: u64,
    pub(super) line: u64,
    pub(super) offset: u64,
}

/// A layout of the OBJECTS section.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct RawLayout {
    pub(super) name: String,
    /// Handle of its block record.
    pub(super) record: u64,
    pub(super) order: i64,
}

/// All that the scan keeps.
#[derive(Debug, Default)]
pub(super) struct Raw<'a> {
    pub(super) layers: Vec<RawLayer>,
    /// Handle and index of each layer of the table.
    pub(super) layer_handles: Vec<(u64, LayerIndex)>,
    /// Text styles with a symbol font, names in upper case.
    pub(super) symbol_styles: Vec<String>,
    /// Their handles, by which multileaders name them.
    pub(super) symbol_style_handles: Vec<u64>,
    pub(super) dimension_styles: Vec<RawStyle<'a>>,
    pub(super) header_style: StyleValues<'a>,
    /// Handle and upper-case name of each block record.
    pub(super) block_records: Vec<(u64, String)>,
    /// Units that block records state.
    pub(super) block_units: Vec<BlockUnits>,
    pub(super) blocks: Vec<RawBlock>,
    /// Ranges of [`Raw::entities`] that stand in ENTITIES sections.
    pub(super) main: Vec<Range<usize>>,
    pub(super) entities: Vec<Entity>,
    pub(super) attributes: Vec<Entity>,
    pub(super) vertices: Vec<Vertex>,
    /// Both ends of each.
    pub(super) spatial_lines: Vec<[Vec3; 2]>,
    pub(super) arcs: Vec<RawArc>,
    pub(super) ellipses: Vec<Ellipse>,
    pub(super) splines: Vec<Spline>,
    pub(super) texts: Vec<RawText<'a>>,
    pub(super) inserts: Vec<RawInsert<'a>>,
    pub(super) dimensions: Vec<RawDimension<'a>>,
    pub(super) leaders: Vec<RawLeader>,
    pub(super) multi_leaders: Vec<RawMultiLeader<'a>>,
    pub(super) viewports: Vec<RawViewport>,
    pub(super) tables: Vec<RawTable<'a>>,
    pub(super) settings: Vec<Setting>,
    /// Extrusion directions; the first is upwards.
    pub(super) normals: Vec<Vec3>,
    pub(super) layouts: Vec<RawLayout>,
}

/// Adds a thing to the list of its kind; its index there.
#[inline]
pub(super) fn add<T>(list: &mut Vec<T>, thing: T) -> u32 {
    list.push(thing);
    (list.len() - 1) as u32
}

impl Raw<'_> {
    /// How an entity stands in the drawing.
    #[inline]
    pub(super) fn setting(&self, common: &Common) -> &Setting {
        &self.settings[common.setting as usize]
    }
}
