//! Materials, and the names that drawings of many countries give them.

use std::collections::HashMap;
use std::sync::LazyLock;

use serde::Deserialize;

use super::{Status, tables};

/// A material that a hole is made in.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum Material {
    /// Low-carbon steel sheet.
    LowCarbonSteel,
    /// Structural steel plate.
    StructuralSteel,
    /// Austenitic stainless steel.
    StainlessSteel,
    /// Wrought aluminium: sheet, plate, extrusion.
    AluminiumWrought,
    /// Aluminium die casting.
    AluminiumDieCast,
    /// Zinc die casting.
    ZincDieCast,
    /// Magnesium die casting.
    MagnesiumDieCast,
    /// Brass.
    Brass,
    /// Copper.
    Copper,
    /// Grey cast iron.
    GreyIron,
}

/// A name that drawings give a material.
#[derive(Debug, Clone, PartialEq, Deserialize)]
pub struct MaterialAlias {
    /// The material meant.
    pub material: Material,
    /// The name, as its standard writes it.
    pub alias: String,
    /// Whose notation it is: `EN`, `JIS`, `common name`.
    pub notation: String,
    /// `yes` for a name that is also an ordinary word or number, and is read only where nothing else stands.
    pub whole_entry_only: String,
    /// Where the row comes from.
    pub source: String,
    /// How well that is founded.
    pub status: Status,
}

static ALIASES: LazyLock<Vec<MaterialAlias>> =
    LazyLock::new(|| tables::rows("materials.csv", include_str!("tables/materials.csv")));

/// Normalised alias to material and whether it is good in running text.
static BY_KEY: LazyLock<HashMap<String, (Material, bool)>> = LazyLock::new(|| {
    let named = Material::ALL.into_iter().map(|m| (key(m.name()), (m, true)));
    let aliased = ALIASES.iter().map(|a| (key(&a.alias), (a.material, a.whole_entry_only == "no")));
    aliased.chain(named).collect()
});

/// The most words that one alias has, counted by a test.
const LONGEST: usize = 4;

/// Words that may stand beside a material's name in a title block without changing it.
const FILLERS: &[&str] = &[
    "MATERIAL",
    "MATL",
    "MAT",
    "WERKSTOFF",
    "SHEET",
    "PLATE",
    "BLECH",
    "TOLE",
    "TÔLE",
    "LAMIERA",
    "CHAPA",
    "BAR",
    "STEEL",
    "ALLOY",
    "ALUMINUM",
    "ALUMINIUM",
    "EXTRUSION",
    "EN",
    "DIN",
    "ISO",
    "ASTM",
    "AISI",
    "SAE",
    "JIS",
    "GB",
    "GB/T",
    "10130",
    "10025",
    "10088",
    "10142",
    "10346",
    "1706",
    "485",
    "573",
    "PER",
    "TO",
    "NACH",
    "OR",
    "EQUIV",
    "EQUIVALENT",
    "GRADE",
    "GR",
    "TYPE",
    "TEMPER",
    "CS",
    "B",
    "DIE",
    "CAST",
    "CASTING",
    "FINISH",
    "2B",
    "COLD",
    "HOT",
    "ROLLED",
    "THK",
    "THICK",
];

impl Material {
    /// Every material, in the order of the documentation.
    pub const ALL: [Material; 10] = [
        Material::LowCarbonSteel,
        Material::StructuralSteel,
        Material::StainlessSteel,
        Material::AluminiumWrought,
        Material::AluminiumDieCast,
        Material::ZincDieCast,
        Material::MagnesiumDieCast,
        Material::Brass,
        Material::Copper,
        Material::GreyIron,
    ];

