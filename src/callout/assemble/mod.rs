//! From pieces in their order to one callout: which size is the hole's and which the counterbore's, whose depth a
//! depth is, whether a thread is tapped or a screw's. What fits nowhere is handed back as unread.

mod entries;
mod measures;
mod settle;

use super::element::{Element, Placed};
use super::entry::Kind;
use super::normal::Glyphs;
use super::size::Sized;
use super::{Callout, Part, Quantity, Size, Span, WrittenTolerance};
use crate::joint::ScrewForm;
use crate::trade::Process;
use crate::units::MM_PER_INCH;

/// What the next depth or tolerance belongs to.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Target {
    Hole,
    Bore,
    Sink,
    Thread,
}

/// What stands behind a thread that was taken for its depth at first.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum BehindThread {
    /// `M4x10`, `8-32 x 1/2`.
    Length,
    /// `M4 ... 12 DEEP`.
    Depth,
}

/// What was measured last; a tolerance belongs to it.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Measured {
    Nothing,
    Size,
    Entry,
    Depth,
}

struct Assembly<'a> {
    glyphs: &'a Glyphs,
    elements: &'a [Placed],
    parts: Vec<Part>,
    callout: Callout,
    target: Target,
    measured: Measured,
    /// A size that a process word stands beside can be overtaken by a later one: `DRILL .20 REAM .224`.
    worked: bool,
    /// A tap word or `HOLE`, `FOR`, a clearance word: how a thread is meant.
    tap_word: bool,
    hole_word: bool,
    for_word: bool,
    screw_word: bool,
    solid: bool,
    clearance: bool,
    external: bool,
    /// The next bare number is a pilot's size.
    pilot: bool,
    behind_thread: Option<BehindThread>,
    loose_angle: Option<f64>,
    /// `MAX` or `MIN` before its size, and a diameter word before its number.
    extreme: Option<WrittenTolerance>,
    sign: bool,
}

/// Puts the pieces together.
pub(super) fn assemble(text: &str, glyphs: &Glyphs, elements: &[Placed]) -> Callout {
    let mut assembly = Assembly {
        glyphs,
        elements,
        parts: vec![Part::Unread; elements.len()],
        callout: Callout { text: text.to_owned(), ..Callout::default() },
        target: Target::Hole,
        measured: Measured::Nothing,
        worked: false,
        tap_word: false,
        hole_word: false,
        for_word: false,
        screw_word: false,
        solid: false,
        clearance: false,
        external: false,
        pilot: false,
        behind_thread: None,
        loose_angle: None,
        extreme: None,
        sign: false,
    };
    for index in 0..elements.len() {
        if assembly.another_begins(index) {
            break;
        }
        assembly.parts[index] = assembly.take(index);
    }
    assembly.settle();
    let mut callout = assembly.callout;
    callout.spans = spans(text, glyphs, elements, &assembly.parts);
    callout
}

/// Spans that cover every byte, neighbours of one kind of filler or unread text joined.
fn spans(text: &str, glyphs: &Glyphs, elements: &[Placed], parts: &[Part]) -> Vec<Span> {
    let mut spans: Vec<Span> = Vec::with_capacity(elements.len());
    for (placed, &part) in elements.iter().zip(parts) {
        let range = glyphs.bytes(placed.glyphs.clone());
        if range.is_empty() {
            continue;
        }
        match spans.last_mut() {
            Some(last) if last.part == part && part == Part::Filler => last.range.end = range.end,
            _ => spans.push(Span { range, part }),
        }
    }
    if spans.is_empty() && !text.is_empty() {
        spans.push(Span { range: 0..text.len(), part: Part::Filler });
    }
    spans
}

