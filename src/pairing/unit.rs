//! Millimetre or inch, by weighted votes: header, list, notes, callouts against the circles they point at.
//!
//! Two things are decided: the unit that the geometry is drawn in, and the unit of numbers in texts that state
//! none. They differ where inch callouts stand on circles drawn in millimetres.

use super::anchors::Anchors;
use super::conflicts::in_unit;
use super::resolve::could_be_threaded;
use super::rings::Rings;
use super::texts::{Carrier, Statement, usual_height};
use super::{UnitReading, UnitSource, UnitVote};
use crate::callout::{Part, Quantity};
use crate::drawing::{DimensionKind, Drawing, Header};
use crate::geometry::Point;
use crate::joint::{Defaults, DrawingRows, Row};
use crate::units::{Length, MM_PER_INCH, Unit};

/// What was decided.
#[derive(Debug, Clone)]
pub(super) struct Units {
    pub(super) reading: UnitReading,
    /// Unit of numbers in texts that state none.
    pub(super) stated: Unit,
}

impl Units {
    /// A quantity of a text as a length.
    pub(super) fn length(&self, q: Quantity) -> Option<Length> {
        q.length(self.stated)
    }

    /// A quantity of a text in drawing units.
    pub(super) fn in_drawing(&self, q: Quantity) -> f64 {
        q.value * q.unit.unwrap_or(self.stated).in_mm() / self.reading.unit.in_mm()
    }

    /// A drawn value as a length; zero where it is not finite, which the reader does not let through.
    pub(super) fn drawn(&self, value: f64) -> Length {
        Length::new(value, self.reading.unit).unwrap_or(Length::ZERO)
    }
}

/// A vote with what kind of evidence it is.
#[derive(Debug, Clone)]
struct Vote {
    vote: UnitVote,
    source: UnitSource,
    /// Whether a person must look if it loses.
    real: bool,
}

#[derive(Debug, Default)]
struct Votes(Vec<Vote>);

impl Votes {
    fn add(&mut self, unit: Unit, source: UnitSource, weight: f64, who: String) {
        self.0.push(Vote { vote: UnitVote { unit, who, weight }, source, real: weight >= 1.0 });
    }

    /// Whether the part would be of no plausible size in the unit, and what else speaks against the unit is weak but
    /// not nothing.
    fn weak_together(&self, unit: Unit) -> bool {
        let against = self.0.iter().filter(|v| v.vote.unit != unit);
        let (size, others): (Vec<_>, Vec<_>) = against.partition(|v| v.source == UnitSource::Assumed);
        !size.is_empty() && others.iter().map(|v| v.vote.weight).sum::<f64>() >= BESIDE_SIZE
    }

    fn total(&self, unit: Unit) -> f64 {
        self.0.iter().filter(|v| v.vote.unit == unit).map(|v| v.vote.weight).sum()
    }
}

/// How drawn sizes relate to the numbers called out.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Relation {
    Same,
    /// Drawn 25.4 times the number: millimetres drawn, inches called out.
    InchTexts,
    /// Drawn a 25.4th of the number.
    MmTexts,
}

/// Most evidence of one kind counts this much: many callouts of one habit are one witness.
const CAP: f64 = 6.0;

/// Weight of the part's size: it breaks ties, and with the height of letters still yields to `$MEASUREMENT`.
const PART_SIZE: f64 = 0.15;

/// What else must speak against the unit beside the part's size to be worth a look: `$MEASUREMENT`, the unit of a list or
/// habits of writing, but not the height of letters, which goes with the size of the part.
const BESIDE_SIZE: f64 = 0.5;

