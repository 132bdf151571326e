//! A library as one HTML file for an auditor: where it hurts and what to do first, within a minute. Nothing is fetched,
//! nothing of a drawing is live, and all but sorting and filtering works without a script.

use std::io::{self, Write};

use super::features::features;
use crate::library::Picture;
use crate::report::web::{self, Page, escape};

/// The script of the page.
pub(in crate::report) const SCRIPT: &str = include_str!("script.js");

/// Writes the page.
///
/// # Errors
/// Those of the writer.
pub fn write(picture: &Picture, out: &mut dyn Write) -> io::Result<()> {
    let t = &picture.totals;
    let title = format!("Screw holes of a library of {} drawings", t.drawings);
    let page = Page { title: &title, style: "", script: SCRIPT, class: "" };
    out.write_all(page.begin().as_bytes())?;
    let cells = [
        ("Drawings", t.drawings.to_string()),
        ("Screw holes", t.screw_holes.to_string()),
        ("Findings", format!("{} fail, {} warn, {} note", t.fail, t.warn, t.note)),
    ];
    let head = format!("<header>\n<h1>{}</h1>\n{}", escape::text(&title), web::block("totals", &cells));
    out.write_all(head.as_bytes())?;
    out.write_all(web::cautions().as_bytes())?;
    out.write_all(b"</header>\n<main>\n")?;
    for feature in features(&picture.by) {
        writeln!(out, "<h2>{}</h2>\n<table>", feature.title)?;
        for group in feature.groups {
            let holes = group.sum.screw_holes;
            writeln!(out, "<tr><th>{}</th><td>{holes}</td></tr>", escape::path(&group.value))?;
        }
        out.write_all(b"</table>\n")?;
    }
    out.write_all(b"</main>\n")?;
    out.write_all(web::footer().as_bytes())?;
    out.write_all(page.end().as_bytes())
}
