//! A known size against its band, and the joints for which there is none. Expected numbers as in the module around.

use super::*;

#[test]
fn the_tap_drill_size_of_m4_in_punched_sheet() {
    // M4 in 1.5 mm steel: t/D 0.375, band 80/90/98; (4 − 3.3)/0.454663 = 153.96 %, (4 − 3.35)/0.454663 = 142.96 %;
    // holes 4 − 0.98 × 0.454663 = 3.554 and 4 − 0.8 × 0.454663 = 3.636.
    let hole = hole("M4", mm(3.3), steel(1.5, Some(Process::Punched)));
    let judged = called(hole, size(3.3, 0.05, 0.0, 1, Unit::Mm), FOUR_HOLES, Unit::Mm);
    let engagement = judged.engagement.expect("engagement");
    close(engagement.nominal, 153.96, 0.005);
    close(engagement.at_min, 153.96, 0.005);
    close(engagement.at_max, 142.96, 0.005);
    let band = judged.band.expect("band");
    assert_eq!((band.band.min, band.band.target, band.band.max), (80.0, 90.0, 98.0));
    close(band.hole_min.mm(), 3.554, 0.0005);
    close(band.hole_max.mm(), 3.636, 0.0005);
    assert_eq!(band.band.status, Status::CommonPractice);
    assert_eq!(judged.verdict, Some(Verdict::Tight));
    assert_eq!(judged.cut_thread_drill, Some("3.3 mm"));
    let advice = judged.advice.expect("advice");
    close(advice.diameter.mm(), 3.6, 1e-9);
    assert_eq!(advice.drill.as_deref(), Some("3.6 mm"));
    assert_eq!(advice.callout, "4X Ø3.6 +0.03/0 THRU");
}

#[test]
fn verdicts_of_one_band() {
    // The same joint; holes 3.554 to 3.636.
    for (nominal, plus, minus, verdict) in [
        (3.6, 0.03, 0.03, Verdict::InBand),
        (3.6, 0.05, 0.0, Verdict::Straddles),
        (3.55, 0.05, 0.0, Verdict::Tight),
        (3.65, 0.05, 0.05, Verdict::Loose),
        (3.5, 0.1, -0.06, Verdict::InBand), // 3.56 to 3.60: the nominal is no size of the hole
    ] {
        let mut hole = hole("M4", mm(nominal), steel(1.5, None));
        hole.called = Some(size(nominal, plus, minus, 2, Unit::Mm));
        assert_eq!(by_trade(&hole, &sheet_of(Unit::Mm)).verdict, Some(verdict), "{nominal} +{plus} -{minus}");
    }
}

#[test]
fn band_edges_belong_to_the_band() {
    let mut hole = hole("M4", mm(3.6), steel(1.5, None));
    let band = by_trade(&hole, &sheet_of(Unit::Mm)).band.expect("band");
    for (edge, beyond, outside) in
        [(band.hole_min, -3e-6, Verdict::Tight), (band.hole_max, 3e-6, Verdict::Loose)]
    {
        hole.drawn = edge;
        assert_eq!(by_trade(&hole, &sheet_of(Unit::Mm)).verdict, Some(Verdict::InBand));
        hole.drawn = edge + mm(beyond);
        assert_eq!(by_trade(&hole, &sheet_of(Unit::Mm)).verdict, Some(outside));
    }
}

#[test]
fn collar_and_user_band_and_hardness() {
    let mut paired = sheet_of(Unit::Mm);
    let mut hole = hole("M4", mm(3.6), steel(1.0, Some(Process::Extruded)));
    let row = Row { collar: Some(Collar { height: mm(1.0), ..Collar::default() }), ..Row::default() };
    paired.rows.push(SeenRow { row, holes: vec![0], by: PairedBy::Tag, missing_at: Vec::new(), left: None });
    assert_eq!(by_trade(&hole, &paired).band.expect("band").band.target, 90.0); // 1 mm alone: t/D 0.25
    hole.row = Some(0);
    assert_eq!(by_trade(&hole, &paired).band.expect("band").band.target, 85.0); // 2 mm with its collar: 0.5
    hole.making.band = Some(UserBand { min: 60.0, max: 70.0, target: None });
    let band = by_trade(&hole, &paired).band.expect("band").band;
    assert_eq!((band.target, band.status), (65.0, Status::User));
    hole.making.hardness_hb = Some(240.0);
    let judged = by_trade(&hole, &paired);
    assert_eq!((judged.verdict, judged.band.is_none()), (None, true));
    assert!(judged.unsuitable.expect("too hard").0.contains("190 HB"));
}

#[test]
fn no_verdict_is_no_pass() {
    let paired = sheet_of(Unit::Mm);
    let mut hole = hole("M4", mm(3.6), steel(1.5, None));
    hole.making.material = Some(Material::GreyIron);
    let judged = by_trade(&hole, &paired);
    assert!(judged.verdict.is_none() && judged.band.is_none() && judged.advice.is_none());
    assert!(judged.engagement.is_some() && judged.unsuitable.is_some());
    for form in [ScrewForm::Cutting, ScrewForm::Spaced] {
        hole.screw.as_mut().expect("screw").form = form;
        let judged = by_trade(&hole, &paired);
        assert!(judged.engagement.is_none() && judged.verdict.is_none() && judged.unsuitable.is_none());
    }
    hole.screw = None;
    assert_eq!(by_trade(&hole, &paired), Judged::plain(by_trade(&hole, &paired).limits));
}
