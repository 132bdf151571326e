//! Reads a thread designation as drawings write it. The profile and the listed series are `thread`'s.

use std::sync::LazyLock;

use regex::{Captures, Regex};

use super::thread::{Listed, Thread, ThreadError, listed};
use crate::decimals::trimmed;
use crate::units::Unit;

/// A pitch above this share of the diameter is a misprint: the coarsest listed series (M1) has 0.25.
const COARSEST: f64 = 0.4;
/// ASME B1.1 goes to 80 threads an inch; more than this is a misprint.
const MOST_TPI: f64 = 120.0;
/// Largest thread read, mm; ISO 261 ends at M300, heavy studs go a little further.
const LARGEST_MM: f64 = 600.0;

/// A thread as a drawing names it, with what stands beside it.
#[derive(Debug, Clone, PartialEq)]
pub struct Designation {
    /// The thread.
    pub thread: Thread,
    /// Series word as written, in capitals: `UNC`, `UNF`, `UNEF`, `UN`, `UNS`.
    pub series: Option<String>,
    /// Class as written: `2B`, `6H`.
    pub class: Option<String>,
    /// Left-hand (`LH`).
    pub left_hand: bool,
}

/// Millimetre designations: size, pitch, class, hand.
static METRIC: LazyLock<Regex> = LazyLock::new(|| {
    compile(
        r"(?i)^M\s*(?P<d>\d*[.,]?\d+)(?:\s*x\s*(?P<p>\d*[.,]?\d+))?(?:\s*[- ]\s*(?P<class>\d[A-Z](?:\d[A-Z])?))?(?P<lh>\s*[- ]\s*LH)?$",
    )
});

/// Inch designations: size (number, fraction, decimal), threads per inch, series, class, hand.
static INCH: LazyLock<Regex> = LazyLock::new(|| {
    compile(concat!(
        r#"(?i)^(?P<mark>#|NO\.?\s*|NR\.?\s*)?(?P<d>(?:\d+[\s-]+)?\d+\s*/\s*\d+|\d*[.,]\d+|\d+)\s*(?:"|''|IN\.?)?"#,
        r"(?:\s*-\s*(?P<n>\d+(?:[.,]\d+)?))?(?:\s*-?\s*(?P<series>UN(?:C|F|EF|S|JC|JF|J)?|NC|NF))?",
        r"(?:\s*[- ]\s*(?P<class>[123][AB]))?(?P<lh>\s*[- ]\s*LH)?$"
    ))
});

/// A pattern of this file.
#[expect(
    clippy::expect_used,
    reason = "the patterns are constants, and every test of this file compiles them"
)]
fn compile(pattern: &str) -> Regex {
    Regex::new(pattern).expect("a sound pattern")
}

impl Designation {
    /// Reads a thread with its optional series, class and hand: `1/4-20 UNC-2B`, `M4x0.7-6H`, `#10-32 UNF-2B LH`.
    ///
    /// ```
    /// use boreband::trade::Designation;
    /// let read = Designation::parse("1/4-20 UNC-2B").unwrap();
    /// assert_eq!((read.thread.name.as_str(), read.class.as_deref()), ("1/4-20", Some("2B")));
    /// ```
    ///
    /// # Errors
    /// [`ThreadError`] that says what was expected: an unknown form, an impossible size or pitch, or a series
    /// that has another pitch at that size.
    pub fn parse(text: &str) -> Result<Designation, ThreadError> {
        let given = text.trim();
        let plain: String = given.chars().map(plain_char).collect();
        let read = if let Some(found) = METRIC.captures(&plain) {
            metric(&found)
        } else if let Some(found) = INCH.captures(&plain) {
            inch(&found)
        } else {
            Err("expected a thread such as M4, M4x0.7, 1/4-20, .250-20, #8-32 or 8-32 UNC".to_owned())
        };
        read.map_err(|expected| ThreadError { given: given.to_owned(), expected })
    }
}

/// Signs that drawings use for one another, made one.
fn plain_char(c: char) -> char {
    match c {
        '×' | '✕' | '*' | 'X' => 'x',
        '\u{a0}' | '\u{2009}' | '\u{202f}' => ' ',
        '–' | '—' | '−' | '‐' | '‑' => '-',
        '”' | '″' => '"',
        other => other,
    }
}

