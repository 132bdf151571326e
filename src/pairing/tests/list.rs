//! How rows of a hole list find their holes.

use super::*;
use crate::joint::{Coating, Making, Stage};

#[test]
fn a_row_finds_its_points_and_names_those_without_a_hole() {
    let at = vec![Point::new(10.05, 50.0), Point::new(90.0, 10.0), Point::new(40.0, 40.0)];
    let row = Row { at, screw: m4(), ..Row::default() };
    let paired = with(&plate().drawing(), vec![row]);
    assert_eq!(paired.rows[0].holes, [0, 4]);
    assert_eq!(paired.rows[0].by, PairedBy::Position);
    assert_eq!(paired.rows[0].missing_at, [Point::new(40.0, 40.0)]);
    assert!(paired.rows[0].left.is_some());
    assert_eq!(by(&paired), ["position", "drawn", "drawn", "drawn", "position"]);
    assert!(paired.holes[0].screw.is_some() && paired.holes[1].screw.is_none());
}

#[test]
fn a_tag_beside_the_hole_and_its_numbered_kin() {
    let drawing = plate().text(13.0, 51.0, "A1").text(93.0, 51.0, "A2").text(55.0, 31.0, "B").drawing();
    let rows = vec![
        Row { tag: Some("A".to_owned()), count: Some(2), screw: m4(), ..Row::default() },
        Row { tag: Some("C".to_owned()), ..Row::default() },
    ];
    let paired = with(&drawing, rows);
    assert_eq!(paired.rows[0].holes, [0, 1]);
    assert_eq!(paired.rows[0].left, None);
    assert_eq!(paired.holes[0].tag.as_deref(), Some("A1"));
    assert_eq!(paired.rows[1].holes, Vec::<usize>::new());
    assert_eq!(paired.rows[1].left.as_deref(), Some("no hole is tagged C"));
}

#[test]
fn a_tag_beside_one_hole_of_a_counted_callout_speaks_for_all_that_the_row_counts() {
    let sheet = || plate().leader(rim(90.0, 50.0, 1.8), (110.0, 70.0), "4X Ø3.6 THRU").text(13.0, 51.0, "A");
    let row = |count| vec![Row { tag: Some("A".to_owned()), count, screw: m4(), ..Row::default() }];
    let paired = with(&sheet().drawing(), row(Some(4)));
    assert_eq!(paired.rows[0].holes, [0, 1, 3, 4]);
    assert_eq!(paired.rows[0].left, None);
    // Another count, or another tag among them, is no reason to guess.
    assert_eq!(with(&sheet().drawing(), row(Some(3))).rows[0].holes, [0]);
    assert_eq!(with(&sheet().drawing(), row(None)).rows[0].holes, [0]);
    assert_eq!(with(&sheet().text(93.0, 11.0, "B").drawing(), row(Some(4))).rows[0].holes, [0]);
}

#[test]
fn layer_without_regard_to_letter_case() {
    let drawing =
        Sheet::new().layer("Screws").circle(0.0, 0.0, 3.6).layer("0").circle(20.0, 0.0, 3.6).drawing();
    let paired =
        with(&drawing, vec![Row { layer: Some("SCREWS".to_owned()), screw: m4(), ..Row::default() }]);
    assert_eq!(paired.rows[0].holes, [0]);
    assert_eq!(paired.rows[0].by, PairedBy::Layer);
}

#[test]
fn the_callout_that_names_the_thread() {
    let drawing =
        plate().leader(rim(50.0, 30.0, 4.0), (60.0, 70.0), "Ø3.6 FOR M4 THREAD ROLLING SCREW").drawing();
    let paired = with(&drawing, vec![Row { screw: m4(), size: sized(3.6), ..Row::default() }]);
    assert_eq!(paired.rows[0].holes, [2]);
    assert_eq!(paired.rows[0].by, PairedBy::Leader);
}

