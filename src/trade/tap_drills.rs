//! Drills for threads that are cut with a tap. A hole for a rolled thread must not be one of them: it reads
//! about 150 % on the rolled basis.

use std::sync::LazyLock;

use serde::Deserialize;

use super::{Basis, Status, Thread, hole_for, nearest_drill, tables};
use crate::units::{Length, Unit};

/// A drill for cutting a thread.
#[derive(Debug, Clone, PartialEq)]
pub struct TapDrill {
    /// The drill's name: `#7`, `3.3 mm`.
    pub name: &'static str,
    /// Its diameter.
    pub diameter: Length,
    /// Where it comes from.
    pub source: &'static str,
    /// How well that is founded.
    pub status: Status,
}

/// A row of the table.
#[derive(Debug, Deserialize)]
struct Row {
    thread: String,
    drill: String,
    diameter: f64,
    unit: String,
    source: String,
    status: Status,
}

static ROWS: LazyLock<Vec<Row>> =
    LazyLock::new(|| tables::rows("tap_drills.csv", include_str!("tables/tap_drills.csv")));

/// The standard tap drills of a thread: the listed one, and the stocked drill at 75 % on the cut basis
/// (150 % rolled), which stands for threads that no list names.
///
/// ```
/// use boreband::trade::{Thread, tap_drills};
/// let thread = Thread::parse("M4").unwrap();
/// assert_eq!(tap_drills(&thread)[0].name, "3.3 mm");
/// ```
pub fn tap_drills(thread: &Thread) -> Vec<TapDrill> {
    let listed = ROWS.iter().filter(|r| r.thread == thread.name).filter_map(Row::drill);
    let by_percent = nearest_drill(hole_for(thread, 75.0, Basis::Cut), Some(thread.unit)).map(|d| TapDrill {
        name: &d.name,
        diameter: d.diameter,
        source: "stocked drill at 75 % on the cut basis",
        status: Status::CommonPractice,
    });
    let mut all: Vec<TapDrill> = listed.collect();
    if let Some(drill) = by_percent
        && all.iter().all(|d| d.name != drill.name)
    {
        all.push(drill);
    }
    all
}

impl Row {
    fn drill(&'static self) -> Option<TapDrill> {
        let unit = if self.unit == "mm" { Unit::Mm } else { Unit::Inch };
        Some(TapDrill {
            name: &self.drill,
            diameter: Length::new(self.diameter, unit).ok()?,
            source: &self.source,
            status: self.status,
        })
    }
}

#[cfg(test)]
mod tests {
    use super::super::{drill_by_name, percent};
    use super::*;

    #[test]
    fn table_agrees_with_the_drills() {
        assert_eq!(ROWS.len(), 39);
        for (i, row) in ROWS.iter().enumerate() {
            assert!(ROWS[..i].iter().all(|r| r.thread != row.thread), "{} twice", row.thread);
            let drill = drill_by_name(&row.drill).unwrap_or_else(|| panic!("{}", row.drill));
            let unit = if row.unit == "mm" { Unit::Mm } else { Unit::Inch };
            assert!((drill.diameter.value_in(unit) - row.diameter).abs() < 1e-6, "{}", row.thread);
        }
    }

    #[test]
    fn tap_drills_lie_near_150_percent_rolled() {
        // 75 % cut is 150 % rolled; lists run from 66 to 80 % cut (as recalled), 132 to 160 % rolled.
        for row in ROWS.iter() {
            let thread = Thread::parse(&row.thread).expect("listed thread");
            for drill in tap_drills(&thread) {
                let rolled = percent(&thread, drill.diameter, Basis::Rolled);
                assert!((132.0..163.0).contains(&rolled), "{} {} {rolled}", row.thread, drill.name);
            }
        }
    }

    #[test]
    fn threads_without_a_list_have_one_too() {
        let found = tap_drills(&Thread::parse("M5x0.5").expect("fine thread"));
        assert_eq!(found.len(), 1);
        assert_eq!(found[0].name, "4.5 mm"); // D − P, the rule for metric tap drills
    }
}
