//! LINE, CIRCLE, ARC and ELLIPSE.

use super::{Groups, wanted};
use crate::dxf::raw::{Ellipse, Kind};
use crate::dxf::tags::Fault;

/// Groups of a LINE.
pub(super) const LINE: u128 = wanted(&[10, 20, 30, 11, 21, 31]);
/// Groups of a CIRCLE.
pub(super) const CIRCLE: u128 = wanted(&[10, 20, 30, 40]);
/// Groups of an ARC.
pub(super) const ARC: u128 = wanted(&[10, 20, 30, 40, 50, 51]);
/// Groups of an ELLIPSE.
pub(super) const ELLIPSE: u128 = wanted(&[10, 20, 30, 11, 21, 31, 40, 41, 42]);

pub(super) fn line<'a>(g: &Groups<'a>) -> Result<Option<Kind<'a>>, Fault> {
    Ok(Some(Kind::Line { from: g.needed_point(10)?, to: g.needed_point(11)? }))
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
