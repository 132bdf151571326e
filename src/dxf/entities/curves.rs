//! LINE, CIRCLE, ARC and ELLIPSE.

use super::{Codes, Groups, Opened, Opens, wanted};
use crate::dxf::raw::{Ellipse, Entity, Kind, Raw, RawArc, add};
use crate::dxf::scan::Scanner;
use crate::dxf::tags::{Fault, Quick, Start, Tags};
use crate::geometry::{Point, Vec3};

/// Groups of an ELLIPSE.
static ELLIPSE: Codes = wanted(&[10, 20, 30, 11, 21, 31, 40, 41, 42]);

/// Reads the LINEs from `start` on that are as nearly all are; whether there was any. The one after them is started next.
#[inline]
pub(in crate::dxf) fn lines<'a, T: Tags<'a>>(scanner: &mut Scanner<'a, T>, start: Start<'a>) -> bool {
    more_lines(scanner, start)
        || more_flat_lines(scanner, start)
        || scanner.bring_forward(Opens::Line)
            && (more_lines(scanner, start) || more_flat_lines(scanner, start))
}

/// As [`lines`], of those that open as the last one did.
#[inline(never)]
fn more_lines<'a, T: Tags<'a>>(scanner: &mut Scanner<'a, T>, start: Start<'a>) -> bool {
    scanner.alike(Opens::Line, (start, b"LINE"), [10, 20, 30, 11, 21, 31], |raw, numbers| {
        Some(kind_of_line(raw, numbers))
    })
}

/// As [`more_lines`], of those that state no height.
#[inline(never)]
fn more_flat_lines<'a, T: Tags<'a>>(scanner: &mut Scanner<'a, T>, start: Start<'a>) -> bool {
    scanner.alike(Opens::Line, (start, b"LINE"), [10, 20, 11, 21], |_, [x1, y1, x2, y2]| {
        Some(Kind::Line { from: Point::new(x1, y1), to: Point::new(x2, y2) })
    })
}

/// Reads the CIRCLEs from `start` on that are as nearly all are, as [`lines`].
fn circles<'a, T: Tags<'a>>(scanner: &mut Scanner<'a, T>, start: Start<'a>) -> bool {
    let circle =
        |x, y, z, radius| (radius >= 0.0).then_some(Kind::Circle { center: Vec3::new(x, y, z), radius });
    scanner.alike(Opens::Circle, (start, b"CIRCLE"), [10, 20, 30, 40], |_, [x, y, z, r]| circle(x, y, z, r))
        || scanner.alike(Opens::Circle, (start, b"CIRCLE"), [10, 20, 40], |_, [x, y, r]| circle(x, y, 0.0, r))
}

/// Reads a LINE. Lines are most of what a drawing holds, so they do without the list of groups.
#[inline]
pub(in crate::dxf) fn line<'a, T: Tags<'a>>(
    scanner: &mut Scanner<'a, T>,
    start: Start<'a>,
) -> Result<Entity, Fault> {
    let mut opened = scanner.open(Opens::Line);
    let [mut x1, mut y1, mut z1] = [f64::NAN, f64::NAN, 0.0];
    let [mut x2, mut y2, mut z2] = [f64::NAN, f64::NAN, 0.0];
    if let Some(run) = scanner.walk.run([10, 20, 30, 11, 21, 31]) {
        [x1, y1, z1, x2, y2, z2] = run;
    }
    scanner.walk.groups(|tag, quick| {
        let number = match tag.code {
            10 => {
                x1 = tag.real()?;
                if let Some(run) = quick.run([20, 30, 11, 21, 31]) {
                    [y1, z1, x2, y2, z2] = run;
                }
                return Ok(true);
            }
            20 => &mut y1,
            30 => &mut z1,
            11 => &mut x2,
            21 => &mut y2,
            31 => &mut z2,
            101 => return Ok(false),
            _ => {
                opened.take(tag)?;
                return Ok(true);
            }
        };
        *number = tag.real()?;
        Ok(true)
    })?;
    start.needs([(10, x1), (20, y1), (11, x2), (21, y2)])?;
    let kind = kind_of_line(&mut scanner.raw, [x1, y1, z1, x2, y2, z2]);
    let common = scanner.common_of(Opens::Line, start, &opened);
    Ok(Entity { common, kind })
}

