//! SPLINE, as far as it may be a circle. One that is open, or has more points than any exporter writes for a circle,
//! is passed over with its coordinates unread: it is no hole.

use super::{Opened, Opens};
use crate::dxf::bounds::{MAX_SPLINE_DEGREE, MAX_SPLINE_POINTS};
use crate::dxf::raw::{Entity, Kind, Spline, add};
use crate::dxf::scan::Scanner;
use crate::dxf::tags::{Fault, Start, Tags, Value};
use crate::geometry::{Point, Vec3};

/// Flag bits: closed, periodic.
const CLOSED_OR_PERIODIC: i64 = 1 | 2;

/// Fewest control points of a full circle (degree 5, one piece).
const FEWEST_CONTROL_POINTS: usize = 6;

/// How far the ends of a circle may lie apart, relative to its first step. Coordinates of small holes are rounded to two
/// decimals at worst.
const OPEN_SLACK: f64 = 0.1;

pub(super) fn read<'a, T: Tags<'a>>(
    scanner: &mut Scanner<'a, T>,
    start: Start<'a>,
) -> Result<Option<Entity>, Fault> {
    let begin = scanner.walk.mark();
    let looked = look(scanner)?;
    if !looked.may_be_circle() {
        return Ok(None);
    }
    let end = scanner.walk.mark();
    scanner.walk.return_to(begin);
    let spline = spline(scanner, looked.degree)?;
    scanner.walk.return_to(end);
    let common = scanner.common_of(Opens::Spline, start, &looked.opened);
    Ok(Some(Entity { common, kind: Kind::Spline(add(&mut scanner.raw.splines, spline)) }))
}

/// What a first look at a spline tells: enough to pass over nearly all of them with their numbers unread.
#[derive(Debug)]
struct Look<'a> {
    opened: Opened<'a>,
    flags: i64,
    degree: usize,
    /// Control points, fit points.
    counts: [usize; 2],
    /// X and y of the first, the second and the last point of each kind.
    first: [[Value<'a>; 2]; 2],
    second: [[Value<'a>; 2]; 2],
    last: [[Value<'a>; 2]; 2],
}

fn look<'a, T: Tags<'a>>(scanner: &mut Scanner<'a, T>) -> Result<Look<'a>, Fault> {
    const NONE: [[Value<'static>; 2]; 2] = [[Value::Chunk; 2]; 2];
    let (opened, counts) = (scanner.open(Opens::Spline), [0; 2]);
    let mut look = Look { opened, flags: 0, degree: 0, counts, first: NONE, second: NONE, last: NONE };
    scanner.walk.groups(|tag, _| {
        match tag.code {
            10 | 11 => look.take((tag.code - 10) as usize, 0, tag.value),
            20 | 21 => look.take((tag.code - 20) as usize, 1, tag.value),
            30 | 31 | 40 | 41 => {}
            70 => look.flags = tag.int()?,
            71 => look.degree = usize::try_from(tag.int()?).unwrap_or(0),
            _ => look.opened.take(tag)?,
        }
        Ok(true)
    })?;
    // A spline is in the coordinates of its block; its extrusion direction only states its plane.
    look.opened.gathered.normal = None;
    Ok(look)
}

impl<'a> Look<'a> {
    /// Takes x (0), which begins a point, or y (1).
    #[inline(always)]
    fn take(&mut self, kind: usize, part: usize, value: Value<'a>) {
        self.counts[kind] += 1 - part;
        match self.counts[kind] {
            1 => self.first[kind][part] = value,
            2 => self.second[kind][part] = value,
            _ => {}
        }
        self.last[kind][part] = value;
    }

    /// Whether the curve has as many points as circles are written with, and says that it is closed or at least ends
    /// near its start.
    fn may_be_circle(&self) -> bool {
        let [control, fit] = self.counts;
        let enough = control >= FEWEST_CONTROL_POINTS || fit > 0;
        if !enough || control.max(fit) > MAX_SPLINE_POINTS || self.degree > MAX_SPLINE_DEGREE {
            return false;
        }
        if self.flags & CLOSED_OR_PERIODIC != 0 {
            return true;
        }
        let kind = usize::from(control == 0);
        let at = |[x, y]: [Value<'a>; 2]| Some(Point::new(x.real()?, y.real()?));
        let (Some(first), Some(second), Some(last)) =
            (at(self.first[kind]), at(self.second[kind]), at(self.last[kind]))
        else {
            // What is wrong with it is found where it is read.
            return true;
        };
        // The first step of a circle of so few points is as long as many times what rounding may leave open; points
        // that a curve repeats say nothing.
        let step = first.distance(second);
        step == 0.0 || first.distance(last) <= OPEN_SLACK * step
    }
}

/// Reads the pairs that state the curve.
fn spline<'a, T: Tags<'a>>(scanner: &mut Scanner<'a, T>, degree: usize) -> Result<Spline, Fault> {
    let mut spline = Spline { degree, ..Spline::default() };
    while let Some(tag) = scanner.walk.group() {
        let (points, coordinate) = match tag.code {
            40 => {
                spline.knots.push(tag.real()?);
                continue;
            }
            41 => {
                spline.weights.push(tag.real()?);
                continue;
            }
            10 | 20 | 30 => (&mut spline.control, tag.code / 10),
            11 | 21 | 31 => (&mut spline.fit, tag.code / 10),
            _ => continue,
        };
        let value = tag.real()?;
        if coordinate == 1 {
            points.push(Vec3::new(value, 0.0, 0.0));
        } else if let Some(point) = points.last_mut() {
            let part = if coordinate == 2 { &mut point.y } else { &mut point.z };
            *part = value;
        }
    }
    Ok(spline)
}
