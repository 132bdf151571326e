//! Every text of a drawing as a statement: read as a callout and as a note, lines that belong together joined.
//!
//! Does not say what a statement is about; that is `anchors` and `evidence`.

use std::sync::Arc;

use super::{frames, stacked};
use crate::callout::note::{self, Note};
use crate::callout::{Callout, Part, Quantity, Size, Span, Words, WrittenTolerance};
use crate::drawing::{Dimension, DimensionKind, DimensionTolerance, Drawing, Origin, Text, TextKind};
use crate::geometry::{Bounds, Point};
use crate::units::MM_PER_INCH;

/// What a statement was written with.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Carrier {
    /// Index into [`Drawing::texts`] (of the first of the joined lines).
    Text(usize),
    /// Index into [`Drawing::dimensions`].
    Dimension(usize),
    /// A row of a hole table.
    TableRow,
}

/// A text and what it was read as.
#[derive(Debug, Clone)]
pub(super) struct Statement {
    pub(super) carrier: Carrier,
    /// Indices of all texts that were joined into it.
    pub(super) texts: Vec<usize>,
    pub(super) callout: Arc<Callout>,
    pub(super) note: Arc<Note>,
    pub(super) origin: Origin,
    pub(super) at: Point,
    pub(super) bounds: Bounds,
    /// Letter height; of the sheet's texts where the carrier states none.
    pub(super) height: f64,
    /// The holes that a table row or a tagged callout names; empty if it names none.
    pub(super) tags: Vec<String>,
    /// Where a table row says that its hole is, from the table's origin.
    pub(super) place: Option<(Quantity, Quantity)>,
}

impl Statement {
    /// The diameter that it calls for, in stated units, with the unit if it states one.
    pub(super) fn called(&self) -> Option<Quantity> {
        self.callout.size.as_ref().map(called_diameter)
    }

    /// The middle of its box.
    pub(super) fn middle(&self) -> Point {
        self.bounds.middle()
    }

    /// Whether it says `TYP`, and so speaks of the holes like the one it points at, not of all.
    pub(super) fn typical(&self) -> bool {
        self.callout.text.split(|c: char| !c.is_alphabetic()).any(|w| {
            let w = w.to_uppercase();
            w == "TYP" || w == "TYPICAL" || w == "TYPISCH"
        })
    }
}

/// The diameter of a size: the middle of limits, twice a radius.
pub(super) fn called_diameter(size: &Size) -> Quantity {
    match size {
        Size::Diameter(q) => *q,
        Size::Drill { diameter, .. } => *diameter,
        Size::Radius(q) => Quantity { value: q.value * 2.0, ..*q },
        Size::Limits(a, b) => Quantity { value: f64::midpoint(a.value, b.value), ..*b },
    }
}

/// Reads every text by itself, `height` being the letter height of those that state none. Tables are read from these by
/// `tables`, the rest is joined by [`whole`].
pub(super) fn singles(drawing: &Drawing, height: f64, words: &Words) -> Vec<Statement> {
    let zones = frames::zones(drawing);
    let mut statements = Vec::with_capacity(drawing.texts.len());
    for (i, text) in drawing.texts.iter().enumerate() {
        if text.origin.visible && !text.content.trim().is_empty() {
            read_text(i, text, zones[i], height, words, &mut statements);
        }
    }
    statements
}

/// All statements, in an order that does not depend on the file, and which of them are cells of a table: cells as
/// they are, for lines of one column belong to different holes; other texts joined; dimensions.
pub(super) fn whole(
    drawing: &Drawing,
    singles: Vec<Statement>,
    in_table: &[bool],
    height: f64,
    words: &Words,
) -> (Vec<Statement>, Vec<bool>) {
    let is_cell = |i: usize| in_table.get(i).copied().unwrap_or(false);
    let (cells, free): (Vec<_>, Vec<_>) = singles.into_iter().enumerate().partition(|(i, _)| is_cell(*i));
    let free = stacked::join(drawing, free.into_iter().map(|(_, s)| s).collect(), words);
    let free = join_lines(drawing, free, words);
    let dimensions = drawing.dimensions.iter().enumerate().filter(|(_, d)| d.origin.visible);
    let dimensions = dimensions.filter_map(|(i, d)| read_dimension(i, d, height, words));
    let mut all: Vec<(Statement, bool)> = cells.into_iter().map(|(_, s)| (s, true)).collect();
    all.extend(free.into_iter().chain(dimensions).map(|s| (s, false)));
    all.sort_by(|(a, _), (b, _)| {
        (a.origin.space.cmp(&b.origin.space))
            .then_with(|| b.at.y.total_cmp(&a.at.y))
            .then_with(|| a.at.x.total_cmp(&b.at.x))
            .then_with(|| a.callout.text.cmp(&b.callout.text))
            .then_with(|| a.origin.handle.cmp(&b.origin.handle))
    });
    all.into_iter().unzip()
}

