//! Pairing as a whole, on hand-made drawings. Expected values follow from the drawing as it is made in each test.

mod alike;
mod joint;

mod lines;
mod list;
mod nearness;
mod parts;
mod places;
mod roles;
mod sheets;
mod unit;
mod views;

use super::testing::Sheet;
use super::*;
use crate::drawing::Drawing;
use crate::joint::ScrewForm;
use crate::trade::{Process, Thread};

fn alone(drawing: &Drawing) -> Paired {
    pair(drawing, None, &Defaults::default())
}

fn with(drawing: &Drawing, rows: Vec<Row>) -> Paired {
    let list = DrawingRows { rows, unit: Some(Unit::Mm), ..DrawingRows::default() };
    pair(drawing, Some(&list), &Defaults::default())
}

fn mm(value: f64) -> Length {
    Length::from_mm(value).expect("a finite length")
}

fn m4() -> Option<Screw> {
    let thread = Thread::parse("M4").expect("a thread of the tables");
    Some(Screw { thread, length: None, form: ScrewForm::Rolling })
}

fn sized(diameter: f64) -> StatedSize {
    StatedSize { nominal: Some(mm(diameter)), decimals: 1, ..StatedSize::default() }
}

/// A plate with four holes of 3.6 and one of 8, the first of the four with a leader.
fn plate() -> Sheet {
    Sheet::new()
        .outline(0.0, 0.0, 100.0, 60.0)
        .circle(10.0, 50.0, 3.6)
        .circle(90.0, 50.0, 3.6)
        .circle(10.0, 10.0, 3.6)
        .circle(90.0, 10.0, 3.6)
        .circle(50.0, 30.0, 8.0)
}

fn by(paired: &Paired) -> Vec<&str> {
    paired.holes.iter().map(|h| h.paired_by.name()).collect()
}

fn roles(paired: &Paired) -> Vec<&str> {
    paired.circles.iter().map(|c| c.role.name()).collect()
}

fn rim(x: f64, y: f64, r: f64) -> (f64, f64) {
    (x + r * std::f64::consts::FRAC_1_SQRT_2, y + r * std::f64::consts::FRAC_1_SQRT_2)
}

#[test]
fn a_counted_callout_takes_its_hole_and_those_like_it() {
    let drawing = plate().leader(rim(90.0, 50.0, 1.8), (110.0, 70.0), "4X Ø3.6 +0.05/0 THRU").drawing();
    let paired = alone(&drawing);
    assert_eq!(by(&paired), ["count", "leader", "drawn", "count", "count"]);
    assert_eq!(paired.callouts.len(), 1);
    assert_eq!(paired.callouts[0].holes, [0, 1, 3, 4]);
    assert_eq!(paired.callouts[0].left, None);
    let called = paired.holes[1].called.as_ref().expect("the callout states a size");
    assert_eq!(called.nominal, Some(mm(3.6)));
    assert_eq!(called.tolerance, Some(crate::joint::Tolerance::PlusMinus { plus: mm(0.05), minus: mm(0.0) }));
    assert!(paired.holes[1].confidence > 0.9, "{}", paired.holes[1].confidence);
    let names: Vec<&str> = paired.holes[1].reasons.iter().map(|t| t.name).collect();
    assert_eq!(names, ["leader-tip", "size-differs"]);
}

#[test]
fn too_few_circles_are_said_and_surplus_circles_keep_their_pairing() {
    let drawing = plate().leader(rim(90.0, 50.0, 1.8), (110.0, 70.0), "5X Ø3.6 THRU").drawing();
    assert!(alone(&drawing).callouts[0].left.as_deref().is_some_and(|l| l.contains('4')));
    let drawing = plate().leader(rim(90.0, 50.0, 1.8), (110.0, 70.0), "3X Ø3.6 THRU").drawing();
    let paired = alone(&drawing);
    assert_eq!(paired.callouts[0].holes.len(), 4);
    assert!(paired.callouts[0].left.is_some());
}

