//! Dimensions: measured from their points, written as their style writes them.

use boreband::drawing::{Dimension, DimensionKind, DimensionTolerance};

use super::{entities, file, whole};

fn one(short: &str) -> Dimension {
    whole(&entities(short)).drawing.dimensions[0].clone()
}

#[test]
fn measured_from_the_points_and_not_from_the_stored_value() {
    let cases = [
        ("70 0\n50 90\n10 0\n20 0\n13 1\n23 1\n14 4\n24 5\n42 99", DimensionKind::Linear, 4.0),
        ("70 33\n10 0\n20 0\n13 1\n23 1\n14 4\n24 5\n42 0", DimensionKind::Aligned, 5.0),
        ("70 35\n10 5\n20 0\n15 -5\n25 0\n42 -1", DimensionKind::Diameter, 10.0),
        ("70 4\n10 0\n20 0\n15 3\n25 4", DimensionKind::Radius, 5.0),
        ("70 70\n10 1\n20 1\n13 4\n23 5\n14 9\n24 9", DimensionKind::Ordinate, 3.0),
        ("70 6\n10 1\n20 1\n13 4\n23 5\n14 9\n24 9", DimensionKind::Ordinate, 4.0),
        ("70 5\n10 1\n20 1\n13 5\n23 0\n14 0\n24 5\n15 0\n25 0", DimensionKind::Angular, 90.0),
        ("70 2\n10 0\n20 5\n13 0\n23 0\n14 5\n24 0\n15 0\n25 0\n16 1\n26 1", DimensionKind::Angular, 90.0),
    ];
    for (groups, kind, measured) in cases {
        // No subclass markers, as in R12.
        let dimension = one(&format!("0 DIMENSION\n{groups}"));
        assert_eq!(dimension.kind, kind);
        assert!((dimension.measured - measured).abs() < 1e-9, "{groups}");
    }
}

const DIAMETER: &str = "0 DIMENSION\n3 FINE\n70 3\n10 1.8\n20 0\n15 -1.8\n25 0\n";

const STYLES: &str = "0 DIMSTYLE\n2 Fine\n3 <> THRU\n271 1\n144 2\n71 1\n47 0.1\n48 0.05\n272 2";

#[test]
fn styles_and_overrides() {
    let reading = whole(&file(
        "AC1015",
        STYLES,
        "",
        &format!(
            "{DIAMETER}\n{DIAMETER}1001 ACAD\n1000 DSTYLE\n1002 {{\n1070 144\n1040 1.0\n1070 271\n1070 2\n1070 72\n1070 1\n1002 }}\n{DIAMETER}1 4X <>\\PM4\n{DIAMETER}1 .\n{DIAMETER}1  \n"
        ),
    ));
    let shown: Vec<&str> = reading.drawing.dimensions.iter().map(|d| d.shown.as_str()).collect();
    assert_eq!(shown, ["Ø7.2 +0.10/-0.05 THRU", "Ø3.70/3.55 THRU", "4X Ø7.2 +0.10/-0.05 THRU\nM4", ".", "",]);
    let first = &reading.drawing.dimensions[0];
    assert_eq!((first.length_factor, first.decimals, first.text.clone()), (2.0, 1, None));
    assert_eq!(first.tolerance, Some(DimensionTolerance::PlusMinus { plus: 0.1, minus: 0.05 }));
    assert_eq!(
        reading.drawing.dimensions[1].tolerance,
        Some(DimensionTolerance::Limits { plus: 0.1, minus: 0.05 })
    );
    assert_eq!(reading.drawing.dimensions[2].text.as_deref(), Some("4X <>\nM4"));
}