/// Median letter height of the visible texts; a guess where there is none.
pub(super) fn usual_height(drawing: &Drawing) -> f64 {
    let mut heights: Vec<f64> =
        drawing.texts.iter().filter(|t| t.origin.visible && t.height > 0.0).map(|t| t.height).collect();
    if heights.is_empty() {
        let mut diameters: Vec<f64> =
            drawing.circles.iter().filter(|c| c.origin.visible).map(|c| c.diameter).collect();
        return middle(&mut diameters).unwrap_or(1.0).max(f64::MIN_POSITIVE);
    }
    middle(&mut heights).unwrap_or(1.0)
}

/// The upper median; none of nothing.
fn middle(values: &mut [f64]) -> Option<f64> {
    let half = values.len() / 2;
    (half < values.len()).then(|| *values.select_nth_unstable_by(half, f64::total_cmp).1)
}

fn read_text(index: usize, text: &Text, is_zone: bool, usual: f64, words: &Words, out: &mut Vec<Statement>) {
    let height = if text.height > 0.0 { text.height } else { usual };
    let bounds = if text.bounds.is_empty() { Bounds { min: text.at, max: text.at } } else { text.bounds };
    let statement = |(callout, note): (Arc<Callout>, Arc<Note>)| Statement {
        carrier: Carrier::Text(index),
        texts: vec![index],
        tags: callout.tag.iter().cloned().collect(),
        place: None,
        callout,
        note,
        origin: text.origin,
        at: text.at,
        bounds,
        height,
    };
    let content = without_number(&text.content);
    match &text.kind {
        // A feature control frame states a tolerance zone, whose Ø is no hole.
        TextKind::Text | TextKind::MText if is_zone => {
            out.push(statement((unread(&text.content).into(), Arc::default())));
        }
        TextKind::Tolerance | TextKind::AttributeDefinition { .. } => {
            out.push(statement((unread(&text.content).into(), Arc::default())));
        }
        kind if is_list_of_notes(&text.content) => {
            let read = |n: &String| (words.callout(n), read_note(kind, without_number(n), words));
            out.extend(notes_of(&text.content).iter().map(|n| statement(read(n))));
        }
        TextKind::Text | TextKind::MText if is_several_callouts(&text.content, words) => {
            let lines = text.content.lines().map(str::trim).filter(|l| !l.is_empty());
            out.extend(lines.map(|l| statement((words.callout(l), words.note(l)))));
        }
        kind @ TextKind::Attribute { .. } => {
            out.push(statement((words.callout(content), read_note(kind, content, words))));
        }
        _ => {
            let parts = counted_parts(content, words);
            out.extend(parts.iter().map(|part| statement((words.callout(part), words.note(part)))));
        }
    }
}

/// The callouts of one line, each with a count of its own: `2X Ø5 THRU, 4X Ø3.2`. The whole text where it is one.
fn counted_parts<'t>(content: &'t str, words: &Words) -> Vec<&'t str> {
    let mut parts = Vec::with_capacity(1);
    let mut rest = content;
    while let Some(at) = second_count(rest, words) {
        parts.push(rest[..at].trim_end_matches([' ', ',', ';', '/', '&', '+']));
        rest = &rest[at..];
    }
    parts.push(rest);
    parts
}

/// Where a second callout with another count begins, behind a whole one.
fn second_count(line: &str, words: &Words) -> Option<usize> {
    let first = words.callout(line);
    if line.contains('\n') || first.count.is_none() || !first.states_hole() {
        return None;
    }
    let begins = |rest: &str| {
        let next = words.callout(rest);
        let counted = next.spans.first().is_some_and(|span| span.part == Part::Count);
        counted && next.count != first.count && next.states_hole()
    };
    let unread = first.spans.iter().filter(|span| span.part == Part::Unread).map(|span| span.range.start);
    unread.filter(|at| *at > 0).find(|at| line.get(*at..).is_some_and(begins))
}