#[test]
fn surplus_circles_go_to_the_other_callout_of_their_size() {
    let drawing = plate()
        .leader(rim(10.0, 50.0, 1.8), (-20.0, 70.0), "2X Ø3.6 THRU")
        .leader(rim(90.0, 10.0, 1.8), (110.0, -10.0), "2X Ø3.6 DEEP 5")
        .drawing();
    let paired = alone(&drawing);
    let mut sizes: Vec<usize> = paired.callouts.iter().map(|c| c.holes.len()).collect();
    sizes.sort_unstable();
    assert_eq!(sizes, [2, 2]);
    assert!(paired.callouts.iter().all(|c| c.left.is_none()));
}

#[test]
fn a_diameter_dimension_is_a_callout_even_if_its_text_is_suppressed() {
    let drawing = plate().diameter_dimension(50.0, 30.0, 8.0, "").drawing();
    let paired = alone(&drawing);
    assert_eq!(paired.callouts[0].callout.text, "Ø8.00");
    assert_eq!(paired.holes[2].paired_by, PairedBy::Dimension);
    assert_eq!(paired.holes[2].called.as_ref().and_then(|c| c.nominal), Some(mm(8.0)));
}

#[test]
fn a_wrong_size_at_the_tip_of_a_leader_is_still_that_hole() {
    let drawing = plate().leader(rim(50.0, 30.0, 4.0), (60.0, 70.0), "Ø7.5 THRU").drawing();
    let paired = alone(&drawing);
    assert_eq!(paired.holes[2].paired_by, PairedBy::Leader);
    assert!(paired.holes[2].reasons.iter().any(|t| t.name == "size-differs" && t.cost > 0.0));
    assert_eq!(paired.holes[2].view_scale, 1.0);
}

#[test]
fn a_text_without_leader_goes_to_the_hole_beside_it() {
    let drawing = plate().text(93.0, 52.0, "Ø3.6 THRU").drawing();
    let paired = alone(&drawing);
    assert_eq!(by(&paired), ["drawn", "nearest", "drawn", "drawn", "drawn"]);
}

/// A text of one hole far from it once had no hole, though no other circle of the view had its size.
#[test]
fn a_size_that_one_hole_of_the_view_has_is_that_hole_however_far() {
    let paired = alone(&plate().text(120.0, 80.0, "Ø8 THRU").drawing());
    assert_eq!(by(&paired), ["drawn", "drawn", "nearest", "drawn", "drawn"]);
    let led =
        alone(&plate().leader(rim(50.0, 30.0, 4.0), (110.0, 70.0), "Ø8 THRU").drawing()).holes[2].confidence;
    assert!(paired.holes[2].confidence < led, "far away: {}", paired.holes[2].confidence);
    assert_eq!(alone(&plate().text(120.0, 80.0, "Ø3.6 THRU").drawing()).callouts[0].holes.len(), 0);
}

/// Dimensions drawn with single lines have their text beside the middle of the line, and found no hole by it.
#[test]
fn a_line_through_a_text_along_a_radius_is_what_is_left_of_a_dimension() {
    let drawing = plate().line(91.8, 50.0, 130.0, 50.0).text(110.0, 51.0, "Ø3.6 THRU").drawing();
    assert_eq!(by(&alone(&drawing)), ["drawn", "leader", "drawn", "drawn", "drawn"]);
    // A line that only happens to touch the circle points at nothing.
    let drawing = plate().line(91.8, 50.0, 92.5, 90.0).text(92.0, 75.0, "Ø3.6 THRU").drawing();
    assert_eq!(alone(&drawing).callouts[0].holes.len(), 0);
}

#[test]
fn a_loose_line_serves_as_a_leader() {
    let drawing = plate().line(91.8, 50.0, 112.0, 70.0).text(112.5, 69.0, "Ø3.6 THRU").drawing();
    assert_eq!(by(&alone(&drawing)), ["drawn", "leader", "drawn", "drawn", "drawn"]);
}

#[test]
fn a_general_note_takes_what_is_left_of_its_size() {
    let drawing = plate().text(0.0, -40.0, "ALL HOLES Ø3.6 UNLESS NOTED").drawing();
    let paired = alone(&drawing);
    assert_eq!(paired.callouts[0].holes, [0, 1, 3, 4]);
}