/// Decides the units.
pub(super) fn decide(
    drawing: &Drawing,
    rings: &Rings,
    statements: &[Statement],
    anchors: &Anchors,
    part: Option<(Unit, String)>,
    rows: Option<&DrawingRows>,
    defaults: &Defaults,
) -> Units {
    let mut votes = Votes::default();
    header_votes(&drawing.header, &mut votes);
    list_votes(rings, rows, &mut votes);
    option_votes(rings, defaults, &mut votes);
    letter_vote(drawing, &mut votes);
    if let Some((unit, who)) = part {
        votes.add(unit, UnitSource::Assumed, PART_SIZE, who);
    }
    stated_on_circles(rings, statements, anchors, &mut votes);
    let stated = stated_votes(statements);
    let converted = converted(drawing);
    let relation = converted.unwrap_or_else(|| relation(rings, statements, anchors));
    let explained = converted.is_some() || !stated.0.is_empty();
    let mut stated_unit = None;
    match relation {
        Relation::Same => votes.0.extend(stated.0),
        Relation::InchTexts => {
            stated_unit = Some(Unit::Inch);
            votes.add(
                Unit::Mm,
                UnitSource::Callouts,
                4.0,
                "circles are drawn at 25.4 times their callouts".to_owned(),
            );
        }
        Relation::MmTexts => {
            stated_unit = Some(Unit::Mm);
            votes.add(
                Unit::Inch,
                UnitSource::Callouts,
                4.0,
                "circles are drawn at 1/25.4 of their callouts".to_owned(),
            );
        }
    }
    let unit = if votes.total(Unit::Inch) > votes.total(Unit::Mm) { Unit::Inch } else { Unit::Mm };
    let real = |own: bool| votes.0.iter().any(|v| v.real && (v.vote.unit == unit) == own);
    let doubtful =
        real(true) && (real(false) || votes.weak_together(unit)) || relation != Relation::Same && !explained;
    let source = source_of(&votes, unit);
    let votes = votes.0.into_iter().map(|v| v.vote).collect();
    Units { reading: UnitReading { unit, source, votes, doubtful }, stated: stated_unit.unwrap_or(unit) }
}

/// The header if it agrees, else the kind of evidence that weighs most.
fn source_of(votes: &Votes, unit: Unit) -> UnitSource {
    let total = |source: UnitSource| -> f64 {
        votes.0.iter().filter(|v| v.vote.unit == unit && v.source == source).map(|v| v.vote.weight).sum()
    };
    if total(UnitSource::Header) >= 1.0 {
        return UnitSource::Header;
    }
    let order = [UnitSource::Callouts, UnitSource::List, UnitSource::Option, UnitSource::Header];
    let best = order
        .into_iter()
        .map(|s| (s, total(s)))
        .fold((UnitSource::Assumed, 0.0), |best, next| if next.1 > best.1 { next } else { best });
    best.0
}

fn header_votes(header: &Header, votes: &mut Votes) {
    let header_vote = UnitSource::Header;
    match header.insunits {
        Some(1) => votes.add(Unit::Inch, header_vote, 3.0, "$INSUNITS 1".to_owned()),
        Some(4) => votes.add(Unit::Mm, header_vote, 3.0, "$INSUNITS 4".to_owned()),
        None | Some(0) => {}
        Some(n) => {
            votes.add(Unit::Mm, header_vote, 0.0, format!("$INSUNITS {n} (neither mm nor inch: no vote)"))
        }
    }
    match header.measurement {
        Some(0) => votes.add(Unit::Inch, header_vote, 0.5, "$MEASUREMENT 0".to_owned()),
        Some(1) => votes.add(Unit::Mm, header_vote, 0.5, "$MEASUREMENT 1".to_owned()),
        _ => {}
    }
}

/// Which unit alone makes a drawn diameter fit, if only one does.
fn only_unit(fits: impl Fn(Unit) -> bool) -> Option<Unit> {
    match (fits(Unit::Mm), fits(Unit::Inch)) {
        (true, false) => Some(Unit::Mm),
        (false, true) => Some(Unit::Inch),
        _ => None,
    }
}

/// Rows whose diameter, or whose screw, fits circles drawn in one of the units only.
fn list_votes(rings: &Rings, rows: Option<&DrawingRows>, votes: &mut Votes) {
    let Some(rows) = rows else { return };
    let mut left = CAP;
    for row in &rows.rows {
        let Some((unit, why, weight)) = row_vote(rings, row) else { continue };
        let weight = f64::min(weight, left);
        if weight > 0.0 {
            left -= weight;
            votes.add(unit, UnitSource::List, weight, format!("list {} {why}", row.pointer));
        }
    }
    if let Some(unit) = rows.unit {
        // Only breaks the silence of everything else, so it weighs just more than $MEASUREMENT.
        votes.add(unit, UnitSource::List, 0.6, format!("list written in {unit}"));
    }
}

