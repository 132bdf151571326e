//! What all entities have, from their openings: read once for a run of entities of one kind that open alike.

use super::Gathered;
use crate::dxf::raw::Common;
use crate::dxf::scan::Scanner;
use crate::dxf::tags::{Fault, Opening, Start, Tag, Tags};

/// Kinds of entities whose openings are remembered.
#[derive(Debug, Clone, Copy)]
pub(super) enum Opens {
    Line,
    Circle,
    Arc,
    Vertex,
}

/// What entities of each kind opened with last.
pub(in crate::dxf) type Openings<'a> = [Option<Known<'a>>; 4];

/// An opening, and what it says.
#[derive(Debug, Clone, Copy)]
pub(in crate::dxf) struct Known<'a> {
    opening: Opening<'a>,
    gathered: Gathered<'a>,
    /// Index of the setting of entities that state nothing more; none before there was one.
    setting: Option<u32>,
}

/// What an entity states that all entities have.
#[derive(Debug, Clone, Copy, Default)]
pub(super) struct Opened<'a> {
    gathered: Gathered<'a>,
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
    /// Reads the opening of an entity, up to its first group 10. Nothing, and nothing of it is passed over, where it is an
    /// unusual one.
    #[inline(always)]
    pub(super) fn open(&mut self, kind: Opens) -> Opened<'a> {
        if let Some(known) = &self.openings[kind as usize]
            && let Some(handle) = self.walk.opens_as(&known.opening)
        {
            return Opened {
                gathered: Gathered { handle, ..known.gathered },
                setting: known.setting,
                more: false,
            };
        }
        self.new_opening(kind)
    }

    #[inline(never)]
    fn new_opening(&mut self, kind: Opens) -> Opened<'a> {
        let mut gathered = Gathered::default();
        let opening = self.walk.opening(10, |tag| gathered.take(tag).is_ok());
        self.openings[kind as usize] = opening.map(|opening| Known { opening, gathered, setting: None });
        match opening {
            Some(_) => Opened { gathered, ..Opened::default() },
            None => Opened { more: true, ..Opened::default() },
        }
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
        if let Some(known) = &mut self.openings[kind as usize]
            && !opened.more
        {
            known.setting = Some(common.setting);
        }
        common
    }
}
