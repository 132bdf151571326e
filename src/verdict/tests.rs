//! `judge` on holes put together by hand. Expected numbers are worked by hand from the basic profile
//! (percent = 100 (D − d) / (0.649519 P)) and the trade's bands (common practice).

mod advice;
mod bands;
mod policy;
mod properties;
mod sizes;
mod unknowns;
mod working;

use super::*;
use crate::callout::{Callout, Part, Quantity, Size, Span, note::GeneralTolerance};
use crate::drawing::{Origin, Stands};
use crate::geometry::Point;
use crate::joint::{Collar, Making, Row, Screw, StatedSize, Tolerance, UserBand};
use crate::pairing::{
    Joint, PairedBy, SeenCallout, SeenRow, Sheet, ThicknessSource, UnitReading, UnitSource,
};
use crate::practice::{BandRow, Origin as ValueOrigin, Practice};
use crate::trade::{Material, Process};
use crate::units::Unit;

fn mm(value: f64) -> Length {
    Length::from_mm(value).expect("finite")
}

fn inch(value: f64) -> Length {
    Length::from_inch(value).expect("finite")
}

/// A size with deviations, in a unit.
fn size(nominal: f64, plus: f64, minus: f64, decimals: u8, unit: Unit) -> StatedSize {
    let length = |v| Length::new(v, unit).expect("finite");
    StatedSize {
        nominal: Some(length(nominal)),
        tolerance: Some(Tolerance::PlusMinus { plus: length(plus), minus: length(minus) }),
        decimals,
        unit: Some(unit),
    }
}

fn steel(thickness: f64, process: Option<Process>) -> Making {
    Making {
        material: Some(Material::LowCarbonSteel),
        thickness: Some(mm(thickness)),
        process,
        ..Making::default()
    }
}

fn origin() -> Origin {
    Origin { handle: None, layer: 0, line: 1, space: 0, visible: true, insert: None, stands: Stands::Other }
}

/// A hole for a rolling screw, drawn with a diameter, and nothing else.
fn hole(thread: &str, drawn: Length, making: Making) -> Hole {
    Hole {
        id: "H1".into(),
        circle: 0,
        origin: origin(),
        at: Point::default(),
        drawn,
        view_scale: 1.0,
        tag: None,
        callout: None,
        row: None,
        paired_by: PairedBy::Drawn,
        confidence: 1.0,
        reasons: Box::default(),
        joint: Joint {
            screw: Some(Screw {
                thread: Thread::parse(thread).expect("thread"),
                length: None,
                form: ScrewForm::Rolling,
            }),
            making,
            thickness_source: ThicknessSource::List,
            called: None,
            listed: None,
            entry: None,
            depth: None,
        }
        .into(),
    }
}

fn sheet_of(unit: Unit) -> Paired {
    Paired {
        unit: UnitReading { unit, source: UnitSource::Header, votes: Vec::new(), doubtful: false },
        sheet: Sheet::default(),
        circles: Vec::new(),
        holes: Vec::new(),
        callouts: Vec::new(),
        rows: Vec::new(),
        conflicts: Vec::new(),
        surroundings: Vec::new(),
    }
}

/// A callout of parts that are read by hand.
fn callout(parts: &[(&str, Part)]) -> Callout {
    let mut made = Callout::default();
    for (text, part) in parts {
        let start = made.text.len();
        made.text.push_str(text);
        made.spans.push(Span { range: start..made.text.len(), part: *part });
        made.tapped |= *part == Part::Tapped;
    }
    made.size = Some(Size::Diameter(Quantity { value: 0.0, unit: None, decimals: 0 }));
    made
}

/// Judges by the trade alone.
fn by_trade(hole: &Hole, paired: &Paired) -> Judged {
    judge(hole, paired, &Practice::default())
}

/// Judges a hole with a callout of these parts.
fn called(mut hole: Hole, stated: StatedSize, parts: &[(&str, Part)], unit: Unit) -> Judged {
    let mut paired = sheet_of(unit);
    paired.callouts.push(SeenCallout {
        callout: callout(parts).into(),
        origin: origin(),
        at: Point::default(),
        holes: vec![0],
        left: None,
        claims: Vec::new(),
        measured: false,
    });
    hole.callout = Some(0);
    hole.called = Some(stated);
    by_trade(&hole, &paired)
}

const FOUR_HOLES: &[(&str, Part)] = &[
    ("4X", Part::Count),
    (" ", Part::Filler),
    ("Ø3.3", Part::Size),
    (" ", Part::Filler),
    ("+0.05/-0", Part::Tolerance),
    (" ", Part::Filler),
    ("THRU", Part::Depth),
];

/// Tight before in band before loose, for orders of sizes.
fn rank_of_size(verdict: Option<Verdict>) -> i32 {
    match verdict {
        Some(Verdict::Tight) => -1,
        Some(Verdict::Loose) => 1,
        _ => 0,
    }
}

fn close(a: f64, b: f64, within: f64) {
    assert!((a - b).abs() <= within, "{a}, expected {b}");
}
