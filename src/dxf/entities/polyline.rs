//! LWPOLYLINE, and POLYLINE with its VERTEX entities.

use super::{Codes, Groups, Opened, Opens, wanted};
use crate::dxf::bounds::MAX_VERTICES;
use crate::dxf::raw::{Entity, Kind, Polyline, Vertex};
use crate::dxf::scan::{Keyword, Scanner};
use crate::dxf::tags::{Fault, Start, Tags, Walk};
use crate::geometry::Vec3;

const CLOSED: i64 = 1;
const SPATIAL: i64 = 8;
const MESH: i64 = 16;
const POLYFACE: i64 = 64;
/// Flag of a vertex that only steers a fitted curve.
const FRAME: i64 = 16;

static POLYLINE: Codes = wanted(&[30, 70]);

pub(super) fn light<'a, T: Tags<'a>>(
    scanner: &mut Scanner<'a, T>,
    start: Start<'a>,
) -> Result<Option<Entity>, Fault> {
    let mut opened = scanner.open(Opens::Polyline);
    let first = scanner.raw.vertices.len();
    let read = light_groups(scanner, &mut opened, first);
    let flags = match read {
        Ok(flags) => flags,
        Err(fault) => {
            scanner.raw.vertices.truncate(first);
            return Err(fault);
        }
    };
    let vertices = first..scanner.raw.vertices.len();
    let common = scanner.common_of(Opens::Polyline, start, &opened);
    Ok(Some(Entity {
        common,
        kind: Kind::Polyline(Polyline { vertices, closed: flags & CLOSED != 0, planar: true }),
    }))
}

/// Reads the groups of an LWPOLYLINE into the list of vertices; its flags.
fn light_groups<'a, T: Tags<'a>>(
    scanner: &mut Scanner<'a, T>,
    opened: &mut Opened<'a>,
    first: usize,
) -> Result<i64, Fault> {
    let (mut flags, mut elevation, mut claimed) = (0, 0.0, None);
    let vertices = &mut scanner.raw.vertices;
    let mut more = true;
    while std::mem::take(&mut more) {
        scanner.walk.groups(|tag, _| {
            match tag.code {
                10 => {
                    if vertices.len() - first >= MAX_VERTICES {
                        return Err(tag.fault(&format!("at most {MAX_VERTICES} vertices")));
                    }
                    let at = Vec3::new(tag.real()?, f64::NAN, elevation);
                    vertices.push(Vertex { at, bulge: 0.0 });
                }
                20 => {
                    let y = tag.real()?;
                    if let Some(vertex) = last_of(vertices, first) {
                        vertex.at.y = y;
                    }
                    more = true;
                    return Ok(false);
                }
                42 => {
                    let bulge = tag.real()?;
                    if let Some(vertex) = last_of(vertices, first) {
                        vertex.bulge = bulge;
                    }
                }
                38 => elevation = tag.real()?,
                70 => flags = tag.int()?,
                90 => claimed = tag.int().ok(),
                101 => return Ok(false),
                _ => opened.take(tag)?,
            }
            Ok(true)
        })?;
        if more {
            plain_vertices(&mut scanner.walk, vertices, first, elevation);
        }
    }
    check_vertices(scanner, first, claimed)?;
    Ok(flags)
}

/// Reads the vertices that follow with two coordinates and nothing else: most often all but the first.
fn plain_vertices<'a, T: Tags<'a>>(
    walk: &mut Walk<'a, T>,
    vertices: &mut Vec<Vertex>,
    first: usize,
    elevation: f64,
) {
    walk.runs([10, 20], |[x, y]| {
        let room = vertices.len() - first < MAX_VERTICES;
        if room {
            vertices.push(Vertex { at: Vec3::new(x, y, elevation), bulge: 0.0 });
        }
        room
    });
}

/// Every vertex has both coordinates, and a polyline at the very end of a cut file has all its vertices.
fn check_vertices<'a, T: Tags<'a>>(
    scanner: &Scanner<'a, T>,
    first: usize,
    claimed: Option<i64>,
) -> Result<(), Fault> {
    let vertices = &scanner.raw.vertices[first..];
    let cut = scanner.walk.ended()
        && claimed.is_some_and(|n| u64::try_from(n).unwrap_or(0) > vertices.len() as u64);
    let message = if cut {
        "the file ends before its last vertex"
    } else if vertices.iter().any(|v| v.at.y.is_nan()) {
        "a vertex has no group 20, expected a number"
    } else {
        return Ok(());
    };
    let (line, offset) = scanner.walk.place();
    Err(Fault { line, offset: offset as u64, message: message.to_owned() })
}

fn last_of(vertices: &mut [Vertex], first: usize) -> Option<&mut Vertex> {
    vertices.get_mut(first..)?.last_mut()
}

