//! Engagement bands by material and thickness over diameter. No standard that was read gives bands: they are
//! trade practice, and every band says so.

use std::sync::LazyLock;

use serde::Deserialize;

use super::{Material, Process, Status, Thread, process_note, tables};
use crate::shared::SharedText;
use crate::units::Length;

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
    pub source: SharedText,
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

/// A row of the thickness schedule.
#[derive(Debug, Deserialize)]
struct Step {
    over: f64,
    to: f64,
    min: f64,
    target: f64,
    max: f64,
    source: SharedText,
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
    source: SharedText,
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

/// The band for a thread in a material of a thickness, or why no thread can be formed in it.
///
/// `thickness` is the effective one: for an extruded hole the sheet plus its collar. The thickness schedule
/// holds for low-carbon steel only. A thickness over diameter on a border belongs to the row that it ends
/// (over 0.2, up to and including 0.4); below the first row and above the last the nearest row answers, with
/// a note.
///
/// ```
/// use boreband::trade::{Material, Thread, band_at};
/// use boreband::units::Length;
/// let thread = Thread::parse("M4").unwrap();
/// let band = band_at(&thread, Material::LowCarbonSteel, Length::from_mm(1.5).unwrap(), None).unwrap();
/// assert_eq!((band.min, band.target, band.max), (80.0, 90.0, 98.0)); // t/D 0.375, common practice
/// ```
///
/// # Errors
/// Why no thread can be formed in the material.
pub fn band_at(
    thread: &Thread,
    material: Material,
    thickness: Length,
    process: Option<Process>,
) -> Result<Band, Unsuitable> {
    if let Some(row) = never(material) {
        return Err(row.why());
    }
    let by_material = BY_MATERIAL.iter().find(|r| r.material == material);
    Ok(by_material.map_or_else(|| at_thickness(thread, thickness, process), |row| row.band(process)))
}

/// The thicknesses over diameter at which the schedule for low-carbon steel changes, rising, with both its ends.
pub fn schedule_borders() -> &'static [f64] {
    static BORDERS: LazyLock<Vec<f64>> = LazyLock::new(|| {
        let starts = SCHEDULE.iter().map(|s| s.over);
        starts.chain(SCHEDULE.last().map(|s| s.to)).collect()
    });
    &BORDERS
}

/// A band of the trade with what it holds for.
#[derive(Debug, Clone, PartialEq)]
pub struct BandOf {
    /// The material.
    pub material: Material,
    /// Thickness over diameter, over the first and up to the second; none if for all.
    pub ratio: Option<(f64, f64)>,
    /// The band.
    pub band: Band,
}

/// Every band of the trade, row by row.
pub fn band_rows() -> Vec<BandOf> {
    let steps = SCHEDULE.iter().map(|s| BandOf {
        material: Material::LowCarbonSteel,
        ratio: Some((s.over, s.to)),
        band: s.band("", None),
    });
    let rows = BY_MATERIAL.iter().map(|r| BandOf { material: r.material, ratio: None, band: r.band(None) });
    steps.chain(rows).collect()
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

impl ByMaterial {
    fn band(&self, process: Option<Process>) -> Band {
        Band {
            min: self.min,
            target: self.target,
            max: self.max,
            source: self.source.clone(),
            status: self.status,
            note: joined(&self.note, process.map_or("", process_note)),
        }
    }
}

/// The schedule's band at a thickness.
fn at_thickness(thread: &Thread, thickness: Length, process: Option<Process>) -> Band {
    let ratio = thickness / thread.major;
    let inside = SCHEDULE.iter().find(|s| ratio > s.over + BORDER && ratio <= s.to + BORDER);
    let (step, note) = match inside {
        Some(step) => (step, String::new()),
        None if ratio <= SCHEDULE[0].over + BORDER => {
            (&SCHEDULE[0], format!("t/D {ratio:.2} is below the schedule, which starts at 0.2: nearest row"))
        }
        None => {
            let last = &SCHEDULE[SCHEDULE.len() - 1];
            (last, format!("t/D {ratio:.2} is above the schedule, which ends at {}: nearest row", last.to))
        }
    };
    step.band(&note, process)
}

impl Step {
    fn band(&self, note: &str, process: Option<Process>) -> Band {
        Band {
            min: self.min,
            target: self.target,
            max: self.max,
            source: self.source.clone(),
            status: self.status,
            note: joined(note, process.map_or("", process_note)),
        }
    }
}

/// Two notes in one line; an empty one is none.
fn joined(note: &str, other: &str) -> Option<String> {
    match (note, other) {
        ("", "") => None,
        ("", only) | (only, "") => Some(only.to_owned()),
        (note, other) => Some([note, "; ", other].concat()),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn band(thread: &str, material: Material, mm: f64) -> Band {
        let thread = Thread::parse(thread).expect("thread");
        band_at(&thread, material, Length::mm_const(mm), None).expect("a band")
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
    fn grey_iron_is_unsuitable_and_a_process_is_noted() {
        let thread = Thread::parse("M4").expect("M4");
        let iron = band_at(&thread, Material::GreyIron, Length::mm_const(5.0), None);
        assert!(iron.is_err_and(|why| why.reason.contains("brittle")));
        let punched =
            band_at(&thread, Material::StainlessSteel, Length::mm_const(2.0), Some(Process::Punched));
        assert!(punched.is_ok_and(|band| band.note.is_some_and(|n| n.contains("wall work-hardens"))));
    }
}
