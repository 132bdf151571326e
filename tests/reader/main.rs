//! The reader on whole files: what it finds, what it bears, what it reports as lost.

mod blocks;
mod bounds;
mod damage;
mod dimensions;
mod early;
mod foreign;
mod layers;
mod numbers;
mod openings;
mod other_writer;
mod properties;
mod runs;
mod shapes;
mod spaces;
mod texts;
mod tolerance;

use std::cmp::Ordering;

use boreband::drawing::{Circular, Problem};
use boreband::dxf::{Reading, read};

/// Pairs written as `code value` on one line each, as a text file holds them.
pub(crate) fn pairs(short: &str) -> String {
    let mut out = String::new();
    for line in short.lines().map(str::trim_start).filter(|l| !l.is_empty()) {
        let (code, value) = line.split_once(' ').unwrap_or((line, ""));
        out.push_str(&format!("{code:>3}\n{value}\n"));
    }
    out
}

/// A file with these entities and nothing else.
pub(crate) fn entities(short: &str) -> String {
    pairs(&format!("0 SECTION\n2 ENTITIES\n{short}\n0 ENDSEC\n0 EOF"))
}

/// A file of a version with these tables, blocks and entities.
pub(crate) fn file(version: &str, tables: &str, blocks: &str, entities: &str) -> String {
    pairs(&format!(
        "0 SECTION\n2 HEADER\n9 $ACADVER\n1 {version}\n0 ENDSEC\n\
         0 SECTION\n2 TABLES\n{tables}\n0 ENDSEC\n\
         0 SECTION\n2 BLOCKS\n{blocks}\n0 ENDSEC\n\
         0 SECTION\n2 ENTITIES\n{entities}\n0 ENDSEC\n0 EOF"
    ))
}

/// What a file that can be read gives.
pub(crate) fn reading(text: &str) -> Reading {
    read(text.as_bytes()).expect("a readable file")
}

/// What a file that must be read without any loss gives.
pub(crate) fn whole(text: &str) -> Reading {
    let reading = reading(text);
    assert_eq!(losses(&reading), Vec::<&Problem>::new());
    reading
}

pub(crate) fn losses(reading: &Reading) -> Vec<&Problem> {
    reading.problems.iter().filter(|p| p.loss).collect()
}

/// Centre and diameter of each circle.
pub(crate) fn circles(reading: &Reading) -> Vec<(f64, f64, f64)> {
    reading.drawing.circles.iter().map(numbers_of).collect()
}

fn numbers_of(circle: &Circular) -> (f64, f64, f64) {
    (circle.center.x, circle.center.y, circle.diameter)
}

/// The circles lie where they should within rounding, in any order.
pub(crate) fn assert_circles(reading: &Reading, expected: &[(f64, f64, f64)]) {
    let mut found = circles(reading);
    let mut expected = expected.to_vec();
    let order = |a: &(f64, f64, f64), b: &(f64, f64, f64)| {
        let mut parts = [(a.0, b.0), (a.1, b.1), (a.2, b.2)].into_iter();
        parts.find(|(a, b)| (a - b).abs() > 1e-6).map_or(Ordering::Equal, |(a, b)| a.total_cmp(&b))
    };
    found.sort_by(order);
    expected.sort_by(order);
    assert_eq!(found.len(), expected.len(), "{found:?}");
    for (f, e) in found.iter().zip(&expected) {
        let off = (f.0 - e.0).abs().max((f.1 - e.1).abs()).max((f.2 - e.2).abs());
        assert!(off < 1e-9, "found {f:?}, expected {e:?}");
    }
}
