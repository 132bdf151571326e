//! The scale of each view: drawn over true size, from dimensions' factors and from callouts on their circles.

use std::cell::LazyCell;
use std::collections::HashMap;

use super::anchors::{Anchor, Anchors, Means};
use super::details::Detail;
use super::rings::Rings;
use super::tags::{Beside, names};
use super::texts::{Carrier, Statement};
use super::title::Title;
use super::unit::Units;
use super::views::Views;
use crate::drawing::{Dimension, DimensionKind, Drawing};
use crate::joint::DrawingRows;

/// Ratios nearer to 1 than this are wrong sizes and no scale: no drawing is made at 1:1.1.
const LEAST_FACTOR: f64 = 1.3;

/// What speaks for a scale.
#[derive(Debug, Clone, Copy)]
struct Sample {
    /// Drawn over true size.
    ratio: f64,
    /// How much it counts.
    weight: u32,
    /// Whether it makes a scale without a second witness.
    alone: bool,
    /// Whether a label states it, which may be any scale.
    said: bool,
}

impl Sample {
    /// A size typed for a circle that is drawn.
    const fn typed(ratio: f64) -> Self {
        Sample { ratio, weight: 2, alone: false, said: false }
    }

    /// The factor of a dimension that shows what it measures. A factor other than 1 was set on purpose, if only by
    /// the style that the dimension happens to have, so it counts no more than a typed size.
    fn factor(ratio: f64) -> Self {
        let set = !near(ratio, 1.0);
        Sample { ratio, weight: if set { 2 } else { 1 }, alone: set, said: false }
    }
}

/// The scale of each view; 1 where nothing says another.
#[expect(clippy::too_many_arguments, reason = "one call site, which has all these as names of its own")]
pub(super) fn find(
    drawing: &Drawing,
    rings: &Rings,
    views: &Views,
    statements: &[Statement],
    anchors: &Anchors,
    units: &Units,
    title: &Title,
    beside: &[Option<Beside>],
    details: &[Detail],
    rows: Option<&DrawingRows>,
    height: f64,
) -> Vec<f64> {
    let mut samples: Vec<Vec<Sample>> = vec![Vec::new(); views.views.len()];
    for (s, statement) in statements.iter().enumerate() {
        // A bare number whose line ends at a hole is a distance to it as well as a size.
        let bare = |a: &&Anchor| a.means == Means::Line && !statement.callout.states_hole();
        let Some(anchor) = pointing(drawing, rings, &anchors.of[s]).filter(|a| !bare(a)) else { continue };
        let measured =
            matches!(statement.carrier, Carrier::Dimension(d) if shows_measure(&drawing.dimensions[d]));
        if let Some(called) = statement.called().map(|q| units.in_drawing(q)).filter(|_| !measured) {
            let ratio = rings.rings[anchor.ring].diameter / called;
            samples[views.of_ring[anchor.ring]].push(Sample::typed(ratio));
        }
    }
    for (ring, ratio) in tagged(rings, statements, beside, units) {
        samples[views.of_ring[ring]].push(Sample::typed(ratio));
    }
    let margin = 10.0 * height;
    let stated = units.stated.in_mm() / units.reading.unit.in_mm();
    for d in drawing.dimensions.iter().filter(|d| d.origin.visible && d.length_factor > 0.0) {
        let lengths =
            !matches!(d.kind, DimensionKind::Angular | DimensionKind::Ordinate | DimensionKind::ArcLength);
        let view = d.points.first().and_then(|&p| views.holding(d.origin.space, p, margin));
        if let (true, Some(v)) = (lengths && shows_measure(d), view) {
            samples[v].push(Sample::factor(1.0 / (d.length_factor * stated)));
        }
    }
    for (v, ratio) in sheet_scale(drawing, rings, views, statements, anchors, units, title, rows) {
        if samples[v].is_empty() {
            samples[v].push(Sample { ratio, weight: 1, alone: true, said: true });
        }
    }
    let said = statements.iter().map(|s| &*s.note).chain(&title.pairs).filter_map(|n| n.scale);
    let notes: Vec<f64> = said.filter(|s| *s > 0.0).collect();
    let labels = labels(drawing, rings, views, statements, title, details);
    let mut labelled = vec![false; samples.len()];
    labels.iter().for_each(|&(v, _)| labelled[v] = true);
    let plain: Vec<f64> = samples.iter().map(|s| agreed(s, &notes)).collect();
    let speaks: Vec<usize> = (0..samples.len())
        .filter(|&v| !samples[v].is_empty() && !labelled[v] && views.with_rings[v])
        .collect();
    // What the other views are drawn at: 1 where their sheet is only plotted at its scale.
    let base = shared(&speaks, &plain);
    for (v, ratio) in labels {
        samples[v].push(Sample { ratio: ratio * base.unwrap_or(1.0), weight: 1, alone: true, said: true });
    }
    let mut scales = plain;
    for v in (0..samples.len()).filter(|&v| labelled[v]) {
        scales[v] = agreed(&samples[v], &notes);
    }
    if let Some(base) = base {
        let of_sheet = title_scale(drawing, statements, title).is_some_and(|t| near(t, base));
        let known = LazyCell::new(|| drawn_in(rings, views, &speaks));
        for (v, own) in scales.iter_mut().enumerate() {
            let like = || views.with_rings[v] && drawn_like(rings, views, v, &known);
            if samples[v].is_empty() && (of_sheet || like()) {
                *own = base;
            }
        }
    }
    scales
}

