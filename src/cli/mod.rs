//! Arguments, terminal, progress bar, exit code. Decides nothing about drawings.

mod accept;
mod args;
mod audit_args;
mod folders;
mod inputs;
mod order;
mod orders;
mod output;
mod pictures;
mod progress;
mod run_audit;
mod run_check;
mod run_convert;
mod run_help;
mod run_holes;
mod run_merge;
mod run_trial;
mod size;
mod terminal;
mod time_limit;
mod whole_file;

use std::process::ExitCode;

use clap::Parser;

use args::{Cli, Command};
use output::Refused;

/// Exit code of work that could not be done.
const NOT_DONE: u8 = 2;

/// Runs the command line of this process.
pub fn main() -> ExitCode {
    let cli = match Cli::try_parse() {
        Ok(cli) => cli,
        Err(error) => {
            // Help and version come this way too; a closed pipe is no error.
            let lost = error.print().is_err_and(|e| e.kind() != std::io::ErrorKind::BrokenPipe);
            let code = u8::try_from(error.exit_code()).unwrap_or(NOT_DONE);
            return ExitCode::from(if lost { NOT_DONE } else { code });
        }
    };
    match run(&cli.command) {
        Ok(code) => ExitCode::from(code),
        Err(refused) => {
            refused.complain();
            ExitCode::from(NOT_DONE)
        }
    }
}

fn run(command: &Command) -> Result<u8, Refused> {
    match command {
        Command::Check(args) => run_check::run(args),
        Command::Audit(args) => run_audit::run(args),
        Command::Merge(args) => run_merge::run(args),
        Command::Holes(args) => run_holes::run(args),
        Command::Convert(args) => run_convert::run(args),
        Command::Trial(args) => run_trial::run(args),
        Command::Size(args) => size::run(args),
        Command::Explain(args) => run_help::explain(args),
        Command::Schema(args) => run_help::schema(args.name),
        Command::Completions { shell } => run_help::completions(*shell),
        Command::Manual => run_help::manual(),
    }
}
