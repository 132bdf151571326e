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
        (DimensionKind::Linear | DimensionKind::Aligned, &[a, b, ..]) => between(dimension, a, b, at, height),
        (DimensionKind::Diameter | DimensionKind::Radius, &[a, b, ..]) => {
            let near = if a.distance(at) < b.distance(at) { a } else { b };
            let mut shapes = vec![line(a, b), line(near, at)];
            shapes.extend(arrow(b, a, height));
            if dimension.kind == DimensionKind::Diameter {
                shapes.extend(arrow(a, b, height));
            }
            shapes
        }
        (DimensionKind::Ordinate, &[.., b]) => vec![line(b, at)],
        _ => Vec::new(),
    };
    if !dimension.shown.trim().is_empty() {
        shapes.push(text(&dimension.shown, at, height));
    }
    shapes
}

/// A table: its cells, row by row, from its insertion point down, and the lines between them. Widths and heights are
/// estimated from what the cells say.
pub(super) fn table(table: &Table, height: f64) -> Vec<Shape> {
    let columns = table.rows.iter().map(Vec::len).max().unwrap_or(0);
    let letters = |cell: &String| cell.lines().map(|line| line.chars().count()).max().unwrap_or(0);
    let widths: Vec<f64> = (0..columns)
        .map(|c| table.rows.iter().filter_map(|row| row.get(c)).map(letters).max().unwrap_or(0))
        .map(|letters| (letters as f64 + 2.0) * LETTER * height)
        .collect();
    let mut shapes = grid(table, &widths, 2.0 * height);
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

/// The lines round and between cells. A table of one column and row is a frame.
fn grid(table: &Table, widths: &[f64], row: f64) -> Vec<Shape> {
    let (left, top) = (table.at.x, table.at.y);
    let (width, height) = (widths.iter().sum::<f64>(), table.rows.len() as f64 * row);
    if width <= 0.0 || height <= 0.0 {
        return Vec::new();
    }
    let flat = (0..=table.rows.len()).map(|nth| {
        let y = top - nth as f64 * row;
        line(Point::new(left, y), Point::new(left + width, y))
    });
    let mut x = left;
    let edges = std::iter::once(left).chain(widths.iter().map(|width| {
        x += width;
        x
    }));
    let upright = edges.map(|x| line(Point::new(x, top), Point::new(x, top - height)));
    flat.chain(upright).collect()
}

/// A length between two points: the line that carries the text, its arrows, and the two lines that lead to it.
fn between(dimension: &Dimension, a: Point, b: Point, at: Point, height: f64) -> Vec<Shape> {
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
    let (from, to) = (onto(a), onto(b));
    let mut shapes = vec![line(a, from), line(b, to), line(from, to)];
    let length = from.distance(to);
    if length > 2.5 * height {
        shapes.extend(arrow(from, to, height).into_iter().chain(arrow(to, from, height)));
    } else if length > 0.0 {
        // No room between: the arrows come from outside, each on a line of its own.
        let (ux, uy) = ((to.x - from.x) / length, (to.y - from.y) / length);
        let reach = 2.0 * height;
        for (tip, side) in [(from, -reach), (to, reach)] {
            let outside = Point::new(tip.x + side * ux, tip.y + side * uy);
            shapes.push(line(tip, outside));
            shapes.extend(arrow(tip, outside, height));
        }
    }
    shapes
}

/// The head of an arrow at `tip` that comes from `from`, as long as letters are `height`; none where the two are one.
pub(super) fn arrow(tip: Point, from: Point, height: f64) -> Option<Shape> {
    let length = tip.distance(from);
    if length <= 0.0 || !length.is_finite() {
        return None;
    }
    let size = height.min(length);
    let (ux, uy) = ((from.x - tip.x) / length * size, (from.y - tip.y) / length * size);
    // A third as wide as it is long.
    let corner = |side: f64| Point::new(tip.x + ux - side * uy / 6.0, tip.y + uy + side * ux / 6.0);
    Some(Shape::Path(Pen::Arrow, vec![tip, corner(1.0), corner(-1.0), tip]))
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
