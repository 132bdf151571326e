//! The sections of the page: causes, the worst drawings, rules, and what was left aside.

use super::numbers::{count, counted};
use super::table::{Table, left_out};
use crate::library::{Cause, Picture, Worst};
use crate::report::text::numbers::trimmed;
use crate::report::web::{escape, required, rule};

/// Most drawings that are listed as the worst.
const MOST_WORST: usize = 100;
/// Most rows of a list that only names drawings.
const MOST_NAMED: usize = 100;

/// Common causes.
pub(super) fn causes(picture: &Picture) -> String {
    let mut html = "<h2 id=\"causes\">Common causes</h2>\n".to_owned();
    if picture.causes.is_empty() {
        return html + "<p>Nothing was found, so there is no cause.</p>\n";
    }
    let heads = [
        ("Cause", false),
        ("What to do", false),
        ("Drawings", true),
        ("Share", true),
        ("", false),
        ("Findings", true),
        ("Told by", false),
    ];
    let mut table = Table::begin("Common causes", "causes", &heads);
    let most = picture.causes.iter().map(|cause| cause.drawings).max().unwrap_or(0);
    for cause in &picture.causes {
        let rules: Vec<String> = cause.rules.iter().map(|name| rule(name)).collect();
        let to_do = what_to_do(cause).unwrap_or_else(|| "see the rule".to_owned());
        table
            .row(&escape::text(&cause.cause))
            .cell(&to_do)
            .count(cause.drawings)
            .share(cause.drawings, picture.totals.drawings)
            .bar(cause.drawings, most)
            .count(cause.findings)
            .cell(&format!("<small>{}</small>", rules.join(", ")))
            .end_row();
    }
    html.push_str(&table.end());
    html
}

/// What to do about a cause: what is known of it, else what its rule requires.
pub(super) fn what_to_do(cause: &Cause) -> Option<String> {
    match &cause.what_to_do {
        Some(what) => Some(escape::text(what)),
        None => cause.rules.iter().find_map(|name| required(name)),
    }
}

/// The drawings to look at first.
pub(super) fn worst(picture: &Picture) -> String {
    let mut html = "<h2 id=\"worst\">The drawings to look at first</h2>\n".to_owned();
    if picture.worst.is_empty() {
        return html + "<p>No drawing has a failure or a warning that is not waived.</p>\n";
    }
    html.push_str(
        "<p>Ranked by expected harm: each failure counts as far as the pairing that it rests on is sure, a warning a quarter.</p>\n",
    );
    let heads = [
        ("Drawing", false),
        ("Rank", true),
        ("Harm", true),
        ("Fail", true),
        ("Warn", true),
        ("Screw holes", true),
        ("The worst of it", false),
        ("Do this instead", false),
    ];
    let mut table = Table::begin("The drawings to look at first", "worst", &heads);
    for (rank, one) in (1..).zip(picture.worst.iter().take(MOST_WORST)) {
        worst_row(&mut table, rank, one);
    }
    html.push_str(&table.end());
    html.push_str(&left_out(
        picture.harmful,
        MOST_WORST.min(picture.worst.len()),
        "the CSV and the workbook, which name all drawings in this order",
    ));
    html
}

fn worst_row(table: &mut Table, rank: u64, one: &Worst) {
    let part = one
        .part
        .as_deref()
        .map(|part| format!("<br/><small>{}</small>", escape::text(part)))
        .unwrap_or_default();
    let remedy = one
        .remedy
        .as_deref()
        .map(|remedy| format!("<strong class=\"remedy\">{}</strong>", escape::text(remedy)));
    table
        .row(&format!("{}{part}", escape::path(&one.path)))
        .count(rank)
        .number(one.harm, &trimmed(one.harm, 2))
        .count(one.fail)
        .count(one.warn)
        .count(one.screw_holes)
        .cell(&escape::text(&one.message))
        .cell(&remedy.unwrap_or_else(|| "look at the drawing".to_owned()))
        .end_row();
}

