//! What a drawing looks like, as plain shapes for reports that show it: lines, circles, arcs and texts of each space, and
//! where the places of findings lie on them. Draws nothing and decides nothing; shapes beyond a limit are counted.

mod dimension;
mod places;

use crate::drawing::{Drawing, Origin, Text};
use crate::geometry::{Bounds, Point};

use super::{Examined, FindingResult};

/// Most corners and texts of one picture. A sheet of this size takes some 60 kB as text.
const MOST: usize = 6000;
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
}

/// What one space shows.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct PictureSheet {
    /// `model` or the layout's name.
    pub name: String,
    /// The shapes, in drawing units.
    pub shapes: Vec<Shape>,
    /// How many shapes more there are than are kept; those nearest to findings are kept.
    pub left_out: usize,
}

/// The callout of a hole on the sheet.
#[derive(Debug, Clone, PartialEq)]
pub struct CalloutPlace {
    /// The hole's name.
    pub hole: String,
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
    /// A leader or a dimension.
    Note,
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

/// The picture of an examined drawing, for its findings.
pub(super) fn picture(examined: &Examined, findings: &[FindingResult]) -> Picture {
    let drawing = &examined.drawing;
    let near = places::near(findings, MOST_PLACES);
    let mut shapes: Vec<(usize, Shape)> = shapes(drawing);
    let total: usize = shapes.iter().map(|(_, shape)| shape.weight()).sum();
    let mut left_out = vec![0; drawing.spaces.len()];
    if total > MOST {
        shapes = nearest(shapes, &near, &mut left_out);
    }
    let mut sheets: Vec<PictureSheet> = drawing
        .spaces
        .iter()
        .zip(left_out)
        .map(|(space, left_out)| PictureSheet { name: space.name.clone(), shapes: Vec::new(), left_out })
        .collect();
    for (space, shape) in shapes {
        if let Some(sheet) = sheets.get_mut(space) {
            sheet.shapes.push(shape);
        }
    }
    let kept: Vec<bool> = sheets.iter().map(|sheet| !sheet.shapes.is_empty()).collect();
    let index = |space: usize| {
        let shown = kept.get(space).copied().unwrap_or(false);
        shown.then(|| kept[..space].iter().filter(|kept| **kept).count())
    };
    let callouts = places::callouts(examined, index);
    let marks = places::marks(drawing, findings, index);
    sheets.retain(|sheet| !sheet.shapes.is_empty());
    Picture { sheets, callouts, marks }
}

/// All that is shown, each with its space, in the order in which it is drawn.
fn shapes(drawing: &Drawing) -> Vec<(usize, Shape)> {
    let mut shapes = Vec::new();
    let mut put = |origin: &Origin, shape: Shape| {
        let bounds = shape.bounds();
        let finite = [bounds.min.x, bounds.min.y, bounds.max.x, bounds.max.y].iter().all(|v| v.is_finite());
        if origin.visible && finite {
            shapes.push((usize::from(origin.space), shape));
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
    if origin.centre_line { Pen::Centre } else { Pen::Edge }
}

/// The middle of the heights of all texts, for texts that state none; 2.5 where there is no text.
fn usual_height(drawing: &Drawing) -> f64 {
    let mut heights: Vec<f64> = drawing.texts.iter().map(|text| text.height).filter(|h| *h > 0.0).collect();
    heights.sort_by(f64::total_cmp);
    heights.get(heights.len() / 2).copied().unwrap_or(2.5)
}

/// The shapes nearest to the places of findings, in their order, as many as the limit allows.
fn nearest(shapes: Vec<(usize, Shape)>, near: &[Point], left_out: &mut [usize]) -> Vec<(usize, Shape)> {
    let distance = |shape: &Shape| {
        let bounds = shape.bounds();
        near.iter().map(|p| bounds.distance(*p)).fold(f64::INFINITY, f64::min)
    };
    let mut order: Vec<(f64, usize)> =
        shapes.iter().enumerate().map(|(index, (_, shape))| (distance(shape), index)).collect();
    order.sort_by(|a, b| a.0.total_cmp(&b.0).then(a.1.cmp(&b.1)));
    let mut kept = vec![false; shapes.len()];
    let mut room = MOST;
    for (_, index) in order {
        let weight = shapes[index].1.weight();
        if weight <= room {
            room -= weight;
            kept[index] = true;
        }
    }
    let mut stay = Vec::new();
    for (index, (space, shape)) in shapes.into_iter().enumerate() {
        if kept[index] {
            stay.push((space, shape));
        } else if let Some(count) = left_out.get_mut(space) {
            *count += 1;
        }
    }
    stay
}

#[cfg(test)]
mod tests;
