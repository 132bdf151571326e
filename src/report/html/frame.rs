//! What stands around the drawings: what was checked, sums, cautions, filters, and what each rule requires.

use std::fmt::Write as _;

use super::library::VERDICTS;
use super::{escape, finding, seal};
use crate::check::Tool;
use crate::report::explain::requirement;
use crate::report::text::{CAUTION, Tally};
use crate::rules::RULES;

/// What a reader must know before he trusts a number of it.
pub const CAUTIONS: [&str; 5] = [
    "The bands are guide values. Test your own joint with your own parts, screws and driver.",
    "This is no verdict for safety-critical, lifting, pressure, vehicle-safety or structural joints.",
    "Local codes and licensed practice govern.",
    "Unknown is never a pass: an undetermined hole is not in its band.",
    "Percentages are rolled engagement: 100 % is a hole at the basic pitch diameter of the thread.",
];

/// All up to the first row of the library.
pub(super) fn begin(tool: &Tool, tally: &Tally, at_once: bool) -> String {
    let t = &tally.totals;
    let mut html = format!(
        "<!DOCTYPE html>\n<html lang=\"en\">\n<head>\n<meta charset=\"utf-8\"/>\n\
         <meta http-equiv=\"Content-Security-Policy\" content=\"{}\"/>\n\
         <meta name=\"viewport\" content=\"width=device-width, initial-scale=1\"/>\n\
         <meta name=\"referrer\" content=\"no-referrer\"/>\n<title>Screw holes of {} drawings</title>\n<style>{}</style>\n</head>\n\
         <body{}>\n<a class=\"skip\" href=\"#library\">To the drawings</a>\n<header>\n<h1>Screw holes checked</h1>\n",
        seal::policy(),
        t.drawings,
        seal::STYLE,
        if at_once { "" } else { " class=\"kept-apart\"" },
    );
    html.push_str("<dl class=\"block\" id=\"totals\">");
    let judged = t.in_band + t.straddles + t.tight + t.loose + t.undetermined;
    let cells = [
        (
            "Drawings",
            format!(
                "{} checked{}{}",
                t.drawings,
                some(t.unreadable, "unreadable"),
                some(t.partly_read, "partly read")
            ),
        ),
        ("Holes", format!("{} found, {} for self-forming screws", t.holes, t.screw_holes)),
        (
            "Verdicts",
            if judged == 0 {
                "no screw hole was checked".to_owned()
            } else {
                format!(
                    "{} in band, {} straddle, {} tight (too small), {} loose (too large), {} undetermined",
                    t.in_band, t.straddles, t.tight, t.loose, t.undetermined
                )
            },
        ),
        (
            "Findings",
            format!("{} fail, {} warn, {} note{}", t.fail, t.warn, t.note, some(t.waived, "waived")),
        ),
        ("Made by", format!("{} {}", tool.name, tool.version)),
    ];
    for (name, value) in cells {
        let _ = write!(html, "<div><dt>{name}</dt><dd>{}</dd></div>", escape::text(&value));
    }
    html.push_str("</dl>\n<div class=\"caution\" role=\"note\"><strong>Before you rely on it</strong><ul>\n");
    for caution in CAUTIONS {
        let _ = writeln!(html, "<li>{}</li>", escape::text(caution));
    }
    html.push_str(
        "</ul></div>\n</header>\n<main>\n<section id=\"library\" tabindex=\"-1\" aria-label=\"Drawings\">\n",
    );
    html.push_str(&controls());
    if !at_once {
        html.push_str("<noscript><p><strong>The sheets of single drawings need a script to be opened.</strong> What to change is in the list.</p></noscript>\n");
    }
    html.push_str(
        "<table class=\"library\"><thead><tr><th scope=\"col\">Drawing</th><th scope=\"col\">File</th><th scope=\"col\">Verdicts of screw holes</th>\
         <th scope=\"col\">Findings</th><th scope=\"col\">What to change</th></tr></thead>\n<tbody id=\"rows\">\n",
    );
    html
}

fn some(count: u64, said: &str) -> String {
    if count == 0 { String::new() } else { format!(", {count} {said}") }
}

/// Search and filters; shown by the script that makes them work.
fn controls() -> String {
    let option = |value: &str, said: &str| format!("<option value=\"{value}\">{said}</option>");
    let levels = [("fail", "fail"), ("warn", "warn"), ("note", "note"), ("none", "no findings")];
    let levels: String = levels.iter().map(|(v, s)| option(v, s)).collect();
    let verdicts: String = VERDICTS.iter().map(|(v, s)| option(v, s)).collect();
    let rules: String = RULES.iter().map(|rule| option(rule.name, rule.name)).collect();
    format!(
        "<form id=\"controls\" hidden=\"hidden\" role=\"search\">\n\
         <label>Search drawings and rules <input type=\"search\" id=\"search\" autocomplete=\"off\"/></label>\n\
         <label>Level <select id=\"level\"><option value=\"\">any</option>{levels}</select></label>\n\
         <label>Verdict <select id=\"verdict\"><option value=\"\">any</option>{verdicts}</select></label>\n\
         <label>Rule <select id=\"rule\"><option value=\"\">any</option>{rules}</select></label>\n\
         <label>Order <select id=\"order\"><option value=\"worst\">worst first</option><option value=\"path\">by path</option></select></label>\n\
         <button type=\"reset\">Show all</button> <button type=\"button\" id=\"print\">Print with all sheets shown</button>\n\
         <output id=\"count\"></output>\n</form>\n"
    )
}

/// Between the last row and the first sheet.
pub(super) fn between() -> String {
    "</tbody></table>\n<button type=\"button\" id=\"more\" hidden=\"hidden\">Show more</button>\n<p id=\"nothing\" hidden=\"hidden\">No drawing fits this search.</p>\n</section>\n<div id=\"sheets\">\n".to_owned()
}

/// All after the last sheet.
pub(super) fn end() -> String {
    let mut html = format!(
        "</div>\n</main>\n<footer>\n<p><strong>{CAUTION} Local codes and licensed practice govern.</strong></p>\n\
         <h2>What the rules require</h2>\n<dl class=\"rules\">\n"
    );
    for rule in RULES {
        let _ = writeln!(
            html,
            "<div id=\"rule-{0}\" tabindex=\"-1\"><dt>{1} {0}</dt><dd>{2}.</dd></div>",
            rule.name,
            finding::level(rule.level.name()),
            escape::text(requirement(rule))
        );
    }
    let _ = write!(html, "</dl>\n</footer>\n<script>{}</script>\n</body>\n</html>\n", seal::SCRIPT);
    html
}
