//! The pieces of a callout in the order they stand, before anything is decided about what they belong to. To add a
//! form: write its function with its test, add an [`Element`], and name both in [`next_element`].

use std::ops::Range;

use super::coating::{self, Stage};
use super::cursor::{Cursor, Read};
use super::entry::Named;
use super::meaning::Meaning;
use super::size::Sized;
use super::thread::ReadThread;
use super::words::is_latin;
use super::{Quantity, WrittenTolerance};
use super::{count, depth, entry, named, number, other_thread, size, tag, thickness, thread, tolerance};
use crate::joint::ScrewForm;
use crate::trade::Process;

/// Bodies whose standards are named by a number.
const STANDARDS: &[&str] =
    &["ISO", "DIN", "ASTM", "ASME", "ANSI", "JIS B", "JIS G", "GB", "GB/T", "SAE", "AISI", "BS"];

/// One piece.
#[derive(Debug, Clone, PartialEq)]
pub(super) enum Element {
    Count(u32),
    EquallySpaced,
    Size(Sized),
    /// A number without any mark.
    Number(Quantity),
    /// `D5.5`, which may be a name.
    LetterSize(Sized),
    /// `DIA` away from its number: `.224 ±.003 DIA`.
    DiameterWord,
    /// `(5.69)`, `[5.69]`, `(4)`.
    Bracketed {
        value: Quantity,
        square: bool,
        /// Whether a diameter sign stands inside.
        marked: bool,
    },
    Tolerance(WrittenTolerance),
    Depth(Quantity),
    /// `x 12` after a diameter.
    TimesDepth(Quantity),
    /// `x4` after a diameter and a blank: a count if nothing else counts, else a depth.
    TimesCount(u32, Quantity),
    ThreadDepth(Quantity),
    /// `x 1/2 LG` behind a thread: how long the screw is.
    Length(Quantity),
    Through,
    Entry(Named),
    Angle(f64),
    Thread(ReadThread),
    /// `G1/4`, `Tr20x4`.
    OtherThread(String),
    /// `MAX` (true), `MIN`.
    Extreme(bool),
    Tap,
    TapDrill,
    Pilot,
    Process(Process),
    /// A screw's form; `named` if the words alone name a screw (`TYPE F` does not).
    Screw {
        form: ScrewForm,
        named: bool,
    },
    ScrewWord,
    /// `SHAFT`, `PIN`.
    Solid,
    For,
    Clearance,
    Hole,
    AllHoles,
    General,
    Tag(String),
    Thickness(Quantity),
    /// `BEFORE PLATING`.
    Coated(Stage),
    /// `8 µm`.
    CoatingThickness(Quantity),
    PitchCircle,
    /// Words that change nothing.
    Join,
    Filler,
    Unread,
}

impl Element {
    /// Blanks, punctuation and words without weight.
    pub(super) fn is_filler(&self) -> bool {
        matches!(self, Element::Filler | Element::Join)
    }
}

/// A piece and the glyphs it was read from.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Placed {
    pub(super) element: Element,
    pub(super) glyphs: Range<usize>,
}

/// All pieces of a text, without gaps.
pub(super) fn elements(start: Cursor<'_>) -> Vec<Placed> {
    let mut found: Vec<Placed> = Vec::new();
    let mut c = start;
    // The last piece of weight, kept so that no form looks back over a run of blanks.
    let mut weighty: Option<usize> = None;
    while !c.at_end() {
        let before = weighty.and_then(|i| found.get(i)).map(|p| &p.element);
        let (element, end) =
            next_element(c, before).filter(|(_, end)| end.at > c.at).unwrap_or_else(|| other(c));
        match found.last_mut() {
            // One span for a run of blanks.
            Some(last) if last.element == Element::Filler && element == Element::Filler => {
                last.glyphs.end = end.at
            }
            _ => {
                if !element.is_filler() {
                    weighty = Some(found.len());
                }
                found.push(Placed { element, glyphs: c.at..end.at });
            }
        }
        c = end;
    }
    found
}

