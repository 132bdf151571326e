//! The report for people: for each drawing its tapped holes with the grounds and the hole to call out, then what that
//! saves; last the sums, the formula and the caution.

use std::io;

use super::rank::{Sums, holes};
use super::words::{amount, joint, large, message, small};
use super::{CAUTION, Converted};
use crate::conversion::saving::{Amount, BreakEven, Joint, PerHole, Saving, Term};
use crate::conversion::{Group, Guide, NewHole};
use crate::practice::{Answer, Costs, Origin};
use crate::report::clean::{flowing, visible};
use crate::report::page::{Page, Tone};
use crate::rules::words::{self, percent_beside, quoted};
use crate::units::{Length, Unit};

const INDENT: usize = 2;
/// Where what belongs to an answer starts.
const BODY: usize = 13;
/// Where what belongs to a label in the body starts.
const HANG: usize = 24;

/// Writes a drawing.
pub(super) fn drawing(converted: &Converted<'_>, page: &mut Page<'_>) -> io::Result<()> {
    page.split(&visible(&converted.drawing.path), &header(converted))?;
    for problem in converted.drawing.problems.iter().filter(|problem| problem.loss) {
        let text = format!("line {}: {}", problem.line, flowing(&problem.message));
        page.labelled(INDENT, (Tone::Fail, "lost"), BODY, &text)?;
    }
    let unit = converted.conversion.unit;
    for (nth, group) in converted.conversion.groups.iter().enumerate() {
        one(group, unit, page)?;
        if let Some((costs, saving)) = &converted.costs
            && let Some(Some(of_hole)) = saving.groups.get(nth)
        {
            labelled(page, "a hole saves", &per_hole(of_hole, &costs.currency))?;
        }
    }
    if let Some((costs, saving)) = &converted.costs
        && holes(converted, Answer::Candidate) + holes(converted, Answer::Doubtful) > 0
    {
        money(saving, &costs.currency, page)?;
    }
    page.blank()
}

fn header(converted: &Converted<'_>) -> String {
    let counted = Answer::ALL.map(|answer| (holes(converted, answer), answer.name()));
    let said: Vec<String> =
        counted.iter().filter(|(n, _)| *n > 0).map(|(n, name)| format!("{n} {name}")).collect();
    let said = if said.is_empty() { "no tapped hole".to_owned() } else { said.join(", ") };
    match converted.drawing.state.as_str() {
        "unreadable" => "unreadable".to_owned(),
        "partly-read" => format!("partly read, {said}"),
        _ => said,
    }
}

fn one(group: &Group, unit: Unit, page: &mut Page<'_>) -> io::Result<()> {
    let tone = match group.answer {
        Answer::Candidate => Tone::Strong,
        Answer::Doubtful => Tone::Warn,
        Answer::No => Tone::Plain,
    };
    let where_ = if group.holes.is_empty() { "no hole found".to_owned() } else { group.holes.join(" ") };
    let title = format!("{}, now {} ({where_})", joint(group, unit), quoted(&group.callout));
    page.labelled(INDENT, (tone, group.answer.name()), BODY, &title)?;
    if group.answer != Answer::No {
        if let Some(hole) = &group.new_hole {
            labelled(page, "call out", &new_hole(hole))?;
        }
        if let Some(guide) = &group.guide {
            labelled(page, "guide hole", &guide_hole(guide, unit))?;
        }
    }
    for reason in &group.reasons {
        let sign = if reason.answer == Answer::Candidate { "for" } else { "against" };
        let said =
            format!("{}: {} ({})", reason.ground.name(), message(reason, group, unit), reason.status.words());
        // What speaks for a hole that stays as it is helps nobody.
        if reason.answer != Answer::Candidate || group.answer == Answer::Candidate {
            labelled(page, sign, &said)?;
        }
    }
    Ok(())
}

