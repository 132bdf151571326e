//! What an auditor sees first: the sums, what they are not, and where to begin.

use std::fmt::Write as _;

use super::numbers::{count, counted, share};
use super::sections::what_to_do;
use super::verdicts::Counts;
use crate::library::{Cause, Group, Picture};
use crate::report::web::{self, escape};

/// Causes that are told first.
const MOST_CAUSES: usize = 3;

/// Title, sums and cautions.
pub(super) fn head(picture: &Picture, title: &str) -> String {
    let t = &picture.totals;
    let holes = Counts::of_all(t);
    let duplicates = match picture.duplicates.len() as u64 {
        0 => String::new(),
        some => format!(", {} not counted", counted(some, "duplicate")),
    };
    let of = |part: u64, whole: u64, one: &str| {
        format!("<b>{}</b> of {}, {}", count(part), counted(whole, one), share(part, whole))
    };
    let cells = [
        ("Drawings", format!("<b>{}</b> checked{duplicates}", count(t.drawings))),
        ("With something to change", of(picture.harmful, t.drawings, "drawing")),
        ("Outside their band", of(holes.outside(), t.screw_holes, "screw hole")),
        ("Open: not known to be right", of(holes.open(), t.screw_holes, "screw hole")),
        ("Not read whole, so not passed", of(t.unreadable + t.partly_read, t.drawings, "drawing")),
        (
            "Findings",
            format!(
                "{} fail, {} warn, {} note{}",
                count(t.fail),
                count(t.warn),
                count(t.note),
                if t.waived > 0 { format!(", {} waived", count(t.waived)) } else { String::new() }
            ),
        ),
        ("Holes", format!("{} found, {} for self-forming screws", count(t.holes), count(t.screw_holes))),
        ("Made by", escape::text(&format!("{} {}", picture.tool.name, picture.tool.version))),
    ];
    format!(
        "<header>\n<h1>{}</h1>\n{}{}</header>\n",
        escape::text(title),
        web::block("totals", &cells),
        web::cautions()
    )
}

/// Where to begin, in a few sentences.
pub(super) fn first(picture: &Picture) -> String {
    let mut said: Vec<String> = Vec::new();
    let mut causes: Vec<(f64, &Cause)> = picture
        .causes
        .iter()
        .map(|cause| (weight(cause, picture), cause))
        .filter(|one| one.0 > 0.0)
        .collect();
    causes.sort_by(|a, b| b.0.total_cmp(&a.0));
    for (_, cause) in causes.into_iter().take(MOST_CAUSES) {
        let what = what_to_do(cause).unwrap_or_default();
        said.push(format!(
            "On {} ({}, {}) {}: <strong class=\"remedy\">{what}</strong>.",
            counted(cause.drawings, "drawing"),
            share(cause.drawings, picture.totals.drawings),
            counted(cause.findings, "finding"),
            escape::text(&cause.cause),
        ));
    }
    if let Some(worst) = picture.worst.first() {
        said.push(format!(
            "The drawing with the most expected harm is <strong>{}</strong>, {} fail, {} warn. <a href=\"#worst\">The next ones</a>.",
            escape::path(&worst.path),
            count(worst.fail),
            count(worst.warn)
        ));
    }
    said.extend(
        most_outside(&picture.by.thread).map(|group| {
            format!("The thread with the most holes outside their band is {}.", outside_of(group))
        }),
    );
    let worst_folder = picture.by.folder.iter().rev().max_by_key(|group| group.sum.fail);
    if let Some(folder) = worst_folder.filter(|group| group.sum.fail > 0 && picture.by.folder.len() > 1) {
        said.push(format!(
            "The folder with the most failures is <strong>{}</strong>, {} fail on {}.",
            escape::path(&folder.value),
            count(folder.sum.fail),
            counted(folder.sum.drawings, "drawing")
        ));
    }
    if said.is_empty() {
        return nothing(picture).to_owned();
    }
    let mut html = "<h2 id=\"first\">Where to begin</h2>\n<ol class=\"first\">\n".to_owned();
    for line in said {
        let _ = writeln!(html, "<li>{line}</li>");
    }
    html.push_str("</ol>\n");
    html
}

/// How much comes of a cause: its failures, and a quarter of its warnings, as far as its rules tell which are which.
fn weight(cause: &Cause, picture: &Picture) -> f64 {
    let rules = picture.by.rule.iter().filter(|by| cause.rules.contains(&by.rule));
    let (fail, warn, note) =
        rules.fold((0, 0, 0), |sum, by| (sum.0 + by.fail, sum.1 + by.warn, sum.2 + by.note));
    let all = (fail + warn + note).max(1);
    cause.findings as f64 * (fail as f64 + 0.25 * warn as f64) / all as f64
}

/// That nothing was found, and how little that may mean.
fn nothing(picture: &Picture) -> &'static str {
    let t = &picture.totals;
    if t.screw_holes == 0 {
        "<p id=\"first\"><strong>No screw hole was checked: no drawing has one that was recognised.</strong> Name screws in a hole list or with <code>--screw</code>.</p>\n"
    } else {
        "<p id=\"first\">Nothing was found to change.</p>\n"
    }
}

/// The group of the most holes outside their band; none if there are none.
fn most_outside(groups: &[Group]) -> Option<&Group> {
    let outside = |group: &Group| Counts::of(&group.sum).outside();
    groups.iter().rev().max_by_key(|group| outside(group)).filter(|group| outside(group) > 0)
}

fn outside_of(group: &Group) -> String {
    let holes = Counts::of(&group.sum);
    format!(
        "<strong>{}</strong>, {} of {} ({})",
        escape::text(&group.value),
        count(holes.outside()),
        counted(holes.all(), "hole"),
        share(holes.outside(), holes.all())
    )
}
