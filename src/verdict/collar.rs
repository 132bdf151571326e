//! A collar by volume balance, with the shop's limits for what its list leaves out.

use crate::joint::Collar;
use crate::practice::{Limit, Limits};
use crate::trade::{CollarBalance, CollarWanted, collar_balance};
use crate::units::Length;

/// The balance of a collar round the hole that the screw meets, in a sheet.
pub(crate) fn balance(collar: &Collar, inside: Length, sheet: Length, limits: &Limits) -> CollarBalance {
    let wanted =
        CollarWanted { inside, sheet, height: collar.height, outside: collar.outside, pierce: collar.pierce };
    let thinning = limits.value(Limit::CollarThinning) / 100.0;
    collar_balance(&wanted, thinning, limits.value(Limit::SmallestPierce))
}
