//! The calculator over thicknesses or drills as a table.

use std::io;

use super::strength::load;
use super::text::{band, head, policy, size};
use crate::report::page::Page;
use crate::report::text::CAUTION;
use crate::report::text::numbers::trimmed;
use crate::rules::words::number;
use crate::trade::Member;
use crate::verdict::Strip;
use crate::verdict::calculator::{Answer, Question};
use crate::verdict::table::{Over, TableRow};

/// Writes what is asked, then a row each.
pub(super) fn write(
    question: &Question,
    answer: &Answer,
    over: Over,
    rows: &[TableRow],
    page: &mut Page<'_>,
) -> io::Result<()> {
    let asked = match over {
        Over::Thickness => Question { thickness: None, ..question.clone() },
        Over::Drills => question.clone(),
    };
    head(&asked, page)?;
    policy(answer, page)?;
    if over == Over::Drills || answer.unsuitable.is_some() {
        band(&asked, answer, page)?;
    }
    page.blank()?;
    if rows.is_empty() {
        return page.prose(0, "Nothing is known that a table could show.");
    }
    page.table(0, &table(question, over, rows))?;
    page.blank()?;
    notes(over, rows, page)?;
    page.blank()?;
    page.prose(0, CAUTION)
}

fn table(question: &Question, over: Over, rows: &[TableRow]) -> Vec<Vec<String>> {
    let unit = question.thread.unit;
    let first = match over {
        Over::Thickness => vec![unit.name().to_owned(), "t/D".to_owned(), "band %".to_owned()],
        Over::Drills => vec!["drill".to_owned()],
    };
    let rest = ["hole", "rolled %", "verdict", "strips at", "first to fail"].map(str::to_owned);
    let heading = [first, rest.to_vec()].concat();
    let row = |r: &TableRow| [lead(question, over, r), values(question, r)].concat();
    [heading].into_iter().chain(rows.iter().map(row)).collect()
}

/// What a row is about.
fn lead(question: &Question, over: Over, row: &TableRow) -> Vec<String> {
    let t = &question.thread;
    match over {
        Over::Thickness => vec![
            row.thickness.map(|l| number(l, t.unit)).unwrap_or_default(),
            row.thickness.map(|l| format!("{:.2}", l / t.major)).unwrap_or_default(),
            row.band
                .as_ref()
                .map(|b| format!("{}-{}", b.band.min, b.band.max))
                .unwrap_or_else(|| "-".to_owned()),
        ],
        Over::Drills => {
            let special = if row.stocked { "" } else { " *" };
            vec![format!("{}{special}", row.drill.as_deref().unwrap_or_default())]
        }
    }
}

fn values(question: &Question, row: &TableRow) -> Vec<String> {
    let unit = question.thread.unit;
    let dash = || "-".to_owned();
    let engagement = match (row.engagement, row.limits) {
        (Some(nominal), Some((most, least))) => {
            format!("{} ({}-{})", trimmed(nominal, 0), trimmed(least, 0), trimmed(most, 0))
        }
        (Some(nominal), None) => format!("{nominal:.1}"),
        _ => dash(),
    };
    let loads = row.strip.as_ref().and_then(|s| s.loads.as_ref());
    vec![
        row.hole.map_or_else(dash, |h| format!("Ø{}", size(h, unit))),
        engagement,
        row.verdict.map_or_else(dash, |v| v.name().to_owned()),
        loads.map_or_else(dash, |l| load(l.metal_n.0.min(l.screw_thread_n.0), unit)),
        loads.map_or_else(dash, |l| member(l.first.0).to_owned()),
    ]
}

const fn member(member: Member) -> &'static str {
    match member {
        Member::Metal => "metal",
        Member::ScrewThread => "screw thread",
        Member::Screw => "screw",
    }
}

/// What the columns mean.
fn notes(over: Over, rows: &[TableRow], page: &mut Page<'_>) -> io::Result<()> {
    if over == Over::Drills && rows.iter().any(|r| !r.stocked) {
        page.prose(0, "* special size, not in the stocked series")?;
    }
    if rows.iter().any(|r| r.limits.is_some()) {
        page.prose(0, "rolled %: of the nominal, in brackets over the limits of size")?;
    }
    let outside = |r: &TableRow| r.strip.as_ref().is_some_and(|s| !s.valid);
    if rows.iter().any(outside) {
        let (from, to) = Strip::VALID;
        page.prose(
            0,
            &format!("- for a load: outside {from} to {to} % rolled the strip model does not hold"),
        )?;
    }
    if rows.iter().any(|r| r.strip.as_ref().is_some_and(|s| s.loads.is_some())) {
        page.prose(
            0,
            "strips at: guidance only, shear taken as half of tensile strength (FED-STD-H28/2B), strengths recalled; \
             boreband size with a thickness shows the working",
        )?;
    }
    Ok(())
}