fn read_note(kind: &TextKind, content: &str, words: &Words) -> Arc<Note> {
    match kind {
        TextKind::Attribute { tag } => note::read_attribute_with(tag, content, words).into(),
        _ => words.note(content),
    }
}

/// A note without the number it has in a list of notes, which is no size and no count.
fn without_number(line: &str) -> &str {
    let line = line.trim();
    let rest = line.trim_start_matches(|c: char| c.is_ascii_digit());
    match rest.strip_prefix(['.', ')']) {
        Some(note) if rest.len() < line.len() && note.starts_with(char::is_whitespace) => note.trim_start(),
        _ => line,
    }
}

fn is_numbered(line: &str) -> bool {
    without_number(line).len() < line.trim().len()
}

/// The notes of a list: each line, or what follows each number where the lines are numbered.
fn notes_of(content: &str) -> Vec<String> {
    let lines: Vec<&str> = content.lines().map(str::trim).filter(|l| !l.is_empty()).collect();
    let by_number = lines.iter().any(|l| is_numbered(l));
    let mut notes: Vec<String> = Vec::new();
    let mut begun = false;
    for line in lines {
        if by_number && begun && !is_numbered(line) {
            if let Some(last) = notes.last_mut() {
                last.push(' ');
                last.push_str(line);
            }
            continue;
        }
        begun = is_numbered(line);
        notes.push(without_number(line).to_owned());
    }
    notes
}

/// A text that is shown but is not to be read as a hole.
fn unread(text: &str) -> Callout {
    let spans = vec![Span { range: 0..text.len(), part: Part::Unread }];
    Callout { text: text.to_owned(), spans, ..Callout::default() }
}

/// Whether each line of a text begins a callout of its own: a count and a size or thread, with another count than any
/// line before it. Lines of one count may be the steps of one hole, or its pilot and its thread.
fn is_several_callouts(content: &str, words: &Words) -> bool {
    if !content.contains('\n') {
        return false;
    }
    let mut counts = Vec::new();
    for line in content.lines().map(str::trim).filter(|l| !l.is_empty()) {
        let callout = words.callout(line);
        let own = callout.states_hole() && (callout.size.is_some() || callout.thread.is_some());
        match callout.count.filter(|n| own && !counts.contains(n)) {
            Some(count) => counts.push(count),
            None => return false,
        }
    }
    counts.len() > 1
}

/// What stands over a list of notes, in the languages that are read; common practice.
const NOTES_HEADS: [&str; 5] = ["NOTE", "NOTAS", "HINWEISE", "注記", "技术要求"];

/// Whether a text of several lines is a list of notes, each to be read by itself, and not one callout.
fn is_list_of_notes(content: &str) -> bool {
    if !content.contains('\n') {
        return false;
    }
    let lines: Vec<&str> = content.lines().map(str::trim).filter(|l| !l.is_empty()).collect();
    if lines.len() < 2 {
        return false;
    }
    let first = lines[0].to_uppercase();
    let headed = NOTES_HEADS.iter().any(|head| first.starts_with(head));
    headed || lines.len() > 4 || lines.iter().filter(|l| is_numbered(l)).count() >= 2
}

/// Joins one-line texts under one another that only together make a callout: `4X Ø3.65` over `THRU`.
fn join_lines(drawing: &Drawing, mut statements: Vec<Statement>, words: &Words) -> Vec<Statement> {
    statements.sort_by(|a, b| {
        (a.origin.space.cmp(&b.origin.space))
            .then_with(|| b.bounds.max.y.total_cmp(&a.bounds.max.y))
            .then_with(|| a.bounds.min.x.total_cmp(&b.bounds.min.x))
            .then_with(|| a.callout.text.cmp(&b.callout.text))
    });
    // Those that another one took are none.
    let mut left: Vec<Option<Statement>> = statements.into_iter().map(Some).collect();
    let mut joined = Vec::with_capacity(left.len());
    for i in 0..left.len() {
        let Some(mut top) = left[i].take() else { continue };
        if can_join(drawing, &top) {
            // Lines follow one another closely, so only texts shortly below can continue this one.
            let mut j = i + 1;
            while j < left.len() {
                let Some(next) = &left[j] else {
                    j += 1;
                    continue;
                };
                if next.origin.space != top.origin.space
                    || top.bounds.min.y - next.bounds.max.y > 2.0 * top.height
                {
                    break;
                }
                let goes_on = || continues(&top, next) || counts(&top, next, &left[j + 1..]);
                if stands_under(&top, next) && can_join(drawing, next) && goes_on() {
                    top = join(&top, next, words);
                    left[j] = None;
                    j = i + 1;
                } else {
                    j += 1;
                }
            }
        }
        joined.push(top);
    }
    joined
}

