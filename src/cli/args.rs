//! What was typed: commands, options and their help. What it means is decided in the `run_…` files.

use std::path::PathBuf;

use clap::{Args, Parser, Subcommand, ValueEnum};

use super::order::Order;
use super::orders::WrittenForm;
use crate::finding::Level;

/// Checks the holes on DXF drawings that thread-rolling screws form their thread in.
///
/// A thread-rolling screw needs a hole of the right size: too small and it will not drive, too large and it
/// strips. boreband reads drawings, finds the holes and the callouts that state them, joins both with what a hole
/// list says of screw, material and thickness, and tells for each screw hole whether its limits of size stay
/// inside the band of thread engagement that suits the joint.
#[derive(Debug, Parser)]
#[command(
    name = "boreband",
    version = crate::check::version(),
    max_term_width = 100,
    subcommand_required = true,
    arg_required_else_help = true,
    after_help = MAIN_EXAMPLES,
)]
pub(super) struct Cli {
    /// What to do.
    #[command(subcommand)]
    pub(super) command: Command,
}

const MAIN_EXAMPLES: &str = "\
Examples:
  boreband check bracket.dxf     check a drawing against bracket.holes.json beside it
  boreband check drawings/       check every drawing in a folder
  boreband holes bracket.dxf     see which holes and callouts are found on it
  boreband size M4 --thickness 1.5 --material low-carbon-steel
  boreband convert drawings/     tapped holes that a rolling screw could replace
  boreband explain --all         list the rules

Exit codes:
  0  nothing at or above the threshold
  1  findings at or above it
  2  the work could not be done: bad arguments, a bad hole list, or a drawing that
     could not be read whole

Results are guide values: test your own joint.";

/// The commands.
#[derive(Debug, Subcommand)]
pub(super) enum Command {
    /// Check drawings against their hole lists
    Check(CheckArgs),
    /// Check a whole library into a ledger, going on where an earlier run stopped
    Audit(Box<super::audit_args::AuditArgs>),
    /// Join the ledgers of parts of a library to the picture of the whole
    Merge(super::audit_args::MergeArgs),
    /// Show what is seen on a drawing: every hole, callout and pairing
    Holes(HolesArgs),
    /// Work out the hole for a screw: band, engagement, drills, guide holes
    Size(Box<super::size::SizeArgs>),
    /// Evaluate joint tests: ratio of strip to drive torque, seating window
    Trial(super::run_trial::TrialArgs),
    /// Find tapped holes that a thread-rolling screw could replace, and what that saves
    Convert(super::run_convert::ConvertArgs),
    /// Say what a rule asks, why, how it is measured and where it comes from
    Explain(ExplainArgs),
    /// Print a JSON Schema of a file that people write or the program writes
    Schema(SchemaArgs),
    /// Print completions for a shell
    Completions {
        /// The shell
        shell: clap_complete::Shell,
    },
    /// Print the manual page (roff; read it with 'boreband manual | man -l -')
    Manual,
}

/// `boreband check`.
#[derive(Debug, Args)]
#[command(after_help = CHECK_EXAMPLES)]
pub(super) struct CheckArgs {
    /// Drawings, or folders or archives (*.zip) to look for *.dxf in (in any letter case)
    #[arg(value_name = "PATH", required = true)]
    pub(super) paths: Vec<PathBuf>,

    /// Hole list, or a folder of them; may be given more than once
    ///
    /// Without this option the lists are looked for beside each drawing: first <drawing>.holes.json, then
    /// holes.json in its folder.
    #[arg(long, value_name = "PATH", help_heading = "What the holes are for")]
    pub(super) holes: Vec<PathBuf>,

    /// Policy file; without it the nearest boreband.json upward from the drawing
    #[arg(long, value_name = "FILE", help_heading = "What counts")]
    pub(super) policy: Option<PathBuf>,

    /// Show the policy that holds and where each value came from, and check nothing
    #[arg(long, help_heading = "What counts")]
    pub(super) show_policy: bool,

    #[command(flatten)]
    pub(super) joint: JointArgs,

    /// What is written to standard output
    #[arg(long, value_name = "FORM", default_value = "text", help_heading = "Output")]
    pub(super) format: Format,

    /// Also write a report into a file; FORM is json, junit, sarif, csv, xlsx or html; may be given more than once
    ///
    /// A file takes its name, and the place of an older one, only when it is whole. overlay=DIR writes a DXF of marks
    /// for each drawing with findings into a folder, marked=DIR a copy of the drawing with the marks in it.
    #[arg(long, value_name = "FORM=FILE", value_parser = super::order::read::<WrittenForm>, help_heading = "Output")]
    pub(super) write: Vec<Order<WrittenForm>>,

