//! Drawings that another library writes (the `dxf` crate) are read back with the circles that were put in.

use proptest::prelude::*;

use boreband::dxf::read;

/// Centre and diameter.
type Circle = (f64, f64, f64);

fn circle() -> impl Strategy<Value = Circle> {
    (-1e4..1e4_f64, -1e4..1e4_f64, 0.1..500.0_f64)
}

/// A file of that library with these circles, upside down ones (extrusion −z) where `flipped`.
fn written(circles: &[Circle], flipped: bool, version: dxf::enums::AcadVersion, binary: bool) -> Vec<u8> {
    let mut drawing = dxf::Drawing::new();
    drawing.header.version = version;
    for &(x, y, diameter) in circles {
        let mut circle = dxf::entities::Circle {
            center: dxf::Point::new(if flipped { -x } else { x }, y, 0.0),
            radius: diameter / 2.0,
            ..Default::default()
        };
        if flipped {
            circle.normal = dxf::Vector::new(0.0, 0.0, -1.0);
        }
        drawing.add_entity(dxf::entities::Entity::new(dxf::entities::EntityType::Circle(circle)));
    }
    let mut bytes = Vec::new();
    if binary { drawing.save_binary(&mut bytes) } else { drawing.save(&mut bytes) }
        .expect("it can be written");
    bytes
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(64))]
    #[test]
    fn circles_come_back_where_they_were_put(
        circles in prop::collection::vec(circle(), 0..12),
        flipped: bool,
        binary: bool,
        version in prop::sample::select(vec![
            dxf::enums::AcadVersion::R12,
            dxf::enums::AcadVersion::R2000,
            dxf::enums::AcadVersion::R2010,
            dxf::enums::AcadVersion::R2018,
        ]),
    ) {
        let reading = read(&written(&circles, flipped, version, binary)).expect("a readable file");
        prop_assert!(reading.problems.iter().all(|p| !p.loss), "{:?}", reading.problems);
        let found: Vec<Circle> =
            reading.drawing.circles.iter().map(|c| (c.center.x, c.center.y, c.diameter)).collect();
        prop_assert_eq!(found.len(), circles.len());
        for (found, put) in found.iter().zip(&circles) {
            let near = |a: f64, b: f64| (a - b).abs() <= 1e-6 * b.abs().max(1.0);
            prop_assert!(near(found.0, put.0) && near(found.1, put.1) && near(found.2, put.2), "{found:?} {put:?}");
        }
    }
}
