//! The coating that a note names: its thickness, and whether sizes hold before it or after it.

use super::super::Quantity;
use super::super::coating::{WrittenCoating, microns, stage};
use super::super::meaning::Meaning;
use super::super::number::quantity;
use super::super::thickness::thickness;
use super::pieces::Piece;

/// Coatings are thinner than this in any unit; sheets are not.
const MOST: f64 = 0.5;

/// `ZINC PLATE 8 µm`, `HOLE SIZES APPLY BEFORE PLATING`, `PAINT .003 THK`.
pub(super) fn read(whole: Piece<'_>) -> Option<WrittenCoating> {
    let coated = |clause: &Piece<'_>| clause.has(&[Meaning::Coating]);
    let thickness = whole.clauses().filter(coated).find_map(thickness_of);
    let stage =
        whole.clauses().filter(coated).find_map(|clause| clause.places().find_map(|c| Some(stage(c)?.0)));
    let found = WrittenCoating { thickness, stage };
    (found != WrittenCoating::default()).then_some(found)
}

fn thickness_of(clause: Piece<'_>) -> Option<Quantity> {
    let in_microns = || clause.places().find_map(|c| Some(microns(c)?.0));
    let marked = || clause.places().find_map(|c| Some(thickness(c)?.0));
    // `.0003 THK`, `THICKNESS 0.06 mm`, `ZINC PLATE .0003"`: only what is too thin for a sheet.
    let with_unit = || {
        let mut found = clause.places().filter_map(|c| Some(quantity(c)?.0).filter(|q| q.unit.is_some()));
        found.next().filter(|_| found.next().is_none())
    };
    let thin = |q: &Quantity| q.value > 0.0 && q.value < MOST;
    in_microns().or_else(|| marked().filter(thin)).or_else(|| with_unit().filter(thin))
}

#[cfg(test)]
mod tests {
    use super::super::super::coating::Stage;
    use super::super::read;

    // Notes of drawings in these languages (common practice).
    #[test]
    fn coatings_of_notes() {
        for (text, thickness, stage) in [
            ("ZINC PLATE 8 µm AFTER DRILLING", Some(0.008), None),
            ("POWDER COAT 60-80 µm AFTER FORMING", Some(0.08), None),
            ("HOLE SIZES APPLY BEFORE PLATING", None, Some(Stage::Before)),
            ("DIMENSIONS APPLY AFTER PLATING", None, Some(Stage::After)),
            ("ALL DIMENSIONS BEFORE COATING; COATING 25 MICRONS", Some(0.025), Some(Stage::Before)),
            ("ELECTROPLATED ZINC .0003 THK", Some(0.0003), None),
            ("verzinkt 8 µm", Some(0.008), None),
            ("Maße gelten vor Beschichtung", None, Some(Stage::Before)),
            ("Pulverbeschichtet 60 µm", Some(0.06), None),
            ("Cotes avant revêtement", None, Some(Stage::Before)),
            ("Peinture époxy 60 µm", Some(0.06), None),
            ("zincato 8 µm dopo foratura", Some(0.008), None),
            ("Quote dopo verniciatura", None, Some(Stage::After)),
            ("Cincado 8 µm, cotas antes del recubrimiento", Some(0.008), Some(Stage::Before)),
            ("表面镀锌 8μm", Some(0.008), None),
            ("尺寸为镀前尺寸", None, Some(Stage::Before)),
            ("亜鉛めっき 8μm", Some(0.008), None),
            ("寸法はめっき前とする", None, Some(Stage::Before)),
        ] {
            let coating = read(text).coating.unwrap_or_else(|| panic!("{text}"));
            assert_eq!((coating.thickness.map(|q| q.value), coating.stage), (thickness, stage), "{text}");
        }
    }

    #[test]
    fn what_is_no_coating_of_known_thickness() {
        for text in
            ["PAINT BLACK", "ROUGHNESS 3 µm", "MASK BEFORE DRILLING", "PLATE 2 mm", "REMOVE COATING FROM M4"]
        {
            assert_eq!(read(text).coating, None, "{text}");
        }
    }
}
