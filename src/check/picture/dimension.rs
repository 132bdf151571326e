//! Dimensions and tables as the lines and texts that stand for them. The look that the file's own style gives them is
//! not kept, only where they stand and what they say.

use super::{Pen, Shape, shortened};
use crate::drawing::{Dimension, DimensionKind, Table};
use crate::geometry::{Bounds, Point};

/// Width of a letter over its height, on average.
const LETTER: f64 = 0.8;

/// A dimension: its lines and its text, `height` high.
pub(super) fn shapes(dimension: &Dimension, height: f64) -> Vec<Shape> {
    let middle = || {
        let bounds = Bounds::of(dimension.points.iter().copied());
        (!bounds.is_empty())
            .then(|| Point::new((bounds.min.x + bounds.max.x) / 2.0, (bounds.min.y + bounds.max.y) / 2.0))
    };
    let Some(at) = dimension.text_at.or_else(middle) else { return Vec::new() };
    let mut shapes = match (dimension.kind, dimension.points.as_slice()) {
        (DimensionKind::Linear | DimensionKind::Aligned, &[a, b, ..]) => between(dimension, a, b, at),
        (DimensionKind::Diameter | DimensionKind::Radius, &[a, b, ..]) => {
            let near = if a.distance(at) < b.distance(at) { a } else { b };
            vec![line(a, b), line(near, at)]
        }
        (DimensionKind::Ordinate, &[.., b]) => vec![line(b, at)],
        _ => Vec::new(),
    };
    if !dimension.shown.trim().is_empty() {
        shapes.push(text(&dimension.shown, at, height));
    }
    shapes
}

/// The cells of a table, row by row, from its insertion point down.
pub(super) fn table(table: &Table, height: f64) -> Vec<Shape> {
    let columns = table.rows.iter().map(Vec::len).max().unwrap_or(0);
    let letters = |cell: &String| cell.lines().map(|line| line.chars().count()).max().unwrap_or(0);
    let widths: Vec<f64> = (0..columns)
        .map(|c| table.rows.iter().filter_map(|row| row.get(c)).map(letters).max().unwrap_or(0))
        .map(|letters| (letters as f64 + 2.0) * LETTER * height)
        .collect();
    let mut shapes = Vec::new();
    for (nth, row) in table.rows.iter().enumerate() {
        let y = table.at.y - 2.0 * height * (nth as f64 + 0.5);
        let mut x = table.at.x;
        for (cell, width) in row.iter().zip(&widths) {
            if !cell.trim().is_empty() {
                shapes.push(text(cell, Point::new(x + width / 2.0, y), height));
            }
            x += width;
        }
    }
    shapes
}

/// A length between two points: the line that carries the text and the two that lead to it.
fn between(dimension: &Dimension, a: Point, b: Point, at: Point) -> Vec<Shape> {
    let (dx, dy) = (b.x - a.x, b.y - a.y);
    let flat = (dx.abs() - dimension.measured.abs()).abs() <= (dy.abs() - dimension.measured.abs()).abs();
    let (ux, uy) = match dimension.kind {
        DimensionKind::Aligned if a.distance(b) > 0.0 => (dx / a.distance(b), dy / a.distance(b)),
        _ if flat => (1.0, 0.0),
        _ => (0.0, 1.0),
    };
    let onto = |p: Point| {
        let along = (p.x - at.x) * ux + (p.y - at.y) * uy;
        Point::new(at.x + along * ux, at.y + along * uy)
    };
    vec![line(a, onto(a)), line(b, onto(b)), line(onto(a), onto(b))]
}

/// The box of the text of a dimension; none where it shows none.
pub(super) fn text_bounds(dimension: &Dimension, height: f64) -> Option<Bounds> {
    let text = shapes(dimension, height).pop()?;
    matches!(text, Shape::Text { .. }).then(|| text.bounds())
}

fn line(a: Point, b: Point) -> Shape {
    Shape::Line(Pen::Note, [a, b])
}

fn text(content: &str, middle: Point, height: f64) -> Shape {
    let content = shortened(content);
    let letters = content.lines().map(|line| line.chars().count()).max().unwrap_or(0) as f64;
    let (w, h) = (letters * LETTER * height / 2.0, content.lines().count().max(1) as f64 * height / 2.0);
    let bounds =
        Bounds { min: Point::new(middle.x - w, middle.y - h), max: Point::new(middle.x + w, middle.y + h) };
    Shape::Text { content, bounds, height, rotation_deg: 0.0 }
}
