//! Model space seen through the viewports of layouts: which part of it each shows, and where its holes appear there.

use super::Shape;
use crate::check::Examined;
use crate::drawing::{Drawing, LayerId, Viewport};
use crate::geometry::{Bounds, Point};
use crate::shared::SharedText;

/// A viewport that looks straight down on model space.
#[derive(Debug, Clone, PartialEq)]
pub struct PictureView {
    /// Centre on the paper.
    pub center: Point,
    /// Width and height on the paper.
    pub size: (f64, f64),
    /// The point of model space at the centre.
    pub model_center: Point,
    /// Paper units per unit of model space.
    pub scale: f64,
    /// Turn of model space on the paper, degrees counter-clockwise.
    pub twist_deg: f64,
    /// Corners of its boundary on the paper, where that is no rectangle; else empty.
    pub clip: Vec<Point>,
    /// Which of the model sheet's parts it shows.
    pub parts: Vec<usize>,
}

impl PictureView {
    /// Its box on the paper.
    pub fn bounds(&self) -> Bounds {
        let (w, h) = (self.size.0 / 2.0, self.size.1 / 2.0);
        Bounds {
            min: Point::new(self.center.x - w, self.center.y - h),
            max: Point::new(self.center.x + w, self.center.y + h),
        }
    }
}

/// A hole of model space as a layout shows it.
#[derive(Debug, Clone, PartialEq)]
pub struct SeenHole {
    /// The hole's name.
    pub hole: SharedText,
    /// Index into the sheets of the picture.
    pub sheet: usize,
    /// Its centre on the paper.
    pub at: Point,
    /// Paper units per unit of model space.
    pub scale: f64,
}

/// The shapes of model space in parts that every viewport shows or hides as one: the shapes, part after part, and how many
/// of them each part has. `model` are the shapes with their layers.
pub(super) fn parts(
    drawing: &Drawing,
    model: Vec<(LayerId, Shape)>,
) -> (Vec<Shape>, Vec<usize>, Vec<Vec<bool>>) {
    let choosy: Vec<&Viewport> = drawing.viewports.iter().filter(|v| !v.frozen.is_empty()).collect();
    let mut keys: Vec<Vec<bool>> = Vec::new();
    let mut parts: Vec<Vec<Shape>> = Vec::new();
    for (layer, shape) in model {
        let key: Vec<bool> = choosy.iter().map(|v| v.shows(layer)).collect();
        let nth = keys.iter().position(|known| *known == key).unwrap_or_else(|| {
            keys.push(key);
            parts.push(Vec::new());
            keys.len() - 1
        });
        if let Some(part) = parts.get_mut(nth) {
            part.push(shape);
        }
    }
    let sizes = parts.iter().map(Vec::len).collect();
    (parts.into_iter().flatten().collect(), sizes, keys)
}

/// The views of one layout; `keys` say which parts each viewport that freezes layers shows.
pub(super) fn of_space(drawing: &Drawing, space: usize, keys: &[Vec<bool>]) -> Vec<PictureView> {
    let mut views = Vec::new();
    let mut nth_choosy = 0;
    for viewport in &drawing.viewports {
        let choosy = (!viewport.frozen.is_empty()).then_some(nth_choosy);
        nth_choosy += usize::from(choosy.is_some());
        if usize::from(viewport.space) != space || !shows_plan(viewport) {
            continue;
        }
        let shown = |key: &[bool]| choosy.is_none_or(|nth| key.get(nth).copied().unwrap_or(true));
        views.push(PictureView {
            center: viewport.center,
            size: viewport.size,
            model_center: viewport.model_center,
            scale: viewport.scale,
            twist_deg: viewport.twist_deg,
            clip: viewport.clip.to_vec(),
            parts: (0..keys.len()).filter(|nth| keys.get(*nth).is_some_and(|key| shown(key))).collect(),
        });
    }
    views.retain(|view| !view.parts.is_empty());
    views
}

fn shows_plan(viewport: &Viewport) -> bool {
    let numbers = [
        viewport.center.x,
        viewport.center.y,
        viewport.size.0,
        viewport.size.1,
        viewport.model_center.x,
        viewport.model_center.y,
        viewport.scale,
        viewport.twist_deg,
    ];
    viewport.from_above && viewport.scale > 0.0 && numbers.iter().all(|v| v.is_finite())
}

/// Where the holes of model space appear on layouts; `sheet` gives the sheet of a space.
pub(super) fn seen(examined: &Examined, sheet: impl Fn(usize) -> Option<usize>) -> Vec<SeenHole> {
    let mut found = Vec::new();
    for viewport in examined.drawing.viewports.iter().filter(|v| shows_plan(v)) {
        let Some(sheet) = sheet(usize::from(viewport.space)) else { continue };
        for hole in examined.paired.holes.iter().filter(|hole| hole.origin.space == 0) {
            let shown = viewport.shows(hole.origin.layer);
            if let Some(at) = viewport.paper_point(hole.at).filter(|_| shown) {
                found.push(SeenHole { hole: hole.id.clone(), sheet, at, scale: viewport.scale });
            }
        }
    }
    found
}
