//! Hostile sizes: bounded in time, reported with the limit that was met.

use std::time::{Duration, Instant};

use boreband::dxf::{Reading, read};

use super::{circles, entities, file, losses, reading};

/// Reads within the time that a drawing may take. A debug build is some ten times slower than a release build.
fn quickly(text: &str) -> Reading {
    let start = Instant::now();
    let reading = read(text.as_bytes()).expect("a readable file");
    let allowed = if cfg!(debug_assertions) { 20 } else { 1 };
    assert!(start.elapsed() < Duration::from_secs(allowed), "{:?}", start.elapsed());
    reading
}

const ONE: &str = "0 BLOCK\n2 B0\n10 0\n20 0\n0 CIRCLE\n10 0\n20 0\n40 1\n0 ENDBLK\n";

#[test]
fn arrays_of_a_thousand_million_are_refused() {
    for array in ["70 1000000000\n71 1", "70 32767\n71 32767", "70 1000000000\n71 1000000000"] {
        let text = file(
            "AC1015",
            "",
            ONE,
            &format!("0 INSERT\n2 B0\n10 0\n20 0\n{array}\n44 1\n45 1\n0 CIRCLE\n10 5\n20 5\n40 1"),
        );
        let reading = quickly(&text);
        assert_eq!(circles(&reading).len(), 1);
        assert_eq!(losses(&reading).len(), 1);
        assert!(losses(&reading)[0].message.contains("limit of 500000"));
    }
}

/// Each of a few INSERTs stays below the limit, all of them together do not.
#[test]
fn many_arrays_together_are_bounded_by_what_they_show() {
    let vertices: String = (0..999).map(|n| format!("10 {n}\n20 {}\n42 0.1\n", n % 7)).collect();
    let outline = format!("0 BLOCK\n2 B\n10 0\n20 0\n0 LWPOLYLINE\n90 999\n70 1\n{vertices}0 ENDBLK");
    let note = "0 BLOCK\n2 B\n10 0\n20 0\n0 MTEXT\n10 0\n20 0\n40 2\n1 {\\fArial;M4}\n0 ENDBLK";
    // An outline of 999 vertices counts as 1,000 and its cell as 1: 3 times 160 cells are 480,480, a fourth has no room.
    // A text counts as 8 and its cell as 1: 3 times 18,000 cells are 486,000.
    for (block, cells, shown) in [(outline.as_str(), 160, 3 * 160 * 999), (note, 18_000, 3 * 18_000)] {
        let insert = format!("0 INSERT\n2 B\n10 0\n20 0\n70 {cells}\n44 1\n");
        let reading = quickly(&file("AC1015", "", block, &insert.repeat(40)));
        let Reading { drawing, .. } = &reading;
        assert_eq!(drawing.segments.len() + drawing.arcs.len() + drawing.texts.len(), shown);
        assert_eq!(losses(&reading).len(), 1);
        assert!(losses(&reading)[0].message.contains("limit of 500000"));
    }
}

#[test]
fn doubling_at_each_level_is_refused() {
    let mut blocks = ONE.to_owned();
    for level in 1..60 {
        let inner = level - 1;
        let insert = format!("0 INSERT\n2 B{inner}\n10 0\n20 0\n");
        blocks += &format!("0 BLOCK\n2 B{level}\n10 0\n20 0\n{insert}{insert}0 ENDBLK\n");
    }
    let reading = quickly(&file("AC1015", "", &blocks, "0 INSERT\n2 B59\n10 0\n20 0"));
    assert!(circles(&reading).is_empty());
    assert_eq!(losses(&reading).len(), 1);
    // Empty blocks double as well.
    let empty = blocks.replace("0 CIRCLE\n10 0\n20 0\n40 1\n", "");
    assert_eq!(losses(&quickly(&file("AC1015", "", &empty, "0 INSERT\n2 B59\n10 0\n20 0"))).len(), 1);
}

#[test]
fn twenty_thousand_nested_blocks_are_read() {
    let mut blocks = ONE.to_owned();
    for level in 1..20_000 {
        let inner = level - 1;
        blocks += &format!("0 BLOCK\n2 B{level}\n10 0\n20 0\n0 INSERT\n2 B{inner}\n10 1\n20 0\n0 ENDBLK\n");
    }
    let reading = quickly(&file("AC1015", "", &blocks, "0 INSERT\n2 B19999\n10 0\n20 0"));
    assert!(losses(&reading).is_empty());
    assert_eq!(circles(&reading), [(19_999.0, 0.0, 2.0)]);
}

