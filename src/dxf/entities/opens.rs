//! What all entities have, from their openings: read once for a run of entities of one kind that open alike.

use super::Gathered;
use crate::dxf::scan::Scanner;
use crate::dxf::tags::{Opening, Tags};

/// Kinds of entities whose openings are remembered.
#[derive(Debug, Clone, Copy)]
pub(super) enum Opens {
    Line,
    Circle,
    Arc,
    Vertex,
}

/// What entities of each kind opened with last, and what it says.
pub(in crate::dxf) type Openings<'a> = [Option<(Opening<'a>, Gathered<'a>)>; 4];

impl<'a, T: Tags<'a>> Scanner<'a, T> {
    /// Reads the opening of an entity, up to its first group 10. Nothing, and nothing of it is passed over, where it is an
    /// unusual one.
    #[inline(always)]
    pub(super) fn open(&mut self, kind: Opens) -> Gathered<'a> {
        if let Some((opening, gathered)) = &self.openings[kind as usize]
            && let Some(handle) = self.walk.opens_as(opening)
        {
            return Gathered { handle, ..*gathered };
        }
        self.new_opening(kind)
    }

    #[inline(never)]
    fn new_opening(&mut self, kind: Opens) -> Gathered<'a> {
        let mut gathered = Gathered::default();
        match self.walk.opening(10, |tag| gathered.take(tag).is_ok()) {
            Some(opening) => {
                self.openings[kind as usize] = Some((opening, gathered));
                gathered
            }
            None => Gathered::default(),
        }
    }
}