fn can_join(drawing: &Drawing, s: &Statement) -> bool {
    let Carrier::Text(i) = s.carrier else { return false };
    drawing.texts.get(i).is_some_and(|t| {
        t.kind == TextKind::Text
            && t.rotation_deg.abs() < 1.0
            && !t.content.contains('\n')
            && t.content.len() < 80
            && !is_numbered(&t.content)
    })
}

fn stands_under(top: &Statement, next: &Statement) -> bool {
    let gap = top.bounds.min.y - next.bounds.max.y;
    let same_height = (top.height - next.height).abs() <= 0.25 * top.height;
    let left = (top.bounds.min.x - next.bounds.min.x).abs() <= 0.6 * top.height;
    let right = (top.bounds.max.x - next.bounds.max.x).abs() <= 0.6 * top.height;
    let middle = |b: &Bounds| f64::midpoint(b.min.x, b.max.x);
    let centred = (middle(&top.bounds) - middle(&next.bounds)).abs() <= 0.8 * top.height;
    same_height && gap > -0.5 * top.height && gap < 1.2 * top.height && (left || right || centred)
}

/// Whether the second is only a continuation: it has something of a hole, but no hole of its own.
fn continues(top: &Statement, next: &Statement) -> bool {
    let (a, b) = (&top.callout, &next.callout);
    // A thickness under a hole is the metal's or its coating's: another note of a list.
    if b.count.is_some() || b.thickness.is_some() {
        return false;
    }
    // `3 PL ±.003` is a tolerance of the sheet.
    let only_count = a.count.is_some() && a.size.is_none() && a.thread.is_none() && a.tolerance.is_none();
    if only_count {
        return a.begins_understood() && (b.size.is_some() || b.thread.is_some());
    }
    let started = a.states_hole() || (a.size.is_some() && a.count.is_some());
    // `Ø12 CSK 90° X Ø25` is a hole with its entry, `Ø8 X 3 C'BORE` may be an entry alone.
    let entries = [b.counterbore, b.countersink];
    let entry_alone = entries.iter().flatten().any(|e| e.diameter.is_none());
    let own_size = b.size.is_some() && !entry_alone;
    started && !own_size && !(a.thread.is_some() && b.thread.is_some()) && about_hole(b)
}

/// Whether the second is only the count of the first, on a line of its own: `Ø3.65 THRU` over `4 PLCS`. Over another size it is
/// that one's.
fn counts(top: &Statement, next: &Statement, below: &[Option<Statement>]) -> bool {
    let (a, b) = (&top.callout, &next.callout);
    let nothing_else = b.size.is_none() && b.thread.is_none() && b.thickness.is_none() && !about_hole(b);
    if a.count.is_some() || b.count.is_none() || !nothing_else || !a.states_hole() || !b.begins_understood() {
        return false;
    }
    let line_below =
        below.iter().flatten().find(|s| s.origin.space == next.origin.space && stands_under(next, s));
    line_below.is_none_or(|s| s.callout.count.is_some() || s.callout.size.is_none())
}

/// Whether it says something that belongs to a hole's callout.
pub(super) fn about_hole(c: &Callout) -> bool {
    c.through
        || c.depth.is_some()
        || c.counterbore.is_some()
        || c.countersink.is_some()
        || c.tapped
        || c.screw.is_some()
        || c.process.is_some()
        || c.tolerance.is_some()
        || c.thread.is_some()
        || c.general
}

fn join(top: &Statement, next: &Statement, words: &Words) -> Statement {
    let text = format!("{}\n{}", top.callout.text, next.callout.text);
    let callout = words.callout(&text);
    let mut bounds = top.bounds;
    bounds.add(next.bounds.min);
    bounds.add(next.bounds.max);
    Statement {
        texts: top.texts.iter().chain(&next.texts).copied().collect(),
        tags: callout.tag.iter().cloned().collect(),
        callout,
        note: words.note(&text),
        bounds,
        ..top.clone()
    }
}

