//! What the arguments of `trial` mean: records read and evaluated, as text or JSON, and the plot.

use std::path::PathBuf;

use clap::Args;

use super::args::{TextOrJson, When};
use super::output::{self, Refused};
use super::terminal;
use super::whole_file::WholeFile;
use crate::report::trial::{write_json, write_plot, write_text};
use crate::rules::RULES;
use crate::settings::Policies;
use crate::trial::{Limits, Trial, evaluate};

/// `boreband trial`.
#[derive(Debug, Args)]
#[command(after_help = EXAMPLES)]
pub(super) struct TrialArgs {
    /// Trial records (JSON; 'boreband schema trial' says what they hold)
    #[arg(value_name = "FILE", required = true)]
    files: Vec<PathBuf>,

    /// Policy file; without it the nearest boreband.json upward from the record
    ///
    /// It may set the limits strip-to-drive, fewest-runs, trial-confidence and trial-coverage.
    #[arg(long, value_name = "FILE", help_heading = "What counts")]
    policy: Option<PathBuf>,

    /// What is written to standard output
    #[arg(long, value_name = "FORM", default_value = "text", help_heading = "Output")]
    format: TextOrJson,

    /// Also write a plot: drive and failure torque, their limits and the window
    #[arg(long, value_name = "FILE.svg", help_heading = "Output")]
    plot: Option<PathBuf>,

    /// When to add colour; NO_COLOR in the environment turns it off unless this
    /// says 'always'
    #[arg(long, value_name = "WHEN", default_value = "auto", help_heading = "Output")]
    color: When,
}

const EXAMPLES: &str = "\
Examples:
  boreband trial lid-m4.trial.json
      ratio of strip to drive torque, seating window, what is wrong with the test
  boreband trial tests/*.trial.json --plot torque.svg
      several records, with a picture of their distributions

A run states drive and failure torque, or names a trace: a CSV file with the
columns angle and torque, from which forming peak, seating rise and failure peak
are found.
Exit codes: 0 every test passes, 1 one does not, 2 a record could not be read.";

/// Runs `trial`; the exit code.
pub(super) fn run(args: &TrialArgs) -> Result<u8, Refused> {
    let mut wrong = Refused::default();
    let rules: Vec<&str> = RULES.iter().map(|rule| rule.name).collect();
    let policies = Policies::load(args.policy.as_deref(), &args.files, &rules);
    let policies = wrong.unless(policies.map_err(Refused::all)).unwrap_or_default();
    let mut trials = Vec::new();
    for file in &args.files {
        let Some(trial) = wrong.unless(Trial::load(file).map_err(Refused::all)) else { continue };
        let limits = Limits::of(&policies.for_drawing(file).practice);
        match evaluate(&trial, limits) {
            Some(evaluation) => trials.push((trial, evaluation)),
            None => wrong.add([format!("{}: its runs have no spread to evaluate", trial.file)]),
        }
    }
    wrong.or_ok()?;
    if let Some(path) = &args.plot {
        WholeFile::begin(path)?.finish(|out| write_plot(&trials, out))?;
    }
    let (width, colour) = (terminal::width(), terminal::colour(args.color));
    output::result(|out| match args.format {
        TextOrJson::Text => write_text(&trials, width, colour, out),
        TextOrJson::Json => write_json(&trials, out),
    })?;
    Ok(u8::from(trials.iter().any(|(_, evaluation)| !evaluation.passes())))
}