#[test]
fn the_diameter_drawn_and_the_count() {
    let paired = with(&plate().drawing(), vec![Row { size: sized(3.6), count: Some(5), ..Row::default() }]);
    assert_eq!(paired.rows[0].holes, [0, 1, 3, 4]);
    assert_eq!(paired.rows[0].by, PairedBy::Drawn);
    assert!(paired.rows[0].left.as_deref().is_some_and(|l| l.contains("4 were found")));
}

#[test]
fn a_row_of_limits_finds_circles_drawn_at_either_limit() {
    // It was compared with the middle of its limits only, and the row was reported as missing.
    let tolerance = Some(crate::joint::Tolerance::Limits { min: mm(3.55), max: mm(3.65) });
    let row = || Row {
        size: crate::joint::StatedSize { tolerance: tolerance.clone(), ..Default::default() },
        ..Row::default()
    };
    let found =
        |diameter| with(&Sheet::new().circle(0.0, 0.0, diameter).drawing(), vec![row()]).rows[0].holes.len();
    assert_eq!([3.55, 3.6, 3.65].map(found), [1, 1, 1]);
    assert_eq!([3.5, 3.7].map(found), [0, 0]);
}

#[test]
fn rows_of_one_thread_take_the_holes_of_their_own_size() {
    let drawing = plate()
        .leader(rim(90.0, 50.0, 1.8), (110.0, 70.0), "4X Ø3.6 FOR M4 THREAD ROLLING SCREW")
        .circle(50.0, 10.0, 3.7)
        .leader(rim(50.0, 10.0, 1.85), (50.0, -15.0), "Ø3.7 FOR M4 THREAD ROLLING SCREW")
        .drawing();
    let rows = vec![
        Row { screw: m4(), size: sized(3.6), ..Row::default() },
        Row { screw: m4(), size: sized(3.7), ..Row::default() },
    ];
    let paired = with(&drawing, rows);
    assert_eq!(paired.rows[0].holes.len(), 4);
    assert_eq!(paired.rows[1].holes.len(), 1);
}

#[test]
fn a_row_that_finds_nothing_says_what_could_be_meant() {
    let row = Row { tag: Some("A".to_owned()), screw: m4(), ..Row::default() };
    let paired = with(&plate().drawing(), vec![row]);
    assert_eq!(paired.rows[0].left.as_deref(), Some("no hole is tagged A; 4 holes could take M4"));
}

#[test]
fn a_hole_seen_again_in_a_detail_adds_nothing_to_the_count() {
    let mut drawing = plate()
        .outline(-60.0, -60.0, 360.0, 237.0)
        .text(-20.0, -30.0, "DETAIL B")
        .text(200.0, -40.0, "LID")
        .circle(250.0, 150.0, 40.0)
        .circle(250.0, 150.0, 7.2)
        .diameter_dimension(250.0, 150.0, 7.2, "Ø3.6")
        .drawing();
    drawing.dimensions[0].length_factor = 0.5;
    let paired = with(&drawing, vec![Row { size: sized(3.6), count: Some(4), ..Row::default() }]);
    assert_eq!(paired.rows[0].holes.len(), 5);
    assert_eq!(paired.rows[0].left, None);
}

#[test]
fn the_stronger_row_keeps_a_hole_and_the_weaker_says_so() {
    let rows = vec![
        Row { size: sized(3.6), count: Some(4), ..Row::default() },
        Row { at: vec![Point::new(10.0, 50.0)], ..Row::default() },
    ];
    let paired = with(&plate().drawing(), rows);
    assert_eq!(paired.rows[1].holes, [0]);
    assert_eq!(paired.rows[0].holes, [1, 3, 4]);
    assert!(paired.rows[0].left.as_deref().is_some_and(|l| l.contains("claimed")));
}

