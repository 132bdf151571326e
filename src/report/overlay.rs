//! Marks as a DXF file of their own, to be attached over the drawing: R2007, in the drawing's coordinates and unit.

use std::io::{self, Write};

use ::dxf::entities::{Arc, Entity, EntityType, Line, Text};
use ::dxf::enums::HorizontalTextJustification;
use ::dxf::tables::Layer;
use ::dxf::{Color, Drawing, DxfError, Point};

use crate::drawing::Header;
use crate::dxf::marking::{Align, Mark, Shape, colour_of, layer_of};
use crate::finding::Level;
use crate::geometry;

/// Writes marks of one space into the model space of a file. `header` is that of the drawing they are for.
///
/// # Errors
/// Those of the writer.
pub fn write(marks: &[&Mark], header: &Header, out: &mut dyn Write) -> io::Result<()> {
    let mut drawing = begun(header).map_err(failed)?;
    for level in [Level::Fail, Level::Warn, Level::Note] {
        let mut layer = Layer { name: layer_of(level).to_owned(), ..Layer::default() };
        layer.color = Color::from_index(colour_of(level));
        drawing.add_layer(layer);
    }
    for mark in marks {
        let mut entity = Entity::new(shape(&mark.shape));
        entity.common.layer = layer_of(mark.level).to_owned();
        entity.common.transparency = OPAQUE;
        drawing.add_entity(entity);
    }
    let mut bytes = Vec::new();
    drawing.save(&mut bytes).map_err(failed)?;
    with_table_handles(&String::from_utf8_lossy(&bytes), out)
}

/// Gives each table the handle that it must have from R13 on and that the crate leaves out; after them comes the next
/// free one.
fn with_table_handles(text: &str, out: &mut dyn Write) -> io::Result<()> {
    let lines: Vec<&str> = text.split_terminator("\r\n").collect();
    let (pairs, _) = lines.as_chunks::<2>();
    let seed = |pair: &[&str; 2]| pair[1].trim() == "$HANDSEED";
    let at = pairs.iter().position(seed).map(|at| at + 1);
    let first = at.and_then(|at| u64::from_str_radix(pairs.get(at)?[1].trim(), 16).ok());
    let (Some(at), Some(mut next)) = (at, first) else {
        return Err(io::Error::other("the overlay has no $HANDSEED"));
    };
    let tables = pairs.iter().filter(|pair| is_table(pair)).count() as u64;
    let mut opened = false;
    for (nth, [code, value]) in pairs.iter().enumerate() {
        if nth == at {
            write!(out, "{code}\r\n{:X}\r\n", next + tables)?;
            continue;
        }
        write!(out, "{code}\r\n{value}\r\n")?;
        if std::mem::replace(&mut opened, is_table(&[code, value])) {
            write!(out, "  5\r\n{next:X}\r\n")?;
            next += 1;
        }
    }
    Ok(())
}

fn is_table([code, value]: &[&str; 2]) -> bool {
    code.trim() == "0" && *value == "TABLE"
}

/// Transparency of what hides all behind it; the 0 that the crate writes else is no value that DXF defines.
const OPAQUE: i32 = 0x0200_00FF;

/// An empty drawing that depends on nothing but `header`: its dates and identifiers are fixed, because the bytes of a
/// report may not depend on the clock. 2451544.5 is midnight of 1 January 2000 as a Julian date.
fn begun(header: &Header) -> Result<Drawing, DxfError> {
    let mut text = String::from("0\nSECTION\n2\nHEADER\n9\n$ACADVER\n1\nAC1021\n");
    for variable in ["$TDCREATE", "$TDUCREATE", "$TDUPDATE", "$TDUUPDATE"] {
        text.push_str(&format!("9\n{variable}\n40\n2451544.5\n"));
    }
    for variable in ["$FINGERPRINTGUID", "$VERSIONGUID"] {
        text.push_str(&format!("9\n{variable}\n2\n{{00000000-0000-0000-0000-000000000000}}\n"));
    }
    // Numbers beyond those that are defined are no units.
    let unit = header.insunits.filter(|unit| (0..=20).contains(unit)).unwrap_or(0);
    text.push_str(&format!("9\n$INSUNITS\n70\n{unit}\n"));
    if let Some(measurement) = header.measurement.filter(|m| (0..=1).contains(m)) {
        text.push_str(&format!("9\n$MEASUREMENT\n70\n{measurement}\n"));
    }
    text.push_str("0\nENDSEC\n0\nEOF\n");
    let mut drawing = Drawing::load(&mut text.as_bytes())?;
    drawing.normalize();
    Ok(drawing)
}

fn shape(shape: &Shape) -> EntityType {
    match shape {
        Shape::Arc { center, radius, start_deg, end_deg } => EntityType::Arc(Arc {
            center: point(*center),
            radius: *radius,
            start_angle: *start_deg,
            end_angle: *end_deg,
            ..Arc::default()
        }),
        Shape::Line { from, to } => {
            EntityType::Line(Line { p1: point(*from), p2: point(*to), ..Line::default() })
        }
        Shape::Text { at, align, height, text } => EntityType::Text(Text {
            location: point(*at),
            text_height: *height,
            value: text.clone(),
            horizontal_text_justification: match align {
                Align::Left => HorizontalTextJustification::Left,
                Align::Right => HorizontalTextJustification::Right,
            },
            second_alignment_point: point(*at),
            ..Text::default()
        }),
    }
}

fn point(p: geometry::Point) -> Point {
    Point::new(p.x, p.y, 0.0)
}

fn failed(error: DxfError) -> io::Error {
    match error {
        DxfError::IoError(error) => error,
        other => io::Error::other(other.to_string()),
    }
}
