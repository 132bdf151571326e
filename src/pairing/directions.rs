//! Directions to points spread evenly along an arc. Fillets, slot ends and circles have the same few over and over, on
//! one drawing and on the next, so those of the last arcs are remembered: a sine takes as long as all else that is done
//! with a point.

use std::cell::RefCell;
use std::rc::Rc;

use crate::geometry::Point;

/// Kinds of arcs that are remembered.
const REMEMBERED: usize = 32;

thread_local! {
    static DIRECTIONS: RefCell<Directions> = RefCell::default();
}

/// Points on the unit circle at both ends of an arc and between them, `steps` + 1 in all.
pub(super) fn along(start_deg: f64, sweep_deg: f64, steps: u32) -> Rc<[Point]> {
    DIRECTIONS.with_borrow_mut(|directions| directions.along(start_deg, sweep_deg, steps))
}

/// The directions along arcs, remembered by where they begin, how far they go and in how many steps.
#[derive(Debug, Default)]
struct Directions {
    known: Vec<Along>,
    /// The one to be forgotten next.
    oldest: usize,
}

#[derive(Debug)]
struct Along {
    start_deg: f64,
    sweep_deg: f64,
    steps: u32,
    directions: Rc<[Point]>,
}

impl Directions {
    fn along(&mut self, start_deg: f64, sweep_deg: f64, steps: u32) -> Rc<[Point]> {
        let same = |a: &Along| a.start_deg == start_deg && a.sweep_deg == sweep_deg && a.steps == steps;
        let at = self.known.iter().position(same).unwrap_or_else(|| {
            let along =
                Along { start_deg, sweep_deg, steps, directions: spread(start_deg, sweep_deg, steps) };
            if self.known.len() < REMEMBERED {
                self.known.push(along);
                return self.known.len() - 1;
            }
            let at = self.oldest;
            self.known[at] = along;
            self.oldest = (at + 1) % REMEMBERED;
            at
        });
        Rc::clone(&self.known[at].directions)
    }
}

fn spread(start_deg: f64, sweep_deg: f64, steps: u32) -> Rc<[Point]> {
    let direction = |k: u32| {
        let (sin, cos) = (start_deg + sweep_deg * f64::from(k) / f64::from(steps)).to_radians().sin_cos();
        Point::new(cos, sin)
    };
    (0..=steps).map(direction).collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn an_arc_that_comes_again_has_the_same_directions_and_another_its_own() {
        let mut directions = Directions::default();
        let quarter = directions.along(0.0, 90.0, 2).to_vec();
        // By hand: 0, 45 and 90 degrees.
        let half = 0.5_f64.sqrt();
        for (d, (x, y)) in quarter.iter().zip([(1.0, 0.0), (half, half), (0.0, 1.0)]) {
            assert!(d.distance(Point::new(x, y)) < 1e-15, "{d:?}");
        }
        // More kinds than are remembered.
        for start in 1..40 {
            assert_eq!(directions.along(f64::from(start), 90.0, 2), spread(f64::from(start), 90.0, 2));
        }
        assert_eq!(*directions.along(0.0, 90.0, 2), quarter[..]);
        assert_eq!(directions.along(0.0, 90.0, 3).len(), 4);
    }
}
