//! Counterbores and countersinks: which size and angle are theirs, and not the hole's.

use super::super::element::Element;
use super::super::entry::{Kind, Named};
use super::super::{Entry, Part, Size};
use super::{Assembly, Measured, Target, keep};
use crate::units::Angle;

/// A widening of which nothing is known yet.
pub(super) const EMPTY: Entry = Entry { diameter: None, depth: None, angle: None };

impl Assembly<'_> {
    /// Whether the size at `index` is an entry's whose word follows: `Ø8 C'BORE`, `Ø8 x 90°`, `.38 DIA 82° CSK`.
    pub(super) fn entry_after(&self, index: usize) -> Option<Kind> {
        let mut angle = false;
        let mut at = index;
        loop {
            let (next, element) = self.next(at)?;
            at = next;
            match element {
                Element::Tolerance(_) | Element::Bracketed { .. } | Element::DiameterWord => {}
                Element::Angle(_) => angle = true,
                Element::Entry(named) if !named.sign => {
                    let own = self.entry_has_own_size(at);
                    let first = self.callout.size.is_none() && self.entry_has_angle(at) && !angle;
                    return (!own && !first).then_some(named.kind);
                }
                _ => return angle.then_some(Kind::Sink),
            }
            if angle && self.next(at).is_none() {
                return Some(Kind::Sink);
            }
        }
    }

    /// Whether an entry word follows, past an angle.
    pub(super) fn entry_word_follows(&self, index: usize) -> bool {
        let mut at = index;
        while let Some((next, element)) = self.next(at) {
            match element {
                Element::Angle(_) => at = next,
                Element::Entry(_) => return true,
                _ => return false,
            }
        }
        false
    }

    /// Whether a size follows the entry word at `index`, past an angle or a depth.
    pub(super) fn entry_has_own_size(&self, index: usize) -> bool {
        let mut at = index;
        while let Some((next, element)) = self.next(at) {
            match element {
                Element::Angle(_) => at = next,
                Element::Size(_) | Element::LetterSize(_) | Element::Number(_) => return true,
                _ => return false,
            }
        }
        false
    }

    fn entry_has_angle(&self, index: usize) -> bool {
        matches!(self.next(index), Some((_, Element::Angle(_))))
    }

    pub(super) fn entry_size(&mut self, kind: Kind, size: &Size) -> Part {
        let (Size::Diameter(value) | Size::Drill { diameter: value, .. } | Size::Limits(value, _)) = size
        else {
            return Part::Unread;
        };
        let (slot, target) = self.widening(kind);
        let entry = slot.get_or_insert(EMPTY);
        if entry.diameter.is_some() {
            return Part::Unread;
        }
        entry.diameter = Some(*value);
        self.target = target;
        self.measured = Measured::Entry;
        Part::Entry
    }

    /// `SENKUNG Ø11 x 90°`, `SENKUNG 90° Ø11`: a word for any widening names a countersink where an angle follows it or
    /// its size.
    pub(super) fn kind_of(&self, index: usize, named: Named) -> Kind {
        let size = |e: &Element| matches!(e, Element::Size(_) | Element::Number(_));
        let sized = self.next(index).filter(|(_, e)| size(e));
        let angle = self.entry_has_angle(index)
            || sized.and_then(|(at, _)| self.next(at)).is_some_and(|(_, e)| matches!(e, Element::Angle(_)));
        if angle && !named.sign { Kind::Sink } else { named.kind }
    }

    pub(super) fn entry(&mut self, kind: Kind) -> Part {
        let (slot, target) = self.widening(kind);
        slot.get_or_insert(EMPTY);
        self.target = target;
        self.measured = Measured::Entry;
        if let (Kind::Sink, Some(angle)) = (kind, self.loose_angle.take()) {
            self.set_angle(angle);
        }
        Part::Entry
    }

    fn set_angle(&mut self, degrees: f64) -> Part {
        let entry = self.callout.countersink.get_or_insert(EMPTY);
        match Angle::from_degrees(degrees) {
            Ok(angle) => keep(&mut entry.angle, angle, Part::Entry),
            Err(_) => Part::Unread,
        }
    }

    pub(super) fn angle(&mut self, index: usize, degrees: f64) -> Part {
        if self.target == Target::Sink {
            return self.set_angle(degrees);
        }
        let sink = |e: &Element| matches!(e, Element::Entry(n) if n.kind == Kind::Sink);
        // `82° CSK`, `90° x Ø8 CSK`.
        let mut at = index;
        while let Some((next, element)) = self.next(at) {
            if sink(element) {
                self.loose_angle = Some(degrees);
                return Part::Entry;
            }
            if !matches!(element, Element::Size(_) | Element::Number(_)) {
                break;
            }
            at = next;
        }
        Part::Unread
    }

    /// Where a counterbore or countersink is kept, and what the next depth then belongs to.
    fn widening(&mut self, kind: Kind) -> (&mut Option<Entry>, Target) {
        match kind {
            Kind::Bore => (&mut self.callout.counterbore, Target::Bore),
            Kind::Sink => (&mut self.callout.countersink, Target::Sink),
        }
    }
}
