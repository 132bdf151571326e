//! Engagement bands by material and thickness over diameter. No standard that was read gives bands: they are
//! trade practice, and every band says so.

use std::sync::LazyLock;

use serde::Deserialize;

use super::{Material, Process, Status, Thread, process_note, tables};
use crate::units::{Length, Unit};

/// The least and greatest engagement allowed, percent on the rolled basis, with a target.
#[derive(Debug, Clone, PartialEq)]
pub struct Band {
    /// Least engagement (percent).
    pub min: f64,
    /// Engagement to aim at (percent).
    pub target: f64,
    /// Greatest engagement (percent).
    pub max: f64,
    /// Where it comes from.
    pub source: String,
    /// How well that is founded.
    pub status: Status,
    /// What the source adds for this process or thickness, if anything.
    pub note: Option<String>,
}

/// Why no thread can be formed in a material at all.
#[derive(Debug, Clone, PartialEq)]
pub struct Unsuitable {
    /// One sentence.
    pub reason: String,
    /// Where it comes from.
    pub source: String,
    /// How well that is founded.
    pub status: Status,
}

/// A band that is possible, and what would make it hold.
#[derive(Debug, Clone, PartialEq)]
pub struct Possible {
    /// The material it holds for.
    pub material: Material,
    /// The thicknesses it holds for, over the first up to and including the second; none if for all.
    /// An end that is open is none.
    pub thickness: Option<(Option<Length>, Option<Length>)>,
    /// The band.
    pub band: Band,
}

/// What the trade answers when asked for a band.
#[derive(Debug, Clone, PartialEq)]
pub enum BandAnswer {
    /// One band holds for all that is known.
    One(Band),
    /// It depends on what is not known: every band that is possible.
    Depends {
        /// The possible bands. With the material unknown a material that takes no thread (grey iron) is
        /// possible too and stands in no band.
        bands: Vec<Possible>,
        /// What is missing: `thickness`, `material`.
        missing: Vec<&'static str>,
    },
    /// A thread cannot be formed in this material.
    Unsuitable(Unsuitable),
}

/// A row of the thickness schedule.
#[derive(Debug, Deserialize)]
struct Step {
    over: f64,
    to: f64,
    min: f64,
    target: f64,
    max: f64,
    source: String,
    status: Status,
}

/// A row of the bands by material.
#[derive(Debug, Deserialize)]
struct ByMaterial {
    material: Material,
    min: f64,
    target: f64,
    max: f64,
    note: String,
    source: String,
    status: Status,
}

/// A row of the materials that take no thread, at all or above a hardness.
#[derive(Debug, Deserialize)]
struct UnsuitableRow {
    material: Material,
    hardness_over_hb: Option<f64>,
    reason: String,
    source: String,
    status: Status,
}

static SCHEDULE: LazyLock<Vec<Step>> =
    LazyLock::new(|| tables::rows("bands_by_thickness.csv", include_str!("tables/bands_by_thickness.csv")));
static BY_MATERIAL: LazyLock<Vec<ByMaterial>> =
    LazyLock::new(|| tables::rows("bands_by_material.csv", include_str!("tables/bands_by_material.csv")));
static UNSUITABLE: LazyLock<Vec<UnsuitableRow>> = LazyLock::new(|| {
    tables::rows("unsuitable_materials.csv", include_str!("tables/unsuitable_materials.csv"))
});

/// The slack on thickness over diameter at a row's border, so that 1.6 mm over M4 is 0.4 in every unit.
const BORDER: f64 = 1e-9;