#[test]
fn blocks_that_insert_themselves_are_reported() {
    let blocks = "0 BLOCK\n2 A\n10 0\n20 0\n0 CIRCLE\n10 0\n20 0\n40 1\n0 INSERT\n2 B\n10 5\n20 0\n0 ENDBLK\n\
        0 BLOCK\n2 B\n10 0\n20 0\n0 INSERT\n2 A\n10 5\n20 0\n0 INSERT\n2 A\n10 6\n20 0\n0 ENDBLK";
    let reading =
        quickly(&file("AC1015", "", blocks, "0 INSERT\n2 A\n10 0\n20 0\n0 INSERT\n2 B\n10 0\n20 0"));
    assert!(!losses(&reading).is_empty());
    assert!(losses(&reading).iter().all(|p| p.message.contains("inserts itself")));
    // Through A: itself once. Through B: the circle of A twice.
    assert_eq!(circles(&reading).len(), 3);
}

#[test]
fn very_long_lines_and_claims_of_huge_counts() {
    let long = "X".repeat(20_000_000);
    let reading =
        quickly(&entities(&format!("0 TEXT\n10 0\n20 0\n40 1\n1 {long}\n0 CIRCLE\n10 0\n20 0\n40 1")));
    assert_eq!(circles(&reading).len(), 1);
    assert_eq!(losses(&reading).len(), 1);
    assert!(losses(&reading)[0].message.contains("limit"));
    let claims = entities(
        "0 LWPOLYLINE\n90 2147483647\n70 1\n10 0\n20 0\n42 1\n10 2\n20 0\n42 1\n\
        0 ACAD_TABLE\n100 AcDbTable\n91 4294967295\n92 4294967295\n171 1\n1 x\n0 CIRCLE\n10 0\n20 0\n40 1",
    );
    assert_eq!(circles(&quickly(&claims)).len(), 2);
    // One line of this length and nothing else is no drawing.
    assert!(read(&vec![b'7'; 50_000_000]).is_err());
}

#[test]
fn deep_formatting_and_repeated_texts() {
    let deep = "{".repeat(500_000);
    let reading = quickly(&entities(&format!("0 MTEXT\n10 0\n20 0\n40 1\n1 {deep}A")));
    assert_eq!(reading.drawing.texts[0].content, "A");
    let note = "N".repeat(10_000);
    let blocks = format!("0 BLOCK\n2 B\n10 0\n20 0\n0 TEXT\n10 0\n20 0\n40 1\n1 {note}\n0 ENDBLK");
    let reading =
        quickly(&file("AC1015", "", &blocks, "0 INSERT\n2 B\n10 0\n20 0\n70 300\n71 300\n44 1\n45 1"));
    assert_eq!(losses(&reading).len(), 1);
    assert!(losses(&reading)[0].message.contains("limit"));
}

#[test]
fn many_problems_are_counted_not_listed() {
    let bad = "0 CIRCLE\n10 x\n".repeat(20_000);
    let reading = quickly(&entities(&bad));
    assert_eq!(reading.problems.len(), 1001);
    assert!(reading.problems[1000].message.contains("19000 more"));
}

/// Each different uneven placement of a closed spline costs as much as reading one.
#[test]
fn splines_under_many_uneven_scales_are_bounded() {
    // Without knots it draws nothing, which is soon seen; what counts is how often it is looked at.
    let points: String = (0..390).map(|i| format!("10 {i}\n20 {}\n", i % 7)).collect();
    let block = format!("0 BLOCK\n2 S\n10 0\n20 0\n0 SPLINE\n70 1\n71 15\n{points}0 ENDBLK");
    let insert = |i: u32| format!("0 INSERT\n2 S\n10 0\n20 0\n41 {}\n", 3.0 + f64::from(i) * 1e-5);
    let placed = |times| {
        let inserts: String = (0..times).map(insert).collect();
        reading(&file("AC1015", "", &block, &inserts))
    };
    // 390 points and 16 squared make 646 steps each, and 15,479 times that is just below 10,000,000 (hand
    // calculation).
    assert!(losses(&placed(15_479)).is_empty());
    let beyond = placed(15_480);
    let [loss] = losses(&beyond)[..] else { panic!("one loss") };
    assert!(loss.message.contains("uneven scales exceed the limit"), "{}", loss.message);
}

/// Blocks of joined lines that arrays lay over each other once took over a second, with every line looked for among all
/// that end in the same corner.
#[test]
fn rings_laid_over_each_other_a_thousand_times() {
    let ring: String = (0..20)
        .map(|i| {
            let corner = |i: i32| (std::f64::consts::TAU * f64::from(i) / 20.0).sin_cos();
            let ((y0, x0), (y1, x1)) = (corner(i), corner(i + 1));
            format!("0 LINE\n10 {x0}\n20 {y0}\n11 {x1}\n21 {y1}\n")
        })
        .collect();
    let block = format!("0 BLOCK\n2 B0\n10 0\n20 0\n{ring}0 ENDBLK\n");
    let placed = "0 INSERT\n2 B0\n10 0\n20 0\n70 150\n71 150\n44 0\n45 0.000001\n";
    let reading = quickly(&file("AC1015", "", &block, placed));
    assert!(losses(&reading).is_empty());
    // A side is part of a circle or a line of its own; none is lost.
    let sides = reading.drawing.segments.len() + 20 * reading.drawing.circles.len();
    assert_eq!(sides, 20 * 150 * 150);
}