#[test]
fn a_general_note_of_another_size_takes_all_that_is_left() {
    let drawing = plate()
        .text(0.0, -40.0, "ALL HOLES Ø3.5 UNLESS NOTED")
        .leader(rim(50.0, 30.0, 4.0), (60.0, 70.0), "Ø8 THRU")
        .drawing();
    let paired = alone(&drawing);
    let note = paired.callouts.iter().find(|c| c.callout.general).expect("the note is a callout");
    assert_eq!(note.holes, [0, 1, 3, 4]);
}

#[test]
fn lines_of_one_callout_are_joined() {
    let drawing = plate().text(93.0, 56.0, "4X Ø3.6").text(93.0, 52.0, "THRU").drawing();
    let paired = alone(&drawing);
    assert_eq!(paired.callouts.len(), 1);
    assert_eq!(paired.callouts[0].callout.text, "4X Ø3.6\nTHRU");
    assert_eq!(paired.callouts[0].holes, [0, 1, 3, 4]);
}

#[test]
fn two_callouts_under_one_another_stay_two() {
    let drawing = plate().text(93.0, 56.0, "Ø3.6").text(93.0, 52.0, "Ø8").drawing();
    assert_eq!(alone(&drawing).callouts.len(), 2);
}

#[test]
fn an_attribute_on_its_hole_calls_it_out() {
    let drawing = plate().attribute(50.0, 30.0, "SIZE", "Ø8 THRU").drawing();
    let paired = alone(&drawing);
    assert_eq!(paired.holes[2].callout, Some(0));
    assert_eq!(paired.holes[2].reasons[0].name, "attribute-on-hole");
}

#[test]
fn a_table_speaks_for_the_tags_beside_the_holes() {
    let tagged =
        || plate().text(13.0, 51.0, "A1").text(93.0, 51.0, "A2").text(13.0, 6.0, "B1").text(55.0, 31.0, "C");
    let entity = tagged()
        .table(
            150.0,
            50.0,
            &[&["HOLE TABLE"], &["HOLE", "DIA", "QTY"], &["A1-A2", "Ø3.6", "2"], &["C", "8", "1"]],
        )
        .drawing();
    let loose = tagged()
        .text(150.0, 50.0, "HOLE")
        .text(180.0, 50.0, "DIA")
        .text(200.0, 50.0, "QTY")
        .text(150.0, 44.0, "A1-A2")
        .text(180.0, 44.0, "Ø3.6")
        .text(200.0, 44.0, "2")
        .text(150.0, 38.0, "C")
        .text(180.0, 38.0, "8")
        .text(200.0, 38.0, "1")
        .drawing();
    for drawing in [entity, loose] {
        let paired = alone(&drawing);
        assert_eq!(by(&paired), ["table", "table", "table", "drawn", "drawn"]);
        assert_eq!(paired.callouts.len(), 2);
        assert_eq!(paired.holes[1].tag.as_deref(), Some("A2"));
        assert_eq!(paired.holes[2].called.as_ref().and_then(|c| c.nominal), Some(mm(8.0)));
        assert!(paired.callouts.iter().all(|c| c.left.is_none()), "{:?}", paired.callouts);
    }
}

#[test]
fn a_callout_in_a_table_cell_keeps_its_pieces() {
    // Size and tolerance were one piece, and advice wrote the tolerance's zero as a size: +.001/-.224.
    let drawing = plate()
        .text(55.0, 31.0, "C")
        .table(150.0, 50.0, &[&["HOLE", "DIA", "QTY"], &["C", "Ø8 +0.02/-0.00", "1"]])
        .drawing();
    let paired = alone(&drawing);
    let callout = &paired.callouts[0].callout;
    let of = |part| callout.spans.iter().find(|s| s.part == part).map(|s| &callout.text[s.range.clone()]);
    assert_eq!(of(crate::callout::Part::Size), Some("Ø8"));
    assert_eq!(of(crate::callout::Part::Tolerance), Some("+0.02/-0.00"));
    let covered: usize = callout.spans.iter().map(|s| s.range.len()).sum();
    assert_eq!(covered, callout.text.len());
}

