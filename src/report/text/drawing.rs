//! The part of the text form that is about one drawing: its header line, then each group of findings.

use std::borrow::Cow;
use std::io;

use super::group::{CAUSE, Group, Said, gather, rank};
use super::numbers::{shown, unit_named};
use super::{Detail, Look};
use super::{screws, words};
use crate::check::{DrawingResult, FindingResult, HoleResult};
use crate::report::clean::{flowing, visible};
use crate::report::page::{Page, Tone};
use crate::units::Unit;

/// Where the level word, the rule and what belongs to them start.
const INDENT: usize = 2;
const BODY: usize = 8;
const RULE_WIDTH: usize = 24;
const PLACE: usize = BODY + RULE_WIDTH + 1;

/// Writes a drawing, if there is anything to say about it; tells whether there was.
pub(super) fn write(drawing: &DrawingResult, look: &Look, page: &mut Page<'_>) -> io::Result<bool> {
    let groups = gather(drawing, |f| is_shown(f, look.detail));
    let verbose = look.detail == Detail::Verbose;
    if groups.is_empty() && !verbose {
        return Ok(false);
    }
    page.split(&visible(&drawing.path), &header(drawing))?;
    let unit = unit_named(&drawing.unit);
    for group in &groups {
        write_group(group, drawing, look, page)?;
    }
    if verbose {
        write_problems(drawing, page)?;
        write_waived(drawing, page)?;
        screws::write(drawing, unit, INDENT, page)?;
    }
    page.blank()?;
    Ok(true)
}

fn is_shown(finding: &FindingResult, detail: Detail) -> bool {
    finding.waived.is_none() && (detail != Detail::Quiet || rank(&finding.level) == 0)
}

/// `38 holes, 37 paired, 2 findings`.
fn header(drawing: &DrawingResult) -> String {
    let findings = drawing.findings.iter().filter(|f| f.waived.is_none()).count() as u64;
    let paired = drawing.holes.iter().filter(|h| h.paired_by != "drawn").count();
    let holes = words::counted(drawing.holes.len() as u64, "hole");
    let findings = words::counted(findings, "finding");
    match drawing.state.as_str() {
        "unreadable" => format!("unreadable, {findings}"),
        "partly-read" => format!("partly read, {holes}, {paired} paired, {findings}"),
        _ => format!("{holes}, {paired} paired, {findings}"),
    }
}

fn write_group(
    group: &Group<'_>,
    drawing: &DrawingResult,
    look: &Look,
    page: &mut Page<'_>,
) -> io::Result<()> {
    let unit = unit_named(&drawing.unit);
    let leads = group.said.iter().take_while(|s| s.is_numbered() || s.finding.rule == CAUSE).count().max(1);
    let (lead, more) = group.said.split_at(leads);
    for (index, said) in lead.iter().enumerate() {
        let place = if index == 0 { place_cells(said, drawing, unit) } else { Vec::new() };
        title(said, &place, page)?;
    }
    if !group.only_notes() {
        write_joint(group, lead, unit, look, page)?;
    }
    write_words(lead, look, page)?;
    for said in more {
        let same = if said.holes.len() > 1 { "same holes" } else { "same hole" };
        title(said, &[same.to_owned()], page)?;
        write_words(std::slice::from_ref(said), look, page)?;
    }
    Ok(())
}

/// `  FAIL  engagement-above-band     H1   x 120.000  y 45.000   layer HOLES   tag A`.
fn title(said: &Said<'_>, place: &[String], page: &mut Page<'_>) -> io::Result<()> {
    let (level, tone) = match said.finding.level.as_str() {
        "fail" => ("FAIL".into(), Tone::Fail),
        "warn" => ("WARN".into(), Tone::Warn),
        other => (Cow::from(visible(other).to_uppercase()), Tone::Note),
    };
    // As wide as the widest that is filled up, the rule.
    const BLANKS: &str = "                        ";
    let blanks = |used: usize, of: usize| &BLANKS[..of.saturating_sub(used)];
    let (rule, toned) = (visible(&said.finding.rule), page.toned(tone, &level));
    let beside = blanks(rule.chars().count(), RULE_WIDTH);
    let label = [blanks(0, INDENT), &toned, blanks(level.len(), BODY - INDENT), &rule, beside, " "].concat();
    page.packed(&label, PLACE, BODY, place)
}

fn place_cells(said: &Said<'_>, drawing: &DrawingResult, unit: Unit) -> Vec<String> {
    let mut cells = Vec::new();
    let place = words::place(said.finding, said.holes.first().copied(), unit);
    if said.holes.is_empty() {
        cells.extend(callout_of(said.finding, drawing));
        cells.extend(place);
        cells.extend(said.also.iter().map(|f| format!("also {}", words::place(f, None, unit).join(", "))));
    } else if said.holes.len() == 1 {
        cells.extend(said.finding.hole.as_ref().map(ToString::to_string));
        cells.extend(place);
    } else {
        cells.push(format!("{} holes: {}", said.holes.len(), words::ids(&said.holes)));
        if said.finding.level == "note" {
            return cells;
        }
        cells.extend(
            place.into_iter().enumerate().map(|(i, c)| if i == 0 { format!("first {c}") } else { c }),
        );
    }
    cells
}

