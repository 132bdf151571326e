//! The values behind the size calculator: what a thread in a metal wants of its hole, and what a given hole gives.
//! Renders nothing.

use super::strip::{Strip, strip};
use super::{Along, Capability, CoatedHole, Drafted, Metal};
use super::{DiameterSource, ToleranceSource, interval};
use super::{HoleBand, Limits, Verdict, advice, bands, notation, tapped};
use crate::joint::{Coating, Collar, Making};
use crate::practice::{BandAnswer, Limit, Limits as PracticeLimits, Possible, Practice};
use crate::trade::{
    Basis, CollarBalance, Drill, GuideHole, GuideMetal, Material, Process, Thread, Unsuitable,
    cored_diameter, drills_between, formed_height_percent, guide_holes, percent, process_typical,
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
    /// Draft per side of a cored hole.
    pub draft: Option<Angle>,
    /// Depth of a blind hole, or of the engagement in a cored one.
    pub depth: Option<Length>,
    /// Collar of an extruded hole.
    pub collar: Option<Collar>,
    /// Coating on the wall.
    pub coating: Option<Coating>,
    /// Brinell hardness of the metal.
    pub hardness_hb: Option<f64>,
    /// Measured mean and standard deviation of diameters.
    pub capability: Option<(Length, Length)>,
    /// Length of the screw under its head.
    pub length: Option<Length>,
    /// Thickness of what the screw clamps.
    pub grip: Option<Length>,
    /// Tensile strength of the metal (MPa); the material's typical one if not given.
    pub tensile_mpa: Option<f64>,
}

impl Question {
    /// A thread and nothing else.
    pub fn of(thread: Thread) -> Question {
        Question {
            thread,
            hole: None,
            tolerance: None,
            thickness: None,
            material: None,
            process: None,
            draft: None,
            depth: None,
            collar: None,
            coating: None,
            hardness_hb: None,
            capability: None,
            length: None,
            grip: None,
            tensile_mpa: None,
        }
    }

    /// The lengths that the thread is formed over.
    fn metal(&self, limits: &PracticeLimits) -> Metal {
        Metal::from_parts(
            &self.thread,
            (self.thickness, self.collar),
            self.depth,
            Length::ZERO,
            (self.length, self.grip),
            limits,
        )
    }

    /// What is known of the metal and the making.
    fn making(&self) -> Making {
        Making {
            material: self.material,
            thickness: self.thickness,
            process: self.process,
            coating: self.coating,
            band: None,
            hardness_hb: self.hardness_hb,
        }
    }

    /// The joint that a band is looked up for.
    fn joint<'a>(&'a self, metal: &Metal, practice: &'a Practice) -> bands::Joint<'a> {
        bands::Joint {
            thread: &self.thread,
            material: self.material,
            thickness: self.thickness.and_then(|_| metal.length()),
            process: self.process,
            user_band: None,
            hardness_hb: self.hardness_hb,
            practice,
        }
    }

    /// The hole that the screw meets where this one is called out: after coating, if it is stated before it.
    pub fn met(&self, stated: Length) -> Length {
        stated - self.shrinks_by()
    }

    /// What a coating takes from the stated diameter.
    pub(super) fn shrinks_by(&self) -> Length {
        let before = self.coating.filter(|coating| coating.stated_before);
        before.map_or(Length::ZERO, |coating| coating.thickness * 2.0)
    }
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
    /// The lengths that the thread is formed over.
    pub metal: Metal,
    /// Depth that the screw needs in a blind hole, clearance included, where it is more than the hole has.
    pub needed_depth: Option<Length>,
    /// The collar by volume balance, for the given hole or the one to call out.
    pub collar: Option<CollarBalance>,
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
    /// The hole before and after coating, where one is given. The verdict is that of the hole after it.
    pub coating: Option<CoatedHole>,
    /// Expected share of holes outside the band; beside the verdict, never part of it.
    pub capability: Option<Capability>,
}

impl HoleAnswer {
    /// The hole that the screw meets: after coating, else as given.
    pub fn met(&self) -> &Limits {
        self.coating.as_ref().map_or(&self.limits, |coating| &coating.after)
    }
}

