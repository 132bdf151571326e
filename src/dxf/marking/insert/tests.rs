//! Marks put into whole files: where they go, that nothing else changes, and what is refused.

use super::*;
use crate::dxf::{Reading, read};

/// A file of before R13 without handles, tables of its own making.
pub(super) const R12: &str = "0 SECTION\n2 TABLES\n0 TABLE\n2 LAYER\n70 1\n0 LAYER\n2 0\n70 0\n62 7\n6 CONTINUOUS\n0 ENDTAB\n0 ENDSEC\n\
    0 SECTION\n2 ENTITIES\n0 CIRCLE\n8 0\n10 5.0\n20 6.0\n40 1.8\n0 ENDSEC\n0 EOF\n";

/// R2000 with a header, two layouts of which the first was shown last, and a variable with group 2 behind a name.
pub(super) const R2000: &str = "0 SECTION\n2 HEADER\n9 $ACADVER\n1 AC1015\n9 $DWGCODEPAGE\n3 ANSI_1252\n9 $MENU\n2 SECTION\n\
    9 $HANDSEED\n5 2F\n0 ENDSEC\n\
    0 SECTION\n2 TABLES\n0 TABLE\n2 LAYER\n5 A\n100 AcDbSymbolTable\n70 1\n\
    0 LAYER\n5 10\n330 A\n2 0\n70 0\n62 7\n6 CONTINUOUS\n390 F\n0 ENDTAB\n\
    0 TABLE\n2 BLOCK_RECORD\n5 B\n0 BLOCK_RECORD\n5 1F\n2 *Model_Space\n0 BLOCK_RECORD\n5 1B\n2 *Paper_Space\n\
    0 BLOCK_RECORD\n5 23\n2 *Paper_Space0\n0 ENDTAB\n0 ENDSEC\n\
    0 SECTION\n2 BLOCKS\n0 BLOCK\n5 20\n330 1F\n2 *Model_Space\n0 ENDBLK\n5 21\n\
    0 BLOCK\n5 1C\n330 1B\n2 *Paper_Space\n0 ENDBLK\n5 1D\n\
    0 BLOCK\n5 24\n330 23\n2 *Paper_Space0\n0 CIRCLE\n5 26\n330 23\n67 1\n8 L\n10 1.0\n20 1.0\n40 0.5\n0 ENDBLK\n5 25\n\
    0 ENDSEC\n\
    0 SECTION\n2 ENTITIES\n0 CIRCLE\n5 2E\n330 1F\n100 AcDbEntity\n8 L\n100 AcDbCircle\n10 5.0\n20 6.0\n40 1.8\n\
    0 ENDSEC\n\
    0 SECTION\n2 OBJECTS\n0 LAYOUT\n5 1E\n100 AcDbLayout\n1 First\n71 1\n330 1B\n\
    0 LAYOUT\n5 22\n100 AcDbLayout\n1 Bl\u{e4}tter\n71 2\n330 23\n0 ENDSEC\n0 EOF\n";

/// Pairs written one on a line, each as the two lines that it is in a file.
pub(super) fn text(short: &str) -> String {
    let pair = |line: &str| {
        let (code, value) = line.trim_start().split_once(' ').unwrap_or((line.trim_start(), ""));
        format!("{code:>3}\n{value}\n")
    };
    short.lines().map(pair).collect()
}

/// The same as a binary file.
fn binary(short: &str, wide_codes: bool) -> Vec<u8> {
    let mut pairs = Pairs::new(Form::Binary { wide_codes });
    for line in short.lines() {
        let (code, value) = line.trim_start().split_once(' ').unwrap_or((line.trim_start(), ""));
        let code: i16 = code.parse().unwrap();
        match code {
            10..=59 => pairs.real(code, value.parse().unwrap()),
            60..=79 => pairs.int(code, value.parse().unwrap()),
            _ => pairs.name(code, value.as_bytes()),
        }
    }
    [crate::dxf::tags::SIGNATURE.as_slice(), &pairs.take()].concat()
}

fn marks_on(space: &str) -> Vec<Mark> {
    let center = Point::new(5.0, 6.0);
    let mark = |shape| Mark { level: Level::Fail, space: space.to_owned(), shape };
    vec![
        mark(Shape::Arc { center, radius: 2.5, start_deg: 8.0, end_deg: 82.0 }),
        mark(Shape::Text {
            at: center, align: Align::Left, height: 2.5, text: "%%c3.6 ^ 穴 é 𝄞".to_owned()
        }),
    ]
}

fn put(bytes: &[u8]) -> Vec<u8> {
    insert(bytes, &marks_on("model")).unwrap()
}

fn put_text(short: &str) -> String {
    String::from_utf8(put(text(short).as_bytes())).unwrap()
}

/// What a file shows, without the places in the file, which marks move.
fn shown(bytes: &[u8]) -> String {
    let Reading { drawing, problems } = read(bytes).unwrap();
    assert!(!problems.iter().any(|problem| problem.loss), "{problems:?}");
    let circles: Vec<_> =
        drawing.circles.iter().map(|c| (c.center, c.diameter, c.origin.handle, c.origin.space)).collect();
    format!("{circles:?} {} {:?}", drawing.texts.len(), drawing.spaces)
}

