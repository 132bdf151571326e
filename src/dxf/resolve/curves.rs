//! Placing LINE, CIRCLE, ARC, ELLIPSE and SPLINE.

use super::circles::Round;
use super::nurbs;
use super::place::{Context, Placer, unmoved};
use crate::drawing::{Arc, Circular, MadeOf, Origin, Segment};
use crate::dxf::bounds::MAX_OVAL_WORK;
use crate::dxf::raw::{Common, Ellipse, Entity, Kind, RawArc, Spline};
use crate::geometry::{Affine, Point, Vec3, circle_of_axes};

/// Angle, in degrees, by which an arc may miss a full turn and still be a circle.
pub(super) const FULL_TURN_SLACK_DEG: f64 = 0.1;

impl<'a> Placer<'_, 'a> {
    pub(super) fn place_line(
        &mut self,
        common: &Common,
        from: Vec3,
        to: Vec3,
        map: &Affine,
        context: Context,
    ) {
        let own = (from.plan(), to.plan());
        let (from, to) = (map.point(from).plan(), map.point(to).plan());
        if from == to {
            return;
        }
        let origin = self.origin(common, &context);
        if context.uneven && !context.picture {
            let normal = self.raw.setting(common).normal;
            self.uneven.line(&self.drawing, (common, normal, &origin), own, map);
        }
        let index = self.drawing.segments.len();
        self.drawing.segments.push(Segment { origin, from, to });
        self.note_lines_from(index);
    }

    /// Places the LINEs that the first of these entities are, of one setting and each unmoved; how many they are.
    pub(super) fn push_lines(&mut self, origin: Origin, entities: &[Entity]) -> usize {
        let setting = entities.first().map(|entity| entity.common.setting);
        let mut count = 0;
        let lines = entities.iter().map_while(|entity| match entity.kind {
            Kind::Line { from, to } if Some(entity.common.setting) == setting => {
                count += 1;
                let Common { handle, line, .. } = entity.common;
                Some(Segment {
                    origin: Origin { handle, line, ..origin },
                    from: unmoved(from),
                    to: unmoved(to),
                })
            }
            _ => None,
        });
        let index = self.drawing.segments.len();
        self.drawing.segments.extend(lines.filter(|line| line.from != line.to));
        self.note_lines_from(index);
        count
    }

    /// Takes the segments from this one on into the runs of LINEs.
    fn note_lines_from(&mut self, index: usize) {
        let end = self.drawing.segments.len();
        match self.line_runs.last_mut() {
            _ if end == index => {}
            Some(run) if run.end == index => run.end = end,
            _ => self.line_runs.push(index..end),
        }
    }

    pub(super) fn place_circle(
        &mut self,
        common: &Common,
        center: Vec3,
        radius: f64,
        map: &Affine,
        context: Context,
    ) {
        let round = Round::flat(center, radius);
        let map = self.plane_map(common, map, context);
        self.place_round(common, &round, MadeOf::Circle, &map, context);
    }

    /// Places a circle; one that appears as an ellipse is no hole and is only counted.
    pub(super) fn place_round(
        &mut self,
        common: &Common,
        round: &Round,
        made_of: MadeOf,
        map: &Affine,
        context: Context,
    ) {
        if context.picture {
            return;
        }
        let u = map.direction(round.u).plan();
        let v = map.direction(round.v).plan();
        let origin = self.origin(common, &context);
        let Some(radius) = circle_of_axes(u, v) else {
            self.uneven.circle(&self.drawing, (common, &origin), (round, made_of), map);
            return;
        };
        self.push_circle(origin, map.point(round.center).plan(), radius, made_of);
    }

    /// Adds a circle.
    pub(super) fn push_circle(&mut self, origin: Origin, center: Point, radius: f64, made_of: MadeOf) {
        self.drawing.circles.push(Circular { origin, center, diameter: 2.0 * radius, made_of });
    }

    pub(super) fn place_arc(&mut self, common: &Common, arc: &RawArc, map: &Affine, context: Context) {
        let RawArc { center, radius, start_deg, end_deg } = *arc;
        let sweep_deg = sweep(start_deg, end_deg);
        let round = Round::flat(center, radius);
        let map = self.plane_map(common, map, context);
        self.place_part(common, &round, (start_deg, sweep_deg), MadeOf::Arcs, &map, context);
    }

    /// Places the part of a circle that runs from `start_deg` over `sweep_deg` from its first axis towards its
    /// second; a whole one as a circle made of `made_of`.
    pub(super) fn place_part(
        &mut self,
        common: &Common,
        round: &Round,
        (start_deg, sweep_deg): (f64, f64),
        made_of: MadeOf,
        map: &Affine,
        context: Context,
    ) {
        if sweep_deg >= 360.0 - FULL_TURN_SLACK_DEG {
            self.place_round(common, round, made_of, map, context);
            return;
        }
        if sweep_deg <= 0.0 || context.picture {
            return;
        }
        let origin = self.origin(common, &context);
        let axes = (map.direction(round.u).plan(), map.direction(round.v).plan());
        let center = map.point(round.center).plan();
        match plan_arc(origin, center, axes, (start_deg, sweep_deg)) {
            Some(arc) => self.drawing.arcs.push(arc),
            None => {
                let owner = (common, self.raw.setting(common).normal, &origin);
                self.uneven.arc(&self.drawing, owner, round, (start_deg, sweep_deg), map);
            }
        }
    }

    pub(super) fn place_ellipse(
        &mut self,
        common: &Common,
        ellipse: &Ellipse,
        map: &Affine,
        context: Context,
    ) {
        let Some(normal) = self.normal(common).unit() else {
            return;
        };
        let round = Round {
            center: ellipse.center,
            u: ellipse.major,
            v: normal.cross(ellipse.major).times(ellipse.ratio),
        };
        let (start, end) = (ellipse.start.to_degrees(), ellipse.end.to_degrees());
        let part = (start, sweep(start, end));
        self.place_part(common, &round, part, MadeOf::Ellipse, map, context);
    }

    pub(super) fn place_spline(
        &mut self,
        index: usize,
        common: &Common,
        spline: &Spline,
        map: &Affine,
        context: Context,
    ) {
        // What stands directly in a space is placed once only.
        let round = if context.insert.is_none() {
            nurbs::circle_of(spline)
        } else {
            *self.splines.entry(index).or_insert_with(|| nurbs::circle_of(spline))
        };
        if let Some(round) = round {
            self.place_round(common, &round, MadeOf::Spline, map, context);
        } else if context.uneven {
            self.place_oval(index, common, spline, map, context);
        }
    }

    /// Places a spline that is no circle by itself but that the uneven scale of its INSERT may make one.
    fn place_oval(&mut self, index: usize, common: &Common, spline: &Spline, map: &Affine, context: Context) {
        let key = (index, [map.x, map.y, map.z].map(|v| [v.x.to_bits(), v.y.to_bits()]));
        let round = match self.ovals.get(&key) {
            Some(known) => *known,
            None => {
                self.oval_work += spline.control.len() + spline.fit.len() + (spline.degree + 1).pow(2);
                if self.oval_work > MAX_OVAL_WORK {
                    let message = format!(
                        "splines placed by uneven scales exceed the limit of {MAX_OVAL_WORK} steps; the rest was not tried as circles"
                    );
                    self.report_once(common, message);
                    return;
                }
                let found = nurbs::circle_of(&spline.mapped(|p| map.direction(p).plan()));
                self.ovals.insert(key, found);
                found
            }
        };
        if let Some(round) = round {
            let moved = Affine::translation(map.origin);
            self.place_round(common, &round, MadeOf::Spline, &moved, context);
        }
    }
}