/// The form that stands here. `before` is the last piece of weight: tolerances and fits need a size before them.
fn next_element<'a>(c: Cursor<'a>, before: Option<&Element>) -> Read<'a, Element> {
    if matches!(c.peek(), Some(' ' | '\n')) {
        return None;
    }
    phrase(c)
        .or_else(|| some(coating::stage(c), Element::Coated))
        .or_else(|| some(coating::microns(c), Element::CoatingThickness))
        .or_else(|| some(named::named(c), named_value))
        .or_else(|| some(count::count(c), Element::Count))
        .or_else(|| pitch_circle(c).map(|c| (Element::PitchCircle, c)))
        .or_else(|| some(other_thread::other_thread(c), Element::OtherThread))
        .or_else(|| some(thread::thread(c), Element::Thread))
        .or_else(|| some(size::drill_name(c), Element::Size))
        .or_else(|| some(entry::entry(c), Element::Entry))
        .or_else(|| some(depth::thread_depth(c), Element::ThreadDepth))
        .or_else(|| some(depth::depth(c), Element::Depth))
        .or_else(|| some(thickness::thickness(c), Element::Thickness))
        .or_else(|| screw_length(c, before))
        .or_else(|| sized(c, before))
        .or_else(|| after_size(c, before))
        .or_else(|| some(tag::tag(c), Element::Tag))
        .or_else(|| threaded(c, before).map(|end| (Element::Tap, end)))
        .or_else(|| word(c))
        .or_else(|| bare_number(c))
}

fn some<T>(read: Read<'_, T>, element: impl FnOnce(T) -> Element) -> Read<'_, Element> {
    read.map(|(value, c)| (element(value), c))
}

/// What a named value is as a piece.
fn named_value(read: named::Named) -> Element {
    match read {
        named::Named::Size(sized) => Element::Size(sized),
        named::Named::Length(value) => Element::Number(value),
        named::Named::Unknown => Element::Unread,
    }
}

/// Phrases that must not be taken apart: `ALL HOLES`, `UNLESS NOTED`.
fn phrase(c: Cursor<'_>) -> Read<'_, Element> {
    let (meaning, end) = c.any_word()?;
    let element = match meaning {
        Meaning::AllHoles => Element::AllHoles,
        Meaning::UnlessNoted => Element::General,
        Meaning::Typical if count::count(c).is_none() => Element::General,
        _ => return None,
    };
    Some((element, end))
}

/// `Ø60 B.C.`, `60 PCD`, `ON Ø60 BC`, `PCD 60`, `LK Ø60`.
fn pitch_circle(c: Cursor<'_>) -> Option<Cursor<'_>> {
    if let Some(after) = c.word(Meaning::PitchCircle) {
        let next = after.spaces();
        let next = next.eat_any(&['=', ':']).map_or(next, |(_, c)| c.spaces());
        return Some(circle_diameter(next).unwrap_or(after));
    }
    let end = circle_diameter(c)?;
    let bracket = bracketed(end.spaces()).map_or(end, |(_, c)| c);
    let after = bracket.spaces().word(Meaning::PitchCircle)?;
    // In `Ø6,6 LK Ø60` the word belongs to the number after it.
    let next = after.spaces();
    let labels = circle_diameter(next).is_some() && count::count(next).is_none();
    (!labels).then_some(after)
}

fn circle_diameter(c: Cursor<'_>) -> Option<Cursor<'_>> {
    let c = size::diameter_sign(c).unwrap_or(c);
    let (_, end) = number::quantity(c)?;
    Some(size::diameter_word(end).unwrap_or(end))
}

/// `x 10 LG` behind a thread, `x 13` behind the size of a tapping screw.
fn screw_length<'a>(c: Cursor<'a>, before: Option<&Element>) -> Read<'a, Element> {
    let screw = matches!(before, Some(Element::Screw { .. } | Element::ScrewWord));
    let thread = matches!(before, Some(Element::Thread(_)));
    let long = depth::long(c).filter(|_| screw || thread);
    some(long.or_else(|| depth::times_depth(c).filter(|_| screw)), Element::Length)
}

/// Sizes that carry a mark, and bare ones that carry a tolerance of their own kind.
fn sized<'a>(c: Cursor<'a>, before: Option<&Element>) -> Read<'a, Element> {
    if let Some((angle, end)) = number::degrees(c) {
        return Some((Element::Angle(angle), end));
    }
    some(size::limits(c), Element::Size)
        .or_else(|| some(size::radius(c), Element::Size))
        .or_else(|| some(size::diameter(c), Element::Size))
        .or_else(|| {
            // `Ø10 D10` has the fit D10.
            let sized =
                matches!(before, Some(Element::Size(_) | Element::Bracketed { .. } | Element::DiameterWord));
            let fit = sized && tolerance::fit(c).is_some();
            some(size::letter_diameter(c).filter(|_| !fit), Element::LetterSize)
        })
        .or_else(|| {
            let sized = matches!(before, Some(Element::Size(_) | Element::Tolerance(_) | Element::Thread(_)));
            if !sized {
                return None;
            }
            let threaded = matches!(before, Some(Element::Thread(_)));
            some(count::behind(c).filter(|_| !threaded), |(n, q)| Element::TimesCount(n, q))
                .or_else(|| some(depth::times_depth(c), Element::TimesDepth))
        })
}

