//! The lines of a drawing that may be edges of its part, and the contours that those of one view make. Finds no hole's
//! distance to an edge.

use super::contours::{Contour, Pieces};
use super::title::Title;
use super::views::View;
use crate::drawing::{Arc, Drawing, Origin, Outline};
use crate::geometry::{Bounds, Point};

/// More lines than this in a view are not searched for an outline.
const MOST_LINES: usize = 300_000;
/// Pieces that there is room for for each arc; a long one has more, and others have fewer.
const PIECES_OF_AN_ARC: usize = 8;
/// Ends of lines meet within this share of the view.
const MEET: f64 = 2e-5;

/// Visible solid lines on layers that do not say they hold something else.
pub(super) struct EdgeLines<'a> {
    drawing: &'a Drawing,
    /// Which of the segments are among them, and how many.
    is_line: Vec<bool>,
    lines: usize,
    outlines: Vec<&'a Outline>,
    arcs: Vec<&'a Arc>,
}

impl<'a> EdgeLines<'a> {
    /// The lines of a drawing but for those that serve as leaders.
    pub(super) fn new(drawing: &'a Drawing, leaders: &[usize]) -> EdgeLines<'a> {
        let hidden = hidden_layers(drawing);
        let shown = |o: &Origin| {
            let solid = !o.is_centre_line() && !o.is_hidden_line();
            o.visible && solid && !hidden.get(o.layer as usize).is_some_and(|h| *h)
        };
        let mut is_line: Vec<bool> = drawing.segments.iter().map(|s| shown(&s.origin)).collect();
        for &leader in leaders {
            is_line[leader] = false;
        }
        EdgeLines {
            drawing,
            lines: is_line.iter().filter(|is| **is).count(),
            is_line,
            outlines: drawing.outlines.iter().filter(|o| shown(&o.origin)).collect(),
            arcs: drawing.arcs.iter().filter(|a| shown(&a.origin)).collect(),
        }
    }

    /// The contours of a view; none if it has too many lines.
    pub(super) fn contours(&self, view: &View, title: &Title) -> Option<Vec<Contour>> {
        let (space, bounds) = (view.space, view.bounds);
        let extent = (bounds.max.x - bounds.min.x).max(bounds.max.y - bounds.min.y);
        // A line that leaves the view is the border's, or joins views.
        let margin = 0.01 * extent;
        let within = |p: Point| bounds.holds(p, margin) && !title.holds(space, p);
        let room = self.lines + PIECES_OF_AN_ARC * self.arcs.len();
        let mut pieces = Pieces::new((MEET * extent).max(f64::MIN_POSITIVE), room);
        let mut count = 0;
        let lines =
            self.drawing.segments.iter().zip(&self.is_line).filter(|(_, is)| **is).map(|(line, _)| line);
        for line in lines.filter(|s| s.origin.space == space && within(s.from) && within(s.to)) {
            count += 1;
            if count > MOST_LINES {
                return None;
            }
            pieces.line(line.from, line.to);
        }
        for outline in self.outlines.iter().filter(|o| o.origin.space == space) {
            let corners = self.drawing.corners_of(outline);
            count += corners.len();
            if count > MOST_LINES {
                return None;
            }
            if corners.iter().all(|c| within(*c)) {
                corners.windows(2).for_each(|side| pieces.line(side[0], side[1]));
            }
        }
        for a in self.arcs.iter().filter(|a| a.origin.space == space) {
            count += 1;
            if count > MOST_LINES {
                return None;
            }
            // Farther away than this no part of it is within, and its box need not be known.
            if !bounds.holds(a.center, margin + 1.01 * a.radius) {
                continue;
            }
            let around = Bounds::of_arc(a.center, a.radius, a.start_deg, a.sweep_deg);
            if within(around.min) && within(around.max) {
                pieces.arc(a.center, a.radius, a.start_deg, a.sweep_deg);
            }
        }
        Some(pieces.contours())
    }
}

/// Layers that by their name hold what is no visible edge of the part: hidden edges, dimensions, symbols, notes.
fn hidden_layers(drawing: &Drawing) -> Vec<bool> {
    const WORDS: [&str; 18] = [
        "HIDDEN", "VERDECKT", "CACHE", "NASCOST", "OCULT", "DIM", "TEXT", "NOTE", "HATCH", "SCHRAFF",
        "SYMBOL", "CENTER", "CENTRE", "MITTEL", "BORDER", "FRAME", "TITLE", "PHANTOM",
    ];
    let says = |name: &str| {
        let name = name.to_uppercase();
        WORDS.iter().any(|word| name.contains(word))
    };
    drawing.layers.iter().map(|layer| says(&layer.name)).collect()
}
