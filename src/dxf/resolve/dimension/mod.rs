//! Placing dimensions: measured from their points, never from the stored measurement, and written as their style
//! writes them.

mod format;
mod measure;

use super::place::{Context, Placer};
use crate::drawing::{Dimension, DimensionTolerance, SpaceId};
use crate::dxf::raw::{Carrier, Common, Kind, RawDimension, RawStyle, StyleValues};
use crate::dxf::scan::symbol_name;
use crate::dxf::text::control::plain_text;
use crate::dxf::text::mtext::formatted_text;
use crate::geometry::Affine;

/// Decimals of a style that states none, the default of CAD programs.
const DEFAULT_DECIMALS: i64 = 4;

impl<'s, 'a> Placer<'s, 'a> {
    pub(super) fn place_dimension(
        &mut self,
        common: &Common,
        raw: &RawDimension<'a>,
        map: &Affine,
        context: Context,
    ) {
        let origin = self.origin(common, &context);
        let plane = self.plane(common);
        let (measured, points) = measure::measure(raw, &plane, map);
        let mut style = self.style_of(raw);
        let length_factor = length_factor(&style, context.space);
        let override_text = self.override_text(raw);
        if override_text.as_deref().is_some_and(|text| text.contains("<>")) {
            self.take_places_of_picture(raw, measured * length_factor, &mut style);
        }
        let shown = match override_text.as_deref() {
            None => match self.picture_text(raw, &style) {
                Some(text) => text,
                None => format::value(raw.kind, measured, length_factor, &style),
            },
            Some(text) if text.trim().is_empty() => String::new(),
            Some(text) => {
                let value = format::value(raw.kind, measured, length_factor, &style);
                let alternate = format::alternate(measured * length_factor, &style);
                text.replace("<>", &value).replace("[]", &alternate.unwrap_or_default())
            }
        };
        self.drawing.dimensions.push(Dimension {
            origin,
            kind: raw.kind,
            measured,
            length_factor,
            text: override_text,
            shown,
            tolerance: tolerance(&style),
            decimals: u8::try_from(style.decimals.unwrap_or(DEFAULT_DECIMALS).clamp(0, 15)).unwrap_or(4),
            points,
            text_at: raw.text_at.map(|p| map.point(plane.point(p)).plan()),
        });
    }

    /// The override as it reads; none where the measured value alone is shown.
    fn override_text(&self, raw: &RawDimension<'a>) -> Option<String> {
        if raw.text.is_empty() || raw.text.trim_ascii() == b"<>" {
            return None;
        }
        let bytes = &raw.text[..raw.text.len().min(crate::dxf::bounds::MAX_TEXT_BYTES)];
        Some(formatted_text(&self.decoder.text(bytes), false))
    }

    /// What counts for a dimension: its overrides, then its style, then the header.
    fn style_of(&mut self, raw: &RawDimension<'a>) -> StyleText {
        let style = self.style_named(raw.style);
        let mut merged = raw.overrides.clone();
        match style {
            Some(style) => merged.fill_from(&style.values),
            None => merged.fill_from(&self.raw.header_style),
        }
        if merged.length_factor.is_none() {
            merged.length_factor = self.raw.header_style.length_factor;
        }
        let text = |bytes: Option<&[u8]>| {
            bytes.map_or_else(String::new, |bytes| plain_text(&self.decoder.text(bytes), false))
        };
        StyleText {
            post: text(merged.post),
            alternate_post: text(merged.alternate_post),
            decimals: merged.decimals,
            values: merged.without_text(),
        }
    }

    /// The style of a name as a dimension writes it.
    fn style_named(&mut self, written: &'a [u8]) -> Option<&'s RawStyle<'a>> {
        let styles = &self.raw.dimension_styles;
        let place = match self.last_style {
            Some((last, place)) if last == written => place,
            _ => {
                let name = symbol_name(self.decoder, written).to_uppercase();
                let place = styles.iter().position(|s| s.name == name);
                self.last_style = Some((written, place));
                place
            }
        };
        place.and_then(|place| styles.get(place))
    }

    /// The places that the picture block shows the measured value with, where the style does not say them (R12): the
    /// general tolerance of a sheet goes by the places as written, so the default ones would take it away.
    fn take_places_of_picture(&mut self, raw: &RawDimension<'a>, stated: f64, style: &mut StyleText) {
        let picture = self.picture_text(raw, style);
        if let Some(shown) = picture.and_then(|text| format::places_shown(&text, stated, style)) {
            style.decimals = i64::try_from(shown).ok();
            style.values.zeros = style.values.zeros.map(format::with_trailing_zeros);
        }
    }

