//! VIEWPORT, with the view that R12 keeps in extended data.

use super::{Gathered, Groups, wanted};
use crate::dxf::raw::{Entity, Kind, RawViewport};
use crate::dxf::scan::Scanner;
use crate::dxf::tags::{Fault, Start, Tags};
use crate::geometry::Vec3;

const VIEWPORT: u128 = wanted(&[10, 20, 30, 12, 22, 17, 27, 37, 40, 41, 45, 51, 68, 69]);

pub(super) fn read<'a, T: Tags<'a>>(
    scanner: &mut Scanner<'a, T>,
    start: Start<'a>,
) -> Result<Option<Entity<'a>>, Fault> {
    let mut gathered = Gathered::default();
    let mut g = Groups::new(scanner, start);
    let mut old = OldView::default();
    while let Some(tag) = scanner.walk.group() {
        match tag.code {
            1010 => old.points.push(Vec3::new(tag.real()?, 0.0, 0.0)),
            1020 | 1030 => {
                if let Some(p) = old.points.last_mut() {
                    let v = tag.real()?;
                    if tag.code == 1020 {
                        p.y = v;
                    } else {
                        p.z = v;
                    }
                }
            }
            1040 => old.reals.push(tag.real()?),
            _ => g.take(&tag, VIEWPORT, &mut gathered)?,
        }
    }
    let mut view = RawViewport {
        center: g.needed_point(10)?,
        width: g.needed_real(40)?,
        height: g.needed_real(41)?,
        view_center: g.point(12),
        target: g.point(17),
        view_height: g.real_or(45, 0.0),
        twist_deg: g.real_or(51, 0.0),
        id: g.int_or(69, 2),
        status: g.int_or(68, 1),
    };
    if !g.has(45) {
        old.fill(&mut view);
    }
    gathered.on_paper = true;
    let common = scanner.common(start, &gathered);
    Ok(Some(Entity { common, kind: Kind::Viewport(Box::new(view)) }))
}

/// The extended data MVIEW of R12: target and direction, then twist, height and centre of the view.
#[derive(Debug, Default)]
struct OldView {
    points: Vec<Vec3>,
    reals: Vec<f64>,
}

impl OldView {
    fn fill(&self, view: &mut RawViewport) {
        if let Some(target) = self.points.first() {
            view.target = *target;
        }
        if let [twist, height, x, y, ..] = self.reals[..] {
            view.twist_deg = twist;
            view.view_height = height;
            view.view_center = Vec3::new(x, y, 0.0);
        }
    }
}
