//! The calculator's answer as a page: hole, what to call out, band, drills, guide holes, strip guidance.

use std::io;

use super::{strength, working};
use crate::joint::Stage;
use crate::practice::{Overrides, Possible};
use crate::report::page::{Page, Tone};
use crate::report::text::CAUTION;
use crate::report::text::numbers::{coordinate, length, trimmed};
use crate::trade::{Basis, Process, Thread, fit, percent};
use crate::units::{Length, Unit};
use crate::verdict::calculator::{Answer, HoleAnswer, Question, Tool};
use crate::verdict::{HoleBand, Verdict};

/// Where the text beside a label starts.
const HANG: usize = 13;

/// Writes it all: what is asked, the given hole and what to call out; then the band and the working.
pub(super) fn write(question: &Question, answer: &Answer, page: &mut Page<'_>) -> io::Result<()> {
    head(question, page)?;
    if let Some(hole) = &answer.hole {
        given(question, hole, answer, page)?;
    }
    call_out(question, answer, page)?;
    band(question, answer, page)?;
    policy(answer, page)?;
    working::lengths(question, answer, page)?;
    working::collar(question, answer, page)?;
    working::along(question, answer, page)?;
    drills(question, answer, page)?;
    guides(question, answer, page)?;
    if let Some(strip) = &answer.strip {
        strength::write(question, strip, page)?;
    }
    page.blank()?;
    page.prose(0, CAUTION)
}

/// The hole to call out, or why there is none.
fn call_out(question: &Question, answer: &Answer, page: &mut Page<'_>) -> io::Result<()> {
    let Some(advice) = &answer.advice else {
        return if answer.band.is_some() { labelled(page, "call out", nothing(question)) } else { Ok(()) };
    };
    let (least, most) = question.met(advice.diameter);
    let rolled = match rolled(&question.thread, most) {
        loosest if least == most => loosest,
        loosest => format!("{} to {loosest}", rolled(&question.thread, least)),
    };
    let drill = advice.drill.as_ref().filter(|_| is_drilled(question));
    let drill = drill.map(|d| format!("   drill {d}")).unwrap_or_default();
    let when = match question.coating.map(|coating| coating.stated) {
        Some(Some(Stage::Before)) => "   before coating",
        Some(None) => "   before or after coating",
        _ => "",
    };
    labelled(page, "call out", &format!("{}   {rolled} rolled{drill}{when}", advice.callout))
}

/// Whether the hole is, or may be, made with a drill of its size.
fn is_drilled(question: &Question) -> bool {
    matches!(question.process, None | Some(Process::Drilled | Process::Reamed))
}

/// Why there is no hole to call out although there is a band.
fn nothing(question: &Question) -> &'static str {
    let open = question.coating.is_some_and(|coating| coating.stated.is_none());
    match (open, question.draft) {
        (true, None) => "nothing: no hole is right both before and after coating; say which with --coated",
        (true, Some(_)) => "nothing: draft and coating take up more than the band",
        (false, _) => "nothing: the draft takes up more than the band",
    }
}

/// The thread and what is known of the joint.
pub(super) fn head(question: &Question, page: &mut Page<'_>) -> io::Result<()> {
    let t = &question.thread;
    let title = format!("{} thread-rolling screw", t.name);
    page.raw(&page.toned(Tone::Strong, &title))?;
    page.blank()?;
    let pitch = match t.unit {
        Unit::Mm => format!("pitch {}", size(t.pitch, t.unit)),
        Unit::Inch => format!("{} threads an inch", trimmed(1.0 / t.pitch.inch(), 2)),
    };
    let sizes = format!(
        "major {}   {pitch}   pitch diameter {}   ({})",
        size(t.major, t.unit),
        size(t.pitch_diameter(), t.unit),
        t.unit
    );
    labelled(page, "thread", &sizes)?;
    let known = [
        question.material.map_or("material unknown".to_owned(), |m| m.name().to_owned()),
        question.thickness.map_or("thickness unknown".to_owned(), |l| {
            format!("{} thick (t/D {})", length(l.mm(), t.unit), trimmed(l / t.major, 3))
        }),
        question.process.map_or("process not stated".to_owned(), |p| p.name().to_owned()),
    ];
    labelled(page, "joint", &known.join(", "))?;
    match question.hardness_hb {
        Some(hb) => labelled(page, "hardness", &working::hardness(hb)),
        None => Ok(()),
    }
}

