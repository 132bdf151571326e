//! LEADER and MULTILEADER.

use super::{Gathered, Opens};
use crate::dxf::bounds::MAX_VERTICES;
use crate::dxf::raw::{Chunks, Entity, Kind, RawLeader, RawMultiLeader, add};
use crate::dxf::scan::Scanner;
use crate::dxf::tags::{Fault, Quick, Start, Tag, Tags};
use crate::geometry::Vec3;

pub(super) fn plain<'a, T: Tags<'a>>(
    scanner: &mut Scanner<'a, T>,
    start: Start<'a>,
) -> Result<Option<Entity>, Fault> {
    let mut opened = scanner.open(Opens::Leader);
    let mut leader = RawLeader::default();
    scanner.walk.groups(|tag, quick| {
        match tag.code {
            10 => {
                push_point(&mut leader.vertices, &tag)?;
                if let (Some(point), Some([y, z])) = (leader.vertices.last_mut(), quick.run([20, 30])) {
                    (point.y, point.z) = (y, z);
                }
            }
            20 | 30 => set_part(leader.vertices.last_mut(), &tag)?,
            340 => leader.annotation = tag.handle(),
            _ => opened.take(tag)?,
        }
        Ok(true)
    })?;
    drop_spurious_origin(&mut leader.vertices);
    let common = scanner.common_of(Opens::Leader, start, &opened);
    let shown = !leader.vertices.is_empty();
    Ok(shown.then(|| Entity { common, kind: Kind::Leader(add(&mut scanner.raw.leaders, leader)) }))
}

/// Some exporters add a vertex at the very origin behind the real ones. The tip stays in any case: a hole may lie at
/// the origin.
fn drop_spurious_origin(vertices: &mut Vec<Vec3>) {
    if vertices.len() < 3 {
        return;
    }
    let tip = vertices[0];
    vertices.retain({
        let mut first = true;
        move |v| std::mem::take(&mut first) || *v != Vec3::ZERO
    });
    if vertices.len() < 2 {
        vertices.push(tip);
    }
}

/// Where in the nested data of a MULTILEADER a group stands.
#[derive(Debug, Clone, Copy, PartialEq)]
enum Place {
    Outside,
    Context,
    Leader,
    Line,
}

pub(super) fn multi<'a, T: Tags<'a>>(
    scanner: &mut Scanner<'a, T>,
    start: Start<'a>,
) -> Result<Option<Entity>, Fault> {
    let mut gathered = Gathered::default();
    let mut reader = MultiReader::default();
    while let Some(tag) = scanner.walk.group() {
        if tag.code >= 1000 {
            continue;
        }
        match reader.place {
            Place::Outside => match tag.code {
                300 if tag.name().starts_with(b"CONTEXT_DATA") => reader.place = Place::Context,
                302 => reader.out.attributes.push(tag.text()),
                _ => {
                    gathered.take(tag)?;
                }
            },
            Place::Context => reader.context(&tag)?,
            Place::Leader => reader.leader(&tag)?,
            Place::Line => reader.line(&tag)?,
        }
    }
    let mut out = reader.out;
    if out.along == Vec3::ZERO {
        out.along = Vec3::new(1.0, 0.0, 0.0);
    }
    gathered.normal = None;
    let common = scanner.common(start, &gathered);
    Ok(Some(Entity { common, kind: Kind::MultiLeader(add(&mut scanner.raw.multi_leaders, out)) }))
}

struct MultiReader<'a> {
    place: Place,
    out: RawMultiLeader<'a>,
    has_text: bool,
    /// Arms of the leader that is open, and the point where it meets the text.
    open_arms: Vec<Vec<Vec3>>,
    landing: Option<Vec3>,
}

impl Default for MultiReader<'_> {
    fn default() -> Self {
        MultiReader {
            place: Place::Outside,
            out: RawMultiLeader::default(),
            has_text: false,
            open_arms: Vec::new(),
            landing: None,
        }
    }
}