fn new_hole(hole: &NewHole) -> String {
    let band = &hole.band.band;
    let edges = [band.min, band.max];
    let engagement = match hole.at_limits {
        Some((tight, loose)) => {
            format!(
                "{} ({} to {})",
                short(hole.engagement, &edges),
                short(tight, &edges),
                short(loose, &edges)
            )
        }
        None => short(hole.engagement, &edges),
    };
    format!(
        "{}; engagement {engagement} rolled, band {} to {} % ({})",
        flowing(&hole.callout),
        words::short(band.min),
        words::short(band.max),
        band.status.words()
    )
}

fn short(value: f64, edges: &[f64]) -> String {
    percent_beside(value, edges)
}

fn guide_hole(guide: &Guide, unit: Unit) -> String {
    let at_most = guide.at_largest.map(|at| format!(" to {}", words::percent(at))).unwrap_or_default();
    let doubt = guide
        .row
        .suspect
        .as_ref()
        .map(|why| format!("; the printed value is doubted: {why}"))
        .unwrap_or_default();
    format!(
        "{} {}; {}{at_most} rolled at {} long in {}; {} ({}){doubt}",
        words::diameter(guide.row.hole, unit),
        guide.row.fit,
        words::percent(guide.engagement),
        words::length(guide.row.length, unit),
        guide.row.metal.sign(),
        guide.row.source,
        guide.row.status.words()
    )
}

fn per_hole(of_hole: &PerHole, currency: &str) -> String {
    let mut terms = String::new();
    for (term, value) in of_hole.terms.iter().filter(|(_, value)| *value != Some(0.0)) {
        let sign = if term.is_gain() { "+" } else { "-" };
        let value = value.map_or("?".to_owned(), small);
        if terms.is_empty() && term.is_gain() {
            terms = format!("{} {value}", term.name());
        } else {
            terms += &format!(" {sign} {} {value}", term.name());
        }
    }
    format!("{} = {}", amount(of_hole.saving, small, currency), terms.trim_start())
}

/// What the drawing saves.
fn money(saving: &Saving, currency: &str, page: &mut Page<'_>) -> io::Result<()> {
    let row = |page: &mut Page<'_>, label: &str, text: &str| {
        page.labelled(INDENT, (Tone::Strong, label), BODY, text)
    };
    let candidates = &saving.candidates;
    if candidates.holes > 0 {
        let parts = saving.yearly_parts.map(|(_, parts)| format!("{parts} parts a year"));
        let text = format!(
            "{} a part ({}); {} a year ({})",
            amount(candidates.per_part, small, currency),
            counted(candidates.holes),
            amount(candidates.yearly, large, currency),
            parts.unwrap_or_else(|| "parts a year not stated".to_owned())
        );
        row(page, "saves", &text)?;
        let proving = saving.proving.map_or("not known".to_owned(), |p| format!("{} {currency}", large(p)));
        let joints: Vec<String> = saving.joints.iter().map(|(joint, _)| joint_name(joint)).collect();
        let text = format!(
            "{proving} to test {}; {}; first year {}",
            joints.join(", "),
            break_even(saving),
            amount(saving.first_year, large, currency)
        );
        row(page, "proving", &text)?;
    }
    if saving.doubtful.holes > 0 {
        let text = format!(
            "{} a part more ({}) if every doubt were settled; not counted",
            amount(saving.doubtful.per_part, small, currency),
            counted(saving.doubtful.holes)
        );
        row(page, "doubtful", &text)?;
    }
    if !saving.missing.is_empty() {
        let names: Vec<&str> = saving.missing.iter().map(|term| term.name()).collect();
        row(page, "not stated", &names.join(", "))?;
    }
    Ok(())
}

fn break_even(saving: &Saving) -> String {
    match saving.break_even {
        BreakEven::Parts(parts) if saving.candidates.per_part.is_at_least() => {
            format!("paid after {parts} parts at most")
        }
        BreakEven::Parts(parts) => format!("paid after {parts} parts"),
        BreakEven::Never => "never paid: each part costs no less than with the tap".to_owned(),
        BreakEven::NotKnown => "break-even not known".to_owned(),
    }
}