    /// Exit with 1 if there is a finding of this level or above
    #[arg(long, value_name = "LEVEL", default_value = "fail", help_heading = "What counts")]
    pub(super) fail_on: FailOn,

    /// Findings that were accepted: they stay in every report, marked, and no longer count
    #[arg(long, value_name = "FILE", help_heading = "What counts")]
    pub(super) waivers: Option<PathBuf>,

    /// Accept all that is found today, in a file to give with --waivers from then on
    ///
    /// Reasons, names and last days that the file gives already stay. This run counts as it would without it.
    #[arg(long, value_name = "FILE", help_heading = "What counts")]
    pub(super) write_waivers: Option<PathBuf>,

    /// The day by which waivers end, as 2027-01-31; today without it
    #[arg(long, value_name = "DAY", value_parser = a_day, help_heading = "What counts")]
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

    /// Show failures and the summary only, and no progress
    #[arg(long, short, conflicts_with = "verbose", help_heading = "Output")]
    pub(super) quiet: bool,

    /// Show every screw hole, where the bands come from and all that was noticed in the files
    #[arg(long, short, help_heading = "Output")]
    pub(super) verbose: bool,

    /// When to add colour; NO_COLOR in the environment turns it off unless this says 'always'
    #[arg(long, value_name = "WHEN", default_value = "auto", help_heading = "Output")]
    pub(super) color: When,

    /// When to show progress on standard error
    #[arg(long, value_name = "WHEN", default_value = "auto", help_heading = "Running")]
    pub(super) progress: When,
}

pub(super) fn a_day(text: &str) -> Result<jiff::civil::Date, String> {
    crate::waivers::day(text).ok_or_else(|| "expected a day such as 2027-01-31".to_owned())
}

const CHECK_EXAMPLES: &str = "\
Examples:
  boreband check lid.dxf
      against lid.holes.json, or holes.json, beside the drawing
  boreband check drawings/ --holes lists/
      every drawing under drawings/, every hole list under lists/
  boreband check lid.dxf --screw M4 --thickness 1.5mm --material DC01
      no hole list: says which screw, which thickness and which material
  boreband check drawings/ --format lines --fail-on warn
      path:line: level rule: message, one finding a line

Lengths: 3.65mm, .224in, 7/32in, 16ga (a sheet gauge, with --material).
A bare number takes the unit of the thread.
Threads: M4, M4x0.5, 1/4-20, #8-32.
Exit codes: 0 no finding at or above --fail-on, 1 findings, 2 not done.";

/// The joint that drawings without a hole list are checked for.
#[derive(Debug, Args)]
#[command(next_help_heading = "What the holes are for")]
pub(super) struct JointArgs {
    /// Screw thread for drawings that no hole list covers, such as M4 or 1/4-20
    ///
    /// It counts for holes of 0.7 to 1 times the screw's diameter whose callout names no other thread.
    #[arg(long, value_name = "THREAD")]
    pub(super) screw: Option<String>,

    /// Thickness of the metal for drawings that state none, such as 1.5mm, .0598in or 16ga
    #[arg(long, value_name = "LENGTH")]
    pub(super) thickness: Option<String>,

    /// Material for drawings that state none, such as low-carbon-steel, 5052-H32 or 1.4301
    #[arg(long, value_name = "NAME")]
    pub(super) material: Option<String>,

    /// How the holes are made: drilled, punched, laser, plasma, waterjet, reamed, cored or extruded
    #[arg(long, value_name = "NAME")]
    pub(super) process: Option<String>,
}

/// `boreband holes`.
#[derive(Debug, Args)]
#[command(after_help = HOLES_EXAMPLES)]
pub(super) struct HolesArgs {
    /// The drawing
    #[arg(value_name = "DRAWING")]
    pub(super) drawing: PathBuf,

    /// Hole list, or a folder of them; without it the list beside the drawing
    #[arg(long, value_name = "PATH", help_heading = "What the holes are for")]
    pub(super) holes: Vec<PathBuf>,

    /// Policy file; without it the nearest boreband.json upward from the drawing
    #[arg(long, value_name = "FILE", help_heading = "What counts")]
    pub(super) policy: Option<PathBuf>,

    #[command(flatten)]
    pub(super) joint: JointArgs,

    /// What is written to standard output
    #[arg(long, value_name = "FORM", default_value = "text")]
    pub(super) format: TextOrJson,

