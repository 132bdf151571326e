//! What stands around the views: title blocks, tables of loose texts, and callouts in several pieces.

use super::*;
use crate::drawing::InsertId;

/// Labels in two corners were once one region, and the holes between them symbols of the title block.
#[test]
fn labels_in_two_corners_leave_the_views_between_them() {
    let sheet = Sheet::new()
        .outline(0.0, 0.0, 420.0, 297.0)
        .outline(100.0, 100.0, 200.0, 200.0)
        .circle(150.0, 150.0, 3.6)
        .text(340.0, 20.0, "SCALE")
        .text(340.0, 14.0, "MATERIAL")
        .text(340.0, 8.0, "DATE")
        .text(20.0, 280.0, "REV")
        .text(20.0, 274.0, "DRAWN")
        .text(20.0, 268.0, "CHECKED");
    assert_eq!(roles(&alone(&sheet.drawing())), ["hole"]);
}

/// Two rows of one column were once joined to one text, as if the second went on with the first.
#[test]
fn rows_of_a_table_of_texts_stay_apart() {
    let drawing = Sheet::new()
        .circle(0.0, 0.0, 8.0)
        .circle(40.0, 0.0, 3.3)
        .text(6.0, 4.0, "A")
        .text(44.0, 2.0, "B")
        .text(100.0, 50.0, "HOLE")
        .text(120.0, 50.0, "DESCRIPTION")
        .text(100.0, 45.0, "A")
        .text(120.0, 45.0, "Ø8 THRU")
        .text(100.0, 40.0, "B")
        .text(120.0, 40.0, "M4 TAPPED THRU")
        .drawing();
    let paired = alone(&drawing);
    assert_eq!(by(&paired), ["table", "table"]);
    let texts: Vec<&str> = paired.callouts.iter().map(|c| c.callout.text.as_str()).collect();
    assert_eq!(texts, ["A  Ø8 THRU", "B  M4 TAPPED THRU"]);
}

/// Labels of every language make the pair with their value.
#[test]
fn a_thickness_beside_its_label_is_read_in_other_languages() {
    for label in ["板厚", "厚度", "ESPESOR", "DICKE:", "ÉPAISSEUR"] {
        let drawing =
            Sheet::new().circle(0.0, 0.0, 3.6).text(100.0, 0.0, label).text(130.0, 0.0, "1,5").drawing();
        assert_eq!(alone(&drawing).holes[0].making.thickness, Some(mm(1.5)), "{label}");
    }
}

/// An exploded dimension leaves its tolerance as two small texts.
#[test]
fn small_figures_beside_a_size_are_its_tolerance() {
    let drawing = Sheet::new()
        .circle(0.0, 0.0, 22.5)
        .text(14.0, 0.0, "Ø22,50")
        .text(28.0, 1.5, "+0,15")
        .small(1.5)
        .text(28.0, -0.7, "+0,05")
        .small(1.5)
        .text(35.5, 0.0, "THRU")
        .drawing();
    let paired = alone(&drawing);
    assert_eq!(paired.callouts[0].callout.text, "Ø22,50 +0,15/+0,05 THRU");
    assert!(paired.callouts[0].callout.through);
    assert_eq!(by(&paired), ["nearest"]);
}

/// Lines of a callout left of their leader end at one edge.
#[test]
fn lines_with_one_right_edge_are_one_callout() {
    let drawing = Sheet::new()
        .circle(60.0, 0.0, 3.6)
        .text(30.0, 4.0, "Ø3.6 ±0.02")
        .text(34.5, 0.0, "FOR M4 TRS")
        .drawing();
    let mut sheet = drawing;
    for text in &mut sheet.texts {
        let right = 56.0 - text.bounds.max.x;
        text.bounds.min.x += right;
        text.bounds.max.x += right;
    }
    let paired = alone(&sheet);
    assert_eq!(paired.callouts[0].callout.text, "Ø3.6 ±0.02\nFOR M4 TRS");
}

/// A sheet at 5:1 whose only callouts are rows of a table was once taken as drawn at true size.
#[test]
fn tags_of_a_table_give_the_scale_of_their_view() {
    let drawing = Sheet::new()
        .circle(0.0, 0.0, 18.0)
        .text(10.0, 4.0, "A")
        .circle(60.0, 0.0, 25.0)
        .text(74.0, 4.0, "B1")
        .table(200.0, 50.0, &[&["HOLE", "DIA", "QTY"], &["A", "Ø3.6", "1"], &["B", "Ø5", "1"]])
        .drawing();
    let scales: Vec<f64> = alone(&drawing).holes.iter().map(|h| h.view_scale).collect();
    // By hand: 18/3.6 and 25/5.
    assert_eq!(scales, [5.0, 5.0]);
}

