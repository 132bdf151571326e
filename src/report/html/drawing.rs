//! The sheet of one drawing: what was found on it, its picture, and every hole that was checked.

use std::fmt::Write as _;

use super::library::state;
use super::{finding, key, picture};
use crate::check::{DrawingResult, HoleResult};
use crate::report::text::group::gather;
use crate::report::text::numbers::{length, shown, unit_named};
use crate::report::text::words;
use crate::report::web::{self, escape};
use crate::units::Unit;

/// The sheet.
pub(super) fn sheet(d: &DrawingResult) -> String {
    let key = key(&d.path);
    let unit = unit_named(&d.unit);
    let groups = gather(d, |f| f.waived.is_none());
    let mut html = format!(
        "<section class=\"drawing\" id=\"{key}\" aria-labelledby=\"{key}-t\">\n\
         <p class=\"back\"><a href=\"#library\">All drawings</a></p>\n<h2 id=\"{key}-t\" tabindex=\"-1\">{}</h2>\n{}",
        escape::path(&d.path),
        facts(d, unit)
    );
    if groups.is_empty() {
        html.push_str("<p class=\"nothing\">Nothing was found on this drawing.</p>\n");
    } else {
        let _ = write!(html, "<h3>What was found</h3>\n{}", finding::contents(&groups, &key));
        if let Some(picture) = &d.picture {
            html.push_str(&picture::sheets(picture, d, &key));
        }
        for (nth, group) in groups.iter().enumerate() {
            html.push_str(&finding::card(group, nth, d, &key));
        }
    }
    waived(d, &mut html);
    problems(d, &mut html);
    html.push_str(&holes(d, unit));
    not_judged(d, &mut html);
    html.push_str("</section>\n");
    html
}

/// What is known of the sheet as a whole.
fn facts(d: &DrawingResult, unit: Unit) -> String {
    let screws = d.holes.iter().filter(|h| h.screw.is_some()).count() as u64;
    let thickness = match d.thickness_mm {
        Some(t) => format!("{}, {}", length(t, unit), words::from(&d.thickness_source)),
        None => "not stated".to_owned(),
    };
    let material = d.material.as_deref().map_or_else(|| "not stated".to_owned(), words::material);
    let mut facts = vec![
        ("File", state(&d.state).to_owned()),
        (
            "Holes",
            format!("{}, {screws} for self-forming screws", words::counted(d.holes.len() as u64, "hole")),
        ),
        ("Material", escape::text(&material)),
        ("Thickness", escape::text(&thickness)),
        ("Unit", escape::text(&format!("{unit}, {}", words::from(&d.unit_source)))),
    ];
    facts.extend(d.part.as_deref().map(|part| ("Part", escape::text(part))));
    let cells = facts.iter().map(|(name, value)| format!("<div><dt>{name}</dt><dd>{value}</dd></div>"));
    format!("<dl class=\"block\">{}</dl>\n", cells.collect::<String>())
}

fn waived(d: &DrawingResult, html: &mut String) {
    let waived: Vec<_> = d.findings.iter().filter(|f| f.waived.is_some()).collect();
    if waived.is_empty() {
        return;
    }
    html.push_str("<h3>Waived</h3>\n<p>These were found and no longer count.</p>\n<ul>\n");
    for f in waived {
        let _ = writeln!(
            html,
            "<li>{}{}: {} <em>Waived: {}</em></li>",
            f.hole.iter().map(|hole| format!("{} ", escape::text(hole))).collect::<String>(),
            web::rule(&f.rule),
            escape::text(&f.message),
            escape::text(f.waived.as_deref().unwrap_or_default())
        );
    }
    html.push_str("</ul>\n");
}

fn problems(d: &DrawingResult, html: &mut String) {
    if d.problems.is_empty() {
        return;
    }
    html.push_str("<h3>What was wrong with the file</h3>\n<ul>\n");
    for p in &d.problems {
        let lost = if p.loss { "<strong class=\"fail\">lost</strong>" } else { "seen" };
        let message = escape::text(&p.message);
        let _ = writeln!(html, "<li>{lost}, line {}, byte {}: {message}</li>", p.line, p.offset);
    }
    html.push_str("</ul>\n");
}

/// Every screw hole, those that are alike in one row.
fn holes(d: &DrawingResult, unit: Unit) -> String {
    let mut alike: Vec<(Vec<String>, Vec<&HoleResult>)> = Vec::new();
    for hole in d.holes.iter().filter(|h| h.screw.is_some()) {
        let cells = cells(hole, unit);
        match alike.last_mut() {
            Some((last, holes)) if *last == cells => holes.push(hole),
            _ => alike.push((cells, vec![hole])),
        }
    }
    if alike.is_empty() {
        return "<p>No hole for a self-forming screw was checked on this drawing.</p>\n".to_owned();
    }
    let mut html = "<h3>Every screw hole that was checked</h3>\n<div class=\"wide\" tabindex=\"0\" role=\"region\" \
                    aria-label=\"Holes\"><table class=\"holes\"><thead><tr><th scope=\"col\">Hole</th><th scope=\"col\">Joint</th>\
                    <th scope=\"col\">Allowed</th><th scope=\"col\">Found</th><th scope=\"col\">Engagement</th><th scope=\"col\">Verdict</th>\
                    <th scope=\"col\">Paired</th></tr></thead><tbody>\n"
        .to_owned();
    for (cells, holes) in alike {
        let cells: String = cells.iter().map(|cell| format!("<td>{cell}</td>")).collect();
        let _ =
            writeln!(html, "<tr><th scope=\"row\">{}</th>{cells}</tr>", escape::text(&words::ids(&holes)));
    }
    html.push_str("</tbody></table></div>\n");
    html
}

/// What silence about a hole does not mean.
fn not_judged(d: &DrawingResult, html: &mut String) {
    let said: Vec<String> =
        words::not_judged(&d.holes).iter().map(|said| format!("<li>{}</li>\n", escape::text(said))).collect();
    if !said.is_empty() {
        let _ = write!(html, "<h3>What could not be judged</h3>\n<ul>\n{}</ul>\n", said.concat());
    }
}

fn cells(hole: &HoleResult, unit: Unit) -> Vec<String> {
    let shown = shown(hole, unit);
    let band = shown.band.map(|band| format!(", {band}")).unwrap_or_default();
    let verdict = hole.verdict.as_deref().unwrap_or("not judged");
    vec![
        escape::text(&words::joint(hole, unit).unwrap_or_default()),
        escape::text(&shown.allowed.map_or_else(|| "no band".to_owned(), |allowed| allowed + &band)),
        escape::text(&format!("{} {}", words::found_word(&hole.diameter.source), shown.found)),
        escape::text(&shown.engagement.unwrap_or_default()),
        format!("<span class=\"v {0}\">{0}</span>", escape::text(verdict)),
        escape::text(&format!("by {}, {:.2} sure", hole.paired_by, hole.confidence)),
    ]
}
