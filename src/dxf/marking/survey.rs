//! What must be known of a file before anything is put into it: where, under which handles. Looks at every pair, which the
//! reader does not; where one is not as it should be, nothing may be put in.

use std::collections::HashMap;
use std::ops::Range;

use super::is_of_marks;
use crate::dxf::tags::{Tag, Tags};

/// What a file tells of itself.
#[derive(Debug, Default)]
pub(super) struct Survey<'a> {
    /// `$ACADVER`, empty where it is not stated.
    pub(super) version: &'a [u8],
    /// Where the value of `$HANDSEED` stands.
    pub(super) seed: Option<Range<usize>>,
    /// The first handle above all that are used and reserved; none if nothing has a handle.
    pub(super) next_handle: Option<u64>,
    /// Whether an entity has a handle.
    pub(super) entity_handles: bool,
    /// The layer table.
    pub(super) layers: Option<LayerTable<'a>>,
    /// A text style to name where there is none of the name that goes without saying, STANDARD.
    pub(super) text_style: Option<&'a [u8]>,
    /// Where the mark of the end of the ENTITIES section begins.
    pub(super) entities_end: Option<usize>,
    /// Where each block of a space ends, by its name in upper case.
    pub(super) block_ends: HashMap<Vec<u8>, usize>,
}

/// The layer table of a file.
#[derive(Debug, Default)]
pub(super) struct LayerTable<'a> {
    /// Its own handle.
    pub(super) handle: Option<&'a [u8]>,
    /// Whether its entries have handles.
    pub(super) entry_handles: bool,
    /// Where the mark of its end begins.
    pub(super) end: usize,
    /// Plot style and material of one of its layers, for those that are added.
    pub(super) plot_style: Option<&'a [u8]>,
    pub(super) material: Option<&'a [u8]>,
}

/// Looks a whole file through.
///
/// # Errors
/// Why nothing may be put into it.
pub(super) fn survey<'a, T: Tags<'a>>(mut tags: T) -> Result<Survey<'a>, String> {
    let mut state = State::default();
    loop {
        let (_, start) = tags.place();
        let Some(tag) = tags.next() else { break };
        let pair = Pair { start, code: tag.code, value: tag.name(), tag };
        if pair.code == 0 && pair.is(b"EOF") {
            break;
        }
        state.take(&pair)?;
    }
    let cut = tags.cut_inside_pair();
    if let Some(problem) = tags.take_problems().finish().into_iter().find(|problem| problem.loss) {
        return Err(format!("line {}: {}", problem.line, problem.message));
    }
    if cut || state.section != Section::None {
        return Err("it is cut short".to_owned());
    }
    state.finish()
}

/// A pair with its place.
struct Pair<'a> {
    /// Where its group code stands.
    start: usize,
    code: i32,
    /// Without blanks around it; empty for a binary number.
    value: &'a [u8],
    tag: Tag<'a>,
}

impl Pair<'_> {
    fn is(&self, word: &[u8]) -> bool {
        self.value.eq_ignore_ascii_case(word)
    }

    /// Where the value without blanks stands.
    fn value_at(&self) -> Range<usize> {
        let text = self.tag.text();
        let start = self.tag.offset + (text.len() - text.trim_ascii_start().len());
        start..start + self.value.len()
    }

    fn place(&self) -> String {
        match self.tag.line {
            0 => format!("byte {}", self.tag.offset),
            line => format!("line {line}"),
        }
    }
}

#[derive(Debug, Clone, Copy, Default, PartialEq)]
enum Section {
    #[default]
    None,
    /// Its name comes next.
    Unnamed,
    Header,
    Tables,
    Blocks,
    Entities,
    Objects,
    Other,
}

#[derive(Debug, Clone, Copy, Default, PartialEq)]
enum Table {
    #[default]
    None,
    Unnamed,
    Layer,
    Style,
    Other,
}

#[derive(Default)]
struct State<'a> {
    survey: Survey<'a>,
    section: Section,
    table: Table,
    /// Name of the entity, table entry or object.
    kind: &'a [u8],
    variable: &'a [u8],
    handle: Option<&'a [u8]>,
    /// Name of the block that is open.
    block: Option<Vec<u8>>,
    highest: u64,
    any_handle: bool,
    has_standard_style: bool,
}

