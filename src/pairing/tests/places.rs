//! X and Y columns of hole tables.

use super::*;

const HEAD: &[&str] = &["TAG", "X LOC", "Y LOC", "SIZE"];

/// The origin is the lower left hole, at (10, 10) of the drawing.
fn table(rows: &[&[&str]]) -> Sheet {
    let mut all = vec![HEAD];
    all.extend(rows);
    plate().table(150.0, 50.0, &all)
}

/// Rows whose tags stand at no hole had no hole, though they say where it is.
#[test]
fn rows_find_their_holes_by_place_alone() {
    let rows: &[&[&str]] = &[
        &["A1", "0", "0", "Ø3.60"],
        &["A2", "80.0", "0", "Ø3.60"],
        &["A3", "0", "40.0", "Ø3.60"],
        &["B1", "40.0", "20.0", "Ø8.00"],
    ];
    let paired = alone(&table(rows).drawing());
    assert_eq!(by(&paired), ["table", "drawn", "table", "table", "table"]);
    let of = |text: &str| {
        paired.callouts.iter().find(|c| c.callout.text.starts_with(text)).map(|c| c.holes.clone())
    };
    assert_eq!(
        (of("A1"), of("A2"), of("A3"), of("B1")),
        (Some(vec![3]), Some(vec![4]), Some(vec![0]), Some(vec![2]))
    );
}

/// A hole that the table puts elsewhere was as sure as any other.
#[test]
fn a_place_that_differs_lowers_the_confidence_and_is_said() {
    let rows: &[&[&str]] = &[
        &["A1", "0", "0", "Ø3.60"],
        &["A2", "80.0", "0", "Ø3.60"],
        &["A3", "0", "44.0", "Ø3.60"],
        &["B1", "40.0", "20.0", "Ø8.00"],
    ];
    let sheet =
        table(rows).text(12.5, 9.0, "A1").text(92.5, 9.0, "A2").text(12.5, 49.0, "A3").text(55.0, 29.0, "B1");
    let paired = alone(&sheet.drawing());
    let says = |hole: usize, name: &str| paired.holes[hole].reasons.iter().any(|t| t.name == name);
    assert!(says(3, "table-position") && says(4, "table-position") && says(0, "position-differs"));
    assert!(paired.holes[0].confidence < 0.95 && paired.holes[3].confidence > 0.95);
}
