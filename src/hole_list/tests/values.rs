//! What one file says: its faults, and the rows it gives.

use super::super::model;
use super::super::wire::HoleList;
use super::{faults_of, list_with_rows};
use crate::geometry::Point;
use crate::joint::{ScrewForm, Stage, Tolerance};
use crate::reading::read_bytes;
use crate::trade::{Material, Process};
use crate::units::{Length, Unit};

#[test]
fn all_eleven_faults_of_a_list_are_reported_at_once() {
    let text = r#"{
      "unit": "cm",
      "drawings": [
        { "drawing": "lid.dxf", "thickness": -1.5, "materiel": "DC01",
          "holes": [
            { "tag": "A", "count": 0, "diameter": "3.6" },
            { "tag": "A", "limits": [3.7, 3.6], "plus": 0.1 },
            { "at": [[1, 2], [3]], "process": "punchd" }
          ] }
      ]
    }"#;
    let found: Vec<String> = faults_of(text).into_iter().map(|f| f.pointer).collect();
    let expected = [
        "/format",
        "/unit",
        "/drawings/0/materiel",
        "/drawings/0/thickness",
        "/drawings/0/holes/0/count",
        "/drawings/0/holes/0/diameter",
        "/drawings/0/holes/1/limits",
        "/drawings/0/holes/1/plus",
        "/drawings/0/holes/2/at/1",
        "/drawings/0/holes/2/process",
        "/drawings/0/holes/1/tag",
    ];
    assert_eq!(found, expected);
}