fn row_vote(rings: &Rings, row: &Row) -> Option<(Unit, String, f64)> {
    let mut drawn: Vec<f64> = Vec::new();
    if row.at.is_empty() {
        drawn.extend(rings.rings.iter().map(|r| r.diameter));
    } else {
        for &p in &row.at {
            drawn.extend(centred(rings, p));
        }
    }
    let near_thread = |d: f64, u: Unit| {
        row.screw.as_ref().is_some_and(|s| could_be_threaded(d / s.thread.major.value_in(u)))
    };
    if let Some(nominal) = row.size.nominal {
        let fits =
            |u: Unit| drawn.iter().any(|d| (d - nominal.value_in(u)).abs() <= 0.005 * nominal.value_in(u));
        if let Some(unit) = only_unit(fits) {
            // A size that also suits the row's screw is more than the header's habit.
            let weight = if near_thread(nominal.value_in(unit), unit) { 3.6 } else { 2.0 };
            return Some((unit, format!("diameter {}", in_unit(nominal, unit)), weight));
        }
    }
    let name = &row.screw.as_ref()?.thread.name;
    let unit = only_unit(|u| drawn.iter().any(|&d| near_thread(d, u)))?;
    Some((unit, format!("circles fit {name}"), 2.0))
}

/// Diameters of the rings whose centre is the one nearest to a place of the list. A pitch circle or an outline that
/// has the place inside, off its centre, is not what the list speaks of.
fn centred(rings: &Rings, p: Point) -> impl Iterator<Item = f64> {
    let off = move |i: &usize| rings.rings[*i].center.distance(p);
    let mut hit = rings.within(0, p, 0.0);
    hit.retain(|i| off(i) <= 0.25 * rings.rings[*i].diameter);
    let nearest = hit.iter().map(off).fold(f64::INFINITY, f64::min);
    hit.into_iter()
        .map(|i| &rings.rings[i])
        .filter(move |r| r.center.distance(p) <= nearest + 0.01 * r.diameter)
        .map(|r| r.diameter)
}

fn option_votes(rings: &Rings, defaults: &Defaults, votes: &mut Votes) {
    let Some(thread) = &defaults.thread else { return };
    let fits = |u: Unit| {
        let major = thread.major.value_in(u);
        rings.rings.iter().any(|r| could_be_threaded(r.diameter / major))
    };
    if let Some(unit) = only_unit(fits) {
        votes.add(unit, UnitSource::Option, 0.8, format!("circles fit {}", thread.name));
    }
}

/// Letters as high as a sheet in one of the units has them. Lettering is 1.8 mm to 10 mm or .06 in to .4 in high on
/// paper (ISO 3098 series, common practice), and a part drawn at a scale changes that; so it only breaks silence.
fn letter_vote(drawing: &Drawing, votes: &mut Votes) {
    if !drawing.texts.iter().any(|t| t.origin.visible && t.height > 0.0) {
        return;
    }
    let height = usual_height(drawing);
    let who = format!("letters {height:.3} high");
    if height <= 0.4 {
        votes.add(Unit::Inch, UnitSource::Callouts, 0.3, who);
    } else if height >= 1.5 {
        votes.add(Unit::Mm, UnitSource::Callouts, 0.3, who);
    }
}

/// Anchored statements and the drawn diameter that they point at.
fn anchored<'a>(
    rings: &'a Rings,
    statements: &'a [Statement],
    anchors: &'a Anchors,
) -> impl Iterator<Item = (&'a Statement, f64)> {
    statements
        .iter()
        .zip(&anchors.of)
        .filter_map(|(s, a)| a.first().filter(|a| a.cost < 0.5).map(|a| (s, rings.rings[a.ring].diameter)))
}

fn close(a: f64, b: f64) -> bool {
    (a - b).abs() <= 0.01 * a.abs().max(b.abs())
}

/// Callouts that state their unit, on circles that equal them in one unit.
fn stated_on_circles(rings: &Rings, statements: &[Statement], anchors: &Anchors, votes: &mut Votes) {
    let mut left = CAP;
    for (s, drawn) in anchored(rings, statements, anchors) {
        let Some(q) = s.called() else { continue };
        let Some(length) = q.unit.and_then(|u| Length::new(q.value, u).ok()) else { continue };
        if let Some(unit) = only_unit(|u| close(drawn, length.value_in(u))) {
            let weight = f64::min(3.0, left);
            if weight > 0.0 {
                left -= weight;
                votes.add(
                    unit,
                    UnitSource::Callouts,
                    weight,
                    format!("'{}' on a circle of {drawn:.4}", s.callout.text),
                );
            }
        }
    }
}

/// A dimension factor of 25.4, or its inverse, on most dimensions: drawn in one unit, dimensioned in the other.
fn converted(drawing: &Drawing) -> Option<Relation> {
    let shown: Vec<f64> = drawing
        .dimensions
        .iter()
        .filter(|d| d.origin.visible && d.kind != DimensionKind::Angular)
        .map(|d| d.length_factor)
        .collect();
    let most = |factor: f64| 2 * shown.iter().filter(|f| close(**f, factor)).count() > shown.len();
    if most(MM_PER_INCH) {
        Some(Relation::MmTexts)
    } else {
        most(1.0 / MM_PER_INCH).then_some(Relation::InchTexts)
    }
}

