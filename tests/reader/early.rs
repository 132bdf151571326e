//! Drawings of many entities, which are placed while the file is read on: where that must not be done too early.

use boreband::drawing::{InsertId, SpaceId};

use super::{circles, file, losses, pairs, reading, whole};

/// Entities that are placed together, and some: more than are read before any is placed.
const MANY: usize = 1_000;

/// A block that shows a circle.
const BLOCK: &str = "0 BLOCK\n2 HOLE\n10 0\n20 0\n30 0\n0 CIRCLE\n8 0\n10 0\n20 0\n40 2\n0 ENDBLK";

/// A layer that is off.
const LAYER: &str = "0 TABLE\n2 LAYER\n0 LAYER\n2 HOLES\n70 0\n62 -7\n0 ENDTAB";

/// Circles in a row, INSERTs of a hole above them, and a spline at each: one of each for every number below `count`.
fn row(count: usize) -> String {
    let each = |n: usize| {
        format!(
            "0 CIRCLE\n8 HOLES\n10 {n}\n20 0\n40 0.25\n0 LINE\n8 0\n10 {n}\n20 1\n11 {n}\n21 {}\n\
             0 INSERT\n8 0\n2 HOLE\n10 {n}\n20 100\n66 1\n0 ATTRIB\n8 0\n10 {n}\n20 100\n40 1\n1 {n}\n2 TAG\n0 SEQEND\n\
             0 TEXT\n8 0\n10 {n}\n20 3\n40 1\n1 note {n}",
            n + 2
        )
    };
    (0..count).map(each).collect::<Vec<_>>().join("\n")
}

fn section(name: &str, content: &str) -> String {
    format!("0 SECTION\n2 {name}\n{content}\n0 ENDSEC\n")
}

#[test]
fn all_of_a_long_row_is_found_in_its_order() {
    let drawing = whole(&file("AC1032", LAYER, BLOCK, &row(MANY))).drawing;
    assert_eq!(drawing.circles.len(), 2 * MANY);
    for (n, pair) in drawing.circles.chunks(2).enumerate() {
        assert_eq!([pair[0].center.x, pair[1].center.x], [n as f64; 2]);
        assert_eq!([pair[0].origin.visible, pair[1].origin.visible], [false, true]);
        assert_eq!(pair[1].origin.insert, InsertId::new(n));
    }
    assert_eq!(drawing.segments.len(), MANY);
    assert!(drawing.segments.iter().enumerate().all(|(n, segment)| segment.to.y == n as f64 + 2.0));
    let texts: Vec<&str> = drawing.texts.iter().map(|text| text.content.as_str()).collect();
    let expected: Vec<String> = (0..MANY).flat_map(|n| [n.to_string(), format!("note {n}")]).collect();
    assert_eq!(texts, expected);
}

/// Tables and blocks stand in front of the entities, says the format. Where they come later, they count nevertheless.
#[test]
fn what_stands_behind_the_entities_counts_for_them() {
    let (tables, blocks, entities) =
        (section("TABLES", LAYER), section("BLOCKS", BLOCK), section("ENTITIES", &row(MANY)));
    let header = section("HEADER", "9 $ACADVER\n1 AC1032\n9 $INSUNITS\n70 4");
    let orders = [
        [&header, &tables, &blocks, &entities],
        [&entities, &header, &tables, &blocks],
        [&header, &tables, &entities, &blocks],
        [&blocks, &header, &entities, &tables],
    ];
    let readings = orders.map(|sections| {
        let parts = sections.map(String::as_str).concat();
        whole(&pairs(&format!("{parts}0 EOF")))
    });
    for reading in &readings {
        assert_eq!(circles(reading), circles(&readings[0]));
        assert_eq!(reading.drawing.circles.len(), 2 * MANY);
        assert!(reading.drawing.circles.chunks(2).all(|pair| !pair[0].origin.visible));
        assert_eq!(reading.drawing.header.insunits, Some(4));
    }
}

/// What stands on paper among entities of model space, before, between and behind them.
#[test]
fn what_stands_on_paper_stays_there() {
    let on_paper = "0 CIRCLE\n8 0\n67 1\n10 7\n20 7\n40 9";
    for before in [0, 1, 99, MANY] {
        let entities = format!("{}\n{on_paper}\n{}", row(before), row(MANY - before));
        let reading = whole(&file("AC1015", LAYER, BLOCK, &entities));
        let drawing = reading.drawing;
        assert_eq!(drawing.spaces.len(), 2, "{before}");
        let spaces: Vec<SpaceId> = drawing.circles.iter().map(|circle| circle.origin.space).collect();
        let expected: Vec<SpaceId> = (0..=2 * MANY).map(|n| SpaceId::from(n == 2 * before)).collect();
        assert_eq!(spaces, expected, "{before}");
    }
}

