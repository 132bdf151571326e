//! Walks a space and places its entities, INSERTs with an explicit stack: nesting of any depth costs no call stack.

use std::collections::{HashMap, HashSet};
use std::ops::Range;

use super::circles::Round;
use super::expand::{Blocks, cells, own_size};
use super::leaders::PendingLeader;
use super::uneven::Uneven;
use super::views::Views;
use crate::drawing::{Arc, Drawing, Insert, InsertId, MadeOf, Origin, SpaceId, Stands};
use crate::dxf::bounds::MAX_PLACED;
use crate::dxf::problems::Problems;
use crate::dxf::raw::{Common, Entity, Kind, LayerIndex, LineType, Raw, RawInsert, Setting};
use crate::dxf::scan::symbol_name;
use crate::dxf::text::codepage::Decoder;
use crate::geometry::{Affine, Point, Vec3, circle_of_axes};

/// What an enclosing INSERT hands down to what it shows.
#[derive(Debug, Clone, Copy)]
pub(super) struct Context {
    pub(super) space: SpaceId,
    pub(super) insert: Option<InsertId>,
    /// The layer that things on layer 0 take.
    pub(super) layer: Option<LayerIndex>,
    /// What a line whose type is BYBLOCK stands for.
    pub(super) by_block: Stands,
    pub(super) hidden: bool,
    /// Under an INSERT by which circles appear as ellipses.
    pub(super) uneven: bool,
    /// In the picture of a dimension, leader or table, whose circles are none of the drawing.
    pub(super) picture: bool,
    /// In a block, and so placed by a map that may move it.
    pub(super) moved: bool,
}

/// An INSERT that is being expanded.
struct Frame {
    block: usize,
    /// Next entity.
    next: usize,
    end: usize,
    map: Affine,
    context: Context,
    /// Index of the INSERT among the entities, next cell of its array, and number of cells.
    insert: usize,
    cell: u64,
    cells: u64,
    /// Map and context around the INSERT, for the next cell.
    outer: Affine,
    outer_context: Context,
}

/// Circles, arcs, texts and dimensions that there is room for from the beginning.
const USUAL: usize = 64;

/// Collects what is placed.
pub(super) struct Placer<'s, 'a> {
    pub(super) raw: &'s Raw<'a>,
    pub(super) decoder: &'s Decoder<'a>,
    pub(super) drawing: Drawing,
    pub(super) problems: Problems,
    pub(super) blocks: Blocks<'a>,
    /// Runs of [`Drawing::segments`] that LINE entities gave, in file order.
    pub(super) line_runs: Vec<Range<usize>>,
    /// Arcs of outlines, which close nothing with other arcs.
    pub(super) outline_arcs: Vec<Arc>,
    /// Circles that splines are, by index of the entity.
    pub(super) splines: HashMap<usize, Option<Round>>,
    /// Circles that splines become by an uneven scale, by index of the entity and the scale, about the origin.
    pub(super) ovals: HashMap<(usize, [[u64; 2]; 3]), Option<Round>>,
    pub(super) oval_work: usize,
    pub(super) pending_leaders: Vec<PendingLeader>,
    pub(super) repeated_text: usize,
    /// The name of a dimension's style that was asked for last, and its place among the styles: neighbours have the same.
    pub(super) last_style: Option<(&'a [u8], Option<usize>)>,
    pub(super) uneven: Uneven,
    pub(super) views: Views,
    /// Where things of each setting come from that stand directly in a space, as far as known.
    root_origins: Vec<Option<Origin>>,
    placed: u64,
    reported: HashSet<String>,
    on_path: Vec<bool>,
}

impl<'s, 'a> Placer<'s, 'a> {
    pub(super) fn new(raw: &'s Raw<'a>, decoder: &'s Decoder<'a>) -> Self {
        let mut placer = Placer {
            raw,
            decoder,
            drawing: Drawing::default(),
            problems: Problems::default(),
            blocks: Blocks::new(raw, decoder),
            line_runs: Vec::new(),
            outline_arcs: Vec::new(),
            splines: HashMap::new(),
            ovals: HashMap::new(),
            oval_work: 0,
            pending_leaders: Vec::new(),
            repeated_text: 0,
            last_style: None,
            uneven: Uneven::default(),
            views: Views::default(),
            root_origins: Vec::new(),
            placed: 0,
            reported: HashSet::new(),
            on_path: vec![false; raw.blocks.len()],
        };
        // Most drawings have some tens of each. Room that is never touched costs nothing, lists that grow by copying do.
        let drawing = &mut placer.drawing;
        drawing.circles.reserve(USUAL);
        drawing.arcs.reserve(USUAL);
        drawing.texts.reserve(USUAL);
        drawing.dimensions.reserve(USUAL);
        placer.report_repeated_blocks();
        placer
    }

