//! Which member of a formed joint fails first, and how much metal makes the screw the weakest. Guidance for a
//! designer from strip areas and recalled strengths; nothing here passes or fails a joint.

use std::sync::LazyLock;

use serde::Deserialize;

use super::{Material, Status, Thread, formed_nut_area_mm2, formed_screw_area_mm2, stress_area_mm2, tables};
use crate::units::Length;

/// Shear strength as a share of tensile strength, least and greatest: 0.5 is what FED-STD-H28/2B formulas (14) and
/// (16) take (published), 0.6 is usual for mild steel (common practice).
pub const SHEAR_SHARE: (f64, f64) = (0.5, 0.6);

/// Tensile strength on the stress area of screws that no table names (MPa): the recalled DIN 7500-1 loads of M2 to M8
/// give 792 to 804 MPa.
const USUAL_MPA: f64 = 795.0;

/// What a screw bears before it breaks.
#[derive(Debug, Clone, PartialEq)]
pub struct ScrewStrength {
    /// Least tensile load (N).
    pub tensile_n: f64,
    /// Least breaking torque (N·m), where one is recalled.
    pub torque_nm: Option<f64>,
    /// Where the load comes from.
    pub source: String,
    /// Where the torque comes from.
    pub torque_source: Option<String>,
    /// How well both are founded.
    pub status: Status,
}

/// What a metal bears.
#[derive(Debug, Clone, PartialEq)]
pub struct MetalStrength {
    /// Tensile strength (MPa).
    pub tensile_mpa: f64,
    /// Where it comes from.
    pub source: String,
    /// How well that is founded.
    pub status: Status,
}

/// A member of the joint that can fail under tension.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum Member {
    /// The formed thread strips out of the metal.
    Metal,
    /// The screw's thread strips.
    ScrewThread,
    /// The screw breaks.
    Screw,
}

impl Member {
    /// The name used in reports.
    pub const fn name(self) -> &'static str {
        match self {
            Member::Metal => "metal-thread",
            Member::ScrewThread => "screw-thread",
            Member::Screw => "screw",
        }
    }
}

/// Failure loads of a formed joint, each for the least and the greatest share of shear strength.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Loads {
    /// The metal's thread strips (N).
    pub metal_n: (f64, f64),
    /// The screw's thread strips (N).
    pub screw_thread_n: (f64, f64),
    /// The screw breaks (N).
    pub screw_n: f64,
    /// The first to fail at the least and at the greatest share; alike where the answer is plain.
    pub first: (Member, Member),
    /// Engagement from which the screw breaks first, for the greatest and for the least share (shorter first).
    pub screw_first_from: (Length, Length),
}

/// A row of the screws.
#[derive(Debug, Deserialize)]
struct ScrewRow {
    thread: String,
    tensile_n: Option<f64>,
    torque_nm: Option<f64>,
    source: String,
    status: Status,
}

/// A row of the metals.
#[derive(Debug, Deserialize)]
struct MetalRow {
    material: Material,
    tensile_mpa: f64,
    source: String,
    status: Status,
}

static SCREWS: LazyLock<Vec<ScrewRow>> =
    LazyLock::new(|| tables::rows("screw_strengths.csv", include_str!("tables/screw_strengths.csv")));
static METALS: LazyLock<Vec<MetalRow>> =
    LazyLock::new(|| tables::rows("metal_strengths.csv", include_str!("tables/metal_strengths.csv")));

/// What a screw of that thread bears: the recalled minimum where there is one, else 795 MPa on its stress area.
///
/// ```
/// use boreband::trade::{Thread, screw_strength};
/// let screw = screw_strength(&Thread::parse("M6").unwrap());
/// assert_eq!((screw.tensile_n, screw.torque_nm), (16_000.0, Some(15.0))); // DIN 7500-1 as recalled
/// ```
pub fn screw_strength(thread: &Thread) -> ScrewStrength {
    let row = SCREWS.iter().find(|r| r.thread == thread.name.trim_start_matches('#'));
    let usual = USUAL_MPA * stress_area_mm2(thread);
    let estimate =
        format!("{USUAL_MPA} MPa on the stress area, as the recalled DIN 7500-1 loads of M2 to M8 are");
    let (tensile_n, source) = match row.and_then(|r| r.tensile_n) {
        Some(load) => (load, row.map(|r| r.source.clone()).unwrap_or_default()),
        None => (usual, estimate),
    };
    ScrewStrength {
        tensile_n,
        torque_nm: row.and_then(|r| r.torque_nm),
        source,
        torque_source: row.filter(|r| r.torque_nm.is_some()).map(|r| r.source.clone()),
        status: row.map_or(Status::Memory, |r| r.status),
    }
}

/// Typical tensile strength of a metal; none for one that takes no thread.
pub fn metal_strength(material: Material) -> Option<MetalStrength> {
    let row = METALS.iter().find(|r| r.material == material)?;
    Some(MetalStrength { tensile_mpa: row.tensile_mpa, source: row.source.clone(), status: row.status })
}

