//! What a shop's policy changes in advice and acceptance. Expected numbers as in the module around.

use super::*;
use crate::practice::{CapabilityRow, GuideHoles, Limit, Stock, Stocked};

fn of_policy() -> ValueOrigin {
    ValueOrigin::File { file: "boreband.json".to_owned(), pointer: String::new() }
}

fn stock(sizes: &[(&str, f64)]) -> Option<Stock> {
    let size = |(name, value): &(&str, f64)| Stocked {
        name: (*name).to_owned(),
        diameter: mm(*value),
        unit: Unit::Mm,
    };
    Some(Stock { sizes: sizes.iter().map(size).collect(), origin: of_policy() })
}

/// M4 in 1.5 mm steel: 80 to 98 %, Ø3.554 to Ø3.636, target 90 % or Ø3.591.
fn advised(process: Process, practice: &Practice) -> Advice {
    let hole = hole("M4", mm(3.3), steel(1.5, Some(process)));
    judge(&hole, &sheet_of(Unit::Mm), practice).advice.expect("advice")
}

#[test]
fn the_hole_to_call_out_is_one_of_the_shops_own_sizes() {
    let sizes = [("3.57mm", 3.57), ("3.7mm", 3.7)];
    let drills = Practice { drills: stock(&sizes), ..Practice::default() };
    let advice = advised(Process::Drilled, &drills);
    assert_eq!((advice.diameter, advice.drill.as_deref()), (mm(3.57), Some("3.57mm")));
    // +0.06 up to 3.636, −0.01 down to 3.554; H12 has nothing downwards.
    assert_eq!((advice.callout.as_str(), advice.narrowed), ("Ø3.57 +0.06/0", true));
    // The drills say nothing of punched holes.
    assert_eq!(advised(Process::Punched, &drills).diameter, mm(3.6));
    let punches = Practice { punches: stock(&sizes), ..Practice::default() };
    assert_eq!(advised(Process::Punched, &punches).diameter, mm(3.57));
    // Nothing in the band: a size of the drawing's own decimals instead.
    let none = Practice { punches: stock(&[("3.7mm", 3.7)]), ..Practice::default() };
    assert_eq!(advised(Process::Punched, &none).diameter, mm(3.59));
}

#[test]
fn a_tolerance_that_holds_is_kept_and_not_called_narrowed() {
    let mut hole = hole("M4", mm(3.3), steel(1.5, Some(Process::Punched)));
    hole.called = Some(size(3.3, 0.02, 0.02, 1, Unit::Mm));
    let advice = by_trade(&hole, &sheet_of(Unit::Mm)).advice.expect("advice");
    assert_eq!((advice.callout.as_str(), advice.narrowed), ("Ø3.6 ±0.02", false));
}

#[test]
fn the_narrowest_tolerance_is_the_shops() {
    // 3.57 leaves +0.06 to the band's end; a shop that needs 0.08 gets no tolerance from it.
    let mut practice = Practice { drills: stock(&[("3.57mm", 3.57)]), ..Practice::default() };
    practice.limits.set(Limit::NarrowestTolerance, 0.08, of_policy());
    assert_ne!(advised(Process::Drilled, &practice).callout, "Ø3.57 +0.06/0");
}

/// DIN 7500-2:1984 (published): 3.6 H11 for M4 at 1.5 mm in steel; H11 is +75 µm at 3 to 6 mm (ISO 286, published).
#[test]
fn a_guide_hole_with_its_fit_is_accepted_unless_the_policy_judges_it() {
    let of = |plus: f64, minus: f64, practice: &Practice| {
        let mut hole = hole("M4", mm(3.6), steel(1.5, None));
        hole.called = Some(size(3.6, plus, minus, 1, Unit::Mm));
        judge(&hole, &sheet_of(Unit::Mm), practice)
    };
    let trade = Practice::default();
    let accepted = of(0.075, 0.0, &trade);
    assert_eq!(accepted.verdict, Some(Verdict::Straddles), "the verdict stays what it is");
    assert_eq!(accepted.guide_hole.map(|g| g.fit).as_deref(), Some("H11"));
    assert!(of(0.05, 0.0, &trade).guide_hole.is_some(), "within the fit");
    assert!(of(0.08, 0.0, &trade).guide_hole.is_none(), "wider than the fit");
    assert!(of(0.05, 0.01, &trade).guide_hole.is_none(), "smaller than the guide hole");
    let judged = Practice { guide_holes: Some((GuideHoles::Judge, of_policy())), ..Practice::default() };
    assert!(of(0.075, 0.0, &judged).guide_hole.is_none());
    // Not for a metal that the table does not name, nor without the material.
    for material in [Some(Material::StainlessSteel), None] {
        let mut hole = hole("M4", mm(3.6), steel(1.5, None));
        hole.making.material = material;
        hole.called = Some(size(3.6, 0.075, 0.0, 1, Unit::Mm));
        assert!(judge(&hole, &sheet_of(Unit::Mm), &trade).guide_hole.is_none());
    }
}

#[test]
fn what_a_shops_process_holds_stands_for_measured_diameters() {
    let row =
        CapabilityRow { process: Process::Punched, offset: mm(0.01), sd: mm(0.005), origin: of_policy() };
    let practice = Practice { capability: vec![row], ..Practice::default() };
    let hole = hole("M4", mm(3.6), steel(1.5, Some(Process::Punched)));
    let found = judge(&hole, &sheet_of(Unit::Mm), &practice).capability.expect("capability");
    close(found.mean.mm(), 3.61, 1e-9);
    assert_eq!((found.sd, found.measured, found.source.as_str()), (mm(0.005), false, "policy boreband.json"));
}