pub(super) fn heavy<'a, T: Tags<'a>>(
    scanner: &mut Scanner<'a, T>,
    start: Start<'a>,
) -> Result<Option<Entity>, Fault> {
    let first = scanner.raw.vertices.len();
    let header = Groups::read(scanner, Opens::Polyline, start, &POLYLINE);
    let vertices = heavy_vertices(scanner, first, start);
    let done = header.and_then(|(opened, g)| vertices.map(|()| (opened, g)));
    let (opened, g) = match done {
        Ok(done) => done,
        Err(fault) => {
            scanner.raw.vertices.truncate(first);
            return Err(fault);
        }
    };
    let flags = g.int_or(70, 0);
    if flags & (MESH | POLYFACE) != 0 {
        scanner.raw.vertices.truncate(first);
        scanner.count_unread(Start { name: b"POLYLINE mesh", ..start }, Some(super::SOLID));
        return Ok(None);
    }
    let planar = flags & SPATIAL == 0;
    if planar && g.has(30) {
        // The elevation of a plane polyline is stated once; the z of its vertices does not count.
        let elevation = g.point(10).z;
        for vertex in &mut scanner.raw.vertices[first..] {
            vertex.at.z = elevation;
        }
    }
    g.give_back(scanner);
    let vertices = first..scanner.raw.vertices.len();
    let common = scanner.common_of(Opens::Polyline, start, &opened);
    Ok(Some(Entity {
        common,
        kind: Kind::Polyline(Polyline { vertices, closed: flags & CLOSED != 0, planar }),
    }))
}

/// Reads the VERTEX entities up to SEQEND, or up to something else where it is missing.
fn heavy_vertices<'a, T: Tags<'a>>(
    scanner: &mut Scanner<'a, T>,
    first: usize,
    polyline: Start<'a>,
) -> Result<(), Fault> {
    let mut fault = None;
    while let Some(start) = scanner.walk.start() {
        match Keyword::new(start.name).as_bytes() {
            b"VERTEX" => {}
            b"SEQEND" => return fault.map_or(Ok(()), Err),
            _ => {
                scanner.note(start, "SEQEND of a POLYLINE is missing before this");
                scanner.walk.put_back(start);
                return fault.map_or(Ok(()), Err);
            }
        }
        if fault.is_some() {
            continue;
        }
        if plain_corners(scanner, first, start) {
            continue;
        }
        if let Err(found) = heavy_vertex(scanner, first, start) {
            fault = Some(found);
        }
    }
    Err(Fault {
        line: polyline.line,
        offset: polyline.offset,
        message: "the file ends before its last vertex".to_owned(),
    })
}

/// Reads the VERTEX entities from `start` on that state their point and nothing else; whether there was any.
fn plain_corners<'a, T: Tags<'a>>(scanner: &mut Scanner<'a, T>, first: usize, start: Start<'a>) -> bool {
    scanner.each_alike(Opens::Vertex, (start, b"VERTEX"), [10, 20, 30], |raw, _, _, [x, y, z]| {
        let room = raw.vertices.len() - first < MAX_VERTICES;
        if room {
            raw.vertices.push(Vertex { at: Vec3::new(x, y, z), bulge: 0.0 });
        }
        room
    })
}

fn heavy_vertex<'a, T: Tags<'a>>(
    scanner: &mut Scanner<'a, T>,
    first: usize,
    start: Start<'a>,
) -> Result<(), Fault> {
    let mut vertex = Vertex { at: Vec3::new(f64::NAN, f64::NAN, 0.0), bulge: 0.0 };
    let mut flags = 0;
    // What all entities have is of no use in a vertex.
    scanner.open(Opens::Vertex);
    if let Some([x, y, z]) = scanner.walk.run([10, 20, 30]) {
        vertex.at = Vec3::new(x, y, z);
    }
    scanner.walk.groups(|tag, _| {
        match tag.code {
            10 => vertex.at.x = tag.real()?,
            20 => vertex.at.y = tag.real()?,
            30 => vertex.at.z = tag.real()?,
            42 => vertex.bulge = tag.real()?,
            70 => flags = tag.int()?,
            101 => return Ok(false),
            _ => {}
        }
        Ok(true)
    })?;
    if flags & FRAME != 0 {
        return Ok(());
    }
    start.needs([(10, vertex.at.x), (20, vertex.at.y)])?;
    if scanner.raw.vertices.len() - first >= MAX_VERTICES {
        let message = format!("more than {MAX_VERTICES} vertices");
        return Err(Fault { line: start.line, offset: start.offset, message });
    }
    scanner.raw.vertices.push(vertex);
    Ok(())
}