/// A number with a decimal point or comma.
fn number(text: &str) -> Option<f64> {
    text.replace(',', ".").parse().ok().filter(|v: &f64| v.is_finite())
}

/// The class and the hand of a match.
fn beside(found: &Captures<'_>) -> (Option<String>, bool) {
    (found.name("class").map(|m| m.as_str().to_owned()), found.name("lh").is_some())
}

/// A metric designation.
fn metric(found: &Captures<'_>) -> Result<Designation, String> {
    let major = number(&found["d"]).ok_or("expected a diameter in mm after M")?;
    if !(0.3..=LARGEST_MM).contains(&major) {
        return Err(format!("expected a diameter of 0.3 to {LARGEST_MM} mm after M"));
    }
    let coarse = listed().iter().find(|r| r.series == "coarse" && (r.major - major).abs() < 1e-6);
    let pitch = match (found.name("p"), coarse.and_then(|r| r.pitch)) {
        (Some(p), _) => number(p.as_str()).ok_or("expected a pitch in mm after x")?,
        (None, Some(pitch)) => pitch,
        (None, None) => {
            let size = trimmed(major, 3);
            return Err(format!("M{size} has no listed coarse pitch: expected M{size}x and the pitch"));
        }
    };
    if pitch < 0.08 || pitch > COARSEST * major {
        return Err(format!(
            "expected a pitch of 0.08 to {} mm for that diameter",
            trimmed(COARSEST * major, 3)
        ));
    }
    let is_coarse = coarse.and_then(|r| r.pitch).is_some_and(|p| (p - pitch).abs() < 1e-6);
    let name = if is_coarse {
        format!("M{}", trimmed(major, 3))
    } else {
        format!("M{}x{}", trimmed(major, 3), trimmed(pitch, 3))
    };
    let (class, left_hand) = beside(found);
    let thread = Thread::from_values(name, major, pitch, Unit::Mm);
    Ok(Designation { thread, series: None, class, left_hand })
}

/// An inch designation.
fn inch(found: &Captures<'_>) -> Result<Designation, String> {
    let series = found.name("series").map(|m| m.as_str().to_uppercase());
    let tpi = found.name("n").map(|n| number(n.as_str()).ok_or("expected threads per inch")).transpose()?;
    let (major, tpi) = sizes(found, tpi, series.as_deref())?;
    sound_inch(major, tpi)?;
    // Whichever way a size is written, it is the same value to the last bit.
    let major = (major * 1e6).round() / 1e6;
    if let Some(row) = same_series(major, series.as_deref())
        && row.tpi.is_some_and(|listed| (listed - tpi).abs() > 1e-6)
    {
        return Err(format!("{} of that size is {}", row.series, row.name));
    }
    let (class, left_hand) = beside(found);
    let thread = Thread::from_values(inch_name(major, tpi), major, 1.0 / tpi, Unit::Inch);
    Ok(Designation { thread, series, class, left_hand })
}

/// Major diameter (in) and threads per inch. A bare whole number is a number size where that can be a thread,
/// and inches otherwise: `8-32` is No. 8, `1-8` is one inch.
fn sizes(found: &Captures<'_>, tpi: Option<f64>, series: Option<&str>) -> Result<(f64, f64), String> {
    let written = found["d"].trim();
    let marked = found.name("mark").is_some();
    let whole: Option<f64> = written.parse::<u32>().ok().map(f64::from);
    let numbered = whole.filter(|n| *n <= 14.0).map(|n| 0.060 + 0.013 * n);
    if marked && numbered.is_none() {
        return Err("expected a number size of #0 to #14".to_owned());
    }
    let as_inches = fraction(written).or_else(|| number(written)).ok_or("expected a diameter in inches")?;
    let choices = if marked { [numbered, None] } else { [numbered, Some(as_inches)] };
    let with_pitch = |major: f64| tpi.or_else(|| same_series(major, series).and_then(|r| r.tpi));
    let mut pitched = choices.into_iter().flatten().filter_map(|d| with_pitch(d).map(|n| (d, n)));
    match (pitched.clone().find(|(d, n)| sound_inch(*d, *n).is_ok()), pitched.next_back()) {
        (Some(sound), _) => Ok(sound),
        (None, Some(unsound)) => Ok(unsound),
        (None, None) => Err("expected threads per inch after the size, as in 1/4-20".to_owned()),
    }
}

