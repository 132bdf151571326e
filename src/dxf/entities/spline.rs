//! SPLINE, as far as it may be a circle: one with more points than any exporter writes for a circle is passed over.

use super::Gathered;
use crate::dxf::bounds::{MAX_SPLINE_DEGREE, MAX_SPLINE_POINTS};
use crate::dxf::raw::{Entity, Kind, Spline};
use crate::dxf::scan::Scanner;
use crate::dxf::tags::{Fault, Start, Tags};
use crate::geometry::Vec3;

pub(super) fn read<'a, T: Tags<'a>>(
    scanner: &mut Scanner<'a, T>,
    start: Start<'a>,
) -> Result<Option<Entity<'a>>, Fault> {
    let mut gathered = Gathered::default();
    let mut spline = Spline::default();
    while let Some(tag) = scanner.walk.group() {
        match tag.code {
            71 => spline.degree = usize::try_from(tag.int()?).unwrap_or(0),
            40 => spline.knots.push(tag.real()?),
            41 => spline.weights.push(tag.real()?),
            10 => spline.control.push(Vec3::new(tag.real()?, 0.0, 0.0)),
            11 => spline.fit.push(Vec3::new(tag.real()?, 0.0, 0.0)),
            20 | 30 | 21 | 31 => {
                let value = tag.real()?;
                let points = match tag.code % 10 {
                    0 => &mut spline.control,
                    _ => &mut spline.fit,
                };
                if let Some(point) = points.last_mut() {
                    if tag.code < 30 {
                        point.y = value;
                    } else {
                        point.z = value;
                    }
                }
            }
            _ => {
                gathered.take(&tag)?;
            }
        }
        if spline.control.len() > MAX_SPLINE_POINTS || spline.fit.len() > MAX_SPLINE_POINTS {
            return Ok(None);
        }
    }
    if spline.degree > MAX_SPLINE_DEGREE {
        return Ok(None);
    }
    // A spline is in the coordinates of its block; its extrusion direction only states its plane.
    gathered.normal = None;
    let common = scanner.common(start, &gathered);
    Ok(Some(Entity { common, kind: Kind::Spline(Box::new(spline)) }))
}
