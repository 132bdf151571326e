//! What tapping a hole, driving a screw and proving a joint cost a shop. Plain data in the shop's own money; a cost
//! that is not stated is none and never guessed. Calculates nothing.

use super::trials::matches;
use super::{Origin, check_pattern};
use crate::trade::Thread;

/// Costs by item, each in the shop's money unless its doc says otherwise. What is not stated is none.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct CostItems {
    /// Time that tapping one hole takes (s).
    pub tapping_seconds: Option<f64>,
    /// Machine and operator while tapping (money an hour).
    pub tapping_rate: Option<f64>,
    /// One tap.
    pub tap_price: Option<f64>,
    /// Holes that one tap lasts for.
    pub holes_per_tap: Option<f64>,
    /// Removing chips and coolant, for each hole.
    pub cleaning: Option<f64>,
    /// Gauging, for each hole.
    pub gauging: Option<f64>,
    /// Scrap and broken taps, for each hole.
    pub scrap: Option<f64>,
    /// What a thread-rolling screw costs more than the screw that it replaces; negative if it costs less.
    pub screw_premium: Option<f64>,
    /// Time that driving it takes longer (s).
    pub drive_seconds: Option<f64>,
    /// Operator and tool while driving (money an hour).
    pub drive_rate: Option<f64>,
    /// Proving one joint by test: one thread in one metal of one thickness.
    pub proving: Option<f64>,
}

/// Whose yearly number of parts a row states.
#[derive(Debug, Clone, PartialEq)]
pub enum Whose {
    /// That of the drawings that a pattern matches; it may begin at any folder.
    Drawing(String),
    /// That of a part number, as hole lists state it.
    Part(String),
}

/// How many parts of a drawing or of a part number are made in a year.
#[derive(Debug, Clone, PartialEq)]
pub struct Yearly {
    /// Which drawings.
    pub whose: Whose,
    /// Parts a year.
    pub parts: f64,
    /// Where it was stated.
    pub origin: Origin,
}

/// A shop's costs.
#[derive(Debug, Clone, PartialEq)]
pub struct Costs {
    /// Name of the money, a free label.
    pub currency: String,
    /// What holds for every thread.
    pub items: CostItems,
    /// What holds for a thread instead.
    pub by_thread: Vec<(Thread, CostItems)>,
    /// Parts a year; the first row that fits a drawing holds.
    pub yearly: Vec<Yearly>,
    /// Where they were stated.
    pub origin: Origin,
}

impl CostItems {
    /// These items, and those of `other` where these state none.
    fn or(self, other: CostItems) -> CostItems {
        CostItems {
            tapping_seconds: self.tapping_seconds.or(other.tapping_seconds),
            tapping_rate: self.tapping_rate.or(other.tapping_rate),
            tap_price: self.tap_price.or(other.tap_price),
            holes_per_tap: self.holes_per_tap.or(other.holes_per_tap),
            cleaning: self.cleaning.or(other.cleaning),
            gauging: self.gauging.or(other.gauging),
            scrap: self.scrap.or(other.scrap),
            screw_premium: self.screw_premium.or(other.screw_premium),
            drive_seconds: self.drive_seconds.or(other.drive_seconds),
            drive_rate: self.drive_rate.or(other.drive_rate),
            proving: self.proving.or(other.proving),
        }
    }
}

impl Costs {
    /// The costs of a thread: its own over those of every thread.
    pub fn of(&self, thread: &Thread) -> CostItems {
        let same = |other: &Thread| other.major == thread.major && other.pitch == thread.pitch;
        let own = self.by_thread.iter().find(|(other, _)| same(other));
        own.map_or(self.items, |(_, items)| items.or(self.items))
    }

    /// The row that states how many parts of a drawing are made in a year, with its number.
    pub fn yearly_of(&self, path: &str, part: Option<&str>) -> Option<(usize, &Yearly)> {
        let fits = |row: &Yearly| match &row.whose {
            Whose::Drawing(pattern) => check_pattern(pattern).is_ok() && matches(pattern, path),
            Whose::Part(name) => part == Some(name),
        };
        self.yearly.iter().enumerate().find(|(_, row)| fits(row))
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn costs() -> Costs {
        let origin = |n: u32| Origin::File { file: "costs.json".to_owned(), pointer: format!("/{n}") };
        let thread = |name: &str| Thread::parse(name).unwrap();
        let row = |whose, parts, n| Yearly { whose, parts, origin: origin(n) };
        Costs {
            currency: "EUR".to_owned(),
            items: CostItems { cleaning: Some(0.01), proving: Some(900.0), ..CostItems::default() },
            by_thread: vec![(
                thread("M4x0.7"),
                CostItems { cleaning: Some(0.02), gauging: Some(0.1), ..CostItems::default() },
            )],
            yearly: vec![
                row(Whose::Part("GC-1".to_owned()), 5.0, 0),
                row(Whose::Drawing("sheet/*.dxf".to_owned()), 7.0, 1),
                row(Whose::Drawing("*.dxf".to_owned()), 9.0, 2),
            ],
            origin: origin(3),
        }
    }

    #[test]
    fn a_thread_has_its_own_costs_over_those_of_all() {
        let of = |name: &str| costs().of(&Thread::parse(name).unwrap());
        assert_eq!(of("M4").cleaning, Some(0.02));
        assert_eq!((of("M4").gauging, of("M4").proving), (Some(0.1), Some(900.0)));
        assert_eq!((of("M5").cleaning, of("M5").gauging), (Some(0.01), None));
    }

    #[test]
    fn the_first_row_that_fits_states_the_parts_a_year() {
        let of = |path: &str, part| costs().yearly_of(path, part).map(|(nth, row)| (nth, row.parts));
        assert_eq!(of("a/sheet/lid.dxf", Some("GC-1")), Some((0, 5.0)));
        assert_eq!(of("a/sheet/lid.dxf", None), Some((1, 7.0)));
        assert_eq!(of("lid.dxf", Some("GC-2")), Some((2, 9.0)));
        assert_eq!(of("lid.dwg", None), None);
    }
}