    /// The text of the picture block, where the style does not say how the value is written (R12).
    fn picture_text(&mut self, raw: &RawDimension<'a>, style: &StyleText) -> Option<String> {
        if style.decimals.is_some() || raw.block.is_empty() {
            return None;
        }
        let block = self.blocks.find(raw.block, self.decoder)?;
        let range = self.raw.blocks.get(block)?.entities.clone();
        let mut shown: Option<String> = None;
        for entity in self.raw.entities.get(range)? {
            let Kind::Text(n) = entity.kind else {
                continue;
            };
            let text = &self.raw.texts[n as usize];
            let decoded = self.joined(&entity.common, &text.chunks)?;
            let line = match text.carrier {
                Carrier::MText => formatted_text(&decoded, text.symbol_font),
                _ => plain_text(&decoded, text.symbol_font),
            };
            shown = Some(match shown {
                Some(before) => before + " " + &line,
                None => line,
            });
        }
        let shown = shown.filter(|text| !text.trim().is_empty())?;
        Some(if shown.trim().len() < shown.len() { shown.trim().to_owned() } else { shown })
    }
}

/// A style with its texts decoded.
#[derive(Debug)]
pub(super) struct StyleText {
    pub(super) post: String,
    pub(super) alternate_post: String,
    pub(super) decimals: Option<i64>,
    pub(super) values: StyleValues<'static>,
}

impl StyleText {
    /// DIMDEC, within what can be written.
    pub(super) fn decimals(&self) -> usize {
        places(self.decimals.unwrap_or(DEFAULT_DECIMALS))
    }
}

/// A number of decimals within what can be written.
pub(super) fn places(stated: i64) -> usize {
    usize::try_from(stated.clamp(0, 15)).unwrap_or(0)
}

/// DIMLFAC: a negative one counts in paper space only.
fn length_factor(style: &StyleText, space: SpaceId) -> f64 {
    match style.values.length_factor {
        Some(factor) if factor > 0.0 => factor,
        Some(factor) if factor < 0.0 && space > 0 => -factor,
        _ => 1.0,
    }
}

fn tolerance(style: &StyleText) -> Option<DimensionTolerance> {
    let values = &style.values;
    let (plus, minus) = (values.plus.unwrap_or(0.0), values.minus.unwrap_or(0.0));
    if values.tolerance.unwrap_or(0) != 0 {
        Some(DimensionTolerance::PlusMinus { plus, minus })
    } else if values.limits.unwrap_or(0) != 0 {
        Some(DimensionTolerance::Limits { plus, minus })
    } else {
        None
    }
}

impl<'a> StyleValues<'a> {
    /// Takes from `other` what is not stated here.
    fn fill_from(&mut self, other: &StyleValues<'a>) {
        self.post = self.post.or(other.post);
        self.alternate_post = self.alternate_post.or(other.alternate_post);
        self.round = self.round.or(other.round);
        self.plus = self.plus.or(other.plus);
        self.minus = self.minus.or(other.minus);
        self.alternate_factor = self.alternate_factor.or(other.alternate_factor);
        self.length_factor = self.length_factor.or(other.length_factor);
        // Tolerance and limits exclude each other: one stated here overrides both.
        if self.tolerance.is_none() && self.limits.is_none() {
            (self.tolerance, self.limits) = (other.tolerance, other.limits);
        }
        self.zeros = self.zeros.or(other.zeros);
        self.alternate = self.alternate.or(other.alternate);
        self.alternate_decimals = self.alternate_decimals.or(other.alternate_decimals);
        self.angle_decimals = self.angle_decimals.or(other.angle_decimals);
        self.decimals = self.decimals.or(other.decimals);
        self.tolerance_decimals = self.tolerance_decimals.or(other.tolerance_decimals);
        self.units = self.units.or(other.units);
        self.separator = self.separator.or(other.separator);
        self.tolerance_zeros = self.tolerance_zeros.or(other.tolerance_zeros);
    }

    /// The numbers alone.
    fn without_text(&self) -> StyleValues<'static> {
        StyleValues {
            post: None,
            alternate_post: None,
            round: self.round,
            plus: self.plus,
            minus: self.minus,
            alternate_factor: self.alternate_factor,
            length_factor: self.length_factor,
            tolerance: self.tolerance,
            limits: self.limits,
            zeros: self.zeros,
            alternate: self.alternate,
            alternate_decimals: self.alternate_decimals,
            angle_decimals: self.angle_decimals,
            decimals: self.decimals,
            tolerance_decimals: self.tolerance_decimals,
            units: self.units,
            separator: self.separator,
            tolerance_zeros: self.tolerance_zeros,
        }
    }
}
