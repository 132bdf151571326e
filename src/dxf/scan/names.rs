//! Names of layers and line types as entities use them: found again without looking at case, and quickly, because
//! every entity names a layer.

use crate::drawing::Stands;
use std::collections::HashMap;

use foldhash::fast::RandomState;

use crate::dxf::marking::is_of_marks;
use crate::dxf::raw::{LineType, RawLayer};
use crate::dxf::text::codepage::Decoder;
use crate::dxf::text::control::plain_text;

/// Words in the names of centre line types, in the languages that CAD programs write.
const CENTRE_WORDS: [&str; 10] =
    ["CENTER", "CENTRE", "DASHDOT", "DOT_DASH", "DOTDASH", "MITTE", "STRICHPUNKT", "AXES", "AXIS", "CHAIN"];

/// Words in the names of line types for what is no edge in sight: hidden ones, and those of another part or position.
const HIDDEN_WORDS: [&str; 9] =
    ["HIDDEN", "DASHED", "PHANTOM", "VERDECKT", "GESTRICHELT", "CACHE", "NASCOST", "TRATTEGG", "OCULT"];

/// Words that mark a pattern as another one although a centre word is in its name.
const OTHER_WORDS: [&str; 4] = ["PHANTOM", "DIVIDE", "BORDER", "DASHDOTDOT"];

/// Layers that are remembered.
pub(super) const RECENT: usize = 16;

