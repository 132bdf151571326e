//! Random placements: what the reader gives is what the formulas of the DXF reference give, calculated here on their
//! own.

use proptest::prelude::*;

use super::{circles, file, losses, reading};

#[derive(Debug, Clone)]
struct Placement {
    at: (f64, f64),
    scale: f64,
    mirrored: (bool, bool),
    rotation: f64,
    base: (f64, f64),
    upside_down: bool,
}

fn placement() -> impl Strategy<Value = Placement> {
    let coordinate = -500.0..500.0_f64;
    (
        (coordinate.clone(), coordinate.clone()),
        0.01..50.0_f64,
        any::<(bool, bool)>(),
        -720.0..720.0_f64,
        (coordinate.clone(), coordinate),
        any::<bool>(),
    )
        .prop_map(|(at, scale, mirrored, rotation, base, upside_down)| Placement {
            at,
            scale,
            mirrored,
            rotation,
            base,
            upside_down,
        })
}

impl Placement {
    fn pairs(&self, block: &str) -> String {
        let sign = |negative: bool| if negative { -self.scale } else { self.scale };
        let (sx, sy) = (sign(self.mirrored.0), sign(self.mirrored.1));
        let extrusion = if self.upside_down { "210 0\n220 0\n230 -1\n" } else { "" };
        format!(
            "0 INSERT\n2 {block}\n10 {:?}\n20 {:?}\n41 {sx:?}\n42 {sy:?}\n43 {:?}\n50 {:?}\n{extrusion}",
            self.at.0, self.at.1, self.scale, self.rotation
        )
    }

    /// Base point out, scale, turn, insertion point in, mirror the x axis for an extrusion downwards.
    fn image(&self, (x, y): (f64, f64)) -> (f64, f64) {
        let sign = |negative: bool| if negative { -self.scale } else { self.scale };
        let (x, y) = (x - self.base.0, y - self.base.1);
        let (x, y) = (x * sign(self.mirrored.0), y * sign(self.mirrored.1));
        let (sin, cos) = self.rotation.to_radians().sin_cos();
        let (x, y) = (x * cos - y * sin + self.at.0, x * sin + y * cos + self.at.1);
        if self.upside_down { (-x, y) } else { (x, y) }
    }
}

/// The pairs of one circle in one of the ways to draw it, with its centre and radius.
fn drawn(kind: u8, (x, y): (f64, f64), r: f64) -> String {
    match kind {
        0 => format!("0 CIRCLE\n10 {x:?}\n20 {y:?}\n40 {r:?}\n"),
        1 => format!(
            "0 ARC\n10 {x:?}\n20 {y:?}\n40 {r:?}\n50 20\n51 170\n0 ARC\n10 {x:?}\n20 {y:?}\n40 {r:?}\n50 170\n51 20\n"
        ),
        2 => format!(
            "0 LWPOLYLINE\n90 2\n70 1\n10 {:?}\n20 {y:?}\n42 1\n10 {:?}\n20 {y:?}\n42 1\n",
            x - r,
            x + r
        ),
        _ => format!("0 ELLIPSE\n10 {x:?}\n20 {y:?}\n11 {r:?}\n21 0\n40 1\n"),
    }
}

proptest! {
    #[test]
    fn nested_placements_are_what_the_formulas_say(
        outer in placement(),
        inner in placement(),
        center in (-100.0..100.0_f64, -100.0..100.0_f64),
        radius in 0.1..20.0_f64,
        kind in 0..4_u8,
    ) {
        let blocks = format!(
            "0 BLOCK\n2 IN\n10 {:?}\n20 {:?}\n{}0 ENDBLK\n0 BLOCK\n2 OUT\n10 {:?}\n20 {:?}\n{}0 ENDBLK",
            inner.base.0, inner.base.1, drawn(kind, center, radius),
            outer.base.0, outer.base.1, inner.pairs("IN"),
        );
        let found = reading(&file("AC1015", "", &blocks, &outer.pairs("OUT")));
        prop_assert!(losses(&found).is_empty());
        let [(x, y, diameter)] = circles(&found)[..] else {
            return Err(TestCaseError::fail(format!("{:?}", circles(&found))));
        };
        let (ex, ey) = outer.image(inner.image(center));
        let size = ex.abs().max(ey.abs()).max(1e3 * outer.scale).max(1.0);
        prop_assert!((x - ex).abs() < 1e-9 * size && (y - ey).abs() < 1e-9 * size, "{x} {y} for {ex} {ey}");
        let expected = 2.0 * radius * inner.scale * outer.scale;
        // The ends of a polyline far from the origin carry the rounding of their coordinates.
        prop_assert!((diameter - expected).abs() < 1e-9 * expected, "{diameter} for {expected}");
    }

    #[test]
    fn any_bytes_are_read_or_refused(bytes in proptest::collection::vec(any::<u8>(), 0..400)) {
        let _ = boreband::dxf::read(&bytes);
        let mut with_start = b"  0\nSECTION\n  2\nENTITIES\n".to_vec();
        with_start.extend(&bytes);
        prop_assert!(boreband::dxf::read(&with_start).is_ok());
    }
}
