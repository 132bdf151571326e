//! `judge` on holes put together by hand. Expected numbers are worked by hand from the basic profile
//! (percent = 100 (D − d) / (0.649519 P)) and the trade's bands (common practice).

mod advice;
mod policy;
mod working;

use super::*;
use crate::callout::{Callout, Part, Quantity, Size, Span, note::GeneralTolerance};
use crate::drawing::Origin;
use crate::geometry::Point;
use crate::joint::{Collar, Making, Row, Screw, StatedSize, Tolerance, UserBand};
use crate::pairing::{PairedBy, SeenCallout, SeenRow, Sheet, ThicknessSource, UnitReading, UnitSource};
use crate::practice::{BandRow, Origin as ValueOrigin, Practice};
use crate::trade::{Material, Process};
use crate::units::Unit;
use proptest::prelude::*;

fn mm(value: f64) -> Length {
    Length::from_mm(value).expect("finite")
}

fn inch(value: f64) -> Length {
    Length::from_inch(value).expect("finite")
}

/// A size with deviations, in a unit.
fn size(nominal: f64, plus: f64, minus: f64, decimals: u8, unit: Unit) -> StatedSize {
    let length = |v| Length::new(v, unit).expect("finite");
    StatedSize {
        nominal: Some(length(nominal)),
        tolerance: Some(Tolerance::PlusMinus { plus: length(plus), minus: length(minus) }),
        decimals,
        unit: Some(unit),
    }
}

fn steel(thickness: f64, process: Option<Process>) -> Making {
    Making {
        material: Some(Material::LowCarbonSteel),
        thickness: Some(mm(thickness)),
        process,
        ..Making::default()
    }
}

fn origin() -> Origin {
    Origin {
        handle: None,
        layer: 0,
        line: 1,
        space: 0,
        visible: true,
        insert: None,
        centre_line: false,
        hidden_line: false,
    }
}

/// A hole for a rolling screw, drawn with a diameter, and nothing else.
fn hole(thread: &str, drawn: Length, making: Making) -> Hole {
    Hole {
        id: "H1".to_owned(),
        circle: 0,
        origin: origin(),
        at: Point::default(),
        drawn,
        view_scale: 1.0,
        tag: None,
        callout: None,
        row: None,
        paired_by: PairedBy::Drawn,
        confidence: 1.0,
        reasons: Vec::new(),
        screw: Some(Screw {
            thread: Thread::parse(thread).expect("thread"),
            length: None,
            form: ScrewForm::Rolling,
        }),
        making,
        thickness_source: ThicknessSource::List,
        called: None,
        listed: None,
        entry: None,
        depth: None,
    }
}

fn sheet_of(unit: Unit) -> Paired {
    Paired {
        unit: UnitReading { unit, source: UnitSource::Header, votes: Vec::new(), doubtful: false },
        sheet: Sheet::default(),
        circles: Vec::new(),
        holes: Vec::new(),
        callouts: Vec::new(),
        rows: Vec::new(),
        thickness_conflicts: Vec::new(),
        surroundings: Vec::new(),
    }
}

/// A callout of parts that are read by hand.
fn callout(parts: &[(&str, Part)]) -> Callout {
    let mut made = Callout::default();
    for (text, part) in parts {
        let start = made.text.len();
        made.text.push_str(text);
        made.spans.push(Span { range: start..made.text.len(), part: *part });
        made.tapped |= *part == Part::Tapped;
    }
    made.size = Some(Size::Diameter(Quantity { value: 0.0, unit: None, decimals: 0 }));
    made
}

/// Judges by the trade alone.
fn by_trade(hole: &Hole, paired: &Paired) -> Judged {
    judge(hole, paired, &Practice::default())
}

/// Judges a hole with a callout of these parts.
fn called(mut hole: Hole, stated: StatedSize, parts: &[(&str, Part)], unit: Unit) -> Judged {
    let mut paired = sheet_of(unit);
    paired.callouts.push(SeenCallout {
        callout: callout(parts).into(),
        origin: origin(),
        at: Point::default(),
        holes: vec![0],
        left: None,
    });
    hole.callout = Some(0);
    hole.called = Some(stated);
    by_trade(&hole, &paired)
}

