//! What needs the whole text to decide: whether a thread is tapped, whether a bare number is a diameter, whether the
//! text speaks of a hole or of a screw, a shaft, a machine.

use super::super::element::{Element, Placed};
use super::super::{Part, Size, WrittenTolerance};
use super::{Assembly, BehindThread};
use crate::trade::Process;
use crate::units::Unit;

impl Assembly<'_> {
    /// Decides what needs the whole text: whether the thread is tapped, whether a bare number is a diameter.
    pub(super) fn settle(&mut self) {
        self.swap_inverted_entry();
        self.drop_threads_of_other_things();
        self.drop_diameters_of_solids();
        let marked = self.marked();
        let callout = &mut self.callout;
        let internal_class = callout.thread.as_ref().is_some_and(|t| t.class.is_some()) && !self.external;
        let screws = callout.screw.is_some()
            || self.clearance
            || ((self.for_word || self.screw_word) && !internal_class);
        callout.tapped =
            self.tap_word || callout.other_thread.is_some() || (callout.thread.is_some() && !screws);
        callout.marked_diameter = marked;
        self.settle_screw_length(screws);
        self.unmark_names();
    }

    /// The number in `FOR M4x10 SCREW` is the screw's length, and a depth behind it the hole's; in `M4x10 TAP` it is
    /// the thread's.
    fn settle_screw_length(&mut self, screws: bool) {
        if self.callout.tapped || !screws {
            self.callout.screw_length = None;
            self.unread(|e| matches!(e, Element::Length(_)));
            return;
        }
        let Some(behind) = self.behind_thread.take() else { return };
        let (Some(named), callout) = (&mut self.callout.thread, &mut self.callout.depth) else { return };
        match behind {
            BehindThread::Length => {
                self.callout.screw_length = self.callout.screw_length.or(named.depth.take())
            }
            BehindThread::Depth => *callout = callout.or(named.depth.take()),
        }
    }

    /// Whether the size is a diameter: by its sign, or by words that only holes have.
    fn marked(&self) -> bool {
        let callout = &self.callout;
        if callout.marked_diameter {
            return true;
        }
        // A casting or an extrusion has other numbers than those of its holes.
        let cut = callout.process.is_some_and(|p| !matches!(p, Process::Cored | Process::Extruded));
        let depth = callout.through || callout.depth.is_some();
        let entry = callout.counterbore.is_some() || callout.countersink.is_some();
        // `2X #7`: a drill that is counted and nothing else is said of; `4X #10 SCREW` is not.
        let counted_drill =
            callout.count.is_some() && !self.screw_word && matches!(callout.size, Some(Size::Drill { .. }));
        let company = self.hole_word || depth || cut || entry || self.tap_word || counted_drill;
        let diameter = !matches!(callout.size, None | Some(Size::Radius(_)));
        diameter && company && (self.unread_words(self.elements.len()) == 0 || self.worked_decimal())
    }

    /// `.224 DRILL BEFORE PAINTING`: a decimal beside its process or depth, with nothing unknown before it, in a
    /// text that goes on.
    fn worked_decimal(&self) -> bool {
        let Some(index) = self.parts.iter().position(|p| *p == Part::Size) else { return false };
        let decimal = match &self.callout.size {
            Some(Size::Diameter(q) | Size::Limits(q, _)) => q.decimals > 0 || q.unit == Some(Unit::Inch),
            _ => false,
        };
        let through = matches!(self.next(index), Some((_, Element::Through)));
        decimal && (through || self.process_beside(index)) && self.unread_words(index) == 0
    }

    /// How many pieces with letters before the piece `end` were not understood.
    fn unread_words(&self, end: usize) -> usize {
        let glyphs = self.glyphs.as_slice();
        let lettered = |p: &Placed| glyphs[p.glyphs.clone()].iter().any(|g| g.ch.is_alphabetic());
        let pieces = self.elements.iter().zip(&self.parts).take(end);
        pieces.filter(|(placed, part)| **part == Part::Unread && lettered(placed)).count()
    }

    /// `D5.5` in company is a diameter; `D100` alone may be a machine.
    fn unmark_names(&mut self) {
        let Some(index) = self.elements.iter().position(|p| matches!(p.element, Element::LetterSize(_)))
        else {
            return;
        };
        if self.parts[index] != Part::Size || self.callout.marked_diameter {
            return;
        }
        let more = self.callout.count.is_some() || self.callout.tolerance.is_some();
        let company = more && self.unread_words(self.elements.len()) == 0;
        if company {
            self.callout.marked_diameter = true;
        } else {
            self.callout.size = None;
            self.parts[index] = Part::Unread;
        }
    }

    /// A counterbore is wider than its hole; `Ø8 C'BORE Ø5 THRU` is read the other way round at first.
    fn swap_inverted_entry(&mut self) {
        let Some(Size::Diameter(hole)) = &mut self.callout.size else { return };
        for entry in [&mut self.callout.counterbore, &mut self.callout.countersink].into_iter().flatten() {
            if let Some(diameter) = &mut entry.diameter
                && diameter.unit == hole.unit
                && diameter.value < hole.value
            {
                std::mem::swap(diameter, hole);
            }
        }
    }

    /// A line of a parts list names a screw, no hole: `SCREW M4x10`. A screw's thread class does the same, and so
    /// do words around a bare thread that say something else: `MODEL M4`.
    fn drop_threads_of_other_things(&mut self) {
        let Some(named) = &self.callout.thread else { return };
        let callout = &self.callout;
        let screws = callout.screw.is_some() || self.for_word || self.clearance;
        let stated = callout.size.is_some() || callout.through || self.tap_word || self.hole_word || screws;
        let at_length = self.elements.iter().any(|p| matches!(&p.element, Element::Thread(t) if t.detailed));
        let detailed = at_length || named.class.is_some() || named.depth.is_some() || callout.count.is_some();
        let other_words = self.unread_words(self.elements.len()) > 0;
        let parts_list = self.screw_word && !stated;
        let external = self.external && !self.tap_word;
        if parts_list || external || (other_words && !stated && !detailed) {
            self.callout.thread = None;
            self.unread(|e| matches!(e, Element::Thread(_)));
        }
    }

    /// `WELD Ø5 STUD`, `PIPE Ø60.3x2.9`: the diameter of a thing, not of a hole.
    fn drop_diameters_of_solids(&mut self) {
        let callout = &self.callout;
        let hole_fit =
            matches!(&callout.tolerance, Some(WrittenTolerance::Fit(f)) if f.starts_with(char::is_uppercase));
        let worked = callout.through || callout.process.is_some() || callout.count.is_some();
        let threaded = callout.thread.is_some() || callout.other_thread.is_some();
        let hole = worked || hole_fit || self.hole_word || self.for_word || threaded;
        let stud = self.screw_word && callout.screw.is_none();
        let written_depth = self.elements.iter().any(|p| matches!(p.element, Element::Depth(_)));
        if !(self.solid || stud) || hole || written_depth || callout.size.is_none() {
            return;
        }
        self.callout.size = None;
        self.callout.marked_diameter = false;
        self.callout.depth = None;
        let size = |e: &Element| {
            matches!(
                e,
                Element::Size(_) | Element::LetterSize(_) | Element::Number(_) | Element::TimesDepth(_)
            )
        };
        self.unread(size);
    }

    /// Hands pieces back as unread.
    fn unread(&mut self, which: impl Fn(&Element) -> bool) {
        for (placed, part) in self.elements.iter().zip(&mut self.parts) {
            if which(&placed.element) {
                *part = Part::Unread;
            }
        }
    }
}
