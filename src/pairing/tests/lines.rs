//! Loose lines and dimensions that point at circles. Letters of the builder are estimated 2.25 wide.

use super::*;

/// The plate, and a callout of its large hole whose own line begins three letters beyond its estimated end, while the
/// line of another callout begins under it.
fn crossed(text: &str, large: f64) -> Sheet {
    let width = 2.25 * text.chars().count() as f64;
    Sheet::new()
        .outline(0.0, 0.0, 100.0, 60.0)
        .circle(10.0, 50.0, 3.6)
        .circle(90.0, 50.0, 3.6)
        .circle(50.0, 30.0, large)
        .text(-60.0, 70.0, text)
        // Its own line.
        .line(-60.0 + width + 7.0, 71.25, 50.0, 30.0 + large / 2.0)
        // The other's, from its text below to the first small hole.
        .text(-70.0, 65.0, "2X Ø3.6 THRU")
        .line(-70.0 + 27.0 + 1.0, 66.25, 10.0 - 1.8, 50.0)
}

fn pairs(paired: &Paired) -> Vec<(f64, Option<&str>)> {
    let text = |h: &Hole| h.callout.map(|c| paired.callouts[c].callout.text.as_str());
    paired.holes.iter().map(|h| (h.drawn.mm(), text(h))).collect()
}

/// The nearer line of another text once won, and its circles were of another size than called out.
#[test]
fn a_line_beyond_the_end_of_a_text_is_its_own_where_the_nearer_one_does_not_fit() {
    let paired = alone(&crossed("1X Ø8 TIEFE 12,5", 8.0).drawing());
    let (small, large) = (Some("2X Ø3.6 THRU"), Some("1X Ø8 TIEFE 12,5"));
    assert_eq!(pairs(&paired), [(3.6, small), (3.6, small), (8.0, large)]);
}

/// A thread fits several sizes, so here only the place tells whose line it is.
#[test]
fn a_line_belongs_to_the_text_that_it_fits_better() {
    let paired = alone(&crossed("M4x0.7 TAPPED THRU", 3.3).drawing());
    let (small, large) = (Some("2X Ø3.6 THRU"), Some("M4x0.7 TAPPED THRU"));
    assert_eq!(pairs(&paired), [(3.6, small), (3.6, small), (3.3, large)]);
}

/// A hole that was made larger after it was dimensioned once lost its dimension, and the count its other hole.
#[test]
fn a_dimension_about_the_centre_of_a_hole_of_another_size_is_its_dimension() {
    let sheet =
        || Sheet::new().outline(0.0, 0.0, 100.0, 60.0).circle(20.0, 30.0, 10.08).circle(70.0, 30.0, 9.0);
    let paired = alone(&sheet().diameter_dimension(20.0, 30.0, 9.0, "2X Ø9 THRU").drawing());
    assert_eq!(by(&paired), ["dimension", "count"]);
    assert_eq!(paired.callouts[0].left, None);
    assert!(paired.holes[0].reasons.iter().any(|t| t.name == "size-differs" && t.cost > 0.0));
    // Where an arc of that size is drawn, it is what is measured.
    let arc = sheet().three_quarter_arc(20.0, 30.0, 9.0).diameter_dimension(20.0, 30.0, 9.0, "Ø9");
    assert_eq!(alone(&arc.drawing()).holes[0].callout, None);
}

/// Of a thread called out twice, holes of two sizes near the text were taken, one of each.
#[test]
fn holes_that_one_callout_of_a_thread_counts_are_drawn_alike() {
    let drawing = Sheet::new()
        .outline(0.0, 0.0, 100.0, 60.0)
        .circle(20.0, 30.0, 5.0)
        .circle(80.0, 30.0, 5.0)
        .circle(58.0, 36.0, 3.8)
        .text(24.0, 30.0, "2X M6x1 THRU")
        .drawing();
    let paired = alone(&drawing);
    let holes: Vec<f64> = paired.callouts[0].holes.iter().map(|&h| paired.holes[h].drawn.mm()).collect();
    assert_eq!(holes, [5.0, 5.0]);
    assert_eq!(paired.callouts[0].left, None);
}

/// The nearest hole fits the thread too; it took the place of the six, and was another callout's.
#[test]
fn a_counted_thread_means_the_holes_of_which_there_are_as_many() {
    let sheet = [(60.0, 40.0), (70.0, 40.0), (80.0, 40.0), (60.0, 20.0), (70.0, 20.0), (80.0, 20.0)]
        .iter()
        .fold(Sheet::new().outline(0.0, 0.0, 100.0, 60.0), |sheet, (x, y)| sheet.circle(*x, *y, 3.3))
        .circle(40.0, 28.0, 4.0)
        .leader((38.0, 28.0), (20.0, 8.0), "1X Ø4 DRILL")
        .text(10.0, 30.0, "6X M4 THRU");
    let paired = alone(&sheet.drawing());
    let callout = paired.callouts.iter().find(|c| c.callout.text.starts_with("6X")).expect("the callout");
    let holes: Vec<f64> = callout.holes.iter().map(|&h| paired.holes[h].drawn.mm()).collect();
    assert_eq!((holes, &callout.left), (vec![3.3; 6], &None));
}