impl<'a> MultiReader<'a> {
    fn context(&mut self, tag: &Tag<'a>) -> Result<(), Fault> {
        match tag.code {
            302 if tag.name().starts_with(b"LEADER") => self.place = Place::Leader,
            301 if tag.name().starts_with(b"}") => self.place = Place::Outside,
            290 => self.has_text = tag.int()? != 0,
            304 => self.out.text = Some(Chunks::one(tag.text())),
            41 => self.out.height = tag.real()?,
            12 => self.out.text_at.x = tag.real()?,
            22 => self.out.text_at.y = tag.real()?,
            32 => self.out.text_at.z = tag.real()?,
            13 => self.out.along.x = tag.real()?,
            23 => self.out.along.y = tag.real()?,
            33 => self.out.along.z = tag.real()?,
            340 => self.out.style = tag.handle(),
            341 => self.out.block_record = tag.handle(),
            15 => self.out.block_at.x = tag.real()?,
            25 => self.out.block_at.y = tag.real()?,
            35 => self.out.block_at.z = tag.real()?,
            _ => {}
        }
        Ok(())
    }

    fn leader(&mut self, tag: &Tag<'a>) -> Result<(), Fault> {
        match tag.code {
            304 if tag.name().starts_with(b"LEADER_LINE") => {
                self.place = Place::Line;
                self.open_arms.push(Vec::new());
            }
            303 if tag.name().starts_with(b"}") => {
                self.place = Place::Context;
                let landing = self.landing.take();
                for mut arm in self.open_arms.drain(..) {
                    arm.extend(landing);
                    if !arm.is_empty() {
                        self.out.arms.push(arm);
                    }
                }
            }
            10 => self.landing = Some(Vec3::new(tag.real()?, 0.0, 0.0)),
            20 | 30 => set_part(self.landing.as_mut(), tag)?,
            _ => {}
        }
        Ok(())
    }

    fn line(&mut self, tag: &Tag<'a>) -> Result<(), Fault> {
        let arm = self.open_arms.last_mut();
        match (tag.code, arm) {
            (305, _) if tag.name().starts_with(b"}") => self.place = Place::Leader,
            (10, Some(arm)) => push_point(arm, tag)?,
            (20 | 30, Some(arm)) => set_part(arm.last_mut(), tag)?,
            _ => {}
        }
        Ok(())
    }
}

fn push_point(points: &mut Vec<Vec3>, tag: &Tag<'_>) -> Result<(), Fault> {
    if points.len() >= MAX_VERTICES {
        return Err(tag.fault(&format!("at most {MAX_VERTICES} vertices")));
    }
    points.push(Vec3::new(tag.real()?, 0.0, 0.0));
    Ok(())
}

/// Sets y (20) or z (30) of a point.
fn set_part(point: Option<&mut Vec3>, tag: &Tag<'_>) -> Result<(), Fault> {
    let value = tag.real()?;
    if let Some(point) = point {
        if tag.code == 20 {
            point.y = value;
        } else {
            point.z = value;
        }
    }
    Ok(())
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_vertex_at_the_origin_goes_unless_it_is_the_tip() {
        let p = |x: f64, y: f64| Vec3::new(x, y, 0.0);
        let mut behind = vec![p(5.0, 5.0), p(9.0, 9.0), p(0.0, 0.0)];
        drop_spurious_origin(&mut behind);
        assert_eq!(behind, [p(5.0, 5.0), p(9.0, 9.0)]);
        let mut tip = vec![p(0.0, 0.0), p(9.0, 9.0), p(12.0, 9.0)];
        drop_spurious_origin(&mut tip);
        assert_eq!(tip.len(), 3);
        let mut two = vec![p(5.0, 5.0), p(0.0, 0.0)];
        drop_spurious_origin(&mut two);
        assert_eq!(two.len(), 2);
    }
}
