//! Every carrier of text, and leaders.

use boreband::drawing::{InsertId, TextKind};
use boreband::dxf::read;

use super::{entities, file, losses, pairs, reading, whole};

fn contents(short: &str) -> Vec<String> {
    whole(&entities(short)).drawing.texts.iter().map(|t| t.content.clone()).collect()
}

#[test]
fn text_and_mtext() {
    assert_eq!(contents("0 TEXT\n10 1\n20 2\n40 2.5\n1 4X %%c3.6 THRU"), ["4X Ø3.6 THRU"]);
    // Pieces of an MTEXT: group 3 in front, group 1 last; a letter may be cut between two.
    let text = entities("0 MTEXT\n10 1\n20 2\n40 2.5\n71 1\n3 {\\H2.5x;first \n3 second \n1 third}");
    assert_eq!(whole(&text).drawing.texts[0].content, "first second third");
}

#[test]
fn alignment_rotation_and_box() {
    let reading = whole(&entities("0 TEXT\n10 1\n20 2\n11 10\n21 20\n40 2\n50 90\n72 1\n73 2\n1 ABCD"));
    let text = &reading.drawing.texts[0];
    assert_eq!((text.at.x, text.at.y, text.rotation_deg), (10.0, 20.0, 90.0));
    // Middle of the box, which is higher than wide because the text stands upright.
    assert!((text.bounds.min.x + text.bounds.max.x - 20.0).abs() < 1e-9);
    assert!((text.bounds.min.y + text.bounds.max.y - 40.0).abs() < 1e-9);
    assert!((text.bounds.max.x - text.bounds.min.x - 2.0).abs() < 1e-9);
}

#[test]
fn attributes_and_their_definitions() {
    let block = "0 BLOCK\n2 B\n10 0\n20 0\n0 ATTDEF\n10 0\n20 0\n40 1\n1 form\n2 MATERIAL\n3 Prompt?\n70 0\n\
        0 ATTDEF\n10 0\n20 0\n40 1\n1 always\n2 FIXED\n70 2\n0 ENDBLK";
    let entities = "0 INSERT\n2 B\n66 1\n10 5\n20 5\n0 ATTRIB\n10 5\n20 6\n40 1\n1 DC01\n2 MATERIAL\n70 1\n0 SEQEND\n\
        0 ATTDEF\n10 0\n20 0\n40 1\n1 loose\n2 TAG\n70 0";
    let reading = whole(&file("AC1032", "", block, entities));
    let kinds: Vec<_> = reading
        .drawing
        .texts
        .iter()
        .map(|t| (t.kind.clone(), t.content.as_str(), t.origin.visible, t.origin.insert))
        .collect();
    let tag = |name: &str| TextKind::Attribute { tag: name.to_owned() };
    assert_eq!(
        kinds,
        [
            (tag("MATERIAL"), "DC01", false, InsertId::new(0)),
            (tag("FIXED"), "always", true, InsertId::new(0)),
            (TextKind::AttributeDefinition { tag: "TAG".to_owned() }, "loose", true, None),
        ]
    );
    // A multi-line attribute of R2018 embeds its text.
    let multi = "0 INSERT\n2 B\n66 1\n10 5\n20 5\n0 ATTRIB\n10 5\n20 6\n40 1\n1 one\n2 NOTE\n70 0\n101 Embedded Object\n70 1\n10 99\n20 99\n1 one\\Ptwo\n0 SEQEND";
    let reading = whole(&file("AC1032", "", block, multi));
    assert_eq!(reading.drawing.texts[0].content, "one\ntwo");
    assert_eq!(reading.drawing.texts[0].at.x, 5.0);
}