    /// The same with what it placed so far, for entities of the same drawing that were read since.
    pub(super) fn looking_at<'t>(self, raw: &'t Raw<'a>, decoder: &'t Decoder<'a>) -> Placer<'t, 'a> {
        Placer { raw, decoder, last_style: None, ..self }
    }

    fn report_repeated_blocks(&mut self) {
        for index in std::mem::take(&mut self.blocks.repeated) {
            let block = &self.raw.blocks[index];
            // Layout blocks of one name are all roots, so that nothing of them is lost.
            if block.key.starts_with("*MODEL_SPACE") || block.key.starts_with("*PAPER_SPACE") {
                continue;
            }
            let message =
                format!("block {} is defined a second time; only its first definition is placed", block.key);
            self.problems.add(block.line, block.offset, message, true);
        }
    }

    /// Places the entities of a range that stand directly in the space that their setting gives.
    pub(super) fn place_roots(&mut self, range: Range<usize>, space_of: impl Fn(&Setting) -> SpaceId) {
        let raw = self.raw;
        // Neighbours are of one setting, and so of one space and one origin but for handle and line.
        let mut last: Option<(u32, Origin)> = None;
        let mut next = range.start;
        while next < range.end {
            let index = next;
            next += 1;
            let entity = &raw.entities[index];
            let common = &entity.common;
            let of_setting = match last {
                Some((setting, origin)) if setting == common.setting => origin,
                _ => {
                    let origin = self.root_origin(common, space_of(raw.setting(common)));
                    last = Some((common.setting, origin));
                    origin
                }
            };
            let origin = Origin { handle: common.handle, line: common.line, ..of_setting };
            match &entity.kind {
                Kind::Line { .. } => next = index + self.push_lines(origin, &raw.entities[index..range.end]),
                Kind::Circle { center, radius } if raw.setting(common).normal == 0 => {
                    let (u, v) = (Point::new(*radius, 0.0), Point::new(0.0, *radius));
                    match circle_of_axes(u, v) {
                        Some(radius) => {
                            self.push_circle(origin, unmoved(center.plan()), radius, MadeOf::Circle)
                        }
                        None => self.place_tree(index, origin.space),
                    }
                }
                _ => self.place_tree(index, origin.space),
            }
        }
    }

    /// As [`Self::origin`], for what stands directly in a space, with handle and line of any of the same setting.
    fn root_origin(&mut self, common: &Common, space: SpaceId) -> Origin {
        let setting = common.setting as usize;
        if let Some(Some(known)) = self.root_origins.get(setting)
            && known.space == space
        {
            return *known;
        }
        let origin = self.origin(common, &root_context(space));
        if self.root_origins.len() <= setting {
            self.root_origins.resize(self.raw.settings.len(), None);
        }
        if let Some(place) = self.root_origins.get_mut(setting) {
            *place = Some(origin);
        }
        origin
    }

    /// Places an entity that stands directly in a space, and what it shows.
    fn place_tree(&mut self, index: usize, space: SpaceId) {
        let context = root_context(space);
        let mut stack = Vec::new();
        self.place(index, &Affine::IDENTITY, context, &mut stack);
        while let Some(top) = stack.last_mut() {
            if top.next < top.end {
                let (index, map, context) = (top.next, top.map, top.context);
                top.next += 1;
                self.place(index, &map, context, &mut stack);
            } else if top.cell + 1 < top.cells {
                top.cell += 1;
                self.enter_cell(top);
            } else {
                self.on_path[top.block] = false;
                stack.pop();
            }
        }
    }

    fn place(&mut self, index: usize, map: &Affine, context: Context, stack: &mut Vec<Frame>) {
        let raw = self.raw;
        let entity = &raw.entities[index];
        if context.insert.is_some() {
            self.placed += own_size(raw, &entity.kind);
        }
        if let Kind::Insert(n) = entity.kind {
            self.place_insert(index, &raw.inserts[n as usize], map, context, stack);
        } else {
            self.place_thing(index, entity, map, context);
        }
    }