/// `callout of H1, H3`: the holes of the callout that a finding without a hole is about, to find it on the sheet.
fn callout_of(finding: &FindingResult, drawing: &DrawingResult) -> Option<String> {
    let handle = finding.handle.as_deref()?;
    let its = |h: &&HoleResult| h.callout.as_ref().and_then(|c| c.handle.as_deref()) == Some(handle);
    let holes: Vec<&HoleResult> = drawing.holes.iter().filter(its).collect();
    (!holes.is_empty()).then(|| format!("callout of {}", words::ids(&holes)))
}

/// The joint and, for a rule about engagement, the numbers.
fn write_joint(
    group: &Group<'_>,
    lead: &[Said<'_>],
    unit: Unit,
    look: &Look,
    page: &mut Page<'_>,
) -> io::Result<()> {
    let Some(hole) = group.holes().first() else { return Ok(()) };
    let mut cells: Vec<String> = words::joint(hole, unit).into_iter().collect();
    cells.extend(words::evidence(hole));
    if !cells.is_empty() {
        page.packed(&" ".repeat(BODY), BODY, BODY, &cells)?;
    }
    if lead.iter().any(Said::is_numbered) {
        write_numbers(hole, unit, page)?;
        if let Some(band) = hole.band.as_ref().filter(|_| look.detail == Detail::Verbose) {
            let said = format!("band from {} ({})", flowing(&band.source), words::status(&band.status));
            page.prose(BODY, &said)?;
        }
    }
    Ok(())
}

/// Required, found, difference: on one line where it fits, else what is required over what was found.
fn write_numbers(hole: &HoleResult, unit: Unit, page: &mut Page<'_>) -> io::Result<()> {
    let shown = shown(hole, unit);
    let word = words::found_word(&hole.diameter.source);
    let (allowed, band) = (shown.allowed.unwrap_or_default(), shown.band.unwrap_or_default());
    let engagement = shown.engagement.unwrap_or_default();
    let mut rest: Vec<String> = shown.difference.into_iter().collect();
    rest.extend(shown.coated);
    rest.extend(words::tolerance_word(&hole.diameter.tolerance_source).map(str::to_owned));
    rest.extend(shown.expected);
    let line = vec![format!("allowed {allowed}"), format!("{word} {}", shown.found), engagement, band];
    let whole = [line.clone(), rest.clone()].concat();
    if page.fits(BODY, &whole) {
        return page.cells(BODY, &whole);
    }
    if page.fits(BODY, &line) {
        page.cells(BODY, &line)?;
    } else {
        let label = "allowed".len().max(word.len());
        let [_, _, engagement, band] = line.as_slice() else { return Ok(()) };
        let required = [format!("{:label$}  {allowed}", "allowed"), band.clone()];
        let found = [format!("{word:label$}  {}", shown.found), engagement.clone()];
        page.cells(BODY, &[required, found].concat())?;
    }
    page.packed(&" ".repeat(BODY), BODY, BODY, &rest)
}

/// Messages, then remedies, each once. The line of numbers stands for the message of a rule about engagement; notes
/// are kept short, without what to do.
fn write_words(lead: &[Said<'_>], look: &Look, page: &mut Page<'_>) -> io::Result<()> {
    let mut written: Vec<Cow<'_, str>> = Vec::new();
    for said in lead.iter().filter(|s| !s.is_numbered()) {
        let message = flowing(&said.message);
        if !message.is_empty() && !written.contains(&message) {
            page.prose(BODY, &message)?;
            written.push(message);
        }
    }
    let in_full = |s: &&Said<'_>| s.finding.level != "note" || look.detail == Detail::Verbose;
    for remedy in lead.iter().filter(in_full).filter_map(|s| s.remedy.as_deref()).map(flowing) {
        if !remedy.is_empty() && !written.contains(&remedy) {
            page.toned_prose(BODY, Tone::Strong, &remedy)?;
            written.push(remedy);
        }
    }
    Ok(())
}

fn write_problems(drawing: &DrawingResult, page: &mut Page<'_>) -> io::Result<()> {
    for problem in &drawing.problems {
        let lost = if problem.loss { "lost" } else { "seen" };
        let text = format!("line {}, byte {}: {}", problem.line, problem.offset, flowing(&problem.message));
        page.labelled(INDENT, (Tone::Plain, lost), BODY, &text)?;
    }
    Ok(())
}

fn write_waived(drawing: &DrawingResult, page: &mut Page<'_>) -> io::Result<()> {
    for finding in &drawing.findings {
        if let Some(reason) = &finding.waived {
            let hole = finding.hole.as_deref().map(|h| format!(" {h}")).unwrap_or_default();
            let text = format!("{}{hole}, waived: {}", visible(&finding.rule), flowing(reason));
            page.labelled(INDENT, (Tone::Plain, "ok"), BODY, &text)?;
        }
    }
    Ok(())
}
