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
        let (x, y) = (self.x - other.x, self.y - other.y);
        // Not `hypot`, which is many times slower; the reader believes no coordinate whose square would overflow.
        (x * x + y * y).sqrt()
    }

    /// Distance to the nearest point of the straight line from `a` to `b`, in drawing units.
    pub fn distance_to_side(self, a: Point, b: Point) -> f64 {
        let (dx, dy) = (b.x - a.x, b.y - a.y);
        let squared = dx * dx + dy * dy;
        let along = if squared > 0.0 { ((self.x - a.x) * dx + (self.y - a.y) * dy) / squared } else { 0.0 };
        let t = along.clamp(0.0, 1.0);
        self.distance(Point::new(a.x + t * dx, a.y + t * dy))
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

    /// The point that is as far from each edge as from the opposite one.
    pub fn middle(&self) -> Point {
        let Bounds { min, max } = self;
        Point::new(f64::midpoint(min.x, max.x), f64::midpoint(min.y, max.y))
    }

    /// Grows the box to hold `p`.
    pub fn add(&mut self, p: Point) {
        // Not `f64::min`, which takes several instructions to pass over what is no number; so does a comparison.
        let lesser = |a: f64, b: f64| if b < a { b } else { a };
        let greater = |a: f64, b: f64| if b > a { b } else { a };
        self.min = Point::new(lesser(self.min.x, p.x), lesser(self.min.y, p.y));
        self.max = Point::new(greater(self.max.x, p.x), greater(self.max.y, p.y));
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

    /// The box of several points.
    pub fn of(points: impl IntoIterator<Item = Point>) -> Bounds {
        let mut bounds = Bounds::EMPTY;
        for p in points {
            bounds.add(p);
        }
        bounds
    }

    /// The box of a circular arc that runs counter-clockwise from `start_deg` over `sweep_deg` (0 to 360).
    pub fn of_arc(center: Point, radius: f64, start_deg: f64, sweep_deg: f64) -> Bounds {
        let at = |deg: f64| {
            let (sin, cos) = deg.to_radians().sin_cos();
            Point::new(center.x + radius * cos, center.y + radius * sin)
        };
        let mut bounds = Bounds::of([at(start_deg), at(start_deg + sweep_deg)]);
        for (quadrant, (dx, dy)) in [(1.0, 0.0), (0.0, 1.0), (-1.0, 0.0), (0.0, -1.0)].into_iter().enumerate()
        {
            if (90.0 * quadrant as f64 - start_deg).rem_euclid(360.0) <= sweep_deg {
                bounds.add(Point::new(center.x + radius * dx, center.y + radius * dy));
            }
        }
        bounds
    }
}

/// A point or a direction in space, in drawing units.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct Vec3 {
    /// Abscissa.
    pub x: f64,
    /// Ordinate.
    pub y: f64,
    /// Height.
    pub z: f64,
}

impl Vec3 {
    /// The origin, or no direction.
    pub const ZERO: Vec3 = Vec3::new(0.0, 0.0, 0.0);
    /// The upward direction, along which a plan is looked at.
    pub const UP: Vec3 = Vec3::new(0.0, 0.0, 1.0);

    /// A vector from its coordinates.
    pub const fn new(x: f64, y: f64, z: f64) -> Self {
        Vec3 { x, y, z }
    }

    /// The plan view: height left out.
    pub const fn plan(self) -> Point {
        Point::new(self.x, self.y)
    }

    /// Sum.
    pub fn plus(self, o: Vec3) -> Vec3 {
        Vec3::new(self.x + o.x, self.y + o.y, self.z + o.z)
    }

    /// Difference.
    pub fn minus(self, o: Vec3) -> Vec3 {
        Vec3::new(self.x - o.x, self.y - o.y, self.z - o.z)
    }

    /// This vector, `factor` times as long.
    pub fn times(self, factor: f64) -> Vec3 {
        Vec3::new(self.x * factor, self.y * factor, self.z * factor)
    }

    /// Scalar product.
    pub fn dot(self, o: Vec3) -> f64 {
        self.x * o.x + self.y * o.y + self.z * o.z
    }