/// The item number of a balloon whose line ends on a hole was once its diameter.
#[test]
fn the_number_of_a_balloon_is_no_size() {
    let r = 8.0 * std::f64::consts::FRAC_1_SQRT_2;
    let drawing = Sheet::new()
        .outline(-50.0, -50.0, 50.0, 30.0)
        .circle(0.0, 0.0, 16.0)
        .circle(60.0, 60.0, 8.0)
        .text(58.9, 58.8, "2")
        .line(
            60.0 - 4.0 * std::f64::consts::FRAC_1_SQRT_2,
            60.0 - 4.0 * std::f64::consts::FRAC_1_SQRT_2,
            r,
            r,
        )
        .drawing();
    let paired = alone(&drawing);
    assert_eq!(roles(&paired), ["hole", "balloon"]);
    assert!(paired.callouts.is_empty());
}

/// The row names the tag beside the circle, though no header says so. One such row alone is no table.
#[test]
fn rows_without_header_words_speak_of_their_tags() {
    let part = || {
        Sheet::new()
            .outline(0.0, 0.0, 100.0, 60.0)
            .circle(20.0, 30.0, 4.0)
            .circle(70.0, 30.0, 6.0)
            .text(23.0, 32.0, "A")
            .text(74.0, 32.0, "B")
            .text(300.0, 100.0, "A")
            .text(320.0, 100.0, "Ø4 THRU")
    };
    let by = |sheet: Sheet| -> Vec<&str> {
        alone(&sheet.drawing()).holes.iter().map(|h| h.paired_by.name()).collect()
    };
    assert_eq!(by(part().text(300.0, 95.0, "B").text(320.0, 95.0, "Ø6 THRU")), ["table", "table"]);
    assert!(by(part()).iter().all(|by| *by != "table"));
}

/// A single row under `HOLE TABLE` was no table; nor was a row whose size has no mark, though it stands under others.
#[test]
fn a_title_or_other_rows_make_a_row_one_of_a_table() {
    let part = |tag| {
        let sheet = Sheet::new().outline(0.0, 0.0, 100.0, 60.0).circle(20.0, 30.0, 4.0).text(23.0, 32.0, "A");
        sheet
            .circle(70.0, 30.0, 4.31)
            .text(74.0, 32.0, tag)
            .text(300.0, 95.0, "A")
            .text(320.0, 95.0, "Ø4 THRU")
    };
    let titled = part("A").text(300.0, 101.0, "HOLE TABLE").drawing();
    assert_eq!(by(&alone(&titled)), ["table", "table"]);
    let third = part("C").text(300.0, 90.0, "B").text(320.0, 90.0, "Ø5 THRU");
    let third = third.text(300.0, 85.0, "C").text(320.0, 85.0, "No. 18").drawing();
    assert_eq!(by(&alone(&third)), ["table", "table"]);
}

/// A table entity without header words was passed over.
#[test]
fn a_table_entity_without_header_speaks_of_its_tags() {
    let sheet = Sheet::new().outline(0.0, 0.0, 100.0, 60.0).circle(20.0, 30.0, 4.0).circle(70.0, 30.0, 6.0);
    let tagged = sheet.text(23.0, 32.0, "A").text(74.0, 32.0, "B");
    let drawing = tagged.table(200.0, 50.0, &[&["A", "Ø4", "1"], &["B", "M6", "1"]]).drawing();
    assert_eq!(by(&alone(&drawing)), ["table", "table"]);
}

/// `Ø .5` beside `THROUGH 6 HOLES` on one line was a header of a table with the columns size and hole.
#[test]
fn a_callout_in_pieces_is_no_header_of_a_table() {
    let drawing = Sheet::new()
        .outline(0.0, 0.0, 100.0, 60.0)
        .circle(20.0, 30.0, 7.0)
        .text(24.0, 31.0, "Ø7")
        .text(32.0, 31.0, "THRU 1 HOLE")
        .text(24.0, 20.0, "t=2")
        .drawing();
    let paired = alone(&drawing);
    assert!(paired.callouts.iter().any(|c| c.callout.size.is_some()), "{:?}", paired.callouts);
}

