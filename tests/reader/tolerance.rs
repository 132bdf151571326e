//! What CAD programs get wrong and the reader bears without a loss.

use boreband::dxf::read;

use super::{assert_circles, circles, entities, losses, pairs, reading, whole};

const CIRCLE: &str = "0 CIRCLE\n10 1\n20 2\n40 3";

fn one(text: &str) {
    assert_circles(&whole(text), &[(1.0, 2.0, 6.0)]);
}

#[test]
fn line_ends_blanks_and_marks() {
    let plain = entities(CIRCLE);
    for end in ["\n", "\r\n", "\r", "\r\r\n"] {
        one(&plain.replace('\n', end));
    }
    // Mixed: the halves of a file that was put together.
    let (head, tail) = plain.split_at(plain.len() / 2);
    let (head, tail) = (head.trim_end(), tail.trim_start());
    one(&format!("{}\r\n{tail}", head.replace('\n', "\r\n")));
    one(&format!("\u{feff}{plain}"));
    one(&format!("\n{plain}"));
    one(&format!("\r\n\r\n{}", plain.replace('\n', "\r\n")));
    one(&format!("{plain}\n\n\n"));
    one(&plain.replace("  0\n", "0\n"));
    one(&plain.replace("  0\n", "0 \n"));
    one(&plain.replace("  0\n", "\t0\t\n"));
    one(plain.trim_end());
}

#[test]
fn padding_and_junk_after_the_end() {
    let plain = entities(CIRCLE);
    one(&format!("{plain}{}", "\0".repeat(700)));
    one(&format!("{plain}some junk\n\0\u{1}not a pair\n 10\nabc\n"));
    one(&format!("{plain}  0\nSECTION\n  2\nENTITIES\n"));
}

#[test]
fn comments_anywhere() {
    one(&pairs(
        "999 first\n0 SECTION\n999 a\n2 ENTITIES\n999 b\n0 CIRCLE\n999 c\n10 1\n999 0\n20 2\n40 3\n999 d\n0 ENDSEC\n999 e\n0 EOF",
    ));
}

#[test]
fn lower_case_keywords() {
    // Once read as an empty drawing without complaint.
    one(&pairs("0 section\n2 entities\n0 circle\n10 1\n20 2\n40 3\n0 endsec\n0 eof"));
}

#[test]
fn missing_marks() {
    let no_end = pairs(&format!("0 SECTION\n2 ENTITIES\n{CIRCLE}\n0 ENDSEC"));
    one(&no_end);
    let no_section_end = pairs(&format!("0 SECTION\n2 ENTITIES\n{CIRCLE}\n0 EOF"));
    one(&no_section_end);
    let before_next =
        pairs(&format!("0 SECTION\n2 ENTITIES\n{CIRCLE}\n0 SECTION\n2 OBJECTS\n0 ENDSEC\n0 EOF"));
    one(&before_next);
    // POLYLINE without SEQEND, BLOCK without ENDBLK.
    let open = pairs(
        "0 SECTION\n2 BLOCKS\n0 BLOCK\n2 A\n10 0\n20 0\n0 CIRCLE\n10 1\n20 2\n40 3\n\
         0 BLOCK\n2 B\n10 0\n20 0\n0 ENDSEC\n\
         0 SECTION\n2 ENTITIES\n0 INSERT\n2 A\n10 0\n20 0\n\
         0 POLYLINE\n66 1\n70 1\n0 VERTEX\n10 0\n20 0\n42 1\n0 VERTEX\n10 4\n20 0\n42 1\n\
         0 LINE\n10 0\n20 0\n11 1\n21 1\n0 ENDSEC\n0 EOF",
    );
    assert_circles(&whole(&open), &[(1.0, 2.0, 6.0), (2.0, 0.0, 4.0)]);
}

