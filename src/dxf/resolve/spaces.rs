//! Model space and the layouts: which there are, and in which one an entity of ENTITIES stands.

use std::cell::Cell;
use std::collections::{HashMap, HashSet};
use std::ops::Range;

use foldhash::fast::RandomState;

use crate::drawing::{Space, SpaceId};
use crate::dxf::raw::{Raw, Setting};

/// The spaces of a drawing.
#[derive(Debug)]
pub(in crate::dxf) struct Spaces {
    names: Vec<String>,
    /// Space by handle of its block record.
    by_record: HashMap<u64, SpaceId, RandomState>,
    /// Space by upper-case name of its block.
    by_block: HashMap<String, SpaceId, RandomState>,
    /// The layout in which entities marked as on paper stand, where no owner says otherwise.
    active_paper: SpaceId,
    /// The owner asked for last, and its space: neighbours have the same.
    last: Cell<(u64, Option<SpaceId>)>,
}

impl Spaces {
    pub(in crate::dxf) fn new(raw: &Raw<'_>) -> Self {
        let mut spaces = Spaces {
            names: vec!["model".to_owned()],
            by_record: HashMap::default(),
            by_block: HashMap::default(),
            active_paper: 1,
            last: Cell::new((0, None)),
        };
        let records = records(raw);
        for (handle, key) in &records {
            if is_model(key) {
                spaces.by_record.insert(*handle, 0);
            }
        }
        let mut layouts: Vec<_> = raw.layouts.iter().collect();
        layouts.sort_by_key(|layout| layout.order);
        for layout in layouts {
            let key = records.get(&layout.record).copied().unwrap_or_default();
            if is_paper(key) {
                spaces.add(&layout.name, layout.record, key);
            }
        }
        spaces.add_unnamed(raw, &records);
        spaces.active_paper = ["*PAPER_SPACE", "$PAPER_SPACE"]
            .iter()
            .find_map(|key| spaces.by_block.get(*key).copied())
            .unwrap_or(1);
        spaces
    }

    /// Layout blocks that no layout object names (R12, or a damaged OBJECTS section), and the one paper space of
    /// entities that have neither.
    fn add_unnamed(&mut self, raw: &Raw<'_>, records: &HashMap<u64, &str, RandomState>) {
        let mut keys: Vec<&str> =
            raw.blocks.iter().map(|b| b.key.as_str()).filter(|key| is_paper(key)).collect();
        keys.sort_unstable();
        keys.dedup();
        for key in keys {
            if !self.by_block.contains_key(key) {
                let record =
                    records.iter().filter(|(_, k)| **k == key).map(|(handle, _)| *handle).min().unwrap_or(0);
                let name = self.free_name();
                self.add(&name, record, key);
            }
        }
        // Most drawings have no setting on paper, and then no entity is looked at.
        let on_paper = || {
            raw.settings.iter().any(|setting| setting.on_paper)
                && raw.entities.iter().any(|e| raw.setting(&e.common).on_paper)
        };
        if self.names.len() == 1 && on_paper() {
            let name = self.free_name();
            self.add(&name, 0, "*PAPER_SPACE");
        }
    }

    /// `Layout1`, `Layout2` … as CAD programs call layouts that have no name yet.
    fn free_name(&self) -> String {
        let mut n = self.names.len();
        loop {
            let name = format!("Layout{n}");
            if !self.names.contains(&name) {
                return name;
            }
            n += 1;
        }
    }

    fn add(&mut self, name: &str, record: u64, key: &str) {
        let Ok(id) = SpaceId::try_from(self.names.len()) else {
            return;
        };
        self.names.push(name.to_owned());
        if record != 0 {
            self.by_record.insert(record, id);
        }
        self.by_block.insert(key.to_owned(), id);
    }

    /// The spaces as the drawing lists them.
    pub(super) fn list(&self) -> Vec<Space> {
        self.names.iter().map(|name| Space { name: name.clone() }).collect()
    }

    /// The space of an entity of ENTITIES: its owner says it, or else its paper flag.
    pub(super) fn of(&self, setting: &Setting) -> SpaceId {
        let (owner, known) = self.last.get();
        let space = if owner == setting.owner { known } else { self.by_record.get(&setting.owner).copied() };
        self.last.set((setting.owner, space));
        match space {
            Some(space) => space,
            None if setting.on_paper => self.active_paper,
            None => 0,
        }
    }

    /// Where a thing of the space of this name belongs: handle of the block record (0 where there is none) and name of
    /// the block. None where no or more than one space is called so.
    pub(in crate::dxf) fn home(&self, name: &str) -> Option<(u64, &str)> {
        let mut called = self.names.iter().enumerate().filter(|(_, own)| *own == name);
        let (Some((index, _)), None) = (called.next(), called.next()) else { return None };
        let id = SpaceId::try_from(index).ok()?;
        let record = self.by_record.iter().filter(|(_, own)| **own == id).map(|(record, _)| *record).min();
        let block = self.by_block.iter().find(|(_, own)| **own == id).map(|(key, _)| key.as_str());
        Some((record.unwrap_or(0), block.unwrap_or("*MODEL_SPACE")))
    }

    /// What is to be placed: ranges of entities, with their space where it does not depend on the entity.
    pub(super) fn roots(&self, raw: &Raw<'_>) -> Vec<(Option<SpaceId>, Range<usize>)> {
        let mut roots: Vec<_> = raw
            .blocks
            .iter()
            .filter_map(|block| {
                let space = if is_model(&block.key) { 0 } else { *self.by_block.get(&block.key)? };
                Some((Some(space), block.entities.clone()))
            })
            .collect();
        roots.extend(raw.main.iter().map(|range| (None, range.clone())));
        roots
    }
}

/// Name of the block of each block record.
fn records<'r>(raw: &'r Raw<'_>) -> HashMap<u64, &'r str, RandomState> {
    let of_blocks = raw.blocks.iter().map(|b| (b.record, b.key.as_str()));
    raw.block_records
        .iter()
        .map(|(handle, key)| (*handle, key.as_str()))
        .chain(of_blocks)
        .filter(|(handle, _)| *handle != 0)
        .collect()
}

/// The owners by which entities of ENTITIES stand in a paper space.
#[derive(Debug, Default)]
pub(super) struct Papers(HashSet<u64, RandomState>);

impl Papers {
    /// As the block records and blocks say that are known so far.
    pub(super) fn new(raw: &Raw<'_>) -> Self {
        Papers(records(raw).into_iter().filter(|(_, key)| is_paper(key)).map(|(handle, _)| handle).collect())
    }

    /// Whether an entity of ENTITIES stands in model space, whatever layouts there are.
    pub(super) fn surely_in_model(&self, setting: &Setting) -> bool {
        !setting.on_paper && !self.0.contains(&setting.owner)
    }
}

/// Whether a block of this name is a space.
pub(super) fn is_space(key: &str) -> bool {
    is_model(key) || is_paper(key)
}

fn is_model(key: &str) -> bool {
    key == "*MODEL_SPACE" || key == "$MODEL_SPACE"
}

fn is_paper(key: &str) -> bool {
    key.starts_with("*PAPER_SPACE") || key.starts_with("$PAPER_SPACE")
}