/// The anchor that is surely the one that is meant. A leader to the middle of a hole ends on its pitch circle too.
fn pointing<'a>(drawing: &Drawing, rings: &Rings, anchors: &'a [Anchor]) -> Option<&'a Anchor> {
    let first = anchors.iter().find(|a| !on_centre_line(drawing, rings, a.ring))?;
    Some(first).filter(|a| a.cost < 0.5)
}

/// Whether a circle is a line that centres lie on, where not all circles are.
fn on_centre_line(drawing: &Drawing, rings: &Rings, ring: usize) -> bool {
    let line = |i: usize| drawing.circles[rings.rings[i].circle].origin.is_centre_line();
    line(ring) && !(0..rings.rings.len()).all(line)
}

/// The scale that all of some views have.
fn shared(of: &[usize], scales: &[f64]) -> Option<f64> {
    let first = scales[*of.first()?];
    of.iter().all(|&v| near(scales[v], first)).then_some(first)
}

/// The sizes of the circles of some views as they are drawn, in rising order.
fn drawn_in(rings: &Rings, views: &Views, of: &[usize]) -> Vec<f64> {
    let inside = rings.rings.iter().zip(&views.of_ring).filter(|(_, view)| of.contains(view));
    let mut sizes: Vec<f64> = inside.map(|(ring, _)| ring.diameter).collect();
    sizes.sort_by(f64::total_cmp);
    sizes
}

/// Whether every circle of a view has one of the `known` sizes.
fn drawn_like(rings: &Rings, views: &Views, view: usize, known: &[f64]) -> bool {
    let mut of = rings.rings.iter().zip(&views.of_ring).filter(|(_, v)| **v == view).map(|(r, _)| r.diameter);
    let like = |d: f64| known.get(known.partition_point(|o| *o < d * 0.99)).is_some_and(|o| *o <= d * 1.01);
    of.all(like)
}

/// Drawn over called-out size of the rings with a tag beside them that a row of a hole table names.
fn tagged(
    rings: &Rings,
    statements: &[Statement],
    beside: &[Option<Beside>],
    units: &Units,
) -> Vec<(usize, f64)> {
    let mut sizes: HashMap<String, f64> = HashMap::new();
    for row in statements.iter().filter(|s| s.carrier == Carrier::TableRow) {
        if let Some(called) = row.called().map(|q| units.in_drawing(q)).filter(|c| *c > 0.0) {
            sizes.extend(row.tags.iter().map(|t| (t.to_uppercase(), called)));
        }
    }
    let of_ring = |(ring, tag): (usize, &Option<Beside>)| {
        let [tag, letters] = names(&tag.as_ref()?.tag);
        let called = sizes.get(tag).or_else(|| sizes.get(letters))?;
        Some((ring, rings.rings[ring].diameter / called))
    };
    if sizes.is_empty() { Vec::new() } else { beside.iter().enumerate().filter_map(of_ring).collect() }
}

/// Letter heights between a view and the label that states its scale.
const LABEL_REACH: f64 = 12.0;

