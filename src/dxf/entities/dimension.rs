//! DIMENSION of all kinds, with the style overrides of its extended data. R12 dimensions have no subclass markers,
//! so the type number alone says what it measures.

use super::{Codes, Groups, Opens, wanted};
use crate::drawing::DimensionKind;
use crate::dxf::raw::{Entity, Kind, RawDimension, StyleValues, add};
use crate::dxf::scan::Scanner;
use crate::dxf::tags::{Fault, Start, Tag, Tags};
use crate::geometry::Vec3;

const DIMENSION: Codes =
    wanted(&[1, 2, 3, 10, 20, 30, 11, 21, 31, 13, 23, 33, 14, 24, 34, 15, 25, 35, 16, 26, 36, 50, 51, 70]);
/// Those of a LARGE_RADIAL_DIMENSION.
static LARGE: Codes = {
    let mut codes = DIMENSION;
    codes[42] = true;
    codes
};

pub(super) fn read<'a, T: Tags<'a>>(
    scanner: &mut Scanner<'a, T>,
    start: Start<'a>,
    name: &[u8],
) -> Result<Option<Entity>, Fault> {
    let mut opened = scanner.open(Opens::Dimension);
    let mut g = Groups::new(scanner, start);
    let mut extended = StyleOverrides::default();
    let large = name == b"LARGE_RADIAL_DIMENSION";
    // The stored measurement is often wrong, so that it is read only where nothing else can decide.
    let wants = if large { &LARGE } else { &DIMENSION };
    scanner.walk.groups(|tag, quick| {
        if tag.code >= 1000 {
            extended.take(&tag)?;
        } else {
            g.take_with_point(tag, quick, wants, &mut opened)?;
        }
        Ok(true)
    })?;
    let type_bits = g.int_or(70, 0);
    let kind = match name {
        b"LARGE_RADIAL_DIMENSION" => DimensionKind::Radius,
        b"ARC_DIMENSION" => DimensionKind::ArcLength,
        _ => match type_bits & 7 {
            0 => DimensionKind::Linear,
            1 => DimensionKind::Aligned,
            2 | 5 => DimensionKind::Angular,
            3 => DimensionKind::Diameter,
            4 => DimensionKind::Radius,
            6 => DimensionKind::Ordinate,
            other => return Err(g.fault(format!("dimension type {other}, expected 0 to 6"))),
        },
    };
    let dimension = RawDimension {
        kind,
        type_bits,
        p10: g.needed_point(10)?,
        p13: g.point(13),
        p14: g.point(14),
        p15: if large { chord_point(&g) } else { g.point(15) },
        p16: g.point(16),
        text_at: (g.has(11) && g.has(21)).then(|| g.point(11)),
        rotation_deg: g.real_or(50, 0.0),
        horizontal_deg: g.real_or(51, 0.0),
        text: g.text(1),
        block: g.text(2).trim_ascii(),
        style: g.text(3).trim_ascii(),
        overrides: extended.values,
    };
    g.give_back(scanner);
    let common = scanner.common_of(Opens::Dimension, start, &opened);
    Ok(Some(Entity { common, kind: Kind::Dimension(add(&mut scanner.raw.dimensions, dimension)) }))
}

/// The point on the arc of a LARGE_RADIAL_DIMENSION. The entity is not published: one library takes it from group 13,
/// another from group 15 as in other radius dimensions. The stored measurement tells which, where it fits one of them.
fn chord_point(g: &Groups<'_>) -> Vec3 {
    let center = g.point(10);
    let stored = g.real_or(42, 0.0);
    let fits = |p: Vec3| (p.minus(center).length() - stored).abs() <= 1e-4 * stored;
    if g.has(15) && (fits(g.point(15)) || !g.has(13)) { g.point(15) } else { g.point(13) }
}

/// The list DSTYLE in the extended data of ACAD: pairs of a style group and its value.
#[derive(Debug, Default)]
struct StyleOverrides<'a> {
    values: StyleValues<'a>,
    in_list: bool,
    group: Option<i32>,
}

impl<'a> StyleOverrides<'a> {
    fn take(&mut self, tag: &Tag<'a>) -> Result<(), Fault> {
        match (tag.code, self.group) {
            (1000, None) if tag.name().eq_ignore_ascii_case(b"DSTYLE") => self.in_list = true,
            (1001, _) => self.in_list = false,
            (1002, _) => {
                self.group = None;
                self.in_list &= !tag.name().starts_with(b"}");
            }
            (1070, None) if self.in_list => self.group = i32::try_from(tag.int()?).ok(),
            (_, Some(group)) => {
                self.group = None;
                self.values.take(&Tag { code: group, ..*tag })?;
            }
            _ => {}
        }
        Ok(())
    }
}