/// The band for a thread in a material of a thickness; unknown inputs widen the answer.
///
/// `thickness` is the effective one: for an extruded hole the sheet plus its collar. The thickness schedule
/// holds for low-carbon steel only. A thickness over diameter on a border belongs to the row that it ends
/// (over 0.2, up to and including 0.4); below the first row and above the last the nearest row answers, with
/// a note.
///
/// ```
/// use boreband::trade::{BandAnswer, Material, Thread, band_for};
/// use boreband::units::Length;
/// let thread = Thread::parse("M4").unwrap();
/// let answer = band_for(&thread, Some(Material::LowCarbonSteel), Some(Length::from_mm(1.5).unwrap()), None);
/// let BandAnswer::One(band) = answer else { panic!() };
/// assert_eq!((band.min, band.target, band.max), (80.0, 90.0, 98.0)); // t/D 0.375, common practice
/// ```
pub fn band_for(
    thread: &Thread,
    material: Option<Material>,
    thickness: Option<Length>,
    process: Option<Process>,
) -> BandAnswer {
    if let Some(row) = material.and_then(never) {
        return BandAnswer::Unsuitable(row.why());
    }
    let materials = match material {
        Some(known) => vec![known],
        None => Material::ALL.into_iter().filter(|m| never(*m).is_none()).collect(),
    };
    let mut bands: Vec<Possible> =
        materials.into_iter().flat_map(|m| possible(thread, m, thickness, process)).collect();
    match (material, bands.len()) {
        (Some(_), 1) => BandAnswer::One(bands.remove(0).band),
        _ => {
            let unknown = [("material", material.is_none()), ("thickness", thickness.is_none())];
            BandAnswer::Depends { bands, missing: unknown.into_iter().filter(|u| u.1).map(|u| u.0).collect() }
        }
    }
}

/// Why a metal of that hardness takes no rolled thread; none if it does, or if no limit is known for it.
///
/// ```
/// use boreband::trade::{Material, too_hard};
/// assert!(too_hard(Material::StructuralSteel, 240.0).is_some()); // limit 190 HB, from memory
/// assert!(too_hard(Material::StructuralSteel, 140.0).is_none());
/// ```
pub fn too_hard(material: Material, hardness_hb: f64) -> Option<Unsuitable> {
    UNSUITABLE
        .iter()
        .find(|r| r.material == material && r.hardness_over_hb.is_some_and(|limit| hardness_hb > limit))
        .map(UnsuitableRow::why)
}

/// The row of a material that takes no thread at any hardness.
fn never(material: Material) -> Option<&'static UnsuitableRow> {
    UNSUITABLE.iter().find(|r| r.material == material && r.hardness_over_hb.is_none())
}

impl UnsuitableRow {
    fn why(&self) -> Unsuitable {
        Unsuitable { reason: self.reason.clone(), source: self.source.clone(), status: self.status }
    }
}

/// Every band of one material for what is known of the thickness.
fn possible(
    thread: &Thread,
    material: Material,
    thickness: Option<Length>,
    process: Option<Process>,
) -> Vec<Possible> {
    if material == Material::LowCarbonSteel {
        return match thickness {
            Some(thickness) => vec![at_thickness(thread, thickness, process)],
            None => every_step(thread, process),
        };
    }
    let made = BY_MATERIAL.iter().filter(|r| r.material == material).map(|row| Possible {
        material,
        thickness: None,
        band: Band {
            min: row.min,
            target: row.target,
            max: row.max,
            source: row.source.clone(),
            status: row.status,
            note: joined(&[Some(&row.note), process.map(process_note).as_ref()]),
        },
    });
    made.collect()
}

/// The schedule's band at a thickness.
fn at_thickness(thread: &Thread, thickness: Length, process: Option<Process>) -> Possible {
    let ratio = thickness / thread.major;
    let inside = SCHEDULE.iter().find(|s| ratio > s.over + BORDER && ratio <= s.to + BORDER);
    let (step, note) = match inside {
        Some(step) => (step, None),
        None if ratio <= SCHEDULE[0].over + BORDER => (
            &SCHEDULE[0],
            Some(format!("t/D {ratio:.2} is below the schedule, which starts at 0.2: nearest row")),
        ),
        None => {
            let last = &SCHEDULE[SCHEDULE.len() - 1];
            (
                last,
                Some(format!("t/D {ratio:.2} is above the schedule, which ends at {}: nearest row", last.to)),
            )
        }
    };
    Possible {
        material: Material::LowCarbonSteel,
        thickness: Some((Some(thickness), Some(thickness))),
        band: step.band(note.as_ref(), process),
    }
}