/// Answers a question.
pub fn answer(question: &Question, practice: &Practice) -> Answer {
    let metal = question.metal(&practice.limits);
    let joint = question.joint(&metal, practice);
    let mut answer = Answer {
        band: None,
        possible: Vec::new(),
        missing: Vec::new(),
        unsuitable: None,
        hole: question.hole.map(|hole| judged(question, &joint, hole, practice)),
        advice: None,
        drills: Vec::new(),
        guide_holes: guides(question, &metal),
        strip: None,
        along: None,
        collar: None,
        needed_depth: needed_depth(question, &metal, practice),
        metal,
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
        answer.advice = recommended(question, band, metal.engaged(), practice);
    }
    if let (Some(band), Some(hole)) = (&answer.band, &mut answer.hole) {
        let (making, unit) = (question.making(), question.thread.unit);
        let (nominal, shrinks_by) = (hole.limits.nominal, question.shrinks_by());
        hole.capability =
            Capability::of(question.capability, &making, nominal, unit, band, shrinks_by, practice);
    }
    let advised = answer.advice.as_ref().map(|a| question.met(a.diameter));
    let shown = answer.hole.as_ref().map(|h| h.met().nominal).or(advised);
    // No thread can be formed there, so there is nothing to strip.
    let strips = shown.zip(metal.engaged()).filter(|_| answer.unsuitable.is_none());
    answer.strip = strips.map(|(hole, length)| {
        let half_way = question.draft.map_or(hole, |draft| cored_diameter(hole, length / 2.0, draft));
        strip(question, half_way, length)
    });
    answer.along = answer
        .hole
        .as_ref()
        .and_then(|hole| along(question, hole, answer.metal.engaged()?, answer.band.as_ref()));
    answer.collar = shown
        .zip(question.collar)
        .zip(question.thickness)
        .map(|((hole, collar), sheet)| super::collar_at(&collar, hole, sheet, &practice.limits));
    answer
}

/// What the screw needs of a blind hole that is too shallow for it.
fn needed_depth(question: &Question, metal: &Metal, practice: &Practice) -> Option<Length> {
    let clearance = practice.limits.length(Limit::BlindClearance, &question.thread);
    let needed = metal.reach? + clearance;
    (needed > question.depth? + interval::TOLERANCE).then_some(needed)
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
    let thread = &question.thread;
    let limits = limits(question, hole);
    let coating = question.coating.map(|coating| CoatedHole::of(coating, &limits, thread));
    let met = coating.as_ref().map_or(&limits, |coating| &coating.after);
    let decided = bands::decide(joint, met, thread.unit);
    HoleAnswer {
        verdict: decided.verdict,
        undecided: decided.missing,
        cut_thread_drill: tapped::drill(thread, hole, practice),
        formed_height: formed_height_percent(percent(thread, met.nominal, Basis::Rolled)),
        capability: None,
        coating,
        limits,
    }
}

/// The hole to call out, whatever hole is given: the target on a size that the process has.
fn recommended(
    question: &Question,
    band: &HoleBand,
    engaged: Option<Length>,
    practice: &Practice,
) -> Option<super::Advice> {
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
        larger: advice::Larger::by(
            question.shrinks_by(),
            question.draft.map_or(0.0, |draft| 2.0 * draft.radians().tan()),
            Length::ZERO,
            engaged.unwrap_or(Length::ZERO),
        ),
        practice,
    };
    let choice = advice::choose(&question.thread, band, &wanted)?;
    let narrowed = wanted.tolerance.is_some() && choice.tolerance.is_some() && !choice.kept;
    let callout = notation::plain(&choice, question.thread.unit, None);
    Some(super::Advice { diameter: choice.diameter, drill: choice.drill, callout, narrowed })
}

/// The standard's guide holes: of the material's column, of all columns if the material is unknown.
fn guides(question: &Question, metal: &Metal) -> Vec<GuideHole> {
    let length = question.thickness.and_then(|_| metal.length());
    let Some(length) = length else { return Vec::new() };
    match question.material.map(GuideMetal::of) {
        None => guide_holes(&question.thread, length, None),
        Some(Some(metal)) => guide_holes(&question.thread, length, Some(metal)),
        Some(None) => Vec::new(),
    }
}