/// They name no INSERT where theirs shows nothing, and once stood where the block that holds them has them.
#[test]
fn attributes_of_an_insert_that_shows_nothing_move_with_the_block_around_it() {
    let nothing = "0 BLOCK\n2 NOTHING\n10 0\n20 0\n0 ENDBLK";
    for shown in ["MISSING", "NOTHING"] {
        let outer = format!(
            "{nothing}\n0 BLOCK\n2 OUTER\n10 1\n20 1\n0 INSERT\n2 {shown}\n66 1\n10 9\n20 9\n\
             0 ATTRIB\n10 4\n20 6\n40 1.5\n1 DC01\n2 MATERIAL\n70 0\n0 SEQEND\n0 ENDBLK"
        );
        let reading =
            reading(&file("AC1015", "", &outer, "0 INSERT\n2 OUTER\n10 100\n20 50\n41 2\n42 2\n50 90"));
        let [text] = &reading.drawing.texts[..] else { panic!("one text") };
        // Hand calculation: (4, 6) is (3, 5) from the base point, twice that (6, 10), turned by 90 degrees (-10, 6).
        let off = (text.at.x - 90.0).abs().max((text.at.y - 56.0).abs());
        assert!(off < 1e-9, "{shown}: {:?}", text.at);
        assert!((text.rotation_deg - 90.0).abs() < 1e-9, "{shown}: {}", text.rotation_deg);
        assert!((text.height - 3.0).abs() < 1e-9, "{shown}: {}", text.height);
    }
}

#[test]
fn symbol_fonts_by_style_and_tolerance_frames() {
    let tables = "0 STYLE\n2 SYM\n3 gdt.shx\n0 STYLE\n2 Plain\n3 txt";
    let entities = "0 TEXT\n10 0\n20 0\n40 1\n7 sym\n1 n3.6\n0 TEXT\n10 0\n20 0\n40 1\n7 PLAIN\n1 n3.6\n\
        0 TOLERANCE\n10 0\n20 0\n1 {\\Fgdt;j}%%v{\\Fgdt;n}0.1%%vA";
    let reading = whole(&file("AC1015", tables, "", entities));
    let contents: Vec<&str> = reading.drawing.texts.iter().map(|t| t.content.as_str()).collect();
    assert_eq!(contents, ["Ø3.6", "n3.6", "⌖|Ø0.1|A"]);
}

#[test]
fn leaders_and_their_texts() {
    let reading = whole(&entities(
        "0 LEADER\n10 1\n20 2\n30 0\n10 5\n20 6\n30 0\n10 0\n20 0\n30 0\n340 2B\n0 MTEXT\n5 2B\n10 5\n20 6\n40 1\n1 %%c5\n0 LEADER\n10 9\n20 9\n10 8\n20 8",
    ));
    let leaders = &reading.drawing.leaders;
    assert_eq!(leaders[0].vertices.len(), 2);
    assert_eq!(
        (leaders[0].vertices[0].x, leaders[0].annotation, leaders[0].text),
        (1.0, Some(0x2B), Some(0))
    );
    assert_eq!((leaders[1].annotation, leaders[1].text), (None, None));
}

#[test]
fn multileaders_carry_their_text() {
    let reading = whole(&entities(
        "0 MULTILEADER\n5 AA\n300 CONTEXT_DATA{\n40 1\n10 30\n20 40\n41 2.5\n290 1\n304 2X %%c4.5\\PTHRU\n11 0\n12 31\n22 41\n32 0\n13 1\n23 0\n33 0\n\
         302 LEADER{\n290 1\n10 28\n20 40\n304 LEADER_LINE{\n10 1\n20 2\n10 5\n20 9\n305 }\n304 LEADER_LINE{\n10 3\n20 4\n305 }\n303 }\n301 }\n340 1\n1001 X\n1000 Y",
    ));
    let text = &reading.drawing.texts[0];
    assert_eq!(
        (text.kind.clone(), text.content.as_str(), text.at.x),
        (TextKind::MultiLeader, "2X Ø4.5\nTHRU", 31.0)
    );
    let arms: Vec<_> =
        reading.drawing.leaders.iter().map(|l| (l.vertices[0].x, l.vertices.len(), l.text)).collect();
    assert_eq!(arms, [(1.0, 3, Some(0)), (3.0, 2, Some(0))]);
}

