//! Twist drills by name and by size: number, letter, fraction and metric series.

use std::sync::LazyLock;

use serde::Deserialize;

use super::{Status, tables};
use crate::units::{Length, Unit};

/// A series that drills are stocked in.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum DrillSeries {
    /// `#80` to `#1`.
    Number,
    /// `A` to `Z`.
    Letter,
    /// 64ths of an inch to one inch.
    Fraction,
    /// 1.00 to 2.95 mm by 0.05, 3.0 to 13.9 mm by 0.1.
    Metric,
    /// Sizes of 0.05 mm above 3 mm, sold as special sizes.
    #[serde(rename = "metric_05_special")]
    MetricSpecial,
}

impl DrillSeries {
    /// The unit that the series is stepped in.
    pub const fn unit(self) -> Unit {
        match self {
            DrillSeries::Number | DrillSeries::Letter | DrillSeries::Fraction => Unit::Inch,
            DrillSeries::Metric | DrillSeries::MetricSpecial => Unit::Mm,
        }
    }

    /// Whether shops commonly stock it.
    pub const fn stocked(self) -> bool {
        !matches!(self, DrillSeries::MetricSpecial)
    }
}

/// A twist drill.
#[derive(Debug, Clone, PartialEq)]
pub struct Drill {
    /// `#25`, `B`, `7/32`, `3.6 mm`.
    pub name: String,
    /// Its series.
    pub series: DrillSeries,
    /// Its diameter.
    pub diameter: Length,
    /// Where the row comes from.
    pub source: String,
    /// How well that is founded.
    pub status: Status,
}

/// A row of the drill table.
#[derive(Debug, Deserialize)]
struct Row {
    series: DrillSeries,
    name: String,
    diameter: f64,
    unit: String,
    source: String,
    status: Status,
}

static DRILLS: LazyLock<Vec<Drill>> = LazyLock::new(|| {
    let rows: Vec<Row> = tables::rows("drills.csv", include_str!("tables/drills.csv"));
    let mut drills: Vec<Drill> = rows.into_iter().map(Row::drill).collect();
    drills.sort_by(|a, b| a.diameter.mm().total_cmp(&b.diameter.mm()).then(a.series.cmp(&b.series)));
    drills
});

impl Row {
    fn drill(self) -> Drill {
        debug_assert_eq!(self.unit, self.series.unit().name());
        Drill {
            diameter: Length::new(self.diameter, self.series.unit()).unwrap_or(Length::ZERO),
            name: self.name,
            series: self.series,
            source: self.source,
            status: self.status,
        }
    }
}

/// Every drill, by diameter.
pub fn drills() -> &'static [Drill] {
    &DRILLS
}

/// The drill of that name: `#25`, `No. 25`, `B`, `7/32`, `3.6 mm`. A number needs its sign, a metric size its
/// unit; letter case does not count. None if there is no such drill.
///
/// ```
/// use boreband::trade::drill_by_name;
/// assert!((drill_by_name("#25").unwrap().diameter.inch() - 0.1495).abs() < 1e-12);
/// assert_eq!(drill_by_name("No. 25"), drill_by_name("#25"));
/// assert!(drill_by_name("#81").is_none());
/// ```
pub fn drill_by_name(name: &str) -> Option<&'static Drill> {
    let upper = name.trim().to_uppercase();
    let marked =
        upper.strip_prefix("NO.").or_else(|| upper.strip_prefix("NO")).or_else(|| upper.strip_prefix('#'));
    if let Some(number) = marked {
        let number: u8 = number.trim().parse().ok()?;
        return DRILLS.iter().find(|d| d.name == format!("#{number}"));
    }
    if let Some(size) = upper.strip_suffix("MM") {
        let mm: f64 = size.trim().replace(',', ".").parse().ok()?;
        let metric = DRILLS.iter().filter(|d| d.series.unit() == Unit::Mm);
        return metric.into_iter().find(|d| (d.diameter.mm() - mm).abs() < 1e-6);
    }
    let bare = upper.trim_end_matches("IN").trim_end_matches('"').trim();
    DRILLS.iter().find(|d| {
        matches!(d.series, DrillSeries::Letter | DrillSeries::Fraction) && d.name == bare && !bare.is_empty()
    })
}

/// The drills of a diameter from `min` to `max`, both included, by diameter.
pub fn drills_between(min: Length, max: Length) -> impl Iterator<Item = &'static Drill> {
    let first = DRILLS.partition_point(|d| d.diameter.mm() < min.mm() - 1e-6);
    DRILLS[first..].iter().take_while(move |d| d.diameter.mm() <= max.mm() + 1e-6)
}