/// A cored hole along its engagement.
fn along(question: &Question, hole: &HoleAnswer, engaged: Length, band: Option<&HoleBand>) -> Option<Along> {
    let draft = question.draft?;
    let drafted =
        Drafted { thread: &question.thread, limits: hole.met(), draft, start: Length::ZERO, engaged };
    Some(drafted.along(band, question.thread.unit))
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
        Question::of(Thread::parse(thread).expect("thread"))
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
            draft: Angle::from_degrees(1.0).ok(),
            depth: Some(mm(12.0)),
            ..asked("M6")
        };
        let along = answer(&question).along.expect("along");
        let at = along.points.map(|p| p.diameter.mm());
        assert!((at[2] - 5.2811).abs() < 5e-5 && (at[1] - 5.4905).abs() < 1e-4);
        assert_eq!((along.in_band, along.longest), (Some(false), None));
        // Entrance at 60 %: 6 − 0.6 × 0.649519 = 5.61029; the band ends at 85 %: 0.25 × 0.649519 / 0.034910 = 4.651 deep.
        let at_edge = Question { hole: Some(mm(5.61028)), ..question };
        // At 1° the draft takes 0.419 over 12 mm, the band is 0.1624 wide: nothing can be called out.
        assert_eq!(answer(&at_edge).advice, None);
        // At 0.25° it takes 0.1047: entrances from 5.5526 to 5.6103 do, 72 % half way down is 5.5323 + 0.0524.
        let less = Question { draft: Angle::from_degrees(0.25).ok(), process: None, ..at_edge.clone() };
        let advice = answer(&less).advice.expect("advice").diameter.mm();
        assert!((5.5526..5.6103).contains(&advice) && (advice - 5.585).abs() < 0.03, "{advice}");
        let longest = answer(&at_edge).along.expect("along").longest.expect("inside");
        assert!((longest.mm() - 4.651).abs() < 0.002, "{}", longest.mm());
    }

    #[test]
    fn a_coated_hole_is_judged_as_the_screw_meets_it() {
        // M4 in wrought aluminium, band 65 to 95 %: 3.65 is 77.0 %, 3.634 is 80.5 %, 3.49 is 112.2 % (hand calculation).
        let coated = |thickness, stated_before| Question {
            hole: Some(mm(3.65)),
            tolerance: Some((Length::ZERO, Length::ZERO)),
            thickness: Some(mm(3.0)),
            material: Some(Material::AluminiumWrought),
            coating: Some(Coating { thickness: mm(thickness), stated_before }),
            ..asked("M4")
        };
        let of = |question: &Question| {
            let hole = answer(question).hole.expect("hole");
            let coating = hole.coating.clone().expect("coating");
            (hole.verdict, coating.engagement_before.nominal, coating.engagement_after.nominal)
        };
        let close = |found: f64, expected: f64| (found - expected).abs() < 0.05;
        let (verdict, before, after) = of(&coated(0.008, true));
        assert!(verdict == Some(Verdict::InBand) && close(before, 77.0) && close(after, 80.5));
        let (verdict, before, after) = of(&coated(0.08, true));
        assert!(verdict == Some(Verdict::Tight) && close(before, 77.0) && close(after, 112.2));
        // Stated after coating: 77 % is what the screw meets; the hole is made 3.81, which is 41.8 %.
        let (verdict, before, after) = of(&coated(0.08, false));
        assert!(verdict == Some(Verdict::InBand) && close(before, 41.8) && close(after, 77.0));
        // The hole to call out before 0.08 of powder is 0.16 larger than that of the bare metal: 3.6363 + 0.16 at 80 %.
        let advice = answer(&coated(0.08, true)).advice.expect("advice");
        assert!((advice.diameter.mm() - 3.796).abs() < 0.03, "{}", advice.callout);
    }

    #[test]
    fn a_screw_that_meets_the_bottom_is_named() {
        // M4x12 through 2 into 10 deep: 10 of reach and one pitch of clearance are 10.7 (by hand).
        let question = |depth| Question {
            depth: Some(mm(depth)),
            length: Some(mm(12.0)),
            grip: Some(mm(2.0)),
            ..asked("M4")
        };
        let needed = answer(&question(10.0)).needed_depth.expect("too shallow");
        assert!((needed.mm() - 10.7).abs() < 1e-9);
        assert_eq!(answer(&question(10.7)).needed_depth, None);
    }

    #[test]
    fn shares_stand_beside_the_verdict() {
        // Band of M4 in 1.5 mm steel 3.5544 to 3.6363; mean 3.6363, sd 0.02: half is too large, 4.1 sd down is nothing.
        let question = Question {
            hole: Some(mm(3.6)),
            thickness: Some(mm(1.5)),
            material: Some(Material::LowCarbonSteel),
            capability: Some((mm(4.0 - 0.8 * 0.454_663_3), mm(0.02))),
            ..asked("M4")
        };
        let hole = answer(&question).hole.expect("hole");
        let capability = hole.capability.expect("capability");
        assert!((capability.shares.above - 0.5).abs() < 1e-5 && capability.shares.below < 1e-4);
        assert!(capability.measured && hole.verdict == Some(Verdict::InBand));
        // Without measurement the punch's ±0.05 mm is taken as ± 3 sd: sd 1/60; (3.6363 − 3.6) × 60 = 2.176 sd: 1.48 %;
        // (3.6 − 3.5544) × 60 = 2.734 sd: 0.313 % (table of the normal distribution).
        let typical = Question { capability: None, process: Some(Process::Punched), ..question };
        let shares = answer(&typical).hole.expect("hole").capability.expect("typical").shares;
        assert!((shares.above - 0.0148).abs() < 5e-5 && (shares.below - 0.00313).abs() < 5e-5, "{shares:?}");
    }

    #[test]
    fn a_collar_adds_to_the_thread_and_is_balanced() {
        let collar = Collar { height: mm(1.0), entry_radius: Some(mm(0.2)), ..Collar::default() };
        let question = Question {
            hole: Some(mm(3.6)),
            thickness: Some(mm(1.0)),
            material: Some(Material::LowCarbonSteel),
            collar: Some(collar),
            ..asked("M4")
        };
        let found = answer(&question);
        // 1 + 1 − 0.2 = 1.8 mm: t/D 0.45, target 85 %; pierce √(12.96 − 8.2) = 2.1817 (by hand).
        assert!((found.metal.engaged().expect("known").mm() - 1.8).abs() < 1e-9);
        assert_eq!(found.band.expect("band").band.target, 85.0);
        assert!((found.collar.expect("collar").pierce.expect("enough").mm() - 2.1817).abs() < 5e-5);
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