/// What only follows a size: brackets, tolerances, fits.
fn after_size<'a>(c: Cursor<'a>, before: Option<&Element>) -> Read<'a, Element> {
    if let Some((found, end)) = bracketed(c) {
        return Some((found, end));
    }
    let measured = matches!(
        before,
        Some(
            Element::Size(_)
                | Element::LetterSize(_)
                | Element::Number(_)
                | Element::Bracketed { .. }
                | Element::Depth(_)
                | Element::TimesDepth(_)
                | Element::ThreadDepth(_)
                | Element::DiameterWord
                | Element::Tolerance(_)
        )
    );
    let signed = tolerance::plus_minus(c);
    if signed.is_some() || measured {
        let found = signed.or_else(|| tolerance::deviations(c)).or_else(|| tolerance::fit(c));
        if found.is_some() {
            return some(found, Element::Tolerance);
        }
    } else if c.peek() == Some('+') {
        return some(tolerance::deviations(c), Element::Tolerance);
    }
    None
}

/// `(5.69)`, `[5.69]`, `[Ø5.69 ±0.08]`.
fn bracketed(c: Cursor<'_>) -> Read<'_, Element> {
    let (open, inner) = c.eat_any(&['(', '['])?;
    let inner = inner.spaces();
    let sign = size::diameter_sign(inner);
    let (value, after) = number::quantity(sign.unwrap_or(inner))?;
    let after = size::diameter_word(after).unwrap_or(after).blanks();
    let after = tolerance::tolerance(after).map_or(after, |(_, c)| c).blanks();
    let after = after.eat('/').and_then(number::quantity).map_or(after, |(_, c)| c).blanks();
    let end = after.eat(if open == '(' { ')' } else { ']' })?;
    Some((Element::Bracketed { value, square: open == '[', marked: sign.is_some() }, end))
}

/// `M8ネジ`: behind a thread the word for thread and screw says that the hole has it, unless it is for a screw.
fn threaded<'a>(c: Cursor<'a>, before: Option<&Element>) -> Option<Cursor<'a>> {
    let behind_thread = matches!(before, Some(Element::Thread(_)));
    let spelled = |word: &str| word.chars().try_fold(c, Cursor::eat);
    let end = spelled("ネジ").or_else(|| spelled("ねじ")).filter(|_| behind_thread)?;
    let known = c.any_word().is_some_and(|(meaning, to)| meaning == Meaning::Screw && to.at == end.at);
    (known && end.spaces().peek() != Some('用')).then_some(end)
}

