//! What all entities have, from their openings: read once for entities of one kind that open alike.

use super::Gathered;
use crate::dxf::raw::{Common, Entity, Kind, Raw};
use crate::dxf::scan::Scanner;
use crate::dxf::tags::{Fault, Opening, Start, Tag, Tags};

/// Kinds of entities whose openings are remembered.
#[derive(Debug, Clone, Copy)]
pub(super) enum Opens {
    Line,
    Circle,
    Arc,
    /// What stands between the radius of an ARC and its angles.
    Sweep,
    Ellipse,
    Vertex,
    Polyline,
    Text,
    Insert,
    Dimension,
    Leader,
    Spline,
}

/// How many entities are read at once that open alike.
pub(in crate::dxf) const MOST_ALIKE: usize = 32;

/// How many openings of each kind are remembered: neighbours stand on few layers in turn.
const REMEMBERED: usize = 3;

/// What entities of each kind opened with last, the last one first.
#[derive(Debug, Default)]
pub(in crate::dxf) struct Openings<'a>([Vec<Known<'a>>; Opens::Spline as usize + 1]);

/// An opening, and what it says.
#[derive(Debug, Clone, Copy)]
struct Known<'a> {
    opening: Opening<'a>,
    gathered: Gathered<'a>,
    /// Index of the setting of entities that state nothing more; none before there was one.
    setting: Option<u32>,
}

/// What an entity states that all entities have.
#[derive(Debug, Clone, Copy, Default)]
pub(super) struct Opened<'a> {
    pub(super) gathered: Gathered<'a>,
    /// The setting that is known from its opening.
    setting: Option<u32>,
    /// Whether it states anything of it behind its opening.
    more: bool,
}

impl<'a> Opened<'a> {
    /// Takes a group that stands behind the opening.
    #[inline(always)]
    pub(super) fn take(&mut self, tag: Tag<'a>) -> Result<(), Fault> {
        self.more |= self.gathered.take(tag)?;
        Ok(())
    }
}

impl<'a, T: Tags<'a>> Scanner<'a, T> {
    /// Reads the opening of an entity, the groups before its own that all entities have. What is unusual there is left to be
    /// read with its own.
    #[inline(always)]
    pub(super) fn open(&mut self, kind: Opens) -> Opened<'a> {
        if let Some(known) = self.openings.0[kind as usize].first()
            && let Some(handle) = self.walk.opens_as(&known.opening)
        {
            return known.opened(handle);
        }
        self.open_otherwise(kind)
    }

    /// As [`Self::open`], of one that does not open as the last one of its kind.
    #[inline(never)]
    fn open_otherwise(&mut self, kind: Opens) -> Opened<'a> {
        if self.bring_forward(kind) {
            return self.open(kind);
        }
        let mut gathered = Gathered::default();
        let opening =
            self.walk.opening(|tag| stands_in_opening(kind, tag.code) && gathered.take(tag).is_ok());
        let openings = &mut self.openings.0[kind as usize];
        let Some(opening) = opening else {
            openings.clear();
            return Opened { more: true, ..Opened::default() };
        };
        openings.truncate(REMEMBERED - 1);
        openings.insert(0, Known { opening, gathered, setting: None });
        Opened { gathered, ..Opened::default() }
    }

    /// Reads entities of this kind and name from `start` on, for as long as each opens as the last one of its kind did, has
    /// just these numbers and nothing more, and `build` makes something of them. Whether any was read; the one after them is
    /// started next.
    #[inline(always)]
    pub(super) fn alike<const L: usize, const N: usize>(
        &mut self,
        kind: Opens,
        (start, name): (Start<'a>, &[u8; L]),
        codes: [i32; N],
        mut build: impl FnMut(&mut Raw<'a>, [f64; N]) -> Option<Kind>,
    ) -> bool {
        let known = self.openings.0[kind as usize].first();
        let Some(setting) = known.and_then(|known| known.setting) else {
            return false;
        };
        let layer = self.raw.settings[setting as usize].layer;
        if self.raw.layers.get(layer as usize).is_some_and(|layer| layer.marks) {
            return false;
        }
        let most = self.raw.entities.len() + MOST_ALIKE;
        self.each_alike(kind, (start, name), codes, |raw, start, handle, numbers| {
            let room = raw.entities.len() < most;
            let Some(kind) = room.then(|| build(raw, numbers)).flatten() else { return false };
            raw.entities.push(Entity { common: Common::new(start, handle, setting), kind });
            true
        })
    }

    /// As [`Self::alike`], with each beginning, handle and numbers given to `each`, for as long as it takes them.
    #[inline(always)]
    pub(super) fn each_alike<const L: usize, const N: usize>(
        &mut self,
        kind: Opens,
        (start, name): (Start<'a>, &[u8; L]),
        codes: [i32; N],
        mut each: impl FnMut(&mut Raw<'a>, Start<'a>, Option<u64>, [f64; N]) -> bool,
    ) -> bool {
        let Some(Known { opening, .. }) = self.openings.0[kind as usize].first() else {
            return false;
        };
        let raw = &mut self.raw;
        self.walk
            .alike(start, name, opening, codes, |start, handle, numbers| each(raw, start, handle, numbers))
    }

    /// Brings the opening to the front with which the entity opens that was started last, if it is known but not the last one.
    #[inline(never)]
    pub(super) fn bring_forward(&mut self, kind: Opens) -> bool {
        let openings = &mut self.openings.0[kind as usize];
        let found = (1..openings.len()).find(|n| self.walk.is_opened_as(&openings[*n].opening));
        if let Some(n) = found {
            openings[..=n].rotate_right(1);
        }
        found.is_some()
    }

    /// What all entities have, of one that was opened as one of this kind.
    #[inline(always)]
    pub(super) fn common_of(&mut self, kind: Opens, start: Start<'a>, opened: &Opened<'a>) -> Common {
        match opened.setting {
            Some(setting) if !opened.more => Common::new(start, opened.gathered.handle, setting),
            _ => self.new_common(kind, start, opened),
        }
    }

    #[inline(never)]
    fn new_common(&mut self, kind: Opens, start: Start<'a>, opened: &Opened<'a>) -> Common {
        let common = self.common(start, &opened.gathered);
        if let Some(known) = self.openings.0[kind as usize].first_mut()
            && !opened.more
        {
            known.setting = Some(common.setting);
        }
        common
    }
}

impl<'a> Known<'a> {
    #[inline(always)]
    fn opened(&self, handle: Option<u64>) -> Opened<'a> {
        Opened { gathered: Gathered { handle, ..self.gathered }, setting: self.setting, more: false }
    }
}

/// Whether a group of this code may stand in the opening of an entity: no reader of such an entity takes it for its own.
fn stands_in_opening(kind: Opens, code: i32) -> bool {
    match kind {
        Opens::Sweep => code == 100,
        _ => matches!(code, 5 | 6 | 8 | 48 | 60 | 62 | 67 | 100 | 330 | 347 | 370 | 390 | 420 | 430 | 440),
    }
}
