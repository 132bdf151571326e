//! What circles are taken for: holes, and all that is none.

use super::*;

/// The bubble of a section stands outside of the part and no line touches it; it was taken for a hole.
#[test]
fn a_letter_in_a_circle_outside_of_all_views_is_a_bubble() {
    let drawing = plate().circle(150.0, 30.0, 8.0).text(148.9, 28.75, "A").drawing();
    assert_eq!(roles(&alone(&drawing))[5], "balloon");
}

/// The bubble of a view from a side, marked with a letter and a number, was taken for a hole.
#[test]
fn a_mark_of_two_parts_in_a_circle_outside_of_all_views_is_a_bubble() {
    let drawing = plate().circle(150.0, 30.0, 12.0).text(146.5, 28.75, "E-1").drawing();
    assert_eq!(roles(&alone(&drawing))[5], "balloon");
}

/// A round plate was a hole where the list gave the places of all its holes.
#[test]
fn a_disc_round_listed_places_is_an_outline() {
    let drawing =
        Sheet::new().circle(0.0, 0.0, 100.0).circle(20.0, 0.0, 9.0).circle(-20.0, 0.0, 20.0).drawing();
    let at = vec![Point::new(20.0, 0.0), Point::new(-20.0, 0.0)];
    let paired = with(&drawing, vec![Row { at, screw: m4(), ..Row::default() }]);
    assert_eq!(roles(&paired), ["outline", "hole", "hole"]);
}

/// The leader's end on the hole made a balloon of it where its tag stands inside.
#[test]
fn a_hole_that_a_leader_points_at_is_no_balloon() {
    let drawing = plate().text(48.9, 28.75, "A").line(54.0, 30.0, 70.0, 30.0).leader(
        (54.0, 30.0),
        (120.0, 70.0),
        "Ø8 THRU",
    );
    assert_eq!(roles(&alone(&drawing.drawing()))[4], "hole");
}

/// Labels so small that the fields between them are wide left the symbol of projection out of the title block, and its
/// circles were a hole with a counterbore.
#[test]
fn the_symbol_of_projection_belongs_to_a_title_block_of_small_labels() {
    let mut sheet = plate();
    for (x, y, label, value) in [
        (231.0, 57.0, "TOLERANCES", "ISO 2768-m"),
        (231.0, 33.0, "UNITS", "mm"),
        (291.0, 57.0, "FINISH", "PLAIN"),
        (291.0, 17.0, "PART NO.", "GC-104"),
        (361.0, 57.0, "DATE", "2024-03-11"),
        (361.0, 17.0, "REV", "A"),
    ] {
        sheet = sheet.text(x, y, label).small(1.2).text(x + 2.0, y - 4.5, value);
    }
    let sheet = sheet.outline(0.0, -100.0, 420.0, 180.0);
    let drawing = sheet.circle(270.0, 16.5, 5.0).circle(270.0, 16.5, 10.0).drawing();
    assert_eq!(roles(&alone(&drawing))[5..], ["symbol", "symbol"]);
}

#[test]
fn what_is_no_hole() {
    let drawing = Sheet::new()
        .circle(0.0, 0.0, 100.0)
        .circle(0.0, 0.0, 30.0)
        .centre_circle(0.0, 0.0, 70.0)
        .circle(35.0, 0.0, 6.0)
        .circle(-35.0, 0.0, 6.0)
        .circle(0.0, 35.0, 6.0)
        .circle(0.0, -35.0, 6.0)
        .circle(0.0, 35.0, 10.0)
        .circle(80.0, 40.0, 8.0)
        .line(76.0, 40.0, 38.0, 3.0)
        .text(78.8, 38.75, "B")
        .drawing();
    assert_eq!(
        roles(&alone(&drawing)),
        ["outline", "hole", "pitch-circle", "hole", "hole", "hole", "hole", "counterbore", "balloon"]
    );
}