#[test]
fn numbers_do_not_depend_on_the_order_in_the_file() {
    let sheet =
        || plate().leader(rim(90.0, 50.0, 1.8), (110.0, 70.0), "4X Ø3.6 THRU").text(0.0, -30.0, "Ø8 TYP");
    let forward = sheet().drawing();
    let mut backward = sheet().drawing();
    backward.circles.reverse();
    backward.texts.reverse();
    backward.segments.reverse();
    let facts = |p: &Paired| -> Vec<(String, f64, f64, PairedBy, f64)> {
        p.holes.iter().map(|h| (h.id.to_string(), h.at.x, h.at.y, h.paired_by, h.confidence)).collect()
    };
    assert_eq!(facts(&alone(&forward)), facts(&alone(&backward)));
    let ids: Vec<String> = facts(&alone(&forward)).into_iter().map(|f| f.0).collect();
    assert_eq!(ids, ["H1", "H2", "H3", "H4", "H5"]);
}

#[test]
fn holes_are_numbered_by_rows_that_a_hair_does_not_break() {
    let drawing =
        Sheet::new().circle(10.0, 50.0, 4.0).circle(0.0, 49.0, 4.0).circle(20.0, 50.5, 4.0).drawing();
    let paired = alone(&drawing);
    let xs: Vec<f64> = paired.holes.iter().map(|h| h.at.x).collect();
    assert_eq!(xs, [0.0, 10.0, 20.0]);
}

#[test]
fn a_view_drawn_at_half_size_is_seen_by_two_callouts() {
    let drawing = plate()
        .leader(rim(90.0, 50.0, 1.8), (110.0, 70.0), "4X Ø7.2 THRU")
        .leader(rim(50.0, 30.0, 4.0), (60.0, 70.0), "Ø16 THRU")
        .drawing();
    let paired = alone(&drawing);
    assert!(paired.holes.iter().all(|h| (h.view_scale - 0.5).abs() < 1e-9));
    assert!(paired.holes.iter().flat_map(|h| &h.reasons).all(|t| t.name != "size-differs" || t.cost == 0.0));
}

/// A view that shows `(40, 30)` of the model at `(140, 40)` of the sheet, turned by 90° at half size.
fn turned_view(frozen: Vec<u32>) -> crate::drawing::Viewport {
    crate::drawing::Viewport {
        space: 1,
        center: Point::new(140.0, 40.0),
        size: (60.0, 60.0),
        model_center: Point::new(40.0, 30.0),
        scale: 0.5,
        twist_deg: 90.0,
        from_above: true,
        clip: Vec::new().into(),
        frozen,
    }
}

#[test]
fn a_callout_on_the_sheet_points_through_a_turned_view() {
    // Two holes; (60, 30) is 20 to the right of the middle, so on the sheet it is 10 above it (hand calculation).
    let mut drawing = Sheet::new()
        .circle(60.0, 30.0, 8.0)
        .circle(40.0, 10.0, 8.0)
        .leader((140.0, 50.0), (180.0, 60.0), "Ø8 THRU")
        .drawing();
    drawing.spaces.push(crate::drawing::Space { name: "Sheet".to_owned() });
    drawing.leaders[0].origin.space = 1;
    drawing.texts[0].origin.space = 1;
    drawing.viewports = vec![turned_view(Vec::new())];
    let paired = alone(&drawing);
    let place = |holes: &[usize]| holes.iter().map(|h| paired.holes[*h].at).collect::<Vec<_>>();
    assert_eq!(place(&paired.callouts[0].holes), [Point::new(60.0, 30.0)]);
    // What the viewport freezes is not pointed at.
    drawing.viewports = vec![turned_view(vec![0])];
    let paired = alone(&drawing);
    assert!(paired.holes.iter().all(|hole| !matches!(hole.paired_by, crate::pairing::PairedBy::Leader)));
}

#[test]
fn a_detail_in_a_border_is_a_view_of_its_own_scale() {
    let mut drawing = plate()
        .outline(-60.0, -60.0, 360.0, 237.0)
        .text(-20.0, -30.0, "DETAIL B")
        .text(200.0, -40.0, "LID")
        .circle(250.0, 150.0, 40.0)
        .circle(250.0, 150.0, 16.0)
        .diameter_dimension(250.0, 150.0, 16.0, "Ø8")
        .drawing();
    drawing.dimensions[0].length_factor = 0.5;
    let paired = alone(&drawing);
    let scales: Vec<f64> = paired.holes.iter().map(|h| h.view_scale).collect();
    assert_eq!(scales, [2.0, 1.0, 1.0, 1.0, 1.0, 1.0]);
}

