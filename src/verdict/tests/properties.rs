//! What holds for any hole: less knowledge never makes a pass, a larger hole never engages more, units agree.

use proptest::prelude::*;

use super::*;

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
