//! What the drawings show.

use super::pairs::{Form, Pairs};

/// Numbers that look drawn, the same for a seed everywhere.
struct Random(u64);

impl Random {
    fn unit(&mut self) -> f64 {
        // Constants of the 64-bit linear generator of Knuth's MMIX.
        self.0 = self.0.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1_442_695_040_888_963_407);
        (self.0 >> 11) as f64 / (1_u64 << 53) as f64
    }

    fn within(&mut self, low: f64, high: f64) -> f64 {
        low + (high - low) * self.unit()
    }
}

/// A drawing of at least `size` bytes.
pub(crate) fn drawing(form: Form, size: usize, seed: u64) -> Vec<u8> {
    let mut p = Pairs::new(form);
    let mut random = Random(seed);
    head(&mut p);
    p.section("ENTITIES");
    title_block(&mut p);
    let mut n = 0;
    while p.bytes.len() < size {
        feature(&mut p, &mut random, n);
        n += 1;
    }
    p.text(0, "ENDSEC");
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
    p.text(0, "ENDSEC");
    p.section("TABLES");
    p.text(0, "TABLE");
    p.text(2, "LAYER");
    p.int(70, 4);
    for name in ["0", "HOLES", "OUTLINE", "TEXT"] {
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
    p.section("BLOCKS");
    block(p, "BOSS", |p| {
        for i in 0..4 {
            circle(p, f64::from(i) * 6.0, 0.0, 1.8);
            line(p, (f64::from(i), -1.0), (f64::from(i), 1.0));
        }
    });
    p.text(0, "ENDSEC");
}

fn block(p: &mut Pairs, name: &str, content: impl FnOnce(&mut Pairs)) {
    p.entity("BLOCK", "0", "AcDbBlockBegin");
    p.text(2, name);
    p.int(70, 0);
    p.point(10, 0.0, 0.0);
    p.text(3, name);
    p.text(1, "");
    content(p);
    p.entity("ENDBLK", "0", "AcDbBlockEnd");
}

fn title_block(p: &mut Pairs) {
    for (from, to) in [((0.0, -60.0), (180.0, -60.0)), ((180.0, -60.0), (180.0, -20.0))] {
        line(p, from, to);
    }
    let lines =
        ["MATERIAL", "DC01 EN 10130", "THICKNESS 1.5 mm", "UNLESS OTHERWISE STATED ISO 2768-m", "SCALE 1:1"];
    for (n, text) in lines.iter().enumerate() {
        note(p, text, 5.0, -25.0 - 6.0 * n as f64);
    }
}

/// A hole with its callout and some of the part around it.
fn feature(p: &mut Pairs, random: &mut Random, n: usize) {
    let (x, y) = (random.within(0.0, 1000.0), random.within(0.0, 1000.0));
    circle(p, x, y, random.within(1.0, 3.0));
    for _ in 0..6 {
        let from = (x + random.within(-9.0, 9.0), y + random.within(-9.0, 9.0));
        line(p, from, (x + random.within(-9.0, 9.0), y));
    }
    arc(p, x, y);
    let near = |random: &mut Random| (x + random.unit(), y + random.unit());
    let corners: Vec<_> = (0..20).map(|_| near(random)).collect();
    outline(p, &corners);
    if !p.form.r12 {
        spline(p, &corners[..8]);
        hatch(p, &corners[..12]);
        p.entity("MTEXT", "TEXT", "AcDbMText");
        p.point(10, x + 4.0, y + 4.0);
        p.real(40, 2.5);
        p.real(41, 40.0);
        p.int(71, 1);
        p.text(1, "4X %%c3.65 {\\H0.7x;\\S+0.05^ 0;} THRU");
    }
    note(p, &format!("%%c{:.2} H{n}", random.within(2.0, 6.0)), x + 2.0, y + 2.0);
    if n.is_multiple_of(10) {
        p.entity("INSERT", "0", "AcDbBlockReference");
        p.text(2, "BOSS");
        p.point(10, x, y);
        p.real(50, random.within(0.0, 360.0));
    }
    if n.is_multiple_of(20) {
        dimension(p, x, y);
    }
}

fn circle(p: &mut Pairs, x: f64, y: f64, radius: f64) {
    p.entity("CIRCLE", "HOLES", "AcDbCircle");
    p.point(10, x, y);
    p.real(40, radius);
}

fn line(p: &mut Pairs, from: (f64, f64), to: (f64, f64)) {
    p.entity("LINE", "OUTLINE", "AcDbLine");
    p.point(10, from.0, from.1);
    p.point(11, to.0, to.1);
}

fn arc(p: &mut Pairs, x: f64, y: f64) {
    p.entity("ARC", "OUTLINE", "AcDbCircle");
    p.point(10, x, y);
    p.real(40, 4.5);
    p.subclass("AcDbArc");
    p.real(50, 30.0);
    p.real(51, 200.0);
}

fn note(p: &mut Pairs, text: &str, x: f64, y: f64) {
    p.entity("TEXT", "TEXT", "AcDbText");
    p.point(10, x, y);
    p.real(40, 2.5);
    p.text(1, text);
    p.subclass("AcDbText");
}

fn outline(p: &mut Pairs, corners: &[(f64, f64)]) {
    if p.form.r12 {
        p.entity("POLYLINE", "OUTLINE", "");
        p.int(66, 1);
        p.point(10, 0.0, 0.0);
        p.int(70, 1);
        for corner in &corners[..8] {
            p.entity("VERTEX", "OUTLINE", "");
            p.point(10, corner.0, corner.1);
        }
        p.entity("SEQEND", "OUTLINE", "");
        return;
    }
    p.entity("LWPOLYLINE", "OUTLINE", "AcDbPolyline");
    p.int(90, corners.len() as i32);
    p.int(70, 1);
    for corner in corners {
        p.real(10, corner.0);
        p.real(20, corner.1);
    }
}

fn spline(p: &mut Pairs, points: &[(f64, f64)]) {
    p.entity("SPLINE", "OUTLINE", "AcDbSpline");
    p.int(70, 8);
    p.int(71, 3);
    p.int(72, points.len() as i32 + 4);
    p.int(73, points.len() as i32);
    p.int(74, 0);
    for knot in 0..points.len() + 4 {
        p.real(40, knot as f64);
    }
    for point in points {
        p.point(10, point.0, point.1);
    }
}

fn hatch(p: &mut Pairs, corners: &[(f64, f64)]) {
    p.entity("HATCH", "OUTLINE", "AcDbHatch");
    p.point(10, 0.0, 0.0);
    p.text(2, "SOLID");
    p.int(70, 1);
    p.int(71, 0);
    p.int(91, 1);
    p.int(92, 2);
    p.int(72, 0);
    p.int(73, 1);
    p.int(93, corners.len() as i32);
    for corner in corners {
        p.real(10, corner.0);
        p.real(20, corner.1);
    }
    p.int(97, 0);
    p.int(75, 1);
    p.int(76, 1);
    p.int(98, 0);
}

fn dimension(p: &mut Pairs, x: f64, y: f64) {
    p.entity("DIMENSION", "TEXT", "AcDbDimension");
    p.point(10, x, y + 6.0);
    p.point(11, x + 3.0, y + 6.0);
    p.int(70, 0);
    p.text(1, "<>");
    p.text(3, "STANDARD");
    p.subclass("AcDbAlignedDimension");
    p.point(13, x, y);
    p.point(14, x + 6.0, y);
    p.real(50, 0.0);
    p.subclass("AcDbRotatedDimension");
}