#[test]
fn strange_sections_entities_and_handles() {
    let text = pairs(
        "0 SECTION\n2 SOMETHING\n0 CIRCLE\n10 x\n0 ENDSEC\n\
         0 SECTION\n2 THUMBNAILIMAGE\n90 -5\n310 zz\n0 ENDSEC\n\
         0 SECTION\n2 ENTITIES\n0 FUTURE_ENTITY\n10 x\n40 y\n\
         0 CIRCLE\n5 NOHANDLE\n10 1\n20 2\n40 3\n0 CIRCLE\n5 2F\n10 1\n20 2\n40 3\n\
         0 CIRCLE\n5 2F\n-1 x\n-666 y\n10 1\n20 2\n40 3\n0 CIRCLE\n5 FFFFFFFFFFFFFFFF\n10 1\n20 2\n40 3\n\
         0 ENDSEC\n0 SECTION\n2 ENTITIES\n0 CIRCLE\n10 9\n20 9\n40 1\n0 ENDSEC\n0 EOF",
    );
    let reading = whole(&text);
    assert_eq!(circles(&reading).len(), 5);
    assert_eq!(reading.drawing.circles[0].origin.handle, None);
    assert_eq!(reading.drawing.circles[3].origin.handle_text().as_deref(), Some("FFFFFFFFFFFFFFFF"));
    // Passed over, but not without a word.
    assert!(reading.problems.iter().any(|p| p.message.contains("FUTURE_ENTITY")));
    assert!(reading.problems.iter().any(|p| p.message.contains("SOMETHING")));
}

#[test]
fn unknown_and_missing_versions() {
    for version in ["AC9999", "XYZ", ""] {
        let text = pairs(&format!(
            "0 SECTION\n2 HEADER\n9 $ACADVER\n1 {version}\n0 ENDSEC\n0 SECTION\n2 ENTITIES\n{CIRCLE}\n0 ENDSEC\n0 EOF"
        ));
        one(&text);
    }
}

#[test]
fn entities_outside_of_sections_are_read() {
    let reading = reading(&pairs(&format!("{CIRCLE}\n0 EOF")));
    assert_circles(&reading, &[(1.0, 2.0, 6.0)]);
}

#[test]
fn reactors_and_embedded_objects_do_not_leak_into_the_entity() {
    one(&entities(
        "0 CIRCLE\n5 A\n102 {ACAD_REACTORS\n330 1F\n102 }\n102 {ACAD_XDICTIONARY\n360 1\n102 }\n330 1F\n100 AcDbEntity\n10 1\n20 2\n40 3\n1001 ACAD\n1010 9\n1020 9\n1040 9",
    ));
    let reading = read(
        entities("0 MTEXT\n10 1\n20 2\n40 2.5\n1 A\n101 Embedded Object\n70 1\n10 99\n20 99\n1 B").as_bytes(),
    )
    .expect("readable");
    assert!(losses(&reading).is_empty());
    assert_eq!(reading.drawing.texts[0].at.x, 1.0);
    assert_eq!(reading.drawing.texts[0].content, "A");
}

/// What may hold holes in a form that is not read once went without a word.
#[test]
fn solids_proxies_and_embedded_objects_are_told_once_a_kind() {
    let text = entities(&format!(
        "0 REGION\n8 A\n70 1\n1 nonsense\n0 REGION\n8 A\n0 ACAD_PROXY_ENTITY\n90 498\n40 x\n0 OLE2FRAME\n70 2\n\
         0 HATCH\n10 x\n0 XLINE\n10 x\n0 MLINE\n10 x\n0 POLYLINE\n66 1\n70 64\n0 VERTEX\n70 192\n10 0\n20 0\n0 SEQEND\n{CIRCLE}"
    ));
    let reading = whole(&text);
    assert_circles(&reading, &[(1.0, 2.0, 6.0)]);
    let starts: Vec<_> =
        reading.problems.iter().map(|p| (p.line, p.message.split(':').next().unwrap_or_default())).collect();
    // Lines counted by hand: two a pair, the section takes four.
    assert_eq!(
        starts,
        [
            (5, "2 REGION not read"),
            (17, "1 ACAD_PROXY_ENTITY not read"),
            (23, "1 OLE2FRAME not read"),
            (39, "1 POLYLINE mesh not read")
        ]
    );
}