/// The formatting that a text editor leaves, in the carriers that have a place of their own for their text.
#[test]
fn formatting_in_multileaders_tables_and_frames() {
    let formatted = "4X %%c3.6\\P{\\H0.7x;\\S+0.05^ 0;} THRU {\\C1;\\fArial|b1;M4}";
    // As ezdxf writes it: text first, then two leaders, one on each side.
    let multi = format!(
        "0 MULTILEADER\n300 CONTEXT_DATA{{\n40 1\n10 0\n20 0\n30 0\n41 2.5\n140 2.5\n145 2\n290 1\n304 {formatted}\n11 0\n21 0\n31 1\n340 2A\n12 5\n22 0\n32 0\n13 1\n23 0\n33 0\n\
         302 LEADER{{\n290 1\n291 1\n10 -5\n20 -1\n30 0\n304 LEADER_LINE{{\n10 -20\n20 -15\n30 0\n91 0\n305 }}\n271 0\n303 }}\n\
         302 LEADER{{\n290 1\n291 1\n10 44\n20 -1\n30 0\n304 LEADER_LINE{{\n10 60\n20 -15\n30 0\n91 1\n305 }}\n271 0\n303 }}\n301 }}\n340 1"
    );
    let table = format!(
        "0 ACAD_TABLE\n2 *T1\n10 7\n20 8\n100 AcDbTable\n91 1\n92 2\n171 1\n1 {formatted}\n171 1\n301 CELL_VALUE\n1 x\n302 {{\\Fgdt;n}}3.6\n304 ACVALUE_END"
    );
    let frame = "0 TOLERANCE\n10 0\n20 -40\n1 {\\Fgdt;j}%%v{\\Fgdt;n}0.1{\\Fgdt;m}%%vA^J{\\Fgdt;r}%%v0.2";
    let reading = whole(&entities(&format!("{multi}\n{table}\n{frame}")));
    let read = "4X Ø3.6\n+0.05/0 THRU M4";
    let texts: Vec<&str> = reading.drawing.texts.iter().map(|t| t.content.as_str()).collect();
    assert_eq!(texts, [read, "⌖|Ø0.1Ⓜ|A\n◎|0.2"]);
    assert_eq!(reading.drawing.tables[0].rows, [[read, "Ø3.6"]]);
    let ends: Vec<_> =
        reading.drawing.leaders.iter().map(|l| (l.vertices[0].x, l.vertices[1].x, l.text)).collect();
    assert_eq!(ends, [(-20.0, -5.0, Some(0)), (60.0, 44.0, Some(0))]);
}

/// A leader once took the last text of the handle that it names, wherever that stood.
#[test]
fn texts_of_one_handle_are_all_read_and_the_nearer_one_is_meant() {
    let text = |x: i32, words: &str| format!("0 TEXT\n5 2B\n10 {x}\n20 6\n40 1\n1 {words}\n");
    let leader = "0 LEADER\n5 2B\n10 1\n20 2\n10 5\n20 6\n340 2B";
    for order in [[5, 90], [90, 5]] {
        let words = |x: i32| if x == 5 { "near" } else { "far" };
        let texts = order.map(|x| text(x, words(x))).concat();
        let drawing = whole(&entities(&format!("{texts}{leader}"))).drawing;
        assert_eq!(drawing.texts.len(), 2);
        let tied = drawing.leaders[0].text.expect("a text");
        assert_eq!(drawing.texts[tied].content, "near");
    }
}

