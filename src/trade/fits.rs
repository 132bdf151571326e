//! Hole fits H7 to H13 of ISO 286.

use std::sync::LazyLock;

use serde::Deserialize;

use super::{Deviations, Status, tables};
use crate::shared::SharedText;
use crate::units::{Length, Unit};

/// A hole fit at a size: from the basic size up by the standard tolerance.
#[derive(Debug, Clone, PartialEq)]
pub struct Fit {
    /// `H11`.
    pub name: String,
    /// Upper deviation; the lower one of an H hole is 0.
    pub upper: Length,
    /// Where the grade's value comes from.
    pub source: SharedText,
    /// How well that is founded.
    pub status: Status,
}

impl From<Fit> for Deviations {
    fn from(fit: Fit) -> Deviations {
        Deviations {
            plus: fit.upper,
            minus: Length::ZERO,
            text: fit.name.into(),
            source: fit.source,
            status: fit.status,
        }
    }
}

/// A row of the standard tolerance grades.
#[derive(Debug, Deserialize)]
struct Grade {
    grade: u8,
    over_mm: f64,
    to_mm: f64,
    it_um: f64,
    source: SharedText,
    status: Status,
}

static GRADES: LazyLock<Vec<Grade>> =
    LazyLock::new(|| tables::rows("iso286.csv", include_str!("tables/iso286.csv")));

/// The fit `H7` to `H13` at a basic size. Validity: over 0 up to and including 30 mm; a size on a border belongs
/// to the range that it ends. IT11 up to 18 mm is published, the rest is from memory. None for another fit
/// or size.
///
/// ```
/// use boreband::trade::fit;
/// use boreband::units::Length;
/// let found = fit("H11", Length::from_mm(3.65).unwrap()).unwrap();
/// assert!((found.upper.mm() - 0.075).abs() < 1e-12); // ISO 286, over 3 to 6 mm
/// ```
pub fn fit(name: &str, size: Length) -> Option<Fit> {
    let grade: u8 = name.trim().strip_prefix('H')?.parse().ok()?;
    let mm = size.mm();
    let row = GRADES.iter().find(|g| g.grade == grade && mm > g.over_mm + 1e-6 && mm <= g.to_mm + 1e-6)?;
    Some(Fit {
        name: format!("H{grade}"),
        upper: Length::new(row.it_um / 1000.0, Unit::Mm).ok()?,
        source: row.source.clone(),
        status: row.status,
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn table_is_whole_and_ordered() {
        assert_eq!(GRADES.len(), 35); // 7 grades over 5 ranges
        for pair in GRADES.windows(2).filter(|p| p[0].grade == p[1].grade) {
            assert_eq!(pair[0].to_mm, pair[1].over_mm);
            assert!(pair[0].it_um < pair[1].it_um);
        }
        let published = GRADES.iter().filter(|g| g.status == Status::Published);
        assert!(published.clone().all(|g| g.grade == 11 && g.to_mm <= 18.0));
        assert_eq!(published.count(), 4);
    }

    #[test]
    fn grades_follow_the_standard_formula() {
        // ISO 286-1 (from memory): i = 0.45 cbrt(D) + 0.001 D µm at the geometric mean of the range (the first
        // range from 1 mm); IT7 16 i, IT8 25 i, IT9 40 i, IT10 64 i, IT11 100 i, IT12 160 i, IT13 250 i,
        // then rounded, which moves a value by up to 5 %, in the first range by up to 16 %.
        let factors = [16.0, 25.0, 40.0, 64.0, 100.0, 160.0, 250.0];
        for row in GRADES.iter() {
            let d = (row.over_mm.max(1.0) * row.to_mm).sqrt();
            let exact = factors[usize::from(row.grade) - 7] * (0.45 * d.cbrt() + 0.001 * d);
            let rounding = if row.to_mm <= 3.0 { 0.16 } else { 0.05 };
            assert!((row.it_um / exact - 1.0).abs() < rounding, "IT{} to {}: {exact}", row.grade, row.to_mm);
        }
    }

    #[test]
    fn borders_and_unknowns() {
        let um =
            |name: &str, mm: f64| fit(name, Length::mm_const(mm)).map(|f| (f.upper.mm() * 1000.0).round());
        assert_eq!(um("H11", 3.0), Some(60.0)); // ISO 286 IT11, published
        assert_eq!(um("H11", 3.01), Some(75.0));
        assert_eq!(um("H12", 5.5), Some(120.0)); // from memory
        assert_eq!(um("H13", 9.0), Some(220.0)); // from memory
        for (name, mm) in
            [("H6", 5.0), ("h11", 5.0), ("G7", 5.0), ("H11", 31.0), ("H11", 0.0), ("H", 5.0), ("", 5.0)]
        {
            assert_eq!(um(name, mm), None, "{name} {mm}");
        }
    }
}