/// Scales that labels at single views state, over the scale of the sheet's title block, so that they hold for a sheet
/// that is drawn at its scale and for one that is only plotted at it. A label is not believed where
/// the view's circles are those of another view as they are drawn, and not when divided by it.
fn labels(
    drawing: &Drawing,
    rings: &Rings,
    views: &Views,
    statements: &[Statement],
    title: &Title,
    details: &[Detail],
) -> Vec<(usize, f64)> {
    let in_title = |s: &Statement| is_in_title(drawing, title, s);
    let of_sheet =
        (title_scale(drawing, statements, title)).or_else(|| apart_scale(views, statements)).unwrap_or(1.0);
    let mut found = Vec::new();
    for s in statements.iter().filter(|s| !in_title(s)) {
        let Some(stated) = s.note.scale.filter(|r| *r > 0.0) else { continue };
        let ratio = stated / of_sheet;
        let view = (0..views.views.len())
            .filter(|&v| views.views[v].space == s.origin.space && views.with_rings[v])
            .map(|v| {
                (views.views[v].bounds.distance(s.at).min(views.views[v].bounds.distance(s.bounds.max)), v)
            })
            .filter(|(d, _)| *d <= LABEL_REACH * s.height)
            .min_by(|a, b| a.0.total_cmp(&b.0).then(a.1.cmp(&b.1)));
        let Some((_, v)) = view else { continue };
        if let Some(shown) = enlarged(rings, views, details, v, &[ratio, stated]) {
            found.push((v, shown));
        } else if !drawn_true(rings, views, v, ratio) {
            found.push((v, ratio));
        }
    }
    found
}

/// How many times larger a detail is drawn than the place that it enlarges, where that is one of the ratios that its
/// label can mean: over the sheet's scale, or over what the main view is drawn at.
fn enlarged(rings: &Rings, views: &Views, details: &[Detail], view: usize, meant: &[f64]) -> Option<f64> {
    let detail = details.iter().find(|d| d.view == view)?;
    let drawn = (0..rings.rings.len()).filter(|&i| views.of_ring[i] == view);
    let drawn: Vec<f64> = drawn.map(|i| rings.rings[i].diameter).collect();
    let answers = |ratio: &&f64| {
        let of = |shown: &usize| rings.rings[*shown].diameter * **ratio;
        detail.shows.iter().any(|shown| drawn.iter().any(|d| near(*d, of(shown))))
    };
    meant.iter().find(answers).copied()
}

/// Whether a statement stands in the title block or is an attribute of it.
fn is_in_title(drawing: &Drawing, title: &Title, s: &Statement) -> bool {
    title.holds(s.origin.space, s.at) || title.is_in(drawing, s.origin.insert)
}

/// The scale that the title block states.
fn title_scale(drawing: &Drawing, statements: &[Statement], title: &Title) -> Option<f64> {
    let in_title = |s: &&Statement| is_in_title(drawing, title, s);
    (title.pairs.iter().find_map(|n| n.scale))
        .or_else(|| statements.iter().filter(in_title).find_map(|s| s.note.scale))
        .filter(|s| *s > 0.0)
}

/// The only scale that is stated away from every view that holds circles, as in a title block whose lines are
/// written `SCALE: 1:2` without a field of their own.
fn apart_scale(views: &Views, statements: &[Statement]) -> Option<f64> {
    let apart = |s: &&Statement| {
        !(0..views.views.len()).any(|v| {
            views.with_rings[v]
                && views.views[v].space == s.origin.space
                && views.views[v].bounds.distance(s.at) <= LABEL_REACH * s.height
        })
    };
    let mut stated = statements.iter().filter(|s| s.note.scale.is_some()).filter(apart);
    let first = stated.next()?.note.scale.filter(|s| *s > 0.0)?;
    stated.all(|s| s.note.scale.is_some_and(|o| near(o, first))).then_some(first)
}