    /// Show how each callout was read and the cost of each pairing
    #[arg(long, short)]
    pub(super) verbose: bool,

    /// Write a hole list to begin with instead, from what the drawing says
    ///
    /// What the drawing does not say is left out; it is named in the notes of the rows and on standard error.
    #[arg(long, conflicts_with_all = ["format", "verbose"])]
    pub(super) draft: bool,

    /// When to add colour; NO_COLOR in the environment turns it off unless this says 'always'
    #[arg(long, value_name = "WHEN", default_value = "auto")]
    pub(super) color: When,
}

const HOLES_EXAMPLES: &str = "\
Examples:
  boreband holes lid.dxf
      callouts with their holes, holes without a callout, rows of the list
  boreband holes lid.dxf --verbose
      also how each callout was read, why each hole is its own, every circle
  boreband holes lid.dxf --format json
      the same for a program
  boreband holes lid.dxf --draft > lid.holes.json
      a hole list to begin with; add the screws, then check

Exit codes: 0 the drawing was read whole, 2 it was not.";

/// `boreband explain`.
#[derive(Debug, Args)]
pub(super) struct ExplainArgs {
    /// Name of the rule, as in reports, such as engagement-above-band
    #[arg(value_name = "RULE", required_unless_present = "all")]
    pub(super) rule: Option<String>,

    /// List all rules with their levels
    #[arg(long, conflicts_with = "rule")]
    pub(super) all: bool,
}

/// `boreband schema`.
#[derive(Debug, Args)]
pub(super) struct SchemaArgs {
    /// Which file
    #[arg(value_name = "NAME")]
    pub(super) name: SchemaName,
}

/// Forms of a report on standard output.
#[derive(Debug, Clone, Copy, PartialEq, Eq, ValueEnum)]
pub(super) enum Format {
    /// For people
    Text,
    /// The whole report
    Json,
    /// path:line: level rule: message, one finding a line
    Lines,
}

/// Forms of `holes`.
#[derive(Debug, Clone, Copy, PartialEq, Eq, ValueEnum)]
pub(super) enum TextOrJson {
    /// For people
    Text,
    /// For programs
    Json,
}

/// The threshold of findings.
#[derive(Debug, Clone, Copy, PartialEq, Eq, ValueEnum)]
pub(super) enum FailOn {
    /// The joint will not work, or a drawing could not be read whole
    Fail,
    /// Also what should be looked at before release
    Warn,
    /// Also what is worth knowing
    Note,
    /// Findings do not change the exit code
    Never,
}

impl FailOn {
    /// The least level that counts; none if none does.
    pub(super) fn level(self) -> Option<Level> {
        match self {
            FailOn::Fail => Some(Level::Fail),
            FailOn::Warn => Some(Level::Warn),
            FailOn::Note => Some(Level::Note),
            FailOn::Never => None,
        }
    }
}

/// When to do something that suits a terminal.
#[derive(Debug, Clone, Copy, PartialEq, Eq, ValueEnum)]
pub(super) enum When {
    /// On a terminal
    Auto,
    /// Always
    Always,
    /// Never
    Never,
}

/// Files that have a schema.
#[derive(Debug, Clone, Copy, PartialEq, Eq, ValueEnum)]
pub(super) enum SchemaName {
    /// The hole list (*.holes.json, holes.json)
    HoleList,
    /// The policy (boreband.json)
    Policy,
    /// The trial record (*.trial.json)
    Trial,
    /// What 'check --format json' writes
    Report,
    /// What 'trial --format json' writes
    TrialReport,
    /// A line of the ledger that 'audit' writes
    Ledger,
    /// What 'audit --format json' writes
    Library,
    /// What 'size --format json' writes
    Size,
    /// Findings that were accepted (--waivers)
    Waivers,
    /// What tapping, driving and proving cost (--costs)
    Costs,
    /// What 'convert --format json' writes
    Conversion,
}

impl SchemaName {
    /// The name that the schema goes by.
    pub(super) fn name(self) -> &'static str {
        match self {
            SchemaName::HoleList => "hole-list",
            SchemaName::Policy => "policy",
            SchemaName::Trial => "trial",
            SchemaName::Report => "report",
            SchemaName::TrialReport => "trial-report",
            SchemaName::Ledger => "ledger",
            SchemaName::Library => "library",
            SchemaName::Size => "size",
            SchemaName::Waivers => "waivers",
            SchemaName::Costs => "costs",
            SchemaName::Conversion => "conversion",
        }
    }
}
