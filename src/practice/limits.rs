//! The numbers that rules compare with: one table, each with its unit, its default and where that comes from.
//!
//! A new limit is a variant of [`Limit`] and a row of `limits.csv` at the same place; policy, schema and
//! `--show-policy` follow by themselves.

use std::sync::LazyLock;

use serde::Deserialize;

use super::Origin;
use crate::trade::{Status, Thread, tables};
use crate::units::Length;

/// The name of a limit, in the order of the table.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum Limit {
    /// Least metal at a hole without a collar (pitches).
    LeastMetal,
    /// Longest engaged length that is useful (diameters).
    LongestEngagement,
    /// Shortest tapered point of a screw (pitches).
    ShortestPoint,
    /// Longest tapered point of a screw (pitches).
    LongestPoint,
    /// Clearance between the end of a screw and the bottom of a blind hole (pitches).
    BlindClearance,
    /// Step in which screws of a thread are to be had (diameters).
    ScrewLengthStep,
    /// Least distance from the centre of a hole to an edge (diameters of the screw).
    EdgeDistance,
    /// Least distance between the centres of two holes (diameters of the screw).
    HoleSpacing,
    /// Least wall around a hole in a boss (diameters of the screw).
    BossWall,
    /// Least outside of a boss (diameters).
    BossOutside,
    /// Least outside of a boss in magnesium (diameters).
    BossOutsideMagnesium,
    /// Least distance between the centres of two collars (thicknesses of the sheet).
    CollarSpacing,
    /// Least distance from an edge to the side of the screw in a collar (thicknesses of the sheet).
    CollarEdge,
    /// Greatest thinning of a collar's wall (percent).
    CollarThinning,
    /// Smallest pierced hole before extruding (thicknesses of the sheet).
    SmallestPierce,
    /// How much smaller than the hole a laser or plasma cut is made before reaming (mm).
    CutUndersize,
    /// Greatest hardness of steel that a screw forms a thread in (HB).
    SteelHardness,
    /// How near to a tap drill's diameter a hole is taken for it (percent).
    TapDrillNearness,
    /// Least rolled engagement of a hole for a cut thread (percent).
    CutThreadLeast,
    /// Greatest rolled engagement of a hole for a cut thread (percent).
    CutThreadMost,
    /// Narrowest tolerance in all that is advised (mm).
    NarrowestTolerance,
    /// Least ratio of strip to drive torque.
    StripToDrive,
    /// Fewest runs of a joint test.
    FewestRuns,
    /// Confidence of the statistical limits of a joint test (percent).
    TrialConfidence,
    /// Share of assemblies inside the statistical limits of a joint test (percent).
    TrialCoverage,
    /// Smallest thread that rolling screws are customary in (mm).
    SmallestRolled,
    /// Largest thread that rolling screws are customary in (mm).
    LargestRolled,
    /// Least certainty of a pairing for a tapped hole to be a candidate (percent).
    LeastConfidence,
}

/// What a limit is counted in.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum LimitUnit {
    /// Pitches of the thread.
    Pitches,
    /// Major diameters of the thread.
    Diameters,
    /// Thicknesses of the sheet.
    Thicknesses,
    /// Millimetres.
    Mm,
    /// Percent.
    Percent,
    /// Brinell hardness.
    Hb,
    /// A ratio of two torques.
    Ratio,
    /// Runs of a test.
    Runs,
}

impl LimitUnit {
    /// The word for it.
    pub const fn name(self) -> &'static str {
        match self {
            LimitUnit::Pitches => "pitches",
            LimitUnit::Diameters => "diameters",
            LimitUnit::Thicknesses => "thicknesses",
            LimitUnit::Mm => "mm",
            LimitUnit::Percent => "percent",
            LimitUnit::Hb => "HB",
            LimitUnit::Ratio => "ratio",
            LimitUnit::Runs => "runs",
        }
    }
}

/// A row of the table: what a limit means and what it is unless a policy says otherwise.
#[derive(Debug, Clone, PartialEq, Deserialize)]
pub struct LimitRow {
    /// The limit.
    pub limit: Limit,
    /// Its default, in `unit`.
    pub value: f64,
    /// What it is counted in.
    pub unit: LimitUnit,
    /// The least value that a policy may set.
    pub least: f64,
    /// The greatest value that a policy may set.
    pub most: f64,
    /// What it says, in words.
    pub meaning: String,
    /// Where the default comes from.
    pub source: String,
    /// How well that is founded.
    pub status: Status,
}

static ROWS: LazyLock<Vec<LimitRow>> =
    LazyLock::new(|| tables::rows("limits.csv", include_str!("limits.csv")));

/// Every limit with its default, in the order of the table.
pub fn limit_rows() -> &'static [LimitRow] {
    &ROWS
}

