//! One pass over the pairs of a file: sections, and in them the table entries, blocks, entities and objects that
//! matter. What cannot hold or explain a hole is passed over unread. Nothing is placed here.

mod blocks;
mod header;
mod names;
mod objects;
mod tables;

use super::entities;
use super::marking::LAYER_PREFIX;
use super::problems::Problems;
use super::raw::{Common, Counts, Entity, LineType, Raw, Setting};
use super::tags::{Fault, Start, Tags, Walk};
use super::text::codepage::Decoder;
use crate::drawing::Header;
use crate::geometry::Vec3;
use names::Names;
pub(super) use names::symbol_name;

/// Most names of entities that are not read and are counted one by one.
const MOST_UNREAD_NAMES: usize = 100;

/// Entities that are offered at once: few enough to be still in the cache when they are placed.
const BATCH: usize = 256;

/// Bytes of a short entity, a LINE of a binary file.
const BYTES_OF_ENTITY: usize = 110;

/// What one pass found.
#[derive(Debug)]
pub(super) struct Scan<'a> {
    pub(super) raw: Raw<'a>,
    pub(super) header: Header,
    pub(super) decoder: Decoder<'a>,
    pub(super) problems: Problems,
    /// Whether anything of DXF was met at all.
    pub(super) recognised: bool,
}

/// Takes the entities of ENTITIES sections over while the scan goes on, so that only a few of them are kept at a time.
pub(super) trait TakesEntities<'a> {
    /// Offers all entities of [`Raw::entities`] from `first` on; `more` times the bytes of the section so far are still to
    /// come. If they are taken, the scan forgets them and what they refer to.
    fn take(&mut self, raw: &Raw<'a>, decoder: &Decoder<'a>, first: usize, more: f64) -> bool;
}

/// Keeps all entities.
struct KeepsAll;

impl<'a> TakesEntities<'a> for KeepsAll {
    fn take(&mut self, _: &Raw<'a>, _: &Decoder<'a>, _: usize, _: f64) -> bool {
        false
    }
}

/// Reads all pairs; `file` is the text file as a whole, none for a binary one. None where tables or blocks stand behind
/// entities that `taker` took before these were known: then all has to be read again, with all entities kept.
pub(super) fn scan<'a, T: Tags<'a>>(
    tags: T,
    file: Option<&'a [u8]>,
    taker: &mut dyn TakesEntities<'a>,
) -> Option<Scan<'a>> {
    let mut scanner = Scanner::new(tags, file);
    scanner.file(taker);
    (!scanner.taken_too_early).then(|| scanner.finish())
}

/// As [`scan`], with all entities kept.
pub(super) fn scan_all<'a, T: Tags<'a>>(tags: T, file: Option<&'a [u8]>) -> Scan<'a> {
    let mut scanner = Scanner::new(tags, file);
    scanner.file(&mut KeepsAll);
    scanner.finish()
}

/// Entities of one name that are not read.
struct Unread<'a> {
    name: String,
    times: u64,
    first: Start<'a>,
    why: Option<&'static str>,
}

