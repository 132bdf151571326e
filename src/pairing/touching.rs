//! Which strokes belong together: those whose boxes overlap, and those that nearly touch. Gives their boxes, and knows
//! nothing of views.

use super::raster;
use super::strokes::Stroke;
use crate::geometry::Bounds;

/// The boxes of the strokes that belong together, in the order of their left edges; no two of them overlap. `all` is the
/// box of all strokes and not empty. Strokes belong together if they pass through neighbours of a raster over `all`, or
/// if the boxes overlap of those that do.
pub(super) fn boxes<'a>(strokes: impl Iterator<Item = Stroke<'a>> + Clone, all: &Bounds) -> Vec<Bounds> {
    let Some(found) = overlapping(strokes.clone(), all) else {
        return merged(raster::boxes(strokes, all));
    };
    // Views mostly stand far apart, and nothing is left to be looked at closely.
    let nearby = nearby(strokes, &found, REACH * raster::side(all));
    if nearby.is_empty() {
        return found;
    }
    merged(found.into_iter().chain(raster::boxes(nearby.iter().copied(), all)).collect())
}

/// Cells between two places in neighbouring ones: never as many, however they are rounded.
const REACH: f64 = 2.5;

/// Most boxes that strokes are held against one by one.
const MOST_BOXES: usize = 64;

/// A stroke is long from this part of the box of all strokes on.
const LONG: f64 = 0.05;

/// Boxes of strokes that belong together as their boxes overlap, no two of which do; none if they are many.
fn overlapping<'a>(strokes: impl Iterator<Item = Stroke<'a>> + Clone, all: &Bounds) -> Option<Vec<Bounds>> {
    let least = LONG * (all.max.x - all.min.x).max(all.max.y - all.min.y);
    let long = |b: &Bounds| b.max.x - b.min.x >= least || b.max.y - b.min.y >= least;
    let mut few = Few::default();
    // The long ones first: most of the others lie in what they frame.
    let are_few = [true, false].into_iter().all(|first| {
        let mut boxes = strokes.clone().map(|stroke| stroke.bounds).filter(|bounds| long(bounds) == first);
        boxes.all(|bounds| few.add(&bounds))
    });
    are_few.then(|| merged(few.boxes))
}

/// A few boxes that grow.
#[derive(Default)]
struct Few {
    boxes: Vec<Bounds>,
    /// The one that grew last; the next stroke of a file mostly belongs to it too.
    last: usize,
}

impl Few {
    /// Adds a stroke's box to the first one that it overlaps; whether they are still few.
    fn add(&mut self, bounds: &Bounds) -> bool {
        let last = self.boxes.get(self.last);
        if last.is_some_and(|last| last.holds(bounds.min, 0.0) && last.holds(bounds.max, 0.0)) {
            return true;
        }
        if last.is_none_or(|last| !overlap(last, bounds)) {
            self.last = match self.boxes.iter().position(|known| overlap(known, bounds)) {
                Some(known) => known,
                None => self.boxes.len(),
            };
        }
        match self.boxes.get_mut(self.last) {
            Some(last) => grow(last, bounds),
            None => {
                if self.boxes.len() == MOST_BOXES {
                    self.boxes = merged(std::mem::take(&mut self.boxes));
                    // What hardly shrinks would be merged over and over.
                    if 2 * self.boxes.len() > MOST_BOXES {
                        return false;
                    }
                }
                self.last = self.boxes.len();
                self.boxes.push(*bounds);
            }
        }
        true
    }
}

/// The strokes that lie within `reach` of a box that is not theirs, if not all boxes stand far from one another.
fn nearby<'a>(strokes: impl Iterator<Item = Stroke<'a>>, boxes: &[Bounds], reach: f64) -> Vec<Stroke<'a>> {
    let near = |a: &Bounds, b: &Bounds| {
        a.min.x - reach <= b.max.x
            && b.min.x <= a.max.x + reach
            && a.min.y - reach <= b.max.y
            && b.min.y <= a.max.y + reach
    };
    let has_near = |a: &&Bounds| boxes.iter().filter(|b| near(a, b)).nth(1).is_some();
    let close: Vec<&Bounds> = boxes.iter().filter(has_near).collect();
    if close.is_empty() {
        return Vec::new();
    }
    let of_another = |s: &Stroke<'_>| close.iter().any(|b| near(b, &s.bounds) && !b.holds(s.bounds.min, 0.0));
    strokes.filter(of_another).collect()
}

