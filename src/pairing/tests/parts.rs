//! Which part of a sheet a note of thickness or metal speaks of.

use super::*;
use crate::trade::Material;

/// Two parts on one sheet, each with its thickness under it: once the first stood for both.
#[test]
fn a_thickness_under_a_view_is_that_views() {
    let drawing = Sheet::new()
        .outline(0.0, 0.0, 100.0, 60.0)
        .circle(50.0, 30.0, 3.6)
        .text(10.0, -12.0, "t=1.5")
        .outline(200.0, 0.0, 300.0, 60.0)
        .circle(250.0, 30.0, 3.6)
        .text(210.0, -12.0, "t=3")
        .drawing();
    let paired = alone(&drawing);
    let thicknesses: Vec<_> = paired.holes.iter().map(|h| h.making.thickness).collect();
    assert_eq!(thicknesses, [Some(mm(1.5)), Some(mm(3.0))]);
    assert!(paired.conflicts.is_empty());
}

/// A thickness between a part and its view from the side, which shows no circles, is the part's.
#[test]
fn a_thickness_at_the_side_view_is_the_parts() {
    let drawing = Sheet::new()
        .outline(0.0, 0.0, 100.0, 60.0)
        .circle(50.0, 30.0, 3.6)
        .outline(0.0, -20.0, 100.0, -16.0)
        .text(10.0, -12.0, "t=1.5")
        .outline(200.0, 0.0, 300.0, 60.0)
        .circle(250.0, 30.0, 3.6)
        .text(210.0, -12.0, "t=3")
        .drawing();
    let thicknesses: Vec<_> = alone(&drawing).holes.iter().map(|h| h.making.thickness).collect();
    assert_eq!(thicknesses, [Some(mm(1.5)), Some(mm(3.0))]);
}

/// Two parts of different metal on one sheet: once the first material stood for both.
#[test]
fn a_material_under_a_view_is_that_views() {
    let drawing = Sheet::new()
        .outline(0.0, 0.0, 100.0, 60.0)
        .circle(50.0, 30.0, 3.6)
        .text(10.0, -12.0, "MATERIAL: DC01")
        .outline(200.0, 0.0, 320.0, 60.0)
        .circle(250.0, 30.0, 3.6)
        .text(210.0, -12.0, "MATERIAL: AlMg3")
        .outline(400.0, 0.0, 530.0, 60.0)
        .circle(450.0, 30.0, 3.6)
        .text(600.0, -100.0, "MATERIAL: 1.4301")
        .drawing();
    let metals: Vec<_> = alone(&drawing).holes.iter().map(|h| h.making.material).collect();
    use crate::trade::Material;
    let wanted = [Material::LowCarbonSteel, Material::AluminiumWrought, Material::StainlessSteel];
    assert_eq!(metals, wanted.map(Some));
}

/// A gauge means another thickness in another metal: 16 GA is .0598 in of steel and .0508 in of aluminium
/// (Manufacturers' Standard Gauge and Brown & Sharpe).
#[test]
fn a_gauge_under_a_view_is_of_that_views_metal() {
    let drawing = Sheet::new()
        .outline(0.0, 0.0, 100.0, 60.0)
        .circle(50.0, 30.0, 3.6)
        .text(10.0, -12.0, "16 GA CRS")
        .outline(200.0, 0.0, 320.0, 60.0)
        .circle(250.0, 30.0, 3.6)
        .text(210.0, -9.0, "MATERIAL: 5052-H32")
        .text(210.0, -13.0, "16 GA")
        .drawing();
    let thick: Vec<_> = alone(&drawing).holes.iter().map(|h| h.making.thickness.map(Length::inch)).collect();
    assert_eq!(thick.len(), 2);
    assert!((thick[0].unwrap() - 0.0598).abs() < 1e-6, "{thick:?}");
    assert!((thick[1].unwrap() - 0.0508).abs() < 1e-6, "{thick:?}");
}

