//! A drawing as a row of the library: where it is, how it came out, and what to change.

use super::escape;
use super::key;
use crate::check::{DrawingResult, FindingResult};
use crate::report::text::group::{gather, rank};
use crate::report::text::words::{counted, ids};

/// Verdicts, the worst first, as they are said.
pub(super) const VERDICTS: [(&str, &str); 5] = [
    ("tight", "tight (too small)"),
    ("loose", "loose (too large)"),
    ("straddles", "straddles"),
    ("undetermined", "undetermined"),
    ("in-band", "in band"),
];

/// Most lines that say what to change.
const MOST_LINES: usize = 3;

/// The row. Its attributes are what filters and the order look at.
pub(super) fn row(d: &DrawingResult) -> String {
    let counts = |f: &&FindingResult| f.waived.is_none();
    let level = |name: &str| d.findings.iter().filter(counts).filter(|f| f.level == name).count();
    let verdict = |name: &str| d.holes.iter().filter(|h| h.verdict.as_deref() == Some(name)).count();
    let (fail, warn, note) = (level("fail"), level("warn"), level("note"));
    let mut rules: Vec<&str> = d.findings.iter().map(|f| f.rule.as_str()).collect();
    rules.sort_unstable();
    rules.dedup();
    let levels: Vec<&str> =
        [("fail", fail), ("warn", warn), ("note", note)].iter().filter(|l| l.1 > 0).map(|l| l.0).collect();
    let verdicts: Vec<(&str, &str, usize)> =
        VERDICTS.iter().map(|(name, said)| (*name, *said, verdict(name))).filter(|v| v.2 > 0).collect();
    let names: Vec<&str> = verdicts.iter().map(|v| v.0).collect();
    let screws = d.holes.iter().filter(|h| h.screw.is_some()).count();
    let unread = u8::from(d.state == "unreadable") * 2 + u8::from(d.state == "partly-read");
    let key = key(&d.path);
    format!(
        "<tr data-levels=\"{}\" data-verdicts=\"{}\" data-rules=\"{}\" data-order=\"{unread} {fail} {warn} {note}\">\
         <th scope=\"row\"><a href=\"#{key}\">{}</a>{}</th><td class=\"state\">{}</td><td>{}</td><td>{}</td>\
         <td>{}</td></tr>\n",
        levels.join(" "),
        names.join(" "),
        escape::text(&rules.join(" ")),
        escape::path(&d.path),
        d.part.iter().map(|part| format!(" <small>{}</small>", escape::text(part))).collect::<String>(),
        state(&d.state),
        verdicts_cell(&verdicts, screws, d.holes.len()),
        levels_cell(fail, warn, note, d.findings.iter().filter(|f| f.waived.is_some()).count()),
        changes(d),
    )
}

/// How far a drawing was read, as it is said.
pub(super) fn state(state: &str) -> &'static str {
    match state {
        "read" => "read",
        "partly-read" => "<strong class=\"fail\">partly read</strong>",
        _ => "<strong class=\"fail\">unreadable</strong>",
    }
}

fn verdicts_cell(verdicts: &[(&str, &str, usize)], screws: usize, holes: usize) -> String {
    if screws == 0 {
        return format!("no screw hole of {}", counted(holes as u64, "hole"));
    }
    let mut said: Vec<String> = verdicts
        .iter()
        .map(|(name, said, count)| format!("<span class=\"v {name}\">{count} {said}</span>"))
        .collect();
    let judged: usize = verdicts.iter().map(|v| v.2).sum();
    if judged < screws {
        said.push(format!("{} not judged", screws - judged));
    }
    said.join(", ")
}

fn levels_cell(fail: usize, warn: usize, note: usize, waived: usize) -> String {
    let counts = [("fail", fail), ("warn", warn), ("note", note), ("waived", waived)];
    let said: Vec<String> = counts
        .iter()
        .filter(|(_, count)| *count > 0)
        .map(|(name, count)| format!("<span class=\"{name}\">{count} {name}</span>"))
        .collect();
    if said.is_empty() { "none".to_owned() } else { said.join(", ") }
}

/// What to do, the worst first: the remedy where there is one, else the message.
fn changes(d: &DrawingResult) -> String {
    let groups = gather(d, |f| f.waived.is_none() && f.level != "note");
    let mut lines: Vec<String> = Vec::new();
    let mut more = 0;
    for group in &groups {
        let Some(said) = group.said.iter().min_by_key(|s| (rank(&s.finding.level), s.remedy.is_none()))
        else {
            continue;
        };
        let holes = if said.holes.is_empty() { String::new() } else { format!("{}: ", ids(&said.holes)) };
        let line = escape::text(&format!("{holes}{}", said.remedy.as_ref().unwrap_or(&said.message)));
        if lines.contains(&line) {
            continue;
        }
        if lines.len() < MOST_LINES { lines.push(line) } else { more += 1 }
    }
    if more > 0 {
        lines.push(format!("and {more} more"));
    }
    lines.join("<br/>")
}
