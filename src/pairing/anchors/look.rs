//! How things on a sheet are looked at: where they are drawn, and as the viewports of a layout show model space there.

use crate::drawing::{Drawing, SpaceId, Viewport};
use crate::geometry::Point;
use crate::pairing::rings::Rings;

/// How things on the sheet are looked at: where they are drawn, and as a viewport shows model space there.
#[derive(Clone, Copy)]
pub(super) enum Look<'d> {
    Space(SpaceId),
    Through(&'d Viewport),
}

/// The looks at what stands in a space: itself, and through each of its viewports.
pub(super) fn looks(drawing: &Drawing, space: SpaceId) -> impl Iterator<Item = Look<'_>> {
    let through = drawing.viewports.iter().filter(move |v| space != 0 && v.space == space);
    std::iter::once(Look::Space(space)).chain(through.map(Look::Through))
}

impl Look<'_> {
    /// The point that is meant by a point of the sheet; none where the viewport shows nothing.
    pub(super) fn point(self, p: Point) -> Option<Point> {
        match self {
            Look::Space(_) => Some(p),
            Look::Through(view) => view.model_point(p),
        }
    }

    /// Paper over model.
    pub(super) fn scale(self) -> f64 {
        match self {
            Look::Space(_) => 1.0,
            Look::Through(view) => view.scale,
        }
    }

    /// The rings near a point, as far as the viewport shows their layers.
    pub(super) fn rings(self, drawing: &Drawing, rings: &Rings, p: Point, reach: f64) -> Vec<usize> {
        match self {
            Look::Space(space) => rings.within(space, p, reach),
            Look::Through(view) => {
                let mut found = rings.within(0, p, reach);
                found.retain(|&ring| shows(view, drawing, rings, ring));
                found
            }
        }
    }

    /// Whether one of those that [`Look::rings`] gives is `wanted`. They are asked about in no certain order.
    pub(super) fn any_ring(
        self,
        drawing: &Drawing,
        rings: &Rings,
        p: Point,
        reach: f64,
        wanted: impl Fn(usize) -> bool,
    ) -> bool {
        match self {
            Look::Space(space) => rings.any_within(space, p, reach, wanted),
            Look::Through(view) => {
                rings.any_within(0, p, reach, |ring| shows(view, drawing, rings, ring) && wanted(ring))
            }
        }
    }
}

fn shows(view: &Viewport, drawing: &Drawing, rings: &Rings, ring: usize) -> bool {
    rings.rings[ring].circles().any(|c| view.shows(drawing.circles[c].origin.layer))
}
