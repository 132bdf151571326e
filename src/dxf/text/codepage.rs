//! Code pages: what `$DWGCODEPAGE` names before R2007, UTF-8 from R2007 on, and files that say one thing and hold
//! the other. Nothing is lost by a wrong declaration that the bytes themselves disprove; it becomes a note.

use std::borrow::Cow;
use std::cell::{Cell, OnceCell};

use encoding_rs::{
    BIG5, EUC_KR, Encoding, GB18030, GBK, IBM866, SHIFT_JIS, WINDOWS_874, WINDOWS_1250, WINDOWS_1251,
    WINDOWS_1252, WINDOWS_1253, WINDOWS_1254, WINDOWS_1255, WINDOWS_1256, WINDOWS_1257, WINDOWS_1258,
};

/// The upper halves of the DOS code pages, which old files name.
const DOS_PAGES: &str = include_str!("dos_code_pages.csv");

/// A declared code page.
#[derive(Debug, Clone, PartialEq)]
enum Page {
    /// UTF-8.
    Utf8,
    /// One that a library knows.
    Known(&'static Encoding),
    /// A DOS page by its upper half.
    Dos(Vec<char>),
}

/// Decodes the texts of one file; finds out by itself when the declaration is wrong.
#[derive(Debug)]
pub(in crate::dxf) struct Decoder<'a> {
    /// The whole file where it is text, to judge it as one.
    file: Option<&'a [u8]>,
    page: Page,
    /// From R2007 on files are UTF-8.
    modern: bool,
    all_utf8: OnceCell<bool>,
    lie: Cell<Option<&'static str>>,
}

impl<'a> Decoder<'a> {
    /// A decoder for the declared version and code page; `file` is the text file as a whole.
    pub(in crate::dxf) fn new(file: Option<&'a [u8]>, version: Option<&str>, declared: Option<&str>) -> Self {
        let modern = version.is_some_and(|v| v.to_ascii_uppercase().as_str() >= "AC1021");
        let page = declared.and_then(page_named);
        Decoder {
            file,
            page: page.unwrap_or(Page::Known(WINDOWS_1252)),
            modern,
            all_utf8: OnceCell::new(),
            lie: Cell::new(None),
        }
    }

    /// The text that `bytes` hold.
    pub(in crate::dxf) fn text<'b>(&self, bytes: &'b [u8]) -> Cow<'b, str> {
        if bytes.is_ascii() {
            // ASCII is UTF-8, so this never replaces anything.
            return String::from_utf8_lossy(bytes);
        }
        let as_utf8 = std::str::from_utf8(bytes).ok();
        match as_utf8 {
            Some(text) if self.modern => Cow::Borrowed(text),
            Some(text) if self.page == Page::Utf8 => Cow::Borrowed(text),
            Some(text) if self.file_is_utf8() => {
                self.lie.set(Some("declares a code page but holds UTF-8; read as UTF-8"));
                Cow::Borrowed(text)
            }
            None if self.modern => {
                self.lie.set(Some(
                    "should hold UTF-8 (R2007 or later) but holds bytes of a code page; read by the code page",
                ));
                self.by_page(bytes)
            }
            _ => self.by_page(bytes),
        }
    }

    /// What the file says wrongly about its own texts, as far as they were decoded.
    pub(in crate::dxf) fn lie(&self) -> Option<&'static str> {
        self.lie.get()
    }

    fn by_page<'b>(&self, bytes: &'b [u8]) -> Cow<'b, str> {
        match &self.page {
            Page::Utf8 => WINDOWS_1252.decode_without_bom_handling(bytes).0,
            Page::Known(encoding) => encoding.decode_without_bom_handling(bytes).0,
            Page::Dos(upper) => Cow::Owned(
                bytes
                    .iter()
                    .map(|b| match b {
                        0..=127 => char::from(*b),
                        _ => upper.get(usize::from(*b) - 128).copied().unwrap_or(char::REPLACEMENT_CHARACTER),
                    })
                    .collect(),
            ),
        }
    }

    /// Whether the file as a whole is UTF-8: a text of another code page breaks its rules within a few letters.
    fn file_is_utf8(&self) -> bool {
        *self.all_utf8.get_or_init(|| match self.file {
            // A file cut inside a letter is still UTF-8.
            Some(file) => match std::str::from_utf8(file) {
                Ok(_) => true,
                Err(error) => error.error_len().is_none(),
            },
            // Texts of a binary file stand between numbers; only a single-byte page can be doubted there.
            None => !matches!(
                self.page,
                Page::Known(e) if [GBK, GB18030, SHIFT_JIS, BIG5, EUC_KR].contains(&e)
            ),
        })
    }
}