/// What the user's policy sets.
pub(super) fn policy(answer: &Answer, page: &mut Page<'_>) -> io::Result<()> {
    let Some(overrides) = &answer.overrides else { return Ok(()) };
    labelled(page, "policy", &overrides.file)?;
    hanging(page, &format!("sets   {}", overrides.sets.join("   ")))
}

/// The band, or all that are possible, or why there is none.
pub(super) fn band(question: &Question, answer: &Answer, page: &mut Page<'_>) -> io::Result<()> {
    let unit = question.thread.unit;
    if let Some(why) = &answer.unsuitable {
        return labelled(
            page,
            "no band",
            &format!("{} ({}, {})", why.reason, why.source, why.status.words()),
        );
    }
    if let Some(band) = &answer.band {
        labelled(page, "band", &edges(band, unit))?;
        hanging(page, &format!("source: {} ({})", band.band.source, band.band.status.words()))?;
        if let Some(note) = &band.band.note {
            hanging(page, &format!("note: {note}"))?;
        }
        return Ok(());
    }
    labelled(
        page,
        "band",
        &format!("not known without the {}; possible are:", answer.missing.join(" and the ")),
    )?;
    let heading = ["material", "thickness", "band", "target", "hole"].map(str::to_owned).to_vec();
    let row = |(possible, band): &(Possible, HoleBand)| {
        let b = &band.band;
        let thickness = possible.thickness_label(unit).unwrap_or_else(|| "any".to_owned());
        vec![
            possible.material.name().to_owned(),
            thickness.trim_end_matches(" thick").to_owned(),
            format!("{} to {} %", b.min, b.max),
            format!("{} %", b.target),
            format!("Ø{} to Ø{}", size(band.hole_min, unit), size(band.hole_max, unit)),
        ]
    };
    let rows: Vec<Vec<String>> = [heading].into_iter().chain(answer.possible.iter().map(row)).collect();
    page.table(2, &rows)?;
    let mut sources: Vec<String> = Vec::new();
    for (_, band) in &answer.possible {
        let line = format!("{} ({})", band.band.source, band.band.status.words());
        if !sources.contains(&line) {
            sources.push(line);
        }
    }
    sources.iter().try_for_each(|s| page.prose(2, &format!("source: {s}")))
}

/// `80 to 98 % rolled, target 90 %   hole Ø3.554 to Ø3.636`.
fn edges(band: &HoleBand, unit: Unit) -> String {
    let b = &band.band;
    format!(
        "{} to {} % rolled, target {} %   hole Ø{} to Ø{}",
        b.min,
        b.max,
        b.target,
        size(band.hole_min, unit),
        size(band.hole_max, unit)
    )
}

/// The given hole with its engagement and verdict.
fn given(question: &Question, hole: &HoleAnswer, answer: &Answer, page: &mut Page<'_>) -> io::Result<()> {
    let (t, limits) = (&question.thread, hole.met());
    let on = |basis: Basis| format!("{:.1} % {}", percent(t, limits.nominal, basis), basis.name());
    let bases: Vec<String> = Basis::ALL.into_iter().map(on).collect();
    working::coating(question, hole, page)?;
    labelled(page, "hole", &format!("Ø{}   {}", size(limits.nominal, t.unit), bases.join("   ")))?;
    if limits.min != limits.max {
        let ends = format!(
            "limits Ø{} to Ø{}   {} to {}   tolerance {}",
            size(limits.min, t.unit),
            size(limits.max, t.unit),
            rolled(t, limits.min),
            rolled(t, limits.max),
            limits.tolerance_text
        );
        hanging(page, &ends)?;
    }
    let tone = match hole.verdict {
        Some(Verdict::InBand) => Tone::Strong,
        Some(Verdict::Tight | Verdict::Loose) => Tone::Fail,
        _ => Tone::Warn,
    };
    let word = hole.verdict.map_or("no verdict", |v| v.name());
    let said = page.toned(tone, word);
    hanging(page, &format!("{said}: {}", meaning(hole, answer)))?;
    for line in &hole.undecided {
        hanging(page, line)?;
    }
    if let Some(capability) = &hole.capability {
        hanging(page, &working::expected(capability, t.unit))?;
    }
    if let Some(drill) = hole.cut_thread_drill {
        hanging(page, &format!("this is the tap-drill size for a cut {} thread ({drill})", t.name))?;
    }
    Ok(())
}