/// One row that is placed as a block with attributes once was no table, because no second row stands by it.
#[test]
fn one_row_of_attributes_is_a_table_without_header() {
    let mut drawing = Sheet::new()
        .outline(0.0, 0.0, 100.0, 60.0)
        .circle(20.0, 30.0, 7.0)
        .circle(60.0, 30.0, 7.0)
        .text(25.0, 33.0, "A")
        .text(65.0, 33.0, "A")
        .attribute(150.0, 80.0, "TAG", "A")
        .attribute(160.0, 80.0, "SIZE", "Ø7 THRU")
        .drawing();
    for text in &mut drawing.texts {
        text.origin.insert = text.origin.insert.and(InsertId::new(0));
    }
    assert_eq!(by(&alone(&drawing)), ["table", "table"]);
}

/// A note on a coating joined the general note over it, and its thickness became the metal's.
#[test]
fn a_thickness_under_a_callout_is_a_note_of_its_own() {
    let drawing = Sheet::new()
        .outline(0.0, 0.0, 100.0, 60.0)
        .circle(20.0, 30.0, 3.7)
        .text(-60.0, 104.0, "ALL HOLES Ø3.7 UNLESS NOTED")
        .text(-60.0, 100.0, "ZINC PLATE .0003 THK AFTER PUNCHING")
        .drawing();
    let paired = alone(&drawing);
    assert_eq!(paired.callouts[0].callout.text, "ALL HOLES Ø3.7 UNLESS NOTED");
    assert_eq!(paired.callouts[0].callout.thickness, None);
}

/// A title block of lines such as `DATE: 2024-05-17` was no title block, and a note that contradicts its thickness was
/// taken for the sheet's.
#[test]
fn lines_of_label_and_value_are_a_title_block() {
    let sheet = || {
        Sheet::new()
            .outline(0.0, 0.0, 420.0, 297.0)
            .outline(100.0, 100.0, 200.0, 200.0)
            .circle(150.0, 150.0, 3.6)
            .text(300.0, 30.0, "DATE: 2024-05-17")
            .text(300.0, 25.0, "THICKNESS: 2")
            .text(300.0, 20.0, "DRAWN: AB")
            .text(300.0, 15.0, "REV: C")
    };
    let paired = alone(&sheet().drawing());
    assert_eq!(paired.holes[0].thickness_source, ThicknessSource::TitleBlock);
    let paired = alone(&sheet().text(10.0, 280.0, "THK 4").drawing());
    assert_eq!(paired.holes[0].making.thickness, Some(mm(2.0)));
    assert_eq!(paired.conflicts.len(), 1);
}

#[test]
fn a_title_block_and_a_note_of_different_metals_are_told() {
    let sheet = || {
        Sheet::new()
            .outline(0.0, 0.0, 420.0, 297.0)
            .outline(100.0, 100.0, 200.0, 200.0)
            .circle(150.0, 150.0, 3.6)
            .text(300.0, 30.0, "DATE: 2024-05-17")
            .text(300.0, 25.0, "MATERIAL: 304")
            .text(300.0, 20.0, "DRAWN: AB")
            .text(300.0, 15.0, "REV: C")
    };
    let says = |note: &str| {
        let paired = alone(&sheet().text(10.0, 280.0, note).drawing());
        assert_eq!(paired.holes[0].making.material, Some(Material::StainlessSteel));
        paired.conflicts.into_iter().flat_map(|c| c.says).collect::<Vec<_>>()
    };
    assert_eq!(
        says("MATL: 5052-H32"),
        ["title block 'MATERIAL: 304': stainless steel", "note 'MATL: 5052-H32': wrought aluminium"]
    );
    assert_eq!(says("MATL: 1.4301"), [""; 0]);
    assert_eq!(says("USE BRASS INSERTS"), [""; 0]);
}

/// Two callouts in one text: the second was once marked as not read, and its holes had no callout. Lines of one count
/// may be the steps of one hole and stay one callout.
#[test]
fn lines_that_each_begin_a_callout_are_callouts_of_their_own() {
    let sheet = |text: &str| {
        Sheet::new()
            .outline(0.0, 0.0, 100.0, 60.0)
            .circle(20.0, 20.0, 3.6)
            .circle(80.0, 20.0, 3.6)
            .circle(20.0, 40.0, 5.5)
            .circle(50.0, 40.0, 5.5)
            .circle(80.0, 40.0, 5.5)
            .text(40.0, 70.0, text)
    };
    let paired = alone(&sheet("2X Ø3.6 THRU\n3X Ø5.5").drawing());
    let sizes: Vec<_> = paired.callouts.iter().map(|c| (c.callout.count, c.holes.len())).collect();
    assert_eq!(sizes, [(Some(2), 2), (Some(3), 3)]);
    let paired = alone(&sheet("2X Ø3.6 THRU\n2X Ø8 X 90° CSK").drawing());
    assert_eq!(paired.callouts.len(), 1);
}