/// The page that `$DWGCODEPAGE` names: `ANSI_1252`, `dos850`, `UTF-8` …
fn page_named(name: &str) -> Option<Page> {
    let lower = name.trim().to_ascii_lowercase();
    if lower.contains("utf") {
        return Some(Page::Utf8);
    }
    let digits: String = lower.chars().filter(char::is_ascii_digit).collect();
    let encoding = match digits.as_str() {
        "874" => WINDOWS_874,
        "932" => SHIFT_JIS,
        "936" => GBK,
        "54936" | "18030" => GB18030,
        "949" | "1361" => EUC_KR,
        "950" => BIG5,
        "1250" => WINDOWS_1250,
        "1251" => WINDOWS_1251,
        "1252" | "88591" => WINDOWS_1252,
        "1253" => WINDOWS_1253,
        "1254" => WINDOWS_1254,
        "1255" => WINDOWS_1255,
        "1256" => WINDOWS_1256,
        "1257" => WINDOWS_1257,
        "1258" => WINDOWS_1258,
        "866" => IBM866,
        "65001" => return Some(Page::Utf8),
        "885915" => encoding_rs::ISO_8859_15,
        "88592" => encoding_rs::ISO_8859_2,
        "88595" => encoding_rs::ISO_8859_5,
        "88597" => encoding_rs::ISO_8859_7,
        other => return dos_page(other).map(Page::Dos),
    };
    Some(Page::Known(encoding))
}

fn dos_page(number: &str) -> Option<Vec<char>> {
    DOS_PAGES.lines().skip(1).find_map(|line| {
        let mut fields = line.split(',');
        (fields.next()? == number).then(|| fields.next().unwrap_or_default().chars().collect())
    })
}

/// The letter that `\M+nXXXX` names: `n` is the code page (1 to 5), the rest its two bytes.
pub(super) fn multibyte(page: u8, code: u16) -> Option<String> {
    let encoding = match page {
        1 => SHIFT_JIS,
        2 => BIG5,
        3 | 4 => EUC_KR,
        5 => GBK,
        _ => return None,
    };
    let bytes = code.to_be_bytes();
    let (text, replaced) = encoding.decode_without_bom_handling(&bytes);
    (!replaced).then(|| text.trim_start_matches('\0').to_owned())
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn declared_pages_decode() {
        // Byte values from the published code page tables.
        for (page, bytes, text) in [
            ("ANSI_1252", &b"\xd83.6"[..], "Ø3.6"),
            ("dos850", b"\x9d3.6", "Ø3.6"),
            ("dos437", b"90\xf8", "90°"),
            ("ANSI_932", b"\x8c\x8a", "穴"),
            ("ANSI_936", b"\xd7\xd4\xb9\xa5", "自攻"),
            ("ANSI_1251", b"\xce\xf2\xe2", "Отв"),
        ] {
            let decoder = Decoder::new(Some(bytes), Some("AC1015"), Some(page));
            assert_eq!(decoder.text(bytes), text, "{page}");
            assert_eq!(decoder.lie(), None);
        }
    }

    #[test]
    fn a_wrong_declaration_is_seen_and_noted() {
        let utf8 = "Ø3.6 Löcher".as_bytes();
        let old = Decoder::new(Some(utf8), Some("AC1015"), Some("ANSI_1252"));
        assert_eq!(old.text(utf8), "Ø3.6 Löcher");
        assert!(old.lie().is_some());
        let ansi = b"\xd83.6 L\xf6cher";
        let new = Decoder::new(Some(ansi), Some("AC1027"), Some("ANSI_1252"));
        assert_eq!(new.text(ansi), "Ø3.6 Löcher");
        assert!(new.lie().is_some());
    }

    #[test]
    fn the_dos_tables_are_complete() {
        for line in DOS_PAGES.lines().skip(1) {
            let number = line.split(',').next().unwrap_or_default();
            assert_eq!(dos_page(number).map(|p| p.len()), Some(128), "{number}");
        }
        assert_eq!(DOS_PAGES.lines().count(), 13);
    }

    #[test]
    fn multibyte_codes_name_their_page() {
        // DXF reference: \M+1 is Shift-JIS; 8C8A is 穴.
        assert_eq!(multibyte(1, 0x8C8A).as_deref(), Some("穴"));
        assert_eq!(multibyte(9, 0x8C8A), None);
    }
}
