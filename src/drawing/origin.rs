//! Where a thing of a drawing comes from. There is one of these for each line, so each byte counts.

use std::num::{NonZeroU32, NonZeroU64};

use crate::shared::SharedText;

/// Index into [`Drawing::layers`](super::Drawing::layers).
pub type LayerId = u32;
/// Index into [`Drawing::spaces`](super::Drawing::spaces); 0 is model space.
pub type SpaceId = u16;

/// One of [`Drawing::inserts`](super::Drawing::inserts).
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct InsertId(
    /// One more than its index, so that having none takes no room.
    NonZeroU32,
);

impl InsertId {
    /// The one with this index; none for an index that no drawing reaches.
    pub fn new(index: usize) -> Option<InsertId> {
        NonZeroU32::new(u32::try_from(index).ok()?.checked_add(1)?).map(InsertId)
    }

    /// Its index.
    pub fn index(self) -> usize {
        self.0.get() as usize - 1
    }
}

/// What a line of some pattern stands for.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Default)]
pub enum Stands {
    /// Anything else: most often an edge in sight.
    #[default]
    Other,
    /// A centre line: CENTER, DASHDOT and the like.
    Centre,
    /// No edge in sight, a hidden one or one of another part: HIDDEN, DASHED, PHANTOM and the like.
    Hidden,
}

/// Where a thing comes from. There is one for each line of a drawing, so it is kept small.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Origin {
    /// Handle of the entity (of the entity in the block, for what an INSERT shows); none in many old files.
    pub handle: Option<NonZeroU64>,
    /// Its layer, after "layer 0 in a block takes its INSERT's layer".
    pub layer: LayerId,
    /// 1-based line of the entity's first line in a text file, 0 in a binary one. No file has more lines than this holds.
    pub line: u32,
    /// The space it is drawn in.
    pub space: SpaceId,
    /// False when its layer (or an INSERT's) is off or frozen, or it is marked invisible.
    pub visible: bool,
    /// The innermost INSERT that shows it, if it stands in a block.
    pub insert: Option<InsertId>,
    /// What its line type (own or by layer) stands for.
    pub stands: Stands,
}

impl Origin {
    /// Whether it is drawn as a centre line.
    pub fn is_centre_line(&self) -> bool {
        self.stands == Stands::Centre
    }

    /// Whether it is drawn as what is no edge in sight.
    pub fn is_hidden_line(&self) -> bool {
        self.stands == Stands::Hidden
    }

    /// The handle as reports print it: upper-case hexadecimal.
    pub fn handle_text(&self) -> Option<SharedText> {
        self.handle.map(|handle| SharedText::numbered("", handle.get(), 16))
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::drawing::Segment;

    #[test]
    fn an_origin_takes_no_more_room_than_three_numbers() {
        assert_eq!((size_of::<Origin>(), size_of::<Segment>()), (24, 56));
        assert_eq!(InsertId::new(7).map(InsertId::index), Some(7));
        assert_eq!(InsertId::new(u32::MAX as usize), None);
    }
}