/// Findings by rule.
pub(super) fn rules(picture: &Picture) -> String {
    let mut html = "<h2 id=\"rules\">By rule</h2>\n".to_owned();
    if picture.by.rule.is_empty() {
        return html + "<p>No rule found anything.</p>\n";
    }
    let heads = [
        ("Rule", false),
        ("Drawings", true),
        ("Share", true),
        ("", false),
        ("Fail", true),
        ("Warn", true),
        ("Note", true),
        ("Waived", true),
    ];
    let mut table = Table::begin("By rule", "groups", &heads);
    let most = picture.by.rule.iter().map(|by| by.drawings).max().unwrap_or(0);
    for by in &picture.by.rule {
        table
            .row(&rule(&by.rule))
            .count(by.drawings)
            .share(by.drawings, picture.totals.drawings)
            .bar(by.drawings, most)
            .count(by.fail)
            .count(by.warn)
            .count(by.note)
            .count(by.waived)
            .end_row();
    }
    html.push_str(&table.end());
    html
}

/// Drawings that were not read whole.
pub(super) fn not_whole(picture: &Picture) -> String {
    let all = picture.not_whole.len() as u64;
    let mut html = "<h2 id=\"not-whole\">Not read whole</h2>\n".to_owned();
    if all == 0 {
        return html + "<p>Every drawing was read whole.</p>\n";
    }
    html.push_str("<p>What was lost was not checked. None of these drawings has passed.</p>\n");
    let mut table = Table::begin(
        "Not read whole",
        "named",
        &[("Drawing", false), ("File", false), ("What was wrong", false)],
    );
    for one in picture.not_whole.iter().take(MOST_NAMED) {
        let state = if one.state == "unreadable" { "unreadable" } else { "partly read" };
        table
            .row(&escape::path(&one.path))
            .cell(&format!("<strong class=\"fail\">{state}</strong>"))
            .cell(&escape::text(&one.problem))
            .end_row();
    }
    html.push_str(&table.end());
    html + &left_out(all, MOST_NAMED, "the CSV and the workbook")
}

/// Drawings that are there twice.
pub(super) fn duplicates(picture: &Picture) -> String {
    let all = picture.duplicates.len() as u64;
    let mut html = "<h2 id=\"duplicates\">Duplicates</h2>\n".to_owned();
    if all == 0 {
        return html + "<p>No drawing is there twice.</p>\n";
    }
    html.push_str(&format!(
        "<p>{} with the content of another one, checked for the same. Each is counted once, under the name on the right.</p>\n",
        counted(all, "drawing")
    ));
    let mut table = Table::begin("Duplicates", "named", &[("Drawing", false), ("Is the same as", false)]);
    for one in picture.duplicates.iter().take(MOST_NAMED) {
        table.row(&escape::path(&one.path)).cell(&escape::path(&one.same_as)).end_row();
    }
    html.push_str(&table.end());
    html + &left_out(all, MOST_NAMED, "the CSV and the workbook")
}

/// Ways into the page.
pub(super) fn contents(picture: &Picture) -> String {
    let ways = [
        ("causes", "Common causes".to_owned()),
        ("worst", "Drawings to look at first".to_owned()),
        ("engagement", "Engagement by thread".to_owned()),
        ("rules", "By rule".to_owned()),
        ("by-thread", "thread".to_owned()),
        ("by-material", "material".to_owned()),
        ("by-process", "process".to_owned()),
        ("by-thickness-over-diameter", "thickness".to_owned()),
        ("by-folder", "folder".to_owned()),
        ("by-year", "year".to_owned()),
        ("not-whole", format!("Not read whole ({})", count(picture.not_whole.len() as u64))),
        ("duplicates", format!("Duplicates ({})", count(picture.duplicates.len() as u64))),
    ];
    let ways: Vec<String> = ways.iter().map(|(id, said)| format!("<a href=\"#{id}\">{said}</a>")).collect();
    format!("<nav aria-label=\"Sections\"><p>{}</p></nav>\n", ways.join(" · "))
}
