//! What was measured for a term of a pairing's cost: as numbers, put into words only where somebody reads them.

use std::fmt;

/// What was measured, shown in words.
#[derive(Debug, Clone, PartialEq)]
pub enum Detail {
    /// Words alone.
    Words(&'static str),
    /// A tip beside a circle, in letter heights from its rim.
    TipFromRim(f64),
    /// A tag beside a circle, in letter heights from its rim.
    Tag(String, f64),
    /// A table's place, in diameters from the circle's centre.
    TableFromCentre(f64),
    /// A table's place elsewhere: X and Y, drawing units.
    TableElsewhere(f64, f64),
    /// The diameter called out and the one drawn, drawing units.
    Sizes(f64, f64),
    /// The diameter drawn as a part of the major diameter of the thread of this name.
    OfMajor(f64, String),
    /// The diameter drawn, of the size of the hole that is pointed at, drawing units.
    LikeAnchor(f64),
    /// The part of the view, in percent, between a hole and the one that is pointed at.
    OfView(f64),
    /// Letter heights from a text to a rim.
    FromText(f64),
    /// How many circles of one size are drawn in a view.
    Alike(u32),
}

impl From<&'static str> for Detail {
    fn from(words: &'static str) -> Detail {
        Detail::Words(words)
    }
}

impl fmt::Display for Detail {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Detail::Words(words) => f.write_str(words),
            Detail::TipFromRim(heights) => write!(f, "tip {heights:.1} letter heights from the rim"),
            Detail::Tag(tag, heights) => write!(f, "'{tag}' {heights:.1} letter heights from the rim"),
            Detail::TableFromCentre(off) => write!(f, "the table puts it {off:.3} diameters from the centre"),
            Detail::TableElsewhere(x, y) => write!(f, "the table puts it at x {x:.3} y {y:.3}"),
            Detail::Sizes(called, drawn) => write!(f, "called out {called:.4}, drawn {drawn:.4}"),
            Detail::OfMajor(ratio, thread) => {
                write!(f, "drawn at {ratio:.2} of the major diameter of {thread}")
            }
            Detail::LikeAnchor(drawn) => write!(f, "drawn {drawn:.4} like the one pointed at"),
            Detail::OfView(percent) => write!(f, "{percent:.0} % of the view away"),
            Detail::FromText(heights) => write!(f, "{heights:.1} letter heights from text to rim"),
            Detail::Alike(count) => write!(f, "{count} circles of one size are drawn in the view"),
        }
    }
}
