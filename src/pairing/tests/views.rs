//! Holes that several views show.

use super::*;
use crate::drawing::Stands;

/// The plate again beside itself, as seen from behind.
fn both_sides(text: &str) -> Sheet {
    let sheet = plate()
        .outline(200.0, 0.0, 300.0, 60.0)
        .leader(rim(90.0, 50.0, 1.8), (110.0, 70.0), text)
        .circle(210.0, 50.0, 3.6)
        .circle(290.0, 50.0, 3.6)
        .circle(210.0, 10.0, 3.6)
        .circle(290.0, 10.0, 3.6);
    sheet.circle(250.0, 30.0, 8.0)
}

/// Four holes in two views were eight to a row that counts four, and the second view's were without a callout.
#[test]
fn a_row_by_diameter_counts_a_hole_of_two_views_once() {
    let drawing = both_sides("4X Ø3.6 THRU").drawing();
    let row = Row { screw: m4(), count: Some(4), size: sized(3.6), ..Row::default() };
    let paired = with(&drawing, vec![row]);
    assert_eq!((paired.rows[0].holes.len(), paired.rows[0].left.clone()), (8, None));
    assert_eq!((paired.callouts[0].holes.len(), paired.callouts[0].left.clone()), (8, None));
}

#[test]
fn another_count_than_either_view_shows_is_still_said() {
    let paired = alone(&both_sides("5X Ø3.6 THRU").drawing());
    assert_eq!(paired.callouts[0].left.as_deref(), Some("4 such circles were found for it"));
}

/// A callout at an enlarged detail once found only the one hole drawn there.
#[test]
fn a_count_at_a_detail_speaks_of_the_holes_of_the_main_view() {
    let mut drawing = plate()
        .text(-20.0, -30.0, "DETAIL B")
        .text(200.0, -40.0, "LID")
        .outline(240.0, 140.0, 260.0, 160.0)
        .circle(250.0, 150.0, 7.2)
        .diameter_dimension(250.0, 150.0, 7.2, "4X Ø3.6")
        .drawing();
    drawing.dimensions[0].length_factor = 0.5;
    let paired = alone(&drawing);
    assert_eq!((paired.callouts[0].holes.len(), paired.callouts[0].left.clone()), (5, None));
    assert_eq!(paired.holes.iter().filter(|h| h.callout.is_none()).count(), 1, "the hole of 8");
}

/// A detail without dimensions was taken as drawn, and its hole as another one of twice the size.
#[test]
fn a_label_states_the_scale_of_its_view() {
    let detail = |label: &str, diameter: f64| {
        plate()
            .leader(rim(90.0, 50.0, 1.8), (110.0, 70.0), "4X Ø3.6 THRU")
            .circle(250.0, 30.0, diameter)
            .text(240.0, 15.0, label)
            .drawing()
    };
    let scale = |drawing: &Drawing| alone(drawing).holes.last().map(|h| h.view_scale);
    let paired = alone(&detail("DETAIL Z SCALE 2:1", 7.2));
    assert_eq!(paired.holes.iter().map(|h| h.view_scale).fold(0.0, f64::max), 2.0);
    assert_eq!((paired.callouts[0].holes.len(), paired.callouts[0].left.clone()), (5, None));
    // Drawn at the size that it has in the other view: the label speaks of the paper.
    assert_eq!(scale(&detail("DETAIL Z SCALE 2:1", 3.6)), Some(1.0));
}

/// The same text at each of two holes, each counting both, was two wrong counts.
#[test]
fn a_counted_text_at_each_of_its_holes_counts_them_together() {
    let drawing = plate()
        .attribute(10.0, 50.0, "NOTE", "2X Ø3.6 THRU")
        .attribute(90.0, 50.0, "NOTE", "2X Ø3.6 THRU")
        .drawing();
    let paired = alone(&drawing);
    assert!(paired.callouts.iter().all(|c| c.left.is_none()), "{:?}", paired.callouts);
}

