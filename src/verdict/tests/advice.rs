//! What to call out instead, and how it is written. Expected numbers as in the module around.

use super::*;

#[test]
fn advice_keeps_what_is_right() {
    let parts = [("4X ", Part::Count), ("Ø3,60", Part::Size), (" ±0,02", Part::Tolerance)];
    let hole = hole("M4", mm(3.6), steel(1.5, None));
    let judged = called(hole, size(3.6, 0.02, 0.02, 2, Unit::Mm), &parts, Unit::Mm);
    assert_eq!(judged.verdict, Some(Verdict::InBand));
    assert_eq!(judged.advice.expect("advice").callout, "4X Ø3,60 ±0,02");
}

#[test]
fn advice_in_inches() {
    // 1/4-20 in .125 steel: t/D 0.5, band 75/85/93: holes .25 − .93 × .032476 = .2198 to .2256, target .2224.
    // Punched: .222 holds ±.001, written in place of .201 without leading zero.
    let parts = [
        ("2X", Part::Count),
        (" ", Part::Filler),
        ("Ø.201", Part::Size),
        (" ", Part::Filler),
        ("+.001/-.001", Part::Tolerance),
        (" ", Part::Filler),
        ("[5.11]", Part::SecondUnit),
        (" THRU", Part::Depth),
    ];
    let making = steel(0.125 * 25.4, Some(Process::Punched));
    let judged = called(
        hole("1/4-20", inch(0.201), making.clone()),
        size(0.201, 0.001, 0.001, 3, Unit::Inch),
        &parts,
        Unit::Inch,
    );
    assert_eq!((judged.verdict, judged.cut_thread_drill), (Some(Verdict::Tight), Some("#7")));
    let advice = judged.advice.expect("advice");
    close(advice.diameter.inch(), 0.222, 1e-9);
    assert_eq!(advice.callout, "2X Ø.222 +.001/-.001 [5.64] THRU");

    // Drilled, no tolerance: the stocked drill in the band is #2 (.221); .2256 − .221 leaves +.004, .221 − .2198 −.001.
    let parts = [("2X ", Part::Count), ("#7", Part::Size), (" DRILL", Part::Process)];
    let stated = StatedSize { nominal: Some(inch(0.201)), unit: Some(Unit::Inch), ..StatedSize::default() };
    let judged = called(hole("1/4-20", inch(0.201), steel(0.125 * 25.4, None)), stated, &parts, Unit::Inch);
    let advice = judged.advice.expect("advice");
    assert_eq!(advice.drill.as_deref(), Some("#2"));
    assert_eq!(advice.callout, "2X #2 +.004/-.001 DRILL");
}

#[test]
fn advice_leaves_room_for_oversize() {
    // 8-32 in stainless, 55 to 75 %: .164 − .75 × .020297 = .1488 to .1528. Drill #24 (.152) is nearer to the target
    // (.1508) but leaves nothing upwards to .001; #25 (.1495) leaves .003.
    let mut making = steel(2.0, None);
    making.material = Some(Material::StainlessSteel);
    let advice = by_trade(&hole("8-32", inch(0.136), making), &sheet_of(Unit::Inch)).advice.expect("advice");
    assert_eq!((advice.drill.as_deref(), advice.callout.as_str()), (Some("#25"), "Ø.1495 +.003/-.000"));
    // The typical ±0.05 mm of a punch is written as ±.001 on an inch drawing.
    let punched = hole("1/4-20", inch(0.201), steel(0.125 * 25.4, Some(Process::Punched)));
    assert_eq!(by_trade(&punched, &sheet_of(Unit::Inch)).advice.expect("advice").callout, "Ø.222 ±.001");
}

#[test]
fn advice_without_callout_and_for_taps() {
    let mut paired = sheet_of(Unit::Mm);
    let row = Row { count: Some(4), ..Row::default() };
    paired.rows.push(SeenRow { row, holes: vec![0], by: PairedBy::Tag, missing_at: Vec::new(), left: None });
    let mut drawn = hole("M4", mm(3.3), steel(1.5, Some(Process::Punched)));
    drawn.row = Some(0);
    // Typical ±0.05 mm does not fit: +0.03 up to 3.636, −0.04 down to 3.554.
    assert_eq!(by_trade(&drawn, &paired).advice.expect("advice").callout, "4X Ø3.6 +0.03/-0.04");
    let parts = [
        ("4X ", Part::Count),
        ("M4x0.7-6H", Part::Thread),
        (" ", Part::Filler),
        ("TAP", Part::Tapped),
        (" THRU", Part::Depth),
    ];
    let judged = called(
        hole("M4", mm(3.3), steel(1.5, Some(Process::Punched))),
        StatedSize::default(),
        &parts,
        Unit::Mm,
    );
    assert_eq!(judged.advice.expect("advice").callout, "4X Ø3.6 +0.03/-0.04 THRU");
}