/// Layer and line type names met so far.
#[derive(Debug, Default)]
pub(in crate::dxf) struct Names<'a> {
    /// Layers met last, by a cheap hash of their names: neighbours in a file are on few layers in turn.
    recent: [(&'a [u8], u32); RECENT],
    as_written: HashMap<&'a [u8], u32, RandomState>,
    folded: HashMap<String, u32, RandomState>,
    /// What the line types of the table stand for by their pattern; their names in upper case.
    types: HashMap<Vec<u8>, Stands, RandomState>,
    last_type: Option<(&'a [u8], Stands)>,
}

impl<'a> Names<'a> {
    /// The index of the layer of this name; a new one is on and thawed until the table says otherwise.
    pub(super) fn layer(
        &mut self,
        written: &'a [u8],
        decoder: &Decoder<'_>,
        layers: &mut Vec<RawLayer>,
    ) -> u32 {
        let place = place(written);
        let (name, index) = self.recent[place];
        if !name.is_empty() && name == written {
            return index;
        }
        let index = match self.as_written.get(written) {
            Some(index) => *index,
            None => {
                let name = symbol_name(decoder, written);
                let index = *self.folded.entry(name.to_lowercase()).or_insert_with(|| {
                    let marks = is_of_marks(&name);
                    layers.push(RawLayer { name, on: true, frozen: false, stands: Stands::Other, marks });
                    (layers.len() - 1) as u32
                });
                self.as_written.insert(written, index);
                index
            }
        };
        self.recent[place] = (written, index);
        index
    }

    /// What a line type name means for an entity.
    pub(super) fn line_type(&mut self, name: &'a [u8]) -> LineType {
        if name.is_empty() || name.eq_ignore_ascii_case(b"BYLAYER") {
            return LineType::ByLayer;
        }
        if name.eq_ignore_ascii_case(b"BYBLOCK") {
            return LineType::ByBlock;
        }
        LineType::Own(self.stands_for(name))
    }

    /// What a line type stands for, by its pattern in the table or by its name.
    pub(super) fn stands_for(&mut self, name: &'a [u8]) -> Stands {
        if let Some((last, stands)) = self.last_type
            && last == name
        {
            return stands;
        }
        let upper = name.to_ascii_uppercase();
        let stands = match (self.types.get(&upper), of_name(&upper)) {
            (Some(Stands::Centre), _) => Stands::Centre,
            (pattern, Stands::Other) => pattern.copied().unwrap_or_default(),
            (_, named) => named,
        };
        self.last_type = Some((name, stands));
        stands
    }

    /// Takes a line type of the table: long and short strokes in turn make a centre line, equal strokes with gaps one of
    /// what is not in sight.
    pub(super) fn add_line_type(&mut self, name: &[u8], pattern: &[f64]) {
        let drawn: Vec<f64> = pattern.iter().copied().filter(|d| *d >= 0.0).collect();
        let stands = match drawn[..] {
            [a, b] if a.max(b) > 2.0 * a.min(b) => Stands::Centre,
            [stroke] if stroke > 0.0 && pattern.len() > 1 => Stands::Hidden,
            _ => return,
        };
        self.types.insert(name.to_ascii_uppercase(), stands);
        self.last_type = None;
    }
}

/// Where a layer is remembered.
#[inline]
pub(super) fn place(name: &[u8]) -> usize {
    let ends = name.first().copied().unwrap_or(0).wrapping_add(name.last().copied().unwrap_or(0));
    (usize::from(ends) + name.len()) % RECENT
}

fn of_name(upper: &[u8]) -> Stands {
    let name = String::from_utf8_lossy(upper);
    let says = |words: &[&str]| words.iter().any(|word| name.contains(word));
    if says(&CENTRE_WORDS) && !says(&OTHER_WORDS) {
        Stands::Centre
    } else if says(&HIDDEN_WORDS) {
        Stands::Hidden
    } else {
        Stands::Other
    }
}

/// A symbol name as it reads: decoded, `\U+XXXX` resolved, blanks around it gone.
pub(in crate::dxf) fn symbol_name(decoder: &Decoder<'_>, written: &[u8]) -> String {
    let text = decoder.text(written.trim_ascii());
    let coded = text.contains('\\');
    if coded && (text.contains("\\U+") || text.contains("\\u+") || text.contains("\\M+")) {
        plain_text(&text, false)
    } else {
        text.into_owned()
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn layers_are_found_in_any_case() {
        let decoder = Decoder::new(None, None, None);
        let mut layers = Vec::new();
        let mut names = Names::default();
        let a = names.layer(b"Holes", &decoder, &mut layers);
        let b = names.layer(b"HOLES", &decoder, &mut layers);
        let c = names.layer(b"L\\U+00F6cher", &decoder, &mut layers);
        let d = names.layer(b"L\xd6CHER", &decoder, &mut layers);
        assert_eq!((a, c), (b, d));
        assert_ne!(a, c);
        assert_eq!(layers[0].name, "Holes");
        assert_eq!(layers[1].name, "Löcher");
    }

    #[test]
    fn centre_lines_by_name_or_pattern() {
        let mut names = Names::default();
        assert_eq!(names.line_type(b"Center2"), LineType::Own(Stands::Centre));
        assert_eq!(names.line_type(b"PHANTOM"), LineType::Own(Stands::Hidden));
        assert_eq!(names.line_type(b"ByLayer"), LineType::ByLayer);
        // The ISO patterns: 10 is dash and dot, 05 has two dots (acadiso.lin).
        names.add_line_type(b"ACAD_ISO10W100", &[12.0, -3.0, 0.0, -3.0]);
        names.add_line_type(b"ACAD_ISO05W100", &[24.0, -3.0, 0.0, -3.0, 0.0, -3.0]);
        assert_eq!(names.line_type(b"acad_iso10w100"), LineType::Own(Stands::Centre));
        assert_eq!(names.line_type(b"ACAD_ISO05W100"), LineType::Own(Stands::Other));
    }

    #[test]
    fn lines_of_what_is_not_in_sight_by_name_or_pattern() {
        let mut names = Names::default();
        for name in [&b"HIDDEN"[..], b"Hidden2", b"DASHEDX2", b"VERDECKT"] {
            assert_eq!(names.line_type(name), LineType::Own(Stands::Hidden), "{name:?}");
        }
        for name in [&b"CONTINUOUS"[..], b"DOT", b"ACAD_ISO02W100"] {
            assert_eq!(names.line_type(name), LineType::Own(Stands::Other), "{name:?}");
        }
        // The ISO pattern 02 is strokes of one length (acadiso.lin); dots alone and a line without gaps are others.
        names.add_line_type(b"ACAD_ISO02W100", &[12.0, -3.0]);
        names.add_line_type(b"DOT", &[0.0, -6.35]);
        names.add_line_type(b"CONTINUOUS", &[]);
        assert_eq!(names.line_type(b"acad_iso02w100"), LineType::Own(Stands::Hidden));
        assert_eq!(names.line_type(b"dot"), LineType::Own(Stands::Other));
        assert_eq!(names.line_type(b"Continuous"), LineType::Own(Stands::Other));
    }
}
