//! VIEWPORT, with the view that R12 keeps in extended data.

use super::{Codes, Groups, Opened, wanted};
use crate::dxf::raw::{Entity, Kind, LayerIndex, RawViewport, add};
use crate::dxf::scan::Scanner;
use crate::dxf::tags::{Fault, Start, Tag, Tags};
use crate::geometry::Vec3;

static VIEWPORT: Codes = wanted(&[10, 20, 30, 12, 22, 16, 26, 36, 17, 27, 37, 40, 41, 45, 51, 68, 69]);

/// Flag bits of group 90.
const PERSPECTIVE: i64 = 0x1;
const OFF: i64 = 0x2_0000;

pub(super) fn read<'a, T: Tags<'a>>(
    scanner: &mut Scanner<'a, T>,
    start: Start<'a>,
) -> Result<Option<Entity>, Fault> {
    let mut opened = Opened::default();
    let mut g = Groups::new(scanner, start);
    let mut old = OldView::default();
    let (mut flags, mut clip, mut frozen_handles) = (0, None, Vec::new());
    while let Some(tag) = scanner.walk.group() {
        match tag.code {
            90 => flags = tag.int()?,
            331 | 341 => frozen_handles.extend(tag.handle().filter(|handle| *handle != 0)),
            340 => clip = tag.handle().filter(|handle| *handle != 0),
            1003 => old.frozen.push(scanner.layer(tag.name())),
            1000.. => old.take(&tag)?,
            _ => g.take(tag, &VIEWPORT, &mut opened)?,
        }
    }
    let mut view = RawViewport {
        center: g.needed_point(10)?,
        width: g.needed_real(40)?,
        height: g.needed_real(41)?,
        view_center: g.point(12),
        target: g.point(17),
        direction: if g.has(36) { g.point(16) } else { Vec3::UP },
        perspective: flags & PERSPECTIVE != 0,
        view_height: g.real_or(45, 0.0),
        twist_deg: g.real_or(51, 0.0),
        id: g.int_or(69, 2),
        off: flags & OFF != 0 || g.int_or(68, 1) == 0,
        clip,
        frozen_handles,
        frozen: Vec::new(),
    };
    if !g.has(45) {
        old.fill(&mut view);
    }
    opened.gathered.on_paper = true;
    let common = scanner.common(start, &opened.gathered);
    Ok(Some(Entity { common, kind: Kind::Viewport(add(&mut scanner.raw.viewports, view)) }))
}

/// The extended data MVIEW of R12: target and direction, then twist, height and centre of the view, and the names of
/// the layers frozen in it.
#[derive(Debug, Default)]
struct OldView {
    points: Vec<Vec3>,
    reals: Vec<f64>,
    frozen: Vec<LayerIndex>,
}

/// The turn in degrees. Another library writes it so, while extended data of old programs keep angles in radians, and
/// no real drawing at hand has a turn. Views are turned by whole degrees, so a number that is whole in one of the two is taken in that.
fn turn(written: f64) -> f64 {
    let whole = |deg: f64| (deg - deg.round()).abs() < 1e-4;
    let radians = written.abs() <= std::f64::consts::TAU && !whole(written) && whole(written.to_degrees());
    if radians { written.to_degrees() } else { written }
}

impl OldView {
    fn take(&mut self, tag: &Tag<'_>) -> Result<(), Fault> {
        match tag.code {
            1010 => self.points.push(Vec3::new(tag.real()?, 0.0, 0.0)),
            1020 | 1030 => {
                if let Some(p) = self.points.last_mut() {
                    let v = tag.real()?;
                    if tag.code == 1020 {
                        p.y = v;
                    } else {
                        p.z = v;
                    }
                }
            }
            1040 => self.reals.push(tag.real()?),
            _ => {}
        }
        Ok(())
    }

    fn fill(self, view: &mut RawViewport) {
        if let [target, direction, ..] = self.points[..] {
            (view.target, view.direction) = (target, direction);
        }
        if let [twist, height, x, y, ..] = self.reals[..] {
            view.twist_deg = turn(twist);
            view.view_height = height;
            view.view_center = Vec3::new(x, y, 0.0);
        }
        view.frozen = self.frozen;
    }
}
