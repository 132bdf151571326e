use super::*;
use crate::drawing::{Segment, Space};

fn origin(space: u16) -> Origin {
    Origin { handle: None, layer: 0, line: 1, space, visible: true, insert: None, centre_line: false }
}

fn spaces(names: &[&str]) -> Vec<Space> {
    names.iter().map(|name| Space { name: (*name).to_owned() }).collect()
}

fn line(y: f64, space: u16) -> Segment {
    Segment { origin: origin(space), from: Point::new(0.0, y), to: Point::new(1.0, y) }
}

fn examined(drawing: Drawing) -> Examined {
    let paired = crate::pairing::pair(&drawing, None, &crate::joint::Defaults::default());
    Examined {
        state: crate::drawing::ReadState::Read,
        problems: Vec::new(),
        drawing,
        paired,
        judged: Vec::new(),
    }
}

/// Too many lines: those nearest to the finding stay, and those that went are counted.
#[test]
fn beyond_the_limit_what_is_nearest_to_a_finding_stays() {
    let lines = MOST;
    let segments = (0..lines).map(|i| line(i as f64, 0)).collect();
    let drawing = Drawing { spaces: spaces(&["model"]), segments, ..Drawing::default() };
    let finding = FindingResult { x: Some(0.5), y: Some(5000.0), ..FindingResult::default() };
    let picture = picture(&examined(drawing), &[finding]);
    let sheet = &picture.sheets[0];
    // Each line weighs two corners.
    assert_eq!(sheet.shapes.len(), MOST / 2);
    assert_eq!(sheet.left_out, lines - MOST / 2);
    let ys: Vec<f64> = sheet.shapes.iter().map(|shape| shape.bounds().min.y).collect();
    assert!(ys.contains(&5000.0) && !ys.contains(&0.0));
    assert!(ys.is_sorted(), "drawn in the order of the file");
}

#[test]
fn spaces_without_a_shape_and_hidden_things_are_not_shown() {
    let mut hidden = line(1.0, 1);
    hidden.origin.visible = false;
    let segments = vec![hidden, line(2.0, 2)];
    let drawing = Drawing { spaces: spaces(&["model", "A", "B"]), segments, ..Drawing::default() };
    let picture = picture(&examined(drawing), &[]);
    let names: Vec<&str> = picture.sheets.iter().map(|sheet| sheet.name.as_str()).collect();
    assert_eq!(names, ["B"]);
}
