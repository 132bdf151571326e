//! Worked cases of the trade, each with its source and status in `tables/checks.csv`, against this module.

use std::collections::HashMap;

use serde::Deserialize;

use super::*;
use crate::units::{Angle, Length, Unit};

/// A row of the table of worked cases.
#[derive(Debug, Deserialize)]
struct Case {
    id: String,
    kind: String,
    inputs: String,
    expected: String,
    tolerance: f64,
    source: String,
    status: Status,
}

type Values<'a> = HashMap<&'a str, &'a str>;

/// `a=1;b=2` as a map.
fn values(text: &str) -> Values<'_> {
    text.split(';').filter_map(|pair| pair.split_once('=')).collect()
}

fn number(of: &Values<'_>, name: &str) -> f64 {
    of[name].parse().unwrap_or_else(|_| panic!("{name}"))
}

fn mm(of: &Values<'_>, name: &str) -> Length {
    Length::from_mm(number(of, name)).expect("finite")
}

fn basis(letter: &str) -> Basis {
    match letter {
        "R" => Basis::Rolled,
        "A" => Basis::Cut,
        "I" => Basis::Basic,
        other => panic!("basis {other}"),
    }
}

fn thread(of: &Values<'_>) -> Thread {
    Thread::parse(of["thread"]).expect("a thread")
}

/// A length in the thread's own unit.
fn own(of: &Values<'_>, name: &str) -> Length {
    Length::new(number(of, name), thread(of).unit).expect("finite")
}

/// What the program finds, by the names of the expected values. None for a kind that is not known here.
fn found(kind: &str, i: &Values<'_>) -> Option<Vec<(&'static str, f64)>> {
    Some(match kind {
        "hole_from_pct" if i["basis"] == "F" => {
            let t = thread(i);
            vec![("hole", form_tap_hole(&t, number(i, "pct")).value_in(t.unit))]
        }
        "hole_from_pct" => {
            let t = thread(i);
            vec![("hole", hole_for(&t, number(i, "pct"), basis(i["basis"])).value_in(t.unit))]
        }
        "pct_from_hole" => vec![("pct", percent(&thread(i), own(i, "hole"), basis(i["basis"])))],
        "basis_convert" | "tap_left" => {
            vec![("pct", convert(number(i, "pct"), basis(i["from_basis"]), basis(i["to_basis"])))]
        }
        "pct_per_diameter" => {
            vec![("points", percent_per_diameter(&thread(i), own(i, "delta"), basis(i["basis"])))]
        }
        "thread_field" => vec![("value", thread_field(i))],
        "formed_height" => vec![
            ("formed_pct_A", formed_height_percent(number(i, "pct_R")).expect("in range")),
            ("displaced_area_over_P2", strength::displaced_area(number(i, "pct_R"))),
        ],
        "screw_thread_width_at_hole" => vec![("w_over_P", strength::tooth_width(number(i, "pct_R")))],
        // These areas are homogeneous: inches in give square inches out.
        "strip_area_internal" => vec![(
            "area",
            internal_strip_area_mm2(mm(i, "pitch"), mm(i, "Le"), mm(i, "dmin"), mm(i, "D2max")),
        )],
        "strip_area_external" => vec![(
            "area",
            external_strip_area_mm2(mm(i, "pitch"), mm(i, "Le"), mm(i, "D1max"), mm(i, "d2min")),
        )],
        "band_check" => band_check(i),
        "it11" => {
            let found = fit("H11", mm(i, "nominal_mm")).expect("in range");
            vec![("um", (found.upper.mm() * 1e6).round() / 1e3)]
        }
        "coating" => {
            let hole = coated(own(i, "hole"), own(i, "coat"));
            vec![("hole", hole.mm()), ("pct", percent(&thread(i), hole, basis(i["basis"])))]
        }
        "din_lookup" => din_lookup(i),
        "extruded_height" => {
            let height = collar_height(mm(i, "di"), mm(i, "dp"), mm(i, "t"), mm(i, "Do")).expect("a collar");
            vec![("h", height.mm())]
        }
        "prepierce" => {
            let pierce = collar_pierce(mm(i, "di"), mm(i, "h"), mm(i, "t"), mm(i, "Do")).expect("a pierce");
            vec![("dp", pierce.mm())]
        }
        "cored" => cored(i),
        "cored_max_depth" => {
            let (min, max) = band(i);
            let depth = cored_longest_depth(&thread(i), min, max, draft(i)).expect("draft");
            vec![("depth", depth.mm())]
        }
        "blind_depth" => {
            let t = thread(i);
            let depth =
                blind_depth(&t, own(i, "engagement"), number(i, "taper_pitches"), number(i, "clear_pitches"));
            vec![("depth", depth.value_in(t.unit))]
        }
        "drill" => vec![("inch", drill_by_name(i["name"]).expect("a drill").diameter.inch())],
        "and10387" => {
            let found = and10387(Length::from_inch(number(i, "dia")).expect("finite")).expect("in range");
            let round = |l: Length| (l.inch() * 1e9).round() / 1e9;
            vec![("plus", round(found.plus)), ("minus", round(found.minus))]
        }
        "clamp_stress" => vec![("stress", clamp_stress(number(i, "clamp"), number(i, "area")))],
        "vdi_torque" => vec![(
            "T_Nmm",
            tightening_torque_nmm(
                number(i, "F"),
                mm(i, "P"),
                mm(i, "d2"),
                number(i, "mu_thread"),
                mm(i, "DKm"),
                number(i, "mu_head"),
            ),
        )],
        "torsion" => vec![("tau", torsional_shear_mpa(number(i, "torque_Nm"), mm(i, "d3")))],
        "unit_trap" => vec![("mm", Length::from_inch(number(i, "inch")).expect("finite").mm())],
        _ => return None,
    })
}