#[test]
fn a_lone_row_with_a_screw_takes_all_and_one_of_several_takes_what_fits() {
    let paired = with(&plate().drawing(), vec![Row { screw: m4(), ..Row::default() }]);
    assert_eq!(paired.rows[0].holes.len(), 5);
    let rows =
        vec![Row { screw: m4(), ..Row::default() }, Row { layer: Some("X".to_owned()), ..Row::default() }];
    assert_eq!(with(&plate().drawing(), rows).rows[0].holes, [0, 1, 3, 4]);
}

#[test]
fn a_position_makes_a_hole_of_what_looks_like_an_outline() {
    let drawing = Sheet::new().circle(0.0, 0.0, 40.0).circle(10.0, 0.0, 4.0).drawing();
    assert_eq!(roles(&alone(&drawing)), ["outline", "hole"]);
    let paired = with(&drawing, vec![Row { at: vec![Point::new(0.0, 0.0)], ..Row::default() }]);
    assert_eq!(roles(&paired), ["hole", "hole"]);
}

#[test]
fn thickness_of_the_list_over_the_callout_and_the_conflict_is_told() {
    let drawing = plate().leader(rim(50.0, 30.0, 4.0), (60.0, 70.0), "Ø8 THRU THK 2").drawing();
    let making = Making { thickness: Some(mm(1.5)), ..Making::default() };
    let row = Row { at: vec![Point::new(50.0, 30.0)], making: making.clone(), ..Row::default() };
    let list = DrawingRows { rows: vec![row], making, ..DrawingRows::default() };
    let paired = pair(&drawing, Some(&list), &Defaults::default());
    assert_eq!(paired.holes[2].making.thickness, Some(mm(1.5)));
    assert_eq!(paired.holes[2].thickness_source, ThicknessSource::List);
    assert_eq!(paired.conflicts.len(), 1);
    assert_eq!(paired.conflicts[0].hole, Some(2));
    assert_eq!(paired.holes[0].making.thickness, Some(mm(1.5)));
}

#[test]
fn the_metal_of_the_list_holds_and_another_on_the_drawing_is_told() {
    let told = |note: &str, metal: Option<Material>, of_row: Option<Material>| {
        let drawing = plate().text(0.0, -30.0, note).drawing();
        let making = |material| Making { material, ..Making::default() };
        let row =
            Row { at: vec![Point::new(50.0, 30.0)], making: making(of_row.or(metal)), ..Row::default() };
        let list = DrawingRows { rows: vec![row], making: making(metal), ..DrawingRows::default() };
        let paired = pair(&drawing, Some(&list), &Defaults::default());
        assert_eq!(paired.holes[2].making.material, of_row.or(metal));
        paired.conflicts.into_iter().map(|c| (c.hole, c.says.join(", "))).collect::<Vec<_>>()
    };
    let (aluminium, steel) = (Some(Material::AluminiumWrought), Some(Material::StructuralSteel));
    let says = "hole list: wrought aluminium, note 'MATERIAL: STEEL': low-carbon steel".to_owned();
    assert_eq!(told("MATERIAL: STEEL", aluminium, None), [(None, says.clone())]);
    // Of a row alone.
    assert_eq!(told("MATERIAL: STEEL", None, aluminium), [(Some(2), says)]);
    // A row may depart from its list; steel is any steel; a metal without a label may be an insert's.
    assert_eq!(told("MATERIAL: STEEL", steel, aluminium), []);
    assert_eq!(told("MATERIAL: STEEL", steel, None), []);
    assert_eq!(told("BRASS PLATE", aluminium, None), []);
}