#[test]
fn a_style_that_says_nothing_leaves_it_to_the_picture() {
    let block = "0 BLOCK\n2 *D7\n10 0\n20 0\n0 TEXT\n10 0\n20 0\n40 1\n1 %%c3,60\n0 ENDBLK";
    let text = file("AC1009", "", block, "0 DIMENSION\n2 *D7\n70 3\n10 1.8\n20 0\n15 -1.8\n25 0");
    let reading = whole(&text);
    assert_eq!(reading.drawing.dimensions[0].shown, "Ø3,60");
    assert!(reading.drawing.texts.is_empty());
}

/// The general tolerance of a sheet goes by the places as written, so an override around the measured value takes
/// them from the picture too; DIMZIN 12 leaves out zeros at both ends.
#[test]
fn an_override_around_the_value_has_the_places_of_the_picture() {
    let shown = |style: &str, picture: &str| {
        let block = format!("0 BLOCK\n2 *D7\n10 0\n20 0\n0 TEXT\n10 0\n20 0\n40 1\n1 {picture}\n0 ENDBLK");
        let style = format!("0 DIMSTYLE\n2 STANDARD\n3 \n{style}");
        let dimension =
            "0 DIMENSION\n2 *D7\n3 STANDARD\n1 (4) <> THRU\n70 3\n10 0.0735\n20 0\n15 -0.0735\n25 0";
        let dimension = &whole(&file("AC1009", &style, &block, dimension)).drawing.dimensions[0];
        (dimension.shown.clone(), dimension.decimals)
    };
    let four = ("(4) Ø0.1470 THRU".to_owned(), 4);
    assert_eq!(shown("78 4", "(4) %%c,147 THRU"), ("(4) Ø.147 THRU".to_owned(), 3));
    assert_eq!(shown("78 12", "(4) %%c.1470 THRU"), ("(4) Ø.1470 THRU".to_owned(), 4));
    assert_eq!(shown("78 0", "(4) %%c0.15 THRU"), ("(4) Ø0.15 THRU".to_owned(), 2));
    assert_eq!(shown("78 0", "(4) M4"), four, "a picture of other numbers says nothing");
    assert_eq!(shown("78 0\n271 4", "(4) %%c0.15 THRU"), four, "a style that says its places stands");
}

#[test]
fn dimensions_in_scaled_blocks_measure_what_is_seen() {
    let block = "0 BLOCK\n2 B\n10 0\n20 0\n0 DIMENSION\n70 3\n10 1\n20 0\n15 -1\n25 0\n11 0\n21 3\n0 ENDBLK";
    let reading = whole(&file("AC1015", "", block, "0 INSERT\n2 B\n10 10\n20 10\n41 3\n42 3\n50 90"));
    let dimension = &reading.drawing.dimensions[0];
    assert!((dimension.measured - 6.0).abs() < 1e-9);
    let at = dimension.text_at.expect("stated");
    assert!((at.x - 1.0).abs() < 1e-9 && (at.y - 10.0).abs() < 1e-9);
}

#[test]
fn lengths_along_arcs_and_jogged_radii() {
    // A quarter of a circle of radius 4 about (1, 1): 2π (hand calculation).
    let quarter = "0 ARC_DIMENSION\n70 5\n10 4\n20 4\n1 <> LG\n13 5\n23 1\n14 1\n24 5\n15 1\n25 1\n40 0\n41 1.57\n70 0\n71 0";
    let arc = one(quarter);
    assert_eq!((arc.kind, arc.shown.as_str()), (DimensionKind::ArcLength, "6.2832 LG"));
    assert!((arc.measured - std::f64::consts::TAU).abs() < 1e-9);
    // Libraries differ about which group holds the point on the arc.
    for (on_arc, jog) in [("13 33\n23 44", "15 7\n25 7"), ("15 33\n25 44", "13 7\n23 7")] {
        let jogged =
            format!("0 LARGE_RADIAL_DIMENSION\n70 4\n10 3\n20 4\n42 50\n{on_arc}\n14 9\n24 9\n{jog}");
        let jogged = one(&jogged);
        assert_eq!((jogged.kind, jogged.measured), (DimensionKind::Radius, 50.0));
    }
}