    fn place_thing(&mut self, index: usize, entity: &Entity, map: &Affine, context: Context) {
        let (raw, common) = (self.raw, &entity.common);
        match &entity.kind {
            Kind::Line { from, to } => {
                let [from, to] = [from, to].map(|end| Vec3::new(end.x, end.y, 0.0));
                self.place_line(common, from, to, map, context);
            }
            Kind::SpatialLine(n) => {
                let [from, to] = raw.spatial_lines[*n as usize];
                self.place_line(common, from, to, map, context);
            }
            Kind::Circle { center, radius } => {
                self.place_circle(common, *center, *radius, map, context);
            }
            Kind::Arc(n) => self.place_arc(common, &raw.arcs[*n as usize], map, context),
            Kind::Ellipse(n) => self.place_ellipse(common, &raw.ellipses[*n as usize], map, context),
            Kind::Polyline(polyline) => self.place_polyline(common, polyline, map, context),
            Kind::Spline(n) => self.place_spline(index, common, &raw.splines[*n as usize], map, context),
            Kind::Text(n) => self.place_text(common, &raw.texts[*n as usize], map, context),
            Kind::Dimension(n) => self.place_dimension(common, &raw.dimensions[*n as usize], map, context),
            Kind::Leader(n) => self.place_leader(common, &raw.leaders[*n as usize], map, context),
            Kind::MultiLeader(n) => {
                self.place_multileader(common, &raw.multi_leaders[*n as usize], map, context)
            }
            Kind::Viewport(n) => self.place_viewport(common, &raw.viewports[*n as usize], map, context),
            Kind::Table(n) => self.place_table(common, &raw.tables[*n as usize], map, context),
            Kind::Insert(_) => {}
        }
    }

    fn place_insert(
        &mut self,
        index: usize,
        insert: &'s RawInsert<'a>,
        map: &Affine,
        context: Context,
        stack: &mut Vec<Frame>,
    ) {
        let common = &self.raw.entities[index].common;
        let Some(block) = self.blocks.find(insert.block, self.decoder) else {
            let name = symbol_name(self.decoder, insert.block);
            self.report_once(common, format!("block {name} is missing; its INSERTs show nothing"));
            self.place_attributes(insert, map, context, None);
            return;
        };
        let definition = &self.raw.blocks[block];
        if let Some(path) = &definition.external {
            self.report_once(common, external_message(&definition.key, path));
        }
        if self.on_path[block] {
            let message = format!("block {} inserts itself; the inner INSERT shows nothing", definition.key);
            self.report_once(common, message);
            return;
        }
        let size = self.blocks.size(block, insert);
        if self.placed.saturating_add(size) > MAX_PLACED {
            let message = format!(
                "INSERT of block {} would bring the placed things above the limit of {MAX_PLACED}; it was left out",
                definition.key
            );
            self.report_once(common, message);
            return;
        }
        self.placed += cells(insert);
        let mut frame = Frame {
            block,
            next: 0,
            end: definition.entities.end,
            map: *map,
            context,
            insert: index,
            cell: 0,
            cells: cells(insert),
            outer: *map,
            outer_context: context,
        };
        self.enter_cell(&mut frame);
        let first = frame.context.insert;
        self.place_attributes(insert, map, context, first);
        if insert.scale.x == 0.0 || insert.scale.y == 0.0 {
            return;
        }
        self.on_path[block] = true;
        stack.push(frame);
    }

    /// Starts the cell of an array that `frame` has come to: its map, and an entry in the list of inserts.
    fn enter_cell(&mut self, frame: &mut Frame) {
        let raw = self.raw;
        let entity = &raw.entities[frame.insert];
        let Kind::Insert(n) = entity.kind else {
            return;
        };
        let insert = &raw.inserts[n as usize];
        let common = &entity.common;
        let outer = frame.outer_context;
        let origin = self.origin(common, &outer);
        let columns = insert.columns.unsigned_abs().max(1);
        let (column, row) = (frame.cell % columns, frame.cell / columns);
        let offset = Vec3::new(column as f64 * insert.column_spacing, row as f64 * insert.row_spacing, 0.0);
        let turned = Affine::turning(insert.rotation_deg);
        let at = insert.at.plus(turned.direction(offset));
        let plane = self.plane(common);
        let scale = insert.scale;
        let base = raw.blocks[frame.block].base;
        let placed = frame
            .outer
            .after(&plane)
            .after(&Affine::translation(at))
            .after(&turned)
            .after(&Affine::scaling(scale.x, scale.y, scale.z));
        frame.map = placed.after(&Affine::translation(base.times(-1.0)));
        frame.next = raw.blocks[frame.block].entities.start;
        let id = InsertId::new(self.drawing.inserts.len());
        self.drawing.inserts.push(Insert {
            origin,
            block: symbol_name(self.decoder, insert.block),
            at: placed.origin.plan(),
        });
        frame.context = Context {
            space: outer.space,
            insert: id,
            layer: Some(origin.layer),
            by_block: origin.stands,
            hidden: outer.hidden || raw.setting(common).invisible || self.is_frozen(origin.layer),
            uneven: circle_of_axes(placed.x.plan(), placed.y.plan()).is_none(),
            picture: outer.picture || is_picture(&raw.blocks[frame.block].key),
            moved: true,
        };
    }

