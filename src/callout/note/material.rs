//! The material: after its label, or named by itself. Names that are also ordinary words or numbers need the
//! label, and a line about screws or other parts names no sheet.

use super::super::meaning::Meaning;
use super::super::normal::normalise;
use super::super::number::quantity;
use super::pieces::{Piece, past_marks};
use crate::trade::Material;

/// More words than this are a sentence, in which a metal may belong to anything.
const MOST_WORDS: usize = 8;

/// More words than this are no entry of a title block any more.
const LONGEST_ENTRY: usize = 16;

/// Names that only say steel: another name beside them says which.
const STEEL: &[&str] = &["STEEL", "STAHL", "ACIER", "ACCIAIO", "ACERO"];

/// Words beside which a number is a grade.
const METALS: &[&str] = &[
    "SS",
    "SST",
    "STAINLESS",
    "INOX",
    "EDELSTAHL",
    "CRS",
    "HRS",
    "AL",
    "ALU",
    "ALUM",
    "ALUMINUM",
    "ALUMINIUM",
    "ALLOY",
];

/// Words that say that aluminium is cast in a die; they may stand before its name: `DIE CAST ALUMINIUM`.
const DIE_CAST: &[&str] = &[
    "DIE CAST",
    "DIE-CAST",
    "DIECAST",
    "DRUCKGUSS",
    "PRESSOFUS",
    "SOUS PRESSION",
    "FUNDICION A PRESION",
    "压铸",
    "ダイカスト",
    "ダイキャスト",
];

/// Meanings of lines whose metal is that of a screw or of another part.
const ELSEWHERE: &[Meaning] = &[
    Meaning::Screw,
    Meaning::ScrewRolling,
    Meaning::ScrewCutting,
    Meaning::ScrewSpaced,
    Meaning::Tap,
    Meaning::TappedHole,
    Meaning::OtherPart,
    Meaning::Coating,
];

/// `MATL: 304`, `WERKSTOFF DC01`, `材料 SPCC`.
pub(super) fn labelled(piece: Piece<'_>) -> Option<Material> {
    let mut line_start = true;
    for c in piece.places() {
        if let Some(after) = c.word(Meaning::Material) {
            let marked = matches!(after.spaces().peek(), Some(':' | '=' | '\n'));
            let value = piece.rest(past_marks(after).blanks());
            let value = entry_text(value);
            let found = if line_start || marked { entry(value) } else { find_in(value) };
            if found.is_some() {
                return found;
            }
        }
        // A note's number does not take the start from its label.
        line_start = match c.peek() {
            Some('\n') => true,
            Some(ch) => line_start && (ch == ' ' || ch == '.' || ch == ')' || ch.is_ascii_digit()),
            None => false,
        };
    }
    None
}

/// The entry that a text begins with: to the end of its line, and no further than an entry goes, so that a long line
/// of labels is not read once for each.
fn entry_text(text: &str) -> &str {
    let line = text.lines().next().unwrap_or_default();
    let mut ends = line.char_indices().filter(|(_, c)| c.is_whitespace()).map(|(i, _)| i);
    ends.nth(LONGEST_ENTRY).map_or(line, |end| &line[..end])
}

/// A material in a line without a label: `16 GA CRS`, `ALUMINUM 6061-T6`.
pub(super) fn named(line: Piece<'_>) -> Option<Material> {
    let text = line.rest(line.cursor());
    if text.split_whitespace().nth(MOST_WORDS).is_some() {
        return None;
    }
    let said = line.meanings();
    let says = |wanted: &[Meaning]| wanted.iter().any(|m| said.contains(m));
    if says(ELSEWHERE) {
        return None;
    }
    let (thickness, sheet) = (says(&[Meaning::Thickness, Meaning::Gauge]), says(&[Meaning::Sheet]));
    let words: Vec<&str> = text.split_whitespace().collect();
    // `Q235 10.00 mm`: a grade and a length with its unit are all that the line says.
    let graded =
        words.len() <= 3 && line.places().any(|c| quantity(c).is_some_and(|(q, _)| q.unit.is_some()));
    let beside_metal = |i: usize| {
        let neighbours = [i.checked_sub(1), i.checked_add(1)];
        neighbours.into_iter().flatten().any(|n| words.get(n).is_some_and(|w| is_metal_word(w)))
    };
    let strong = words.iter().enumerate().filter(|(i, word)| {
        let reads = thickness || beside_metal(*i);
        if is_number(word) { reads } else { reads || sheet || !is_weak(word) || (graded && is_grade(word)) }
    });
    let strong: Vec<&str> = strong.map(|(_, word)| *word).collect();
    find_in(&strong.join(" "))
}

/// The material that a text names, also where its letters have full stops (`C.R.S.`) and where it is cast.
fn find_in(text: &str) -> Option<Material> {
    let found = Material::find_in(text).or_else(|| Material::find_in(&without_stops(text)?));
    found.map(|material| cast(material, text))
}

/// Aluminium with the words of a die casting is a die casting.
fn cast(material: Material, text: &str) -> Material {
    if material != Material::AluminiumWrought {
        return material;
    }
    let text = normalise(text);
    let die_cast = DIE_CAST.iter().any(|words| text.contains(words));
    if die_cast { Material::AluminiumDieCast } else { material }
}

/// `16 GA CRS` of `16 GA C.R.S.`; none where no word is written so.
fn without_stops(text: &str) -> Option<String> {
    let abbreviated = |word: &str| {
        let pairs = || word.trim_end_matches(',').as_bytes().chunks(2);
        let lettered = |p: &[u8]| p[0].is_ascii_alphabetic() && p.get(1).is_none_or(|c| *c == b'.');
        (2..=4).contains(&pairs().len()) && pairs().all(lettered)
    };
    let plain = |word: &str| if abbreviated(word) { word.replace('.', "") } else { word.to_owned() };
    let any = text.split_whitespace().any(abbreviated);
    any.then(|| text.split_whitespace().map(plain).collect::<Vec<_>>().join(" "))
}

