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
