//! What a drawing looks like, as plain shapes for reports that show it: lines, circles, arcs and texts of each space, and
//! where the places of findings lie on them. Draws nothing and decides nothing; shapes beyond a limit are counted.

mod body;
mod dimension;
mod places;
mod views;

use std::collections::HashSet;

use crate::drawing::{Drawing, LayerId, Origin, Text};
use crate::geometry::{Bounds, Point};
use crate::shared::SharedText;

use super::{Examined, FindingResult};

pub use views::{PictureView, SeenHole};

/// Most corners and texts of one picture. A sheet of this size takes some 60 kB as text.
const MOST: usize = 6000;
/// Radius of the room round a hole that was found, in radii of the hole.
const ROOM: f64 = 1.7;
/// Most places of findings that decide which shapes stay when there are too many.
const MOST_PLACES: usize = 40;
/// Most characters of a text that are kept; a paragraph of notes, not a book.
const MOST_LETTERS: usize = 400;

/// What a drawing looks like.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Picture {
    /// Model space and the layouts, those that show something.
    pub sheets: Vec<PictureSheet>,
    /// Where the callouts of holes stand.
    pub callouts: Vec<CalloutPlace>,
    /// Where the findings that are about no hole stand.
    pub marks: Vec<Mark>,
    /// Where layouts show the holes of model space.
    pub seen: Vec<SeenHole>,
}

/// What one space shows.
#[derive(Debug, Clone, PartialEq)]
pub struct PictureSheet {
    /// `model` or the layout's name.
    pub name: String,
    /// The shapes, in drawing units, part after part.
    pub shapes: Vec<Shape>,
    /// How many shapes each part has; viewports show or hide a part as one. Only model space has more than one.
    pub parts: Vec<usize>,
    /// What a layout shows of model space, which is then the first sheet.
    pub views: Vec<PictureView>,
    /// The box that is to be shown: all, or the main body where a few things lie far off.
    pub body: Bounds,
    /// How many shapes lie outside of it.
    pub beyond: usize,
    /// How many shapes more there are than are kept; those nearest to findings are kept.
    pub left_out: usize,
}

/// The callout of a hole on the sheet.
#[derive(Debug, Clone, PartialEq)]
pub struct CalloutPlace {
    /// The hole's name.
    pub hole: SharedText,
    /// Index into [`Picture::sheets`].
    pub sheet: usize,
    /// Estimated box of its text.
    pub bounds: Bounds,
}

/// The place of a finding that is about no hole.
#[derive(Debug, Clone, PartialEq)]
pub struct Mark {
    /// Index among the findings of the drawing.
    pub finding: usize,
    /// Index into [`Picture::sheets`].
    pub sheet: usize,
    /// Box of what it is about; a point where that has no size.
    pub bounds: Bounds,
}

/// With what a line is drawn.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Pen {
    /// An edge of the part.
    Edge,
    /// A centre line.
    Centre,
    /// A leader, a dimension or the grid of a table.
    Note,
    /// The head of an arrow, filled.
    Arrow,
}

/// One shape.
#[derive(Debug, Clone, PartialEq)]
pub enum Shape {
    /// Two points, joined.
    Line(Pen, [Point; 2]),
    /// Points, joined.
    Path(Pen, Vec<Point>),
    /// A circle by its centre and radius.
    Circle(Pen, Point, f64),
    /// An arc, degrees counter-clockwise.
    Arc {
        /// Centre.
        center: Point,
        /// Radius.
        radius: f64,
        /// Start angle.
        start_deg: f64,
        /// Sweep, 0 to 360.
        sweep_deg: f64,
    },
    /// A text within its estimated box.
    Text {
        /// Lines, split by `\n`.
        content: String,
        /// The box.
        bounds: Bounds,
        /// Letter height.
        height: f64,
        /// Rotation, degrees counter-clockwise.
        rotation_deg: f64,
    },
}

impl Shape {
    /// The box that holds it.
    pub fn bounds(&self) -> Bounds {
        match self {
            Shape::Line(_, ends) => Bounds::of(*ends),
            Shape::Path(_, points) => Bounds::of(points.iter().copied()),
            Shape::Circle(_, c, r) => {
                Bounds { min: Point::new(c.x - r, c.y - r), max: Point::new(c.x + r, c.y + r) }
            }
            Shape::Arc { center, radius, start_deg, sweep_deg } => {
                Bounds::of_arc(*center, *radius, *start_deg, *sweep_deg)
            }
            Shape::Text { bounds, .. } => *bounds,
        }
    }

