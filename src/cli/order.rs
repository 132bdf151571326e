//! One `FORM=FILE` of `--write`, of the forms that a command has. What is written it does not know.

use std::path::{Path, PathBuf};

use clap::ValueEnum;

use super::output::Refused;
use super::whole_file::{WholeFile, begin_all};

/// A form and the file, or folder, that it is written into.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) struct Order<F> {
    pub(super) form: F,
    pub(super) path: PathBuf,
}

/// Reads `FORM=FILE`, where FORM is the name of a value of `F`.
///
/// # Errors
/// What was expected, with the names of all forms.
pub(super) fn read<F: ValueEnum>(text: &str) -> Result<Order<F>, String> {
    let expected = || format!("expected FORM=FILE; FORM is {}", names::<F>());
    let (form, path) = text.split_once('=').ok_or_else(expected)?;
    let form = F::from_str(form, false).map_err(|_| format!("'{form}' is no form; {}", expected()))?;
    if path.is_empty() {
        return Err(format!("nothing stands after '='; {}", expected()));
    }
    Ok(Order { form, path: path.into() })
}

/// Begins all files, each with its form.
///
/// # Errors
/// Each that cannot be written, and each that was ordered twice.
pub(super) fn begin<F: Copy>(orders: &[Order<F>]) -> Result<Vec<(F, WholeFile)>, Refused> {
    begin_all(orders.iter().map(|order| (order.form, Path::new(&order.path))))
}

/// The names of all forms, as in "json, csv or html".
fn names<F: ValueEnum>() -> String {
    let names: Vec<String> = F::value_variants()
        .iter()
        .filter_map(|form| Some(form.to_possible_value()?.get_name().to_owned()))
        .collect();
    match names.as_slice() {
        [first @ .., last] if !first.is_empty() => format!("{} or {last}", first.join(", ")),
        all => all.concat(),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[derive(Debug, Clone, Copy, PartialEq, Eq, ValueEnum)]
    enum Form {
        Csv,
        WorkBook,
        Html,
    }

    #[test]
    fn orders_name_a_form_and_a_file() {
        let read_as = |text| read::<Form>(text).map(|order| (order.form, order.path));
        assert_eq!(read_as("csv=out/a=b.csv"), Ok((Form::Csv, PathBuf::from("out/a=b.csv"))));
        assert_eq!(read_as("work-book=o"), Ok((Form::WorkBook, PathBuf::from("o"))));
        let said = "expected FORM=FILE; FORM is csv, work-book or html";
        assert_eq!(read_as("csv"), Err(said.to_owned()));
        assert_eq!(read_as("pdf=a.pdf"), Err(format!("'pdf' is no form; {said}")));
        assert_eq!(read_as("csv="), Err(format!("nothing stands after '='; {said}")));
        for wrong in ["=a", ""] {
            assert!(read_as(wrong).is_err(), "{wrong}");
        }
    }
}
