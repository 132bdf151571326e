use std::io::{Cursor, Write};

use zip::ZipWriter;
use zip::write::SimpleFileOptions;

use super::*;

/// The bytes of an archive of these entries, packed by deflate.
fn packed(entries: &[(&str, &[u8])]) -> Vec<u8> {
    let mut archive = ZipWriter::new(Cursor::new(Vec::new()));
    for (name, content) in entries {
        archive.start_file(*name, SimpleFileOptions::default()).unwrap();
        archive.write_all(content).unwrap();
    }
    archive.finish().unwrap().into_inner()
}

/// Where a text stands in an archive, each time.
fn places_of(archive: &[u8], text: &[u8]) -> Vec<usize> {
    memchr::memmem::find_iter(archive, text).collect()
}

/// Writes `value` into the headers, at `local` bytes from the beginning of the first local header and `central` bytes from
/// that of the first one in the directory.
fn patch(archive: &mut [u8], (local, central): (usize, usize), value: &[u8]) {
    for (start, offset) in [(b"PK\x03\x04", local), (b"PK\x01\x02", central)] {
        let at = places_of(archive, start)[0] + offset;
        archive[at..at + value.len()].copy_from_slice(value);
    }
}

/// Offsets of fields in a local header and in one of the directory (APPNOTE.TXT, 4.3.7 and 4.3.12).
const FLAGS: (usize, usize) = (6, 8);
const METHOD: (usize, usize) = (8, 10);
const TIME: (usize, usize) = (10, 12);
const SIZE: (usize, usize) = (22, 24);

/// An archive on the disk, and what is in it.
struct Lying {
    file: tempfile::NamedTempFile,
    contents: Contents,
}

impl Lying {
    fn of(bytes: &[u8]) -> Lying {
        let mut file = tempfile::NamedTempFile::new().unwrap();
        file.write_all(bytes).unwrap();
        let contents = Contents::of(file.path());
        Lying { file, contents }
    }

    fn read(&self, place: &str) -> Result<Vec<u8>, String> {
        let mut bytes = Vec::new();
        let read = self.contents.read(self.file.path(), place, &mut bytes);
        read.map(|()| bytes).map_err(|error| error.to_string())
    }

    fn places(&self) -> Vec<&str> {
        self.contents.places().collect()
    }
}

#[test]
fn drawings_are_found_sorted_and_read() {
    let archive = Lying::of(&packed(&[
        ("b.DXF", b"two"),
        ("a/lid.dxf", b"one"),
        ("holes.json", b"{}"),
        ("__MACOSX/a/._lid.dxf", b"icon"),
    ]));
    assert_eq!(archive.places(), ["a/lid.dxf", "b.DXF"]);
    assert_eq!(archive.contents.fault(), None);
    assert_eq!(archive.read("a/lid.dxf").unwrap(), b"one");
    assert_eq!(archive.read("b.DXF").unwrap(), b"two");
    assert_eq!(archive.read("c.dxf").unwrap_err(), "there is no such drawing in the archive");
    assert_eq!(archive.contents.stated("b.DXF").unwrap().bytes, 3);
}

#[test]
fn what_is_no_archive_or_is_cut_short_is_a_fault() {
    let whole = packed(&[("lid.dxf", b"one")]);
    for bytes in [&b""[..], b"0\nSECTION\n", &whole[..whole.len() - 30]] {
        let archive = Lying::of(bytes);
        assert!(archive.contents.fault().unwrap().starts_with("the archive is damaged or none"), "{bytes:?}");
        assert_eq!(archive.places(), [""; 0]);
        assert!(
            archive.read("lid.dxf").unwrap_err().starts_with("there is no such drawing in the archive (")
        );
    }
}

#[test]
fn damage_to_a_drawing_costs_that_drawing_only() {
    let mut bytes = packed(&[("a.dxf", &[b'x'; 400]), ("b.dxf", b"two")]);
    // Behind the header of 30 bytes and the name.
    bytes[30 + 5 + 3] ^= 0x55;
    let archive = Lying::of(&bytes);
    assert!(archive.read("a.dxf").is_err());
    assert_eq!(archive.read("b.dxf").unwrap(), b"two");
}

#[test]
fn encrypted_and_strangely_compressed_drawings_are_named() {
    let mut bytes = packed(&[("a.dxf", b"one")]);
    patch(&mut bytes, FLAGS, &[1, 0]);
    assert!(Lying::of(&bytes).read("a.dxf").unwrap_err().starts_with("it is encrypted in the archive"));
    let mut bytes = packed(&[("a.dxf", b"one")]);
    // LZMA.
    patch(&mut bytes, METHOD, &[14, 0]);
    let said = Lying::of(&bytes).read("a.dxf").unwrap_err();
    assert!(said.starts_with("it is compressed by a method that is not read"), "{said}");
}