const FOUR_HOLES: &[(&str, Part)] = &[
    ("4X", Part::Count),
    (" ", Part::Filler),
    ("Ø3.3", Part::Size),
    (" ", Part::Filler),
    ("+0.05/-0", Part::Tolerance),
    (" ", Part::Filler),
    ("THRU", Part::Depth),
];

fn close(a: f64, b: f64, within: f64) {
    assert!((a - b).abs() <= within, "{a}, expected {b}");
}

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
    assert_eq!(judged.cut_thread_drill.as_deref(), Some("3.3 mm"));
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
fn which_diameter_and_which_tolerance() {
    let mut paired = sheet_of(Unit::Mm);
    let mut hole = hole("M4", mm(7.2), steel(1.5, None));
    hole.view_scale = 2.0;
    let limits = by_trade(&hole, &paired).limits;
    close(limits.nominal.mm(), 3.6, 1e-12);
    assert_eq!((limits.source, limits.tolerance_source), (DiameterSource::Drawn, ToleranceSource::None));
    assert_eq!((limits.min, limits.max), (limits.nominal, limits.nominal));

    hole.making.process = Some(Process::Punched);
    let limits = by_trade(&hole, &paired).limits;
    assert_eq!(limits.tolerance_source, ToleranceSource::Process);
    assert!(limits.tolerance_text.contains("punched") && limits.tolerance_text.contains("common practice"));
    close(limits.max.mm(), 3.65, 1e-9);

    paired.sheet.tolerances = vec![
        GeneralTolerance::Iso2768('m'),
        GeneralTolerance::Decimals {
            places: 2,
            plus_minus: Quantity { value: 0.02, unit: None, decimals: 2 },
        },
    ];
    let limits = by_trade(&hole, &paired).limits;
    assert_eq!(limits.tolerance_source, ToleranceSource::Drawing);
    close(limits.max.mm(), 3.7, 1e-9); // ISO 2768-m ±0.1 at 3 to 6 mm (memory)
    hole.listed = Some(StatedSize { nominal: Some(mm(3.61)), decimals: 2, ..StatedSize::default() });
    let limits = by_trade(&hole, &paired).limits;
    assert_eq!(limits.source, DiameterSource::List);
    close(limits.min.mm(), 3.59, 1e-9); // by two decimals

    hole.called = Some(StatedSize { nominal: Some(mm(3.6)), decimals: 1, ..StatedSize::default() });
    hole.listed = Some(size(3.61, 0.05, 0.01, 2, Unit::Mm));
    let limits = by_trade(&hole, &paired).limits;
    assert_eq!((limits.source, limits.tolerance_source), (DiameterSource::Callout, ToleranceSource::List));
    close(limits.min.mm(), 3.59, 1e-9); // the list's deviations on the callout's nominal
    close(limits.max.mm(), 3.65, 1e-9);

    hole.called = Some(size(3.6, 0.02, 0.02, 1, Unit::Mm));
    assert_eq!(by_trade(&hole, &paired).limits.tolerance_source, ToleranceSource::Callout);
}

#[test]
fn limits_and_fits() {
    let paired = sheet_of(Unit::Mm);
    let mut hole = hole("M4", mm(3.3), steel(1.5, None));
    hole.called = Some(StatedSize {
        tolerance: Some(Tolerance::Limits { min: mm(3.58), max: mm(3.62) }),
        ..StatedSize::default()
    });
    let limits = by_trade(&hole, &paired).limits;
    close(limits.nominal.mm(), 3.6, 1e-9); // the middle
    hole.called = Some(StatedSize {
        nominal: Some(mm(3.6)),
        tolerance: Some(Tolerance::Fit("H11".to_owned())),
        ..StatedSize::default()
    });
    let limits = by_trade(&hole, &paired).limits;
    close(limits.max.mm(), 3.675, 1e-9); // ISO 286 H11 +75 µm, published
    close(limits.nominal.mm(), 3.6, 1e-9);
    // A list's limits that leave out the callout's nominal are not used, and that is said.
    hole.called = Some(StatedSize { nominal: Some(mm(3.3)), ..StatedSize::default() });
    hole.listed = Some(StatedSize {
        tolerance: Some(Tolerance::Limits { min: mm(3.58), max: mm(3.62) }),
        ..StatedSize::default()
    });
    let limits = by_trade(&hole, &paired).limits;
    assert_eq!(limits.tolerance_source, ToleranceSource::None);
    assert!(limits.tolerance_text.contains("leave out"));
}