impl Assembly<'_> {
    /// Whether a second callout begins here: another count after a complete size or thread.
    fn another_begins(&self, index: usize) -> bool {
        let Element::Count(n) = self.elements[index].element else { return false };
        let stated = self.callout.size.is_some() || self.callout.thread.is_some();
        stated && self.callout.count.is_some_and(|first| first != n)
    }

    /// The next piece of weight after `index`.
    fn next(&self, index: usize) -> Option<(usize, &Element)> {
        let rest = self.elements.iter().enumerate().skip(index + 1);
        rest.map(|(i, p)| (i, &p.element)).find(|(_, e)| !e.is_filler())
    }

    /// The last piece of weight before `index`.
    fn previous(&self, index: usize) -> Option<&Element> {
        self.elements[..index].iter().rev().map(|p| &p.element).find(|e| !e.is_filler())
    }

    fn take(&mut self, index: usize) -> Part {
        let element = self.elements[index].element.clone();
        match element {
            Element::Filler | Element::Join => Part::Filler,
            Element::Unread => Part::Unread,
            Element::Count(n) => self.count(n),
            Element::EquallySpaced => Part::Count,
            Element::Size(sized) | Element::LetterSize(sized) => self.size(index, sized),
            Element::Number(value) => self.number(index, value),
            Element::DiameterWord => self.diameter_word(index),
            Element::TimesCount(n, value) => self.times(index, n, value),
            Element::Extreme(max) => self.extreme(index, max),
            Element::OtherThread(name) => {
                let part = keep(&mut self.callout.other_thread, name, Part::Thread);
                self.target = Target::Hole;
                self.measured = Measured::Depth;
                part
            }
            Element::Bracketed { value, square: false, marked: true } if self.states_nothing() => {
                // `(Ø3.6)`: an auxiliary dimension.
                self.size(index, Sized { size: Size::Diameter(value), marked: true })
            }
            Element::Bracketed { value, square, marked } => {
                let part = self.bracketed(index, value, square);
                // `#21 (Ø.159)`: the sign in the bracket marks the drill's diameter.
                self.callout.marked_diameter |= marked && part == Part::Size;
                part
            }
            Element::Tolerance(tolerance) => self.tolerance(tolerance),
            Element::TimesDepth(value) if self.is_screw_length(index) => {
                keep(&mut self.callout.screw_length, value, Part::Screw)
            }
            Element::TimesDepth(value) => self.depth(index, value),
            Element::Depth(value) => self.depth(index, value),
            Element::Length(value) => keep(&mut self.callout.screw_length, value, Part::Screw),
            Element::ThreadDepth(value) => self.thread_depth(value),
            Element::Through => {
                self.callout.through = true;
                Part::Depth
            }
            Element::Entry(named) => self.entry(self.kind_of(index, named)),
            Element::Angle(value) => self.angle(index, value),
            Element::Thread(thread) => self.thread(thread),
            Element::Tag(tag) => keep(&mut self.callout.tag, tag, Part::Tag),
            Element::Thickness(value) => keep(&mut self.callout.thickness, value, Part::Thickness),
            Element::Coated(stage) => {
                let coating = self.callout.coating.get_or_insert_default();
                keep(&mut coating.stage, stage, Part::Coating)
            }
            Element::CoatingThickness(value) => {
                let coating = self.callout.coating.get_or_insert_default();
                keep(&mut coating.thickness, value, Part::Coating)
            }
            Element::PitchCircle => Part::PitchCircle,
            word => self.word(word),
        }
    }

    /// Whether neither a size nor an entry was met so far.
    fn states_nothing(&self) -> bool {
        let callout = &self.callout;
        callout.size.is_none() && callout.counterbore.is_none() && callout.countersink.is_none()
    }

    /// Words that only raise a flag.
    fn word(&mut self, element: Element) -> Part {
        match element {
            Element::Tap => {
                self.tap_word = true;
                Part::Tapped
            }
            Element::TapDrill | Element::Pilot => {
                self.pilot = true;
                self.hole_word = true;
                self.target = Target::Hole;
                if element == Element::TapDrill {
                    self.callout.process = Some(Process::Drilled);
                }
                Part::Process
            }
            Element::Process(process) => {
                self.callout.process = Some(process);
                Part::Process
            }
            Element::Screw { form, named } => self.screw(form, named),
            Element::ScrewWord => {
                self.screw_word = true;
                Part::Screw
            }
            Element::Solid => {
                self.solid = true;
                Part::Unread
            }
            Element::For => {
                self.for_word = true;
                Part::Filler
            }
            Element::Clearance => {
                self.clearance = true;
                Part::Process
            }
            Element::Hole => {
                self.hole_word = true;
                Part::General
            }
            Element::AllHoles => {
                self.hole_word = true;
                self.callout.general = true;
                Part::General
            }
            Element::General => {
                self.callout.general = true;
                Part::General
            }
            _ => Part::Unread,
        }
    }

    fn count(&mut self, n: u32) -> Part {
        if self.callout.count == Some(n) {
            return Part::Count;
        }
        keep(&mut self.callout.count, n, Part::Count)
    }

    /// `TYPE F` names a screw only beside a thread or the word screw; `SELF-TAPPING` always.
    fn screw(&mut self, form: ScrewForm, named: bool) -> Part {
        let company =
            self.elements.iter().any(|p| matches!(p.element, Element::ScrewWord | Element::Thread(_)));
        if !named && !company {
            return Part::Unread;
        }
        // A thread-rolling standard says more than the general word before it.
        self.callout.screw.get_or_insert(form);
        Part::Screw
    }

    /// `x4` after a size counts, unless something else in the text does.
    fn times(&mut self, index: usize, n: u32, value: Quantity) -> Part {
        let others = self.elements.iter().enumerate().any(|(i, p)| i != index && counts(&p.element));
        if others || self.measured == Measured::Entry || self.callout.size.is_none() {
            return self.depth(index, value);
        }
        self.count(n)
    }

    /// `MAX` after a size makes it the only limit; before one it waits for it.
    fn extreme(&mut self, index: usize, max: bool) -> Part {
        let limit = if max { WrittenTolerance::Largest } else { WrittenTolerance::Smallest };
        let sized_next = matches!(self.next(index), Some((_, Element::Size(_) | Element::LetterSize(_))));
        match self.measured {
            Measured::Entry => Part::Entry,
            Measured::Depth => Part::Depth,
            Measured::Nothing if sized_next => {
                self.extreme = Some(limit);
                Part::Tolerance
            }
            Measured::Size if !matches!(self.callout.size, Some(Size::Limits(..))) => {
                keep(&mut self.callout.tolerance, limit, Part::Tolerance)
            }
            _ => Part::Unread,
        }
    }

    fn size(&mut self, index: usize, sized: Sized) -> Part {
        if self.numbers_a_screw(index, &sized) {
            return Part::Unread;
        }
        self.pilot = false;
        self.sign = false;
        if let Some(kind) = self.entry_after(index) {
            return self.entry_size(kind, &sized.size);
        }
        let pending = match self.target {
            Target::Bore => self.callout.counterbore.filter(|e| e.diameter.is_none()).map(|_| Kind::Bore),
            Target::Sink => self.callout.countersink.filter(|e| e.diameter.is_none()).map(|_| Kind::Sink),
            _ => None,
        };
        if let Some(kind) = pending {
            return self.entry_size(kind, &sized.size);
        }
        if self.repeats(&sized.size) {
            return Part::SecondUnit;
        }
        let worked = self.process_beside(index);
        if self.callout.size.is_some() && !(self.worked && worked) {
            return Part::Unread;
        }
        self.worked = worked;
        self.callout.marked_diameter = sized.marked;
        self.callout.size = Some(sized.size);
        self.target = Target::Hole;
        self.measured = Measured::Size;
        if let Some(limit) = self.extreme.take() {
            self.callout.tolerance.get_or_insert(limit);
        }
        Part::Size
    }

    /// Whether a process word stands right before or after.
    fn process_beside(&self, index: usize) -> bool {
        let process = |e: &Element| matches!(e, Element::Process(_));
        self.previous(index).is_some_and(process) || self.next(index).is_some_and(|(_, e)| process(e))
    }

    /// Whether the size says the hole's again in the other unit; then it is kept as that.
    fn repeats(&mut self, size: &Size) -> bool {
        let (Some(Size::Diameter(first)), Size::Diameter(second)) = (&self.callout.size, size) else {
            return false;
        };
        let repeats = self.callout.second.is_none() && in_other_unit(*first, *second);
        if repeats {
            self.callout.second = Some(*second);
        }
        repeats
    }

    /// A number without a mark takes its meaning from its neighbours.
    fn number(&mut self, index: usize, value: Quantity) -> Part {
        let size = Size::Diameter(value);
        let bare = Sized { size, marked: self.pilot || self.sign };
        let pending = match self.target {
            Target::Bore => self.callout.counterbore.is_some_and(|e| e.diameter.is_none()),
            Target::Sink => self.callout.countersink.is_some_and(|e| e.diameter.is_none()),
            _ => false,
        };
        let next_to = self.process_beside(index);
        // `2 x 45°` is a chamfer: an angle makes a countersink only of a marked diameter or beside its word.
        let chamfer =
            matches!(self.next(index), Some((_, Element::Angle(_)))) && !self.entry_word_follows(index);
        if chamfer && !pending {
            return Part::Unread;
        }
        let marked_later = self.number_of_other_words(index);
        let first = self.callout.size.is_none()
            && !marked_later
            && (self.callout.thread.is_none() || self.pilot || next_to);
        if first || pending || self.entry_after(index).is_some() || (next_to && self.worked) {
            return self.size(index, bare);
        }
        Part::Unread
    }

    /// Whether words that are not known follow the number, and a diameter with its sign stands behind them: the
    /// number is theirs.
    fn number_of_other_words(&self, index: usize) -> bool {
        let unknown = matches!(self.next(index), Some((_, Element::Unread)));
        let marked = |p: &super::element::Placed| matches!(&p.element, Element::Size(s) if s.marked);
        unknown && self.elements[index..].iter().any(marked)
    }

    fn diameter_word(&mut self, index: usize) -> Part {
        match self.measured {
            Measured::Size if self.callout.size.is_some() => {
                self.callout.marked_diameter = true;
                Part::Size
            }
            Measured::Entry => Part::Entry,
            // `DIAMH7 10`.
            Measured::Nothing if self.fit_and_number(index) => {
                self.sign = true;
                Part::Size
            }
            _ => Part::Unread,
        }
    }

    fn fit_and_number(&self, index: usize) -> bool {
        let Some((at, Element::Tolerance(WrittenTolerance::Fit(_)))) = self.next(index) else { return false };
        matches!(self.next(at), Some((_, Element::Number(_))))
    }
}

/// Whether the piece says how many, or may.
fn counts(element: &Element) -> bool {
    let bracketed = |q: &Quantity| q.decimals == 0 && q.unit.is_none() && q.value.fract() == 0.0;
    match element {
        Element::Count(_) => true,
        Element::Bracketed { value, square: false, .. } => bracketed(value),
        _ => false,
    }
}

/// Keeps the first value; a second one stays unread.
fn keep<T>(slot: &mut Option<T>, value: T, part: Part) -> Part {
    if slot.is_some() {
        return Part::Unread;
    }
    *slot = Some(value);
    part
}

/// Whether one is the other in millimetres or inches, to the rounding that drawings have.
fn in_other_unit(first: Quantity, second: Quantity) -> bool {
    if first.unit.is_some() && first.unit == second.unit {
        return false;
    }
    let ratio =
        if first.value > second.value { first.value / second.value } else { second.value / first.value };
    (ratio / MM_PER_INCH - 1.0).abs() < 0.03
}

fn same(first: f64, second: f64) -> bool {
    (first / second - 1.0).abs() < 0.005
}
