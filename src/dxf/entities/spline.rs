//! SPLINE, as far as it may be a circle. One that is open, or has more points than any exporter writes for a circle,
//! is passed over with its coordinates unread: it is no hole.

use super::Gathered;
use crate::dxf::bounds::{MAX_SPLINE_DEGREE, MAX_SPLINE_POINTS};
use crate::dxf::raw::{Entity, Kind, Spline};
use crate::dxf::scan::Scanner;
use crate::dxf::tags::{Fault, Start, Tag, Tags};
use crate::geometry::Vec3;

/// Flag bits: closed, periodic.
const CLOSED_OR_PERIODIC: i64 = 1 | 2;

/// Fewest control points of a full circle (degree 5, one piece).
const FEWEST_CONTROL_POINTS: i64 = 6;

/// Pairs of a spline with the most points: coordinates, weight and knots of each, and the knots beyond.
const MOST_PAIRS: usize = MAX_SPLINE_POINTS * 5 + MAX_SPLINE_DEGREE + 1;

pub(super) fn read<'a, T: Tags<'a>>(
    scanner: &mut Scanner<'a, T>,
    start: Start<'a>,
) -> Result<Option<Entity<'a>>, Fault> {
    let mut pairs = std::mem::take(&mut scanner.spare_pairs);
    pairs.clear();
    let read = gather(scanner, &mut pairs);
    let entity = read.and_then(|gathered| match gathered {
        Some((gathered, flags, degree)) if may_close(flags, &pairs)? => {
            let spline = spline(degree, &pairs)?;
            let common = scanner.common(start, &gathered);
            Ok(Some(Entity { common, kind: Kind::Spline(Box::new(spline)) }))
        }
        _ => Ok(None),
    });
    scanner.spare_pairs = pairs;
    entity
}

/// Gathers the pairs that state the curve; flags and degree. None where it cannot be a circle.
fn gather<'a, T: Tags<'a>>(
    scanner: &mut Scanner<'a, T>,
    pairs: &mut Vec<Tag<'a>>,
) -> Result<Option<(Gathered<'a>, i64, usize)>, Fault> {
    let mut gathered = Gathered::default();
    let (mut flags, mut degree, mut control, mut fit) = (0, 0, None, None);
    while let Some(tag) = scanner.walk.group() {
        match tag.code {
            10 | 20 | 30 | 11 | 21 | 31 | 40 | 41 => {
                let few = control.is_some_and(|n| n < FEWEST_CONTROL_POINTS) && fit == Some(0);
                if few || pairs.len() >= MOST_PAIRS {
                    return Ok(None);
                }
                pairs.push(tag);
            }
            70 => flags = tag.int()?,
            71 => degree = tag.int()?,
            73 => control = tag.int().ok(),
            74 => fit = tag.int().ok(),
            _ => {
                gathered.take(&tag)?;
            }
        }
    }
    // A spline is in the coordinates of its block; its extrusion direction only states its plane.
    gathered.normal = None;
    let degree = usize::try_from(degree).unwrap_or(0);
    Ok((degree <= MAX_SPLINE_DEGREE).then_some((gathered, flags, degree)))
}

/// Whether a spline says that it is closed, or at least ends near its start.
fn may_close(flags: i64, pairs: &[Tag<'_>]) -> Result<bool, Fault> {
    if flags & CLOSED_OR_PERIODIC != 0 {
        return Ok(true);
    }
    for (x, y) in [(10, 20), (11, 21)] {
        let ends = |code| {
            let mut same = pairs.iter().filter(move |tag| tag.code == code);
            let first = same.next();
            (first, same.next_back().or(first))
        };
        if let ((Some(x0), Some(x1)), (Some(y0), Some(y1))) = (ends(x), ends(y)) {
            let (x0, x1, y0, y1) = (x0.real()?, x1.real()?, y0.real()?, y1.real()?);
            let size = x0.abs().max(x1.abs()).max(y0.abs()).max(y1.abs());
            let apart = (x0 - x1).abs().max((y0 - y1).abs());
            return Ok(apart <= 1e-6 + 1e-3 * size);
        }
    }
    Ok(false)
}

fn spline(degree: usize, pairs: &[Tag<'_>]) -> Result<Spline, Fault> {
    let mut spline = Spline { degree, ..Spline::default() };
    for tag in pairs {
        let value = tag.real()?;
        match tag.code {
            40 => spline.knots.push(value),
            41 => spline.weights.push(value),
            10 => spline.control.push(Vec3::new(value, 0.0, 0.0)),
            11 => spline.fit.push(Vec3::new(value, 0.0, 0.0)),
            code => {
                let points = match code % 10 {
                    0 => &mut spline.control,
                    _ => &mut spline.fit,
                };
                if let Some(point) = points.last_mut() {
                    if code < 30 {
                        point.y = value;
                    } else {
                        point.z = value;
                    }
                }
            }
        }
    }
    Ok(spline)
}
