//! The values behind the size calculator: what a thread in a metal wants of its hole, and what a given hole gives.
//! Renders nothing.

use super::{DiameterSource, ToleranceSource};
use super::{HoleBand, Limits, Verdict, advice, bands, notation, tapped};
use crate::practice::Practice;
use crate::trade::{
    BandAnswer, Basis, Drill, GuideHole, GuideMetal, Material, Possible, Process, Thread, Unsuitable,
    cored_diameter, drills_between, formed_height_percent, formed_nut_area_mm2, formed_screw_area_mm2,
    guide_holes, percent, process_typical, stress_area_mm2,
};
use crate::units::{Angle, Length};

/// What is asked. Everything but the thread may be unknown.
#[derive(Debug, Clone, PartialEq)]
pub struct Question {
    /// Thread of the screw.
    pub thread: Thread,
    /// Diameter of a hole; of its entrance where it has draft.
    pub hole: Option<Length>,
    /// Upper and lower deviation of that hole, magnitudes; none if no tolerance is stated.
    pub tolerance: Option<(Length, Length)>,
    /// Thickness of the metal.
    pub thickness: Option<Length>,
    /// Material.
    pub material: Option<Material>,
    /// How the hole is made.
    pub process: Option<Process>,
    /// Draft per side and depth of the engagement, of a cored hole.
    pub cored: Option<(Angle, Length)>,
}

/// What the trade says.
#[derive(Debug, Clone, PartialEq)]
pub struct Answer {
    /// The band, where one holds for all that is known.
    pub band: Option<HoleBand>,
    /// Else every possible one.
    pub possible: Vec<(Possible, HoleBand)>,
    /// What is missing for one band: `material`, `thickness`.
    pub missing: Vec<&'static str>,
    /// Why no thread can be formed in the material, if so.
    pub unsuitable: Option<Unsuitable>,
    /// The given hole.
    pub hole: Option<HoleAnswer>,
    /// The hole to call out.
    pub advice: Option<super::Advice>,
    /// Drills inside the band, by diameter, stocked and special ones.
    pub drills: Vec<&'static Drill>,
    /// Guide holes of the standard at that thickness.
    pub guide_holes: Vec<GuideHole>,
    /// Strip guidance.
    pub strip: Option<Strip>,
    /// A cored hole along its depth.
    pub along: Option<Along>,
}

/// A given hole, judged.
#[derive(Debug, Clone, PartialEq)]
pub struct HoleAnswer {
    /// Its size and limits.
    pub limits: Limits,
    /// The verdict; none where no thread can be formed.
    pub verdict: Option<Verdict>,
    /// What would decide an undetermined one.
    pub undecided: Vec<String>,
    /// The tap drill of the same thread that it is the size of, if it is.
    pub cut_thread_drill: Option<String>,
    /// Height of the formed thread, percent of the full height, where the model holds.
    pub formed_height: Option<f64>,
}

/// Areas that resist stripping. Guidance, never a pass.
#[derive(Debug, Clone, PartialEq)]
pub struct Strip {
    /// Length of engagement that they are for.
    pub engagement: Length,
    /// The hole that they are for.
    pub hole: Length,
    /// Of the metal around the thread (mm²).
    pub nut_area_mm2: f64,
    /// Of the screw (mm²).
    pub screw_area_mm2: f64,
    /// Tensile stress area of the screw (mm²).
    pub stress_area_mm2: f64,
    /// Whether the rolled engagement is in the range the formulas hold for.
    pub valid: bool,
}

impl Strip {
    /// Least and greatest rolled engagement that the formulas hold for (percent).
    pub const VALID: (f64, f64) = (60.0, 100.0);

    /// The metal strips before the screw if the screw's shear strength is more than this times the metal's.
    pub fn metal_strips_above(&self) -> f64 {
        self.nut_area_mm2 / self.screw_area_mm2
    }
}

/// A cored hole along its depth.
#[derive(Debug, Clone, PartialEq)]
pub struct Along {
    /// Depth and diameter at the entrance, the middle and the bottom of the engagement.
    pub points: [(Length, Length); 3],
    /// Whether all of it stays in the band; none where no band is known.
    pub in_band: Option<bool>,
    /// The depth at which it leaves the band's tight end; none without draft or band, or if the entrance is out.
    pub longest: Option<Length>,
}

