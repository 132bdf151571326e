//! The TABLES section: layers, line types, text styles with symbol fonts, dimension styles, block records.

use super::{Keyword, Scanner};
use crate::drawing::{BlockUnits, Stands};
use crate::dxf::raw::{RawStyle, StyleValues};
use crate::dxf::tags::{Fault, Start, Tags};
use crate::dxf::text::symbols::is_symbol_font;

/// A line type with more strokes than this says nothing.
const MOST_STROKES: usize = 16;

impl<'a, T: Tags<'a>> Scanner<'a, T> {
    pub(super) fn table_entry(&mut self, start: Start<'a>) {
        let name = Keyword::new(start.name);
        let read = match name.as_bytes() {
            b"LAYER" => self.layer_entry(),
            b"LTYPE" => self.line_type_entry(),
            b"STYLE" => self.text_style_entry(),
            b"DIMSTYLE" => self.dimension_style_entry(),
            b"BLOCK_RECORD" => {
                self.block_record_entry();
                Ok(())
            }
            _ => Ok(()),
        };
        if let Err(fault) = read {
            self.entity_fault(name.as_bytes(), fault);
        }
    }

    fn layer_entry(&mut self) -> Result<(), Fault> {
        let (mut name, mut handle, mut flags, mut color, mut line_type) = (None, None, 0, 7, None);
        self.walk.groups(|tag, _| {
            match tag.code {
                2 => name = Some(tag.name()),
                5 => handle = tag.handle(),
                70 => flags = tag.int()?,
                62 => color = tag.int()?,
                6 => line_type = Some(tag.name()),
                _ => {}
            }
            Ok(true)
        })?;
        let Some(name) = name else {
            return Ok(());
        };
        let index = self.layer(name);
        self.raw.layer_handles.extend(handle.map(|handle| (handle, index)));
        let stands = line_type.map_or(Stands::Other, |t| self.names.stands_for(t));
        if let Some(layer) = self.raw.layers.get_mut(index as usize) {
            layer.on = color >= 0;
            layer.frozen = flags & 1 != 0;
            layer.stands = stands;
        }
        Ok(())
    }

    fn line_type_entry(&mut self) -> Result<(), Fault> {
        let (mut name, mut pattern) = (None, Vec::new());
        self.walk.groups(|tag, _| {
            match tag.code {
                2 => name = Some(tag.name()),
                49 if pattern.len() < MOST_STROKES => pattern.push(tag.real()?),
                _ => {}
            }
            Ok(true)
        })?;
        if let Some(name) = name {
            self.names.add_line_type(name, &pattern);
            // What a name stands for may be another thing from here on.
            self.recent_settings.fill(None);
            self.openings = Default::default();
        }
        Ok(())
    }

    fn text_style_entry(&mut self) -> Result<(), Fault> {
        let (mut name, mut handle, mut symbols) = (None, None, false);
        while let Some(tag) = self.walk.group() {
            match tag.code {
                2 => name = Some(tag.name()),
                5 => handle = tag.handle(),
                3 | 1000 => symbols |= is_symbol_font(&String::from_utf8_lossy(tag.name())),
                _ => {}
            }
        }
        if let Some(name) = name
            && symbols
        {
            let key = self.symbol_name(name).to_uppercase();
            self.raw.symbol_styles.push(key);
            self.raw.symbol_style_handles.extend(handle);
        }
        Ok(())
    }

    fn dimension_style_entry(&mut self) -> Result<(), Fault> {
        let mut name = None;
        let mut values = StyleValues::default();
        while let Some(tag) = self.walk.group() {
            match tag.code {
                2 => name = Some(tag.name()),
                _ => values.take(&tag)?,
            }
        }
        if let Some(name) = name {
            let name = self.symbol_name(name).to_uppercase();
            self.raw.dimension_styles.push(RawStyle { name, values });
        }
        Ok(())
    }

    fn block_record_entry(&mut self) {
        let (mut name, mut handle, mut units) = (None, None, None);
        // R2000 keeps the unit in extended data: the name of the list, a brace, a version, then the unit.
        let mut list = 0;
        while let Some(tag) = self.walk.group() {
            match (tag.code, list) {
                (2, _) => name = Some(tag.name()),
                (5, _) => handle = tag.handle(),
                (70, _) => units = tag.int().ok(),
                (1000, _) => list = i32::from(tag.name().eq_ignore_ascii_case(b"DesignCenter Data")),
                (1070, 1) => list = 2,
                (1070, 2) => {
                    list = 0;
                    units = units.or(tag.int().ok());
                }
                _ => {}
            }
        }
        let Some(name) = name else {
            return;
        };
        let name = self.symbol_name(name);
        if let Some(handle) = handle {
            self.raw.block_records.push((handle, name.to_uppercase()));
        }
        if let Some(insunits) = units.filter(|units| *units != 0) {
            self.raw.block_units.push(BlockUnits { block: name, insunits });
        }
    }
}
