//! Placing texts of all carriers and tables: decoded, with an estimated box.

use std::borrow::Cow;

use super::place::{Context, Placer};
use crate::drawing::{Table, Text, TextKind};
use crate::dxf::bounds::{MAX_REPEATED_TEXT_BYTES, MAX_TEXT_BYTES};
use crate::dxf::raw::{Anchor, Carrier, Chunks, Common, RawTable, RawText};
use crate::dxf::scan::symbol_name;
use crate::dxf::text::control::plain_text;
use crate::dxf::text::mtext::formatted_text;
use crate::geometry::{Affine, Bounds, Vec3};

/// Mean width of a letter over its height; from memory, common fonts lie between 0.6 and 0.9.
const LETTER_WIDTH: f64 = 0.7;

/// Distance of lines over letter height, the usual single spacing (5/3).
const LINE_DISTANCE: f64 = 5.0 / 3.0;

impl<'a> Placer<'_, 'a> {
    pub(super) fn place_text(&mut self, common: &Common, text: &RawText<'a>, map: &Affine, context: Context) {
        // An attribute definition in a block is a form to fill in; only a constant one is drawn.
        let definition = text.carrier == Carrier::AttributeDefinition;
        if definition && context.insert.is_some() && !text.constant {
            return;
        }
        let Some(content) = self.content(common, text, context) else {
            return;
        };
        let plane = self.plane(common);
        let normal = plane.z;
        let map = if text.planar { self.plane_map(common, map, context) } else { *map };
        let up = if text.planar { Vec3::UP.cross(text.along) } else { normal.cross(text.along) };
        let frame = Frame::new(text.at, text.along, up, &map);
        let height = text.height * frame.up_scale;
        let width = LETTER_WIDTH * text.height * text.width_factor * frame.along_scale;
        let wrap = text.wrap * frame.along_scale;
        let bounds = frame.bounds(&content, text.anchor, (width, height), wrap);
        let mut origin = self.origin(common, &context);
        origin.visible &= !text.hidden;
        let tag = || symbol_name(self.decoder, text.tag);
        let kind = match text.carrier {
            Carrier::Text => TextKind::Text,
            Carrier::MText => TextKind::MText,
            Carrier::Tolerance => TextKind::Tolerance,
            Carrier::Attribute => TextKind::Attribute { tag: tag() },
            Carrier::AttributeDefinition if context.insert.is_some() => TextKind::Attribute { tag: tag() },
            Carrier::AttributeDefinition => TextKind::AttributeDefinition { tag: tag() },
        };
        self.push_text(Text {
            origin,
            kind,
            content,
            at: frame.at.plan(),
            bounds,
            height,
            rotation_deg: frame.rotation_deg,
        });
    }

    /// Adds a text; its place among all.
    pub(super) fn push_text(&mut self, text: Text) -> usize {
        let index = self.drawing.texts.len();
        self.drawing.texts.push(text);
        index
    }

    fn content(&mut self, common: &Common, text: &RawText<'a>, context: Context) -> Option<String> {
        if context.insert.is_some() && !self.may_repeat(common, text.chunks.len()) {
            return None;
        }
        let raw = self.joined(common, &text.chunks)?;
        Some(match (text.carrier, text.formatted) {
            (Carrier::Tolerance, _) => formatted_text(&raw.replace("%%v", "|").replace("%%V", "|"), false),
            (_, true) => formatted_text(&raw, text.symbol_font),
            (_, false) => plain_text(&raw, text.symbol_font),
        })
    }

    /// Whether a block may show a further text of this many bytes; a problem says so once it may not.
    pub(super) fn may_repeat(&mut self, common: &Common, bytes: usize) -> bool {
        let sum = self.repeated_text.saturating_add(bytes);
        if sum > MAX_REPEATED_TEXT_BYTES {
            let message = format!(
                "texts that blocks repeat exceed the limit of {MAX_REPEATED_TEXT_BYTES} bytes; the rest is left out"
            );
            self.report_once(common, message);
            return false;
        }
        self.repeated_text = sum;
        true
    }

    /// A value in one piece, decoded; none, with a problem, where it is longer than any text can be.
    pub(super) fn joined(&mut self, common: &Common, chunks: &Chunks<'a>) -> Option<Cow<'a, str>> {
        if chunks.len() > MAX_TEXT_BYTES {
            let message = format!(
                "a text of {} bytes is above the limit of {MAX_TEXT_BYTES} bytes; it was left out",
                chunks.len()
            );
            self.report_once(common, message);
            return None;
        }
        if chunks.more.is_empty() {
            return Some(self.decoder.text(chunks.first));
        }
        // Letters of several bytes may be cut between two pieces.
        let mut bytes = chunks.first.to_vec();
        for piece in &chunks.more {
            bytes.extend_from_slice(piece);
        }
        Some(self.decoder.text(&bytes).into_owned().into())
    }

    pub(super) fn place_table(
        &mut self,
        common: &Common,
        table: &RawTable<'a>,
        map: &Affine,
        context: Context,
    ) {
        let bytes = table.cells.iter().map(Chunks::len).sum();
        if context.insert.is_some() && !self.may_repeat(common, bytes) {
            return;
        }
        let mut cells = Vec::with_capacity(table.cells.len());
        for (i, cell) in table.cells.iter().enumerate() {
            let raw = self.joined(common, cell).unwrap_or_default();
            let symbol_font = table.symbols.binary_search(&i).is_ok();
            cells.push(formatted_text(&raw, symbol_font).trim().to_owned());
        }
        let columns = table.columns.max(1);
        let origin = self.origin(common, &context);
        self.drawing.tables.push(Table {
            origin,
            at: map.point(table.at).plan(),
            rows: cells.chunks(columns).map(<[String]>::to_vec).collect(),
        });
    }
}

