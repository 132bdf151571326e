//! Places what the scan found: model space and each layout, INSERTs expanded, everything in world coordinates.

mod circles;
mod curves;
mod dimension;
mod early;
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
use crate::drawing::Layer;
pub(super) use early::{Early, Idle};
pub(super) use spaces::Spaces;

/// Places everything that was not placed `early`.
pub(super) fn resolve<'a>(scan: Scan<'a>, early: Early<'_, 'a>) -> Reading {
    let Scan { raw, header, decoder, mut problems, .. } = scan;
    let spaces = Spaces::new(&raw);
    let mut placer = early.go_on(&raw, &decoder);
    for (space, range) in spaces.roots(&raw) {
        placer.place_roots(range, |setting| space.unwrap_or_else(|| spaces.of(setting)));
    }
    let (mut drawing, met) = placer.finish();
    problems.absorb(met);
    if let Some(lie) = decoder.lie() {
        problems.add(1, 0, format!("the file {lie}"), false);
    }
    drawing.header = header;
    drawing.layers = raw
        .layers
        .iter()
        .map(|layer| Layer { name: layer.name.clone(), on: layer.on, frozen: layer.frozen })
        .collect();
    drawing.block_units.clone_from(&raw.block_units);
    drawing.spaces = spaces.list();
    Reading { drawing, problems: problems.finish() }
}
