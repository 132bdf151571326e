//! What the arguments of `check` mean: threshold, form, detail and progress; then the run itself.

use super::args::{CheckArgs, FailOn, Format, When};
use super::inputs::Inputs;
use super::output::{self, Refused};
use super::progress::Show;
use super::{progress, terminal};
use crate::batch::{self, Run};
use crate::check::Report;
use crate::finding::Level;
use crate::report::text::{Detail, Look};
use crate::report::{json, lines, text};

/// Runs `check`; the exit code.
pub(super) fn run(args: &CheckArgs) -> Result<u8, Refused> {
    let inputs = Inputs::find(&args.paths, &args.holes, args.policy.as_deref(), &args.joint)?;
    let run = Run {
        drawings: &inputs.drawings,
        lists: &inputs.lists,
        policies: &inputs.policies,
        defaults: &inputs.defaults,
        jobs: args.jobs,
    };
    let total = inputs.drawings.len() as u64;
    let report = progress::during(show(args), total, |counts| batch::run(&run, counts));
    tell_unmatched(args, &inputs, &report);
    output::result(|out| match args.format {
        Format::Text => text::write(&report, &look(args), out),
        Format::Json => json::write(&report, out),
        Format::Lines => lines::write(&report, out),
    })?;
    Ok(batch::exit_code(&report, threshold(args.fail_on)))
}

/// Says on standard error which entries of the lists covered nothing, where that may be why nothing was checked.
fn tell_unmatched(args: &CheckArgs, inputs: &Inputs, report: &Report) {
    if args.verbose || (report.totals.screw_holes == 0 && !args.quiet) {
        output::tell(inputs.lists.unmatched());
    }
}

fn threshold(fail_on: FailOn) -> Option<Level> {
    match fail_on {
        FailOn::Fail => Some(Level::Fail),
        FailOn::Warn => Some(Level::Warn),
        FailOn::Note => Some(Level::Note),
        FailOn::Never => None,
    }
}

fn look(args: &CheckArgs) -> Look {
    let detail = match (args.quiet, args.verbose) {
        (true, _) => Detail::Quiet,
        (_, true) => Detail::Verbose,
        _ => Detail::Normal,
    };
    Look { width: terminal::width(), colour: terminal::colour(args.color), detail }
}

fn show(args: &CheckArgs) -> Show {
    match args.progress {
        When::Never => Show::Nothing,
        When::Always if terminal::errors_on_terminal() => Show::Bar,
        When::Always => Show::Lines,
        When::Auto if args.quiet || !terminal::errors_on_terminal() => Show::Nothing,
        When::Auto => Show::Bar,
    }
}
