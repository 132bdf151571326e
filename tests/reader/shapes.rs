//! Every way in which a circle is drawn, and what looks like one and is none.

use boreband::drawing::MadeOf;

use super::{assert_circles, circles, entities, whole};

fn made_of(short: &str) -> Vec<MadeOf> {
    whole(&entities(short)).drawing.circles.iter().map(|c| c.made_of).collect()
}

#[test]
fn arcs_that_close() {
    let arc = |start: f64, end: f64| format!("0 ARC\n10 3\n20 4\n40 2\n50 {start}\n51 {end}\n");
    let halves = whole(&entities(&(arc(0.0, 180.0) + &arc(180.0, 0.0))));
    assert_circles(&halves, &[(3.0, 4.0, 4.0)]);
    assert_eq!(halves.drawing.circles[0].made_of, MadeOf::Arcs);
    assert!(halves.drawing.arcs.is_empty());
    // Three overlapping ones, one across 0°; one that is a full turn by itself.
    let three = arc(300.0, 60.0) + &arc(50.0, 200.0) + &arc(190.0, 310.0);
    assert_eq!(circles(&whole(&entities(&three))).len(), 1);
    assert_eq!(circles(&whole(&entities(&arc(0.0, 360.0)))).len(), 1);
    // A cosmetic thread stays an arc; so do arcs of other centres or radii.
    let thread = whole(&entities(&arc(80.0, 350.0)));
    assert!(thread.drawing.circles.is_empty());
    assert_eq!(thread.drawing.arcs[0].sweep_deg, 270.0);
    let apart = arc(0.0, 180.0) + &arc(180.0, 0.0).replace("40 2", "40 2.01");
    assert!(made_of(&apart).is_empty());
    let aside = arc(0.0, 180.0) + &arc(180.0, 0.0).replace("10 3", "10 3.01");
    assert!(made_of(&aside).is_empty());
}

/// Two slots laid end over end once gave a circle of the round ends that meet.
#[test]
fn round_ends_of_slots_make_no_circle_together() {
    // A slot 4 wide from centre to centre at x and x + 10.
    let slot = |x: i32| {
        format!(
            "0 LWPOLYLINE\n90 4\n70 1\n10 {x}\n20 0\n10 {right}\n20 0\n42 1\n10 {right}\n20 4\n10 {x}\n20 4\n42 1\n",
            right = x + 10
        )
    };
    let slots = whole(&entities(&(slot(0) + &slot(10))));
    assert!(slots.drawing.circles.is_empty());
    assert_eq!(slots.drawing.arcs.len(), 4);
    // A cutter's path that runs in along a line and once around does draw its circle.
    let path = "0 LWPOLYLINE\n90 4\n70 0\n10 3\n20 4\n10 5\n20 4\n42 1\n10 1\n20 4\n42 1\n10 5\n20 4\n";
    assert_circles(&whole(&entities(path)), &[(3.0, 4.0, 4.0)]);
}

#[test]
fn a_mirrored_arc_runs_the_other_way() {
    // Extrusion downwards: x is mirrored, so 0° to 90° becomes 90° to 180°.
    let reading = whole(&entities("0 ARC\n10 0\n20 0\n40 1\n50 0\n51 90\n210 0\n220 0\n230 -1"));
    let arc = &reading.drawing.arcs[0];
    assert!((arc.start_deg - 90.0).abs() < 1e-9 && (arc.sweep_deg - 90.0).abs() < 1e-9);
}

#[test]
fn polylines_ellipses_and_their_mirrors() {
    let light = "0 LWPOLYLINE\n90 2\n70 1\n10 1\n20 3\n42 1\n10 5\n20 3\n42 1";
    assert_circles(&whole(&entities(light)), &[(3.0, 3.0, 4.0)]);
    let down = format!("{light}\n210 0\n220 0\n230 -1");
    assert_circles(&whole(&entities(&down)), &[(-3.0, 3.0, 4.0)]);
    let heavy = "0 POLYLINE\n66 1\n10 0\n20 0\n30 0\n70 1\n0 VERTEX\n10 1\n20 3\n42 -1\n0 VERTEX\n10 5\n20 3\n42 -1\n0 SEQEND";
    assert_circles(&whole(&entities(heavy)), &[(3.0, 3.0, 4.0)]);
    let ellipse = "0 ELLIPSE\n10 1\n20 2\n11 0\n21 3\n40 1\n41 0\n42 6.28318530717959";
    assert_circles(&whole(&entities(ellipse)), &[(1.0, 2.0, 6.0)]);
    assert!(made_of(&ellipse.replace("40 1\n", "40 0.99\n")).is_empty());
    assert_eq!(made_of(&ellipse.replace("40 1\n", "40 0.9999999\n")), [MadeOf::Ellipse]);
}