impl<'a> State<'a> {
    fn take(&mut self, pair: &Pair<'a>) -> Result<(), String> {
        match (pair.code, self.section) {
            (999, _) => Ok(()),
            (0, _) => self.start(pair),
            (2, Section::Unnamed) => self.open_section(pair),
            // An entity has this name too, but begins with its handle.
            (2, _) if self.kind.eq_ignore_ascii_case(b"SECTION") && self.handle.is_none() => {
                Err(format!("{}: ENDSEC is missing before this", pair.place()))
            }
            (_, Section::Header) => self.header(pair),
            (_, Section::Tables | Section::Blocks | Section::Entities | Section::Objects) => {
                self.handles(pair)?;
                self.content(pair)
            }
            _ => Ok(()),
        }
    }

    fn open_section(&mut self, pair: &Pair<'a>) -> Result<(), String> {
        let known: [(&[u8], Section); 5] = [
            (b"HEADER", Section::Header),
            (b"TABLES", Section::Tables),
            (b"BLOCKS", Section::Blocks),
            (b"ENTITIES", Section::Entities),
            (b"OBJECTS", Section::Objects),
        ];
        let found = known.iter().find(|(name, _)| pair.is(name));
        self.section = found.map_or(Section::Other, |(_, section)| *section);
        if self.section == Section::Entities && self.survey.entities_end.is_some() {
            return Err(format!("{}: it has a second section ENTITIES", pair.place()));
        }
        Ok(())
    }

    /// The start of something, which ends what was before.
    fn start(&mut self, pair: &Pair<'a>) -> Result<(), String> {
        if self.section == Section::None {
            self.section = if pair.is(b"SECTION") { Section::Unnamed } else { return Err(outside(pair)) };
            return Ok(());
        }
        if pair.is(b"ENDSEC") {
            return self.end_section(pair);
        }
        if self.section == Section::Tables {
            self.table_mark(pair)?;
        }
        if self.section == Section::Blocks && pair.is(b"ENDBLK") {
            self.end_block(pair);
        }
        (self.kind, self.handle) = (pair.value, None);
        Ok(())
    }

    fn end_section(&mut self, pair: &Pair<'a>) -> Result<(), String> {
        if self.section == Section::Entities {
            self.survey.entities_end = Some(pair.start);
        }
        if self.table != Table::None || self.block.is_some() {
            return Err(format!("{}: a table or block is not closed before ENDSEC", pair.place()));
        }
        (self.section, self.kind, self.handle) = (Section::None, b"", None);
        Ok(())
    }

    fn table_mark(&mut self, pair: &Pair<'a>) -> Result<(), String> {
        if pair.is(b"ENDTAB") {
            if let (Table::Layer, Some(layers)) = (self.table, &mut self.survey.layers) {
                layers.end = pair.start;
            }
            self.table = Table::None;
        } else if pair.is(b"TABLE") {
            if self.table != Table::None {
                return Err(format!("{}: ENDTAB is missing before this", pair.place()));
            }
            self.table = Table::Unnamed;
        }
        Ok(())
    }

    fn end_block(&mut self, pair: &Pair<'a>) {
        let Some(name) = self.block.take() else { return };
        if name.starts_with(b"*PAPER_SPACE") || name.starts_with(b"$PAPER_SPACE") {
            self.survey.block_ends.insert(name, pair.start);
        }
    }

    fn header(&mut self, pair: &Pair<'a>) -> Result<(), String> {
        match pair.code {
            9 => self.variable = pair.value,
            1 if self.variable.eq_ignore_ascii_case(b"$ACADVER") => self.survey.version = pair.value,
            5 if self.variable.eq_ignore_ascii_case(b"$HANDSEED") => {
                match pair.tag.handle() {
                    // Reserved up to here, so that the next one is the seed itself.
                    Some(seed) => self.highest = self.highest.max(seed - 1),
                    None if pair.value.iter().all(|digit| *digit == b'0') => {}
                    None => return Err(format!("{}: $HANDSEED is no hexadecimal number", pair.place())),
                }
                self.survey.seed = Some(pair.value_at());
            }
            _ => {}
        }
        Ok(())
    }

