//! Points, boxes and affine maps in the plane and in space, and the few predicates needed.
//!
//! Coordinates are in the drawing's own units, which are not known here.

/// A point of the drawing plane, in drawing units.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct Point {
    /// Abscissa.
    pub x: f64,
    /// Ordinate.
    pub y: f64,
}

impl Point {
    /// A point from its coordinates.
    pub const fn new(x: f64, y: f64) -> Self {
        Point { x, y }
    }

    /// Distance to another point.
    pub fn distance(self, other: Point) -> f64 {
        (self.x - other.x).hypot(self.y - other.y)
    }
}

/// An axis-aligned box; empty until a point is added.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Bounds {
    /// Lower left corner.
    pub min: Point,
    /// Upper right corner.
    pub max: Point,
}

impl Bounds {
    /// The box that holds nothing.
    pub const EMPTY: Bounds = Bounds {
        min: Point::new(f64::INFINITY, f64::INFINITY),
        max: Point::new(f64::NEG_INFINITY, f64::NEG_INFINITY),
    };

    /// Whether no point was ever added.
    pub fn is_empty(&self) -> bool {
        self.min.x > self.max.x || self.min.y > self.max.y
    }

    /// Grows the box to hold `p`.
    pub fn add(&mut self, p: Point) {
        self.min = Point::new(self.min.x.min(p.x), self.min.y.min(p.y));
        self.max = Point::new(self.max.x.max(p.x), self.max.y.max(p.y));
    }

    /// Whether `p` lies in the box or on its edge, grown by `margin` on all sides.
    pub fn holds(&self, p: Point, margin: f64) -> bool {
        p.x >= self.min.x - margin
            && p.x <= self.max.x + margin
            && p.y >= self.min.y - margin
            && p.y <= self.max.y + margin
    }

    /// Distance from `p` to the box, 0 inside.
    pub fn distance(&self, p: Point) -> f64 {
        let dx = (self.min.x - p.x).max(p.x - self.max.x).max(0.0);
        let dy = (self.min.y - p.y).max(p.y - self.max.y).max(0.0);
        dx.hypot(dy)
    }
}
