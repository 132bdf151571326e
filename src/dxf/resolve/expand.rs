//! The size of what INSERTs show, counted before anything is placed: so that an array of 10^9 or a nesting that
//! doubles at each of forty levels is known as too large without being walked.

use std::collections::HashMap;
use std::collections::hash_map::Entry;

use foldhash::fast::RandomState;

use crate::dxf::bounds::TEXT_IN_LINES;
use crate::dxf::raw::{Kind, Raw, RawInsert};
use crate::dxf::scan::symbol_name;
use crate::dxf::text::codepage::Decoder;

/// Blocks by name, and the size of each.
#[derive(Debug)]
pub(super) struct Blocks<'a> {
    by_key: HashMap<String, usize, RandomState>,
    as_written: HashMap<&'a [u8], Option<usize>, RandomState>,
    /// Things that one placement of each block gives, nested ones included.
    sizes: Vec<u64>,
    /// Further definitions of a name that was defined before, as indices of blocks.
    pub(super) repeated: Vec<usize>,
}

/// One level of the walk that sums sizes.
struct Level {
    block: usize,
    next: usize,
    sum: u64,
    /// Placements of this block by the INSERT above.
    cells: u64,
}

impl<'a> Blocks<'a> {
    pub(super) fn new(raw: &Raw<'a>, decoder: &Decoder<'_>) -> Self {
        let mut by_key = HashMap::with_capacity_and_hasher(raw.blocks.len(), RandomState::default());
        let mut repeated = Vec::new();
        for (index, block) in raw.blocks.iter().enumerate() {
            match by_key.entry(block.key.clone()) {
                Entry::Occupied(_) => repeated.push(index),
                Entry::Vacant(free) => _ = free.insert(index),
            }
        }
        let mut blocks =
            Blocks { by_key, as_written: HashMap::default(), sizes: vec![0; raw.blocks.len()], repeated };
        blocks.sum_sizes(raw, decoder);
        blocks
    }

    /// The block of a name as an INSERT writes it.
    pub(super) fn find(&mut self, written: &'a [u8], decoder: &Decoder<'_>) -> Option<usize> {
        // As the pictures of dimensions are, each of which is named once.
        if let Some(found) = plain(written).and_then(|key| self.by_key.get(key)) {
            return Some(*found);
        }
        if let Some(found) = self.as_written.get(written) {
            return *found;
        }
        let key = symbol_name(decoder, written).to_uppercase();
        let found = self.by_key.get(key.as_str()).copied();
        self.as_written.insert(written, found);
        found
    }

    /// Things that all placements of one INSERT of this block give.
    pub(super) fn size(&self, block: usize, insert: &RawInsert<'_>) -> u64 {
        let one = self.sizes.get(block).copied().unwrap_or(0);
        cells(insert).saturating_mul(one.saturating_add(1))
    }

    fn sum_sizes(&mut self, raw: &Raw<'a>, decoder: &Decoder<'_>) {
        let mut done = vec![false; raw.blocks.len()];
        let mut on_path = vec![false; raw.blocks.len()];
        for root in 0..raw.blocks.len() {
            if done[root] {
                continue;
            }
            on_path[root] = true;
            let mut path = vec![level(raw, root, 1)];
            while let Some(top) = path.last_mut() {
                if top.next >= raw.blocks[top.block].entities.end {
                    let (block, sum, cells) = (top.block, top.sum, top.cells);
                    self.sizes[block] = sum;
                    done[block] = true;
                    on_path[block] = false;
                    path.pop();
                    if let Some(above) = path.last_mut() {
                        above.add(cells, sum);
                    }
                    continue;
                }
                let entity = &raw.entities[top.next];
                top.next += 1;
                top.sum = top.sum.saturating_add(own_size(raw, &entity.kind));
                let Kind::Insert(n) = entity.kind else {
                    continue;
                };
                let insert = &raw.inserts[n as usize];
                let Some(target) = self.find(insert.block, decoder) else {
                    continue;
                };
                if done[target] {
                    top.add(cells(insert), self.sizes[target]);
                } else if !on_path[target] {
                    on_path[target] = true;
                    let next = level(raw, target, cells(insert));
                    path.push(next);
                }
            }
        }
    }
}

/// A name that is written as its block is called: in capitals, without codes or letters of a code page.
fn plain(written: &[u8]) -> Option<&str> {
    let whole = written.is_ascii() && written.trim_ascii().len() == written.len();
    let name = std::str::from_utf8(written).ok().filter(|_| whole)?;
    (!name.contains('\\')).then_some(name)
}

impl Level {
    /// Adds `cells` placements of a block of size `one`.
    fn add(&mut self, cells: u64, one: u64) {
        let all = cells.saturating_mul(one.saturating_add(1));
        self.sum = self.sum.saturating_add(all);
    }
}

fn level(raw: &Raw<'_>, block: usize, cells: u64) -> Level {
    Level { block, next: raw.blocks[block].entities.start, sum: 0, cells }
}

/// Number of placements of an INSERT.
pub(super) fn cells(insert: &RawInsert<'_>) -> u64 {
    insert.columns.unsigned_abs().saturating_mul(insert.rows.unsigned_abs())
}

/// Things that an entity gives by itself, each as many as lines take as long.
pub(super) fn own_size(raw: &Raw<'_>, kind: &Kind) -> u64 {
    let texts = |count: usize| TEXT_IN_LINES * count as u64;
    match kind {
        Kind::Polyline(polyline) => polyline.vertices.len() as u64 + 1,
        Kind::Leader(n) => raw.leaders[*n as usize].vertices.len() as u64,
        Kind::MultiLeader(n) => {
            raw.multi_leaders[*n as usize].arms.iter().map(|arm| arm.len() as u64).sum::<u64>() + texts(1)
        }
        Kind::Text(_) | Kind::Dimension(_) => texts(1),
        Kind::Table(n) => texts(raw.tables[*n as usize].cells.len()) + 1,
        Kind::Insert(n) => texts(raw.inserts[*n as usize].attributes.len()),
        _ => 1,
    }
}
