//! Places what the scan found: model space and each layout, INSERTs expanded, everything in world coordinates.

mod circles;
mod curves;
mod dimension;
mod expand;
mod leaders;
mod nurbs;
mod place;
mod polygons;
mod polylines;
mod rings;
mod spaces;
mod texts;
mod uneven;
mod views;

use super::Reading;
use super::scan::Scan;
use crate::drawing::{Drawing, Layer};
use place::Placer;
pub(super) use spaces::Spaces;

/// Places everything.
pub(super) fn resolve(scan: Scan<'_>) -> Reading {
    let Scan { raw, header, decoder, problems, .. } = scan;
    let mut drawing = Drawing { header, ..Drawing::default() };
    drawing.layers = raw
        .layers
        .iter()
        .map(|layer| Layer { name: layer.name.clone(), on: layer.on, frozen: layer.frozen })
        .collect();
    drawing.block_units.clone_from(&raw.block_units);
    let spaces = Spaces::new(&raw);
    drawing.spaces = spaces.list();
    let mut placer = Placer::new(&raw, &decoder, drawing, problems);
    for (space, range) in spaces.roots(&raw) {
        for index in range {
            let space = space.unwrap_or_else(|| spaces.of(raw.setting(&raw.entities[index].common)));
            placer.place_root(index, space);
        }
    }
    let (drawing, mut problems) = placer.finish();
    if let Some(lie) = decoder.lie() {
        problems.add(1, 0, format!("the file {lie}"), false);
    }
    Reading { drawing, problems: problems.finish() }
}