    /// Vector product.
    pub fn cross(self, o: Vec3) -> Vec3 {
        Vec3::new(self.y * o.z - self.z * o.y, self.z * o.x - self.x * o.z, self.x * o.y - self.y * o.x)
    }

    /// Length.
    pub fn length(self) -> f64 {
        self.dot(self).sqrt()
    }

    /// The direction with length 1; none for a vector too short to have one.
    pub fn unit(self) -> Option<Vec3> {
        let length = self.length();
        (length > 1e-12 && length.is_finite()).then(|| self.times(1.0 / length))
    }
}

/// An affine map of space: the images of the three axes and of the origin.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Affine {
    /// Image of the x direction.
    pub x: Vec3,
    /// Image of the y direction.
    pub y: Vec3,
    /// Image of the z direction.
    pub z: Vec3,
    /// Image of the origin.
    pub origin: Vec3,
}

impl Affine {
    /// The map that moves nothing.
    pub const IDENTITY: Affine = Affine {
        x: Vec3::new(1.0, 0.0, 0.0),
        y: Vec3::new(0.0, 1.0, 0.0),
        z: Vec3::new(0.0, 0.0, 1.0),
        origin: Vec3::ZERO,
    };

    /// Moves by `offset`.
    pub const fn translation(offset: Vec3) -> Affine {
        Affine { origin: offset, ..Affine::IDENTITY }
    }

    /// Scales each axis by its own factor; a negative one mirrors.
    pub const fn scaling(x: f64, y: f64, z: f64) -> Affine {
        Affine {
            x: Vec3::new(x, 0.0, 0.0),
            y: Vec3::new(0.0, y, 0.0),
            z: Vec3::new(0.0, 0.0, z),
            origin: Vec3::ZERO,
        }
    }

    /// Turns counter-clockwise about the z axis. Multiples of 90° are exact.
    pub fn turning(deg: f64) -> Affine {
        let (sin, cos) = exact_sin_cos(deg);
        Affine { x: Vec3::new(cos, sin, 0.0), y: Vec3::new(-sin, cos, 0.0), ..Affine::IDENTITY }
    }

    /// The map from the coordinate system that an extrusion direction defines (the arbitrary axis algorithm of the
    /// DXF reference) to the world. A direction of no length counts as upwards.
    pub fn of_extrusion(direction: Vec3) -> Affine {
        let Some(normal) = direction.unit() else {
            return Affine::IDENTITY;
        };
        if normal == Vec3::UP {
            return Affine::IDENTITY;
        }
        let near_vertical = normal.x.abs() < 1.0 / 64.0 && normal.y.abs() < 1.0 / 64.0;
        let helper = if near_vertical { Affine::IDENTITY.y } else { Vec3::UP };
        let Some(x) = helper.cross(normal).unit() else {
            return Affine::IDENTITY;
        };
        let y = normal.cross(x);
        Affine { x, y: y.unit().unwrap_or(y), z: normal, origin: Vec3::ZERO }
    }

    /// Image of a point.
    pub fn point(&self, p: Vec3) -> Vec3 {
        self.direction(p).plus(self.origin)
    }

    /// Image of a direction.
    pub fn direction(&self, v: Vec3) -> Vec3 {
        self.x.times(v.x).plus(self.y.times(v.y)).plus(self.z.times(v.z))
    }

    /// The map that does `inner` first and then this one.
    pub fn after(&self, inner: &Affine) -> Affine {
        Affine {
            x: self.direction(inner.x),
            y: self.direction(inner.y),
            z: self.direction(inner.z),
            origin: self.point(inner.origin),
        }
    }
}

/// Sine and cosine of an angle in degrees, exact for multiples of 90°, so that a quarter turn keeps a coordinate
/// of 0 at 0.
pub fn exact_sin_cos(deg: f64) -> (f64, f64) {
    // Most things are not turned at all, and a remainder takes long.
    let turned = if deg == 0.0 { 0.0 } else { deg.rem_euclid(360.0) };
    if turned == 0.0 {
        (0.0, 1.0)
    } else if turned == 90.0 {
        (1.0, 0.0)
    } else if turned == 180.0 {
        (0.0, -1.0)
    } else if turned == 270.0 {
        (-1.0, 0.0)
    } else {
        turned.to_radians().sin_cos()
    }
}

