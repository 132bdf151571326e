//! Circles that appear as ellipses, because a block is scaled unevenly or because they are tilted out of the plan.
//! They are no holes; this counts them, for one note on each block, kind and cause.

use std::collections::BTreeMap;

use super::circles::{Round, closed_by};
use super::polygons;
use crate::drawing::{Arc, Drawing, InsertId, MadeOf, Origin, Segment, SpaceId};
use crate::dxf::problems::Problems;
use crate::dxf::raw::Common;
use crate::geometry::{Affine, Point, Vec3};

/// How far half-axes in space may differ and still be those of a circle, relative to their length.
const EVEN: f64 = 1e-6;

/// Why a circle appears as an ellipse.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
enum Cause {
    Scale,
    Tilt,
}

/// What one note speaks of.
#[derive(Debug, Clone, PartialEq, Eq, PartialOrd, Ord)]
struct Subject {
    block: Option<String>,
    made_of: &'static str,
    cause: Cause,
}

/// The place of the first one and the number of all.
#[derive(Debug, Clone, Copy)]
struct Count {
    line: u64,
    offset: u64,
    times: u64,
}

/// Arcs and LINEs of one placement of one block, which may close circles together: in their own coordinates, where
/// they are round.
#[derive(Debug)]
struct Parts {
    subject: Subject,
    line: u64,
    offset: u64,
    arcs: Vec<Arc>,
    lines: Vec<Segment>,
}

impl Parts {
    /// How many circles they close.
    fn circles(self) -> u64 {
        (closed_by(self.arcs).0.len() + polygons::count(&self.lines)) as u64
    }
}

/// One placement of one block, what is made of its parts, and the plane in which they lie.
type Placement = (SpaceId, Option<InsertId>, MadeOf, Cause, u32);

/// What was drawn round and appears uneven.
#[derive(Debug, Default)]
pub(super) struct Uneven {
    counts: BTreeMap<Subject, Count>,
    parts: BTreeMap<Placement, Parts>,
}

impl Uneven {
    /// Counts a circle that appears as an ellipse, if it was drawn as a circle at all and would be seen.
    pub(super) fn circle(
        &mut self,
        drawing: &Drawing,
        (common, origin): (&Common, &Origin),
        (round, made_of): (&Round, MadeOf),
        map: &Affine,
    ) {
        if origin.visible && is_round(round.u, round.v) {
            let subject = subject(drawing, origin, words(made_of), cause(round, map));
            self.count(subject, Count { line: u64::from(common.line), offset: common.offset, times: 1 });
        }
    }

    /// Keeps an arc whose circle appears as an ellipse.
    pub(super) fn arc(
        &mut self,
        drawing: &Drawing,
        (common, normal, origin): (&Common, u32, &Origin),
        round: &Round,
        (start_deg, sweep_deg): (f64, f64),
        map: &Affine,
    ) {
        if !origin.visible || !is_round(round.u, round.v) {
            return;
        }
        let cause = cause(round, map);
        let parts = self.parts(drawing, (common, normal, origin), MadeOf::Arcs, cause);
        let turned = round.u.y.atan2(round.u.x).to_degrees();
        parts.arcs.push(Arc {
            origin: *origin,
            center: Point::new(round.center.x, round.center.y),
            radius: round.u.length(),
            start_deg: (start_deg + turned).rem_euclid(360.0),
            sweep_deg,
        });
    }

    /// Keeps a LINE of an INSERT under which circles appear as ellipses.
    pub(super) fn line(
        &mut self,
        drawing: &Drawing,
        (common, normal, origin): (&Common, u32, &Origin),
        (from, to): (Point, Point),
        map: &Affine,
    ) {
        if origin.visible {
            let cause = cause(&Round::flat(Vec3::ZERO, 1.0), map);
            let parts = self.parts(drawing, (common, normal, origin), MadeOf::Polygon, cause);
            parts.lines.push(Segment { origin: *origin, from, to });
        }
    }

    fn parts(
        &mut self,
        drawing: &Drawing,
        (common, normal, origin): (&Common, u32, &Origin),
        made_of: MadeOf,
        cause: Cause,
    ) -> &mut Parts {
        let placement = (origin.space, origin.insert, made_of, cause, normal);
        self.parts.entry(placement).or_insert_with(|| Parts {
            subject: subject(drawing, origin, words(made_of), cause),
            line: u64::from(common.line),
            offset: common.offset,
            arcs: Vec::new(),
            lines: Vec::new(),
        })
    }

    fn count(&mut self, subject: Subject, more: Count) {
        self.counts.entry(subject).and_modify(|known| known.times += more.times).or_insert(more);
    }

    /// Says what was counted.
    pub(super) fn report(mut self, problems: &mut Problems) {
        for parts in std::mem::take(&mut self.parts).into_values() {
            let (subject, line, offset) = (parts.subject.clone(), parts.line, parts.offset);
            let times = parts.circles();
            if times > 0 {
                self.count(subject, Count { line, offset, times });
            }
        }
        for (subject, count) in self.counts {
            problems.add(count.line, count.offset, message(&subject, count.times), false);
        }
    }
}

fn subject(drawing: &Drawing, origin: &Origin, made_of: &'static str, cause: Cause) -> Subject {
    let insert = origin.insert.and_then(|id| drawing.inserts.get(id.index()));
    Subject { block: insert.map(|insert| insert.block.clone()), made_of, cause }
}

fn is_round(u: Vec3, v: Vec3) -> bool {
    let (uu, vv) = (u.dot(u), v.dot(v));
    let larger = uu.max(vv);
    larger > 0.0 && (uu - vv).abs() <= 2.0 * EVEN * larger && u.dot(v).abs() <= EVEN * larger
}

/// What is still a circle in space is tilted; anything else was scaled.
fn cause(round: &Round, map: &Affine) -> Cause {
    if is_round(map.direction(round.u), map.direction(round.v)) { Cause::Tilt } else { Cause::Scale }
}

fn words(made_of: MadeOf) -> &'static str {
    match made_of {
        MadeOf::Circle => "",
        MadeOf::Arcs => " made of arcs",
        MadeOf::Polyline => " made of polylines",
        MadeOf::Ellipse => " drawn as ellipses",
        MadeOf::Spline => " drawn as splines",
        MadeOf::Polygon => " drawn as polygons",
    }
}

fn message(subject: &Subject, times: u64) -> String {
    let made_of = subject.made_of;
    let block = subject.block.as_ref().map_or_else(String::new, |name| format!(" of block {name}"));
    let cause = match subject.cause {
        Cause::Scale => "by uneven scale",
        Cause::Tilt => "because of their tilt out of the plan",
    };
    if times == 1 {
        let cause = cause.replace("their", "its");
        format!("1 circle{made_of}{block} appears as an ellipse {cause}; it is no hole")
    } else {
        format!("{times} circles{made_of}{block} appear as ellipses {cause}; they are no holes")
    }
}