/// A verdict in words.
fn meaning(hole: &HoleAnswer, answer: &Answer) -> &'static str {
    let no_tolerance = hole.limits.min == hole.limits.max;
    match hole.verdict {
        Some(Verdict::InBand) if no_tolerance => "the nominal is in the band; its tolerance is not known",
        Some(Verdict::InBand) => "both limits are in the band",
        Some(Verdict::Straddles) => "the nominal is in the band, a limit is not",
        Some(Verdict::Tight) => "the hole is too small",
        Some(Verdict::Loose) => "the hole is too large",
        Some(Verdict::Undetermined) => "it depends on what is not known",
        None if answer.unsuitable.is_some() => "no thread can be formed in this metal",
        None => "no band is known",
    }
}

/// Drills inside the band, and punches where the shop says which it keeps.
fn drills(question: &Question, answer: &Answer, page: &mut Page<'_>) -> io::Result<()> {
    if answer.band.is_none() {
        return Ok(());
    }
    let t = &question.thread;
    let row = |d: &Tool| {
        let special = if d.stocked { "" } else { "special size" };
        vec![
            d.name.clone(),
            format!("Ø{}", size(d.diameter, t.unit)),
            rolled(t, d.diameter),
            special.to_owned(),
        ]
    };
    let listed = answer.overrides.as_ref().filter(|o| o.drills);
    if is_drilled(question) || listed.is_some() {
        drills_in_band(answer, listed, page)?;
        page.table(2, &answer.drills.iter().map(row).collect::<Vec<_>>())?;
    }
    let Some((punches, policy)) = answer.punches.as_ref().zip(answer.overrides.as_ref()) else {
        return Ok(());
    };
    page.blank()?;
    let none = if punches.is_empty() { "No punch" } else { "Punches" };
    let verb = if punches.is_empty() { " is in the band." } else { " in the band:" };
    page.prose(0, &format!("{none} of policy {}{verb}", policy.file))?;
    page.table(2, &punches.iter().map(row).collect::<Vec<_>>())
}

/// Whose drills are in the band, or that none is.
fn drills_in_band(answer: &Answer, listed: Option<&Overrides>, page: &mut Page<'_>) -> io::Result<()> {
    page.blank()?;
    match (answer.drills.is_empty(), listed) {
        (true, None) => {
            page.prose(0, "No drill of the number, letter, fraction and metric series is in the band.")?;
        }
        (true, Some(policy)) => {
            page.prose(0, &format!("No drill of policy {} is in the band.", policy.file))?;
        }
        (false, None) => page.prose(0, "Drills in the band:")?,
        (false, Some(policy)) => page.prose(0, &format!("Drills of policy {} in the band:", policy.file))?,
    }
    Ok(())
}

/// The standard's guide holes at that thickness.
fn guides(question: &Question, answer: &Answer, page: &mut Page<'_>) -> io::Result<()> {
    let Some(first) = answer.guide_holes.first() else { return Ok(()) };
    let t = &question.thread;
    page.blank()?;
    let upto = length(first.length.mm(), Unit::Mm);
    page.prose(0, &format!("Guide holes at {upto} of engagement:"))?;
    let row = |g: &crate::trade::GuideHole| {
        let largest = fit(&g.fit, g.hole).map_or(g.hole, |f| g.hole + f.upper);
        let range = if g.in_2016_range { "" } else { "not in the 2016 edition" };
        vec![
            g.metal.sign().to_owned(),
            format!("Ø{} {}", size(g.hole, t.unit), g.fit),
            format!("{} to {}", rolled(t, g.hole), rolled(t, largest)),
            range.to_owned(),
        ]
    };
    page.table(2, &answer.guide_holes.iter().map(row).collect::<Vec<_>>())?;
    for guide in answer.guide_holes.iter().filter(|g| g.suspect.is_some()) {
        let why = guide.suspect.as_deref().unwrap_or_default();
        page.prose(2, &format!("doubtful for {}: {why}", guide.metal.sign()))?;
    }
    page.prose(2, &format!("source: {} ({})", first.source, first.status.words()))
}

/// A length as drafters write it, without its unit.
pub(super) fn size(length: Length, unit: Unit) -> String {
    coordinate(length.value_in(unit), unit)
}

/// Rolled engagement of a hole.
pub(super) fn rolled(thread: &Thread, hole: Length) -> String {
    format!("{:.1} %", percent(thread, hole, Basis::Rolled))
}

pub(super) fn labelled(page: &mut Page<'_>, label: &str, text: &str) -> io::Result<()> {
    let cells: Vec<String> = text.split("   ").map(str::to_owned).collect();
    page.packed(&format!("{label:HANG$}"), HANG, 2, &cells)
}

pub(super) fn hanging(page: &mut Page<'_>, text: &str) -> io::Result<()> {
    labelled(page, "", text)
}