/// Whether a thread of that size and pitch can be.
fn sound_inch(major: f64, tpi: f64) -> Result<(), String> {
    if !(0.02..=LARGEST_MM / 25.4).contains(&major) {
        return Err("expected a diameter of .02 to 23.6 in".to_owned());
    }
    let least = (1.0 / (COARSEST * major)).max(1.0);
    if tpi < least || tpi > MOST_TPI {
        return Err(format!(
            "expected {} to {MOST_TPI} threads per inch (a pitch that fits the diameter)",
            trimmed(least, 1)
        ));
    }
    Ok(())
}

/// The listed thread of that size in the series.
fn same_series(major: f64, series: Option<&str>) -> Option<&'static Listed> {
    let series = match series? {
        "UNC" | "NC" | "UNJC" => "UNC",
        "UNF" | "NF" | "UNJF" => "UNF",
        _ => return None,
    };
    listed().iter().find(|r| r.series == series && (r.major - major).abs() < 1e-4)
}

/// `7/16`, `1 1/2`, `1-1/2`.
fn fraction(text: &str) -> Option<f64> {
    let (front, below) = text.split_once('/')?;
    let mut front = front.trim().rsplitn(2, [' ', '-']);
    let above: f64 = front.next()?.trim().parse().ok()?;
    let whole: f64 = match front.next() {
        Some(whole) => whole.trim().trim_end_matches('-').trim().parse().ok()?,
        None => 0.0,
    };
    let below: f64 = below.trim().parse().ok()?;
    (below > 0.0).then_some(whole + above / below)
}

/// Canonical designation of an inch thread: as listed, else number size, else fraction, else decimal.
fn inch_name(major: f64, tpi: f64) -> String {
    let same = |r: &&Listed| r.tpi.is_some_and(|n| (n - tpi).abs() < 1e-6) && (r.major - major).abs() < 1e-4;
    if let Some(row) = listed().iter().find(same) {
        return row.name.clone();
    }
    let size_number = (major - 0.060) / 0.013;
    let size = if (size_number - size_number.round()).abs() < 1e-3 && (-0.1..14.1).contains(&size_number) {
        format!("{:.0}", size_number.abs())
    } else {
        inch_size(major)
    };
    format!("{size}-{}", trimmed(tpi, 2))
}