#[test]
fn polygons_of_lines_and_of_vertices() {
    let corner = |i: usize, n: usize| {
        let (sin, cos) = (std::f64::consts::TAU * (i % n) as f64 / n as f64).sin_cos();
        (10.0 + 2.0 * cos, 20.0 + 2.0 * sin)
    };
    let lines = |n: usize| -> String {
        (0..n)
            .map(|i| {
                let (a, b) = (corner(i, n), corner(i + 1, n));
                // Every third one runs the other way.
                let (a, b) = if i % 3 == 0 { (b, a) } else { (a, b) };
                format!("0 LINE\n10 {}\n20 {}\n11 {}\n21 {}\n", a.0, a.1, b.0, b.1)
            })
            .collect()
    };
    // Across the mean of corners and sides (hand calculation).
    let mean = |n: f64| 2.0 * (1.0 + (std::f64::consts::PI / n).cos());
    let reading = whole(&entities(&(lines(24) + "0 LINE\n10 0\n20 0\n11 9\n21 9\n" + &lines(16))));
    assert_circles(&reading, &[(10.0, 20.0, mean(24.0)), (10.0, 20.0, mean(16.0))]);
    assert_eq!(reading.drawing.segments.len(), 1);
    assert!(made_of(&lines(12)).is_empty());
    let vertices: String = (0..36).map(|i| corner(i, 36)).map(|(x, y)| format!("10 {x}\n20 {y}\n")).collect();
    let closed = whole(&entities(&format!("0 LWPOLYLINE\n90 36\n70 1\n{vertices}")));
    assert_circles(&closed, &[(10.0, 20.0, mean(36.0))]);
    assert_eq!(closed.drawing.circles[0].made_of, MadeOf::Polygon);
    let open = whole(&entities(&format!("0 LWPOLYLINE\n90 36\n70 0\n{vertices}")));
    assert!(open.drawing.circles.is_empty());
    assert_eq!(open.drawing.segments.len(), 35);
}

/// A LINE from one point to another.
fn line(a: (f64, f64), b: (f64, f64)) -> String {
    format!("0 LINE\n10 {:.6}\n20 {:.6}\n11 {:.6}\n21 {:.6}\n", a.0, a.1, b.0, b.1)
}

/// The sides of a regular polygon about a centre, each third one drawn the other way.
fn polygon(sides: usize, center: (f64, f64), radius: f64) -> Vec<String> {
    let corner = |i: usize| {
        let (sin, cos) = (std::f64::consts::TAU * i as f64 / sides as f64).sin_cos();
        (center.0 + radius * cos, center.1 + radius * sin)
    };
    let side = |i: usize| {
        if i.is_multiple_of(3) { line(corner(i + 1), corner(i)) } else { line(corner(i), corner(i + 1)) }
    };
    (0..sides).map(side).collect()
}

/// In the order of a step that shares no factor with their number.
fn shuffled(lines: &[String], step: usize) -> String {
    (0..lines.len()).map(|i| lines[i * step % lines.len()].as_str()).collect()
}

/// Across the mean of corners and sides (hand calculation).
fn across(sides: f64, radius: f64) -> f64 {
    radius * (1.0 + (std::f64::consts::PI / sides).cos())
}

fn assert_near(found: &[(f64, f64, f64)], expected: &[(f64, f64, f64)]) {
    let mut found = found.to_vec();
    found.sort_by(|a, b| a.0.total_cmp(&b.0).then(a.1.total_cmp(&b.1)));
    assert_eq!(found.len(), expected.len(), "{found:?}");
    for (f, e) in found.iter().zip(expected) {
        // Coordinates are written with six decimals.
        let off = (f.0 - e.0).abs().max((f.1 - e.1).abs()).max((f.2 - e.2).abs());
        assert!(off < 2e-6, "found {f:?}, expected {e:?}");
    }
}