/// The place and the directions of a text in the world.
pub(super) struct Frame {
    pub(super) at: Vec3,
    along: Vec3,
    up: Vec3,
    pub(super) along_scale: f64,
    pub(super) up_scale: f64,
    pub(super) rotation_deg: f64,
}

impl Frame {
    pub(super) fn new(at: Vec3, along: Vec3, up: Vec3, map: &Affine) -> Frame {
        let (placed, raised) = (map.direction(along), map.direction(up));
        let ratio = |image: Vec3, of: Vec3| {
            let length = of.length();
            if length > 0.0 { image.length() / length } else { 1.0 }
        };
        Frame {
            at: map.point(at),
            along_scale: ratio(placed, along),
            up_scale: ratio(raised, up),
            rotation_deg: placed.y.atan2(placed.x).to_degrees(),
            along: placed.unit().unwrap_or(Vec3::new(1.0, 0.0, 0.0)),
            up: raised.unit().unwrap_or(Vec3::new(0.0, 1.0, 0.0)),
        }
    }

    /// The estimated box of a text whose letters have this width and height.
    pub(super) fn bounds(
        &self,
        content: &str,
        anchor: Anchor,
        (letter, height): (f64, f64),
        wrap: f64,
    ) -> Bounds {
        let mut lines = 0.0_f64;
        let mut widest = 0.0_f64;
        for line in content.split('\n') {
            let width = letter * line.chars().map(columns).sum::<f64>();
            if wrap > letter && width > wrap {
                lines += (width / wrap).ceil();
                widest = widest.max(wrap);
            } else {
                lines += 1.0;
                widest = widest.max(width);
            }
        }
        let tall = height * (1.0 + (lines - 1.0).max(0.0) * LINE_DISTANCE);
        let corner = |across: f64, up: f64| {
            self.at
                .plus(self.along.times((across - anchor.across) * widest))
                .plus(self.up.times((up - anchor.up) * tall))
                .plan()
        };
        Bounds::of([corner(0.0, 0.0), corner(1.0, 0.0), corner(0.0, 1.0), corner(1.0, 1.0)])
    }
}

/// Columns that a letter takes: Chinese, Japanese and Korean ones are as wide as two others.
fn columns(letter: char) -> f64 {
    if ('\u{2E80}'..='\u{FFEF}').contains(&letter) { 2.0 } else { 1.0 }
}