/// One detail without a line round it kept the sheet's border, and all views were one.
#[test]
fn a_loose_detail_does_not_join_the_views_of_a_sheet() {
    let drawing = plate()
        .outline(-60.0, -100.0, 460.0, 200.0)
        .outline(200.0, 0.0, 300.0, 60.0)
        .circle(220.0, 30.0, 3.6)
        .circle(400.0, 30.0, 7.2)
        .text(390.0, 15.0, "SCALE 2:1")
        .text(400.0, -70.0, "TITLE")
        .text(400.0, -75.0, "DATE")
        .text(400.0, -80.0, "DRAWN BY")
        .text(400.0, -85.0, "CHECKED")
        .text(20.0, -10.0, "THK 2")
        .text(220.0, -10.0, "THK 3")
        .drawing();
    let paired = alone(&drawing);
    let thickness = |x: f64| {
        let hole = paired.holes.iter().find(|h| h.at.x == x).expect("a hole there");
        (hole.making.thickness, hole.thickness_source, hole.view_scale)
    };
    assert_eq!(thickness(10.0), (Some(mm(2.0)), ThicknessSource::Note, 1.0));
    assert_eq!(thickness(220.0), (Some(mm(3.0)), ThicknessSource::Note, 1.0));
    assert_eq!(thickness(400.0).2, 2.0);
}

/// The bubble at the end of a section's line was a hole, because that line is a centre line.
#[test]
fn the_bubble_of_a_section_line_is_no_hole() {
    let mut drawing =
        plate().line(50.0, 70.0, 50.0, -10.0).circle(50.0, 74.0, 8.0).text(48.9, 72.75, "A").drawing();
    if let Some(line) = drawing.segments.last_mut() {
        line.origin.stands = Stands::Centre;
    }
    assert_eq!(roles(&alone(&drawing))[5], "balloon");
}

/// A title block whose lines hold label and value in one text has no labels, and its sheet's border joined all views.
#[test]
fn a_grid_of_texts_without_holes_marks_a_sheet_with_a_border() {
    let mut sheet = plate()
        .outline(-60.0, -100.0, 460.0, 200.0)
        .outline(200.0, 0.0, 300.0, 60.0)
        .circle(220.0, 30.0, 3.6)
        .circle(400.0, 100.0, 7.2)
        .text(20.0, -10.0, "THK 2")
        .text(220.0, -10.0, "THK 3");
    for (k, text) in ["NAME: LID", "NO: 12", "DRAWN: AB", "FINISH: NONE", "DATE: 2024"].iter().enumerate() {
        let y = -90.0 + 8.0 * k as f64;
        sheet = sheet.outline(340.0, y, 440.0, y + 8.0).text(342.0, y + 2.0, text);
    }
    let paired = alone(&sheet.drawing());
    let at = |x: f64| paired.holes.iter().find(|h| h.at.x == x).and_then(|h| h.making.thickness);
    assert_eq!((at(10.0), at(220.0)), (Some(mm(2.0)), Some(mm(3.0))));
}

/// A callout whose line ends inside a circle of another size was no witness for the scale that the title block states,
/// and each such hole of a sheet with one callout was drawn at a wrong size.
#[test]
fn a_line_into_a_circle_of_another_size_asks_the_title_block_for_the_scale() {
    let scale = |stated: &str, drawn: f64| {
        let sheet = Sheet::new().outline(0.0, 0.0, 200.0, 120.0).circle(50.0, 60.0, drawn);
        let sheet = sheet.leader((53.0, 60.0), (211.0, 99.0), "Ø9 THRU").text(300.0, -100.0, stated);
        let paired = alone(&sheet.drawing());
        assert_eq!(paired.callouts[0].holes.len(), 1, "{:?}", paired.callouts[0].left);
        paired.holes[0].view_scale
    };
    assert_eq!(scale("SCALE: 2:1", 18.0), 2.0);
    assert_eq!(scale("SCALE: 2:1", 9.0), 1.0);
    assert_eq!(scale("SCALE: 5:1", 18.0), 1.0);
}

