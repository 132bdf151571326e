//! What must hold for every text and every value: nothing panics, spans cover the text, and what is printed reads
//! back as the same value.

use proptest::prelude::*;

use super::{
    Callout, Entry, NamedThread, Part, Quantity, Size, Stage, WrittenCoating, WrittenTolerance, note, read,
};
use crate::joint::ScrewForm;
use crate::trade::{Process, Thread, drill_by_name};
use crate::units::{Angle, Unit};

/// Spans follow one another from the first byte to the last and break no character.
fn assert_covers(callout: &Callout, text: &str) {
    let mut end = 0;
    for span in &callout.spans {
        assert_eq!(span.range.start, end, "{text:?}");
        assert!(span.range.end > span.range.start, "{text:?}");
        assert!(text.is_char_boundary(span.range.end), "{text:?}");
        end = span.range.end;
    }
    assert_eq!(end, text.len(), "{text:?}");
}

fn quantities(c: &Callout) -> Vec<Quantity> {
    let mut all: Vec<Quantity> = Vec::new();
    match &c.size {
        Some(Size::Diameter(q) | Size::Radius(q) | Size::Drill { diameter: q, .. }) => all.push(*q),
        Some(Size::Limits(low, high)) => all.extend([*low, *high]),
        None => {}
    }
    let entries = c.counterbore.into_iter().chain(c.countersink);
    all.extend(entries.flat_map(|e| e.diameter.into_iter().chain(e.depth)));
    all.extend(c.second.into_iter().chain(c.depth).chain(c.thickness));
    all.extend(c.thread.as_ref().and_then(|t| t.depth));
    all
}

/// Pieces that callouts are made of, and some that they are not.
fn fragment() -> impl Strategy<Value = String> {
    let pieces = [
        "4X",
        "4-",
        "(4)",
        "4 PLCS",
        "Ø",
        "%%c",
        "∅",
        "3.65",
        "3,65",
        ".224",
        "7/32",
        "1 1/2",
        "½",
        "\"",
        "mm",
        "DIA",
        "D",
        "R5",
        "#29",
        "\"B\"",
        "NO. 29",
        "DRILL",
        "±.003",
        "+.003/-.000",
        "+0.05",
        "0",
        "-0.02",
        "/",
        "-",
        "H11",
        "h6",
        "THRU",
        "↧12",
        "X",
        "12 DEEP",
        "⌴",
        "⌵",
        "C'BORE",
        "CSK",
        "90°",
        "M4",
        "M4x0.7-6H",
        "1/4-20 UNC-2B",
        "8-32",
        "TAP",
        "TAP DRILL",
        "FOR",
        "SCREW",
        "THREAD ROLLING",
        "DIN 7500",
        "TYPE F",
        "A",
        "HOLE A",
        "ALL HOLES",
        "UNLESS NOTED",
        "TYP",
        "t=2",
        "THK",
        "B.C.",
        "PCD",
        "[5.69]",
        "(5.69)",
        "[",
        "]",
        "(",
        ")",
        ",",
        "\n",
        "穴",
        "貫通",
        "ß",
        "\\P",
        "\\U+2205",
        "%%u",
        "FLUMMOX",
        "G1/4",
        "1/4-18",
        "NPT",
        "Tr20x4",
        "Pg11",
        "MJ6x1",
        "MAX",
        "MIN",
        "X4",
        "x 12",
        "DIAMH7",
        "ST4.2",
        "1.6T",
        "8 µm",
        "60-80",
        "BEFORE",
        "AFTER",
        "PLATING",
        "镀",
        "前",
        "ISO 13715",
        "mittel",
        "全て",
        "とする",
        "12.05.2004",
        "SCALE",
        "1:2",
        "MATERIAL",
        "DC01",
        "16 GA",
        ".XX",
        "ISO 2768-m",
        "TOLERANCE",
        "DIMENSIONS IN",
        "INCHES",
    ];
    (prop::sample::select(pieces.to_vec()), prop::sample::select(vec!["", " ", " ", "  "]))
        .prop_map(|(p, b)| format!("{p}{b}"))
}

