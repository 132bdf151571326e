//! The picture of a library from its ledgers: to standard output, and into the files that were ordered.

use std::path::PathBuf;

use super::args::TextOrJson;
use super::audit_args::PictureArgs;
use super::order::{self, Order};
use super::output::{self, Refused};
use super::terminal;
use super::whole_file::WholeFile;
use crate::batch;
use crate::ledger::Joined;
use crate::library::{Painter, Picture};
use crate::report::library;
use crate::report::text::{Detail, Look};

/// A form that the picture of a library can be written in.
#[derive(Debug, Clone, Copy, PartialEq, Eq, clap::ValueEnum)]
pub(super) enum PictureForm {
    /// JSON.
    Json,
    /// Comma-separated values, a drawing a row.
    Csv,
    /// A workbook.
    Xlsx,
    /// A page for people.
    Html,
}

/// Forms that tell of drawings one by one; of a library, `check` writes them.
const OF_DRAWINGS: [&str; 4] = ["junit", "sarif", "overlay", "marked"];

/// Reads `FORM=FILE`.
///
/// # Errors
/// What was expected, or which command writes it.
pub(super) fn order(text: &str) -> Result<Order<PictureForm>, String> {
    match text.split_once('=') {
        Some((form, _)) if OF_DRAWINGS.contains(&form) => {
            Err(format!("'{form}' tells of drawings one by one: 'boreband check' writes it"))
        }
        _ => order::read(text),
    }
}

/// A file that was begun before the work, so that a folder that is not there is known at once, and its form.
pub(super) type Begun = (PictureForm, WholeFile);

/// Adds up what the ledgers say and writes it; the exit code.
pub(super) fn finish(ledgers: &[PathBuf], args: &PictureArgs, files: Vec<Begun>) -> Result<u8, Refused> {
    let mut joined = Joined::of(ledgers).map_err(Refused::all)?;
    let mut painter = Painter::new();
    let added = joined.for_each(|entry| {
        painter.add(&entry);
        Ok(())
    });
    added.map_err(Refused::because)?;
    let picture = painter.finish();
    let mut wrong = Refused::default();
    for (form, file) in files {
        wrong.unless(file.finish(|out| match form {
            PictureForm::Json => library::write_json(&picture, out),
            PictureForm::Csv => library::csv::write(&picture, &mut joined, out),
            PictureForm::Xlsx => library::xlsx::write(&picture, &mut joined, out),
            PictureForm::Html => library::html::write(&picture, out),
        }));
    }
    wrong.unless(show(&picture, args));
    // What a damaged line said is missing from the picture, so that the work is not done.
    wrong.add(&joined.damage);
    wrong.or_ok()?;
    Ok(batch::exit_code(&picture.totals, args.fail_on.level()))
}

fn show(picture: &Picture, args: &PictureArgs) -> Result<(), Refused> {
    let detail = match (args.quiet, args.verbose) {
        (true, _) => Detail::Quiet,
        (_, true) => Detail::Verbose,
        _ => Detail::Normal,
    };
    let look =
        Look { width: terminal::width(), colour: terminal::colour(args.color), detail, ..Look::default() };
    output::result(|out| match args.format {
        TextOrJson::Text => library::write_text(picture, &look, out),
        TextOrJson::Json => library::write_json(picture, out),
    })
}