#[test]
fn one_limit_leaves_the_other_open() {
    // `Ø3.6 MAX` under a title block of ±0.1: the general tolerance does not hold, and no smallest is made up.
    let mut paired = sheet_of(Unit::Mm);
    paired.sheet.tolerances = vec![GeneralTolerance::Iso2768('m')];
    let mut hole = hole("M4", mm(3.6), steel(1.5, Some(Process::Punched)));
    hole.called = Some(StatedSize {
        nominal: Some(mm(3.6)),
        tolerance: Some(Tolerance::Largest),
        ..StatedSize::default()
    });
    let limits = by_trade(&hole, &paired).limits;
    assert_eq!(limits.tolerance_source, ToleranceSource::None);
    assert_eq!((limits.min, limits.max), (mm(3.6), mm(3.6)));
    assert_eq!(limits.tolerance_text, "3.6 is the largest size and no smallest is stated (callout)");
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

fn any_making() -> impl Strategy<Value = Making> {
    let materials = proptest::option::of(proptest::sample::select(Material::ALL.to_vec()));
    let thickness = proptest::option::of(0.3..12.0f64);
    let processes = proptest::option::of(proptest::sample::select(Process::ALL.to_vec()));
    (materials, thickness, processes).prop_map(|(material, t, process)| Making {
        material,
        thickness: t.map(mm),
        process,
        ..Making::default()
    })
}

fn any_row() -> impl Strategy<Value = BandRow> {
    let materials = proptest::option::of(proptest::sample::select(Material::ALL.to_vec()));
    let processes = proptest::option::of(proptest::sample::select(Process::ALL.to_vec()));
    let edges = (proptest::option::of(0.1..1.0f64), proptest::option::of(1.0..2.0f64));
    (materials, processes, edges, 40.0..70.0f64, 1.0..40.0f64).prop_map(
        |(material, process, (over, to), min, wide)| BandRow {
            material,
            thread: None,
            process,
            over,
            to,
            min,
            target: min + wide / 2.0,
            max: min + wide,
            origin: ValueOrigin::File { file: "boreband.json".to_owned(), pointer: "/bands/0".to_owned() },
        },
    )
}

fn rank_of_size(verdict: Option<Verdict>) -> i32 {
    match verdict {
        Some(Verdict::Tight) => -1,
        Some(Verdict::Loose) => 1,
        _ => 0,
    }
}

proptest! {
    #[test]
    fn wider_unknowns_never_make_a_pass(making in any_making(), drawn in 2.8..4.2f64, plus in 0.0..0.1f64) {
        let paired = sheet_of(Unit::Mm);
        let mut known = hole("M4", mm(drawn), making);
        known.called = Some(size(drawn, plus, plus, 2, Unit::Mm));
        let narrow = by_trade(&known, &paired).verdict;
        let mut wider = known.clone();
        wider.making.thickness = None;
        let mut widest = wider.clone();
        widest.making.material = None;
        for wide in [&wider, &widest] {
            let verdict = by_trade(wide, &paired).verdict;
            prop_assert!(verdict != Some(Verdict::InBand) || narrow == Some(Verdict::InBand), "{narrow:?} {verdict:?}");
            if narrow.is_some() && rank_of_size(verdict) != 0 {
                prop_assert_eq!(verdict, narrow);
            }
        }
    }

    /// The same under rows of a shop, for every pair of what is known and what is not.
    #[test]
    fn wider_unknowns_never_make_a_pass_under_a_policy(
        making in any_making(), rows in proptest::collection::vec(any_row(), 0..4), drawn in 2.8..4.2f64,
    ) {
        let practice = Practice { bands: rows, ..Practice::default() };
        let known = hole("M4", mm(drawn), making);
        let paired = sheet_of(Unit::Mm);
        let at = |hole: &Hole| {
            let mut hole = hole.clone();
            // The tolerance does not depend on what is left out.
            hole.called = Some(size(drawn, 0.02, 0.02, 2, Unit::Mm));
            judge(&hole, &paired, &practice)
        };
        let narrow = at(&known);
        for (material, thickness, process) in
            (1..8).map(|bits: u8| (bits & 1 != 0, bits & 2 != 0, bits & 4 != 0))
        {
            let mut wide = known.clone();
            if material { wide.making.material = None }
            if thickness { wide.making.thickness = None }
            if process { wide.making.process = None }
            let wide = at(&wide);
            prop_assert!(wide.verdict != Some(Verdict::InBand) || narrow.verdict == Some(Verdict::InBand));
            prop_assert!(wide.verdict != Some(Verdict::Straddles)
                || matches!(narrow.verdict, Some(Verdict::InBand | Verdict::Straddles)));
            // What is open says what would decide it, and what is not says nothing.
            prop_assert_eq!(wide.verdict == Some(Verdict::Undetermined), !wide.missing.is_empty());
        }
    }

    #[test]
    fn a_larger_hole_never_engages_more(drawn in 2.0..4.0f64, more in 0.0..0.5f64) {
        let engagement = |mm_: f64| {
            by_trade(&hole("M4", mm(mm_), Making::default()), &sheet_of(Unit::Mm)).engagement.expect("rolling")
        };
        prop_assert!(engagement(drawn).nominal >= engagement(drawn + more).nominal);
    }

    #[test]
    fn a_larger_hole_never_gets_tighter(making in any_making(), drawn in 2.8..4.2f64, more in 0.0..0.5f64) {
        let paired = sheet_of(Unit::Mm);
        let small = by_trade(&hole("M4", mm(drawn), making.clone()), &paired).verdict;
        let large = by_trade(&hole("M4", mm(drawn + more), making), &paired).verdict;
        prop_assert!(rank_of_size(small) <= rank_of_size(large), "{small:?} {large:?}");
    }

    #[test]
    fn mm_and_inch_agree(making in any_making(), drawn in 2.8..4.2f64, plus in 0.0..0.1f64) {
        let mut by_mm = hole("8-32", mm(drawn), making);
        by_mm.called = Some(size(drawn, plus, plus, 2, Unit::Mm));
        let mut by_inch = by_mm.clone();
        by_inch.drawn = inch(drawn / 25.4);
        by_inch.called = Some(size(drawn / 25.4, plus / 25.4, plus / 25.4, 4, Unit::Inch));
        let (a, b) = (by_trade(&by_mm, &sheet_of(Unit::Mm)), by_trade(&by_inch, &sheet_of(Unit::Inch)));
        prop_assert_eq!(a.verdict, b.verdict);
        let (a, b) = (a.engagement.expect("rolling"), b.engagement.expect("rolling"));
        prop_assert!((a.nominal - b.nominal).abs() < 1e-6 && (a.at_max - b.at_max).abs() < 1e-6);
    }

    #[test]
    fn advice_is_always_in_band(making in any_making(), drawn in 2.8..4.6f64, plus in 0.0..0.2f64, metric in any::<bool>()) {
        let unit = if metric { Unit::Mm } else { Unit::Inch };
        let mut present = hole("M4", mm(drawn), making);
        present.called = Some(size(mm(drawn).value_in(unit), mm(plus).value_in(unit), 0.0, 2, unit));
        let paired = sheet_of(unit);
        if let Some(advice) = by_trade(&present, &paired).advice {
            present.called = Some(StatedSize { nominal: Some(advice.diameter), ..StatedSize::default() });
            present.making.process = None; // its typical tolerance is not the advice's
            prop_assert_eq!(by_trade(&present, &paired).verdict, Some(Verdict::InBand), "{}", advice.callout);
        }
    }
}