    /// The attributes of an INSERT stand in the coordinates around it.
    fn place_attributes(
        &mut self,
        insert: &'s RawInsert<'a>,
        map: &Affine,
        context: Context,
        id: Option<InsertId>,
    ) {
        let raw = self.raw;
        for attribute in &raw.attributes[insert.attributes.clone()] {
            let Kind::Text(n) = attribute.kind else {
                continue;
            };
            let text = &raw.texts[n as usize];
            let owned = Context { insert: id, ..context };
            self.place_text(&attribute.common, text, map, owned);
        }
    }

    /// Reports a loss once, however often the entity that has it is placed.
    pub(super) fn report_once(&mut self, common: &Common, message: String) {
        if self.reported.insert(message.clone()) {
            self.problems.add(u64::from(common.line), common.offset, message, true);
        }
    }

    /// The map from the coordinates of an entity's extrusion direction to those of its block.
    pub(super) fn plane(&self, common: &Common) -> Affine {
        match self.raw.setting(common).normal {
            0 => Affine::IDENTITY,
            _ => Affine::of_extrusion(self.normal(common)),
        }
    }

    /// The map from the plane of an entity to the world.
    pub(super) fn plane_map(&self, common: &Common, map: &Affine, context: Context) -> Affine {
        if self.raw.setting(common).normal == 0 && !context.moved {
            return Affine::IDENTITY;
        }
        map.after(&self.plane(common))
    }

    /// The extrusion direction of an entity.
    pub(super) fn normal(&self, common: &Common) -> Vec3 {
        self.raw.normals.get(self.raw.setting(common).normal as usize).copied().unwrap_or(Vec3::UP)
    }

    fn is_frozen(&self, layer: LayerIndex) -> bool {
        self.raw.layers.get(layer as usize).is_some_and(|l| l.frozen)
    }

    /// Where a thing comes from, with the layer and the visibility that its INSERTs give it.
    pub(super) fn origin(&self, common: &Common, context: &Context) -> Origin {
        let setting = self.raw.setting(common);
        let layer = match context.layer {
            Some(taken) if setting.layer == 0 => taken,
            _ => setting.layer,
        };
        let state = self.raw.layers.get(layer as usize);
        let shown = state.is_none_or(|l| l.on && !l.frozen);
        let stands = match setting.line_type {
            LineType::Own(own) => own,
            LineType::ByLayer => state.map_or(Stands::Other, |l| l.stands),
            LineType::ByBlock => context.by_block,
        };
        Origin {
            handle: common.handle,
            layer,
            line: common.line,
            space: context.space,
            visible: shown && !context.hidden && !setting.invisible,
            insert: context.insert,
            stands,
        }
    }

    /// Closes arcs and polygons to circles and ties leaders to their texts.
    pub(super) fn finish(mut self) -> (Drawing, Problems) {
        self.tie_leaders();
        std::mem::take(&mut self.uneven).report(&mut self.problems);
        self.report_views();
        super::circles::close_arcs(&mut self.drawing);
        self.drawing.arcs.append(&mut self.outline_arcs);
        let runs = std::mem::take(&mut self.line_runs);
        super::polygons::close_lines(&mut self.drawing, &runs);
        (self.drawing, self.problems)
    }
}

/// A place as the map that moves nothing gives it: times 1 plus 0, by which -0 becomes 0.
pub(super) fn unmoved(p: Point) -> Point {
    Point::new(p.x + 0.0, p.y + 0.0)
}

/// The context of what stands directly in a space.
fn root_context(space: SpaceId) -> Context {
    Context {
        space,
        insert: None,
        layer: None,
        by_block: Stands::Other,
        hidden: false,
        uneven: false,
        picture: false,
        moved: false,
    }
}

/// What is lost by an external reference, and what to do about it.
fn external_message(block: &str, path: &str) -> String {
    let file = path.rsplit(['/', '\\']).next().unwrap_or_default();
    let (which, file) = if file.is_empty() { ("another drawing", "it") } else { (file, file) };
    let saved = if file.to_ascii_lowercase().ends_with(".dxf") { "" } else { " saved as DXF" };
    format!(
        "block {block} is an external reference to {which}, and what it shows was not read: give {file}{saved} to be checked as well, or bind it into this drawing"
    )
}

/// Whether a block is the picture of a dimension, leader or table: *D and *T with a number.
fn is_picture(key: &str) -> bool {
    key.strip_prefix("*D")
        .or_else(|| key.strip_prefix("*T"))
        .is_some_and(|number| number.bytes().all(|b| b.is_ascii_digit()))
}