/// The shelf of a leader that is longer than its text ran from one part to the next, and both were one view.
#[test]
fn a_shelf_under_a_text_joins_no_views() {
    let drawing = Sheet::new()
        .outline(0.0, 0.0, 100.0, 60.0)
        .circle(20.0, 30.0, 5.5)
        .line(22.75, 30.0, 60.0, 45.0)
        .line(60.0, 45.0, 210.0, 45.0)
        .text(110.0, 46.0, "Ø5.5 ±0.02 THRU")
        .text(10.0, -12.0, "t=8")
        .outline(200.0, 0.0, 320.0, 60.0)
        .circle(260.0, 20.0, 3.6)
        .text(210.0, -12.0, "t=5")
        .drawing();
    let thicknesses: Vec<_> = alone(&drawing).holes.iter().map(|h| h.making.thickness).collect();
    assert_eq!(thicknesses, [Some(mm(8.0)), Some(mm(5.0))]);
}

/// The line of another callout that ends at a hole of another size once kept a counted callout from the holes of its
/// size in the same view.
#[test]
fn a_counted_callout_is_not_held_by_the_line_of_another_text() {
    let drawing = Sheet::new()
        .outline(0.0, 0.0, 200.0, 100.0)
        .circle(30.0, 40.0, 9.0)
        .circle(60.0, 40.0, 9.0)
        .circle(90.0, 80.0, 2.8)
        .circle(120.0, 80.0, 2.8)
        .line(30.0, 44.5, 30.0, 60.0)
        .text(31.0, 61.0, "2X Ø2.8 THRU")
        .drawing();
    let paired = alone(&drawing);
    let two = Some("2X Ø2.8 THRU");
    assert_eq!(pairs(&paired), [(2.8, two), (2.8, two), (9.0, None), (9.0, None)]);
}

/// The box of a multileader's text reached over the text of a leader beside it and took that leader for a second one,
/// so that it pointed at as many holes as it counts, one of another size.
#[test]
fn a_text_with_a_leader_of_its_own_leaves_a_loose_one_to_the_text_beside() {
    let mut sheet = plate().circle(70.0, 10.0, 5.0).leader((71.8, 11.8), (118.0, 22.0), "Ø5 THRU");
    // The box of the long text ends just above the tail of the other leader.
    sheet = sheet.leader(rim(10.0, 50.0, 1.8), (40.0, 23.25), "4 HOLES Ø3.6 FOR M4 THREAD ROLLING SCREW");
    let mut drawing = sheet.drawing();
    let own = drawing.texts.iter().position(|t| t.content.contains("HOLES"));
    assert!(own.is_some());
    drawing.leaders[1].text = own;
    let paired = alone(&drawing);
    let small = Some("4 HOLES Ø3.6 FOR M4 THREAD ROLLING SCREW");
    let of = |d: f64| {
        pairs(&paired).into_iter().filter(move |p| (p.0 - d).abs() < 1e-9).map(|p| p.1).collect::<Vec<_>>()
    };
    assert_eq!(of(3.6), [small; 4]);
    assert_eq!(of(5.0), [Some("Ø5 THRU")]);
    let five = paired.holes.iter().position(|h| (h.drawn.mm() - 5.0).abs() < 1e-9).map(|h| by(&paired)[h]);
    assert_eq!(five, Some("leader"));
}

/// A plate with a hole that a loose line ties to its callout, and a LEADER from a word under the callout to an edge.
fn with_a_leader_to_an_edge(word: &str, tail: (f64, f64)) -> Drawing {
    let mut drawing = Sheet::new()
        .outline(0.0, 0.0, 100.0, 60.0)
        .circle(80.0, 40.0, 8.4)
        .text(20.0, 40.0, "Ø8.4 THRU")
        .line(41.25, 41.25, 75.8, 40.0)
        .text(20.0, 36.6, word)
        .leader((10.0, 0.0), tail, "SEE NOTE 3")
        .drawing();
    drawing.leaders[0].annotation = None;
    drawing.texts.pop();
    drawing
}

/// The callout above was nearer by the letter that texts of holes were given, and had no other leader then.
#[test]
fn a_leader_that_ends_at_no_circle_belongs_to_the_text_that_it_begins_beside() {
    let drawing = with_a_leader_to_an_edge("FULL R", (19.0, 37.85));
    let paired = alone(&drawing);
    assert_eq!(by(&paired), ["leader"]);
    assert_eq!(
        paired.callouts.iter().find(|c| c.callout.text == "Ø8.4 THRU").map(|c| c.left.is_none()),
        Some(true)
    );
}

/// The leader of a weld begins nearer to the callout than to its own text, and was the callout's only line.
#[test]
fn a_callout_whose_leader_ends_at_no_circle_is_followed_along_loose_lines() {
    let paired = alone(&with_a_leader_to_an_edge("", (25.0, 39.0)));
    assert_eq!(by(&paired), ["leader"]);
}