const LAYER_OF_R12: &str = "0 LAYER\n2 BOREBAND_FAIL\n70 0\n62 1\n6 CONTINUOUS\n";
const MARKS_OF_R12: &str = "0 ARC\n8 BOREBAND_FAIL\n10 5.0\n20 6.0\n30 0.0\n40 2.5\n50 8.0\n51 82.0\n\
    0 TEXT\n8 BOREBAND_FAIL\n10 5.0\n20 6.0\n30 0.0\n40 2.5\n1 %%c3.6 ^  \\U+7A74 \\U+00E9 (U+1D11E)\n";

#[test]
fn r12_without_handles_gets_none_and_no_subclasses() {
    let marked = put_text(R12);
    assert!(marked.contains(&(text(LAYER_OF_R12) + "  0\nENDTAB\n")), "{marked}");
    assert!(marked.contains(&(text(MARKS_OF_R12) + "  0\nENDSEC\n")), "{marked}");
    assert_eq!(marked.replace(&text(LAYER_OF_R12), "").replace(&text(MARKS_OF_R12), ""), text(R12));
}

#[test]
fn what_has_no_tables_gets_coloured_marks() {
    let bare = &R12[R12.find("0 SECTION\n2 ENTITIES").unwrap()..];
    let marked = put_text(bare);
    let coloured = MARKS_OF_R12.replace("FAIL\n", "FAIL\n62 1\n");
    assert_eq!(marked.replace(&text(&coloured), ""), text(bare));
    assert_ne!(marked, text(bare));
    assert!(insert(marked.as_bytes(), &marks_on("model")).unwrap_err().contains("earlier check"));
}

#[test]
fn r2000_gets_owners_free_handles_and_a_new_seed() {
    let marked = put_text(R2000);
    // 2F is what the seed gives next: a layer, an arc and a text take 2F, 30 and 31.
    assert!(marked.contains(&text("9 $HANDSEED\n5 32")), "{marked}");
    assert!(marked.contains(&text("0 LAYER\n5 2F\n330 A\n100 AcDbSymbolTableRecord")), "{marked}");
    assert!(marked.contains(&text("6 CONTINUOUS\n390 F\n0 ENDTAB")));
    let arc = "0 ARC\n5 30\n330 1F\n100 AcDbEntity\n8 BOREBAND_FAIL\n100 AcDbCircle";
    assert!(marked.contains(&text(arc)));
    assert!(marked.contains(&text("100 AcDbText\n0 ENDSEC")));
    assert!(marked.contains("\\U+00E9"), "a code page may not hold it");
    // A handle above the seed, in use or pointed to, is not taken again.
    let above = R2000.replace("5 2E\n", "5 4F\n1005 60\n");
    assert!(put_text(&above).contains(&text("9 $HANDSEED\n5 64")));
}

#[test]
fn marks_of_a_layout_stand_in_it() {
    let put = |space| {
        let marked = insert(text(R2000).as_bytes(), &marks_on(space)).unwrap();
        String::from_utf8(marked).unwrap()
    };
    // The layout shown last has its entities in the section of entities, another one in its block.
    let first = put("First");
    let arc = |owner: &str| text(&format!("0 ARC\n5 30\n330 {owner}\n100 AcDbEntity\n67 1\n8 BOREBAND_FAIL"));
    assert!(first.contains(&arc("1B")), "{first}");
    assert!(first.find(&arc("1B")) > first.find("ENTITIES"));
    let second = put("Bl\u{e4}tter");
    let block = second.find(&text("2 *Paper_Space0\n0 CIRCLE")).unwrap();
    let found = second.find(&arc("23")).unwrap();
    assert!(block < found && found < second[block..].find("ENDBLK").unwrap() + block, "{second}");
    let missing = insert(text(R2000).as_bytes(), &marks_on("Third")).unwrap_err();
    assert!(missing.contains("'Third'"), "{missing}");
    let twice = text(&R2000.replace("Bl\u{e4}tter", "First"));
    assert!(insert(twice.as_bytes(), &marks_on("First")).is_err());
}

#[test]
fn line_ends_and_letters_of_the_file_are_kept() {
    let plain = text(R2000);
    for end in ["\r\n", "\r", "\r\r\n"] {
        let marked = put(plain.replace('\n', end).as_bytes());
        assert_eq!(String::from_utf8(marked).unwrap().replace(end, "\n"), put_text(R2000), "{end:?}");
    }
    let modern = put_text(&R2000.replace("AC1015", "AC1027"));
    assert!(modern.contains("穴 é 𝄞"));
    // One byte of a code page stays what it was.
    let plain = plain.replace('\u{e4}', "a");
    let at = plain.rfind("  8\nL\n").unwrap() + 4;
    let mut old = plain.into_bytes();
    old[at] = 0xD8;
    assert_eq!(put(&old).iter().filter(|byte| **byte >= 0x80).collect::<Vec<_>>(), [&0xD8]);
}