/// The advice once kept the depth of the tapped thread that it removed: `2X Ø3.6 +0.03/0 THRU THRU`.
#[test]
fn advice_drops_the_depth_of_a_removed_thread() {
    let advice = |thread: &str, drawn: f64, text: &str| {
        let read = crate::callout::read(text);
        assert!(read.tapped, "{text}");
        let parts: Vec<(&str, Part)> = read.spans.iter().map(|s| (&text[s.range.clone()], s.part)).collect();
        let hole = hole(thread, mm(drawn), steel(1.5, Some(Process::Drilled)));
        called(hole, size(drawn, 0.02, 0.0, 1, Unit::Mm), &parts, Unit::Mm).advice.expect("advice").callout
    };
    assert_eq!(advice("M4", 3.3, "2X Ø3.3 +0.02/0 THRU M4 TAP THRU"), "2X Ø3.6 +0.02/0 THRU");
    assert_eq!(advice("M4", 3.3, "2X Ø3.3 +0.02/0 x 10 DEEP, M4 TAP x 8 DEEP"), "2X Ø3.6 +0.02/0 x 10 DEEP");
    // Where only the thread has a depth, it is all that is known of the hole's.
    assert_eq!(advice("M4", 3.3, "2X Ø3.3 +0.02/0 M4 TAP THRU"), "2X Ø3.6 +0.02/0 THRU");
}

/// The advice for a radius dimension once read `R3.6`: a hole of twice the size.
#[test]
fn advice_for_a_radius_is_a_diameter() {
    let mut paired = sheet_of(Unit::Mm);
    let mut hole = hole("M4", mm(3.3), steel(1.5, Some(Process::Drilled)));
    let callout = crate::callout::read("2X R1.65 +0.02/0");
    paired.callouts.push(SeenCallout {
        callout: callout.into(),
        origin: origin(),
        at: Point::default(),
        holes: vec![0],
        left: None,
        claims: Vec::new(),
        measured: false,
    });
    hole.callout = Some(0);
    hole.called = Some(size(3.3, 0.04, 0.0, 2, Unit::Mm));
    let text = by_trade(&hole, &paired).advice.expect("advice").callout;
    assert!(text.starts_with("2X Ø3.60 +"), "{text}");
}

/// A callout of our own once read `+0.03/-0.03`; drawings write `±0.03`.
#[test]
fn advice_without_callout_writes_equal_deviations_as_one() {
    let mut drawn = hole("M4", mm(3.6), steel(1.5, Some(Process::Drilled)));
    drawn.listed = Some(size(3.6, 0.03, 0.03, 1, Unit::Mm));
    drawn.called = None;
    assert_eq!(by_trade(&drawn, &sheet_of(Unit::Mm)).advice.expect("advice").callout, "Ø3.6 ±0.03");
}

#[test]
fn advice_for_limits_and_fits() {
    let making = steel(1.5, Some(Process::Punched));
    let limits = StatedSize {
        tolerance: Some(Tolerance::Limits { min: mm(3.3), max: mm(3.35) }),
        decimals: 2,
        unit: Some(Unit::Mm),
        ..StatedSize::default()
    };
    let parts = [("Ø3.35/3.30", Part::Size), (" THRU", Part::Depth)];
    let judged = called(hole("M4", mm(3.3), making.clone()), limits, &parts, Unit::Mm);
    assert_eq!(judged.advice.expect("advice").callout, "Ø3.625/3.575 THRU"); // 3.6 ±0.025, by hand
    let fit = StatedSize {
        nominal: Some(mm(3.3)),
        tolerance: Some(Tolerance::Fit("H11".to_owned())),
        decimals: 1,
        unit: Some(Unit::Mm),
    };
    let parts = [("Ø3.3", Part::Size), (" ", Part::Filler), ("H11", Part::Tolerance)];
    let judged = called(hole("M4", mm(3.3), making), fit, &parts, Unit::Mm);
    assert_eq!(judged.advice.expect("advice").callout, "Ø3.6 +0.03/0");
}
