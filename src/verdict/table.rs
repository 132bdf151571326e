//! The calculator over many thicknesses or over many drills, a row each.

use super::calculator::{self, Question, answer};
use super::strip::Strip;
use super::{HoleBand, Verdict};
use crate::practice::Practice;
use crate::trade::{Basis, hole_for, percent};
use crate::units::{Length, Unit};

/// What a table runs over.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Over {
    /// Usual thicknesses of sheet and plate.
    Thickness,
    /// Drills about the band.
    Drills,
}

/// A row: one thickness or one drill.
#[derive(Debug, Clone, PartialEq)]
pub struct TableRow {
    /// Thickness of the metal; none if not known.
    pub thickness: Option<Length>,
    /// The drill of that size, where there is one.
    pub drill: Option<String>,
    /// Whether it is stocked; true for what is no drill.
    pub stocked: bool,
    /// The hole: the given one, the one to call out at that thickness, or the drill's. None where no band is known.
    pub hole: Option<Length>,
    /// Rolled engagement of the hole that the screw meets (percent).
    pub engagement: Option<f64>,
    /// The same at the smallest and the largest hole, where a tolerance is known.
    pub limits: Option<(f64, f64)>,
    /// The band.
    pub band: Option<HoleBand>,
    /// The verdict.
    pub verdict: Option<Verdict>,
    /// Strip guidance.
    pub strip: Option<Strip>,
}

/// Usual thicknesses: of sheet and plate in mm, of sheet gauges and plate in inches rounded to what drawings write.
const MM: [f64; 16] = [0.8, 1.0, 1.2, 1.5, 2.0, 2.5, 3.0, 4.0, 5.0, 6.0, 8.0, 10.0, 12.0, 15.0, 20.0, 25.0];
const INCH: [f64; 14] =
    [0.030, 0.036, 0.048, 0.060, 0.075, 0.090, 0.105, 0.125, 0.188, 0.250, 0.375, 0.500, 0.750, 1.000];
/// Thicknesses beyond this many diameters are left out: more thread is of no use (common practice).
const MOST_DIAMETERS: f64 = 2.5;
/// Rolled engagement that drills are shown for where no band is known, and how far beyond a band (percent).
const WITHOUT_BAND: (f64, f64) = (50.0, 110.0);
const BESIDE: f64 = 10.0;

/// The rows of a table.
pub fn table(question: &Question, over: Over, practice: &Practice) -> Vec<TableRow> {
    match over {
        Over::Thickness => by_thickness(question, practice),
        Over::Drills => by_drill(question, practice),
    }
}

fn by_thickness(question: &Question, practice: &Practice) -> Vec<TableRow> {
    let unit = question.thread.unit;
    let values: &[f64] = if unit == Unit::Mm { &MM } else { &INCH };
    let most = question.thread.major * MOST_DIAMETERS;
    let all = values.iter().filter_map(|v| Length::new(*v, unit).ok()).filter(|t| *t <= most);
    all.map(|thickness| {
        let asked = Question { thickness: Some(thickness), ..question.clone() };
        let advised = answer(&asked, practice).advice;
        let hole = question.hole.or(advised.as_ref().map(|a| a.diameter));
        let drill = advised.filter(|_| question.hole.is_none()).and_then(|a| a.drill);
        row(&Question { hole, ..asked }, drill, true, practice)
    })
    .collect()
}

fn by_drill(question: &Question, practice: &Practice) -> Vec<TableRow> {
    let found = answer(question, practice);
    let (min, max) = found.band.as_ref().map_or(WITHOUT_BAND, |b| (b.band.min - BESIDE, b.band.max + BESIDE));
    let (least, most) = question.takes();
    let at = |percent| hole_for(&question.thread, percent, Basis::Rolled);
    calculator::drills(practice, at(max) + least, at(min) + most)
        .into_iter()
        .map(|drill| {
            let asked = Question { hole: Some(drill.diameter), ..question.clone() };
            row(&asked, Some(drill.name), drill.stocked, practice)
        })
        .collect()
}

/// One row: the question answered for its hole.
fn row(question: &Question, drill: Option<String>, stocked: bool, practice: &Practice) -> TableRow {
    let found = answer(question, practice);
    let engaged = |hole| percent(&question.thread, hole, Basis::Rolled);
    let met = found.hole.as_ref().map(calculator::HoleAnswer::met);
    TableRow {
        thickness: question.thickness,
        drill,
        stocked,
        hole: question.hole,
        engagement: met.as_ref().map(|m| engaged(m.nominal)),
        limits: met.filter(|m| m.min != m.max).map(|m| (engaged(m.min), engaged(m.max))),
        verdict: found.hole.as_ref().and_then(|hole| hole.verdict),
        band: found.band,
        strip: found.strip,
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::trade::{Material, Thread};

    fn asked(thread: &str) -> Question {
        let thread = Thread::parse(thread).expect("thread");
        Question { material: Some(Material::LowCarbonSteel), ..Question::of(thread) }
    }

    #[test]
    fn thicker_metal_wants_a_larger_hole_and_carries_more() {
        let rows = table(&asked("M4"), Over::Thickness, &Practice::default());
        // 0.8 to 10 mm: 2.5 × 4.
        let ends = (rows[0].thickness, rows[rows.len() - 1].thickness);
        assert_eq!(ends, (Some(Length::mm_const(0.8)), Some(Length::mm_const(10.0))));
        for pair in rows.windows(2) {
            assert!(pair[0].hole <= pair[1].hole);
            let load = |r: &TableRow| r.strip.as_ref().and_then(|s| s.loads).map(|l| l.metal_n.0);
            assert!(load(&pair[0]) < load(&pair[1]));
            assert_eq!(pair[0].verdict, Some(Verdict::InBand));
        }
    }

    #[test]
    fn drills_about_the_band_fall_in_engagement_as_they_grow() {
        let rows = table(
            &Question { thickness: Some(Length::mm_const(1.5)), ..asked("M4") },
            Over::Drills,
            &Practice::default(),
        );
        let drills: Vec<&str> = rows.iter().filter_map(|r| r.drill.as_deref()).collect();
        // Band 80 to 98 %, Ø3.554 to 3.636, shown from 108 to 70 %: Ø3.509 to 3.682.
        assert!(
            drills.contains(&"3.6 mm") && drills.contains(&"#28") && !drills.contains(&"3.5 mm"),
            "{drills:?}"
        );
        for pair in rows.windows(2) {
            assert!(pair[0].engagement >= pair[1].engagement);
        }
        let of = |name: &str| rows.iter().find(|r| r.drill.as_deref() == Some(name)).and_then(|r| r.verdict);
        assert_eq!(of("3.6 mm"), Some(Verdict::InBand));
    }

    #[test]
    fn what_is_not_known_stays_empty() {
        let unknown = Question { material: None, ..asked("M4") };
        for row in table(&unknown, Over::Thickness, &Practice::default()) {
            assert!(row.hole.is_none() && row.verdict.is_none() && row.strip.is_none());
        }
        for row in table(&unknown, Over::Drills, &Practice::default()) {
            assert!(row.band.is_none() && row.verdict != Some(Verdict::InBand));
        }
    }
}