/// The failure loads of a thread formed in `hole` over `engagement`, in a metal of that tensile strength (MPa), with a
/// screw that breaks at `screw_n` (N).
///
/// Strip areas are the reductions of [`formed_nut_area_mm2`] and [`formed_screw_area_mm2`] (60 to 100 % rolled);
/// lengths follow FED-STD-H28/2B formulas (14) 2 At / As and (16) 2 At / (An R2), which take shear as half of tensile
/// strength, and the same with 0.6. None unless all three are above 0.
///
/// ```
/// use boreband::trade::{Member, Thread, failure_loads};
/// use boreband::units::Length;
/// let mm = |v| Length::from_mm(v).unwrap();
/// let m6 = Thread::parse("M6").unwrap();
/// let loads = failure_loads(&m6, mm(5.5), mm(4.0), 340.0, 16_000.0).unwrap();
/// // 0.875 π 6 × 4 = 65.97 mm² at 0.6 × 340 = 204 MPa: 13.46 kN; 16 000 N need 4.76 mm (worked by hand)
/// assert!((loads.metal_n.1 - 13_459.0).abs() < 1.0 && loads.first.1 == Member::Metal);
/// assert!((loads.screw_first_from.0.mm() - 4.755).abs() < 0.001);
/// ```
pub fn failure_loads(
    thread: &Thread,
    hole: Length,
    engagement: Length,
    metal_mpa: f64,
    screw_n: f64,
) -> Option<Loads> {
    let (nut, screw) =
        (formed_nut_area_mm2(thread, engagement), formed_screw_area_mm2(thread, hole, engagement));
    let all = [nut, screw, metal_mpa, screw_n];
    if !all.iter().all(|v| v.is_finite() && *v > 0.0) {
        return None;
    }
    let screw_mpa = screw_n / stress_area_mm2(thread);
    let at = |share: f64| (share * metal_mpa * nut, share * screw_mpa * screw);
    let (low, high) = (at(SHEAR_SHARE.0), at(SHEAR_SHARE.1));
    // Both strip loads grow with the engagement; the weaker of them decides.
    let from = |(metal, thread): (f64, f64)| engagement * (screw_n / metal.min(thread));
    Some(Loads {
        metal_n: (low.0, high.0),
        screw_thread_n: (low.1, high.1),
        screw_n,
        first: (first(low, screw_n), first(high, screw_n)),
        screw_first_from: (from(high), from(low)),
    })
}

fn first((metal, thread): (f64, f64), screw: f64) -> Member {
    if metal <= thread && metal <= screw {
        Member::Metal
    } else if thread <= screw {
        Member::ScrewThread
    } else {
        Member::Screw
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::trade::torsional_shear_mpa;

    fn mm(value: f64) -> Length {
        Length::from_mm(value).expect("finite")
    }

    #[test]
    fn tables_are_whole_and_uniform() {
        assert_eq!((SCREWS.len(), METALS.len()), (20, 9));
        for row in SCREWS.iter() {
            let thread = Thread::parse(&row.thread).expect("a thread");
            let root = thread.major - thread.pitch * 1.226_869;
            // A torque that was recalled wrongly would stand out: the shear at the root is near 700 MPa for metric
            // screws (M2 lower) and 740 to 930 MPa for inch ones, which are recalled as 108 to 134 ksi.
            let shear = torsional_shear_mpa(row.torque_nm.expect("a torque"), root);
            let range = if row.thread.starts_with('M') { 590.0..710.0 } else { 740.0..930.0 };
            assert!(range.contains(&shear), "{}: {shear}", row.thread);
            if let Some(load) = row.tensile_n {
                let stress = load / stress_area_mm2(&thread);
                assert!((stress - USUAL_MPA).abs() < 12.0, "{}: {stress}", row.thread);
            }
            assert_eq!(row.status, Status::Memory);
        }
        for material in Material::ALL {
            assert_eq!(metal_strength(material).is_some(), material != Material::GreyIron);
        }
    }

    #[test]
    fn lengths_follow_the_published_formulas() {
        // M6, hole 5.5, metal 340 MPa, screw 16000 N. At 20.123; An per mm 16.493; As per mm
        // π 5.5 (0.125 + 0.375 × 0.76979) = 7.1477 (by hand). (14): 2 × 20.123 / 7.1477 = 5.631 mm;
        // (16): R2 = 340 / 795.1 = 0.42762, 2 × 20.123 / (16.493 × 0.42762) = 5.707 mm: the longer decides.
        let thread = Thread::parse("M6").expect("M6");
        let loads = failure_loads(&thread, mm(5.5), mm(4.0), 340.0, 16_000.0).expect("loads");
        assert!((loads.screw_first_from.1.mm() - 5.707).abs() < 0.002, "{:?}", loads.screw_first_from);
        assert_eq!(loads.first, (Member::Metal, Member::Metal));
        // Of harder metal the screw's thread decides: 5.631 mm by (14).
        let hard = failure_loads(&thread, mm(5.5), mm(4.0), 500.0, 16_000.0).expect("loads");
        assert!((hard.screw_first_from.1.mm() - 5.631).abs() < 0.002);
        assert_eq!(hard.first.0, Member::ScrewThread);
        let long = failure_loads(&thread, mm(5.5), mm(6.0), 500.0, 16_000.0).expect("loads");
        assert_eq!(long.first, (Member::Screw, Member::Screw));
    }

    #[test]
    fn nothing_is_said_of_what_is_no_strength() {
        let thread = Thread::parse("M6").expect("M6");
        for (hole, length, metal, screw) in
            [(5.5, 0.0, 340.0, 1.0), (5.5, 4.0, 0.0, 1.0), (5.5, 4.0, 340.0, -1.0), (7.9, 4.0, 340.0, 1.0)]
        {
            assert_eq!(failure_loads(&thread, mm(hole), mm(length), metal, screw), None, "{hole} {length}");
        }
    }
}