impl Limit {
    /// Its row of the table.
    pub fn row(self) -> &'static LimitRow {
        &ROWS[self as usize]
    }

    /// The name used in policies and reports, in kebab-case.
    pub fn name(self) -> String {
        super::kebab(self)
    }

    /// The limit of that name.
    pub fn from_name(name: &str) -> Option<Limit> {
        ROWS.iter().map(|row| row.limit).find(|limit| limit.name() == name)
    }
}

/// The limits that hold: the defaults, and over them what a policy sets.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Limits {
    /// What the policy sets, each once.
    set: Vec<(Limit, f64, Origin)>,
}

impl Limits {
    /// The value of a limit in its unit.
    pub fn value(&self, limit: Limit) -> f64 {
        self.set.iter().find(|(l, ..)| *l == limit).map_or(limit.row().value, |(_, value, _)| *value)
    }

    /// Where the value comes from.
    pub fn origin(&self, limit: Limit) -> Origin {
        let set = self.set.iter().find(|(l, ..)| *l == limit);
        set.map_or_else(|| limit.row().origin(), |(.., origin)| origin.clone())
    }

    /// How well the value is founded; a user's own stands as the user's.
    pub fn status(&self, limit: Limit) -> Status {
        if self.set.iter().any(|(l, ..)| *l == limit) { Status::User } else { limit.row().status }
    }

    /// A limit that is counted in pitches or diameters of a thread, or in mm, as a length. One of another unit gives
    /// nothing, which a test of this file keeps from happening.
    pub fn length(&self, limit: Limit, thread: &Thread) -> Length {
        let one = match limit.row().unit {
            LimitUnit::Pitches => thread.pitch,
            LimitUnit::Diameters => thread.major,
            LimitUnit::Mm => Length::mm_const(1.0),
            _ => Length::ZERO,
        };
        one * self.value(limit)
    }

    /// Length of the tapered point of a screw, shortest and longest.
    pub fn point(&self, thread: &Thread) -> (Length, Length) {
        (self.length(Limit::ShortestPoint, thread), self.length(Limit::LongestPoint, thread))
    }

    /// Sets a limit, in its unit.
    pub fn set(&mut self, limit: Limit, value: f64, origin: Origin) {
        self.set.retain(|(l, ..)| *l != limit);
        self.set.push((limit, value, origin));
    }

    /// What a policy sets: the limit, its value in its unit, and where it is set.
    pub fn own(&self) -> impl Iterator<Item = (Limit, f64, &Origin)> {
        self.set.iter().map(|(limit, value, origin)| (*limit, *value, origin))
    }

    /// ` (policy boreband.json)` behind a limit that the policy sets, for messages; nothing for a default.
    pub fn by_whom(&self, limit: Limit) -> String {
        match self.origin(limit) {
            Origin::File { file, .. } => format!(" (policy {file})"),
            Origin::Default { .. } => String::new(),
        }
    }
}

impl LimitRow {
    /// Where the default comes from.
    pub fn origin(&self) -> Origin {
        Origin::Default { source: self.source.clone(), status: self.status }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn rows_stand_in_the_order_of_the_names() {
        // A row out of order would give another limit's value. `LeastConfidence` is the last of the names.
        for (index, row) in ROWS.iter().enumerate() {
            assert_eq!(row.limit as usize, index, "{:?}", row.limit);
            assert!(row.least <= row.value && row.value <= row.most, "{:?}", row.limit);
            assert!(!row.meaning.is_empty() && !row.source.is_empty(), "{:?}", row.limit);
            assert_eq!(Limit::from_name(&row.limit.name()), Some(row.limit));
        }
        assert_eq!(ROWS.len(), Limit::LeastConfidence as usize + 1);
        assert_eq!(Limit::CutThreadLeast.name(), "cut-thread-least");
    }

    #[test]
    fn a_policy_stands_over_the_default_and_is_named() {
        let mut limits = Limits::default();
        assert_eq!(limits.value(Limit::LeastMetal), 2.0); // common practice: two pitches
        assert_eq!(limits.by_whom(Limit::LeastMetal), "");
        let origin =
            Origin::File { file: "boreband.json".to_owned(), pointer: "/limits/least-metal".to_owned() };
        limits.set(Limit::LeastMetal, 3.0, origin);
        assert_eq!(limits.value(Limit::LeastMetal), 3.0);
        assert_eq!(limits.by_whom(Limit::LeastMetal), " (policy boreband.json)");
        assert_eq!(
            (limits.status(Limit::LeastMetal), limits.status(Limit::HoleSpacing)),
            (Status::User, Status::CommonPractice)
        );
        // M4 has a pitch of 0.7 mm: 3 × 0.7, 3 × 4, by hand.
        let m4 = Thread::parse("M4").expect("M4");
        assert!((limits.length(Limit::LeastMetal, &m4).mm() - 2.1).abs() < 1e-9);
        assert!((limits.length(Limit::HoleSpacing, &m4).mm() - 12.0).abs() < 1e-9);
    }
}
