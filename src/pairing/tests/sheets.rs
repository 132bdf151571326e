//! What stands around the views: title blocks, tables of loose texts, and notes that are the title of a view.

use super::*;

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

/// Two parts on one sheet, each with its thickness under it: once the first stood for both.
#[test]
fn a_thickness_under_a_view_is_that_views() {
    let drawing = Sheet::new()
        .outline(0.0, 0.0, 100.0, 60.0)
        .circle(50.0, 30.0, 3.6)
        .text(10.0, -12.0, "t=1.5")
        .outline(200.0, 0.0, 300.0, 60.0)
        .circle(250.0, 30.0, 3.6)
        .text(210.0, -12.0, "t=3")
        .drawing();
    let paired = alone(&drawing);
    let thicknesses: Vec<_> = paired.holes.iter().map(|h| h.making.thickness).collect();
    assert_eq!(thicknesses, [Some(mm(1.5)), Some(mm(3.0))]);
    assert!(paired.thickness_conflicts.is_empty());
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