#[test]
fn the_size_is_bounded_as_stated_and_as_counted() {
    let mut bytes = packed(&[("a.dxf", &[b' '; 5000])]);
    patch(&mut bytes, SIZE, &u32::try_from(LARGEST + 1).unwrap().to_le_bytes());
    assert_eq!(
        Lying::of(&bytes).read("a.dxf").unwrap_err(),
        "the archive states 268435457 bytes for it, more than the 268435456 that are read from an archive; unpack it"
    );
    for stated in [10_u32, 4999, 5001, 100_000] {
        patch(&mut bytes, SIZE, &stated.to_le_bytes());
        let archive = Lying::of(&bytes);
        let mut read = Vec::new();
        assert!(archive.contents.read(archive.file.path(), "a.dxf", &mut read).is_err(), "{stated}");
        assert_eq!(read.len(), 0, "{stated}");
    }
}

#[test]
fn a_name_that_occurs_twice_is_not_read_and_the_others_are() {
    let mut bytes = packed(&[
        ("a.dxf", b"one"),
        ("b.dxf", b"two"),
        ("c.dxf", b"three"),
        ("d\\e.dxf", b"4"),
        ("d/e.dxf", b"5"),
    ]);
    for at in places_of(&bytes, b"c.dxf") {
        bytes[at] = b'a';
    }
    let archive = Lying::of(&bytes);
    assert_eq!(archive.places(), ["a.dxf", "b.dxf", "d/e.dxf"]);
    for place in ["a.dxf", "d/e.dxf"] {
        assert_eq!(archive.read(place).unwrap_err(), "the archive holds 2 entries of this name; keep one");
    }
    assert_eq!(archive.read("b.dxf").unwrap(), b"two");
}

#[test]
fn names_that_lead_out_are_a_fault_and_archives_in_archives_are_named() {
    // Of the same length as what stands there before, since the packer mends such names.
    let mut bytes =
        packed(&[("xx/a.dxf", b"one"), ("yetc/b.dxf", b"two"), ("c.dxf", b"three"), ("d.zip", b"four")]);
    for (from, to) in [(b"xx/", b"../"), (b"yet", b"/et")] {
        for at in places_of(&bytes, from) {
            bytes[at..at + 3].copy_from_slice(to);
        }
    }
    let archive = Lying::of(&bytes);
    assert_eq!(archive.places(), ["c.dxf", "d.zip"]);
    assert_eq!(
        archive.contents.fault().unwrap(),
        "drawings in the archive have names that lead out of it or are no names, and are not read: \"../a.dxf\", \
         \"/etc/b.dxf\"; rename them"
    );
    let said = archive.read("d.zip").unwrap_err();
    assert_eq!(said, "an archive in an archive is not looked into; unpack it beside");
    assert_eq!(archive.read("c.dxf").unwrap(), b"three");
}

#[test]
fn many_bad_names_are_counted() {
    let names: Vec<String> = (10..40).map(|n| format!("../{n}.dxf")).collect();
    let contents = Contents { nameless: names, ..Contents::default() };
    assert!(contents.fault().unwrap().ends_with("\"../19.dxf\", 20 more; rename them"));
}

#[test]
fn links_are_not_followed() {
    let mut archive = ZipWriter::new(Cursor::new(Vec::new()));
    archive.add_symlink("a.dxf", "/etc/passwd", SimpleFileOptions::default()).unwrap();
    let archive = Lying::of(&archive.finish().unwrap().into_inner());
    assert!(archive.read("a.dxf").unwrap_err().starts_with("it is a link"));
}

#[test]
fn the_year_is_the_entry_s_own_where_it_has_one() {
    let mut bytes = packed(&[("a.dxf", b"one")]);
    // APPNOTE.TXT, 4.4.6: time, then date, in the form of MS-DOS: year since 1980 in bits 9 to 15, month in 5 to 8.
    let date: u16 = ((2009 - 1980) << 9) | (5 << 5) | 17;
    let year = |bytes: &[u8]| Lying::of(bytes).contents.stated("a.dxf").unwrap().year;
    patch(&mut bytes, TIME, &[[0, 0], date.to_le_bytes()].concat());
    assert_eq!(year(&bytes), Some(2009));
    // 1980-01-01 is what is written where no time is known.
    patch(&mut bytes, TIME, &[0, 0, 0x21, 0]);
    assert_eq!(year(&bytes), None);
}

proptest::proptest! {
    #[test]
    fn a_changed_archive_is_read_or_refused_and_never_leads_out(
        changes in proptest::collection::vec((0..1_000_usize, proptest::num::u8::ANY), 1..6)
    ) {
        let text = "0\nCIRCLE\n".repeat(40);
        let mut bytes = packed(&[("a/lid.dxf", text.as_bytes()), ("b.dxf", b"two"), ("c.zip", b"PK")]);
        for (at, value) in changes {
            let at = at % bytes.len();
            bytes[at] = value;
        }
        let archive = Lying::of(&bytes);
        for place in archive.places() {
            let inside = |part| matches!(part, std::path::Component::Normal(_));
            proptest::prop_assert!(Path::new(place).components().all(inside), "{place:?}");
            match (archive.read(place), archive.contents.stated(place)) {
                (Ok(read), Some(stated)) => proptest::prop_assert_eq!(read.len() as u64, stated.bytes),
                (Ok(_), None) => proptest::prop_assert!(false, "{:?} was read", place),
                (Err(said), _) => proptest::prop_assert!(!said.is_empty()),
            }
        }
    }
}
