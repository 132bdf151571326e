//! The drills and punches between two diameters: those that the shop keeps, where its policy lists them, else the drills
//! of the tables. Chooses none.

use crate::practice::{Practice, Stock};
use crate::trade::{Drill, Process, Status, drills_between};
use crate::units::Length;

/// A drill or punch of a size.
#[derive(Debug, Clone, PartialEq)]
pub struct Tool {
    /// Its name: `3.6 mm`, `#28`, or as the policy writes it.
    pub name: String,
    /// Its diameter.
    pub diameter: Length,
    /// Whether shops stock it; those of a policy are.
    pub stocked: bool,
    /// Where it comes from.
    pub source: String,
    /// How well that is founded; a policy's is the user's.
    pub status: Status,
}

/// The drills between two diameters, both included, rising.
pub(in crate::verdict) fn drills(practice: &Practice, from: Length, to: Length) -> Vec<Tool> {
    match &practice.drills {
        Some(stock) => kept(stock, from, to),
        None => drills_between(from, to).map(of_table).collect(),
    }
}

/// The punches that a policy lists between two diameters; none where it lists none, or the hole is made otherwise.
pub(super) fn punches(
    practice: &Practice,
    process: Option<Process>,
    from: Length,
    to: Length,
) -> Option<Vec<Tool>> {
    let punched = process.is_none_or(|process| process == Process::Punched);
    let stock = practice.punches.as_ref().filter(|_| punched)?;
    Some(kept(stock, from, to))
}

fn kept(stock: &Stock, from: Length, to: Length) -> Vec<Tool> {
    let tool = |size: &crate::practice::Stocked| Tool {
        name: size.name.clone(),
        diameter: size.diameter,
        stocked: true,
        source: stock.origin.words(),
        status: Status::User,
    };
    stock.between(from, to).map(tool).collect()
}

fn of_table(drill: &Drill) -> Tool {
    Tool {
        name: drill.name.clone(),
        diameter: drill.diameter,
        stocked: drill.series.stocked(),
        source: drill.source.clone(),
        status: drill.status,
    }
}
