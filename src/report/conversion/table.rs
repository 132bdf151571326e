//! The report as comma-separated values: a row for each group of tapped holes, ranked as the drawings are.

use std::io::{self, Write};

use super::Converted;
use super::json::{fine, mm, percent};
use super::words::message;
use crate::conversion::Group;
use crate::conversion::saving::{BreakEven, PerHole, Saving};
use crate::practice::{Answer, Costs};
use crate::report::csv::field;
use crate::report::table::Cell;
use crate::rules::words::line;

/// What a row is made of.
struct Row<'a> {
    converted: &'a Converted<'a>,
    group: Option<&'a Group>,
    of_hole: Option<&'a PerHole>,
}

type Column = (&'static str, fn(&Row<'_>) -> Cell<'static>);

static COLUMNS: &[Column] = &[
    ("path", |r| text(r.converted.drawing.path.clone())),
    ("state", |r| text(r.converted.drawing.state.clone())),
    ("part", |r| maybe(r.converted.drawing.part.clone())),
    ("answer", |r| of(r, |g| text(g.answer.name().to_owned()))),
    ("count", |r| of(r, |g| Cell::Number(f64::from(g.count)))),
    ("holes", |r| of(r, |g| text(g.holes.join(" ")))),
    ("callout", |r| of(r, |g| text(line(&g.callout)))),
    ("thread", |r| of(r, |g| text(g.named.clone()))),
    ("material", |r| of(r, |g| maybe(g.material.map(|m| m.name().to_owned())))),
    ("thickness_mm", |r| of(r, |g| number(g.thickness.map(mm)))),
    ("process", |r| of(r, |g| maybe(g.process.map(|p| p.name().to_owned())))),
    ("length_mm", |r| of(r, |g| number(g.length.map(mm)))),
    ("against", |r| of(r, |g| text(against(g)))),
    ("why", |r| {
        let unit = r.converted.conversion.unit;
        of(r, |g| {
            let open = g.reasons.iter().filter(|reason| reason.answer != Answer::Candidate);
            text(open.map(|reason| message(reason, g, unit)).collect::<Vec<_>>().join("; "))
        })
    }),
    ("new_callout", |r| of(r, |g| maybe(g.new_hole.as_ref().map(|h| h.callout.clone())))),
    ("new_diameter_mm", |r| of(r, |g| number(g.new_hole.as_ref().map(|h| mm(h.diameter))))),
    ("new_min_mm", |r| of(r, |g| number(g.new_hole.as_ref().and_then(|h| h.limits).map(|l| mm(l.0))))),
    ("new_max_mm", |r| of(r, |g| number(g.new_hole.as_ref().and_then(|h| h.limits).map(|l| mm(l.1))))),
    ("drill", |r| of(r, |g| maybe(g.new_hole.as_ref().and_then(|h| h.drill.clone())))),
    ("engagement_rolled", |r| of(r, |g| number(g.new_hole.as_ref().map(|h| percent(h.engagement))))),
    ("band_min", |r| of(r, |g| number(g.new_hole.as_ref().map(|h| h.band.band.min)))),
    ("band_max", |r| of(r, |g| number(g.new_hole.as_ref().map(|h| h.band.band.max)))),
    ("guide_hole_mm", |r| of(r, |g| number(g.guide.as_ref().map(|h| mm(h.row.hole))))),
    ("guide_fit", |r| of(r, |g| maybe(g.guide.as_ref().map(|h| h.row.fit.to_string())))),
    ("currency", |r| maybe(costs(r).map(|costs| costs.currency.clone()))),
    ("saving_of_hole", |r| number(r.of_hole.and_then(|h| h.saving.value()).map(fine))),
    ("at_least", |r| match r.of_hole {
        Some(of_hole) => text(if of_hole.saving.is_at_least() { "yes" } else { "no" }.to_owned()),
        None => Cell::Nothing,
    }),
    ("saving_of_part", |r| number(saving(r).and_then(|s| s.candidates.per_part.value()).map(fine))),
    ("yearly_parts", |r| number(saving(r).and_then(|s| s.yearly_parts).map(|(_, parts)| parts))),
    ("yearly_saving", |r| number(saving(r).and_then(|s| s.candidates.yearly.value()).map(fine))),
    ("proving", |r| number(saving(r).and_then(|s| s.proving).map(fine))),
    ("first_year", |r| number(saving(r).and_then(|s| s.first_year.value()).map(fine))),
    ("break_even_parts", |r| {
        number(saving(r).and_then(|s| match s.break_even {
            BreakEven::Parts(parts) => Some(parts as f64),
            BreakEven::Never | BreakEven::NotKnown => None,
        }))
    }),
    ("not_stated", |r| match saving(r) {
        Some(saving) => text(saving.missing.iter().map(|term| term.name()).collect::<Vec<_>>().join(" ")),
        None => Cell::Nothing,
    }),
];

/// Writes the names of the columns.
pub(super) fn header(out: &mut dyn Write) -> io::Result<()> {
    let mut writer = csv::Writer::from_writer(out);
    writer.write_record(COLUMNS.iter().map(|(name, _)| name))?;
    writer.flush()
}

/// Writes the rows of a drawing; one without a group for a drawing that has none.
pub(super) fn drawing(converted: &Converted<'_>, out: &mut dyn Write) -> io::Result<()> {
    let mut writer = csv::Writer::from_writer(out);
    let mut write = |row: &Row<'_>| writer.write_record(COLUMNS.iter().map(|(_, cell)| field(cell(row))));
    for (nth, group) in converted.conversion.groups.iter().enumerate() {
        let of_hole = converted.saving().and_then(|s| s.groups.get(nth)?.as_ref());
        write(&Row { converted, group: Some(group), of_hole })?;
    }
    if converted.conversion.groups.is_empty() {
        write(&Row { converted, group: None, of_hole: None })?;
    }
    writer.flush()
}

fn costs<'a>(row: &Row<'a>) -> Option<&'a Costs> {
    row.converted.costs.as_ref().map(|(costs, _)| *costs)
}

/// The saving of the drawing, beside each of its rows.
fn saving<'a>(row: &Row<'a>) -> Option<&'a Saving> {
    row.converted.saving()
}

/// The grounds that stand against the holes, by name.
fn against(group: &Group) -> String {
    let open = group.reasons.iter().filter(|reason| reason.answer != Answer::Candidate);
    open.map(|reason| reason.ground.name()).collect::<Vec<_>>().join(" ")
}

fn of(row: &Row<'_>, cell: impl Fn(&Group) -> Cell<'static>) -> Cell<'static> {
    row.group.map_or(Cell::Nothing, cell)
}

fn text(text: String) -> Cell<'static> {
    Cell::Text(text.into())
}

fn maybe(value: Option<String>) -> Cell<'static> {
    value.map_or(Cell::Nothing, text)
}

fn number(value: Option<f64>) -> Cell<'static> {
    value.map_or(Cell::Nothing, Cell::Number)
}