/// What stands in the block of a space comes first, as where few entities follow.
#[test]
fn the_block_of_model_space_comes_before_the_entities() {
    let blocks =
        format!("{BLOCK}\n0 BLOCK\n2 *Model_Space\n10 0\n20 0\n0 CIRCLE\n8 0\n10 -5\n20 0\n40 1\n0 ENDBLK");
    let reading = whole(&file("AC1015", LAYER, &blocks, &row(MANY)));
    assert_eq!(reading.drawing.circles.len(), 2 * MANY + 1);
    assert_eq!(circles(&reading)[0], (-5.0, 0.0, 2.0));
}

/// The first of two sections may be too short for anything of it to be placed before the second comes.
#[test]
fn sections_of_entities_keep_their_order() {
    for first in [1, 5, MANY / 2] {
        let sections = section("ENTITIES", &row(first)) + &section("ENTITIES", &row(MANY));
        let text = format!("{}{sections}0 EOF", section("BLOCKS", BLOCK));
        let found: Vec<f64> = whole(&pairs(&text)).drawing.segments.iter().map(|s| s.from.x).collect();
        let expected: Vec<f64> = (0..first).chain(0..MANY).map(|n| n as f64).collect();
        assert_eq!(found, expected, "{first}");
    }
}

/// A viewport whose boundary is drawn in model space, far before it.
#[test]
fn the_boundary_of_a_viewport_is_found_wherever_it_stands() {
    let boundary = "0 CIRCLE\n5 ABC\n8 0\n10 50\n20 50\n40 10";
    let view =
        "0 VIEWPORT\n5 ABD\n67 1\n8 0\n10 50\n20 50\n40 100\n41 100\n68 2\n69 2\n12 0\n22 0\n45 100\n340 ABC";
    for (early, late) in [(boundary, ""), ("", boundary)] {
        let entities = format!("{early}\n{}\n{late}\n{view}", row(MANY));
        let reading = whole(&file("AC1015", LAYER, BLOCK, &entities));
        let [view] = &reading.drawing.viewports[..] else { panic!("one viewport") };
        assert!(view.clip.len() > 8, "{early:?}");
        assert_eq!(reading.drawing.circles.len(), 2 * MANY + 1);
    }
}

/// What is wrong with an entity and what is wrong with its place are told in the order of the file.
#[test]
fn faults_are_told_in_their_order() {
    let bad = "0 CIRCLE\n8 0\n10 1\n20 1\n40 2,5";
    let missing = "0 INSERT\n8 0\n2 NOWHERE\n10 0\n20 0";
    let entities = format!("{missing}\n{}\n{bad}\n{}", row(MANY), row(1));
    let reading = reading(&file("AC1015", LAYER, BLOCK, &entities));
    let told: Vec<&str> = losses(&reading).iter().map(|problem| problem.message.as_str()).collect();
    assert_eq!(
        told,
        [
            "block NOWHERE is missing; its INSERTs show nothing",
            "CIRCLE left out: group 40 holds “2,5”, expected a number"
        ]
    );
    assert_eq!(reading.drawing.circles.len(), 2 * MANY + 2);
}

/// What a line type stands for is known from its table alone, which may come between two uses of it.
#[test]
fn a_line_type_counts_for_what_comes_behind_its_table() {
    let line = "0 LINE\n8 0\n6 ODD\n10 0\n20 0\n11 9\n21 5";
    let block = section("BLOCKS", &format!("0 BLOCK\n2 EDGE\n10 0\n20 0\n30 0\n{line}\n0 ENDBLK"));
    let dash_and_dot = "0 TABLE\n2 LTYPE\n0 LTYPE\n2 ODD\n49 10.0\n49 -2.0\n49 1.0\n49 -2.0\n0 ENDTAB";
    let tables = section("TABLES", dash_and_dot);
    let entities = section("ENTITIES", &[line; 3].join("\n"));
    let text = pairs(&format!("{block}{tables}{entities}0 EOF\n"));
    let reading = whole(&text);
    let centre_lines: Vec<bool> =
        reading.drawing.segments.iter().map(|s| s.origin.is_centre_line()).collect();
    assert_eq!(centre_lines, [true; 3]);
}
