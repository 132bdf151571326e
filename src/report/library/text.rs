//! The picture of a library as text: what was checked, what hurts most, and where to begin.

use std::io::{self, Write};

use crate::library::{ByRule, Cause, Group, Picture, Worst};
use crate::report::clean::{flowing, visible};
use crate::report::page::{Page, Tone};
use crate::report::text::{CAUTION, Detail, Look};

/// Drawings, folders and copies that are named unless all are asked for.
const FEW: usize = 10;

/// Where the text beside a label starts.
const HANG: usize = 11;

/// Writes it; with [`Detail::Verbose`] by every feature and with every drawing of the picture.
///
/// # Errors
/// Those of the writer.
pub fn write(picture: &Picture, look: &Look, out: &mut dyn Write) -> io::Result<()> {
    let page = &mut Page::new(out, look.width, look.colour);
    let verbose = look.detail == Detail::Verbose;
    sums(picture, page)?;
    if look.detail != Detail::Quiet {
        causes(&picture.causes, page)?;
        rules(&picture.by.rule, page)?;
        holes_by("Screw holes by thread", &picture.by.thread, page)?;
        holes_by("Screw holes by material", &picture.by.material, page)?;
        if verbose {
            holes_by("Screw holes by process", &picture.by.process, page)?;
            let title = "Screw holes by thickness over screw diameter";
            holes_by(title, &picture.by.thickness_over_diameter, page)?;
            holes_by("Drawings by folder", &picture.by.folder, page)?;
            holes_by("Drawings by year of last saving", &picture.by.year, page)?;
        }
        worst(&picture.worst, if verbose { usize::MAX } else { FEW }, page)?;
        copies(picture, if verbose { usize::MAX } else { FEW }, page)?;
    }
    not_whole(picture, page)?;
    page.blank()?;
    page.prose(0, CAUTION)
}

fn sums(picture: &Picture, page: &mut Page<'_>) -> io::Result<()> {
    let t = &picture.totals;
    let read = t.drawings.saturating_sub(t.partly_read + t.unreadable);
    let mut drawings = format!(
        "{} checked: {read} read, {} partly read, {} unreadable",
        t.drawings, t.partly_read, t.unreadable
    );
    if !picture.duplicates.is_empty() {
        drawings.push_str(&format!("; {} more are copies and count once", picture.duplicates.len()));
    }
    row(page, "drawings", &drawings)?;
    row(page, "holes", &format!("{} found, {} for self-forming screws", t.holes, t.screw_holes))?;
    let verdict = |count: u64, name: &str| format!("{count} {name} ({})", share(count, t.screw_holes));
    if t.screw_holes > 0 {
        let all = [
            verdict(t.in_band, "in band"),
            verdict(t.straddles, "straddles"),
            verdict(t.tight, "tight"),
            verdict(t.loose, "loose"),
            verdict(t.undetermined, "undetermined"),
        ];
        row(page, "verdicts", &all.join(", "))?;
    }
    row(page, "findings", &format!("{} fail, {} warn, {} note, {} waived", t.fail, t.warn, t.note, t.waived))
}

fn row(page: &mut Page<'_>, label: &str, text: &str) -> io::Result<()> {
    page.labelled(0, (Tone::Strong, label), HANG, text)
}

fn causes(causes: &[Cause], page: &mut Page<'_>) -> io::Result<()> {
    if causes.is_empty() {
        return Ok(());
    }
    let head = ["drawings", "findings", "cause"];
    let rows = causes.iter().map(|cause| {
        vec![cause.drawings.to_string(), cause.findings.to_string(), visible(&cause.cause).into_owned()]
    });
    table(page, "Common causes", &head, rows.collect())
}

fn rules(rules: &[ByRule], page: &mut Page<'_>) -> io::Result<()> {
    if rules.is_empty() {
        return Ok(());
    }
    let head = ["drawings", "fail", "warn", "note", "waived", "rule"];
    let rows = rules.iter().map(|rule| {
        let numbers = [rule.drawings, rule.fail, rule.warn, rule.note, rule.waived].map(|n| n.to_string());
        numbers.into_iter().chain([visible(&rule.rule).into_owned()]).collect()
    });
    table(page, "Rules", &head, rows.collect())
}

