//! How many holes of each view are drawn at a size that is called out. Found once for each size: on large sheets thousands of
//! callouts say the same. Chooses none.

use std::cell::RefCell;
use std::collections::HashMap;
use std::rc::Rc;

use foldhash::fast::RandomState;

use super::evidence::is_drawn_at;
use super::scene::Scene;
use crate::callout::Quantity;
use crate::drawing::SpaceId;
use crate::units::Unit;

/// The holes of a drawing by the sizes that its callouts state.
pub(super) struct Fitting<'a> {
    scene: &'a Scene<'a>,
    known: RefCell<HashMap<Key, Rc<InViews>, RandomState>>,
}

/// A size as written, and the space that it is written in.
type Key = (u64, Option<Unit>, u8, SpaceId);

/// The views of a space that have holes of one size, in their order, each with how many.
#[derive(Debug, Default)]
pub(super) struct InViews(Vec<(usize, usize)>);

impl<'a> Fitting<'a> {
    /// Those of a drawing.
    pub(super) fn new(scene: &'a Scene<'a>) -> Fitting<'a> {
        Fitting { scene, known: RefCell::default() }
    }

    /// Where the holes of a size are that is called out in a space.
    pub(super) fn in_views(&self, size: Quantity, space: SpaceId) -> Rc<InViews> {
        let key = (size.value.to_bits(), size.unit, size.decimals, space);
        let mut known = self.known.borrow_mut();
        Rc::clone(known.entry(key).or_insert_with(|| Rc::new(self.find(size, space))))
    }

    fn find(&self, size: Quantity, space: SpaceId) -> InViews {
        let scene = self.scene;
        let number = |view: usize| {
            let drawn =
                |spot: &&usize| scene.spots[**spot].space == space && is_drawn_at(scene, **spot, size);
            scene.by_view.of(view).iter().filter(drawn).count()
        };
        InViews((0..scene.by_view.views()).map(|view| (view, number(view))).filter(|(_, n)| *n > 0).collect())
    }
}

impl InViews {
    /// How many holes a view has of the size.
    pub(super) fn of(&self, view: usize) -> usize {
        self.0.binary_search_by_key(&view, |(view, _)| *view).map_or(0, |index| self.0[index].1)
    }

    /// Whether a view has just so many.
    pub(super) fn any_has(&self, number: usize) -> bool {
        self.0.iter().any(|(_, n)| *n == number)
    }

    /// How many there are in all views.
    pub(super) fn total(&self) -> usize {
        self.0.iter().map(|(_, n)| n).sum()
    }
}
