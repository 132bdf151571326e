//! TEXT, ATTRIB, ATTDEF, MTEXT and TOLERANCE.

use super::{Codes, Groups, Opens, wanted};
use crate::dxf::raw::{Anchor, Carrier, Chunks, Entity, Kind, RawText, add};
use crate::dxf::scan::Scanner;
use crate::dxf::tags::{Fault, Start, Tags};
use crate::geometry::{Vec3, exact_sin_cos};

const INVISIBLE: i64 = 1;
const CONSTANT: i64 = 2;

static LINE_OF_TEXT: Codes = wanted(&[1, 2, 7, 10, 20, 30, 11, 21, 31, 40, 41, 50, 70, 72, 73, 74]);
static FORMATTED: Codes = wanted(&[1, 7, 10, 20, 30, 11, 21, 31, 40, 41, 50, 71]);
static FRAME: Codes = wanted(&[1, 10, 20, 30, 11, 21, 31]);

/// Letter height of a feature control frame, which its style states; only for the estimated box.
const FRAME_LETTER_HEIGHT: f64 = 2.5;

/// Reads one entity of the kind `name`.
pub(super) fn read<'a, T: Tags<'a>>(
    scanner: &mut Scanner<'a, T>,
    start: Start<'a>,
    name: &[u8],
) -> Result<Option<Entity>, Fault> {
    match name {
        b"MTEXT" => formatted(scanner, start).map(Some),
        b"TOLERANCE" => tolerance(scanner, start).map(Some),
        b"ATTRIB" => line_of_text(scanner, start, Carrier::Attribute).map(Some),
        b"ATTDEF" => line_of_text(scanner, start, Carrier::AttributeDefinition).map(Some),
        _ => line_of_text(scanner, start, Carrier::Text).map(Some),
    }
}

fn line_of_text<'a, T: Tags<'a>>(
    scanner: &mut Scanner<'a, T>,
    start: Start<'a>,
    carrier: Carrier,
) -> Result<Entity, Fault> {
    let mut opened = scanner.open(Opens::Text);
    let mut g = Groups::new(scanner, start);
    let mut chunks = Chunks::default();
    let mut embeds = false;
    scanner.walk.groups(|tag, quick| {
        match tag.code {
            101 => embeds = true,
            // Group 3 of an ATTDEF is its prompt.
            3 if carrier == Carrier::Text => chunks.push(tag.text()),
            _ => g.take_with_point(tag, quick, &LINE_OF_TEXT, &mut opened)?,
        }
        Ok(!embeds)
    })?;
    let embedded = if embeds { Some(embedded_text(scanner)?) } else { None };
    chunks.push(g.text(1));
    let anchor = line_anchor(&g, carrier);
    let aligned = anchor != BASE_LEFT || g.int_or(72, 0) != 0;
    let at = if aligned && g.has(11) && g.has(21) { g.point(11) } else { g.needed_point(10)? };
    let attribute = matches!(carrier, Carrier::Attribute | Carrier::AttributeDefinition);
    let flags = if attribute { g.int_or(70, 0) } else { 0 };
    let multi_line = embedded.filter(|text| text.len() > 0);
    let text = RawText {
        carrier,
        formatted: multi_line.is_some(),
        chunks: multi_line.unwrap_or(chunks),
        tag: g.text(2).trim_ascii(),
        at,
        height: g.real_or(40, 1.0),
        width_factor: g.real_or(41, 1.0),
        wrap: 0.0,
        along: direction(g.real_or(50, 0.0)),
        anchor,
        symbol_font: has_symbol_style(scanner, g.text(7)),
        planar: true,
        constant: flags & CONSTANT != 0,
        hidden: flags & INVISIBLE != 0,
    };
    g.give_back(scanner);
    let common = scanner.common_of(Opens::Text, start, &opened);
    Ok(Entity { common, kind: Kind::Text(add(&mut scanner.raw.texts, text)) })
}

