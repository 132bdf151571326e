//! Entities whose numbers are read together where they are written as usual: they say the same as with a comment behind each
//! pair, where every pair is read by itself.

use boreband::dxf::{Reading, read};
use proptest::prelude::*;
use proptest::sample::select;

type Pair = (i16, String);

/// Numbers as programs and people write them, and what is none.
fn number() -> impl Strategy<Value = String> {
    prop_oneof![
        8 => "-?[0-9]{1,7}\\.[0-9]{1,8}",
        4 => Just("0.0".to_owned()),
        1 => any::<f64>().prop_map(|value| format!("{value:?}")),
        1 => "-?[0-9]{0,9}\\.?[0-9]{0,19}",
        1 => select(vec![" 2.5", "2.5 ", "7", "1e3", "-0.0", "1.5E-2", "+4.0", "", "2,5", "1.5D0", "nan", "1e400", "x"])
            .prop_map(str::to_owned),
    ]
}

/// The pairs of one entity, one of them changed now and then.
fn entity() -> impl Strategy<Value = Vec<Pair>> {
    let kinds: Vec<(&str, &[i16])> = vec![
        ("LINE", &[10, 20, 30, 11, 21, 31]),
        ("LINE", &[10, 20, 11, 21]),
        ("CIRCLE", &[10, 20, 30, 40]),
        ("CIRCLE", &[10, 20, 40]),
        ("ARC", &[10, 20, 30, 40, 50, 51]),
        ("LWPOLYLINE", &[10, 20, 10, 20, 42, 10, 20, 10, 20]),
        ("POLYLINE", &[10, 20, 30]),
        ("VERTEX", &[10, 20, 30]),
        ("SEQEND", &[]),
        ("TEXT", &[10, 20, 30, 40, 1, 50]),
        ("MTEXT", &[10, 20, 30, 40, 1, 11, 21, 31]),
        ("INSERT", &[2, 10, 20, 30, 41, 50]),
        ("DIMENSION", &[10, 20, 30, 11, 21, 31, 70, 13, 23, 33, 14, 24]),
    ];
    let change = prop_oneof![
        6 => Just(None),
        1 => (any::<prop::sample::Index>(), select(vec![0_i16, 5, 6, 8, 39, 60, 62, 100, 102, 210, 230, 370, 1001]))
            .prop_map(Some),
    ];
    let handle = prop_oneof![4 => "[0-9A-F]{1,8}", 1 => "[0-9a-g ]{0,18}", 1 => Just(String::new())];
    (
        select(kinds),
        prop::collection::vec(number(), 12),
        handle,
        select(vec!["0", "HOLES", "holes ", "A B"]),
        change,
    )
        .prop_map(|((name, codes), numbers, handle, layer, change)| {
            let mut pairs = vec![(0, name.to_owned()), (5, handle), (8, layer.to_owned())];
            pairs.extend(codes.iter().copied().zip(numbers));
            if let Some((place, code)) = change {
                let at = place.index(pairs.len());
                pairs.insert(at + 1, (code, if code == 0 { "POINT" } else { "1" }.to_owned()));
            }
            pairs
        })
}

/// How a file is written.
#[derive(Debug, Clone, Copy)]
enum Form {
    /// Text with this end of line, codes in three places or without blanks.
    Text { end: &'static str, padded: bool },
    /// Binary, with group codes of two bytes or of one.
    Binary { wide: bool },
}

fn write(pairs: &[Pair], form: Form, commented: bool) -> Vec<u8> {
    let mut bytes = match form {
        Form::Text { .. } => Vec::new(),
        Form::Binary { .. } => b"AutoCAD Binary DXF\r\n\x1a\0".to_vec(),
    };
    let head = [(0, "SECTION"), (2, "ENTITIES")].map(|(code, value)| (code, value.to_owned()));
    let tail = [(0, "ENDSEC"), (0, "EOF")].map(|(code, value)| (code, value.to_owned()));
    for (code, value) in head.iter().chain(pairs).chain(&tail) {
        put(&mut bytes, (*code, value), form);
        if commented {
            put(&mut bytes, (999, "a comment"), form);
        }
    }
    bytes
}

fn put(bytes: &mut Vec<u8>, (code, value): (i16, &str), form: Form) {
    match form {
        Form::Text { end, padded: true } => bytes.extend(format!("{code:>3}{end}{value}{end}").bytes()),
        Form::Text { end, padded: false } => bytes.extend(format!("{code}{end}{value}{end}").bytes()),
        Form::Binary { wide } => {
            match code {
                _ if wide => bytes.extend(code.to_le_bytes()),
                0..255 => bytes.push(code as u8),
                _ => {
                    bytes.push(255);
                    bytes.extend(code.to_le_bytes());
                }
            }
            match code {
                10..=59 | 210..=239 => bytes.extend(value.trim().parse().unwrap_or(f64::NAN).to_le_bytes()),
                60..=79 | 370 => bytes.extend(1_i16.to_le_bytes()),
                _ => bytes.extend([value.as_bytes(), b"\0"].concat()),
            }
        }
    }
}

/// What a file says, but for the places in it.
fn said(bytes: &[u8]) -> String {
    let Reading { mut drawing, problems } = read(bytes).expect("a readable file");
    let segments = drawing.segments.iter_mut().map(|thing| &mut thing.origin);
    let circles = drawing.circles.iter_mut().map(|thing| &mut thing.origin);
    let arcs = drawing.arcs.iter_mut().map(|thing| &mut thing.origin);
    let texts = drawing.texts.iter_mut().map(|thing| &mut thing.origin);
    let dimensions = drawing.dimensions.iter_mut().map(|thing| &mut thing.origin);
    segments.chain(circles).chain(arcs).chain(texts).chain(dimensions).for_each(|origin| origin.line = 0);
    let problems: Vec<_> = problems.into_iter().map(|problem| (problem.message, problem.loss)).collect();
    format!("{drawing:?} {problems:?}")
}

proptest! {
    #[test]
    fn numbers_that_are_read_together_are_those_that_are_read_alone(
        entities in prop::collection::vec(entity(), 1..12),
        form in select(vec![
            Form::Text { end: "\n", padded: true },
            Form::Text { end: "\r\n", padded: true },
            Form::Text { end: "\n", padded: false },
            Form::Text { end: "\r\n", padded: false },
            Form::Binary { wide: true },
            Form::Binary { wide: false },
        ]),
    ) {
        let pairs = entities.concat();
        prop_assert_eq!(said(&write(&pairs, form, false)), said(&write(&pairs, form, true)));
    }
}