/// A number with `decimals` places between `low` and `high`, exactly what its text parses to.
fn number(low: f64, high: f64, unit: Option<Unit>) -> impl Strategy<Value = Quantity> {
    (1u8..=3).prop_flat_map(move |decimals| {
        let scale = 10f64.powi(i32::from(decimals));
        let range = (low * scale).ceil() as u32..=(high * scale).floor() as u32;
        range.prop_map(move |n| Quantity { value: f64::from(n) / scale, unit, decimals })
    })
}

fn any_unit() -> impl Strategy<Value = Option<Unit>> {
    prop::sample::select(vec![None, None, Some(Unit::Mm), Some(Unit::Inch)])
}

fn any_number() -> impl Strategy<Value = Quantity> {
    any_unit().prop_flat_map(|unit| number(0.1, 60.0, unit))
}

fn fraction() -> impl Strategy<Value = Quantity> {
    (1u32..256).prop_filter("whole numbers are decimals", |n| n % 64 != 0).prop_map(|n| Quantity {
        value: f64::from(n) / 64.0,
        unit: Some(Unit::Inch),
        decimals: 0,
    })
}

fn limits() -> impl Strategy<Value = Size> {
    (any_unit().prop_flat_map(|unit| number(1.0, 40.0, unit)), 1u32..90).prop_map(|(low, step)| {
        let scale = 10f64.powi(i32::from(low.decimals));
        let high =
            (low.value * scale).round() + f64::from(step).min((low.value * scale * 0.2).floor().max(1.0));
        Size::Limits(low, Quantity { value: high / scale, ..low })
    })
}

/// A size, and whether it is marked and worked with a drill.
fn size() -> impl Strategy<Value = (Size, bool, Option<Process>)> {
    let drill = prop::sample::select(vec!["#29", "#7", "B", "F"]).prop_map(|name| {
        let inch = drill_by_name(name).map_or(0.0, |d| (d.diameter.inch() * 1e6).round() / 1e6);
        let diameter = Quantity { value: inch, unit: Some(Unit::Inch), decimals: 4 };
        (Size::Drill { name: name.to_owned(), diameter }, true, Some(Process::Drilled))
    });
    prop_oneof![
        4 => any_number().prop_map(|q| (Size::Diameter(q), true, None)),
        1 => fraction().prop_map(|q| (Size::Diameter(q), true, None)),
        1 => limits().prop_map(|l| (l, true, None)),
        1 => drill,
        1 => any_number().prop_map(|q| (Size::Radius(q), false, None)),
    ]
}

fn tolerance() -> impl Strategy<Value = WrittenTolerance> {
    let zero = |q: Quantity| Quantity { value: 0.0, ..q };
    let minus = |q: Quantity| Quantity { value: -q.value, ..q };
    prop_oneof![
        number(0.1, 0.9, None).prop_map(move |q| WrittenTolerance::Deviations { upper: q, lower: minus(q) }),
        number(0.1, 0.9, None).prop_map(move |q| WrittenTolerance::Deviations { upper: q, lower: zero(q) }),
        number(0.1, 0.9, None)
            .prop_map(move |q| WrittenTolerance::Deviations { upper: zero(q), lower: minus(q) }),
        (number(0.5, 0.9, None), number(0.1, 0.4, None))
            .prop_map(|(upper, lower)| WrittenTolerance::Deviations { upper, lower }),
        (number(0.5, 0.9, None), number(0.1, 0.4, None))
            .prop_map(move |(low, up)| WrittenTolerance::Deviations { upper: minus(up), lower: minus(low) }),
        any_unit()
            .prop_flat_map(|unit| number(0.1, 0.9, unit))
            .prop_map(move |q| WrittenTolerance::Deviations { upper: q, lower: minus(q) }),
        prop::sample::select(vec![
            "H7", "H11", "H12", "JS13", "h6", "F7", "P9", "E8", "N9", "K7", "D10", "g6"
        ])
        .prop_map(|f| WrittenTolerance::Fit(f.to_owned())),
        prop::sample::select(vec![WrittenTolerance::Largest, WrittenTolerance::Smallest]),
    ]
}

