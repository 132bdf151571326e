//! The entities that drawings of the benches are made of.

use super::pairs::Pairs;

type At = (f64, f64);

pub(super) fn block(p: &mut Pairs, name: &str, content: impl FnOnce(&mut Pairs)) {
    p.entity("BLOCK", "0", "AcDbBlockBegin");
    p.text(2, name);
    p.int(70, 0);
    p.point(10, 0.0, 0.0);
    p.text(3, name);
    p.text(1, "");
    content(p);
    p.entity("ENDBLK", "0", "AcDbBlockEnd");
}

pub(super) fn insert(p: &mut Pairs, name: &str, (x, y): At, turned: f64) {
    p.entity("INSERT", "0", "AcDbBlockReference");
    p.text(2, name);
    p.point(10, x, y);
    p.real(50, turned);
}

pub(super) fn circle(p: &mut Pairs, (x, y): At, radius: f64) {
    p.entity("CIRCLE", "HOLES", "AcDbCircle");
    p.point(10, x, y);
    p.real(40, radius);
}

pub(super) fn line(p: &mut Pairs, layer: &str, from: At, to: At) {
    p.entity("LINE", layer, "AcDbLine");
    p.point(10, from.0, from.1);
    p.point(11, to.0, to.1);
}

pub(super) fn arc(p: &mut Pairs, (x, y): At, radius: f64, from: f64, to: f64) {
    p.entity("ARC", "OUTLINE", "AcDbCircle");
    p.point(10, x, y);
    p.real(40, radius);
    p.subclass("AcDbArc");
    p.real(50, from);
    p.real(51, to);
}

pub(super) fn note(p: &mut Pairs, text: &str, (x, y): At) {
    p.entity("TEXT", "TEXT", "AcDbText");
    p.point(10, x, y);
    p.real(40, 2.5);
    p.text(1, text);
    p.subclass("AcDbText");
}

/// A text of several lines; R12 knows none and gets the lines one by one.
pub(super) fn paragraph(p: &mut Pairs, lines: &[&str], (x, y): At) {
    if p.form.r12 {
        for (n, text) in lines.iter().enumerate() {
            note(p, text, (x, y - 4.0 * n as f64));
        }
        return;
    }
    p.entity("MTEXT", "TEXT", "AcDbMText");
    p.point(10, x, y);
    p.real(40, 2.5);
    p.real(41, 60.0);
    p.int(71, 1);
    p.text(1, &format!("{{\\fArial|b0|i0|c0|p34;{}}}", lines.join("\\P")));
    p.text(7, "STANDARD");
    p.real(50, 0.0);
}

/// A leader of two legs; R12 draws it of lines.
pub(super) fn leader(p: &mut Pairs, tip: At, knee: At, end: At) {
    if p.form.r12 {
        line(p, "TEXT", tip, knee);
        line(p, "TEXT", knee, end);
        return;
    }
    p.entity("LEADER", "TEXT", "AcDbLeader");
    p.text(3, "STANDARD");
    p.int(71, 1);
    p.int(72, 0);
    p.int(73, 3);
    p.int(76, 3);
    for (x, y) in [tip, knee, end] {
        p.point(10, x, y);
    }
}

/// A closed outline.
pub(super) fn outline(p: &mut Pairs, corners: &[At]) {
    if p.form.r12 {
        p.entity("POLYLINE", "OUTLINE", "");
        p.int(66, 1);
        p.point(10, 0.0, 0.0);
        p.int(70, 1);
        for corner in corners {
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

pub(super) fn ellipse(p: &mut Pairs, (x, y): At) {
    p.entity("ELLIPSE", "OUTLINE", "AcDbEllipse");
    p.point(10, x, y);
    p.point(11, 7.0, 0.0);
    p.real(40, 0.4);
    p.real(41, 0.0);
    p.real(42, std::f64::consts::TAU);
}

pub(super) fn spline(p: &mut Pairs, points: &[At]) {
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

pub(super) fn hatch(p: &mut Pairs, corners: &[At]) {
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

/// A linear dimension between two points, with the name of the block that shows it if there is one.
pub(super) fn dimension(p: &mut Pairs, block: Option<&str>, from: At, to: At) {
    p.entity("DIMENSION", "TEXT", "AcDbDimension");
    if let Some(name) = block {
        p.text(2, name);
    }
    p.point(10, to.0, to.1 - 8.0);
    p.point(11, f64::midpoint(from.0, to.0), to.1 - 7.0);
    p.int(70, 0);
    p.text(1, "<>");
    p.text(3, "STANDARD");
    p.subclass("AcDbAlignedDimension");
    p.point(13, from.0, from.1);
    p.point(14, to.0, to.1);
    p.real(50, 0.0);
    p.subclass("AcDbRotatedDimension");
}
