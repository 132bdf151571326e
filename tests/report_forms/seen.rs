//! What is seen on a drawing, as text: made by hand, compared with golden files, safe to show.

use boreband::callout::{Callout, Part, Span};
use boreband::check::{CalloutSeen, CircleResult, Examined, HoleResult, Reads, SeenDrawing};
use boreband::drawing::{Drawing, Origin, ReadState, Stands};
use boreband::geometry::Point;
use boreband::joint::{Row, Screw, ScrewForm};
use boreband::pairing::{Paired, SeenCircle};
use boreband::pairing::{
    PairedBy, SeenCallout, SeenRow, Sheet, ThicknessSource, UnitReading, UnitSource, UnitVote,
};
use boreband::report::clean;
use boreband::report::seen::write;
use boreband::report::text::{Detail, Look};
use boreband::shared::SharedText;
use boreband::trade::Thread;
use boreband::units::{Length, Unit};
use boreband::verdict::Judgements;
use unicode_width::UnicodeWidthStr;

use crate::sample::{self, HOSTILE};

const TEXT: &str = "4X Ø3.3 +0.05/-0 THRU";

fn shown(hole: HoleResult, width: usize, detail: Detail) -> String {
    let (seen, examined) = drawing(hole);
    let mut out = Vec::new();
    write(&seen, &examined, &Look { width, colour: false, detail, ..Look::default() }, &mut out).unwrap();
    String::from_utf8(out).unwrap()
}

/// The four holes of the bracket with their callout, one hole without, a callout without a hole, a row that found
/// none, and circles that are no holes.
fn drawing(alone: HoleResult) -> (SeenDrawing, Examined) {
    let bracket = sample::report().drawings.remove(0);
    let mut holes: Vec<HoleResult> = bracket.holes.into_iter().take(4).collect();
    holes.push(alone);
    let callout = |text: &str, holes: &[&str], left: Option<&str>| CalloutSeen {
        text: text.into(),
        handle: None,
        x: 140.0,
        y: 60.0,
        reads: Reads { unread: vec!["THRU".into()], ..Reads::default() },
        holes: holes.iter().map(|h| SharedText::copied(h)).collect(),
        left: left.map(str::to_owned),
    };
    let circle = |role: &str, hole: Option<&str>| CircleResult {
        x: 120.0,
        y: 45.0,
        diameter: 8.0,
        handle: None,
        layer: "HOLES".into(),
        space: "model".into(),
        made_of: "circle".into(),
        visible: true,
        role: role.into(),
        hole: hole.map(SharedText::copied),
    };
    let seen = SeenDrawing {
        path: "parts/bracket-07.dxf".into(),
        state: "read".into(),
        problems: Vec::new(),
        unit: "mm".into(),
        unit_source: "header".into(),
        thickness_mm: Some(1.5),
        material: Some("low-carbon-steel".into()),
        holes,
        circles: vec![circle("hole", Some("H1")), circle("counterbore", Some("H1")), circle("outline", None)],
        callouts: vec![
            callout(TEXT, &["H1", "H2", "H3", "H4"], None),
            callout(HOSTILE, &[], Some("no circle of that size is near")),
        ],
    };
    (seen, examined())
}

fn examined() -> Examined {
    let origin = Origin {
        handle: None,
        layer: 0,
        line: 7,
        space: 0,
        visible: true,
        insert: None,
        stands: Stands::Other,
    };
    let spans =
        [(0..2, Part::Count), (2..3, Part::Filler), (3..8, Part::Size), (8..TEXT.len(), Part::Unread)];
    let callout = Callout {
        text: TEXT.into(),
        spans: spans.into_iter().map(|(range, part)| Span { range, part }).collect(),
        ..Callout::default()
    };
    let at = Point::new(140.0, 60.0);
    let first = SeenCallout {
        callout: callout.into(),
        origin,
        at,
        holes: vec![0, 1, 2, 3],
        left: None,
        claims: vec![],
        measured: false,
    };
    let thread = Thread::parse("M6").unwrap();
    let row = Row {
        pointer: "/drawings/0/holes/1".into(),
        list: "parts/bracket-07.holes.json".into(),
        tag: Some("B".into()),
        screw: Some(Screw { thread, length: None, form: ScrewForm::Rolling }),
        ..Row::default()
    };
    let vote = UnitVote { unit: Unit::Mm, who: "$INSUNITS 4".into(), weight: 1.0 };
    Examined {
        state: ReadState::Read,
        problems: Vec::new(),
        drawing: Drawing::default(),
        paired: Paired {
            unit: UnitReading {
                unit: Unit::Mm,
                source: UnitSource::Header,
                votes: vec![vote],
                doubtful: false,
            },
            sheet: Sheet {
                thickness: Some((Length::from_mm(1.5).unwrap(), ThicknessSource::TitleBlock)),
                ..Sheet::default()
            },
            circles: Vec::<SeenCircle>::new(),
            holes: Vec::new(),
            callouts: vec![first],
            rows: vec![SeenRow {
                row,
                holes: Vec::new(),
                by: PairedBy::Tag,
                missing_at: Vec::new(),
                left: Some("no callout or circle carries the tag B".into()),
            }],
            conflicts: Vec::new(),
            surroundings: Vec::new(),
        },
        judged: Judgements::default(),
    }
}

/// A hole that stands for itself.
fn alone(name: &'static str) -> HoleResult {
    let mut hole = sample::report().drawings.remove(0).holes.remove(5);
    hole.id = "H5".into();
    hole.tag = None;
    hole.layer = name.into();
    hole
}

#[test]
fn seen_at_80_columns() {
    crate::golden("seen-80.txt", &shown(alone("HOLES"), 80, Detail::Normal));
}

#[test]
fn seen_in_full_at_120_columns() {
    crate::golden("seen-verbose.txt", &shown(alone("HOLES"), 120, Detail::Verbose));
}

#[test]
fn nothing_seen_is_live_or_too_wide() {
    for detail in [Detail::Normal, Detail::Verbose] {
        for width in [40, 80, 160] {
            let text = shown(alone(HOSTILE), width, detail);
            assert!(text.contains("ev\\x1b"));
            assert!(!text.chars().any(|c| clean::is_live(c) && c != '\n'));
            for line in text.lines() {
                assert!(line.width() <= width, "{} columns of {width}: {line}", line.width());
            }
        }
    }
}
