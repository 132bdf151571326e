//! Layers and what they hide; line types.

use super::{file, whole};

const LAYERS: &str = "0 TABLE\n2 LAYER\n\
    0 LAYER\n2 ON\n70 0\n62 7\n6 Continuous\n\
    0 LAYER\n2 OFF\n70 0\n62 -7\n6 Continuous\n\
    0 LAYER\n2 FROZEN\n70 1\n62 7\n6 Continuous\n\
    0 LAYER\n2 AXES\n70 0\n62 1\n6 CENTER\n\
    0 LAYER\n2 BEHIND\n70 0\n62 1\n6 HIDDEN\n0 ENDTAB";

/// Visibility of the circles, in order.
fn visible(blocks: &str, entities: &str) -> Vec<bool> {
    let reading = whole(&file("AC1015", LAYERS, blocks, entities));
    reading.drawing.circles.iter().map(|c| c.origin.visible).collect()
}

#[test]
fn off_frozen_and_invisible() {
    let circle = |layer: &str| format!("0 CIRCLE\n8 {layer}\n10 0\n20 0\n40 1\n");
    let all = ["ON", "off", "Frozen", "UNLISTED"].map(circle).concat();
    let hidden = "0 CIRCLE\n8 ON\n60 1\n10 0\n20 0\n40 1";
    assert_eq!(visible("", &(all + hidden)), [true, false, false, true, false]);
}

#[test]
fn layer_zero_in_a_block_takes_the_layer_of_the_insert() {
    // In the block: one circle on layer 0, one on ON.
    let block = "0 BLOCK\n2 B\n10 0\n20 0\n0 CIRCLE\n8 0\n10 0\n20 0\n40 1\n0 CIRCLE\n8 ON\n10 0\n20 0\n40 1\n0 ENDBLK\n\
        0 BLOCK\n2 NEST\n10 0\n20 0\n0 INSERT\n8 0\n2 B\n10 0\n20 0\n0 ENDBLK";
    for name in ["B", "NEST"] {
        let insert = |layer: &str| format!("0 INSERT\n8 {layer}\n2 {name}\n10 0\n20 0");
        assert_eq!(visible(block, &insert("ON")), [true, true]);
        // Off hides what is on that layer itself, frozen hides all.
        assert_eq!(visible(block, &insert("OFF")), [false, true]);
        assert_eq!(visible(block, &insert("FROZEN")), [false, false]);
        assert_eq!(visible(block, &(insert("ON") + "\n60 1")), [false, false]);
    }
    let reading = whole(&file("AC1015", LAYERS, block, "0 INSERT\n8 AXES\n2 NEST\n10 0\n20 0"));
    let names: Vec<&str> = reading
        .drawing
        .circles
        .iter()
        .map(|c| reading.drawing.layers[c.origin.layer as usize].name.as_str())
        .collect();
    assert_eq!(names, ["AXES", "ON"]);
    assert!(reading.drawing.circles[0].origin.is_centre_line());
}

#[test]
fn centre_lines_by_own_layer_and_block() {
    let block = "0 BLOCK\n2 B\n10 0\n20 0\n0 CIRCLE\n8 ON\n6 BYBLOCK\n10 0\n20 0\n40 1\n0 ENDBLK";
    let entities = "0 CIRCLE\n8 ON\n10 0\n20 0\n40 1\n\
        0 CIRCLE\n8 ON\n6 DASHDOT\n10 0\n20 0\n40 1\n\
        0 CIRCLE\n8 AXES\n10 0\n20 0\n40 1\n\
        0 CIRCLE\n8 AXES\n6 CONTINUOUS\n10 0\n20 0\n40 1\n\
        0 INSERT\n8 ON\n6 CENTER2\n2 B\n10 0\n20 0\n\
        0 INSERT\n8 ON\n2 B\n10 0\n20 0";
    let reading = whole(&file("AC1015", LAYERS, block, entities));
    let centre: Vec<bool> = reading.drawing.circles.iter().map(|c| c.origin.is_centre_line()).collect();
    assert_eq!(centre, [false, true, true, false, true, false]);
}

/// Edges that are not in sight once were known by the names of layers alone.
#[test]
fn hidden_lines_by_own_layer_and_block() {
    let block = "0 BLOCK\n2 B\n10 0\n20 0\n0 LINE\n8 ON\n6 BYBLOCK\n10 0\n20 0\n11 1\n21 0\n0 ENDBLK";
    let line = |more: &str| format!("0 LINE\n{more}\n10 0\n20 0\n11 1\n21 0\n");
    let lines =
        ["8 ON", "8 ON\n6 DASHED", "8 BEHIND", "8 BEHIND\n6 CONTINUOUS", "8 ON\n6 CENTER"].map(line).concat();
    let entities = lines + "0 INSERT\n8 ON\n6 HIDDEN2\n2 B\n10 0\n20 0\n0 INSERT\n8 ON\n2 B\n10 0\n20 0";
    let reading = whole(&file("AC1015", LAYERS, block, &entities));
    let hidden: Vec<bool> = reading.drawing.segments.iter().map(|s| s.origin.is_hidden_line()).collect();
    assert_eq!(hidden, [false, true, true, false, false, true, false]);
}
