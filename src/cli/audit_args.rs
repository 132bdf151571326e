//! What was typed behind `audit` and `merge`.

use std::path::PathBuf;

use clap::Args;

use super::args::{FailOn, JointArgs, TextOrJson, When};
use super::order::Order;
use super::pictures::PictureForm;
use crate::ledger::Shard;

/// `boreband audit`.
#[derive(Debug, Args)]
#[command(after_help = AUDIT_EXAMPLES)]
pub(super) struct AuditArgs {
    /// Folders or archives (*.zip) to look for *.dxf in (in any letter case), or drawings
    #[arg(value_name = "PATH", required = true)]
    pub(super) paths: Vec<PathBuf>,

    /// The file that keeps one line a drawing, by which a run goes on where it stopped
    ///
    /// It is made if it is not there, and appended to as each drawing is done. Run the same command again after a stop:
    /// drawings that did not change are not checked again.
    #[arg(long, value_name = "FILE", required = true, help_heading = "Running")]
    pub(super) ledger: PathBuf,

    /// Audit only part K of N of the library; 'merge' joins the parts' ledgers
    #[arg(long, value_name = "K/N", help_heading = "Running")]
    pub(super) shard: Option<Shard>,

    /// Hole list, or a folder of them; may be given more than once
    ///
    /// Without this option the lists are looked for beside each drawing: first <drawing>.holes.json, then
    /// holes.json in its folder.
    #[arg(long, value_name = "PATH", help_heading = "What the holes are for")]
    pub(super) holes: Vec<PathBuf>,

    /// Policy file; without it the nearest boreband.json upward from the drawing
    #[arg(long, value_name = "FILE", help_heading = "What counts")]
    pub(super) policy: Option<PathBuf>,

    #[command(flatten)]
    pub(super) joint: JointArgs,

    /// Findings that were accepted: they stay in every report, marked, and no longer count
    #[arg(long, value_name = "FILE", help_heading = "What counts")]
    pub(super) waivers: Option<PathBuf>,

    /// The day by which waivers end, as 2027-01-31; today without it
    #[arg(long, value_name = "DAY", value_parser = super::args::a_day, help_heading = "What counts")]
    pub(super) today: Option<jiff::civil::Date>,

    /// How many drawings to check at the same time; 0 for one a processor core
    #[arg(long, short, value_name = "N", default_value_t = 0, help_heading = "Running")]
    pub(super) jobs: usize,

    /// How long the reading, or the check, of one drawing may take, such as 10s, 500ms or 2min; none for no limit
    ///
    /// A drawing that takes longer is reported as unreadable and left behind, the others are checked, and the run ends
    /// with 2. Apart from this limit no report depends on the clock.
    #[arg(long, value_name = "DURATION", default_value = "10s", value_parser = super::time_limit::read, help_heading = "Running")]
    pub(super) time_limit: super::time_limit::TimeLimit,

    /// When to show progress on standard error
    #[arg(long, value_name = "WHEN", default_value = "auto", help_heading = "Running")]
    pub(super) progress: When,

    #[command(flatten)]
    pub(super) picture: PictureArgs,
}

/// How the picture of a library is given, by `audit` and `merge`.
#[derive(Debug, Args)]
pub(super) struct PictureArgs {
    /// What is written to standard output
    #[arg(long, value_name = "FORM", default_value = "text", help_heading = "Output")]
    pub(super) format: TextOrJson,

    /// Also write the picture of the library into a file; FORM is json, csv, xlsx or html; may be given
    /// more than once
    #[arg(long, value_name = "FORM=FILE", value_parser = super::pictures::order, help_heading = "Output")]
    pub(super) write: Vec<Order<PictureForm>>,

    /// Exit with 1 if there is a finding of this level or above
    #[arg(long, value_name = "LEVEL", default_value = "fail", help_heading = "What counts")]
    pub(super) fail_on: FailOn,

    /// Show the sums only, and no progress
    #[arg(long, short, conflicts_with = "verbose", help_heading = "Output")]
    pub(super) quiet: bool,

    /// Show the sums by every feature, and every drawing that is named
    #[arg(long, short, help_heading = "Output")]
    pub(super) verbose: bool,

    /// When to add colour; NO_COLOR in the environment turns it off unless this says 'always'
    #[arg(long, value_name = "WHEN", default_value = "auto", help_heading = "Output")]
    pub(super) color: When,
}

/// `boreband merge`.
#[derive(Debug, Args)]
#[command(after_help = MERGE_EXAMPLES)]
pub(super) struct MergeArgs {
    /// Ledgers that 'audit' wrote
    #[arg(value_name = "LEDGER", required = true)]
    pub(super) ledgers: Vec<PathBuf>,

    #[command(flatten)]
    pub(super) picture: PictureArgs,
}

const AUDIT_EXAMPLES: &str = "\
Examples:
  boreband audit library/ --ledger library.ledger
      stop it at any time; the same command goes on where it stopped
  boreband audit library/ --ledger part-3.ledger --shard 3/8
      the third of eight parts, on one of eight machines; then
      boreband merge part-*.ledger --write html=library.html

Exit codes: 0 no finding at or above --fail-on, 1 findings, 2 not done, or a drawing that could not be read whole.
Results are guide values: test your own joint.";

const MERGE_EXAMPLES: &str = "\
Examples:
  boreband merge part-*.ledger
      the same picture that one audit of the whole library gives

Exit codes: as of 'audit'.";
