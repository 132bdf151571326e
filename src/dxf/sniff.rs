//! Tells from its first bytes what a file is: text or binary DXF, or something else that is named, with what to do.

use super::tags::SIGNATURE;
use crate::drawing::Problem;

/// A form of DXF.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) enum Form {
    /// Text, from this byte on (after a byte-order mark).
    Text(usize),
    /// Binary.
    Binary,
}

/// What other files begin with, what they are, and what to do.
const FOREIGN: &[(&[u8], &str)] = &[
    (b"%PDF", "this is a PDF file: ask for the drawing as DXF, or export it from the CAD program as DXF"),
    (b"PK\x03\x04", "this is a zip archive: unpack it and give the DXF file inside"),
    (b"\x1f\x8b", "this is a gzip archive: unpack it and give the DXF file inside"),
    (b"7z\xbc\xaf\x27\x1c", "this is a 7z archive: unpack it and give the DXF file inside"),
    (b"Rar!", "this is a rar archive: unpack it and give the DXF file inside"),
    (b"AutoCAD DXB", "this is a DXB file, another format: save it as DXF"),
    (b"\xd0\xcf\x11\xe0", "this is a compound file (a CAD or office document): save it as DXF"),
    (b"ISO-10303-21", "this is a STEP file: make a drawing of it and save that as DXF"),
    (b"\x89PNG", "this is a PNG picture: save the drawing as DXF"),
    (b"\xff\xd8\xff", "this is a JPEG picture: save the drawing as DXF"),
    (b"GIF8", "this is a GIF picture: save the drawing as DXF"),
    (b"II*\0", "this is a TIFF picture: save the drawing as DXF"),
    (b"MM\0*", "this is a TIFF picture: save the drawing as DXF"),
    (
        b"EXTENTS,",
        "this is a DXF file of release 1, written before group codes: open it in a CAD program and save it as a later DXF",
    ),
    (b"<", "this is an XML, SVG or HTML file: save the drawing as DXF"),
    (b"{", "this looks like a JSON file: give the DXF drawing itself"),
];

/// Tells what `bytes` are.
///
/// # Errors
/// The problem that says what the file is instead, and what to do.
pub(super) fn sniff(bytes: &[u8]) -> Result<Form, Problem> {
    if let Some(why) = super::too_large(bytes.len() as u64) {
        return refuse(&why);
    }
    if bytes.is_empty() {
        return refuse("the file is empty: save the drawing as DXF again");
    }
    if bytes.starts_with(SIGNATURE) {
        return Ok(Form::Binary);
    }
    if bytes.starts_with(b"AutoCAD Binary DXF") {
        return refuse(
            "this is a binary DXF file with a damaged signature (often a transfer that converted line ends): copy it again in binary mode or save it as text DXF",
        );
    }
    if is_dwg(bytes) {
        return refuse("this is a DWG file: save it as DXF");
    }
    if is_utf16(bytes) {
        return refuse("this is a UTF-16 text file: save it as DXF, or convert it to UTF-8");
    }
    let start = if bytes.starts_with(b"\xef\xbb\xbf") { 3 } else { 0 };
    let text = &bytes[start..];
    let Some(first) = text.iter().position(|b| !b.is_ascii_whitespace()) else {
        return refuse("the file holds only blanks: save the drawing as DXF again");
    };
    if text[first..].iter().all(|b| *b == 0) {
        return refuse("the file holds only zero bytes: copy it again or restore it from a backup");
    }
    for (magic, message) in FOREIGN {
        if text[first..].starts_with(magic) {
            return refuse(message);
        }
    }
    Ok(Form::Text(start))
}

/// The problem that makes a whole file unreadable.
pub(super) fn not_dxf() -> Problem {
    whole_file("this is no DXF file: no section and no entity was found in it; save the drawing as DXF")
}

fn whole_file(message: &str) -> Problem {
    Problem { line: 1, offset: 0, message: message.to_owned(), loss: true }
}

fn refuse(message: &str) -> Result<Form, Problem> {
    Err(whole_file(message))
}

/// A DWG begins with its version: AC1.2 to AC2.x, AC1001 to AC1032 …
fn is_dwg(bytes: &[u8]) -> bool {
    bytes.starts_with(b"MC0.0")
        || (bytes.starts_with(b"AC")
            && bytes.len() >= 6
            && bytes[2..6].iter().all(|b| b.is_ascii_digit() || *b == b'.'))
}

fn is_utf16(bytes: &[u8]) -> bool {
    if bytes.starts_with(b"\xff\xfe") || bytes.starts_with(b"\xfe\xff") {
        return true;
    }
    // "  0\n" without a mark: every second byte of the beginning is zero and the others are plain text.
    let head = &bytes[..bytes.len().min(32)];
    if head.len() < 8 {
        return false;
    }
    let halves = |zero: usize| {
        head.iter().enumerate().all(|(i, b)| {
            if i % 2 == zero { *b == 0 } else { b.is_ascii_graphic() || b.is_ascii_whitespace() }
        })
    };
    halves(0) || halves(1)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_is_too_large_is_refused_unread() {
        // Memory that is only promised: none of it is looked at.
        let most = usize::try_from(crate::dxf::MAX_BYTES).unwrap();
        let bytes = memmap2::MmapMut::map_anon(most + 1).expect("memory can be promised");
        let problem = sniff(&bytes).expect_err("too large");
        assert!(
            problem.message.contains("2147483649 bytes, more than the 2147483648"),
            "{}",
            problem.message
        );
        assert_eq!(crate::dxf::too_large(crate::dxf::MAX_BYTES), None);
    }

    #[test]
    fn foreign_files_are_named() {
        let cases: &[(&[u8], &str)] = &[
            (b"", "empty"),
            (b" \r\n\n", "blanks"),
            (&[0; 5000], "zero"),
            (b"AC1032\0\0\0\0\0\0", "DWG"),
            (b"%PDF-1.7\n", "PDF"),
            (b"PK\x03\x04\x14\0", "zip"),
            (b"\xff\xfe0\0\n\0", "UTF-16"),
            (b"0\0\r\0\n\0S\0E\0C\0T\0I\0", "UTF-16"),
            (b"AutoCAD Binary DXF\n\x1a\0\0\0SECTION\0", "damaged"),
            (b"<svg></svg>", "SVG"),
        ];
        for (bytes, word) in cases {
            let problem = sniff(bytes).expect_err(word);
            assert!(problem.message.contains(word), "{}", problem.message);
            assert!(problem.loss);
        }
    }

    #[test]
    fn marks_and_blanks_in_front_are_text() {
        assert_eq!(sniff(b"\xef\xbb\xbf  0\nSECTION\n"), Ok(Form::Text(3)));
        assert_eq!(sniff(b"\n\n  0\nSECTION\n"), Ok(Form::Text(0)));
        assert_eq!(sniff(SIGNATURE), Ok(Form::Binary));
    }
}