fn holes_by(title: &str, groups: &[Group], page: &mut Page<'_>) -> io::Result<()> {
    if groups.is_empty() {
        return Ok(());
    }
    let head = ["drawings", "holes", "in band", "straddles", "tight", "loose", "undetermined", ""];
    let rows = groups.iter().map(|group| {
        let sum = &group.sum;
        let numbers = [
            sum.drawings,
            sum.screw_holes,
            sum.in_band,
            sum.straddles,
            sum.tight,
            sum.loose,
            sum.undetermined,
        ];
        let numbers = numbers.map(|n| n.to_string());
        numbers.into_iter().chain([visible(&group.value).into_owned()]).collect()
    });
    table(page, title, &head, rows.collect())
}

/// Numbers to the right under their heads, and the name at the end of the line.
fn table(page: &mut Page<'_>, title: &str, head: &[&str], rows: Vec<Vec<String>>) -> io::Result<()> {
    page.blank()?;
    let title = page.toned(Tone::Strong, title);
    page.raw(&title)?;
    let last = head.len() - 1;
    let all = std::iter::once(head.iter().map(|&cell| cell.to_owned()).collect()).chain(rows);
    let all: Vec<Vec<String>> = all.collect();
    let widths: Vec<usize> =
        (0..last).map(|c| all.iter().map(|row| row[c].len()).max().unwrap_or(0)).collect();
    for row in &all {
        let numbers = row.iter().zip(&widths).map(|(cell, &width)| format!("{cell:>width$}"));
        let numbers = numbers.collect::<Vec<String>>().join("   ");
        let hang = 2 + numbers.len() + 3;
        page.labelled(2, (Tone::Plain, &numbers), hang, row.last().map_or("", String::as_str))?;
    }
    Ok(())
}

fn worst(worst: &[Worst], most: usize, page: &mut Page<'_>) -> io::Result<()> {
    if worst.is_empty() {
        return Ok(());
    }
    page.blank()?;
    let title = page.toned(Tone::Strong, "Look at these first");
    page.raw(&format!("{title} (by expected harm: sure failures first)"))?;
    for one in worst.iter().take(most) {
        page.split(
            &format!("  {}", visible(&one.path)),
            &format!("harm {:.2}: {} fail, {} warn", one.harm, one.fail, one.warn),
        )?;
        page.prose(4, &flowing(&one.message))?;
        if let Some(remedy) = &one.remedy {
            page.prose(4, &flowing(remedy))?;
        }
    }
    more(worst.len(), most, "the page, the table and --verbose name them", page)
}

fn copies(picture: &Picture, most: usize, page: &mut Page<'_>) -> io::Result<()> {
    if picture.duplicates.is_empty() {
        return Ok(());
    }
    page.blank()?;
    let title = page.toned(Tone::Strong, "Copies");
    page.raw(&title)?;
    for copy in picture.duplicates.iter().take(most) {
        page.prose(2, &format!("{} is {}", visible(&copy.path), visible(&copy.same_as)))?;
    }
    more(picture.duplicates.len(), most, "--verbose names them", page)
}

/// Every drawing that could not be read whole is named, whatever the detail: none of them is hidden.
fn not_whole(picture: &Picture, page: &mut Page<'_>) -> io::Result<()> {
    if picture.not_whole.is_empty() {
        return Ok(());
    }
    page.blank()?;
    let title = page.toned(Tone::Strong, "Not read whole");
    page.raw(&title)?;
    for one in &picture.not_whole {
        page.split(&format!("  {}", visible(&one.path)), &visible(&one.state))?;
        page.prose(4, &flowing(&one.problem))?;
    }
    Ok(())
}

fn more(all: usize, most: usize, where_to: &str, page: &mut Page<'_>) -> io::Result<()> {
    match all.saturating_sub(most) {
        0 => Ok(()),
        left => page.prose(2, &format!("and {left} more; {where_to}")),
    }
}

/// A share in whole percent, or below one as it is.
fn share(part: u64, whole: u64) -> String {
    let percent = part as f64 / (whole as f64).max(1.0) * 100.0;
    match percent {
        0.0 => "0 %".to_owned(),
        few if few < 1.0 => format!("{few:.2} %"),
        some => format!("{some:.1} %"),
    }
}