/// The schedule's bands with the thicknesses that they hold for; open at both ends.
fn every_step(thread: &Thread, process: Option<Process>) -> Vec<Possible> {
    let last = SCHEDULE.len() - 1;
    let steps = SCHEDULE.iter().enumerate().map(|(i, step)| Possible {
        material: Material::LowCarbonSteel,
        thickness: Some((
            (i > 0).then(|| thread.major * step.over),
            (i < last).then(|| thread.major * step.to),
        )),
        band: step.band(None, process),
    });
    steps.collect()
}

impl Step {
    fn band(&self, note: Option<&String>, process: Option<Process>) -> Band {
        Band {
            min: self.min,
            target: self.target,
            max: self.max,
            source: self.source.clone(),
            status: self.status,
            note: joined(&[note, process.map(process_note).as_ref()]),
        }
    }
}

/// Notes in one line, none if there are none.
fn joined(notes: &[Option<&String>]) -> Option<String> {
    let said: Vec<&str> = notes.iter().flatten().map(|n| n.as_str()).filter(|n| !n.is_empty()).collect();
    (!said.is_empty()).then(|| said.join("; "))
}

impl Possible {
    /// What would make it hold, for people, lengths in `unit`: `low-carbon-steel, 0.8 to 1.6 mm thick`.
    pub fn label(&self, unit: Unit) -> String {
        match self.thickness_label(unit) {
            Some(thickness) => format!("{}, {thickness}", self.material.name()),
            None => self.material.name().to_owned(),
        }
    }

