//! What the drawings show: sheets as a drafter releases them. A frame with title block and notes, and the regions of
//! a part side by side, each with its edges, a pattern of holes with centre marks and one callout, and a dimension.

use super::entities::{
    arc, block, circle, dimension, ellipse, hatch, insert, leader, line, note, outline, paragraph, spline,
};
use super::pairs::Pairs;
use super::{Form, Random};

/// Regions stand on a grid of this pitch (drawing units), so that nothing lies over another.
const PITCH: f64 = 80.0;
/// Regions in a row.
const COLUMNS: usize = 8;
/// Bytes of a drawing for each block that shows a dimension.
const BYTES_PER_DIMENSION: usize = 6_000;

/// A drawing of at least `size` bytes.
pub(crate) fn drawing(form: Form, size: usize, seed: u64) -> Vec<u8> {
    let mut p = Pairs::new(form);
    let mut random = Random(seed);
    let dimensions = size / BYTES_PER_DIMENSION;
    head(&mut p);
    blocks(&mut p, dimensions);
    p.section("ENTITIES");
    title_block(&mut p, seed);
    // Of a drawing about a fifth stands after its entities.
    let end = if form.r12 { size } else { size - size / 5 };
    let mut n = 0;
    while n == 0 || p.bytes.len() < end {
        region(&mut p, &mut random, n, dimensions);
        n += 1;
    }
    p.text(0, "ENDSEC");
    if !form.r12 {
        objects(&mut p, size);
    }
    p.text(0, "EOF");
    p.bytes
}

fn head(p: &mut Pairs) {
    p.section("HEADER");
    p.text(9, "$ACADVER");
    p.text(1, if p.form.r12 { "AC1009" } else { "AC1032" });
    if !p.form.r12 {
        p.text(9, "$INSUNITS");
        p.int(70, 4);
    }
    for name in ["$LTSCALE", "$TEXTSIZE", "$DIMSCALE", "$DIMASZ", "$DIMEXO", "$DIMEXE", "$DIMTXT", "$DIMLFAC"]
    {
        p.text(9, name);
        p.real(40, 1.0);
    }
    for name in
        ["$ORTHOMODE", "$FILLMODE", "$MIRRTEXT", "$DIMTIH", "$DIMTAD", "$LUNITS", "$LUPREC", "$AUNITS"]
    {
        p.text(9, name);
        p.int(70, 0);
    }
    p.text(0, "ENDSEC");
    p.section("TABLES");
    p.text(0, "TABLE");
    p.text(2, "LAYER");
    p.int(70, 5);
    for name in ["0", "HOLES", "OUTLINE", "CENTRE", "TEXT"] {
        p.text(0, "LAYER");
        p.subclass("AcDbSymbolTableRecord");
        p.subclass("AcDbLayerTableRecord");
        p.text(2, name);
        p.int(70, 0);
        p.int(62, 7);
        p.text(6, "CONTINUOUS");
    }
    p.text(0, "ENDTAB");
    p.text(0, "ENDSEC");
}

/// A part that is inserted, and what each dimension looks like.
fn blocks(p: &mut Pairs, dimensions: usize) {
    p.section("BLOCKS");
    block(p, "BOSS", |p| {
        for i in 0..4 {
            circle(p, (f64::from(i) * 6.0, 0.0), 1.8);
            line(p, "OUTLINE", (f64::from(i) * 6.0, -2.5), (f64::from(i) * 6.0, 2.5));
        }
    });
    for n in 0..dimensions {
        block(p, &format!("*D{n}"), |p| {
            for x in [0.0, 50.0] {
                line(p, "TEXT", (x, 0.0), (x, -9.0));
            }
            line(p, "TEXT", (0.0, -8.0), (50.0, -8.0));
            paragraph(p, &["50"], (25.0, -7.0));
        });
    }
    p.text(0, "ENDSEC");
}

fn title_block(p: &mut Pairs, seed: u64) {
    for n in 0..5 {
        let y = -20.0 - 10.0 * f64::from(n);
        line(p, "OUTLINE", (400.0, y), (580.0, y));
    }
    for x in [400.0, 460.0, 580.0] {
        line(p, "OUTLINE", (x, -20.0), (x, -60.0));
    }
    let part = format!("BR-{seed:05}");
    let entries =
        [("PART", part.as_str()), ("MATERIAL", "DC01 EN 10130"), ("THICKNESS", "1.5 mm"), ("SCALE", "1:1")];
    for (n, (label, value)) in entries.into_iter().enumerate() {
        let y = -27.0 - 10.0 * n as f64;
        note(p, label, (402.0, y));
        note(p, value, (462.0, y));
    }
    let notes = [
        "NOTES:",
        "1. UNLESS OTHERWISE STATED ISO 2768-m",
        "2. BREAK SHARP EDGES 0.2 MAX",
        "3. SURFACE ZINC PLATED 8 \u{b5}m",
    ];
    let notes = if p.form.r12 { &notes[..3] } else { &notes[..] };
    paragraph(p, notes, (10.0, -22.0));
}