/// Radius of the ellipse that two conjugate half-axes span, if it is a circle: the axes are
/// equally long and at right angles within 1e-6 of their length. None for an uneven or an empty one.
pub fn circle_of_axes(u: Point, v: Point) -> Option<f64> {
    let uu = u.x * u.x + u.y * u.y;
    let vv = v.x * v.x + v.y * v.y;
    let uv = u.x * v.x + u.y * v.y;
    let larger = uu.max(vv);
    let even = (uu - vv).abs() <= 2e-6 * larger && uv.abs() <= 1e-6 * larger;
    let radius = ((uu + vv) / 2.0).sqrt();
    (even && radius > 0.0 && radius.is_finite()).then_some(radius)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_distance_to_a_side_is_that_to_its_nearest_point() {
        // By hand: beside the middle of the side, 3-4-5 beyond its end, and a side of no length.
        let (a, b) = (Point::new(0.0, 0.0), Point::new(10.0, 0.0));
        for (p, far) in [((4.0, -2.0), 2.0), ((13.0, 4.0), 5.0), ((-3.0, 4.0), 5.0)] {
            assert_eq!(Point::new(p.0, p.1).distance_to_side(a, b), far);
        }
        assert_eq!(Point::new(3.0, 4.0).distance_to_side(a, a), 5.0);
    }

    #[test]
    fn arbitrary_axes_follow_the_reference() {
        // DXF reference, arbitrary axis algorithm: for (0,0,-1) the x axis turns over and y stays.
        let down = Affine::of_extrusion(Vec3::new(0.0, 0.0, -1.0));
        assert_eq!(down.x, Vec3::new(-1.0, 0.0, 0.0));
        assert_eq!(down.y, Vec3::new(0.0, 1.0, 0.0));
        // For (1,0,0): Ax = Wz x N = (0,1,0), Ay = N x Ax = (0,0,1) (hand calculation).
        let side = Affine::of_extrusion(Vec3::new(1.0, 0.0, 0.0));
        assert_eq!(side.x, Vec3::new(0.0, 1.0, 0.0));
        assert_eq!(side.y, Vec3::new(0.0, 0.0, 1.0));
    }

    #[test]
    fn maps_compose_inner_first() {
        // Hand calculation: (1,0) doubled is (2,0), turned by 90° is (0,2), moved by (10,0) is (10,2).
        let map = Affine::translation(Vec3::new(10.0, 0.0, 0.0))
            .after(&Affine::turning(90.0))
            .after(&Affine::scaling(2.0, 2.0, 2.0));
        assert_eq!(map.point(Vec3::new(1.0, 0.0, 0.0)), Vec3::new(10.0, 2.0, 0.0));
    }

    #[test]
    fn boxes_of_arcs_hold_the_quadrants_they_cross() {
        // Hand calculation: from 45° over 90° crosses the top only.
        let b = Bounds::of_arc(Point::new(1.0, 1.0), 2.0, 45.0, 90.0);
        assert!((b.max.y - 3.0).abs() < 1e-12);
        assert!((b.max.x - (1.0 + 2.0_f64.sqrt())).abs() < 1e-12);
        assert!((b.min.y - (1.0 + 2.0_f64.sqrt())).abs() < 1e-12);
    }

    #[test]
    fn uneven_axes_are_no_circle() {
        assert_eq!(circle_of_axes(Point::new(0.0, 2.0), Point::new(2.0, 0.0)), Some(2.0));
        assert_eq!(circle_of_axes(Point::new(2.0, 0.0), Point::new(0.0, 2.1)), None);
        // Sheared: equal lengths but 60° apart.
        assert_eq!(circle_of_axes(Point::new(1.0, 0.0), Point::new(0.5, 0.75_f64.sqrt())), None);
    }
}