fn joint_name((thread, material, micrometres): &Joint) -> String {
    let thickness = Length::mm_const(*micrometres as f64 / 1000.0);
    format!("{thread} in {} {material}", words::length(thickness, Unit::Mm))
}

fn counted(holes: u32) -> String {
    format!("{holes} {}", if holes == 1 { "hole" } else { "holes" })
}

/// Writes the sums, the formula and the caution.
pub(super) fn summary(sums: &Sums, costs: Option<&Costs>, page: &mut Page<'_>) -> io::Result<()> {
    let row =
        |page: &mut Page<'_>, label: &str, text: &str| page.labelled(0, (Tone::Plain, label), BODY, text);
    let drawings = format!(
        "{} read whole, {} partly read, {} unreadable; {} with tapped holes",
        sums.drawings - sums.unreadable - sums.partly_read,
        sums.partly_read,
        sums.unreadable,
        sums.tapped
    );
    row(page, "drawings", &drawings)?;
    let mut tapped = format!("{} candidate, {} doubtful, {} no", sums.candidate, sums.doubtful, sums.no);
    if sums.unanswered > 0 {
        tapped += &format!("; callouts of taps without a hole: {}", sums.unanswered);
    }
    row(page, "tapped holes", &tapped)?;
    if !sums.grounds.is_empty() {
        let mut grounds: Vec<(u64, String)> = sums.grounds.iter().map(|(g, n)| (*n, g.name())).collect();
        grounds.sort_by(|a, b| b.0.cmp(&a.0).then_with(|| a.1.cmp(&b.1)));
        let said: Vec<String> = grounds.iter().map(|(n, name)| format!("{name} {n}")).collect();
        row(page, "against", &said.join(", "))?;
    }
    match costs {
        Some(costs) => {
            totals(sums, costs, page)?;
            page.blank()?;
            formula(page)?;
        }
        None => {
            row(page, "saving", "not known: no costs are given (--costs FILE, or costs in the policy)")?;
            page.blank()?;
            formula(page)?;
        }
    }
    page.blank()?;
    page.prose(0, CAUTION)
}

fn totals(sums: &Sums, costs: &Costs, page: &mut Page<'_>) -> io::Result<()> {
    let row =
        |page: &mut Page<'_>, label: &str, text: &str| page.labelled(0, (Tone::Plain, label), BODY, text);
    let currency = flowing(&costs.currency);
    let file = match &costs.origin {
        Origin::File { file, .. } => flowing(file),
        Origin::Default { source, .. } => flowing(source),
    };
    row(page, "costs", &file)?;
    if sums.known + sums.not_known == 0 {
        return Ok(());
    }
    let of = format!("{} of {} drawings with candidates", sums.known, sums.known + sums.not_known);
    let yearly = sums.yearly.unwrap_or(Amount::NotKnown);
    row(page, "saving", &format!("{} a year ({of})", amount(yearly, large, &currency)))?;
    let proving = sums.proving();
    let text = format!(
        "{} for {} joints, each once: the first year {}",
        proving.map_or("not known".to_owned(), |p| format!("{} {currency}", large(p))),
        sums.joints.len(),
        amount(yearly.less(proving), large, &currency)
    );
    row(page, "proving", &text)
}

/// How a saving is worked out, by the keys of the costs.
fn formula(page: &mut Page<'_>) -> io::Result<()> {
    page.prose(0, "Saving of a hole, by the keys of the costs:")?;
    for term in Term::OF_HOLE {
        let sign = if term.is_gain() { "+" } else { "-" };
        page.labelled(INDENT, (Tone::Plain, &format!("{sign} {}", term.name())), HANG, term.formula())?;
    }
    page.prose(
        0,
        "times the holes of a part, times the parts of a year; the proving (one test a thread, metal and thickness) is \
         paid after proving over saving of a part, rounded up.",
    )
}

fn labelled(page: &mut Page<'_>, label: &str, text: &str) -> io::Result<()> {
    page.labelled(BODY, (Tone::Plain, label), HANG + 3, text)
}