    /// The name used in files and reports, for example `low-carbon-steel`.
    pub const fn name(self) -> &'static str {
        match self {
            Material::LowCarbonSteel => "low-carbon-steel",
            Material::StructuralSteel => "structural-steel",
            Material::StainlessSteel => "stainless-steel",
            Material::AluminiumWrought => "aluminium-wrought",
            Material::AluminiumDieCast => "aluminium-die-cast",
            Material::ZincDieCast => "zinc-die-cast",
            Material::MagnesiumDieCast => "magnesium-die-cast",
            Material::Brass => "brass",
            Material::Copper => "copper",
            Material::GreyIron => "grey-iron",
        }
    }

    /// In words: `low-carbon steel`.
    pub const fn words(self) -> &'static str {
        match self {
            Material::LowCarbonSteel => "low-carbon steel",
            Material::StructuralSteel => "structural steel",
            Material::StainlessSteel => "stainless steel",
            Material::AluminiumWrought => "wrought aluminium",
            Material::AluminiumDieCast => "die-cast aluminium",
            Material::ZincDieCast => "die-cast zinc",
            Material::MagnesiumDieCast => "die-cast magnesium",
            Material::Brass => "brass",
            Material::Copper => "copper",
            Material::GreyIron => "grey iron",
        }
    }

    /// Every drawing name of it that is known here.
    pub fn aliases(self) -> impl Iterator<Item = &'static MaterialAlias> {
        ALIASES.iter().filter(move |a| a.material == self)
    }

    /// Reads an entry that states a material and nothing else: a name (`low-carbon-steel`), a common drawing
    /// name (`CRS`, `DC01`, `5052-H32`, `1.4301`), or one with words that do not change it
    /// (`1.4301 (X5CrNi18-10)`, `STEEL, CRS, ASTM A1008`). Letter case, blanks, hyphens and underscores do not
    /// count. None if unknown or if two names contradict each other.
    ///
    /// ```
    /// use boreband::trade::Material;
    /// assert_eq!(Material::parse("EN AW-5754"), Some(Material::AluminiumWrought));
    /// assert_eq!(Material::parse("Zamak 3"), Some(Material::ZincDieCast));
    /// assert_eq!(Material::parse("unobtainium"), None);
    /// ```
    pub fn parse(text: &str) -> Option<Material> {
        if let Some((material, _)) = BY_KEY.get(&key(text)) {
            return Some(*material);
        }
        let (found, left) = scan(text, false)?;
        left.iter().all(|w| FILLERS.contains(&w.as_str())).then_some(found)
    }

    /// Finds a material named anywhere in a running text (`16 GA CRS`, `MATL 5052-H32 .090`). Names that are
    /// also ordinary words or numbers (`304`, `A2`, `MS`) are left alone. None if no material is named or if two
    /// contradict each other.
    ///
    /// ```
    /// use boreband::trade::Material;
    /// assert_eq!(Material::find_in("Blech 2 mm DC01"), Some(Material::LowCarbonSteel));
    /// assert_eq!(Material::find_in("SEE SHEET 304"), None);
    /// ```
    pub fn find_in(text: &str) -> Option<Material> {
        scan(text, true).map(|(material, _)| material)
    }
}

/// The material that the words name, and the words that name none. None if there is no name or two disagree.
fn scan(text: &str, running: bool) -> Option<(Material, Vec<String>)> {
    let words = words(text);
    let (mut found, mut left, mut i) = (None, Vec::new(), 0);
    while i < words.len() {
        let most = LONGEST.min(words.len() - i);
        let hit = (1..=most).rev().find_map(|n| {
            let (material, plain) = BY_KEY.get(&key(&words[i..i + n].join(" ")))?;
            (*plain || !running).then_some((*material, n))
        });
        match hit {
            Some((material, _)) if found.is_some_and(|f| f != material) => return None,
            Some((material, n)) => {
                found = Some(material);
                i += n;
            }
            None => {
                left.push(words[i].to_uppercase());
                i += 1;
            }
        }
    }
    Some((found?, left))
}

/// The words of a text: split at blanks, commas, brackets and the like; `ALSI9CU3(FE)` stays one word.
fn words(text: &str) -> Vec<String> {
    let spaced = text.replace([',', ';', ':', '=', '"', '\n', '\t', '|', '[', ']'], " ").replace(" (", " ");
    let trim = |w: &str| w.trim_matches(|c: char| c == '.' || c == '-' || c == '_').to_owned();
    let unbracket = |w: String| if w.contains('(') { w } else { w.trim_matches(')').to_owned() };
    spaced.split_whitespace().map(trim).map(unbracket).filter(|w| !w.is_empty()).collect()
}

