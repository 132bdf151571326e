//! INSERT with the ATTRIB entities that follow it.

use super::{Codes, Groups, Opens, text, wanted};
use crate::dxf::raw::{Entity, Kind, RawInsert, add};
use crate::dxf::scan::{Keyword, Scanner};
use crate::dxf::tags::{Fault, Start, Tags};
use crate::geometry::Vec3;

static INSERT: Codes = wanted(&[2, 10, 20, 30, 41, 42, 43, 44, 45, 50, 66, 70, 71]);

pub(super) fn read<'a, T: Tags<'a>>(scanner: &mut Scanner<'a, T>, start: Start<'a>) -> Result<Entity, Fault> {
    let groups = Groups::read(scanner, Opens::Insert, start, &INSERT);
    // The attributes are read even if the INSERT has a fault: they are its texts, not loose ones.
    let attributes = attributes(scanner);
    let (opened, g) = groups?;
    let insert = RawInsert {
        block: g.text(2).trim_ascii(),
        at: g.needed_point(10)?,
        scale: Vec3::new(g.real_or(41, 1.0), g.real_or(42, 1.0), g.real_or(43, 1.0)),
        rotation_deg: g.real_or(50, 0.0),
        columns: g.int_or(70, 1).max(1),
        rows: g.int_or(71, 1).max(1),
        column_spacing: g.real_or(44, 0.0),
        row_spacing: g.real_or(45, 0.0),
        attributes,
    };
    g.give_back(scanner);
    let common = scanner.common_of(Opens::Insert, start, &opened);
    Ok(Entity { common, kind: Kind::Insert(add(&mut scanner.raw.inserts, insert)) })
}

/// Reads ATTRIB entities up to SEQEND, or up to something else where it is missing.
fn attributes<'a, T: Tags<'a>>(scanner: &mut Scanner<'a, T>) -> std::ops::Range<usize> {
    let first = scanner.raw.attributes.len();
    while let Some(start) = scanner.walk.start() {
        let name = Keyword::new(start.name);
        match name.as_bytes() {
            b"ATTRIB" => match text::read(scanner, start, b"ATTRIB") {
                Ok(Some(attribute)) => scanner.raw.attributes.push(attribute),
                Ok(None) => {}
                Err(fault) => scanner.entity_fault(b"ATTRIB", fault),
            },
            b"SEQEND" => break,
            _ => {
                scanner.walk.put_back(start);
                break;
            }
        }
    }
    first..scanner.raw.attributes.len()
}
