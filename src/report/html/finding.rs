//! What was found of the same holes, as one card: what to write instead, required against found, where, and why.

use std::fmt::Write as _;

use super::{gauge, picture, working};
use crate::check::{DrawingResult, HoleResult};
use crate::report::text::group::{Group, Said};
use crate::report::text::numbers::{shown, unit_named};
use crate::report::text::words;
use crate::report::web::{escape, level, rule};
use crate::units::Unit;

/// The list of all cards, each in one line.
pub(super) fn contents(groups: &[Group<'_>], key: &str) -> String {
    let mut html = "<ol class=\"contents\">\n".to_owned();
    for (nth, group) in groups.iter().enumerate() {
        let Some(first) = group.said.first() else { continue };
        let _ = writeln!(
            html,
            "<li>{} <a href=\"#{key}-f{nth}\">{}</a>{}</li>",
            level(&first.finding.level),
            escape::text(&headline(group)),
            short_remedy(group)
        );
    }
    html.push_str("</ol>\n");
    html
}

/// What to write instead, or else what to do.
fn short_remedy(group: &Group<'_>) -> String {
    let advice = group.holes().first().and_then(|hole| hole.advice.as_ref());
    if let Some(advice) = advice.filter(|_| group.said.iter().any(Said::is_numbered)) {
        return format!("; write <strong>{}</strong>", escape::text(&advice.callout));
    }
    let remedy = group.said.iter().find_map(|said| said.remedy.as_deref());
    remedy.map_or_else(String::new, |remedy| format!("; {}", escape::text(remedy)))
}

/// `4 holes H1 to H4: too small`.
fn headline(group: &Group<'_>) -> String {
    let holes = group.holes();
    let Some(first) = group.said.first() else { return String::new() };
    let what = match holes.first().and_then(|hole| hole.verdict.as_deref()).filter(|_| first.is_numbered()) {
        Some("tight") => "hole too small for the screw".to_owned(),
        Some("loose") => "hole too large for the screw".to_owned(),
        Some("straddles") => "tolerance leaves the band".to_owned(),
        _ => first.message.clone().into_owned(),
    };
    match holes.len() {
        0 => what,
        1 => format!("{}: {what}", words::ids(holes)),
        count => format!("{count} holes, {}: {what}", words::ids(holes)),
    }
}

/// The card.
pub(super) fn card(group: &Group<'_>, nth: usize, d: &DrawingResult, key: &str) -> String {
    let unit = unit_named(&d.unit);
    let Some(first) = group.said.first() else { return String::new() };
    let mut html = format!(
        "<article class=\"card {0}\" id=\"{key}-f{nth}\" tabindex=\"-1\">\n<h4>{1} {2}</h4>\n",
        escape::text(&first.finding.level),
        level(&first.finding.level),
        escape::text(&headline(group))
    );
    let headline = headline(group);
    let hole = group.holes().first().copied();
    let mut sight = hole.map_or_else(String::new, |hole| gauge::gauge(hole, unit));
    if let Some(picture) = d.picture.as_ref().filter(|_| hole.is_some()) {
        sight.push_str(&picture::zooms(group.holes(), picture, d, key));
    }
    html.push_str(if sight.is_empty() { "<div class=\"plain\">\n" } else { "<div>\n" });
    if let Some(hole) = hole {
        html.push_str(&instead(group, hole));
        html.push_str(&numbers(hole, unit));
    }
    let mut remedies: Vec<&str> = Vec::new();
    for said in &group.said {
        let remedy = said.remedy.as_deref().filter(|remedy| !remedies.contains(remedy));
        remedies.extend(remedy);
        html.push_str(&said_of(said, remedy, !headline.contains(&*said.message)));
    }
    html.push_str(&place(group, d, key, unit));
    html.push_str("</div>\n");
    if !sight.is_empty() {
        let _ = writeln!(html, "<div>{sight}</div>");
    }
    if let Some(hole) = hole {
        html.push_str(&working::working(hole, unit));
    }
    html.push_str("</article>\n");
    html
}

/// What stands on the drawing and what to write there.
fn instead(group: &Group<'_>, hole: &HoleResult) -> String {
    let stands = hole.callout.as_ref().map(|c| {
        format!("<div><dt>On the drawing</dt><dd class=\"callout\">{}</dd></div>", escape::text(&c.text))
    });
    let wrong = group.said.iter().any(Said::is_numbered);
    let write = hole.advice.as_ref().filter(|_| wrong).map(|advice| {
        format!(
            "<div class=\"write\"><dt>Write instead</dt><dd class=\"callout\">{}</dd></div>",
            escape::text(&advice.callout)
        )
    });
    if stands.is_none() && write.is_none() {
        return String::new();
    }
    format!("<dl class=\"instead\">{}{}</dl>\n", stands.unwrap_or_default(), write.unwrap_or_default())
}

/// Required against found.
fn numbers(hole: &HoleResult, unit: Unit) -> String {
    let Some(joint) = words::joint(hole, unit) else { return String::new() };
    let shown = shown(hole, unit);
    let mut rows = vec![("Joint", joint)];
    if let (Some(allowed), Some(band)) = (shown.allowed, shown.band) {
        rows.push(("Required", format!("{allowed} ({})", band.trim_start_matches("band "))));
    }
    let engagement = shown.engagement.map(|e| format!(", {e}")).unwrap_or_default();
    let word = words::found_word(&hole.diameter.source);
    let assumed = words::tolerance_word(&hole.diameter.tolerance_source).map(|w| format!(", {w}"));
    rows.push(("Found", format!("{word} {}{engagement}{}", shown.found, assumed.unwrap_or_default())));
    rows.extend(
        shown
            .difference
            .map(|by| (if unit == Unit::Inch { "Difference (in)" } else { "Difference (mm)" }, by)),
    );
    rows.extend(shown.coated.map(|coated| ("Coating", coated)));
    rows.extend(shown.expected.map(|share| ("Expected", share)));
    let rows: String = rows
        .iter()
        .map(|(name, value)| {
            format!("<tr><th scope=\"row\">{name}</th><td>{}</td></tr>", escape::text(value))
        })
        .collect();
    format!("<table class=\"numbers\"><tbody>{rows}</tbody></table>\n")
}

/// What one rule says; its message and its `remedy` where they were not said before.
fn said_of(said: &Said<'_>, remedy: Option<&str>, with_message: bool) -> String {
    let remedy = remedy.map(|r| format!(" <strong>{}</strong>", escape::text(&sentence(r))));
    format!(
        "<p>{} {}<br/>{}{}</p>\n",
        level(&said.finding.level),
        rule(&said.finding.rule),
        if with_message { escape::text(&sentence(&said.message)) } else { String::new() },
        remedy.unwrap_or_default()
    )
}

/// With a capital letter and a full stop.
fn sentence(text: &str) -> String {
    let text = text.trim();
    let mut letters = text.chars();
    let first: String = letters.next().map(|c| c.to_uppercase().collect()).unwrap_or_default();
    let stop = if text.ends_with(['.', '?', '!']) || text.is_empty() { "" } else { "." };
    format!("{first}{}{stop}", letters.as_str())
}

/// Where it stands, with the way to its mark on the picture.
fn place(group: &Group<'_>, d: &DrawingResult, key: &str, unit: Unit) -> String {
    let Some(first) = group.said.first() else { return String::new() };
    let mut cells = words::place(first.finding, group.holes().first().copied(), unit);
    if let (Some(cell), [hole, _, ..]) = (cells.first_mut(), group.holes()) {
        *cell = format!("{} at {cell}", hole.id);
    }
    let mut ways: Vec<String> = Vec::new();
    if let Some(picture) = &d.picture {
        for hole in group.holes().iter().filter(|hole| picture::shows(picture, &hole.space)) {
            let id = escape::text(&hole.id);
            ways.push(format!("<a class=\"way\" href=\"#{key}-{0}\">{0}</a>", id));
        }
        let all = std::iter::once(first.finding).chain(first.also.iter().copied());
        for (index, _) in picture::places(picture, d, all) {
            ways.push(format!("<a class=\"way\" href=\"#{key}-p{index}\">P{index}</a>"));
        }
    }
    let ways = if ways.is_empty() {
        "not on the picture".to_owned()
    } else {
        format!("on the sheet: {}", ways.join(" "))
    };
    if cells.is_empty() {
        return String::new();
    }
    format!("<p class=\"place\">{}; {ways}</p>\n", escape::text(&cells.join(", ")))
}
