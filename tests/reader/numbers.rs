//! Strict numbers: the entity is left out with a problem that has its line; everything else stays.

use super::{assert_circles, circles, entities, file, losses, reading};

/// A drawing of two circles of which the second has this radius.
fn with_radius(radius: &str) -> String {
    entities(&format!(
        "0 CIRCLE\n10 1\n20 2\n30 0\n40 3\n0 CIRCLE\n10 5\n20 6\n40 {radius}\n0 CIRCLE\n10 7\n20 8\n40 1"
    ))
}

#[test]
fn bad_numbers_are_problems_with_their_line() {
    // Once these ended the list of entities in silence, or gave a circle of infinite or no size.
    for bad in ["2,5", "", "1.5D0", "abc", "nan", "inf", "1e400", "-2"] {
        let reading = reading(&with_radius(bad));
        assert_circles(&reading, &[(1.0, 2.0, 6.0), (7.0, 8.0, 2.0)]);
        let losses = losses(&reading);
        assert_eq!(losses.len(), 1, "{bad}");
        assert!(losses[0].message.contains("CIRCLE"), "{}", losses[0].message);
        // Lines by hand: 4 of the section, 10 of the first circle, then the second: its value of 40 is line 22;
        // a negative radius is the fault of the entity that begins on line 15.
        let line = if bad == "-2" { 15 } else { 22 };
        assert_eq!(losses[0].line, line, "{bad}");
        if bad != "-2" {
            assert!(losses[0].message.contains("expected a number"));
        }
    }
}

#[test]
fn a_bad_last_entity_does_not_end_the_list_in_silence() {
    let text = entities("0 CIRCLE\n10 1\n20 2\n40 3\n0 CIRCLE\n10 5\n20 6\n40 2,5");
    let reading = reading(&text);
    assert_eq!(circles(&reading).len(), 1);
    assert_eq!(losses(&reading).len(), 1);
}

#[test]
fn a_missing_needed_group_is_a_loss() {
    for missing in ["0 CIRCLE\n10 1\n20 2", "0 CIRCLE\n20 2\n40 1", "0 ARC\n10 1\n20 2\n40 1\n50 0"] {
        let reading = reading(&entities(missing));
        assert_eq!(losses(&reading).len(), 1, "{missing}");
        assert!(losses(&reading)[0].message.contains("missing"));
    }
}

#[test]
fn a_bad_number_that_nobody_needs_is_no_problem() {
    let reading = reading(&entities(
        "0 CIRCLE\n10 1\n20 2\n40 3\n39 abc\n62 x\n370 y\n0 HATCH\n10 nan\n0 MESH\n90 99999999999",
    ));
    assert_eq!(circles(&reading).len(), 1);
    assert!(losses(&reading).is_empty());
}

#[test]
fn a_bad_vertex_takes_its_polyline_only() {
    let reading = reading(&entities(
        "0 LWPOLYLINE\n90 2\n70 1\n10 0\n20 0\n42 1\n10 2\n20 zero\n42 1\n\
         0 POLYLINE\n66 1\n70 1\n0 VERTEX\n10 0\n20 0\n42 1\n0 VERTEX\n10 4,0\n20 0\n42 1\n0 SEQEND\n\
         0 CIRCLE\n10 1\n20 2\n40 3",
    ));
    assert_circles(&reading, &[(1.0, 2.0, 6.0)]);
    assert_eq!(losses(&reading).len(), 2);
}

#[test]
fn bad_header_and_table_values_are_told() {
    let text = file(
        "AC1015\n9 $TDCREATE\n40 99999999999999999999.5\n9 $INSUNITS\n70 mm",
        "0 LAYER\n2 A\n70 zero\n62 7",
        "",
        "0 CIRCLE\n8 A\n10 1\n20 2\n40 3",
    );
    let reading = reading(&text);
    // An absurd date once stopped a reader; nobody needs it.
    assert_eq!(circles(&reading).len(), 1);
    assert_eq!(losses(&reading).len(), 2);
    assert!(losses(&reading)[0].message.contains("$INSUNITS"));
    assert!(losses(&reading)[1].message.contains("LAYER"));
}
