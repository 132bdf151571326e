//! What is drawn as lines, as strokes of straight pieces with their boxes. Knows nothing of views.

use crate::geometry::{Bounds, Point};

/// Straight pieces that each begin where the one before ends: a line, an arc or a polyline.
#[derive(Debug, Clone, Copy)]
pub(super) struct Stroke<'a> {
    path: Path<'a>,
    /// The box of its points, not empty.
    pub(super) bounds: Bounds,
}

/// Most strokes are single lines, whose ends need no list.
#[derive(Debug, Clone, Copy)]
enum Path<'a> {
    Line([Point; 2]),
    Along(&'a [Point]),
}

impl<'a> Stroke<'a> {
    /// A line; none of ends that are no numbers.
    pub(super) fn line(from: Point, to: Point) -> Option<Stroke<'a>> {
        let bounds = Bounds::of([from, to]);
        (!bounds.is_empty()).then_some(Stroke { path: Path::Line([from, to]), bounds })
    }

    /// The pieces between some points; none of fewer than two or of points that are no numbers.
    pub(super) fn along(points: &'a [Point]) -> Option<Stroke<'a>> {
        let bounds = Bounds::of(points.iter().copied());
        (points.len() >= 2 && !bounds.is_empty()).then_some(Stroke { path: Path::Along(points), bounds })
    }

    /// The ends of the pieces, two or more.
    pub(super) fn points(&self) -> &[Point] {
        match &self.path {
            Path::Line(ends) => ends,
            Path::Along(points) => points,
        }
    }

    /// Its pieces, each a stroke.
    pub(super) fn pieces(&self) -> impl Iterator<Item = Stroke<'a>> {
        self.points().windows(2).filter_map(|ends| Stroke::line(ends[0], ends[1]))
    }
}

/// Straight pieces that an arc or circle is drawn with.
pub(super) const ROUND: u32 = 24;

/// The points of arcs and circles, each with as many pieces as [`ROUND`].
#[derive(Debug, Default)]
pub(super) struct Rounds {
    points: Vec<Point>,
}

impl Rounds {
    /// Adds one by the directions of its points from its centre, one more than [`ROUND`].
    pub(super) fn add(&mut self, center: Point, radius: f64, directions: &[Point]) {
        let at = |d: &Point| Point::new(center.x + radius * d.x, center.y + radius * d.y);
        self.points.extend(directions.iter().map(at));
    }

    /// All of them that are numbers.
    pub(super) fn strokes(&self) -> impl Iterator<Item = Stroke<'_>> {
        self.points.chunks(ROUND as usize + 1).filter_map(Stroke::along)
    }
}

/// The box of strokes.
pub(super) fn extent(strokes: &[Stroke<'_>]) -> Bounds {
    let mut all = Bounds::EMPTY;
    for stroke in strokes {
        all.add(stroke.bounds.min);
        all.add(stroke.bounds.max);
    }
    all
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_is_no_number_or_a_single_point_is_no_stroke() {
        let (p, nan) = (Point::new(3.0, 4.0), f64::NAN);
        assert!(Stroke::line(p, p).is_some());
        assert!(Stroke::line(Point::new(nan, 1.0), Point::new(nan, 2.0)).is_none());
        assert!(Stroke::along(&[p]).is_none());
        assert!(Stroke::along(&[Point::new(nan, 1.0), Point::new(nan, 2.0), Point::new(nan, 3.0)]).is_none());
    }

    #[test]
    fn a_stroke_has_the_box_of_its_points_and_its_pieces_theirs() {
        let corners = [Point::new(0.0, 5.0), Point::new(3.0, 1.0), Point::new(4.0, 2.0)];
        let stroke = Stroke::along(&corners).unwrap();
        assert_eq!(stroke.bounds, Bounds { min: Point::new(0.0, 1.0), max: Point::new(4.0, 5.0) });
        let last = stroke.pieces().last().unwrap();
        assert_eq!(last.points(), &corners[1..]);
        assert_eq!(last.bounds, Bounds { min: Point::new(3.0, 1.0), max: Point::new(4.0, 2.0) });
    }
}
