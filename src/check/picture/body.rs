//! The main body of what a space shows. A few things that lie far off (a forgotten line, a block at another origin) would
//! make all the rest too small to see; they are left outside, and counted.

use super::Shape;
use crate::geometry::{Bounds, Point};

/// Fewer shapes than these have no main body.
const FEWEST: usize = 8;
/// The whole must be so many times as wide or high as the main body before anything is left outside.
const TIMES: f64 = 4.0;
/// A shape this much longer than most of the others reach is no measure of the body.
const ENDLESS: f64 = 10.0;
/// At most one shape of so many may lie outside.
const ONE_OF: usize = 10;

/// The box of the main body, and how many shapes lie outside of it. `kept` are boxes that are shown in any case.
pub(super) fn of(shapes: &[Shape], kept: &[Bounds]) -> (Bounds, usize) {
    let boxes: Vec<Bounds> = shapes.iter().map(Shape::bounds).collect();
    let mut all = Bounds::EMPTY;
    boxes.iter().chain(kept).for_each(|own| grow(&mut all, own));
    if boxes.len() < FEWEST {
        return (all, 0);
    }
    let x: Vec<(f64, f64)> = boxes.iter().map(|b| (b.min.x, b.max.x)).collect();
    let y: Vec<(f64, f64)> = boxes.iter().map(|b| (b.min.y, b.max.y)).collect();
    let (x, y) = (along(x), along(y));
    if x.is_none() && y.is_none() {
        return (all, 0);
    }
    let (x, y) = (x.unwrap_or((all.min.x, all.max.x)), y.unwrap_or((all.min.y, all.max.y)));
    let mut body = Bounds { min: Point::new(x.0, y.0), max: Point::new(x.1, y.1) };
    kept.iter().for_each(|own| grow(&mut body, own));
    let outside = boxes.iter().filter(|own| !touches(&body, own)).count();
    (body, outside)
}

/// Whether two boxes have a point in common.
fn touches(a: &Bounds, b: &Bounds) -> bool {
    a.min.x <= b.max.x && b.min.x <= a.max.x && a.min.y <= b.max.y && b.min.y <= a.max.y
}

fn grow(whole: &mut Bounds, own: &Bounds) {
    if !own.is_empty() {
        whole.add(own.min);
        whole.add(own.max);
    }
}

/// The span of the main body along one axis; none where all of it belongs together.
fn along(mut spans: Vec<(f64, f64)>) -> Option<(f64, f64)> {
    let count = spans.len();
    let whole = spans.iter().fold((f64::INFINITY, f64::NEG_INFINITY), |w, s| (w.0.min(s.0), w.1.max(s.1)));
    let mut middles: Vec<f64> = spans.iter().map(|s| (s.0 + s.1) / 2.0).collect();
    middles.sort_by(f64::total_cmp);
    let mut lengths: Vec<f64> = spans.iter().map(|s| s.1 - s.0).collect();
    lengths.sort_by(f64::total_cmp);
    // Nine of ten lie within this.
    let reach = (middles[count - 1 - count / 20] - middles[count / 20]).max(lengths[count / 2]);
    if reach <= 0.0 {
        return None;
    }
    spans.retain(|s| s.1 - s.0 <= ENDLESS * reach);
    spans.sort_by(|a, b| a.0.total_cmp(&b.0));
    let mut best: Option<(usize, (f64, f64))> = None;
    let mut put = |own: (usize, (f64, f64))| {
        if best.is_none_or(|best| own.0 > best.0) {
            best = Some(own);
        }
    };
    let mut spans = spans.into_iter();
    let mut group = (1, spans.next()?);
    for span in spans {
        if span.0 - group.1.1 > reach {
            put(group);
            group = (1, span);
        } else {
            group = (group.0 + 1, (group.1.0, group.1.1.max(span.1)));
        }
    }
    put(group);
    let (members, body) = best?;
    let far = whole.1 - whole.0 > TIMES * (body.1 - body.0);
    (far && (count - members) * ONE_OF <= count).then_some(body)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::check::Pen;

    fn line(a: (f64, f64), b: (f64, f64)) -> Shape {
        Shape::Line(Pen::Edge, [Point::new(a.0, a.1), Point::new(b.0, b.1)])
    }

    /// Twenty lines from (0, 0) to (100, 19).
    fn part() -> Vec<Shape> {
        (0..20).map(|i| line((0.0, f64::from(i)), (100.0, f64::from(i)))).collect()
    }

    fn sides(b: Bounds) -> [f64; 4] {
        [b.min.x, b.min.y, b.max.x, b.max.y]
    }

    #[test]
    fn a_stray_and_an_endless_line_lie_outside_of_the_body() {
        let mut shapes = part();
        shapes.push(line((90_000.0, 80_000.0), (90_010.0, 80_000.0)));
        let (body, outside) = of(&shapes, &[]);
        assert_eq!((sides(body), outside), ([0.0, 0.0, 100.0, 19.0], 1));
        // One that runs through the part is not outside of it, and does not stretch it.
        shapes.push(line((-1e6, 5.0), (1e6, 5.0)));
        let (body, outside) = of(&shapes, &[]);
        assert_eq!((sides(body), outside), ([0.0, 0.0, 100.0, 19.0], 1));
    }

    #[test]
    fn what_was_found_is_shown_wherever_it_lies() {
        let mut shapes = part();
        shapes.push(line((9000.0, 0.0), (9001.0, 0.0)));
        let place = Bounds::of([Point::new(9000.0, 0.0)]);
        assert_eq!(of(&shapes, &[place]).0.max.x, 9000.0);
    }

    #[test]
    fn views_beside_each_other_and_a_second_part_belong_to_the_whole() {
        let mut shapes = part();
        shapes.extend((0..20).map(|i| line((300.0, f64::from(i)), (320.0, f64::from(i)))));
        assert_eq!((sides(of(&shapes, &[]).0), of(&shapes, &[]).1), ([0.0, 0.0, 320.0, 19.0], 0));
        // Far off, but half of what is drawn.
        let mut shapes = part();
        shapes.extend((0..20).map(|i| line((9000.0, f64::from(i)), (9020.0, f64::from(i)))));
        assert_eq!(of(&shapes, &[]).0.max.x, 9020.0);
    }
}