fn relation(rings: &Rings, statements: &[Statement], anchors: &Anchors) -> Relation {
    let (mut same, mut inch, mut mm) = (0, 0, 0);
    for (s, drawn) in anchored(rings, statements, anchors) {
        let Some(q) = s.called().filter(|q| q.unit.is_none() && q.value > 0.0) else { continue };
        // The number may be rounded, so a ratio of 25.4 is believed within two percent.
        let ratio = drawn / q.value;
        if (ratio / MM_PER_INCH - 1.0).abs() <= 0.02 {
            inch += 1;
        } else if (ratio * MM_PER_INCH - 1.0).abs() <= 0.02 {
            mm += 1;
        } else {
            same += 1;
        }
    }
    if inch > same && inch > mm {
        Relation::InchTexts
    } else if mm > same {
        Relation::MmTexts
    } else {
        Relation::Same
    }
}

/// What texts alone say of the unit of their numbers.
fn stated_votes(statements: &[Statement]) -> Votes {
    let mut votes = Votes::default();
    for unit in [Unit::Mm, Unit::Inch] {
        if let Some(s) = statements.iter().find(|s| s.note.unit == Some(unit)) {
            votes.add(unit, UnitSource::Callouts, 4.0, format!("'{}'", short(&s.callout.text)));
        }
    }
    let mut left = [CAP, CAP];
    for s in statements.iter().filter(|s| s.carrier != Carrier::TableRow) {
        for (unit, weight, why) in habits(s) {
            let rest = &mut left[usize::from(unit == Unit::Inch)];
            let weight = f64::min(weight, *rest);
            if weight > 0.0 {
                *rest -= weight;
                votes.add(unit, UnitSource::Callouts, weight, format!("'{}' {why}", short(&s.callout.text)));
            }
        }
    }
    votes
}

fn short(text: &str) -> String {
    text.lines().next().unwrap_or_default().chars().take(40).collect()
}

/// What one callout without a unit shows of the unit it is written in.
fn habits(s: &Statement) -> Vec<(Unit, f64, &'static str)> {
    let mut habits = Vec::new();
    if let Some(unit) = s.called().and_then(|q| q.unit) {
        // A mark or the name of a drill says how its drafter thinks, but not what the circles are drawn in.
        return vec![(unit, 0.9, "states its unit")];
    }
    let Some(q) = s.called().filter(|q| q.unit.is_none() && q.value > 0.0) else { return habits };
    if let Some(second) = s.callout.second.filter(|x| x.value > 0.0) {
        if close(q.value / second.value, MM_PER_INCH) {
            habits.push((Unit::Mm, 3.0, "with inches in brackets"));
        } else if close(second.value / q.value, MM_PER_INCH) {
            habits.push((Unit::Inch, 3.0, "with millimetres in brackets"));
        }
    }
    if let Some(named) = &s.callout.thread {
        let fits = |u: Unit| {
            let ratio = q.value / named.thread.major.value_in(u);
            (0.55..=1.2).contains(&ratio)
        };
        if let Some(unit) = only_unit(fits) {
            // A hole of the other unit could not take its own screw: that is more than the header's habit.
            habits.push((unit, 3.6, "beside its thread"));
        }
    }
    let written = size_text(s);
    if written.starts_with('.') && q.decimals >= 3 {
        // Inch drawings leave the leading zero out, metric ones do not (ASME Y14.5 practice; common practice).
        habits.push((Unit::Inch, 1.0, "without a leading zero"));
        if q.value < 0.5 {
            habits.push((Unit::Inch, 3.0, "too small for millimetres"));
        }
    } else if written.contains(',') && !written.starts_with(',') {
        // `,625` leaves the zero out as inch drawings do, whatever its sign; it votes for neither.
        habits.push((Unit::Mm, 0.4, "with a decimal comma"));
    }
    habits
}

/// The number of the size as written, sign and words cut off.
fn size_text(s: &Statement) -> &str {
    s.callout
        .spans
        .iter()
        .find(|span| span.part == Part::Size)
        .and_then(|span| s.callout.text.get(span.range.clone()))
        .map(|t| t.trim_start_matches(|c: char| !c.is_ascii_digit() && c != '.' && c != ','))
        .unwrap_or_default()
}