/// A known word with a meaning of its own.
fn word(c: Cursor<'_>) -> Read<'_, Element> {
    if let Some(end) = depth::through(c) {
        return Some((Element::Through, end));
    }
    if let Some(end) = size::sign_before_fit(c) {
        return Some((Element::DiameterWord, end));
    }
    if let Some(end) = tapping_screw_size(c) {
        return Some((Element::Screw { form: ScrewForm::Spaced, named: true }, end));
    }
    let (meaning, end) = c.any_word()?;
    let screw = |form| Element::Screw { form, named: !c.text_to(end).starts_with("TYPE") };
    let element = match meaning {
        Meaning::EquallySpaced => Element::EquallySpaced,
        Meaning::Diameter => Element::DiameterWord,
        Meaning::Tap | Meaning::TappedHole => Element::Tap,
        Meaning::TapDrill => Element::TapDrill,
        Meaning::Pilot => Element::Pilot,
        Meaning::ScrewRolling => screw(ScrewForm::Rolling),
        Meaning::ScrewCutting => screw(ScrewForm::Cutting),
        Meaning::ScrewSpaced => screw(ScrewForm::Spaced),
        Meaning::Screw => Element::ScrewWord,
        Meaning::Solid => Element::Solid,
        Meaning::For => Element::For,
        Meaning::Clearance => Element::Clearance,
        Meaning::Hole => Element::Hole,
        Meaning::Max => Element::Extreme(true),
        Meaning::Min => Element::Extreme(false),
        Meaning::Join => Element::Join,
        _ => Element::Process(meaning.process()?),
    };
    Some((element, end))
}

/// `ST4.2`: the thread of a tapping screw (ISO 1478). `ST37` is a steel.
fn tapping_screw_size(c: Cursor<'_>) -> Option<Cursor<'_>> {
    let after = c.eat('S')?.eat('T').filter(|_| c.at_word_start())?;
    let (size, end) = number::decimal(after.spaces())?;
    (size.decimals == 1 && (1.5..=9.5).contains(&size.value) && end.at_word_end()).then_some(end)
}

fn bare_number(c: Cursor<'_>) -> Read<'_, Element> {
    let starts = !c.before().is_some_and(|b| b.is_ascii_digit() || b == '.' || b == '/');
    let (value, end) = number::quantity(c).filter(|_| starts)?;
    let fraction_of_more = end.peek() == Some('/') && end.peek_at(1).is_some_and(|c| c.is_ascii_digit());
    let part_number = end.peek() == Some('-') && end.peek_at(1).is_some_and(|c| c.is_ascii_alphanumeric());
    let ratio = end.peek() == Some(':') && end.peek_at(1).is_some_and(|c| c.is_ascii_digit());
    // `10H7`: the fit runs on without a blank.
    let fitted =
        end.peek().is_some_and(|c| c.is_ascii_alphabetic()) && !end.small() && tolerance::fit(end).is_some();
    if numbers_a_standard(c, value) {
        return None;
    }
    let sound =
        (end.at_word_end() || fitted) && !fraction_of_more && !part_number && !ratio && !numbers_a_note(c);
    sound.then_some((Element::Number(value), end))
}

/// `ISO 13715`, `DIN 6771`: the number of a standard is no size.
fn numbers_a_standard(c: Cursor<'_>, value: Quantity) -> bool {
    if value.decimals > 0 || value.value < 100.0 {
        return false;
    }
    let before = c.back(&[' ', '-']);
    STANDARDS.iter().any(|body| {
        let start = before.moved_to(before.at.saturating_sub(body.len()));
        start.text_to(before) == **body && start.at_word_start()
    })
}

/// `5. DRILL BEFORE PAINTING`, `4) REAM AFTER WELDING`: a number at the start of a line that counts notes.
fn numbers_a_note(c: Cursor<'_>) -> bool {
    let starts_line = c.before().is_none_or(|b| b == '\n');
    let point = number::integer(c).and_then(|(_, c)| c.eat_any(&['.', ')']));
    let word = point.is_some_and(|(_, c)| c.peek() == Some(' ') && c.spaces().peek().is_some_and(is_latin));
    starts_line && word
}

/// Punctuation is filler; letters and digits that no form took are an unread word, whole, so that nothing is read
/// out of the middle of a part number.
fn other(c: Cursor<'_>) -> (Element, Cursor<'_>) {
    let Some(first) = c.peek() else { return (Element::Filler, c) };
    if first == 'X' && !c.peek_at(1).is_some_and(is_latin) && !c.before().is_some_and(is_latin) {
        return (Element::Filler, c.next());
    }
    // `Ø11 à 90°`.
    if first == 'A' && c.small() && c.at_word_start() && number::degrees(c.next().spaces()).is_some() {
        return (Element::Filler, c.next());
    }
    if !first.is_alphanumeric() || first == 'Ø' {
        let sign = matches!(first, '⌴' | '⌵' | '↧' | '±' | '°' | 'Ø' | '□' | '#' | '%' | '$' | '@' | '\\');
        let known = first.is_whitespace() || first.is_ascii_punctuation() || first == '–' || first == '·';
        // A row of one sign is one piece.
        let end = c.while_is(|next| next == first);
        return (if sign || !known { Element::Unread } else { Element::Filler }, end);
    }
    let mut end = c.next();
    while let Some(next) = end.peek() {
        let joins = matches!(next, '.' | ',' | '-' | '/' | '_' | '\'' | ':')
            && end.peek_at(1).is_some_and(|c| c.is_ascii_alphanumeric());
        let runs = next.is_alphanumeric() && next != 'Ø';
        // Ideographs are not set apart by blanks: a known word may begin at any of them.
        let new_word = !next.is_ascii() && end.any_word().is_some();
        if !(runs || joins) || new_word {
            break;
        }
        end = end.next();
    }
    (Element::Unread, end)
}
