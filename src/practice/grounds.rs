//! Whether a tapped hole could take a thread-rolling screw instead: the grounds that decide it, each with its answer, which
//! a shop may change where it is not fixed, and where it comes from. One table; looks at no hole.

use std::sync::LazyLock;

use serde::Deserialize;

use super::Origin;
use crate::trade::{Status, tables};

/// What is said of a tapped hole.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum Answer {
    /// A rolling screw could take its place.
    Candidate,
    /// Something must be found out or changed first.
    Doubtful,
    /// Leave it tapped.
    No,
}

impl Answer {
    /// Every answer, the best first.
    pub const ALL: [Answer; 3] = [Answer::Candidate, Answer::Doubtful, Answer::No];

    /// The name used in files and reports.
    pub const fn name(self) -> &'static str {
        match self {
            Answer::Candidate => "candidate",
            Answer::Doubtful => "doubtful",
            Answer::No => "no",
        }
    }
}

/// The name of a ground, in the order of the table.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord, Deserialize)]
#[serde(rename_all = "kebab-case")]
#[expect(missing_docs, reason = "the table beside this file says what each means")]
pub enum Ground {
    ThreadUnknown,
    OtherThread,
    LeftHand,
    Insert,
    AlreadyRolling,
    ClassUsual,
    ClassNone,
    ClassClose,
    ClassLoose,
    ClassInterference,
    ClassUnknown,
    ThreadCustomary,
    ThreadUncommon,
    ThreadSmall,
    ThreadLarge,
    MetalFormable,
    MetalUnknown,
    MetalUnsuitable,
    MetalConflict,
    ThicknessUnknown,
    ThicknessConflict,
    MetalEnough,
    MetalThin,
    MetalDeep,
    ThroughAssumed,
    BlindRoom,
    BlindShort,
    BlindShallow,
    BlindDepthUnknown,
    CoatingAllowed,
    CoatingUnknown,
    CoatingConflict,
    EdgeHardened,
    ProcessConflict,
    WordsCode,
    WordsCritical,
    HoleNotFound,
    CountDiffers,
    PairingDoubtful,
    UnitDoubtful,
    NoTolerance,
    NoBand,
    DrawnDiffers,
}

/// A row of the table.
#[derive(Debug, Clone, PartialEq, Deserialize)]
pub struct GroundRow {
    /// The ground.
    pub ground: Ground,
    /// What follows from it unless a policy says otherwise.
    pub answer: Answer,
    /// `yes` where no policy can change that.
    fixed: String,
    /// What it says, in words.
    pub meaning: String,
    /// Where it comes from.
    pub source: String,
    /// How well that is founded.
    pub status: Status,
}

static ROWS: LazyLock<Vec<GroundRow>> =
    LazyLock::new(|| tables::rows("grounds.csv", include_str!("grounds.csv")));

/// Every ground, in the order of the table.
pub fn ground_rows() -> &'static [GroundRow] {
    &ROWS
}

impl GroundRow {
    /// Whether no policy can change the answer.
    pub fn is_fixed(&self) -> bool {
        self.fixed == "yes"
    }
}

impl Ground {
    /// Its row of the table.
    pub fn row(self) -> &'static GroundRow {
        &ROWS[self as usize]
    }

    /// The name used in policies and reports, in kebab-case.
    pub fn name(self) -> String {
        super::kebab(self)
    }

    /// The ground of that name.
    pub fn from_name(name: &str) -> Option<Ground> {
        ROWS.iter().map(|row| row.ground).find(|ground| ground.name() == name)
    }
}

/// The answers that hold: those of the table, and over them what a policy sets.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Grounds {
    set: Vec<(Ground, Answer, Origin)>,
}

impl Grounds {
    /// What follows from a ground.
    pub fn answer(&self, ground: Ground) -> Answer {
        self.set.iter().find(|(g, ..)| *g == ground).map_or(ground.row().answer, |(_, answer, _)| *answer)
    }

    /// Where the answer comes from: source and status.
    pub fn source(&self, ground: Ground) -> (String, Status) {
        match self.set.iter().find(|(g, ..)| *g == ground) {
            Some((.., origin)) => (origin.words(), Status::User),
            None => (ground.row().source.clone(), ground.row().status),
        }
    }

    /// Sets an answer. A fixed one stays as it is.
    pub fn set(&mut self, ground: Ground, answer: Answer, origin: Origin) {
        if !ground.row().is_fixed() {
            self.set.retain(|(g, ..)| *g != ground);
            self.set.push((ground, answer, origin));
        }
    }

    /// What a policy sets.
    pub fn own(&self) -> impl Iterator<Item = (Ground, Answer, &Origin)> {
        self.set.iter().map(|(ground, answer, origin)| (*ground, *answer, origin))
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn rows_stand_in_the_order_of_the_names() {
        for (index, row) in ROWS.iter().enumerate() {
            assert_eq!(row.ground as usize, index, "{:?}", row.ground);
            assert!(matches!(row.fixed.as_str(), "yes" | "no") && row.meaning.len() > 10);
            assert!(!row.source.is_empty(), "{:?}", row.ground);
            assert_eq!(Ground::from_name(&row.ground.name()), Some(row.ground));
        }
        assert_eq!(ROWS.len(), Ground::DrawnDiffers as usize + 1);
    }

    #[test]
    fn a_policy_changes_what_is_not_fixed() {
        let origin = || Origin::File { file: "boreband.json".to_owned(), pointer: String::new() };
        let mut grounds = Grounds::default();
        grounds.set(Ground::ClassClose, Answer::No, origin());
        grounds.set(Ground::MetalUnknown, Answer::Candidate, origin());
        assert_eq!(grounds.answer(Ground::ClassClose), Answer::No);
        assert_eq!(grounds.source(Ground::ClassClose), ("policy boreband.json".to_owned(), Status::User));
        assert_eq!(grounds.answer(Ground::MetalUnknown), Answer::Doubtful, "unknown is never a pass");
    }
}