/// A diameter as a fraction of 64ths where it is one, else with its decimals.
fn inch_size(major: f64) -> String {
    let parts = (major * 64.0).round();
    if (major * 64.0 - parts).abs() > 0.004 {
        return format!("{major:.4}").trim_start_matches('0').to_owned();
    }
    let (mut above, mut below) = (parts as u64, 64u64);
    while above.is_multiple_of(2) && below > 1 {
        above /= 2;
        below /= 2;
    }
    match (above / below, above % below) {
        (whole, 0) => whole.to_string(),
        (0, rest) => format!("{rest}/{below}"),
        (whole, rest) => format!("{whole} {rest}/{below}"),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Written form, canonical name, major and pitch in its unit. Sizes: ISO 261, ASME B1.1 (as recalled).
    const FORMS: &[(&str, &str, f64, f64)] = &[
        ("M4", "M4", 4.0, 0.7),
        (" m4 ", "M4", 4.0, 0.7),
        ("M4x0.7", "M4", 4.0, 0.7),
        ("M4×0,7", "M4", 4.0, 0.7),
        ("M4 X .7", "M4", 4.0, 0.7),
        ("M4.0", "M4", 4.0, 0.7),
        ("M5x.5", "M5x0.5", 5.0, 0.5),
        ("M6 x 1.0", "M6", 6.0, 1.0),
        ("M3,5", "M3.5", 3.5, 0.6),
        ("M10x1.25", "M10x1.25", 10.0, 1.25),
        ("1/4-20", "1/4-20", 0.25, 0.05),
        (".250-20", "1/4-20", 0.25, 0.05),
        ("0.190-32", "10-32", 0.19, 0.03125),
        ("#8-32", "8-32", 0.164, 0.03125),
        ("8-32", "8-32", 0.164, 0.03125),
        ("No. 8-32", "8-32", 0.164, 0.03125),
        ("NO.8 - 32 UNC", "8-32", 0.164, 0.03125),
        ("10-24 UNC", "10-24", 0.19, 1.0 / 24.0),
        ("1/4 UNC", "1/4-20", 0.25, 0.05),
        ("1/4\"-28 UNF", "1/4-28", 0.25, 1.0 / 28.0),
        ("1 1/2-6", "1 1/2-6", 1.5, 1.0 / 6.0),
        ("1-1/2-6", "1 1/2-6", 1.5, 1.0 / 6.0),
        ("1.500-6", "1 1/2-6", 1.5, 1.0 / 6.0),
        ("1-8", "1-8", 1.0, 0.125),
        ("1-12 UNF", "1-12", 1.0, 1.0 / 12.0),
        ("1-64", "1-64", 0.073, 1.0 / 64.0),
        ("0-80", "0-80", 0.060, 1.0 / 80.0),
        ("1/4-32 UNEF", "1/4-32", 0.25, 1.0 / 32.0),
        ("3/8–16", "3/8-16", 0.375, 0.0625),
        ("#6-40", "6-40", 0.138, 0.025),
        ("#10-28", "10-28", 0.19, 1.0 / 28.0),
        (".201-24", ".2010-24", 0.201, 1.0 / 24.0),
    ];

    #[test]
    fn forms_that_drawings_write() {
        for (text, name, major, pitch) in FORMS {
            let thread = Thread::parse(text).unwrap_or_else(|e| panic!("{e}"));
            assert_eq!(&thread.name, name, "{text}");
            assert!((thread.major.value_in(thread.unit) - major).abs() < 1e-9, "{text}");
            assert!((thread.pitch.value_in(thread.unit) - pitch).abs() < 1e-9, "{text}");
        }
    }

    #[test]
    fn class_and_hand() {
        for (text, name, class, left) in [
            ("1/4-20 UNC-2B", "1/4-20", Some("2B"), false),
            ("1/4-20UNC-2B", "1/4-20", Some("2B"), false),
            ("1/4-20 UNC 3A", "1/4-20", Some("3A"), false),
            ("M4x0.7-6H", "M4", Some("6H"), false),
            ("M4-6H", "M4", Some("6H"), false),
            ("M10 x 1.5 - 4H5H LH", "M10", Some("4H5H"), true),
            ("#10-32 UNF-2B-LH", "10-32", Some("2B"), true),
        ] {
            let read = Designation::parse(text).unwrap_or_else(|e| panic!("{e}"));
            assert_eq!(
                (read.thread.name.as_str(), read.class.as_deref(), read.left_hand),
                (name, class, left)
            );
            assert!(Thread::parse(text).is_err(), "{text} has a class or hand");
        }
    }

    #[test]
    fn impossible_threads_say_what_was_expected() {
        for (text, expected) in [
            ("M0", "diameter"),
            ("M4x9", "pitch of 0.08 to 1.6"),
            ("M4x0", "pitch"),
            ("M37", "M37x"),
            ("1/4-0", "threads per inch"),
            ("1/4-2", "threads per inch"),
            ("1/4-500", "threads per inch"),
            ("1/0-20", "diameter"),
            ("0/4-20", "diameter"),
            ("#99-32", "number size"),
            ("1/4-20 UNF", "UNF of that size is 1/4-28"),
            ("1/4", "threads per inch"),
            ("", "such as M4"),
            ("Q4", "such as M4"),
            ("M4x0.7.1", "such as M4"),
            ("M", "such as M4"),
        ] {
            let fault = Thread::parse(text).expect_err(text);
            assert!(fault.expected.contains(expected), "{text}: {}", fault.expected);
        }
    }
}