/// The title block's scale for each view where more callouts that surely point at nothing, and rows of the list, find
/// a circle of their size at it than at full size. A callout on a circle of another size is no sure one: the scale is
/// what tells why the sizes differ. Not where more circles have the size of any callout at full size: such a view shows
/// the holes of another one from behind, and one of its circles has another callout's size at the scale by chance.
#[expect(clippy::too_many_arguments, reason = "one call site, which has all these as names of its own")]
fn sheet_scale(
    drawing: &Drawing,
    rings: &Rings,
    views: &Views,
    statements: &[Statement],
    anchors: &Anchors,
    units: &Units,
    title: &Title,
    rows: Option<&DrawingRows>,
) -> Vec<(usize, f64)> {
    // What no label of a view can be is the sheet's too; the circles have to answer either.
    let away = || apart_scale(views, statements);
    let ratio = title_scale(drawing, statements, title).or_else(away).filter(|r| !near(*r, 1.0));
    let Some(ratio) = ratio else { return Vec::new() };
    let listed = rows.into_iter().flat_map(|r| &r.rows).filter_map(|row| row.size.nominal);
    let listed: Vec<f64> = listed.map(|nominal| nominal.value_in(units.reading.unit)).collect();
    let called = |(s, statement): (usize, &Statement)| {
        let size = statement.called().filter(|_| statement.callout.states_hole())?;
        Some((units.in_drawing(size), pointing(drawing, rings, &anchors.of[s]).is_none()))
    };
    let called: Vec<(f64, bool)> = statements.iter().enumerate().filter_map(called).collect();
    let unsure: Vec<f64> = called
        .iter()
        .filter(|(_, unsure)| *unsure)
        .map(|(size, _)| *size)
        .chain(listed.iter().copied())
        .collect();
    let all: Vec<f64> = called.iter().map(|(size, _)| *size).chain(listed).collect();
    let mut drawn: Vec<Vec<f64>> = vec![Vec::new(); views.views.len()];
    for (ring, &view) in rings.rings.iter().zip(&views.of_ring) {
        drawn[view].push(ring.diameter);
    }
    let is = |drawn: &f64, called: &f64, times: f64| (drawn - called * times).abs() <= 0.005 * drawn;
    let answer = |sizes: &[f64], times: f64| {
        unsure.iter().filter(|called| sizes.iter().any(|drawn| is(drawn, called, times))).count()
    };
    let answered = |sizes: &[f64], times: f64| {
        sizes.iter().filter(|drawn| all.iter().any(|called| is(drawn, called, times))).count()
    };
    let scaled = |v: &usize| {
        let sizes = &drawn[*v];
        answer(sizes, ratio) > answer(sizes, 1.0) && answered(sizes, ratio) >= answered(sizes, 1.0)
    };
    (0..drawn.len()).filter(scaled).map(|v| (v, ratio)).collect()
}

/// Whether more circles of a view have the size of one in another view as drawn than at the scale that a label states.
fn drawn_true(rings: &Rings, views: &Views, view: usize, ratio: f64) -> bool {
    let of = |own: bool| {
        rings
            .rings
            .iter()
            .enumerate()
            .filter(move |(i, _)| (views.of_ring[*i] == view) == own)
            .map(|(_, r)| r.diameter)
    };
    let mut others: Vec<f64> = of(false).collect();
    others.sort_by(f64::total_cmp);
    let known = |d: f64| {
        let from = others.partition_point(|o| *o < d * 0.99);
        others.get(from).is_some_and(|o| *o <= d * 1.01)
    };
    let (drawn, scaled) =
        (of(true).filter(|d| known(*d)).count(), of(true).filter(|d| known(*d / ratio)).count());
    drawn > scaled
}

/// Whether a dimension shows what it measures, and not a number typed over it.
pub(super) fn shows_measure(d: &Dimension) -> bool {
    d.text.as_ref().is_none_or(|t| t.contains("<>"))
}

fn near(a: f64, b: f64) -> bool {
    (a - b).abs() <= 0.01 * a.max(b)
}

