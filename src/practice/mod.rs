//! What a shop decides over what the trade knows. Plain data with the place that each value came from; read from
//! files by `settings`, used by everything that judges.

mod limits;
mod trials;

pub use limits::{Limit, LimitRow, LimitUnit, Limits, limit_rows};
pub use trials::{RequiredTrial, check_pattern};

use crate::trade::Status;

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

/// What holds for the drawings of a policy. The default is the trade's own.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Practice {
    /// The numbers that rules compare with.
    pub limits: Limits,
    /// The joint tests that are asked for.
    pub trials: Vec<RequiredTrial>,
}
