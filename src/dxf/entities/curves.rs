//! LINE, CIRCLE, ARC and ELLIPSE.

use std::cell::Cell;

use super::{Gathered, Groups, wanted};
use crate::dxf::raw::{Ellipse, Entity, Kind, Raw, RawArc};
use crate::dxf::scan::Scanner;
use crate::dxf::tags::{Fault, Run, Start, Tags};
use crate::geometry::{Point, Vec3};

/// Groups of a CIRCLE.
pub(super) const CIRCLE: u128 = wanted(&[10, 20, 30, 40]);
/// Groups of an ARC.
pub(super) const ARC: u128 = wanted(&[10, 20, 30, 40, 50, 51]);
/// Groups of an ELLIPSE.
pub(super) const ELLIPSE: u128 = wanted(&[10, 20, 30, 11, 21, 31, 40, 41, 42]);

/// Reads a LINE. Lines are most of what a drawing holds, so they do without the list of groups.
#[inline]
pub(in crate::dxf) fn line<'a, T: Tags<'a>>(
    scanner: &mut Scanner<'a, T>,
    start: Start<'a>,
) -> Result<Entity<'a>, Fault> {
    let mut gathered = Gathered::default();
    let x1 = Cell::new(f64::NAN);
    let rest = [f64::NAN, 0.0, f64::NAN, f64::NAN, 0.0].map(Cell::new);
    let [y1, z1, x2, y2, z2] = &rest;
    let run = Run { after: 10, codes: [20, 30, 11, 21, 31], into: &rest };
    scanner.walk.groups_with_run(run, |tag| {
        let number = match tag.code {
            10 => &x1,
            20 => y1,
            30 => z1,
            11 => x2,
            21 => y2,
            31 => z2,
            101 => return Ok(false),
            _ => {
                gathered.take(tag)?;
                return Ok(true);
            }
        };
        number.set(tag.real()?);
        Ok(true)
    })?;
    let [x1, y1, z1, x2, y2, z2] = [&x1, y1, z1, x2, y2, z2].map(Cell::get);
    start.needs([(10, x1), (20, y1), (11, x2), (21, y2)])?;
    let kind = if z1.to_bits() | z2.to_bits() == 0 {
        Kind::Line { from: Point::new(x1, y1), to: Point::new(x2, y2) }
    } else {
        scanner.raw.spatial_lines.push([Vec3::new(x1, y1, z1), Vec3::new(x2, y2, z2)]);
        Kind::SpatialLine((scanner.raw.spatial_lines.len() - 1) as u32)
    };
    let common = scanner.common(start, &gathered);
    Ok(Entity { common, kind })
}

pub(super) fn circle<'a>(g: &Groups<'a>, _: &mut Raw<'a>) -> Result<Option<Kind<'a>>, Fault> {
    Ok(Some(Kind::Circle { center: g.needed_point(10)?, radius: radius(g)? }))
}

pub(super) fn arc<'a>(g: &Groups<'a>, raw: &mut Raw<'a>) -> Result<Option<Kind<'a>>, Fault> {
    raw.arcs.push(RawArc {
        center: g.needed_point(10)?,
        radius: radius(g)?,
        start_deg: g.needed_real(50)?,
        end_deg: g.needed_real(51)?,
    });
    Ok(Some(Kind::Arc((raw.arcs.len() - 1) as u32)))
}

pub(super) fn ellipse<'a>(g: &Groups<'a>, _: &mut Raw<'a>) -> Result<Option<Kind<'a>>, Fault> {
    Ok(Some(Kind::Ellipse(Box::new(Ellipse {
        center: g.needed_point(10)?,
        major: g.needed_point(11)?,
        ratio: g.needed_real(40)?,
        start: g.real_or(41, 0.0),
        end: g.real_or(42, std::f64::consts::TAU),
    }))))
}

/// A radius; 0 is a degenerate circle that draws a dot, a negative one has no meaning.
fn radius(g: &Groups<'_>) -> Result<f64, Fault> {
    let radius = g.needed_real(40)?;
    if radius < 0.0 {
        return Err(g.fault(format!("the radius is {radius}, expected a positive number")));
    }
    Ok(radius)
}
