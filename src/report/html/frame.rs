//! What stands around the drawings: what was checked, sums, cautions, filters, and what each rule requires.

use super::SCRIPT;
use super::library::VERDICTS;
use crate::check::Tool;
use crate::report::text::Tally;
use crate::report::web::{self, Page, escape};
use crate::rules::RULES;

/// All up to the first row of the library.
pub(super) fn begin(tool: &Tool, tally: &Tally, at_once: bool) -> String {
    let t = &tally.totals;
    let title = format!("Screw holes of {} drawings", t.drawings);
    let mut html = page(&title, at_once).begin();
    html.push_str(
        "<a class=\"skip\" href=\"#library\">To the drawings</a>\n<header>\n<h1>Screw holes checked</h1>\n",
    );
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
    html.push_str(&web::block("totals", &cells.map(|(name, value)| (name, escape::text(&value)))));
    html.push_str(&web::cautions());
    html.push_str("</header>\n<main>\n<section id=\"library\" tabindex=\"-1\" aria-label=\"Drawings\">\n");
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
    format!("</div>\n</main>\n{}{}", web::footer(), page("", true).end())
}

fn page(title: &str, at_once: bool) -> Page<'_> {
    Page { title, style: "", script: SCRIPT, class: if at_once { "" } else { "kept-apart" } }
}
