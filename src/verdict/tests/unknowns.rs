//! What is not known: a verdict only where all that it may be agrees, and what to find out. Expected numbers as in the
//! module around.

use super::*;

#[test]
fn unknown_thickness() {
    let paired = sheet_of(Unit::Mm);
    let mut making = steel(1.5, None);
    making.thickness = None;
    // 3.6 is 88.0 %: inside 80–98 and 75–93 and at 70–88 (87.98), outside 65–83 and thinner ones.
    let mut hole = hole("M4", mm(3.6), making);
    let judged = by_trade(&hole, &paired);
    assert_eq!(judged.verdict, Some(Verdict::Undetermined));
    assert_eq!(
        judged.missing,
        ["thickness: up to 3.4 mm would make it in-band; over 3.4 mm would make it tight"]
    );
    assert!(judged.band.is_none());
    // 3.3 is 154 %: tight whatever the thickness; 3.8 is 44 %: loose.
    for (drawn, verdict) in [(3.3, Verdict::Tight), (3.8, Verdict::Loose)] {
        hole.drawn = mm(drawn);
        let judged = by_trade(&hole, &paired);
        assert_eq!((judged.verdict, judged.missing.len()), (Some(verdict), 0));
    }
    // Stainless steel has one band for all thicknesses.
    hole.making.material = Some(Material::StainlessSteel);
    hole.drawn = mm(3.7); // 66 %
    assert_eq!(by_trade(&hole, &paired).verdict, Some(Verdict::InBand));
}

#[test]
fn unknown_material_is_never_a_pass() {
    let paired = sheet_of(Unit::Mm);
    let mut making = steel(4.8, None); // t/D 1.2: low-carbon steel 60 to 78
    making.material = None;
    // 72 % is inside the band of every material, but grey iron is possible too.
    let mut hole = hole("M4", mm(4.0 - 0.72 * 0.454663), making);
    let judged = by_trade(&hole, &paired);
    assert_eq!(judged.verdict, Some(Verdict::Undetermined));
    assert!(judged.missing[0].starts_with("material: low-carbon-steel"), "{:?}", judged.missing);
    hole.drawn = mm(3.3);
    assert_eq!(by_trade(&hole, &paired).verdict, Some(Verdict::Tight));
    hole.making.thickness = None;
    hole.drawn = mm(3.6);
    let judged = by_trade(&hole, &paired);
    // By the bands of each material: 88 % is inside 65 to 95, 70 to 95 and 65 to 90, above 60 to 80, 55 to 75, 60 to
    // 85 and 55 to 80 whatever the thickness; only low-carbon steel depends on it.
    assert_eq!(
        judged.missing,
        [
            "material: aluminium-wrought, zinc-die-cast, brass or copper would make it in-band; structural-steel, \
             stainless-steel, aluminium-die-cast or magnesium-die-cast would make it tight; grey-iron takes no thread",
            "with low-carbon-steel also thickness: up to 3.4 mm would make it in-band; over 3.4 mm would make it tight"
        ]
    );
}

/// A shop's own rows may depend on how the hole is made; then that is asked for, alone where it decides alone.
#[test]
fn the_process_is_asked_for_where_a_band_depends_on_it() {
    let origin = ValueOrigin::File { file: "boreband.json".to_owned(), pointer: "/bands/0".to_owned() };
    let row = BandRow {
        material: None,
        thread: None,
        process: Some(Process::Punched),
        over: None,
        to: None,
        min: 60.0,
        target: 65.0,
        max: 70.0,
        origin,
    };
    let practice = Practice { bands: vec![row], ..Practice::default() };
    let mut making = steel(1.5, None);
    making.material = Some(Material::Brass);
    // 88 %: inside the 65 to 90 % of brass, above the 60 to 70 % for punched holes.
    let mut hole = hole("M4", mm(3.6), making);
    let open = judge(&hole, &sheet_of(Unit::Mm), &practice);
    assert_eq!(open.verdict, Some(Verdict::Undetermined));
    assert_eq!(open.missing, ["process: another process would make it in-band; punched would make it tight"]);
    hole.making.process = Some(Process::Drilled);
    assert_eq!(judge(&hole, &sheet_of(Unit::Mm), &practice).verdict, Some(Verdict::Straddles)); // H12 +0.12
    hole.making.process = Some(Process::Punched);
    let punched = judge(&hole, &sheet_of(Unit::Mm), &practice);
    assert_eq!(punched.verdict, Some(Verdict::Tight));
    assert_eq!(punched.band.expect("band").band.source, "policy boreband.json");
    // With the thickness open too, brass is still decided by the process alone.
    hole.making.process = None;
    hole.making.thickness = None;
    assert_eq!(judge(&hole, &sheet_of(Unit::Mm), &practice).missing, open.missing);
}
