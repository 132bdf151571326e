//! All that is known of a drawing before anything is paired, in one place for the steps that pair.

use super::anchors::Anchors;
use super::by_view::ByView;
use super::details::Detail;
use super::rings::Rings;
use super::tags::Beside;
use super::texts::Statement;
use super::title::Title;
use super::unit::Units;
use super::views::Views;
use super::{
    Role, anchors, details, part_size, places, rings, roles, scale, tables, tags, texts, title, twins, unit,
    views,
};
use crate::callout::Words;
use crate::drawing::{Drawing, SpaceId};
use crate::geometry::Point;
use crate::joint::{Defaults, DrawingRows};

/// A hole to be paired: the smallest solid circle of a stack.
#[derive(Debug, Clone)]
pub(super) struct Spot {
    pub(super) ring: usize,
    pub(super) stack: usize,
    pub(super) view: usize,
    pub(super) space: SpaceId,
    pub(super) at: Point,
    /// Diameter as drawn, drawing units.
    pub(super) drawn: f64,
}

/// What is known before pairing.
pub(super) struct Scene<'a> {
    pub(super) drawing: &'a Drawing,
    /// Usual letter height of the sheet.
    pub(super) height: f64,
    pub(super) rings: Rings,
    pub(super) statements: Vec<Statement>,
    /// Statements that were cells of a table and speak through its rows.
    pub(super) in_table: Vec<bool>,
    pub(super) anchors: Anchors,
    pub(super) title: Title,
    pub(super) views: Views,
    pub(super) scales: Vec<f64>,
    pub(super) units: Units,
    pub(super) roles: Vec<Role>,
    /// Tag beside each ring.
    pub(super) beside: Vec<Option<Beside>>,
    pub(super) spots: Vec<Spot>,
    pub(super) details: Vec<Detail>,
    /// For each spot that another view shows too, the spot there.
    pub(super) twin: Vec<Option<usize>>,
    /// Where each statement says that its hole is.
    pub(super) places: Vec<Option<Point>>,
    /// The spots of each view.
    pub(super) by_view: ByView,
    /// The spot of each stack, if it has one.
    pub(super) spot_of_stack: Vec<Option<usize>>,
}

impl<'a> Scene<'a> {
    /// Looks at a drawing.
    pub(super) fn new(
        drawing: &'a Drawing,
        rows: Option<&DrawingRows>,
        defaults: &Defaults,
        words: &Words,
    ) -> Scene<'a> {
        let rings = rings::collect(drawing);
        let height = texts::usual_height(drawing);
        let singles = texts::singles(drawing, height, words);
        let (table_rows, cells) = tables::collect(drawing, &singles, height, words);
        let (mut statements, mut in_table) = texts::whole(drawing, singles, &cells, height, words);
        in_table.resize(statements.len() + table_rows.len(), false);
        statements.extend(table_rows);
        let anchors = anchors::find(drawing, &rings, &statements);
        let title = title::find(drawing, &statements, words);
        let mut early = roles::early(drawing, &rings, &statements, &anchors, &title, height);
        for ring in listed_places(&rings, rows) {
            early[ring] = Some(Role::Hole);
        }
        let views = views::find(drawing, &rings, &early, &title, &anchors.lines, height);
        let roles = roles::all(drawing, &rings, &statements, &anchors, &views, early);
        let part = part_size::speaks_for(drawing, &rings, &views, &roles, &statements);
        let units = unit::decide(drawing, &rings, &statements, &anchors, part, rows, defaults);
        let beside = tags::beside(drawing, &rings, &roles, &statements);
        let details = details::find(&rings, &views, &statements);
        let scales = scale::find(
            drawing,
            &rings,
            &views,
            &statements,
            &anchors,
            &units,
            &title,
            &beside,
            &details,
            rows,
            height,
        );
        let (spots, spot_of_stack) = spots(&rings, &roles, &views);
        let by_view = ByView::new(&spots, views.views.len());
        let places = places::find(&statements, &spots, &scales, &units);
        let twin = twins::find(&spots, &by_view, &scales, &views, &details);
        Scene {
            drawing,
            height,
            rings,
            statements,
            in_table,
            anchors,
            title,
            views,
            scales,
            units,
            roles,
            beside,
            spots,
            details,
            twin,
            places,
            by_view,
            spot_of_stack,
        }
    }

    /// Scale of the view that a hole stands in.
    pub(super) fn scale_at(&self, spot: usize) -> f64 {
        self.scales[self.spots[spot].view]
    }

    /// Drawn diameter over the view's scale, drawing units.
    pub(super) fn true_diameter(&self, spot: usize) -> f64 {
        self.spots[spot].drawn / self.scale_at(spot)
    }

    /// Spots of the view of another one that are `wanted`: all of them where there are no more than `most`, else at least so
    /// many, and with each all that are nearer.
    pub(super) fn nearest(&self, to: usize, most: usize, wanted: impl Fn(&usize) -> bool) -> Vec<usize> {
        let Spot { view, space, at, .. } = self.spots[to];
        let all = self.by_view.of(view);
        let across = self.views.views[view].diagonal();
        // So far that there would be that many, were they all wanted and spread evenly.
        let mut reach = across * (most as f64 / all.len() as f64).sqrt();
        while reach < across {
            let mut found = Vec::new();
            self.rings.any_centre_within(space, at, reach, |ring| {
                let spot = self.spot_of_ring(ring).filter(|s| self.spots[*s].view == view && wanted(s));
                found.extend(spot);
                false
            });
            if found.len() >= most {
                return found;
            }
            reach *= 2.0;
        }
        all.iter().copied().filter(wanted).collect()
    }

    /// The spot that is a ring itself, not one about it.
    pub(super) fn spot_of_ring(&self, ring: usize) -> Option<usize> {
        self.spot_of_stack[self.rings.rings[ring].stack].filter(|&spot| self.spots[spot].ring == ring)
    }

    /// The tag that stands beside a hole.
    pub(super) fn tag_at(&self, spot: usize) -> Option<&str> {
        self.beside[self.spots[spot].ring].as_ref().map(|b| b.tag.as_str())
    }
}

