//! What `check` writes beside standard output: files of one form for all drawings, and folders of a file for each. Files
//! are begun before the work, so that a folder that is not there is known at once.

use std::path::PathBuf;

use super::folders::FolderForm;
use super::order::Order;
use super::output::Refused;
use super::whole_file::{WholeFile, begin_all};
use crate::finding::Level;
use crate::report::sheaf::Form;

/// A form that `--write` of `check` knows.
#[derive(Debug, Clone, Copy, PartialEq, Eq, clap::ValueEnum)]
pub(super) enum WrittenForm {
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
    /// A folder of a DXF of marks for each drawing.
    Overlay,
    /// A folder of a copy of each drawing with the marks in it.
    Marked,
}

impl WrittenForm {
    /// The report's form, if it is one file for all drawings; `fail_on` is what counts as failed.
    fn of_file(self, fail_on: Option<Level>) -> Option<Form> {
        Some(match self {
            WrittenForm::Json => Form::Json,
            WrittenForm::Junit => Form::JUnit(fail_on),
            WrittenForm::Sarif => Form::Sarif,
            WrittenForm::Csv => Form::Csv,
            WrittenForm::Xlsx => Form::Xlsx,
            WrittenForm::Html => Form::Html,
            WrittenForm::Overlay | WrittenForm::Marked => return None,
        })
    }

    /// What goes into its folder, if it is a file for each drawing.
    fn of_folder(self) -> Option<FolderForm> {
        match self {
            WrittenForm::Overlay => Some(FolderForm::Overlay),
            WrittenForm::Marked => Some(FolderForm::Marked),
            _ => None,
        }
    }
}

/// Whether a form that is ordered shows pictures of drawings.
pub(super) fn pictured(orders: &[Order<WrittenForm>]) -> bool {
    orders.iter().any(|order| order.form == WrittenForm::Html)
}

/// Whether a form that is ordered states the digests of drawings. Marks are only put into the file that was checked.
pub(super) fn digested(orders: &[Order<WrittenForm>]) -> bool {
    orders.iter().any(|order| order.form.of_file(None).is_none_or(Form::states_digests))
}

/// Begins all files, each with the form that goes into it.
///
/// # Errors
/// Each that cannot be written, and each that was ordered twice.
pub(super) fn begin(
    orders: &[Order<WrittenForm>],
    fail_on: Option<Level>,
) -> Result<Vec<(Form, WholeFile)>, Refused> {
    begin_all(orders.iter().filter_map(|order| Some((order.form.of_file(fail_on)?, order.path.as_path()))))
}

/// The folders that were ordered, each with the form of the files that go into it.
pub(super) fn folders(orders: &[Order<WrittenForm>]) -> Vec<(FolderForm, PathBuf)> {
    orders.iter().filter_map(|order| Some((order.form.of_folder()?, order.path.clone()))).collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::cli::order::read;

    #[test]
    fn files_and_folders_are_told_apart() {
        let orders = ["html=a.html", "overlay=out", "csv=a.csv"].map(|text| read(text).unwrap());
        assert_eq!(folders(&orders), [(FolderForm::Overlay, PathBuf::from("out"))]);
        assert!(pictured(&orders) && !pictured(&orders[1..]));
        // Not in the page, but in the table and needed for the folder.
        assert_eq!([0, 1, 2].map(|nth| digested(&orders[nth..=nth])), [false, true, true]);
        for form in <WrittenForm as clap::ValueEnum>::value_variants() {
            assert_ne!(form.of_file(None).is_some(), form.of_folder().is_some(), "{form:?}");
        }
    }
}
