//! Screw threads: basic major diameter and pitch, the listed series, and the canonical designation.
//! Reading a designation is `thread_text`'s work.

use std::sync::LazyLock;

use serde::Deserialize;

use super::{Designation, Status, tables};
use crate::units::{Length, Unit};

/// A screw thread of the 60° ISO / Unified basic profile.
#[derive(Debug, Clone, PartialEq)]
pub struct Thread {
    /// Canonical designation: `M4`, `M5x0.5`, `8-32`, `1/4-20`.
    pub name: String,
    /// Basic major diameter.
    pub major: Length,
    /// Pitch.
    pub pitch: Length,
    /// The unit that the designation is written in; bare lengths beside the thread take it.
    pub unit: Unit,
}

/// A thread designation that could not be read.
#[derive(Debug, Clone, PartialEq, thiserror::Error)]
#[error("'{given}' is no thread: {expected}")]
pub struct ThreadError {
    /// What was given.
    pub given: String,
    /// What was expected.
    pub expected: String,
}

/// A row of the thread table.
#[derive(Debug, Clone, Deserialize)]
pub(super) struct Listed {
    /// `M4`, `8-32`, `1/4-20`.
    pub(super) name: String,
    /// `coarse`, `UNC` or `UNF`.
    pub(super) series: String,
    /// Basic major diameter, in `unit`.
    pub(super) major: f64,
    /// `mm` or `in`.
    unit: String,
    /// Pitch in mm, for metric threads.
    pub(super) pitch: Option<f64>,
    /// Threads per inch, for inch threads.
    pub(super) tpi: Option<f64>,
    /// Where the row comes from.
    source: String,
    /// How well that is founded.
    status: Status,
}

/// The thread table, series by series, by diameter.
pub(super) fn listed() -> &'static [Listed] {
    static ROWS: LazyLock<Vec<Listed>> =
        LazyLock::new(|| tables::rows("threads.csv", include_str!("tables/threads.csv")));
    &ROWS
}

/// Every listed thread with its series, source and status: UNC, UNF and ISO coarse.
pub fn threads() -> impl Iterator<Item = (Thread, &'static str, &'static str, Status)> {
    listed().iter().map(|row| {
        let (unit, pitch) = match (row.pitch, row.tpi) {
            (Some(pitch), _) => (Unit::Mm, pitch),
            (None, tpi) => (Unit::Inch, 1.0 / tpi.unwrap_or(1.0)),
        };
        debug_assert_eq!(row.unit, unit.name());
        let thread = Thread::from_values(row.name.clone(), row.major, pitch, unit);
        (thread, row.series.as_str(), row.source.as_str(), row.status)
    })
}

impl Thread {
    /// Whether both are one thread by whatever names: their major diameters and pitches are nearer than 0.001 mm.
    pub fn is_same(&self, other: &Thread) -> bool {
        let same = |a: Length, b: Length| (a - b).abs().mm() < 1e-3;
        same(self.major, other.major) && same(self.pitch, other.pitch)
    }

    /// Reads `M4`, `M4x0.7`, `M4×0,7`, `1/4-20`, `.250-20`, `#8-32`, `8-32`, `No. 8-32`, `10-24 UNC`, `1/4 UNC`.
    /// A class (`-2B`, `-6H`) is refused here; [`Designation::parse`] reads it.
    ///
    /// ```
    /// use boreband::trade::Thread;
    /// let thread = Thread::parse(".250-20 UNC").unwrap();
    /// assert_eq!(thread.name, "1/4-20");
    /// assert!((thread.major.inch() - 0.25).abs() < 1e-12);
    /// assert!(Thread::parse("M4x9").unwrap_err().to_string().contains("pitch"));
    /// ```
    ///
    /// # Errors
    /// [`ThreadError`] that says what was expected.
    pub fn parse(text: &str) -> Result<Thread, ThreadError> {
        let read = Designation::parse(text)?;
        if read.class.is_some() || read.left_hand {
            return Err(ThreadError {
                given: text.trim().to_owned(),
                expected: format!("expected the thread alone, without class or hand: {}", read.thread.name),
            });
        }
        Ok(read.thread)
    }

    /// A thread from values that are known to be finite and sound.
    pub(super) fn from_values(name: String, major: f64, pitch: f64, unit: Unit) -> Thread {
        let length = |value| Length::new(value, unit).unwrap_or(Length::ZERO);
        Thread { name, major: length(major), pitch: length(pitch), unit }
    }

    /// Basic pitch diameter, D − 0.649519 P (ISO 68-1, ASME B1.1 basic profile: D − 0.75 H).
    pub fn pitch_diameter(&self) -> Length {
        self.major - self.pitch * 0.649_519_052_838_329
    }

    /// Basic minor diameter of the internal thread, D − 1.082532 P (basic profile: D − 1.25 H).
    pub fn minor_diameter(&self) -> Length {
        self.major - self.pitch * 1.082_531_754_730_548
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use std::collections::HashSet;

    #[test]
    fn table_is_complete_ordered_and_unique() {
        assert_eq!(listed().len(), 67); // 19 UNC, 20 UNF, 28 ISO coarse, counted in the table
        let names: HashSet<_> = listed().iter().map(|r| &r.name).collect();
        assert_eq!(names.len(), listed().len());
        for pair in listed().windows(2).filter(|p| p[0].series == p[1].series) {
            assert!(pair[0].major < pair[1].major, "{} before {}", pair[0].name, pair[1].name);
        }
        for row in listed() {
            assert!(row.pitch.is_some() != row.tpi.is_some(), "{}", row.name);
            assert!(!row.source.is_empty());
        }
    }

    #[test]
    fn number_sizes_follow_their_formula() {
        // ASME B1.1: major = 0.060 + 0.013 N inch.
        let mut seen = 0;
        for row in listed().iter().filter(|r| r.tpi.is_some() && !r.name.contains('/') && r.major < 0.5) {
            let number: f64 = row.name.split('-').next().and_then(|n| n.parse().ok()).expect("number size");
            assert!((row.major - (0.060 + 0.013 * number)).abs() < 1e-9, "{}", row.name);
            seen += 1;
        }
        assert_eq!(seen, 19); // 9 UNC from 1-64 and 10 UNF from 0-80
    }

    #[test]
    fn listed_names_are_canonical() {
        for (thread, ..) in threads() {
            assert_eq!(Thread::parse(&thread.name).as_ref(), Ok(&thread));
        }
    }

    #[test]
    fn published_values() {
        // ASME B1.1 (pitch diameters as tabulated to 4 places) and ISO 724 (M4 3.545, M6 5.350).
        for (name, expected, unit) in [
            ("1/4-20", 0.2175, Unit::Inch),
            ("8-32", 0.1437, Unit::Inch),
            ("10-32", 0.1697, Unit::Inch),
            ("M4", 3.545, Unit::Mm),
            ("M6", 5.350, Unit::Mm),
        ] {
            let found = Thread::parse(name).expect(name).pitch_diameter().value_in(unit);
            assert!((found - expected).abs() < 6e-4, "{name} {found}");
        }
        // ISO 724: minor diameter of M4 is 3.242, of M8 6.647.
        assert!((Thread::parse("M4").expect("M4").minor_diameter().mm() - 3.242).abs() < 1e-3);
        assert!((Thread::parse("M8").expect("M8").minor_diameter().mm() - 6.647).abs() < 1e-3);
    }
}
