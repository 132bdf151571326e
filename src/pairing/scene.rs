//! All that is known of a drawing before anything is paired, in one place for the steps that pair.

use super::anchors::Anchors;
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
    /// For each spot that another view shows too, the spot there.
    pub(super) twin: Vec<Option<usize>>,
    /// Where each statement says that its hole is.
    pub(super) places: Vec<Option<Point>>,
    /// Whether each view holds a hole.
    pub(super) with_holes: Vec<bool>,
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
        let mut with_holes = vec![false; views.views.len()];
        for spot in &spots {
            with_holes[spot.view] = true;
        }
        let places = places::find(&statements, &spots, &scales, &units);
        let twin = twins::find(&spots, &scales, &views, &details);
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
            twin,
            places,
            with_holes,
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