#[test]
fn dimensions_of_pitch_circle_and_outline_state_no_hole() {
    let drawing = Sheet::new()
        .circle(0.0, 0.0, 100.0)
        .circle(0.0, 0.0, 30.0)
        .centre_circle(0.0, 0.0, 70.0)
        .circle(35.0, 0.0, 6.0)
        .circle(-35.0, 0.0, 6.0)
        .diameter_dimension(0.0, 0.0, 100.0, "Ø100")
        .diameter_dimension(0.0, 0.0, 70.0, "Ø70")
        .diameter_dimension(0.0, 0.0, 30.0, "Ø30")
        .drawing();
    let paired = alone(&drawing);
    let holes_of = |text: &str| {
        let seen = paired.callouts.iter().find(|c| c.callout.text == text).expect("a callout of that text");
        (seen.holes.len(), seen.left.is_some())
    };
    assert_eq!(holes_of("Ø100"), (0, true));
    assert_eq!(holes_of("Ø70"), (0, true));
    assert_eq!(holes_of("Ø30"), (1, false));
}

#[test]
fn a_letter_inside_a_hole_makes_no_balloon_of_it() {
    let drawing = plate().text(48.9, 28.75, "A").drawing();
    assert_eq!(roles(&alone(&drawing))[4], "hole");
}

#[test]
fn a_pitch_circle_without_line_type_is_known_by_its_holes() {
    let drawing = Sheet::new()
        .circle(0.0, 0.0, 70.0)
        .circle(35.0, 0.0, 6.0)
        .circle(-35.0, 0.0, 6.0)
        .circle(0.0, 35.0, 6.0)
        .circle(0.0, -35.0, 6.0)
        .drawing();
    assert_eq!(roles(&alone(&drawing))[0], "pitch-circle");
}

#[test]
fn a_drawn_thread_is_no_counterbore() {
    let drawing = Sheet::new()
        .outline(0.0, 0.0, 40.0, 40.0)
        .circle(20.0, 20.0, 3.3)
        .circle(20.0, 20.0, 4.0)
        .leader(rim(20.0, 20.0, 2.0), (50.0, 50.0), "M4 TAP")
        .drawing();
    let paired = alone(&drawing);
    assert_eq!(roles(&paired), ["hole", "cosmetic-thread"]);
    assert_eq!(paired.holes.len(), 1);
    assert_eq!(paired.holes[0].paired_by, PairedBy::Leader);
    assert_eq!(paired.holes[0].called, None);
    assert_eq!(paired.circles[1].hole, Some(0));
}

#[test]
fn a_three_quarter_arc_speaks_of_a_thread() {
    let drawing = Sheet::new()
        .outline(0.0, 0.0, 40.0, 40.0)
        .circle(20.0, 20.0, 6.8)
        .circle(20.0, 20.0, 8.4)
        .three_quarter_arc(20.0, 20.0, 8.0)
        .drawing();
    assert_eq!(roles(&alone(&drawing)), ["hole", "cosmetic-thread"]);
}

#[test]
fn a_countersink_belongs_to_its_hole() {
    let drawing = Sheet::new()
        .outline(0.0, 0.0, 40.0, 40.0)
        .circle(20.0, 20.0, 4.3)
        .circle(20.0, 20.0, 8.6)
        .leader(rim(20.0, 20.0, 4.3), (50.0, 50.0), "Ø4.3 THRU CSK Ø8.6 X 90°")
        .drawing();
    let paired = alone(&drawing);
    assert_eq!(roles(&paired), ["hole", "countersink"]);
    let (role, diameter, depth) = paired.holes[0].entry.unwrap();
    assert_eq!((role, diameter), (Role::Countersink, mm(8.6)));
    // (8.6 − 4.3) / (2 tan 45°), by hand.
    assert!((depth.unwrap().mm() - 2.15).abs() < 1e-9);
}

#[test]
fn every_circle_is_listed_once_and_hidden_ones_are_no_holes() {
    let mut drawing = plate().drawing();
    drawing.circles[4].origin.visible = false;
    let paired = alone(&drawing);
    let listed: Vec<usize> = paired.circles.iter().map(|c| c.circle).collect();
    assert_eq!(listed, [0, 1, 2, 3, 4]);
    assert_eq!(roles(&paired)[4], "hidden");
    assert_eq!(paired.holes.len(), 4);
}