    /// Handles that are taken: those of things, and those that are pointed to, because what they pointed to may be gone
    /// and must not come back as something else.
    fn handles(&mut self, pair: &Pair<'a>) -> Result<(), String> {
        let own = if self.kind.eq_ignore_ascii_case(b"DIMSTYLE") { 105 } else { 5 };
        if pair.code == own && self.handle.is_none() {
            let number = pair
                .tag
                .handle()
                .ok_or_else(|| format!("{}: the handle is no hexadecimal number above 0", pair.place()))?;
            self.handle = Some(pair.value);
            self.any_handle = true;
            self.survey.entity_handles |= self.section == Section::Entities;
            self.highest = self.highest.max(number);
        } else if matches!(pair.code, 320..=369 | 390..=399 | 480..=481 | 1005) {
            self.highest = self.highest.max(pair.tag.handle().unwrap_or(0));
        }
        Ok(())
    }

    fn content(&mut self, pair: &Pair<'a>) -> Result<(), String> {
        match (pair.code, self.section) {
            (code, Section::Tables) => self.table_content(code, pair),
            (2, Section::Blocks) if self.kind.eq_ignore_ascii_case(b"BLOCK") && self.block.is_none() => {
                self.block = Some(pair.value.to_ascii_uppercase());
                Ok(())
            }
            (8, Section::Blocks | Section::Entities) => refuse_marks(pair),
            _ => Ok(()),
        }
    }

    fn table_content(&mut self, code: i32, pair: &Pair<'a>) -> Result<(), String> {
        if self.kind.eq_ignore_ascii_case(b"TABLE") {
            return self.table_head(code, pair);
        }
        if self.table == Table::Layer {
            let Some(layers) = &mut self.survey.layers else { return Ok(()) };
            match code {
                2 => return refuse_marks(pair),
                5 => layers.entry_handles = true,
                390 => layers.plot_style = layers.plot_style.or(Some(pair.value)),
                347 => layers.material = layers.material.or(Some(pair.value)),
                _ => {}
            }
        }
        // The entry of a shape file has no name.
        if self.table == Table::Style && code == 2 && !pair.value.is_empty() {
            self.has_standard_style |= pair.is(b"STANDARD");
            self.survey.text_style = self.survey.text_style.or(Some(pair.value));
        }
        Ok(())
    }

    fn table_head(&mut self, code: i32, pair: &Pair<'a>) -> Result<(), String> {
        if code == 2 && self.table == Table::Unnamed {
            self.table = match () {
                () if pair.is(b"LAYER") => Table::Layer,
                () if pair.is(b"STYLE") => Table::Style,
                () => Table::Other,
            };
            if self.table == Table::Layer {
                if self.survey.layers.is_some() {
                    return Err(format!("{}: it has a second layer table", pair.place()));
                }
                self.survey.layers = Some(LayerTable { handle: self.handle, ..LayerTable::default() });
            }
        }
        // The handle may stand after the name.
        if let (5, Table::Layer, Some(layers)) = (code, self.table, &mut self.survey.layers) {
            layers.handle = layers.handle.or(Some(pair.value));
        }
        Ok(())
    }

    fn finish(mut self) -> Result<Survey<'a>, String> {
        if self.survey.entities_end.is_none() {
            return Err("it has no section ENTITIES that ends".to_owned());
        }
        if self.any_handle {
            self.survey.next_handle = Some(self.highest.checked_add(1).ok_or("its handles are used up")?);
        }
        if self.has_standard_style {
            self.survey.text_style = None;
        }
        Ok(self.survey)
    }
}

fn outside(pair: &Pair<'_>) -> String {
    format!("{}: what stands here is in no section", pair.place())
}

/// A second set of marks would make the first one look like a part of the drawing.
fn refuse_marks(pair: &Pair<'_>) -> Result<(), String> {
    let name = String::from_utf8_lossy(pair.value);
    if is_of_marks(&name) {
        return Err(format!(
            "it holds marks of an earlier check, on the layer {name}: give the drawing without them"
        ));
    }
    Ok(())
}