    /// The thickness part of [`Possible::label`]; none if the band holds for every thickness.
    pub fn thickness_label(&self, unit: Unit) -> Option<String> {
        let places = if unit == Unit::Mm { 2 } else { 3 };
        let show = |l: Length| {
            let text = format!("{:.places$}", l.value_in(unit));
            let text = text.trim_end_matches('0').trim_end_matches('.').to_owned();
            if unit == Unit::Inch { text.trim_start_matches('0').to_owned() } else { text }
        };
        match self.thickness? {
            (Some(a), Some(b)) if a == b => Some(format!("{} {unit} thick", show(a))),
            (Some(a), Some(b)) => Some(format!("{} to {} {unit} thick", show(a), show(b))),
            (None, Some(b)) => Some(format!("up to {} {unit} thick", show(b))),
            (Some(a), None) => Some(format!("over {} {unit} thick", show(a))),
            (None, None) => None,
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn band(thread: &str, material: Material, mm: f64) -> Band {
        let thread = Thread::parse(thread).expect("thread");
        match band_for(&thread, Some(material), Some(Length::mm_const(mm)), None) {
            BandAnswer::One(band) => band,
            other => panic!("{other:?}"),
        }
    }

    #[test]
    fn tables_are_ordered_and_whole() {
        assert_eq!((SCHEDULE.len(), BY_MATERIAL.len(), UNSUITABLE.len()), (6, 8, 4));
        for pair in SCHEDULE.windows(2) {
            assert_eq!(pair[0].to, pair[1].over, "no gap between rows");
            assert!(pair[0].target > pair[1].target, "thicker metal, less engagement");
        }
        let edges = SCHEDULE.iter().map(|s| (s.min, s.target, s.max));
        for (min, target, max) in edges.chain(BY_MATERIAL.iter().map(|r| (r.min, r.target, r.max))) {
            assert!(0.0 < min && min < target && target < max && max < 100.0);
        }
        // Every material is answered by exactly one of the three tables.
        for material in Material::ALL {
            let rows = BY_MATERIAL.iter().filter(|r| r.material == material).count();
            let stepped = usize::from(material == Material::LowCarbonSteel);
            assert_eq!(rows + stepped + usize::from(never(material).is_some()), 1, "{}", material.name());
        }
    }

    #[test]
    fn schedule_targets() {
        // Trade schedule 90/85/80/75/70/65 %, common practice, at the middle of each row.
        for (mm, target) in [(1.2, 90.0), (2.0, 85.0), (3.0, 80.0), (4.0, 75.0), (5.0, 70.0), (7.0, 65.0)] {
            assert_eq!(band("M4", Material::LowCarbonSteel, mm).target, target, "{mm}");
        }
    }

    #[test]
    fn a_border_belongs_to_the_row_it_ends() {
        for (thread, mm, target) in
            [("M4", 1.6, 90.0), ("M5", 2.0, 90.0), ("M4", 1.601, 85.0), ("M10", 6.0, 85.0)]
        {
            assert_eq!(band(thread, Material::LowCarbonSteel, mm).target, target, "{thread} {mm}");
        }
        // 0.1 in over 1/4 in is 0.4 however it is written.
        assert_eq!(band("1/4-20", Material::LowCarbonSteel, 0.1 * 25.4).target, 90.0);
    }

    #[test]
    fn outside_the_schedule_the_nearest_row_answers_with_a_note() {
        let thin = band("M4", Material::LowCarbonSteel, 0.5);
        assert_eq!(thin.target, 90.0);
        assert!(thin.note.expect("a note").contains("below the schedule"));
        let thick = band("M4", Material::LowCarbonSteel, 12.0);
        assert_eq!(thick.target, 65.0);
        assert!(thick.note.expect("a note").contains("above the schedule"));
        // 0.8 mm over M4 is 0.2: the schedule starts above it, so the nearest row answers.
        assert_eq!(band("M4", Material::LowCarbonSteel, 0.8).target, 90.0);
    }

    #[test]
    fn bands_by_material() {
        // Common practice, as in the table's source.
        let steel = band("M5", Material::StainlessSteel, 2.0);
        assert_eq!((steel.min, steel.target, steel.max), (55.0, 65.0, 75.0));
        assert_eq!(steel.status, Status::CommonPractice);
        let zinc = band("M5", Material::ZincDieCast, 8.0);
        assert_eq!((zinc.min, zinc.target, zinc.max), (70.0, 85.0, 95.0));
    }

    #[test]
    fn unknowns_widen_the_answer() {
        let thread = Thread::parse("M4").expect("M4");
        let answer = band_for(&thread, Some(Material::LowCarbonSteel), None, None);
        let BandAnswer::Depends { bands, missing } = answer else { panic!("{answer:?}") };
        assert_eq!((bands.len(), missing), (6, vec!["thickness"]));
        assert_eq!(bands[1].label(Unit::Mm), "low-carbon-steel, 1.6 to 2.4 mm thick");
        assert_eq!(bands[0].label(Unit::Mm), "low-carbon-steel, up to 1.6 mm thick");
        let answer = band_for(&thread, None, Some(Length::mm_const(1.5)), None);
        let BandAnswer::Depends { bands, missing } = answer else { panic!("{answer:?}") };
        assert_eq!((bands.len(), missing), (9, vec!["material"]));
        let answer = band_for(&thread, None, None, None);
        let BandAnswer::Depends { bands, missing } = answer else { panic!("{answer:?}") };
        assert_eq!((bands.len(), missing), (14, vec!["material", "thickness"]));
    }

    #[test]
    fn grey_iron_is_unsuitable_and_stainless_needs_no_thickness() {
        let thread = Thread::parse("M4").expect("M4");
        let answer = band_for(&thread, Some(Material::GreyIron), None, None);
        assert!(matches!(answer, BandAnswer::Unsuitable(why) if why.reason.contains("brittle")));
        assert!(matches!(
            band_for(&thread, Some(Material::StainlessSteel), None, Some(Process::Punched)),
            BandAnswer::One(band) if band.note.as_deref().is_some_and(|n| n.contains("wall work-hardens"))
        ));
    }
}