#[test]
fn the_numbers_of_notes_are_no_sizes() {
    let drawing = plate()
        .text(0.0, -20.0, "1. DEBURR ALL HOLES.")
        .text(0.0, -24.0, "2. ALL HOLES Ø3.6 UNLESS NOTED")
        .carrier(
            0.0,
            -60.0,
            "NOTES\n1. ALL HOLES Ø8\nUNLESS NOTED\n2. DEBURR ALL HOLES",
            crate::drawing::TextKind::MText,
        )
        .drawing();
    let paired = alone(&drawing);
    let texts: Vec<&str> = paired.callouts.iter().map(|c| c.callout.text.as_str()).collect();
    assert_eq!(texts, ["ALL HOLES Ø3.6 UNLESS NOTED", "ALL HOLES Ø8 UNLESS NOTED"]);
    assert_eq!(paired.callouts[1].holes, [2]);
}

#[test]
fn an_item_number_in_a_block_on_a_circle_is_no_size() {
    assert!(alone(&plate().attribute(50.0, 30.0, "ITEM", "8").drawing()).callouts.is_empty());
}

#[test]
fn a_sheet_of_ten_thousand_holes_and_hundreds_of_callouts_is_paired_whole() {
    let mut sheet = Sheet::new().outline(-10.0, -10.0, 2010.0, 2010.0);
    for x in 0..100 {
        for y in 0..100 {
            sheet = sheet.circle(f64::from(x) * 20.0, f64::from(y) * 20.0, 3.6 + f64::from(x / 10) * 0.4);
        }
    }
    for k in 0..300 {
        let (x, y) = (f64::from(k % 50) * 40.0, f64::from(k / 50) * 20.0 + 400.0);
        let size = 3.6 + f64::from((k % 50) / 5) * 0.4;
        sheet = sheet.leader((x, y), (x + 6.0, y + 6.0), &format!("4X Ø{size:.1} THRU"));
    }
    let paired = alone(&sheet.drawing());
    assert_eq!(paired.holes.len(), 10_000);
    assert_eq!(paired.holes.iter().filter(|h| h.paired_by == PairedBy::Leader).count(), 300);
    // 30 callouts of 4 for each of ten sizes; the rest of the 1000 holes of a size are surplus of theirs.
    assert!(paired.holes.iter().all(|h| h.callout.is_some()));
}

/// Groups of holes of one size each, at places of a grid, and for each the hole that its callout points at.
fn groups() -> impl proptest::strategy::Strategy<Value = (Vec<usize>, Vec<(usize, usize)>)> {
    use proptest::prelude::*;
    let places = Just((0..40_usize).collect::<Vec<_>>()).prop_shuffle();
    let counts = proptest::collection::vec((1_usize..8, 0_usize..8), 1..5);
    (places, counts)
}

proptest::proptest! {
    #![proptest_config(proptest::prelude::ProptestConfig::with_cases(96))]

    // The truth is the grouping that each drawing is made from.
    #[test]
    fn each_group_of_holes_is_paired_with_its_own_callout((places, counts) in groups()) {
        let mut sheet = Sheet::new().outline(-10.0, -10.0, 170.0, 90.0);
        let mut truth = Vec::new();
        let mut next = places.into_iter();
        for (group, &(count, pointed)) in counts.iter().enumerate() {
            let diameter = 3.6 + 0.4 * group as f64;
            let holes: Vec<(f64, f64)> = next.by_ref().take(count)
                .map(|p| ((p % 8) as f64 * 20.0, (p / 8) as f64 * 20.0)).collect();
            for &(x, y) in &holes {
                sheet = sheet.circle(x, y, diameter);
                truth.push(((x, y), group));
            }
            let (x, y) = holes[pointed % holes.len()];
            let text = if count > 1 { format!("{count}X Ø{diameter:.1} THRU") } else { format!("Ø{diameter:.1} THRU") };
            sheet = sheet.leader(rim(x, y, diameter / 2.0), (200.0, 10.0 + 15.0 * group as f64), &text);
        }
        let paired = alone(&sheet.drawing());
        proptest::prop_assert_eq!(paired.holes.len(), truth.len());
        for hole in &paired.holes {
            let group = truth.iter().find(|(at, _)| *at == (hole.at.x, hole.at.y)).map(|(_, g)| *g);
            let called = hole.called.as_ref().and_then(|c| c.nominal).map(|n| ((n.mm() - 3.6) / 0.4).round() as usize);
            proptest::prop_assert_eq!(called, group);
        }
        proptest::prop_assert!(paired.callouts.iter().all(|c| c.left.is_none()));
    }
}