fn entry(angle: bool) -> impl Strategy<Value = Entry> {
    let angles = prop::sample::select(vec![None, Some(82.0), Some(90.0), Some(120.0)]);
    let length = |low, high| any_unit().prop_flat_map(move |unit| number(low, high, unit));
    (prop::option::of(length(70.0, 90.0)), prop::option::of(length(0.5, 20.0)), angles).prop_map(
        move |(diameter, depth, degrees)| Entry {
            diameter,
            depth,
            angle: degrees.filter(|_| angle).and_then(|d| Angle::from_degrees(d).ok()),
        },
    )
}

/// A thread, whether it is tapped, and the screw it is for with its length.
fn threading() -> impl Strategy<Value = (Option<NamedThread>, bool, Option<ScrewForm>, Option<Quantity>)> {
    let names = vec![
        "M3", "M4", "M5x0.5", "M10", "M2.5", "M8x1", "M20x2", "1/4-20", "8-32", "10-24", "5/16-18", "4-40",
        "1/2-13", "1-8", "10-32",
    ];
    let class =
        prop::sample::select(vec![None, Some("6H"), Some("6G"), Some("4H5H"), Some("2B"), Some("3B")]);
    let form = prop::sample::select(vec![
        None,
        Some(ScrewForm::Rolling),
        Some(ScrewForm::Cutting),
        Some(ScrewForm::Spaced),
    ]);
    let depth = prop::option::of(any_unit().prop_flat_map(|unit| number(2.0, 30.0, unit)));
    (prop::sample::select(names), class, any::<bool>(), depth, any::<bool>(), form, any::<bool>()).prop_map(
        |(name, class, left_hand, depth, tapped, screw, named)| {
            let thread = Thread::parse(name).ok().filter(|_| named);
            // A class belongs to a tapped hole, and to the system of its thread.
            let metric = thread.as_ref().map(|t| t.unit == Unit::Mm);
            let class = class.filter(|c| tapped && metric == Some(!c.ends_with('B'))).map(str::to_owned);
            // A number behind the thread of a screw is the screw's length.
            let length = depth.filter(|_| !tapped && (named || screw.is_some()));
            let depth = depth.filter(|_| tapped);
            (thread.map(|thread| NamedThread { thread, class, left_hand, depth }), tapped, screw, length)
        },
    )
}

/// Threads that are neither metric nor unified, as they are printed.
fn other_thread() -> impl Strategy<Value = Option<&'static str>> {
    let names = vec![
        "G1/4",
        "Rc1/8",
        "Rp3/8",
        "1/4-18 NPT",
        "NPT 1/4",
        "3/8 BSPP",
        "Tr20x4",
        "1/2-10 ACME",
        "Pg11",
        "MJ6x1",
    ];
    prop_oneof![3 => Just(None), 1 => prop::sample::select(names).prop_map(Some)]
}

fn coating() -> impl Strategy<Value = Option<WrittenCoating>> {
    let microns = |n: u32| Quantity { value: f64::from(n) / 1000.0, unit: Some(Unit::Mm), decimals: 3 };
    let thickness = prop::option::of((1u32..200).prop_map(microns));
    let stage = prop::sample::select(vec![None, Some(Stage::Before), Some(Stage::After)]);
    (thickness, stage).prop_map(|(thickness, stage)| {
        let coating = WrittenCoating { thickness, stage };
        (coating != WrittenCoating::default()).then_some(coating)
    })
}

fn process() -> impl Strategy<Value = Option<Process>> {
    prop::option::of(prop::sample::select(vec![
        Process::Drilled,
        Process::Punched,
        Process::Laser,
        Process::Plasma,
        Process::Waterjet,
        Process::Reamed,
        Process::Cored,
        Process::Extruded,
    ]))
}