    /// How much of the limit it takes.
    fn weight(&self) -> usize {
        match self {
            Shape::Path(_, points) => points.len(),
            _ => 2,
        }
    }
}

/// A shape with its space and layer.
type Placed = (usize, LayerId, Shape);

/// The picture of an examined drawing, for its findings.
pub(super) fn picture(examined: &Examined, findings: &[FindingResult]) -> Picture {
    let drawing = &examined.drawing;
    let near = places::near(findings, MOST_PLACES);
    let mut shapes: Vec<Placed> = shapes(drawing);
    let total: usize = shapes.iter().map(|(_, _, shape)| shape.weight()).sum();
    let mut left_out = vec![0; drawing.spaces.len()];
    if total > MOST {
        shapes = nearest(shapes, &near, &mut left_out);
    }
    let mut of_space: Vec<Vec<(LayerId, Shape)>> = vec![Vec::new(); drawing.spaces.len()];
    for (space, layer, shape) in shapes {
        if let Some(own) = of_space.get_mut(space) {
            own.push((layer, shape));
        }
    }
    let mut keys = Vec::new();
    let mut sheets = Vec::new();
    let mut of_sheet = Vec::new();
    for (space, own) in of_space.into_iter().enumerate() {
        let (shapes, parts, views) = if space == 0 {
            let (shapes, parts, found) = views::parts(drawing, own);
            keys = found;
            (shapes, parts, Vec::new())
        } else {
            let parts = vec![own.len()];
            (own.into_iter().map(|(_, shape)| shape).collect(), parts, views::of_space(drawing, space, &keys))
        };
        if shapes.is_empty() && views.is_empty() {
            continue;
        }
        let (name, left_out) = (drawing.spaces[space].name.clone(), left_out[space]);
        of_sheet.push(space);
        sheets.push(PictureSheet { name, shapes, parts, views, body: Bounds::EMPTY, beyond: 0, left_out });
    }
    let index = |space: usize| of_sheet.iter().position(|own| *own == space);
    let callouts = places::callouts(examined, index);
    let marks = places::marks(drawing, findings, index);
    let seen = views::seen(examined, index);
    let mut picture = Picture { sheets, callouts, marks, seen };
    frame(&mut picture, examined, findings, index);
    picture
}

/// Finds what of each sheet is to be shown: its main body, and all that was found.
fn frame(
    picture: &mut Picture,
    examined: &Examined,
    findings: &[FindingResult],
    sheet: impl Fn(usize) -> Option<usize>,
) {
    let flagged: HashSet<&str> = findings.iter().filter_map(|f| f.hole.as_deref()).collect();
    let mut kept: Vec<Vec<Bounds>> =
        picture.sheets.iter().map(|sheet| sheet.views.iter().map(PictureView::bounds).collect()).collect();
    let mut keep = |sheet: Option<usize>, bounds: Bounds| {
        if let Some(own) = sheet.and_then(|sheet| kept.get_mut(sheet)) {
            own.push(bounds);
        }
    };
    picture.marks.iter().for_each(|mark| keep(Some(mark.sheet), mark.bounds));
    for hole in examined.paired.holes.iter().filter(|hole| flagged.contains(hole.id.as_str())) {
        // With room for a ring round it.
        let r = examined.drawing.circles.get(hole.circle).map_or(0.0, |circle| ROOM * circle.diameter / 2.0);
        let corners = [(-r, -r), (r, r)].map(|(dx, dy)| Point::new(hole.at.x + dx, hole.at.y + dy));
        keep(sheet(usize::from(hole.origin.space)), Bounds::of(corners));
    }
    for (sheet, kept) in picture.sheets.iter_mut().zip(&kept) {
        (sheet.body, sheet.beyond) = body::of(&sheet.shapes, kept);
    }
}

/// All that a drawing shows, each with the index of its space, in the order in which it is drawn.
pub fn drawn(drawing: &Drawing) -> Vec<(usize, Shape)> {
    shapes(drawing).into_iter().map(|(space, _, shape)| (space, shape)).collect()
}

