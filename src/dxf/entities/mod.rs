//! Entities from their groups: one small function for each kind, which takes the groups it needs, each once.
//! Coordinates stay those of the entity; nothing is placed here.

mod curves;
mod dimension;
mod groups;
mod insert;
mod leader;
mod opens;
mod polyline;
mod spline;
mod table;
mod text;
mod viewport;

pub(super) use curves::{line, lines};
use groups::{Codes, wanted};
pub(super) use groups::{Gathered, Groups};
pub(super) use opens::{MOST_ALIKE, Openings};
use opens::{Opened, Opens};

use super::raw::Entity;
use super::scan::Scanner;
use super::tags::{Fault, Start, Tags};

/// Entities that are read.
const READ: &[&[u8]] = &[
    b"3DLINE",
    b"ACAD_TABLE",
    b"ARC",
    b"ARC_DIMENSION",
    b"ATTDEF",
    b"ATTRIB",
    b"CIRCLE",
    b"DIMENSION",
    b"ELLIPSE",
    b"INSERT",
    b"LARGE_RADIAL_DIMENSION",
    b"LEADER",
    b"LINE",
    b"LWPOLYLINE",
    b"MLEADER",
    b"MTEXT",
    b"MULTILEADER",
    b"POLYLINE",
    b"SPLINE",
    b"TEXT",
    b"TOLERANCE",
    b"VIEWPORT",
];

/// Entities that can neither hold nor explain a hole.
const PASSED_OVER: &[&[u8]] = &[
    b"3DFACE",
    b"GEOPOSITIONMARKER",
    b"HATCH",
    b"HELIX",
    b"LIGHT",
    b"MLINE",
    b"MPOLYGON",
    b"POINT",
    b"POINTCLOUD",
    b"POINTCLOUDEX",
    b"RAY",
    b"SECTION",
    b"SECTIONOBJECT",
    b"SEQEND",
    b"SHAPE",
    b"SOLID",
    b"SUN",
    b"TRACE",
    b"VERTEX",
    b"WIPEOUT",
    b"XLINE",
];

/// Why an entity that may show a hole, or the text of one, cannot be read, and what to do.
const SOLID: &str = "holes in solids and surfaces are not seen; draw the view as circles, arcs and lines";
const PROXY: &str = "what an object of another program shows is not seen; explode it, or save the drawing where that program is at hand";
const EMBEDDED: &str = "what is embedded from another program, a table or a drawing, is not seen";
const UNDERLAY: &str = "what stands in another file is not seen; check that drawing by itself";

/// Entities that may show a hole, or the text of one, in a form that is not read.
const UNSEEN: &[(&[u8], &str)] = &[
    (b"3DSOLID", SOLID),
    (b"ACAD_PROXY_ENTITY", PROXY),
    (b"ACIDBLOCKREFERENCE", PROXY),
    (b"BODY", SOLID),
    (b"COORDINATION_MODEL", UNDERLAY),
    (b"DGNUNDERLAY", UNDERLAY),
    (b"DWFUNDERLAY", UNDERLAY),
    (b"EXTRUDEDSURFACE", SOLID),
    (b"IMAGE", UNDERLAY),
    (b"LOFTEDSURFACE", SOLID),
    (b"MESH", SOLID),
    (b"OLE2FRAME", EMBEDDED),
    (b"OLEFRAME", EMBEDDED),
    (b"PDFUNDERLAY", UNDERLAY),
    (b"PLANESURFACE", SOLID),
    (b"REGION", SOLID),
    (b"REVOLVEDSURFACE", SOLID),
    (b"SURFACE", SOLID),
    (b"SWEPTSURFACE", SOLID),
    (b"UNDERLAY", UNDERLAY),
];

fn unseen(name: &[u8]) -> Option<&'static str> {
    UNSEEN.iter().find(|(known, _)| *known == name).map(|(_, why)| *why)
}

/// Whether a name is that of an entity.
pub(super) fn is_known(name: &[u8]) -> bool {
    READ.contains(&name) || (PASSED_OVER.contains(&name) && name != b"SECTION") || unseen(name).is_some()
}

/// Reads the entity that `start` opened. None for one that is passed over.
pub(super) fn read<'a, T: Tags<'a>>(
    scanner: &mut Scanner<'a, T>,
    start: Start<'a>,
    name: &[u8],
) -> Result<Option<Entity>, Fault> {
    let entity = match name {
        b"LINE" | b"3DLINE" => Some(line(scanner, start)?),
        b"CIRCLE" => curves::circle(scanner, start)?,
        b"ARC" => Some(curves::arc(scanner, start)?),
        b"ELLIPSE" => curves::ellipse(scanner, start).map(Some)?,
        b"VIEWPORT" => viewport::read(scanner, start)?,
        b"LWPOLYLINE" => polyline::light(scanner, start)?,
        b"POLYLINE" => return polyline::heavy(scanner, start),
        b"SPLINE" => spline::read(scanner, start)?,
        b"TEXT" | b"ATTRIB" | b"ATTDEF" | b"MTEXT" | b"TOLERANCE" => text::read(scanner, start, name)?,
        b"INSERT" => return insert::read(scanner, start).map(Some),
        b"DIMENSION" | b"ARC_DIMENSION" | b"LARGE_RADIAL_DIMENSION" => dimension::read(scanner, start, name)?,
        b"LEADER" => leader::plain(scanner, start)?,
        b"MULTILEADER" | b"MLEADER" => leader::multi(scanner, start)?,
        b"ACAD_TABLE" => table::read(scanner, start)?,
        _ => {
            if !PASSED_OVER.contains(&name) {
                scanner.count_unread(start, unseen(name));
            }
            None
        }
    };
    Ok(entity)
}