/// Diameter and radius dimensions always state a hole, others if their text carries a hole.
fn read_dimension(index: usize, d: &Dimension, height: f64, words: &Words) -> Option<Statement> {
    let round = matches!(d.kind, DimensionKind::Diameter | DimensionKind::Radius);
    if matches!(d.kind, DimensionKind::Angular | DimensionKind::ArcLength) || !d.measured.is_finite() {
        return None;
    }
    let text = dimension_text(d, round)?;
    let mut callout = words.callout(&text);
    if round {
        fill_measure(Arc::make_mut(&mut callout), d);
    } else if measures_its_drill(&callout, d) {
        Arc::make_mut(&mut callout).marked_diameter = true;
    } else if !callout.states_hole() {
        return None;
    }
    if d.shown.trim().is_empty() && callout.tolerance.is_none() {
        Arc::make_mut(&mut callout).tolerance = style_tolerance(d);
    }
    let at = d.text_at.or_else(|| d.points.last().copied()).unwrap_or_default();
    let reach = 0.5 * height * text.chars().count() as f64;
    let bounds = Bounds {
        min: Point::new(at.x - reach, at.y - height / 2.0),
        max: Point::new(at.x + reach, at.y + height / 2.0),
    };
    Some(Statement {
        carrier: Carrier::Dimension(index),
        texts: Vec::new(),
        tags: callout.tag.iter().cloned().collect(),
        place: None,
        callout,
        note: Arc::default(),
        origin: d.origin,
        at,
        bounds,
        height,
    })
}

/// Whether a length is measured that is the diameter of the drill named on it: `No. 7` across .201.
fn measures_its_drill(callout: &Callout, d: &Dimension) -> bool {
    let Some(Size::Drill { diameter, .. }) = &callout.size else { return false };
    let drawn = d.measured * d.length_factor;
    [1.0, MM_PER_INCH].iter().any(|unit| (drawn - diameter.value * unit).abs() <= 0.005 * drawn)
}

/// What is shown; of a round dimension whose text is suppressed what it would show.
fn dimension_text(d: &Dimension, round: bool) -> Option<String> {
    if !d.shown.trim().is_empty() {
        return Some(d.shown.clone());
    }
    let sign = if d.kind == DimensionKind::Diameter { 'Ø' } else { 'R' };
    round.then(|| format!("{sign}{}", value_text(d.measured * d.length_factor, d.decimals)))
}

/// The measured value where the text states no size of its own, and a radius where it measures one.
fn fill_measure(callout: &mut Callout, d: &Dimension) {
    let value = d.measured * d.length_factor;
    if callout.size.is_none() && callout.thread.is_none() && !has_digit(&callout.text) {
        // An override such as "TYP" beside a measured circle: the measure still holds.
        callout.size = Some(measured_size(d.kind, Quantity { value, unit: None, decimals: d.decimals }));
    }
    callout.marked_diameter |= callout.size.is_some();
    if let (DimensionKind::Radius, Some(Size::Diameter(q))) = (d.kind, &callout.size)
        && !callout.text.contains(['Ø', '⌀', '∅', 'ø'])
        && (q.value - value).abs() <= 0.02 * value
    {
        // A radius dimension without its letter still measures a radius.
        callout.size = Some(Size::Radius(*q));
    }
}

fn measured_size(kind: DimensionKind, q: Quantity) -> Size {
    if kind == DimensionKind::Radius { Size::Radius(q) } else { Size::Diameter(q) }
}

fn has_digit(text: &str) -> bool {
    text.chars().any(|c| c.is_ascii_digit())
}

fn value_text(value: f64, decimals: u8) -> String {
    format!("{value:.*}", usize::from(decimals.min(8)))
}

fn style_tolerance(d: &Dimension) -> Option<WrittenTolerance> {
    let (plus, minus) = match d.tolerance? {
        DimensionTolerance::PlusMinus { plus, minus } | DimensionTolerance::Limits { plus, minus } => {
            (plus, minus)
        }
    };
    let quantity = |value: f64| Quantity { value, unit: None, decimals: d.decimals };
    Some(WrittenTolerance::Deviations { upper: quantity(plus), lower: quantity(-minus) })
}