#[inline(always)]
fn kind_of_line(raw: &mut Raw<'_>, [x1, y1, z1, x2, y2, z2]: [f64; 6]) -> Kind {
    if z1.to_bits() | z2.to_bits() == 0 {
        return Kind::Line { from: Point::new(x1, y1), to: Point::new(x2, y2) };
    }
    Kind::SpatialLine(add(&mut raw.spatial_lines, [Vec3::new(x1, y1, z1), Vec3::new(x2, y2, z2)]))
}

/// Reads a CIRCLE; none where it and those behind it were read as [`circles`].
pub(super) fn circle<'a, T: Tags<'a>>(
    scanner: &mut Scanner<'a, T>,
    start: Start<'a>,
) -> Result<Option<Entity>, Fault> {
    if circles(scanner, start) {
        return Ok(None);
    }
    let (opened, [x, y, z, radius, ..]) = round::<false, T>(scanner, Opens::Circle)?;
    start.needs([(10, x), (20, y)])?;
    let kind = Kind::Circle { center: Vec3::new(x, y, z), radius: checked_radius(radius, start)? };
    let common = scanner.common_of(Opens::Circle, start, &opened);
    Ok(Some(Entity { common, kind }))
}

pub(super) fn arc<'a, T: Tags<'a>>(scanner: &mut Scanner<'a, T>, start: Start<'a>) -> Result<Entity, Fault> {
    let (opened, [x, y, z, radius, start_deg, end_deg]) = round::<true, T>(scanner, Opens::Arc)?;
    start.needs([(10, x), (20, y)])?;
    let radius = checked_radius(radius, start)?;
    start.needs([(50, start_deg), (51, end_deg)])?;
    let arc = RawArc { center: Vec3::new(x, y, z), radius, start_deg, end_deg };
    let kind = Kind::Arc(add(&mut scanner.raw.arcs, arc));
    let common = scanner.common_of(Opens::Arc, start, &opened);
    Ok(Entity { common, kind })
}

/// Reads groups 10, 20, 30 and 40 of a CIRCLE, and those and 50 and 51 of an ARC. There are too many of both to go
/// through the list of groups. What is not stated is NaN, but for z.
#[inline(always)]
fn round<'a, const ARC: bool, T: Tags<'a>>(
    scanner: &mut Scanner<'a, T>,
    kind: Opens,
) -> Result<(Opened<'a>, [f64; 6]), Fault> {
    let mut opened = scanner.open(kind);
    let [mut x, mut y, mut z, mut radius, mut from, mut to] =
        [f64::NAN, f64::NAN, 0.0, f64::NAN, f64::NAN, f64::NAN];
    if let Some(run) = scanner.walk.run([10, 20, 30, 40]) {
        [x, y, z, radius] = run;
        if ARC {
            scanner.open(Opens::Sweep);
            if let Some(run) = scanner.walk.run([50, 51]) {
                [from, to] = run;
            }
        }
    }
    scanner.walk.groups(|tag, _| {
        let number = match tag.code {
            10 => &mut x,
            20 => &mut y,
            30 => &mut z,
            40 => &mut radius,
            50 if ARC => &mut from,
            51 if ARC => &mut to,
            101 => return Ok(false),
            _ => {
                opened.take(tag)?;
                return Ok(true);
            }
        };
        *number = tag.real()?;
        Ok(true)
    })?;
    Ok((opened, [x, y, z, radius, from, to]))
}

pub(super) fn ellipse<'a, T: Tags<'a>>(
    scanner: &mut Scanner<'a, T>,
    start: Start<'a>,
) -> Result<Entity, Fault> {
    let (opened, g) = Groups::read(scanner, Opens::Ellipse, start, &ELLIPSE)?;
    let ellipse = Ellipse {
        center: g.needed_point(10)?,
        major: g.needed_point(11)?,
        ratio: g.needed_real(40)?,
        start: g.real_or(41, 0.0),
        end: g.real_or(42, std::f64::consts::TAU),
    };
    g.give_back(scanner);
    let common = scanner.common_of(Opens::Ellipse, start, &opened);
    Ok(Entity { common, kind: Kind::Ellipse(add(&mut scanner.raw.ellipses, ellipse)) })
}

/// A radius; 0 is a degenerate circle that draws a dot, a negative one has no meaning.
fn checked_radius(radius: f64, start: Start<'_>) -> Result<f64, Fault> {
    start.needs([(40, radius)])?;
    if radius < 0.0 {
        let message = format!("the radius is {radius}, expected a positive number");
        return Err(Fault { line: start.line, offset: start.offset, message });
    }
    Ok(radius)
}