/// The scale of a sheet whose title block is attributes, or lines of one text each, was not found for a list's sizes.
#[test]
fn a_list_finds_its_holes_at_the_scale_that_the_sheet_states() {
    let rows = |scale: Sheet| {
        let sheet = scale.outline(0.0, 0.0, 100.0, 60.0).circle(20.0, 30.0, 2.75).circle(70.0, 30.0, 11.25);
        let row = |d: f64, x: f64| Row {
            at: vec![Point::new(x, 30.0)],
            size: sized(d),
            screw: m4(),
            ..Row::default()
        };
        let paired = with(&sheet.drawing(), vec![row(5.5, 20.0), row(22.5, 70.0)]);
        paired.holes.iter().map(|h| h.view_scale).collect::<Vec<_>>()
    };
    assert_eq!(rows(Sheet::new().text(300.0, -100.0, "SCALE: 1:2")), [0.5, 0.5]);
    assert_eq!(rows(Sheet::new().text(300.0, -100.0, "SCALE: 1:1")), [1.0, 1.0]);
    // A distance whose line ends at a hole says nothing of a scale.
    let distance = || Sheet::new().text(300.0, -100.0, "SCALE: 1:2").line(20.0, 31.375, 20.0, 70.0);
    assert_eq!(rows(distance().text(18.0, 71.0, "484.3")), [0.5, 0.5]);
    let mut titled = Sheet::new().attribute(300.0, -100.0, "SCALE", "1:2").drawing();
    titled.inserts[0].block = "TITLEBLOCK".to_owned();
    let sheet = |mut drawing: Drawing| {
        let holes = Sheet::new().outline(0.0, 0.0, 100.0, 60.0).circle(20.0, 30.0, 2.75).drawing();
        drawing.circles = holes.circles;
        drawing.segments = holes.segments;
        drawing
    };
    let row = Row { at: vec![Point::new(20.0, 30.0)], size: sized(5.5), screw: m4(), ..Row::default() };
    assert_eq!(with(&sheet(titled), vec![row]).holes[0].view_scale, 0.5);
}

/// Two parts of different thickness and a detail of the first whose hole has the size of one in the second too.
fn marked_detail(title: &str, scale: &str) -> Sheet {
    Sheet::new()
        .outline(0.0, 0.0, 100.0, 60.0)
        .circle(80.0, 40.0, 4.0)
        .circle(80.0, 40.0, 14.0)
        .text(88.0, 46.0, "D")
        .text(10.0, -12.0, "t=1.5")
        .outline(200.0, 0.0, 300.0, 60.0)
        .circle(220.0, 20.0, 4.0)
        .circle(260.0, 20.0, 2.0)
        .circle(280.0, 40.0, 7.0)
        .text(210.0, -12.0, "t=3")
        .circle(400.0, 30.0, 8.0)
        .text(385.0, 10.0, title)
        .text(385.0, 5.0, scale)
}

/// The detail was taken for one of the other part, because that is the view with more holes.
#[test]
fn a_detail_is_of_the_view_that_carries_its_letter() {
    for title in ["DETAIL D", "EINZELHEIT D", "局部放大图 D"] {
        let paired = alone(&marked_detail(title, "SCALE 2:1").drawing());
        let detail = paired.holes.iter().find(|h| h.at.x == 400.0).unwrap();
        assert_eq!((detail.view_scale, detail.making.thickness), (2.0, Some(mm(1.5))), "{title}");
    }
}