/// The multi-line text that an attribute of R2018 embeds: its pieces in groups 3 and 1.
fn embedded_text<'a, T: Tags<'a>>(scanner: &mut Scanner<'a, T>) -> Result<Chunks<'a>, Fault> {
    let mut chunks = Chunks::default();
    while let Some(tag) = scanner.walk.group() {
        match tag.code {
            3 | 1 => chunks.push(tag.text()),
            _ => {}
        }
    }
    Ok(chunks)
}

const BASE_LEFT: Anchor = Anchor { across: 0.0, up: 0.0 };

/// Horizontal (72) and vertical (73, 74 of attributes) justification.
fn line_anchor(g: &Groups<'_>, carrier: Carrier) -> Anchor {
    let vertical = if carrier == Carrier::Text { 73 } else { 74 };
    Anchor {
        across: match g.int_or(72, 0) {
            1 | 4 => 0.5,
            2 => 1.0,
            _ => 0.0,
        },
        up: match (g.int_or(vertical, 0), g.int_or(72, 0)) {
            (2, _) | (_, 4) => 0.5,
            (3, _) => 1.0,
            _ => 0.0,
        },
    }
}

fn formatted<'a, T: Tags<'a>>(scanner: &mut Scanner<'a, T>, start: Start<'a>) -> Result<Entity, Fault> {
    let mut opened = scanner.open(Opens::Text);
    let mut g = Groups::new(scanner, start);
    let mut chunks = Chunks::default();
    // Of a rotation and a direction the one that comes last counts.
    let mut rotation_last = false;
    scanner.walk.groups(|tag, quick| {
        match tag.code {
            101 => return Ok(false),
            3 => chunks.push(tag.text()),
            code => {
                match code {
                    50 => rotation_last = true,
                    11 => rotation_last = false,
                    _ => {}
                }
                g.take_with_point(tag, quick, &FORMATTED, &mut opened)?;
            }
        }
        Ok(true)
    })?;
    chunks.push(g.text(1));
    let along = if g.has(11) && !rotation_last {
        g.point(11)
    } else {
        let turned = direction(g.real_or(50, 0.0));
        let plane = crate::geometry::Affine::of_extrusion(opened.gathered.normal.unwrap_or(Vec3::UP));
        plane.direction(turned)
    };
    let attachment = g.int_or(71, 1).clamp(1, 9) - 1;
    let text = RawText {
        carrier: Carrier::MText,
        chunks,
        tag: b"",
        at: g.needed_point(10)?,
        height: g.real_or(40, 1.0),
        width_factor: 1.0,
        wrap: g.real_or(41, 0.0),
        along,
        anchor: Anchor { across: (attachment % 3) as f64 / 2.0, up: 1.0 - (attachment / 3) as f64 / 2.0 },
        symbol_font: has_symbol_style(scanner, g.text(7)),
        formatted: true,
        planar: false,
        constant: false,
        hidden: false,
    };
    g.give_back(scanner);
    let common = scanner.common_of(Opens::Text, start, &opened);
    Ok(Entity { common, kind: Kind::Text(add(&mut scanner.raw.texts, text)) })
}

fn tolerance<'a, T: Tags<'a>>(scanner: &mut Scanner<'a, T>, start: Start<'a>) -> Result<Entity, Fault> {
    let (opened, g) = Groups::read(scanner, Opens::Text, start, &FRAME)?;
    let text = RawText {
        carrier: Carrier::Tolerance,
        chunks: Chunks::one(g.text(1)),
        tag: b"",
        at: g.needed_point(10)?,
        height: FRAME_LETTER_HEIGHT,
        width_factor: 1.0,
        wrap: 0.0,
        along: if g.has(11) { g.point(11) } else { direction(0.0) },
        anchor: Anchor { across: 0.0, up: 0.5 },
        symbol_font: false,
        formatted: true,
        planar: false,
        constant: false,
        hidden: false,
    };
    g.give_back(scanner);
    let common = scanner.common_of(Opens::Text, start, &opened);
    Ok(Entity { common, kind: Kind::Text(add(&mut scanner.raw.texts, text)) })
}

fn direction(deg: f64) -> Vec3 {
    let (sin, cos) = exact_sin_cos(deg);
    Vec3::new(cos, sin, 0.0)
}

pub(super) fn has_symbol_style<'a, T: Tags<'a>>(scanner: &Scanner<'a, T>, style: &[u8]) -> bool {
    if scanner.raw.symbol_styles.is_empty() || style.is_empty() {
        return false;
    }
    let key = scanner.symbol_name(style).to_uppercase();
    scanner.raw.symbol_styles.contains(&key)
}
