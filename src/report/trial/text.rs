//! Evaluated joint tests as pages: joint, torques, ratios, window, failures, what is wrong.

use std::io;

use super::{Evaluated, verdict};
use crate::finding::Level;
use crate::report::clean::{flowing, visible};
use crate::report::page::{Page, Tone};
use crate::report::text::CAUTION;
use crate::report::text::numbers::trimmed;
use crate::rules::words;
use crate::statistics::Sample;
use crate::trial::{Evaluation, Seating, Trial};

/// Where the text beside a label starts.
const HANG: usize = 14;

/// Writes them all.
pub(super) fn write(trials: &[Evaluated], page: &mut Page<'_>) -> io::Result<()> {
    for (trial, evaluation) in trials {
        one(trial, evaluation, page)?;
        page.blank()?;
    }
    page.prose(0, "Evaluated as normal populations; limits by one-sided tolerance factors (noncentral t).")?;
    page.prose(0, "Changing finish or lubricant voids a test.")?;
    page.prose(0, CAUTION)
}

fn one(trial: &Trial, e: &Evaluation, page: &mut Page<'_>) -> io::Result<()> {
    page.split(&visible(&trial.file), &format!("{} runs, {}", e.drive.count, verdict(e)))?;
    joint(trial, page)?;
    tested(trial, e, page)?;
    torques(trial, e, page)?;
    let ratio = [
        format!("{:.2} of means ({} needed)", e.ratio_of_means, trimmed(e.limits.ratio, 2)),
        format!("{:.2} of limits", e.ratio_of_limits),
        format!("{:.2} of the worst two runs", e.ratio_of_extremes),
        format!("{:.2} of the worst run", e.least_ratio),
    ];
    packed(page, "ratio", &ratio)?;
    window(trial, e, page)?;
    labelled(page, "failures", &modes(e))?;
    for weakness in &e.weaknesses {
        let (tone, word) = match weakness.level {
            Level::Fail => (Tone::Fail, "FAIL"),
            Level::Warn => (Tone::Warn, "warn"),
            Level::Note => (Tone::Note, "note"),
        };
        page.labelled(2, (tone, word), 2 + 6, &format!("{}: {}", weakness.name, weakness.message))?;
    }
    Ok(())
}

fn joint(trial: &Trial, page: &mut Page<'_>) -> io::Result<()> {
    let unit = trial.unit;
    let name = [&trial.test, &trial.part].map(|t| t.as_deref().map(flowing));
    let name: Vec<_> = name.into_iter().flatten().collect();
    if !name.is_empty() {
        labelled(page, "test", &name.join(", part "))?;
    }
    let mut facts = vec![format!(
        "{} ({}) in {} {}",
        trial.screw.thread.name,
        trial.screw.form.name(),
        words::length(trial.thickness, unit),
        trial.material.name()
    )];
    facts.extend(trial.process.map(|p| p.name().to_owned()));
    facts.extend(trial.hardness_hb.map(|hb| format!("{} HB", trimmed(hb, 0))));
    facts.push(format!("finish {}", stated(trial.finish.as_deref())));
    facts.push(format!("lubricant {}", stated(trial.lubricant.as_deref())));
    facts.push(
        trial.driver_rpm.map_or("driver speed not stated".to_owned(), |s| format!("{}/min", trimmed(s, 0))),
    );
    labelled(page, "joint", &facts.join(", "))
}

fn stated(text: Option<&str>) -> String {
    text.map_or("not stated".into(), flowing).into_owned()
}

fn tested(trial: &Trial, e: &Evaluation, page: &mut Page<'_>) -> io::Result<()> {
    let unit = trial.unit;
    let holes = e.holes.map_or("holes not stated".to_owned(), |(a, b)| {
        let (small, large) = (words::diameter(a, unit), words::diameter(b, unit));
        if small == large { format!("holes {small}") } else { format!("holes {small} to {large}") }
    });
    let (thin, thick) = e.thicknesses;
    let (thin, thick) = (words::number(thin, unit), words::number(thick, unit));
    let thickness = if thin == thick { thin } else { format!("{thin} to {thick}") };
    labelled(page, "tested", &format!("{holes}, thickness {thickness} {unit}"))
}