/// Circles at the positions of a list's rows are holes, whatever they look like.
fn listed_places(rings: &Rings, rows: Option<&DrawingRows>) -> Vec<usize> {
    let points = rows.into_iter().flat_map(|r| &r.rows).flat_map(|r| &r.at);
    points
        .filter_map(|&p| {
            rings
                .within(0, p, 0.0)
                .into_iter()
                .filter(|&i| rings.rings[i].center.distance(p) <= 0.05 * rings.rings[i].diameter)
                .min_by(|&a, &b| rings.rings[a].diameter.total_cmp(&rings.rings[b].diameter))
        })
        .collect()
}

fn spots(rings: &Rings, roles: &[Role], views: &Views) -> (Vec<Spot>, Vec<Option<usize>>) {
    let mut spots = Vec::new();
    let mut of_stack = vec![None; rings.stacks.len()];
    for (stack, members) in rings.stacks.iter().enumerate() {
        if let Some(&ring) = members.iter().find(|&&i| roles[i] == Role::Hole) {
            let r = &rings.rings[ring];
            of_stack[stack] = Some(spots.len());
            let view = views.of_ring[ring];
            spots.push(Spot { ring, stack, view, space: r.space, at: r.center, drawn: r.diameter });
        }
    }
    (spots, of_stack)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::near::random;
    use crate::pairing::testing::Sheet;

    // Against looking at each hole of the view.
    #[test]
    fn the_nearest_are_those_that_looking_at_each_finds() {
        let mut random = random();
        let mut sheet = Sheet::new().outline(-10.0, -10.0, 1010.0, 410.0);
        for _ in 0..900 {
            // Most of them crowd together at the left.
            sheet = sheet.circle(1000.0 * random().powi(4), 400.0 * random(), 0.5);
        }
        let drawing = sheet.drawing();
        let scene = Scene::new(&drawing, None, &Defaults::default(), Words::built_in());
        assert_eq!(scene.by_view.of(scene.spots[0].view).len(), 900);
        for (to, most) in [(0, 64), (450, 64), (899, 64), (10, 400), (10, 899), (10, 900), (10, usize::MAX)] {
            for part in [1, 2, 30] {
                let wanted = |spot: &usize| spot.is_multiple_of(part);
                let away = |spot: &usize| scene.spots[*spot].at.distance(scene.spots[to].at);
                let mut each: Vec<usize> = (0..900).filter(wanted).collect();
                each.sort_by(|a, b| away(a).total_cmp(&away(b)));
                let found = scene.nearest(to, most, wanted);
                assert!(found.iter().all(wanted), "{to} {most} {part}");
                assert!(each.iter().take(most).all(|spot| found.contains(spot)), "{to} {most} {part}");
                // What the search saves.
                assert!(most > 64 || part > 2 || found.len() < each.len(), "{to} {most} {part}");
            }
        }
    }
}