/// A name with letter case, blanks, hyphens and other separators taken out.
fn key(text: &str) -> String {
    let mut upper = String::with_capacity(text.len());
    for c in text.chars() {
        match c {
            ',' => upper.push('.'),
            // Nearly all of them.
            c if c.is_ascii_alphanumeric() => upper.push(c.to_ascii_uppercase()),
            '+' | '#' | '/' | '.' => upper.push(c),
            c if c.is_alphanumeric() => upper.extend(c.to_uppercase()),
            _ => {}
        }
    }
    upper.trim_matches('.').to_owned()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn table_is_whole_and_unambiguous() {
        assert_eq!(ALIASES.len(), 637);
        assert_eq!(ALIASES.iter().map(|a| words(&a.alias).len()).max(), Some(LONGEST));
        let mut seen = HashMap::new();
        for row in ALIASES.iter() {
            assert!(matches!(row.whole_entry_only.as_str(), "yes" | "no"));
            assert!(
                !row.notation.is_empty()
                    && row.material.aliases().any(|a| a == row)
                    && !row.source.is_empty()
            );
            assert_eq!(row.status, Status::Memory, "names are recalled; say so");
            let before = seen.insert(key(&row.alias), row.material);
            assert_eq!(before, None, "{} stands twice", row.alias);
            assert_eq!(Material::parse(&row.alias), Some(row.material), "{}", row.alias);
        }
    }

    #[test]
    fn names_read_back() {
        for material in Material::ALL {
            assert_eq!(Material::parse(material.name()), Some(material));
            assert_eq!(Material::parse(&material.name().replace('-', "_").to_uppercase()), Some(material));
        }
    }

    #[test]
    fn names_of_many_countries() {
        use Material::*;
        // Grade to family as the standards that the notations belong to define them (recalled).
        for (text, material) in [
            ("CRS", LowCarbonSteel),
            ("hrs", LowCarbonSteel),
            ("DC01", LowCarbonSteel),
            ("DC01-A", LowCarbonSteel),
            ("SPCC", LowCarbonSteel),
            ("AISI 1018", LowCarbonSteel),
            ("1008", LowCarbonSteel),
            ("STEEL, CRS, ASTM A1008", LowCarbonSteel),
            ("S235JR", StructuralSteel),
            ("A36", StructuralSteel),
            ("Q235", StructuralSteel),
            ("304", StainlessSteel),
            ("316", StainlessSteel),
            ("1.4301", StainlessSteel),
            ("1.4301 (X5CrNi18-10)", StainlessSteel),
            ("X5CrNi18-10", StainlessSteel),
            ("SUS304", StainlessSteel),
            ("A2 sheet", StainlessSteel),
            ("5052-H32", AluminiumWrought),
            ("6061-T6", AluminiumWrought),
            ("6061-T6 ALUMINUM", AluminiumWrought),
            ("EN AW-5754", AluminiumWrought),
            ("AlMg3", AluminiumWrought),
            ("AlMgSi", AluminiumWrought),
            ("A380", AluminiumDieCast),
            ("ADC12", AluminiumDieCast),
            ("EN AC-46000", AluminiumDieCast),
            ("AlSi9Cu3", AluminiumDieCast),
            ("AlSi9Cu3(Fe)", AluminiumDieCast),
            ("ZAMAK 3", ZincDieCast),
            ("Zamak5", ZincDieCast),
            ("Z410", ZincDieCast),
            ("ZP3", ZincDieCast),
            ("AZ91D", MagnesiumDieCast),
            ("CuZn37", Brass),
            ("C36000", Brass),
            ("C110", Copper),
            ("Cu-ETP", Copper),
            ("GG20", GreyIron),
            ("EN-GJL-250", GreyIron),
            ("grey iron", GreyIron),
        ] {
            assert_eq!(Material::parse(text), Some(material), "{text}");
        }
    }

    #[test]
    fn what_is_no_material_is_none() {
        for text in ["", " ", "unobtainium", "SEE NOTE 3", "A", "CRS OR ABS", "DC01 BRASS", "wood"] {
            assert_eq!(Material::parse(text), None, "{text}");
        }
    }

    #[test]
    fn running_text() {
        for (text, expected) in [
            ("16 GA CRS", Some(Material::LowCarbonSteel)),
            ("MATL 5052-H32 .090", Some(Material::AluminiumWrought)),
            ("MATERIAL: SUS304 t=1.5", Some(Material::StainlessSteel)),
            ("Gehäuse EN AC-46000 Druckguss", Some(Material::AluminiumDieCast)),
            ("HOLES A2 AND 304", None),
            ("DC01 ON BRASS", None),
            ("", None),
        ] {
            assert_eq!(Material::find_in(text), expected, "{text}");
        }
    }
}