/// Screw words under a size were a callout of their own where both lines end at one edge and not begin at one.
#[test]
fn lines_that_end_at_one_edge_are_one_callout() {
    let mut drawing =
        plate().text(120.0, 60.0, "2X Ø3.6 ±0.02").text(120.0, 56.2, "FOR M4 THD FORMING SCREW").drawing();
    let width = drawing.texts[1].bounds.max.x - drawing.texts[0].bounds.max.x;
    drawing.texts[0].bounds.min.x += width;
    drawing.texts[0].bounds.max.x += width;
    let paired = alone(&drawing);
    assert_eq!(paired.callouts.len(), 1, "{:?}", paired.callouts);
    assert!(paired.callouts[0].callout.screw.is_some());
}

/// A text between two holes was the tag of both.
#[test]
fn a_tag_belongs_to_one_hole() {
    let drawing = Sheet::new()
        .outline(0.0, 0.0, 40.0, 20.0)
        .circle(10.0, 10.0, 4.0)
        .circle(20.0, 10.0, 4.0)
        .text(13.0, 9.0, "7")
        .table(60.0, 10.0, &[&["HOLE", "DIA"], &["7", "4.00"]])
        .drawing();
    assert_eq!(by(&alone(&drawing)), ["table", "drawn"]);
}

/// The letter of a detail stands nearer to a hole than the tag that the table names, and the hole went without callout.
#[test]
fn a_letter_that_no_table_names_gives_way_to_a_tag_that_one_names() {
    let drawing = Sheet::new()
        .outline(0.0, 0.0, 40.0, 20.0)
        .circle(10.0, 10.0, 4.0)
        .text(12.2, 11.5, "C")
        .text(14.0, 6.0, "A1")
        .table(60.0, 10.0, &[&["HOLE", "DIA"], &["A1", "4.00"]])
        .drawing();
    assert_eq!(by(&alone(&drawing)), ["table"]);
}

/// Where a drawing names no unit, a drill's name and a mark say one; a view at twice the size hid it.
#[test]
fn names_of_drills_speak_for_inches() {
    let drawing = Sheet::new()
        .insunits(None)
        .outline(0.0, 0.0, 8.0, 4.0)
        .circle(2.0, 2.0, 0.213)
        .leader((2.1065, 2.0), (9.0, 3.0), "NO. 36 DRILL")
        .drawing();
    let unit = alone(&drawing).unit;
    assert_eq!((unit.unit, unit.doubtful), (Unit::Inch, false));
}

/// Four circles of a wrong size had no callout, so that nothing was said of their size.
#[test]
fn a_count_finds_as_many_circles_of_one_other_size() {
    let paired = alone(&plate().text(120.0, 60.0, "4X Ø3.2 THRU").drawing());
    assert_eq!(paired.callouts[0].holes.len(), 4);
    assert!(paired.holes[0].reasons.iter().any(|t| t.name == "as-many-alike"));
    assert!(paired.holes[0].confidence < 0.95, "{}", paired.holes[0].confidence);
}

/// The box of a text is estimated; a leader's level end a few letters before it was not seen to be its own.
#[test]
fn a_level_line_before_the_middle_of_a_text_is_its_leader() {
    let drawing = plate()
        .line(91.8, 50.0, 112.0, 70.0)
        .line(112.0, 70.0, 114.0, 70.0)
        .text(122.0, 68.75, "Ø3.6 THRU")
        .drawing();
    assert_eq!(by(&alone(&drawing)), ["drawn", "leader", "drawn", "drawn", "drawn"]);
}
