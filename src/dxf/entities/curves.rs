//! LINE, CIRCLE, ARC and ELLIPSE.

use std::cell::Cell;

use super::{Gathered, Groups, wanted};
use crate::dxf::raw::{Ellipse, Entity, Kind};
use crate::dxf::scan::Scanner;
use crate::dxf::tags::{Fault, RUN_CODES, Run, Start, Tags};
use crate::geometry::Vec3;

/// Groups of a CIRCLE.
pub(super) const CIRCLE: u128 = wanted(&[10, 20, 30, 40]);
/// Groups of an ARC.
pub(super) const ARC: u128 = wanted(&[10, 20, 30, 40, 50, 51]);
/// Groups of an ELLIPSE.
pub(super) const ELLIPSE: u128 = wanted(&[10, 20, 30, 11, 21, 31, 40, 41, 42]);

/// Reads a LINE. Lines are most of what a drawing holds, so they do without the list of groups.
pub(super) fn line<'a, T: Tags<'a>>(
    scanner: &mut Scanner<'a, T>,
    start: Start<'a>,
) -> Result<Entity<'a>, Fault> {
    let mut gathered = Gathered::default();
    let ends = [const { Cell::new(f64::NAN) }; RUN_CODES];
    ends[30].set(0.0);
    ends[31].set(0.0);
    let run = Run { after: 10, codes: [20, 30, 11, 21, 31], into: &ends };
    scanner.walk.groups_with_run(run, |tag| {
        match tag.code {
            10 | 11 | 20 | 21 | 30 | 31 => ends[tag.code as usize].set(tag.real()?),
            101 => return Ok(false),
            _ => {
                gathered.take(tag)?;
            }
        }
        Ok(true)
    })?;
    let [x1, y1, z1, x2, y2, z2] =
        [&ends[10], &ends[20], &ends[30], &ends[11], &ends[21], &ends[31]].map(Cell::get);
    start.needs([(10, x1), (20, y1), (11, x2), (21, y2)])?;
    let (from, to) = (Vec3::new(x1, y1, z1), Vec3::new(x2, y2, z2));
    let common = scanner.common(start, &gathered);
    Ok(Entity { common, kind: Kind::Line { from, to } })
}

pub(super) fn circle<'a>(g: &Groups<'a>) -> Result<Option<Kind<'a>>, Fault> {
    Ok(Some(Kind::Circle { center: g.needed_point(10)?, radius: radius(g)? }))
}

pub(super) fn arc<'a>(g: &Groups<'a>) -> Result<Option<Kind<'a>>, Fault> {
    Ok(Some(Kind::Arc {
        center: g.needed_point(10)?,
        radius: radius(g)?,
        start_deg: g.needed_real(50)?,
        end_deg: g.needed_real(51)?,
    }))
}

pub(super) fn ellipse<'a>(g: &Groups<'a>) -> Result<Option<Kind<'a>>, Fault> {
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