/// Answers a question.
pub fn answer(question: &Question, practice: &Practice) -> Answer {
    let joint = bands::Joint {
        thread: &question.thread,
        material: question.material,
        thickness: question.thickness,
        process: question.process,
        user_band: None,
        hardness_hb: None,
    };
    let mut answer = Answer {
        band: None,
        possible: Vec::new(),
        missing: Vec::new(),
        unsuitable: None,
        hole: question.hole.map(|hole| judged(question, &joint, hole, practice)),
        advice: None,
        drills: Vec::new(),
        guide_holes: guides(question),
        strip: None,
        along: None,
    };
    match joint.answer() {
        BandAnswer::One(band) => answer.band = Some(HoleBand::of(&question.thread, band)),
        BandAnswer::Depends { bands, missing } => {
            let with_holes = bands.into_iter().map(|p| {
                let holes = HoleBand::of(&question.thread, p.band.clone());
                (p, holes)
            });
            answer.possible = with_holes.collect();
            answer.missing = missing;
        }
        BandAnswer::Unsuitable(why) => answer.unsuitable = Some(why),
    }
    if let Some(band) = &answer.band {
        answer.drills = drills_between(band.hole_min, band.hole_max).collect();
        answer.advice = Some(recommended(question, band));
    }
    let shown = question.hole.or(answer.advice.as_ref().map(|a| a.diameter));
    answer.strip = shown.zip(question.thickness).map(|(hole, t)| strip(&question.thread, hole, t));
    answer.along = question.hole.and_then(|hole| along(question, hole, answer.band.as_ref()));
    answer
}

/// A given hole's limits: the stated tolerance, else the process's typical one, else none.
fn limits(question: &Question, hole: Length) -> Limits {
    let made = |plus, minus, tolerance_source, tolerance_text| Limits {
        nominal: hole,
        min: hole - minus,
        max: hole + plus,
        source: DiameterSource::Callout,
        tolerance_source,
        tolerance_text,
    };
    if let Some((plus, minus)) = question.tolerance {
        return made(plus, minus, ToleranceSource::Callout, "stated".to_owned());
    }
    let typical = question.process.and_then(|p| typical(question, p, hole));
    match typical {
        Some((plus, minus, text)) => made(plus, minus, ToleranceSource::Process, text),
        None => made(Length::ZERO, Length::ZERO, ToleranceSource::None, "none stated".to_owned()),
    }
}

/// What the process typically holds at a size: up, down, in words.
fn typical(question: &Question, process: Process, hole: Length) -> Option<(Length, Length, String)> {
    let found = process_typical(process, question.material, hole, question.thread.unit)?;
    Some((found.plus, found.minus, format!("{} ({})", found.text, found.status.name())))
}

fn judged(question: &Question, joint: &bands::Joint<'_>, hole: Length, practice: &Practice) -> HoleAnswer {
    let limits = limits(question, hole);
    let decided = bands::decide(joint, &limits, question.thread.unit);
    HoleAnswer {
        verdict: decided.verdict,
        undecided: decided.missing,
        cut_thread_drill: tapped::drill(&question.thread, hole, practice),
        formed_height: formed_height_percent(percent(&question.thread, hole, Basis::Rolled)),
        limits,
    }
}

/// The hole to call out, whatever hole is given: the target on a size that the process has.
fn recommended(question: &Question, band: &HoleBand) -> super::Advice {
    let at_target = (band.hole_min + band.hole_max) / 2.0;
    let of_process = || {
        let (plus, minus, _) = typical(question, question.process?, at_target)?;
        Some((plus, minus))
    };
    let wanted = advice::Wanted {
        keep: None,
        tolerance: question.tolerance.or_else(of_process),
        process: question.process,
        unit: question.thread.unit,
    };
    let choice = advice::choose(&question.thread, band, &wanted);
    let callout = notation::plain(&choice, question.thread.unit, None);
    super::Advice { diameter: choice.diameter, drill: choice.drill, callout }
}

/// The standard's guide holes: of the material's column, of all columns if the material is unknown.
fn guides(question: &Question) -> Vec<GuideHole> {
    let Some(length) = question.thickness else { return Vec::new() };
    match question.material.map(GuideMetal::of) {
        None => guide_holes(&question.thread, length, None),
        Some(Some(metal)) => guide_holes(&question.thread, length, Some(metal)),
        Some(None) => Vec::new(),
    }
}

fn strip(thread: &Thread, hole: Length, engagement: Length) -> Strip {
    let rolled = percent(thread, hole, Basis::Rolled);
    Strip {
        engagement,
        hole,
        nut_area_mm2: formed_nut_area_mm2(thread, engagement),
        screw_area_mm2: formed_screw_area_mm2(thread, hole, engagement),
        stress_area_mm2: stress_area_mm2(thread),
        valid: (Strip::VALID.0..=Strip::VALID.1).contains(&rolled),
    }
}

