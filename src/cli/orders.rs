//! `--write FORM=FILE` and `--write FORM=DIR`: what is written beside standard output. Each file is begun before the
//! work, so that a folder that is not there is known at once.

use std::path::{Path, PathBuf};

use super::folders::FolderForm;
use super::output::Refused;
use super::whole_file::{WholeFile, begin_all};
use crate::finding::Level;
use crate::report::sheaf::Form;

/// A form that can be written into a file.
#[derive(Debug, Clone, Copy, PartialEq, Eq, clap::ValueEnum)]
pub(super) enum FileForm {
    /// JSON.
    Json,
    /// JUnit XML.
    Junit,
    /// SARIF 2.1.0.
    Sarif,
    /// Comma-separated values.
    Csv,
    /// A workbook.
    Xlsx,
    /// A page for people.
    Html,
}

impl FileForm {
    /// The report's form; `fail_on` is what counts as failed.
    fn form(self, fail_on: Option<Level>) -> Form {
        match self {
            FileForm::Json => Form::Json,
            FileForm::Junit => Form::JUnit(fail_on),
            FileForm::Sarif => Form::Sarif,
            FileForm::Csv => Form::Csv,
            FileForm::Xlsx => Form::Xlsx,
            FileForm::Html => Form::Html,
        }
    }
}

/// One `FORM=FILE` or `FORM=DIR`.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) struct Order {
    form: AnyForm,
    path: PathBuf,
}

/// A form of either kind.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum AnyForm {
    /// Of one file for all drawings.
    File(FileForm),
    /// Of a file for each.
    Folder(FolderForm),
}

/// Reads `FORM=FILE`.
pub(super) fn order(text: &str) -> Result<Order, String> {
    let names = "json, junit, sarif, csv, xlsx, html, overlay or marked";
    let (form, path) = text.split_once('=').ok_or_else(|| format!("expected FORM=FILE; FORM is {names}"))?;
    let file = <FileForm as clap::ValueEnum>::from_str(form, false).map(AnyForm::File);
    let folder = <FolderForm as clap::ValueEnum>::from_str(form, false).map(AnyForm::Folder);
    let form = file.or(folder).map_err(|_| format!("'{form}' is no form; expected {names}"))?;
    if path.is_empty() {
        return Err("expected a file or folder after '='".to_owned());
    }
    Ok(Order { form, path: path.into() })
}

/// Whether a form that is ordered shows pictures of drawings.
pub(super) fn pictured(orders: &[Order]) -> bool {
    orders.iter().any(|order| order.form == AnyForm::File(FileForm::Html))
}

/// Begins all files, each with the form that goes into it.
///
/// # Errors
/// Each that cannot be written, and each that was ordered twice.
pub(super) fn begin(orders: &[Order], fail_on: Option<Level>) -> Result<Vec<(Form, WholeFile)>, Refused> {
    let files = orders.iter().filter_map(|order| match order.form {
        AnyForm::File(form) => Some((form.form(fail_on), order.path.as_path())),
        AnyForm::Folder(_) => None,
    });
    begin_all(files)
}

/// The folders that were ordered, each with the form of the files that go into it.
pub(super) fn folders(orders: &[Order]) -> Vec<(FolderForm, &Path)> {
    let folder = |order: &Order| match order.form {
        AnyForm::Folder(form) => Some(form),
        AnyForm::File(_) => None,
    };
    orders.iter().filter_map(|order| Some((folder(order)?, order.path.as_path()))).collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn orders_name_a_form_and_a_file() {
        let read = order("csv=out/a=b.csv").unwrap();
        assert_eq!((read.form, read.path), (AnyForm::File(FileForm::Csv), PathBuf::from("out/a=b.csv")));
        let folder = [order("overlay=out").unwrap()];
        assert_eq!(folders(&folder), [(FolderForm::Overlay, Path::new("out"))]);
        for wrong in ["csv", "overlay=", "csv=", "pdf=a.pdf", "=a", ""] {
            assert!(order(wrong).is_err(), "{wrong}");
        }
    }
}