fn thread_field(i: &Values<'_>) -> f64 {
    let t = thread(i);
    match i["field"] {
        "pitch_dia" => t.pitch_diameter().value_in(t.unit),
        "tensile_stress_area" => stress_area_mm2(&t) / t.unit.in_mm().powi(2),
        other => panic!("field {other}"),
    }
}

fn band(i: &Values<'_>) -> (f64, f64) {
    let (min, max) = i["band"].split_once('|').expect("two ends");
    (min.parse().expect("number"), max.parse().expect("number"))
}

fn draft(i: &Values<'_>) -> Angle {
    Angle::from_degrees(number(i, "draft_deg_per_side")).expect("finite")
}

fn band_check(i: &Values<'_>) -> Vec<(&'static str, f64)> {
    let (t, b) = (thread(i), basis(i["basis"]));
    let at = |hole| percent(&t, hole, b);
    let (nominal, max, min) =
        (own(i, "hole"), own(i, "hole") + own(i, "plus"), own(i, "hole") - own(i, "minus"));
    let (lo, hi) = band(i);
    let inside = |p: f64| f64::from(u8::from((lo..=hi).contains(&p)));
    vec![
        ("pct_nominal", at(nominal)),
        ("pct_at_max_hole", at(max)),
        ("pct_at_min_hole", at(min)),
        ("nominal_in", inside(at(nominal))),
        ("all_in", inside(at(min)).min(inside(at(max)))),
    ]
}

fn din_lookup(i: &Values<'_>) -> Vec<(&'static str, f64)> {
    let metal = GuideMetal::ALL.into_iter().find(|m| m.sign() == i["material"]);
    let found = guide_holes(&thread(i), mm(i, "length_mm"), metal).remove(0);
    assert_eq!(found.fit, "H11");
    vec![("hole_mm", found.hole.mm()), ("pct_R", percent(&thread(i), found.hole, Basis::Rolled))]
}

fn cored(i: &Values<'_>) -> Vec<(&'static str, f64)> {
    let at = |share: f64| {
        let hole = cored_diameter(mm(i, "d_entrance"), mm(i, "depth") * share, draft(i));
        (hole.mm(), percent(&thread(i), hole, basis(i["basis"])))
    };
    vec![
        ("d_bottom", at(1.0).0),
        ("pct_entrance", at(0.0).1),
        ("pct_mid", at(0.5).1),
        ("pct_bottom", at(1.0).1),
    ]
}

#[test]
fn worked_cases() {
    let cases: Vec<Case> = tables::rows("checks.csv", include_str!("tables/checks.csv"));
    assert_eq!(cases.len(), 91);
    assert!(cases.windows(2).all(|p| p[0].id < p[1].id), "ordered and unique");
    let mut compared = 0;
    for case in &cases {
        let here = format!("{} {} ({}, {:?})", case.id, case.kind, case.source, case.status);
        let expected = values(&case.expected);
        for (name, value) in found(&case.kind, &values(&case.inputs)).unwrap_or_else(|| panic!("{here}")) {
            let wanted = match expected[name] {
                "True" => 1.0,
                "False" => 0.0,
                number => number.parse().unwrap_or_else(|_| panic!("{here}: {name}")),
            };
            assert!((value - wanted).abs() <= case.tolerance + 1e-12, "{here}: {name} {value}, not {wanted}");
            compared += 1;
        }
    }
    assert!(compared >= cases.len());
}

#[test]
fn the_unit_of_a_thread_is_the_unit_of_its_hole() {
    assert_eq!(
        (Thread::parse("M4").expect("M4").unit, Thread::parse("8-32").expect("8-32").unit),
        (Unit::Mm, Unit::Inch)
    );
}