fn along(question: &Question, entrance: Length, band: Option<&HoleBand>) -> Option<Along> {
    let (draft, depth) = question.cored?;
    let at = |share: f64| (depth * share, cored_diameter(entrance, depth * share, draft));
    let points = [at(0.0), at(0.5), at(1.0)];
    let slope = 2.0 * draft.radians().tan();
    let reach = |b: &HoleBand| {
        (slope > 0.0 && b.holds(entrance)).then(|| (entrance - b.hole_min).max(Length::ZERO) / slope)
    };
    Some(Along {
        points,
        in_band: band.map(|b| points.iter().all(|p| b.holds(p.1))),
        longest: band.and_then(reach),
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    fn answer(question: &Question) -> Answer {
        super::answer(question, &Practice::default())
    }
    use crate::units::Unit;

    fn mm(value: f64) -> Length {
        Length::from_mm(value).expect("finite")
    }

    fn asked(thread: &str) -> Question {
        Question {
            thread: Thread::parse(thread).expect("thread"),
            hole: None,
            tolerance: None,
            thickness: None,
            material: None,
            process: None,
            cored: None,
        }
    }

    #[test]
    fn m4_in_sheet() {
        // Band 80/90/98 at t/D 0.375: holes 3.554 to 3.636; 3.65 is (4 − 3.65)/0.454663 = 77.0 %: too large.
        let question = Question {
            hole: Some(mm(3.65)),
            thickness: Some(mm(1.5)),
            material: Some(Material::LowCarbonSteel),
            ..asked("M4")
        };
        let found = answer(&question);
        let hole = found.hole.expect("hole");
        assert_eq!(
            (hole.verdict, hole.limits.tolerance_source),
            (Some(Verdict::Loose), ToleranceSource::None)
        );
        let names: Vec<&str> = found.drills.iter().map(|d| d.name.as_str()).collect();
        assert_eq!(names, ["#28", "9/64", "3.6 mm"]);
        let advice = found.advice.expect("advice");
        assert!((advice.diameter - mm(3.6)).abs() < mm(1e-9));
        assert_eq!(advice.callout, "Ø3.6 +0.03/-0.04");
        assert_eq!(found.guide_holes.len(), 1); // DIN 7500-2:1984 M4 at 1.5 mm steel: 3.6
        assert!((found.guide_holes[0].hole - mm(3.6)).abs() < mm(1e-9));
    }

    #[test]
    fn strip_by_hand() {
        // M6, 5.5 hole, 4 mm: 0.875 π 6 × 4 = 66.0; π 5.5 × 4 × (0.125 + 0.375 × 0.7698) = 28.6; ratio 2.31.
        let question = Question { hole: Some(mm(5.5)), thickness: Some(mm(4.0)), ..asked("M6") };
        let strip = answer(&question).strip.expect("strip");
        assert!((strip.nut_area_mm2 - 66.0).abs() < 0.05 && (strip.screw_area_mm2 - 28.6).abs() < 0.05);
        assert!((strip.metal_strips_above() - 2.31).abs() < 0.005 && strip.valid);
    }

    #[test]
    fn cored_by_hand() {
        // M6, entrance 5.7, 12 deep, 1° per side: 5.7, 5.4905, 5.2811 mm: leaves every band.
        let question = Question {
            hole: Some(mm(5.7)),
            thickness: Some(mm(12.0)),
            material: Some(Material::AluminiumDieCast),
            process: Some(Process::Cored),
            cored: Some((Angle::from_degrees(1.0).expect("finite"), mm(12.0))),
            ..asked("M6")
        };
        let along = answer(&question).along.expect("along");
        let bottom = along.points[2].1.mm();
        assert!((bottom - 5.2811).abs() < 5e-5 && (along.points[1].1.mm() - 5.4905).abs() < 1e-4);
        assert_eq!((along.in_band, along.longest), (Some(false), None));
        // Entrance at 60 %: 6 − 0.6 × 0.649519 = 5.61029; the band ends at 85 %: 0.25 × 0.649519 / 0.034910 = 4.651 deep.
        let at_edge = Question { hole: Some(mm(5.61028)), ..question };
        let longest = answer(&at_edge).along.expect("along").longest.expect("inside");
        assert!((longest.mm() - 4.651).abs() < 0.002, "{}", longest.mm());
    }

    #[test]
    fn unknowns_stay_unknown() {
        let found = answer(&Question { hole: Some(mm(3.6)), ..asked("M4") });
        assert!(found.band.is_none() && found.advice.is_none() && found.drills.is_empty());
        assert_eq!((found.possible.len(), found.missing), (14, vec!["material", "thickness"]));
        assert_eq!(found.hole.expect("hole").verdict, Some(Verdict::Undetermined));
        let iron =
            answer(&Question { hole: Some(mm(3.6)), material: Some(Material::GreyIron), ..asked("M4") });
        assert!(iron.unsuitable.is_some() && iron.hole.expect("hole").verdict.is_none());
    }

    #[test]
    fn a_process_brings_its_typical_tolerance() {
        let question = Question {
            hole: Some(mm(3.6)),
            thickness: Some(mm(1.5)),
            material: Some(Material::LowCarbonSteel),
            process: Some(Process::Punched),
            ..asked("M4")
        };
        let hole = answer(&question).hole.expect("hole");
        assert_eq!(
            (hole.verdict, hole.limits.tolerance_source),
            (Some(Verdict::Straddles), ToleranceSource::Process)
        );
        assert_eq!(question.thread.unit, Unit::Mm);
    }
}