/// The dimension beside a part widens its view, and the view from the side then seemed to be another part, which took
/// the thickness that stands between them.
#[test]
fn a_dimension_beside_a_part_makes_no_other_part_of_its_side_view() {
    let drawing = Sheet::new()
        .outline(0.0, 0.0, 100.0, 60.0)
        .line(-10.0, 0.0, 0.0, 0.0)
        .line(-10.0, 60.0, 0.0, 60.0)
        .circle(50.0, 30.0, 3.6)
        .outline(0.0, -50.0, 100.0, -24.0)
        .text(10.0, -16.0, "t=4")
        .outline(200.0, 0.0, 300.0, 60.0)
        .circle(250.0, 20.0, 3.6)
        .text(210.0, -12.0, "t=1.2")
        .drawing();
    let thicknesses: Vec<_> = alone(&drawing).holes.iter().map(|h| h.making.thickness).collect();
    assert_eq!(thicknesses, [Some(mm(4.0)), Some(mm(1.2))]);
}

/// Lines of a view's own scale, material and thickness under it are no title block.
#[test]
fn lines_under_a_view_stay_the_views() {
    let drawing = Sheet::new()
        .outline(0.0, 0.0, 100.0, 60.0)
        .circle(50.0, 30.0, 3.6)
        .text(10.0, -8.0, "SCALE: 1:1")
        .text(10.0, -12.0, "MATERIAL: DC01")
        .text(10.0, -16.0, "THICKNESS: 1.5")
        .outline(200.0, 0.0, 300.0, 60.0)
        .circle(250.0, 30.0, 3.6)
        .text(210.0, -12.0, "THICKNESS: 3")
        .drawing();
    let thicknesses: Vec<_> = alone(&drawing).holes.iter().map(|h| h.making.thickness).collect();
    assert_eq!(thicknesses, [Some(mm(1.5)), Some(mm(3.0))]);
}

/// Over a title block of bare labels they were taken for lines of it.
#[test]
fn lines_under_a_view_over_the_title_block_stay_the_views() {
    let drawing = Sheet::new()
        .outline(0.0, 0.0, 100.0, 60.0)
        .circle(50.0, 30.0, 3.6)
        .text(10.0, -8.0, "t=1.5 mm")
        .outline(200.0, 0.0, 300.0, 60.0)
        .circle(230.0, 20.0, 4.6)
        .text(210.0, -8.0, "THICKNESS: 3")
        .text(210.0, -12.0, "MATERIAL: SS400")
        .text(215.0, -60.0, "TITLE")
        .text(245.0, -60.0, "COVER")
        .text(215.0, -66.0, "DRAWN")
        .text(245.0, -66.0, "KM")
        .text(215.0, -72.0, "MATERIAL")
        .text(245.0, -72.0, "A5052")
        .text(215.0, -78.0, "DATE")
        .text(245.0, -78.0, "2024-05-17")
        .drawing();
    let said: Vec<_> =
        alone(&drawing).holes.iter().map(|h| (h.making.thickness, h.making.material)).collect();
    let of = |thickness: f64, material: Material| (Some(mm(thickness)), Some(material));
    assert_eq!(said, [of(1.5, Material::AluminiumWrought), of(3.0, Material::StructuralSteel)]);
}

/// A disc without holes once reached for the balloons of the next part, as far as four times its size, and the notes
/// between them became its own.
#[test]
fn a_disc_is_a_view_of_its_own() {
    let drawing = Sheet::new()
        .outline(0.0, 0.0, 100.0, 60.0)
        .circle(50.0, 30.0, 3.6)
        .text(5.0, -12.0, "t=1.5")
        .circle(160.0, 80.0, 9.0)
        .circle(300.0, 30.0, 130.0)
        .text(270.0, -45.0, "t=6")
        .drawing();
    let paired = alone(&drawing);
    let thickness = |diameter: f64| {
        let hole = paired.holes.iter().find(|h| (h.drawn.mm() - diameter).abs() < 0.1);
        hole.and_then(|h| h.making.thickness)
    };
    assert_eq!((thickness(3.6), thickness(130.0)), (Some(mm(1.5)), Some(mm(6.0))));
}

