//! `--write FORM=FILE`: what is written into files beside standard output. Each file is begun before the work, so that
//! a folder that is not there is known at once, and takes its name only when it is whole.

use std::io::{self, BufWriter, Write};
use std::path::{Path, PathBuf};

use tempfile::NamedTempFile;

use super::output::Refused;
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
        }
    }
}

/// One `FORM=FILE`.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) struct Order {
    form: FileForm,
    path: PathBuf,
}

/// Reads `FORM=FILE`.
pub(super) fn order(text: &str) -> Result<Order, String> {
    let names = "json, junit, sarif, csv or xlsx";
    let (form, path) = text.split_once('=').ok_or_else(|| format!("expected FORM=FILE; FORM is {names}"))?;
    let form = <FileForm as clap::ValueEnum>::from_str(form, false)
        .map_err(|_| format!("'{form}' is no form; expected {names}"))?;
    if path.is_empty() {
        return Err("expected a file after '='".to_owned());
    }
    Ok(Order { form, path: path.into() })
}

/// A file that was begun.
pub(super) struct Begun {
    /// The form that goes into it.
    pub(super) form: Form,
    path: PathBuf,
    file: NamedTempFile,
}

/// Begins all files.
///
/// # Errors
/// Each that cannot be written, and each that was ordered twice.
pub(super) fn begin(orders: &[Order], fail_on: Option<Level>) -> Result<Vec<Begun>, Refused> {
    let mut wrong = Refused::default();
    let mut begun: Vec<Begun> = Vec::new();
    for Order { form, path } in orders {
        if begun.iter().any(|other| other.path == *path) {
            wrong.add([format!("--write: {} is given twice", path.display())]);
            continue;
        }
        let file = wrong.unless(temporary(path).map_err(|e| unwritable(path, &e)));
        begun.extend(file.map(|file| Begun { form: form.form(fail_on), path: path.clone(), file }));
    }
    wrong.or_ok()?;
    Ok(begun)
}

impl Begun {
    /// Writes the file and gives it its name.
    ///
    /// # Errors
    /// If it cannot be written; what had the name before stays.
    pub(super) fn finish(self, write: impl FnOnce(&mut dyn Write) -> io::Result<()>) -> Result<(), Refused> {
        let mut out = BufWriter::with_capacity(1 << 16, self.file);
        let written = write(&mut out).and_then(|()| out.into_inner().map_err(io::IntoInnerError::into_error));
        let named = written.and_then(|file| file.persist(&self.path).map_err(|e| e.error));
        named.map(drop).map_err(|e| unwritable(&self.path, &e))
    }
}

fn unwritable(path: &Path, error: &io::Error) -> Refused {
    Refused::because(format!("{} cannot be written: {error}", path.display()))
}

/// A temporary file in the same folder, with the permissions of a new file, that can take the name in one step.
fn temporary(path: &Path) -> io::Result<NamedTempFile> {
    if path.is_dir() {
        return Err(io::ErrorKind::IsADirectory.into());
    }
    let folder = path.parent().filter(|folder| !folder.as_os_str().is_empty()).unwrap_or(Path::new("."));
    let mut builder = tempfile::Builder::new();
    builder.prefix(".boreband-");
    #[cfg(unix)]
    builder.permissions(std::os::unix::fs::PermissionsExt::from_mode(0o666));
    builder.tempfile_in(folder)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn orders_name_a_form_and_a_file() {
        let read = order("csv=out/a=b.csv").unwrap();
        assert_eq!((read.form, read.path), (FileForm::Csv, PathBuf::from("out/a=b.csv")));
        for wrong in ["csv", "csv=", "pdf=a.pdf", "=a", ""] {
            assert!(order(wrong).is_err(), "{wrong}");
        }
    }
}
