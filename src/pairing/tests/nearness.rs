//! Callouts that point at no circle.

use super::*;
use crate::drawing::DimensionKind;

/// Its text stood at a hole of another size, and that alone hid the only hole of the view that has the size.
#[test]
fn the_only_hole_of_a_size_is_spoken_of_though_the_text_stands_at_another() {
    let drawing = Sheet::new()
        .outline(0.0, 0.0, 200.0, 100.0)
        .circle(150.0, 80.0, 4.6)
        .circle(20.0, 80.0, 5.5)
        .circle(60.0, 30.0, 12.0)
        .leader(rim(150.0, 80.0, 2.3), (180.0, 120.0), "Ø4.6 H13")
        .text(130.0, 88.0, "Ø5.5 ±0.02 THRU")
        .drawing();
    let paired = alone(&drawing);
    let text = |h: &Hole| h.callout.map(|c| paired.callouts[c].callout.text.as_str());
    let texts: Vec<_> = paired.holes.iter().map(text).collect();
    assert_eq!(texts, [Some("Ø5.5 ±0.02 THRU"), Some("Ø4.6 H13"), None]);
}

fn across_the_side_view(shown: &str) -> Paired {
    let sheet = Sheet::new()
        .insunits(Some(1))
        .outline(0.0, 0.0, 4.0, 2.0)
        .circle(1.0, 1.0, 0.201)
        .circle(3.0, 1.0, 0.5)
        .outline(0.0, -1.0, 4.0, -0.8)
        .diameter_dimension(1.0, -1.0, 0.201, shown);
    let mut drawing = sheet.drawing();
    drawing.dimensions[0].kind = DimensionKind::Linear;
    alone(&drawing)
}

/// Alone it may be the number of an item, and was left out; the length that it stands on says that it is a drill's.
/// No. 7 is .201 in (ASME B94.11M).
#[test]
fn the_name_of_a_drill_across_its_own_diameter_is_a_callout() {
    let paired = across_the_side_view("No. 7");
    let sizes: Vec<_> = paired.holes.iter().map(|h| h.called.as_ref().and_then(|c| c.nominal)).collect();
    assert_eq!(sizes, [Length::from_inch(0.201).ok(), None]);
    assert!(
        across_the_side_view("No. 8").callouts.is_empty(),
        "No. 8 is .199 in, by more than it is drawn off"
    );
}

/// Two rows of four holes, a length across a hole of the second in the view from the side.
fn two_rows(second: f64, shown: &str) -> Paired {
    let mut sheet = Sheet::new().outline(0.0, 0.0, 160.0, 60.0).outline(0.0, -20.0, 160.0, -14.0);
    for i in 0..4 {
        sheet = sheet.circle(20.0 + 8.0 * f64::from(i), 40.0, 2.9).circle(
            100.0,
            10.0 + 12.0 * f64::from(i),
            second,
        );
    }
    let mut drawing = sheet.diameter_dimension(100.0, -20.0, second, shown).drawing();
    let dimension = &mut drawing.dimensions[0];
    dimension.kind = DimensionKind::Linear;
    // Beside the first row, which fits an M3 as well.
    dimension.text_at = Some(Point::new(40.0, -24.0));
    alone(&drawing)
}

fn called_out(paired: &Paired) -> Vec<f64> {
    paired.callouts[0].holes.iter().map(|&h| paired.holes[h].at.x).collect()
}

/// A thread fits holes of several sizes, and the nearest of them were taken; the length across says which it is.
#[test]
fn a_thread_across_a_hole_in_the_view_from_the_side_means_the_holes_as_wide_as_its_length() {
    assert_eq!(called_out(&two_rows(2.5, "4X M3 TAP THRU")), [100.0; 4]);
}

/// Of holes of one size those straight over the points are meant.
#[test]
fn the_hole_in_line_with_the_points_measured_between_is_meant() {
    let paired = two_rows(2.9, "Ø2.9 THRU");
    assert_eq!(called_out(&paired), [100.0]);
    let hole = paired.callouts[0].holes[0];
    assert!(paired.holes[hole].reasons.iter().any(|t| t.name == "projection" && t.cost == 0.0));
}

/// Nothing was paired, and the callout was said to have no hole.
#[test]
fn a_counted_callout_whose_leader_misses_takes_the_holes_of_which_there_are_as_many() {
    let sheet = |callout: &str| plate().leader((95.0, 46.0), (115.0, 70.0), callout).drawing();
    let paired = alone(&sheet("4X Ø3.6 THRU"));
    assert_eq!((paired.callouts[0].holes.len(), &paired.callouts[0].left), (4, &None));
    assert!(paired.holes[0].reasons.iter().any(|t| t.name == "tip-misses"));
    assert!(paired.holes[0].confidence < 0.98, "{}", paired.holes[0].confidence);
    // Not of another size, and not where another number is counted.
    for other in ["4X Ø3.4 THRU", "3X Ø3.6 THRU", "Ø3.6 THRU"] {
        let paired = alone(&sheet(other));
        assert_eq!(paired.callouts[0].holes, [0; 0], "{other}");
        assert!(
            paired.callouts[0].left.as_deref().is_some_and(|l| l.contains("ends at no circle")),
            "{other}"
        );
    }
    // What another callout points at stays its own.
    let both = plate().leader((95.0, 46.0), (115.0, 70.0), "4X Ø3.6 THRU").leader(
        rim(10.0, 10.0, 1.8),
        (-20.0, -20.0),
        "4X Ø3.6 THRU FOR M4 ROLLING SCREW",
    );
    let paired = alone(&both.drawing());
    let of = |text: &str| paired.callouts.iter().find(|c| c.callout.text == text).map(|c| c.holes.len());
    assert_eq!(of("4X Ø3.6 THRU"), Some(0));
}
