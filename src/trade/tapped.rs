//! What is customary of tapped threads and of the screws that could form them: classes of internal threads, and the
//! threads that rolling screws come in. Judges no hole.

use std::sync::LazyLock;

use serde::Deserialize;

use super::{Status, Thread, tables};

/// What a class of an internal thread is for.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum ClassKind {
    /// General work.
    Usual,
    /// Closer than usual, and gauged.
    Close,
    /// With an allowance, or wide.
    Loose,
    /// Interference, for studs.
    Interference,
}

/// A class of internal threads.
#[derive(Debug, Clone, PartialEq, Deserialize)]
pub struct ThreadClass {
    /// `6H`, `2B`.
    pub class: String,
    /// What it is for.
    pub kind: ClassKind,
    /// Where the row comes from.
    pub source: String,
    /// How well that is founded.
    pub status: Status,
}

/// A thread that rolling screws are customary in.
#[derive(Debug, Clone, PartialEq, Deserialize)]
pub struct RolledThread {
    /// Canonical designation.
    pub thread: String,
    /// Where the row comes from.
    pub source: String,
    /// How well that is founded.
    pub status: Status,
}

static CLASSES: LazyLock<Vec<ThreadClass>> =
    LazyLock::new(|| tables::rows("thread_classes.csv", include_str!("tables/thread_classes.csv")));

static ROLLED: LazyLock<Vec<RolledThread>> =
    LazyLock::new(|| tables::rows("rolled_threads.csv", include_str!("tables/rolled_threads.csv")));

/// The class of that name, without the class of the screw behind a stroke (`6H/6g`); none if it is not listed.
///
/// ```
/// use boreband::trade::{ClassKind, thread_class};
/// assert_eq!(thread_class("6H/6g").map(|c| c.kind), Some(ClassKind::Usual)); // ISO 965-1, as recalled
/// assert!(thread_class("9H").is_none());
/// ```
pub fn thread_class(name: &str) -> Option<&'static ThreadClass> {
    let own = name.split('/').next().unwrap_or(name).trim();
    CLASSES.iter().find(|row| row.class.eq_ignore_ascii_case(own))
}

/// The row of a thread that rolling screws are customary in; none for any other.
pub fn rolled_thread(thread: &Thread) -> Option<&'static RolledThread> {
    ROLLED.iter().find(|row| row.thread == thread.name)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn tables_are_whole() {
        assert_eq!((CLASSES.len(), ROLLED.len()), (17, 27)); // counted in the tables
        for row in ROLLED.iter() {
            let thread = Thread::parse(&row.thread).expect("a thread");
            assert_eq!(thread.name, row.thread, "canonical, so that it is found");
            assert_eq!(rolled_thread(&thread), Some(row));
            assert!(!row.source.is_empty());
        }
        for (nth, row) in CLASSES.iter().enumerate() {
            assert!(CLASSES[..nth].iter().all(|other| other.class != row.class), "{}", row.class);
        }
        // Guide holes stand in the 1984 table for M2.5 to M10; no other row may claim to be published.
        let published = ROLLED.iter().filter(|row| row.status == Status::Published);
        for row in published {
            let thread = Thread::parse(&row.thread).unwrap();
            let at_d = super::super::guide_holes(&thread, thread.major, None);
            assert!(!at_d.is_empty(), "{}", row.thread);
        }
    }

    #[test]
    fn fine_threads_are_not_customary() {
        for (name, customary) in
            [("M4", true), ("M8x1", false), ("10-32", true), ("M4x0.7", true), ("8-36", false)]
        {
            assert_eq!(rolled_thread(&Thread::parse(name).unwrap()).is_some(), customary, "{name}");
        }
    }
}