/// The state of the pass.
pub(super) struct Scanner<'a, T> {
    pub(super) walk: Walk<'a, T>,
    pub(super) raw: Raw<'a>,
    pub(super) names: Names<'a>,
    pub(super) problems: Problems,
    /// What entities stated last, by a cheap hash of their layers, and their settings: neighbours stand on few layers in
    /// turn.
    pub(super) recent_settings: Vec<Option<(entities::Gathered<'a>, u32)>>,
    /// What entities of each kind opened with last.
    pub(super) openings: entities::Openings<'a>,
    /// Place for the groups of the next entity.
    pub(super) spare_groups: Option<Box<entities::Groups<'a>>>,
    header: Header,
    decoder: Decoder<'a>,
    file: Option<&'a [u8]>,
    /// Entities of kinds that are not read or not known, counted by name.
    unread: Vec<Unread<'a>>,
    /// How many marks of an earlier check were left out, and the first.
    marks: (u64, Option<Start<'a>>),
    recognised: bool,
    has_entities: bool,
    has_end: bool,
    /// Whether entities were taken, and whether something that they depend on was met after that.
    taken: bool,
    taken_too_early: bool,
    open_section: Option<(String, Start<'a>)>,
}

impl<'a, T: Tags<'a>> Scanner<'a, T> {
    fn new(tags: T, file: Option<&'a [u8]>) -> Self {
        let mut scanner = Scanner {
            walk: Walk::new(tags),
            raw: Raw { normals: vec![Vec3::UP], ..Raw::default() },
            names: Names::default(),
            problems: Problems::default(),
            recent_settings: vec![None; names::RECENT],
            openings: Default::default(),
            spare_groups: None,
            header: Header::default(),
            decoder: Decoder::new(file, None, None),
            file,
            unread: Vec::new(),
            marks: (0, None),
            recognised: false,
            has_entities: false,
            has_end: false,
            taken: false,
            taken_too_early: false,
            open_section: None,
        };
        scanner.layer(b"0");
        scanner
    }

    fn file(&mut self, taker: &mut dyn TakesEntities<'a>) {
        while !self.taken_too_early
            && let Some(start) = self.walk.start()
        {
            let name = Keyword::new(start.name);
            match name.as_bytes() {
                b"SECTION" => self.section(start, taker),
                b"EOF" => {
                    self.has_end = true;
                    return;
                }
                b"ENDSEC" => {}
                _ if entities::is_known(name.as_bytes()) => {
                    self.note(start, "entity outside of any section; read as one of ENTITIES");
                    self.walk.put_back(start);
                    self.entities_section(taker);
                }
                _ => {}
            }
        }
    }

    fn section(&mut self, start: Start<'a>, taker: &mut dyn TakesEntities<'a>) {
        let mut name = None;
        while let Some(tag) = self.walk.group() {
            if tag.code == 2 {
                name = Some(tag.name());
                break;
            }
        }
        let Some(name) = name else {
            if !self.walk.ended() {
                self.loss(start, "section without a name; its content was not read");
                self.until_section_end(|_, _| {});
            }
            return;
        };
        self.recognised = true;
        let name = Keyword::new(name);
        self.open_section = Some((String::from_utf8_lossy(name.as_bytes()).into_owned(), start));
        match name.as_bytes() {
            b"HEADER" | b"TABLES" | b"BLOCKS" if self.taken => self.taken_too_early = true,
            b"HEADER" => self.header_section(),
            b"TABLES" => self.until_section_end(Self::table_entry),
            b"BLOCKS" => self.blocks_section(),
            b"ENTITIES" => self.entities_section(taker),
            b"OBJECTS" => self.until_section_end(Self::object),
            b"CLASSES" | b"THUMBNAILIMAGE" | b"ACDSDATA" => self.until_section_end(|_, _| {}),
            other => {
                let message = format!("unknown section “{}”; passed over", String::from_utf8_lossy(other));
                self.note(start, &message);
                self.until_section_end(|_, _| {});
            }
        }
    }

    fn entities_section(&mut self, taker: &mut dyn TakesEntities<'a>) {
        self.recognised = true;
        self.has_entities = true;
        let before = self.raw.counts();
        let begin = self.walk.place().1;
        let first = self.raw.entities.len();
        let room = BATCH + entities::MOST_ALIKE;
        self.raw.entities.reserve(room.min(self.walk.size() / BYTES_OF_ENTITY));
        let mut full = first + BATCH;
        self.until_section_end(|scanner, start| {
            scanner.entity(start);
            if scanner.raw.entities.len() >= full {
                full = scanner.offer(taker, (begin, first), &before);
            }
        });
        self.raw.main.push(first..self.raw.entities.len());
    }

    /// Offers the entities from `first` on, of a section that begins at `begin`; how many may be kept before any are offered
    /// again.
    #[inline(never)]
    fn offer(
        &mut self,
        taker: &mut dyn TakesEntities<'a>,
        (begin, first): (usize, usize),
        before: &Counts,
    ) -> usize {
        let at = self.walk.place().1;
        let more = self.walk.size().saturating_sub(at) as f64 / at.saturating_sub(begin) as f64;
        if taker.take(&self.raw, &self.decoder, first, more) {
            self.taken = true;
            self.raw.forget_behind(before);
            return first + BATCH;
        }
        // What was not taken once never will be. Room that is never touched costs nothing, a list that grows by copying does.
        self.raw.entities.reserve(self.walk.size() / BYTES_OF_ENTITY);
        usize::MAX
    }

    /// Gives each start up to ENDSEC to `each`. A missing ENDSEC is noticed where the next section or EOF stands.
    pub(super) fn until_section_end(&mut self, mut each: impl FnMut(&mut Self, Start<'a>)) {
        while let Some(start) = self.walk.start() {
            // Hardly any entity begins with one of the two letters.
            if !matches!(start.name, [b'E' | b'S' | b'e' | b's', ..]) {
                each(self, start);
                continue;
            }
            let name = Keyword::new(start.name);
            match name.as_bytes() {
                b"ENDSEC" => {
                    self.open_section = None;
                    return;
                }
                b"SECTION" | b"EOF" => {
                    self.note(start, "ENDSEC is missing before this; the section was read up to here");
                    self.open_section = None;
                    self.walk.put_back(start);
                    return;
                }
                _ => each(self, start),
            }
        }
    }

    /// Reads one entity into the list, or says why it could not.
    pub(super) fn entity(&mut self, start: Start<'a>) {
        // By far the most of them are LINEs.
        if start.name == b"LINE" {
            if entities::lines(self, start) {
                return;
            }
            match entities::line(self, start) {
                Ok(line) => self.keep(start, line),
                Err(fault) => self.entity_fault(start.name, fault),
            }
            return;
        }
        let name = Keyword::new(start.name);
        match entities::read(self, start, name.as_bytes()) {
            Ok(Some(entity)) => self.keep(start, entity),
            Ok(None) => {}
            Err(fault) => self.entity_fault(name.as_bytes(), fault),
        }
    }

    /// Adds an entity to the list, unless it is a mark of an earlier check.
    #[inline(always)]
    fn keep(&mut self, start: Start<'a>, entity: Entity) {
        let layer = self.raw.setting(&entity.common).layer;
        if self.raw.layers.get(layer as usize).is_some_and(|layer| layer.marks) {
            self.marks = (self.marks.0 + 1, self.marks.1.or(Some(start)));
            return;
        }
        // A value that the end of the file cut short must not be believed.
        if !(self.walk.ended() && self.walk.cut_inside_pair()) {
            self.raw.entities.push(entity);
        }
    }

    /// The problem of an entity that is left out because of a fault in it.
    pub(super) fn entity_fault(&mut self, name: &[u8], fault: Fault) {
        let name = String::from_utf8_lossy(name);
        self.problems.push(Fault { message: format!("{name} left out: {}", fault.message), ..fault }.loss());
    }

    /// Counts an entity of a kind that is not read for the reason `why`, or not known.
    pub(super) fn count_unread(&mut self, start: Start<'a>, why: Option<&'static str>) {
        let name = self.decoder.text(start.name).into_owned();
        if let Some(entry) = self.unread.iter_mut().find(|entry| entry.name == name) {
            entry.times += 1;
        } else if self.unread.len() < MOST_UNREAD_NAMES {
            self.unread.push(Unread { name, times: 1, first: start, why });
        }
    }

    /// The index of a layer by its name as written.
    pub(super) fn layer(&mut self, name: &'a [u8]) -> u32 {
        self.names.layer(name, &self.decoder, &mut self.raw.layers)
    }

    /// A name decoded and with control codes resolved, as symbol names are written.
    pub(super) fn symbol_name(&self, name: &[u8]) -> String {
        names::symbol_name(&self.decoder, name)
    }

    /// What all entities have, from the values that were gathered.
    #[inline]
    pub(super) fn common(&mut self, start: Start<'a>, gathered: &entities::Gathered<'a>) -> Common {
        Common::new(start, gathered.handle, self.setting(gathered))
    }

    /// The index of the setting of an entity. One that an entity before it had is found again without a look at what its
    /// names mean.
    #[inline]
    fn setting(&mut self, gathered: &entities::Gathered<'a>) -> u32 {
        let place = names::place(gathered.layer.unwrap_or_default());
        if let Some((known, index)) = &self.recent_settings[place]
            && gathered.stands_as(known)
        {
            return *index;
        }
        self.new_setting(gathered, place)
    }

    #[inline(never)]
    fn new_setting(&mut self, gathered: &entities::Gathered<'a>, place: usize) -> u32 {
        let setting = self.setting_of(gathered);
        let index = match self.raw.settings.last() {
            Some(last) if *last == setting => self.raw.settings.len() - 1,
            _ => {
                self.raw.settings.push(setting);
                self.raw.settings.len() - 1
            }
        } as u32;
        self.recent_settings[place] = Some((*gathered, index));
        index
    }

    fn setting_of(&mut self, gathered: &entities::Gathered<'a>) -> Setting {
        let normal = match gathered.normal {
            Some(n) if n != Vec3::UP && n.length() > 1e-12 => {
                if self.raw.normals.last() != Some(&n) {
                    self.raw.normals.push(n);
                }
                (self.raw.normals.len() - 1) as u32
            }
            _ => 0,
        };
        Setting {
            owner: gathered.owner,
            layer: self.layer(gathered.layer.unwrap_or(b"0")),
            normal,
            line_type: gathered.line_type.map_or(LineType::ByLayer, |name| self.names.line_type(name)),
            invisible: gathered.invisible,
            on_paper: gathered.on_paper,
        }
    }

    pub(super) fn note(&mut self, start: Start<'a>, message: &str) {
        self.problems.add(start.line, start.offset, message, false);
    }

    pub(super) fn loss(&mut self, start: Start<'a>, message: &str) {
        self.problems.add(start.line, start.offset, message, true);
    }

    fn finish(mut self) -> Scan<'a> {
        self.judge_end();
        for entry in std::mem::take(&mut self.unread) {
            let (name, times) = (&entry.name, entry.times);
            let message = match entry.why {
                Some(why) => format!("{times} {name} not read: {why}"),
                None => format!("{times} of the unknown entity “{name}” passed over"),
            };
            self.note(entry.first, &message);
        }
        if let (times, Some(first)) = self.marks {
            let message =
                format!("{times} marks of an earlier check, on layers {LAYER_PREFIX}…, left out of account");
            self.note(first, &message);
        }
        let tag_problems = self.walk.take_problems();
        self.problems.absorb(tag_problems);
        Scan {
            raw: self.raw,
            header: self.header,
            decoder: self.decoder,
            problems: self.problems,
            recognised: self.recognised,
        }
    }

    /// Whether the end of the file took something away: a section that never closed did, a missing EOF alone did
    /// not.
    fn judge_end(&mut self) {
        if self.has_end || !self.recognised {
            return;
        }
        let (line, offset) = self.walk.place();
        if line == 0 && self.walk.cut_inside_pair() {
            // The pairs of a binary file have said where they end and why.
            return;
        }
        let (message, loss) = match &self.open_section {
            Some((name, start)) if start.line > 0 => (
                format!(
                    "the file is cut short inside the section {name} that begins on line {}; what stands before the cut was read",
                    start.line
                ),
                true,
            ),
            Some((name, _)) => (
                format!(
                    "the file is cut short inside the section {name}; what stands before the cut was read"
                ),
                true,
            ),
            None if !self.has_entities => {
                ("the file is cut short before the section ENTITIES".to_owned(), true)
            }
            None => ("EOF is missing at the end; every section is closed".to_owned(), false),
        };
        self.problems.add(line, offset as u64, message, loss);
    }
}

/// A name of a section or entity in upper case. Nearly all programs write it so; one that is not is turned, and cut if
/// it is longer than any known.
#[derive(Debug)]
pub(super) struct Keyword<'a> {
    written: &'a [u8],
    turned: Option<Box<[u8]>>,
}

impl<'a> Keyword<'a> {
    #[inline]
    pub(super) fn new(name: &'a [u8]) -> Self {
        let turned = if name.iter().any(u8::is_ascii_lowercase) { Some(turned(name)) } else { None };
        Keyword { written: name, turned }
    }

    pub(super) fn as_written(&self) -> &'a [u8] {
        self.written
    }

    #[inline]
    pub(super) fn as_bytes(&self) -> &[u8] {
        self.turned.as_deref().unwrap_or(self.written)
    }
}

#[cold]
fn turned(name: &[u8]) -> Box<[u8]> {
    const LONGEST: usize = 32;
    name[..name.len().min(LONGEST)].to_ascii_uppercase().into()
}
