//! Writes the hole to call out as a callout, in the unit, decimals and notation of the one it replaces: count,
//! sign, depth and words stay, size and tolerance change. Chooses nothing.

use std::sync::LazyLock;

use regex::Regex;

use super::advice::Choice;
use super::{Advice, DiameterSource, Limits, ToleranceSource};
use crate::callout::{Callout, Part, Size, Span};
use crate::pairing::{Hole, Paired, PairedBy};
use crate::units::{Length, Unit};

/// The numbers of a size or tolerance as written.
static NUMBER: LazyLock<Regex> = LazyLock::new(|| pattern(r"\d*[.,]\d+|\d+"));
/// A fraction or the name of a number or letter drill.
static NAMED: LazyLock<Regex> =
    LazyLock::new(|| pattern(r#"(?i)#\s*\d+|NO\.?\s*\d+|(?:\d+\s+)?\d+/\d+|"[A-Z]"|\b[A-Z]\b"#));

/// A pattern of this file.
#[expect(
    clippy::expect_used,
    reason = "the patterns are constants, and every test of this file compiles them"
)]
fn pattern(text: &str) -> Regex {
    Regex::new(text).expect("a sound pattern")
}

/// The unit that a hole's callout is written in: its own, else the list's, else the drawing's.
pub(super) fn unit_of(hole: &Hole, paired: &Paired) -> Unit {
    let stated = hole.called.as_ref().or(hole.listed.as_ref()).and_then(|s| s.unit);
    stated.unwrap_or(paired.unit.unit)
}

/// A choice with the callout to write for it. A hole whose callout states the chosen size and a tolerance that
/// holds keeps its text.
pub(super) fn advice(choice: &Choice, limits: &Limits, hole: &Hole, paired: &Paired) -> Advice {
    let unit = unit_of(hole, paired);
    let callout = hole.callout.and_then(|c| paired.callouts.get(c)).map(|seen| &*seen.callout);
    let decimals = hole.called.as_ref().map_or(0, |s| s.decimals);
    let unchanged = (limits.nominal - choice.diameter).abs() <= super::interval::TOLERANCE;
    let stands = choice.kept && unchanged && limits.source == DiameterSource::Callout;
    let cell = callout.filter(|_| hole.paired_by == PairedBy::Table).map(size_cell);
    let callout = cell.as_ref().map_or(callout, |cell| cell.as_ref());
    let text = match callout {
        Some(callout) if stands && !callout.tapped => flat(&callout.text),
        Some(callout) => rewritten(callout, choice, unit, decimals),
        // A cell states no count: the table has a column for it.
        None if cell.is_some() => plain(choice, unit, None),
        None => {
            let row = hole.row.and_then(|r| paired.rows.get(r));
            plain(choice, unit, row.and_then(|seen| seen.row.count))
        }
    };
    Advice {
        diameter: choice.diameter,
        drill: choice.drill.clone(),
        callout: text,
        tolerance: choice.tolerance,
        narrowed: narrowed(choice, limits),
    }
}

/// Whether the tolerance that the hole has could not be kept.
fn narrowed(choice: &Choice, limits: &Limits) -> bool {
    !choice.kept && choice.tolerance.is_some() && limits.tolerance_source != ToleranceSource::None
}

/// The cell of a hole table that states the size, as a callout of its own; none if no cell does. Cells of a row are
/// two blanks apart.
fn size_cell(row: &Callout) -> Option<Callout> {
    let between = |s: &Span| s.part == Part::Filler && row.text.get(s.range.clone()) == Some("  ");
    let size = row.spans.iter().position(|s| s.part == Part::Size)?;
    let first = row.spans[..size].iter().rposition(between).map_or(0, |i| i + 1);
    let last = row.spans[size..].iter().position(between).map_or(row.spans.len(), |i| size + i);
    let cell = &row.spans[first..last];
    let (start, end) = (cell.first()?.range.start, cell.last()?.range.end);
    let spans = cell.iter().map(|s| Span { range: s.range.start - start..s.range.end - start, part: s.part });
    let text = row.text.get(start..end)?.to_owned();
    // A tap named in another column is not written in this cell.
    let tapped = row.tapped && cell.iter().any(|s| matches!(s.part, Part::Thread | Part::Tapped));
    Some(Callout { text, spans: spans.collect(), tapped, ..row.clone() })
}

