//! What rules say of holes that are alike is put into words once.

use super::{ScrewHole, Subject};

/// What is worked out once for all holes with one judgement. It must rest on nothing but what such holes share: the
/// judgement, the screw and the making.
pub(super) struct Once<T>(Vec<Option<T>>);

impl<T: Clone> Once<T> {
    /// Nothing yet.
    pub(super) fn for_holes_of(subject: &Subject<'_>) -> Once<T> {
        Once(vec![None; subject.judged.distinct()])
    }

    /// What `make` gives for a hole, or gave for one that is like it.
    pub(super) fn of(&mut self, it: &ScrewHole<'_>, make: impl FnOnce() -> T) -> T {
        match self.0.get_mut(it.judgement) {
            Some(known) => known.get_or_insert_with(make).clone(),
            None => make(),
        }
    }
}