/// The scale in a title block may be the plot's and the detail's label its factor: 2:1 on a sheet at 1:2 was once
/// taken for 4, though the hole is drawn twice as large as at the mark. Without a mark either may be meant.
#[test]
fn what_is_drawn_at_the_mark_tells_what_the_label_of_a_detail_means() {
    let title = |sheet: Sheet| {
        let sheet = sheet.text(500.0, -60.0, "SCALE").text(530.0, -60.0, "1:2");
        sheet.text(500.0, -70.0, "DRAWN").text(500.0, -80.0, "DATE").text(500.0, -90.0, "REV")
    };
    let scale = |sheet: Sheet| {
        let paired = alone(&title(sheet).drawing());
        paired.holes.iter().find(|h| h.at.x == 400.0).unwrap().view_scale
    };
    assert_eq!(scale(marked_detail("DETAIL D", "SCALE 2:1")), 2.0);
    assert_eq!(scale(marked_detail("DETAIL D", "SCALE 1:1")), 2.0);
}

/// A detail at 1:1.25 of a sheet at 1:5 was taken as drawn, for no view is drawn so little off full size without a label.
#[test]
fn a_label_may_state_any_scale() {
    let drawing = plate()
        .leader(rim(90.0, 50.0, 1.8), (110.0, 70.0), "4X Ø3.6 THRU")
        .circle(250.0, 30.0, 8.0 * 0.8)
        .text(240.0, 15.0, "DETAIL Z SCALE 1:1.25")
        .drawing();
    assert_eq!(alone(&drawing).holes.last().map(|h| h.view_scale), Some(0.8));
}

/// One hole in a second view of the same part at the same scale was another hole of unknown thickness.
#[test]
fn one_hole_at_the_same_place_of_the_same_outline_is_the_same_hole() {
    let drawing = Sheet::new()
        .outline(0.0, 0.0, 100.0, 60.0)
        .circle(30.0, 20.0, 4.0)
        .text(10.0, -12.0, "t=1.5")
        .outline(200.0, 0.0, 330.0, 70.0)
        .circle(260.0, 20.0, 6.0)
        .text(210.0, -12.0, "t=3")
        .outline(400.0, 0.0, 500.0, 60.0)
        .circle(470.0, 20.0, 4.0)
        .drawing();
    let thicknesses: Vec<_> = alone(&drawing).holes.iter().map(|h| h.making.thickness).collect();
    assert_eq!(thicknesses, [Some(mm(1.5)), Some(mm(3.0)), Some(mm(1.5))]);
}

/// The pitch circle of four holes was a view round them, and the edge of their plate a sheet's border, so that a
/// callout of holes on both sides of it did not find them.
#[test]
fn a_pitch_circle_is_no_view_round_its_holes() {
    let mut sheet = Sheet::new().outline(0.0, 0.0, 300.0, 200.0).centre_circle(100.0, 100.0, 80.0);
    for (x, y) in [(60.0, 100.0), (140.0, 100.0), (100.0, 60.0), (100.0, 140.0)] {
        sheet = sheet.circle(x, y, 5.0);
    }
    for (x, y) in [(110.0, 90.0), (40.0, 180.0), (260.0, 30.0)] {
        sheet = sheet.circle(x, y, 3.6);
    }
    for (k, text) in ["NAME: LID", "NO: 12", "DRAWN: AB", "FINISH: NONE", "DATE: 2024"].iter().enumerate() {
        let y = 8.0 * k as f64;
        sheet = sheet.outline(310.0, y, 350.0, y + 8.0).text(312.0, y + 2.0, text);
    }
    let sheet = sheet.leader(rim(260.0, 30.0, 1.8), (200.0, 60.0), "3X Ø3.6 THRU");
    let paired = alone(&sheet.drawing());
    let callout = &paired.callouts[0];
    assert_eq!((callout.holes.len(), callout.left.as_deref()), (3, None));
}