/// A callout of our own: `4X Ø3.6 +0.03/0`.
pub(super) fn plain(choice: &Choice, unit: Unit, count: Option<u32>) -> String {
    let style = Style { comma: false, leading_zero: unit == Unit::Mm, plus_minus: true, decimals: 0, unit };
    let count = count.filter(|n| *n > 1).map(|n| format!("{n}X ")).unwrap_or_default();
    let tolerance = choice.tolerance.map(|t| format!(" {}", style.deviations(t))).unwrap_or_default();
    format!("{count}Ø{}{tolerance}", style.size(choice.diameter))
}

/// How the replaced callout writes its numbers.
#[derive(Debug, Clone, Copy)]
struct Style {
    comma: bool,
    leading_zero: bool,
    plus_minus: bool,
    decimals: usize,
    unit: Unit,
}

impl Style {
    fn of(size: &str, tolerance: &str, unit: Unit, decimals: u8) -> Style {
        let number = NUMBER.find(size).map_or("", |m| m.as_str());
        Style {
            comma: number.contains(','),
            leading_zero: unit == Unit::Mm || number.starts_with('0'),
            plus_minus: !tolerance.chars().any(char::is_numeric)
                || ["±", "+/-", "%%p"].iter().any(|sign| tolerance.contains(sign)),
            decimals: usize::from(decimals),
            unit,
        }
    }

    /// A size with the decimals it needs, at least those of the replaced one.
    fn size(&self, length: Length) -> String {
        let value = length.value_in(self.unit);
        let (least, most) =
            if self.unit == Unit::Mm { (self.decimals.max(1), 3) } else { (self.decimals.max(3), 4) };
        let exact = |places: &usize| {
            let scale = 10f64.powi(i32::try_from(*places).unwrap_or(4));
            (value * scale - (value * scale).round()).abs() < 1e-4
        };
        let places = (least..=most).find(exact).unwrap_or(most.max(least));
        self.dressed(format!("{value:.places$}"))
    }

    /// `+0.03/0`, `+.003/-.000`, `±.002`.
    fn deviations(&self, (plus, minus): (Length, Length)) -> String {
        let places = if self.unit == Unit::Mm { 2 } else { 3 };
        let value = |l: Length| {
            let shown = l.value_in(self.unit).abs();
            let finer = (shown * 10f64.powi(places) - (shown * 10f64.powi(places)).round()).abs() > 1e-4;
            let places = usize::try_from(places).unwrap_or(3) + usize::from(finer);
            self.dressed(format!("{shown:.places$}"))
        };
        if self.plus_minus && (plus - minus).abs() <= super::interval::TOLERANCE {
            return format!("±{}", value(plus));
        }
        let signed = |l: Length, sign: char| {
            let zero = l.mm().abs() < 1e-9;
            if zero && self.unit == Unit::Mm { "0".to_owned() } else { format!("{sign}{}", value(l)) }
        };
        let upper = signed(plus, if plus.mm() < 0.0 { '-' } else { '+' });
        let lower = signed(minus, if minus.mm() < 0.0 { '+' } else { '-' });
        format!("{upper}/{lower}")
    }

    fn dressed(&self, text: String) -> String {
        let text =
            if self.leading_zero { text } else { text.strip_prefix('0').map_or(text.clone(), str::to_owned) };
        if self.comma { text.replace('.', ",") } else { text }
    }
}