/// What stands at the leader of a pattern, with the holes it counts and their diameter.
const CALLOUTS: [(&str, usize, f64); 8] = [
    ("4X %%c3.65 THRU", 4, 3.65),
    ("6X %%c5.5", 6, 5.5),
    ("2X %%c8 H7", 2, 8.0),
    ("4X %%c3.6 %%p0.05 FOR M4 THREAD ROLLING SCREW", 4, 3.6),
    ("3X M5 - 6H", 3, 4.2),
    ("%%c12.7", 1, 12.7),
    ("4X %%c4.5 +0.1/0 THRU", 4, 4.5),
    ("2X %%c6.6 CBORE %%c11 DEPTH 6", 2, 6.6),
];

/// A region of the part: about fifty entities.
fn region(p: &mut Pairs, random: &mut Random, n: usize, dimensions: usize) {
    let at = ((n % COLUMNS) as f64 * PITCH, (n / COLUMNS) as f64 * PITCH);
    edges(p, random, at);
    holes(p, at, CALLOUTS[random.below(CALLOUTS.len())]);
    let name = format!("*D{n}");
    dimension(p, (n < dimensions).then_some(name.as_str()), at, (at.0 + 50.0, at.1));
    match n % 6 {
        1 if !p.form.r12 => spline(p, &wave(random, at)),
        2 => insert(p, "BOSS", (at.0 + 6.0, at.1 + 54.0), 0.0),
        3 if !p.form.r12 => hatch(p, &wave(random, at)),
        4 if !p.form.r12 => ellipse(p, (at.0 + 30.0, at.1 + 54.0)),
        5 => note(p, &format!("DETAIL {n}"), (at.0, at.1 + 66.0)),
        _ => {}
    }
}

/// A contour of many short edges, and a slot.
fn edges(p: &mut Pairs, random: &mut Random, (x, y): (f64, f64)) {
    let mut from = (x, y);
    for step in 1..=24 {
        let rise = if step % 2 == 0 { 0.0 } else { random.within(0.5, 3.0) };
        let to = (x + 2.5 * f64::from(step), y + rise);
        line(p, "OUTLINE", from, to);
        from = to;
    }
    outline(p, &[(x, y), (x + 60.0, y), (x + 60.0, y + 60.0), (x + 30.0, y + 62.0), (x, y + 60.0)]);
    for (side, start) in [(8.0, 90.0), (20.0, 270.0)] {
        arc(p, (x + side, y + 46.0), 3.0, start, start + 180.0);
    }
    for side in [43.0, 49.0] {
        line(p, "OUTLINE", (x + 8.0, y + side), (x + 20.0, y + side));
    }
}

/// Holes in a row or two with centre marks, and the callout with its leader at the first.
fn holes(p: &mut Pairs, (x, y): (f64, f64), (callout, count, diameter): (&str, usize, f64)) {
    let place = |n: usize| (x + 10.0 + 14.0 * (n % 3) as f64, y + 14.0 + 14.0 * (n / 3) as f64);
    for n in 0..count {
        let (x, y) = place(n);
        circle(p, (x, y), diameter / 2.0);
        let reach = diameter / 2.0 + 1.0;
        line(p, "CENTRE", (x - reach, y), (x + reach, y));
        line(p, "CENTRE", (x, y - reach), (x, y + reach));
    }
    let first = place(0);
    let tip = (first.0 - diameter / 2.0 * 0.6, first.1 + diameter / 2.0 * 0.8);
    leader(p, tip, (x + 5.0, y + 36.0), (x + 7.0, y + 36.0));
    paragraph(p, &[callout], (x + 8.0, y + 37.0));
}

fn wave(random: &mut Random, (x, y): (f64, f64)) -> Vec<(f64, f64)> {
    (0..14).map(|n| (x + 40.0 + f64::from(n), y + 50.0 + random.within(0.0, 4.0))).collect()
}

/// Dictionaries and layouts, which say nothing of holes, up to `size` bytes.
fn objects(p: &mut Pairs, size: usize) {
    p.section("OBJECTS");
    let mut n = 0;
    while n == 0 || p.bytes.len() < size {
        p.entity("DICTIONARY", "0", "AcDbDictionary");
        p.int(281, 1);
        for entry in 0..8 {
            p.text(3, &format!("ENTRY_{n}_{entry}"));
            p.text(350, &format!("{:X}", 0x4000 + 8 * n + entry));
        }
        n += 1;
    }
    p.text(0, "ENDSEC");
}
