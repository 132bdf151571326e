//! Marks put into files made at random and into damaged ones: the drawing that is read is the one that was read before,
//! no byte is lost, and what cannot be marked is refused. Nothing panics.

use proptest::prelude::*;

use super::super::{harmless, is_of_marks};
use super::tests::{R12, R2000, text};
use super::*;
use crate::drawing::{Drawing, Origin};
use crate::dxf::read;

/// A drawing without what marks may move: lines of the file, and numbers of layers.
fn settled(mut drawing: Drawing) -> String {
    let names: Vec<String> = drawing.layers.iter().map(|layer| layer.name.clone()).collect();
    let mut layers = Vec::new();
    let mut settle = |origin: &mut Origin| {
        layers.push(names[origin.layer as usize].clone());
        (origin.line, origin.layer) = (0, 0);
    };
    drawing.circles.iter_mut().for_each(|thing| settle(&mut thing.origin));
    drawing.arcs.iter_mut().for_each(|thing| settle(&mut thing.origin));
    drawing.segments.iter_mut().for_each(|thing| settle(&mut thing.origin));
    drawing.outlines.iter_mut().for_each(|thing| settle(&mut thing.origin));
    drawing.texts.iter_mut().for_each(|thing| settle(&mut thing.origin));
    drawing.dimensions.iter_mut().for_each(|thing| settle(&mut thing.origin));
    drawing.leaders.iter_mut().for_each(|thing| settle(&mut thing.origin));
    drawing.inserts.iter_mut().for_each(|thing| settle(&mut thing.origin));
    drawing.tables.iter_mut().for_each(|thing| settle(&mut thing.origin));
    drawing.layers.retain(|layer| !is_of_marks(&layer.name));
    format!("{drawing:?} {layers:?}")
}

/// What a file shows; none if something of it is lost.
fn whole(bytes: &[u8]) -> Option<String> {
    let reading = read(bytes).ok()?;
    (!reading.problems.iter().any(|problem| problem.loss)).then(|| settled(reading.drawing))
}

/// `copy` with pieces taken out that are together as long as what it has more; the bytes of `original` in their order.
fn holds(copy: &[u8], original: &[u8]) -> bool {
    let mut rest = copy.iter();
    original.iter().all(|byte| rest.any(|other| other == byte))
}

fn mark() -> impl Strategy<Value = Mark> {
    let point = (-1e4..1e4_f64, -1e4..1e4_f64).prop_map(|(x, y)| Point::new(x, y));
    let level = prop_oneof![Just(Level::Fail), Just(Level::Warn), Just(Level::Note)];
    let space =
        prop_oneof![4 => Just("model"), 1 => Just("First"), 1 => Just("Bl\u{e4}tter"), 1 => Just("Layout1")];
    let shape = prop_oneof![
        (point.clone(), 0.01..1e3_f64).prop_map(|(center, radius)| Shape::Arc {
            center,
            radius,
            start_deg: 8.0,
            end_deg: 82.0
        }),
        (point.clone(), point.clone()).prop_map(|(from, to)| Shape::Line { from, to }),
        (point, any::<bool>(), 0.1..10.0_f64, "\\PC{0,40}").prop_map(|(at, right, height, text)| {
            Shape::Text {
                at,
                align: if right { Align::Right } else { Align::Left },
                height,
                text: harmless(&text),
            }
        }),
    ];
    (level, space, shape).prop_map(|(level, space, shape)| Mark { level, space: space.to_owned(), shape })
}

/// A thing of the drawing itself.
fn entity() -> impl Strategy<Value = String> {
    (0..5_u8, -500..500_i32, 1..50_i32, 0x100..0x200_u32, any::<bool>()).prop_map(|(kind, x, r, h, paper)| {
        let head = format!("5 {h:X}\n{}8 L{}\n", if paper { "67 1\n" } else { "" }, r % 3);
        let head = if r % 2 == 0 { head } else { format!("999 note\n{head}") };
        match kind {
            0 => format!("0 CIRCLE\n{head}10 {x}\n20 {x}\n40 {r}\n"),
            1 => format!("0 TEXT\n{head}10 {x}\n20 {x}\n40 {r}\n1 4X %%c{r}.5 THRU\n"),
            2 => format!("0 LINE\n{head}10 {x}\n20 0\n11 {x}\n21 {r}\n"),
            3 => format!("0 INSERT\n{head}66 1\n2 B\n10 {x}\n20 {x}\n0 ATTRIB\n8 L\n10 {x}\n20 0\n40 1\n1 A\n2 T\n0 SEQEND\n8 L\n"),
            _ => format!("0 LWPOLYLINE\n{head}90 2\n70 1\n10 {x}\n20 {x}\n42 1\n10 {}\n20 {x}\n42 1\n", x + r),
        }
    })
}

