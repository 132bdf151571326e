//! What entities of one kind open with, where the one before opened alike, nearly alike, or oddly.

use std::num::NonZeroU64;

use boreband::drawing::Origin;
use boreband::dxf::Reading;

use super::{file, reading};

/// Groups in front of the first coordinate; the handle, layer and sight that they state.
const OPENINGS: [(&str, Option<u64>, &str, bool); 14] = [
    ("5 A1\n330 1F\n100 AcDbEntity\n8 EDGES\n100 AcDbLine", Some(0xA1), "EDGES", true),
    ("5 A2\n330 1F\n100 AcDbEntity\n8 EDGES\n100 AcDbLine", Some(0xA2), "EDGES", true),
    ("5 A3F\n330 1F\n100 AcDbEntity\n8 EDGED\n100 AcDbLine", Some(0xA3F), "EDGED", true),
    ("330 1F\n100 AcDbEntity\n8 EDGES\n100 AcDbLine", None, "EDGES", true),
    ("330 1F\n100 AcDbEntity\n8 EDGES\n60 1\n100 AcDbLine", None, "EDGES", false),
    ("8 EDGES", None, "EDGES", true),
    ("8 EDGES\n8 LATER", None, "EDGES", true),
    ("8 EDGES\n5 A7", Some(0xA7), "EDGES", true),
    // The first handle counts, 0 is none.
    ("5 A8\n5 A9\n8 EDGES", Some(0xA8), "EDGES", true),
    ("5 0\n8 EDGES", None, "EDGES", true),
    ("5 0\n8 EDGES\n5 AA", Some(0xAA), "EDGES", true),
    ("5 AB\n102 {ACAD_REACTORS\n330 2A\n5 AC\n102 }\n330 1F\n8 EDGES", Some(0xAB), "EDGES", true),
    ("5 AD\n999 a note\n8 EDGES", Some(0xAD), "EDGES", true),
    ("5 AE", Some(0xAE), "0", true),
];

/// The rest of each kind, and what is found of the entities of that kind.
type Kind = (&'static str, &'static str, fn(&Reading) -> Vec<&Origin>);

const KINDS: [Kind; 9] = [
    ("LINE", "10 1\n20 2\n30 0\n11 3\n21 4\n31 0", segments),
    ("LWPOLYLINE", "90 2\n70 0\n10 1\n20 2\n10 3\n20 4", segments),
    ("CIRCLE", "10 1\n20 2\n30 0\n40 5", |r| r.drawing.circles.iter().map(|c| &c.origin).collect()),
    ("ARC", "10 1\n20 2\n30 0\n40 5\n50 0\n51 90", arcs),
    ("ARC", "10 1\n20 2\n30 0\n40 5\n100 AcDbArc\n50 0\n51 90", arcs),
    ("TEXT", "10 1\n20 2\n30 0\n40 5\n1 note", texts),
    ("MTEXT", "10 1\n20 2\n30 0\n40 5\n1 note", texts),
    ("LEADER", "10 1\n20 2\n30 0\n10 3\n20 4\n30 0", |r| {
        r.drawing.leaders.iter().map(|l| &l.origin).collect()
    }),
    ("DIMENSION", "2 *D1\n10 1\n20 2\n30 0\n70 0\n13 1\n23 2\n14 3\n24 4", |r| {
        r.drawing.dimensions.iter().map(|d| &d.origin).collect()
    }),
];

fn segments(reading: &Reading) -> Vec<&Origin> {
    reading.drawing.segments.iter().map(|segment| &segment.origin).collect()
}

fn arcs(reading: &Reading) -> Vec<&Origin> {
    reading.drawing.arcs.iter().map(|arc| &arc.origin).collect()
}

fn texts(reading: &Reading) -> Vec<&Origin> {
    reading.drawing.texts.iter().map(|text| &text.origin).collect()
}

#[test]
fn each_entity_has_what_it_states_whatever_stands_before_it() {
    for (name, numbers, origins) in KINDS {
        for first in OPENINGS {
            for second in OPENINGS {
                // Those that were met before come again, from the last to one that is forgotten.
                let openings = [first, second, first, OPENINGS[0], OPENINGS[4], OPENINGS[5], second, first];
                let entities =
                    openings.map(|(opening, ..)| format!("0 {name}\n{opening}\n{numbers}")).join("\n");
                let reading = reading(&file("AC1015", "", "", &entities));
                let found: Vec<_> = origins(&reading)
                    .iter()
                    .map(|o| {
                        (
                            o.handle.map(NonZeroU64::get),
                            reading.drawing.layers[o.layer as usize].name.as_str(),
                            o.visible,
                        )
                    })
                    .collect();
                let stated = openings.map(|(_, handle, layer, sight)| (handle, layer, sight));
                assert_eq!(found, stated, "{entities}");
            }
        }
    }
}

#[test]
fn groups_behind_the_coordinates_count_as_well() {
    let line = "0 LINE\n8 EDGES\n10 1\n20 2\n30 0\n11 3\n21 4\n31 0";
    let reading = reading(&file("AC1015", "", "", &format!("{line}\n{line}\n5 B1\n60 1\n11 7\n{line}")));
    let found: Vec<_> = reading
        .drawing
        .segments
        .iter()
        .map(|s| (s.origin.handle.map(NonZeroU64::get), s.origin.visible, s.to.x))
        .collect();
    assert_eq!(found, [(None, true, 3.0), (Some(0xB1), false, 7.0), (None, true, 3.0)]);
}

/// A fault in an opening is told with its own line, however often it is met.
#[test]
fn faults_in_openings_are_told_at_their_places() {
    let bad = "0 LINE\n5 C1\n8 EDGES\n60 x\n10 1\n20 2\n11 3\n21 4";
    let reading = reading(&file("AC1015", "", "", &[bad; 3].join("\n")));
    assert!(reading.drawing.segments.is_empty());
    let lines: Vec<u64> = reading.problems.iter().filter(|p| p.loss).map(|p| p.line).collect();
    // Hand count: 13 pairs, which are 26 lines, up to the name of the section; then the value of the fourth pair of each.
    assert_eq!(lines, [34, 50, 66]);
}
