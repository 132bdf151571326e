//! Files that are cut or out of step: all that stands before is read, and the loss is told.

use boreband::dxf::read;

use super::{circles, entities, losses, pairs, reading};

fn many(count: usize) -> String {
    let one = |i: usize| format!("0 CIRCLE\n8 0\n10 {i}\n20 2\n30 0\n40 3\n");
    entities(&(0..count).map(one).collect::<String>())
}

#[test]
fn a_cut_file_gives_what_stands_before_the_cut() {
    let text = many(20);
    let mut most = 0;
    // After "ENDSEC" only EOF is missing, which is no loss.
    let whole_from = text.rfind("ENDSEC\n").map_or(0, |n| n + 6);
    let section = text.find("ENTITIES\n").map_or(0, |n| n + 9);
    for cut in section..whole_from {
        let Ok(reading) = read(&text.as_bytes()[..cut]) else {
            panic!("unreadable at {cut}");
        };
        let found = circles(&reading);
        assert!(found.len() >= most, "at {cut}");
        most = found.len();
        for (i, circle) in found.iter().enumerate() {
            assert_eq!(*circle, (i as f64, 2.0, 6.0), "at {cut}");
        }
        assert!(!losses(&reading).is_empty(), "at {cut}");
        assert!(reading.problems.iter().all(|p| p.line > 0));
    }
    assert_eq!(most, 20);
}

#[test]
fn a_cut_number_is_not_believed() {
    // "40\n12.5" cut to "12.": the radius must not be 12.
    let text = pairs("0 SECTION\n2 ENTITIES\n0 CIRCLE\n10 1\n20 2\n40 12.5");
    let reading = reading(&text[..text.len() - 2]);
    assert!(circles(&reading).is_empty());
    assert_eq!(losses(&reading).len(), 1);
    assert!(losses(&reading)[0].message.contains("cut short"));
}

#[test]
fn a_cut_before_the_entities_is_a_loss() {
    let text = pairs("0 SECTION\n2 HEADER\n9 $ACADVER\n1 AC1015\n0 ENDSEC\n0 SECTION\n2 TABLES\n0 ENDSEC");
    assert_eq!(losses(&reading(&text)).len(), 1);
}

#[test]
fn a_polyline_cut_between_its_vertices_is_not_half_drawn() {
    let text = pairs("0 SECTION\n2 ENTITIES\n0 LWPOLYLINE\n90 4\n70 1\n10 0\n20 0\n42 1\n10 2\n20 0\n42 1");
    let reading = reading(&text);
    assert!(circles(&reading).is_empty());
    assert!(!losses(&reading).is_empty());
}

#[test]
fn a_text_with_a_line_feed_in_it_loses_that_line_only() {
    let text = entities("0 TEXT\n10 1\n20 1\n40 2\n1 FIRST\n0 CIRCLE\n10 1\n20 2\n40 3")
        .replace("FIRST\n", "FIRST\nsecond\n");
    let reading = reading(&text);
    assert_eq!(circles(&reading).len(), 1);
    assert_eq!(reading.drawing.texts[0].content, "FIRST");
    assert_eq!(losses(&reading).len(), 1);
    assert!(losses(&reading)[0].message.contains("second"));
}

#[test]
fn a_missing_line_is_told_and_the_rest_is_read() {
    let good = "0 CIRCLE\n8 A\n10 1\n20 2\n40 3\n";
    let text = entities(&good.repeat(3));
    let lines: Vec<&str> = text.lines().collect();
    // Drop each line of the second circle in turn.
    for drop in 14..24 {
        let damaged: Vec<&str> =
            lines.iter().enumerate().filter(|(i, _)| *i != drop).map(|(_, l)| *l).collect();
        let reading = reading(&(damaged.join("\n") + "\n"));
        let found = circles(&reading);
        let sound = found.iter().filter(|c| **c == (1.0, 2.0, 6.0)).count();
        assert!(sound >= 2, "line {drop}: {found:?}");
        assert!(!losses(&reading).is_empty(), "line {drop}: {found:?}");
    }
}

/// A small generator of numbers that needs no seed from outside, so that every run tries the same bytes.
struct Numbers(u64);

impl Numbers {
    fn below(&mut self, limit: usize) -> usize {
        self.0 ^= self.0 << 13;
        self.0 ^= self.0 >> 7;
        self.0 ^= self.0 << 17;
        (self.0 % limit.max(1) as u64) as usize
    }
}

#[test]
fn no_damage_makes_the_reader_panic_or_hang() {
    let mut numbers = Numbers(0x9E37_79B9_7F4A_7C15);
    let seeds = [many(3).into_bytes(), rich().into_bytes(), binary(&rich())];
    let tokens: [&[u8]; 12] = [
        b"\n",
        b"\r",
        b"  0\n",
        b"nan",
        b"-1",
        b"99999999999999999999",
        b"\0",
        b"{",
        b"\\S",
        b"%%",
        b"\xff\xfe",
        b"1e308",
    ];
    for round in 0..4000 {
        let mut bytes = seeds[round % seeds.len()].clone();
        for _ in 0..=numbers.below(6) {
            let at = numbers.below(bytes.len());
            match numbers.below(5) {
                0 => bytes[at] = numbers.below(256) as u8,
                1 => bytes.truncate(at.max(1)),
                2 => {
                    bytes.remove(at);
                }
                3 => {
                    let token = tokens[numbers.below(tokens.len())];
                    bytes.splice(at..at, token.iter().copied());
                }
                _ => {
                    let end = (at + numbers.below(80)).min(bytes.len());
                    let part = bytes[at..end].to_vec();
                    let to = numbers.below(bytes.len());
                    bytes.splice(to..to, part);
                }
            }
            if bytes.is_empty() {
                break;
            }
        }
        if let Ok(reading) = read(&bytes) {
            for circle in &reading.drawing.circles {
                assert!(circle.diameter.is_finite() && circle.diameter > 0.0);
                assert!(circle.center.x.is_finite() && circle.center.y.is_finite());
            }
        }
    }
}

