//! What a sheet shows, without marks: lines of one pen in one path, with relative coordinates, and texts. What layouts
//! show of model space is drawn once and shown through a window for each viewport.

use std::fmt::Write as _;

use super::super::escape;
use super::grid::Grid;
use crate::check::{Pen, Picture, PictureSheet, PictureView, Shape};
use crate::geometry::{Bounds, Point};

/// The drawing of a sheet; `name` is that of its group within the page, `model` that of the model sheet's.
pub(super) fn ink(picture: &Picture, sheet: &PictureSheet, name: &str, model: &str) -> String {
    let grid = Grid::of(sheet);
    let mut svg = String::new();
    if let Some(first) = picture.sheets.first() {
        for (nth, view) in sheet.views.iter().enumerate() {
            window(
                view,
                &grid,
                &Grid::of(first),
                (&format!("{name}-v{nth}"), model),
                first.parts.len(),
                &mut svg,
            );
        }
    }
    let mut from = 0;
    for (nth, count) in sheet.parts.iter().enumerate() {
        let part = sheet.shapes.get(from..from + count).unwrap_or_default();
        from += count;
        if sheet.parts.len() == 1 {
            svg.push_str(&shapes(part, &grid));
        } else {
            let _ = write!(svg, "<g id=\"{name}-k{nth}\" class=\"ink\">\n{}</g>\n", shapes(part, &grid));
        }
    }
    svg
}

/// The window of a viewport: what it shows of the model sheet, at its scale and turn, within its boundary.
fn window(
    view: &PictureView,
    grid: &Grid,
    model: &Grid,
    (name, source): (&str, &str),
    parts: usize,
    svg: &mut String,
) {
    let (x, y, w, h) = grid.frame(&view.bounds());
    let half = (view.size.0 / view.scale / 2.0, view.size.1 / view.scale / 2.0);
    let c = view.model_center;
    let shown =
        Bounds { min: Point::new(c.x - half.0, c.y - half.1), max: Point::new(c.x + half.0, c.y + half.1) };
    let (vx, vy, vw, vh) = model.frame(&shown);
    if w <= 0 || h <= 0 || vw <= 0 || vh <= 0 {
        return;
    }
    let clip = !view.clip.is_empty();
    if clip {
        let corners: Vec<String> =
            view.clip.iter().map(|p| grid.at(*p)).map(|(x, y)| format!("{x},{y}")).collect();
        let _ = write!(
            svg,
            "<clipPath id=\"{name}\"><polygon points=\"{}\"/></clipPath><g clip-path=\"url(#{name})\">",
            corners.join(" ")
        );
    }
    let _ = write!(
        svg,
        "<svg x=\"{x}\" y=\"{y}\" width=\"{w}\" height=\"{h}\" viewBox=\"{vx} {vy} {vw} {vh}\" class=\"window\">"
    );
    let turned = view.twist_deg != 0.0;
    if turned {
        let (cx, cy) = model.at(c);
        let _ = write!(svg, "<g transform=\"rotate({} {cx} {cy})\">", -view.twist_deg);
    }
    if view.parts.len() == parts {
        let _ = write!(svg, "<use class=\"ink\" href=\"#{source}\"/>");
    } else {
        for part in &view.parts {
            let _ = write!(svg, "<use class=\"ink\" href=\"#{source}-k{part}\"/>");
        }
    }
    svg.push_str(if turned { "</g></svg>" } else { "</svg>" });
    svg.push_str(if clip { "</g>\n" } else { "\n" });
}