/// Counter-clockwise sweep between two angles: none between equal ones, a full turn between 0 and 360.
fn sweep(start_deg: f64, end_deg: f64) -> f64 {
    let turned = (end_deg - start_deg).rem_euclid(360.0);
    // The smallest step that angles written with six decimals tell apart.
    let closes = !(1e-6..=360.0 - 1e-6).contains(&turned);
    if !closes {
        turned
    } else if (end_deg - start_deg).abs() > 180.0 {
        360.0
    } else {
        0.0
    }
}

/// An arc in the plan; none where its circle appears as an ellipse. Mirrored ones run the other way.
fn plan_arc(
    origin: Origin,
    center: Point,
    (u, v): (Point, Point),
    (start_deg, sweep_deg): (f64, f64),
) -> Option<Arc> {
    let radius = circle_of_axes(u, v)?;
    let mirrored = u.x * v.y - u.y * v.x < 0.0;
    let from_deg = if mirrored { start_deg + sweep_deg } else { start_deg };
    let (sin, cos) = crate::geometry::exact_sin_cos(from_deg);
    let (x, y) = (u.x * cos + v.x * sin, u.y * cos + v.y * sin);
    Some(Arc { origin, center, radius, start_deg: y.atan2(x).to_degrees().rem_euclid(360.0), sweep_deg })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn sweeps_of_arcs() {
        // Hand calculation.
        assert_eq!(sweep(0.0, 90.0), 90.0);
        assert_eq!(sweep(270.0, 90.0), 180.0);
        assert_eq!(sweep(0.0, 360.0), 360.0);
        assert_eq!(sweep(90.0, 450.0), 360.0);
        assert_eq!(sweep(45.0, 45.0), 0.0);
    }
}