#[test]
fn a_text_style_is_named_where_the_usual_one_is_missing() {
    let with_style = |name: &str| {
        let table = format!("0 TABLE\n2 STYLE\n0 STYLE\n2 {name}\n3 txt\n0 ENDTAB\n");
        put_text(&R12.replacen("0 TABLE\n", &(table + "0 TABLE\n"), 1))
    };
    assert!(with_style("Notes").contains("(U+1D11E)\n  7\nNotes\n"));
    assert!(with_style("Standard").contains("(U+1D11E)\n  0\nENDSEC\n"));
}

#[test]
fn binary_files_get_binary_marks() {
    for (short, wide_codes) in [(R12, false), (R2000, true)] {
        let short = short.replace('\u{e4}', "a");
        let plain = binary(&short, wide_codes);
        let marked = put(&plain);
        assert!(marked.len() > plain.len());
        assert_eq!(shown(&marked), shown(&plain));
        assert!(shown(&plain).starts_with("[(Point"), "{}", shown(&plain));
        // What was put in is what a text file gets, pair for pair.
        let as_text = put_text(&short);
        let lines: Vec<&str> = as_text.lines().collect();
        let (pairs, _) = lines.as_chunks::<2>();
        let again: String = pairs.iter().map(|[code, value]| format!("{} {value}\n", code.trim())).collect();
        assert_eq!(marked, binary(&again, wide_codes));
    }
}

#[test]
fn what_was_marked_is_read_as_it_was() {
    for short in [R12, R2000] {
        let plain = text(short);
        assert_eq!(shown(&put(plain.as_bytes())), shown(plain.as_bytes()));
    }
}

#[test]
fn oddities_that_take_nothing_away_are_borne() {
    let without_end = R12.replace("0 EOF\n", "");
    assert!(put_text(&without_end).ends_with(&text("0 ENDSEC")));
    let lower = R12.replace("ENTITIES", "entities").replace("LAYER", "Layer").replace("ENDTAB", "endtab");
    assert!(put_text(&lower).contains(&(text(MARKS_OF_R12) + "  0\nENDSEC\n")));
    let comment = R12.replace("0 SECTION\n", "0 SECTION\n999 made by hand\n");
    assert!(put_text(&comment).contains(&(text(MARKS_OF_R12) + "  0\nENDSEC\n")));
    // The plane of a section view is an entity called SECTION; it begins with its handle.
    let view = R2000
        .replace("0 CIRCLE\n5 2E\n", "0 SECTION\n5 2D\n330 1F\n100 AcDbEntity\n8 L\n2 x\n0 CIRCLE\n5 2E\n");
    assert!(put_text(&view).contains(&text("100 AcDbText\n0 ENDSEC")));
    // Padding after the end.
    let padded = [text(R12).as_bytes(), &[0; 100]].concat();
    assert!(put(&padded).ends_with(&padded[padded.len() - 110..]));
}

#[test]
fn what_cannot_be_marked_safely_is_refused() {
    let why = |bytes: &[u8]| insert(bytes, &marks_on("model")).unwrap_err();
    let changed = |from: &str, to: &str| {
        assert!(R2000.contains(from));
        why(text(&R2000.replace(from, to)).as_bytes())
    };
    assert!(why(&put(text(R12).as_bytes())).contains("earlier check"));
    assert!(changed("8 L\n", "8 Boreband_x\n").contains("earlier check"));
    assert!(changed("0 ENDSEC\n0 EOF\n", "").contains("cut short"));
    assert!(changed("70 1\n", "70 1\nstray\n").contains("line "));
    assert!(changed("2 LAYER\n5 A", "2 OTHER\n5 A").contains("no layer table"));
    assert!(changed("5 2E\n", "5 XYZ\n").contains("no hexadecimal number"));
    assert!(changed("5 2E\n", "5 FFFFFFFFFFFFFFFF\n").contains("used up"));
    assert!(changed("0 ENDSEC\n0 SECTION\n2 OBJECTS", "0 SECTION\n2 OBJECTS").contains("ENDSEC is missing"));
    assert!(changed("0 ENDTAB\n0 TABLE", "0 TABLE").contains("ENDTAB is missing"));
    assert!(
        changed("2 OBJECTS\n", "2 ENTITIES\n0 ENDSEC\n0 SECTION\n2 OBJECTS\n").contains("second section")
    );
    assert!(changed("2 BLOCK_RECORD\n5 B\n", "2 LAYER\n5 B\n").contains("second layer table"));
    // A seed that is none once was replaced, and with it a byte that showed in which code page the file is.
    assert!(changed("5 2F\n", "5 x\n").contains("$HANDSEED"));
    let cut = binary(R12, false);
    // Of ENDSEC (8 bytes) and EOF (5) one byte is left, a group code.
    assert!(why(&cut[..cut.len() - 12]).contains("the file ends inside the value of group 0"));
    assert!(why(b"AutoCAD Binary DXF\n\x1a\0").contains("damaged"));
}
