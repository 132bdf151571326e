//! Thread designations inside a callout: metric and inch, with class, hand, and a depth written as `M8x20`.

use super::cursor::{Cursor, Read};
use super::meaning::Meaning;
use super::number::{decimal, fraction, integer, mixed};
use super::size::number_word;
use super::{NamedThread, Quantity, lookup};
use crate::trade::Thread;

/// Coarse metric pitches stay below this share of the diameter (M1 × 0.25 has the most), so `M8x20` states a depth
/// or a length and `M8x1` a pitch.
const PITCH_SHARE: f64 = 0.26;

/// Pitch over diameter of the number-size threads in use lies in here (10-24: 0.219, 12-32: 0.145).
const NUMBER_SIZE_SHARE: std::ops::RangeInclusive<f64> = 0.14..=0.23;

/// A thread and whether its class is that of a screw (`2A`, `6g`), not of a hole.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct ReadThread {
    pub(super) named: NamedThread,
    pub(super) external: bool,
    /// Whether the depth is the last number of the designation, `M8x20`: of a screw that is its length.
    pub(super) lengthed: bool,
    /// Written at length (`M4x0.7`, `1/4-20`), not in a form that other things have too (`M4`, `8-32`).
    pub(super) detailed: bool,
}

/// `M4`, `M4x0.7-6H`, `M4 x 0,7 - 6H`, `1/4-20 UNC-2B`, `.250-20`, `#8-32`, `10-24`.
pub(super) fn thread(c: Cursor<'_>) -> Read<'_, ReadThread> {
    let starts = !c.before().is_some_and(|b| (b.is_ascii_alphanumeric() && b != 'X') || b == '.' || b == '_');
    if !starts {
        return None;
    }
    metric(c).or_else(|| inch(c))
}

fn metric(c: Cursor<'_>) -> Read<'_, ReadThread> {
    let small = c.small();
    let (major, after) = decimal(c.eat('M')?)?;
    let (pitch, length, after) = pitch_or_length(after, major.value);
    let pitch_text = pitch.map(|p| format!("x{}", p.value)).unwrap_or_default();
    let found = lookup::thread(&format!("M{}{pitch_text}", major.value))?;
    let (tail, end) = tail(after, metric_class);
    // `m2` is an area unless it has more of a thread.
    if (small && pitch.is_none() && length.is_none() && tail.class.is_none()) || runs_on(end) {
        return None;
    }
    Some((tail.named(found, length, pitch.is_some()), end))
}

/// `x0.7`, `x 0,7`, `-0.7`, `x0.7x20`, `x20`.
fn pitch_or_length(c: Cursor<'_>, major: f64) -> (Option<Quantity>, Option<Quantity>, Cursor<'_>) {
    let number = |c: Cursor<'_>| -> Option<(Quantity, bool)> {
        let next = c.spaces().eat('X')?.spaces();
        let (value, end) = decimal(next)?;
        let ends = value.value > 0.0 && (end.at_word_end() || end.eat('X').is_some());
        // An angle is a countersink's, and `M10 X 2 LG` or `M10 X 2.0mm LG` a length.
        let unit = end.spaces().word_of(&[Meaning::Millimetre, Meaning::Inch]).map_or(end, |(_, past)| past);
        let unit = end.eat('"').unwrap_or(unit);
        let long = unit.spaces().word(Meaning::Long).is_some();
        (ends && !long && end.eat('°').is_none()).then_some((value, value.value <= PITCH_SHARE * major))
    };
    let past = |c: Cursor<'_>| decimal(c.spaces().next().spaces()).map_or(0, |(_, end)| end.at);
    let hyphen = c.eat('-').and_then(decimal).filter(|(p, end)| {
        p.decimals > 0 && p.value > 0.0 && p.value <= PITCH_SHARE * major && end.at_word_end()
    });
    if let Some((pitch, end)) = hyphen {
        return (Some(pitch), None, end);
    }
    match number(c) {
        Some((pitch, true)) => {
            let end = c.moved_to(past(c));
            match number(end) {
                Some((length, false)) if !deep_follows(end.moved_to(past(end))) => {
                    (Some(pitch), Some(length), end.moved_to(past(end)))
                }
                _ => (Some(pitch), None, end),
            }
        }
        Some((length, false)) if !deep_follows(c.moved_to(past(c))) => {
            (None, Some(length), c.moved_to(past(c)))
        }
        _ => (None, None, c),
    }
}

/// `M8 X 20 DEEP`, `M8 X 2"`: another form reads it, with its word or unit.
fn deep_follows(c: Cursor<'_>) -> bool {
    let next = c.spaces();
    let inches = c.peek() == Some('"');
    inches
        || next
            .word_of(&[
                Meaning::Deep,
                Meaning::Long,
                Meaning::FullThread,
                Meaning::Min,
                Meaning::Millimetre,
                Meaning::Inch,
            ])
            .is_some()
}

/// `6H`, `4H5H`, `6H/6g`: small letters are a screw's.
fn metric_class(c: Cursor<'_>) -> Read<'_, (String, bool)> {
    let grade = c.next();
    c.peek().filter(|c| ('3'..='9').contains(c))?;
    let letter = grade.peek().filter(|c| ('D'..='H').contains(c))?;
    let external = grade.small() || !matches!(letter, 'G' | 'H');
    let mut end = grade.next();
    if let Some(((_, _), more)) = metric_class_again(end) {
        end = more;
    }
    if let Some(mate) = end.eat('/').and_then(metric_class_again) {
        end = mate.1;
    }
    let ends = !end.peek().is_some_and(|c| c.is_ascii_alphanumeric());
    ends.then(|| ((c.cased_to(end), external), end))
}

fn metric_class_again(c: Cursor<'_>) -> Read<'_, (char, char)> {
    let grade = c.peek().filter(|c| ('3'..='9').contains(c))?;
    let letter = c.next().peek().filter(|c| ('D'..='H').contains(c))?;
    Some(((grade, letter), c.next().next()))
}

fn inch(c: Cursor<'_>) -> Read<'_, ReadThread> {
    let (major, after) = inch_major(c)?;
    inch_of(c, &major, after).or_else(|| {
        // `1-8 UNC` is one inch, where no number size has the pitch.
        let (n, after) = integer(c).filter(|_| major.kind == Major::BareNumber)?;
        inch_of(c, &InchMajor { text: n.to_string(), inches: f64::from(n), kind: Major::Whole }, after)
    })
}

fn inch_of<'a>(c: Cursor<'a>, major: &InchMajor, after: Cursor<'a>) -> Read<'a, ReadThread> {
    let spaced = after.spaces();
    let (tpi, after_tpi) = integer(spaced.eat('-').or_else(|| spaced.eat('X'))?.spaces())?;
    let goes_on = matches!(after_tpi.peek(), Some('.' | ',' | '/'))
        && after_tpi.peek_at(1).is_some_and(|c| c.is_ascii_digit());
    // `.385 X 82°` is a countersink.
    let angle = spaced.peek() == Some('X') && super::number::degrees(spaced.next().spaces()).is_some();
    if !(3..=120).contains(&tpi) || goes_on || angle {
        return None;
    }
    let (tail, end) = tail(after_tpi, inch_class);
    if runs_on(end) || !major.plausible(f64::from(tpi), tail.series || tail.class.is_some()) {
        return None;
    }
    let found = lookup::thread(&format!("{}-{tpi}", major.text))
        .or_else(|| lookup::thread(&format!("{}-{tpi}", major.inches)))?;
    let detailed = major.kind == Major::Size || c.peek() == Some('#');
    Some((tail.named(found, None, detailed), end))
}

struct InchMajor {
    /// As the trade's tables write it.
    text: String,
    inches: f64,
    kind: Major,
}

#[derive(PartialEq)]
enum Major {
    /// `#8`.
    Number,
    /// `8`.
    BareNumber,
    /// `1/4`, `.250`.
    Size,
    /// `1`: also a count or anything else.
    Whole,
}

impl InchMajor {
    /// Whether this and the threads per inch are a thread, given whether a series or class says so.
    fn plausible(&self, tpi: f64, named: bool) -> bool {
        match self.kind {
            Major::Number => true,
            Major::BareNumber => named || NUMBER_SIZE_SHARE.contains(&(1.0 / tpi / self.inches)),
            Major::Size => named || 1.0 / tpi <= 0.3 * self.inches,
            Major::Whole => named,
        }
    }
}

fn past_quote(c: Cursor<'_>) -> Cursor<'_> {
    c.eat('"').or_else(|| c.eat('\'').and_then(|c| c.eat('\''))).unwrap_or(c)
}

fn inch_major(c: Cursor<'_>) -> Read<'_, InchMajor> {
    if let Some(after) = c.eat('#').or_else(|| number_word(c)) {
        let (n, end) = integer(after.spaces())?;
        return Some((numbered(n, Major::Number)?, end));
    }
    if let Some((size, end)) = mixed(c).or_else(|| fraction(c)) {
        let text = c.text_to(end).replace(' ', "-");
        return Some((InchMajor { text, inches: size.value, kind: Major::Size }, past_quote(end)));
    }
    let (size, end) = decimal(c)?;
    if size.decimals >= 2 && (0.04..6.0).contains(&size.value) {
        let text = c.text_to(end).replace(',', ".");
        return Some((InchMajor { text, inches: size.value, kind: Major::Size }, past_quote(end)));
    }
    let (n, end) = integer(c)?;
    let quoted = past_quote(end);
    if quoted.at > end.at || !matches!(n, 0..=6 | 8 | 10 | 12) {
        let kind = if quoted.at > end.at { Major::Size } else { Major::Whole };
        return Some((InchMajor { text: n.to_string(), inches: f64::from(n), kind }, quoted));
    }
    Some((numbered(n, Major::BareNumber)?, end))
}

/// Number sizes: 0.060 in and 0.013 in more for each number (ASME B1.1).
fn numbered(n: u32, kind: Major) -> Option<InchMajor> {
    (n <= 14).then(|| InchMajor { text: format!("#{n}"), inches: 0.060 + 0.013 * f64::from(n), kind })
}

/// `2B`, `3B`, `2A`: A is a screw's.
fn inch_class(c: Cursor<'_>) -> Read<'_, (String, bool)> {
    c.peek().filter(|c| ('1'..='5').contains(c))?;
    let letter = c.next().peek().filter(|c| matches!(c, 'A' | 'B'))?;
    let end = c.next().next();
    let ends = !end.peek().is_some_and(|c| c.is_ascii_alphanumeric());
    ends.then(|| ((c.text_to(end), letter == 'A'), end))
}

/// What follows diameter and pitch.
struct Tail {
    series: bool,
    class: Option<String>,
    external: bool,
    left_hand: bool,
}

impl Tail {
    fn named(self, thread: Thread, depth: Option<Quantity>, detailed: bool) -> ReadThread {
        let named = NamedThread { thread, class: self.class, left_hand: self.left_hand, depth };
        ReadThread { named, external: self.external, lengthed: depth.is_some(), detailed }
    }
}

/// Series, class and hand in any order, each after blanks or a hyphen.
fn tail<'a>(start: Cursor<'a>, class: fn(Cursor<'a>) -> Read<'a, (String, bool)>) -> (Tail, Cursor<'a>) {
    let mut found = Tail { series: false, class: None, external: false, left_hand: false };
    let mut end = start;
    loop {
        let next = end.spaces();
        let next = next.eat('-').map_or(next, Cursor::spaces);
        let next = next.eat('(').filter(|c| c.word(Meaning::LeftHand).is_some()).unwrap_or(next);
        if let Some(((name, external), after)) = class(next).filter(|_| found.class.is_none()) {
            (found.class, found.external, end) = (Some(name), external, after);
        } else if let Some(after) = next.word(Meaning::Series) {
            (found.series, end) = (true, after);
        } else if let Some((meaning, after)) = next.word_of(&[Meaning::LeftHand, Meaning::RightHand]) {
            found.left_hand |= meaning == Meaning::LeftHand;
            end = after;
        } else {
            return (found, end);
        }
    }
}

/// Letters or digits that make it a part number: `M12-345`, `M3_A`, `M1:2`.
fn runs_on(c: Cursor<'_>) -> bool {
    if !c.at_word_end() {
        return true;
    }
    let after = c.next();
    match c.peek() {
        Some('-') => after.peek().is_some_and(|c| c.is_ascii_alphanumeric()) && after.any_word().is_none(),
        Some('_' | ':') => after.peek().is_some_and(|c| c.is_ascii_alphanumeric()),
        Some('.' | ',') => after.peek().is_some_and(|c| c.is_ascii_digit()),
        _ => false,
    }
}

#[cfg(test)]
mod tests {
    use super::super::testing::parse;
    use super::*;

    /// Name, class, left hand, depth, whether external.
    type Seen = (String, Option<String>, bool, Option<f64>, bool);

    fn of(text: &str) -> Option<Seen> {
        let read = parse(text, |c| thread(c).map(|t| t.0))?;
        let n = read.named;
        Some((n.thread.name, n.class, n.left_hand, n.depth.map(|d| d.value), read.external))
    }

    fn seen(name: &str, class: &str) -> Option<Seen> {
        Some((name.into(), (!class.is_empty()).then(|| class.into()), false, None, false))
    }

    #[test]
    fn metric_threads() {
        assert_eq!(of("M4"), seen("M4", ""));
        for text in ["M4x0.7-6H", "M4 x 0,7 - 6H", "M4X0.7 6H", "m4x0.7-6H", "M4*0.7-6H"] {
            assert_eq!(of(text), seen("M4", "6H"), "{text}");
        }
        assert_eq!(of("M8x1-6H"), seen("M8x1", "6H"));
        assert_eq!(of("M8x20"), Some(("M8".into(), None, false, Some(20.0), false)));
        assert_eq!(of("M8x1.25x20"), Some(("M8".into(), None, false, Some(20.0), false)));
        assert_eq!(of("M10-LH").map(|s| s.2), Some(true));
        assert_eq!(of("M6-6g").map(|s| s.4), Some(true), "a small letter is the screw's class (ISO 965-1)");
    }

    #[test]
    fn inch_threads() {
        for text in ["1/4-20 UNC-2B", "1/4-20UNC-2B", "1/4 - 20 UNC - 2B", "1/4\"-20 UNC-2B", "1/4-20-UNC-2B"]
        {
            assert_eq!(of(text), seen("1/4-20", "2B"), "{text}");
        }
        assert_eq!(of(".250-20"), seen("1/4-20", ""));
        assert_eq!(of("#8-32"), seen("8-32", ""));
        assert_eq!(of("10-24"), seen("10-24", ""));
        assert_eq!(of("NO. 8-32"), seen("8-32", ""));
        assert_eq!(of("1-8 UNC-2B"), seen("1-8", "2B"));
        assert_eq!(of("1-8"), None, "a date, a range or a count");
        assert_eq!(of("1/4-20 UNC LH").map(|s| s.2), Some(true));
        assert_eq!(of("1/4-20 UNC-2A").map(|s| s.4), Some(true));
    }

    #[test]
    fn what_is_no_thread() {
        for text in
            ["M12-345", "M1:2", "m2", "8-33-1999", "1-20", "4-Ø3", "M", "MM5", "10-24-2005", ".224-.227"]
        {
            assert_eq!(of(text), None, "{text}");
        }
    }
}