/// The callout with size and tolerance replaced. A tap and its thread go, with the thread's depth where the hole
/// states its own: the screw makes the thread.
fn rewritten(callout: &Callout, choice: &Choice, unit: Unit, decimals: u8) -> String {
    let part = |wanted: Part| callout.spans.iter().find(|s| s.part == wanted);
    let text_of = |wanted: Part| part(wanted).map_or("", |s| &callout.text[s.range.clone()]);
    let style = Style::of(text_of(Part::Size), text_of(Part::Tolerance), unit, decimals);
    let has_size = part(Part::Size).is_some();
    let gone = without_thread(callout);
    let mut out = String::new();
    let mut sized = false;
    for (index, span) in callout.spans.iter().enumerate() {
        let written = &callout.text[span.range.clone()];
        let here = span.part == Part::Size || (!has_size && matches!(span.part, Part::Thread | Part::Screw));
        if here && !sized {
            sized = true;
            // A radius of the chosen diameter would be a hole of twice the size.
            let radius = has_size && matches!(callout.size, Some(Size::Radius(_)));
            let old = if radius { "" } else { written };
            out.push_str(&size_and_tolerance(old, has_size, text_of(Part::Tolerance), choice, style));
            if !has_size && !callout.tapped {
                out.push_str(&format!(" {written}"));
            }
            continue;
        }
        match span.part {
            Part::Tolerance => {}
            _ if gone[index] => out.push(' '),
            Part::SecondUnit => out.push_str(&second(written, choice.diameter, unit)),
            _ => out.push_str(written),
        }
    }
    if !sized {
        let added = size_and_tolerance("", false, text_of(Part::Tolerance), choice, style);
        out = format!("{} {added}", out.trim_end());
    }
    flat(&out)
}

/// For each span whether it goes because it speaks of the tapped thread: the thread, its depth, and the punctuation
/// beside them. Nothing goes from a callout without a tap.
fn without_thread(callout: &Callout) -> Vec<bool> {
    let depths = depths_of_thread(callout);
    let named: Vec<bool> = (callout.spans.iter().enumerate())
        .map(|(i, s)| callout.tapped && matches!(s.part, Part::Thread | Part::Tapped) || depths.contains(&i))
        .collect();
    let beside = |i: usize| i > 0 && named[i - 1] || named.get(i + 1).copied().unwrap_or(false);
    let gone = |(i, s): (usize, &Span)| named[i] || s.part == Part::Filler && beside(i);
    callout.spans.iter().enumerate().map(gone).collect()
}

/// The depths in a tapped callout that are the thread's and go with it, by index of their span: those behind the
/// thread and not behind the size, as `x 8 DEEP` in `Ø2.5 x 10 DEEP, M3 x 8 DEEP`. A depth that is the only one
/// stays, because then it speaks for the hole.
fn depths_of_thread(callout: &Callout) -> Vec<usize> {
    let mut of_thread = false;
    let (mut sinks, mut holes) = (Vec::new(), 0);
    for (index, span) in callout.spans.iter().enumerate() {
        match span.part {
            Part::Size => of_thread = false,
            Part::Thread | Part::Tapped => of_thread = true,
            Part::Depth if of_thread => sinks.push(index),
            Part::Depth => holes += 1,
            _ => {}
        }
    }
    if callout.tapped && holes > 0 { sinks } else { Vec::new() }
}

/// The size, in the form of the replaced one, and the tolerance behind it.
fn size_and_tolerance(old: &str, has_size: bool, tolerance: &str, choice: &Choice, style: Style) -> String {
    if !has_size {
        let tolerance = choice.tolerance.map(|t| format!(" {}", style.deviations(t))).unwrap_or_default();
        return format!("Ø{}{tolerance}", style.size(choice.diameter));
    }
    let numbers: Vec<_> = NUMBER.find_iter(old).collect();
    if let [first, .., last] = numbers.as_slice()
        && named(old).is_none()
        && let Some((plus, minus)) = choice.tolerance
    {
        let (low, high) = (style.size(choice.diameter - minus), style.size(choice.diameter + plus));
        let rising = value(first.as_str()) <= value(last.as_str());
        let (a, b) = if rising { (low, high) } else { (high, low) };
        return format!(
            "{}{a}{}{b}{}",
            &old[..first.start()],
            &old[first.end()..last.start()],
            &old[last.end()..]
        );
    }
    let size = replaced_size(old, choice, style);
    let stated = match choice.tolerance {
        Some(_) if choice.kept && !tolerance.is_empty() => format!(" {}", tolerance.trim()),
        Some(t) => format!(" {}", style.deviations(t)),
        None => String::new(),
    };
    format!("{size}{stated}")
}

