//! The last lines of the text form: what was checked and what came of it. They repeat the report's totals and
//! calculate nothing but the lowest and mean confidence.

use std::io;

use super::words::counted;
use super::{Detail, Look, Tally};
use crate::check::Totals;
use crate::report::page::{Page, Tone};

/// Where the text beside a label starts.
const HANG: usize = 11;

/// The caution under every summary.
pub const CAUTION: &str = "Guide values: test your own joint. This is no verdict for safety-critical, lifting, \
                           pressure, vehicle-safety or structural joints.";

/// Writes the summary.
pub(super) fn write(tally: &Tally, look: &Look, page: &mut Page<'_>) -> io::Result<()> {
    let t = &tally.totals;
    row(page, "drawings", &drawings(t, tally.without_screw_hole))?;
    row(
        page,
        "holes",
        &format!("{} found, {} paired, {} for self-forming screws", t.holes, tally.paired, t.screw_holes),
    )?;
    if t.screw_holes > 0 {
        row(page, "verdicts", &verdicts(t))?;
        band_sources(tally, look.detail, page)?;
        row(page, "pairing", &sureness(tally))?;
    }
    if !tally.not_judged.is_empty() {
        row(page, "not judged", &not_judged(tally, look.detail))?;
    }
    row(
        page,
        "findings",
        &format!("{} fail, {} warn, {} note, {} waived", t.fail, t.warn, t.note, t.waived),
    )?;
    if t.screw_holes == 0 {
        nothing_checked(t, look.screw_named, page)?;
    } else if all_well(t) {
        page.blank()?;
        page.prose(0, &well(t))?;
    }
    page.blank()?;
    page.prose(0, CAUTION)
}

/// A row whose parts, between commas and semicolons, are not broken.
fn row(page: &mut Page<'_>, label: &str, text: &str) -> io::Result<()> {
    let text = &kept_together(text);
    page.labelled(0, (Tone::Strong, label), HANG, text)
}

/// Blanks inside a part become no-break spaces.
fn kept_together(text: &str) -> String {
    let kept = text.replace(' ', "\u{a0}");
    [",", ";", ":"].iter().fold(kept, |t, mark| t.replace(&format!("{mark}\u{a0}"), &format!("{mark} ")))
}

fn drawings(t: &Totals, without: u64) -> String {
    let read = t.drawings.saturating_sub(t.partly_read + t.unreadable);
    let mut text = format!(
        "{} checked: {read} read, {} partly read, {} unreadable",
        t.drawings, t.partly_read, t.unreadable
    );
    if t.screw_holes > 0 && without > 0 {
        text.push_str(&format!("; {without} without a screw hole"));
    }
    text
}

fn verdicts(t: &Totals) -> String {
    format!(
        "{} in band, {} straddles, {} tight (too small), {} loose (too large), {} undetermined",
        t.in_band, t.straddles, t.tight, t.loose, t.undetermined
    )
}

/// Where the bands come from: every source in full where asked for or where one line holds it, else how many there
/// are and what stands behind them.
fn band_sources(tally: &Tally, detail: Detail, page: &mut Page<'_>) -> io::Result<()> {
    let mut all: Vec<String> = tally.sources.iter().cloned().collect();
    if all.is_empty() {
        all.push("none applied".to_owned());
    }
    let short = all.len() == 1 && page.fits(HANG, &all);
    if detail != Detail::Verbose && !short {
        let behind: Vec<&str> = tally.statuses.iter().map(String::as_str).collect();
        let from = counted(all.len() as u64, "source");
        return row(page, "bands", &format!("from {from}: {}; --verbose names them", behind.join(", ")));
    }
    for (index, source) in all.iter().enumerate() {
        let label = if index == 0 { "bands" } else { "" };
        page.labelled(0, (Tone::Strong, label), HANG, source)?;
    }
    Ok(())
}

/// Lowest and mean confidence of the pairing of screw holes.
fn sureness(tally: &Tally) -> String {
    let alone = if tally.drawn > 0 {
        format!("{} judged as drawn, without a callout", counted(tally.drawn, "hole"))
    } else {
        String::new()
    };
    let Some(lowest) = tally.lowest else { return alone };
    let lowest = lowest as f64 / 100.0;
    let mean = tally.confidence as f64 / 100.0 / tally.rated as f64;
    let over = counted(tally.rated, "screw hole");
    let text = format!("confidence {lowest:.2} lowest, {mean:.2} mean, over {over}");
    if tally.drawn > 0 { format!("{text}; {alone}") } else { text }
}

/// The rules that could not be judged everywhere, and at how many holes each.
fn not_judged(tally: &Tally, detail: Detail) -> String {
    let rules = tally.not_judged.iter().enumerate().map(|(i, (rule, holes))| match i {
        0 => format!("{rule} at {}", counted(*holes, "screw hole")),
        _ => format!("{rule} at {holes}"),
    });
    let rules = rules.collect::<Vec<_>>().join(", ");
    if detail == Detail::Verbose { rules } else { format!("{rules}; --verbose says why") }
}

fn all_well(t: &Totals) -> bool {
    t.in_band == t.screw_holes && t.fail + t.warn == 0 && t.partly_read + t.unreadable == 0
}

fn well(t: &Totals) -> String {
    match t.screw_holes {
        1 => "The one screw hole checked is in its band at both limits of size.".to_owned(),
        n => format!("All {n} screw holes checked are in their bands at both limits of size."),
    }
}

fn nothing_checked(t: &Totals, screw_named: bool, page: &mut Page<'_>) -> io::Result<()> {
    page.blank()?;
    if t.drawings > 0 && t.unreadable == t.drawings {
        return page.prose(0, "No drawing could be read, so nothing was checked.");
    }
    if t.holes == 0 {
        return page.prose(
            0,
            "No hole was found, so nothing was checked; 'boreband holes DRAWING' shows what every circle was taken for.",
        );
    }
    if screw_named {
        return page.prose(
            0,
            "No screw hole was checked: none of the holes is 0.7 to 1 times the diameter of the screw that --screw names, \
             with a callout that names no other thread. 'boreband holes DRAWING' shows the holes; a hole list beside \
             the drawing names screws for holes of any size ('boreband schema hole-list' is its form).",
        );
    }
    page.prose(
        0,
        "No screw hole was checked: no hole list names a screw for these holes, and no callout on them names a \
         self-forming screw.",
    )?;
    page.prose(
        0,
        "Write a hole list beside the drawing ('boreband holes DRAWING' shows its holes, 'boreband schema \
         hole-list' the form), or say what all holes take, for example: --screw M4 --thickness 1.5mm \
         --material low-carbon-steel. That counts for holes of 0.7 to 1 times the \
         screw's diameter whose callout names no other thread.",
    )
}