/// A whole file with these things in it, and the block that they name.
fn drawn(base: u8, entities: &[String], version: &str) -> String {
    const BLOCK: &str = "0 BLOCK\n5 2A\n2 B\n0 CIRCLE\n5 2B\n8 0\n10 0\n20 0\n40 2\n0 ENDBLK\n5 2C\n";
    let entities = format!("2 ENTITIES\n{}", entities.concat());
    if base == 0 {
        let blocks = format!("0 SECTION\n2 BLOCKS\n{BLOCK}0 ENDSEC\n0 SECTION\n{entities}");
        return R12.replace("0 SECTION\n2 ENTITIES\n", &blocks);
    }
    let blocks = format!("2 BLOCKS\n{BLOCK}");
    R2000.replace("AC1015", version).replace("2 BLOCKS\n", &blocks).replace("2 ENTITIES\n", &entities)
}

proptest! {
    #[test]
    fn a_marked_file_shows_what_it_showed(
        base in 0..2_u8,
        entities in proptest::collection::vec(entity(), 0..8),
        marks in proptest::collection::vec(mark(), 1..12),
        version in prop_oneof![Just("AC1009"), Just("AC1012"), Just("AC1015"), Just("AC1032")],
        end in prop_oneof![Just("\n"), Just("\r\n"), Just("\r"), Just("\r\r\n")],
    ) {
        let file = text(&drawn(base, &entities, version)).replace('\n', end);
        let before = whole(file.as_bytes()).expect("a whole file");
        let known = read(file.as_bytes()).unwrap().drawing.spaces;
        let marked = insert(file.as_bytes(), &marks);
        // A mark of a sheet that the drawing does not have is the only reason to refuse one.
        let placed = marks.iter().all(|mark| known.iter().any(|space| space.name == mark.space));
        prop_assert_eq!(marked.is_ok(), placed, "{:?}", marked.err());
        if let Ok(marked) = marked {
            prop_assert_eq!(whole(&marked), Some(before));
            let without_seed = |bytes: &[u8]| {
                let text = String::from_utf8(bytes.to_vec()).unwrap();
                text.replacen("$HANDSEED", "", 1)
            };
            let old = without_seed(file.as_bytes()).replace(&format!("{end}2F{end}"), end);
            prop_assert!(holds(without_seed(&marked).as_bytes(), old.as_bytes()));
            let drawn = marked.windows(13).filter(|name| name.starts_with(b"BOREBAND_")).count();
            prop_assert!(drawn >= marks.len());
            // Marks of an earlier check are not covered with further ones.
            prop_assert!(insert(&marked, &marks).is_err());
        }
    }

    #[test]
    fn a_damaged_file_is_refused_or_shows_what_it_showed(
        base in 0..2_u8,
        entities in proptest::collection::vec(entity(), 0..4),
        damage in proptest::collection::vec((any::<proptest::sample::Index>(), 0..6_u8, any::<u8>()), 1..4),
        space in prop_oneof![Just("model"), Just("First")],
    ) {
        let file = text(&drawn(base, &entities, "AC1015"));
        let mut lines: Vec<Vec<u8>> = file.split_inclusive('\n').map(|line| line.as_bytes().to_vec()).collect();
        for (at, kind, byte) in damage {
            let at = at.index(lines.len());
            match kind {
                0 => drop(lines.remove(at)),
                1 => { let line = lines[at].clone(); lines.insert(at, line) }
                2 => lines.insert(at, b"\n".to_vec()),
                3 => lines[at] = vec![byte, b'\n'],
                4 => lines.truncate(at + 1),
                _ => { let line = lines.remove(at); lines.push(line) }
            }
            if lines.is_empty() { lines.push(b"0\n".to_vec()) }
        }
        let file = lines.concat();
        let center = Point::new(1.0, 2.0);
        let shape = Shape::Arc { center, radius: 2.0, start_deg: 8.0, end_deg: 82.0 };
        let marks = [Mark { level: Level::Fail, space: space.to_owned(), shape }];
        // A drawing that was not read whole is not marked at all.
        if let (Some(before), Ok(marked)) = (whole(&file), insert(&file, &marks)) {
            prop_assert_eq!(whole(&marked), Some(before));
        }
    }

    #[test]
    fn any_bytes_are_marked_or_refused(bytes in proptest::collection::vec(any::<u8>(), 0..300), binary: bool) {
        let mark = Mark {
            level: Level::Note,
            space: "model".to_owned(),
            shape: Shape::Line { from: Point::new(0.0, 0.0), to: Point::new(1.0, 1.0) },
        };
        let start: &[u8] = if binary { crate::dxf::tags::SIGNATURE } else { b"  0\nSECTION\n  2\nENTITIES\n" };
        for bytes in [bytes.clone(), [start, &bytes].concat()] {
            if let Ok(marked) = insert(&bytes, std::slice::from_ref(&mark)) {
                prop_assert!(holds(&marked, &bytes) || memchr::memmem::find(&bytes, b"$HANDSEED").is_some());
            }
        }
    }
}