fn torques(trial: &Trial, e: &Evaluation, page: &mut Page<'_>) -> io::Result<()> {
    let unit = trial.torque_unit;
    let value = |nm: f64| format!("{:.3}", nm / unit.in_nm());
    let share = trimmed(100.0 * e.limits.coverage, 2);
    let all =
        [("drive", &e.drive, e.drive_limit, "below"), ("failure", &e.failure, e.failure_limit, "above")];
    let wide = |of: fn(&Sample) -> f64| all.iter().map(|row| value(of(row.1)).len()).max().unwrap_or(0);
    let (mean, sd) = (wide(|s| s.mean), wide(|s| s.sd));
    for (name, sample, limit, side) in all {
        let cells = [
            format!("mean {:>mean$}", value(sample.mean)),
            format!("sd {:>sd$}", value(sample.sd)),
            format!("{share} % {side} {} {unit}", value(limit)),
        ];
        packed(page, name, &cells)?;
    }
    let how = format!(
        "with {} % confidence, k {:.3} for {} runs",
        trimmed(100.0 * e.limits.confidence, 2),
        e.factor,
        e.drive.count
    );
    page.prose(HANG + 2, &how)
}

fn window(trial: &Trial, e: &Evaluation, page: &mut Page<'_>) -> io::Result<()> {
    let unit = trial.torque_unit;
    let value = |nm: f64| format!("{:.3}", nm / unit.in_nm());
    match e.window() {
        Some((low, high)) => {
            let middle = f64::midpoint(low, high);
            let said = format!("{} to {} {unit}, middle {}", value(low), value(high), value(middle));
            labelled(page, "seat within", &said)?;
        }
        None => labelled(page, "seat within", "no window: the limits of drive and failure cross")?,
    }
    let Some(seating) = &e.seating else { return Ok(()) };
    let off =
        if seating.plus_minus > 0.0 { format!(" ±{}", value(seating.plus_minus)) } else { String::new() };
    let source = if seating.stated { "the tool's setting" } else { "the middle" };
    let said = format!("{}{off} {unit} ({source}): {}", value(seating.torque), expected(seating));
    labelled(page, "expect at", &said)?;
    screw(trial, e, page)
}

/// The torque that breaks the screw, and how near to it the tool comes.
fn screw(trial: &Trial, e: &Evaluation, page: &mut Page<'_>) -> io::Result<()> {
    let Some((screw, share)) = e.torsional.as_ref().zip(e.seating_share()) else { return Ok(()) };
    let unit = trial.torque_unit;
    let source = screw.source.split(" least ").next().unwrap_or(&screw.source);
    let tool = if e.seating.is_some_and(|s| s.stated) { "the tool comes to" } else { "the middle is" };
    let least = screw.least / unit.in_nm();
    let said = format!(
        "at {} {unit} or more ({source}, {}); {tool} {:.0} % of it, seat well under",
        trimmed(least, if least < 20.0 { 1 } else { 0 }),
        screw.status.words(),
        100.0 * share
    );
    labelled(page, "screw breaks", &said)
}

fn expected(seating: &Seating) -> String {
    format!(
        "{} of assemblies outside ({} not driven home, {} failed)",
        percent(seating.outside()),
        percent(seating.not_driven),
        percent(seating.failed)
    )
}

/// A share in percent with two digits that count; small ones are only said to be small.
fn percent(share: f64) -> String {
    match 100.0 * share {
        p if p < 0.0001 => "below 0.0001 %".to_owned(),
        p if p < 1.0 => {
            let digits = (1.0 - p.log10().floor()) as usize;
            format!("{} %", trimmed(p, digits))
        }
        p => format!("{p:.1} %"),
    }
}

fn modes(e: &Evaluation) -> String {
    let m = e.modes;
    let all =
        [(m.strip, "strip"), (m.screw_break, "screw-break"), (m.head, "head"), (m.unknown, "not stated")];
    let said: Vec<String> =
        all.iter().filter(|(n, _)| *n > 0).map(|(n, what)| format!("{n} {what}")).collect();
    said.join(", ")
}

fn labelled(page: &mut Page<'_>, label: &str, text: &str) -> io::Result<()> {
    page.labelled(2, (Tone::Plain, label), HANG + 2, text)
}

/// Cells behind a label, those that do not fit under the first.
fn packed(page: &mut Page<'_>, label: &str, cells: &[String]) -> io::Result<()> {
    page.packed(&format!("  {label:<HANG$}"), HANG + 2, 4, cells)
}