#[test]
fn the_coating_of_the_list_holds_and_another_on_the_drawing_is_told() {
    let told = |callout: &str, note: &str, of_list: Option<Coating>, of_row: Option<Coating>| {
        let drawing = plate().leader(rim(50.0, 30.0, 4.0), (60.0, 70.0), callout).text(0.0, -30.0, note);
        let making = |coating| Making { coating, ..Making::default() };
        let row =
            Row { at: vec![Point::new(50.0, 30.0)], making: making(of_row.or(of_list)), ..Row::default() };
        let list = DrawingRows { rows: vec![row], making: making(of_list), ..DrawingRows::default() };
        let paired = pair(&drawing.drawing(), Some(&list), &Defaults::default());
        let coating = paired.holes[2].making.coating;
        assert_eq!(coating.map(|c| c.thickness), of_row.or(of_list).map(|c| c.thickness));
        paired.conflicts.into_iter().map(|c| (c.hole, c.says.join(", "))).collect::<Vec<_>>()
    };
    let coat = |stated| Some(Coating { thickness: mm(0.008), stated });
    let (before, open) = (coat(Some(Stage::Before)), coat(None));
    let by_note = "hole list: 0.008 mm with sizes before it, note: 0.012 mm with sizes after it".to_owned();
    let note = "SIZES AFTER PLATING 12 MICRONS";
    assert_eq!(told("Ø8 THRU", note, before, None), [(None, by_note.clone())]);
    // Of a row alone.
    assert_eq!(told("Ø8 THRU", note, None, before), [(Some(2), by_note)]);
    let by_callout = "hole list: 0.008 mm with sizes before it, callout: sizes after it".to_owned();
    assert_eq!(told("Ø8 THRU AFTER PLATING", "", before, None), [(Some(2), by_callout)]);
    // A row may depart from its list; what the list leaves open the drawing may say.
    assert_eq!(told("Ø8 THRU", "SIZES AFTER PLATING 8 MICRONS", open, None), []);
    assert_eq!(told("Ø8 THRU", "SIZES AFTER PLATING 8 MICRONS", open, before), []);
    assert_eq!(told("Ø8 THRU BEFORE PLATING", "", before, None), []);
}

#[test]
fn a_balloon_that_points_at_a_hole_tags_it() {
    let mut drawing = plate().circle(130.0, 80.0, 8.0).leader((51.0, 30.0), (127.0, 78.0), "").drawing();
    drawing.texts.clear();
    let tagged = Sheet::new().text(128.9, 78.75, "A").drawing();
    drawing.texts = tagged.texts;
    let end = drawing.leaders[0].vertices.len() - 1;
    // On the rim, straight towards the hole: 4 from (130, 80) along (-79, -50) / 93.5.
    drawing.leaders[0].vertices[end] = Point::new(130.0 - 4.0 * 0.845, 80.0 - 4.0 * 0.535);
    let paired = with(&drawing, vec![Row { tag: Some("A".to_owned()), ..Row::default() }]);
    assert_eq!(roles(&paired)[5], "balloon");
    assert_eq!(paired.rows[0].holes, [2]);
}

#[test]
fn ten_thousand_positions_find_their_holes() {
    let mut sheet = Sheet::new();
    let mut at = Vec::new();
    for k in 0..10_000 {
        let p = Point::new(f64::from(k % 100) * 10.0, f64::from(k / 100) * 10.0);
        sheet = sheet.circle(p.x, p.y, 3.6);
        at.push(p);
    }
    let paired = with(&sheet.drawing(), vec![Row { at, screw: m4(), ..Row::default() }]);
    assert_eq!(paired.rows[0].holes.len(), 10_000);
    assert_eq!(paired.rows[0].left, None);
}

/// A row's entrance once counted only along the depth, and the verdict was that of another diameter.
#[test]
fn the_size_of_a_cored_hole_is_its_entrance() {
    let at = vec![Point::new(10.0, 50.0)];
    let size = StatedSize { nominal: Length::from_mm(3.7).ok(), ..StatedSize::default() };
    let entrance_diameter = Length::from_mm(3.74).ok();
    let row = Row { at, size, entrance_diameter, screw: m4(), ..Row::default() };
    let paired = with(&plate().drawing(), vec![row]);
    let listed = paired.holes[0].listed.as_ref().and_then(|s| s.nominal);
    assert_eq!(listed, entrance_diameter);
}
