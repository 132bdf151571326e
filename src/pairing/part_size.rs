//! Whether the part that is drawn would be of a plausible size in millimetres and in inches. Common practice, no source:
//! the limits are wide, so that only a size that hardly any part with screw holes has speaks against a unit.

use std::ops::RangeInclusive;

use super::Role;
use super::rings::Rings;
use super::scale;
use super::texts::Statement;
use super::views::Views;
use crate::drawing::{DimensionKind, Drawing};
use crate::units::{MM_PER_INCH, Unit};

/// Larger side of a part (mm): hardly one is smaller than the head of its own screw (5.5 mm for M3), or longer than the
/// sheets and profiles that are kept in stock.
const PART: RangeInclusive<f64> = 5.0..=5_000.0;

/// Diameter of a hole (mm): a drill below it is one for nozzles and watches, and a larger opening is cut for a vessel.
const HOLE: RangeInclusive<f64> = 0.3..=500.0;

/// What is drawn round the holes, over the scale.
#[derive(Debug, Clone, Copy)]
struct Size {
    /// Larger side of the largest view with holes; none where no lines stand round the holes.
    part: Option<f64>,
    least_hole: f64,
    most_hole: f64,
}

impl Size {
    fn plausible(&self, unit: Unit, factor: f64) -> bool {
        let mm = |drawn: f64| drawn * factor * unit.in_mm();
        self.part.is_none_or(|part| PART.contains(&mm(part)))
            && HOLE.contains(&mm(self.least_hole))
            && HOLE.contains(&mm(self.most_hole))
    }
}

/// The unit that alone makes the part plausible, and the vote's words.
pub(super) fn speaks_for(
    drawing: &Drawing,
    rings: &Rings,
    views: &Views,
    roles: &[Role],
    statements: &[Statement],
) -> Option<(Unit, String)> {
    let size = size(rings, views, roles)?;
    let factors = factors(drawing, statements);
    let all = |unit: Unit| factors.iter().all(|f| size.plausible(unit, *f));
    let none = |unit: Unit| !factors.iter().any(|f| size.plausible(unit, *f));
    let unit = match (all(Unit::Mm) && none(Unit::Inch), all(Unit::Inch) && none(Unit::Mm)) {
        (true, _) => Unit::Mm,
        (_, true) => Unit::Inch,
        _ => return None,
    };
    let part = size.part.map_or_else(
        || format!("holes {:.3} to {:.3} wide", size.least_hole, size.most_hole),
        |part| format!("a part {part:.1} long, holes {:.3} to {:.3} wide", size.least_hole, size.most_hole),
    );
    Some((unit, format!("plausible part size: {part}")))
}

fn size(rings: &Rings, views: &Views, roles: &[Role]) -> Option<Size> {
    let mut size: Option<Size> = None;
    for ring in (0..rings.rings.len()).filter(|&i| roles[i] == Role::Hole) {
        let (hole, view) = (rings.rings[ring].diameter, &views.views[views.of_ring[ring]]);
        let b = view.bounds;
        let part = (!view.loose).then(|| (b.max.x - b.min.x).max(b.max.y - b.min.y));
        let known = size.unwrap_or(Size { part: None, least_hole: hole, most_hole: hole });
        size = Some(Size {
            part: known.part.into_iter().chain(part).reduce(f64::max),
            least_hole: known.least_hole.min(hole),
            most_hole: known.most_hole.max(hole),
        });
    }
    size
}

/// What drawn lengths are multiplied with: what most dimensions that show their measure say, else every scale that is
/// stated or full size, for a sheet may only be plotted at its scale.
fn factors(drawing: &Drawing, statements: &[Statement]) -> Vec<f64> {
    let lengths = |kind| !matches!(kind, DimensionKind::Angular | DimensionKind::ArcLength);
    let mut shown: Vec<f64> = (drawing.dimensions.iter())
        .filter(|d| d.origin.visible && lengths(d.kind) && scale::shows_measure(d) && d.length_factor > 0.0)
        .map(|d| d.length_factor)
        .collect();
    shown.sort_by(f64::total_cmp);
    if let Some(&most) = shown.get(shown.len() / 2) {
        // Drawn in one unit and dimensioned in the other is no scale.
        let converted = [MM_PER_INCH, 1.0 / MM_PER_INCH].iter().any(|c| (most / c - 1.0).abs() < 0.01);
        return vec![if converted { 1.0 } else { most }];
    }
    let stated = statements.iter().filter_map(|s| s.note.scale).filter(|s| *s > 0.0);
    std::iter::once(1.0).chain(stated.map(|s| 1.0 / s)).collect()
}