/// Joins boxes that overlap until none does.
fn merged(mut boxes: Vec<Bounds>) -> Vec<Bounds> {
    loop {
        boxes.sort_by(|a, b| a.min.x.total_cmp(&b.min.x).then(a.min.y.total_cmp(&b.min.y)));
        let before = boxes.len();
        let mut merged: Vec<Bounds> = Vec::with_capacity(before);
        for b in boxes {
            match merged.iter_mut().find(|m| overlap(m, &b)) {
                Some(m) => grow(m, &b),
                None => merged.push(b),
            }
        }
        boxes = merged;
        if boxes.len() == before {
            return boxes;
        }
    }
}

fn overlap(a: &Bounds, b: &Bounds) -> bool {
    a.min.x <= b.max.x && b.min.x <= a.max.x && a.min.y <= b.max.y && b.min.y <= a.max.y
}

fn grow(bounds: &mut Bounds, by: &Bounds) {
    bounds.add(by.min);
    bounds.add(by.max);
}

#[cfg(test)]
mod tests {
    use super::super::strokes::Strokes;
    use super::*;
    use crate::geometry::Point;

    type Line = [(f64, f64); 2];

    fn strokes_of(lines: &[Line]) -> Strokes<'static> {
        let mut strokes = Strokes::default();
        strokes.put_back(lines.iter().map(|line| line.map(|(x, y)| Point::new(x, y))).collect());
        strokes
    }

    fn boxes_of(lines: &[Line]) -> Vec<Bounds> {
        let strokes = strokes_of(lines);
        boxes(strokes.iter(), &strokes.bounds())
    }

    fn bounds(x0: f64, y0: f64, x1: f64, y1: f64) -> Bounds {
        Bounds { min: Point::new(x0, y0), max: Point::new(x1, y1) }
    }

    /// The four sides of a rectangle.
    fn sides(x0: f64, y0: f64, x1: f64, y1: f64) -> [Line; 4] {
        [[(x0, y0), (x1, y0)], [(x1, y0), (x1, y1)], [(x1, y1), (x0, y1)], [(x0, y1), (x0, y0)]]
    }

    #[test]
    fn what_lies_in_a_frame_belongs_to_it_and_what_stands_apart_does_not() {
        let mut lines = vec![[(30.0, 30.0), (40.0, 40.0)]];
        lines.extend(sides(0.0, 0.0, 100.0, 80.0));
        lines.extend(sides(150.0, 0.0, 200.0, 50.0));
        // By hand.
        assert_eq!(boxes_of(&lines), [bounds(0.0, 0.0, 100.0, 80.0), bounds(150.0, 0.0, 200.0, 50.0)]);
    }

    #[test]
    fn frames_that_nearly_touch_are_one_and_a_line_that_only_its_box_brings_near_is_apart() {
        // A cell is 1 wide, and the frame ends in the one at 100 (hand calculation).
        let frame = bounds(0.0, 0.0, 100.0, 50.0);
        let beside = |others: &[Line]| boxes_of(&[&sides(0.0, 0.0, 100.0, 50.0), others].concat());
        assert_eq!(beside(&sides(101.4, 20.0, 200.0, 40.0)), [bounds(0.0, 0.0, 200.0, 50.0)]);
        assert_eq!(beside(&sides(102.4, 20.0, 200.0, 40.0)), [frame, bounds(102.4, 20.0, 200.0, 40.0)]);
        // The lower left corner of its box lies at that of the frame, and it runs from the upper left to the lower right.
        let slanted = [(101.2, 70.0), (120.0, 51.2)];
        let far = [(150.0, 0.0), (200.0, 0.0)];
        let expected = [frame, bounds(101.2, 51.2, 120.0, 70.0), bounds(150.0, 0.0, 200.0, 0.0)];
        assert_eq!(beside(&[slanted, far]), expected);
    }

    #[test]
    fn few_boxes_or_many_give_what_the_raster_alone_gives() {
        // Places by the linear congruence of the minimal standard generator.
        let mut state = 1_u64;
        let mut next = |below: u64| {
            state = state * 48_271 % 2_147_483_647;
            (state % below) as f64
        };
        for (count, length) in [(30, 90), (60, 40), (300, 3), (80, 12), (200, 30)] {
            for _ in 0..20 {
                let mut line = || {
                    let (x, y) = (next(1000), next(700));
                    [(x, y), (x + next(length), y + next(length))]
                };
                let lines: Vec<Line> = (0..count).map(|_| line()).collect();
                let strokes = strokes_of(&lines);
                assert_eq!(boxes_of(&lines), merged(raster::boxes(strokes.iter(), &strokes.bounds())));
            }
        }
    }
}
