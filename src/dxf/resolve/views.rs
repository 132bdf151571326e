//! Placing VIEWPORTs: what part of model space each shows on its layout, how large and how turned, within which
//! boundary, and without which layers.

use std::collections::{HashMap, HashSet};
use std::sync::Arc;

use super::place::{Context, Placer};
use crate::drawing::{LayerId, Viewport};
use crate::dxf::bounds::MAX_CLIP_CORNERS;
use crate::dxf::raw::{Common, Kind, Raw, RawViewport};
use crate::geometry::{Affine, Point, Vec3};

/// How far a view may look aside, relative to its direction, and still be one from above.
const ASIDE: f64 = 1e-6;

/// Corners that stand for a round boundary.
const ROUND_CORNERS: u32 = 64;

/// What viewports name by handle, looked up for all of them at once, and those that do not show the plan.
#[derive(Debug, Default)]
pub(super) struct Views {
    names: Option<Names>,
    /// Place of the first viewport that looks from another side, and number of all.
    aside: Option<(u64, u64, u64)>,
}

#[derive(Debug)]
struct Names {
    layers: HashMap<u64, LayerId>,
    clips: HashMap<u64, Arc<[Point]>>,
}

impl<'a> Placer<'_, 'a> {
    pub(super) fn place_viewport(
        &mut self,
        common: &Common,
        view: &RawViewport,
        map: &Affine,
        context: Context,
    ) {
        // Number 1 is the sheet itself; a viewport in a block shows nothing.
        if view.id == 1 || view.off || context.insert.is_some() || context.space == 0 {
            return;
        }
        if view.view_height <= 0.0 || view.height <= 0.0 {
            return;
        }
        let raw = self.raw;
        let names = self.views.names.get_or_insert_with(|| Names::new(raw));
        let by_handle = view.frozen_handles.iter().filter_map(|handle| names.layers.get(handle).copied());
        let frozen = by_handle.chain(view.frozen.iter().copied()).collect();
        let clip = view.clip.and_then(|handle| names.clips.get(&handle).cloned()).unwrap_or_default();
        let from_above = is_from_above(view);
        if !from_above {
            self.views.aside.get_or_insert((common.line.into(), common.offset, 0)).2 += 1;
        }
        let turned = Affine::turning(-view.twist_deg);
        let model_center = view.target.plus(turned.direction(view.view_center));
        self.drawing.viewports.push(Viewport {
            space: context.space,
            center: map.point(view.center).plan(),
            size: (view.width, view.height),
            model_center: model_center.plan(),
            scale: view.height / view.view_height,
            twist_deg: view.twist_deg,
            from_above,
            clip,
            frozen,
        });
    }

    /// Says how many viewports show no plan.
    pub(super) fn report_views(&mut self) {
        if let Some((line, offset, count)) = self.views.aside.take() {
            let viewports =
                if count == 1 { "1 viewport looks".to_owned() } else { format!("{count} viewports look") };
            let message = format!(
                "{viewports} at the model from another side than straight above; holes are read in the plan only"
            );
            self.problems.add(line, offset, message, false);
        }
    }
}

fn is_from_above(view: &RawViewport) -> bool {
    let Vec3 { x, y, z } = view.direction;
    let nowhere = x == 0.0 && y == 0.0 && z == 0.0;
    !view.perspective && (nowhere || (z > 0.0 && x.hypot(y) <= ASIDE * z))
}

impl Names {
    fn new(raw: &Raw<'_>) -> Self {
        let wanted: HashSet<u64> = raw.entities.iter().filter_map(|entity| clip_of(raw, entity)).collect();
        let mut clips = HashMap::new();
        if !wanted.is_empty() {
            for entity in &raw.entities {
                if let Some(handle) =
                    entity.common.handle.map(u64::from).filter(|handle| wanted.contains(handle))
                    && let Some(corners) = boundary(raw, &entity.kind)
                {
                    clips.insert(handle, corners.into());
                }
            }
        }
        Names { layers: raw.layer_handles.iter().copied().collect(), clips }
    }
}

/// Whether the boundaries of all viewports of ENTITIES stand among the entities of ENTITIES that are kept.
pub(super) fn all_clips_stand_in(raw: &Raw<'_>) -> bool {
    let kept = || raw.main.iter().filter_map(|range| raw.entities.get(range.clone())).flatten();
    let mut wanted: HashSet<u64> = kept().filter_map(|entity| clip_of(raw, entity)).collect();
    if wanted.is_empty() {
        return true;
    }
    for entity in kept() {
        if let Some(handle) = entity.common.handle
            && wanted.contains(&handle.into())
            && boundary(raw, &entity.kind).is_some()
        {
            wanted.remove(&handle.into());
        }
    }
    wanted.is_empty()
}

fn clip_of(raw: &Raw<'_>, entity: &crate::dxf::raw::Entity) -> Option<u64> {
    match entity.kind {
        Kind::Viewport(n) => raw.viewports[n as usize].clip,
        _ => None,
    }
}

/// The corners of a boundary; none for one that is not read, where the rectangle of the viewport counts.
fn boundary(raw: &Raw<'_>, kind: &Kind) -> Option<Vec<Point>> {
    let mut corners = Vec::new();
    match kind {
        Kind::Polyline(polyline) => {
            let vertices = raw.vertices.get(polyline.vertices.clone())?;
            if vertices.len() > MAX_CLIP_CORNERS {
                return None;
            }
            for (from, to) in vertices.iter().zip(vertices.iter().cycle().skip(1)) {
                corners.push(from.at.plan());
                bend((from.at.plan(), to.at.plan()), from.bulge, 3, &mut corners);
            }
        }
        Kind::Circle { center, radius } => corners.extend((0..ROUND_CORNERS).map(|i| {
            let (sin, cos) = (std::f64::consts::TAU * f64::from(i) / f64::from(ROUND_CORNERS)).sin_cos();
            Point::new(center.x + radius * cos, center.y + radius * sin)
        })),
        Kind::Ellipse(n) => {
            let ellipse = &raw.ellipses[*n as usize];
            let minor = Vec3::UP.cross(ellipse.major).times(ellipse.ratio);
            corners.extend((0..ROUND_CORNERS).map(|i| {
                let (sin, cos) = (std::f64::consts::TAU * f64::from(i) / f64::from(ROUND_CORNERS)).sin_cos();
                ellipse.center.plus(ellipse.major.times(cos)).plus(minor.times(sin)).plan()
            }));
        }
        _ => return None,
    }
    (corners.len() > 2).then_some(corners)
}

/// Points along the arc of a bulge between two corners, by halving it.
fn bend((a, b): (Point, Point), bulge: f64, halvings: u32, corners: &mut Vec<Point>) {
    if halvings == 0 || bulge == 0.0 {
        return;
    }
    // The rise of the arc is the bulge times half of the chord, to the right of the way for a positive one.
    let middle = Point::new(
        f64::midpoint(a.x, b.x) + bulge * (b.y - a.y) / 2.0,
        f64::midpoint(a.y, b.y) - bulge * (b.x - a.x) / 2.0,
    );
    let half = (bulge.atan() / 2.0).tan();
    bend((a, middle), half, halvings - 1, corners);
    corners.push(middle);
    bend((middle, b), half, halvings - 1, corners);
}