/// A count on a line of its own began another callout, which took the screw of the line below it from the hole's.
#[test]
fn a_count_on_a_line_of_its_own_belongs_to_the_size_above_it() {
    let texts = |lines: &[&str]| {
        let mut sheet = plate();
        for (k, line) in lines.iter().enumerate() {
            sheet = sheet.text(110.0, 50.0 - 4.2 * k as f64, line);
        }
        let paired = alone(&sheet.line(109.5, 51.0, 91.8, 50.0).drawing());
        paired.callouts.iter().map(|c| c.callout.text.clone()).collect::<Vec<_>>()
    };
    let screw = ["Ø3.6 ±0.02", "(4x)", "FOR M4 THREAD ROLLING SCREW"];
    assert_eq!(texts(&screw), [screw.join("\n")]);
    assert_eq!(texts(&["Ø3.6 THRU", "4 PLCS"]), ["Ø3.6 THRU\n4 PLCS"]);
    assert_eq!(texts(&["Ø8 THRU", "4 OFF", "Ø3.6 THRU"]), ["Ø8 THRU", "4 OFF\nØ3.6 THRU"]);
}

/// The note over it or under it was read as its count, and the other holes of the size went without callout.
#[test]
fn a_note_that_counts_something_else_is_no_count_of_a_general_note() {
    let notes = [["LABEL SIZE 4X", "ALL HOLES Ø3.6 U.N.O."], ["ALL HOLES Ø3.6 U.N.O.", "LABEL SIZE 4X"]];
    for [first, second] in notes {
        let drawing = plate()
            .circle(30.0, 30.0, 3.6)
            .circle(70.0, 30.0, 3.6)
            .text(-80.0, 90.0, first)
            .text(-80.0, 86.0, second)
            .drawing();
        let paired = alone(&drawing);
        assert_eq!(paired.holes.iter().filter(|h| h.callout.is_some()).count(), 6, "{first}");
        assert_eq!(paired.callouts[0].left, None);
    }
}

/// The tolerance of three places stood close over the thickness, and a thickness of 3 was read of both.
#[test]
fn a_tolerance_of_places_is_no_count_of_the_size_under_it() {
    let mut sheet = plate().insunits(Some(1));
    for (k, (label, value)) in
        [("TOLERANCES", "2 PL ±.02"), ("", "3 PL ±.003"), ("THICKNESS", ".250"), ("DRAWN", "RS")]
            .iter()
            .enumerate()
    {
        let y = -60.0 - 4.3 * k as f64;
        sheet = sheet.text(200.0, y, label).text(235.0, y, value);
    }
    let (thickness, source) = alone(&sheet.drawing()).sheet.thickness.expect("a thickness");
    // 0.25 in by the definition of the inch.
    assert_eq!((thickness, source), (mm(6.35), ThicknessSource::TitleBlock));
}

/// A hole with its countersink stood under another callout and was taken for that one's entry.
#[test]
fn a_hole_with_its_entry_under_a_callout_is_another_callout() {
    let texts = |under: &str| {
        let sheet = plate().text(110.0, 50.0, "4X Ø3.6 THRU").text(110.0, 45.8, under);
        alone(&sheet.drawing()).callouts.len()
    };
    assert_eq!(texts("Ø8 +0/-0.03 CSK 90° X Ø12"), 2);
    assert_eq!(texts("CSK 90° X Ø6"), 1);
    assert_eq!(texts("⌴ Ø6 ↧2"), 1);
}

/// The second callout of a line was not read, and its holes had none.
#[test]
fn two_counted_callouts_on_one_line_are_two() {
    let sheet = plate().circle(30.0, 30.0, 8.0);
    let sheet = sheet.leader(rim(90.0, 50.0, 1.8), (110.0, 70.0), "4X Ø3.6 THRU, 2X Ø8 ↧5");
    let paired = alone(&sheet.drawing());
    let seen: Vec<_> = paired.callouts.iter().map(|c| (c.callout.text.as_str(), c.holes.len())).collect();
    assert_eq!(seen, [("2X Ø8 ↧5", 2), ("4X Ø3.6 THRU", 4)]);
    let steps = plate().leader(rim(90.0, 50.0, 1.8), (110.0, 70.0), "4X Ø3.6 THRU, 4X M4 TAP");
    assert_eq!(alone(&steps.drawing()).callouts.len(), 1, "steps of one hole have one count");
}
