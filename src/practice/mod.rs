//! What a shop decides over what the trade knows. Plain data with the place that each value came from; read from
//! files by `settings`, used by everything that judges.

mod bands;
mod costs;
mod grounds;
mod limits;
mod overrides;
mod stock;
mod thickness;
mod trials;

pub use bands::{BandAnswer, BandRow, Known, Possible, Standing, World, missing};
pub use costs::{CostItems, Costs, Whose, Yearly};
pub use grounds::{Answer, Ground, GroundRow, Grounds, ground_rows};
pub use limits::{Limit, LimitRow, LimitUnit, Limits, limit_rows};
pub use overrides::Overrides;
pub use stock::{CapabilityRow, GuideHoles, Stock, Stocked};
pub use thickness::{Between, push_thickness};
pub use trials::{RequiredTrial, check_pattern};

use crate::trade::{Process, Status};

/// Where a value comes from.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Origin {
    /// Built into the program.
    Default {
        /// The source it was taken from.
        source: String,
        /// How well that is founded.
        status: Status,
    },
    /// Set by the user.
    File {
        /// The file, as reports write it.
        file: String,
        /// JSON pointer of the value in it.
        pointer: String,
    },
}

impl Origin {
    /// In words: the source of a default, `policy boreband.json` for a file.
    pub fn words(&self) -> String {
        match self {
            Origin::Default { source, .. } => source.clone(),
            Origin::File { file, .. } => format!("policy {file}"),
        }
    }
}

/// What holds for the drawings of a policy. The default is the trade's own.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Practice {
    /// The numbers that rules compare with.
    pub limits: Limits,
    /// The joint tests that are asked for.
    pub trials: Vec<RequiredTrial>,
    /// Bands over the trade's, the first that fits holding.
    pub bands: Vec<BandRow>,
    /// Drills that the shop keeps, instead of those of the tables.
    pub drills: Option<Stock>,
    /// Punches that the shop keeps, instead of every size in steps.
    pub punches: Option<Stock>,
    /// What a guide hole counts for, and where that is set.
    pub guide_holes: Option<(GuideHoles, Origin)>,
    /// How the holes of processes come out, each process once.
    pub capability: Vec<CapabilityRow>,
    /// What decides whether a tapped hole could take a rolling screw.
    pub grounds: Grounds,
    /// What tapping, driving and proving cost, where the shop says so.
    pub costs: Option<Costs>,
}

impl Practice {
    /// Whether guide holes are accepted with a note.
    pub fn accepts_guide_holes(&self) -> bool {
        self.guide_holes.as_ref().is_none_or(|(what, _)| *what == GuideHoles::Accept)
    }

    /// How the holes of a process come out in this shop, if it says so.
    pub fn capability_of(&self, process: Process) -> Option<&CapabilityRow> {
        self.capability.iter().find(|row| row.process == process)
    }
}

/// The name of a variant in kebab-case, so that it stands once.
fn kebab(variant: impl std::fmt::Debug) -> String {
    let mut name = String::new();
    for c in format!("{variant:?}").chars() {
        if c.is_ascii_uppercase() && !name.is_empty() {
            name.push('-');
        }
        name.push(c.to_ascii_lowercase());
    }
    name
}
