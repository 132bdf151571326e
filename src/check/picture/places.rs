//! Where findings and callouts stand on the spaces of a drawing.

use super::{CalloutPlace, Mark, dimension, usual_height};
use crate::check::{Examined, FindingResult};
use crate::drawing::{Drawing, Origin};
use crate::geometry::{Bounds, Point};

/// The places of findings, at most so many.
pub(super) fn near(findings: &[FindingResult], most: usize) -> Vec<Point> {
    let places = findings.iter().filter_map(|f| Some(Point::new(f.x?, f.y?)));
    let mut near: Vec<Point> = Vec::new();
    for place in places {
        if near.len() < most && !near.contains(&place) {
            near.push(place);
        }
    }
    near
}

/// The boxes of the callouts of all holes; `sheet` gives the sheet of a space.
pub(super) fn callouts(examined: &Examined, sheet: impl Fn(usize) -> Option<usize>) -> Vec<CalloutPlace> {
    let paired = &examined.paired;
    let mut found = Vec::new();
    for hole in &paired.holes {
        let Some(callout) = hole.callout.and_then(|index| paired.callouts.get(index)) else { continue };
        let Some(sheet) = sheet(usize::from(callout.origin.space)) else { continue };
        let bounds = text_bounds(&examined.drawing, &callout.origin)
            .filter(|b| b.holds(callout.at, b.max.y - b.min.y));
        let bounds = bounds.unwrap_or(Bounds::of([callout.at]));
        found.push(CalloutPlace { hole: hole.id.clone(), sheet, bounds });
    }
    found
}

/// The marks of findings that are about no hole but stand somewhere.
pub(super) fn marks(
    drawing: &Drawing,
    findings: &[FindingResult],
    sheet: impl Fn(usize) -> Option<usize>,
) -> Vec<Mark> {
    let mut marks = Vec::new();
    for (finding, f) in findings.iter().enumerate().filter(|(_, f)| f.hole.is_none()) {
        let origin = f.line.and_then(|line| origin_at(drawing, line, f.handle.as_deref()));
        let Some(sheet) = sheet(origin.map_or(0, |o| usize::from(o.space))) else { continue };
        let point = f.x.zip(f.y).map(|(x, y)| Bounds::of([Point::new(x, y)]));
        let Some(bounds) = origin.and_then(|o| text_bounds(drawing, o)).or(point) else { continue };
        marks.push(Mark { finding, sheet, bounds });
    }
    marks
}

/// The entity that a finding names by its line and handle.
fn origin_at<'a>(drawing: &'a Drawing, line: u64, handle: Option<&str>) -> Option<&'a Origin> {
    let texts = drawing.texts.iter().map(|t| &t.origin);
    let all = texts
        .chain(drawing.circles.iter().map(|c| &c.origin))
        .chain(drawing.dimensions.iter().map(|d| &d.origin));
    all.filter(|o| u64::from(o.line) == line)
        .find(|o| handle.is_none() || o.handle_text().as_deref() == handle)
}

/// The box of the text of an entity.
fn text_bounds(drawing: &Drawing, origin: &Origin) -> Option<Bounds> {
    let key = |o: &Origin| (o.handle, o.line, o.space, o.insert);
    let text = drawing.texts.iter().find(|t| key(&t.origin) == key(origin)).map(|t| t.bounds);
    let dimension = || {
        let dimension = drawing.dimensions.iter().find(|d| key(&d.origin) == key(origin));
        dimension.and_then(|d| dimension::text_bounds(d, usual_height(drawing)))
    };
    text.or_else(dimension).filter(|b| !b.is_empty())
}
