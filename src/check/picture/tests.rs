use super::*;
use crate::drawing::{Dimension, DimensionKind, Leader, Segment, Space, Stands, Table, Viewport};

fn origin(space: u16) -> Origin {
    Origin { handle: None, layer: 0, line: 1, space, visible: true, insert: None, stands: Stands::Other }
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
        judged: crate::verdict::Judgements::default(),
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

fn viewport(space: u16, frozen: Vec<LayerId>) -> Viewport {
    Viewport {
        space,
        center: Point::new(100.0, 50.0),
        size: (40.0, 20.0),
        model_center: Point::new(5.0, 5.0),
        scale: 2.0,
        twist_deg: 0.0,
        from_above: true,
        clip: Vec::new().into(),
        frozen,
    }
}

/// A layout without a line of its own is shown for its viewports; what one of them freezes is a part of its own.
#[test]
fn layouts_show_model_space_through_their_viewports() {
    let mut note = line(4.0, 0);
    note.origin.layer = 7;
    let mut aside = viewport(1, Vec::new());
    aside.from_above = false;
    let drawing = Drawing {
        spaces: spaces(&["model", "A", "B"]),
        segments: vec![note, line(5.0, 0), line(6.0, 0)],
        viewports: vec![viewport(1, Vec::new()), viewport(1, vec![7]), aside],
        ..Drawing::default()
    };
    let picture = picture(&examined(drawing), &[]);
    let names: Vec<&str> = picture.sheets.iter().map(|sheet| sheet.name.as_str()).collect();
    assert_eq!(names, ["model", "A"]);
    assert_eq!(picture.sheets[0].parts, [1, 2], "the frozen line, and the others");
    let shown: Vec<&[usize]> = picture.sheets[1].views.iter().map(|view| view.parts.as_slice()).collect();
    assert_eq!(shown, [&[0, 1][..], &[1]], "the one that looks from another side shows no plan");
    // The sheet is as large as its viewport: 40 by 20 about (100, 50).
    let body = picture.sheets[1].body;
    assert_eq!([body.min.x, body.min.y, body.max.x, body.max.y], [80.0, 40.0, 120.0, 60.0]);
}

fn arrows(picture: &Picture) -> Vec<Vec<Point>> {
    let shapes = picture.sheets.iter().flat_map(|sheet| &sheet.shapes);
    shapes
        .filter_map(|shape| match shape {
            Shape::Path(Pen::Arrow, points) => Some(points.clone()),
            _ => None,
        })
        .collect()
}

fn dimension(kind: DimensionKind, a: (f64, f64), b: (f64, f64)) -> Dimension {
    let (a, b) = (Point::new(a.0, a.1), Point::new(b.0, b.1));
    Dimension {
        origin: origin(0),
        kind,
        measured: a.distance(b),
        length_factor: 1.0,
        text: None,
        shown: "50".into(),
        tolerance: None,
        decimals: 0,
        points: vec![a, b],
        text_at: Some(Point::new((a.x + b.x) / 2.0, 10.0)),
    }
}

/// Heads stand at both ends of a length and of a diameter, at the arc of a radius, and at the hole end of a leader;
/// between ends that are close together they come from outside.
#[test]
fn dimensions_and_leaders_have_arrows() {
    let drawn = |dimension: Dimension| {
        let drawing =
            Drawing { spaces: spaces(&["model"]), dimensions: vec![dimension], ..Drawing::default() };
        arrows(&picture(&examined(drawing), &[]))
    };
    let tips = |arrows: &[Vec<Point>]| arrows.iter().map(|a| (a[0].x, a[0].y)).collect::<Vec<_>>();
    let wide = drawn(dimension(DimensionKind::Linear, (0.0, 0.0), (50.0, 0.0)));
    assert_eq!(tips(&wide), [(0.0, 10.0), (50.0, 10.0)]);
    assert!(wide[0][1].x > 0.0 && wide[1][1].x < 50.0, "from within");
    let narrow = drawn(dimension(DimensionKind::Linear, (0.0, 0.0), (1.0, 0.0)));
    assert_eq!(tips(&narrow), [(0.0, 10.0), (1.0, 10.0)]);
    assert!(narrow[0][1].x < 0.0 && narrow[1][1].x > 1.0, "from outside");
    let across = drawn(dimension(DimensionKind::Diameter, (0.0, 0.0), (50.0, 0.0)));
    assert_eq!(tips(&across), [(50.0, 0.0), (0.0, 0.0)]);
    let radius = drawn(dimension(DimensionKind::Radius, (0.0, 0.0), (50.0, 0.0)));
    assert_eq!(tips(&radius), [(50.0, 0.0)]);
    let vertices = vec![Point::new(3.0, 4.0), Point::new(30.0, 40.0)];
    let leader = Leader { origin: origin(0), vertices, annotation: None, text: None };
    let drawing = Drawing { spaces: spaces(&["model"]), leaders: vec![leader], ..Drawing::default() };
    assert_eq!(tips(&arrows(&picture(&examined(drawing), &[]))), [(3.0, 4.0)]);
}

/// Two rows of three cells: three lines across and four down.
#[test]
fn a_table_has_lines_between_its_cells() {
    let rows =
        vec![vec!["TAG".into(), "SIZE".into(), "QTY".into()], vec!["A1".into(), "3.6".into(), "4".into()]];
    let table = Table { origin: origin(0), at: Point::new(10.0, 90.0), rows };
    let drawing = Drawing { spaces: spaces(&["model"]), tables: vec![table], ..Drawing::default() };
    let picture = picture(&examined(drawing), &[]);
    let lines = picture.sheets[0].shapes.iter().filter_map(|shape| match shape {
        Shape::Line(Pen::Note, [a, b]) => Some((*a, *b)),
        _ => None,
    });
    let (flat, upright): (Vec<_>, Vec<_>) = lines.partition(|(a, b)| a.y == b.y);
    assert_eq!((flat.len(), upright.len()), (3, 4));
    assert!(flat.iter().chain(&upright).all(|(a, b)| a.x >= 10.0 && b.y <= 90.0));
}