/// One of everything.
fn rich() -> String {
    super::file(
        "AC1027",
        "0 TABLE\n2 LAYER\n0 LAYER\n2 A\n70 0\n62 -3\n6 CENTER\n0 STYLE\n2 G\n3 gdt.shx\n0 DIMSTYLE\n2 D\n3 <> x\n271 2\n0 BLOCK_RECORD\n5 1F\n2 *Model_Space\n0 ENDTAB",
        "0 BLOCK\n2 P\n10 1\n20 1\n0 CIRCLE\n10 1\n20 2\n40 3\n0 TEXT\n10 0\n20 0\n40 1\n1 %%c3\n0 ENDBLK",
        "0 INSERT\n2 P\n66 1\n10 5\n20 5\n41 2\n42 2\n50 30\n70 3\n44 10\n0 ATTRIB\n2 T\n1 v\n10 0\n20 0\n40 1\n0 SEQEND\n\
         0 ARC\n10 0\n20 0\n40 5\n50 0\n51 180\n0 ARC\n10 0\n20 0\n40 5\n50 180\n51 0\n\
         0 ELLIPSE\n10 0\n20 0\n11 2\n21 0\n40 1\n41 0\n42 6.283185307179586\n\
         0 LWPOLYLINE\n90 2\n70 1\n10 0\n20 0\n42 1\n10 2\n20 0\n42 1\n\
         0 POLYLINE\n66 1\n70 1\n0 VERTEX\n10 0\n20 0\n42 1\n0 VERTEX\n10 2\n20 0\n42 1\n0 SEQEND\n\
         0 SPLINE\n70 1\n71 2\n40 0\n40 0\n40 0\n40 1\n40 1\n40 1\n10 0\n20 0\n10 1\n20 1\n10 0\n20 0\n\
         0 MTEXT\n10 0\n20 0\n40 2\n3 {\\Fgdt;n\n1 }3.6\\S+.05^0;\n0 DIMENSION\n3 D\n70 3\n10 0\n20 0\n15 3\n25 4\n1001 ACAD\n1000 DSTYLE\n1002 {\n1070 271\n1070 3\n1002 }\n\
         0 LEADER\n10 0\n20 0\n10 3\n20 4\n340 2\n0 MULTILEADER\n300 CONTEXT_DATA{\n12 1\n22 1\n304 note\n302 LEADER{\n10 5\n20 5\n304 LEADER_LINE{\n10 1\n20 1\n305 }\n303 }\n301 }\n\
         0 ACAD_TABLE\n100 AcDbTable\n91 1\n92 2\n171 1\n1 A\n171 1\n302 B\n0 VIEWPORT\n67 1\n10 0\n20 0\n40 1\n41 1\n45 2\n0 TOLERANCE\n1 {\\Fgdt;j}%%v0.1\n10 0\n20 0",
    )
}

/// The same pairs as a binary file.
pub(crate) fn binary(text: &str) -> Vec<u8> {
    let mut out = b"AutoCAD Binary DXF\r\n\x1a\0".to_vec();
    let lines: Vec<&str> = text.lines().collect();
    for pair in lines.chunks(2) {
        let [code, value] = pair else { continue };
        let code: i16 = code.trim().parse().expect("a group code");
        out.extend(code.to_le_bytes());
        let real = || value.trim().parse::<f64>().expect("a number");
        match code {
            10..=59 | 110..=149 | 210..=239 | 460..=469 | 1010..=1059 => out.extend(real().to_le_bytes()),
            60..=79 | 170..=179 | 270..=289 | 370..=389 | 400..=409 | 1060..=1070 => {
                out.extend((real() as i16).to_le_bytes());
            }
            90..=99 | 420..=429 | 440..=459 | 1071 => out.extend((real() as i32).to_le_bytes()),
            160..=169 => out.extend((real() as i64).to_le_bytes()),
            290..=299 => out.push(real() as u8),
            _ => {
                out.extend(value.as_bytes());
                out.push(0);
            }
        }
    }
    out
}

#[test]
fn binary_and_text_give_the_same_drawing() {
    let text = rich();
    let (as_text, as_binary) = (reading(&text), read(&binary(&text)).expect("readable"));
    assert!(losses(&as_text).is_empty() && losses(&as_binary).is_empty(), "{:?}", as_text.problems);
    assert_eq!(circles(&as_text), circles(&as_binary));
    assert!(circles(&as_text).len() >= 7);
    let contents = |r: &boreband::dxf::Reading| -> Vec<String> {
        r.drawing.texts.iter().map(|t| t.content.clone()).collect()
    };
    assert_eq!(contents(&as_text), contents(&as_binary));
    assert_eq!(as_text.drawing.dimensions.len(), as_binary.drawing.dimensions.len());
}

#[test]
fn a_cut_binary_file_gives_what_stands_before() {
    let bytes = binary(&many(5));
    for cut in 60..bytes.len() - 20 {
        let reading = read(&bytes[..cut]).expect("readable");
        assert!(!losses(&reading).is_empty(), "at {cut}");
    }
    let reading = read(&bytes[..bytes.len() - 60]).expect("readable");
    assert!(circles(&reading).len() >= 3);
}