/// The shapes; lines of one pen in one path, with relative coordinates.
fn shapes(shapes: &[Shape], grid: &Grid) -> String {
    let mut svg = String::new();
    for (pen, class) in
        [(Pen::Edge, "edge"), (Pen::Centre, "centre"), (Pen::Note, "lead"), (Pen::Arrow, "head")]
    {
        let mut path = String::new();
        for shape in shapes {
            match shape {
                Shape::Line(own, ends) if *own == pen => joined(ends, grid, &mut path),
                Shape::Path(own, points) if *own == pen => joined(points, grid, &mut path),
                Shape::Circle(own, center, radius) if *own == pen => {
                    circle(*center, *radius, grid, &mut path)
                }
                Shape::Arc { center, radius, start_deg, sweep_deg } if pen == Pen::Edge => {
                    arc(*center, *radius, (*start_deg, *sweep_deg), grid, &mut path);
                }
                _ => {}
            }
        }
        if !path.is_empty() {
            let _ = writeln!(svg, "<path class=\"{class}\" d=\"{path}\"/>");
        }
    }
    shapes.iter().for_each(|shape| text(shape, grid, &mut svg));
    svg
}

fn joined(points: &[Point], grid: &Grid, path: &mut String) {
    let mut last = None;
    for p in points {
        let (x, y) = grid.at(*p);
        match last {
            None => {
                let _ = write!(path, "M{x} {y}");
            }
            Some((px, py)) => {
                let _ = write!(path, "l{} {}", x - px, y - py);
            }
        }
        last = Some((x, y));
    }
}

fn circle(center: Point, radius: f64, grid: &Grid, path: &mut String) {
    let ((x, y), r) = (grid.at(center), grid.length(radius).max(1));
    let _ = write!(path, "M{} {y}a{r} {r} 0 1 0 {} 0a{r} {r} 0 1 0 {} 0", x - r, 2 * r, -2 * r);
}

fn arc(center: Point, radius: f64, (start, sweep): (f64, f64), grid: &Grid, path: &mut String) {
    let at = |deg: f64| {
        let (sin, cos) = deg.to_radians().sin_cos();
        grid.at(Point::new(center.x + radius * cos, center.y + radius * sin))
    };
    let ((x, y), (ex, ey), r) = (at(start), at(start + sweep), grid.length(radius).max(1));
    let large = u8::from(sweep > 180.0);
    let _ = write!(path, "M{x} {y}A{r} {r} 0 {large} 0 {ex} {ey}");
}

fn text(shape: &Shape, grid: &Grid, svg: &mut String) {
    let Shape::Text { content, bounds, height, rotation_deg } = shape else { return };
    let lines = escape::lines(content);
    let size = grid.length(*height / 0.72).max(1);
    let middle = Point::new((bounds.min.x + bounds.max.x) / 2.0, (bounds.min.y + bounds.max.y) / 2.0);
    let upright = rotation_deg.rem_euclid(360.0).min(360.0 - rotation_deg.rem_euclid(360.0)) < 0.5;
    let (x, y) = grid.at(if upright { Point::new(bounds.min.x, middle.y) } else { middle });
    let turn =
        if upright { String::new() } else { format!(" transform=\"rotate({:.1} {x} {y})\"", -rotation_deg) };
    let anchor = if upright { "start" } else { "middle" };
    let width = if upright && lines.len() == 1 && content.chars().count() > 3 {
        grid.length(bounds.max.x - bounds.min.x)
    } else {
        0
    };
    // The font of the drawing is not at hand: another one must not run out of the box that the text was taken to fill.
    let fit = if width > 0 {
        format!(" textLength=\"{width}\" lengthAdjust=\"spacingAndGlyphs\"")
    } else {
        String::new()
    };
    for (nth, line) in lines.iter().enumerate() {
        // The first baseline lies so that the middle of all lines is the middle of the box.
        let down = (nth as f64 - (lines.len() as f64 - 1.0) / 2.0) * 1.2 + 0.36;
        let baseline = y as f64 + down * size as f64;
        let _ = writeln!(
            svg,
            "<text x=\"{x}\" y=\"{baseline:.0}\" font-size=\"{size}\" text-anchor=\"{anchor}\"{fit}{turn}>{line}</text>"
        );
    }
}
