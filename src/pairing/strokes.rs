//! What is drawn as lines, as strokes of straight pieces with their boxes. Knows nothing of views.

use crate::drawing::Segment;
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

/// Strokes, the lines apart from the others: a drawing has thousands of lines, so they stay where they are.
#[derive(Debug, Default)]
pub(super) struct Strokes<'a> {
    segments: &'a [Segment],
    /// Indices of those segments that are strokes.
    lines: Vec<u32>,
    /// Other lines.
    pieces: Vec<[Point; 2]>,
    /// Those of several pieces.
    paths: Vec<Stroke<'a>>,
}

fn ends(segment: &Segment) -> [Point; 2] {
    [segment.from, segment.to]
}

/// Whether a line's ends are numbers.
fn is_drawn(ends: &[Point; 2]) -> bool {
    !Bounds::of(*ends).is_empty()
}

impl<'a> Strokes<'a> {
    /// Those of some segments that are `wanted` and whose ends are numbers.
    pub(super) fn of_lines(
        segments: &'a [Segment],
        mut wanted: impl FnMut(usize, &Segment) -> bool,
    ) -> Strokes<'a> {
        let mut lines = Vec::with_capacity(segments.len());
        for (index, segment) in segments.iter().enumerate() {
            if wanted(index, segment) && is_drawn(&ends(segment)) {
                lines.push(index as u32);
            }
        }
        Strokes { segments, lines, ..Strokes::default() }
    }

    /// Adds what is drawn along some points; nothing of fewer than two or of points that are no numbers.
    pub(super) fn add_along(&mut self, points: &'a [Point]) {
        self.paths.extend(Stroke::along(points));
    }

    /// Whether there is none.
    pub(super) fn is_empty(&self) -> bool {
        self.lines.is_empty() && self.pieces.is_empty() && self.paths.is_empty()
    }

    /// All of them.
    pub(super) fn iter(&self) -> impl Iterator<Item = Stroke<'_>> + Clone {
        let line = |ends: [Point; 2]| Stroke { path: Path::Line(ends), bounds: Bounds::of(ends) };
        let paths: &[Stroke<'_>] = &self.paths;
        self.lines()
            .map(line)
            .chain(self.pieces.iter().map(move |&ends| line(ends)))
            .chain(paths.iter().copied())
    }

    /// The ends of the segments that are strokes.
    fn lines(&self) -> impl Iterator<Item = [Point; 2]> + Clone {
        self.lines.iter().map(|&line| ends(&self.segments[line as usize]))
    }

    /// The box of all.
    pub(super) fn bounds(&self) -> Bounds {
        let mut all = Bounds::EMPTY;
        for [from, to] in self.lines().chain(self.pieces.iter().copied()) {
            all.add(from);
            all.add(to);
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
        let segments = self.segments;
        let of_line = |line: &u32| ends(&segments[*line as usize]);
        let taken = self.lines.extract_if(.., |line| wanted(&of_line(line)));
        let mut out: Vec<[Point; 2]> = taken.map(|line| of_line(&line)).collect();
        out.extend(self.pieces.extract_if(.., |piece| wanted(piece)));
        for path in self.paths.extract_if(.., |path| may_be(&path.bounds)) {
            for piece in path.points().windows(2).map(|ends| [ends[0], ends[1]]) {
                let into = if wanted(&piece) { &mut out } else { &mut self.pieces };
                into.push(piece);
            }
        }
        out
    }

    /// Adds lines, such as were taken out.
    pub(super) fn put_back(&mut self, lines: Vec<[Point; 2]>) {
        self.pieces.extend(lines);
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
    use crate::pairing::testing::Sheet;

    fn p(x: f64, y: f64) -> Point {
        Point::new(x, y)
    }

    #[test]
    fn what_is_no_number_or_a_single_point_is_no_stroke() {
        let points = [p(f64::NAN, 1.0), p(f64::NAN, 2.0), p(3.0, 4.0)];
        let lines =
            Sheet::new().line(f64::NAN, 1.0, f64::NAN, 2.0).line(3.0, 4.0, 3.0, 4.0).drawing().segments;
        let mut strokes = Strokes::of_lines(&lines, |index, _| index == 0);
        strokes.add_along(&points[..2]);
        strokes.add_along(&points[2..]);
        assert!(strokes.is_empty());
        assert_eq!(Strokes::of_lines(&lines, |_, _| true).iter().count(), 1);
    }

    #[test]
    fn pieces_are_taken_out_of_lines_and_paths_and_put_back() {
        let corners = [p(0.0, 5.0), p(3.0, 1.0), p(4.0, 1.0)];
        let sheet = Sheet::new().line(7.0, 7.0, 9.0, 7.0).line(7.0, 7.0, 9.0, 8.0).line(0.0, 0.0, 99.0, 0.0);
        let lines = sheet.drawing().segments;
        let mut strokes = Strokes::of_lines(&lines, |index, _| index < 2);
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