/// A callout that a drafter could write: a marked size with any of the rest.
fn callout() -> impl Strategy<Value = Callout> {
    let head = (prop::option::of(1u32..200), size(), prop::option::of(tolerance()), process());
    let length = |low, high| any_unit().prop_flat_map(move |unit| number(low, high, unit));
    let depth = (any::<bool>(), prop::option::of(length(1.0, 40.0)));
    let entries = (prop::option::of(entry(false)), prop::option::of(entry(true)));
    let tag = prop::option::of(prop::sample::select(vec!["A", "D", "B1", "C12", "AB"]));
    let rest =
        (prop::option::of(length(0.5, 9.0)), any::<bool>(), any::<bool>(), tag, coating(), other_thread());
    (head, depth, entries, threading(), rest).prop_map(|(head, depth, entries, threading, rest)| {
        let (count, (size, marked_diameter, drilled), tolerance, process) = head;
        let (thickness, general, second, tag, coating, other_thread) = rest;
        // Limits have no single limit beside them.
        let single = matches!(tolerance, Some(WrittenTolerance::Largest | WrittenTolerance::Smallest));
        let tolerance = tolerance.filter(|_| !(single && matches!(size, Size::Limits(..))));
        let other_thread = other_thread.filter(|_| threading.0.is_none()).map(str::to_owned);
        let tapped = threading.1 || other_thread.is_some();
        let second = match &size {
            Size::Diameter(q) if second && q.unit != Some(Unit::Mm) => {
                let mm = (q.value * 25.4 * 100.0).round() / 100.0;
                Some(Quantity { value: mm, unit: None, decimals: 2 })
            }
            Size::Diameter(q) if second && q.value > 2.0 => {
                let inch = (q.value / 25.4 * 1000.0).round() / 1000.0;
                Some(Quantity { value: inch, unit: None, decimals: 3 })
            }
            _ => None,
        };
        Callout {
            count,
            general,
            size: Some(size),
            marked_diameter,
            second,
            tolerance,
            through: depth.0,
            depth: depth.1,
            thread: threading.0,
            tapped,
            other_thread,
            coating,
            screw: threading.2,
            screw_length: threading.3.filter(|_| !tapped),
            counterbore: entries.0,
            countersink: entries.1,
            process: drilled.or(process),
            tag: tag.map(str::to_owned),
            thickness,
            ..Callout::default()
        }
    })
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 1000, failure_persistence: None, ..ProptestConfig::default() })]

    #[test]
    fn any_text_is_covered(text in any::<String>()) {
        assert_covers(&read(&text), &text);
        let _ = note::read(&text);
        let _ = note::read_attribute("MATERIAL", &text);
    }

    #[test]
    fn any_mixture_of_pieces_is_covered(pieces in prop::collection::vec(fragment(), 0..12)) {
        let text = pieces.concat();
        let callout = read(&text);
        assert_covers(&callout, &text);
        for q in quantities(&callout) {
            prop_assert!(q.value.is_finite() && q.value > 0.0 && q.value < 1e6, "{:?} in {:?}", q, text);
        }
        // What is stated was read from somewhere.
        let read_as = |part: Part| callout.spans.iter().any(|s| s.part == part);
        prop_assert!(callout.size.is_none() || read_as(Part::Size), "{:?}", text);
        prop_assert!(callout.count.is_none() || read_as(Part::Count), "{:?}", text);
        prop_assert!(callout.thread.is_none() || read_as(Part::Thread), "{:?}", text);
        for tag in ["MATERIAL", "THK", "SCALE", "UNITS", "TOL", "TITLE"] {
            let _ = note::read_attribute(tag, &text);
        }
        if let Some(scale) = note::read(&text).scale {
            prop_assert!(scale.is_finite() && scale > 0.0, "{:?}", text);
        }
    }

    #[test]
    fn what_is_printed_reads_back(callout in callout(), inch in any::<bool>()) {
        let text = callout.print(if inch { Unit::Inch } else { Unit::Mm });
        let again = read(&text);
        let unread: Vec<&str> = again.unread().collect();
        prop_assert!(unread.is_empty(), "{:?} in {}", unread, text);
        let plain = Callout { text: String::new(), spans: Vec::new(), ..again.clone() };
        prop_assert_eq!(plain, callout, "{}", text);
    }
}