/// The size alone: a drill name for a drill name where there is one, else the number for the number.
fn replaced_size(old: &str, choice: &Choice, style: Style) -> String {
    if let Some(name) = named(old) {
        let drill = choice.drill.as_ref().filter(|d| !d.ends_with("mm"));
        return match drill {
            Some(drill) => format!("{}{drill}{}", &old[..name.start()], &old[name.end()..]),
            None => format!("Ø{}", style.size(choice.diameter)),
        };
    }
    match NUMBER.find(old) {
        Some(number) => {
            format!("{}{}{}", &old[..number.start()], style.size(choice.diameter), &old[number.end()..])
        }
        None => format!("Ø{}", style.size(choice.diameter)),
    }
}

/// A drill's name or a fraction in a written size. `35/3` in `3.35/3.30` is none.
fn named(old: &str) -> Option<regex::Match<'_>> {
    let found = NAMED.find(old)?;
    let decimal = |c: Option<char>| c.is_some_and(|c| matches!(c, '.' | ','));
    let inside =
        decimal(old[..found.start()].chars().next_back()) || decimal(old[found.end()..].chars().next());
    (!inside || !found.as_str().contains('/')).then_some(found)
}

/// The size in the other unit, in the brackets of the replaced one.
fn second(old: &str, diameter: Length, unit: Unit) -> String {
    let other = if unit == Unit::Mm { Unit::Inch } else { Unit::Mm };
    let Some(number) = NUMBER.find(old) else { return old.to_owned() };
    let places = if other == Unit::Mm { 2 } else { 3 };
    let shown = format!("{:.places$}", diameter.value_in(other));
    let shown = if number.as_str().starts_with('0') || other == Unit::Mm {
        shown
    } else {
        shown.trim_start_matches('0').to_owned()
    };
    format!("{}{shown}{}", &old[..number.start()], &old[number.end()..])
}

/// A written number's value, for comparing two.
fn value(text: &str) -> f64 {
    text.replace(',', ".").parse().unwrap_or(0.0)
}

/// One line, single blanks.
fn flat(text: &str) -> String {
    text.split_whitespace().collect::<Vec<_>>().join(" ")
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Advice for a hole of a table once repeated the whole row, tag and quantity included.
    #[test]
    fn the_size_cell_of_a_row_is_told_from_its_other_cells() {
        let mut row = Callout::default();
        for (text, part) in [
            ("A", Part::Tag),
            ("  ", Part::Filler),
            ("Ø3.3", Part::Size),
            ("  ", Part::Filler),
            ("4", Part::Count),
        ] {
            let start = row.text.len();
            row.text.push_str(text);
            row.spans.push(Span { range: start..row.text.len(), part });
        }
        let cell = size_cell(&row).expect("a size cell");
        assert_eq!((cell.text.as_str(), cell.spans.len(), cell.spans[0].range.clone()), ("Ø3.3", 1, 0..5));
        row.spans.retain(|s| s.part != Part::Size);
        assert!(size_cell(&row).is_none());
    }

    /// The thread's depth once stayed in the advice behind the hole's.
    #[test]
    fn the_depth_of_a_thread_is_told_from_the_holes() {
        let depths = |text: &str| -> Vec<String> {
            let callout = crate::callout::read(text);
            let spans = depths_of_thread(&callout).into_iter().map(|i| callout.spans[i].range.clone());
            spans.map(|range| callout.text[range].trim().to_owned()).collect()
        };
        assert_eq!(depths("2X Ø3.3 x 12 DEEP\nM4 - 6H x 8 DEEP"), ["x 8 DEEP"]);
        assert_eq!(depths("M4 TAP x 8 DEEP, Ø3.3 x 12 DEEP"), ["x 8 DEEP"]);
        assert_eq!(depths("Ø3.3 M4 TAP x 8 DEEP"), [""; 0]);
        assert_eq!(depths("Ø3.6 x 12 DEEP FOR M4 THREAD ROLLING SCREW"), [""; 0]);
    }
}
