//! Collars of extruded holes: how high the pierced metal can be drawn, what to pierce, what the wall thins to. Volume
//! balance only; whether the edge cracks is for a trial.

use super::{collar_height, collar_pierce};
use crate::units::Length;

/// What volume balance says of a collar.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct CollarBalance {
    /// The outside diameter that it is balanced for: the stated one, else that of the greatest usual thinning.
    pub outside: Length,
    /// Share of the sheet's thickness that the wall loses there.
    pub thinning: f64,
    /// The pierce that it is balanced for: the stated one, else the smallest usual, as wide as the sheet is thick.
    pub smallest_pierce: Length,
    /// Height that the metal pierced out gives; none where the sizes are not in order.
    pub greatest_height: Option<Length>,
    /// The pierce that gives the stated height; none where none gives it.
    pub pierce: Option<Length>,
}

/// Outside diameter of a collar whose wall is thinned by that share: di + 2 t (1 − thinning).
///
/// ```
/// use boreband::trade::collar_outside;
/// use boreband::units::Length;
/// let mm = |v| Length::from_mm(v).unwrap();
/// assert!((collar_outside(mm(8.2), mm(3.0), 0.5).mm() - 11.2).abs() < 1e-9); // the published example
/// ```
pub fn collar_outside(inside: Length, sheet: Length, thinning: f64) -> Length {
    inside + sheet * (2.0 * (1.0 - thinning))
}

/// A collar as it is wanted; what is not stated is taken as usual.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct CollarWanted {
    /// The hole in it.
    pub inside: Length,
    /// The sheet.
    pub sheet: Length,
    /// Height above the sheet.
    pub height: Length,
    /// Outside diameter, if stated.
    pub outside: Option<Length>,
    /// Pierced hole, if stated.
    pub pierce: Option<Length>,
}

/// Balances a collar. An outside that is not stated is taken with the greatest usual share `thinning` (0.5 in the
/// published example), a pierce that is not stated with the smallest usual one in thicknesses of the sheet (1:
/// published assumption, Hole Extrusions Part 1, MetalForming Magazine, October 2011), so that a height above the
/// greatest cannot be had in the usual way.
///
/// ```
/// use boreband::trade::{CollarWanted, collar_balance};
/// use boreband::units::Length;
/// let mm = |v| Length::from_mm(v).unwrap();
/// let wanted =
///     CollarWanted { inside: mm(8.2), sheet: mm(3.0), height: mm(3.0), outside: None, pierce: None };
/// let found = collar_balance(&wanted, 0.5, 1.0);
/// assert!((found.greatest_height.unwrap().mm() - 3.002).abs() < 0.0005); // the article's example
/// ```
pub fn collar_balance(wanted: &CollarWanted, thinning: f64, smallest_pierce: f64) -> CollarBalance {
    let CollarWanted { inside, sheet, height, .. } = *wanted;
    let outer = wanted.outside.unwrap_or_else(|| collar_outside(inside, sheet, thinning));
    let pierce = wanted.pierce.unwrap_or(sheet * smallest_pierce);
    CollarBalance {
        outside: outer,
        thinning: 1.0 - (outer - inside) / (sheet * 2.0),
        smallest_pierce: pierce,
        greatest_height: collar_height(inside, pierce, sheet, outer),
        pierce: collar_pierce(inside, height, sheet, outer),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn mm(value: f64) -> Length {
        Length::from_mm(value).expect("finite")
    }

    fn balance(sheet: f64, height: f64, outside: Option<f64>, pierce: Option<f64>) -> CollarBalance {
        let wanted = CollarWanted {
            inside: mm(3.6),
            sheet: mm(sheet),
            height: mm(height),
            outside: outside.map(mm),
            pierce: pierce.map(mm),
        };
        collar_balance(&wanted, 0.5, 1.0)
    }

    #[test]
    fn a_collar_by_hand() {
        // M4 hole 3.6 in 1 mm: wall half of 1 mm, outside 4.6; pierce 1: (12.96 − 1) × 1 / (21.16 − 12.96) = 1.4585.
        // Height 1: pierce √(12.96 − 8.2 × 1) = 2.1817.
        let found = balance(1.0, 1.0, None, None);
        assert!((found.greatest_height.expect("in order").mm() - 1.4585).abs() < 5e-5);
        assert!((found.pierce.expect("enough").mm() - 2.1817).abs() < 5e-5);
        let tall = balance(1.0, 2.0, None, None);
        assert_eq!(tall.pierce, None);
    }

    #[test]
    fn stated_sizes_are_used_and_wrong_ones_give_nothing() {
        let found = balance(1.0, 1.0, Some(5.0), Some(2.0));
        // (12.96 − 4) / (25 − 12.96) = 0.7442; wall 0.7 of 1: thinned by 0.3.
        assert!((found.greatest_height.expect("in order").mm() - 0.7442).abs() < 5e-5);
        assert!((found.thinning - 0.3).abs() < 1e-9);
        assert_eq!(balance(4.0, 1.0, None, None).greatest_height, None);
        assert_eq!(balance(1.0, 1.0, Some(3.0), None).greatest_height, None);
    }
}