/// The numbers in balloons on a part without holes made it a list, and its thickness became that of the sheet.
#[test]
fn a_part_without_holes_may_hold_balloons_and_lengths() {
    let drawing = [(20.0, "1"), (40.0, "2"), (60.0, "3"), (80.0, "449,4"), (50.0, "461,7")]
        .iter()
        .fold(Sheet::new().outline(0.0, 0.0, 100.0, 70.0), |sheet, (x, number)| sheet.text(*x, 50.0, number))
        .text(10.0, -12.0, "t=2.5")
        .outline(200.0, -20.0, 300.0, 110.0)
        .circle(250.0, 40.0, 3.6)
        .text(210.0, 115.0, "t=8")
        .drawing();
    let paired = alone(&drawing);
    assert_eq!((paired.holes[0].making.thickness, paired.conflicts.len()), (Some(mm(8.0)), 0));
}

/// The title block's metal was taken, because no note of a metal stands at the other part.
#[test]
fn a_note_of_thickness_at_another_part_tells_that_a_metal_is_that_of_its_own_part() {
    let sheet = |other: &str| {
        let sheet = Sheet::new()
            .outline(0.0, 0.0, 100.0, 70.0)
            .text(10.0, -12.0, other)
            .outline(200.0, -20.0, 300.0, 110.0)
            .circle(250.0, 40.0, 3.6)
            .text(210.0, 115.0, "MATERIAL: AlMg3")
            .text(400.0, -60.0, "MATERIAL")
            .text(430.0, -60.0, "STAINLESS STEEL")
            .outline(395.0, -65.0, 500.0, -50.0);
        alone(&sheet.drawing()).holes[0].making.material
    };
    assert_eq!(sheet("t=2.5"), Some(Material::AluminiumWrought));
    assert_eq!(
        sheet("LID"),
        Some(Material::StainlessSteel),
        "one part, and its title block goes before a note"
    );
}

/// A part without holes on one line with the next one is a part of its own, and keeps its thickness to itself.
#[test]
fn parts_on_one_line_are_no_projections_of_each_other() {
    let drawing = Sheet::new()
        .outline(0.0, 0.0, 100.0, 64.0)
        .text(10.0, -12.0, "t=0.8")
        .outline(200.0, 0.0, 300.0, 60.0)
        .circle(250.0, 20.0, 3.6)
        .text(210.0, -12.0, "t=8")
        .drawing();
    assert_eq!(alone(&drawing).holes[0].making.thickness, Some(mm(8.0)));
}

/// The first of the thicknesses that notes at other parts state was taken for a part that no note speaks of.
#[test]
fn what_notes_at_two_parts_say_differently_says_nothing_of_a_third() {
    let sheet = |second: &str| {
        let plate = |sheet: Sheet, x: f64, note: &str| {
            let sheet =
                sheet.outline(x, 0.0, x + 100.0, 60.0).circle(x + 20.0 + 0.1 * x, 30.0, 5.0 + 0.01 * x);
            if note.is_empty() { sheet } else { sheet.text(x + 10.0, -9.0, note) }
        };
        let first = plate(Sheet::new(), 0.0, "ALUMINIUM t=3");
        alone(&plate(plate(first, 200.0, second), 400.0, "").drawing())
    };
    let of = |paired: Paired| -> Vec<_> {
        paired.holes.iter().map(|h| (h.making.thickness, h.making.material.is_some())).collect()
    };
    let (three, five) = (Some(mm(3.0)), Some(mm(5.0)));
    assert_eq!(of(sheet("ALUMINIUM t=5")), [(three, true), (five, true), (None, true)]);
    assert_eq!(of(sheet("MILD STEEL t=5")), [(three, true), (five, true), (None, false)]);
    assert_eq!(of(sheet("ALUMINIUM t=3")), [(three, true); 3]);
}