/// A multileader names its text style by handle, so that its symbol font once went unseen.
#[test]
fn a_multileader_in_a_symbol_font() {
    let styles = "0 TABLE\n2 STYLE\n0 STYLE\n5 2A\n2 SYM\n3 gdt.shx\n0 STYLE\n5 2B\n2 Plain\n3 txt\n0 ENDTAB";
    let multi = |style: &str| {
        format!("0 MULTILEADER\n300 CONTEXT_DATA{{\n290 1\n304 n3.6\n340 {style}\n12 5\n22 0\n301 }}\n")
    };
    let drawing = whole(&file("AC1032", styles, "", &(multi("2A") + &multi("2B")))).drawing;
    let texts: Vec<&str> = drawing.texts.iter().map(|t| t.content.as_str()).collect();
    assert_eq!(texts, ["Ø3.6", "n3.6"]);
}

#[test]
fn tables_of_both_generations() {
    let reading = whole(&entities(
        "0 ACAD_TABLE\n2 *T1\n10 7\n20 8\n100 AcDbTable\n91 2\n92 2\n171 1\n1 Hole\n171 1\n2 4X \n1 %%c3.6\n171 1\n301 CELL_VALUE\n1 short\n302 A1\n304 ACVALUE_END\n171 1",
    ));
    assert_eq!(reading.drawing.tables[0].rows, [["Hole", "4X Ø3.6"], ["A1", ""]]);
    assert_eq!(reading.drawing.tables[0].at.x, 7.0);
}

/// Only the style of a cell said that its letters are symbols, and `n3.6` was no diameter.
#[test]
fn a_cell_whose_style_is_a_symbol_font() {
    let styles = "0 STYLE\n2 SYM\n3 gdt.shx\n0 STYLE\n2 Plain\n3 txt";
    let cell = |text: &str, style: &str| format!("171 1\n1 {text}\n7 {style}\n140 2.5\n");
    let cells = cell("n3.6", "SYM")
        + &cell("n3.6", "Plain")
        + "171 1\n301 CELL_VALUE\n302 x12\n304 ACVALUE_END\n7 sym\n";
    let table = format!("0 ACAD_TABLE\n2 *T1\n10 7\n20 8\n100 AcDbTable\n91 1\n92 3\n{cells}");
    let drawing = whole(&file("AC1024", styles, "", &table)).drawing;
    assert_eq!(drawing.tables[0].rows, [["Ø3.6", "n3.6", "↧12"]]);
}

#[test]
fn code_pages_and_files_that_lie_about_them() {
    let build = |version: &str, page: &str| {
        pairs(&format!(
            "0 SECTION\n2 HEADER\n9 $ACADVER\n1 {version}\n9 $DWGCODEPAGE\n3 {page}\n0 ENDSEC\n0 SECTION\n2 ENTITIES\n0 TEXT\n10 0\n20 0\n40 1\n1 @\n0 ENDSEC\n0 EOF"
        ))
    };
    // Bytes of the published code page tables.
    let cases: [(&str, &str, &[u8], &str, bool); 6] = [
        ("AC1015", "ANSI_1252", b"\xd83.6", "Ø3.6", false),
        ("AC1009", "dos850", b"\x9d3.6", "Ø3.6", false),
        ("AC1015", "ANSI_936", b"\xd7\xd4\xb9\xa5", "自攻", false),
        ("AC1027", "ANSI_1252", "Ø3.6".as_bytes(), "Ø3.6", false),
        ("AC1015", "ANSI_1252", "Ø3.6".as_bytes(), "Ø3.6", true),
        ("AC1027", "ANSI_1252", b"\xd83.6", "Ø3.6", true),
    ];
    for (version, page, bytes, text, lies) in cases {
        let template = build(version, page).into_bytes();
        let at = template.iter().position(|b| *b == b'@').expect("a place");
        let mut file = template.clone();
        file.splice(at..=at, bytes.iter().copied());
        let reading = read(&file).expect("readable");
        assert_eq!(reading.drawing.texts[0].content, text);
        assert!(losses(&reading).is_empty());
        assert_eq!(!reading.problems.is_empty(), lies, "{version} {page}");
    }
}