/// A leader to the middle of a hole ends on the pitch circle that the hole lies on, and its callout once made a scale of 7
/// of that circle, which hid the scale that the title block states.
#[test]
fn a_pitch_circle_under_the_tip_says_nothing_of_the_scale() {
    let mut sheet = Sheet::new()
        .outline(0.0, 0.0, 140.0, 140.0)
        .centre_circle(70.0, 70.0, 98.0)
        .circle(119.0, 70.0, 2.8)
        .circle(21.0, 70.0, 2.8)
        .circle(119.0, 70.0, 5.6)
        .circle(21.0, 70.0, 5.6)
        .line(123.0, 72.0, 119.0, 70.0)
        .line(127.0, 74.0, 123.0, 72.0)
        .line(127.0, 74.0, 131.0, 74.0)
        .text(132.0, 73.0, "2X Ø14 +0.1 CSK 90° X Ø28");
    for (k, text) in ["SCALE: 1:5", "NO: 12", "DRAWN: AB", "FINISH: NONE", "DATE: 2024"].iter().enumerate() {
        let y = -60.0 + 8.0 * k as f64;
        sheet = sheet.outline(110.0, y, 160.0, y + 8.0).text(112.0, y + 2.0, text);
    }
    let scales: Vec<f64> = alone(&sheet.drawing()).holes.iter().map(|h| h.view_scale).collect();
    assert!(scales.len() == 2 && scales.iter().all(|s| (s - 0.2).abs() < 1e-9), "{scales:?}");
}

/// Two views with the same holes may show two faces, each with its own, so a callout may count both; another callout
/// that counts its holes once says that they show one part twice.
#[test]
fn views_that_one_callout_counts_once_are_not_counted_twice_by_another() {
    let left = |second: &str| {
        let mut sheet = Sheet::new();
        for x in [0.0, 200.0] {
            sheet = sheet.outline(x, 0.0, x + 100.0, 60.0);
            for (a, b) in [(10.0, 10.0), (10.0, 50.0), (90.0, 10.0), (90.0, 50.0)] {
                sheet = sheet.circle(x + a, b, 4.0);
            }
            sheet = sheet.circle(x + 30.0, 30.0, 8.0).circle(x + 60.0, 20.0, 8.0);
        }
        let sheet = sheet.leader(rim(90.0, 50.0, 2.0), (110.0, 80.0), second);
        let drawing = sheet.leader(rim(30.0, 30.0, 4.0), (-20.0, 80.0), "4 OFF Ø8 THRU").drawing();
        let paired = alone(&drawing);
        let of = |text: &str| paired.callouts.iter().find(|c| c.callout.text.contains(text)).unwrap();
        (of("Ø8").left.clone(), of("Ø4").left.clone())
    };
    assert_eq!(left("4X Ø4 THRU"), (Some("2 such circles were found for it".to_owned()), None));
    assert_eq!(left("8X Ø4 THRU"), (None, None));
    assert_eq!(left("Ø4 THRU TYP"), (None, None));
}

/// One hole of the view from behind is as large as half the size of a callout of another part, on a sheet plotted at 1:2; the
/// view was taken for one at half its size.
#[test]
fn a_size_that_one_circle_has_at_the_scale_of_the_sheet_makes_no_scale() {
    let sheet = Sheet::new()
        .outline(0.0, 0.0, 100.0, 60.0)
        .circle(20.0, 20.0, 16.0)
        .circle(20.0, 45.0, 7.0)
        .leader((28.0, 20.0), (50.0, 30.0), "Ø16")
        .leader((23.5, 45.0), (50.0, 50.0), "Ø7")
        .outline(300.0, 0.0, 400.0, 60.0)
        .circle(380.0, 20.0, 16.0)
        .circle(380.0, 45.0, 7.0)
        .text(150.0, 30.0, "Ø14 DEPTH 6")
        .text(500.0, 100.0, "SCALE 1:2");
    let paired = alone(&sheet.drawing());
    let scales: Vec<f64> = paired.holes.iter().map(|h| h.view_scale).collect();
    assert_eq!(scales, [1.0; 4]);
}