/// A row, the pointer below it where the one fault is, and what its message must say.
const FAULTY_ROWS: &[(&str, &str, &str)] = &[
    (r#"{"tag": "A", "diametre": 3.6}"#, "/diametre", "did you mean \"diameter\"?"),
    (r#"{"tag": "A", "colour": 1}"#, "/colour", "expected one of tag, count, screw, grip"),
    (r#"{"tag": ""}"#, "/tag", "found \"\", expected text that is not blank"),
    (r#"{"tag": 7}"#, "/tag", "found 7, expected text"),
    (r#"{"tag": null}"#, "/tag", "found null"),
    (r#"{"tag": "A", "count": 0}"#, "/count", "found 0, expected a whole number from 1"),
    (r#"{"tag": "A", "count": 2.5}"#, "/count", "found 2.5, expected a whole number"),
    (r#"{"tag": "A", "count": "4"}"#, "/count", "found \"4\", expected a whole number"),
    (r#"{"tag": "A", "count": 1000000}"#, "/count", "from 1 to 100000"),
    (r#"{"diameter": 0}"#, "/diameter", "found 0, expected a length above 0"),
    (r#"{"diameter": -3.6}"#, "/diameter", "found -3.6, expected a length above 0"),
    (r#"{"diameter": 36000}"#, "/diameter", "at most 10000"),
    (r#"{"diameter": NaN}"#, "/diameter", "found NaN, expected a length above 0"),
    (r#"{"diameter": 1e999}"#, "/diameter", "found 1e999, expected a length above 0"),
    (r#"{"diameter": 3.6, "plus": -0.05}"#, "/plus", "found -0.05, expected a magnitude of 0 or more"),
    (r#"{"diameter": 3.6, "minus": -0.05}"#, "/minus", "found -0.05, expected a magnitude of 0 or more"),
    (r#"{"diameter": 3.6, "minus": 3.6}"#, "/minus", "expected less than the diameter 3.6"),
    (r#"{"limits": [3.7, 3.6]}"#, "/limits", "found [3.7, 3.6], expected min not above max"),
    (r#"{"limits": [3.6]}"#, "/limits", "found an array of 1 item, expected two lengths"),
    (r#"{"limits": [0, 3.6]}"#, "/limits/0", "found 0, expected a length above 0"),
    (r#"{"limits": [3.6, 3.7], "diameter": 3.6}"#, "/diameter", "beside limits"),
    (r#"{"limits": [3.6, 3.7], "plus": 0.1}"#, "/plus", "expected the size to be stated once"),
    (r#"{"limits": [3.6, 3.7], "fit": "H11"}"#, "/fit", "beside limits"),
    (r#"{"diameter": 3.6, "fit": "H11", "minus": 0.1}"#, "/minus", "found minus beside fit"),
    (
        r#"{"diameter": 3.6, "fit": "Q11"}"#,
        "/fit",
        "found \"Q11\", expected one of H7, H8, H9, H10, H11, H12, H13",
    ),
    (r#"{"tag": "A", "screw": "M4"}"#, "/screw", "expected an object with the keys thread, length, form"),
    (r#"{"tag": "A", "screw": {}}"#, "/screw/thread", "missing, expected a thread such as M4"),
    (r#"{"tag": "A", "screw": {"thread": "N4"}}"#, "/screw/thread", "found \"N4\", expected a thread"),
    (
        r#"{"tag": "A", "screw": {"thread": "M4", "form": "roling"}}"#,
        "/screw/form",
        "did you mean \"rolling\"?",
    ),
    (r#"{"tag": "A", "screw": {"thread": "M4", "length": 0}}"#, "/screw/length", "found 0"),
    (r#"{"tag": "A", "grip": -1}"#, "/grip", "found -1, expected a magnitude"),
    (r#"{"tag": "A", "capability": {"mean": 3.6}}"#, "/capability/sd", "missing"),
    (r#"{"tag": "A", "capability": {"mean": 3.6, "sd": 0}}"#, "/capability/sd", "found 0"),
    (r#"{"tag": "A", "depth": 0}"#, "/depth", "found 0"),
    (r#"{"tag": "A", "entrance_diameter": -1}"#, "/entrance_diameter", "found -1"),
    (r#"{"tag": "A", "draft_deg": 45}"#, "/draft_deg", "found 45, expected an angle from 0 to below 45"),
    (r#"{"tag": "A", "collar": {"hight": 2, "height": 2}}"#, "/collar/hight", "did you mean \"height\"?"),
    (r#"{"tag": "A", "edge_finish": "raw"}"#, "/edge_finish", "expected one of as-cut, reamed"),
    (r#"{"at": []}"#, "/at", "found an empty array, expected an array of one or more points"),
    (r#"{"at": [1]}"#, "/at/0", "found 1, expected a point [x, y]"),
    (r#"{"at": [[1, 2, 3]]}"#, "/at/0", "expected a point [x, y] of two finite numbers"),
    (r#"{"at": [[1, "2"]]}"#, "/at/0/1", "found \"2\", expected a finite number"),
    (r#"{"at": [[1, NaN]]}"#, "/at/0/1", "found NaN, expected a finite number"),
    (r#"{"at": [[1, 2], [1, 2]]}"#, "/at/1", "[1, 2] also stands at 0"),
    (r#"{"at": [[1, 2], [3, 4]], "count": 3}"#, "/count", "found 3, expected 2, the number of points"),
    (r#"{"tag": "A", "layer": " "}"#, "/layer", "not blank"),
    (r#"{"tag": "A", "trial": "a\\b.json"}"#, "/trial", "a path with /"),
    (r#"{"tag": "A", "material": "unobtainium"}"#, "/material", "expected one of low-carbon-steel"),
    (r#"{"tag": "A", "material": "grey-irn"}"#, "/material", "did you mean \"grey-iron\"?"),
    (r#"{"tag": "A", "process": "Drilled"}"#, "/process", "did you mean \"drilled\"?"),
    (r#"{"tag": "A", "thickness": 0}"#, "/thickness", "found 0"),
    (
        r#"{"tag": "A", "coating": {"thickness": 0.008, "stated": "later"}}"#,
        "/coating/stated",
        "before, after",
    ),
    (r#"{"tag": "A", "coating": {"stated": "after"}}"#, "/coating/thickness", "missing"),
    (r#"{"tag": "A", "band": {"min": 90, "max": 65}}"#, "/band/max", "found max 65 beside min 90"),
    (r#"{"tag": "A", "band": {"min": 65, "max": 65}}"#, "/band/max", "expected max above min"),
    (r#"{"tag": "A", "band": {"min": 65, "max": 201}}"#, "/band/max", "from 0 to 200"),
    (r#"{"tag": "A", "band": {"min": -1, "max": 90}}"#, "/band/min", "from 0 to 200"),
    (
        r#"{"tag": "A", "band": {"min": 65, "max": 90, "target": 95}}"#,
        "/band/target",
        "from min 65 to max 90",
    ),
    (r#"{"tag": "A", "hardness_hb": 0}"#, "/hardness_hb", "found 0"),
    (r#"{"tag": "A", "tag": "B"}"#, "/tag", "stands more than once"),
    (r#"{"count": 4, "plus": 0.1}"#, "", "states nothing that finds its holes"),
    (r#"[]"#, "", "found an empty array, expected an object"),
];

#[test]
fn each_fault_of_a_row_is_told_at_its_place() {
    for (row, pointer, says) in FAULTY_ROWS {
        let faults = faults_of(&list_with_rows(row));
        assert_eq!(faults.len(), 1, "{row}: {faults:?}");
        assert_eq!(faults[0].pointer, format!("/drawings/0/holes/0{pointer}"), "{row}");
        assert_eq!(faults[0].file, "test.holes.json");
        assert!(faults[0].message.contains(says), "{row}: {}", faults[0].message);
    }
}

#[test]
fn all_faulty_rows_together_report_all() {
    let rows: Vec<&str> = FAULTY_ROWS.iter().map(|(row, _, _)| *row).collect();
    let faults = faults_of(&list_with_rows(&rows.join(",")));
    // The rows beside their own faults share the tag A: the same tag twice in one entry.
    let (tags, others): (Vec<_>, Vec<_>) = faults.iter().partition(|f| f.message.contains("each tag once"));
    assert_eq!(others.len(), FAULTY_ROWS.len(), "{others:#?}");
    assert!(!tags.is_empty());
}

#[test]
fn each_fault_of_the_file_and_of_an_entry_is_told_at_its_place() {
    for (text, pointer, says) in [
        (r#"{"format": 2, "unit": "mm", "drawings": []}"#, "/format", "found 2, expected 1"),
        (r#"{"format": "1", "unit": "mm", "drawings": []}"#, "/format", "found \"1\", expected 1"),
        (r#"{"unit": "mm", "drawings": []}"#, "/format", "missing, expected 1"),
        (r#"{"format": 1, "drawings": []}"#, "/unit", "missing, expected one of mm, in"),
        (r#"{"format": 1, "unit": "inch", "drawings": []}"#, "/unit", "expected one of mm, in"),
        (r#"{"format": 1, "unit": "mm"}"#, "/drawings", "missing, expected an array"),
        (r#"{"format": 1, "unit": "mm", "drawings": {}}"#, "/drawings", "found an object, expected an array"),
        (r#"{"format": 1, "unit": "mm", "drawings": [{"holes": []}]}"#, "/drawings/0/drawing", "missing"),
        (
            r#"{"format": 1, "unit": "mm", "drawings": [{"drawing": "a.dxf"}]}"#,
            "/drawings/0/holes",
            "missing",
        ),
        (
            r#"{"format": 1, "unit": "mm", "drawings": [{"drawing": "a\\b.dxf", "holes": []}]}"#,
            "/drawings/0/drawing",
            "with / between",
        ),
        (
            r#"{"format": 1, "unit": "mm", "drawings": [{"drawing": "a[.dxf", "holes": []}]}"#,
            "/drawings/0/drawing",
            "a path or a pattern",
        ),
        (r#"[]"#, "", "expected an object with the keys $schema, format, unit, drawings"),
    ] {
        let faults = faults_of(text);
        assert_eq!(faults.len(), 1, "{text}: {faults:?}");
        assert_eq!(faults[0].pointer, pointer, "{text}");
        assert!(faults[0].message.contains(says), "{text}: {}", faults[0].message);
    }
}

fn only_list(text: &str) -> model::List {
    let written: HoleList = read_bytes("test.holes.json", text.as_bytes()).unwrap();
    model::list("test.holes.json", &written).unwrap()
}

#[test]
fn a_row_states_its_facts_over_the_drawing() {
    let list = only_list(
        r#"{"format": 1, "unit": "mm", "drawings": [{
          "drawing": "lid.dxf", "part": "GC-104", "revision": "B", "material": "low-carbon-steel", "thickness": 1.5,
          "process": "punched", "coating": {"thickness": 0.008, "stated": "before"}, "hardness_hb": 110,
          "holes": [
            {"tag": " A ", "count": 4, "diameter": 3.6, "plus": 0.05},
            {"tag": "B", "thickness": 4.0, "process": "drilled", "at": [[20.0, 15.0], [60.0, 15.0]],
             "band": {"min": 65, "max": 90}, "trial": "trials/b.json"}
          ]}]}"#,
    );
    let [a, b] = list.entries[0].rows.as_slice() else { panic!("two rows") };
    assert_eq!(list.entries[0].part.as_deref(), Some("GC-104"));
    assert_eq!((a.tag.as_deref(), a.count, a.pointer.as_str()), (Some("A"), Some(4), "/drawings/0/holes/0"));
    assert_eq!(a.making.material, Some(Material::LowCarbonSteel));
    assert_eq!(a.making.thickness, Some(Length::mm_const(1.5)));
    assert_eq!(a.making.process, Some(Process::Punched));
    assert_eq!(a.making.hardness_hb, Some(110.0));
    assert_eq!(a.making.coating.unwrap().stated, Some(Stage::Before));
    assert_eq!(a.size.nominal, Some(Length::mm_const(3.6)));
    let tolerance = Tolerance::PlusMinus { plus: Length::mm_const(0.05), minus: Length::ZERO };
    assert_eq!(a.size.tolerance, Some(tolerance));

    assert_eq!(b.making.thickness, Some(Length::mm_const(4.0)));
    assert_eq!(b.making.process, Some(Process::Drilled));
    assert_eq!(b.making.material, Some(Material::LowCarbonSteel));
    assert_eq!(b.making.band.unwrap().target, None);
    assert_eq!(b.at, [Point::new(20.0, 15.0), Point::new(60.0, 15.0)]);
    assert_eq!(b.count, Some(2), "the number of points");
    assert_eq!(b.trial.as_deref(), Some("trials/b.json"), "relative to the list");
    assert_eq!((b.size.nominal, b.size.tolerance.as_ref(), b.size.unit), (None, None, None));
}

#[test]
fn every_length_takes_the_unit_of_the_file() {
    let list = only_list(
        r#"{"format": 1, "unit": "in", "drawings": [{"drawing": "p.dxf", "thickness": 1, "holes": [{
          "tag": "A", "grip": 2, "limits": [0.5, 1], "depth": 3, "entrance_diameter": 4, "draft_deg": 1,
          "collar": {"height": 5, "outside_diameter": 7, "pierce": 2, "entry_radius": 0.5}, "capability": {"mean": 6, "sd": 0.1},
          "coating": {"thickness": 0.2, "stated": "after"}, "at": [[7, 8]], "edge_finish": "reamed"}]}]}"#,
    );
    let row = &list.entries[0].rows[0];
    // 1 in is 25.4 mm exactly (international inch, 1959).
    let mm = |value: f64| Some(Length::from_mm(value).unwrap());
    assert_eq!(row.unit, Some(Unit::Inch));
    assert_eq!(row.making.thickness, mm(25.4));
    assert_eq!(row.grip, mm(50.8));
    assert_eq!(
        row.size.tolerance,
        Some(Tolerance::Limits { min: mm(12.7).unwrap(), max: mm(25.4).unwrap() })
    );
    let close = |length: Option<Length>, mm: f64| (length.unwrap().mm() - mm).abs() < 1e-9;
    assert!(close(row.depth, 76.2));
    assert!(close(row.entrance_diameter, 101.6));
    let collar = row.collar.unwrap();
    assert!(close(Some(collar.height), 127.0) && close(collar.outside, 177.8));
    assert!(close(collar.pierce, 50.8) && close(collar.entry_radius, 12.7));
    assert!(close(row.capability.map(|c| c.0), 152.4));
    assert!(close(row.making.coating.map(|c| c.thickness), 5.08));
    assert_eq!(row.making.coating.unwrap().stated, Some(Stage::After));
    assert_eq!(row.at, [Point::new(7.0, 8.0)], "coordinates stay in the drawing's own units");
    assert_eq!(row.edge_reamed, Some(true));
}

#[test]
fn a_screw_rolls_unless_it_says_otherwise() {
    let list = only_list(&list_with_rows(
        r#"{"tag": "A", "screw": {"thread": "M4", "length": 10}}, {"tag": "B", "screw": {"thread": "8-32", "form": "spaced"}}"#,
    ));
    let screws: Vec<_> = list.entries[0].rows.iter().map(|row| row.screw.clone().unwrap()).collect();
    assert_eq!((screws[0].form, screws[0].length), (ScrewForm::Rolling, Some(Length::mm_const(10.0))));
    assert_eq!(screws[0].thread.major, Length::mm_const(4.0));
    assert_eq!((screws[1].form, screws[1].length), (ScrewForm::Spaced, None));
}

#[test]
fn materials_go_by_the_names_of_drawings_too() {
    let list = only_list(&list_with_rows(r#"{"tag": "A", "material": "DC01"}"#));
    assert_eq!(list.entries[0].rows[0].making.material, Some(Material::LowCarbonSteel));
}

#[test]
fn every_fit_that_a_list_may_state_is_in_the_tables() {
    use super::super::values::FitName;
    use crate::reading::Choice;
    for fit in FitName::ALL {
        assert!(crate::trade::fit(fit.word(), Length::mm_const(4.0)).is_some(), "{}", fit.word());
    }
}