/// All that is shown, each with its space and layer, in the order in which it is drawn.
fn shapes(drawing: &Drawing) -> Vec<Placed> {
    let mut shapes = Vec::new();
    let mut put = |origin: &Origin, shape: Shape| {
        let bounds = shape.bounds();
        let finite = [bounds.min.x, bounds.min.y, bounds.max.x, bounds.max.y].iter().all(|v| v.is_finite());
        if origin.visible && finite {
            shapes.push((usize::from(origin.space), origin.layer, shape));
        }
    };
    for outline in &drawing.outlines {
        put(&outline.origin, Shape::Path(pen(&outline.origin), drawing.corners_of(outline).to_vec()));
    }
    for line in &drawing.segments {
        put(&line.origin, Shape::Line(pen(&line.origin), [line.from, line.to]));
    }
    for arc in &drawing.arcs {
        let (start_deg, sweep_deg) = (arc.start_deg, arc.sweep_deg);
        put(&arc.origin, Shape::Arc { center: arc.center, radius: arc.radius, start_deg, sweep_deg });
    }
    for circle in &drawing.circles {
        put(&circle.origin, Shape::Circle(pen(&circle.origin), circle.center, circle.diameter / 2.0));
    }
    let usual = usual_height(drawing);
    for dimension in &drawing.dimensions {
        dimension::shapes(dimension, usual).into_iter().for_each(|shape| put(&dimension.origin, shape));
    }
    for leader in drawing.leaders.iter().filter(|leader| leader.vertices.len() > 1) {
        put(&leader.origin, Shape::Path(Pen::Note, leader.vertices.clone()));
        if let [tip, from, ..] = leader.vertices[..] {
            dimension::arrow(tip, from, usual).into_iter().for_each(|head| put(&leader.origin, head));
        }
    }
    for text in drawing.texts.iter().filter(|text| !text.content.trim().is_empty()) {
        put(&text.origin, written(text));
    }
    for table in &drawing.tables {
        dimension::table(table, usual).into_iter().for_each(|shape| put(&table.origin, shape));
    }
    shapes
}

fn written(text: &Text) -> Shape {
    Shape::Text {
        content: shortened(&text.content),
        bounds: text.bounds,
        height: text.height,
        rotation_deg: text.rotation_deg,
    }
}

fn shortened(text: &str) -> String {
    match text.char_indices().nth(MOST_LETTERS) {
        Some((end, _)) => format!("{} …", &text[..end]),
        None => text.to_owned(),
    }
}

fn pen(origin: &Origin) -> Pen {
    if origin.is_centre_line() { Pen::Centre } else { Pen::Edge }
}

/// The middle of the heights of all texts, for texts that state none; 2.5 where there is no text.
fn usual_height(drawing: &Drawing) -> f64 {
    let mut heights: Vec<f64> = drawing.texts.iter().map(|text| text.height).filter(|h| *h > 0.0).collect();
    heights.sort_by(f64::total_cmp);
    heights.get(heights.len() / 2).copied().unwrap_or(2.5)
}

/// The shapes nearest to the places of findings, in their order, as many as the limit allows.
fn nearest(shapes: Vec<Placed>, near: &[Point], left_out: &mut [usize]) -> Vec<Placed> {
    let distance = |shape: &Shape| {
        let bounds = shape.bounds();
        near.iter().map(|p| bounds.distance(*p)).fold(f64::INFINITY, f64::min)
    };
    let mut order: Vec<(f64, usize)> =
        shapes.iter().enumerate().map(|(index, (_, _, shape))| (distance(shape), index)).collect();
    order.sort_by(|a, b| a.0.total_cmp(&b.0).then(a.1.cmp(&b.1)));
    let mut kept = vec![false; shapes.len()];
    let mut room = MOST;
    for (_, index) in order {
        let weight = shapes[index].2.weight();
        if weight <= room {
            room -= weight;
            kept[index] = true;
        }
    }
    let mut stay = Vec::new();
    for (index, (space, layer, shape)) in shapes.into_iter().enumerate() {
        if kept[index] {
            stay.push((space, layer, shape));
        } else if let Some(count) = left_out.get_mut(space) {
            *count += 1;
        }
    }
    stay
}

#[cfg(test)]
mod tests;
