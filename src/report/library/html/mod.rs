//! A library as one HTML file for an auditor: where it hurts and what to do first, within a minute. Nothing is fetched,
//! nothing of a drawing is live, and all but sorting and filtering works without a script.

mod groups;
mod head;
mod histogram;
mod numbers;
mod sections;
mod table;
mod verdicts;

use std::io::{self, Write};

use super::features::features;
use crate::library::Picture;
use crate::report::web::{self, Page};

/// The script of the page.
pub(in crate::report) const SCRIPT: &str = include_str!("script.js");
/// What the page looks like, beside what all pages do.
pub(in crate::report) const STYLE: &str = include_str!("style.css");

/// Writes the page.
///
/// # Errors
/// Those of the writer.
pub fn write(picture: &Picture, out: &mut dyn Write) -> io::Result<()> {
    let title =
        format!("Screw holes of a library of {}", numbers::counted(picture.totals.drawings, "drawing"));
    let page = Page { title: &title, style: STYLE, script: SCRIPT, class: "of-library" };
    let mut put = |html: &str| out.write_all(html.as_bytes());
    put(&page.begin())?;
    put("<a class=\"skip\" href=\"#first\">To what was found</a>\n")?;
    put(verdicts::patterns())?;
    put(&head::head(picture, &title))?;
    put("<main>\n")?;
    put(&head::first(picture))?;
    put(&sections::contents(picture))?;
    put(&verdicts::section(&picture.totals))?;
    put(&sections::causes(picture))?;
    put(&sections::worst(picture))?;
    put(&histogram::section(&picture.engagement))?;
    put(&sections::rules(picture))?;
    for feature in features(&picture.by) {
        put(&groups::section(&feature, picture.totals.screw_holes))?;
    }
    put(&sections::not_whole(picture))?;
    put(&sections::duplicates(picture))?;
    put("</main>\n")?;
    put(&web::footer())?;
    put(&page.end())
}