/// The stocked drill nearest to a diameter, of the series stepped in `unit` or of all if none is given; of two
/// equally near ones the smaller.
pub fn nearest_drill(diameter: Length, unit: Option<Unit>) -> Option<&'static Drill> {
    let from = |diameter: Length| DRILLS.partition_point(|d| d.diameter < diameter);
    let kept = |d: &&Drill| d.series.stocked() && unit.is_none_or(|u| d.series.unit() == u);
    let (below, above) = DRILLS.split_at(from(diameter));
    // Of drills of one diameter the first, on both sides.
    let smaller = below.iter().rev().find(kept).and_then(|d| below[from(d.diameter)..].iter().find(kept));
    let off = |d: &Drill| (d.diameter - diameter).abs();
    match (smaller, above.iter().find(kept)) {
        (Some(smaller), Some(larger)) => Some(if off(larger) < off(smaller) { larger } else { smaller }),
        (smaller, larger) => smaller.or(larger),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use std::collections::HashSet;

    #[test]
    fn table_is_whole_and_unique() {
        let count = |s| DRILLS.iter().filter(|d| d.series == s).count();
        // Number 80 to 1, letters A to Z, 64ths to 1 in; metric by the BS 328 rule: 40 + 110.
        assert_eq!(count(DrillSeries::Number), 80);
        assert_eq!(count(DrillSeries::Letter), 26);
        assert_eq!(count(DrillSeries::Fraction), 64);
        assert_eq!(count(DrillSeries::Metric), 150);
        assert_eq!(count(DrillSeries::MetricSpecial), 11);
        assert_eq!(DRILLS.iter().map(|d| &d.name).collect::<HashSet<_>>().len(), DRILLS.len());
        assert!(DRILLS.windows(2).all(|p| p[0].diameter <= p[1].diameter));
        assert!(DRILLS.iter().all(|d| !d.source.is_empty() && d.diameter > Length::ZERO));
    }

    #[test]
    fn series_follow_their_rules() {
        for drill in DRILLS.iter() {
            match drill.series {
                DrillSeries::Fraction => {
                    let parts = drill.diameter.inch() * 64.0;
                    assert!((parts - parts.round()).abs() < 1e-6, "{}", drill.name);
                }
                DrillSeries::Metric | DrillSeries::MetricSpecial => {
                    let step = if drill.series == DrillSeries::Metric && drill.diameter.mm() > 2.96 {
                        10.0
                    } else {
                        20.0
                    };
                    let steps = drill.diameter.mm() * step;
                    assert!((steps - steps.round()).abs() < 1e-6, "{}", drill.name);
                }
                DrillSeries::Number | DrillSeries::Letter => {}
            }
        }
        // Numbers count down as drills grow, letters up.
        let order =
            |s| DRILLS.iter().filter(move |d| d.series == s).map(|d| d.name.as_str()).collect::<Vec<_>>();
        let numbers: Vec<u8> =
            order(DrillSeries::Number).iter().map(|n| n[1..].parse().expect("number")).collect();
        assert!(numbers.windows(2).all(|p| p[0] == p[1] + 1));
        assert!(order(DrillSeries::Letter).windows(2).all(|p| p[0] < p[1]));
    }

    #[test]
    fn by_name_and_by_size() {
        // Values of the number and letter series: open data sets that agree (published).
        for (name, inch) in
            [("#2", 0.221), ("no. 29", 0.136), ("b", 0.238), ("7/32", 0.21875), ("7/32in", 0.21875)]
        {
            let drill = drill_by_name(name).unwrap_or_else(|| panic!("{name}"));
            assert!((drill.diameter.inch() - inch).abs() < 1e-9, "{name}");
        }
        assert_eq!(drill_by_name("3,6 mm").map(|d| d.name.as_str()), Some("3.6 mm"));
        for name in ["", "#0", "#81", "AA", "65/64", "99 mm", "#", "25"] {
            assert_eq!(drill_by_name(name), None, "{name}");
        }
        let near = |mm: f64, unit| nearest_drill(Length::mm_const(mm), unit).map(|d| d.name.as_str());
        assert_eq!(near(3.591, Some(Unit::Mm)), Some("3.6 mm"));
        assert_eq!(near(3.66, Some(Unit::Mm)), Some("3.7 mm")); // 3.65 is a special size, not stocked
        assert_eq!(near(5.69, Some(Unit::Inch)), Some("#2"));
        let between: Vec<_> = drills_between(Length::mm_const(3.554), Length::mm_const(3.636))
            .map(|d| d.name.as_str())
            .collect();
        assert_eq!(between, ["#28", "9/64", "3.6 mm"]); // .1405 in 3.569, 9/64 in 3.572 mm, by hand
    }

    #[test]
    fn the_nearest_drill_is_the_first_of_the_nearest_in_the_whole_table() {
        // Every hundredth of a millimetre, every drill itself, and the middles between neighbours.
        let steps = (0..3000).map(|n| f64::from(n) / 100.0);
        let own = DRILLS.iter().map(|d| d.diameter.mm());
        let middles = DRILLS.windows(2).map(|p| f64::midpoint(p[0].diameter.mm(), p[1].diameter.mm()));
        for mm in steps.chain(own).chain(middles) {
            let diameter = Length::from_mm(mm).expect("finite");
            for unit in [None, Some(Unit::Mm), Some(Unit::Inch)] {
                let kept =
                    DRILLS.iter().filter(|d| d.series.stocked() && unit.is_none_or(|u| d.series.unit() == u));
                let off = |d: &&Drill| (d.diameter - diameter).abs().mm();
                let expected = kept.min_by(|a, b| off(a).total_cmp(&off(b)));
                assert_eq!(nearest_drill(diameter, unit), expected, "{mm} {unit:?}");
            }
        }
    }
}