/// Once only lines that follow each other in the file were joined.
#[test]
fn polygons_of_lines_in_any_order() {
    let mut lines = polygon(16, (10.0, 20.0), 1.8);
    lines.extend(polygon(24, (30.0, 20.0), 1.8));
    lines.extend(polygon(120, (50.0, 20.0), 40.0));
    // Touching circles of the same sides, and a ring of too few.
    lines.extend(polygon(32, (200.0, 20.0), 5.0));
    lines.extend(polygon(32, (210.0, 20.0), 5.0));
    lines.extend(polygon(12, (230.0, 20.0), 5.0));
    // A grid of lines as long as the sides of the first polygon, an arc of lines that does not close, and an outline.
    let side = 2.0 * 1.8 * (std::f64::consts::PI / 16.0).sin();
    for i in 0..20 {
        for j in 0..5 {
            let (x, y) = (300.0 + side * f64::from(i), side * f64::from(j));
            lines.push(line((x, y), (x + side, y)));
            lines.push(line((x, y), (x, y + side)));
        }
    }
    lines.extend(polygon(48, (400.0, 20.0), 10.0).into_iter().take(40));
    lines.extend([line((0.0, 0.0), (60.0, 0.0)), line((60.0, 0.0), (60.0, 40.0))]);
    let expected = [
        (10.0, 20.0, across(16.0, 1.8)),
        (30.0, 20.0, across(24.0, 1.8)),
        (50.0, 20.0, across(120.0, 40.0)),
        (200.0, 20.0, across(32.0, 5.0)),
        (210.0, 20.0, across(32.0, 5.0)),
    ];
    let count = lines.len();
    assert_eq!(count, 16 + 24 + 120 + 64 + 12 + 200 + 40 + 2);
    for step in [1, 5, 101, 241, count - 1] {
        let reading = whole(&entities(&shuffled(&lines, step)));
        assert_near(&circles(&reading), &expected);
        assert_eq!(reading.drawing.segments.len(), 12 + 200 + 40 + 2);
    }
    // More lines than are joined without a look at their lengths, in a block that turns and doubles them.
    let many: Vec<String> = lines.iter().chain(&lines).cloned().collect();
    let block = format!("0 BLOCK\n2 B\n10 0\n20 0\n{}0 ENDBLK", shuffled(&many, 101));
    let reading = whole(&super::file("AC1015", "", &block, "0 INSERT\n2 B\n10 0\n20 0\n41 2\n42 2\n50 90"));
    assert_eq!(reading.drawing.circles.len(), 10);
    let first = &reading.drawing.circles[0];
    assert!((first.center.x + 40.0).abs() < 1e-5, "{first:?}");
}

/// The copies lie closer together than ends may lie apart and still join; once their sides were mixed.
#[test]
fn polygons_of_lines_that_lie_almost_over_each_other() {
    let centers = [0.0, 0.1, 0.2, 0.3].map(|x| (x, 20.0));
    let lines: Vec<String> = centers.iter().flat_map(|center| polygon(32, *center, 150.0)).collect();
    let expected = centers.map(|(x, y)| (x, y, across(32.0, 150.0)));
    for step in [1, 5, 33, 101] {
        let reading = whole(&entities(&shuffled(&lines, step)));
        assert_near(&circles(&reading), &expected);
        assert!(reading.drawing.segments.is_empty());
    }
}

/// Release 10 and before wrote lines in space under a name of their own.
#[test]
fn lines_of_old_releases() {
    let drawing = whole(&entities("0 3DLINE\n10 1\n20 2\n30 3\n11 4\n21 5\n31 6")).drawing;
    assert_eq!((drawing.segments[0].from.x, drawing.segments[0].to.y), (1.0, 5.0));
}

#[test]
fn polygons_of_lines_are_joined_within_their_space_and_state_only() {
    let half_hidden = |i: usize, l: &String| {
        if i.is_multiple_of(2) { l.replace("LINE\n", "LINE\n60 1\n") } else { l.clone() }
    };
    let lines = polygon(24, (0.0, 0.0), 2.0);
    let mixed: String = lines.iter().enumerate().map(|(i, l)| half_hidden(i, l)).collect();
    assert!(made_of(&mixed).is_empty());
    assert_eq!(made_of(&shuffled(&lines, 7)), [MadeOf::Polygon]);
}

#[test]
fn a_closed_spline_of_fit_points() {
    let points: String = (0..=12)
        .map(|i| {
            let (sin, cos) = (std::f64::consts::TAU * f64::from(i) / 12.0).sin_cos();
            format!("11 {}\n21 {}\n31 0\n", 5.0 + 3.0 * cos, 6.0 + 3.0 * sin)
        })
        .collect();
    let reading = whole(&entities(&format!("0 SPLINE\n70 11\n71 3\n74 13\n{points}")));
    assert_eq!(reading.drawing.circles[0].made_of, MadeOf::Spline);
    assert_circles(&reading, &[(5.0, 6.0, 6.0)]);
}

#[test]
fn nothing_is_joined_that_is_drawn_twice() {
    let twice = "0 CIRCLE\n10 1\n20 2\n40 3\n".repeat(2);
    assert_eq!(circles(&whole(&entities(&twice))).len(), 2);
    // Radius 0 draws a dot.
    assert!(circles(&whole(&entities("0 CIRCLE\n10 1\n20 2\n40 0"))).is_empty());
}
