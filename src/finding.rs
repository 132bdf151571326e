//! What can be said about a drawing, as plain values: rule, place and message; and how much it can matter.
//!
//! Nothing here knows about layout, colour or files; `report` draws findings, `check` levels them.

use std::fmt;

use crate::shared::SharedText;

/// How much a finding matters. Ordered: `Note < Warn < Fail`.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Level {
    /// Worth knowing; changes nothing.
    Note,
    /// Should be looked at before release.
    Warn,
    /// The joint will not work, or the work could not be done.
    Fail,
}

impl Level {
    /// The name used in files and reports.
    pub const fn name(self) -> &'static str {
        match self {
            Level::Note => "note",
            Level::Warn => "warn",
            Level::Fail => "fail",
        }
    }
}

impl Level {
    /// The level of that name; none if unknown.
    pub fn parse(name: &str) -> Option<Level> {
        [Level::Note, Level::Warn, Level::Fail].into_iter().find(|level| level.name() == name)
    }
}

impl fmt::Display for Level {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(self.name())
    }
}

/// The kebab-case name of a rule, as in the registry of `rules`.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct RuleName(pub &'static str);

impl fmt::Display for RuleName {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(self.0)
    }
}

/// Where on a drawing a finding stands. All empty for a finding of the whole drawing.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Place {
    /// Id of the hole (`H1`), if the finding is about one.
    pub hole: Option<SharedText>,
    /// World coordinates in the drawing's own units.
    pub at: Option<(f64, f64)>,
    /// Handle of the entity, as upper-case hexadecimal.
    pub handle: Option<SharedText>,
    /// Layer of the entity.
    pub layer: Option<SharedText>,
    /// 1-based line of the entity in a text DXF file; `None` for a binary one or no entity.
    pub line: Option<u64>,
}

/// One thing that a rule found.
#[derive(Debug, Clone, PartialEq)]
pub struct Finding {
    /// The rule that found it.
    pub rule: RuleName,
    /// Where it stands.
    pub place: Place,
    /// One sentence with the numbers, required against found.
    pub message: SharedText,
    /// What to write or do instead, where there is an answer.
    pub remedy: Option<SharedText>,
}

impl Finding {
    /// The same finding with what to write or do instead.
    #[must_use]
    pub fn with_remedy(mut self, remedy: impl Into<SharedText>) -> Self {
        self.remedy = Some(remedy.into());
        self
    }

    /// The same finding with a remedy where there is one.
    #[must_use]
    pub fn with_some_remedy(mut self, remedy: Option<impl Into<SharedText>>) -> Self {
        self.remedy = remedy.map(Into::into);
        self
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn levels_are_ordered_and_read_back_by_name() {
        assert!(Level::Note < Level::Warn && Level::Warn < Level::Fail);
        for level in [Level::Note, Level::Warn, Level::Fail] {
            assert_eq!(Level::parse(level.name()), Some(level));
        }
        assert_eq!(Level::parse("error"), None);
    }
}
