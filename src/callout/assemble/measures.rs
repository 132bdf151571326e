//! What stands behind a size or a thread and whose it is: brackets, tolerances, depths, and the length of a screw.

use super::entries::EMPTY;
use super::{Assembly, BehindThread, Measured, Target, in_other_unit, keep, same};
use crate::callout::element::Element;
use crate::callout::size::Sized;
use crate::callout::thread::ReadThread;
use crate::callout::{Part, Quantity, Size, WrittenTolerance};

impl Assembly<'_> {
    /// `[5.69]` is the size in the other unit, `(.136)` beside a drill its diameter again, `(4)` a count.
    pub(super) fn bracketed(&mut self, index: usize, value: Quantity, square: bool) -> Part {
        let whole = value.decimals == 0 && value.value.fract() == 0.0 && !square;
        let counts = whole && value.unit.is_none() && value.value <= 10_000.0;
        let first = match &self.callout.size {
            Some(Size::Diameter(q) | Size::Drill { diameter: q, .. } | Size::Radius(q)) => Some(*q),
            Some(Size::Limits(low, high)) => Some(if square { *low } else { *high }),
            None => None,
        };
        match first {
            Some(first) if self.measured == Measured::Size && in_other_unit(first, value) => {
                return keep(&mut self.callout.second, value, Part::SecondUnit);
            }
            Some(first) if same(first.value, value.value) && !counts => return Part::Size,
            _ => {}
        }
        match self.measured {
            Measured::Entry if !counts => return Part::Entry,
            Measured::Depth if !counts => return Part::Depth,
            _ => {}
        }
        let sized_later = self.next(index).is_some_and(|(_, e)| {
            matches!(e, Element::Size(_) | Element::Thread(_) | Element::Number(_) | Element::Process(_))
        });
        if counts && (first.is_some() || self.callout.thread.is_some() || sized_later) {
            #[expect(
                clippy::cast_possible_truncation,
                clippy::cast_sign_loss,
                reason = "whole, 1 to 10,000"
            )]
            return self.count(value.value as u32);
        }
        Part::Unread
    }

    pub(super) fn tolerance(&mut self, tolerance: WrittenTolerance) -> Part {
        match self.measured {
            Measured::Entry => Part::Entry,
            Measured::Depth => Part::Depth,
            Measured::Size | Measured::Nothing => {
                // `H11 (+0.075/0)`: the numbers say what the fit is.
                let fit = matches!(self.callout.tolerance, Some(WrittenTolerance::Fit(_)));
                if self.callout.tolerance.is_some() && !fit {
                    return Part::Unread;
                }
                self.callout.tolerance = Some(tolerance);
                Part::Tolerance
            }
        }
    }

    /// `#6 x 1/2 SCREW` beside the hole's own size: the number of a screw, and its length.
    pub(super) fn is_screw_length(&self, index: usize) -> bool {
        let before = self.elements[..index].iter().zip(&self.parts).rev();
        let drill = before.map(|(p, part)| (&p.element, part)).find(|(e, _)| !e.is_filler());
        let other =
            matches!(drill, Some((Element::Size(Sized { size: Size::Drill { .. }, .. }), Part::Unread)));
        other && self.names_a_screw()
    }

    /// `FOR #6 TAPPING SCREW`: the number is the screw's, no drill.
    pub(super) fn numbers_a_screw(&self, index: usize, sized: &Sized) -> bool {
        let number = matches!(&sized.size, Size::Drill { name, .. } if name.starts_with('#'));
        number && matches!(self.previous(index), Some(Element::For)) && self.names_a_screw()
    }

    fn names_a_screw(&self) -> bool {
        self.elements.iter().any(|p| matches!(p.element, Element::ScrewWord | Element::Screw { .. }))
    }

    pub(super) fn depth(&mut self, index: usize, value: Quantity) -> Part {
        self.measured = Measured::Depth;
        let times = matches!(self.elements[index].element, Element::TimesDepth(_));
        let next_to = matches!(self.previous(index), Some(Element::Thread(_)));
        let behind = if times && next_to { BehindThread::Length } else { BehindThread::Depth };
        let callout = &mut self.callout;
        let slot = match self.target {
            Target::Hole => &mut callout.depth,
            Target::Bore => &mut callout.counterbore.get_or_insert(EMPTY).depth,
            Target::Sink => &mut callout.countersink.get_or_insert(EMPTY).depth,
            Target::Thread => match &mut callout.thread {
                Some(thread) if thread.depth.is_none() => {
                    self.behind_thread = Some(behind);
                    &mut thread.depth
                }
                _ => &mut callout.depth,
            },
        };
        let part = if matches!(self.target, Target::Bore | Target::Sink) { Part::Entry } else { Part::Depth };
        keep(slot, value, part)
    }

    pub(super) fn thread_depth(&mut self, value: Quantity) -> Part {
        self.measured = Measured::Depth;
        match &mut self.callout.thread {
            Some(thread) => keep(&mut thread.depth, value, Part::Depth),
            None => Part::Unread,
        }
    }

    pub(super) fn thread(&mut self, read: ReadThread) -> Part {
        if let Some(first) = &self.callout.thread {
            // `M4 TAP FOR M4 SCREW` names the thread twice.
            return if first.thread == read.named.thread { Part::Thread } else { Part::Unread };
        }
        self.external |= read.external;
        self.behind_thread = read.lengthed.then_some(BehindThread::Length);
        self.callout.thread = Some(read.named);
        self.target = Target::Thread;
        self.measured = Measured::Depth;
        Part::Thread
    }
}
