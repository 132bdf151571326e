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
    /// The pieces between some points; none of fewer than two or of points that are no numbers.
    fn along(points: &'a [Point]) -> Option<Stroke<'a>> {
        let bounds = Bounds::of(points.iter().copied());
        (points.len() >= 2 && !bounds.is_empty()).then_some(Stroke { path: Path::Along(points), bounds })
    }

    /// Makes a box hold it.
    pub(super) fn add_to(&self, bounds: &mut Bounds) {
        bounds.add(self.bounds.min);
        bounds.add(self.bounds.max);
    }

    /// The ends of the pieces, two or more.
    pub(super) fn points(&self) -> &[Point] {
        match &self.path {
            Path::Line(ends) => ends,
            Path::Along(points) => points,
        }
    }
}

/// Strokes, the lines apart from the others: a drawing has thousands of lines, and their ends are all that need be kept.
#[derive(Debug, Default)]
pub(super) struct Strokes<'a> {
    lines: Vec<[Point; 2]>,
    /// Those of several pieces.
    paths: Vec<Stroke<'a>>,
}

impl<'a> Strokes<'a> {
    /// None yet, with room for some lines.
    pub(super) fn with_capacity(lines: usize) -> Strokes<'a> {
        Strokes { lines: Vec::with_capacity(lines), paths: Vec::new() }
    }

    /// Adds a line; nothing of ends that are no numbers.
    pub(super) fn add_line(&mut self, from: Point, to: Point) {
        if !Bounds::of([from, to]).is_empty() {
            self.lines.push([from, to]);
        }
    }

    /// Adds what is drawn along some points; nothing of fewer than two or of points that are no numbers.
    pub(super) fn add_along(&mut self, points: &'a [Point]) {
        self.paths.extend(Stroke::along(points));
    }

    /// Whether there is none.
    pub(super) fn is_empty(&self) -> bool {
        self.lines.is_empty() && self.paths.is_empty()
    }

    /// All of them.
    pub(super) fn iter(&self) -> impl Iterator<Item = Stroke<'_>> + Clone {
        let line = |&ends: &[Point; 2]| Stroke { path: Path::Line(ends), bounds: Bounds::of(ends) };
        let paths: &[Stroke<'_>] = &self.paths;
        self.lines.iter().map(line).chain(paths.iter().copied())
    }

    /// The box of all.
    pub(super) fn bounds(&self) -> Bounds {
        let mut all = Bounds::EMPTY;
        for [from, to] in &self.lines {
            all.add(*from);
            all.add(*to);
        }
        self.paths.iter().for_each(|path| path.add_to(&mut all));
        all
    }

    /// Takes out the lines and pieces that are `wanted`. A path of which a piece may be wanted falls into its pieces; that
    /// is only asked of those whose box says so.
    pub(super) fn take_out(
        &mut self,
        may_be: impl Fn(&Bounds) -> bool,
        wanted: impl Fn(&[Point; 2]) -> bool,
    ) -> Vec<[Point; 2]> {
        let mut out: Vec<[Point; 2]> = self.lines.extract_if(.., |line| wanted(line)).collect();
        for path in self.paths.extract_if(.., |path| may_be(&path.bounds)) {
            for piece in path.points().windows(2).map(|ends| [ends[0], ends[1]]) {
                let into = if wanted(&piece) { &mut out } else { &mut self.lines };
                into.push(piece);
            }
        }
        out
    }

    /// Adds lines that were taken out.
    pub(super) fn put_back(&mut self, lines: Vec<[Point; 2]>) {
        self.lines.extend(lines);
    }

    /// Adds arcs and circles that are numbers.
    pub(super) fn add_rounds(&mut self, rounds: &'a Rounds) {
        self.paths.extend(rounds.strokes());
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
    /// None yet, with room for some.
    pub(super) fn with_capacity(rounds: usize) -> Rounds {
        Rounds { points: Vec::with_capacity(rounds * (ROUND as usize + 1)) }
    }

    /// Adds one by the directions of its points from its centre, one more than [`ROUND`].
    pub(super) fn add(&mut self, center: Point, radius: f64, directions: &[Point]) {
        let at = |d: &Point| Point::new(center.x + radius * d.x, center.y + radius * d.y);
        self.points.extend(directions.iter().map(at));
    }

    /// All of them that are numbers.
    pub(super) fn strokes(&self) -> impl Iterator<Item = Stroke<'_>> + Clone {
        self.points.chunks(ROUND as usize + 1).filter_map(Stroke::along)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn p(x: f64, y: f64) -> Point {
        Point::new(x, y)
    }

    #[test]
    fn what_is_no_number_or_a_single_point_is_no_stroke() {
        let points = [p(f64::NAN, 1.0), p(f64::NAN, 2.0), p(3.0, 4.0)];
        let mut strokes = Strokes::default();
        strokes.add_line(points[0], points[1]);
        strokes.add_along(&points[..2]);
        strokes.add_along(&points[2..]);
        assert!(strokes.is_empty());
        strokes.add_line(points[2], points[2]);
        assert_eq!(strokes.iter().count(), 1);
    }

    #[test]
    fn pieces_are_taken_out_of_lines_and_paths_and_put_back() {
        let corners = [p(0.0, 5.0), p(3.0, 1.0), p(4.0, 1.0)];
        let mut strokes = Strokes::default();
        strokes.add_line(p(7.0, 7.0), p(9.0, 7.0));
        strokes.add_line(p(7.0, 7.0), p(9.0, 8.0));
        strokes.add_along(&corners);
        assert_eq!(strokes.bounds(), Bounds { min: p(0.0, 1.0), max: p(9.0, 8.0) });
        let level = |ends: &[Point; 2]| ends[0].y == ends[1].y;
        assert_eq!(strokes.take_out(|b| b.min.x > 1.0, level), [[p(7.0, 7.0), p(9.0, 7.0)]]);
        assert_eq!(strokes.iter().count(), 2);
        let taken = strokes.take_out(|b| b.min.x < 1.0, level);
        assert_eq!(taken, [[p(3.0, 1.0), p(4.0, 1.0)]]);
        assert_eq!(strokes.iter().count(), 2);
        strokes.put_back(taken);
        assert_eq!(strokes.iter().count(), 3);
        assert_eq!(strokes.bounds(), Bounds { min: p(0.0, 1.0), max: p(9.0, 8.0) });
    }
}