/// The ratio that most samples share, if two witnesses do, a note confirms the only one, or it may stand alone.
fn agreed(samples: &[Sample], notes: &[f64]) -> f64 {
    let mut best = (0, 1.0);
    let mut samples: Vec<Sample> = samples.to_vec();
    samples.retain(|s| s.ratio.is_finite() && s.ratio > 0.0);
    samples.sort_by(|a, b| a.ratio.total_cmp(&b.ratio));
    // Those near the candidate follow one another, and move on with it.
    let (mut from, mut to) = (0, 0);
    let (mut votes, mut alone, mut said) = (0, 0, 0);
    for candidate in samples.iter().map(|s| s.ratio) {
        while let Some(s) = samples.get(to).filter(|s| s.ratio <= candidate || near(s.ratio, candidate)) {
            (votes, alone, said) = (votes + s.weight, alone + u32::from(s.alone), said + u32::from(s.said));
            to += 1;
        }
        while let Some(s) = samples.get(from).filter(|s| !near(s.ratio, candidate)) {
            (votes, alone, said) = (votes - s.weight, alone - u32::from(s.alone), said - u32::from(s.said));
            from += 1;
        }
        let witnesses = to - from;
        let confirmed = witnesses >= 2 || alone > 0 || notes.iter().any(|n| near(*n, candidate));
        let far_from_one = candidate >= LEAST_FACTOR || candidate <= 1.0 / LEAST_FACTOR || said > 0;
        // Of equal votes the one nearer to full size wins, whatever the order.
        let nearer = votes == best.0 && candidate.ln().abs() < f64::ln(best.1).abs();
        if near(candidate, 1.0) && votes >= best.0 {
            best = (votes, 1.0);
        } else if far_from_one && confirmed && (votes > best.0 || nearer) {
            best = (votes, candidate);
        }
    }
    let same: Vec<f64> = samples.iter().map(|s| s.ratio).filter(|r| near(*r, best.1)).collect();
    if best.1 == 1.0 { 1.0 } else { median(same).unwrap_or(1.0) }
}

fn median(mut values: Vec<f64>) -> Option<f64> {
    values.sort_by(f64::total_cmp);
    values.get(values.len() / 2).copied()
}

#[cfg(test)]
mod tests {
    use super::*;

    // Expected values by hand from the rule above.
    fn typed(ratios: &[f64], notes: &[f64]) -> f64 {
        agreed(&ratios.iter().map(|r| Sample::typed(*r)).collect::<Vec<_>>(), notes)
    }

    #[test]
    fn two_that_agree_make_a_scale_and_one_alone_does_not() {
        assert!((typed(&[0.5, 0.501], &[]) - 0.5).abs() < 0.002);
        assert_eq!(typed(&[0.5], &[]), 1.0);
        assert_eq!(typed(&[0.5], &[0.5]), 0.5);
        assert_eq!(typed(&[1.0, 0.5, 1.0, 0.5], &[]), 1.0);
    }

    // Against counting all samples for each candidate.
    #[test]
    fn many_samples_agree_on_what_counting_each_finds() {
        let mut random = crate::near::random();
        let mut other_than_one = 0;
        for round in 0..200 {
            let count = 1 + round % 40;
            let scale = [1.0, 0.5, 2.0, 5.0][round % 4];
            let samples: Vec<f64> = (0..count)
                .map(|_| if random() < 0.5 { scale * (1.0 + 0.02 * random()) } else { 4.0 * random() })
                .collect();
            let votes = |candidate: f64| samples.iter().filter(|s| near(**s, candidate)).count();
            let most = samples.iter().map(|s| votes(*s)).max().unwrap_or(0);
            let found = typed(&samples, &[]);
            if found != 1.0 {
                // It is the middle of those that are near the one with most votes.
                other_than_one += 1;
                let of_most = samples.iter().filter(|s| votes(**s) == most);
                assert!(of_most.into_iter().any(|s| near(*s, found)), "{samples:?} {found}");
                assert!(most >= 2);
            }
        }
        assert!(other_than_one > 50, "{other_than_one}");
    }

    #[test]
    fn a_size_drawn_a_little_wrong_twice_is_no_scale() {
        assert_eq!(typed(&[0.917, 0.917], &[]), 1.0);
    }

    #[test]
    fn a_factor_makes_a_scale_but_yields_to_a_size_that_is_drawn_true() {
        assert_eq!(agreed(&[Sample::factor(0.5)], &[]), 0.5);
        // A style with a factor of 100 on one dimension made every hole of its view a hundred times too large.
        assert_eq!(agreed(&[Sample::factor(0.01), Sample::typed(1.0)], &[]), 1.0);
        assert_eq!(agreed(&[Sample::typed(1.0), Sample::factor(0.01)], &[]), 1.0);
    }
}