/// Whether a word says metal, so that a grade's number beside it is a grade: `304 SS`, `6061 ALUMINUM`.
fn is_metal_word(word: &str) -> bool {
    let word = bare(word).to_uppercase();
    METALS.contains(&word.as_str()) || STEEL.contains(&word.as_str())
}

fn bare(word: &str) -> &str {
    word.trim_matches(|c: char| !c.is_alphanumeric() && c != '#')
}

/// A plain number, which may be a size or part of a number: `5052`, `304`.
fn is_number(word: &str) -> bool {
    let word = bare(word);
    !word.is_empty() && word.chars().all(|c| c.is_ascii_digit())
}

/// Whether a material's name could as well be a tag, a chamfer, a component or a size: `C10`, `A36`, `1.4301`.
fn is_weak(word: &str) -> bool {
    let word = bare(word);
    let letters = word.chars().filter(|c| c.is_alphabetic()).count();
    let digits = word.chars().filter(char::is_ascii_digit).count();
    letters == 0 || (letters == 1 && digits < 4)
}

/// Whether a word is a letter and three digits, as structural steels are named: `Q235`, `S355`.
fn is_grade(word: &str) -> bool {
    let word = bare(word).as_bytes();
    word.len() == 4 && word[0].is_ascii_alphabetic() && word[1..].iter().all(u8::is_ascii_digit)
}

/// What stands in the field of a material. Names that need a field are read here too: `304`, `STEEL`.
pub(super) fn entry(value: &str) -> Option<Material> {
    let value = value.trim();
    let found = Material::parse(value).map(|material| cast(material, value));
    found.or_else(|| find_in(value)).or_else(|| leading(value))
}

/// The material that the entry begins with, where more follows: `304, 16 GA`, `STEEL 1.5`.
fn leading(value: &str) -> Option<Material> {
    let words: Vec<&str> = value.split([' ', ',', ';', '\t']).filter(|w| !w.is_empty()).collect();
    let generic = |w: &str| STEEL.contains(&w.to_uppercase().as_str());
    if let [first, second, ..] = words[..]
        && generic(first)
        && let Some(grade) = Material::parse(second)
        && matches!(grade, Material::StainlessSteel | Material::StructuralSteel | Material::LowCarbonSteel)
    {
        return Some(grade);
    }
    (1..=words.len().min(4)).rev().find_map(|n| Material::parse(&words[..n].join(" ")))
}

#[cfg(test)]
mod tests {
    use super::super::read;
    use super::*;
    use Material::*;

    fn of(text: &str) -> Option<Material> {
        read(text).material
    }

    // Grade to family as the standards of the notations define them (recalled).
    #[test]
    fn labelled_and_named() {
        for (text, material) in [
            ("MATERIAL: 304", StainlessSteel),
            ("MATL 5052-H32 .090", AluminiumWrought),
            ("MAT'L: STEEL", LowCarbonSteel),
            ("WERKSTOFF DC01", LowCarbonSteel),
            ("Werkstoff: 1.4301", StainlessSteel),
            ("MATIERE: ACIER INOX", StainlessSteel),
            ("MATÉRIAU: EN AW-5754", AluminiumWrought),
            ("MATERIALE: S235JR", StructuralSteel),
            ("材料 SPCC", LowCarbonSteel),
            ("材質：SUS304", StainlessSteel),
            ("1. MATERIAL: 304, 16 GA", StainlessSteel),
            ("MATERIAL\n304", StainlessSteel),
            ("MATERIAL: STEEL 304", StainlessSteel),
            ("SHEET STEEL DC01", LowCarbonSteel),
            ("ALUMINIUM 6061-T6", AluminiumWrought),
            ("ALUMINUM 5052-H32 .090", AluminiumWrought),
            ("304 STAINLESS", StainlessSteel),
            ("STAINLESS 304", StainlessSteel),
            ("304 SS", StainlessSteel),
            ("EN AC-46000", AluminiumDieCast),
            ("ALUMINIUM DIE CAST A380", AluminiumDieCast),
            ("ZAMAK 5", ZincDieCast),
            ("Blech 2 mm DC01", LowCarbonSteel),
            ("16 GA C.R.S.", LowCarbonSteel),
            ("MATL: C.R.S.", LowCarbonSteel),
            ("DIE CAST ALUMINUM", AluminiumDieCast),
            ("MATERIAL: DIE CAST ALUMINIUM", AluminiumDieCast),
            ("ALUMINUM DIE CASTING", AluminiumDieCast),
            ("Q235 10.00 mm", StructuralSteel),
            ("S355 8 mm", StructuralSteel),
        ] {
            assert_eq!(of(text), Some(material), "{text}");
        }
    }

    #[test]
    fn what_names_no_material() {
        for text in [
            "304",
            "C10",
            "1.4301",
            "Q235",
            "Q235 THIS PART IS 10 mm",
            "1.4301 TYP",
            "1050 TYP",
            "PLATE 1050 WIDE",
            "PART NO 5052",
            "STAINLESS STEEL SCREW M4",
            "BRASS INSERT",
            "REMOVE MATERIAL 304 TIMES",
            "MATERIAL: SEE TABLE",
            "THE COPPER BAR MUST NOT TOUCH THE HOUSING WHEN CLOSED",
        ] {
            assert_eq!(of(text), None, "{text}");
        }
    }
}
